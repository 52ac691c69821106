"""What touches what: pairs that would rattle or squeak; seals against panels that are not flat."""

from __future__ import annotations

from collections.abc import Iterator

from stowright.model.bay import Bay, Seal
from stowright.model.design import Design
from stowright.model.finding import Finding
from stowright.model.geometry import Box
from stowright.model.job import TouchingPair
from stowright.proofs.index import box_of
from stowright.proofs.judge import About, clearance, complete, not_proved

__all__ = ["touching_findings"]

#: A free gap up to this closes on the road and knocks (common practice). [mm]
KNOCKS = 1.5
#: What a seal is pressed by on top of the panel's error, so that it seals at all. [mm]
PRESS = 1.0
#: A panel of a metre's length is out of flat by about this (one mill's edge straightness). [mm/m]
OUT_OF_FLAT = 2.0
#: Boxes that overlap by no more than this touch; faces this wide face each other. [mm]
TOUCH, FACING = 0.05, 5.0
#: Room behind a box that a stop alone fills. [mm]
STOP = 11.0
_NOTHING = {"", "none", "nothing", "air", "bare"}


def touching_findings(design: Design) -> Iterator[Finding]:
    """Yield findings about contact pairs and seals."""
    yield _rattle(design)
    if design.job.bay.seals:
        for seal in design.job.bay.seals:
            yield _seal(design.job.bay, seal)
    else:
        yield from _no_seal(design)


def _pairs(design: Design) -> dict[tuple[str, str], tuple[float, str]]:
    """Return dry pairs that the plan itself makes: how far apart, and what it is."""
    joined = {frozenset(joint.parts) for joint in design.joints if joint.kind != "hinge"}
    bolted = _bolted_modules(design)
    homes = {p.id: (p.block, p.module) for p in design.placed}
    found: dict[tuple[str, str], tuple[float, str]] = {}
    for gap in design.gaps:
        modules = frozenset(homes[end] for end in gap.between if end in homes)
        if gap.sum <= KNOCKS and frozenset(gap.between) not in joined and modules not in bolted:
            found[gap.between] = (gap.sum, gap.name)
    boxes = {p.id: box_of(p) for p in design.placed}
    lift_out = {deck.name for deck in design.job.decks if deck.kind == "lift-out"}
    for piece in design.placed:
        lifts = piece.role == "wing-lid" or (piece.role == "deck" and piece.block in lift_out)
        if not lifts:
            continue
        for other in design.placed:
            pair = (piece.id, other.id)
            if other.id == piece.id or frozenset(pair) in joined or pair[::-1] in found:
                continue
            apart = _apart(boxes[piece.id], boxes[other.id])
            if apart is not None:
                found.setdefault(pair, (apart, f"{piece.mark} lies loose on it"))
    return found


def _apart(one: Box, other: Box) -> float | None:
    """Return how far two boxes stand apart face to face, None unless they nearly touch."""
    laps = [
        one.x.overlap(other.x),
        one.y.overlap(other.y),
        one.z.overlap(other.z),
    ]
    least = min(laps)
    others = sorted(laps)[1:]
    if -KNOCKS <= least <= TOUCH and others[0] > FACING:
        return max(0.0, -least)
    return None


def _bolted_modules(design: Design) -> set[frozenset[tuple[str, str]]]:
    """Return the pairs of modules that bolts draw together."""
    homes = {p.id: (p.block, p.module) for p in design.placed}
    return {
        frozenset(homes[name] for name in fixing.joins if name in homes)
        for fixing in design.fixings
        if fixing.kind == "bolt"
    }


def _said(pair: tuple[str, str], words: str, contacts: tuple[TouchingPair, ...]) -> str | None:
    """Return what the job says lies between a pair, or None when it says nothing."""
    text = f"{pair[0]} {pair[1]} {words}".lower()
    for contact in contacts:
        if all(name.lower() in text for name in contact.between):
            return contact.lies
    return None


def _judged(design: Design) -> Iterator[tuple[str, str | None]]:
    """Yield each close pair in words, and what lies between as far as the job says."""
    for pair, (apart, words) in _pairs(design).items():
        told = f"{pair[0]} and {pair[1]} ({words}), {apart:.1f} mm apart"
        yield told, _said(pair, words, design.job.contacts)
    for contact in design.job.contacts:
        told = f"{contact.between[0]} and {contact.between[1]}, {contact.gap:.1f} mm apart"
        yield told, contact.lies if contact.gap <= KNOCKS else "air enough"


def _rattle(design: Design) -> Finding:
    judged = list(_judged(design))
    bare = [told for told, lies in judged if lies is not None and lies.lower() in _NOTHING]
    unsaid = [told for told, lies in judged if lies is None]
    about = About(
        id="RATTLE:pairs",
        title="Nothing that touches dry can rattle or squeak",
        about="contact pairs",
        family=15,
        source="common practice: felt or closed-cell tape at dry joints; gaps of 0 to 1.5 mm knock",
        standing="common practice",
        load_case="on the road",
        working=(
            "packers on the load floor: felt or sealant under them, as the step says",
            *(f"{told}: {lies or 'not said'}" for told, lies in judged),
            *_bump_stops(design),
        ),
    )
    advice = (
        "felt tape, closed-cell foam or glue between them, or a gap above 1.5 mm",
        'then say so: [[contact]] between = ["one", "other"], lies = "felt"',
    )
    if unsaid and not bare:
        needs = tuple(f"contact.lies: what lies between {told}" for told in unsaid)
        return not_proved(about, needs=needs, advice=advice)
    return complete(about, missing=tuple(f"{told}: nothing" for told in bare), advice=advice)


def _bump_stops(design: Design) -> Iterator[str]:
    behind = {gap.name: gap.sum for gap in design.gaps}
    for block in design.blocks:
        for opening in block.openings:
            room = behind.get(f"{opening.name}: behind the box")
            if opening.runner is not None and room is not None:
                stop = "a 10 mm bump stop" if room <= STOP else f"a block and a stop, {room:.0f} mm"
                yield (f"{opening.name}: {stop} on the back at both sides, pressed 1 mm when shut")


def _seal(bay: Bay, seal: Seal) -> Finding:
    travel = seal.free - seal.squashed
    metres = max(seal.length / 4.0, bay.width) / 1000.0
    error = seal.panel_error
    taken = OUT_OF_FLAT * metres if error is None else error
    needed = taken + PRESS
    return clearance(
        About(
            id=f"SEAL:{seal.what}",
            title=f"The seal of {seal.what} has travel for a panel that is not flat",
            about=seal.what,
            family=15,
            source="common practice: travel above the panel's error; a 3 mm seal failed on 1.2 m",
            standing="common practice" if error is not None else "assumed",
            load_case="shut",
            working=(
                f"travel = free - squashed = {seal.free:g} - {seal.squashed:g} = {travel:g} mm",
                f"panel out of flat {taken:.1f} mm + {PRESS:g} mm to press = {needed:.1f} mm",
                f"length {seal.length / 1000.0:.2f} m" if seal.length else "length not given",
            ),
            assumed=()
            if error is not None
            else (f"panel error {OUT_OF_FLAT:g} mm per metre: {taken:.1f} mm",),
        ),
        needed=needed,
        available=travel,
        reading_error=0.0,
        advice=(
            f"a bulb seal at least {needed + seal.squashed:.0f} mm high when free",
            "or straighten and brace the panel: lay a straightedge on it first",
        ),
    )


def _no_seal(design: Design) -> Iterator[Finding]:
    """Say what a seal would run round and need, where there is something to seal."""
    bay = design.job.bay
    doorway = bay.opening("tail")
    if doorway is None or (doorway.height is None and bay.tailgate is None):
        return
    height = doorway.height or (bay.rail or 0.0)
    metres = 2.0 * (doorway.width + height) / 1000.0
    error = OUT_OF_FLAT * doorway.width / 1000.0
    yield not_proved(
        About(
            id="SEAL:tail",
            title="Dust and water are kept out at the tail",
            about="bay",
            family=15,
            source="common practice: tailgate seals leak first; travel above the panel's error",
            standing="common practice",
            load_case="shut",
            working=(
                f"round the doorway 2 x ({doorway.width:.0f} + {height:.0f}) = {metres:.2f} m",
                f"a panel {error:.1f} mm out of flat + {PRESS:g} mm: travel {error + PRESS:.1f} mm",
            ),
        ),
        needs=("bay.seals: what, free and squashed height, panel_error",),
        advice=(f"a bulb seal with {error + PRESS:.0f} mm of travel or more, {metres:.1f} m",),
    )
