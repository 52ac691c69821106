"""Mass on the vehicle's axles: each axle and the total, unit alone, driver only, and full."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from stowright.formulas.axles import AxleMasses, axle_masses_kg, front_share
from stowright.model.bay import Vehicle
from stowright.model.design import Design
from stowright.model.finding import Finding
from stowright.proofs.judge import About, not_proved, ratio

__all__ = ["AxleCase", "axle_cases", "vehicle_findings"]

SOURCE = "moment balance about the front axle; limits as stated on the vehicle"


@dataclass(frozen=True, slots=True, kw_only=True)
class AxleCase:
    """Axle masses in one case. [kg]."""

    name: str
    front: float
    rear: float

    @property
    def total(self) -> float:
        """Both axles. [kg]."""
        return self.front + self.rear


def _missing(vehicle: Vehicle | None) -> tuple[str, ...]:
    if vehicle is None:
        return ("vehicle: wheelbase, rear_axle_x, weighed, limits",)
    names = (
        ("vehicle.wheelbase", vehicle.wheelbase),
        ("vehicle.rear_axle_x", vehicle.rear_axle_x),
        ("vehicle.weighed", vehicle.weighed),
    )
    return tuple(name for name, value in names if value is None)


def axle_cases(design: Design) -> tuple[AxleCase, ...]:
    """Return axle masses before, with the unit, driver only and full; none when inputs lack."""
    vehicle = design.job.vehicle
    if _missing(vehicle) or vehicle is None:
        return ()
    wheelbase, rear_x, weighed = vehicle.wheelbase, vehicle.rear_axle_x, vehicle.weighed
    if wheelbase is None or rear_x is None or weighed is None:
        return ()
    front_x = rear_x + wheelbase
    start = AxleMasses(front_kg=weighed.front_axle, rear_kg=weighed.rear_axle)

    def with_items(items: list[tuple[float, float]]) -> AxleMasses:
        return axle_masses_kg(
            start=start, items=[(m, front_x - x) for m, x in items], wheelbase_mm=wheelbase
        )

    also = [(a.mass, a.x) for a in vehicle.also]
    people = [] if vehicle.people_in_weighed else [(p.mass, p.x) for p in vehicle.people]
    unit = [(design.empty_kg, design.centre_empty[0])]
    gross = design.empty_kg + design.contents_kg
    loaded = [(gross, design.centre[0])]
    ball = [(vehicle.tow_ball.mass, vehicle.tow_ball.x)] if vehicle.tow_ball else []
    rows: tuple[tuple[str, list[tuple[float, float]]], ...] = (
        ("as weighed", []),
        ("with the empty unit", [*also, *unit]),
        ("driver only, unit full", [*also, *people[:1], *loaded]),
        ("full", [*also, *people, *loaded, *ball]),
    )
    found = []
    for name, items in rows:
        masses = with_items(items) if items else start
        found.append(AxleCase(name=name, front=masses.front_kg, rear=masses.rear_kg))
    return tuple(found)


def vehicle_findings(design: Design) -> Iterator[Finding]:
    """Yield findings about both axles and the total."""
    vehicle = design.job.vehicle
    cases = axle_cases(design)
    limits = vehicle.limits if vehicle else None
    for word, limit in (
        ("front axle", limits.front_axle if limits else None),
        ("rear axle", limits.rear_axle if limits else None),
        ("total", limits.total if limits else None),
    ):
        about = About(
            id=f"VEHICLE-{word.split(maxsplit=1)[0].upper()}",
            title=f"Mass on the {word} stays inside its limit"
            if word != "total"
            else "The vehicle's total mass stays inside its limit",
            about="vehicle",
            family=12,
            source=SOURCE,
            standing="published",
        )
        needs = _missing(vehicle)
        if limit is None:
            needs = (*needs, f"vehicle.limits.{word.replace(' ', '_')}")
        if needs or limit is None:
            yield not_proved(about, needs=needs, advice=("weigh each axle on a weighbridge",))
            continue
        yield _axle(about, word, cases, limit, design)
    if cases:
        yield _steering(cases)


def _of(case: AxleCase, word: str) -> float:
    return {"front axle": case.front, "rear axle": case.rear, "total": case.total}[word]


def _axle(
    about: About, word: str, cases: tuple[AxleCase, ...], limit: float, design: Design
) -> Finding:
    worst = max(cases, key=lambda case: _of(case, word))
    demand = _of(worst, word)
    over = demand - 0.9 * limit
    advice = [f"{over:.0f} kg less, to keep a tenth in reserve"]
    if word == "rear axle":
        advice.append("heavy things towards the cab: each kg ahead of the axle takes from it")
    return ratio(
        replace(
            about,
            load_case=worst.name,
            working=(
                "dR = m x / L, dF = m - dR, x behind the front axle",
                (
                    f"unit {design.empty_kg:.1f} kg at x = {design.centre_empty[0]:.0f} mm, with "
                    f"{design.contents_kg:.1f} kg"
                ),
                *(f"{case.name}: {_of(case, word):.0f} kg" for case in cases),
                f"limit {limit:.0f} kg",
            ),
        ),
        demand=demand,
        capacity=limit,
        unit="kg",
        basis="allowable",
        factor=1.0,
        advice=tuple(advice),
    )


def _steering(cases: tuple[AxleCase, ...]) -> Finding:
    shares = [(front_share(masses=AxleMasses(front_kg=c.front, rear_kg=c.rear)), c) for c in cases]
    least, case = min(shares, key=lambda pair: pair[0])
    return ratio(
        About(
            id="VEHICLE-STEERING",
            title="Enough of the mass stays on the steered axle",
            about="vehicle",
            family=12,
            source="20 % on the steering axle for some categories: EU 1230/2012, from memory",
            standing="from memory",
            load_case=case.name,
            working=(f"front share {100.0 * least:.1f} %, least 20 %",),
        ),
        demand=0.20,
        capacity=least,
        unit="share",
        basis="allowable",
        factor=1.0,
        advice=("move mass towards the cab",),
    )
