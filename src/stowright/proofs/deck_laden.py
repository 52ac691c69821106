"""A deck under its cargo: bending and rolling shear on the road and at rest, sag, and its joints.

Each thing is an even load on the part of its footprint that lies over a span, put amid the span: no
milder than where it is. Its straps press it onto the deck and pull the deck up beside it; together
they add nothing to what the deck's joints have to hold sideways.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import partial

from stowright.design.deck_spans import DeckSpan, spans_under
from stowright.formulas.actions_en1990 import road_shock
from stowright.formulas.ec5_design import SPAN_OVER_SAG, Duration, final_deflection_mm, k_def
from stowright.formulas.plates_navier import PlateResponse
from stowright.model.design import DeckCargo
from stowright.model.finding import Finding
from stowright.proofs.basis import Load, LoadKind, held_or_told, worst
from stowright.proofs.deck_pieces import DeckPiece, deck_piece, said
from stowright.proofs.index import G, Index
from stowright.proofs.joint_holds import sheared
from stowright.proofs.judge import About, clearance, complete, weakest
from stowright.proofs.sheets import (
    PLATE,
    Sheet,
    bending_held,
    rolling_held,
    self_weight_n_mm2,
    sheet_trials,
)
from stowright.proofs.supported import held_well, scaled
from stowright.proofs.tried import advised

__all__ = ["laden_deck_findings"]

type _Share = tuple[DeckCargo, float, float, float]


def laden_deck_findings(index: Index) -> Iterator[Finding]:
    """Yield findings about every deck piece with cargo over it, and about each laden deck."""
    for piece in index.of_role("deck"):
        made = deck_piece(index, piece)
        spans = [
            (span, shares)
            for span in spans_under(index, piece)
            if (shares := _over(index, piece.block, span))
        ]
        if spans:
            yield from _piece(index, made, spans)
    for deck in dict.fromkeys(row.deck for row in index.design.deck_cargo):
        yield from _joints(index, deck)


def _over(index: Index, deck: str, span: DeckSpan) -> list[_Share]:
    """Return what lies over a span of a deck: the thing, its mass there, its footprint there."""
    found = []
    for row in index.design.deck_cargo:
        x, y = row.box.x.overlap(span.x), row.box.y.overlap(span.y)
        if row.deck == deck and x > 0.0 and y > 0.0:
            share = x * y / (row.box.x.size * row.box.y.size)
            found.append((row, share * row.mass_kg, x, y))
    return found


def _about(made: DeckPiece, code: str, title: str) -> About:
    return About(
        id=f"{code}:{made.piece.id}",
        title=title,
        about=made.mark,
        family=5,
        source=PLATE,
        standing="from memory",
    )


def _piece(
    index: Index, made: DeckPiece, spans: list[tuple[DeckSpan, list[_Share]]]
) -> Iterator[Finding]:
    about = _about(made, "DECK-CARGO-STRESS", f"{made.name} carries what rides on it")
    good = [row for row in spans if held_well(made.field(row[0], made.sheet).edges)]
    if len(good) < len(spans):
        loose = next(span for span, _ in spans if (span, _) not in good)
        yield complete(
            replace(about, working=(said(loose),)),
            missing=("cargo lies where no two opposite edges of the deck are held",),
            advice=("another place for it (at = [x, y]), or a bearer under that part of the deck",),
        )
        return
    bends = partial(_bends, index, about, made, good)
    yield advised(bends(made.sheet), *sheet_trials(index, made.sheet, bends))
    told = _about(
        made, "DECK-CARGO-SHEAR", f"Plies of {made.name} do not roll under what rides on it"
    )
    rolls = partial(_rolls, index, told, made, good)
    yield advised(rolls(made.sheet), *sheet_trials(index, made.sheet, rolls))
    told = _about(
        made, "DECK-CARGO-SAG", f"{made.name} does not sag for good under what rides on it"
    )
    sags = partial(_sags, index, told, made, good)
    yield advised(sags(made.sheet), *sheet_trials(index, made.sheet, sags))


def _response(made: DeckPiece, span: DeckSpan, shares: list[_Share], sheet: Sheet) -> PlateResponse:
    """Return what a span does under all that lies over it, at 1 g."""
    field = made.field(span, sheet)
    total = PlateResponse(deflection_mm=0.0, moment_x_n=0.0, moment_y_n=0.0)
    for _, mass, x, y in shares:
        one, two = (x, y) if made.grain_x else (y, x)
        answer = field.patch(load_n=mass * G, patch_1_mm=one, patch_2_mm=two)
        total = PlateResponse(*(a + b for a, b in zip(total, answer, strict=True)))
    return scaled(total, made.top_share(sheet))


def _lies(shares: list[_Share]) -> str:
    return "over it: " + ", ".join(
        f"{row.what} {row.copy}, {mass:.1f} kg of it on {x:.0f} x {y:.0f} mm"
        for row, mass, x, y in shares
    )


def _bends(
    index: Index,
    about: About,
    made: DeckPiece,
    spans: list[tuple[DeckSpan, list[_Share]]],
    sheet: Sheet,
) -> Finding:
    road = index.design.job.road
    shock = road_shock(road=road)
    cases: tuple[tuple[str, float, Duration], ...] = (
        (f"road {road}: {shock:g} g on cargo, instantaneous", shock, "instantaneous"),
        ("at rest, for years: 1 g on cargo", 1.0, "long"),
    )
    rows = []
    for span, shares in spans:
        own = made.field(span, sheet).uniform(pressure_n_mm2=self_weight_n_mm2(sheet))
        answer = _response(made, span, shares, sheet)
        for case, times, duration in cases:
            parts: tuple[tuple[LoadKind, PlateResponse], ...] = (
                ("contents", scaled(answer, times)),
                ("own mass", scaled(own, times)),
            )
            rows.append(
                bending_held(
                    replace(about, load_case=case, working=(said(span), _lies(shares))),
                    sheet=sheet,
                    parts=parts,
                    duration=duration,
                    service_class=index.service_class,
                )
            )
    return worst(rows)


def _rolls(
    index: Index,
    about: About,
    made: DeckPiece,
    spans: list[tuple[DeckSpan, list[_Share]]],
    sheet: Sheet,
) -> Finding:
    """Return the rolling shear at the edges: all that lies over a span as an even load on it."""
    road = index.design.job.road
    shock = road_shock(road=road)
    rows = []
    for span, shares in spans:
        field = made.field(span, sheet)
        area = span.x.size * span.y.size
        mass = sum(each for _, each, _, _ in shares) * made.top_share(sheet)
        parts: tuple[tuple[LoadKind, tuple[float, float]], ...] = (
            ("contents", field.shear(pressure_n_mm2=shock * mass * G / area)),
            ("own mass", field.shear(pressure_n_mm2=shock * self_weight_n_mm2(sheet))),
        )
        case = f"road {road}: {shock:g} g on cargo, instantaneous"
        rows.append(
            rolling_held(
                replace(about, load_case=case, working=(said(span), _lies(shares))),
                sheet=sheet,
                parts=parts,
                duration="instantaneous",
                service_class=index.service_class,
            )
        )
    return worst(rows)


def _sags(
    index: Index,
    about: About,
    made: DeckPiece,
    spans: list[tuple[DeckSpan, list[_Share]]],
    sheet: Sheet,
) -> Finding:
    """Return the final sag under cargo that stays on for years, against span / 200."""
    creep = k_def(service_class=index.service_class)
    rows = []
    for span, shares in spans:
        field = made.field(span, sheet)
        own = field.uniform(pressure_n_mm2=self_weight_n_mm2(sheet)).deflection_mm
        laid = _response(made, span, shares, sheet).deflection_mm
        final = final_deflection_mm(
            permanent_mm=own, variable_mm=laid, creep=creep, quasi_permanent=1.0
        )
        rows.append(
            clearance(
                replace(
                    about,
                    source=f"{PLATE}; EN 1995-1-1 2.2.3, from memory; span / 200 as for shelves",
                    standing=weakest(about.standing, sheet.material.origin.standing),
                    load_case="at rest, for years",
                    working=(
                        said(span),
                        _lies(shares),
                        (
                            f"w_fin = (w_G + w_Q) (1 + k_def) = ({own:.2f} + {laid:.2f}) "
                            f"(1 + {creep:g}) = {final:.2f} mm"
                        ),
                    ),
                ),
                needed=final,
                available=field.span / SPAN_OVER_SAG["shelf"],
                reading_error=0.0,
            )
        )
    return worst(rows)


def _joints(index: Index, deck: str) -> Iterator[Finding]:
    """Whether what fastens a deck takes the push of cargo that is tied to it."""
    riding = [row for row in index.design.deck_cargo if row.deck == deck and row.on_unit]
    own = {piece.id for piece in index.of_role("deck") if piece.block == deck}
    joints = [
        joint
        for name in sorted(own)
        for joint in index.joints.get(name, [])
        if not set(joint.parts) <= own
    ]
    lifts = any(row.name == deck and row.kind == "lift-out" for row in index.design.job.decks)
    if not riding or not joints or lifts:
        return  # a lift-out deck: its dogs are held against its own mass and the cargo (LOOSE)
    rules = index.rules
    mass = sum(row.mass_kg for row in riding)
    worst_push = max(rules.forward, rules.rear, rules.side)
    about = About(
        id=f"DECK-CARGO-JOINT:{deck}",
        title=f"{deck} stays on the unit with its cargo tied to it",
        about=deck,
        family=7,
        source=f"F = a m g; {rules.title}: {rules.source.text}",
        standing=rules.source.shown_as,
        load_case=f"{rules.name}: {worst_push:g} g",
        working=(
            f"F = a m g = {worst_push:g} x {mass:.1f} kg x {G:g} = {worst_push * mass * G:.0f} N",
        ),
    )
    load = Load(kind="restraint", value=worst_push * mass * G, what="cargo")
    find = partial(sheared, index, about, joints=joints, loads=(load,), rules=rules)
    yield held_or_told(about, find)
