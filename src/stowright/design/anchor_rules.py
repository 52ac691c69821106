"""Where the vehicle may be drilled: what the bay's readings allow and what they leave open."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from math import hypot

from stowright.model.bay import Bay, Floor
from stowright.model.catalogue import Washer

__all__ = [
    "BELT_CLEAR",
    "LOOK_FIRST",
    "UNDER_HALF",
    "floor_ban",
    "floor_note",
    "grip_below",
    "look_under",
    "rib_notes",
    "valley_of",
]

#: New holes keep this far from belt, seat and child-seat anchorages (after a vehicle inspection
#: rule on corrosion near them; used here as a warning distance). [mm]
BELT_CLEAR = 300.0
#: Half of the spreader plate under the floor: it must not reach into a no-drill area. [mm]
UNDER_HALF = 30.0
#: What lies within this distance of a hole is named in its note (judgement). [mm]
_NEARBY = 250.0
#: Said of every new hole in a surface for which the job names no area that must not be drilled.
LOOK_FIRST = "not proved: look behind first"
#: Sheet reckoned for a load floor that the job does not describe (assumed). [mm]
_SHEET = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class GripBelow:
    """What a bolt grips below the rib tops. [mm].

    Attributes:
        depth: From the rib tops to the underside of the sheet.
        known: Whether the job describes the floor.
    """

    depth: float
    known: bool
    in_valley: bool


def grip_below(bay: Bay) -> GripBelow:
    """Return what lies between the rib tops and the nut under the load floor.

    Bolts are reckoned to go through the valleys, where a plate lies flat underneath.
    """
    floor = bay.floor
    if floor is None:
        return GripBelow(depth=_SHEET, known=False, in_valley=False)
    ribs = floor.rib_depth if floor.ribs_run != "none" else 0.0
    return GripBelow(depth=ribs + floor.thickness, known=True, in_valley=ribs > 0.0)


def valley_of(floor: Floor | None) -> float | None:
    """Return how wide the floor lies flat between two ribs; None where nothing tells. [mm].

    About half of the pitch: ribs and valleys of pressed floors are much alike (assumed).
    """
    if floor is None or floor.ribs_run == "none":
        return None
    if not floor.rib_depth > 0.0 or not floor.rib_pitch > 0.0:
        return None
    return floor.rib_pitch / 2.0


def rib_notes(bay: Bay, washers: Iterable[Washer]) -> Iterator[str]:
    """Yield where a bolt stands to the ribs of the floor, and how its plate lies under them.

    Args:
        bay: The bay.
        washers: What the nut presses on under the floor; a square one is a spreader plate.
    """
    if not grip_below(bay).in_valley:
        return
    text = "through a valley of the ribs: shift along the packer to the nearest"
    floor, valley = bay.floor, valley_of(bay.floor)
    if floor is None or valley is None:
        yield text
        return
    way = "to the side" if floor.ribs_run == "lengthwise" else "lengthwise"
    most = floor.rib_pitch / 4.0
    yield f"{text}, {most:.0f} mm {way} at most (ribs every {floor.rib_pitch:g} mm)"
    plate = max((w.outside for w in washers if w.shape == "square"), default=0.0)
    if plate > valley:
        yield (
            f"its plate of {plate:g} mm bridges the grooves under the ribs beside it: pack them "
            "flush"
        )


def floor_ban(bay: Bay, x: float, y: float) -> str:
    """Return why the load floor must not be drilled at (x, y); empty when nothing forbids it."""
    for area in bay.no_drill:
        if area.surface == "floor" and _near(area.a, x) and _near(area.b, y):
            return f"no-drill area: {area.what}"
    for belt in bay.belts:
        if hypot(belt.x - x, belt.y - y, belt.z) < BELT_CLEAR:
            return f"within {BELT_CLEAR:g} mm of {belt.what}"
    for access in bay.access:
        if _near(access.x, x) and _near(access.y, y):
            return f"access kept free: {access.what}"
    return ""


def _near(reach: tuple[float, float], at: float) -> bool:
    return min(reach) - UNDER_HALF < at < max(reach) + UNDER_HALF


def look_under(bay: Bay, x: float, y: float) -> str:
    """Return what to look for underneath before a hole is drilled at (x, y).

    What the job names within 250 mm, nearest first, else what usually lies under a load floor.
    """
    near = sorted(
        (hypot(_off(area.a, x), _off(area.b, y)), area.what)
        for area in bay.no_drill
        if area.surface == "floor"
    )
    named = [f"{what} close by" for apart, what in near if apart <= _NEARBY]
    return f"look underneath for {', '.join(named or ['tank, pipes, cables, closed sections'])}"


def _off(reach: tuple[float, float], at: float) -> float:
    return max(min(reach) - at, at - max(reach), 0.0)


def floor_note(bay: Bay) -> str:
    """Return what has to be said of a new hole in the load floor."""
    told = any(area.surface == "floor" for area in bay.no_drill)
    return "" if told else LOOK_FIRST
