"""A commented starter job for each kind of bay."""

from __future__ import annotations

import re
from collections.abc import Mapping

from stowright.errors import JobError, Mistake, UnknownNameError
from stowright.jobfile.dump_text import number_text, value_text
from stowright.jobfile.keys import nearest_name
from stowright.jobfile.reading import read_job
from stowright.jobfile.starter_texts import BARE, BARE_HEAD, STARTERS, StarterText
from stowright.units import MM_PER_INCH, Unit, format_length, inch_parts, parse_length

__all__ = ["STARTER_KINDS", "bare_starter", "starter", "starter_answers"]

#: Kinds of bay that have a starter.
STARTER_KINDS = tuple(STARTERS)

_NAME = re.compile(r"(-?)\$([a-z_0-9]+)")
_BEHIND = re.compile(r"([^#\s].*?) {2,}# (.*)")
_COMMENT_AT = 26
_TITLES = {
    "tub": "River gauging crew, pickup",
    "van": "Climbing weekends, medium van",
    "wagon": "Bird survey, wagon",
    "tray": "Weed control crew, tray with canopy",
}
_WHAT = {
    "tub": "A pickup tub with two drawers, a deck and wings over the arches.",
    "van": "A van with a low block of two drawers at the tail.",
    "wagon": "A wagon with one drawer beside a sliding tray.",
    "tray": "A flat tray under a canopy, with one block opening to each side.",
}


def starter_answers(kind: str) -> tuple[str, ...]:
    """Return what can be answered for a kind of bay, the most telling first.

    Raises:
        UnknownNameError: If there is no such kind.
    """
    text = _text_of(kind)
    height = "rail" if "rail" in text.upright else "clear_height"
    arches = ("between", "arch_start", "arch_end", "arch_height", "arch_reach")
    doors = ("opening_width", "side_door") if "side_door" in text.along else ("opening_width",)
    sizes = ("length", "width", height, *(arches if "arch" in text.upright else ()), *doors)
    known = set(text.along) | set(text.across) | set(text.upright)
    return (
        "title",
        "client",
        *(name for name in sizes if _INSIDE.get(name, name) in known),
    )


#: Names that people answer by, where the text has a shorter one.
_INSIDE = {
    "clear_height": "height",
    "arch_height": "arch",
    "arch_reach": "reach",
    "opening_width": "door",
}


def starter(
    kind: str, *, units: Unit = "mm", answers: Mapping[str, str | float] | None = None
) -> str:
    """Return a commented starter job that reads without a mistake.

    Args:
        kind: ``tub``, ``van``, ``wagon`` or ``tray``.
        units: The unit that the job is written and printed in.
        answers: What is known already, by the names of ``starter_answers``: a title, a client,
            and lengths as numbers in the job's unit or texts. Readings that are not answered
            follow the answered length, width and height in proportion.

    Raises:
        UnknownNameError: If there is no such kind, or an answer has no place in it.
        JobError: If an answer is no length, or the answers make an impossible bay.
    """
    text = _text_of(kind)
    given = dict(answers or {})
    known = starter_answers(kind)
    for name in given:
        if name not in known:
            near = nearest_name(name, known)
            raise UnknownNameError("answer", name, (near,) if near else known)
    words = {
        "what": _WHAT[kind],
        "title": value_text(str(given.pop("title", _TITLES[kind])), units),
        "client": value_text(str(given.pop("client", "")), units),
        "units": value_text(units, units),
        "cut_grid": "0.5" if units == "mm" else '"1/32 in"',
    }
    lengths = _lengths(text, {name: _length(name, each, units) for name, each in given.items()})
    words |= {name: _shown(mm, units) for name, mm in lengths.items()}
    job = _aligned(_NAME.sub(lambda match: _signed(match[1], words[match[2]]), text.text))
    read_job(job)
    return job


def bare_starter(kind: str, *, units: Unit = "mm", title: str = "") -> str:
    """Return a job of a bay that nobody has measured: length, width and height to type over.

    Nothing invented hides in it: no stations, arches, doorways or anchors, and nothing to carry.

    Raises:
        UnknownNameError: If there is no such kind.
    """
    text = _text_of(kind)
    key = "rail" if "rail" in text.upright else "clear_height"
    asked, sizes = BARE[kind]
    words = {
        "title": value_text(title or f"New {kind}", units),
        "units": value_text(units, units),
        "cut_grid": "0.5" if units == "mm" else '"1/32 in"',
        "kind": value_text(kind, units),
        "length": _shown(text.along["length"], units),
        "width": _shown(text.across["width"], units),
        "height_key": key,
        "height": _shown(text.upright["rail" if key == "rail" else "height"], units),
        "error": _shown(text.fixed["error"], units),
    }
    words |= {name: number_text(pair[units == "in"]) for name, pair in sizes.items()}
    job = _aligned(_NAME.sub(lambda match: words[match[2]], BARE_HEAD + asked))
    read_job(job)
    return job


def _text_of(kind: str) -> StarterText:
    if kind not in STARTERS:
        raise UnknownNameError("starter", kind, STARTER_KINDS)
    return STARTERS[kind]


def _length(name: str, value: str | float, units: Unit) -> float:
    try:
        length = parse_length(value, units=units)
    except JobError as error:
        (mistake,) = error.mistakes
        raise JobError(
            (Mistake(field=name, found=mistake.found, allowed=mistake.allowed),)
        ) from None
    if not length > 0.0:
        raise JobError((Mistake(field=name, found=str(value), allowed="a length above zero"),))
    return length


def _lengths(text: StarterText, answered: Mapping[str, float]) -> dict[str, float]:
    """Return every reading: as answered, else the invented one in proportion. [mm]."""
    inside = {_INSIDE.get(name, name): mm for name, mm in answered.items()}
    height = "rail" if "rail" in text.upright else "height"
    found: dict[str, float] = dict(text.fixed)
    for readings, leading in (
        (text.along, "length"),
        (text.across, "width"),
        (text.upright, height),
    ):
        factor = inside.get(leading, readings[leading]) / readings[leading]
        found |= {name: _whole(mm * factor) for name, mm in readings.items()}
    return found | inside


def _whole(mm: float) -> float:
    return float(round(mm))


def _shown(mm: float, units: Unit) -> str:
    """Write a reading as a person would: whole millimetres, or inches to 1/16."""
    if units == "mm":
        return number_text(mm)
    if mm < MM_PER_INCH:  # thicknesses and gaps: a sixteenth would lose them
        return f'"{format_length(mm)} mm"'
    sign, whole, top, _ = inch_parts(mm, parts=16)
    return f'"{format_length(mm, "in", parts=16)}"' if top else str(sign * whole)


def _aligned(job: str) -> str:
    """Stand the comments behind values one under another."""
    lines = (_BEHIND.fullmatch(line) for line in job.split("\n"))
    return "\n".join(
        f"{match[1]:<{_COMMENT_AT}}# {match[2]}" if match and len(match[1]) < _COMMENT_AT else line
        for match, line in zip(lines, job.split("\n"), strict=True)
    )


def _signed(sign: str, text: str) -> str:
    """Put a minus in front of a number, or inside the quotes of a text."""
    return f'"-{text[1:]}' if sign and text.startswith('"') else sign + text
