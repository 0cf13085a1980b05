"""The preview's addresses: the site's own, and those under /-/."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from stripewright.addresses import INDEX, MISSING, media_type, pattern_path, shown_path
from stripewright.catalogue import _, speaking
from stripewright.digests import digest_of
from stripewright.preview.beside import HERE, Beside, by_file, set_beside, whole_page
from stripewright.preview.easel.access import EaselAccess
from stripewright.preview.easel.answers import Easel
from stripewright.preview.hosts import HostCheck

if TYPE_CHECKING:
    from collections.abc import Sequence

    from starlette.requests import Request
    from starlette.responses import Response
    from starlette.types import ASGIApp, Receive, Scope, Send

    from stripewright.preview.events import Broadcast
    from stripewright.preview.live import Found, LiveStudio
    from stripewright.problems import Problem

CLIENT = {
    "-/preview.js": ("preview.js", "text/javascript"),
    "-/preview.css": ("preview.css", "text/css"),
    "sw.js": ("no-worker.js", "text/javascript"),
}
"""Path -> the file of the preview's own that stands there, and its type."""


def make_app(
    live: LiveStudio, broadcast: Broadcast, port: int, *, look_only: bool = False
) -> ASGIApp:
    """The application, guarded; with `look_only`, nothing at all is written."""
    from starlette.applications import Starlette
    from starlette.routing import Route

    answers, access = Answers(live, broadcast), EaselAccess(look_only=look_only)
    routes = [
        *Easel(live, access).routes(),
        Route("/-/events", answers.events),
        Route("/-/problems", answers.problems),
        Route("/-/assets", answers.assets),
        Route("/-/state", answers.state),
        Route("/{path:path}", answers.site),
    ]
    guarded = HostCheck(Starlette(routes=routes), port, access)

    async def spoken(scope: Scope, receive: Receive, send: Send) -> None:
        with speaking(live.words):  # the studio's own words, whatever answers
            await guarded(scope, receive, send)

    return spoken


class Answers:
    """What each address answers."""

    def __init__(self, live: LiveStudio, broadcast: Broadcast) -> None:
        self.live = live
        self.broadcast = broadcast

    async def events(self, request: Request) -> Response:
        """The stream that tells an open page of changes."""
        from starlette.responses import StreamingResponse

        page = request.query_params.get("page", "").lstrip("/")
        return StreamingResponse(self.broadcast.stream(page), media_type="text/event-stream")

    def problems(self, request: Request) -> Response:
        """All problems of the studio."""
        return _answer(request, problems_page(self.live), "text/html")

    def assets(self, request: Request) -> Response:
        """A fingerprint of each style and script of the theme."""
        return _answer(request, json.dumps(self.live.assets()).encode(), "application/json")

    def state(self, request: Request) -> Response:
        """How much is read, and how many times saves were taken up."""
        made, total = self.live.reading()
        state = {"rounds": self.live.rounds, "made": made, "total": total}
        return _answer(request, json.dumps(state).encode(), "application/json")

    def site(self, request: Request) -> Response:
        """A page or file of the site, or of the preview's own."""
        path = request.path_params["path"]
        if path in CLIENT:
            name, kind = CLIENT[path]
            return _answer(request, (HERE / "client" / name).read_bytes(), kind)
        if path == "" or path.endswith("/"):
            path += INDEX
        buyer = request.query_params.get("as") == "buyer"
        data, status = page_at(self.live, path, buyer=buyer)
        kind = media_type(path) if status == 200 else "text/html"
        return _answer(request, data, kind, status)


def _answer(request: Request, data: bytes, kind: str, status: int = 200) -> Response:
    from starlette.responses import Response

    tag = f'"{digest_of(data)[:24]}"'
    if request.headers.get("if-none-match") == tag and status == 200:
        return Response(status_code=304, headers={"etag": tag})
    charset = "; charset=utf-8" if kind.startswith("text/") else ""
    return Response(data, status, {"etag": tag, "content-type": kind + charset})


def page_at(live: LiveStudio, path: str, *, buyer: bool) -> tuple[bytes, int]:
    """What is served at a path from the site's root, and the status that goes with it."""
    found = live.find(path, buyer=buyer)
    status = 200
    if found is None:
        status, found = 404, live.find(MISSING)
        if found is None:
            text = _("Settings or theme can’t be read yet, so there is nothing to show.")
            return _waiting(path, text, live.problems()), 200
    if found.data is None:
        assert found.unit is not None  # noqa: S101  # only patterns are waited for
        text = _("This pattern can’t be drawn yet.")
        return _waiting(path, text, found.unit.problems), 200
    if status == 200 and not path.endswith(".html"):
        return found.data, status
    return set_beside(found.data, _beside(live, path, found, buyer=buyer), live.stamps()), status


def _waiting(path: str, text: str, problems: Sequence[Problem]) -> bytes:
    return whole_page(_("Not yet"), "waiting.html", path, text=text, problems=problems)


def _beside(live: LiveStudio, path: str, found: Found, *, buyer: bool) -> Beside:
    name = found.unit.source.name if found.unit else ""
    here = found.unit.problems if found.unit else ()
    errors, others = live.elsewhere(here)
    made, total = live.reading()
    return Beside(path, here, tuple(errors), others, made, total, name, found.shown, buyer)


def problems_page(live: LiveStudio) -> bytes:
    """All problems of the studio on one page."""
    made, total = live.reading()
    units = live.units.in_order()
    pages = {unit.source.name: shown_path(pattern_path(unit.slug)) for unit in units}
    return whole_page(_("Problems"), "problems.html", "-/problems", files=by_file(live.problems()),
                      pages=pages, made=made, total=total)  # fmt: skip
