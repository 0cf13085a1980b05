"""The preview's addresses: the site's own, and those under /-/."""

from __future__ import annotations

import hashlib
import json
from typing import TYPE_CHECKING

from stripewright.catalogue import _, speaking
from stripewright.preview.beside import HERE, Beside, by_file, set_beside, whole_page
from stripewright.preview.easel.answers import Easel
from stripewright.preview.easel.door import Door
from stripewright.preview.guard import Guard

if TYPE_CHECKING:
    from collections.abc import Sequence

    from starlette.requests import Request
    from starlette.responses import Response
    from starlette.types import ASGIApp, Receive, Scope, Send

    from stripewright.preview.desk import Desk, Found
    from stripewright.preview.events import Broadcast
    from stripewright.problems import Problem

CLIENT = {
    "-/preview.js": ("preview.js", "text/javascript"),
    "-/preview.css": ("preview.css", "text/css"),
    "sw.js": ("no-worker.js", "text/javascript"),
}
"""Path -> the file of the preview's own that stands there, and its type."""

TYPES = {"html": "text/html", "svg": "image/svg+xml", "css": "text/css", "js": "text/javascript",
         "xml": "application/xml", "txt": "text/plain", "json": "application/json",
         "webmanifest": "application/manifest+json", "jpg": "image/jpeg", "jpeg": "image/jpeg",
         "png": "image/png", "webp": "image/webp", "woff2": "font/woff2"}  # fmt: skip
"""By ending, the same on every system."""


def make_app(desk: Desk, broadcast: Broadcast, port: int, *, look_only: bool = False) -> ASGIApp:
    """The application, guarded; with `look_only`, nothing at all is written."""
    from starlette.applications import Starlette
    from starlette.routing import Route

    answers, door = Answers(desk, broadcast), Door(look_only=look_only)
    routes = [
        *Easel(desk, door).routes(),
        Route("/-/events", answers.events),
        Route("/-/problems", answers.problems),
        Route("/-/assets", answers.assets),
        Route("/-/state", answers.state),
        Route("/{path:path}", answers.site),
    ]
    guarded = Guard(Starlette(routes=routes), port, door)

    async def spoken(scope: Scope, receive: Receive, send: Send) -> None:
        with speaking(desk.words):  # the studio's own words, whatever answers
            await guarded(scope, receive, send)

    return spoken


class Answers:
    """What each address answers."""

    def __init__(self, desk: Desk, broadcast: Broadcast) -> None:
        self.desk = desk
        self.broadcast = broadcast

    async def events(self, request: Request) -> Response:
        """The stream that tells an open page of changes."""
        from starlette.responses import StreamingResponse

        page = request.query_params.get("page", "").lstrip("/")
        return StreamingResponse(self.broadcast.stream(page), media_type="text/event-stream")

    def problems(self, request: Request) -> Response:
        """All problems of the studio."""
        return _answer(request, problems_page(self.desk), "text/html")

    def assets(self, request: Request) -> Response:
        """A fingerprint of each style and script of the theme."""
        return _answer(request, json.dumps(self.desk.assets()).encode(), "application/json")

    def state(self, request: Request) -> Response:
        """How much is read, and how many times saves were taken up."""
        made, total = self.desk.reading()
        state = {"rounds": self.desk.rounds, "made": made, "total": total}
        return _answer(request, json.dumps(state).encode(), "application/json")

    def site(self, request: Request) -> Response:
        """A page or file of the site, or of the preview's own."""
        path = request.path_params["path"]
        if path in CLIENT:
            name, kind = CLIENT[path]
            return _answer(request, (HERE / "client" / name).read_bytes(), kind)
        if path == "" or path.endswith("/"):
            path += "index.html"
        buyer = request.query_params.get("as") == "buyer"
        data, status = page_at(self.desk, path, buyer=buyer)
        ending = path.rpartition(".")[2].lower() if status == 200 else "html"
        return _answer(request, data, TYPES.get(ending, "application/octet-stream"), status)


def _answer(request: Request, data: bytes, kind: str, status: int = 200) -> Response:
    from starlette.responses import Response

    tag = f'"{hashlib.sha256(data).hexdigest()[:24]}"'
    if request.headers.get("if-none-match") == tag and status == 200:
        return Response(status_code=304, headers={"etag": tag})
    charset = "; charset=utf-8" if kind.startswith("text/") else ""
    return Response(data, status, {"etag": tag, "content-type": kind + charset})


def page_at(desk: Desk, path: str, *, buyer: bool) -> tuple[bytes, int]:
    """What is served at a path from the site's root, and the status that goes with it."""
    found = desk.find(path, buyer=buyer)
    status = 200
    if found is None:
        status, found = 404, desk.find("404.html")
        if found is None:
            text = _("Settings or theme can’t be read yet, so there is nothing to show.")
            return _waiting(path, text, desk.problems()), 200
    if found.data is None:
        assert found.unit is not None  # noqa: S101  # only patterns are waited for
        text = _("This pattern can’t be drawn yet.")
        return _waiting(path, text, found.unit.problems), 200
    if status == 200 and not path.endswith(".html"):
        return found.data, status
    return set_beside(found.data, _beside(desk, path, found, buyer=buyer), desk.stamps()), status


def _waiting(path: str, text: str, problems: Sequence[Problem]) -> bytes:
    return whole_page(_("Not yet"), "waiting.html", path, text=text, problems=problems)


def _beside(desk: Desk, path: str, found: Found, *, buyer: bool) -> Beside:
    name = found.unit.source.name if found.unit else ""
    here = found.unit.problems if found.unit else ()
    errors, others = desk.elsewhere(here)
    made, total = desk.reading()
    return Beside(path, here, tuple(errors), others, made, total, name, found.shown, buyer)


def problems_page(desk: Desk) -> bytes:
    """All problems of the studio on one page."""
    made, total = desk.reading()
    pages = {unit.source.name: f"patterns/{unit.slug}/" for unit in desk.units.in_order()}
    return whole_page(_("Problems"), "problems.html", "-/problems", files=by_file(desk.problems()),
                      pages=pages, made=made, total=total)  # fmt: skip
