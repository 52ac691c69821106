"""How far a deck sags: under a knee, and for good onto what moves under it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from stowright.design.deck_spans import DeckSpan, spans_under
from stowright.formulas.ec5_design import final_deflection_mm, k_def
from stowright.formulas.platform_loads import LYING, PATCHES
from stowright.formulas.strips import share_by_stiffness
from stowright.model.finding import Finding
from stowright.model.geometry import Box
from stowright.proofs.basis import worst
from stowright.proofs.deck_pieces import (
    DeckPiece,
    about_deck,
    code_of,
    deck_advised,
    mirrored_edges,
    people_told,
    propped,
    said,
)
from stowright.proofs.index import Index
from stowright.proofs.judge import About, clearance, weakest
from stowright.proofs.sheets import Sheet, self_weight_n_mm2
from stowright.proofs.supported import Field, held_well
from stowright.proofs.tried import thicker

__all__ = ["sag_findings"]

#: A deck may sag this share of its span under a knee (practice, from memory).
SAG_SHARE = 1.0 / 150.0
#: What stays free between a sagging deck and a drawer under it. [mm]
LEFT_FREE = 2.0
#: Share of people's load that is there for years: EN 1990, rooms to live in, from memory.
STAYS = 0.3


def sag_findings(index: Index, made: DeckPiece, plates: list[DeckSpan]) -> Iterator[Finding]:
    """Yield how stiff a deck is under a knee, and whether it sags onto what moves under it."""
    stiff = about_deck(made, f"{code_of(made)}-SAG", f"{made.name} stays stiff under a knee")

    def knee(sheet: Sheet, spans: list[DeckSpan] = plates) -> Finding:
        return _under_knee(stiff, made, spans, sheet)

    rows = tuple(thicker(index.catalogue, made.sheet.material))
    yield people_told(
        made.piece.role,
        deck_advised(
            index,
            made,
            knee,
            last=propped(made, plates, knee, rows),
        ),
    )
    over = _over_drawers(index, made)
    if not over:
        return
    clear = about_deck(
        made, f"{code_of(made)}-GAP", f"{made.name} does not sag onto the drawers under it"
    )

    def lying(sheet: Sheet, spans: list[DeckSpan] = over) -> Finding:
        return _onto_drawers(index, clear, made, spans, sheet)

    yield deck_advised(
        index,
        made,
        lying,
        last=propped(made, over, lying, rows),
    )


def _over_drawers(index: Index, made: DeckPiece) -> list[DeckSpan]:
    """Return the spans over something that moves; like spans once for each room that is there."""
    unique: dict[tuple[object, ...], DeckSpan] = {}
    for span in spans_under(index, made.piece):
        if held_well(made.field(span, made.sheet).edges):
            rooms = _rooms(index, made, span, made.sheet)
            least = tuple(sorted((round(room, 1), round(less, 3)) for _, room, less in rooms))
            if least:
                sizes = round(span.x.size), round(span.y.size)
                unique.setdefault((*sizes, mirrored_edges(span), least), span)
    return list(unique.values())


def _under_knee(about: About, made: DeckPiece, plates: list[DeckSpan], sheet: Sheet) -> Finding:
    """Return the momentary sag under a knee against a share of the span."""
    knee = PATCHES[0]
    share = made.top_share(sheet)
    rows = []
    for span in plates:
        field = made.field(span, sheet)
        patch = field.patch(load_n=knee.load_n, patch_1_mm=knee.side_mm, patch_2_mm=knee.side_mm)
        sag = share * patch.deflection_mm
        limit = field.span * SAG_SHARE
        told = replace(
            about,
            standing=weakest(about.standing, sheet.material.origin.standing),
            load_case=f"parked: {knee.what}, {knee.load_n:g} N on {knee.side_mm:g} x "
            f"{knee.side_mm:g} mm",
            working=(
                said(span),
                f"sag {sag:.2f} mm; span / 150 = {limit:.2f} mm (practice)",
            ),
        )
        rows.append(clearance(told, needed=sag, available=limit, reading_error=0.0))
    return worst(rows)


def _onto_drawers(
    index: Index, about: About, made: DeckPiece, plates: list[DeckSpan], sheet: Sheet
) -> Finding:
    """Return the final sag of own mass and people lying against each gap that it would eat."""
    creep = k_def(service_class=index.service_class)
    rows = []
    for span in plates:
        field = made.field(span, sheet)
        unit = made.top_share(sheet) * field.uniform(pressure_n_mm2=1.0).deflection_mm
        for what, room, less in _rooms(index, made, span, sheet):
            own = less * unit * self_weight_n_mm2(sheet)
            lying = less * unit * LYING.pressure_n_mm2
            final = final_deflection_mm(
                permanent_mm=own, variable_mm=lying, creep=creep, quasi_permanent=STAYS
            )
            told = replace(
                about,
                source=f"{about.source}; EN 1995-1-1 2.2.3, psi2 {STAYS:g}, from memory",
                standing=weakest(about.standing, sheet.material.origin.standing),
                load_case=f"{LYING.what}, {LYING.pressure_n_mm2 * 1e3:g} kN/m², and its own mass "
                f"for years: {what}",
                working=(
                    said(span),
                    (
                        "w_fin = w_G (1 + k_def) + w_Q (1 + psi2 k_def)"
                        f" = {own:.2f} (1 + {creep:g}) + {lying:.2f} "
                        f"(1 + {STAYS:g} x {creep:g}) = {final:.2f} mm"
                    ),
                    f"gap under {what} {room:.1f} mm, of which {LEFT_FREE:g} mm stay free",
                ),
            )
            rows.append(
                clearance(told, needed=final, available=room - LEFT_FREE, reading_error=0.0)
            )
    return worst(rows)


def _rooms(
    index: Index, made: DeckPiece, span: DeckSpan, sheet: Sheet
) -> list[tuple[str, float, float]]:
    """Return what lies over something that moves, the room there, and what is left of the sag."""
    drawers = _drawers_under(index, made)
    found = []
    for what, over, less in _parts_over(index, made, made.field(span, sheet), span):
        rooms = [over.z.low - below.z.high for below in drawers if _over(over, below)]
        if rooms:
            found.append((what, min(rooms), less))
    return found


def _parts_over(
    index: Index, made: DeckPiece, field: Field, span: DeckSpan
) -> Iterator[tuple[str, Box, float]]:
    """Yield the deck and each rail under it, with what is left of the sag where a rail stiffens.

    A rail bends with the strip of deck that is nearest to it, half way to its neighbours.
    """
    yield "the deck", index.boxes[made.piece.id], 1.0
    rails = [flat for flat in made.flats if flat.role != "carcass-top"]
    reach = max(field.side_1, field.side_2) / (2.0 * max(1, len(rails) - 1))
    strip = field.strip_modulus() * reach * field.sheet.thickness**3 / 12.0
    for rail in rails:
        box = index.boxes[rail.id]
        if box.x.overlap(span.x) < 1.0 or box.y.overlap(span.y) < 1.0:
            continue
        own = index.material(rail).e_along * rail.width * rail.thickness**3 / 12.0
        yield rail.id, box, share_by_stiffness(stiffness=strip, others=own)


def _drawers_under(index: Index, made: DeckPiece) -> list[Box]:
    """Return the boxes of what moves under a deck or under a rail that it lies on."""
    above = [index.boxes[made.piece.id], *(index.boxes[flat.id] for flat in made.flats)]
    return [
        index.boxes[piece.id]
        for piece in index.design.placed
        if piece.body not in {"fixed", made.piece.body}
        and piece.role.startswith(("drawer", "tray"))
        and any(_over(over, index.boxes[piece.id]) for over in above)
    ]


def _over(above: Box, below: Box) -> bool:
    """Say whether one box lies above another, in plan and in height."""
    return (
        above.x.overlap(below.x) > 1.0
        and above.y.overlap(below.y) > 1.0
        and below.z.high <= above.z.low
    )
