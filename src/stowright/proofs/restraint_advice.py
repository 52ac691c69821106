"""Advice about hold-down bolts, each piece tried before it is given: what would it pass at?"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from stowright.formulas.restraint import RuleSet
from stowright.model.bay import Floor
from stowright.model.catalogue import Bolt, Catalogue, Washer
from stowright.proofs.anchor_holds import Hold
from stowright.proofs.anchor_strengths import LinkName
from stowright.proofs.restraint_bodies import Survey
from stowright.proofs.restraint_check import Held, held_by, terms_of, worst_of
from stowright.proofs.restraint_forces import cases_of

__all__ = ["advice_for", "more_holds", "with_bolt", "with_plate"]

#: A remedy is given when it passes; the most that are given.
_PASS, _MOST = 0.90, 3
#: A structural member that is bolted through is at least this thick (assumed). [mm]
_MEMBER = 3.0
#: Thicknesses of a steel load floor that are tried where the job gives none. [mm]
_FLOORS = (0.7, 1.0, 1.5)

type Try = tuple[str, tuple[Hold, ...], Floor | None]


def advice_for(
    survey: Survey,
    held: Held,
    rules: RuleSet,
    catalogue: Catalogue,
    names: tuple[LinkName, ...],
    *,
    lacking: bool = False,
) -> tuple[str, ...]:
    """Return remedies that pass, with the utilisation of the links asked about; else the best one.

    Args:
        survey: The design.
        held: The body on its bolts.
        rules: The rule set.
        catalogue: The shelf.
        names: The links that are to pass.
        lacking: True when an input is lacking rather than strength.
    """
    tried: list[tuple[float, str]] = []
    for text, holds, floor in _tries(survey, held, catalogue, lacking=lacking):
        other = held_by(held.body, holds, floor)
        if any(gap.name in names for _, gap in other.open):
            continue
        worst = worst_of(other, rules)
        use = max((worst[name].use for name in names if name in worst), default=float("inf"))
        tried.append((use, text))
        if sum(1 for found, _ in tried if found <= _PASS) == _MOST:
            break
    passed = [f"{text}: passes at {use:.2f}" for use, text in tried if use <= _PASS]
    tie = () if lacking else _tie(survey, held, rules, names)
    if passed:
        return (*passed, *tie)[:_MOST]
    if not tried:
        return ()
    use, text = min(tried)
    if use == float("inf"):
        return (f"state what lacks: {text} it can turn, or is pulled where nothing holds",)
    return (f"{text}: still {use:.2f}", *tie, "carry less in it")


def _tie(
    survey: Survey, held: Held, rules: RuleSet, names: tuple[LinkName, ...]
) -> tuple[str, ...]:
    """Return what a bracket would have to take so that no bolt is pulled, where that is enough.

    To a factory anchor in a wall or the roof that is stated to hold it, else to one that lacks yet.
    """
    group = held.group
    if group is None:
        return ()
    moment, way = max(
        (group.forces(case, factor=1.0).net_n_mm, case.way) for case in cases_of(rules, group)
    )
    top = held.body.module.box.z.high - held.body.pivot_z
    if not moment > 0.0 or not top > 0.0 or _sideways_use(held, rules, names) > _PASS:
        return ()
    for anchor in survey.of.job.bay.anchors:
        up = min(anchor.z - held.body.pivot_z, top)
        if anchor.surface == "floor" or not anchor.tension or not up > 0.0:
            continue
        use = moment / up / anchor.tension
        if use <= _PASS:
            found = (
                f"a stiff bracket to {anchor.what} ({anchor.surface}), {up:.0f} mm up: takes the "
                f"pull off the bolts and passes at {use:.2f}"
            )
            return (found,)
    text = (
        f"a stiff bracket from its top to an anchor in wall or roof: {moment / top:.0f} N against "
        f"{way} at {top:.0f} mm takes the pull off the bolts"
    )
    return (text,)


def _sideways_use(held: Held, rules: RuleSet, names: tuple[LinkName, ...]) -> float:
    """Return the worst use of links by sideways forces alone."""
    worst = 0.0
    group = held.group
    for case in cases_of(rules, group) if group else ():
        for basis in ("characteristic", "allowable"):
            factor, divisor = terms_of(rules, basis)
            shears = group.forces(case, factor=factor).shears if group else ()
            for shear, links in zip(shears, held.links, strict=False):
                for link in links:
                    if link.basis == basis and link.name in names:
                        worst = max(worst, divisor * shear / link.shear)
    return worst


def _tries(survey: Survey, held: Held, catalogue: Catalogue, *, lacking: bool) -> Iterator[Try]:
    floor = survey.of.job.bay.floor
    holds = held.holds
    if lacking:
        yield from _floors(holds, floor)
        yield from _without_unknown(held, floor)
        yield from _angles(holds, catalogue, floor)
        return
    two, four = more_holds(held, 2), more_holds(held, 4)
    thread = _thread(holds)
    yield f"two more {thread}", two, floor
    yield from _angles(holds, catalogue, floor)
    yield from _plates(holds, catalogue, floor)
    yield from _bolts(holds, catalogue, floor)
    yield f"four more {thread}", four, floor
    if floor is not None and floor.thickness < _MEMBER:
        member = replace(floor, thickness=_MEMBER)
        yield f"the bolts through a cross-member of {_MEMBER:g} mm", holds, member
        yield f"two more {thread} through a cross-member of {_MEMBER:g} mm", two, member


def _floors(holds: tuple[Hold, ...], floor: Floor | None) -> Iterator[Try]:
    """Yield the bolts in floors that a vehicle may have, where the job does not say which."""
    if floor is not None:
        return
    for thickness in _FLOORS:
        steel = Floor(
            material="steel", thickness=thickness, rib_depth=0.0, rib_pitch=0.0, ribs_run="none"
        )
        yield f"were bay.floor steel of {thickness:g} mm (measure it)", holds, steel


def _thread(holds: Sequence[Hold]) -> str:
    new = [hold for hold in holds if hold.existing is None] or list(holds)
    return new[0].bolt.thread


def _without_unknown(held: Held, floor: Floor | None) -> Iterator[Try]:
    """Yield the body on those bolts alone of which everything is known."""
    unknown = {hold.id for hold, _ in held.open}
    rest = tuple(hold for hold in held.holds if hold.id not in unknown)
    if rest and len(rest) < len(held.holds):
        yield f"counting only {', '.join(hold.id for hold in rest)}", rest, floor


def _angles(holds: Sequence[Hold], catalogue: Catalogue, floor: Floor | None) -> Iterator[Try]:
    angles = [h for h in catalogue.hardware if h.kind == "bracket" and h.name.startswith("angle")]
    for angle in sorted(angles, key=lambda h: h.size):
        yield (
            f"{angle.name} at each bolt, floor to upright, where runner and drawer leave room",
            tuple(replace(hold, angle=angle) for hold in holds),
            floor,
        )


def _plates(holds: Sequence[Hold], catalogue: Catalogue, floor: Floor | None) -> Iterator[Try]:
    if not any(hold.plate for hold in holds):
        return
    largest = max(hold.plate.outside for hold in holds if hold.plate)
    rows = [w for w in catalogue.washers if w.shape == "square" and w.outside > largest]
    sizes = {(w.outside, w.thickness) for w in rows} | {(80.0, 5.0), (100.0, 5.0)}
    for side, thick in sorted(sizes):
        changed = tuple(with_plate(hold, side, thick) for hold in holds)
        yield f"spreader plates {side:g} × {side:g} × {thick:g}", changed, floor


def with_plate(hold: Hold, side: float, thick: float) -> Hold:
    """Return a hold with another spreader plate; one without a plate stays as it is."""
    if hold.plate is None:
        return hold
    plate: Washer = replace(hold.plate, outside=side, thickness=thick)
    return replace(hold, plate=plate)


def _bolts(holds: Sequence[Hold], catalogue: Catalogue, floor: Floor | None) -> Iterator[Try]:
    new = [hold for hold in holds if hold.existing is None]
    if not new:
        return
    now = max(hold.bolt.diameter for hold in new)
    larger = sorted({b.diameter for b in catalogue.bolts if b.diameter > now})
    for diameter, grade in [(now, "8.8"), *((d, "8.8") for d in larger), (now, "10.9")]:
        bolt = next(
            (
                b
                for b in catalogue.bolts
                if (b.diameter, b.grade, b.head) == (diameter, grade, "hex")
            ),
            None,
        )
        if bolt is not None:
            yield (
                f"{bolt.thread} {grade} hexagon bolts with timber washers",
                tuple(with_bolt(hold, bolt, catalogue) for hold in holds),
                floor,
            )


def with_bolt(hold: Hold, bolt: Bolt, catalogue: Catalogue) -> Hold:
    """Return a hold with another bolt, nut and washer; factory threads stay as they are."""
    if hold.existing is not None:
        return hold
    round_ones = [w for w in catalogue.washers if w.thread == bolt.thread and w.shape == "round"]
    nut = next((n for n in catalogue.nuts if n.thread == bolt.thread), hold.nut)
    washer = max(round_ones, key=lambda w: w.outside, default=hold.washer)
    return replace(hold, bolt=bolt, nut=nut, washer=washer)


def more_holds(held: Held, count: int) -> tuple[Hold, ...]:
    """Return the bolts of a body with further ones beside the outer uprights, spread evenly.

    They are trials: whether a bolt has room there is found out when the unit is designed.
    """
    new = [hold for hold in held.holds if hold.existing is None] or list(held.holds)
    along = 0 if held.body.block.face == "tail" else 1
    sides = sorted(new, key=lambda hold: (hold.x, hold.y)[1 - along])
    low, high = sides[0], sides[-1]
    reach = [(hold.x, hold.y)[along] for hold in held.holds]
    span = (held.body.x, held.body.y)[along]
    first, last = (min(reach), max(reach)) if len(reach) > 1 else (span.low, span.high)
    rows = (count + 1) // 2
    added: list[Hold] = []
    for row in range(1, rows + 1):
        at = first + (last - first) * row / (rows + 1)
        for like in (low, high):
            moved = replace(like, x=at) if along == 0 else replace(like, y=at)
            added.append(replace(moved, id=f"new {len(added) + 1}"))
    return (*held.holds, *added[:count])
