"""Drawers stay shut, and stay open: latch and lock by direction and slope, what holds if they fail.

Directions as the drawer lies in the vehicle; the slope is the worst to park on, a case of its own
without driving accelerations. Of a pair of catches or locks one is counted.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import partial

from stowright.formulas.slopes import (
    WORST_PARKED_GRADE_PERCENT,
    grade_angle_deg,
    latch_demand_n,
    roll_out_angle_deg,
    run_away_force_n,
)
from stowright.model.catalogue import Hardware
from stowright.model.design import BlockDesign, OpeningDesign, RunnerFit
from stowright.model.finding import Finding
from stowright.proofs.basis import Capacity, Load, held, held_or_told, working, worst
from stowright.proofs.index import NO_CARRY, G, Index
from stowright.proofs.judge import About, complete, not_proved
from stowright.proofs.push import moving_kg, pushes
from stowright.proofs.runners import asked_of, stated_of
from stowright.proofs.tried import Trial, advised, first_pass

__all__ = ["latch_finding", "shut_findings"]

GRADES = (5.0, 10.0, 15.0, WORST_PARKED_GRADE_PERCENT)


def shut_findings(index: Index) -> Iterator[Finding]:
    """Yield findings about every drawer and tray that has to stay shut, and open."""
    for block, opening in index.openings():
        fit = opening.runner
        if fit is None:
            continue
        yield held_or_told(
            _about(index, block, opening), partial(latch_finding, index, block, opening, fit)
        )
        yield _second_line(index, block, opening, fit)
        yield held_or_told(_open_about(opening), partial(_stays_open, index, opening, fit))


def _about(index: Index, block: BlockDesign, opening: OpeningDesign) -> About:
    rules, push = index.rules, pushes(index.rules, block.face)
    slopes = ", ".join(f"{grade:g} % {_slope_n(opening.gross_kg, grade):.0f} N" for grade in GRADES)
    return About(
        id=f"LATCH:{opening.name}",
        title=f"{opening.name} stays shut on the road and on a slope",
        about=opening.name,
        family=10,
        source=f"F = m g (a + sin theta); {rules.title}: {rules.source.text}",
        standing=rules.source.shown_as,
        load_case=f"{rules.name}: {push.opening:g} g towards its opening side, {push.names[0]}",
        working=(
            "F = a m g on the road; F = m g sin theta parked, friction left out",
            (
                f"{push.opening:g} x {opening.gross_kg:.1f} kg x {G:g} = "
                f"{push.opening * opening.gross_kg * G:.0f} N"
            ),
            f"parked on a slope towards its opening side: {slopes}",
            f"unlatched it rolls from {roll_out_angle_deg():.1f} degrees on",
        ),
    )


def _slope_n(mass_kg: float, grade: float) -> float:
    return latch_demand_n(
        mass_kg=mass_kg, fraction=0.0, angle_deg=grade_angle_deg(grade_percent=grade)
    )


def latch_finding(
    index: Index, block: BlockDesign, opening: OpeningDesign, fit: RunnerFit
) -> Finding:
    """Return the finding about the one latch or lock that is counted."""
    about = _about(index, block, opening)
    if not index.design.job.carry:
        return not_proved(about, needs=(NO_CARRY,))
    name = fit.latch or (f"the lock of {fit.runner.name}" if fit.runner.lock_in else "")
    if not name:
        return not_proved(
            about,
            needs=("a latch or a locking runner",),
            advice=_first_latch(index, block, opening),
        )
    capacity = _holding(index, opening, fit)
    if capacity is None:
        lacking = _force_of(fit, name)
        return not_proved(about, needs=(lacking,), advice=_first_latch(index, block, opening))
    found = _latched(index, block, opening, about, capacity, name)
    best = max((_of_item(row).value for row in _latches(index)), default=capacity.value)
    return advised(
        found,
        _latch_trials(index, block, opening, about),
        last=_less_in_it(
            opening,
            lambda less: _latched(
                index, block, less, about, replace(capacity, value=max(best, capacity.value)), name
            ),
        ),
    )


def _latch_trials(
    index: Index, block: BlockDesign, opening: OpeningDesign, about: About
) -> list[Trial]:
    """Return each latch of the shelf as a trial, weakest first."""
    return [
        Trial(
            words=row.name,
            find=partial(_latched, index, block, opening, about, _of_item(row), row.name),
        )
        for row in _latches(index)
    ]


def _less_in_it(
    opening: OpeningDesign, find: Callable[[OpeningDesign], Finding]
) -> Iterator[Trial]:
    """Yield trials with less in a drawer, the best latch of the shelf on it."""
    for share in (0.75, 0.5, 0.25):
        out = (1.0 - share) * opening.contents_kg
        less = replace(
            opening, contents_kg=opening.contents_kg - out, gross_kg=opening.gross_kg - out
        )
        yield Trial(
            words=f"{out:.0f} kg taken out of it, with the strongest latch of the shelf,",
            find=partial(find, less),
        )


def _force_of(fit: RunnerFit, name: str) -> str:
    if fit.latch:
        return f"catalogue hardware {name}: capacity_n, a working load in N"
    return asked_of(fit, "lock", "lock_n", "what one lock holds")


def _latches(index: Index) -> list[Hardware]:
    """Return latches of the shelf with a stated holding force, weakest first."""
    rows = [row for row in index.catalogue.hardware if row.kind == "latch" and row.capacity_n]
    return sorted(rows, key=lambda row: (row.capacity_n or 0.0, row.name))


def _first_latch(index: Index, block: BlockDesign, opening: OpeningDesign) -> tuple[str, ...]:
    missed: list[tuple[float, str]] = []
    trials = _latch_trials(index, block, opening, _about(index, block, opening))
    if line := first_pass(trials, missed):
        return (line,)
    if missed:
        use, name = min(missed)
        return (
            f"none of {len(missed)} latches of the shelf passes; nearest: {name}, at {use:.2f}",
        )
    return ("not tried: no latch on the shelf has a stated holding force",)


def _of_item(row: Hardware) -> Capacity:
    """Return a latch's holding force; a mean ultimate one is divided first."""
    capacity = Capacity(
        value=row.capacity_n or 0.0,
        unit="N",
        basis=row.basis,
        source=f"{row.name}: {row.origin.source}",
        standing=row.origin.standing,
    )
    return working(capacity) if row.basis == "mean ultimate" else capacity


def _holding(index: Index, opening: OpeningDesign, fit: RunnerFit) -> Capacity | None:
    """Return what holds a drawer, or None where no figure is stated."""
    if fit.latch:
        row = index.catalogue.item(fit.latch)
        return _of_item(row) if row.capacity_n is not None else None
    return stated_of(opening, fit, "lock")


def _latched(
    index: Index,
    block: BlockDesign,
    opening: OpeningDesign,
    about: About,
    capacity: Capacity,
    name: str,
) -> Finding:
    push = pushes(index.rules, block.face)
    told = replace(about, working=(*about.working, f"held by {name}; one of a pair is counted"))
    road = held(
        told,
        loads=(
            Load(kind="restraint", value=push.opening * opening.gross_kg * G, what=push.names[0]),
        ),
        capacity=capacity,
        rules=index.rules,
    )
    slope = held(
        replace(
            told, load_case=f"parked, {WORST_PARKED_GRADE_PERCENT:g} % towards its opening side"
        ),
        loads=_on_slope(opening, WORST_PARKED_GRADE_PERCENT),
        capacity=capacity,
    )
    return worst((road, slope))


def _on_slope(opening: OpeningDesign, grade: float) -> tuple[Load, ...]:
    return (
        Load(kind="contents", value=_slope_n(opening.contents_kg, grade)),
        Load(kind="own mass", value=_slope_n(moving_kg(opening), grade)),
    )


def _second_line(
    index: Index, block: BlockDesign, opening: OpeningDesign, fit: RunnerFit
) -> Finding:
    """Whether anything holds a drawer if its latch fails."""
    about = About(
        id=f"LATCH-SECOND:{opening.name}",
        title=f"Something stops {opening.name} if its latch fails",
        about=opening.name,
        family=10,
        source="common practice: a positive latch and a second line of defence",
        standing="common practice",
        load_case="on the road, latch failed",
    )
    bay = index.design.job.bay
    doorway = bay.opening(block.face)
    if block.face == "tail" and bay.tailgate is not None:
        what = "the shut tailgate or door before it"
    elif doorway is not None and doorway.height is not None:
        what = "the shut door before it"
    elif fit.latch and fit.runner.lock_in:
        what = f"the lock of its runner beside {fit.latch}"
    else:
        return not_proved(
            about,
            needs=("a second line of defence",),
            advice=("a strap across it, a second positive latch, or a door that shuts before it",),
        )
    return complete(replace(about, working=(f"second line: {what}",)), missing=())


def _open_about(opening: OpeningDesign) -> About:
    grade = WORST_PARKED_GRADE_PERCENT
    force = run_away_force_n(
        mass_kg=opening.gross_kg, angle_deg=grade_angle_deg(grade_percent=grade)
    )
    return About(
        id=f"STAYS-OPEN:{opening.name}",
        title=f"{opening.name} stays open on a slope",
        about=opening.name,
        family=10,
        source="F = m g (sin theta - mu cos theta), statics on an incline; mu 0.01 from memory",
        standing="from memory",
        load_case=f"parked, {grade:g} % towards its back, fully open",
        working=(
            f"F = m g (sin theta - mu cos theta) = {force:.0f} N for {opening.gross_kg:.1f} kg",
        ),
    )


def _stays_open(index: Index, opening: OpeningDesign, fit: RunnerFit) -> Finding:
    """Whether a lock keeps a drawer open against the slope."""
    about = _open_about(opening)
    if not index.design.job.carry:
        return not_proved(about, needs=(NO_CARRY,))
    capacity = stated_of(opening, fit, "lock") if fit.runner.lock_out else None
    if capacity is None:
        missing = (
            asked_of(fit, "lock", "lock_n", "what one lock holds")
            if fit.runner.lock_out
            else f'fill.lock = "out" or "in-out" with a runner that locks open (build.runner; '
            f"{fit.runner.name} does not), or a prop"
        )
        return not_proved(about, needs=(missing,), advice=_locking(index, opening, fit))
    angle = grade_angle_deg(grade_percent=WORST_PARKED_GRADE_PERCENT)
    own = moving_kg(opening)
    return held(
        about,
        loads=(
            Load(
                kind="contents",
                value=run_away_force_n(mass_kg=opening.contents_kg, angle_deg=angle),
            ),
            Load(kind="own mass", value=run_away_force_n(mass_kg=own, angle_deg=angle)),
        ),
        capacity=capacity,
        advice=_locking(index, opening, fit),
    )


def _locking(index: Index, opening: OpeningDesign, fit: RunnerFit) -> tuple[str, ...]:
    """Return a runner of the same length that locks open and holds, where the shelf has one."""
    angle = grade_angle_deg(grade_percent=WORST_PARKED_GRADE_PERCENT)
    force = run_away_force_n(mass_kg=opening.gross_kg, angle_deg=angle)
    rows = [
        runner
        for runner in index.catalogue.runners
        if runner.lock_out
        and (runner.lock_n or 0.0) * 0.9 >= force
        and runner.mount == fit.runner.mount
        and any(size.length == fit.size.length for size in runner.sizes)
    ]
    if not rows:
        return (
            (
                f"no runner of {fit.size.length:g} mm on the shelf holds it: a prop or a strap for "
                f"{force / 0.9:.0f} N (not tried)"
            ),
        )
    best = min(rows, key=lambda runner: (runner.thickness, runner.name))
    share = force / (best.lock_n or 1.0)
    return (f"{best.name} {fit.size.length:g}, which locks open, passes at {share:.2f}",)
