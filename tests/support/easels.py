"""What tests of the easel's requests share."""

from __future__ import annotations

import json
import re


def token(preview) -> str:
    """The token that the easel's page has."""
    return re.search(r'name="easel-token" content="([^"]+)"', preview.get("/-/easel/new"))[1]


def headers(preview, **others) -> dict[str, str]:
    """What the easel's own page sends; None leaves one out."""
    own = {
        "Host": f"127.0.0.1:{preview.port}",
        "Origin": f"http://127.0.0.1:{preview.port}",
        "Sec-Fetch-Site": "same-origin",
        "Content-Type": "application/json",
        "X-Easel-Token": token(preview),
    }
    own |= {name.replace("_", "-"): value for name, value in others.items()}
    return {name: value for name, value in own.items() if value is not None}


def post(preview, address, value, **others):
    """Status and answer of a request like the page's own."""
    body = value if isinstance(value, bytes) else json.dumps(value).encode()
    sent = {"Content-Length": str(len(body))} | headers(preview, **others)
    status, said = preview.ask(f"/-/easel/{address}", "POST", sent, body)
    try:
        return status, json.loads(said)
    except ValueError:
        return status, {"why": said.decode()}


def opened(preview, slug):
    """A pattern's front matter and fingerprint, as the page gets them."""
    return json.loads(preview.get(f"/-/easel/file/{slug}"))
