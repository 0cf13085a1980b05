"""What is wrong in a template of the author's, in words."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from jinja2.exceptions import TemplateSyntaxError, UndefinedError

from stripewright.catalogue import say
from stripewright.words.facts import Hinted
from stripewright.words.grammar import (
    TemplateFault,
)

if TYPE_CHECKING:
    from jinja2 import Template


_MISSING = re.compile(r"[Ee]xpected an expression, got '(end of \w+ \w+)'")
_SHOWN = {"end of statement block": "%}", "end of print statement": "}}"}
"""What the template language calls a thing, and how it is written."""


def fault_told(fault: Exception) -> str:
    """What went wrong while a text was filled in."""
    if isinstance(fault, Hinted):
        return fault.message
    if isinstance(fault, UndefinedError):
        name = re.match(r"'(\w+)' is undefined", fault.message or "")
        return (
            say("{name} has no value here", name[1]) if name else say("something here has no value")
        )
    return _sentence(str(fault))


def syntax_fault(fault: TemplateSyntaxError) -> TemplateFault:
    """A mistake in a template's form, in few words."""
    text = (fault.message or "").split(". Jinja was")[0]
    tag = re.search(r"unknown tag '(\w+)'", text)
    unclosed = re.search(r"needs to be closed is '(\w+)'", fault.message or "")
    hint = say("a block may not reach over the first heading, nor over the steps")
    if unclosed:
        close = say("close it with {{% end{tag} %}}; {hint}", unclosed[1], hint)
        return TemplateFault(fault.lineno, _sentence(text), close)
    if tag:
        ends = tag[1].startswith("end") or tag[1] in {"else", "elif"}
        none = say("{{% {tag} %}} is no tag here", tag[1])
        what = say("{{% {tag} %}} ends nothing here", tag[1]) if ends else none
        return TemplateFault(fault.lineno, what, hint if ends else say("there are if, for and set"))
    if missing := _MISSING.search(text):
        before = _SHOWN.get(missing[1], missing[1])
        return TemplateFault(
            fault.lineno,
            say("a name or a number is missing before {what}", before),
            say("write it like {% if cover.worked_rows > 60 %}, or {{ cover.worked_rows }}"),
        )
    left_open = "unexpected '}'" in text or "end of print statement" in text
    whole = say("a number is written {{ cover.worked_rows }}, with two braces at each end")
    return TemplateFault(fault.lineno, _sentence(text), whole if left_open else "")


def _sentence(text: str) -> str:
    text = text.strip().rstrip(".")
    return text[:1].lower() + text[1:] if text[1:2].islower() else text


def line_of_fault(fault: BaseException, template: Template) -> int:
    """The line of the template, from 1, that a fault comes from."""
    line = 1
    trace = fault.__traceback__
    while trace is not None:
        if trace.tb_frame.f_code.co_filename == "<text>":
            line = template.get_corresponding_lineno(trace.tb_lineno)
        trace = trace.tb_next
    return line
