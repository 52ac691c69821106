"""Which changes of a job are tried to mend what fails, by the finding's code, mildest first."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import replace

from stowright.model.catalogue import Catalogue
from stowright.model.design import BlockDesign, Design
from stowright.model.finding import Finding
from stowright.model.job import Job, TouchingPair
from stowright.model.part import PlacedPart
from stowright.proofs.changes_build import (
    carcass_ways,
    carry_in_ways,
    deck_ways,
    drawer_ways,
    front_pull_ways,
    gap_ways,
    groove_ways,
    lift_out_ways,
    runner_screw_ways,
    sealed_ways,
    shelf_sag_ways,
    spacing_ways,
    tie_rail_ways,
    tips_ways,
)
from stowright.proofs.contents import high_enough, lacks_shut, opens_slid_out, tallest_in
from stowright.proofs.fit import under_roof
from stowright.proofs.index import box_of
from stowright.proofs.job_changes import (
    Asked,
    Change,
    with_block,
    with_build,
    with_carry,
    with_deck,
    with_fill,
    with_lighter,
    with_place,
)

__all__ = ["WAYS", "changes_for"]

#: Room that a hand needs at an anchorage, and air that lets a side dry. [mm]
HAND, AIR = 81.0, 3.0


def changes_for(design: Design, catalogue: Catalogue, finding: Finding) -> Iterator[Change]:
    """Yield the changes that are tried for a finding; none where nothing of the job would help."""
    it = Asked(design=design, catalogue=catalogue, finding=finding)
    ways = WAYS.get(it.code)
    if ways is not None:
        yield from ways(it)


def _shuts(it: Asked) -> Iterator[Change]:
    name, more = it.block, it.short()
    block = next((row for row in it.design.job.blocks if row.name == name), None)
    if block is None:
        return
    yield Change(
        words=f"clear_at_face {more:g} mm more",
        job=with_block(it.design.job, name, clear_at_face=block.clear_at_face + more),
    )


def _lever(it: Asked) -> Iterator[Change]:
    for way, words in (
        ("notch", "a notch in the front at each lever"),
        ("hand-hole", "a hand-hole over each lever"),
        ("narrow", "a front that ends beside the levers"),
    ):
        job = with_fill(it.design.job, it.finding.about, build={"lever": way})
        if job != it.design.job:
            yield Change(words=f'lever = "{way}": {words}', job=job)


def _travels(it: Asked) -> Iterator[Change]:
    home = it.home(it.finding.about)
    if home is None:
        return
    block, more = home[0].name, it.short()
    up = next(row.build.under_gap for row in it.design.job.blocks if row.name == block) + more
    yield Change(
        words=f"under_gap {more:g} mm more",
        job=with_build(it.design.job, block=block, under_gap=up),
    )
    build = next(row.build for row in it.design.job.blocks if row.name == block)
    packers, own = build.packers, it.catalogue.material(build.packers.sheet)
    stands = own.thickness if packers.how == "on-ribs" else 0.0
    thicker = sorted(
        (row.thickness, row.name)
        for row in it.catalogue.materials
        if row.family == own.family and row.thickness >= stands + more
    )
    for _, sheet in thicker[:1]:
        other = replace(packers, how="on-ribs", sheet=sheet)
        said = f"packers of {sheet} instead of {packers.sheet}"
        if packers.how != "on-ribs":
            said = f'packers = {{how = "on-ribs", sheet = "{sheet}"}}'
        job = with_build(it.design.job, block=block, packers=other)
        yield Change(words=said, job=job)


def _pushed(it: Asked) -> Iterator[Change]:
    """Yield less in a drawer: what it needs, and more where a longer runner then goes in."""
    home = it.home(it.finding.about)
    if home is None or not home[1].contents_kg > 0.0:
        return
    opening, use = home[1], it.finding.utilisation or 1.0
    out = math.ceil(opening.gross_kg * (1.0 - 0.9 / use))
    names = frozenset(what for what, _ in opening.carried)
    for more in (0, 3, 6, 12):
        if out + more < opening.contents_kg:
            share = 1.0 - (out + more) / opening.contents_kg
            job = with_lighter(it.design.job, names, share)
            yield Change(words=f"{out + more} kg taken out of it", job=job, lighter=True)


def _doorway(it: Asked) -> Iterator[Change]:
    home = it.home(it.finding.about)
    if home is None:
        return
    block, _ = home
    less = it.short()
    if block.face == "tail":
        half = (it.finding.capacity or 0.0) - 1.0
        low, high = it.inward(max(block.box.y.low, -half), min(block.box.y.high, half))
        yield Change(
            words=f"y = [{it.mm(low)}, {it.mm(high)}] for {block.name}, between the jambs,",
            job=with_place(it.design.job, block.name, y=(low, high)),
        )
        return
    low, high = it.inward(block.box.x.low, block.box.x.high)
    for start, end in ((low + less, high), (low, high - less), (low + less, high - less)):
        yield Change(
            words=f"x = [{it.mm(start)}, {it.mm(end)}] for {block.name}, within the doorway,",
            job=with_place(it.design.job, block.name, x=(start, end)),
        )


def _lower(it: Asked) -> Iterator[Change]:
    name = it.block
    block = next((row for row in it.design.blocks if row.name == name), None)
    if block is not None:
        top = float(math.floor(block.box.z.high - it.short()))
        yield Change(
            words=f"a block {it.short():g} mm lower, {_up_to(it, name, top)},",
            job=_ends_at(it.design.job, name, top),
        )


def _starts_at(job: Job, name: str) -> float:
    """Return where a block's own range starts above the floor. [mm]."""
    z = next(row.place.z for row in job.blocks if row.name == name)
    return z[0] if z is not None else 0.0


def _ends_at(job: Job, name: str, top: float) -> Job:
    """Return a job whose block ends at another height and starts where it did."""
    return with_place(job, name, z=(_starts_at(job, name), top))


def _up_to(it: Asked, name: str, top: float) -> str:
    low = _starts_at(it.design.job, name)
    return f"z = [{it.mm(low) if low else 0}, {it.mm(top)}] for {name}"


def _under_roof(it: Asked) -> Iterator[Change]:
    """Yield a lower deck where one is over the block, else a lower block."""
    decks = [deck.name for deck in it.design.job.decks if it.block in deck.over]
    if not decks:
        yield from _lower(it)
    top = float(math.floor((it.finding.demand or 0.0) - it.short()))
    for name in decks:
        job = with_deck(it.design.job, name, top=top)
        yield Change(words=f"top = {it.mm(top)} for {name}", job=job)


def _fits(it: Asked) -> Iterator[Change]:
    name = it.name
    block = next((row for row in it.design.blocks if row.name == name), None)
    if block is None:
        return
    asked = next(row for row in it.design.job.blocks if row.name == name)
    axis = "x" if it.finding.id.startswith("FITS-LENGTH") else "y"
    room = getattr(block.usable.box, axis)
    low, high = it.inward(room.low, room.high)
    yield Change(
        words=f"{axis} = [{it.mm(low)}, {it.mm(high)}] for {name}, the room there is,",
        job=with_place(it.design.job, name, **{axis: (low, high)}),
    )
    wide = max((column.width or 0.0 for column in asked.columns), default=0.0)
    shared = tuple(
        replace(column, width=None) if column.width == wide else column for column in asked.columns
    )
    if wide:
        yield Change(
            words='width = "share" for its widest column',
            job=with_block(it.design.job, name, columns=shared),
        )


def _slides(it: Asked) -> Iterator[Change]:
    for fill in ("drawer", "tray"):
        job = with_fill(it.design.job, it.finding.about, fill=fill)
        yield Change(words=f'fill = "{fill}" instead', job=job)


def _taller(it: Asked) -> Iterator[Change]:
    home = it.home(it.finding.about)
    if home is not None:
        height = home[1].clear.z.size + it.short()
        job = with_fill(it.design.job, it.finding.about, height=float(math.ceil(height)))
        told = it.mm(math.ceil(height))
        yield Change(words=f"height = {told} for {it.finding.about}", job=job)


def _contents_height(it: Asked) -> Iterator[Change]:
    """Yield a higher opening, another one, a higher block, a lid that is only opened slid out."""
    yield from _taller(it)
    home = it.home(it.finding.about)
    item = tallest_in(it.design, home[1]) if home is not None else None
    if home is None or item is None:
        return
    block, opening = home
    for name in high_enough(it.design, opening, it.finding.demand or 0.0):
        job = with_carry(it.design.job, item.what, goes_in=name)
        yield Change(words=f'goes_in = "{name}" for {item.what}', job=job)
    if opens_slid_out(opening, item):
        shut = with_carry(it.design.job, item.what, clear_above=0.0)
        lid = f"clear_above = 0 for {item.what}, its lid opened only when slid out,"
        more = lacks_shut(opening, item)
        yield from _raised(it, block, more, shut, lid) if more else [Change(words=lid, job=shut)]
    yield from _raised(it, block, float(it.short()), it.design.job, "")


def _raised(it: Asked, block: BlockDesign, more: float, job: Job, also: str) -> Iterator[Change]:
    """Yield a job whose block, or the deck that lies on it, is higher, yet under the roof."""
    lies = next((p for p in it.design.placed if _lies_on(p, block)), None)
    high = block.box.z.high if lies is None else box_of(lies).z.high
    top, roof = float(math.ceil(high + more)), under_roof(it.design, block)
    if roof is not None and top > roof:
        return
    and_also = f" and {also}" if also else ""
    if lies is None:
        words = f"{_up_to(it, block.name, top)}{and_also or ','}"
        yield Change(words=words, job=_ends_at(job, block.name, top))
    else:
        words = f"top = {it.mm(top)} for {lies.block}{and_also}"
        yield Change(words=words, job=with_deck(job, lies.block, top=top))


def _lies_on(piece: PlacedPart, block: BlockDesign) -> bool:
    """Return whether a piece is of a deck that lies on a block: the saw's grid may part them."""
    box = box_of(piece)
    above = box.z.low - block.box.z.high
    over = min(box.x.overlap(block.box.x), box.y.overlap(block.box.y))
    return piece.role == "deck" and over > 0.0 and -0.1 < above < 2.0


def _drains(it: Asked) -> Iterator[Change]:
    name = it.name
    block = next((row for row in it.design.job.blocks if row.name == name), None)
    if block is None:
        return
    build = block.build
    feet = replace(build.packers, how="on-ribs")
    airy = max(build.side_clear, build.end_clear) >= AIR
    if build.packers.how == "none" and airy:
        job = with_build(it.design.job, block=name, packers=feet)
        yield Change(words='packers = {how = "on-ribs"}', job=job)
    if not airy:
        for key in ("end_clear", "side_clear"):
            job = with_build(it.design.job, block=name, **{key: AIR})
            yield Change(words=f"{key} = {it.mm(AIR)}", job=job)
        if build.packers.how == "none":
            job = with_build(it.design.job, block=name, packers=feet, end_clear=AIR)
            yield Change(
                words=f'packers = {{how = "on-ribs"}} and end_clear = {it.mm(AIR)}', job=job
            )


def _access(it: Asked) -> Iterator[Change]:
    """Yield blocks that begin or end beside what has to stay free, lids and lift-out pieces."""
    access = next((a for a in it.design.job.bay.access if a.what == it.finding.about), None)
    if access is None:
        return
    for block in it.design.blocks:
        box = block.box
        if min(box.y.high, access.y[1]) <= max(box.y.low, access.y[0]):
            continue
        if access.x[1] < box.x.high and access.x[1] > box.x.low:
            yield _place_x(it, block, access.x[1], box.x.high, "begin")
        if access.x[0] > box.x.low and access.x[0] < box.x.high:
            yield _place_x(it, block, box.x.low, access.x[0], "end")
    for row in it.design.job.blocks:
        if "fixed" in {row.wings.left, row.wings.right}:
            lids = replace(row.wings, left="lid", right="lid")
            job = with_block(it.design.job, row.name, wings=lids)
            yield Change(words=f'wings = {{left = "lid", right = "lid"}} at {row.name}', job=job)
    for deck in it.design.job.decks:
        if deck.kind == "fixed":
            job = with_deck(it.design.job, deck.name, kind="lift-out")
            yield Change(words=f'kind = "lift-out" for {deck.name}', job=job)


def _place_x(it: Asked, block: BlockDesign, low: float, high: float, how: str) -> Change:
    """Return a block that begins or ends elsewhere along the vehicle."""
    low, high = it.inward(low, high)
    at = low if how == "begin" else high
    return Change(
        words=f"{how} it at x = {at:.0f} mm: x = [{it.mm(low)}, {it.mm(high)}] for {block.name},",
        job=with_place(it.design.job, block.name, x=(low, high)),
    )


def _belt(it: Asked) -> Iterator[Change]:
    """Yield blocks that begin or end a hand's room beside an anchorage."""
    belt = next((b for b in it.design.job.bay.belts if b.what == it.finding.about), None)
    if belt is None or belt.used:
        return
    for block in sorted(it.design.blocks, key=lambda row: abs(row.box.x.middle - belt.x)):
        if block.box.x.high > belt.x - HAND > block.box.x.low:
            yield _place_x(it, block, block.box.x.low, belt.x - HAND, "end")
        if block.box.x.low < belt.x + HAND < block.box.x.high:
            yield _place_x(it, block, belt.x + HAND, block.box.x.high, "begin")


def _bed(it: Asked) -> Iterator[Change]:
    name, more = it.name, it.short()
    deck = next((d for d in it.design.job.decks if d.name == name), None)
    if deck is None:
        return
    yield Change(words='back = "wall"', job=with_deck(it.design.job, name, back="wall"))
    for words, keys in (
        (f"overhang = {it.mm(deck.overhang + more)}", {"overhang": deck.overhang + more}),
        (
            f'back = "wall" and overhang = {it.mm(deck.overhang + more)}',
            {"back": "wall", "overhang": deck.overhang + more},
        ),
    ):
        yield Change(words=words, job=with_deck(it.design.job, name, **keys))


def _headroom(it: Asked) -> Iterator[Change]:
    name, less = it.name, it.short()
    tops = [
        piece.point(0.0, 0.0, piece.thickness)[2]
        for piece in it.design.placed
        if piece.role == "deck" and piece.block == name
    ]
    if tops:
        top = float(math.floor(max(tops) - less))
        job = with_deck(it.design.job, name, top=top)
        yield Change(words=f"top = {it.mm(top)}: the deck {less:g} mm lower", job=job)


def _seal(it: Asked) -> Iterator[Change]:
    bay = it.design.job.bay
    seal = next((row for row in bay.seals if row.what == it.finding.about), None)
    if seal is not None:
        free = math.ceil((it.finding.demand or 0.0) + seal.squashed)
        seals = tuple(replace(s, free=float(free)) if s is seal else s for s in bay.seals)
        yield Change(
            words=f"a bulb seal at least {free} mm high when free",
            job=replace(it.design.job, bay=replace(bay, seals=seals)),
        )


def _rattle(it: Asked) -> Iterator[Change]:
    contacts = tuple(replace(row, lies="felt") for row in it.design.job.contacts)
    more = tuple(TouchingPair(between=pair, lies="felt", gap=0.0) for pair in _bare_pairs(it))
    job = replace(it.design.job, contacts=(*contacts, *more))
    yield Change(words='felt between them ([[contact]] lies = "felt")', job=job)


def _bare_pairs(it: Asked) -> Iterator[tuple[str, str]]:
    """Yield the pairs of pieces that a finding names as bare and no contact of the job names."""
    known = {frozenset(row.between) for row in it.design.job.contacts}
    ids = {piece.id for piece in it.design.placed}
    for line in it.finding.working:
        one, _, rest = line.partition(" and ")
        other = rest.partition(" (")[0]
        if {one, other} <= ids and frozenset((one, other)) not in known:
            yield one, other


#: The changes by code of the finding.
WAYS: dict[str, Callable[[Asked], Iterator[Change]]] = {
    "SHUTS": _shuts,
    "LEVER": _lever,
    "TRAVELS": _travels,
    "DOORWAY": _doorway,
    "DOORWAY-HEIGHT": _lower,
    "FITS-LENGTH": _fits,
    "FITS-WIDTH": _fits,
    "FITS-HEIGHT": _under_roof,
    "GETS-IN": carry_in_ways,
    "CARRY-IN": carry_in_ways,
    "PUSH": _pushed,
    "REACH": _slides,
    "CONTENTS-HEIGHT": _contents_height,
    "RACKING": carcass_ways,
    "UPRIGHT-PUSHED": carcass_ways,
    "UPRIGHT-PRESSED": carcass_ways,
    "RAIL-TIES": carcass_ways,
    "SHELF-STRESS": carcass_ways,
    "SHELF-SHEAR": carcass_ways,
    "SHELF-SAG": shelf_sag_ways,
    "SHELF-JOINT": carcass_ways,
    "FLOOR-STRESS": carcass_ways,
    "FLOOR-SHEAR": carcass_ways,
    "FLOOR-SAG": carcass_ways,
    "RUNNER-FIXINGS": runner_screw_ways,
    "CLEAT-JOINT": carcass_ways,
    "BOTTOM-STRESS": drawer_ways,
    "BOTTOM-SHEAR": drawer_ways,
    "BOTTOM-SAG": drawer_ways,
    "BOTTOM-JOINT": groove_ways,
    "FRONT-PULL": front_pull_ways,
    "FRONT-JOINT": drawer_ways,
    "BACK-JOINT": drawer_ways,
    "FRONT-PANEL": drawer_ways,
    "BACK-PANEL": drawer_ways,
    "SIDE-PANEL": drawer_ways,
    "DECK-STRESS": deck_ways,
    "DECK-SHEAR": deck_ways,
    "DECK-EDGE": deck_ways,
    "DECK-SAG": deck_ways,
    "DECK-OVERHANG": deck_ways,
    "DECK-GAP": gap_ways,
    "WING-GAP": gap_ways,
    "WING-SAG": deck_ways,
    "DRAINS": _drains,
    "ACCESS": _access,
    "BELT": _belt,
    "BED-LENGTH": _bed,
    "HEADROOM": _headroom,
    "LIFT-OUT": lift_out_ways,
    "SEALED": sealed_ways,
    "SEAL": _seal,
    "RATTLE": _rattle,
    "SCREW-SPACING": spacing_ways,
    "TIE-RAIL": tie_rail_ways,
    "TIP-BUILD": tips_ways,
}
