"""Wings: what covers the space between a block and the wall, over the arch, at deck height.

Left and right are the bay's, whichever way the block faces: a wing lies between it and the left or
the right wall, over the arch that stands there. A block that opens to a side has one wing at most,
behind its back; before its face nothing may lie.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from stowright.design.block import StandingBlock
from stowright.design.context import Context
from stowright.design.extras import Basket
from stowright.design.frame import BAY_FRAME
from stowright.design.panel import Lie, Place3, panel
from stowright.design.pieces import JointDraft, Piece, mass_kg_of, touching
from stowright.design.sums import line, stated
from stowright.design.wing_outline import WingOutline, wing_outline
from stowright.model.design import Gap, LooseThing, Motion, WingDesign
from stowright.model.geometry import Point2, Span
from stowright.model.part_area import polygon_area_mm2
from stowright.units import snap_down, tidy

__all__ = ["add_wings"]

type Side = Literal["left", "right"]

#: Between a wing and the deck beside it (common practice). [mm]
WING_GAP = 2.0
#: Left at the wall for scribing and trim (common practice, 5 to 8). [mm]
SCRIBE = 6.0
#: Height of the cleat that a wing rests on. [mm]
CLEAT = 40.0
#: A wing narrower than this is left out: trim covers it (common practice). [mm]
LEAST_WING = 30.0
#: What can be marked on a template. [mm]
FINEST_MARK = 0.5
#: A leg's clearance to wall and cleat. [mm]
LEG_CLEAR = 10.0


#: A cleat is screwed to a block's side, or to its back where the block opens to the other side.
_CARRIES_CLEAT = frozenset({"carcass-side", "carcass-back", "back-rail"})


@dataclass(frozen=True, slots=True, kw_only=True)
class _Wing:
    """One wing to be made.

    Attributes:
        sign: +1 on the left, -1 on the right.
        inner: |y| of the block's side; x: range along the bay; z: thickness range.
    """

    standing: StandingBlock
    side: Side
    kind: Literal["fixed", "lid"]
    sign: float
    inner: float
    x: Span
    z: Span
    sheet: str
    t_cleat: float
    t_leg: float

    @property
    def name(self) -> str:
        """``drawers wing, left``."""
        return f"{self.standing.block.name} wing, {self.side}"


def add_wings(
    context: Context,
    standing: tuple[StandingBlock, ...],
    carcasses: tuple[Piece, ...],
    basket: Basket,
) -> None:
    """Put the wings of every block that asks for them into the basket.

    The decks must lie in the basket already: a wing lies at their height and beside them.
    """
    decks = tuple(piece for piece in basket.pieces if piece.role == "deck")
    for block in standing:
        wanted: tuple[tuple[Side, Literal["fixed", "lid", "none"]], ...] = (
            ("left", block.block.wings.left),
            ("right", block.block.wings.right),
        )
        for side, kind in wanted:
            if kind == "none":
                continue
            if side == block.block.face:
                basket.warnings.append(
                    f"{block.block.name} wing, {side}: left out, the block opens to that side "
                    "(left and right are the bay's)"
                )
                continue
            wing = _wing(context, block, side, kind, decks, standing)
            neighbour = _neighbour(wing, standing)
            if neighbour:
                basket.warnings.append(
                    f"{wing.name}: left out, {neighbour} stands on that side of it"
                )
                continue
            _make(context, wing, decks, carcasses, basket)


def _wing(
    context: Context,
    block: StandingBlock,
    side: Side,
    kind: Literal["fixed", "lid"],
    decks: tuple[Piece, ...],
    standing: tuple[StandingBlock, ...],
) -> _Wing:
    deck = next((d for d in decks if _over(d, block)), None)
    sheet = deck.material if deck else block.block.build.deck_sheet
    top = deck.box.z.low if deck else block.box.z.high
    box = block.box
    inner = box.y.high if side == "left" else -box.y.low
    if deck is not None:
        inner = max(inner, deck.box.y.high if side == "left" else -deck.box.y.low)
    x_high = max((d.box.x.high for d in decks if _over(d, block)), default=box.x.high)
    further = [s.box.x.low for s in standing if _winged(s, side) and s.box.x.low > box.x.high]
    x_high = max(min([x_high, *(low - WING_GAP for low in further)]), box.x.high)
    return _Wing(
        standing=block,
        side=side,
        kind=kind,
        sign=1.0 if side == "left" else -1.0,
        inner=inner,
        x=Span(low=box.x.low, high=x_high),
        z=Span(low=top, high=tidy(top + context.t(sheet))),
        sheet=sheet,
        t_cleat=_t_cleat(context, block, side),
        t_leg=context.t(block.block.build.carcass),
    )


def _t_cleat(context: Context, block: StandingBlock, side: Side) -> float:
    """Return the thickness of a cleat: of the one that is cut, else of the batch in hand."""
    cut = context.refit.cut_as(_cleat_id(block, side)) if context.refit else None
    return cut.thickness if cut else context.t(block.block.build.carcass)


def _cleat_id(block: StandingBlock, side: Side) -> str:
    return f"{block.block.name}/wing-cleat-{side}"


def _winged(block: StandingBlock, side: Side) -> bool:
    """Tell whether a block asks for a wing of its own on a side."""
    wings = block.block.wings
    return (wings.left if side == "left" else wings.right) != "none"


def _neighbour(wing: _Wing, standing: tuple[StandingBlock, ...]) -> str:
    """Return the name of a block that stands between this one and the wall, or nothing."""
    own = wing.standing.box
    side = own.y.high if wing.sign > 0.0 else -own.y.low
    for other in standing:
        box = other.box
        reach = box.y.high if wing.sign > 0.0 else -box.y.low
        beside = other is not wing.standing and reach > side + WING_GAP
        if beside and box.x.overlap(wing.x) > 0.0 and box.z.low < wing.z.high:
            return other.block.name
    return ""


def _over(deck: Piece, block: StandingBlock) -> bool:
    return deck.box.x.overlap(block.box.x) > 0.0 and deck.box.y.overlap(block.box.y) > 0.0


def _make(
    context: Context,
    wing: _Wing,
    decks: tuple[Piece, ...],
    carcasses: tuple[Piece, ...],
    basket: Basket,
) -> None:
    found = wing_outline(
        bay=context.job.bay,
        side=wing.side,
        x=wing.x,
        z=wing.z.high,
        inner_y=wing.inner + WING_GAP,
        scribe_gap=SCRIBE,
        thickness=wing.z.size,
    )
    found = _as_read(context, wing, found)
    reach = min(y for _, y in found.offsets) - wing.inner - WING_GAP
    if reach < LEAST_WING:
        basket.warnings.append(
            f"{wing.name}: only {reach:.0f} mm wide at its narrowest; left to trim"
        )
        return
    panel_piece = _panel(wing, found, context.grid)
    basket.pieces.append(panel_piece)
    cleat = _cleat(wing, context.grid)
    basket.pieces.append(cleat)
    legs = _legs(context, wing, found)
    basket.pieces += legs
    _record(wing, found, panel_piece, decks, basket)
    _join(context, wing, panel_piece, cleat, legs, carcasses, basket)


def _as_read(context: Context, wing: _Wing, found: WingOutline) -> WingOutline:
    """Return the outline moved by what the gaps to the wall read with the unit in place."""
    rows = context.refit.wings if context.refit else ()
    own = (wing.standing.block.name, wing.side)
    row = next((w for w in rows if (w.block, w.side) == own), None)
    if row is None:
        return found
    start = wing.inner + WING_GAP
    offsets = tuple((x, max(y + _between(row.shifts, x), start)) for x, y in found.offsets)
    return replace(found, offsets=offsets, measured=True)


def _between(shifts: tuple[Point2, ...], x: float) -> float:
    """Return a shift at a place: linear between readings, the nearest one outside. [mm]."""
    before = max((s for s in shifts if s[0] <= x), default=shifts[0])
    after = min((s for s in shifts if s[0] >= x), default=shifts[-1])
    if after[0] <= before[0]:
        return before[1]
    share = (x - before[0]) / (after[0] - before[0])
    return before[1] + share * (after[1] - before[1])


def _mark(value: float, grid: float) -> float:
    """Round an offset down to the cut grid, 0.5 at the finest: what a template can show. [mm]."""
    return snap_down(value, max(grid, FINEST_MARK))


def _panel(wing: _Wing, found: WingOutline, grid: float) -> Piece:
    start = wing.inner + WING_GAP
    outer: list[Point2] = [(tidy(x - wing.x.low), _mark(y - start, grid)) for x, y in found.offsets]
    width = max(v for _, v in outer)
    outline = ((0.0, 0.0), (wing.x.size, 0.0), *reversed(outer))
    y = Span(low=start, high=tidy(start + width))
    if wing.sign < 0.0:
        y = Span(low=-y.high, high=-y.low)
    body = "fixed" if wing.kind == "fixed" else wing.name
    return panel(
        BAY_FRAME,
        Place3(across=wing.x, depth=y, up=wing.z),
        Lie("+a", "+d" if wing.sign > 0.0 else "-d", "+h"),
        piece_id=f"{wing.standing.block.name}/wing-{wing.side}",
        name=f"wing, {wing.side}",
        role="wing" if wing.kind == "fixed" else "wing-lid",
        block=wing.standing.block.name,
        body=body,
        material=wing.sheet,
        outline=tuple((tidy(u), tidy(v)) for u, v in outline),
        release="B",
        waits_for="the unit in place: template each wing",
        hand=wing.side,
        edges=("u0", "u1", "v0", "v1"),
        origin_note="face-side corner at the block, good face up",
        exposed=True,
    )


def _cleat(wing: _Wing, grid: float) -> Piece:
    box = wing.standing.box
    base = box.y.high if wing.sign > 0.0 else -box.y.low
    y = Span(low=base, high=tidy(base + wing.t_cleat))
    if wing.sign < 0.0:
        y = Span(low=-y.high, high=-y.low)
    top = min(wing.z.low, box.z.high)
    return panel(
        BAY_FRAME,
        Place3(across=box.x, depth=y, up=Span(low=tidy(top - snap_down(CLEAT, grid)), high=top)),
        Lie("+a", "+h", "-d") if wing.sign > 0.0 else Lie("+a", "+h", "+d"),
        piece_id=_cleat_id(wing.standing, wing.side),
        name=f"wing cleat, {wing.side}",
        role="wing-cleat",
        block=wing.standing.block.name,
        body="fixed",
        material=wing.standing.block.build.carcass,
        origin_note="face-side lower corner, good face to the block",
    )


def _legs(context: Context, wing: _Wing, found: WingOutline) -> list[Piece]:
    """Stand a leg at the face (it closes the gap there too) and one behind the arch."""
    t = wing.t_leg
    low_x = wing.x.low + 20.0
    places = [("infill", "face infill", Span(low=low_x, high=tidy(low_x + t)))]
    high_x = wing.x.high - 40.0
    places.append(("wing-leg", "wing leg", Span(low=tidy(high_x - t), high=high_x)))
    return [
        piece
        for role, name, x in places
        if (piece := _leg(context, wing, found, role, name, x)) is not None
    ]


def _leg(
    context: Context, wing: _Wing, found: WingOutline, role: str, name: str, x: Span
) -> Piece | None:
    """Return a leg from the floor to the wing, or None where the arch leaves no room for it."""
    bay = context.job.bay
    arch = next((a for a in bay.arches if a.side == wing.side), None)
    if arch is not None and x.high > arch.start - LEG_CLEAR and x.low < arch.end + LEG_CLEAR:
        return None
    inner = wing.inner + WING_GAP + wing.t_cleat + LEG_CLEAR
    at_deck = min(y for px, y in found.offsets if abs(px - x.low) < 150.0)
    foot = wing_outline(bay=bay, side=wing.side, x=x, z=0.0, inner_y=0.0, scribe_gap=SCRIBE)
    outer = min(at_deck, *(y for _, y in foot.offsets)) - bay.cove - LEG_CLEAR
    if outer - inner < LEAST_WING:
        return None
    y = Span(low=tidy(inner), high=tidy(inner + _mark(outer - inner, context.grid)))
    if wing.sign < 0.0:
        y = Span(low=-y.high, high=-y.low)
    height = snap_down(wing.z.low, context.grid)
    return panel(
        BAY_FRAME,
        Place3(across=x, depth=y, up=Span(low=tidy(wing.z.low - height), high=wing.z.low)),
        Lie("+h", "+d" if wing.sign > 0.0 else "-d", "-a"),
        piece_id=f"{wing.standing.block.name}/{role}-{wing.side}",
        name=f"{name}, {wing.side}",
        role=role,
        block=wing.standing.block.name,
        body="fixed",
        material=wing.standing.block.build.carcass,
        release="B",
        waits_for="the unit in place: gap to the wall",
        hand=wing.side,
        origin_note="lower corner at the block, good face to the tail",
    )


def _record(
    wing: _Wing, found: WingOutline, piece: Piece, decks: tuple[Piece, ...], basket: Basket
) -> None:
    name = wing.standing.block.name
    basket.wings.append(
        WingDesign(
            block=name,
            side=wing.side,
            kind=wing.kind,
            offsets=found.offsets,
            scribe_gap=SCRIBE,
            measured=found.measured,
            void_litres=found.void_litres,
            mark="",
        )
    )
    if not found.measured:
        basket.warnings.append(
            f"{wing.name}: no width was measured at deck height; cut it from a template"
        )
    widest = max(y for _, y in found.offsets)
    basket.sums.append(
        stated(
            f"{wing.name}: greatest width",
            line("centre line to wall, less the scribe gap", widest),
            line("block side from the centre line", -wing.inner),
            line("gap to the deck", -WING_GAP),
        )
    )
    for deck in decks:
        if abs(deck.box.z.low - piece.box.z.low) < 1.0e-6 and _over(deck, wing.standing):
            apart = -deck.box.y.overlap(piece.box.y)
            basket.gaps.append(
                Gap(
                    name=f"{wing.name}: gap to the deck",
                    between=(deck.id, piece.id),
                    axis="y",
                    sum=tidy(apart),
                    least=0.5,
                )
            )


def _join(
    context: Context,
    wing: _Wing,
    piece: Piece,
    cleat: Piece,
    legs: list[Piece],
    carcasses: tuple[Piece, ...],
    basket: Basket,
) -> None:
    for side in carcasses:
        if side.role in _CARRIES_CLEAT and touching(side.box, cleat.box):
            basket.drafts.append(
                JointDraft(
                    receiver=cleat.id,
                    entering=side.id,
                    kind="planted",
                    glued=False,
                    step="wings",
                    purpose="wing cleat to the block",
                    removable=True,
                )
            )
    if wing.kind == "lid":
        basket.hardware.append(("piano-hinge-1000", 1, wing.name))
        basket.hardware.append(("turn-catch", 2, f"{wing.name}: holds it shut"))
        basket.motions.append(_swing(wing, piece))
        basket.loose.append(
            LooseThing(
                what=wing.name,
                where="wing",
                mass_kg=round(_mass_kg(context, piece), 3),
                held_by="turn-catch, 2",
            )
        )
        _stay_legs(context, wing, legs, basket)
        return
    basket.drafts += [
        JointDraft(
            receiver=piece.id,
            entering=under.id,
            kind="butt",
            glued=False,
            step="wings",
            purpose=f"wing down to {under.name}",
            removable=True,
        )
        for under in (cleat, *legs)
        if touching(piece.box, under.box)
    ]


def _stay_legs(context: Context, wing: _Wing, legs: list[Piece], basket: Basket) -> None:
    """Hold legs that stand under a lid to the block's side: the lid itself is not screwed down."""
    for leg in legs:
        basket.hardware.append(("angle-60", 2, f"{leg.name}: to the side of {leg.block}"))
        basket.loose.append(
            LooseThing(
                what=leg.name,
                where=wing.standing.block.name,
                mass_kg=round(_mass_kg(context, leg), 3),
                held_by="angle-60, 2",
            )
        )


def _mass_kg(context: Context, piece: Piece) -> float:
    return mass_kg_of(
        volume_mm3=polygon_area_mm2(piece.contour) * piece.thickness,
        density_kg_m3=context.density(piece.material),
    )


def _swing(wing: _Wing, piece: Piece) -> Motion:
    y = piece.box.y.low if wing.sign > 0.0 else piece.box.y.high
    return Motion(
        body=wing.name,
        kind="swing",
        axis=(wing.sign, 0.0, 0.0),
        travel=90.0,
        pivot=(wing.x.middle, y, wing.z.high),
        droop=0.0,
    )
