"""The filters and tests that a template may use."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from jinja2.runtime import Undefined

from stripewright.catalogue import say
from stripewright.figures import Figures, rc, rounded
from stripewright.phrases import capital
from stripewright.words.facts import Hinted, MeasureFact, fact_text

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence


def _number(value: object) -> float:
    if isinstance(value, Undefined):
        str(value)
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        raise Hinted(say("{number} is not a number", fact_text(value)))
    return value


def _list(value: object) -> Sequence[Any]:
    if isinstance(value, Undefined):
        str(value)
    if not isinstance(value, (tuple, list, range)):
        raise Hinted(say("{number} is not a list", fact_text(value)))
    return value


def _numbers(value: object) -> list[float]:
    return [_number(one) for one in _list(value)]


def _text(value: object) -> str:
    return str(value) if isinstance(value, Undefined) else fact_text(value)


def _unit(write: Callable[[Figures, float], str]) -> Callable[[object], str]:
    def written(value: object) -> str:
        number = _number(value)
        return write(number.figures if isinstance(number, MeasureFact) else Figures(), number)

    return written


def _rounded(value: object, digits: object = 0) -> float:
    if not isinstance(digits, int) or not 0 <= digits <= 6:
        raise Hinted("round wants how many decimals, 0 to 6", "write it like round(1)")
    number = rounded(_number(value), digits)
    return number if digits else int(number)


def _counter(value: object) -> str:
    number = _number(value)
    if number != int(number) or number < 0:
        raise Hinted(
            say("a row counter doesn't show {number}", fact_text(value)), "it counts whole rows"
        )
    return rc(int(number))


def _joined(value: object, between: object = ", ") -> str:
    return _text(between).join(map(_text, _list(value)))


def _first(value: object) -> Any:
    items = _list(value)
    return items[0] if items else ""


def _last(value: object) -> Any:
    items = _list(value)
    return items[-1] if items else ""


def _length(value: object) -> int:
    return len(value) if isinstance(value, str) else len(_list(value))


def _extreme(choose: Callable[[list[float]], float]) -> Callable[[object], float]:
    return lambda value: choose(_numbers(value) or [0])


FILTERS: Mapping[str, Callable[..., Any]] = {
    "cm": _unit(Figures.in_cm),
    "inch": _unit(Figures.in_inches),
    "m": _unit(Figures.in_metres),
    "yd": _unit(Figures.in_yards),
    "g": _unit(Figures.in_grams),
    "oz": _unit(Figures.in_ounces),
    "rc": _counter,
    "round": _rounded,
    "abs": lambda value: abs(_number(value)),
    "sum": lambda value: sum(_numbers(value)),
    "min": _extreme(min),
    "max": _extreme(max),
    "length": _length,
    "first": _first,
    "last": _last,
    "join": _joined,
    "lower": lambda value: _text(value).lower(),
    "upper": lambda value: _text(value).upper(),
    "capitalize": lambda value: capital(_text(value)),
}

TESTS: Mapping[str, Callable[..., bool]] = {
    "odd": lambda value: _number(value) % 2 == 1,
    "even": lambda value: _number(value) % 2 == 0,
    "none": lambda value: value is None,
    "defined": lambda value: not isinstance(value, Undefined),
}
