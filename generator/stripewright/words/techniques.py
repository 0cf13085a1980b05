"""How each thing is done: the shipped texts, the studio's, the pattern's, and filling them in."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from importlib import resources
from typing import TYPE_CHECKING, Literal

import yaml
from jinja2 import Environment, StrictUndefined, Template, meta
from pydantic import model_validator

from stripewright.catalogue import _, say, spoken
from stripewright.pattern.base import AuthorModel
from stripewright.pattern.edge import EdgeKind
from stripewright.phrases import capital
from stripewright.problems import Place, Problem, error, nearest
from stripewright.words.as_data import as_data
from stripewright.words.sandbox import Compiled, Language, Meter, fill_in, unknown_names

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from jinja2.runtime import Context

    from stripewright.catalogue import Locale
    from stripewright.compute.worked import WorkedPattern
    from stripewright.pattern.settings import Settings
    from stripewright.source.document import Document
    from stripewright.words.as_data import Data
    from stripewright.words.grammar import TemplateFault


Where = Literal["first", "last", "both", "middle", "side", "fold", "brim", "top", "meeting"]
"""Where on a piece a technique is done: at its cast-on end, its last end or both, in its middle, on
its side, its fold, where its brim turns or the edge it hangs by, or where one piece is brought to
another."""


class Technique(AuthorModel):
    """A technique: what follows from it in the order, the steps and the assembly, and its words."""

    edge: EdgeKind | None = None
    """The edge that it makes; then it is done to one end at a time, usually the one it is `at`."""
    at: Where | None = None
    """Where it is done, and numbered in the assembly; left out, to the whole piece."""
    once: bool = False
    """Done between several pieces, or along all of them: numbered on the first alone."""
    tail: Literal["first", "last", "side"] = "first"
    """Whose tail and yarn its words name, when no end is said."""
    takes_up: str = ""
    """What takes the allowance rows of its edge up, as in “goes into the seam”."""
    tail_for: str = ""
    """What a long tail is left for, as in “it will sew this end”."""
    always: bool = False
    """Whether its words may be needed at some numbers, whatever the pattern is."""
    passing: bool = False
    """Whether a film shows it in passing: a chapter for it would come every few seconds."""
    tools: tuple[str, ...] = ()
    """What it takes besides scissors and a tape measure; supplies list it."""
    title: str
    """What a step that does it is called."""
    text: str
    """How it is done."""

    @model_validator(mode="after")
    def _an_edge_is_at_an_end(self) -> Technique:
        if self.edge and self.at not in ("first", "last"):
            raise ValueError("what makes an edge is done at the first end or closes the last")
        return self


@lru_cache(maxsize=1)
def shipped_techniques() -> Mapping[str, Technique]:
    """The techniques of techniques.yaml, by name. Raises ValidationError for a wrong record."""
    data = (resources.files("stripewright.words") / "techniques.yaml").read_bytes()
    raw: Mapping[str, object] = yaml.load(data, Loader=yaml.CSafeLoader)  # the C loader is safe
    return {name: Technique.model_validate(each) for name, each in raw.items()}


def technique(name: str | None) -> Technique:
    """What is known of a technique, in the locale spoken; of an author's own, only its name."""
    return _known_in(name, spoken())


@lru_cache(maxsize=512)
def _known_in(name: str | None, words: Locale) -> Technique:
    known = shipped_techniques().get(name or "")
    if known is not None:
        if not words.messages:
            return known
        told = {
            key: _(text)
            for key in ("title", "text", "takes_up", "tail_for")
            if (text := getattr(known, key))
        }
        return known.model_copy(update={**told, "tools": tuple(map(_, known.tools))})
    return Technique(title=capital((name or "").replace("_", " ")), text="")


@lru_cache(maxsize=1)
def _by_edge() -> Mapping[tuple[EdgeKind, Where | None], str]:
    return {(each.edge, each.at): name for name, each in shipped_techniques().items() if each.edge}


def finishing(edge: EdgeKind) -> str:
    """The name of the technique that finishes an end with this edge."""
    return _by_edge()[edge, "first"]


def closing(edge: EdgeKind) -> str | None:
    """The name of the technique that closes a filled piece's last end with this edge, if any."""
    return _by_edge().get((edge, "last"))


@lru_cache(maxsize=1)
def _own_words() -> Environment:
    # The shipped texts are the program's own, so they need no sandbox, and every step needs two.
    own = Environment(undefined=StrictUndefined, autoescape=False)  # noqa: S701  # plain text, never markup
    own.globals.clear()
    return own


def names_in(text: str) -> set[str]:
    """The names that a technique's text uses."""
    return meta.find_undeclared_variables(_own_words().parse(text))


@lru_cache(maxsize=256)
def shipped_data(text: str) -> Data | None:
    """A shipped text, in any locale, as a script takes it."""
    return as_data(_own_words().parse(text))


@lru_cache(maxsize=256)
def own_data(text: str) -> Data | None:
    """The same of an author's text; None where it has mistakes, or asks what no script knows."""
    if _compiled(text).faults:
        return None
    # As the sandbox reads it; only the reading is shared, nothing is run.
    laid_out = Environment(trim_blocks=True, lstrip_blocks=True, autoescape=False)  # noqa: S701  # plain text
    return as_data(laid_out.parse(text), capital="capital")


@lru_cache(maxsize=256)
def _template(text: str) -> Template:
    return _own_words().from_string(text)


def _filled(text: str, facts: Context) -> str:
    return _tidy("".join(_template(text).root_render_func(facts))) if "{" in text else text


@lru_cache(maxsize=1)
def _language() -> Language:
    return Language(str)


@lru_cache(maxsize=1024)
def _compiled(text: str) -> Compiled:
    return _language().compile(text)


@dataclass(frozen=True, slots=True)
class _Own:
    """A text of the author's, and where it stands."""

    text: str
    place: Place


class Techniques:
    """The techniques of one pattern; what is wrong with the author's texts is in `problems`."""

    def __init__(self, worked: WorkedPattern, document: Document, settings: Settings) -> None:
        """Lay the pattern's texts over the studio's, and those over the shipped ones."""
        self.problems: list[Problem] = []
        self.meter = Meter()
        self._own: dict[str, _Own] = {}
        for name, text in settings.techniques.items():
            self._own[name] = _Own(text, settings.technique_place(name))
        for name, text in worked.pattern.techniques.items():
            self._own[name] = _Own(text, document.place("techniques", name))
        self._told: set[tuple[str, int, str]] = set()
        self._check_names(worked, document)
        for name, own in self._own.items():
            self._tell(own, _compiled(own.text).faults, name)

    @property
    def names(self) -> frozenset[str]:
        """All that can be done."""
        return frozenset(shipped_techniques()) | frozenset(self._own)

    def _check_names(self, worked: WorkedPattern, document: Document) -> None:
        used = {step.do for step in worked.pattern.making_up or ()}
        for name in worked.pattern.techniques:
            if name not in shipped_techniques() and name not in used:
                self.problems.append(
                    error(
                        document.place("techniques", name),
                        say(
                            "there is no technique “{name}”, and no step of making_up uses it", name
                        ),
                        nearest(name, shipped_techniques()),
                    )
                )

    def _tell(self, own: _Own, faults: Iterable[TemplateFault], name: str, kind: str = "") -> None:
        """Tell mistakes once each; of one `kind`, once a line, however often the text is used."""
        for fault in faults:
            mistake = (name, fault.line, kind or fault.message)
            if mistake in self._told:
                continue
            self._told.add(mistake)
            many = "\n" in own.text.rstrip("\n")
            place = own.place
            if many and place.line:
                place = Place(place.file, place.line + fault.line, 1)
            message = say("technique “{name}”: {message}", name, fault.message)
            self.problems.append(error(place, message, fault.hint))

    def told(self, name: str, facts: Mapping[str, object]) -> tuple[str, str]:
        """What a step that does this is called, and how it is done, with the facts filled in.

        How is empty after a mistake, which is then told.
        """
        how, own = technique(name), self._own.get(name)
        # The facts as they are, for both: copying them would take longer than the texts.
        context = _template("").new_context(facts, shared=True)  # type: ignore[arg-type]  # it only reads
        title = _filled(how.title, context)
        return title, self._of_own(own, name, facts) if own else _filled(how.text, context)

    def _of_own(self, own: _Own, name: str, facts: Mapping[str, object]) -> str:
        compiled = _compiled(own.text)
        if compiled.template is None:
            return ""
        unknown = unknown_names(compiled, facts)
        self._tell(own, unknown, name)
        if unknown:
            return ""
        text, fault = fill_in(compiled, facts, self.meter)
        if fault:
            self._tell(own, [fault], name, say("filling in"))
        return _tidy(text)


def _tidy(text: str) -> str:
    return " ".join(text.split())
