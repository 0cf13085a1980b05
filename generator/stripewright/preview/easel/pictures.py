"""Pictures on the easel: of a coloured sheet -> a new pattern's front matter; any -> its yarns."""

from __future__ import annotations

import tempfile
import threading
from pathlib import Path
from typing import Any

from stripewright.catalogue import N_, _, tell
from stripewright.phrases import capital
from stripewright.pipeline.palette import as_json, palette_of
from stripewright.preview.easel.asked import Unfit, in_a_sentence
from stripewright.problems import Refused
from stripewright.source.reader import read_document

TITLE = N_("From a coloured sheet")
_MOST_YARNS = 5
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


def read_palette(data: bytes) -> tuple[dict[str, Any], int]:
    """The colours of a picture's bytes that matter; nothing is kept of them.

    Returns:
        The yarns as plain values, and the status 200.

    Raises:
        Unfit: it is no picture that can be read.
    """
    with tempfile.TemporaryDirectory(prefix="stripewright-") as folder:
        path = Path(folder, "The picture")
        path.write_bytes(data)
        try:
            found = palette_of(path, _MOST_YARNS, "The picture")
        except Refused as refused:
            [problem, *_] = refused.problems
            raise Unfit(in_a_sentence(problem)) from None
    return {"yarns": as_json(found)}, 200
