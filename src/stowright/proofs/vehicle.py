"""Mass on the vehicle's axles: each axle and the total in every case, and what the unit changed.

The tenth in reserve is in the status (a ratio passes up to 0.90), never also in the limit.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from stowright.formulas.axles import brake_transfer_kg, front_share
from stowright.model.bay import Weighed
from stowright.model.design import Design
from stowright.model.finding import Finding
from stowright.proofs.axle_cases import (
    AxleCase,
    Scales,
    axle_cases,
    missing_of,
    scales_of,
    second_slip,
)
from stowright.proofs.judge import PASS_UP_TO, About, clearance, not_proved, ratio
from stowright.proofs.vehicle_moves import moves

__all__ = ["AxleCase", "axle_cases", "centre_heights", "vehicle_findings"]

SOURCE = "moment balance about the front axle; limits as stated on the vehicle"
#: What the scale of a public weighbridge may be out on one axle (common practice). [kg]
SLIP = 20.0
#: Least share on the steered axle: EU 1230/2012, from memory.
STEERED = 0.20
#: Hard braking, for information. [g]
BRAKING = 0.8
_WORDS = ("front axle", "rear axle", "total")


def vehicle_findings(design: Design) -> Iterator[Finding]:
    """Yield findings about both axles, the total, steering and the second slip."""
    cases = axle_cases(design)
    scales = scales_of(design)
    vehicle = design.job.vehicle
    limits = vehicle.limits if vehicle else None
    for word, limit in zip(
        _WORDS,
        (limits.front_axle, limits.rear_axle, limits.total) if limits else (None,) * 3,
        strict=True,
    ):
        yield _limited(design, scales, cases, word, limit)
    if cases:
        yield _steering(design, scales, cases)
    if scales is not None and scales.vehicle.weighed_after is not None:
        yield from _reconciled(design, scales, scales.vehicle.weighed_after)


def _nobody(design: Design) -> tuple[str, ...]:
    """Say that nobody is counted on board where the job gives no people."""
    vehicle = design.job.vehicle
    if vehicle is None or vehicle.people or vehicle.people_in_weighed:
        return ()
    return ("nobody on board: vehicle.people is empty, 75 kg each where they sit",)


def _of(case: AxleCase, word: str) -> float:
    return {"front axle": case.front, "rear axle": case.rear, "total": case.total}[word]


def _limit_about(design: Design, word: str) -> About:
    title = f"Mass on the {word} stays inside its limit"
    return About(
        id=f"VEHICLE-{word.split(maxsplit=1)[0].upper()}",
        title="The vehicle's total mass stays inside its limit" if word == "total" else title,
        about="vehicle",
        family=12,
        source=SOURCE,
        standing="assumed" if _nobody(design) else "published",
        assumed=_nobody(design),
    )


def _limited(
    design: Design,
    scales: Scales | None,
    cases: tuple[AxleCase, ...],
    word: str,
    limit: float | None,
) -> Finding:
    about = _limit_about(design, word)
    needs = missing_of(design.job.vehicle)
    if limit is None:
        needs = (*needs, f"vehicle.limits.{word.replace(' ', '_')}")
    if needs or limit is None or scales is None:
        return not_proved(about, needs=needs, advice=("weigh each axle on a weighbridge",))
    worst = max(cases, key=lambda case: _of(case, word))
    lines = tuple(_working(design, scales, cases, worst, word, limit))
    found = _allowed(
        replace(about, load_case=worst.name, working=lines), _of(worst, word), limit, "kg"
    )
    if found.status == "pass":
        return found
    forward = word == "rear axle"
    tried = moves(
        design, scales, worst, read=lambda case: _of(case, word), limit=limit, forward=forward
    )
    return replace(found, advice=tuple(tried))


def _allowed(
    about: About, demand: float, capacity: float, unit: str, advice: tuple[str, ...] = ()
) -> Finding:
    """Hold a mass or a share against a stated limit, which asks for no factor."""
    return ratio(
        about,
        demand=demand,
        capacity=capacity,
        unit=unit,
        basis="allowable",
        factor=1.0,
        advice=advice,
    )


def _working(
    design: Design,
    scales: Scales,
    cases: tuple[AxleCase, ...],
    worst: AxleCase,
    word: str,
    limit: float,
) -> Iterator[str]:
    yield "dR = m x / L, dF = m - dR, x behind the front axle"
    yield f"L = {scales.wheelbase:.0f} mm, front axle at x = {scales.front_x:.0f} mm"
    for item in worst.items:
        change = scales.change(item)
        yield (
            f"{item.what}: {item.mass:.1f} kg at x = {item.x:.0f} mm gives front "
            f"{change.front_kg:+.1f}, rear {change.rear_kg:+.1f} kg"
        )
    yield from (
        f"{case.name}: front {case.front:.0f} + rear {case.rear:.0f} = {case.total:.0f} kg"
        for case in cases
    )
    unit = next(item for item in cases[1].items if item.kind == "unit")
    alone = scales.change(unit)
    yield f"the unit alone changed: front {alone.front_kg:+.1f}, rear {alone.rear_kg:+.1f} kg"
    margin = limit - _of(worst, word)
    yield f"limit {limit:.0f} kg, margin {margin:.0f} kg; a tenth of the limit is the reserve"
    if word == "total":
        yield from _height_lines(design, worst)


def centre_heights(design: Design) -> tuple[float | None, float | None, float | None]:
    """Return heights above the ground: of the loaded unit, of the vehicle before, and full. [mm].

    Each is None when an input lacks: the tail doorway's height above the ground for the unit, the
    vehicle's own centre height for the other two.
    """
    bay, vehicle, cases = design.job.bay, design.job.vehicle, axle_cases(design)
    doorway = bay.opening("tail") or next(iter(bay.openings), None)
    if doorway is None or doorway.above_ground is None:
        return None, vehicle.centre_height if vehicle else None, None
    floor = doorway.above_ground - doorway.sill_rise
    unit = floor + design.centre[2]
    if vehicle is None or vehicle.centre_height is None or not cases:
        return unit, vehicle.centre_height if vehicle else None, None
    # People and extras are taken at the vehicle's own height: theirs is not known.
    gross, full = design.empty_kg + design.contents_kg, cases[3].total
    after = (vehicle.centre_height * (full - gross) + unit * gross) / full
    return unit, vehicle.centre_height, after


def _height_lines(design: Design, worst: AxleCase) -> Iterator[str]:
    unit, before, after = centre_heights(design)
    if unit is None:
        yield "centre of gravity height: not known (bay.opening.above_ground is not given)"
        return
    yield f"centre of gravity of the loaded unit {unit:.0f} mm above the ground"
    if before is not None and after is not None:
        yield f"of the vehicle: {before:.0f} mm before, {after:.0f} mm full"
        vehicle = design.job.vehicle
        if vehicle is not None and vehicle.wheelbase is not None:
            moved = brake_transfer_kg(
                mass_kg=worst.total,
                braking=BRAKING,
                height_mm=after,
                wheelbase_mm=vehicle.wheelbase,
            )
            yield f"information: braking at {BRAKING:g} g moves {moved:.0f} kg to the front axle"
    else:
        yield "of the vehicle: not known (vehicle.centre_height is not given)"


def _steering(design: Design, scales: Scales | None, cases: tuple[AxleCase, ...]) -> Finding:
    shares = [(front_share(masses=case.masses), case) for case in cases]
    least, case = min(shares, key=lambda pair: pair[0])
    advice: tuple[str, ...] = ()
    if scales is not None and PASS_UP_TO * least < STEERED:
        advice = _steered_again(design, scales, case)
    about = About(
        id="VEHICLE-STEERING",
        title="Enough of the mass stays on the steered axle",
        about="vehicle",
        family=12,
        source="20 % on the steering axle for some categories: EU 1230/2012, from memory",
        standing="from memory",
        load_case=case.name,
        working=(
            "share = F / (F + R)",
            *(f"{c.name}: {100.0 * share:.1f} %" for share, c in shares),
            f"least {100.0 * STEERED:.0f} %",
        ),
    )
    return _allowed(about, STEERED, least, "share", advice)


def _steered_again(design: Design, scales: Scales, case: AxleCase) -> tuple[str, ...]:
    """Return moves that were tried and leave enough on the steered axle.

    The share passes from STEERED / 0.9: that leaves the rear axle so much of the total.
    """
    limit = (1.0 - STEERED / PASS_UP_TO) * case.total / PASS_UP_TO
    tried = moves(design, scales, case, read=lambda each: each.rear, limit=limit, forward=True)
    found = tuple(line for line in tried if line.startswith("move"))
    return found or (
        "no move of what is carried does it: less on the ball, or extras ahead of the rear axle",
    )


def _reconciled(design: Design, scales: Scales, slip: Weighed) -> Iterator[Finding]:
    expected = second_slip(design)
    if expected is None:
        return
    front, rear = slip.front_axle - expected.front, slip.rear_axle - expected.rear
    for word, off, read, computed in (
        ("front axle", front, slip.front_axle, expected.front),
        ("rear axle", rear, slip.rear_axle, expected.rear),
    ):
        yield clearance(
            About(
                id=f"SLIP-{word.split(maxsplit=1)[0].upper()}",
                title=f"The second weighbridge slip agrees with the computed mass: {word}",
                about="vehicle",
                family=12,
                source="first slip + computed masses against the second; a slip is good to 20 kg",
                standing="common practice",
                load_case=_on_board(slip),
                working=(
                    "difference = slip - (first slip + what was added, by moments)",
                    f"{read:.0f} - {computed:.1f} = {off:+.1f} kg, at most {SLIP:g} kg either way",
                    *_includes(scales, slip),
                    *(
                        f"{item.what}: {item.mass:+.1f} kg at x = {item.x:.0f} mm"
                        for item in expected.items
                    ),
                ),
            ),
            needed=abs(off),
            available=SLIP,
            reading_error=SLIP,
            unit="kg",
            advice=tuple(_unexplained(scales, front, rear)),
        )


def _on_board(slip: Weighed) -> str:
    loaded = "loaded" if slip.loaded else "empty"
    people = f"{slip.people} of the people on board" if slip.people else "nobody added"
    return f"second slip: unit {loaded}, {people}"


def _includes(scales: Scales, slip: Weighed) -> Iterator[str]:
    first = scales.vehicle.weighed.includes if scales.vehicle.weighed else ()
    apart = sorted(set(first) ^ set(slip.includes))
    if apart and slip.includes:
        yield f"only one of the slips names: {', '.join(apart)}"


def _unexplained(scales: Scales, front: float, rear: float) -> Iterator[str]:
    """Say how much mass is not accounted for, and where along the vehicle it would stand."""
    mass = front + rear
    if abs(mass) > SLIP:
        x = scales.front_x - rear * scales.wheelbase / mass
        word = "more" if mass > 0.0 else "less"
        yield (
            f"{abs(mass):.0f} kg {word} than computed, as if at x = {x:.0f} mm: look for what is "
            "on one slip and not on the other, and list it under vehicle.also"
        )
    elif not math.isclose(front, 0.0):
        yield (
            "the total agrees, the axles do not: check wheelbase and rear_axle_x, and that the "
            "vehicle stood level on the scale"
        )
