"""The drilling template of a runner's member at full size, where it fits one page.

Along runs up the page from a datum corner at its foot; words and the bar to check the print by
stand beside it, so that the page's whole height is the template's.
"""

from __future__ import annotations

from collections.abc import Iterator

from stowright.drawings.lettering import wrapped
from stowright.drawings.part_notes import hole_size
from stowright.drawings.runner_places import MemberPlaces, RunnerScrew
from stowright.drawings.scene import Circle, Item, Line, Polyline, Scene, Text, View
from stowright.drawings.sheet_frame import Paper, check_bar
from stowright.errors import OutOfRangeError
from stowright.model.geometry import Point2
from stowright.units import Unit, format_length

__all__ = ["runner_template", "template_fits", "template_words"]

#: Printers leave some paper white. [mm]
_RIM = 14.0
_FOOT = 14.0
_LEFT = 6.0  # of the datum corner, past the rim
_ARM = 4.0  # of a hole's cross
_PAST = 5.0  # of the datum line, past the last hole
_HEAD = 8.0  # the line's height over its end, and white paper
_LABEL = 38.0  # of a hole's words, from its middle
_WORDS = 46.0  # the least that the words beside it take
_NOTE = 2.5
_STEP = 4.2


def template_fits(member: MemberPlaces, paper: Paper) -> bool:
    """Return whether a member's drilling template fits one page at full size."""
    room = _room_up(member, paper) >= 0.0 and _beside(member, paper) >= _WORDS
    return bool(member.screws) and room


def _room_up(member: MemberPlaces, paper: Paper) -> float:
    """Return what the page's height leaves over. [mm]."""
    end = max((r.along for r in member.screws), default=0.0)
    return paper.height - _FOOT - end - _PAST - _HEAD


def _beside(member: MemberPlaces, paper: Paper) -> float:
    """Return the width that the page leaves for words. [mm]."""
    return paper.width - _RIM - _words_at(member)


def _words_at(member: MemberPlaces) -> float:
    """Return where the words beside the template start. [mm]."""
    return _RIM + _LEFT + max((r.up for r in member.screws), default=0.0) + _LABEL


def template_words(member: MemberPlaces, *, paper: Paper, units: Unit) -> str:
    """Return whether a member has a template on a page, and if not why, for its runner sheet."""
    if not member.screws:
        return "No drilling template: no screw holds this member."
    if template_fits(member, paper):
        return "A drilling template at full size goes with this sheet."
    if _room_up(member, paper) < 0.0:
        last = format_length(max(r.along for r in member.screws), units)
        return f"No drilling template: the hole at {last} is past one page."
    return "No drilling template: the line is too high for one page."


def runner_template(member: MemberPlaces, *, units: Unit, paper: Paper, title: str) -> Scene:
    """Return the drilling template of a member at full size; along runs up the page.

    Raises:
        OutOfRangeError: If it does not fit the page.
    """
    if not template_fits(member, paper):
        raise OutOfRangeError("along", member.screws[-1].along, "within one page")
    x0, y0 = _RIM + _LEFT, _FOOT
    items = (
        *_datums(member, (x0, y0), units),
        *(item for screw in member.screws for item in _screw(screw, member, (x0, y0), units)),
        *_words(member, paper, title, units),
    )
    bar = check_bar((paper.width - _RIM, y0), upright=True)
    return Scene(
        name=f"template-{title}-{member.member}",
        title=f"Drilling template, {title}, {member.member} member",
        width=paper.width,
        height=paper.height,
        views=(View(name="template", items=items, at=(x0, y0)), View(name="check bar", items=bar)),
    )


def _datums(member: MemberPlaces, at: Point2, units: Unit) -> Iterator[Item]:
    """Yield the two datum lines, the runner's centre line and its height."""
    x0, y0 = at
    right = x0 + max(r.up for r in member.screws) + 20.0
    top = y0 + max(r.along for r in member.screws) + _PAST
    line = x0 + member.line
    yield Line(start=(x0, y0), end=(right, y0), pen="visible")
    yield Line(start=(x0, y0), end=(x0, top), pen="visible")
    yield Line(start=(line, y0), end=(line, top), pen="centre")
    height = f"line {format_length(member.line, units)} up"
    yield Text(text=height, at=(line, top + 1.2), height=_NOTE, anchor="middle")
    yield Polyline(points=(at, (x0 - 3.0, y0 - 3.0)), pen="dimension")
    yield Text(text="datum corner", at=(x0 - 3.4, y0 - 3.4), height=2.0, rise="top")


def _screw(screw: RunnerScrew, member: MemberPlaces, at: Point2, units: Unit) -> Iterator[Item]:
    """Yield a hole's cross and ring, a slot's second ring, and its place in words."""
    x, y = at[0] + screw.up, at[1] + screw.along
    ring = screw.pilot / 2.0 or 1.5
    yield Line(start=(x - _ARM, y), end=(x + _ARM, y), pen="edge")
    yield Line(start=(x, y - _ARM), end=(x, y + _ARM), pen="edge")
    yield Circle(centre=(x, y), radius=ring, pen="edge")
    if screw.kind == "slot":
        yield Circle(centre=(x, y), radius=2.0 * ring, pen="edge")
    kind = "1 slot" if screw.kind == "slot" else "2 round"
    off = abs(screw.up - member.line) > 0.05
    up = f", {format_length(screw.up, units)} up" if off else ""
    words = f"{kind}, {format_length(screw.along, units)}{up}"
    yield Text(text=words, at=(x + _ARM + 2.0, y), height=_NOTE, rise="middle")


def _words(member: MemberPlaces, paper: Paper, title: str, units: Unit) -> Iterator[Text]:
    drawer = member.member == "drawer"
    left = "lower edge of the drawer's side" if drawer else member.stands_on
    low = "face end of the drawer's side" if drawer else "face edge of the upright"
    pilots = ", ".join(dict.fromkeys(hole_size(r.pilot, units) for r in member.screws if r.pilot))
    wide = _beside(member, paper) - 8.0
    notes = (
        "Full size: print at 100 % and measure the bar.",
        f"Lay the long line on the {left}, the short one on the {low}. Turn it for the other hand.",
        "Screws marked 1 first, then the run test, then those marked 2.",
        ("Sizes in inches." if units == "in" else "Sizes in mm.")
        + (f" Pilots {pilots}." if pilots else ""),
    )
    x, y = _words_at(member), paper.height - _RIM
    head = wrapped(f"{title}: drilling template, {member.member} member", width=wide, height=3.5)
    for line in head:
        yield Text(text=line, at=(x, y), height=3.5, rise="top", weight="bold")
        y -= 5.6
    for note in notes:
        y -= 1.6
        for line in wrapped(note, width=wide, height=_NOTE):
            yield Text(text=line, at=(x, y), height=_NOTE, rise="top")
            y -= _STEP
