"""How each thing is done: the shipped texts, the studio's, the pattern's, and filling them in."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from importlib import resources
from typing import TYPE_CHECKING

import yaml
from jinja2 import Environment, StrictUndefined, Template, meta

from stripewright.problems import Place, Problem, error
from stripewright.words.facts import nearest
from stripewright.words.sandbox import Compiled, Language, fill_in, unknown_names

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from stripewright.compute.worked import WorkedPattern
    from stripewright.pattern.settings import Settings
    from stripewright.source.document import Document
    from stripewright.words.grammar import Fault


@dataclass(frozen=True, slots=True)
class Shipped:
    """A technique as it comes with the program."""

    title: str
    text: str


@lru_cache(maxsize=1)
def shipped() -> Mapping[str, Shipped]:
    """The techniques of techniques.yaml, by name."""
    data = (resources.files("stripewright.words") / "techniques.yaml").read_bytes()
    raw: Mapping[str, Mapping[str, str]] = yaml.load(
        data, Loader=yaml.CSafeLoader
    )  # the C loader is the safe one
    return {name: Shipped(each["title"], each["text"]) for name, each in raw.items()}


@lru_cache(maxsize=1)
def _own_words() -> Environment:
    # The shipped texts are the program's own, so they need no sandbox, and every step needs two.
    return Environment(undefined=StrictUndefined, autoescape=False)  # noqa: S701  # plain text, never markup


def names_in(text: str) -> set[str]:
    """The names that a technique's text uses."""
    return meta.find_undeclared_variables(_own_words().parse(text))


@lru_cache(maxsize=256)
def _template(text: str) -> Template:
    return _own_words().from_string(text)


def _filled(text: str, facts: Mapping[str, object]) -> str:
    if "{" not in text:
        return text
    template = _template(text)
    # The facts are the context as they are: copying them would take longer than the text.
    context = template.new_context(facts, shared=True)  # type: ignore[arg-type]  # it only reads
    return _tidy("".join(template.root_render_func(context)))


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
        return frozenset(shipped()) | frozenset(self._own)

    def _check_names(self, worked: WorkedPattern, document: Document) -> None:
        used = {step.do for step in worked.pattern.making_up or ()}
        for name in worked.pattern.techniques:
            if name not in shipped() and name not in used:
                self.problems.append(
                    error(
                        document.place("techniques", name),
                        f"there is no technique “{name}”, and no step of making_up uses it",
                        nearest(name, shipped()),
                    )
                )

    def _tell(self, own: _Own, faults: Iterable[Fault], name: str, kind: str = "") -> None:
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
            message = f"technique “{name}”: {fault.message}"
            self.problems.append(error(place, message, fault.hint))

    def title(self, name: str, facts: Mapping[str, object]) -> str:
        """What a step that does this is called."""
        known = shipped().get(name)
        if known is None:
            words = name.replace("_", " ")
            return words[:1].upper() + words[1:]
        return _filled(known.title, facts)

    def text(self, name: str, facts: Mapping[str, object]) -> str:
        """How it is done, with the facts filled in; empty after a mistake, which is then told."""
        own = self._own.get(name)
        if own is None:
            return _filled(shipped()[name].text, facts)
        compiled = _compiled(own.text)
        if compiled.template is None:
            return ""
        unknown = unknown_names(compiled, facts, nearest)
        self._tell(own, unknown, name)
        if unknown:
            return ""
        text, fault = fill_in(compiled, facts)
        if fault:
            self._tell(own, [fault], name, "filling in")
        return _tidy(text)


def _tidy(text: str) -> str:
    return " ".join(text.split())
