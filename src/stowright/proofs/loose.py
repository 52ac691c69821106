"""Nothing is loose: what can move has a positive hold that takes what the road puts on it.

Lids, lift-out deck pieces, dividers, what stands in open spaces and on trays, what lies on the
deck. A hold is worth its working load; where there are two, one is counted.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import ceil

from stowright.formulas.gravity import GRAVITY_M_S2
from stowright.formulas.restraint import CRASH_INFORMATION, RuleSet, restraint_force_n, rule_set
from stowright.model.catalogue import Catalogue, Hardware
from stowright.model.design import Design, LooseThing, OpeningDesign
from stowright.model.finding import Finding
from stowright.proofs.deck_cargo import cargo_by_name, deck_cargo_findings
from stowright.proofs.judge import About, complete, not_proved, ratio, weakest
from stowright.proofs.loose_holds import BRACKET_N
from stowright.proofs.tie_rails import rail_findings

__all__ = ["hold_demand_n", "loose_findings"]

_FAMILY = 9
#: Joined to something by a hinge, a runner or a hold instead of a joint of its own.
_HUNG = frozenset({"door", "wing-lid", "deck", "packer"})
_STRAPS = ("cam-strap-25", "ratchet-strap-25")
_MOST_STRAPS = 4


def loose_findings(design: Design, catalogue: Catalogue) -> Iterator[Finding]:
    """Yield findings about everything that could come loose."""
    rules = rule_set(design.job.rules)
    riding = cargo_by_name(design)
    things = (*design.loose, *_on_trays(design))
    for thing in things:
        if (thing.what, thing.where) not in riding:
            yield _thing(design, _laden(design, thing), rules, catalogue)
    yield from deck_cargo_findings(design, catalogue)
    yield from rail_findings(design, catalogue)
    yield from _unsaid(design, rules)
    yield from _pieces(design)
    laden = {deck for _, deck in riding}
    for deck in design.job.decks:
        if deck.name not in laden:
            yield _deck_cargo(design, deck.name, rules)
    yield from _people(design, rules)


def _on_trays(design: Design) -> Iterator[LooseThing]:
    """Yield what stands on a tray and is in no account of loose things yet."""
    told = {thing.where for thing in design.loose}
    for opening in _openings(design):
        if opening.fill == "tray" and opening.name not in told:
            for what, count in opening.carried:
                mass = next((i.mass for i in design.job.carry if i.what == what), 0.0)
                yield LooseThing(what=what, where=opening.name, mass_kg=mass * count, held_by="")


def _unsaid(design: Design, rules: RuleSet) -> Iterator[Finding]:
    """Yield open spaces and trays of which the job does not say what stands there."""
    nets = {f.name for b in design.job.blocks for c in b.columns for f in c.stack if f.net}
    for opening in _openings(design):
        if opening.fill not in {"open", "through", "tray"} or opening.carried:
            continue
        if opening.name in nets:
            continue
        yield not_proved(
            About(
                id=f"LOOSE-SPACE:{opening.name}",
                title=f"Whatever stands in {opening.name} has a positive hold",
                about=opening.name,
                family=_FAMILY,
                source=f"{rules.title}; everything that can move is held (common practice)",
                standing=weakest("common practice", rules.source.shown_as),
                load_case=rules.name,
            ),
            needs=(f"carry: what stands in {opening.name} (goes_in), or a net across it",),
            advice=("a net across it (net = true), or straps to rings for each thing",),
        )


def _laden(design: Design, thing: LooseThing) -> LooseThing:
    """Return a lift-out piece of a deck with its share of the cargo that is tied to it."""
    pieces = [row for row in design.loose if row.where == thing.where]
    cargo = [row for row in design.deck_cargo if row.deck == thing.where]
    names = {row.what for row in cargo}
    lids = [row for row in pieces if row.what not in names]
    mass = sum(row.mass_kg for row in cargo if row.on_unit)
    if not mass or thing not in lids:
        return thing
    return replace(thing, mass_kg=thing.mass_kg + mass / len(lids))


def _openings(design: Design) -> tuple[OpeningDesign, ...]:
    return tuple(o for block in design.blocks for o in block.openings)


def hold_demand_n(
    rules: RuleSet, *, mass_kg: float, fill: str = "", face: str = "tail"
) -> tuple[float, str]:
    """Return what a hold has to take, as a working load, and which way. [N].

    In an open space only the way out counts; in one that is open at both ends the harder of the
    two; everything else may be thrown any way.

    Args:
        rules: The rule set.
        mass_kg: Mass of what is held.
        fill: ``open``, ``through`` or anything else.
        face: Which way the space opens.
    """
    ways = {"forward": rules.forward, "rearward": rules.rear, "sideways": rules.side}
    if fill == "open":
        ways = {"rearward": rules.rear} if face == "tail" else {"sideways": rules.side}
    elif fill == "through":
        ways.pop("sideways")
        if face != "tail":
            ways = {"sideways": rules.side}
    way = max(ways, key=ways.__getitem__)
    return restraint_force_n(mass_kg=mass_kg, fraction=ways[way]), f"{ways[way]:g} g {way}"


def _thing(design: Design, thing: LooseThing, rules: RuleSet, catalogue: Catalogue) -> Finding:
    opening = next((o for o in _openings(design) if o.name == thing.where), None)
    face = next((b.face for b in design.blocks if opening in b.openings), "tail")
    demand, way = hold_demand_n(
        rules, mass_kg=thing.mass_kg, fill=opening.fill if opening else "", face=face
    )
    name, count = _hold(thing.held_by)
    item = next((row for row in catalogue.hardware if row.name == name), None)
    about = About(
        id=f"LOOSE:{thing.what}:{thing.where}",
        title=f"{thing.what} in {thing.where} has a positive hold",
        about=thing.where,
        family=_FAMILY,
        source=f"{rules.title}; everything that can move is held (common practice)",
        standing=weakest("common practice", rules.source.shown_as),
        load_case=f"{rules.name}: {way}",
        working=(
            "F = a m g, against working loads at 1.0",
            f"{way}: {thing.mass_kg:.1f} kg x {GRAVITY_M_S2:g} = {demand:.0f} N",
            f"held by {thing.held_by or 'nothing'}" + (", one counted" if count > 1 else ""),
        ),
    )
    if item is not None and item.kind == "bracket":
        item = replace(item, capacity_n=BRACKET_N, basis="allowable")
    if not thing.held_by:
        return complete(
            about,
            missing=(f"nothing holds {thing.what}",),
            advice=_remedies(demand, catalogue, opening),
        )
    if item is None or not item.capacity_n:
        return not_proved(about, needs=(f"what {thing.held_by} holds",))
    return _held(about, item, count, demand, catalogue, opening)


def _held(
    about: About,
    item: Hardware,
    count: int,
    demand: float,
    catalogue: Catalogue,
    opening: OpeningDesign | None,
) -> Finding:
    counted = max(1, count - 1) if count > 1 else 1
    capacity = counted * (item.capacity_n or 0.0)
    full = replace(about, standing=weakest(about.standing, item.origin.standing))
    if item.basis != "allowable":
        return not_proved(full, needs=(f"a working load of {item.name}",))
    return ratio(
        replace(
            full,
            working=(
                *about.working,
                f"{counted} x {item.capacity_n:g} N = {capacity:g} N ({item.origin.source})",
            ),
        ),
        demand=demand,
        capacity=capacity,
        unit="N",
        basis="allowable",
        factor=1.0,
        advice=_remedies(demand, catalogue, opening),
    )


def _hold(held_by: str) -> tuple[str, int]:
    """Return name and number out of ``turn-catch, 2``."""
    name, _, number = held_by.partition(",")
    return name.strip(), int(number) if number.strip().isdigit() else 1


def _remedies(
    demand: float, catalogue: Catalogue, opening: OpeningDesign | None
) -> tuple[str, ...]:
    """Return holds that take a demand, tried."""
    found = []
    net = next((row for row in catalogue.hardware if row.kind == "net"), None)
    if opening is not None and net is not None and net.capacity_n:
        use = demand / net.capacity_n
        if use <= 0.9:
            found.append(f"a net across it (net = true): passes at {use:.2f}")
    for name in _STRAPS:
        item = next((row for row in catalogue.hardware if row.name == name), None)
        if item is None or not item.capacity_n:
            continue
        count = max(1, ceil(demand / (0.9 * item.capacity_n))) + 1
        if count <= _MOST_STRAPS:
            use = demand / ((count - 1) * item.capacity_n)
            found.append(f"{count} x {name} to rings or an anchor: passes at {use:.2f}")
            break
    found.append("or a drawer it fits into")
    return tuple(found)


def _pieces(design: Design) -> Iterator[Finding]:
    """Yield whether each piece that stays is joined to something."""
    joined = {piece for joint in design.joints for piece in joint.parts}
    joined |= {piece for fixing in design.fixings for piece in fixing.joins}
    names = {part.mark: part.name for part in design.parts}
    told = {(thing.what, thing.where) for thing in design.loose}
    lost = [
        p
        for p in design.placed
        if p.id not in joined and p.role not in _HUNG and (names[p.mark], p.block) not in told
    ]
    yield complete(
        About(
            id="LOOSE-PIECES",
            title="Every piece is joined to another",
            about="vehicle",
            family=_FAMILY,
            source="the design's own joints and fixings",
            standing="published",
            load_case="on the road",
            working=(f"{len(design.placed)} pieces looked at",),
        ),
        missing=tuple(f"nothing joins {piece.id}" for piece in lost),
        advice=("screw or glue it to what it stands against, or give it a hold of its own",),
    )


def _deck_cargo(design: Design, deck: str, rules: RuleSet) -> Finding:
    """Return what the deck may carry: nothing is rated but what reaches an anchor."""
    used = {(round(a.x), round(a.y)) for a in design.anchors if a.existing}
    free = [a for a in design.job.bay.anchors if (round(a.x), round(a.y)) not in used]
    rated = [a for a in free if a.tension and a.shear]
    worst = max(rules.forward, rules.rear, rules.side)
    lines = [
        f"{a.what} at ({a.x:g}, {a.y:g}): {min(a.tension or 0.0, a.shear or 0.0):g} N holds "
        f"{min(a.tension or 0.0, a.shear or 0.0) / (worst * GRAVITY_M_S2):.0f} kg at {worst:g} g"
        for a in rated
    ]
    advice = (
        ("strap cargo to: " + "; ".join(lines),)
        if lines
        else ("carry nothing loose on it; rings screwed to the deck alone are not rated",)
    )
    return not_proved(
        About(
            id=f"DECK-CARGO:{deck}",
            title=f"Cargo on {deck} is held: not rated",
            about=deck,
            family=_FAMILY,
            source=f"{rules.title}; a tie-down is rated only as far as it reaches an anchor "
            "(common practice)",
            standing=weakest("common practice", rules.source.shown_as),
            load_case=f"{rules.name}: {worst:g} g",
            working=(
                "m = F / (a g), one anchor counted alone",
                *lines,
                f"{len(free) - len(rated)} free anchors of unknown strength",
            ),
        ),
        needs=(
            (
                f'carry.on: what rides on it, each with on = "{deck}" and lash = {{strap, count, '
                "to}; nothing else may lie there"
            ),
        ),
        advice=advice,
    )


def _people(design: Design, rules: RuleSet) -> Iterator[Finding]:
    space = design.job.bay.people_space
    if space is None or space.barrier != "none":
        return
    mass = design.empty_kg + design.contents_kg
    heaviest = max((item.mass for item in design.job.carry), default=0.0)
    lines = _crash_lines(mass, heaviest)
    yield not_proved(
        About(
            id="BARRIER",
            title="People share the space with the load: a rated barrier is recommended",
            about="vehicle",
            family=_FAMILY,
            source="usual caution: restraint figures are driving level, not a crash",
            standing="common practice",
            load_case=f"a crash; {rules.name} is driving level and no calculation shows it",
            working=lines,
        ),
        needs=("a rated barrier between load and people (bay.people_space.barrier)",),
        advice=("fit a rated barrier or bulkhead before anybody rides with the load",),
    )


def _crash_lines(mass: float, heaviest: float) -> tuple[str, ...]:
    """Return what crash-level figures would ask, as information: nothing is claimed."""
    found = []
    for level in CRASH_INFORMATION:
        unit, thing = (level * kg * GRAVITY_M_S2 / 1000.0 for kg in (mass, heaviest))
        more = f", the heaviest thing in it with {thing:.1f} kN" if heaviest else ""
        found.append(
            f"information only, nothing is claimed: at {level:g} g the unit with its contents "
            f"pushes with {unit:.1f} kN{more}"
        )
    return tuple(found)
