"""The easel's addresses: its pages, its files, and its three requests."""

from __future__ import annotations

import asyncio
import json
from pathlib import Path
from typing import TYPE_CHECKING, Any

from stripewright.catalogue import _, spoken, tell
from stripewright.digests import digest_of
from stripewright.in_script import in_script
from stripewright.pipeline.sources import tables_named
from stripewright.preview.beside import whole_page
from stripewright.preview.easel.access import MOST_SENT
from stripewright.preview.easel.asked import Unfit, front_of, request_of, text_of
from stripewright.preview.easel.pictures import read_palette, read_sheet
from stripewright.preview.easel.rewrite import NotWritten
from stripewright.preview.easel.saving import PATTERN_FOLDER, Changed, Keeper, NoSuchFile
from stripewright.preview.easel.starts import SPARE, START_KINDS, start_yarns, started
from stripewright.preview.easel.working import answer
from stripewright.problems import Place
from stripewright.publish.disk import failure
from stripewright.source.reader import read_document
from stripewright.studio import shipped_themes

if TYPE_CHECKING:
    from collections.abc import Mapping

    from starlette.requests import Request
    from starlette.responses import Response
    from starlette.routing import BaseRoute

    from stripewright.pipeline.sources import SourceFile
    from stripewright.preview.easel.access import EaselAccess
    from stripewright.preview.live import LiveStudio

_HERE = Path(__file__).parent
SCRIPTS = ("model", "gestures", "several", "kept", "asking", "easel", "stage", "hand", "stripes",
           "yarns", "form", "beside", "both", "begin")  # fmt: skip
"""The page's scripts, in the order they are run."""
_FILES = {f"{name}.js": "text/javascript" for name in SCRIPTS} | {
    "keep.js": "text/javascript",
    "easel.css": "text/css",
    "knit.svg": "image/svg+xml",
}
_KEEP = shipped_themes() / "shared" / "assets" / "keep.js"
"""What gives scripts their words, here as on the site."""
_SAY = "*/easel/client/*.js"
"""Where the messages stand that the page's scripts tell."""
_PATIENCE_S = 20.0
"""How long the bytes of a request may take."""


class Easel:
    """What each of the easel's addresses answers."""

    def __init__(self, live: LiveStudio, access: EaselAccess) -> None:
        self._live = live
        self._access = access
        self._keeper = Keeper(live.saved.studio)

    def routes(self) -> list[BaseRoute]:
        """Where they are."""
        from starlette.routing import Route

        return [
            Route("/-/easel/", self.all),
            Route("/-/easel/new", self.new),
            Route("/-/easel/pattern/{name}", self.one),
            Route("/-/easel/file/{name}", self.file),
            Route("/-/easel/{name}.{kind:str}", self.client),
            Route("/-/easel/work", self.work, methods=["POST"]),
            Route("/-/easel/save", self.save, methods=["POST"]),
            Route("/-/easel/sheet", self.sheet, methods=["POST"]),
            Route("/-/easel/palette", self.palette, methods=["POST"]),
        ]

    # ---- pages --------------------------------------------------------------------------------

    def all(self, _request: Request) -> Response:
        """The list of patterns, each with its easel."""
        names = [(unit.source.stem, _title(unit.source)) for unit in self._live.units.in_order()]
        return self._page("easels.html", _("Easel"), names=names, look_only=self._access.look_only)

    def new(self, _request: Request) -> Response:
        """The easel with nothing on it yet."""
        gauges = [[name, title] for name, title, _said in self._gauges()]
        state = {"file": None, "gauges": gauges}
        return self._easel(_("New pattern"), state)

    def one(self, request: Request) -> Response:
        """The easel of one pattern."""
        name = f"{PATTERN_FOLDER}{request.path_params['name']}.md"
        try:
            state = self._state(name)
        except (NoSuchFile, OSError) as fault:
            return self._page("no_easel.html", _("No such pattern"), 404, text=str(fault))
        title = state["front"].get("title")
        return self._easel(title if isinstance(title, str) else name, state)

    def file(self, request: Request) -> Response:
        """A pattern's front matter as it is on the disk now."""
        try:
            return _json(self._state(f"{PATTERN_FOLDER}{request.path_params['name']}.md"))
        except (NoSuchFile, OSError) as fault:
            return _json({"why": str(fault)}, 404)

    def client(self, request: Request) -> Response:
        """A script, the style, the texture."""
        from starlette.responses import Response

        name = f"{request.path_params['name']}.{request.path_params['kind']}"
        if name not in _FILES:
            return Response("There is nothing here.\n", 404, media_type="text/plain")
        path = _KEEP if name == _KEEP.name else _HERE / "client" / name
        return Response(path.read_bytes(), media_type=_FILES[name])

    def _state(self, name: str) -> dict[str, Any]:
        data = self._keeper.open(name)
        document, problems = read_document(data, name)
        why = "" if not problems else str(problems[0])
        unit = self._live.units.by_name.get(name)
        slug = unit.slug if unit else Path(name).stem
        return {
            "file": name,
            "digest": digest_of(data),
            "front": dict(document.front),
            "slug": slug,
            "why": why,
        }

    def _gauges(self) -> list[tuple[str, str, Mapping[str, Any]]]:
        """File, title and gauge or swatch of each pattern that has one and can be read."""
        found: list[tuple[str, str, Mapping[str, Any]]] = []
        for unit in self._live.units.in_order():
            document, problems = read_document(unit.source.data, unit.source.name)
            front = document.front
            said = {key: front[key] for key in ("swatch", "gauge") if key in front}
            if said and not problems:
                title = front.get("title")
                found.append((unit.source.name, str(title or unit.source.stem), said))
        return found

    def _easel(self, title: str, state: Mapping[str, Any]) -> Response:
        settings = self._live.settings
        imperial = settings is not None and settings.units == "imperial"
        kinds = [(kind, _(kind)) for kind in START_KINDS]
        state = {**state, "kinds": kinds, "look_only": self._access.look_only}
        data = in_script(state, default=str)
        return self._page("easel.html", title, state=data, token=self._access.token,
                          scripts=SCRIPTS, imperial=imperial,
                          messages=spoken().of(_SAY))  # fmt: skip

    def _page(self, template: str, title: str, status: int = 200, **values: object) -> Response:
        from starlette.responses import Response

        page = whole_page(title, template, "-/easel/", **values)
        return Response(page, status, media_type="text/html")

    # ---- requests -----------------------------------------------------------------------------

    async def work(self, request: Request) -> Response:
        """What follows from some front matter."""
        return await self._answered(request, lambda data: self._work(request_of(data)))

    async def save(self, request: Request) -> Response:
        """Write what was changed."""
        return await self._answered(request, lambda data: self._save(request_of(data)))

    async def sheet(self, request: Request) -> Response:
        """The stripes of a picture of a coloured planning sheet."""
        return await self._answered(request, read_sheet)

    async def palette(self, request: Request) -> Response:
        """Yarns in the colours of a picture."""
        return await self._answered(request, read_palette)

    async def _answered(self, request: Request, do: Any) -> Response:
        from starlette.concurrency import run_in_threadpool

        try:
            most = MOST_SENT[request.url.path]
            data = await asyncio.wait_for(_body(request, most), _PATIENCE_S)
            return _json(*(await run_in_threadpool(do, data)))
        except TimeoutError:
            return _json({"why": _("This took too long to come.")}, 408)
        except NoSuchFile as fault:
            return _json({"why": str(fault)}, 404)
        except (Unfit, NotWritten) as fault:
            return _json({"why": str(fault)}, 422)
        except OSError as fault:
            problem = failure(fault, Place("content/patterns"))
            said = {"why": tell(problem.message), "hint": tell(problem.hint)}
            return _json({"why": _("It is not saved: {why}. {hint}", **said)}, 507)

    def _work(self, found: dict[str, Any]) -> tuple[dict[str, Any], int]:
        settings = self._live.settings
        if settings is None:
            raise Unfit(_("The studio’s settings can’t be read yet."))
        made: dict[str, Any] = {}
        if isinstance(found.get("start"), dict):
            gauges = {name: said for name, _title, said in self._gauges()}
            made = {"front": started(found["start"], gauges), "spare": start_yarns(SPARE)}
        front, name, body = made.get("front") or front_of(found), text_of(found, "file"), ""
        tables: dict[str, bytes] = {}
        if name is not None:
            data = self._keeper.open(name)
            body = read_document(data, name)[0].body
            tables = dict(tables_named(self._live.saved.studio, data))
        sight = text_of(found, "sight") or "normal"
        named = name or f"{PATTERN_FOLDER}new.md"
        return made | answer(
            front, body, settings, name=named, sight=sight, tables=tables.items()
        ), 200

    def _save(self, found: dict[str, Any]) -> tuple[dict[str, Any], int]:
        front, name = front_of(found), text_of(found, "file")
        if name is None:
            taken = {unit.slug for unit in self._live.units.in_order()}
            name, data = self._keeper.add(front, taken)
        else:
            try:
                data = self._keeper.save(name, text_of(found, "digest") or "", front)
            except Changed as fault:
                if fault.data is None:
                    return {"why": _("The file is gone."), "gone": True}, 409
                return {"why": str(fault), **self._state(name)}, 409
        return {
            "file": name,
            "digest": digest_of(data),
            "slug": Path(name).stem,
            "front": dict(read_document(data, name)[0].front),
        }, 200


def _title(source: SourceFile) -> str:
    title = read_document(source.data, source.name)[0].front.get("title")
    return title if isinstance(title, str) else source.stem


async def _body(request: Request, most: int) -> bytes:
    """A request's bytes; more than may be are not kept.

    Raises:
        Unfit: there are more.
    """
    parts, size = [], 0
    async for part in request.stream():
        size += len(part)
        if size > most:
            raise Unfit(_("This is too large."))
        parts.append(part)
    return b"".join(parts)


def _json(value: Mapping[str, Any], status: int = 200) -> Response:
    from starlette.responses import Response

    text = json.dumps(value, ensure_ascii=False, default=str)
    return Response(text, status, media_type="application/json")
