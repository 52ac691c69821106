"""Keeping: sealed edges, drains and air, glue in the heat, what must stay within reach."""

from __future__ import annotations

import math
from collections.abc import Iterator

from stowright.model.bay import Access, BeltAnchorage
from stowright.model.catalogue import Catalogue, Finish
from stowright.model.design import BlockDesign, Design, ModuleDesign
from stowright.model.finding import Finding
from stowright.model.geometry import Box
from stowright.model.job import Build
from stowright.model.part import Part
from stowright.proofs.index import box_of
from stowright.proofs.judge import About, complete, not_proved
from stowright.proofs.people import TWO_CARRY

__all__ = ["keeping_findings"]

#: Nothing is bolted nearer to a belt, seat or child-seat anchorage. [mm]
KEEP_OFF = 300.0
#: Room round a head or hook of an anchorage that a hand needs. [mm]
HAND = 80.0
#: Air that lets a wet side dry (common practice). [mm]
AIR = 3.0
#: A piece that reaches less than this over an access does not hide it. [mm]
HIDES = 20.0
_SEATS = ("seat", "bench", "row", "squab", "restraint")
_BELTS = ("belt", "seat", "child", "tether", "isofix", "harness")


def keeping_findings(design: Design, catalogue: Catalogue) -> Iterator[Finding]:
    """Yield findings about keeping the unit and what lies under it."""
    yield from _edges(design, catalogue)
    for block in design.blocks:
        yield _drains(design, block)
    yield _heat(design)
    for access in design.job.bay.access:
        yield _access(design, access)
    for belt in design.job.bay.belts:
        yield _belt(design, belt)
    yield from _used_as_ties(design)
    yield from _seats(design)


def _edges(design: Design, catalogue: Catalogue) -> Iterator[Finding]:
    """Faces, edges and holes, by finish."""
    finish_of = {block.name: block.build.finish for block in design.job.blocks}
    finish_of |= {deck.name: deck.build.finish for deck in design.job.decks}
    groups: dict[str, list[Part]] = {}
    for part in design.parts:
        groups.setdefault(finish_of.get(part.block, design.job.build.finish), []).append(part)
    for name, parts in groups.items():
        yield _sealed(catalogue.finish(name), parts)


def _sealed(row: Finish, parts: list[Part]) -> Finding:
    """Whether a finish seals its parts: area, edge length, holes and litres."""
    area = sum(2.0 * p.length * p.width * p.quantity for p in parts) / 1.0e6
    edge = sum(2.0 * (p.length + p.width) * p.quantity for p in parts) / 1.0e3
    edges = sum(2.0 * (p.length + p.width) * p.thickness * p.quantity for p in parts) / 1.0e6
    holes = sum(len(p.features) * p.quantity for p in parts)
    litres = (area + edges) * row.coats / row.coverage
    bare = f"{edge:.1f} m of bare edge and {holes} bare holes: finish = {row.name}"
    about = About(
        id=f"SEALED:{row.name}",
        title="Faces, edges and holes are sealed after drilling and before assembly",
        about=", ".join(part.mark for part in parts),
        family=15,
        source=f"common practice: cut, drill, then seal; coverage: {row.origin.source}",
        standing="common practice",
        load_case="years of wet and dry",
        working=(
            f"faces {area:.2f} m2, edges {edge:.1f} m ({edges:.2f} m2)",
            f"{holes} holes and cuts",
            (
                f"({area:.2f} + {edges:.2f}) m2 x {row.coats} coats / {row.coverage:g} m2 "
                f"per litre = {litres:.2f} litres of {row.name}"
            ),
        ),
    )
    advice = ('finish = "clear": three coats, edges twice, every hole before its screw',)
    return complete(about, missing=() if row.coats > 0 else (bare,), advice=advice)


def _drains(design: Design, block: BlockDesign) -> Finding:
    """Whether water finds a way out under the block, and air a way round it."""
    build = next((b.build for b in design.job.blocks if b.name == block.name), design.job.build)
    floor = design.job.bay.floor
    ribs = floor is not None and floor.rib_depth > 0.0
    about = About(
        id=f"DRAINS:{block.name}",
        title=f"Water drains from under {block.name} and air reaches it",
        about=block.name,
        family=15,
        source="common practice: a drain under it, air behind and beside it",
        standing="common practice",
        load_case="a wet floor",
        working=(
            f"packers {build.packers.how}, {block.packer_height:g} mm high",
            f"ribs {floor.rib_depth:g} mm, {floor.ribs_run}" if floor and ribs else "no ribs known",
            f"air beside {build.side_clear:g} mm, behind {build.end_clear:g} mm",
        ),
    )
    missing = tuple(_wet(build, ribs=ribs))
    if missing:
        advice = ('packers = {how = "on-ribs"}', f"side_clear or end_clear {AIR:g} mm or more")
        return complete(about, missing=missing, advice=advice)
    open_way = _dammed(build.packers.how, ribs=ribs)
    if open_way:
        return not_proved(about, needs=open_way[:1], advice=open_way[1:])
    return complete(about, missing=())


def _wet(build: Build, *, ribs: bool) -> Iterator[str]:
    """Yield what keeps wet under a block for certain."""
    sides, end = build.side_clear, build.end_clear
    if build.packers.how == "none" and not ribs:
        yield "the carcass floor lies flat on the bay's floor: wet cannot leave"
    if max(sides, end) < AIR:
        yield f"no air round it: {sides:g} mm beside and {end:g} mm behind"


def _dammed(how: str, *, ribs: bool) -> tuple[str, ...]:
    """Return what is open about strips that may dam the water, and what to do; empty when free."""
    if how == "in-valleys":
        return (
            "a way past the strips: they fill the valleys that drain the floor",
            "strips in lengths with 20 mm gaps, none over a drain hole",
        )
    if how == "on-ribs" and not ribs:
        return (
            "bay.floor.rib_depth: on a flat floor a strip across it dams the water",
            "nick each strip 20 mm wide every 300 mm, and at its ends",
        )
    return ()


def _heat(design: Design) -> Finding:
    """Whether a joint hangs on glue alone where a parked vehicle gets hot."""
    held = {fixing.joint for fixing in design.fixings if fixing.joint}
    alone = [
        joint
        for joint in design.joints
        if joint.glued
        and not joint.fixing
        and joint.id not in held
        and joint.kind not in {"groove", "housing", "rebate", "tab-and-slot"}
    ]
    glued = sum(joint.glued for joint in design.joints)
    about = About(
        id="HEAT:glue",
        title="No joint hangs on glue alone in the heat of a parked vehicle",
        about="joints",
        family=15,
        source="EN 204 leaves heat out; class D1 allows only brief times above 50 C",
        standing="from memory",
        load_case="parked in the sun: 60 to 80 C inside (from memory)",
        working=(
            f"{glued} glued joints, {glued - len(alone)} of them also screwed or let in",
            "durability classes D3 and D4 are about water; none speaks of heat",
        ),
    )
    if alone:
        names = ", ".join(" + ".join(joint.parts) for joint in alone[:4])
        return not_proved(
            about,
            needs=(f"the adhesive's strength at 80 C, from its data sheet, for: {names}",),
            advice=("screws in these joints too",),
        )
    return complete(about, missing=())


def _access(design: Design, access: Access) -> Finding:
    about = About(
        id=f"ACCESS:{access.what}",
        title=f"{access.what} can be reached",
        about=access.what,
        family=15,
        source="common practice: jack, spare, hatches and anchorages stay reachable",
        standing="common practice",
        load_case="unit in place",
        working=(
            f"x {access.x[0]:.0f} to {access.x[1]:.0f} mm",
            f"y {access.y[0]:.0f} to {access.y[1]:.0f} mm",
            "a lift-out piece over it will do" if access.lift_out else "nothing may stand over it",
        ),
    )
    over = [
        (block, module)
        for block in design.blocks
        for module in block.modules
        if _covers(module.box, access)
    ]
    blocked = [line for pair in over if (line := _in_the_way(design, access, *pair))]
    missing = [*blocked, *_under_fixed(design, access)] if access.lift_out or not over else blocked
    return complete(about, missing=tuple(missing), advice=tuple(_free_way(design, access)))


def _covers(box: Box, access: Access, least: float = 0.0) -> bool:
    x = min(box.x.high, access.x[1]) - max(box.x.low, access.x[0])
    y = min(box.y.high, access.y[1]) - max(box.y.low, access.y[0])
    return min(x, y) > least


def _in_the_way(design: Design, access: Access, block: BlockDesign, module: ModuleDesign) -> str:
    """Say why a module over an access will not do; empty where it may be lifted out."""
    name = f"{block.name}, module {module.name},"
    if not access.lift_out:
        return f"{name} stands over it"
    masses = {part.mark: part.mass_kg for part in design.parts}
    carcass = sum(
        masses[p.mark]
        for p in design.placed
        if p.block == block.name and p.module == module.name and p.body == "fixed"
    )
    return f"{name} would have to come out: {carcass:.1f} kg" if carcass > TWO_CARRY else ""


def _under_fixed(design: Design, access: Access) -> Iterator[str]:
    """Yield fixed wings and decks that hide it although no module stands over it."""
    lift_out = {deck.name for deck in design.job.decks if deck.kind == "lift-out"}
    for piece in design.placed:
        hides = piece.role == "wing" or (piece.role == "deck" and piece.block not in lift_out)
        if hides and _covers(box_of(piece), access, HIDES):
            yield f"{piece.mark} over it is fixed: a lid or a lift-out piece there"


def _free_way(design: Design, access: Access) -> Iterator[str]:
    """Yield where a block would have to begin or end to leave it free."""
    for block in design.blocks:
        if not _covers(block.box, access):
            continue
        if access.x[1] < block.box.x.middle:
            yield f"{block.name}: begin it at x = {access.x[1]:.0f} mm or later"
        elif access.x[0] > block.box.x.middle:
            yield f"{block.name}: end it at x = {access.x[0]:.0f} mm or before"
        else:
            yield f"{block.name}: leave a column out over it, or a lift-out hatch of its size"
    if any(_under_fixed(design, access)):
        yield 'deck.kind = "lift-out", and a wing a "lid", over it'
    yield "or make the module over it a lift-out one (lift_out = true) of 50 kg at most"


def _belt(design: Design, belt: BeltAnchorage) -> Finding:
    missing = ["something is to be tied to it: it is made for people, not for cargo"] * belt.used
    missing += [
        f"{anchor.id} is bolted within {KEEP_OFF:.0f} mm of it"
        for anchor in design.anchors
        if math.hypot(anchor.x - belt.x, anchor.y - belt.y) < KEEP_OFF
        and anchor.surface == belt.surface
        and not anchor.existing
    ]
    missing += [f"{name} stands over it or against it" for name in _beside(design, belt)]
    about = About(
        id=f"BELT:{belt.what}",
        title=f"{belt.what} stays free and is not used",
        about=belt.what,
        family=15,
        source="usual caution; such anchorages are the maker's and the authority's",
        standing="common practice",
        load_case="unit in place",
        working=(
            f"at x = {belt.x:.0f}, y = {belt.y:.0f}, z = {belt.z:.0f} mm on the {belt.surface}",
            f"{HAND:.0f} mm round it for a hand; nothing bolted within {KEEP_OFF:.0f} mm",
        ),
    )
    advice = (
        "tie to an anchor of the load area, or put one in away from it",
        f"end the unit {HAND:.0f} mm before it, or leave a gap there",
        "ask the authority before anything near a belt or seat anchorage is changed",
    )
    return complete(about, missing=tuple(missing), advice=advice)


def _beside(design: Design, belt: BeltAnchorage) -> Iterator[str]:
    """Yield what leaves less than a hand's room at an anchorage."""
    boxes = {block.name: block.box for block in design.blocks}
    boxes |= {p.id: box_of(p) for p in design.placed if p.role in {"wing", "wing-lid", "infill"}}
    for name, box in boxes.items():
        gaps = [
            max(span.low - at, at - span.high, 0.0)
            for at, span in ((belt.x, box.x), (belt.y, box.y), (belt.z, box.z))
        ]
        if math.hypot(*gaps) < HAND:
            yield name


def _used_as_ties(design: Design) -> Iterator[Finding]:
    """An anchor that the job lists as the vehicle's, but whose name says it is for people."""
    for anchor in design.job.bay.anchors:
        words = anchor.what.lower()
        if any(word in words for word in _BELTS):
            taken = [a.id for a in design.anchors if a.existing == anchor.what]
            told = f"{', '.join(taken)} of the plan hold the unit by it" if taken else "listed"
            yield complete(
                About(
                    id=f"BELT-USED:{anchor.what}",
                    title=f"{anchor.what} is not used as a tie",
                    about=anchor.what,
                    family=15,
                    source="usual caution: belt and seat anchorages are not cargo anchors",
                    standing="common practice",
                    load_case="unit in place",
                    working=(f"listed under bay.anchors as one that may be used: {told}",),
                ),
                missing=(f"{anchor.what} reads as a belt or seat anchorage",),
                advice=("list it under bay.belts, and use an anchor of the load area",),
            )


def _seats(design: Design) -> Iterator[Finding]:
    """A seat that was taken out: a matter for the authority, not for a calculation."""
    vehicle = design.job.vehicle
    for thing in vehicle.also if vehicle else ():
        if thing.mass < 0.0 and any(word in thing.what.lower() for word in _SEATS):
            yield not_proved(
                About(
                    id=f"SEATS:{thing.what}",
                    title="A seat is taken out: the authority is asked first",
                    about="vehicle",
                    family=15,
                    source="taking seats out can be a modification; the wording differs by place",
                    standing="common practice",
                    load_case=f"{thing.what}, {thing.mass:g} kg",
                ),
                needs=("what the authority and the insurer say to it; no claim is made here",),
                advice=(
                    (
                        "ask the authority: for good or for a while, seats on the papers, what is "
                        "done with the belts"
                    ),
                    "alter no anchorage; keep bolts and seat so that it can go back",
                ),
            )
