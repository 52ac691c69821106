"""Decks: outline, split over supports, grain against the span, bearers across voids."""

from __future__ import annotations

from math import ceil
from typing import Literal

from stowright.design.block import StandingBlock
from stowright.design.context import Context
from stowright.design.deck_joints import JointAsk, cuts_of, strips_under, voids_between
from stowright.design.deck_legs import before_a_face, legs_of, with_cleats
from stowright.design.extras import Basket
from stowright.design.frame import BAY_FRAME
from stowright.design.heights import deck_top
from stowright.design.let_in import let_in
from stowright.design.panel import Lie, Place3, panel
from stowright.design.pieces import JointDraft, Piece, touching
from stowright.design.sums import line, stated
from stowright.design.usable_box import usable_box
from stowright.errors import DesignError
from stowright.model.design import LooseThing, Skew, Sum
from stowright.model.geometry import Box, Span
from stowright.model.job import Deck, Place
from stowright.model.part import Feature
from stowright.units import snap_down, tidy

__all__ = ["add_decks"]

ALONG_X = Lie("+a", "+d", "+h")
ALONG_Y = Lie("+d", "-a", "+h")
#: Mass of a lift-out piece that one person lifts at arm's length, elbow height (from memory). [kg]
LIFT_OUT_KG = 10.0
#: A strip thinner than this holds no screw: it is glued to one of the pieces. [mm]
THIN = 9.0
#: A bearer's height and how far bearers stand apart (common practice). [mm]
BEARER, BEARERS_APART = 60.0, 450.0


def add_decks(
    context: Context,
    skew: Skew,
    standing: tuple[StandingBlock, ...],
    carcasses: tuple[Piece, ...],
    basket: Basket,
) -> None:
    """Put the decks of a job into the basket.

    Raises:
        DesignError: When a deck's blocks end at different heights.
    """
    for deck in context.job.decks:
        under = tuple(s for s in standing if s.block.name in deck.over)
        if under:
            _one_deck(context, skew, deck, (under, standing), carcasses, basket)


def _one_deck(
    context: Context,
    skew: Skew,
    deck: Deck,
    blocks: tuple[tuple[StandingBlock, ...], tuple[StandingBlock, ...]],
    carcasses: tuple[Piece, ...],
    basket: Basket,
) -> None:
    under, standing = blocks
    t = context.t(deck.build.deck_sheet)
    top = max(s.box.z.high for s in under)
    lowest = min(s.box.z.high for s in under)
    if top - lowest > 0.5:
        raise DesignError(
            deck.name,
            f"the blocks under it end {top - lowest:.1f} mm apart in height",
            "give them the same z range, or a deck each",
        )
    z = Span(low=top, high=tidy(top + t))
    others = tuple(s.box for s in standing if s not in under and s.box.z.high > top + 0.01)
    outline = _outline(context, skew, deck, (under, others), z)
    basket.sums.append(_height_sum(context, deck, top, t))
    spans = _split(context, deck, outline, under, t)
    for n, span in enumerate(spans, start=1):
        piece = _piece(context, deck, n, len(spans), Box(x=span, y=outline.y, z=outline.z))
        basket.pieces.append(piece)
        _hold(
            deck, piece, carcasses, basket, mass=_mass(context, deck, span.size, outline.y.size, t)
        )
    carrying = tuple(s for s in standing if s in under or _lies_under(s, outline))
    others = tuple(with_cleats(s) for s in standing if s not in carrying)
    _bearers(context, skew, deck, (carrying, others), outline, basket, carcasses)
    if len(spans) > 1:
        _carry_joints(context, deck, carrying, outline, spans, basket, carcasses)


def _lies_under(standing: StandingBlock, outline: Box) -> bool:
    """Tell whether a block that the deck was not asked over carries it all the same."""
    box = standing.box
    return (
        abs(box.z.high - outline.z.low) < 1.0
        and box.x.overlap(outline.x) > 1.0
        and box.y.overlap(outline.y) > 1.0
    )


def _carry_joints(
    context: Context,
    deck: Deck,
    under: tuple[StandingBlock, ...],
    outline: Box,
    spans: tuple[Span, ...],
    basket: Basket,
    carcasses: tuple[Piece, ...],
) -> None:
    """Put a strip under every stretch of a joint that nothing carries."""
    bearers = tuple(p for p in basket.pieces if p.role == "bearer" and p.block == deck.name)
    tops = tuple(p for p in carcasses if p.role in {"carcass-rail", "carcass-top"})
    found = strips_under(
        context,
        JointAsk(
            deck=deck.name,
            at=tuple(span.high for span in spans[:-1]),
            outline=outline,
            under=under,
            standing=(*tops, *bearers),
        ),
    )
    basket.warnings += found.warnings
    # partitions that are housed in the rails reach up into the strip as well
    partitions = tuple(p for p in carcasses if p.role == "partition")
    basket.pieces += [let_in(strip, partitions, purpose="for the") for strip in found.pieces]
    decks = [p for p in basket.pieces if p.role == "deck" and p.block == deck.name]
    basket.drafts += [
        JointDraft(
            receiver=piece.id,
            entering=strip.id,
            kind="planted",
            glued=strip.thickness < THIN,
            step="deck",
            purpose="deck down to the strip under its joint",
            removable=strip.thickness >= THIN,
        )
        for strip in found.pieces
        for piece in _on(strip, decks, both=deck.kind == "fixed" and strip.thickness >= THIN)
    ]


def _on(strip: Piece, decks: list[Piece], *, both: bool) -> list[Piece]:
    """Return the pieces that a strip is fixed to: one of them where the other is to come off."""
    above = [piece for piece in decks if touching(piece.box, strip.box)]
    return above if both else above[:1]


def _height_sum(context: Context, deck: Deck, top: float, t: float) -> Sum:
    wanted = deck_top(context, deck)
    slack = sum(term.value for term in wanted) - (top + t)
    terms = [*wanted]
    if abs(slack) > 1.0e-9:
        terms.append(line("what the cut grid left over", -slack))
    return stated(f"{deck.name}: upper surface above the floor", *terms)


def _outline(
    context: Context,
    skew: Skew,
    deck: Deck,
    blocks: tuple[tuple[StandingBlock, ...], tuple[Box, ...]],
    z: Span,
) -> Box:
    """Return the deck's box: its blocks together, the overhang, and up to the wall if asked.

    ``blocks`` are those under it and the boxes of what stands higher beside it.
    """
    under, others = blocks
    x_low = min(s.box.x.low for s in under)
    x_high = max(s.box.x.high for s in under)
    y_low = min(s.box.y.low for s in under)
    y_high = max(s.box.y.high for s in under)
    faces = {s.block.face for s in under}
    y = Span(
        low=y_low - (deck.overhang if "right" in faces else 0.0),
        high=y_high + (deck.overhang if "left" in faces else 0.0),
    )
    if "tail" in faces:
        x_low -= deck.overhang
    if deck.back == "wall":
        free = usable_box(
            bay=context.job.bay,
            skew=skew,
            block=deck.name,
            face="tail",
            place=Place(word="fill", beside="", x=(x_low, 1.0e5), y=(y_low, y_high), z=None),
            z=z,
            side_clear=0.0,
            end_clear=deck.build.end_clear,
            clear_at_face=0.0,
            lining=deck.build.lining.bay,
            shown=context.shown,
        )
        higher = [o.x.low for o in others if o.y.overlap(y) > 0.0 and o.x.low > x_high - 1.0]
        x_high = max(min([free.box.x.high, *higher]), x_low + 1.0)
    length = snap_down(x_high - x_low, context.grid)
    read = context.refit.of_deck(deck.name) if context.refit else None
    width = snap_down(y.size + (read.by if read else 0.0), context.grid)
    low = y.low + (y.size - width) / 2.0
    return Box(
        x=Span(low=tidy(x_low), high=tidy(x_low + length)),
        y=Span(low=tidy(low), high=tidy(low + width)),
        z=z,
    )


def _split(
    context: Context, deck: Deck, outline: Box, under: tuple[StandingBlock, ...], t: float
) -> tuple[Span, ...]:
    """Return the deck's pieces along x: one if a sheet gives it, else joined over supports."""
    length, width = context.largest_sheet(deck.build.deck_sheet)
    dx, dy = outline.x.size, outline.y.size
    fits = (dx <= length and dy <= width) or (dx <= width and dy <= length)
    least = 1
    if not fits:
        longest = width if dy <= length and dy > width else length
        if dy > length:
            raise DesignError(
                deck.name,
                f"it is {dy:.0f} mm across; the largest sheet is {length:.0f} mm",
                "a deck over fewer blocks, or a longer sheet in hand",
            )
        least = ceil(round(dx / longest, 9))
    if deck.kind == "lift-out":
        least = max(least, ceil(_mass(context, deck, dx, dy, t) / LIFT_OUT_KG))
    if least == 1:
        return (outline.x,)
    most = max(length if dy <= width else 0.0, width if dy <= length else 0.0)
    if deck.kind == "lift-out":
        most = min(most, max(LIFT_OUT_KG / _mass(context, deck, 1.0, dy, t), dx / least))
    return cuts_of(outline.x, least, _supports(under), longest=most, grid=context.grid)


def _mass(context: Context, deck: Deck, length: float, width: float, t: float) -> float:
    return length * width * t * 1.0e-9 * context.density(deck.build.deck_sheet)


def _supports(under: tuple[StandingBlock, ...]) -> tuple[float, ...]:
    """Return where along x a joint is carried on both sides: the middle of top rails."""
    found: list[float] = []
    for standing in under:
        build, box = standing.block.build, standing.box
        if standing.block.face == "tail" and build.top == "rails":
            width = build.rail_width
            count = max(2, min(build.rails, int(box.x.size // (width + 1.0))))
            pitch = (box.x.size - width) / (count - 1)
            found += [box.x.low + width / 2.0 + i * pitch for i in range(count)]
    return tuple(sorted(found))


def _piece(context: Context, deck: Deck, n: int, count: int, box: Box) -> Piece:
    length, width = context.largest_sheet(deck.build.deck_sheet)
    along_x = _along_x(deck, box)
    dx, dy = box.x.size, box.y.size
    if along_x and (dx > length or dy > width):
        along_x = False
    elif not along_x and (dy > length or dx > width):
        along_x = True
    name = "deck" if count == 1 else f"deck, piece {n} of {count}"
    return panel(
        BAY_FRAME,
        Place3(across=box.x, depth=box.y, up=box.z),
        ALONG_X if along_x else ALONG_Y,
        piece_id=f"{deck.name}/{n}",
        name=name,
        role="deck",
        block=deck.name,
        body="fixed" if deck.kind == "fixed" else f"{deck.name} {n}",
        material=deck.build.deck_sheet,
        release="B",
        waits_for="the modules in place",
        edges=("u0", "u1", "v0", "v1"),
        features=_finger_holes(deck, box, along_x=along_x, t=tidy(box.z.size)),
        origin_note="face-side corner, good face up",
        exposed=True,
    )


def _along_x(deck: Deck, box: Box) -> bool:
    longer: dict[Literal["long", "across", "strongest"], bool] = {
        "long": box.x.size >= box.y.size,
        "across": box.x.size < box.y.size,
        # It bends between uprights, which run along x: the grain runs across them.
        "strongest": False,
    }
    return longer[deck.build.grain]


def _finger_holes(deck: Deck, box: Box, *, along_x: bool, t: float) -> tuple[Feature, ...]:
    if deck.kind != "lift-out":
        return ()
    length, width = (box.x.size, box.y.size) if along_x else (box.y.size, box.x.size)
    long, wide = 90.0, 30.0
    return tuple(
        Feature(
            kind="hand-hole",
            face="good",
            at=(tidy(u - long / 2.0), tidy(width / 2.0 - wide / 2.0)),
            size=(long, wide),
            depth=t,
            through=True,
            radius=wide / 2.0,
            purpose="finger hole",
        )
        for u in (round(length * 0.25, 1), round(length * 0.75, 1))
    )


def _hold(
    deck: Deck, piece: Piece, carcasses: tuple[Piece, ...], basket: Basket, *, mass: float
) -> None:
    """Screw a fixed deck down to what carries it; give a lift-out piece its hold."""
    if deck.kind == "lift-out":
        basket.hardware.append(("deck-dog", 2, f"{piece.name}: positive hold"))
        basket.loose.append(
            LooseThing(
                what=piece.name, where=deck.name, mass_kg=round(mass, 3), held_by="deck-dog, 2"
            )
        )
        return
    own = piece.box
    for under in carcasses:
        flat = under.role in {"carcass-rail", "carcass-top"}
        edge = under.role in {"carcass-side", "partition"} and deck.build.top == "deck"
        if (flat or edge) and _carries(under.box, own):
            basket.drafts.append(
                JointDraft(
                    receiver=piece.id,
                    entering=under.id,
                    kind="planted" if flat else "butt",
                    glued=False,
                    step="deck",
                    purpose=f"deck down to {under.name}",
                    removable=True,
                )
            )


def _carries(under: Box, sheet: Box) -> bool:
    """Tell whether a piece's top lies under a sheet, wide enough to be screwed to."""
    return (
        abs(under.z.high - sheet.z.low) < 1.0e-6
        and under.x.overlap(sheet.x) > 30.0
        and under.y.overlap(sheet.y) > 10.0
    )


def _bearers(
    context: Context,
    skew: Skew,
    deck: Deck,
    blocks: tuple[tuple[StandingBlock, ...], tuple[Box, ...]],
    outline: Box,
    basket: Basket,
    carcasses: tuple[Piece, ...],
) -> None:
    """Carry the deck across voids between blocks, and where it reaches past them to the wall."""
    under, _ = blocks
    count = 0
    for void in voids_between(under, outline.z.low):
        opens = before_a_face(void, under)
        if opens:
            basket.warnings.append(
                f"{deck.name}: not carried across the void before {opens}, which opens there"
            )
            continue
        stand = under[0]
        for x in _along(void.x, stand.plan.t):
            count += 1
            basket.pieces.append(
                _bearer(context, deck, stand, count, x=x, y=void.y, top=outline.z.low)
            )
    t = under[0].plan.t
    legs, missing = legs_of(context, skew, outline, blocks, t)
    for leg in legs:
        count += 1
        basket.pieces.append(
            _bearer(
                context,
                deck,
                under[0],
                count,
                x=leg.x,
                y=leg.y,
                top=outline.z.low,
                to_floor=True,
            )
        )
    basket.warnings += [f"{deck.name}: {line}" for line in missing]
    if legs:
        how = "a leg stands" if len(legs) == 1 else f"{len(legs)} legs stand"
        basket.warnings.append(f"{deck.name}: reaches past its blocks; {how} under it on the floor")
    decks = [p for p in basket.pieces if p.role == "deck" and p.block == deck.name]
    uprights = [p for p in carcasses if p.role in {"carcass-side", "carcass-back"}]
    for bearer in (p for p in basket.pieces if p.role == "bearer" and p.block == deck.name):
        basket.drafts += [
            JointDraft(
                receiver=side.id,
                entering=bearer.id,
                kind="butt",
                glued=False,
                step="deck",
                purpose=f"{side.name} to deck bearer",
                removable=True,
            )
            for side in uprights
            if touching(side.box, bearer.box)
        ]
        basket.drafts += [
            JointDraft(
                receiver=piece.id,
                entering=bearer.id,
                kind="butt",
                glued=False,
                step="deck",
                purpose=f"deck down to its {bearer.name.removeprefix('deck ')}",
                removable=True,
            )
            for piece in _on(bearer, decks, both=deck.kind == "fixed")
            if deck.kind == "fixed" or bearer.name == "deck leg"
        ]


def _along(along: Span, t: float) -> tuple[Span, ...]:
    count = max(2, ceil(along.size / BEARERS_APART) + 1)
    first, last = along.low + 20.0, along.high - 20.0 - t
    pitch = (last - first) / (count - 1)
    return tuple(
        Span(low=tidy(first + i * pitch), high=tidy(first + i * pitch + t)) for i in range(count)
    )


def _bearer(
    context: Context,
    deck: Deck,
    standing: StandingBlock,
    n: int,
    *,
    x: Span,
    y: Span,
    top: float,
    to_floor: bool = False,
) -> Piece:
    height = snap_down(top if to_floor else BEARER, context.grid)
    length = snap_down(y.size, context.grid)
    slack = (y.size - length) / 2.0
    place = Place3(
        across=x,
        depth=Span(low=tidy(y.low + slack), high=tidy(y.low + slack + length)),
        up=Span(low=tidy(top - height), high=top),
    )
    return panel(
        BAY_FRAME,
        place,
        Lie("+d", "+h", "+a"),
        piece_id=f"{deck.name}/bearer-{n}",
        name="deck leg" if to_floor else "deck bearer",
        role="bearer",
        block=deck.name,
        body="fixed",
        material=standing.block.build.carcass,
        origin_note="right-hand lower corner, good face to the cab",
    )
