"""A picture of a coloured planning sheet -> the front matter that a new pattern begins with."""

from __future__ import annotations

import threading
from typing import Any

from stripewright.catalogue import N_, _, tell
from stripewright.phrases import capital
from stripewright.preview.easel.asked import Unfit
from stripewright.source.reader import read_document

TITLE = N_("From a coloured sheet")
_one_at_a_time = threading.Lock()


def read_sheet(data: bytes) -> tuple[dict[str, Any], int]:
    """Read a picture's bytes; nothing is kept of them.

    Returns:
        The front matter and what is doubtful, as plain values, and the status 200.

    Raises:
        Unfit: it shows no sheet, or the extra that reads pictures is not installed.
    """
    from stripewright.camera import NO_EXTRA, missing

    if missing():
        raise Unfit(_("This preview reads no pictures: {why}.", why=tell(NO_EXTRA)))
    from stripewright.camera.draft import draft_of
    from stripewright.camera.read import read_pictures

    with _one_at_a_time:
        reading, problems = read_pictures([("the picture", data)])
    doubts = [{"row": doubt.row, "message": reading.said(doubt)} for doubt in reading.doubts]
    if not reading.pieces:
        why = ". ".join(f"{tell(one.message)}: {tell(one.hint)}" for one in problems)
        none = _("No coloured sheet is to be seen.")
        raise Unfit(f"{capital(why)}." if why else none)
    document, _found = read_document(draft_of(reading, _(TITLE)).encode(), "new.md")
    return {"front": dict(document.front), "doubts": doubts}, 200
