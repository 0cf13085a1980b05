"""What problems say is looked up where somebody reads it, and all of it is in the catalogue."""

from __future__ import annotations

import ast
import copy
import pickle
import re
import string

import pytest

from stripewright.catalogue import SOURCE, Locale, say, say_n, speaking, tell
from stripewright.pattern.reference import all_keys
from stripewright.pipeline.explain import words
from stripewright.problems import Place, Refused, error, warning
from stripewright.source.reader import read_document
from support.catalogue import PACKAGE, SAID_IN, messages
from support.patterns import try_work
from support.problem_cases import CASES, read_case, split_case
from support.pseudo import in_pseudo, outside

GERMAN = Locale("de", {
    "no yarn is called {yarn}": ("{yarn} heißt kein Garn",),
    "{number} row of {yarn}": ("{number} Reihe aus {yarn}", "{number} Reihen aus {yarn}"),
    "size {size}: {message}": ("Größe {size}: {message}",),
    "take it out": ("nimm es heraus",),
})  # fmt: skip


def test_a_message_is_british_until_it_is_told():
    said = say("no yarn is called {yarn}", "deep")
    assert said == "no yarn is called deep"
    assert isinstance(said, str)
    assert tell(said) == "no yarn is called deep"
    with speaking(GERMAN):
        assert said == "no yarn is called deep"
        assert tell(said) == "deep heißt kein Garn"
        assert tell("take it out") == "nimm es heraus"
        assert tell("never written") == "never written"


def test_a_message_inside_another_is_told_in_the_same_words():
    said = say("size {size}: {message}", "child", say("no yarn is called {yarn}", "deep"))
    with speaking(GERMAN):
        assert tell(said) == "Größe child: deep heißt kein Garn"


def test_a_field_is_never_taken_for_a_message():
    with speaking(GERMAN):
        assert tell(say("no yarn is called {yarn}", "take it out")) == "take it out heißt kein Garn"


@pytest.mark.parametrize(("number", "british", "german"), [
    (1, "1 row of deep", "1 Reihe aus deep"), (3, "3 rows of deep", "3 Reihen aus deep"),
])  # fmt: skip
def test_a_count_takes_its_form(number, british, german):
    said = say_n("{number} row of {yarn}", "{number} rows of {yarn}", number, "deep")
    assert said == british
    with speaking(GERMAN):
        assert tell(said) == german


def test_fields_that_do_not_fit_are_a_bug():
    with pytest.raises(ValueError, match="zip"):
        say("no yarn is called {yarn}", "deep", "foam")


@pytest.mark.parametrize("carried", [lambda it: pickle.loads(pickle.dumps(it)), copy.deepcopy])
def test_a_message_lasts_in_caches_and_between_processes(carried):
    problem = carried(
        error(Place("a.md", 3), say("no yarn is called {yarn}", "deep"), "take it out")
    )
    assert str(problem) == "a.md:3: error: no yarn is called deep\n    take it out"
    with speaking(GERMAN):
        assert str(problem) == "a.md:3: error: deep heißt kein Garn\n    nimm es heraus"
        assert str(Refused([problem])).endswith("nimm es heraus")
        assert problem.as_json()["hint"] == "nimm es heraus"


def test_problems_that_are_the_same_are_told_once():
    one, other = (warning(Place("a.md"), say("no yarn is called {yarn}", "deep")) for _ in "12")
    assert len({one, other}) == 1


def test_american_problems_keep_the_names_of_keys():
    with speaking("en_US"):
        assert tell("this yarn has no colour") == "this yarn has no color"
        assert tell('add colour: "#1f3d5c"') == 'add colour: "#1f3d5c"'


def calls(*names):
    for path in sorted(PACKAGE.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call):
                name = getattr(node.func, "attr", getattr(node.func, "id", ""))
                if not names or name in names:
                    yield name, node, f"{path.name}:{node.lineno}"


def fields(text):
    return dict.fromkeys(name for _, name, _, _ in string.Formatter().parse(text) if name)


def test_every_message_is_given_all_its_fields():
    wrong, looked_at = [], 0
    for name, call, where in calls("say", "say_n"):
        texts = [one.value for one in call.args if isinstance(one, ast.Constant)]
        given = len(call.args) - (1 if name == "say" else 3)
        if not texts or call.keywords or (name == "say" and not given):
            continue
        looked_at += 1
        wanted = {*fields(texts[0])} if name == "say" else {*fields(texts[1])} - {"number"}
        if len(wanted) != given:
            wrong.append((where, texts[0]))
    assert not wrong
    assert looked_at > 300


def test_no_problem_is_put_together_outside_the_catalogue():
    """An f-string can't be looked up: what it says in words is a message of `say`."""
    found = []
    for name, call, where in calls(*SAID_IN):
        for at in SAID_IN[name]:
            one = call.args[at] if at < len(call.args) else None
            if isinstance(one, ast.JoinedStr):
                text = "".join(part.value for part in one.values if isinstance(part, ast.Constant))
                if re.search(r"[A-Za-z]{3,}", text):
                    found.append((where, ast.unparse(one)))
    assert found == []


def test_all_that_is_said_is_collected():
    known = {one if isinstance(one, str) else one[0] for one in messages()}
    missing = [(where, call.args[0].value) for name, call, where in calls("say", "say_n", "N_", "_", "n_")
               if call.args and isinstance(call.args[0], ast.Constant)
               and isinstance(call.args[0].value, str) and call.args[0].value not in known]  # fmt: skip
    assert missing == []


REFUSED = sorted((PACKAGE.parents[1] / "tests/compute/cases/refused").glob("*.md"))


@pytest.fixture(scope="module")
def vocabulary():
    """Names and examples of keys, which are the same in every language."""
    told = " ".join(f"{path} {key.example}" for path, _, key in all_keys(words()))
    return set(re.findall(r"[^\W\d_]{3,}", told.lower()))


@pytest.mark.parametrize("path", [*CASES, *REFUSED], ids=lambda path: path.stem)
def test_every_problem_of_every_case_is_in_the_catalogue(path, vocabulary):
    text = path.read_text(encoding="utf-8")
    with in_pseudo(), speaking(SOURCE):
        if path in CASES:
            text, _ = split_case(text)
            problems = read_case(path, text)[2]
        else:
            problems = try_work(text)[1]
        told = [(tell(one.message), tell(one.hint)) for one in problems]
    written = re.sub(r"#! .*", "", text)  # without what is expected there
    known = vocabulary | set(re.findall(r"[^\W\d_]+", written.lower())) | {path.stem}
    for one in told:
        left = {word for word in re.findall(r"[^\W\d_]{3,}", outside(" ".join(one)).lower())
                if word not in known}  # fmt: skip
        assert not left, one


def test_the_easel_can_not_open_what_is_broken_in_other_words():
    _, [problem, *_more] = read_document(b"---\ntitle: [\n", "a.md")
    with in_pseudo(), speaking(SOURCE):
        assert "⟦" in str(problem)
