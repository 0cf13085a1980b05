"""The typesetter: Typst, called from here and nowhere else.

A print template is code; what it sets comes to it as one JSON text. The template builds its page
from that data, so no character an author wrote can act as Typst code.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, cast

from stripewright.catalogue import say
from stripewright.studio import shipped_themes

if TYPE_CHECKING:
    from typst import Compiler, TypstError

STANDARDS: Final = ("ua-1", "a-2a")
"""PDF/UA-1 (ISO 14289-1) and PDF/A-2a (ISO 19005-2, level A), both at once."""

_MISSING = "▯"
"""Stands for a character that none of the fonts has; both standards forbid a glyph left out."""

_UNSETTABLE = re.compile(
    r'the text `"(.*)"` could not be displayed|the PDF contains the codepoint `"(.*)"`'
)
_PACKAGE = re.compile(rb'"@[a-z]')
_LOOKED_AT = re.compile(r" \(searched at .*\)")
"""Where Typst looked for a file: a path of this machine, of no use to the author."""
_LINE = re.compile(r"┌─ [^\n]*:(\d+):\d+\n")
_ESCAPE = re.compile(r"\\u\{([0-9a-f]+)\}|\\(.)")
_SHORT = {"n": "\n", "r": "\r", "t": "\t", "0": "\0"}


class NotSet(RuntimeError):
    """A print template has a mistake.

    Args:
        message: Typst's own words.
        line: of the template, 1-based; 0 when it isn't known.
        file: the template's path in its theme; "" until it is known.
        diagnostic: all that Typst says, of all mistakes.
    """

    def __init__(self, message: str, line: int = 0, file: str = "", diagnostic: str = "") -> None:
        super().__init__(message, line, file, diagnostic)
        self.message, self.line, self.file, self.diagnostic = message, line, file, diagnostic


@lru_cache(maxsize=1)
def _compiler() -> Compiler:
    """One warm compiler a process, with its built-in fonts only: the same bytes on any machine.

    Its root is the shipped print templates' folder: no other file can be read, no package found.
    """
    from typst import Compiler

    root, nowhere = shipped_themes() / "shared" / "print", Path(__file__) / "nothing"
    return Compiler(
        ignore_system_fonts=True, root=root, package_path=nowhere, package_cache_path=nowhere
    )


def _nothing_fetched(source: bytes) -> None:
    """A template builds on its theme alone. Raises NotSet where it asks for a package."""
    found = _PACKAGE.search(source)
    if found:
        line = source.count(b"\n", 0, found.start()) + 1
        raise NotSet("a print template can't fetch packages: it builds on its theme alone", line)


def pdf(source: bytes, data: Mapping[str, Any]) -> bytes:
    """Set a document as a tagged PDF that holds to `STANDARDS`.

    Args:
        source: the template; it reads its data with `json(bytes(sys.inputs.data))`, and sets the
            document's title, language and date.
        data: anything that JSON can say.

    Returns:
        The PDF. The same source and data give the same bytes.

    Raises:
        NotSet: the template has a mistake.
    """
    _nothing_fetched(source)
    text = json.dumps(data, ensure_ascii=False)
    try:
        return _compile_pdf(source, text)
    except NotSet as fault:
        missing = unsettable(fault.diagnostic)
        if not missing:
            raise
        return _compile_pdf(source, json.dumps(_without(data, missing), ensure_ascii=False))


def engine_png(source: bytes, inputs: Mapping[str, str]) -> bytes:
    """Set a document of one page as a PNG, one pixel a point. Raises NotSet."""
    return _compile(input=source, format="png", ppi=72, sys_inputs=dict(inputs))


def _compile_pdf(source: bytes, text: str) -> bytes:
    return _compile(
        input=source,
        format="pdf",
        sys_inputs={"data": text},
        pdf_standards=list(STANDARDS),
        timestamp=0,
    )


def _compile(**options: Any) -> bytes:
    from typst import TypstError

    try:
        made = _compiler().compile(**options)
    except TypstError as fault:
        raise _not_set(fault) from fault
    except BaseException as fault:
        if type(fault).__name__ != "PanicException":  # Rust's, whose class no module gives out
            raise
        _compiler.cache_clear()
        raise NotSet(say("the typesetter gave up: {fault}", fault)) from None
    return cast("bytes", made)


def _not_set(fault: TypstError) -> NotSet:
    """Typst's first error, and the line that it stands on."""
    line = _LINE.search(fault.diagnostic)
    message = _LOOKED_AT.sub("", fault.message)
    if message != fault.message or "escape the project root" in message:
        message = say("a print template can't read files: what it shows comes to it as data")
    return NotSet(message, int(line[1]) if line else 0, diagnostic=fault.diagnostic)


def unsettable(diagnostic: str) -> frozenset[str]:
    """The characters that Typst says it has no glyph for, or that PDF/A forbids."""
    found = (match[1] or match[2] for match in _UNSETTABLE.finditer(diagnostic))
    return frozenset("".join(_ESCAPE.sub(_unescaped, text) for text in found))


def _unescaped(match: re.Match[str]) -> str:
    return chr(int(match[1], 16)) if match[1] else _SHORT.get(match[2], match[2])


def _without(data: Any, missing: frozenset[str]) -> Any:
    """The data with each missing character replaced, however deep it stands."""
    table = str.maketrans(dict.fromkeys(missing, _MISSING))

    def clean(value: Any) -> Any:
        if isinstance(value, str):
            return value.translate(table)
        if isinstance(value, Mapping):
            return {key: clean(item) for key, item in value.items()}
        if isinstance(value, (list, tuple)):
            return [clean(item) for item in value]
        return value

    return clean(data)
