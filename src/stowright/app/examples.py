"""Jobs to begin with: examples one tap away, and a bay that nobody has measured yet."""

from __future__ import annotations

from stowright.app.loading import bare_starter, starter
from stowright.units import Unit

__all__ = ["KIND_NOTES", "example_text", "new_text"]

#: What each kind of bay is, in a line.
KIND_NOTES = {
    "tub": "an open load bed between side rails, with wheel arches and a tailgate",
    "van": "a closed load space with a roof and tail doors",
    "wagon": "the space behind the seats, under a tailgate",
    "tray": "a flat bed without walls that matter",
}
_EXAMPLES = {
    "tub": "Example: two drawers in a tub",
    "van": "Example: drawers in a van",
    "wagon": "Example: drawers behind the seats",
    "tray": "Example: a box on a tray",
}


def example_text(kind: str, *, units: Unit) -> str:
    """Return an invented job of a kind, whole enough to be planned.

    Raises:
        UnknownNameError: If there is no such kind.
    """
    title = _EXAMPLES.get(kind, "Example")
    return starter(kind, units=units, answers={"title": title, "client": "invented"})


def new_text(kind: str, title: str, *, units: Unit) -> str:
    """Return a new job of a kind with a title: length, width and height to type over.

    No invented arch, station or anchor is in it, which a person could take for a reading.

    Raises:
        UnknownNameError: If there is no such kind.
    """
    return bare_starter(kind, units=units, title=title)
