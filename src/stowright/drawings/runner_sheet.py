"""The runner sheet of a drawer: both members on what they are screwed to, and a 1:1 template."""

from __future__ import annotations

from collections.abc import Sequence

from stowright.drawings.dimensioning import running
from stowright.drawings.extent import bounds, moved
from stowright.drawings.runner_places import MemberPlaces, RunnerScrew
from stowright.drawings.scales import ALL_SCALES, scale_text
from stowright.drawings.scene import Circle, Item, Line, Polyline, Region, Scene, Text, View
from stowright.drawings.sheet_frame import Paper, check_bar
from stowright.errors import OutOfRangeError
from stowright.units import Unit, format_length

__all__ = ["runner_figure", "runner_template", "template_fits"]

_MARGIN = 1.0
_GAP = 7.0
_RUN = 6.0
#: A drilling template's margins: printers leave some paper white. [mm]
_RIM = 14.0
_HEAD = 19.0  # words above it
_FOOT = 24.0  # the bar below it
_PAST = 5.0  # past the last hole: a cross's arm


def runner_figure(
    members: Sequence[MemberPlaces], *, units: Unit, room: tuple[float, float], name: str
) -> Scene:
    """Return the members of one side below each other, with running dimensions to each screw.

    Args:
        members: What ``members_of`` gives for one side.
        units: Unit of print.
        room: Width and height it may take. [mm]
        name: File name without its ending.

    Raises:
        OutOfRangeError: If it does not fit even at 1:100.
    """
    for scale in (s for s in ALL_SCALES if s <= 0.5):
        blocks = [_member_items(member, scale, units) for member in members]
        boxes = [bounds(items) for items in blocks]
        left = min(b.left for b in boxes)
        width = max(b.right for b in boxes) - left + 2 * _MARGIN
        height = sum(b.height for b in boxes) + _GAP * (len(boxes) - 1) + 2 * _MARGIN
        if width > room[0] or height > room[1]:
            continue
        views, top = [], height - _MARGIN
        for member, items, box in zip(members, blocks, boxes, strict=True):
            x, y = _MARGIN - left, top - box.top
            views.append(
                View(
                    name=f"{member.member} member",
                    items=moved(items, x=x, y=y),
                    scale=scale,
                    at=(x, y),
                )
            )
            top -= box.height + _GAP
        return Scene(
            name=name,
            title="Runner sheet",
            width=width,
            height=height,
            views=tuple(views),
            scale=scale,
        )
    raise OutOfRangeError("room", room[0], "large enough for the runner sheet at 1:100")


def _member_items(member: MemberPlaces, scale: float, units: Unit) -> tuple[Item, ...]:
    s = scale
    drawer = member.member == "drawer"
    items: list[Item] = []
    low = -member.below
    corners = (
        (0.0, low * s),
        (member.length * s, low * s),
        (member.length * s, member.height * s),
        (0.0, member.height * s),
    )
    items.append(Region(outer=corners, fill="wood", pen="visible", about=member.mark))
    if not drawer:
        floor = (
            (0.0, low * s),
            (member.length * s, low * s),
            (member.length * s, 0.0),
            (0.0, 0.0),
        )
        if member.below > 0.0:
            items.append(Region(outer=floor, fill="wood-dark", pen="outline"))
    items += _runner_items(member, s)
    items += _run_items(member, s, units)
    what = "drawer member" if drawer else "cabinet member"
    zero = "lower edge of the side" if drawer else "carcass floor"
    box = bounds(items)
    head = f"{what[0].upper()}{what[1:]} on {member.mark} {member.piece} · {scale_text(scale)}"
    end = "face end of the side" if drawer else "face edge of the upright"
    note = f"0 along is the {end}, 0 up the {zero}."
    return (
        Text(text=head, at=(box.left, box.top + 6.5), height=3.5, weight="bold"),
        Text(text=note, at=(box.left, box.top + 2.4), height=2.5),
        *items,
    )


def _runner_items(member: MemberPlaces, s: float) -> list[Item]:
    x0, x1 = member.start * s, (member.start + member.runner_length) * s
    y0, y1 = (member.line - member.section / 2.0) * s, (member.line + member.section / 2.0) * s
    items: list[Item] = [
        Region(outer=((x0, y0), (x1, y0), (x1, y1), (x0, y1)), fill="metal", pen="outline"),
        Line(start=(x0 - 3.0, member.line * s), end=(x1 + 3.0, member.line * s), pen="centre"),
    ]
    for screw in member.screws:
        items += _screw(screw, s)
    return items


def _screw(screw: RunnerScrew, s: float) -> list[Item]:
    """Return a slot as an open ring with an upright stroke, a round hole as a full dot."""
    at, radius = (screw.along * s, screw.up * s), 1.0
    if screw.kind == "slot":
        return [
            Circle(centre=at, radius=radius, pen="edge", fill="paper"),
            Line(start=(at[0], at[1] - 1.7), end=(at[0], at[1] + 1.7), pen="edge"),
        ]
    return [Circle(centre=at, radius=0.7 * radius, pen="edge", fill="ink")]


def _run_items(member: MemberPlaces, s: float, units: Unit) -> list[Item]:
    end = member.start + member.runner_length
    along = [
        *(((r.along * s, r.up * s), r.along) for r in member.screws),
        ((member.start * s, (member.line - member.section / 2.0) * s), member.start),
        ((end * s, (member.line - member.section / 2.0) * s), end),
    ]
    low = -member.below
    across = running((0.0, low * s), along, axis="x", line_at=low * s - _RUN, units=units, side=-1)
    # Heights are few: the line, every row of screws, the runner's lower and upper side.
    heights = {
        round(v, 3)
        for v in (
            member.line,
            member.line - member.section / 2.0,
            member.line + member.section / 2.0,
            *(r.up for r in member.screws),
        )
        if v > 0.0
    }
    rows = [((member.start * s, v * s), v) for v in sorted(heights)]
    upward = running((0.0, 0.0), rows, axis="y", line_at=-_RUN, units=units, side=-1)
    return [run for run in (across, upward) if run is not None]


# The template ------------------------------------------------------------------------------------


def template_fits(member: MemberPlaces, paper: Paper) -> bool:
    """Return whether a member's drilling template fits one page at full size."""
    end = max((r.along for r in member.screws), default=0.0) + _PAST
    top = max((r.up for r in member.screws), default=0.0) + 25.0
    return _FOOT + end <= paper.height - _HEAD and top <= paper.width - 2.0 * _RIM - 50.0


def runner_template(member: MemberPlaces, *, units: Unit, paper: Paper, title: str) -> Scene:
    """Return the drilling template of a member at full size; along runs up the page.

    Raises:
        OutOfRangeError: If it does not fit the page.
    """
    if not template_fits(member, paper):
        raise OutOfRangeError("along", member.screws[-1].along, "within one page")
    x0, y0 = _RIM + 6.0, _FOOT
    right = x0 + max(r.up for r in member.screws) + 20.0
    top = y0 + max(r.along for r in member.screws) + _PAST
    items: list[Item] = [
        Line(start=(x0, y0), end=(right, y0), pen="visible"),
        Line(start=(x0, y0), end=(x0, top), pen="visible"),
        Line(start=(x0 + member.line, y0), end=(x0 + member.line, top), pen="centre"),
    ]
    for screw in member.screws:
        items += _template_screw(screw, (x0 + screw.up, y0 + screw.along), units)
    items += _template_words(member, paper, (x0, y0), title, units)
    return Scene(
        name=f"template-{title}-{member.member}",
        title=f"Drilling template, {title}, {member.member} member",
        width=paper.width,
        height=paper.height,
        views=(
            View(name="template", items=tuple(items), at=(x0, y0)),
            View(name="check bar", items=check_bar((x0, 7.0))),
        ),
    )


def _template_screw(screw: RunnerScrew, at: tuple[float, float], units: Unit) -> list[Item]:
    x, y = at
    arm = 4.0
    ring = screw.pilot / 2.0 or 1.5
    kind = "1 slot" if screw.kind == "slot" else "2 round"
    words = f"{kind}, {format_length(screw.along, units)}"
    return [
        Line(start=(x - arm, y), end=(x + arm, y), pen="edge"),
        Line(start=(x, y - arm), end=(x, y + arm), pen="edge"),
        Circle(centre=at, radius=ring, pen="edge"),
        *((Circle(centre=at, radius=2.0 * ring, pen="edge"),) if screw.kind == "slot" else ()),
        Text(text=words, at=(x + arm + 8.0, y), height=2.5, rise="middle"),
    ]


def _template_words(
    member: MemberPlaces, paper: Paper, at: tuple[float, float], title: str, units: Unit
) -> list[Item]:
    top = paper.height - 9.0
    drawer = member.member == "drawer"
    left = "lower edge of the drawer's side" if drawer else "carcass floor"
    low = "face end of the drawer's side" if drawer else "face edge of the upright"
    return [
        Text(
            text=f"{title}: drilling template, {member.member} member, full size",
            at=(_RIM, top),
            height=3.5,
            weight="bold",
        ),
        Text(
            text=f"Lay the long line on the {left}, the short one on the {low}; turn it over for "
            "the other hand.",
            at=(_RIM, top - 4.8),
            height=2.5,
        ),
        Text(
            text=f"Screws marked 1 first, then the run test, then those marked 2. In {units}.",
            at=(_RIM, top - 8.8),
            height=2.5,
        ),
        Polyline(points=(at, (at[0] - 3.0, at[1] - 3.0)), pen="dimension"),
        Text(text="datum corner", at=(at[0] - 3.4, at[1] - 3.4), height=2.0, rise="top"),
    ]
