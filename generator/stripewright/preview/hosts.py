"""Answers only to its own name, and only reads; the easel's page has an access of its own.

A page elsewhere may make its own host name point to this machine and so ask the preview as if it
were of that page's origin (DNS rebinding); the Host header then still tells the other name.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from stripewright.catalogue import _

if TYPE_CHECKING:
    from starlette.types import ASGIApp, Message, Receive, Scope, Send

    from stripewright.preview.easel.access import EaselAccess

HOSTS = ("127.0.0.1", "localhost")

HEADERS = (
    (b"cache-control", b"no-cache"),
    (b"cross-origin-opener-policy", b"same-origin"),
    (b"cross-origin-resource-policy", b"same-origin"),
    (b"referrer-policy", b"no-referrer"),
    (b"x-content-type-options", b"nosniff"),
    (b"x-frame-options", b"SAMEORIGIN"),
)


class HostCheck:
    """ASGI middleware that turns away what is not meant for the preview."""

    def __init__(self, app: ASGIApp, port: int, access: EaselAccess | None = None) -> None:
        self.app = app
        self.access = access
        self.names = {f"{host}:{port}".encode() for host in HOSTS}

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        if scope["type"] == "lifespan":
            await self.app(scope, receive, send)
            return
        if scope["type"] != "http":
            return
        refused = self.refusal(scope)

        async def with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                message["headers"] = [*message.get("headers", ()), *HEADERS]
            await send(message)

        if refused is None:
            await self.app(scope, receive, with_headers)
            return
        status, text = refused
        body = text.encode()
        headers = [
            (b"content-type", b"text/plain; charset=utf-8"),
            (b"content-length", str(len(body)).encode()),
        ]
        if status == 405:
            headers.append((b"allow", b"GET, HEAD"))
        await with_headers({"type": "http.response.start", "status": status, "headers": headers})
        await send(
            {"type": "http.response.body", "body": b"" if scope["method"] == "HEAD" else body}
        )

    def refusal(self, scope: Scope) -> tuple[int, str] | None:
        """Status and words for a request that is turned away; None for one that may pass."""
        hosts = header_values(scope, b"host")
        if len(hosts) != 1 or hosts[0].lower() not in self.names:
            return 421, _("This preview answers to its own address only.")
        if scope["method"] == "POST" and self.access and self.access.takes(scope["path"]):
            return self.access.refusal(scope)
        if scope["method"] not in ("GET", "HEAD"):
            return 405, _("The preview only shows; it takes GET and HEAD.")
        site = header_values(scope, b"sec-fetch-site")
        mode = header_values(scope, b"sec-fetch-mode")
        if site in ([b"cross-site"], [b"same-site"]) and mode != [b"navigate"]:
            return 403, _("Pages elsewhere can't use what the preview shows.")
        return None


def header_values(scope: Scope, wanted: bytes) -> list[Any]:
    """Each value of a request's header, by its name in small letters."""
    return [value for name, value in scope["headers"] if name == wanted]
