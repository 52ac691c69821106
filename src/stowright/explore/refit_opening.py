"""What readings and cut parts change in one opening: box, front, heights, depth."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from stowright.design.context import FINEST_GRID
from stowright.design.gaps import LEAST_FRONT_GAP
from stowright.explore.as_built import latest, three, where_least
from stowright.explore.frozen import DRAWER_SIDES, INNER, cut_face, thicker_sides
from stowright.model.design import Design, OpeningDesign
from stowright.model.refit import AsBuilt, Change, FrozenPart, OpeningRefit
from stowright.units import format_length, snap_down

__all__ = ["OpeningAsk", "OpeningFound", "refit_opening"]

#: A front grows into its gaps, as the model shows them, down to this. [mm]
LEFT_OF_GAP = 0.5
#: A box grows by no more than this: panels that are cut hold no opening open further. [mm]
MOST_WIDER = 30.0
#: A reading further than this from the plan is told to be looked at again. [mm]
FAR_OFF = 5.0
_FRONTS = frozenset({"drawer-front", "door"})
_SAME = 1.0e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class OpeningAsk:
    """An opening, and what is known of it.

    Attributes:
        design: As planned, with the job's record of the build.
        built: As it reads, if it was read.
        cut: Parts that are cut, by the id of each piece.
        clear: Its clear width with the panels that are cut. [mm]
        old: Length and width of each piece by id in the plan that is built from. [mm]
    """

    design: Design
    opening: OpeningDesign
    built: AsBuilt | None
    cut: Mapping[str, FrozenPart]
    clear: float
    old: Mapping[str, tuple[float, float]]

    @property
    def name(self) -> str:
        """The opening's name."""
        return self.opening.name

    @property
    def grid(self) -> float:
        """The cut grid in use. [mm]."""
        return self.design.job.cut_grid or FINEST_GRID

    def frozen(self, roles: frozenset[str]) -> list[FrozenPart]:
        """Return the opening's parts of some roles that are cut."""
        return [
            self.cut[p.id]
            for p in self.design.placed
            if p.opening == self.name and p.id in self.cut and p.role in roles
        ]

    def before(self, roles: frozenset[str]) -> tuple[float, float] | None:
        """Return length and width of a part in the plan that is built from."""
        own = (p.id for p in self.design.placed if p.opening == self.name and p.role in roles)
        return next((self.old[name] for name in own if name in self.old), None)

    def exact(self, what: str) -> float | None:
        """Return a size of this opening by its sum, before the snap. [mm]."""
        size_of = f"{self.name}: {what}"
        return next((row.exact for row in self.design.sums if row.size_of == size_of), None)

    def shown(self, mm: float) -> str:
        """Return a length as it is printed in the job's unit, with the unit."""
        if self.design.job.units == "in":
            return format_length(mm, "in", with_unit=True)
        return f"{round(mm, 2):g} mm"

    def read(self, mm: float) -> str:
        """Return a reading as it was taken: in millimetres the number alone."""
        return self.shown(mm).removesuffix(" mm")


@dataclass(frozen=True, slots=True, kw_only=True)
class OpeningFound:
    """What changes in an opening, why, and what stays open."""

    built: AsBuilt | None
    change: OpeningRefit | None
    reasons: tuple[str, ...]
    open: tuple[str, ...]


def refit_opening(ask: OpeningAsk) -> OpeningFound:
    """Return what readings and cut parts change in an opening."""
    same = OpeningRefit(opening=ask.name)
    sides = ask.frozen(DRAWER_SIDES)
    change = _sides_as_cut(same, sides)
    lines: list[str] = []
    steps = (_box, _front, *(() if sides else (_height,)), _front_height)
    for step in (*steps, *(() if sides else (_depth,))):
        change, said = step(ask, change)
        lines += said
    return OpeningFound(
        built=ask.built,
        change=None if change == same else change,
        reasons=tuple(lines),
        open=tuple(_far_off(ask)),
    )


def _sides_as_cut(change: OpeningRefit, sides: list[FrozenPart]) -> OpeningRefit:
    first = next((side for side in sides if side.differs), None)
    if first is None:
        return change
    return replace(change, length=first.length, side_height=first.width, t=first.thickness)


type _Step = tuple[OpeningRefit, list[str]]


def _told(ask: OpeningAsk, what: str, by: float, why: str, words: tuple[str, str]) -> list[str]:
    """Return the reason of a change in words; none when nothing changes."""
    if abs(by) < _SAME:
        return []
    return [f"{ask.name}: {what} {ask.shown(abs(by))} {words[by > 0.0]}: {why}"]


_ACROSS = ("narrower", "wider")
_UP = ("lower", "higher")


def _box(ask: OpeningAsk, change: OpeningRefit) -> _Step:
    """Return the change of a box's inner width: as it is cut, else as its opening reads."""
    planned = ask.exact("inner front and back")
    if ask.opening.box is None or planned is None:
        return change, []
    thicker = thicker_sides(ask.design, ask.opening, change)
    exact = planned + ask.clear - ask.opening.width - 2.0 * thicker
    before = snap_down(planned, ask.grid)
    built = ask.built
    if built and built.room:
        change = replace(change, roomier=round(min(built.room) - ask.clear, 6))
    inner = ask.frozen(INNER)
    if inner:
        return _box_as_cut(ask, change, inner, before, exact), []
    by, why = _by_reading(ask)
    after = snap_down(exact + by, ask.grid)
    if by:
        change = replace(change, box_across=Change(by=by, why=why))
    else:
        why = f"the opening is {ask.read(ask.clear)}, its sheets as they measure"
    old = ask.before(INNER)
    now = next(p.length for p in ask.design.placed if p.opening == ask.name and p.role in INNER)
    grown = now + after - before - (old[0] if old else now)
    return change, _told(ask, "inner front and back", grown, why, _ACROSS)


def _box_as_cut(
    ask: OpeningAsk, change: OpeningRefit, inner: list[FrozenPart], before: float, exact: float
) -> OpeningRefit:
    """Return the change that gives a box the width of what is cut between its sides."""
    own = next(p.length for p in ask.design.placed if p.opening == ask.name and p.role in INNER)
    wanted = before + min(row.length for row in inner) - own
    if abs(snap_down(exact, ask.grid) - wanted) < _SAME:
        return change
    marks = " and ".join(dict.fromkeys(row.mark for row in inner))
    return replace(change, box_across=Change(by=wanted - exact, why=f"{marks} is cut"))


def _by_reading(ask: OpeningAsk) -> tuple[float, str]:
    """Return what a box gains by what was read of its opening and runners, with the reason."""
    built, runner = ask.built, ask.opening.runner
    if built is None or runner is None:
        return 0.0, ""
    by, words = 0.0, []
    if built.room is not None:
        by += min(min(built.room) - ask.clear, MOST_WIDER)
        words.append(f"opening reads {ask.read(min(built.room))}{where_least(built.room)}")
    if built.runner is not None:
        by -= 2.0 * (built.runner - runner.runner.thickness)
        words.append(f"runner reads {ask.read(built.runner)} thick")
    return (0.0 if abs(by) < _SAME else by), ", ".join(words)


def _front(ask: OpeningAsk, change: OpeningRefit) -> _Step:
    """Return the change of a front's width, as its opening reads at the face."""
    planned = ask.exact("front width")
    if ask.opening.front is None or planned is None:
        return change, []
    if ask.opening.build.lever == "narrow" and ask.opening.runner is not None:
        return change, []
    before = snap_down(planned, ask.grid)
    exact = planned + ask.clear - ask.opening.width
    cut = cut_face(ask.design, ask.name, ask.cut, _FRONTS)
    if cut is not None:
        return replace(change, front_across=_as_cut(ask, exact, cut[1], cut[0].mark)), []
    read = latest(ask.design.job.readings, "width", opening=ask.name)
    by, why = 0.0, f"the opening is {ask.read(ask.clear)}"
    if read:
        at_face = three(read)[0]
        by, why = at_face - ask.clear, f"opening reads {ask.read(at_face)} at the face"
        by = _as_far(ask, by, 2.0)
    less, said = _leaning(ask)
    if less:
        by, why = by - less, f"{why}, {said}" if read else said
    if abs(by) > _SAME:
        change = replace(change, front_across=Change(by=by, why=why))
    else:
        by = 0.0
    old = ask.before(_FRONTS)
    now = ask.opening.front[0]
    grown = now + snap_down(exact + by, ask.grid) - before - (old[0] if old else now)
    return change, _told(ask, "front", grown, why, _ACROSS)


def _as_cut(ask: OpeningAsk, exact: float, cut: float, mark: str) -> Change | None:
    """Return the change that gives a front the size that it was cut to."""
    if abs(snap_down(exact, ask.grid) - cut) < _SAME:
        return None
    return Change(by=cut - exact, why=f"{mark} is cut")


def _as_far(ask: OpeningAsk, by: float, gaps: float) -> float:
    """Return what a front gains, no more than the gaps beside it: then the carcass is in doubt."""
    build = ask.opening.build
    return min(by, gaps * (build.front_gap - LEFT_OF_GAP)) if build.front == "inset" else by


def _leaning(ask: OpeningAsk) -> tuple[float, str]:
    """Return what a front loses because its opening is out of square, and the reason."""
    lean = ask.built.lean if ask.built else 0.0
    if not lean or ask.opening.build.front != "inset":
        return 0.0, ""
    short = LEAST_FRONT_GAP + lean / 2.0 - ask.opening.build.front_gap
    if not short > 0.0:
        return 0.0, ""
    return 2.0 * short, f"its face leans {ask.shown(round(lean, 1))} by the diagonals"


def _height(ask: OpeningAsk, change: OpeningRefit) -> _Step:
    """Return the change of a box's height, as the opening reads at its least."""
    height = latest(ask.design.job.readings, "height", opening=ask.name)
    if not height or ask.opening.box is None:
        return change, []
    values = three(height)
    by = min(values) - ask.opening.height
    by = min(by, ask.opening.build.over_gap - LEFT_OF_GAP)
    if abs(by) < _SAME:
        return change, []
    why = f"opening reads {ask.read(min(values))} high{where_least(values)}"
    lines = _snapped(ask, "box side height", "box sides", by, why)
    return replace(change, box_up=Change(by=by, why=why)), lines


def _front_height(ask: OpeningAsk, change: OpeningRefit) -> _Step:
    """Return the change of a front's height, as the opening reads at the face."""
    height = latest(ask.design.job.readings, "height", opening=ask.name)
    planned = ask.exact("front height")
    if ask.opening.front is None or planned is None:
        return change, []
    cut = cut_face(ask.design, ask.name, ask.cut, _FRONTS)
    if cut is not None:
        return replace(change, front_up=_as_cut(ask, planned, cut[2], cut[0].mark)), []
    by = _as_far(ask, height[0] - ask.opening.height, 1.0) if height else 0.0
    if not height or abs(by) < _SAME:
        return change, []
    why = f"opening reads {ask.read(height[0])} high at the face"
    lines = _snapped(ask, "front height", "front", by, why)
    return replace(change, front_up=Change(by=by, why=why)), lines


def _snapped(ask: OpeningAsk, sum_of: str, what: str, by: float, why: str) -> list[str]:
    planned = ask.exact(sum_of)
    if planned is None:
        return []
    grown = snap_down(planned + by, ask.grid) - snap_down(planned, ask.grid)
    return _told(ask, what, grown, why, _UP)


def _depth(ask: OpeningAsk, change: OpeningRefit) -> _Step:
    """Return the change of depth; a runner that is fitted already stays.

    Deeper than planned by more than the room behind the box is for the carcass to explain.
    """
    rows, opening = ask.design.job.readings, ask.opening
    depth = latest(rows, "depth", opening=ask.name)
    fitted = latest(rows, "between-runners", opening=ask.name)
    if not depth or fitted or opening.runner is None:
        return change, []
    by = min(min(depth) - opening.depth, opening.build.back_room)
    if abs(by) < _SAME:
        return change, []
    why = f"opening reads {ask.read(min(depth))} deep"
    said = f"{ask.name}: {why}, {ask.shown(abs(by))} {'less' if by < 0.0 else 'more'} than planned"
    line = f"{said}: the longest runner that goes in counts, and the box with it"
    return replace(change, depth=Change(by=by, why=why)), [line]


def _far_off(ask: OpeningAsk) -> list[str]:
    """Return readings that are so far off the plan that they are to be taken again."""
    if ask.built is None:
        return []
    pairs = [(room, ask.clear, "") for room in ask.built.room or ()]
    pairs += [(ask.opening.height + r, ask.opening.height, " high") for r in ask.built.rise]
    depth = latest(ask.design.job.readings, "depth", opening=ask.name) or ()
    pairs += [(read, ask.opening.depth, " deep") for read in depth]
    worst, planned, word = max(pairs, key=lambda pair: abs(pair[0] - pair[1]))
    off = abs(worst - planned)
    if off <= FAR_OFF:
        return []
    told = f"opening reads {ask.read(worst)}{word}, {ask.shown(off)} off its plan"
    return [f"{ask.name}: {told}: read it again before anything is cut to it"]
