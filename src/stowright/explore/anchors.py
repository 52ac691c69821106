"""A plan of hold-down bolts: which, how many and of what kind, so that every carcass is proved.

Factory anchors come first, then the usual places: within 60 mm of an upright, on a packer, washer
clear of upright and runner, clear of what must not be drilled. A design has four bolts a carcass;
where fewer pass the plan takes the fewest, and where four do not do, the fewest that do, and among
as many the plainest: an angle or a larger plate before a larger thread. What cannot pass is said
with how far it got.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from stowright.design.build import design as design_of
from stowright.explore.anchors_fewer import fewest
from stowright.formulas.restraint import RuleSet, rule_set
from stowright.model.catalogue import Catalogue, Hardware, Washer
from stowright.model.design import Design
from stowright.model.given import AnchorPlan, Given, ModuleAnchors
from stowright.proofs.anchor_holds import Hold
from stowright.proofs.restraint_advice import more_holds, with_bolt, with_plate
from stowright.proofs.restraint_check import Held, Study, greatest_use, held_by, studied
from stowright.proofs.restraint_joined import joined_of
from stowright.proofs.tipping import use_when_out

__all__ = ["anchored", "plan_anchors"]

#: A carcass is proved up to this utilisation.
_PASS = 0.90
#: Bolts a carcass gets at most, and the designs that are made at most to try them.
_MOST_BOLTS, _MOST_ROUNDS = 10, 6
_USUAL = 4
#: A bolt this far from its upright still stands near it, and draws on more of the joint. [mm]
_STAND_OFF = 55.0


@dataclass(frozen=True, slots=True, kw_only=True)
class _Idea:
    """A way to hold a carcass that has been reckoned to pass."""

    row: ModuleAnchors
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class _Search:
    """What is looked for: ways by carcass, what its usual bolts reach, and who needs fewer."""

    ideas: dict[str, list[_Idea]]
    usual: dict[str, float]
    fewer: dict[str, ModuleAnchors]


def plan_anchors(design: Design, catalogue: Catalogue, given: Given | None = None) -> AnchorPlan:
    """Return how every carcass is to be held down; no row where it keeps its usual bolts.

    Args:
        design: The unit with its usual bolts.
        catalogue: The shelf that it was designed from.
        given: What other searches had settled for that design.
    """
    return anchored(design, catalogue, given)[0]


def anchored(
    design: Design, catalogue: Catalogue, given: Given | None = None
) -> tuple[AnchorPlan, Design]:
    """Return a plan of anchors with the design that follows it; arguments as ``plan_anchors``."""
    rules = rule_set(design.job.rules)
    study = studied(design, catalogue)
    wanting = [held for held in study.held if _wanting(held, rules)]
    fewer = {
        held.body.id: row
        for held in study.held
        if held not in wanting and (row := fewest(held, study, rules)) is not None
    }
    known, made = given or Given(), design
    if fewer:
        asked = fewer
        fewer, made = _stand(design, catalogue, known, asked)
        if not wanting and 0 < len(fewer) < len(asked):
            made = _designed(design, catalogue, known, fewer)
        if not fewer:
            made = design
    if not wanting:
        lines = tuple(_hopeless(study, rules, catalogue))
        return AnchorPlan(modules=_in_order(design, fewer), open=lines), made
    ideas = {held.body.id: list(_ideas(held, study, rules, catalogue)) for held in wanting}
    usual = {held.body.id: _use(held, rules) for held in wanting}
    plan = _tried(design, catalogue, known, _Search(ideas=ideas, usual=usual, fewer=fewer))
    if not plan.modules:
        return plan, design
    return plan, design_of(design.job, catalogue, replace(known, anchors=plan))


def _designed(
    design: Design, catalogue: Catalogue, given: Given, rows: dict[str, ModuleAnchors]
) -> Design:
    plan = AnchorPlan(modules=_in_order(design, rows))
    return design_of(design.job, catalogue, replace(given, anchors=plan))


def _stand(
    design: Design, catalogue: Catalogue, given: Given, rows: dict[str, ModuleAnchors]
) -> tuple[dict[str, ModuleAnchors], Design]:
    """Return those rows that the real design bears out, all bolts there and passing, with it."""
    rules = rule_set(design.job.rules)
    made = _designed(design, catalogue, given, rows)
    kept = {
        held.body.id: rows[held.body.id]
        for held in studied(made, catalogue).held
        if held.body.id in rows
        and len(held.holds) == len(rows[held.body.id].places)
        and _use(held, rules) <= _PASS
    }
    return kept, made


def _wanting(held: Held, rules: RuleSet) -> bool:
    """Whether a carcass has bolts, everything about them is known, and they do not do."""
    if not held.holds or held.open:
        return False
    return _use(held, rules) > _PASS


def _use(held: Held, rules: RuleSet) -> float:
    return max(greatest_use(held, rules), use_when_out(held))


def _hopeless(study: Study, rules: RuleSet, catalogue: Catalogue) -> Iterator[str]:
    for held in study.held:
        joined = None if held.holds else joined_of(study, held, rules, catalogue)
        if not held.holds and (joined is None or joined.use > 1.0):
            yield f"{held.body.name}: no place for a bolt was found"


def _ideas(held: Held, study: Study, rules: RuleSet, catalogue: Catalogue) -> Iterator[_Idea]:
    """Yield ways that are reckoned to pass, fewest bolts first, the plainest of each first."""
    floor = study.survey.of.job.bay.floor
    for count in range(max(_USUAL, len(held.holds)), _MOST_BOLTS + 1):
        holds = more_holds(held, count - len(held.holds)) if count > len(held.holds) else held.holds
        for changed, row, words in _kinds(held, holds, count, catalogue):
            other = held_by(held.body, changed, floor)
            if not other.open and _use(other, rules) <= _PASS:
                yield _Idea(row=row, words=words)


def _kinds(
    held: Held, holds: tuple[Hold, ...], count: int, catalogue: Catalogue
) -> Iterator[tuple[tuple[Hold, ...], ModuleAnchors, str]]:
    """Yield a number of bolts in every kind: plain, angled, larger plates, larger threads."""
    row = ModuleAnchors(block=held.body.block.name, module=held.body.module.name, count=count)
    yield holds, row, f"{count} bolts"
    angle, plate = _angle(catalogue), _plate(catalogue)
    off = tuple(_stood_off(hold) for hold in holds)
    apart = replace(row, stand_off=_STAND_OFF)
    yield off, apart, f"{count} bolts {_STAND_OFF:g} mm from the uprights"
    angled = tuple(replace(hold, angle=angle) for hold in holds)
    if angle is not None:
        yield angled, replace(row, angle=angle.name), f"{count} bolts with {angle.name} each"
    if plate is not None and any(hold.plate for hold in holds):
        wide = tuple(with_plate(hold, plate.outside, plate.thickness) for hold in holds)
        yield wide, replace(row, plate=plate.name), f"{count} bolts on {plate.name}"
    bolt = next(
        (b for b in catalogue.bolts if (b.thread, b.grade, b.head) == ("M10", "8.8", "hex")), None
    )
    if bolt is not None:
        large = tuple(with_bolt(hold, bolt, catalogue) for hold in holds)
        yield large, replace(row, thread=bolt.thread), f"{count} bolts {bolt.thread}"
        off = tuple(_stood_off(hold) for hold in large)
        apart = replace(apart, thread=bolt.thread)
        yield off, apart, f"{count} bolts {bolt.thread} {_STAND_OFF:g} mm from the uprights"
        if angle is not None:
            both = tuple(replace(hold, angle=angle) for hold in large)
            row = replace(row, thread=bolt.thread, angle=angle.name)
            yield both, row, f"{count} bolts {bolt.thread} with {angle.name} each"


def _stood_off(hold: Hold) -> Hold:
    """Return a new bolt as far from its upright as is allowed; factory anchors stay."""
    return hold if hold.existing else replace(hold, arm_mm=max(hold.arm_mm, _STAND_OFF))


def _angle(catalogue: Catalogue) -> Hardware | None:
    rows = [h for h in catalogue.hardware if h.kind == "bracket" and h.name.startswith("angle")]
    return max(rows, key=lambda row: row.size, default=None)


def _plate(catalogue: Catalogue) -> Washer | None:
    rows = [w for w in catalogue.washers if w.shape == "square" and w.thread == "M8"]
    return max(rows, key=lambda row: (row.outside, row.thickness), default=None)


def _tried(
    design: Design,
    catalogue: Catalogue,
    given: Given,
    search: _Search,
) -> AnchorPlan:
    """Design the unit with the first idea of each carcass, then the next where it does not do."""
    rules, ideas, usual = rule_set(design.job.rules), search.ideas, search.usual
    best: dict[str, tuple[float, ModuleAnchors]] = {}
    turn = dict.fromkeys(ideas, 0)
    for _ in range(_MOST_ROUNDS):
        rows = {
            name: ideas[name][turn[name]].row
            for name in ideas
            if turn[name] < len(ideas[name]) and (name not in best or best[name][0] > _PASS)
        }
        if not rows:
            break
        kept = {name: row for name, (use, row) in best.items() if use <= _PASS}
        plan = AnchorPlan(modules=_in_order(design, {**search.fewer, **kept, **rows}))
        study = studied(design_of(design.job, catalogue, replace(given, anchors=plan)), catalogue)
        for held in study.held:
            name = held.body.id
            if name not in rows:
                continue
            use = _use(held, rules)
            words = ideas[name][turn[name]].words
            row = replace(rows[name], use=round(use, 4), why=f"{words}: {use:.2f}")
            if use < min(usual[name], best[name][0] if name in best else use + 1.0) - 1.0e-9:
                best[name] = (use, row)
            turn[name] += 1
            if rows[name].angle and use > _PASS:
                # Where angles find no room once they will not with more bolts either.
                ideas[name] = [
                    idea
                    for n, idea in enumerate(ideas[name])
                    if n < turn[name] or not idea.row.angle
                ]
    return _settled(design, best, search)


def _settled(
    design: Design, best: dict[str, tuple[float, ModuleAnchors]], search: _Search
) -> AnchorPlan:
    """Return the best of each carcass, and what could not be made to pass."""
    lines = []
    for name, use in search.usual.items():
        reached, how = use, "the usual bolts"
        if name in best:
            reached, how = best[name][0], best[name][1].why.rpartition(":")[0]
        if reached > _PASS:
            lines.append(
                f"{name}: no number or kind of bolts was found to pass under {design.job.rules}; "
                f"{how} reach {reached:.2f}; carry less in it, or bolt through a cross-member"
            )
    rows = search.fewer | {name: row for name, (_, row) in best.items()}
    return AnchorPlan(modules=_in_order(design, rows), open=tuple(lines))


def _in_order(design: Design, rows: dict[str, ModuleAnchors]) -> tuple[ModuleAnchors, ...]:
    names = [f"{block.name}/{m.name}" for block in design.blocks for m in block.modules]
    return tuple(rows[name] for name in names if name in rows)
