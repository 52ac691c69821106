"""Where a deck's pieces meet, and the strips that carry a joint between two supports.

Each joint is carried by at least 15 mm on both sides: by a top rail or panel, else by a strip under
it. A strip lies at the level of the rails; where the deck is the carcass's own top it is as thick
as the air over what slides under it allows.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise

from stowright.design.arrange import ColumnPlan, ModulePlan
from stowright.design.block import StandingBlock
from stowright.design.context import Context
from stowright.design.deck_legs import bare_areas, before_a_face
from stowright.design.frame import BAY_FRAME
from stowright.design.gaps import LEAST_VERTICAL_GAP
from stowright.design.panel import Lie, Place3, on_grid, panel
from stowright.design.pieces import Piece
from stowright.design.thickness import thickness_in_use
from stowright.model.geometry import Box, Span
from stowright.units import snap_down, tidy

__all__ = ["CARRIED", "JointAsk", "Strips", "cuts_of", "strips_under", "voids_between"]

#: A joint is carried by at least this on both sides. [mm]
CARRIED = 15.0
#: Half of a joint strip, and the least of it that is worth cutting (common practice). [mm]
HALF_STRIP, LEAST_STRIP = 30.0, 12.0
#: A strip shorter than this carries nothing. [mm]
LEAST_LENGTH = 60.0
#: A cut keeps this far from the deck's ends. [mm]
FROM_END = 50.0


def cuts_of(
    whole: Span, count: int, supports: Iterable[float], *, longest: float, grid: float
) -> tuple[Span, ...]:
    """Cut a range into ``count`` pieces, each cut moved to the nearest support that allows it.

    Args:
        whole: What is cut.
        count: Into how many pieces.
        supports: Where a joint is carried on both sides.
        longest: No piece may be longer. [mm]
        grid: The cut grid. [mm]
    """
    places = sorted(supports)
    edges = [whole.low]
    for i in range(1, count):
        wanted = whole.low + whole.size * i / count
        low = max(edges[-1] + FROM_END, whole.high - (count - i) * longest)
        high = min(edges[-1] + longest, whole.high - FROM_END)
        reach = whole.size / (2.0 * count)
        near = [s for s in places if low <= s <= high and abs(s - wanted) <= reach]
        cut = min(near, key=lambda s: abs(s - wanted), default=min(max(wanted, low), high))
        edges.append(tidy(whole.low + snap_down(cut - whole.low, grid)))
    return tuple(Span(low=a, high=b) for a, b in pairwise([*edges, whole.high]))


@dataclass(frozen=True, slots=True, kw_only=True)
class JointAsk:
    """A deck's joints.

    Attributes:
        at: x of each joint.
        outline: The deck; its underside is what strips lie against.
        under: The blocks under it.
        standing: Pieces that stand there: rails, top panels, bearers.
    """

    deck: str
    at: tuple[float, ...]
    outline: Box
    under: tuple[StandingBlock, ...]
    standing: tuple[Piece, ...]

    @property
    def top(self) -> float:
        """The deck's underside."""
        return self.outline.z.low


@dataclass(frozen=True, slots=True, kw_only=True)
class Strips:
    """The strips under a deck's joints, and the joints that none goes under."""

    pieces: tuple[Piece, ...]
    warnings: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Field:
    """A field between uprights that a joint may cross: its box at strip level, and its sheet."""

    x: Span
    y: Span
    sheet: str
    t: float
    about: str


def strips_under(context: Context, ask: JointAsk) -> Strips:
    """Return the strips that carry a deck's joints where no rail or panel does."""
    pieces: list[Piece] = []
    warnings: list[str] = []
    boxes = tuple(piece.box for piece in ask.standing)
    for x in ask.at:
        near = [box for box in boxes if box.x.low < x + HALF_STRIP and box.x.high > x - HALF_STRIP]
        for place in _fields(context, ask, x):
            free = _not_carried(ask, near, place, x)
            if free and not place.sheet:
                warnings.append(
                    f"{ask.deck}: its joint at {context.shown(x)} is not carried over "
                    f"{place.about}: no strip goes into the air there; lay a rail under it or "
                    "give over_gap more"
                )
                continue
            for box in free:
                pieces.append(_strip(context, ask, len(pieces) + 1, box, place.sheet))
    return Strips(pieces=tuple(pieces), warnings=tuple(dict.fromkeys(warnings)))


def _fields(context: Context, ask: JointAsk, x: float) -> Iterator[_Field]:
    """Yield the fields that a joint crosses: in carcasses, and across voids between them."""
    for standing in ask.under:
        top = standing.block.build.top
        if top == "panel" or ask.top - standing.box.z.high > 1.0:
            continue
        for module in standing.plan.modules:
            for one in _carcass_fields(context, standing, module):
                # what lies further off is past an upright that carries the joint by itself
                if one.x.low < x + CARRIED - 1.5 and one.x.high > x - CARRIED + 1.5:
                    yield one
    bare = (area for area, _, _ in bare_areas(ask.outline, ask.under))
    for void in (*voids_between(ask.under, ask.top), *bare):
        if before_a_face(void, ask.under):
            continue
        if void.x.low < x - CARRIED and void.x.high > x + CARRIED:
            build = ask.under[0].block.build
            t = context.t(build.carcass)
            yield _Field(x=void.x, y=void.y, sheet=build.carcass, t=t, about="a void")


def _carcass_fields(
    context: Context, standing: StandingBlock, module: ModulePlan
) -> Iterator[_Field]:
    plan, build = standing.plan, standing.block.build
    if build.top == "rails":
        inside = Span(low=module.across.low + plan.t, high=module.across.high - plan.t)
        depth = Span(low=0.0, high=plan.depth)
        box = standing.frame.box(across=inside, depth=depth, up=depth)
        yield _Field(x=box.x, y=box.y, sheet=build.carcass, t=plan.t_top, about="its rails")
        return
    for column in module.columns:
        front = context.t(build.front_sheet) + LEAST_VERTICAL_GAP
        depth = Span(low=front, high=plan.depth - plan.t_back)
        box = standing.frame.box(across=column.across, depth=depth, up=depth)
        sheet, t = _thin_enough(context, standing, column)
        yield _Field(x=box.x, y=box.y, sheet=sheet, t=t, about=column.openings[-1].fill.name)


def _thin_enough(
    context: Context, standing: StandingBlock, column: ColumnPlan
) -> tuple[str, float]:
    """Return the thickest sheet that goes in over what fills a column; empty when none does."""
    build, fill = standing.block.build, column.openings[-1].fill
    if fill.fill not in {"drawer", "tray"}:
        return build.carcass, context.t(build.carcass)
    room = fill.build.over_gap - LEAST_VERTICAL_GAP
    family = context.catalogue.material(build.carcass).family
    kin = (m.name for m in context.catalogue.materials if m.family == family)
    names = dict.fromkeys((build.carcass, build.drawer_bottom, build.packers.sheet, *kin))
    fitting = [
        (t, -n, name)
        for n, name in enumerate(names)
        if (t := thickness_in_use(context.job, context.catalogue, name).t) <= room
    ]
    if not fitting:
        return "", 0.0
    name = max(fitting)[2]
    return name, context.t(name)


def voids_between(under: tuple[StandingBlock, ...], top: float) -> tuple[Box, ...]:
    """Return the voids between blocks that stand side by side under a deck, up to its underside.

    Those that a block opens into are among them; nothing may be built there.
    """
    found = []
    for one in under:
        for two in under:
            y = Span(low=one.box.y.high, high=two.box.y.low)
            x = Span(
                low=max(one.box.x.low, two.box.x.low), high=min(one.box.x.high, two.box.x.high)
            )
            if one is two or y.size < LEAST_LENGTH or x.size < 100.0:
                continue
            others = (s.box for s in under if s is not one and s is not two)
            void = Box(x=x, y=y, z=Span(low=0.0, high=top))
            if not any(o.x.overlap(x) > 0.0 and o.y.overlap(y) > 0.0 for o in others):
                found.append(void)
    return tuple(found)


def _not_carried(ask: JointAsk, near: list[Box], place: _Field, x: float) -> list[Box]:
    """Return where a strip is wanted in a field: under the joint, less what carries it already.

    ``near`` are the boxes of what stands about the joint.
    """
    around = Span(low=max(place.x.low, x - HALF_STRIP), high=min(place.x.high, x + HALF_STRIP))
    up = Span(low=tidy(ask.top - place.t), high=ask.top)
    free = [Box(x=around, y=place.y, z=up)]
    for box in near:
        if box.z.low >= ask.top - 1.0e-6 or box.z.high < ask.top - max(place.t, 1.0):
            continue
        free = [rest for one in free for rest in _less(one, box, x)]
    return [b for b in free if b.x.size >= LEAST_STRIP and b.y.size >= LEAST_LENGTH]


def _less(free: Box, taken: Box, x: float) -> Iterator[Box]:
    """Yield what a piece leaves of a box in plan; nothing where it carries the joint itself."""
    if min(free.x.overlap(taken.x), free.y.overlap(taken.y)) <= 1.0e-6:
        yield free
        return
    before = Span(low=free.y.low, high=min(free.y.high, taken.y.low))
    after = Span(low=max(free.y.low, taken.y.high), high=free.y.high)
    yield from (Box(x=free.x, y=y, z=free.z) for y in (before, after) if y.size > 0.0)
    if taken.x.low <= x - CARRIED and taken.x.high >= x + CARRIED:
        return
    beside = Span(low=max(free.y.low, taken.y.low), high=min(free.y.high, taken.y.high))
    for one in (
        Span(low=free.x.low, high=min(free.x.high, taken.x.low)),
        Span(low=max(free.x.low, taken.x.high), high=free.x.high),
    ):
        if one.size > 0.0:
            yield Box(x=one, y=beside, z=free.z)


def _strip(context: Context, ask: JointAsk, number: int, box: Box, sheet: str) -> Piece:
    lie = Lie("+d", "-a", "+h")
    place = Place3(across=box.x, depth=box.y, up=box.z)
    return panel(
        BAY_FRAME,
        on_grid(place, lie, grid=context.grid),
        lie,
        piece_id=f"{ask.deck}/joint-strip-{number}",
        name="strip under the deck's joint",
        role="joint-strip",
        block=ask.deck,
        body="fixed",
        material=sheet,
        release="B",
        waits_for="the modules in place",
        origin_note="any corner, good face up",
    )
