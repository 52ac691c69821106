"""A stretch of a set-out rod drawn upright or lying: bars in rows, labels on the far side.

Places along the rod are ``t``, across it ``q``: the running dimensions lie at negative q (left of
an upright rod, below a lying one), then the rows of bars, then the labels.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from stowright.drawings.dimensioning import spread
from stowright.drawings.lettering import text_width
from stowright.drawings.rods import Bar, Rod
from stowright.drawings.scene import Item, Line, Polyline, Region, Text
from stowright.model.geometry import Point2
from stowright.units import Unit, format_length

__all__ = ["RodFrame", "rod_rows", "rod_stretch"]

#: Height of a row of bars, and the bar's inset in it. [mm]
ROW = 6.5
_INSET = 0.8
_LABEL = 7.0  # from the last row to the labels
_PITCH = 3.75
_HEIGHT = 2.5
_NEAR = 0.01


@dataclass(frozen=True, slots=True, kw_only=True)
class RodFrame:
    """How a stretch of a rod lies on paper.

    Attributes:
        upright: Whether it stands.
        scale: Paper millimetres per millimetre of the rod.
        low, high: The stretch shown. [mm of the rod]
        start: Where ``low`` lies along the rod on paper. [mm]
    """

    upright: bool
    scale: float
    low: float
    high: float
    start: float = 0.0

    def along(self, value: float) -> float:
        """Return where a place of the rod lies along it on paper."""
        return self.start + (value - self.low) * self.scale

    def at(self, t: float, q: float) -> Point2:
        """Return a paper point from paper distances along and across."""
        return (q, t) if self.upright else (t, q)


def rod_rows(rod: Rod) -> tuple[tuple[str, tuple[Bar, ...]], ...]:
    """Return the rows of a rod: its columns, split where bars of one column overlap."""
    rows: list[tuple[str, tuple[Bar, ...]]] = []
    for column in rod.columns:
        lanes: list[list[Bar]] = []
        for bar in sorted((b for b in rod.bars if b.column == column), key=lambda b: b.low):
            free = (lane for lane in lanes if lane[-1].high <= bar.low + _NEAR)
            lane = next(free, None)
            if lane is None:
                lanes.append([bar])
            else:
                lane.append(bar)
        rows += [(column, tuple(lane)) for lane in lanes]
    return tuple(rows)


def rod_stretch(rod: Rod, frame: RodFrame, units: Unit) -> tuple[Item, ...]:
    """Return bars, row names and labels of a stretch of a rod; its dimensions are not in it."""
    rows = rod_rows(rod)
    items: list[Item] = []
    end = len(rows) * ROW
    led = _mark_labels(rod, end, units)
    inside: list[tuple[Bar, float, str]] = []
    for k, (_, bars) in enumerate(rows):
        q = (k + 0.5) * ROW
        for bar in bars:
            if bar.high <= frame.low or bar.low >= frame.high:
                continue
            items += _bar(bar, k * ROW, frame)
            words = f"{bar.name}, {format_length(bar.high - bar.low, units)}"
            if text_width(_short(words), height=_HEIGHT) + 3.0 <= _shown(bar, frame):
                inside.append((bar, q, words))
            else:
                led.append(((bar.low + bar.high) / 2.0, q, words))
    led = [row for row in led if frame.low <= row[0] <= frame.high]
    items += _led_labels(led, end, frame)
    items += [_inside_label(*row, led, frame) for row in inside]
    items += _row_names(rows, frame)
    return tuple(items)


#: Where along a bar a label is tried: the middle first, then farther and farther from it.
_SHARES = tuple(sorted((n / 40.0 for n in range(2, 39)), key=lambda share: abs(share - 0.5)))


def _short(words: str) -> str:
    """Return a label without the part's name: ``A10 drawer inner front, 452`` as ``A10, 452``."""
    mark, _, rest = words.partition(" ")
    return f"{mark},{rest.rpartition(',')[2]}"


def _shown(bar: Bar, frame: RodFrame) -> float:
    """Return how much of a bar is shown. [mm on paper]."""
    return (min(bar.high, frame.high) - max(bar.low, frame.low)) * frame.scale


def _bar(bar: Bar, q: float, frame: RodFrame) -> Iterator[Item]:
    """Yield a bar's stretch; an end is drawn only where the part really ends."""
    near, far = q + _INSET, q + ROW - _INSET
    low = frame.along(max(bar.low, frame.low))
    high = frame.along(min(bar.high, frame.high))
    corners = ((low, near), (high, near), (high, far), (low, far))
    yield Region(outer=tuple(frame.at(*c) for c in corners), fill="wood", about=bar.name)
    for side in (near, far):
        yield Line(start=frame.at(low, side), end=frame.at(high, side), pen="outline")
    if bar.low >= frame.low:
        yield Line(start=frame.at(low, near), end=frame.at(low, far), pen="outline")
    if bar.high <= frame.high:
        yield Line(start=frame.at(high, near), end=frame.at(high, far), pen="outline")


def _inside_label(
    bar: Bar, q: float, words: str, led: list[tuple[float, float, str]], frame: RodFrame
) -> Text:
    """Return a bar's label along it, where no other label's leader runs across it."""
    crossings = [frame.along(t) for t, from_q, _ in led if from_q < q]
    words, place = _free_place(bar, words, crossings, frame)
    return Text(
        text=words,
        at=frame.at(place, q),
        height=_HEIGHT,
        anchor="middle",
        rise="middle",
        turn=90.0 if frame.upright else 0.0,
    )


def _free_place(bar: Bar, words: str, crossings: list[float], frame: RodFrame) -> tuple[str, float]:
    """Return a label, shortened if it must be, and a place along its bar that nothing crosses."""
    low = frame.along(max(bar.low, frame.low))
    high = frame.along(min(bar.high, frame.high))
    for trial in (words, _short(words), words.partition(" ")[0]):
        half = text_width(trial, height=_HEIGHT) / 2.0 + 0.8
        for share in _SHARES:
            place = low + share * (high - low)
            if low + half <= place <= high - half and all(
                abs(place - crossing) > half for crossing in crossings
            ):
                return trial, place
    return _short(words), (low + high) / 2.0


def _mark_labels(rod: Rod, end: float, units: Unit) -> list[tuple[float, float, str]]:
    """Return gaps and lines as labels: place along the rod, where their leader starts, words."""
    rows = []
    for mark in rod.marks:
        size = f", {format_length(mark.high - mark.low, units)}" if mark.high > mark.low else ""
        rows.append(((mark.low + mark.high) / 2.0, end - _INSET, f"{mark.name}{size}"))
    return rows


def _row_names(rows: tuple[tuple[str, tuple[Bar, ...]], ...], frame: RodFrame) -> list[Item]:
    """Return the columns' names beyond the end of their rows."""
    end = frame.along(frame.high) + 2.0
    return [
        Text(
            text=column,
            at=frame.at(end, (k + 0.5) * ROW),
            height=_HEIGHT,
            rise="middle",
            turn=90.0 if frame.upright else 0.0,
            weight="italic",
        )
        for k, (column, _) in enumerate(rows)
        if k == 0 or rows[k - 1][0] != column
    ]


def _led_labels(
    rows: list[tuple[float, float, str]], end: float, frame: RodFrame
) -> Iterator[Item]:
    """Yield labels beside the rod, moved apart, each led to its bar or gap."""
    rows = sorted(rows)
    places = spread([frame.along(t) for t, _, _ in rows], gap=_PITCH)
    for (t, q, words), place in zip(rows, places, strict=True):
        along = frame.along(t)
        knees = ((along, q), (along, end + 1.5), (place, end + _LABEL - 1.0))
        yield Polyline(points=tuple(frame.at(*knee) for knee in knees), pen="light")
        yield Text(
            text=words,
            at=frame.at(place, end + _LABEL),
            height=_HEIGHT,
            rise="middle",
            turn=0.0 if frame.upright else 90.0,
        )
