"""The blank survey form of a kind of bay: numbered drawing, the fields, room to write."""

from __future__ import annotations

from typing import Any, Literal

from stowright.book.typeset import typeset
from stowright.drawings.linetypes import Ink
from stowright.drawings.survey_fields import Kind, survey_fields
from stowright.drawings.survey_form import survey_figure
from stowright.drawings.svg import to_svg

__all__ = ["PHOTOGRAPHS", "make_survey", "survey_rows"]

PHOTOGRAPHS = (
    "the empty floor from the tail, a rule lying in it",
    "the same floor from underneath, tank, lines and looms in view",
    "each tie-down and belt anchorage",
    "tailgate or doors, latches and seals, shut and open",
    "rail, canopy edge or roof lining",
)


def survey_rows(kind: Kind) -> list[list[str]]:
    """Return a row for each reading: number, field, key, what is read."""
    return [
        [reading.label, field.field, reading.key, reading.what]
        for field in survey_fields(kind)
        for reading in field.readings
    ]


def make_survey(
    kind: Kind,
    *,
    paper: Literal["a4", "letter"] = "a4",
    units: Literal["mm", "in"] = "mm",
    ink: Ink = "colour",
) -> bytes:
    """Return the survey form of a kind of bay as PDF, two pages.

    Raises:
        BookError: If it does not typeset.
    """
    content: dict[str, Any] = {
        "kind": kind,
        "units": units,
        "ink": ink,
        "rows": survey_rows(kind),
        "photographs": list(PHOTOGRAPHS),
    }
    figures = {"survey": to_svg(survey_figure(kind), ink=ink)}
    return typeset("survey", content, figures, inputs={"paper": paper})
