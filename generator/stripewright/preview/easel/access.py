"""Who may send the easel's requests: its own page, and nobody else.

A page elsewhere can send a form or a plain text to this machine without being asked; it can't read
the token out of the easel's page, nor say that it comes from here.
"""

from __future__ import annotations

import secrets
from typing import TYPE_CHECKING

from stripewright.catalogue import _
from stripewright.preview.hosts import header_values

if TYPE_CHECKING:
    from starlette.types import Scope

WORK, SAVE, SHEET = "/-/easel/work", "/-/easel/save", "/-/easel/sheet"
PALETTE = "/-/easel/palette"
PICTURES = (SHEET, PALETTE)
"""What carries a picture's bytes."""
TOKEN_HEADER = "x-easel-token"  # noqa: S105  # the header's name
JSON_BYTES = 1 << 20
PICTURE_BYTES = 25 << 20
MOST_SENT = {WORK: JSON_BYTES, SAVE: JSON_BYTES, SHEET: PICTURE_BYTES, PALETTE: PICTURE_BYTES}
"""What each request may carry."""


class EaselAccess:
    """Turns away what does not come from the easel's own page."""

    def __init__(self, *, look_only: bool = False) -> None:
        self.token = secrets.token_urlsafe(32)
        self.look_only = look_only

    def takes(self, path: str) -> bool:
        """Whether an address is one of them."""
        return path in MOST_SENT

    def refusal(self, scope: Scope) -> tuple[int, str] | None:
        """Status and words for a request that is turned away; None for one that may pass.

        Args:
            scope: the request; its host has been looked at already.
        """
        path = scope["path"]
        host = _one(scope, b"host")
        if _one(scope, b"origin") != b"http://" + host.lower():
            return 403, _("Only the easel’s own page may ask for this.")
        if header_values(scope, b"sec-fetch-site") not in ([], [b"same-origin"]):
            return 403, _("Only the easel’s own page may ask for this.")
        token = _one(scope, TOKEN_HEADER.encode())
        if not secrets.compare_digest(token, self.token.encode()):
            return 403, _("This page is of an earlier preview: load it again.")
        if path == SAVE and self.look_only:
            return 403, _("This preview only looks: it was started with --look-only.")
        kind = _one(scope, b"content-type").split(b";")[0].strip().lower()
        if path not in PICTURES and kind != b"application/json":
            return 415, _("This takes JSON.")
        if path in PICTURES and kind != b"application/octet-stream":
            return 415, _("This takes a picture’s bytes.")
        if header_values(scope, b"content-encoding"):
            return 415, _("This takes nothing packed.")
        length = _one(scope, b"content-length")
        if not length.isdigit() or len(length) > 12:  # longer than any file
            return 411, _("Say how long it is.")
        if int(length) > MOST_SENT[path]:
            return 413, _("This is too large.")
        return None


def _one(scope: Scope, wanted: bytes) -> bytes:
    """The one header of a name; b"" for none or several."""
    found = header_values(scope, wanted)
    return bytes(found[0]) if len(found) == 1 else b""
