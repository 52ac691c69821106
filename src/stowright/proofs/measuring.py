"""Was enough measured, before a sheet is cut: the bay, the sheets, what waits for a reading."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from stowright.formulas.panel_tolerances import THICKNESS_STATIONS, WITHIN_SHEET_MM
from stowright.formulas.squareness import DIAGONALS_PER_METRE_MM, runout_from_diagonals_mm
from stowright.model.catalogue import Catalogue, Runner
from stowright.model.design import BlockDesign, Design, OpeningDesign, ThicknessInUse, WingDesign
from stowright.model.finding import Finding
from stowright.model.job import Reading
from stowright.model.part import Part, PlacedPart
from stowright.proofs.judge import About, clearance, complete, not_proved
from stowright.proofs.tolerance_terms import GRADUATION, SHIM_SET

__all__ = ["measuring_findings"]

#: Stations that a bay is read at: along its length, and up (common practice).
ALONG, UP = 3, 2
#: Two readings of one diagonal differ by no more than this (common practice). [mm]
DIAGONAL_READ = 0.5
#: A width counts for a wing when it was read within this of its height. [mm]
NEAR = 50.0
_CP = "common practice"


def measuring_findings(design: Design, catalogue: Catalogue) -> Iterator[Finding]:
    """Yield what was measured, what was not, and what readings of the build say."""
    yield _bay(design)
    yield _skew(design)
    for row in design.thicknesses:
        if any(part.material == row.material for part in design.parts):
            yield _thickness(design, catalogue, row)
    yield _held_back(design)
    yield _hands(design)
    for block in design.blocks:
        for opening in block.openings:
            if opening.runner is not None:
                yield _width(design, opening)
        yield from _squares(design, block)
    yield from _wings(design)


_BASE = About(id="", title="", about="bay", family=1, source=_CP, standing="common practice")


def _bay(design: Design) -> Finding:
    bay = design.job.bay
    at = {round(w.at) for w in bay.widths} | {round(b.at) for b in bay.between}
    up = {round(w.height) for w in bay.widths}
    lengths = {round(row.height) for row in bay.lengths}
    lacks = []
    if len(at) < ALONG:
        lacks.append(f"bay.widths: {ALONG} stations along the length, not {len(at)}")
    if len(up) < UP:
        lacks.append("bay.widths: a width at the height of the unit's top, not only on the floor")
    if len(lengths) < UP:
        lacks.append("bay.lengths: a length at the height of the unit's top")
    if bay.diagonals is None:
        lacks.append("bay.diagonals: both, on the floor")
    about = replace(
        _BASE,
        id="MEASURED:bay",
        title="The bay was measured as what it is, not as a rectangle",
        source="common practice: three stations along, three up, both diagonals; smallest rules",
        load_case="before the design",
        working=(
            f"widths at x = {', '.join(str(x) for x in sorted(at))} mm",
            f"widths at heights {', '.join(str(z) for z in sorted(up))} mm",
            f"lengths at heights {', '.join(str(z) for z in sorted(lengths))} mm",
            *(limit_line for block in design.blocks for limit_line in _limits(block)),
        ),
    )
    if lacks:
        advice = ("read these, and the plan is made again: the smallest reading rules",)
        return not_proved(about, needs=tuple(lacks), advice=advice)
    return complete(about, missing=())


def _limits(block: BlockDesign) -> Iterator[str]:
    for limit in block.usable.limits:
        yield f"{block.name}, {limit.side}: {limit.governed_by}; {limit.next}".rstrip("; ")


def _skew(design: Design) -> Finding:
    skew = design.skew
    about = replace(
        _BASE,
        id="SKEW:bay",
        title="The bay's lean is known and taken off",
        source="d1² - d2² = 4 W s: plane geometry; cause by the lengths at both sides",
        standing="published",
        working=(
            (
                f"side walls lean {skew.lean:.1f} mm over the length, {skew.low:.1f} to "
                f"{skew.high:.1f} by the reading error: {skew.cause}"
            ),
        ),
    )
    if skew.cause == "not measured":
        return not_proved(about, needs=("bay.diagonals: corner to corner on the floor, both",))
    if skew.cause == "not known which":
        needs = ("bay.lengths at y left and right of the centre line: lean or headboard?",)
        return not_proved(about, needs=needs, advice=("the cautious one was taken off",))
    return complete(about, missing=())


def _readings_of(design: Design, row: ThicknessInUse) -> tuple[float, ...]:
    measured = dict(design.job.measured_thickness).get(row.material, ())
    if measured:
        return measured
    sheets = (s for s in design.job.sheets if s.material == row.material)
    return tuple(reading for sheet in sheets for reading in sheet.thickness)


def _thickness(design: Design, catalogue: Catalogue, row: ThicknessInUse) -> Finding:
    material = catalogue.material(row.material)
    readings = _readings_of(design, row)
    spread = row.t_max - row.t_min
    about = replace(
        _BASE,
        id=f"THICKNESS:{row.material}",
        title=f"The sizes were worked out with the real thickness of {row.material}",
        about=row.material,
        family=3,
        source="EN 324-1: eight places, 50 mm in; EN 315 limits; spread in a sheet: a mill's table",
        load_case="before the first cut",
        working=(
            "spread = thickest reading - thinnest reading, within what one batch may have",
            f"nominal {material.nominal:g}, used {row.t:g}, {row.t_min:g} to {row.t_max:g} mm",
            f"{len(readings)} readings; {THICKNESS_STATIONS} places are asked for",
            *_what_changes(design, row),
        ),
    )
    if row.source == "catalogue":
        return not_proved(
            replace(about, assumed=(f"t of {row.material} = {row.t:g} mm",)),
            needs=(f"build.measured_thickness.{row.material}: caliper readings of the batch",),
            advice=("caliper eight places of each sheet before release A is cut, and plan again",),
        )
    return clearance(
        about,
        needed=spread,
        available=WITHIN_SHEET_MM,
        reading_error=0.1,
        advice=(f"sort the sheets: one batch within {WITHIN_SHEET_MM:g} mm for all parts alike",),
    )


def _what_changes(design: Design, row: ThicknessInUse) -> Iterator[str]:
    """Say what one tenth of a millimetre does to sizes that were worked out with it."""
    openings = [o for block in design.blocks for o in block.openings]
    boxes = [o.name for o in openings if o.runner and o.build.drawer == row.material]
    if boxes:
        yield f"t 0.1 mm more: inner fronts and backs 0.2 mm less ({', '.join(boxes)})"
    own = [o for o in openings if o.build.carcass == row.material]
    if own:
        uprights = 2 * len({(o.block, o.module, o.column) for o in own})
        yield (
            f"t 0.1 mm more: {uprights} uprights take {0.1 * uprights:.1f} mm off all openings "
            "together, heights of openings 0.2 mm less"
        )


def _read(design: Design, *, opening: str = "", block: str = "", what: str) -> Reading | None:
    return next(
        (
            r
            for r in design.job.readings
            if r.what == what and (r.opening == opening if opening else r.block == block)
        ),
        None,
    )


def _held_back(design: Design) -> Finding:
    """Whether a part that waits for a reading is cut although nothing was read."""
    done = {part.mark for stage in design.job.done for part in stage.parts}
    waiting = [part for part in design.parts if part.release == "B"]
    early = [part for part in waiting if part.mark in done and not _was_read(design, part)]
    by_reading: dict[str, list[str]] = {}
    for part in waiting:
        by_reading.setdefault(part.waits_for, []).append(part.mark)
    return complete(
        replace(
            _BASE,
            id="HELD-BACK:release B",
            title="Parts that wait for a reading are not cut before it",
            about="release B",
            family=3,
            source="common practice: the carcass first, drawers, fronts, wings and deck after it",
            load_case="hold point",
            working=tuple(
                f"waits for {what}: {', '.join(marks)}" for what, marks in by_reading.items()
            ),
        ),
        missing=tuple(f"{p.mark} {p.name} is cut; {p.waits_for} was not read" for p in early),
        advice=(
            "read what each waits for at face, middle and back and enter it as [[reading]]",
            "then plan again: it says which parts still serve and which are cut new",
        ),
    )


def _was_read(design: Design, part: Part) -> bool:
    """Whether what a part waits for was read: its opening, or the block that stands in place.

    Wings, infills and decks wait for the unit: a carcass part of it that is ticked off as fitted
    says that it stands.
    """
    opening = part.waits_for.partition(":")[0]
    if any(o.name == opening for block in design.blocks for o in block.openings):
        return any(reading.opening == opening for reading in design.job.readings)
    over = next((deck.over for deck in design.job.decks if deck.name == part.block), ())
    blocks = {part.block, *over}
    if any(reading.block in blocks for reading in design.job.readings if reading.block):
        return True
    fitted = {
        done.mark for stage in design.job.done if stage.stage == "fitted" for done in stage.parts
    }
    return any(p.mark in fitted and p.block in blocks and p.release == "A" for p in design.parts)


def _hands(design: Design) -> Finding:
    """Whether each left part has its right one, and none was cut more often than it is needed."""
    count: dict[str, int] = {}
    for stage in design.job.done:
        for part in stage.parts:
            if stage.stage == "cut":
                count[part.mark] = count.get(part.mark, 0) + 1
    spoiled = [each.mark for each in design.job.spoiled]
    handed = [part for part in design.parts if part.hand]
    too_many = [
        f"{part.mark} {part.name}: {count[part.mark]} cut, {part.quantity} needed"
        for part in design.parts
        if count.get(part.mark, 0) > part.quantity + spoiled.count(part.mark)
    ]
    short = [f"still to cut: {p.mark} {p.name}" for p in handed if too_many and p.mark not in count]
    return complete(
        replace(
            _BASE,
            id="HANDS:parts",
            title="Each handed part is cut once for its side, and its holes are not mirrored",
            about="parts",
            family=14,
            source="common practice: hand and front edge on tape before a part leaves the saw",
            load_case="cutting and drilling",
            working=tuple(
                f"{p.mark} {p.name}: {p.hand}, {p.quantity} of it, drawn from its good face"
                for p in handed
            ),
        ),
        missing=(*too_many, *short),
        advice=(
            "turn the spare copy over only if nothing is drilled and both faces may show",
            "else cut the other hand new, and keep the spare as an offcut",
        ),
    )


def _width_lines(design: Design, opening: OpeningDesign) -> Iterator[str]:
    """Yield the wall sums of a drawer's width, each in one line."""
    sums = {s.size_of: s for s in design.sums}
    for name in ("across the opening, wall to wall", "inner front and back"):
        found = sums.get(f"{opening.name}: {name}")
        if found is not None:
            terms = " ".join(f"{line.value:+.1f} {line.what}" for line in found.lines)
            yield f"{terms} = {found.result:g} mm"


def _width(design: Design, opening: OpeningDesign) -> Finding:
    """The drawer's width as a sum, and what readings of the build say to it."""
    about = replace(
        _BASE,
        id=f"WIDTH:{opening.name}",
        title=f"The width of {opening.name} is a sum with every wall, runner and lining in it",
        about=opening.name,
        family=3,
        source="the wall sum of the plan; side space of the runner",
        load_case="as planned",
        working=tuple(_width_lines(design, opening)),
    )
    space = _space_read(design, opening)
    if space is None or opening.runner is None or opening.box is None:
        return complete(about, missing=())
    what, least, box = space
    room = least - box - 2.0 * opening.build.lining.drawer
    tapers = _shims_by_place(design, opening)
    lines = [f"{what}: {least:g} - {box:g} - linings = {room:.2f} mm of play in both runners"]
    lines += [f"shims, both sides together: {tapers}"] if tapers else []
    about = replace(about, load_case="as read", working=(*about.working, *lines))
    return _play_read(about, opening.runner.runner, room)


def _play_read(about: About, runner: Runner, room: float) -> Finding:
    """Judge the play that was read: too little is cut away, too much is shimmed up to a point."""
    low = 2.0 * (runner.side_space.least - runner.thickness)
    high = 2.0 * (runner.side_space.most - runner.thickness) + 2.0 * sum(SHIM_SET)
    limits = f"at least {low:.2f} mm; up to {high:.2f} mm can be shimmed"
    about = replace(about, working=(*about.working, limits))
    if room > high:
        advice = (f"inner front and back {room - low:.1f} mm longer",)
        return clearance(about, needed=room, available=high, reading_error=0.0, advice=advice)
    short = math.ceil((low - room) * 2.0) / 2.0
    return clearance(
        about,
        needed=low,
        available=room,
        reading_error=GRADUATION,
        advice=(f"cut inner front and back {short:g} mm shorter, new",),
    )


def _shims_by_place(design: Design, opening: OpeningDesign) -> str:
    """Say what the wider places of an opening want behind the runner; empty for one reading."""
    reading = _read(design, opening=opening.name, what="between-runners") or _read(
        design, opening=opening.name, what="width"
    )
    if reading is None or len(reading.values) < 2:
        return ""
    places = ("face", "middle", "back") if len(reading.values) == 3 else ("face", "back")
    least = min(reading.values)
    return ", ".join(
        f"{value - least:.1f} mm at the {place}"
        for place, value in zip(places, reading.values, strict=True)
    )


def _space_read(design: Design, opening: OpeningDesign) -> tuple[str, float, float] | None:
    """Return the least space between the runners that was read, and the box that goes in."""
    between = _read(design, opening=opening.name, what="between-runners")
    width = _read(design, opening=opening.name, what="width")
    built = _read(design, opening=opening.name, what="box-width")
    if opening.runner is None or opening.box is None or not (between or width or built):
        return None
    box = max(built.values) if built else opening.box.width
    thick = _read(design, opening=opening.name, what="runner-thickness")
    runner = max(thick.values) if thick else opening.runner.runner.thickness
    if between:
        return "between the runners as read", min(between.values), box
    clear = min(width.values) if width else opening.width
    told = "opening as read" if width else "opening as planned"
    return f"{told} less two runners of {runner:g}", clear - 2.0 * runner, box


def _squares(design: Design, block: BlockDesign) -> Iterator[Finding]:
    for opening in block.openings:
        for what, wide, deep in (
            ("diagonals", opening.width, opening.depth),
            (
                "box-diagonals",
                opening.box.width if opening.box else 0.0,
                opening.box.length if opening.box else 0.0,
            ),
        ):
            reading = _read(design, opening=opening.name, what=what)
            if reading is not None and len(reading.values) == 2 and wide > 0.0:
                yield _square(opening.name, what, reading, wide, deep)
    reading = _read(design, block=block.name, what="diagonals")
    if reading is not None and len(reading.values) == 2:
        across = block.box.y.size if block.face == "tail" else block.box.x.size
        deep = block.box.x.size if block.face == "tail" else block.box.y.size
        yield _square(block.name, "diagonals", reading, across, deep)


def _square(name: str, what: str, reading: Reading, wide: float, deep: float) -> Finding:
    apart = abs(reading.values[0] - reading.values[1])
    allowed = DIAGONALS_PER_METRE_MM * math.hypot(wide, deep) / 1000.0
    out = runout_from_diagonals_mm(width_mm=wide, depth_mm=deep, difference_mm=apart)
    packs = ", ".join(
        f"{out * share:.1f} at {deep * share:.0f}" for share in (0.25, 0.5, 0.75, 1.0)
    )
    return clearance(
        replace(
            _BASE,
            id=f"SQUARE:{name}" if what == "diagonals" else f"SQUARE-BOX:{name}",
            title=f"{name} is square: {what}",
            about=name,
            family=3,
            source="common practice: diagonals within 1 mm per metre; run-out by plane geometry",
            load_case="as read, in plan",
            working=(
                "run-out at the back = D sqrt(W² + L²) / (2 W)",
                (
                    f"D = {apart:.1f} mm on {wide:.0f} x {deep:.0f} mm: the back stands "
                    f"{out:.1f} mm sideways"
                ),
                f"packers under the runner on the side it leans to, mm from the face: {packs}",
            ),
        ),
        needed=apart,
        available=allowed,
        reading_error=DIAGONAL_READ,
        advice=(
            f"pull it square before the back is fixed: {apart / 2.0:.1f} mm off the long diagonal",
            f"or pack the runner: {packs} mm from the face",
        ),
    )


def _offsets(wing: WingDesign) -> str:
    return ", ".join(f"{x:.0f}: {y:.0f}" for x, y in wing.offsets)


def _pieces_of(design: Design, wing: WingDesign) -> list[PlacedPart]:
    hands = {part.mark: part.hand for part in design.parts}
    return [
        piece
        for piece in design.placed
        if piece.role in {"wing", "wing-lid"}
        and piece.block == wing.block
        and hands[piece.mark] == wing.side
    ]


def _sides_apart(design: Design, wing: WingDesign) -> bool:
    """Whether left and right were read apart near the wing's height."""
    tops = [piece.point(0.0, 0.0, piece.thickness)[2] for piece in _pieces_of(design, wing)]
    return any(
        not width.centred and abs(width.height - top) <= NEAR
        for width in design.job.bay.widths
        for top in tops
    )


def _wings(design: Design) -> Iterator[Finding]:
    """Each wing has a measured wall of its own, left and right apart."""
    for wing in design.wings:
        widest = max(y for _, y in wing.offsets)
        about = replace(
            _BASE,
            id=f"WING:{wing.block}/{wing.side}",
            title=f"The {wing.side} wing of {wing.block} is cut to its own side's wall",
            about=", ".join(piece.mark for piece in _pieces_of(design, wing)) or wing.block,
            source="common practice: left and right apart, offsets from one straight datum",
            load_case="hold point: template it from the unit in place",
            working=(
                f"offsets from the centre line, every 100 mm: {_offsets(wing)}",
                f"scribe gap {wing.scribe_gap:g} mm, widest {abs(widest):.0f} mm",
            ),
        )
        if wing.measured and _sides_apart(design, wing):
            yield complete(about, missing=())
        else:
            yield not_proved(
                about,
                needs=("bay.widths: left and right at the height of the deck",),
                advice=("hold it back and template it; do not copy it from the other side",),
            )
