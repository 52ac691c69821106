"""Carcass panels of one module: sides, floor, top, back, partitions, shelves, and their joints.

Sizes follow the carcass table of the geometry page: sides D × H; floor, top and back between them;
a back as high as what is between floor and top. Rebates and housings let a panel in by
``joint_depth`` on each side: at an upright's end it is a rebate, away from it a housing. With
housing joints partitions are let into floor and top as well; a rebate can't be cut there, so with
rebate joints they stand between. Tabs of tab-and-slot joints all point across the face, into the
uprights, so that a carcass can be pushed together from its two sides.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from stowright.design.arrange import Arrangement, ColumnPlan, ModulePlan
from stowright.design.carcass_sums import SumsAsk, carcass_sums, inner_let
from stowright.design.context import Context
from stowright.design.frame import BlockFrame
from stowright.design.let_in import let_in_carcass
from stowright.design.meetings import behind, housed, meets_face, stacked
from stowright.design.panel import Lie, Place3, on_grid, panel
from stowright.design.pieces import LOOSE, JointDraft, Piece
from stowright.design.tab_joints import TAB_AND_SLOT, Tabbed, tabbed, with_tab_joints
from stowright.model.design import Sum
from stowright.model.geometry import Span
from stowright.model.job import Block, Build
from stowright.model.part import Edge
from stowright.units import snap_down, snap_nearest, tidy

__all__ = ["DEFAULT_JOINT_DEPTH", "Bounds", "ModulePieces", "let_in_depth", "make_module"]

#: Depth of a rebate or housing when the job does not say (common practice for 12 to 18 ply). [mm]
DEFAULT_JOINT_DEPTH = 6.0

UPRIGHT_LEFT = Lie("+d", "+h", "+a")
UPRIGHT_RIGHT = Lie("+d", "+h", "-a")
FLAT_LONG = Lie("+d", "-a", "+h")
FLAT_ACROSS = Lie("+a", "+d", "+h")
CROSS = Lie("+a", "+h", "-d")
CROSS_UP = Lie("+h", "-a", "-d")


_SHELVES = frozenset({"shelf", "stack-rail"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Bounds:
    """Ids of the pieces that bound an opening; empty where a deck closes it later."""

    left: str
    right: str
    below: str
    above: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ModulePieces:
    """The pieces of one carcass, their joints, and what bounds each opening.

    ``backs`` holds the id of the piece behind an opening, empty for a through space.
    """

    pieces: tuple[Piece, ...]
    drafts: tuple[JointDraft, ...]
    bounds: dict[str, Bounds]
    backs: dict[str, str]
    sums: tuple[Sum, ...]


def let_in_depth(build: Build) -> float:
    """Return how far a panel is let into what it meets: 0 where only tabs are, or nothing. [mm]."""
    if build.joint in {"butt", TAB_AND_SLOT}:
        return 0.0
    return DEFAULT_JOINT_DEPTH if build.joint_depth is None else build.joint_depth


@dataclass(frozen=True, slots=True, kw_only=True)
class _Shop:
    """Everything the panel makers of one module share.

    Attributes:
        inside: Between the outer sides.
        clear_up: Between floor and top.
    """

    context: Context
    block: Block
    frame: BlockFrame
    plan: Arrangement
    module: ModulePlan
    inside: Span
    clear_up: Span

    @property
    def build(self) -> Build:
        """The block's materials and methods."""
        return self.block.build

    @property
    def let(self) -> float:
        """How far panels go into the uprights. [mm]."""
        return let_in_depth(self.build)

    @property
    def let_up(self) -> float:
        """How far partitions go into floor and top. [mm]."""
        return self.let if self.build.joint == "housing" else 0.0

    @property
    def partition_up(self) -> Span:
        """Between floor and top, and into them where partitions are housed."""
        clear = self.clear_up
        over = self.let_up if self.plan.t_top else 0.0
        return Span(low=tidy(clear.low - self.let_up), high=tidy(clear.high + over))

    @property
    def per_opening_backs(self) -> bool:
        """True when a through space makes each opening's back a panel of its own."""
        return any(o.fill.fill == "through" for c in self.module.columns for o in c.openings)

    @property
    def shelf_depth(self) -> float:
        """Depth of shelves and partitions: up to a back that spans the module, else all of it."""
        plan = self.plan
        return plan.depth if self.per_opening_backs else tidy(plan.depth - plan.t_back)

    def widened(self, across: Span) -> Span:
        """Return a range between uprights plus what goes into them."""
        inside, inner = self.inside, inner_let(self.let, self.plan.t)
        left = self.let if across.low < inside.low + LOOSE else inner
        right = self.let if across.high > inside.high - LOOSE else inner
        return Span(low=tidy(across.low - left), high=tidy(across.high + right))

    def make(
        self,
        words: tuple[str, str, str],
        place: Place3,
        lie: Lie,
        *,
        edges: tuple[Edge, ...] = (),
        front_edge: Edge | Literal[""] = "",
        hand: Literal["", "left", "right"] = "",
    ) -> Piece:
        """Return a panel of this module; ``words`` are id, name and role."""
        return panel(
            self.frame,
            on_grid(place, lie, grid=self.context.grid),
            lie,
            piece_id=f"{self.block.name}/{self.module.name}/{words[0]}",
            name=words[1],
            role=words[2],
            block=self.block.name,
            body="fixed",
            material=self.build.carcass,
            module=self.module.name,
            edges=edges,
            front_edge=front_edge,
            hand=hand,
        )


def make_module(
    context: Context, block: Block, frame: BlockFrame, plan: Arrangement, module: ModulePlan
) -> ModulePieces:
    """Return the pieces of one carcass: a module of an arranged block, in the block's frame."""
    across, t = module.across, plan.t
    shop = _Shop(
        context=context,
        block=block,
        frame=frame,
        plan=plan,
        module=module,
        inside=Span(low=tidy(across.low + t), high=tidy(across.high - t)),
        clear_up=Span(low=plan.t_floor, high=tidy(plan.height - plan.t_top)),
    )
    floors, tops = _floor(shop), _top(shop)
    partitions = _partitions(shop)
    shelves = tuple(piece for column in module.columns for piece in _shelves(shop, column))
    backs, back_of = _backs(shop)
    sides, floors, tops, partitions = let_in_carcass(
        (_sides(shop), floors, tops, partitions), (*shelves, *backs)
    )
    drafts: tuple[JointDraft, ...] = ()
    if context.joined(block.build):
        drafts = _drafts(shop, (*sides, *partitions), floors, tops, partitions, (*shelves, *backs))
    made = _with_tabs(shop, (*sides, *floors, *tops, *partitions, *shelves, *backs), drafts)
    return ModulePieces(
        pieces=made.pieces,
        drafts=with_tab_joints(drafts, made),
        bounds=_bounds(shop, floors, tops, shelves),
        backs=back_of,
        sums=() if context.bodies_only else _sums(shop),
    )


def _sums(shop: _Shop) -> tuple[Sum, ...]:
    return carcass_sums(
        SumsAsk(
            context=shop.context,
            block=shop.block,
            plan=shop.plan,
            module=shop.module,
            let=shop.let,
            let_up=shop.let_up,
            whole_back=not shop.per_opening_backs,
        )
    )


def _with_tabs(shop: _Shop, pieces: tuple[Piece, ...], drafts: tuple[JointDraft, ...]) -> Tabbed:
    """Give the ends of what lies between uprights tabs, where the block asks for them."""
    uprights = {p.id for p in pieces if p.role in {"carcass-side", "partition"}}
    standing = uprights | {p.id for p in pieces if p.role == "partition"}
    pairs = [
        (draft.receiver, draft.entering)
        for draft in drafts
        if draft.receiver in uprights and draft.entering not in standing
    ]
    return tabbed(shop.context, shop.build, pieces, pairs)


def _sides(shop: _Shop) -> tuple[Piece, ...]:
    t, across = shop.plan.t, shop.module.across
    up = Span(low=0.0, high=shop.plan.height)
    depth = Span(low=0.0, high=shop.plan.depth)
    left = Place3(across=Span(low=across.low, high=tidy(across.low + t)), depth=depth, up=up)
    right = Place3(across=Span(low=tidy(across.high - t), high=across.high), depth=depth, up=up)
    return (
        shop.make(
            ("side-left", "side, left", "carcass-side"),
            left,
            UPRIGHT_LEFT,
            edges=("u0", "v1"),
            front_edge="u0",
            hand="left",
        ),
        shop.make(
            ("side-right", "side, right", "carcass-side"),
            right,
            UPRIGHT_RIGHT,
            edges=("u0", "v1"),
            front_edge="u0",
            hand="right",
        ),
    )


def _rail_spans(shop: _Shop, count: int, depth: float) -> tuple[Span, ...]:
    """Return depth ranges of flat rails: one at each end, the others evenly between."""
    grid = shop.context.grid
    width = min(snap_nearest(shop.build.rail_width, grid), snap_down((depth - 1.0) / 2.0, grid))
    count = max(2, min(count, int(depth // (width + 1.0))))
    step = (depth - width) / (count - 1)
    return tuple(Span(low=tidy(i * step), high=tidy(i * step + width)) for i in range(count))


def _floor(shop: _Shop) -> tuple[Piece, ...]:
    across = shop.widened(shop.inside)
    up = Span(low=0.0, high=shop.plan.t_floor)
    if shop.build.carcass_kind == "frame":
        return tuple(
            shop.make(
                (f"floor-rail-{i}", "floor rail", "floor-rail"),
                Place3(across=across, depth=depth, up=up),
                FLAT_ACROSS,
                edges=("v0",) if i == 1 else (),
                front_edge="v0" if i == 1 else "",
            )
            for i, depth in enumerate(_rail_spans(shop, shop.build.rails, shop.plan.depth), 1)
        )
    place = Place3(across=across, depth=Span(low=0.0, high=shop.plan.depth), up=up)
    return (_flat(shop, ("floor", "floor", "carcass-floor"), place, span_across=True),)


def _flat(shop: _Shop, words: tuple[str, str, str], place: Place3, *, span_across: bool) -> Piece:
    """Return a flat panel whose grain the look leaves free: as the job's ``grain`` says.

    ``span_across`` tells that it bends across the block, between the uprights.
    """
    long_is_depth = place.depth.size >= place.across.size
    wish = shop.build.grain
    along_depth = {
        "long": long_is_depth,
        "across": not long_is_depth,
        "strongest": not span_across,
    }[wish]
    if along_depth:
        return shop.make(words, place, FLAT_LONG, edges=("u0",), front_edge="u0")
    return shop.make(words, place, FLAT_ACROSS, edges=("v0",), front_edge="v0")


def _top(shop: _Shop) -> tuple[Piece, ...]:
    if shop.build.top == "deck":
        return ()
    across = shop.widened(shop.inside)
    up = Span(low=shop.clear_up.high, high=shop.plan.height)
    if shop.build.top == "panel":
        place = Place3(across=across, depth=Span(low=0.0, high=shop.plan.depth), up=up)
        return (_flat(shop, ("top", "top", "carcass-top"), place, span_across=True),)
    return tuple(
        shop.make(
            (f"rail-{i}", "top rail", "carcass-rail"),
            Place3(across=across, depth=depth, up=up),
            FLAT_ACROSS,
            edges=("v0",) if i == 1 else (),
            front_edge="v0" if i == 1 else "",
        )
        for i, depth in enumerate(_rail_spans(shop, shop.build.rails, shop.plan.depth), start=1)
    )


def _partitions(shop: _Shop) -> tuple[Piece, ...]:
    columns = shop.module.columns
    depth = Span(low=0.0, high=shop.shelf_depth)
    return tuple(
        shop.make(
            (f"partition-{i}", "partition", "partition"),
            Place3(
                across=Span(low=left.across.high, high=right.across.low),
                depth=depth,
                up=shop.partition_up,
            ),
            UPRIGHT_LEFT,
            edges=("u0",),
            front_edge="u0",
        )
        for i, (left, right) in enumerate(pairwise(columns), start=1)
    )


def _shelves(shop: _Shop, column: ColumnPlan) -> tuple[Piece, ...]:
    kind = column.build.between_fills
    if kind == "none":
        return ()
    across = shop.widened(column.across)
    made: list[Piece] = []
    pairs = pairwise(column.openings)
    for i, (below, above) in enumerate(pairs, start=1):
        up = Span(low=below.up.high, high=above.up.low)
        word = f"{column.index}-{i}"
        if kind == "shelf":
            place = Place3(across=across, depth=Span(low=0.0, high=shop.shelf_depth), up=up)
            words = (f"shelf-{word}", "shelf", "shelf")
            made.append(_flat(shop, words, place, span_across=True))
        else:
            made.extend(_stack_rails(shop, word, across, up))
    return tuple(made)


def _stack_rails(shop: _Shop, word: str, across: Span, up: Span) -> tuple[Piece, ...]:
    return tuple(
        shop.make(
            (f"stack-rail-{word}-{n}", "rail between openings", "stack-rail"),
            Place3(across=across, depth=depth, up=up),
            FLAT_ACROSS,
            edges=("v0",) if n == 1 else (),
            front_edge="v0" if n == 1 else "",
        )
        for n, depth in enumerate(_rail_spans(shop, 2, shop.shelf_depth), start=1)
    )


def _backs(shop: _Shop) -> tuple[tuple[Piece, ...], dict[str, str]]:
    """Return the back's pieces and, by opening, the id of what is behind it."""
    openings = [o for c in shop.module.columns for o in c.openings]
    if shop.build.back == "none":
        return (), {o.fill.name: "" for o in openings}
    if not shop.per_opening_backs:
        pieces = _back(shop, "back", shop.widened(shop.inside), shop.clear_up)
        return pieces, {o.fill.name: pieces[0].id for o in openings}
    made: list[Piece] = []
    behind: dict[str, str] = {}
    for opening in openings:
        behind[opening.fill.name] = ""
        if opening.fill.fill != "through":
            word = f"back-{opening.column}-{opening.row}"
            pieces = _back(shop, word, shop.widened(opening.across), opening.up)
            made.extend(pieces)
            behind[opening.fill.name] = pieces[0].id
    return tuple(made), behind


def _back(shop: _Shop, word: str, across: Span, up: Span) -> tuple[Piece, ...]:
    depth = Span(low=tidy(shop.plan.depth - shop.plan.t_back), high=shop.plan.depth)
    rail = snap_nearest(shop.build.rail_width, shop.context.grid)
    if shop.build.back == "frame" and up.size > 2.0 * rail:
        low = Span(low=up.low, high=tidy(up.low + rail))
        high = Span(low=tidy(up.high - rail), high=up.high)
        return tuple(
            shop.make(
                (f"{word}-{name}", f"back rail, {name}", "back-rail"),
                Place3(across=across, depth=depth, up=span),
                CROSS,
            )
            for name, span in (("low", low), ("high", high))
        )
    wide = across.size >= up.size
    lie = CROSS if wide == (shop.build.grain != "across") else CROSS_UP
    return (
        shop.make((word, "back", "carcass-back"), Place3(across=across, depth=depth, up=up), lie),
    )


def _bounds(
    shop: _Shop, floors: tuple[Piece, ...], tops: tuple[Piece, ...], shelves: tuple[Piece, ...]
) -> dict[str, Bounds]:
    prefix = f"{shop.block.name}/{shop.module.name}/"
    first = {piece.id for piece in shelves}
    found: dict[str, Bounds] = {}
    last = len(shop.module.columns) - 1
    for n, column in enumerate(shop.module.columns):
        left = f"{prefix}side-left" if n == 0 else f"{prefix}partition-{n}"
        right = f"{prefix}side-right" if n == last else f"{prefix}partition-{n + 1}"
        for row, opening in enumerate(column.openings, start=1):
            found[opening.fill.name] = Bounds(
                left=left,
                right=right,
                below=floors[0].id if row == 1 else _parting(prefix, column, row - 1, first),
                above=(tops[0].id if tops else "")
                if row == len(column.openings)
                else _parting(prefix, column, row, first),
            )
    return found


def _parting(prefix: str, column: ColumnPlan, row: int, known: set[str]) -> str:
    for word in (f"shelf-{column.index}-{row}", f"stack-rail-{column.index}-{row}-1"):
        if prefix + word in known:
            return prefix + word
    return ""


def _drafts(
    shop: _Shop,
    uprights: tuple[Piece, ...],
    floors: tuple[Piece, ...],
    tops: tuple[Piece, ...],
    partitions: tuple[Piece, ...],
    inner: tuple[Piece, ...],
) -> tuple[JointDraft, ...]:
    """Join what meets: uprights take the ends of floor, top, shelves and back; flats take edges."""
    sides = uprights[:2]
    kind = "butt" if shop.build.joint == TAB_AND_SLOT else shop.build.joint
    # Away from its ends an upright is not rebated: what is let in there is housed.
    inner_kind: Literal["butt", "housing"] = "butt" if kind == "butt" else "housing"
    found = [_joint(upright, piece, kind) for upright in sides for piece in (*floors, *tops)]
    found += [
        _joint(upright, piece, inner_kind if piece.role in _SHELVES else kind)
        for upright in uprights
        for piece in inner
        if meets_face(upright, piece)
    ]
    backs = tuple(p for p in inner if p.role in {"carcass-back", "back-rail"})
    standing = (*partitions, *backs)
    shelves = tuple(p for p in inner if p.role in _SHELVES)
    found += [
        _joint(flat, piece, "housing")
        for flat in (*floors, *tops)
        for piece in partitions
        if housed(flat, piece)
    ]
    found += [
        _joint(flat, piece, "butt")
        for flat in (*floors, *tops, *shelves)
        for piece in standing
        if stacked(flat, piece)
    ]
    found += [
        _joint(back, piece, "butt")
        for back in backs
        for piece in (*partitions, *shelves)
        if behind(shop.block.face, back, piece)
    ]
    return tuple(found)


def _joint(
    receiver: Piece, entering: Piece, kind: Literal["butt", "rebate", "housing"]
) -> JointDraft:
    return JointDraft(
        receiver=receiver.id,
        entering=entering.id,
        kind=kind,
        glued=True,
        step="carcass",
        purpose=f"{receiver.name} to {entering.name}",
    )
