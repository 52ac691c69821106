"""Notes on a part drawing: holes and cut-outs of one kind together, led to one of them."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from math import hypot
from typing import Literal

import numpy as np
import numpy.typing as npt

from stowright.drawings.board import Board, is_round, is_through, on_face, rectangle_of
from stowright.drawings.extent import bounds
from stowright.drawings.figures import leader_texts
from stowright.drawings.lettering import DIAMETER, wrapped
from stowright.drawings.part_tabs import slot_size
from stowright.drawings.scene import Leader
from stowright.drawings.space import Level, Space, ring_offsets
from stowright.model.geometry import Point2
from stowright.model.part import Feature, Part, is_tab_slot
from stowright.units import Unit, format_length

__all__ = [
    "FeatureGroup",
    "NoteBoard",
    "Tip",
    "feature_groups",
    "free_note",
    "group_words",
    "hole_size",
    "led_note",
    "letter_of",
    "short_note",
]

_SIDES: tuple[Literal["right"], Literal["left"]] = ("right", "left")
_SMALL = 2.5
_SUNK = re.compile(r"countersunk (\d+(?:\.\d+)?)")
_WIDE = 46.0  # a note is broken into lines no wider than this


@dataclass(frozen=True, slots=True, kw_only=True)
class FeatureGroup:
    """Features that one note serves: same kind, face, size, depth and purpose."""

    features: tuple[Feature, ...]

    @property
    def first(self) -> Feature:
        """The feature that stands for all."""
        return self.features[0]


def feature_groups(features: tuple[Feature, ...]) -> tuple[FeatureGroup, ...]:
    """Return features gathered by what their note says, in the order they first appear."""
    groups: dict[tuple[object, ...], list[Feature]] = {}
    for f in features:
        sized = is_round(f) or is_tab_slot(f)
        size = tuple(round(side, 2) for side in f.size) if sized else ()
        key = (f.kind, f.face, size, f.through, f.depth, f.radius, f.purpose)
        groups.setdefault(key, []).append(f)
    return tuple(FeatureGroup(features=tuple(rows)) for rows in groups.values())


def group_words(group: FeatureGroup, part: Part, units: Unit) -> tuple[str, ...]:
    """Return a group's note: count, size and depth, then what it is for."""
    f = group.first
    count = f"{len(group.features)} × " if len(group.features) > 1 else ""
    if is_round(f):
        what = f"{count}{hole_size(f.size[0], units)}{_depth(f, part, units)}"
        seen = is_through(f, part) and f.face == "back" and "countersunk" in f.purpose
        back = ", from the back" if seen else ""
        return (what, *wrapped(f"{_purpose(f, units)}{back}", width=_WIDE, height=_SMALL))
    corner = f", R{format_length(f.radius, units)}" if f.radius > 0.0 else ""
    what = f.purpose if f.purpose.startswith(f.kind) else f"{f.kind}: {f.purpose}"
    deep = "" if is_through(f, part) else f",{_depth(f, part, units)}"
    if is_tab_slot(f):
        what, deep = f"{f.purpose}, {slot_size(f, units)}", ""
    return wrapped(f"{count}{what}{deep}{corner}", width=_WIDE, height=_SMALL)


def _purpose(f: Feature, units: Unit) -> str:
    """Return what a hole is for; its countersink is sized in the job's unit."""
    if units == "mm":
        return f.purpose
    return _SUNK.sub(
        lambda m: f"countersunk {DIAMETER}{format_length(float(m[1]), units)}", f.purpose
    )


def hole_size(diameter: float, units: Unit) -> str:
    """Return a hole's diameter; drills are named in millimetres too in an inch job."""
    size = f"{DIAMETER}{format_length(diameter, units)}"
    return size if units == "mm" else f"{size} ({format_length(diameter)} mm)"


def _depth(f: Feature, part: Part, units: Unit) -> str:
    if is_through(f, part):
        return " through"
    deep = f" × {format_length(f.depth, units)} deep"
    if f.face == "back":
        return f"{deep}, from the back"
    return deep


class NoteBoard:
    """Places notes on a view one after the other; what finds no room is lettered and listed.

    Attributes:
        placed: The leaders with their notes, or with a letter.
        listed: The words of the lettered ones.
    """

    def __init__(self, space: Space) -> None:
        self._space = space
        self.placed: list[Leader] = []
        self.listed: list[str] = []

    def put(self, lines: tuple[str, ...], tips: list[Tip]) -> None:
        """Place a note led to one of several places; it is entered as taken."""
        note = free_note(lines, tips, self._space) or self._lettered(lines, tips)
        self._space.take((note,))
        self.placed.append(note)

    def _lettered(self, lines: tuple[str, ...], tips: list[Tip]) -> Leader:
        """Return a letter instead of a note, unless it would be led as badly as the note itself."""
        letter = letter_of(len(self.listed))
        note = free_note((letter,), tips, self._space, _LETTERED)
        if note is None:
            note = free_note(lines, tips, self._space, _LAST)
            if note is not None:
                return note
        self.listed.append(f"{letter}: {_in_a_row(lines)}")
        return note or led_note((letter,), tips, self._space)

    def put_groups(self, board: Board, groups: tuple[FeatureGroup, ...], units: Unit) -> None:
        """Place a note for each group of features on the faces."""
        for group in groups:
            tips = [_tip(board, f) for f in _spread_out(group.features)]
            self.put(group_words(group, board.part, units), tips)


def letter_of(number: int) -> str:
    """Return the letter of a note: a to z, then a2 to z2 and so on."""
    more, place = divmod(number, 26)
    return chr(ord("a") + place) + (str(more + 1) if more else "")


def _in_a_row(lines: tuple[str, ...]) -> str:
    """Return a note's lines as one sentence: a comma after size and place, none in broken words."""
    ended = [f"{line}," if _tells_size(line) else line for line in lines[:-1]]
    return " ".join((*ended, *lines[-1:]))


def _tells_size(line: str) -> bool:
    return (DIAMETER in line and " × " in line) or line.endswith(" from the back face")


def _spread_out(features: tuple[Feature, ...]) -> Iterator[Feature]:
    """Yield the features, outer ones first: there is more room round them."""
    order = sorted(range(len(features)), key=lambda k: (min(k, len(features) - 1 - k), k))
    for k in order[:10]:
        yield features[k]


@dataclass(frozen=True, slots=True)
class Tip:
    """Where a leader may end: the middle of a feature, and how far its rim is from it."""

    at: Point2
    reach: float


def _tip(board: Board, feature: Feature) -> Tip:
    if is_round(feature) and on_face(feature):
        return Tip(board.at(*feature.at), feature.size[0] / 2.0 * board.scale)
    r = rectangle_of(feature)
    return Tip(board.at((r.u0 + r.u1) / 2.0, r.v1 if r.v1 < board.part.width else r.v0), 0.0)


def led_note(lines: tuple[str, ...], tips: list[Tip], space: Space) -> Leader:
    """Return a note led to one of several places, where its lettering is free.

    Should there be no free place it stands near the first tip all the same, which the check of the
    finished drawing then reports.
    """
    note = free_note(lines, tips, space) or free_note(lines, tips, space, _LAST)
    if note is not None:
        return note
    return _leader(lines, tips[0], (tips[0].at[0] + 8.0, tips[0].at[1] + 8.0), clear=True)


def short_note(word: str, tips: list[Tip], space: Space) -> Leader:
    """Return a word as near to what it names as it can be read."""
    return free_note((word,), tips, space, _LETTERED) or led_note((word,), tips, space)


@dataclass(frozen=True, slots=True)
class _Trial:
    """How a place for a note is looked for.

    Attributes:
        near, far: Radius of the smallest and of the largest ring round what it is led to.
        turns: Places on a ring.
        text: What the lettering may not touch.
        line: What the leader may not cross.
    """

    near: float
    far: float
    turns: int
    text: Level
    line: Level


#: Near and clear of everything; then over outlines and extension lines; then over a dimension line.
_GOOD = (
    _Trial(7.0, 36.0, 24, "lines", "lines"),
    _Trial(7.0, 45.0, 24, "lines", "dimensions"),
    _Trial(7.0, 36.0, 24, "lines", "leaders"),
)
#: A letter stands nearer, and may interrupt extension lines.
_LETTERED = (
    _Trial(4.0, 20.0, 24, "lines", "lines"),
    *_GOOD,
    _Trial(4.0, 30.0, 24, "edges", "dimensions"),
)
#: Wherever there is room, over anything but lettering.
_LAST = (
    _Trial(7.0, 80.0, 24, "lines", "leaders"),
    _Trial(7.0, 80.0, 24, "lines", "texts"),
    _Trial(4.0, 60.0, 24, "edges", "texts"),
    _Trial(5.0, 120.0, 48, "lines", "texts"),
)


def free_note(
    lines: tuple[str, ...], tips: list[Tip], space: Space, trials: tuple[_Trial, ...] = _GOOD
) -> Leader | None:
    """Return a note where its lettering is free, or None when no place near its tips is.

    Args:
        lines: The note.
        tips: Where it may be led to.
        space: What is taken.
        trials: How places are looked for, the best ones first.
    """
    shapes = _note_boxes(lines)
    starts = np.array([tip.at for tip in tips])
    for trial in trials:
        offsets = ring_offsets(near=trial.near, far=trial.far, turns=trial.turns)
        places, rims = _places(starts, shapes, offsets)
        free = space.free_boxes(rims, level=trial.text)
        k = space.first_free_line(starts[free % len(tips)], places[free], level=trial.line)
        if k is not None:
            x, y = places[free[k]]
            tip = tips[free[k] % len(tips)]
            return _leader(lines, tip, (float(x), float(y)), clear=trial.text == "edges")
    return None


def _places(
    tips: npt.NDArray[np.float64],
    shapes: npt.NDArray[np.float64],
    offsets: npt.NDArray[np.float64],
) -> tuple[npt.NDArray[np.float64], npt.NDArray[np.float64]]:
    """Return where a leader may end, tips in turn, and the rims of its note's box there."""
    places = (offsets[:, None, :] + tips[None, :, :]).reshape(-1, 2)
    sides = np.repeat((offsets[:, 0] < 0.0).astype(np.intp), len(tips))
    return places, shapes[sides] + np.tile(places, 2)


def _note_boxes(lines: tuple[str, ...]) -> npt.NDArray[np.float64]:
    """Return left, bottom, right and top of a note at (0, 0), set to the right and to the left."""
    rows = []
    for side in _SIDES:
        box = bounds(leader_texts(Leader(points=((0.0, 0.0),), lines=lines, side=side)))
        rows.append((box.left, box.bottom, box.right, box.top))
    return np.array(rows)


def _leader(lines: tuple[str, ...], tip: Tip, place: Point2, *, clear: bool) -> Leader:
    dx, dy = place[0] - tip.at[0], place[1] - tip.at[1]
    reach = hypot(dx, dy) or 1.0
    point = (tip.at[0] + dx / reach * tip.reach, tip.at[1] + dy / reach * tip.reach)
    return Leader(
        points=(point, place),
        lines=lines,
        side="right" if dx >= 0.0 else "left",
        height=_SMALL,
        clear=clear,
    )
