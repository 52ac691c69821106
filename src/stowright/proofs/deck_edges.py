"""People at the free edge of a deck, and where it stands over: the strip rule."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import partial
from itertools import chain

from stowright.design.deck_spans import DeckSpan
from stowright.formulas.platform_loads import PATCHES, PatchLoad
from stowright.formulas.strips import share_by_stiffness
from stowright.model.catalogue import Material
from stowright.model.finding import Finding
from stowright.model.part import PlacedPart
from stowright.proofs.basis import Capacity, Load, held, sheet_strength, worst
from stowright.proofs.deck_pieces import (
    PEOPLE,
    DeckPiece,
    about_deck,
    code_of,
    deck_advised,
    people_told,
    propped,
    said,
)
from stowright.proofs.index import Index
from stowright.proofs.judge import About, not_proved
from stowright.proofs.sheets import Sheet
from stowright.proofs.supported import cantilever
from stowright.proofs.tried import Trial, thicker

__all__ = ["edge_findings", "overhang_finding"]

#: Depths of the battens tried under a free edge, of the deck's own sheet on edge. [mm]
BATTENS = (40.0, 60.0, 80.0)


_ALL = frozenset({"low x", "high x", "low y", "high y"})


@dataclass(frozen=True, slots=True, kw_only=True)
class _Beam:
    """A rail or batten under the free edge that bends with the strip."""

    name: str
    stiffness: float
    section: float
    strength: Capacity


def edge_findings(index: Index, made: DeckPiece, plates: list[DeckSpan]) -> Iterator[Finding]:
    """Yield the finding at the free edges: a strip, and the rail under it that shares the load."""
    spans = [span for span in plates if _ALL - span.held - span.goes_on]
    if not spans:
        return
    about = replace(
        about_deck(made, f"{code_of(made)}-EDGE", f"{made.name} carries people at its free edge"),
        source=f"strip rule, its width by Levy's series (derived); {PEOPLE}",
    )

    def find(sheet: Sheet, over: list[DeckSpan] = spans, *, batten: float = 0.0) -> Finding:
        return _at_edges(index, about, made, over, sheet, batten=batten)

    rows = tuple(thicker(index.catalogue, made.sheet.material))
    battened = [
        Trial(
            words=f"a batten of the same sheet, {depth:g} mm on edge, glued under the free edge",
            find=partial(find, made.sheet, batten=depth),
        )
        for depth in BATTENS
    ]
    yield people_told(
        made.piece.role,
        deck_advised(
            index,
            made,
            find,
            battened,
            last=chain(_battened(made, find, rows), propped(made, spans, find, rows)),
        ),
    )


def _battened(
    made: DeckPiece, find: Callable[..., Finding], rows: tuple[Material, ...]
) -> Iterator[Trial]:
    """Yield trials with a thicker sheet and a batten of it under the free edge."""
    for row in rows:
        for depth in BATTENS:
            yield Trial(
                words=f"{row.name} and a batten of it, {depth:g} mm on edge, glued under the free "
                "edge",
                find=partial(find, made.sheet.in_sheet(row, thickness=row.thickness), batten=depth),
            )


def _at_edges(
    index: Index,
    about: About,
    made: DeckPiece,
    spans: list[DeckSpan],
    sheet: Sheet,
    *,
    batten: float,
) -> Finding:
    rows = []
    for span in spans:
        for load in PATCHES:
            width = made.field(span, sheet).strip_width(patch_mm=load.side_mm)
            beams = _beams(index, made, span, width)
            if batten > 0.0:
                beams.append(_batten(index, sheet, batten))
            shared = worst(_strip(index, about, made, span, sheet, load, width=width, beams=beams))
            if beams:  # where the rail is the weak one, the deck may still do without it
                alone = worst(_strip(index, about, made, span, sheet, load, width=width, beams=[]))
                shared = min(shared, alone, key=lambda each: each.utilisation or 0.0)
            rows.append(shared)
    return worst(rows)


def _strip(
    index: Index,
    about: About,
    made: DeckPiece,
    span: DeckSpan,
    sheet: Sheet,
    load: PatchLoad,
    *,
    width: float,
    beams: list[_Beam],
) -> Iterator[Finding]:
    """Yield the findings of the strip and of each rail that shares the load with it."""
    field = made.field(span, sheet)
    moment = field.strip_moment(load_n=load.load_n, patch_mm=load.side_mm)
    own = field.strip_modulus() * width * sheet.thickness**3 / 12.0
    whole = sum(beam.stiffness for beam in beams)
    told = replace(
        about,
        load_case=f"parked: {load.what} at the free edge, {load.load_n:g} N on {load.side_mm:g} x "
        f"{load.side_mm:g} mm",
        working=(
            said(span),
            f"M = P (2 L - c) / 8 = {moment:.0f} N mm, L {field.span:.0f} mm",
            f"strip width b = M / m = {width:.0f} mm, m by Levy's series at the edge",
            *(f"shares with {beam.name} by E I" for beam in beams),
        ),
    )
    share = share_by_stiffness(stiffness=own, others=whole)
    strength = sheet_strength(
        sheet.material,
        strength=field.strip_strength(),
        duration="short",
        service_class=index.service_class,
    )
    stress = share * moment / (width * sheet.thickness**2 / 6.0)
    yield held(
        replace(
            told,
            working=(*told.working, f"the deck takes {share:.2f} of it: sigma = 6 M / (b t²)"),
        ),
        loads=(Load(kind="people", value=stress),),
        capacity=strength,
    )
    for beam in beams:
        part = share_by_stiffness(stiffness=beam.stiffness, others=own + whole - beam.stiffness)
        yield held(
            replace(
                told,
                load_case=f"{told.load_case}: {beam.name} under it",
                working=(*told.working, f"{beam.name} takes {part:.2f} of it: sigma = M / W"),
            ),
            loads=(Load(kind="people", value=part * moment / beam.section),),
            capacity=beam.strength,
        )


def _beams(index: Index, made: DeckPiece, span: DeckSpan, width: float) -> list[_Beam]:
    """Return the flats that lie under a free edge and run across the span."""
    free = [edge for edge in ("low x", "high x", "low y", "high y") if edge not in span.held]
    found = [
        _beam(index, flat)
        for flat in made.flats
        if flat.role != "carcass-top"
        and any(_under(index, flat, span, edge, width) for edge in free)
    ]
    if made.layer is not None:
        found.append(_panel(index, made, span, made.layer, width))
    return found


def _panel(index: Index, made: DeckPiece, span: DeckSpan, layer: Sheet, width: float) -> _Beam:
    """Return the panel under all of a deck as a strip as wide as the deck's own."""
    field = made.field(span, layer)
    return _Beam(
        name="the panel under it",
        stiffness=field.strip_modulus() * width * layer.thickness**3 / 12.0,
        section=width * layer.thickness**2 / 6.0,
        strength=sheet_strength(
            layer.material,
            strength=field.strip_strength(),
            duration="short",
            service_class=index.service_class,
        ),
    )


def _under(index: Index, flat: PlacedPart, span: DeckSpan, edge: str, width: float) -> bool:
    """Say whether a flat runs along a free edge, within the strip."""
    box = index.boxes[flat.id]
    end, axis = edge.split()
    across, along = (box.x, box.y) if axis == "x" else (box.y, box.x)
    own = span.x if axis == "x" else span.y
    run = span.y if axis == "x" else span.x
    at = own.low if end == "low" else own.high
    near = abs(at - (across.low if end == "low" else across.high)) <= width
    runs = abs(flat.axes[0][1 if axis == "x" else 0]) > 0.5
    return near and runs and along.overlap(run) >= 0.9 * run.size


def _beam(index: Index, flat: PlacedPart) -> _Beam:
    row, t = index.material(flat), flat.thickness
    return _Beam(
        name=flat.id,
        stiffness=row.e_along * flat.width * t**3 / 12.0,
        section=flat.width * t**2 / 6.0,
        strength=sheet_strength(
            row, strength=row.f_along, duration="short", service_class=index.service_class
        ),
    )


def _batten(index: Index, sheet: Sheet, depth: float) -> _Beam:
    row = sheet.material
    return _Beam(
        name="the batten",
        stiffness=row.e_along * sheet.thickness * depth**3 / 12.0,
        section=sheet.thickness * depth**2 / 6.0,
        strength=sheet_strength(
            row, strength=row.f_along, duration="short", service_class=index.service_class
        ),
    )


def overhang_finding(index: Index, made: DeckPiece, spans: list[DeckSpan]) -> Finding:
    """Return the finding where a sheet stands over what holds it.

    A strip that goes on behind a held edge works as a cantilever, from the nearest such edge; the
    rule is rough, so what it does not show is "not proved" and not a failure. Anything else lacks a
    support.
    """
    about = replace(
        about_deck(
            made, f"{code_of(made)}-OVERHANG", f"{made.name} carries people where it stands over"
        ),
        source=f"cantilever strip, spread of one in two (judgement); {PEOPLE}",
        standing="assumed",
    )
    loose = [span for span in spans if not span.held & span.goes_on]
    if loose:
        needs = tuple(f"a leg or bearer under {_place(span)}" for span in loose)
        return not_proved(about, needs=needs)

    def find(sheet: Sheet) -> Finding:
        return worst(
            _tip(index, about, made, span, sheet, load) for span in spans for load in PATCHES
        )

    found = deck_advised(index, made, find)
    if found.status != "fail":
        return found
    return replace(
        found,
        status="not proved",
        needs=tuple(f"a leg or bearer under {_place(span)}" for span in spans),
    )


def _place(span: DeckSpan) -> str:
    return (
        f"the part at x {span.x.low:.0f} to {span.x.high:.0f}, y {span.y.low:.0f} to "
        f"{span.y.high:.0f} mm"
    )


def _tip(
    index: Index, about: About, made: DeckPiece, span: DeckSpan, sheet: Sheet, load: PatchLoad
) -> Finding:
    sizes = {"x": span.x.size, "y": span.y.size}
    edge = min(span.held & span.goes_on, key=lambda each: (sizes[each[-1]], each))
    along_1 = made.along_1(edge)
    arm, width = (sizes[way] for way in (("x", "y") if edge.endswith("x") else ("y", "x")))
    moment, sag = cantilever(
        sheet,
        along_1=along_1,
        arm_mm=arm,
        width_mm=width,
        load_n=load.load_n,
        patch_mm=load.side_mm,
    )
    return held(
        replace(
            about,
            load_case=f"parked: {load.what} at the tip, {load.load_n:g} N",
            working=(
                f"stands over {arm:.0f} mm, {width:.0f} mm wide, at {_place(span)}",
                f"M = P e, strip b = c + e / 2: m = {moment:.0f} N, sag {sag:.1f} mm",
            ),
        ),
        loads=(Load(kind="people", value=6.0 * moment / sheet.thickness**2),),
        capacity=sheet_strength(
            sheet.material,
            strength=sheet.strengths[0 if along_1 else 1],
            duration="short",
            service_class=index.service_class,
        ),
    )
