"""What is odd about a measured bay: stations far off their neighbours, doors wider than walls."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import hypot

from stowright.jobfile.check_bay import floor_width_at, whole_width
from stowright.jobfile.keys import field_text
from stowright.jobfile.scanner import Path
from stowright.jobfile.shape_bay import BayShape, WidthShape, ribs_of
from stowright.units import Unit, format_length

__all__ = ["odd_bay"]

#: How far a station may stand off its neighbours at one level, and off another level. [mm]
_OFF_LEVEL = 150.0
_OFF_HEIGHT = 180.0
_OFF_CENTRE = 100.0
_OFF_DIAGONAL = 100.0
_OFF_BETWEEN = 60.0
_SAME = 1.0

#: One reading: its path, where it stands along the level, at what height, and its size.
type _Station = tuple[Path, float, float, float]


def odd_bay(bay: BayShape, units: Unit) -> tuple[str, ...]:
    """Return a line for each odd thing in the bay."""
    return tuple(_Oddities(bay, units).lines())


class _Oddities:
    """Looks at one bay from several sides."""

    def __init__(self, bay: BayShape, units: Unit) -> None:
        self.bay, self.units = bay, units
        self.error = 2.0 if bay.reading_error is None else bay.reading_error

    def lines(self) -> Iterator[str]:
        bay = self.bay
        widths = [
            (("bay", "widths", i), s.at or 0.0, s.height or 0.0, _whole(s))
            for i, s in enumerate(bay.widths or ())
        ]
        between = [
            (("bay", "between", i), s.at or 0.0, s.height or 0.0, s.width or 0.0)
            for i, s in enumerate(bay.between or ())
        ]
        lengths = [
            (("bay", "lengths", i), s.y or 0.0, s.height or 0.0, s.length or 0.0)
            for i, s in enumerate(bay.lengths or ())
        ]
        yield from self.stations(widths, bay.width)
        yield from self.stations(between, None)
        yield from self.stations(lengths, bay.length)
        yield from self.halves()
        yield from self.arches()
        yield from self.diagonals()
        yield from self.doors()
        yield from self.points()

    def show(self, mm: float) -> str:
        return format_length(mm, self.units, with_unit=True)

    def stations(self, stations: Sequence[_Station], plain: float | None) -> Iterator[str]:
        """Compare each station with those beside it, with the level below, with the shorthand."""
        levels: dict[float, list[_Station]] = {}
        for station in stations:
            levels.setdefault(station[2], []).append(station)
        below: list[_Station] = []
        for height in sorted(levels):
            level = sorted(levels[height], key=lambda each: each[1])
            for place, station in enumerate(level):
                beside = level[max(place - 1, 0) : place] + level[place + 1 : place + 2]
                yield from self.off(station, beside, below, plain)
            below = level

    def off(
        self,
        station: _Station,
        beside: Sequence[_Station],
        below: Sequence[_Station],
        plain: float | None,
    ) -> Iterator[str]:
        path, along, height, size = station
        field = field_text(path)
        twice = [each for each in beside if each[1] == along]
        if twice:
            if abs(twice[0][3] - size) > 2.0 * self.error and twice[0][0] < path:
                both = f"{self.show(twice[0][3])} and {self.show(size)}"
                yield f"{field}: read twice at one place, {both}; the lesser counts"
            return
        expected = _between(beside, along)
        limit, what = _OFF_LEVEL, "its neighbours"
        if expected is None and below:
            expected, limit, what = _between(below, along), _OFF_HEIGHT, "the level below"
        elif expected is None and plain is not None:
            expected, what = plain, "the plain length or width"
            limit = _OFF_LEVEL if height <= _SAME else _OFF_HEIGHT
        if expected is not None and abs(size - expected) >= limit:
            off = self.show(abs(size - expected))
            yield f"{field}: {self.show(size)} stands {off} off {what} ({self.show(expected)})"

    def halves(self) -> Iterator[str]:
        for place, station in enumerate(self.bay.widths or ()):
            field = field_text(("bay", "widths", place))
            left, right, whole = station.left, station.right, station.width
            if left is None or right is None:
                continue
            if whole is not None and abs(left + right - whole) > 2.0 * self.error:
                sides = self.show(left + right)
                yield f"{field}: left and right make {sides}, not {self.show(whole)}"
            if abs(left - right) > _OFF_CENTRE:
                yield f"{field}: left and right differ by {self.show(abs(left - right))}"

    def arches(self) -> Iterator[str]:
        bay = self.bay
        for place, arch in enumerate(bay.arches or ()):
            if bay.rail is not None and (arch.height or 0.0) > bay.rail:
                field = field_text(("bay", "arches", place, "height"))
                yield f"{field}: {self.show(arch.height or 0.0)} is above the rail"
        for place, station in enumerate(bay.between or ()):
            at, clear = station.at or 0.0, station.width or 0.0
            width = floor_width_at(bay, at)
            field = field_text(("bay", "between", place))
            if width is not None and clear > width + 2.0 * self.error:
                wall = f"the width there, {self.show(width)}"
                yield f"{field}: {self.show(clear)} is more than {wall}"
                continue
            beside = [
                arch.reach or 0.0
                for arch in bay.arches or ()
                if (arch.start or 0.0) <= at <= (arch.end or 0.0)
            ]
            if width is None or len(beside) != 2:
                continue
            left_over = width - sum(beside)
            if abs(left_over - clear) > _OFF_BETWEEN:
                told = f"width less reach leaves {self.show(left_over)}"
                yield f"{field}: {self.show(clear)} between the arches, but {told}"

    def diagonals(self) -> Iterator[str]:
        bay = self.bay
        if bay.diagonals is None or bay.length is None or bay.width is None:
            return
        expected = hypot(bay.length, bay.width)
        for one in bay.diagonals:
            if abs(one - expected) > _OFF_DIAGONAL:
                told = f"length and width make {self.show(expected)}"
                yield f"bay.diagonals: {self.show(one)} is odd, {told}"

    def doors(self) -> Iterator[str]:
        bay = self.bay
        seen: set[str] = set()
        for place, door in enumerate(bay.opening or ()):
            path, face = ("bay", "opening", place), door.face or "tail"
            if face in seen:
                yield f"{field_text(path)}: a second doorway on the {face}; the first one counts"
            seen.add(face)
            widest = self.widest() if face == "tail" else bay.length
            width = door.x[1] - door.x[0] if door.x else door.width
            if width is not None and widest is not None and width > widest + 2.0 * self.error:
                wall = "wide" if face == "tail" else "long"
                bay_told = f"larger than the bay, {self.show(widest)} {wall}"
                yield f"{field_text((*path, 'width'))}: {self.show(width)} is {bay_told}"
            top = bay.clear_height
            if door.height is not None and top is not None and door.height > top + 2 * self.error:
                bay_told = f"larger than the bay, {self.show(top)} high"
                yield f"{field_text((*path, 'height'))}: {self.show(door.height)} is {bay_told}"
        gate = bay.tailgate
        floor = ribs_of(bay) if bay.height_from == "valley" else 0.0
        if floor and (bay.floor is None or bay.floor.rib_depth is None):
            told = f"heights lose {self.show(floor)} for ribs that nobody read"
            yield f"bay.height_from: valley, and {told}: give bay.floor.rib_depth"
        if gate is not None and gate.open_top is not None and gate.open_top > floor:
            over = self.show(gate.open_top - floor)
            yield f"bay.tailgate.open_top: {over} above the floor when open; drawers run over it"

    def widest(self) -> float | None:
        sizes = [self.bay.width, *(_whole(each) for each in self.bay.widths or ())]
        return max((size for size in sizes if size is not None), default=None)

    def points(self) -> Iterator[str]:
        """Anchors, belts and keep-outs that lie outside the bay altogether."""
        bay, widest = self.bay, self.widest()
        if bay.length is None or widest is None:
            return
        half = widest / 2.0 + 2.0 * self.error
        end = max([bay.length, *(s.length or 0.0 for s in bay.lengths or ())]) + 2.0 * self.error
        for key in ("anchors", "belts"):
            for place, point in enumerate(getattr(bay, key) or ()):
                out_x = point.x is not None and not -2.0 * self.error <= point.x <= end
                if out_x or (point.y is not None and abs(point.y) > half):
                    yield f"{field_text(('bay', key, place))}: stands outside the bay"
        for place, box in enumerate(bay.keep_out or ()):
            out_x = box.x is not None and (box.x[0] >= end or box.x[1] <= 0.0)
            if out_x or (box.y is not None and (box.y[0] >= half or box.y[1] <= -half)):
                yield f"{field_text(('bay', 'keep_out', place))}: lies outside the bay"


def _whole(station: WidthShape) -> float:
    return whole_width(station) or 0.0


def _between(stations: Sequence[_Station], along: float) -> float | None:
    """Return what the stations around a place lead one to expect there; None without any."""
    before = [each for each in stations if each[1] <= along]
    after = [each for each in stations if each[1] >= along]
    if not before or not after:
        nearest = after[:1] or before[-1:]
        return nearest[0][3] if nearest else None
    low, high = before[-1], after[0]
    if high[1] == low[1]:
        return low[3]
    return low[3] + (high[3] - low[3]) * (along - low[1]) / (high[1] - low[1])
