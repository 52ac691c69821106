"""Which screw holds and does not come through, on the worst sheet.

Lengths are overall for a countersunk head and under the head for a pan head, so that what a screw
passes is counted from the face its head draws down to. A screw into a face must end inside the
thinnest sheet that may turn up; a screw into an edge has wood enough before it and is chosen for
its bite.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import ceil

from stowright.errors import require_not_negative, require_positive
from stowright.model.catalogue import Screw

__all__ = [
    "EDGE_BITE",
    "EDGE_BITE_LEAST",
    "RESERVE",
    "Passed",
    "clearance_hole",
    "edge_screw",
    "face_screw",
    "least_bite",
    "longest_screw_mm",
    "pan_screw",
    "thickest_screw",
]

#: Wood left in front of a screw's point on the worst sheet. [mm]
RESERVE = 0.5
#: Aim of the bite into a ply edge: about 19, and more adds little (workshop tips). [mm]
EDGE_BITE = 22.0
#: Least bite into an edge (judgement: under the 19 that is aimed at, over 3.5 diameters). [mm]
EDGE_BITE_LEAST = 15.0
#: Wood kept in front of a point that runs into the depth of a narrow piece. [mm]
_POINT_ROOM = 5.0
#: Least bite into a face, in diameters (judgement).
_HOLDS = 2.0
#: Least bite that a screw is given where none bites two diameters, and glue or a row shares the
#: load (judgement). [diameters]
_HOLDS_LEAST = 1.7
#: Thickest screw by the thickness of what it bites into (common practice: 8 gauge into 15 and 18,
#: 6 gauge into 12): (thinner than, diameter). [mm]
_THICKEST = ((8.0, 0.0), (10.5, 3.05), (13.6, 3.6), (20.5, 4.25), (float("inf"), 5.1))


@dataclass(frozen=True, slots=True, kw_only=True)
class Passed:
    """What a screw passes before it bites, on the thinnest and on the thickest sheet. [mm]."""

    least: float
    most: float


def longest_screw_mm(*, passes_mm: float, t_min_mm: float) -> float:
    """Return the longest screw that does not come through the worst sheet.

    length <= what it passes + t_min - 0.5

    Args:
        passes_mm: What it passes before the sheet that it bites into. [mm]
        t_min_mm: Least thickness of that sheet. [mm]

    Raises:
        OutOfRangeError: If a length is below zero or the sheet has no thickness.
    """
    require_not_negative(passes_mm=passes_mm)
    require_positive(t_min_mm=t_min_mm)
    return passes_mm + t_min_mm - RESERVE


def least_bite(diameter: float) -> float:
    """Return the least bite into a face that is taken to hold: two diameters (judgement). [mm]."""
    return _HOLDS * diameter


def clearance_hole(screw: Screw) -> float:
    """Return the hole that a screw slides through: the next half millimetre over 0.2 free. [mm]."""
    return ceil((screw.diameter + 0.2) * 2.0 - 1.0e-9) / 2.0


def thickest_screw(thickness: float) -> float:
    """Return the thickest screw for a sheet, 0 where it is too thin for any. [mm]."""
    return next(diameter for under, diameter in _THICKEST if thickness < under)


def edge_screw(
    screws: Iterable[Screw], *, passed: Passed, edge: float, depth: float
) -> Screw | None:
    """Return the countersunk screw for an edge: thickest allowed, its bite nearest to 22.

    Args:
        screws: What the shop has.
        passed: What it passes.
        edge: Thickness of the panel whose edge is bitten. [mm]
        depth: Size of that panel along the screw. [mm]
    """
    limit = thickest_screw(edge)
    middle = (passed.least + passed.most) / 2.0
    fitting = [
        screw
        for screw in screws
        if screw.kind == "countersunk"
        and screw.diameter <= limit
        and screw.length - passed.most >= EDGE_BITE_LEAST
        and screw.length - passed.least <= depth - _POINT_ROOM
    ]
    if not fitting:
        return None
    return min(fitting, key=lambda s: _edge_rank(s, s.length - middle))


def _edge_rank(screw: Screw, bite: float) -> tuple[float, float, float, str]:
    """A bite under 19 or over 30 costs more than a thinner screw."""
    miss = abs(bite - EDGE_BITE)
    far = 1.0 if miss > 8.0 else 0.0
    return (far, -screw.diameter, miss, screw.name)


def face_screw(
    screws: Iterable[Screw],
    *,
    passed: Passed,
    t_min: float,
    thickness: float,
    diameters: float = _HOLDS,
) -> Screw | None:
    """Return the countersunk screw for a face: the longest that stays inside the worst sheet.

    Args:
        screws: What the shop has.
        passed: What it passes.
        t_min: Least thickness of the sheet that is bitten. [mm]
        thickness: Its thickness in the design. [mm]
        diameters: Least bite in diameters, on the thickest sheet; less than two only for what
            needs no holding. Where no screw has it, one of 1.7 is taken.
    """
    limit = max(thickest_screw(thickness), 3.05)
    longest = longest_screw_mm(passes_mm=passed.least, t_min_mm=t_min)
    inside = [
        screw
        for screw in screws
        if screw.kind == "countersunk" and screw.diameter <= limit and screw.length <= longest
    ]
    for least in (diameters, min(diameters, _HOLDS_LEAST)):
        fitting = [s for s in inside if s.length - passed.most >= least * s.diameter]
        if fitting:
            return min(fitting, key=lambda s: (-s.length, -s.diameter, s.name))
    return None


def pan_screw(
    screws: Iterable[Screw], *, wanted: Screw | None, passes: float, t_min: float
) -> Screw | None:
    """Return the pan-headed screw behind a metal flange: the longest that stays inside.

    Args:
        screws: What the shop has.
        wanted: The row's own choice; its diameter is kept when any length of it fits.
        passes: Flange and lining that it passes. [mm]
        t_min: Least thickness of the sheet that is bitten. [mm]
    """
    longest = longest_screw_mm(passes_mm=passes, t_min_mm=t_min)
    fitting = [
        screw
        for screw in screws
        if screw.kind == "pan"
        and screw.length <= longest
        and screw.length - passes >= least_bite(screw.diameter)
    ]
    if not fitting:
        return None
    diameter = wanted.diameter if wanted is not None else thickest_screw(t_min)
    return min(fitting, key=lambda s: (round(abs(s.diameter - diameter), 2), -s.length, s.name))
