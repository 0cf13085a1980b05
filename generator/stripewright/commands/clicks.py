"""What click says itself, in help and in complaints: looked up in the program's own catalogue."""

from __future__ import annotations

import gettext
import sys
from contextlib import contextmanager
from typing import TYPE_CHECKING

from stripewright.catalogue import N_, NN_, plain, plural

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

SAID = (
    N_("Options"), N_("Commands"), N_("Show this message and exit."),
    N_("Show the version and exit."),
    N_("default: {default}"), N_("required"), N_("Usage:"), N_("Error: {message}"), N_("Aborted!"),
    N_("Try '{command} {option}' for help."), N_("Missing command."), N_("Missing argument"),
    N_("Missing option"), N_("Missing parameter"), N_("Choose from:\n\t{choices}"),
    N_("No such option {name!r}."), N_("No such command {name!r}."),
    NN_("Did you mean {possibility}?", "(Did you mean one of: {possibilities}?)"),
    NN_("Got unexpected extra argument ({args})", "Got unexpected extra arguments ({args})"),
    NN_("Option {name!r} requires an argument.", "Option {name!r} requires {nargs} arguments."),
    N_("Option {name!r} does not take a value."),
    N_("Invalid value: {message}"), N_("Invalid value for {param_hint}: {message}"),
    N_("{value!r} is not a valid {number_type}."), N_("{value} is not in the range {range}."),
    NN_("{value!r} is not {choice}.", "{value!r} is not one of {choices}."),
    N_("file"), N_("directory"), N_("path"), N_("integer"), N_("integer range"),
    N_("{name} {filename!r} does not exist."), N_("{name} {filename!r} is a directory."),
    N_("{name} {filename!r} is a file."), N_("{name} {filename!r} is not readable."),
    N_("{name} {filename!r} is not writable."), N_("{name} {filename!r} is not executable."),
)  # fmt: skip
"""All of it that a command here can come to say."""


@contextmanager
def clicks_words() -> Iterator[None]:
    """Inside, click's words are looked up in the catalogue of the locale spoken.

    Each of its modules takes gettext's functions by name (`from gettext import gettext as _`) and
    asks nobody for a catalogue but the system: so those names are bound to ours, and given back.
    """
    ours: dict[object, Callable[..., str]] = {gettext.gettext: plain, gettext.ngettext: plural}
    taken = [
        (module, name, bound)
        for path, module in sys.modules.copy().items()
        if path.partition(".")[0] == "click"
        for name, bound in vars(module).items()
        if bound in (gettext.gettext, gettext.ngettext)
    ]
    for module, name, bound in taken:
        setattr(module, name, ours[bound])
    try:
        yield
    finally:
        for module, name, bound in taken:
            setattr(module, name, bound)
