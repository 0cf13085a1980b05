"""What the preview turns away. Requests go out with their path as it is written here."""

from __future__ import annotations

import socket

import pytest

SECRET = "the-secret-outside"


@pytest.fixture(scope="module", autouse=True)
def outside(preview):
    """A file outside the studio, and links to it from inside."""
    folder = preview.studio.parent / "outside"
    folder.mkdir()
    (folder / "secret.md").write_text(f"---\ntitle: {SECRET}\n---\n")
    (folder / "secret.css").write_text(f"/* {SECRET} */")
    (preview.studio / "content/patterns/linked.md").symlink_to(folder / "secret.md")
    (preview.studio / "content/photos/linked.jpg").symlink_to(folder / "secret.md")
    (preview.studio / "themes/ours/assets/linked.css").symlink_to(folder / "secret.css")
    (preview.studio / "content/posts/folder").symlink_to(folder)
    yield folder
    (preview.studio / "content/patterns/linked.md").unlink()


@pytest.mark.parametrize(
    "method", ["POST", "PUT", "DELETE", "PATCH", "OPTIONS", "CONNECT", "TRACE", "BREW"]
)
def test_only_reading(preview, method):
    status, _ = preview.ask("/", method)
    assert status in (405, 400)


def test_head_gives_no_body(preview):
    assert preview.ask("/", "HEAD") == (200, b"")


@pytest.mark.parametrize(
    "host",
    ["evil.example", "evil.example:{port}", "127.0.0.1", "127.0.0.1:1", "localhost.evil.example:{port}", "",
     "127.0.0.1:{port}.evil.example", "[::1]:{port}", "0.0.0.0:{port}", "127.1:{port}", "user@127.0.0.1:{port}"],
)  # fmt: skip
@pytest.mark.parametrize("path", ["/", "/-/problems", "/-/events", "/-/preview.js"])
def test_another_name_is_not_answered(preview, host, path):
    status, body = preview.ask(path, headers={"Host": host.format(port=preview.port)})
    assert status in (421, 400)
    assert b"shelf" not in body.lower()


@pytest.mark.parametrize("host", ["127.0.0.1:{port}", "localhost:{port}", "LOCALHOST:{port}"])
def test_its_own_names_are(preview, host):
    assert preview.ask("/", headers={"Host": host.format(port=preview.port)})[0] == 200


@pytest.mark.parametrize(
    "lines",
    [
        "",
        "Host: evil.example\r\nHost: 127.0.0.1:{port}\r\n",
        "Host: 127.0.0.1:{port}\r\nHost: evil.example\r\n",
    ],
)
@pytest.mark.parametrize("version", ["1.0", "1.1"])
def test_no_host_and_two_hosts_are_not_answered(preview, lines, version):
    with socket.create_connection(("127.0.0.1", preview.port), 10) as raw:
        raw.sendall(
            f"GET / HTTP/{version}\r\n{lines.format(port=preview.port)}Connection: close\r\n\r\n".encode()
        )
        answer = b""
        while part := raw.recv(65536):
            answer += part
    assert answer.split()[1] in (b"400", b"421")


@pytest.mark.parametrize(
    "path",
    ["/../outside/secret.md", "/..%2foutside%2fsecret.md", "/%2e%2e/outside/secret.md", "/%2e%2e%2foutside/secret.md",
     "/assets/../../outside/secret.css", "/assets/..%2f..%2f..%2foutside%2fsecret.css", "/..%5coutside%5csecret.md",
     "/assets/%252e%252e/secret.css", "//etc/passwd", "/%2fetc/passwd", "/etc/passwd", "/photos/../../outside/secret.md",
     "/photos/linked.jpg", "/patterns/linked/", "/patterns/linked/index.html", "/assets/linked.css",
     "/photos/%2e%2e%2fstudio.yaml", "/content/studio.yaml", "/studio.yaml", "/posts/folder/secret.md",
     "/patterns/..%00/", "/%00", "/file:///etc/passwd", "/-/../content/studio.yaml", "/-/beside.html", "/-/app.py",
     "/-/no-worker.js", "/patterns/%c0%ae%c0%ae/secret.md"],
)  # fmt: skip
def test_no_path_leaves_the_studio(preview, path):
    status, body = preview.ask(path)
    assert status in (404, 400)
    assert SECRET.encode() not in body
    assert b"root:" not in body
    assert b"maker: Ottilie" not in body


def test_a_link_that_leaves_the_studio_is_named(preview):
    page = preview.until("/-/problems", "content/patterns/linked.md")
    assert "a link that leads out of the studio" in page
    assert SECRET not in page


def test_an_absolute_target_is_not_fetched(preview):
    assert preview.ask("http://evil.example/", headers={"Host": "evil.example"})[0] in (400, 421)


@pytest.mark.parametrize("site", ["cross-site", "same-site"])
def test_a_page_elsewhere_cant_embed_it(preview, site):
    headers = {"Sec-Fetch-Site": site, "Sec-Fetch-Mode": "no-cors"}
    assert preview.ask("/-/preview.js", headers=headers)[0] == 403
    assert (
        preview.ask("/", headers={"Sec-Fetch-Site": site, "Sec-Fetch-Mode": "navigate"})[0] == 200
    )


def test_it_listens_on_the_loopback_address_alone(preview):
    with socket.socket() as other:
        other.settimeout(2)
        assert other.connect_ex(("127.0.0.2", preview.port)) != 0
