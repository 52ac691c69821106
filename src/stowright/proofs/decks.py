"""Decks and wings under people, parked: a knee, a foot, somebody lying; spans, edges, overhangs."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from stowright.design.deck_spans import DeckSpan
from stowright.formulas.beams import two_span_uniform_moment_n_mm
from stowright.formulas.plates_navier import PlateResponse
from stowright.formulas.platform_loads import LYING, PATCHES
from stowright.model.finding import Finding
from stowright.proofs.basis import Load, LoadKind, held, sheet_strength, worst
from stowright.proofs.deck_edges import edge_findings, overhang_finding
from stowright.proofs.deck_pieces import (
    DeckPiece,
    about_deck,
    code_of,
    deck_advised,
    deck_piece,
    people_told,
    propped,
    said,
)
from stowright.proofs.deck_sags import sag_findings
from stowright.proofs.index import Index
from stowright.proofs.judge import About
from stowright.proofs.sheets import (
    Sheet,
    bending_held,
    rolling_held,
    self_weight_n_mm2,
)
from stowright.proofs.supported import Field, held_well, scaled
from stowright.proofs.tried import thicker

__all__ = ["deck_findings"]

ROLES = ("deck", "wing", "wing-lid")


def deck_findings(index: Index) -> Iterator[Finding]:
    """Yield findings about every deck piece and wing."""
    for piece in index.of_role(*ROLES):
        made = deck_piece(index, piece)
        plates = [span for span in made.spans if held_well(made.field(span, made.sheet).edges)]
        others = [span for span in made.spans if span not in plates]
        if plates:
            yield _strength(index, made, plates)
            yield _shear(index, made, plates)
            yield from sag_findings(index, made, plates)
            yield from edge_findings(index, made, plates)
        if others:
            yield overhang_finding(index, made, others)


def _strength(index: Index, made: DeckPiece, plates: list[DeckSpan]) -> Finding:
    about = about_deck(
        made, f"{code_of(made)}-STRESS", f"{made.name} carries people on it, away from its edges"
    )

    def find(sheet: Sheet, spans: list[DeckSpan] = plates) -> Finding:
        return worst(found for span in spans for found in _amid(index, about, made, span, sheet))

    return people_told(
        made.piece.role,
        deck_advised(
            index,
            made,
            find,
            last=propped(made, plates, find, thicker(index.catalogue, made.sheet.material)),
        ),
    )


def _amid(
    index: Index, about: About, made: DeckPiece, span: DeckSpan, sheet: Sheet
) -> Iterator[Finding]:
    """Yield the bending findings of one span: knee, foot, lying, and over a middle support."""
    field = made.field(span, sheet)
    own = field.uniform(pressure_n_mm2=self_weight_n_mm2(sheet))
    cases: list[tuple[str, PlateResponse]] = [
        (
            f"parked: {each.what}, {each.load_n:g} N on {each.side_mm:g} x {each.side_mm:g} mm",
            field.patch(load_n=each.load_n, patch_1_mm=each.side_mm, patch_2_mm=each.side_mm),
        )
        for each in PATCHES
    ]
    cases.append(
        (
            f"parked: {LYING.what}, {LYING.pressure_n_mm2 * 1e3:g} kN/m²",
            field.uniform(pressure_n_mm2=LYING.pressure_n_mm2),
        )
    )
    share = made.top_share(sheet)
    told = replace(about, working=(said(span),))
    for case, answer in cases:
        yield bending_held(
            replace(told, load_case=case),
            sheet=sheet,
            parts=(("people", scaled(answer, share)), ("own mass", own)),
            duration="short",
            service_class=index.service_class,
        )
        if made.layer is not None:
            yield bending_held(
                replace(told, load_case=f"{case}: the panel under it"),
                sheet=made.layer,
                parts=(("people", scaled(answer, 1.0 - share)),),
                duration="short",
                service_class=index.service_class,
            )
    if span.held & span.goes_on:
        yield _over_support(index, told, field, span, made)


def _shear(index: Index, made: DeckPiece, plates: list[DeckSpan]) -> Finding:
    """Return the rolling shear at the supports: somebody lying, and a foot amid a strip."""
    about = about_deck(
        made, f"{code_of(made)}-SHEAR", f"Plies of {made.name} do not roll at its supports"
    )
    foot = PATCHES[1]

    def find(sheet: Sheet, spans: list[DeckSpan] = plates) -> Finding:
        rows = []
        for span in spans:
            field = made.field(span, sheet)
            share = made.top_share(sheet)
            amid = field.patch(load_n=foot.load_n, patch_1_mm=foot.side_mm, patch_2_mm=foot.side_mm)
            greater = max(abs(amid.moment_x_n), abs(amid.moment_y_n))
            strip = field.strip_moment(load_n=foot.load_n, patch_mm=foot.side_mm) / greater
            across = foot.load_n / 2.0 / strip
            way = abs(amid.moment_x_n) >= abs(amid.moment_y_n)
            lying = field.shear(pressure_n_mm2=LYING.pressure_n_mm2)
            own = field.shear(pressure_n_mm2=self_weight_n_mm2(sheet))
            for case, shear in (
                (f"parked: {LYING.what}, {LYING.pressure_n_mm2 * 1e3:g} kN/m²", lying),
                (
                    f"parked: {foot.what} amid, {foot.load_n:g} N on a strip of {strip:.0f} mm",
                    (across, 0.0) if way else (0.0, across),
                ),
            ):
                rows.append(
                    rolling_held(
                        replace(about, load_case=case, working=(said(span),)),
                        sheet=sheet,
                        parts=(
                            ("people", (share * shear[0], share * shear[1])),
                            ("own mass", own),
                        ),
                        duration="short",
                        service_class=index.service_class,
                    )
                )
        return worst(rows)

    return people_told(
        made.piece.role,
        deck_advised(
            index,
            made,
            find,
            last=propped(made, plates, find, thicker(index.catalogue, made.sheet.material)),
        ),
    )


def _over_support(
    index: Index, about: About, field: Field, span: DeckSpan, made: DeckPiece
) -> Finding:
    """Return the finding over the middle of three supports under somebody lying."""
    edge = min(span.held & span.goes_on)
    way = 0 if made.along_1(edge) else 1
    length = field.side_1 if way == 0 else field.side_2
    sheet = field.sheet
    section = sheet.thickness**2 / 6.0
    loads: list[Load] = []
    rows: tuple[tuple[LoadKind, float], ...] = (
        ("people", LYING.pressure_n_mm2),
        ("own mass", self_weight_n_mm2(sheet)),
    )
    for kind, pressure in rows:
        moment = two_span_uniform_moment_n_mm(line_load_n_mm=pressure, span_mm=length)
        loads.append(Load(kind=kind, value=moment / section))
    return held(
        replace(
            about,
            load_case=f"parked: {LYING.what}, over the middle of three supports",
            working=(*about.working, f"M = q L² / 8 over the middle support, L {length:.0f} mm"),
        ),
        loads=loads,
        capacity=sheet_strength(
            sheet.material,
            strength=sheet.strengths[way],
            duration="short",
            service_class=index.service_class,
        ),
    )
