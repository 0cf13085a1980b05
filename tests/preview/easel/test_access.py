"""What the easel's three requests turn away: all but its own page, and all but this studio's files."""

from __future__ import annotations

import copy
import json

import pytest

from support.easels import headers, opened, post
from support.previews import previewing
from support.studios import generate_studio

SECRET = "the-secret-outside"


@pytest.fixture(scope="module", autouse=True)
def outside(preview):
    """Files outside the studio, and links to them from inside."""
    folder = preview.studio.parent / "beyond"
    folder.mkdir()
    text = f"---\ntitle: {SECRET}\nyarns: {{}}\n---\n"
    (folder / "secret.md").write_text(text)
    link = preview.studio / "content/patterns/tied.md"
    link.symlink_to(folder / "secret.md")
    inner = preview.studio / "content/patterns/tied-inside.md"
    inner.symlink_to(preview.studio / "content/posts/none.md")
    yield folder
    assert (folder / "secret.md").read_text() == text
    link.unlink()
    inner.unlink()


def files(preview):
    return {path: path.read_bytes() for path in preview.studio.rglob("*") if path.is_file()}


def wanted(preview, slug):
    state = opened(preview, slug)
    front = copy.deepcopy(state["front"])
    front["title"] = "Altered"
    return {"file": state["file"], "digest": state["digest"], "front": front}


WRONG = [
    {"Origin": None}, {"Origin": "null"}, {"Origin": "http://evil.example"}, {"Origin": "https://127.0.0.1:{port}"},
    {"Origin": "http://127.0.0.1"}, {"Origin": "http://localhost:{port}"}, {"Origin": "http://127.0.0.1:{port}.evil.example"},
    {"X_Easel_Token": None}, {"X_Easel_Token": ""}, {"X_Easel_Token": "a" * 43}, {"Sec_Fetch_Site": "cross-site"},
    {"Sec_Fetch_Site": "same-site"}, {"Sec_Fetch_Site": "none"}, {"Host": "evil.example"}, {"Host": "evil.example:{port}"},
    {"Host": "127.0.0.1:1"}, {"Content_Type": "text/plain"}, {"Content_Type": "application/x-www-form-urlencoded"},
    {"Content_Type": "multipart/form-data; boundary=x"}, {"Content_Type": None}, {"Content_Encoding": "gzip"},
]  # fmt: skip


@pytest.mark.parametrize("address", ["work", "save", "sheet", "palette"])
@pytest.mark.parametrize("other", WRONG, ids=str)
def test_what_another_page_sends_is_turned_away(preview, pattern, address, other):
    before = files(preview)
    filled = {name: value and value.format(port=preview.port) for name, value in other.items()}
    if address in ("sheet", "palette") and filled.get("Content_Type", "") is not None:
        filled = {"Content_Type": "application/octet-stream"} | filled
    status, _ = post(preview, address, wanted(preview, pattern.slug), **filled)
    assert status in (400, 403, 411, 415, 421)
    assert files(preview) == before


@pytest.mark.parametrize("address", ["work", "save"])
@pytest.mark.parametrize("method", ["PUT", "DELETE", "PATCH", "OPTIONS", "GET"])
def test_they_are_posts_alone(preview, address, method):
    assert preview.ask(f"/-/easel/{address}", method, headers(preview))[0] in (404, 405)


@pytest.mark.parametrize("path", ["/", "/-/easel/", "/-/easel/new", "/-/easel/save/", "/-/easel/./save", "/-/state",
                                  "/-/easel/file/x", "/patterns/", "/-/easel/pattern/x"])  # fmt: skip
def test_no_other_address_takes_a_post(preview, path):
    assert preview.ask(path, "POST", headers(preview) | {"Content-Length": "2"}, b"{}")[0] in (
        400,
        404,
        405,
    )


@pytest.mark.parametrize("name", [
    "content/patterns/tied.md", "content/patterns/tied-inside.md", "content/patterns/../patterns/tied.md", "../beyond/secret.md",
    "content/patterns/../../../beyond/secret.md", "content/posts/none.md", "content/studio.yaml", "content/patterns/none.md",
    "content/patterns/.hidden.md", "content/patterns/x.txt", "content/patterns/", "content/patterns", "", "/etc/passwd",
    "content\\patterns\\x.md", "content/patterns/a\\b.md", "content/patterns/a:b.md", "content/patterns/\u0000.md",
    "content/patterns/./x.md", "CONTENT/patterns/x.md", "content/patterns/_x.md", "content/patterns//x.md", "content/patterns/x.md/..",
    "themes/ours/assets/theme.css", "content/patterns/\u202ex.md", "content/patterns/x.md\n",
])  # fmt: skip
@pytest.mark.parametrize("address", ["work", "save"])
def test_no_other_file_can_be_named(preview, pattern, address, name):
    before = files(preview)
    sent = wanted(preview, pattern.slug) | {"file": name}
    status, said = post(preview, address, sent)
    assert status in (404, 409), said
    assert status == 404 or said.get("gone")
    assert SECRET not in json.dumps(said)
    assert files(preview) == before


@pytest.mark.parametrize(
    "name",
    ["tied", "tied-inside", "..%2f..%2fbeyond%2fsecret", "%2e%2e", "none", "a%00b", "%5c..%5cx"],
)
def test_no_other_file_is_shown(preview, name):
    for address in ("pattern", "file"):
        status, body = preview.ask(f"/-/easel/{address}/{name}")
        assert status in (400, 404)
        assert SECRET.encode() not in body


@pytest.mark.parametrize("body", [
    b"", b"[]", b"null", b"{", b'{"front": 1}', b'{"front": []}', b"\xff\xfe", b'{"front": {"a": NaN}}', b'{"front": {"a": 1e999}}',
    b'{"front": {"a": ' + b"9" * 5000 + b"}}", b'{"front": {"a": "\\ud800"}}', b'{"front": ' + b'{"a": ' * 200 + b"1" + b"}" * 201,
    b'{"front": {"a": [' + b"1," * 30000 + b"1]}}", b'{"file": 7, "front": {}}', b'{"start": {"kind": "cushion"}}', b"[" * 100000,
    b'{"front": {"a": 123456789012345678901234567890}}', b'{"file": ["content/patterns/x.md"], "front": {}}',
], ids=lambda body: body[:24])  # fmt: skip
@pytest.mark.parametrize("address", ["work", "save"])
def test_what_is_no_front_matter_is_refused_in_words(preview, address, body):
    before = files(preview)
    status, said = post(preview, address, body)
    assert status == 422
    assert said["why"]
    assert files(preview) == before


def test_a_body_is_bounded(preview):
    assert post(preview, "work", b" " * ((1 << 20) + 1))[0] == 413
    assert post(preview, "work", b"{}", Content_Length="99999999999999999999")[0] in (400, 411)
    assert post(preview, "work", b"{}", Content_Length="-1")[0] in (400, 411)


def test_a_page_can_not_be_framed_or_read_from_elsewhere(preview):
    for site in ("cross-site", "same-site"):
        asked = {"Sec-Fetch-Site": site, "Sec-Fetch-Mode": "cors"}
        assert preview.ask("/-/easel/new", headers=asked)[0] == 403
        assert preview.ask("/-/easel/file/x", headers=asked)[0] == 403
    policy = (
        preview.get("/-/easel/new").split('Content-Security-Policy" content="')[1].split('"')[0]
    )
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy


def test_a_text_in_a_file_never_is_markup(preview, pattern):
    title = "</script><img src=x onerror=alert(1)>\u2028"
    pattern.save(pattern.text.replace("title: Mine", f"title: '{title[:-1]}' # Mine"))
    page = preview.until(f"/-/easel/pattern/{pattern.slug}", "u003c/script")
    assert "<img src=x" not in page


def test_with_look_only_nothing_is_saved(tmp_path):
    studio = generate_studio(tmp_path, 1)
    with previewing(studio, "--look-only") as preview:
        slug = next((studio / "content/patterns").glob("*.md")).stem
        before = files(preview)
        sent = wanted(preview, slug)
        status, said = post(preview, "save", sent)
        assert (status, "look-only" in said["why"]) == (403, True)
        assert post(preview, "save", sent | {"file": None})[0] == 403
        assert post(preview, "work", sent)[0] == 200
        assert files(preview) == before
