"""How the book is printed: paper, ink, projection, sheets for drawings, revision and date."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

__all__ = ["BookOptions"]


@dataclass(frozen=True, slots=True, kw_only=True)
class BookOptions:
    """How the book is printed.

    Attributes:
        paper: A4 (ISO 216) or US Letter.
        ink: Colour or plain black.
        projection: First or third angle for drawings of several views.
        drawings: ``page`` sets the general arrangement on pages of the book's size, ``large`` on
            sheets twice as large (A3; 11 × 17 in with Letter).
        revision, date: Printed on every page when given; nothing here knows the date.
    """

    paper: Literal["a4", "letter"] = "a4"
    ink: Literal["colour", "black"] = "colour"
    projection: Literal["first", "third"] = "first"
    drawings: Literal["page", "large"] = "page"
    revision: str = ""
    date: str = ""
