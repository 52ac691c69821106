"""The vehicle on its wheels with everything out on a slope."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from stowright.formulas.slopes import WORST_PARKED_GRADE_PERCENT, grade_angle_deg
from stowright.formulas.tipping import MassAt, TippingMoments, moments_n_mm
from stowright.model.bay import Face
from stowright.model.catalogue import Standing
from stowright.model.design import Design, OpeningDesign
from stowright.model.finding import Finding
from stowright.model.geometry import Point3
from stowright.proofs.axle_cases import AxleCase, axle_cases, missing_of
from stowright.proofs.judge import PASS_UP_TO, About, not_proved, ratio

__all__ = ["vehicle_tipping"]

_ANGLE = grade_angle_deg(grade_percent=WORST_PARKED_GRADE_PERCENT)
#: Height of a light vehicle's centre of gravity and of its load floor, where the job does not say:
#: on the high side of what is usual (from memory). [mm]
_CENTRE_UP, _FLOOR_UP = 750.0, 750.0
#: Where the job shows no arches, wheels stand this far out, as a share of the bay's width.
_TRACK_SHARE = 0.8


def vehicle_tipping(design: Design) -> Iterator[Finding]:
    """Yield whether the vehicle stays on its wheels, for each side that drawers come out of."""
    out: dict[Face, list[OpeningDesign]] = {}
    for block in design.blocks:
        for opening in block.openings:
            if opening.runner is not None:
                out.setdefault(block.face, []).append(opening)
    for face, openings in out.items():
        yield _one(design, face, openings)


def _one(design: Design, face: Face, openings: list[OpeningDesign]) -> Finding:
    up, floor_up, assumed = _heights(design)
    if not design.job.carry:
        assumed = (*assumed, "no carry list: the drawers are empty")
    standing: Standing = "assumed" if assumed or face != "tail" else "from memory"
    about = About(
        id=f"TIP-VEHICLE:{face}",
        title=f"The vehicle stays on its wheels with everything out at the {face}",
        about="vehicle",
        family=11,
        source="moments about the wheels on an incline (statics); slope of 20 %: UN R13-H parking "
        "brake, from memory",
        standing=standing,
        load_case=f"parked, {face} downhill on 20 %, loaded, all out, nobody on board",
        assumed=assumed,
    )
    needs = missing_of(design.job.vehicle)
    cases = axle_cases(design)
    if needs or not cases:
        return not_proved(about, needs=needs)

    def tipped(
        out: list[OpeningDesign], angle_deg: float
    ) -> tuple[TippingMoments, tuple[str, ...]]:
        masses, lines = _masses(design, cases[1], face, out, up=up, floor_up=floor_up)
        return moments_n_mm(masses, angle_deg=angle_deg), lines

    moments, lines = tipped(openings, _ANGLE)
    lines = ("sum of g m (x cos t - h sin t) about the wheels, t = 11.31 degrees", *lines)
    return ratio(
        replace(about, working=lines),
        demand=moments.over_n_mm / 1000.0,
        capacity=moments.back_n_mm / 1000.0,
        unit="N m",
        basis="common practice",
        factor=1.0,
        advice=tuple(_fewer_out(openings, lambda out, angle: tipped(out, angle)[0])),
    )


def _fewer_out(
    openings: list[OpeningDesign], tipped: Callable[[list[OpeningDesign], float], TippingMoments]
) -> Iterator[str]:
    """Yield what was tried: one drawer out at a time, and level ground."""

    def use(found: TippingMoments) -> float:
        return found.over_n_mm / found.back_n_mm if found.back_n_mm > 0.0 else float("inf")

    one = max(use(tipped([opening], _ANGLE)) for opening in openings)
    level = use(tipped(openings, 0.0))
    for words, found in (
        ("pull out one drawer at a time on a slope", one),
        ("pull them out on level ground only", level),
    ):
        passes = "passes at" if found <= PASS_UP_TO else "does not do, still"
        yield f"{words}: {passes} {found:.2f}"


def _heights(design: Design) -> tuple[float, float, tuple[str, ...]]:
    """Return heights above ground of the vehicle's centre and of the floor, and what is assumed."""
    bay, vehicle = design.job.bay, design.job.vehicle
    assumed = []
    doorway = bay.opening("tail") or next(iter(bay.openings), None)
    floor_up = _FLOOR_UP
    if doorway is not None and doorway.above_ground is not None:
        floor_up = doorway.above_ground - doorway.sill_rise
    else:
        assumed.append(f"load floor {_FLOOR_UP:g} mm above the ground")
    up = vehicle.centre_height if vehicle else None
    if up is None:
        up = _CENTRE_UP
        assumed.append(f"centre of the vehicle {_CENTRE_UP:g} mm above the ground")
    return up, floor_up, tuple(assumed)


def _masses(
    design: Design,
    unit_alone: AxleCase,
    face: Face,
    openings: list[OpeningDesign],
    *,
    up: float,
    floor_up: float,
) -> tuple[list[MassAt], tuple[str, ...]]:
    """Return what stands beside the line of wheels: vehicle, unit at rest, what is out."""
    vehicle = design.job.vehicle
    rear_x = (vehicle.rear_axle_x if vehicle else None) or 0.0
    wheelbase = (vehicle.wheelbase if vehicle else None) or 0.0
    bare = unit_alone.total - design.empty_kg
    ahead = unit_alone.front * wheelbase - design.empty_kg * (design.centre_empty[0] - rear_x)
    half = _half_track(design, face)

    def beside(centre: Point3, out: float) -> float:
        if face == "tail":
            return centre[0] - rear_x - out
        sign = -1.0 if face == "left" else 1.0
        return half + sign * centre[1] - out

    out_kg = sum(o.gross_kg for o in openings)
    gross = design.empty_kg + design.contents_kg
    rest = gross - out_kg
    middle = tuple(
        (gross * design.centre[k] - sum(o.gross_kg * o.usable.centre[k] for o in openings))
        / max(rest, 1.0e-9)
        for k in range(3)
    )
    at = ahead / bare if face == "tail" else half
    found = [
        MassAt(mass_kg=bare, at_mm=at, up_mm=up),
        MassAt(
            mass_kg=max(rest, 0.0),
            at_mm=beside((middle[0], middle[1], middle[2]), 0.0),
            up_mm=floor_up + middle[2],
        ),
    ]
    for opening in openings:
        travel = opening.runner.size.travel if opening.runner else 0.0
        found.append(
            MassAt(
                mass_kg=opening.gross_kg,
                at_mm=beside(opening.usable.centre, travel),
                up_mm=floor_up + opening.usable.centre[2],
            )
        )
    names = ("vehicle", "unit at rest", *(f"{o.name}, out" for o in openings))
    lines = tuple(
        f"{name}: {row.mass_kg:.0f} kg, {row.at_mm:.0f} mm inside the wheels, {row.up_mm:.0f} mm up"
        for name, row in zip(names, found, strict=True)
    )
    if face != "tail":
        lines += (f"half track taken as {half:.0f} mm, from the bay's width between the arches",)
    return found, lines


def _half_track(design: Design, face: Face) -> float:
    """Return how far the wheels stand from the centre line: the middle of the arch on that side."""
    bay = design.job.bay
    arch = next((a for a in bay.arches if a.side == face), None)
    if arch is None or not bay.between:
        return bay.width * _TRACK_SHARE / 2.0
    return min(b.width for b in bay.between) / 2.0 + arch.reach / 2.0
