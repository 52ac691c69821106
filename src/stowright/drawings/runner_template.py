"""The drilling template of a runner's member at full size: on one page, or on several end to end.

Along runs up the page from a datum corner at its foot; words and the bar to check the print by
stand beside it, so that the page's whole height is the template's. A longer one goes on over pages
with register marks. A line too high for the page's width is set out from a line drawn under it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil

from stowright.drawings.end_to_end import Stretch, register_marks, stretches
from stowright.drawings.lettering import wrapped
from stowright.drawings.part_notes import hole_size
from stowright.drawings.runner_places import MemberPlaces, RunnerScrew
from stowright.drawings.scene import Circle, Item, Line, Polyline, Scene, Text, View
from stowright.drawings.sheet_frame import Paper, check_bar
from stowright.errors import OutOfRangeError
from stowright.model.geometry import Point2
from stowright.units import MM_PER_INCH, Unit, format_length

__all__ = ["runner_templates", "template_fits", "template_words"]

#: Printers leave some paper white. [mm]
_RIM = 14.0
_FOOT = 14.0
_LEFT = 6.0  # of the datum corner, past the rim
_ARM = 4.0  # of a hole's cross
_PAST = 5.0  # of the datum line, past the last hole
_HEAD = 8.0  # the line's height over its end, and white paper
_LABEL = 38.0  # of a hole's words, from its middle
_WORDS = 46.0  # the least that the words beside it take
_BAR_UP = 60.0  # of the bar on one of several pages, clear of the register marks
_NOTE = 2.5
_STEP = 4.2


@dataclass(frozen=True, slots=True, kw_only=True)
class _Sheet:
    """One page of a member's template.

    Attributes:
        lift: Height that the long datum line stands for. [mm]
    """

    member: MemberPlaces
    paper: Paper
    units: Unit
    stretch: Stretch
    lift: float

    def at(self, along: float, up: float) -> Point2:
        """Return the paper place of a place on the member."""
        return (_RIM + _LEFT + up - self.lift, self.stretch.y(along))

    @property
    def words_at(self) -> float:
        """Where the words beside the template start. [mm]."""
        return _RIM + _LEFT + _highest(self.member) - self.lift + _LABEL


def template_fits(member: MemberPlaces, paper: Paper) -> bool:
    """Return whether a member's drilling template fits one page at full size."""
    return bool(member.screws) and len(_stretches(member, paper)) == 1


def template_words(member: MemberPlaces, *, paper: Paper) -> str:
    """Return where a member's drilling template is, for its runner sheet."""
    if not member.screws:
        return "No drilling template: no screw holds this member."
    if template_fits(member, paper):
        return "A drilling template at full size goes with this sheet."
    many = len(_stretches(member, paper))
    return f"A drilling template at full size, on {many} pages, is printed with the rods."


def runner_templates(
    member: MemberPlaces, *, units: Unit, paper: Paper, title: str
) -> tuple[Scene, ...]:
    """Return the drilling template of a member at full size, page by page.

    Raises:
        OutOfRangeError: If no screw holds the member.
    """
    if not member.screws:
        raise OutOfRangeError("screws", 0.0, "one or more")
    lift = _lift(member, paper, units)
    return tuple(
        _page(_Sheet(member=member, paper=paper, units=units, stretch=part, lift=lift), title)
        for part in _stretches(member, paper)
    )


def _stretches(member: MemberPlaces, paper: Paper) -> tuple[Stretch, ...]:
    end = _last(member) + _PAST
    if _FOOT + end + _HEAD <= paper.height:
        return (Stretch(number=1, count=1, low=0.0, high=end, foot=_FOOT),)
    return stretches(_last(member), paper)


def _last(member: MemberPlaces) -> float:
    return max((screw.along for screw in member.screws), default=0.0)


def _highest(member: MemberPlaces) -> float:
    return max((member.line, *(screw.up for screw in member.screws)))


def _lift(member: MemberPlaces, paper: Paper, units: Unit) -> float:
    """Return the height of the long datum line, in whole centimetres or inches. [mm]."""
    over = _RIM + _LEFT + _highest(member) + _LABEL + _WORDS + _RIM - paper.width
    step = MM_PER_INCH if units == "in" else 10.0
    return max(0.0, ceil(over / step) * step)


def _page(sheet: _Sheet, title: str) -> Scene:
    part, member = sheet.stretch, sheet.member
    several = part.count > 1
    items = (
        *_datums(sheet),
        *(i for screw in member.screws if part.holds(screw.along) for i in _screw(screw, sheet)),
        *_words(sheet, title),
        *register_marks(sheet.paper, part),
    )
    bar = check_bar((sheet.paper.width - _RIM, _BAR_UP if several else _FOOT), upright=True)
    return Scene(
        name=f"template-{title}-{member.member}{member.hand}"
        + (f"-{part.number}" if several else ""),
        title=f"Drilling template, {title}, {member.member} member{member.hand}"
        + (f", {part.page}" if several else ""),
        width=sheet.paper.width,
        height=sheet.paper.height,
        views=(
            View(name="template", items=items, at=sheet.at(0.0, 0.0)),
            View(name="check bar", items=bar),
        ),
    )


def _datums(sheet: _Sheet) -> Iterator[Item]:
    """Yield the two datum lines, the runner's centre line and its height."""
    member, part = sheet.member, sheet.stretch
    top = part.high if part.number < part.count else _last(member) + _PAST
    corner = sheet.at(0.0, sheet.lift)
    foot, head = sheet.at(part.low, sheet.lift), sheet.at(top, sheet.lift)
    yield Line(start=foot, end=head, pen="visible")
    yield Line(start=sheet.at(part.low, member.line), end=sheet.at(top, member.line), pen="centre")
    if part.number == 1:
        right = sheet.at(0.0, _highest(member) + 20.0)
        yield Line(start=corner, end=right, pen="visible")
        x, y = corner
        yield Polyline(points=(corner, (x - 3.0, y - 3.0)), pen="dimension")
        yield Text(text="datum corner", at=(x - 3.4, y - 3.4), height=2.0, rise="top")
    if part.number == part.count:
        x, y = sheet.at(top, member.line)
        height = f"line {format_length(member.line, sheet.units)} up"
        yield Text(text=height, at=(x, y + 1.2), height=_NOTE, anchor="middle")


def _screw(screw: RunnerScrew, sheet: _Sheet) -> Iterator[Item]:
    """Yield a hole's cross and ring, a slot's second ring, and its place in words."""
    x, y = sheet.at(screw.along, screw.up)
    ring = screw.pilot / 2.0 or 1.5
    yield Line(start=(x - _ARM, y), end=(x + _ARM, y), pen="edge")
    yield Line(start=(x, y - _ARM), end=(x, y + _ARM), pen="edge")
    yield Circle(centre=(x, y), radius=ring, pen="edge")
    if screw.kind == "slot":
        yield Circle(centre=(x, y), radius=2.0 * ring, pen="edge")
    kind = "1 slot" if screw.kind == "slot" else "2 round"
    off = abs(screw.up - sheet.member.line) > 0.05
    up = f", {format_length(screw.up, sheet.units)} up" if off else ""
    words = f"{kind}, {format_length(screw.along, sheet.units)}{up}"
    yield Text(text=words, at=(x + _ARM + 2.0, y), height=_NOTE, rise="middle")


def _words(sheet: _Sheet, title: str) -> Iterator[Text]:
    part, paper = sheet.stretch, sheet.paper
    wide = paper.width - _RIM - sheet.words_at - 8.0
    page = f", {part.page}" if part.count > 1 else ""
    x, y = sheet.words_at, paper.height - _RIM
    words = f"{title}: drilling template, {sheet.member.member} member{sheet.member.hand}{page}"
    for line in wrapped(words, width=wide, height=3.5):
        yield Text(text=line, at=(x, y), height=3.5, rise="top", weight="bold")
        y -= 5.6
    for note in _notes(sheet):
        y -= 1.6
        for line in wrapped(note, width=wide, height=_NOTE):
            yield Text(text=line, at=(x, y), height=_NOTE, rise="top")
            y -= _STEP


def _notes(sheet: _Sheet) -> Iterator[str]:
    """Yield how the template is printed, laid and drilled through."""
    member, units, part = sheet.member, sheet.units, sheet.stretch
    drawer = member.member == "drawer"
    left = "lower edge of the drawer's side" if drawer else member.stands_on
    low = "face end of the drawer's side" if drawer else "face edge of the upright"
    pilots = ", ".join(dict.fromkeys(hole_size(r.pilot, units) for r in member.screws if r.pilot))
    yield "Full size: print at 100 % and measure the bar."
    if part.count > 1:
        yield "Lay the pages so that their register marks lie on each other; tape them."
    line = f"the {left}"
    if sheet.lift > 0.0:
        lift = format_length(sheet.lift, units, with_unit=True)
        line = f"a line drawn {lift} above the {left}"
    turn = "Turn it for the other hand."
    if not member.both:
        turn = f"It is for the {member.side} side alone: the other side's has other holes."
    yield f"Lay the long line on {line}, the short one on the {low}. {turn}"
    yield "Screws marked 1 first, then the run test, then those marked 2."
    yield (
        ("Sizes in inches" if units == "in" else "Sizes in mm")
        + f"; 0 up is the {left}."
        + (f" Pilots {pilots}." if pilots else "")
    )
