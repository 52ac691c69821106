"""It fits, gets in and moves: blocks in their boxes, modules through doorways, drawers out."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

from stowright.design.doorway_travel import jambs_of
from stowright.model.bay import Bay
from stowright.model.design import BlockDesign, Design, OpeningDesign
from stowright.model.finding import Finding
from stowright.model.part import PlacedPart
from stowright.proofs.built_inside import built_inside
from stowright.proofs.index import box_of
from stowright.proofs.judge import About, clearance, not_proved

__all__ = ["fit_findings", "under_roof"]

#: Air that a shut tailgate keeps from a front (common practice). [mm]
SHUT_AIR = 5.0
#: Room for fingers above and below a lever together (common practice). [mm]
FINGERS = 10.0


def fit_findings(design: Design) -> Iterator[Finding]:
    """Yield every finding about fitting, getting in and moving."""
    for block in design.blocks:
        yield from _fits(design, block)
        yield from _fits_under(design, block)
        yield from _gets_in(design, block)
        for opening in block.openings:
            if opening.runner is not None:
                yield from _travels(design, block, opening)
            if opening.front is not None and block.face == "tail":
                yield _shuts(design, opening)
            elif opening.front is not None:
                yield from _shuts_beside(design, block, opening)
            yield from _lever(design, opening)


def _fits(design: Design, block: BlockDesign) -> Iterator[Finding]:
    room = block.usable.box
    for axis, need, have in (
        ("length", block.box.x.size, room.x.size),
        ("width", block.box.y.size, room.y.size),
    ):
        limits = [
            f"{limit.side}: {limit.governed_by} at {limit.at:.1f} mm; {limit.next}"
            for limit in block.usable.limits
        ]
        yield clearance(
            About(
                id=f"FITS-{axis.upper()}:{block.name}",
                title=f"{block.name} fits the bay: {axis}",
                about=block.name,
                family=1,
                source="the readings, each with its error once, and the allowances of the job",
                standing="published",
                load_case="at rest",
                working=(f"usable {axis} {have:.1f} mm, block {need:.1f} mm", *limits),
            ),
            needed=need,
            available=have,
            reading_error=design.job.bay.reading_error,
            advice=(
                f"{need - have:.1f} mm less: give the block a range, or a column a share",
                *(f"{limit.side}: {limit.next}" for limit in block.usable.limits if limit.next),
            ),
        )


def under_roof(design: Design, block: BlockDesign) -> float | None:
    """Return how high above the floor a block or its deck may end; None under the sky. [mm]."""
    bay = design.job.bay
    if bay.clear_height is None:
        return None
    return bay.clear_height - bay.reading_error - _lining(design, block)


def _lining(design: Design, block: BlockDesign) -> float:
    return next(row.build.lining.bay for row in design.job.blocks if row.name == block.name)


def _fits_under(design: Design, block: BlockDesign) -> Iterator[Finding]:
    """Yield whether a block, with the decks over it, stands under roof or canopy."""
    bay, have = design.job.bay, under_roof(design, block)
    if have is None:
        return
    over = {deck.name for deck in design.job.decks if block.name in deck.over}
    decks = [box_of(p).z.high for p in design.placed if p.role == "deck" and p.block in over]
    top = max((block.box.z.high, *decks))
    yield clearance(
        About(
            id=f"FITS-HEIGHT:{block.name}",
            title=f"{block.name} fits the bay: height",
            about=block.name,
            family=1,
            source="the reading with its error once, and the lining",
            standing="published",
            load_case="at rest",
            working=(
                (
                    f"clear height {bay.clear_height:g} - reading error {bay.reading_error:g} - "
                    f"lining {_lining(design, block):g} = {have:.1f} mm; the carcass ends "
                    f"{block.box.z.high:.1f} mm above the floor"
                ),
                *(f"the deck over it at {high:.1f} mm" for high in sorted(set(decks))),
            ),
        ),
        needed=round(top, 4),
        available=have,
        reading_error=bay.reading_error,
        advice=(f"{top - have:.1f} mm lower",),
    )


def _gets_in(design: Design, block: BlockDesign) -> Iterator[Finding]:
    for module in block.modules:
        check = module.doorway
        about = About(
            id=f"GETS-IN:{block.name}/{module.name}",
            title=f"{block.name}, module {module.name}, gets into the bay",
            about=block.name,
            family=1,
            source="geometry of a box through an opening",
            standing="published",
            load_case="carrying in",
            working=(check.why, *check.order) if check else (),
        )
        if check is None or check.way == "not known":
            yield not_proved(about, needs=("bay.opening: width and height of the doorway",))
        elif check.way == "assemble inside":
            yield from built_inside(design, block, module, about)
        else:
            short = check.needed - check.available
            yield clearance(
                about,
                needed=check.needed,
                available=check.available,
                reading_error=design.job.bay.reading_error,
                advice=(
                    f"a module {short:.0f} mm lower or narrower passes",
                    'or modules = "separate", or carried in as panels and assembled inside',
                ),
            )


def _lean_at(bay: Bay, z: float) -> float:
    """Return how far the shut tail stands in at a height: straight lines between readings."""
    points = sorted([(0.0, 0.0), *((lean.height, lean.x) for lean in bay.tail_lean)])
    for (z0, x0), (z1, x1) in pairwise(points):
        if z0 <= z <= z1 and z1 > z0:
            return x0 + (x1 - x0) * (z - z0) / (z1 - z0)
    return points[-1][1] if z > points[-1][0] else points[0][1]


def _front_of(design: Design, opening: OpeningDesign) -> PlacedPart:
    return next(
        p
        for p in design.placed
        if p.opening == opening.name and p.role in {"drawer-front", "door", "blank"}
    )


def _tail_rows(design: Design, opening: OpeningDesign) -> list[tuple[float, float, float]]:
    """Return heights with how far the shut tail stands in there, and how far a handle stands out.

    Wherever the tail stands in most: at the front's edges, at a reading between, at the handle.
    """
    front, leans = _front_of(design, opening), design.job.bay.tail_lean
    low = front.point(0.0, 0.0, 0.0)[2]
    high = low + front.width
    middle = (low + high) / 2.0
    return [
        (
            z,
            _lean_at(design.job.bay, z),
            opening.build.handle_projection if z == middle else 0.0,
        )
        for z in sorted({low, middle, high, *(lean.height for lean in leans)})
        if low <= z <= high
    ]


def _shuts(design: Design, opening: OpeningDesign) -> Finding:
    front, rows = _front_of(design, opening), _tail_rows(design, opening)
    outer = min(front.point(0.0, 0.0, w)[0] for w in (0.0, front.thickness))
    at, lean, proud = max(rows, key=lambda row: row[1] + row[2])
    air = outer - proud - lean
    lines = [
        f"at z = {z:.0f} mm: the shut tail stands in {inward:.1f} mm, handle {out:.1f} mm, air "
        f"{outer - out - inward:.1f} mm"
        for z, inward, out in rows
    ]
    lines.append(f"least at z = {at:.0f} mm: {outer:.1f} - {proud:.1f} - {lean:.1f} = {air:.1f} mm")
    flush = (f"or a flush handle, {proud:.0f} mm less",) if proud else ()
    return clearance(
        replace(
            _shut_about(opening, "tailgate or door"),
            working=(
                "air = front's outer face - handle - how far the shut tail stands in",
                f"front's outer face at x = {outer:.1f} mm",
                *lines,
            ),
        ),
        needed=SHUT_AIR,
        available=air,
        reading_error=design.job.bay.reading_error,
        advice=(f"clear_at_face {SHUT_AIR - air:.1f} mm more", *flush),
    )


def _shut_about(opening: OpeningDesign, what: str) -> About:
    return About(
        id=f"SHUTS:{opening.name}",
        title=f"The {what} shuts on {opening.name}",
        about=opening.name,
        family=2,
        source="common practice: 50 mm is left at the face for levers and handles",
        standing="common practice",
        load_case="shut",
    )


def _shuts_beside(design: Design, block: BlockDesign, opening: OpeningDesign) -> Iterator[Finding]:
    """Whether a side door shuts on a front: the wall's reading that governs is its inner face."""
    limit = next((row for row in block.usable.limits if row.side == block.face), None)
    if limit is None:
        return
    front = _front_of(design, opening)
    outer = max(abs(front.point(0.0, 0.0, w)[1]) for w in (0.0, front.thickness))
    handle = opening.build.handle_projection
    shut = abs(limit.at) + limit.beyond
    air = shut - outer - handle
    yield clearance(
        replace(
            _shut_about(opening, "side door"),
            working=(
                "air = shut door - front's outer face - handle",
                f"shut door {shut:.1f} mm from the centre line: {limit.governed_by}"
                + (f", {limit.next}" if limit.beyond else ""),
                f"{shut:.1f} - {outer:.1f} - handle {handle:.1f} = {air:.1f} mm",
            ),
        ),
        needed=SHUT_AIR,
        available=air,
        reading_error=design.job.bay.reading_error,
        advice=(f"clear_at_face {SHUT_AIR - air:.1f} mm more",),
    )


def _lever(design: Design, opening: OpeningDesign) -> Iterator[Finding]:
    """Whether a hand gets to the lever of a locking runner past the front."""
    fit = opening.runner
    if fit is None or fit.runner.lever is None or opening.front is None or not fit.lock:
        return
    _, up, _ = fit.runner.lever
    pieces = [p for p in design.placed if p.opening == opening.name and p.role == "drawer-front"]
    cut = [
        feature.size[1] if len(feature.size) > 1 else feature.size[0]
        for piece in pieces
        for feature in design.part(piece.mark).features
        if "lever" in feature.purpose
    ]
    box_width = opening.box.width if opening.box else opening.width
    beside = (opening.width - opening.front[0]) / 2.0
    narrow = beside >= (opening.width - box_width) / 2.0 - 1.0
    room = up + FINGERS if narrow else min(cut, default=beside)
    yield clearance(
        About(
            id=f"LEVER:{opening.name}",
            title=f"The lock lever of {opening.name} can be reached past its front",
            about=opening.name,
            family=2,
            source="common practice: a lever swings 25 to 30 mm and wants room for a finger",
            standing="common practice",
            load_case=f"lever = {opening.build.lever}",
            working=(
                f"needed = lever + fingers = {up:g} + {FINGERS:g} mm",
                f"the front leaves {room:.1f} mm at the lever",
            ),
        ),
        needed=up + FINGERS,
        available=room,
        reading_error=0.0,
        advice=('lever = "notch": a notch in the front at each lever', 'or lever = "hand-hole"'),
    )


def _travels(design: Design, block: BlockDesign, opening: OpeningDesign) -> Iterator[Finding]:
    motion = next((m for m in design.motions if m.body == opening.name), None)
    if motion is None:
        return
    moving = [p for p in design.placed if p.body == opening.name]
    low = min(min(p.point(0, 0, 0)[2], p.point(p.length, p.width, p.thickness)[2]) for p in moving)
    bay = design.job.bay
    about = About(
        id=f"TRAVELS:{opening.name}",
        title=f"{opening.name} runs out over what is open before it",
        about=opening.name,
        family=2,
        source="geometry of the travel with droop",
        standing="published",
        load_case=f"fully open, {motion.travel:g} mm, droop {motion.droop:.1f} mm",
    )
    under = _under(bay, block)
    if under is None:
        yield not_proved(about, needs=(f"bay.opening or bay.tailgate at the {block.face}",))
        return
    what, top = under
    air = low - motion.droop - top
    yield clearance(
        replace(
            about,
            working=(
                f"lowest moving edge at z = {low:.1f} mm, droop {motion.droop:.1f} mm",
                f"{what} at z = {top:.1f} mm",
                f"air left {air:.1f} mm",
            ),
        ),
        needed=2.0,
        available=air,
        reading_error=bay.reading_error,
        advice=(f"raise the block by {2.0 - air:.1f} mm: thicker packers, or under_gap",),
    )
    yield from _through(design, block, opening)


def _under(bay: Bay, block: BlockDesign) -> tuple[str, float] | None:
    """Return what the drawer passes over, and its height."""
    doorway = bay.opening(block.face)
    found = []
    if doorway is not None:
        found.append(("the sill", doorway.sill_rise))
    if block.face == "tail" and bay.tailgate is not None and bay.tailgate.hinge == "down":
        found.append(("the open tailgate", bay.tailgate.open_top))
    return max(found, key=lambda pair: pair[1], default=None)


def _short(need: float, have: float) -> float:
    return math.ceil(max(0.0, need - have))


def _through(design: Design, block: BlockDesign, opening: OpeningDesign) -> Iterator[Finding]:
    """Whether the moving part passes the doorway's width and height."""
    doorway = design.job.bay.opening(block.face)
    if doorway is None or opening.box is None:
        return
    jambs = jambs_of(design.job.bay, doorway)
    if block.face == "tail":
        reach = max(abs(opening.clear.y.low), abs(opening.clear.y.high))
        text = "measured from the centre line"
        yield _between_jambs(design, opening, reach, jambs.high, text)
    elif doorway.at is not None:
        least = min(opening.clear.x.low - jambs.low, jambs.high - opening.clear.x.high)
        yield _between_jambs(design, opening, 0.0, least, "least distance from the doorway's edges")
    else:
        return
    if doorway.height is not None:
        yield _under_lintel(design, opening, doorway.sill_rise + doorway.height)


def _between_jambs(
    design: Design, opening: OpeningDesign, need: float, have: float, text: str
) -> Finding:
    return clearance(
        About(
            id=f"DOORWAY:{opening.name}",
            title=f"{opening.name} passes the doorway's sides",
            about=opening.name,
            family=2,
            source="geometry",
            standing="published",
            load_case="opening",
            working=(
                (
                    f"needs {need:.1f} mm, doorway gives {have:.1f} mm, {text}, less the error of "
                    "its readings"
                ),
            ),
        ),
        needed=need,
        available=have,
        reading_error=design.job.bay.reading_error,
        advice=(f"{_short(need, have):.0f} mm narrower there, or so much further from its edge",),
    )


def _under_lintel(design: Design, opening: OpeningDesign, lintel: float) -> Finding:
    moving = [p for p in design.placed if p.body == opening.name]
    top = max(box_of(piece).z.high for piece in moving)
    return clearance(
        About(
            id=f"DOORWAY-HEIGHT:{opening.name}",
            title=f"{opening.name} passes under the top of the doorway",
            about=opening.name,
            family=2,
            source="geometry",
            standing="published",
            load_case="opening",
            working=(f"its top at z = {top:.1f} mm, the doorway's at {lintel:.1f} mm",),
        ),
        needed=top,
        available=lintel,
        reading_error=design.job.bay.reading_error,
        advice=(f"a block {top - lintel:.1f} mm lower",),
    )
