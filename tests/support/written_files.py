"""Pattern files in every style that YAML has, and changes of what they say.

The writer here knows which lines each value stands on, so that a test can tell what a change may
touch. It is no part of what is tested: it only makes files.
"""

from __future__ import annotations

import copy
import difflib
import json
from dataclasses import dataclass, field
from pathlib import Path

from stripewright.compute.rows import build_stripes
from stripewright.pattern.pieces import Piece
from stripewright.preview import easel
from stripewright.preview.easel.edits import spelt
from stripewright.preview.easel.rewrite import restored, rewritten, same
from stripewright.source.reader import read_document
from stripewright.studio import shipped_themes

NAME = "content/patterns/mine.md"
EASEL_SCRIPTS = ("model", "gestures", "several")

KEYS = ("ink", "shell", "teal", "lamp", "rust")
TEXTS = ("Night water", "A: b", "it's", 'say "so"', "#1f3d5c", "yes", "012", "1.10", "- dash", "", "é ü", "a, b", "x # y",
         "true", "[a]", "2026-09-05", "Ottilie & Co", "*star", "100 %", "5 ", "\U0001f9f6 yarn")  # fmt: skip


@dataclass
class File:
    """A file, what its front matter says, and the lines of each value (0-based, both included)."""

    data: bytes
    front: dict
    lines: dict = field(default_factory=dict)


def run(rng) -> str:
    """One stripe."""
    return f"{rng.choice(KEYS)} {rng.randint(1, 40)}"


def item(rng):
    """A stripe, or one of the ways to build several."""
    several = [run(rng) for _ in range(rng.randint(1, 4))]
    return rng.choice(
        [run(rng)] * 6
        + [
            {"repeat": rng.randint(1, 9), "stripes": several},
            {"mirror": several, "middle": "twice"},
            {"mirror": several},
            {"graded": list(KEYS[:2]), "first": 12, "by": -2, "stripes": rng.randint(1, 5)},
        ]
    )


def stripes(rng) -> list:
    """The stripes of a piece."""
    return [item(rng) for _ in range(rng.randint(1, 12))]


def scalar(rng):
    """Any single value."""
    return rng.choice([*TEXTS, rng.randint(-9, 999), True, False, 1.5, 4.25])


def _some(rng, always: dict, perhaps: dict) -> dict:
    made = always | {key: value for key, value in perhaps.items() if rng.random() < 0.5}
    keys = list(made)
    rng.shuffle(keys)
    return {key: made[key] for key in keys}


def yarn(rng) -> dict:
    """A yarn."""
    colour = rng.choice(["#1f3d5c", "#dfe9e4", "#c2913f"])
    return _some(rng, {"name": rng.choice(TEXTS), "colour": colour},
                 {"weight": rng.randint(0, 7), "ball": "100 g / 120 m", "price": scalar(rng)})  # fmt: skip


def piece(rng) -> dict:
    """A piece."""
    return _some(rng, {"form": rng.choice(["tube", "panel"])}, {
        "stripes": stripes(rng), "ends": ["seamed", {"edge": "open", "rows": 2}],
        "title": rng.choice(TEXTS), "openings": [{"what": "thumb", "after": 4, "rows": 3}],
    })  # fmt: skip


def front_matter(rng) -> dict:
    """All of a pattern's front matter; what it says makes no sense, only shape."""
    yarns = rng.sample(KEYS, rng.randint(1, 4))
    pieces = rng.sample(["cover", "lining", "strap"], rng.randint(1, 2))
    return _some(rng, {
        "title": scalar(rng),
        "yarns": {key: yarn(rng) for key in yarns},
        "pieces": {key: piece(rng) for key in pieces},
    }, {
        "summary": scalar(rng), "price": scalar(rng),
        "tags": [scalar(rng) for _ in range(rng.randint(1, 4))],
        "swatch": {"stitches": 40, "rows": 60, "width": "30 cm"},
        "fill": rng.choice(["light", {"firmness": "firm"}]),
    })  # fmt: skip


class _Emitter:
    def __init__(self, rng) -> None:
        self.rng = rng
        self.lines: list[str] = []
        self.where: dict = {}
        self.comments = 0

    def maybe(self, times: int = 4) -> bool:
        return self.rng.randint(1, times) == 1

    def comment(self) -> str:
        self.comments += 1
        return f"# note {self.comments}: keep"

    def end(self) -> str:
        return f"  {self.comment()}" if self.maybe() else " " * self.rng.randint(0, 1)

    def scalar(self, value) -> str:
        if isinstance(value, str):
            style = self.rng.choice(["", "", "'", '"'])
            return json.dumps(value, ensure_ascii=False) if style == '"' else spelt(value, style)
        return spelt(value)

    def mark(self, path, first: int) -> None:
        self.where[path] = (first, len(self.lines) - 1)

    def flow(self, value, path, indent: int) -> list[str]:
        """Lines of a value in brackets; those after the first are indented already."""
        inner = list(value.items()) if isinstance(value, dict) else list(enumerate(value))
        wrapped = len(inner) > 1 and self.maybe(5)
        marks = "{}" if isinstance(value, dict) else "[]"
        out = [marks[0] + " " * (self.maybe() and not wrapped)]
        for number, (key, one) in enumerate(inner):
            head = f"{self.scalar(key)}: " if isinstance(value, dict) else ""
            if wrapped:
                out.append(" " * (indent + 4))
            parts = [self.scalar(one)] if not isinstance(one, dict | list) else self.flow(
                one, (*path, key), indent + 4)  # fmt: skip
            out[-1] += head + parts[0]
            out += parts[1:]
            last = number == len(inner) - 1
            if not last or self.maybe():
                out[-1] += "," if wrapped or last else ", "
            if wrapped and self.maybe():
                out[-1] += f"  {self.comment()}"
        if wrapped:
            out.append(" " * (indent + 2))
        out[-1] += marks[1]
        return out

    def value(self, head: str, value, path, indent: int) -> None:
        """Lines of `head` (a key, or a dash) and its value."""
        while self.maybe(8):
            self.lines.append(self.rng.choice(["", " " * indent + self.comment()]))
        first = len(self.lines)
        if isinstance(value, dict | list) and value and self.maybe(2):
            dash = head.endswith("-")
            if not (dash and self.maybe(2)):
                self.lines.append(head + self.end())
                self.block(value, path, indent + 2)
            else:
                self.compact(head, value, path, indent)
        elif isinstance(value, dict | list):
            parts = self.flow(value, path, indent)
            self.lines += [f"{head} {parts[0]}", *parts[1:]]
            self.lines[-1] += self.end()
        else:
            self.lines.append(f"{head} {self.scalar(value)}{self.end()}")
        self.mark(path, first)

    def compact(self, head: str, value, path, indent: int) -> None:
        at = len(self.lines)
        self.block(value, path, indent + 2, quiet=True)
        self.lines[at] = head + " " + self.lines[at].lstrip(" ")

    def block(self, value, path, indent: int, *, quiet: bool = False) -> None:
        inner = list(value.items()) if isinstance(value, dict) else list(enumerate(value))
        for number, (key, one) in enumerate(inner):
            head = f"{self.scalar(key)}:" if isinstance(value, dict) else "-"
            if quiet and number == 0:
                self.lines.append(f"{' ' * indent}{head} {self.plain(one)}")
                self.mark((*path, key), len(self.lines) - 1)
            else:
                self.value(" " * indent + head, one, (*path, key), indent)

    def plain(self, value) -> str:
        return spelt(value) if isinstance(value, dict | list) else self.scalar(value)


def a_file(rng, *, knitted: bool = False) -> File:
    """A file in styles drawn at random; `knitted` gives stripes to every piece."""
    front = front_matter(rng)
    if knitted:
        for of in front["pieces"].values():
            of["stripes"] = stripes(rng)
    emitter = _Emitter(rng)
    emitter.lines.append("---")
    emitter.block(front, (), 0)
    if emitter.maybe():
        emitter.lines += ["", emitter.comment()]
    emitter.lines += [
        "---",
        *rng.choice([[], ["# note in the text"], ["Text.", "", "## More", "a: b"]]),
    ]
    newline = rng.choice(["\n", "\r\n", "\n", "\r"])
    text = newline.join(emitter.lines) + (newline if rng.random() < 0.5 else "")
    bom = b"\xef\xbb\xbf" if rng.random() < 0.5 else b""
    return File(bom + text.encode(), front, emitter.where)


def a_change(rng, front: dict) -> dict:
    """The same front matter with one to four things said otherwise."""
    new = copy.deepcopy(front)
    for _ in range(rng.randint(1, 4)):
        rng.choice([_scalar, _stripes, _stripes, _stripes, _yarn, _order, _key, _gone])(rng, new)
    return new


def _scalar(rng, new) -> None:
    new[rng.choice(["title", "summary", "price"])] = scalar(rng)


def _piece(rng, new) -> dict:
    return new["pieces"][rng.choice(sorted(new["pieces"]))]


def _stripes(rng, new) -> None:
    of = _piece(rng, new)
    listed = of.setdefault("stripes", [run(rng)])
    at = rng.randrange(len(listed))
    what = rng.choice(["set", "add", "cut", "swap", "wrap", "inside", "many"])
    if what == "set":
        listed[at] = item(rng)
    elif what == "add":
        listed.insert(at + rng.randint(0, 1), item(rng))
    elif what == "cut" and len(listed) > 1:
        del listed[at]
    elif what == "swap":
        listed.reverse()
    elif what == "wrap":
        of["stripes"] = [{"mirror": listed}]
    elif what == "inside" and isinstance(listed[at], dict):
        next(v for v in listed[at].values() if isinstance(v, list)).append(run(rng))
    elif what == "many":
        of["stripes"] = stripes(rng)


def _yarn(rng, new) -> None:
    new["yarns"][rng.choice(KEYS)] = yarn(rng) | {"colour": "#101010"}


def _order(rng, new) -> None:
    keys = sorted(new["yarns"])
    rng.shuffle(keys)
    new["yarns"] = {key: new["yarns"][key] for key in keys}


def _key(rng, new) -> None:
    _piece(rng, new)[rng.choice(["rows", "title", "least"])] = scalar(rng)


def _gone(rng, new) -> None:
    inside = rng.choice([new, _piece(rng, new)])
    spare = sorted(set(inside) - {"title", "yarns", "pieces", "form", "stripes"})
    if spare:
        del inside[rng.choice(spare)]


def touched(old, new, path=()) -> set:
    """The paths that may differ: of lists, all between the first and the last that does."""
    if old == new and json.dumps(old) == json.dumps(new):
        return set()
    if isinstance(old, dict) and isinstance(new, dict):
        paths = {(*path, key) for key in old if key not in new}
        if new.keys() - old.keys() and old:  # in brackets, an entry more stands on the last line
            paths.add((*path, list(old)[-1]))
        if path in {("yarns",), ("pieces",)} and list(old) != [k for k in new if k in old]:
            paths.add(path)
        for key in old.keys() & new.keys():
            paths |= touched(old[key], new[key], (*path, key))
        return paths
    if isinstance(old, list) and isinstance(new, list) and new:
        head = 0
        while head < min(len(old), len(new)) and old[head] == new[head]:
            head += 1
        tail = 0
        while tail < min(len(old), len(new)) - head and old[-1 - tail] == new[-1 - tail]:
            tail += 1
        if len(old) == len(new):
            return set().union(*(touched(old[n], new[n], (*path, n)) for n in range(len(old)))) | {
                (*path, n) for n in range(head, len(old) - tail)
            }  # fmt: skip
        return {(*path, n) for n in range(head, len(old) - tail)} | {
            (*path, max(head - 1, 0)),
            (*path, min(head, len(old) - 1)),
        }
    return {path}


def front_of(data):
    document, problems = read_document(data, NAME)
    assert not problems
    return document.front


def holds(file, wanted):
    """Write a change into a file and look at every line of it."""
    assert same(front_of(file.data), restored(front_of(file.data), file.front))
    made = rewritten(file.data, NAME, wanted)
    assert same(front_of(made), restored(front_of(file.data), wanted))
    assert read_document(made, NAME)[0].body == read_document(file.data, NAME)[0].body
    old, new = lines_of(file.data), lines_of(made)
    may: dict = {}
    for path in touched(file.front, wanted):
        near = path
        while near not in file.lines and near:
            near = near[:-1]
        # what stands between entries of one list may seem to move when entries around it go
        around = path[:-1] if isinstance(path[-1], int) else path
        may.setdefault(around, []).extend(file.lines.get(near, (0, len(old) - 1)))
    may = {line for ends in may.values() for line in range(min(ends), max(ends) + 1)}
    for tag, i, i_end, *_ in difflib.SequenceMatcher(None, old, new, autojunk=False).get_opcodes():
        if tag in ("replace", "delete"):
            assert set(range(i, i_end)) <= may, (i, i_end, made.decode())
    return made


def lines_of(data):
    return data.replace(b"\r\n", b"\n\0").replace(b"\r", b"\n\1").split(b"\n")


def a_gesture_file(rng):
    """A file whose pieces all have stripes that can be knitted, and its front matter."""
    file = a_file(rng, knitted=True)
    return file, file.front


GESTURES = """([front, key, made, picks]) => {
  const {gestures, expand} = Easel;
  const [a, b, c, d] = picks;
  const count = expand(front.pieces[key].stripes, made).length;
  const rows = Math.max(1, expand(front.pieces[key].stripes, made).reduce((sum, part) => sum + part.count, 0));
  const [from, to] = [Math.min(a % count, b % count), Math.max(a % count, b % count)];
  const yarns = ['ink', 'shell', 'teal', 'lamp', 'rust'];
  const yarn = yarns[c % 5];
  const [low, high] = [Math.min(a % rows, b % rows), Math.max(a % rows, b % rows) + 1];
  const lock = d % 2 === 1;
  const all = [
    ['paint', low, high, yarn], ['paint', low, low + 1, yarn], ['edge', from, (d % 5) - 2], ['size', from, 1 + (b % 30), lock],
    ['recolour', from, yarn], ['split', from, yarn], ['remove', from, to, lock], ['duplicate', from, to, false],
    ['repeat', from, to, false, 2 + (d % 3)], ['mirror', from, to, false], ['move', from, to, lock ? 1 : -1], ['reverse', from, to],
    ['swap', from, to, yarn, yarns[d % 5]], ['shuffle', from, to, String(d)], ['evenly', from, to], ['writeOut'], ['everywhere'],
    ['yarnName'], ['yarnOrder'],
  ];
  const [name, ...more] = all[(a + b + c + d) % all.length];
  try {
    if (name === 'writeOut') {
      const shown = expand(front.pieces[key].stripes, made).map((part) => ({...part, rows: part.count}));
      return gestures.writeOut(front, key, shown, shown[from].at[0]);
    }
    if (name === 'everywhere') return gestures.everywhere(front, yarn, yarns[d % 5]);
    if (name === 'yarnName') return Easel.put(front, ['yarns', Object.keys(front.yarns)[0], 'name'], `Named ${d}: again`);
    if (name === 'yarnOrder') {
      const keys = Object.keys(front.yarns).reverse();
      return {...front, yarns: Object.fromEntries(keys.map((of) => [of, front.yarns[of]]))};
    }
    return gestures[name](front, key, made, ...more);
  } catch (fault) {
    if (fault instanceof gestures.WriteOut || fault instanceof gestures.Cannot) return front;
    throw fault;
  }
}"""


def made_of(items):
    """What series come to, as the page has learnt it from an answer."""
    piece = Piece(form="tube", stripes=items)
    made = {}
    for part in build_stripes(piece.stripes):
        item = items
        for step in part.at:
            item = item[step]
        if isinstance(item, dict) and "yarn" not in item:
            known = made.setdefault(json.dumps(item, separators=(",", ":")), {})
            known[part.slot] = [part.yarn, part.count]
    return {key: [known[slot] for slot in sorted(known)] for key, known in made.items()}


def load_gestures(page):
    """What the easel's scripts know of stripes, in an empty page; `keep.js` has their words."""
    client = Path(easel.__file__).parent / "client"
    shared = shipped_themes() / "shared" / "assets"
    for script in (shared / "keep.js", *(client / f"{name}.js" for name in EASEL_SCRIPTS)):
        page.add_script_tag(content=script.read_text("utf-8"))


def gestures_at_random(page, rng):
    """A file, and its front matter after one to four gestures by the page's own scripts."""
    file, front = a_gesture_file(rng)
    now = json.loads(json.dumps(restored(front_of(file.data), front)))
    for _ in range(rng.randint(1, 4)):
        key = rng.choice(sorted(now["pieces"]))
        made = made_of(now["pieces"][key]["stripes"])
        now = page.evaluate(GESTURES, [now, key, made, [rng.randrange(1000) for _ in range(4)]])
    return file, now
