"""What a template may see of the worked numbers: plain facts by name, and nothing behind them."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Self

from stripewright.catalogue import say
from stripewright.figures import Figures, decimal
from stripewright.problems import nearest

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping


class Hinted(Exception):
    """A mistake in a template, with what would be right."""

    def __init__(self, message: str, hint: str = "") -> None:
        super().__init__(message)
        self.message, self.hint = message, hint


class MeasureFact(float):
    """A number with a unit; on its own it is shown in both systems."""

    __slots__ = ("figures",)

    figures: Figures

    def __new__(cls, value: float, figures: Figures) -> Self:
        """A measure that is shown as the studio shows its figures."""
        made = super().__new__(cls, value)
        made.figures = figures
        return made


class Length(MeasureFact):
    """A length in cm."""

    __slots__ = ()


class YarnLength(MeasureFact):
    """A length of yarn in m."""

    __slots__ = ()


class Mass(MeasureFact):
    """A mass in g."""

    __slots__ = ()


@dataclass(frozen=True, slots=True)
class Ask:
    """A question that a template may put, like `change(2)`."""

    name: str
    answer: Callable[..., object] = field(repr=False)
    example: str

    def ask(self, *words: object) -> object:
        """The answer. Raises Hinted for a question that makes no sense."""
        if len(words) != 1:
            raise Hinted(
                say("{name} wants one number", self.name),
                say("write it like {example}", self.example),
            )
        return self.answer(*words)


@dataclass(frozen=True, slots=True)
class Later:
    """A fact that is only put together when a template asks for it."""

    make: Callable[[], object]


class Facts:
    """Facts by name. `withheld` are names that exist, but not here, each with the reason."""

    __slots__ = ("_facts", "_title", "_withheld", "what")

    def __init__(
        self,
        what: str,
        facts: Mapping[str, object],
        withheld: Mapping[str, tuple[str, str]] | None = None,
        title: str | None = None,
    ) -> None:
        """Take the facts.

        Args:
            what: what they are of, for problems, like "cover".
            facts: the facts.
            withheld: message and hint for each name that is kept back.
            title: what stands in the text when the whole is inserted.
        """
        self.what = what
        self._facts = facts
        self._withheld = withheld or {}
        self._title = title

    def missing(self, name: str) -> Hinted | None:
        """What is wrong with asking for a name; None when it is there."""
        if name in self._facts:
            return None
        if name in self._withheld:
            return Hinted(*self._withheld[name])
        return Hinted(
            say("{what} has nothing called {name}", self.what, name),
            nearest(name, sorted(self._facts)),
        )

    def get(self, name: str) -> object:
        """A fact. Raises Hinted."""
        fault = self.missing(name)
        if fault:
            raise fault
        value = self._facts[name]
        return value.make() if isinstance(value, Later) else value

    def __str__(self) -> str:
        return self._title if self._title is not None else self.what


def fact_text(value: object) -> str:
    """A value as text: measures in both systems, lists with commas, numbers without idle zeros."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Length):
        return value.figures.length(value)
    if isinstance(value, YarnLength):
        return value.figures.yarn(value)
    if isinstance(value, Mass):
        return value.figures.mass(value)
    if isinstance(value, float):
        return decimal(value, 2)
    if isinstance(value, (tuple, list, range)):
        return ", ".join(map(fact_text, value))
    if value is None:
        return "none"
    if isinstance(value, Ask):
        return value.name
    if isinstance(value, (str, int, Facts)):
        return str(value)
    raise Hinted("this can't be shown in a text")
