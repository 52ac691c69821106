"""Runners: gross mass against the derated rating, sideways push, shock on the shut stop."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from functools import partial
from typing import Literal

from stowright.design.back_stops import on_uprights, stops_of
from stowright.design.runner_choice import rating_factors
from stowright.formulas.runners import derated_kg
from stowright.model.catalogue import Material, Runner, RunnerSize
from stowright.model.design import BlockDesign, OpeningDesign, RunnerFit
from stowright.model.finding import Finding
from stowright.proofs.basis import Capacity, Load, held, held_or_told, sheet_strength
from stowright.proofs.index import NO_CARRY, G, Index
from stowright.proofs.joint_holds import sheared
from stowright.proofs.judge import About, not_proved, weakest
from stowright.proofs.push import moving_kg, pushes
from stowright.proofs.runner_fixings import runner_fixing_findings
from stowright.proofs.screws import sideways
from stowright.proofs.stop_blocks import NOT_COUNTED, blocks_offered, held_by_blocks
from stowright.proofs.tried import Trial, advised

__all__ = ["asked_of", "runner_finding", "runner_findings", "stated_of"]

FACTORS_FROM = "factors: a runner maker's notes and judgement, from memory; adjustable"
#: Guide screws looked at: this size, by these counts.
GUIDE_SCREW, GUIDE_COUNTS = "screw-8g-25", range(2, 13)
_STATED = {"lateral": "lateral rating", "stop": "shut stop", "lock": "lock"}


def runner_findings(index: Index) -> Iterator[Finding]:
    """Yield findings about every pair of runners and what fastens them."""
    for block, opening in index.openings():
        fit = opening.runner
        if fit is not None:
            yield runner_finding(index, opening, fit)
            yield _sideways(index, block, opening, fit)
            yield held_or_told(
                _stop_about(index, block, opening),
                partial(_stop, index, block, opening),
            )
            yield from runner_fixing_findings(index, block, opening, fit)


def _rated(
    runner: Runner, size: RunnerSize, opening: OpeningDesign, width: float
) -> tuple[float, str]:
    """Return what a pair may carry here, and the product in words."""
    factors = rating_factors(runner, size, box_width=width, table=opening.build.runner_factors)
    allowed = derated_kg(rating_kg=size.rating_kg, factors=factors)
    said = "".join(f" x {name} {value:.3g}" for name, value in factors.items())
    return allowed, f"{size.rating_kg:g} kg per pair{said} = {allowed:.1f} kg"


def _judged(
    opening: OpeningDesign,
    *,
    pair: tuple[Runner, RunnerSize],
    width: float,
    moving: float,
    contents: float,
    aside: float = 0.0,
) -> Finding:
    """Hold a gross mass against one runner of the shelf.

    ``aside`` is what the heavier side carries more than the lighter one: as a pair loaded evenly
    it would carry so much more. [kg]
    """
    runner, size = pair
    allowed, product = _rated(runner, size, opening, width)
    about = About(
        id=f"RUNNER:{opening.name}",
        title=f"Runners of {opening.name} carry its gross mass",
        about=opening.name,
        family=4,
        source="",
        standing="from memory",
        load_case="in use and on the road, fully loaded; road shock is in the vehicle factor",
        working=(
            "allowed = rating x factors, each named and adjustable (build.runner_factors)",
            product,
            f"basis of the rating: {runner.basis}",
            (
                f"gross = moving parts {moving:.1f} kg + contents {contents:.1f} kg = "
                f"{moving + contents:.1f} kg"
            ),
            *_said_aside(moving + contents, aside),
        ),
    )
    return held(
        about,
        loads=(
            Load(kind="contents", value=contents),
            Load(kind="own mass", value=moving, what="moving parts"),
            *((Load(kind="contents", value=aside, what="off the middle"),) if aside else ()),
        ),
        capacity=Capacity(
            value=allowed,
            unit="kg",
            basis="allowable",
            source=f"{runner.origin.source}; {FACTORS_FROM}",
            standing=weakest(runner.origin.standing, "from memory"),
        ),
    )


def _said_aside(gross: float, aside: float) -> tuple[str, ...]:
    """Return in words what each side of a pair carries, where that differs."""
    if not aside:
        return ()
    more, less = (gross + aside) / 2.0, (gross - aside) / 2.0
    return (
        (
            f"by where things lie the heavier side carries {more:.1f} kg, the lighter {less:.1f} "
            f"kg: as a pair {gross + aside:.1f} kg"
        ),
    )


def _aside(index: Index, opening: OpeningDesign, width: float) -> float:
    """Return what one side of an opening carries more than the other, by where things lie. [kg].

    Without a packing the load lies in the middle.
    """
    packed = index.design.packed
    if packed is None:
        return 0.0
    block = next(row for row in index.design.blocks if row.name == opening.block)
    tail = block.face == "tail"
    middle = opening.usable.y.middle if tail else opening.usable.x.middle
    turning = sum(
        thing.mass_kg * ((thing.box.y.middle if tail else thing.box.x.middle) - middle)
        for thing in packed.things
        if thing.opening == opening.name
    )
    return round(abs(2.0 * turning / width), 3)


def runner_finding(index: Index, opening: OpeningDesign, fit: RunnerFit) -> Finding:
    """Return the finding about an opening's runners carrying its gross mass."""
    width = opening.box.width if opening.box else opening.width
    moving, contents = moving_kg(opening), opening.contents_kg
    here, aside = (fit.runner, fit.size), _aside(index, opening, width)
    found = _judged(opening, pair=here, width=width, moving=moving, contents=contents, aside=aside)
    allowed = found.capacity or 0.0
    if not index.design.job.carry:
        about = About(
            id=found.id,
            title=found.title,
            about=found.about,
            family=4,
            source=found.source,
            standing=found.standing,
            load_case=found.load_case,
            working=found.working,
        )
        left = 0.9 * allowed - moving
        return not_proved(
            about, needs=(NO_CARRY,), advice=(f"it may carry {left:.0f} kg of contents",)
        )
    over = float(math.ceil(moving + contents + aside - 0.9 * allowed))

    def other(pair: tuple[Runner, RunnerSize]) -> Trial:
        runner, size = pair
        wide = opening.width - 2.0 * runner.side_space.aim
        longer = moving * size.length / fit.size.length
        return Trial(
            words=f"{runner.name} {size.length:g}",
            find=lambda: _judged(
                opening, pair=pair, width=wide, moving=longer, contents=contents, aside=aside
            ),
        )

    def split() -> Finding:
        return _judged(
            opening,
            pair=here,
            width=width / 2.0,
            moving=0.6 * moving,
            contents=contents / 2.0,
        )

    def lighter() -> Finding:
        less = contents - over
        share = aside * less / contents
        return _judged(opening, pair=here, width=width, moving=moving, contents=less, aside=share)

    ways = [
        [other(pair) for pair in _longer(opening, fit)],
        [other(pair) for pair in _stronger(index, opening, fit)],
        [Trial(words="split into two drawers of half the width, each", find=split)],
    ]
    if over < contents:
        ways.append([Trial(words=f"{over:.0f} kg of contents taken out", find=lighter)])
    return advised(found, *ways, otherwise=("less in it: no runner on the shelf carries this",))


def _room(opening: OpeningDesign, fit: RunnerFit) -> float:
    """Return the longest runner that the depth of an opening takes. [mm]."""
    return opening.depth - fit.set_back - opening.build.back_room + 1.0e-6


def _longer(opening: OpeningDesign, fit: RunnerFit) -> Iterator[tuple[Runner, RunnerSize]]:
    """Yield the lengths up of the same runner that go in."""
    for size in fit.runner.sizes:
        if fit.size.length < size.length <= _room(opening, fit):
            yield fit.runner, size


def _stronger(
    index: Index, opening: OpeningDesign, fit: RunnerFit
) -> Iterator[tuple[Runner, RunnerSize]]:
    """Yield runners of other families that go in and carry more, the lightest first."""
    lock = set(fit.lock.split("-")) if fit.lock else set()
    rows = [
        (runner, size)
        for runner in index.catalogue.runners
        if runner.name != fit.runner.name and runner.mount == fit.runner.mount
        for size in runner.sizes
        if size.length <= _room(opening, fit)
        and size.length >= 0.8 * fit.size.length
        and size.rating_kg > fit.size.rating_kg
        and ("in" not in lock or runner.lock_in)
        and ("out" not in lock or runner.lock_out)
    ]
    yield from sorted(rows, key=lambda row: (row[1].rating_kg, -row[1].length, row[0].name))


def _sideways(index: Index, block: BlockDesign, opening: OpeningDesign, fit: RunnerFit) -> Finding:
    push = pushes(index.rules, block.face)
    force = push.across * opening.gross_kg * G
    about = _pushed(
        index,
        opening,
        code="RUNNER-SIDEWAYS",
        title=f"{opening.name} is not pushed off its runners sideways",
        formula="F = a m g on one pair",
        share=push.across,
        way=f"across the runners, {push.names[2]}",
    )
    rating = stated_of(opening, fit, "lateral")
    if not index.design.job.carry:
        return not_proved(about, needs=(NO_CARRY,))
    guide = _guide(index, opening, force)
    if rating is None:
        needs = (asked_of(fit, "lateral", "lateral_rating_n", "a lateral rating of a pair"),)
        return not_proved(about, needs=needs, advice=guide)
    return held(
        about,
        loads=(Load(kind="restraint", value=force, what=push.names[2]),),
        capacity=rating,
        advice=guide,
    )


def stated_of(
    opening: OpeningDesign, fit: RunnerFit, what: Literal["lateral", "stop", "lock"]
) -> Capacity | None:
    """Return what is stated of a runner: in the job for the one in hand, else in the catalogue."""
    own: float | None = getattr(opening.build.runner_stated, what)
    rows = {
        "lateral": fit.runner.lateral_rating_n,
        "stop": fit.runner.stop_n,
        "lock": fit.runner.lock_n,
    }
    value = rows[what] if own is None else own
    if value is None:
        return None
    told = fit.runner.origin.source if own is None else "the maker's, as the job says"
    return Capacity(
        value=value,
        unit="N",
        basis="allowable",
        source=f"{_STATED[what]} of {fit.runner.name}: {told}",
        standing=fit.runner.origin.standing if own is None else "assumed",
    )


def asked_of(fit: RunnerFit, key: str, column: str, what: str) -> str:
    """Return how a figure of a runner is entered, in the job or in the shop's catalogue."""
    return (
        f"build.runner_stated.{key}: {what}, a force in N as the maker of {fit.runner.name} "
        f"states it (or catalogue runners.{column})"
    )


def _guide(index: Index, opening: OpeningDesign, force: float) -> tuple[str, ...]:
    """Return a guide strip that takes the push instead, with the screws that it was tried with."""
    screw = next((row for row in index.catalogue.screws if row.name == GUIDE_SCREW), None)
    wall = _bound(index, opening, 0)
    if screw is None or wall is None:
        return ()
    strip = min(12.0, wall.thickness)
    hold = sideways(
        screw,
        head=wall,
        head_mm=strip,
        point=wall,
        point_mm=min(screw.length - strip, wall.thickness),
        into_edge=False,
        service_class=index.service_class,
    )
    demand = 1.5 * force
    for count in GUIDE_COUNTS:
        share = demand / (count * hold.counted.value)
        if share <= 0.9:
            return (
                (
                    f"a guide strip on the upright each side, {count} {screw.name} and a slip "
                    f"strip between it and the box, takes {force:.0f} N at {share:.2f}"
                ),
                "a stop at its back so that it cannot climb out of the guide",
            )
    return (f"a guide each side that takes {force:.0f} N",)


def _bound(index: Index, opening: OpeningDesign, side: int) -> Material | None:
    """Return the sheet of the upright left (0) or right (1) of an opening."""
    piece = index.pieces.get(opening.bounds[side])
    return index.material(piece) if piece is not None else None


def _walls(index: Index, opening: OpeningDesign) -> tuple[Material, ...]:
    """Return the sheets of the uprights beside an opening, the left one first."""
    found = (_bound(index, opening, side) for side in (0, 1))
    return tuple(wall for wall in found if wall is not None)


def _pushed(
    index: Index,
    opening: OpeningDesign,
    *,
    code: str,
    title: str,
    formula: str,
    share: float,
    way: str,
) -> About:
    """Return what a proof is about that holds a drawer's gross mass against a push."""
    rules = index.rules
    return About(
        id=f"{code}:{opening.name}",
        title=title,
        about=opening.name,
        family=4,
        source=f"F = a m g; {rules.title}: {rules.source.text}",
        standing=rules.source.shown_as,
        load_case=f"{rules.name}: {share:g} g {way}",
        working=(
            formula,
            f"{share:g} x {opening.gross_kg:.1f} kg x {G:g} = {share * opening.gross_kg * G:.0f} N",
        ),
    )


def _stop_about(index: Index, block: BlockDesign, opening: OpeningDesign) -> About:
    push = pushes(index.rules, block.face)
    return _pushed(
        index,
        opening,
        code="RUNNER-STOP",
        title=f"The shut stop of {opening.name} takes the push of its gross mass",
        formula="F = a m g",
        share=push.shutting,
        way=f"towards its back, {push.names[1]}",
    )


def _stop(index: Index, block: BlockDesign, opening: OpeningDesign) -> Finding:
    push = pushes(index.rules, block.face)
    force = push.shutting * opening.gross_kg * G
    about = _stop_about(index, block, opening)
    if not index.design.job.carry:
        return not_proved(about, needs=(NO_CARRY,))
    load = Load(kind="restraint", value=force, what=push.names[1])
    fit = opening.runner
    stated = stated_of(opening, fit, "stop") if fit else None
    bearing = _front_bearing(index, opening)
    if bearing is not None:
        return held(about, loads=(load,), capacity=bearing, rules=index.rules)
    walls = _walls(index, opening)
    helps = blocks_offered(index, walls[:1], force)
    first = None
    if stated is not None:
        first = held(about, loads=(load,), capacity=stated, rules=index.rules, advice=helps)
        if first.status == "pass":
            return first
    if not stops_of(opening.name, index.design.hardware):
        second = None
    elif on_uprights(_behind(index, opening)):
        second = held_by_blocks(index, opening.name, walls, about, load)
    else:
        second = _against_back(index, block, opening, about, load)
    if second is not None and second.status in {"pass", "warn"}:
        return replace(second, advice=helps if second.status == "warn" else ())
    if first is not None:
        return first
    needs = (
        asked_of(fit, "stop", "stop_n", "what the shut stops of a pair take") if fit else "a stop"
    )
    return not_proved(about, needs=(needs,), advice=helps)


def _behind(index: Index, opening: OpeningDesign) -> float:
    """Return the room behind a box. [mm]."""
    name = f"{opening.name}: behind the box"
    return next((gap.sum for gap in index.design.gaps if gap.name == name), 0.0)


def _against_back(
    index: Index, block: BlockDesign, opening: OpeningDesign, about: About, load: Load
) -> Finding | None:
    """Return what the carcass back holds where a box stands on it; None where it is no panel.

    The stops stand beside the uprights, so that the panel is sheared at its joints, hardly bent.
    """
    back = next(
        (
            p
            for p in index.of_role("carcass-back")
            if (p.block, p.module) == (block.name, opening.module)
        ),
        None,
    )
    if back is None:
        return None
    joints = [
        joint
        for joint in index.joints.get(back.id, [])
        if (other := index.pieces.get(next(n for n in joint.parts if n != back.id))) is not None
        and other.role in {"carcass-side", "partition", "carcass-floor", "floor-rail"}
    ]
    if not joints:
        return None
    told = replace(
        about,
        title=f"Something stops {opening.name} towards its back",
        working=(
            *about.working,
            NOT_COUNTED,
            "second line: the box stands on rubber stops, pressed when shut, on the carcass back",
        ),
    )
    return sheared(index, told, joints=joints, loads=(load,), rules=index.rules)


def _front_bearing(index: Index, opening: OpeningDesign) -> Capacity | None:
    """Return what an overlay front bears on the edges of the carcass; None for an inset one."""
    front = opening.front
    if front is None or opening.build.front != "overlay":
        return None
    wall = _bound(index, opening, 0)
    if wall is None:
        return None
    lap = max(0.0, (front[0] - opening.width) / 2.0)
    area = 2.0 * lap * min(front[1], opening.height)
    if not area > 0.0:
        return None
    strength = sheet_strength(
        wall,
        strength=wall.f_compression,
        duration="instantaneous",
        service_class=index.service_class,
    )
    return replace(
        strength,
        value=area * strength.value,
        unit="N",
        working=(
            *strength.working,
            (
                f"the overlay front bears on the carcass: A f = {area:.0f} mm² x "
                f"{strength.value:.1f} N/mm² = {area * strength.value:.0f} N"
            ),
        ),
    )
