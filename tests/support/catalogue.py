"""The catalogue of the program's words: `python tests/support/catalogue.py` collects and renews it.

New messages are put into each locale's file, gone ones taken out, translations kept. British
English is the messages themselves; American English is drafted by `PAIRS`, where nobody has written it.
"""

from __future__ import annotations

import ast
import inspect
import io
import re
from pathlib import Path

import yaml
from babel.messages.catalog import Catalog
from babel.messages.extract import extract
from babel.messages.pofile import read_po, write_po

from stripewright.compute.colour_words import COLOUR_WORDS
from stripewright.pattern.describe import field_texts
from stripewright.pattern.reference import ROOTS, SECTIONS, about
from stripewright.words.reference import FILTER, PATTERN, PIECE, YARN

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "generator" / "stripewright"
LOCALES = ("en_GB", "en_US")
KEYWORDS = {
    "_": None,
    "N_": None,
    "n_": (1, 2),
    "NN_": (1, 2),
    "counted": (2, 3),
    "gettext": None,
    "ngettext": (1, 2),
    "say": None,
    "say_n": (1, 2),
    "tr": None,
    "trn": (2, 3),
}


def _bind(found):
    capital = "B" if found[1] == "C" else "b"
    return f"{capital}{ {'s': 'inds', 'ing': 'inding', None: 'ind'}[found[2]] }{found[3]}off"


_AMERICAN = yaml.safe_load(Path(__file__).with_name("american.yaml").read_text(encoding="utf-8"))
PAIRS: dict[str, str] = _AMERICAN["words"]
"""British and American spelling or word; common knowledge, no source."""

_WORD = re.compile(
    r"(?<![A-Za-z_{])(?:un|re)?("
    + "|".join(sorted(PAIRS, key=len, reverse=True))
    + r")(?![a-z]*[_}]|: [\"{\[])(?=s\b|d\b|ed\b|ing\b|less\b|ful\b|\b)",
    re.IGNORECASE,
)
_CAST_OFF = re.compile(r"(?<![A-Za-z_{])([Cc])ast(s|ing)?([ -])off")


def american(text: str) -> str:
    """A British message as it is said in the United States; names in braces stay."""

    def turned(found: re.Match[str]) -> str:
        whole, word = found[0], found[1]
        other = PAIRS[word.lower()]
        return whole.replace(word, other.capitalize() if word[0].isupper() else other)

    inside = re.compile(r"(`[^`]*`|\{\{.*?\}\}|\{%.*?%\}|\{\w+[^{}\s]*\}|%\(\w+\)s)", re.DOTALL)
    parts = inside.split(text)
    for n in range(0, len(parts), 2):
        parts[n] = _CAST_OFF.sub(_bind, _WORD.sub(turned, parts[n]))
    joined = "".join(parts)
    return _QUOTED.sub(lambda m: american(m[1]).join("''") if " " in m[1] else m[0], joined)


MEASURES: dict[str, str] = _AMERICAN["measures"]
"""Examples of what may be written: whoever says gauge measures in inches."""
_MEASURE = re.compile("|".join(map(re.escape, sorted(MEASURES, key=len, reverse=True))) + r"\b")


def drafted(text: str) -> str:
    """A British message as it is first put into the American file."""
    return american(_MEASURE.sub(lambda found: MEASURES[found[0]], text))


_QUOTED = re.compile(r"'([^'{}%]*)'(?=[^{}]*%\})")
"""Words that a condition of a technique's text picks, inside its braces."""

_TR = re.compile(r'\btr\(\s*"((?:[^"\\]|\\.)*)"')
_TRN = re.compile(r'\btrn\(\s*[^,"]+,\s*"((?:[^"\\]|\\.)*)",\s*"((?:[^"\\]|\\.)*)"')


def _typst(text):
    for found in _TR.finditer(text):
        yield found[1].replace('\\"', '"')
    for found in _TRN.finditer(text):
        yield (found[1], found[2])


def _techniques(text):
    for record in yaml.safe_load(text).values():
        for key in ("title", "text", "takes_up", "tail_for"):
            if record.get(key):
                yield record[key]
        yield from record.get("tools", ())


SAID_IN = {
    "error": (1, 2), "warning": (1, 2), "Problem": (2, 3), "Wrong": (0, 1), "Hinted": (0, 1),
    "Finding": (1, 2), "Slip": (2, 3), "TemplateFault": (1, 2), "NotSet": (0,), "NotRead": (0,),
    "TooMuch": (0,), "_TooLarge": (0,), "did_you_mean": (2,), "refuse": (0, 1, 2), "tell": (0, 1, 2),
    "doubt": (0, 1, 2), "fail": (0,), "UsageError": (0,), "check_price": (), "_refuse": (1, 2),
}  # fmt: skip
"""What takes the words of problems, and at which places: texts without fields stand there bare."""


def _of_problems(data):
    """The bare texts of problems: not put together, and so looked up as they stand."""
    for node in ast.walk(ast.parse(data)):
        if not isinstance(node, ast.Call):
            continue
        name = getattr(node.func, "attr", getattr(node.func, "id", ""))
        places = (0,) if name in ("_", "N_") else SAID_IN.get(name, ())  # also inside an f-string
        given = [node.args[at] for at in places if at < len(node.args)]
        given += [one.value for one in node.keywords if one.arg in ("message", "hint", "unread")]
        for one in given:
            yield from _bare(one)


def _of_help(data):
    """What commands say of themselves and their options: each paragraph, and lines above examples."""
    for node in ast.walk(ast.parse(data)):
        if isinstance(node, ast.FunctionDef) and any(
            "click." in ast.unparse(one) for one in node.decorator_list
        ):
            for text in (ast.get_docstring(node) or "").split("\n\n"):
                example = text.startswith("\b\n")
                yield text.splitlines()[1] if example else " ".join(text.split())
        if isinstance(node, ast.Call):
            yield from (one.value.value for one in node.keywords
                        if one.arg == "help" and isinstance(one.value, ast.Constant))  # fmt: skip


def _bare(node):
    if isinstance(node, ast.IfExp):
        yield from _bare(node.body)
        yield from _bare(node.orelse)
    elif isinstance(node, ast.Constant) and isinstance(node.value, str) and " " in node.value:
        yield node.value


def _by_babel(method, data, options=None):
    for _line, message, _comments, _context in extract(
        method, io.BytesIO(data), keywords=KEYWORDS, options=options or {}
    ):
        many = isinstance(message, tuple)
        yield message[0] if many and (len(message) < 2 or not message[1]) else message


def messages():
    """Every message of the program, with the files that it stands in."""
    found: dict[object, list[str]] = {}

    def put(path, said):
        for message in said:
            if message:
                places = found.setdefault(message, [])
                place = path.relative_to(ROOT).as_posix()
                if place not in places:
                    places.append(place)

    for path in sorted(PACKAGE.rglob("*.py")):
        data = path.read_bytes()
        if b"stripewright.catalogue" in data or b"counted(" in data:
            put(path, _by_babel("python", data))
        put(path, _of_problems(data))
        if b"import click" in data:
            put(path, _of_help(data))
    themes = ROOT / "themes"
    options = {
        "trimmed": "true",
        "silent": "false",
        "newstyle_gettext": "true",
        "trim_blocks": "true",
        "lstrip_blocks": "true",
    }
    for path in sorted(
        [
            *themes.rglob("templates/*.html"),
            *themes.rglob("templates/*.xml"),
            *themes.rglob("templates/*.txt"),
            *PACKAGE.glob("preview/**/templates/*.html"),
        ]
    ):
        put(path, _by_babel("jinja2.ext:babel_extract", path.read_bytes(), options))
    for path in sorted([*themes.rglob("*.js"), *PACKAGE.glob("preview/easel/client/*.js")]):
        put(path, _by_babel("javascript", path.read_bytes(), {"parse_template_string": "true"}))
    for path in sorted(themes.rglob("*.typ")):
        put(path, _typst(path.read_text(encoding="utf-8")))
    put(PACKAGE / "compute" / "colour_words.py", COLOUR_WORDS)
    put(
        PACKAGE / "words" / "reference.py",
        (text for one in (PIECE, YARN, PATTERN, FILTER) for text in one.values()),
    )
    for model in dict.fromkeys([*(model for _, model in ROOTS.values()),
                                *(model for _, models in SECTIONS for _, model in models)]):  # fmt: skip
        put(Path(inspect.getsourcefile(model)), [about(model), *field_texts(model).values()])
    path = PACKAGE / "words" / "techniques.yaml"
    put(path, _techniques(path.read_text(encoding="utf-8")))
    return found


def _file(name):
    return PACKAGE / "locale" / name / "LC_MESSAGES" / "stripewright.po"


def _written(name):
    """What a locale's file says now, by the message's first form."""
    path = _file(name)
    if not path.exists():
        return {}
    with path.open("rb") as stream:
        read = read_po(stream, locale=name, ignore_obsolete=True)
    return {one.id if isinstance(one.id, str) else one.id[0]: one.string for one in read if one.id}


def renewed(name):
    """A locale's file as it should be: every message, each with its words."""
    before = _written(name)
    catalog = Catalog(
        locale=name,
        project="Stripewright",
        fuzzy=False,
        charset="utf-8",
        header_comment=f"# Stripewright's words, {name}.",
        version="0",
        msgid_bugs_address="",
        copyright_holder="",
        language_team="",
        last_translator="",
    )
    turn = drafted if name == "en_US" else str
    kept: dict[str, object] = {}
    # Those with a plural first: where one is said alone too, the pair is kept.
    for message, places in sorted(messages().items(), key=lambda one: isinstance(one[0], str)):
        first = message if isinstance(message, str) else message[0]
        if first in kept and isinstance(kept[first], tuple):
            continue
        kept[first] = message
        old = before.get(first) if name != "en_GB" else None
        fresh = turn(message) if isinstance(message, str) else tuple(map(turn, message))
        whole = (
            old
            and old != message
            and (isinstance(old, str) == isinstance(message, str))
            and (bool(old) if isinstance(old, str) else all(old))
        )
        catalog.add(
            message, string=old if whole else fresh, locations=[(place, 0) for place in places]
        )
    out = io.BytesIO()
    write_po(out, catalog, width=100, sort_output=True, omit_header=False, include_lineno=False)
    lines = out.getvalue().decode("utf-8").splitlines()
    kept_lines = [
        line
        for line in lines
        if not line.startswith(('"POT-Creation', '"PO-Revision', '"Generated-By'))
    ]
    return "\n".join(kept_lines) + "\n"


if __name__ == "__main__":
    for name in LOCALES:
        _file(name).parent.mkdir(parents=True, exist_ok=True)
        _file(name).write_text(renewed(name), encoding="utf-8")
