"""The runner sheet of a drawer: both members on what they are screwed to, with every screw."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from stowright.drawings.dimensioning import running
from stowright.drawings.extent import Bounds, bounds, moved
from stowright.drawings.runner_places import MemberPlaces, RunnerScrew
from stowright.drawings.runner_template import template_words
from stowright.drawings.scales import ALL_SCALES, scale_text
from stowright.drawings.scene import Circle, Item, Line, Region, Scene, Text, View
from stowright.drawings.sheet_frame import Paper
from stowright.errors import OutOfRangeError
from stowright.units import Unit

__all__ = ["runner_figure"]

_MARGIN = 1.0
_GAP = 7.0
_RUN = 6.0
_NOTE = 2.5
_STEP = 4.2


def runner_figure(
    members: Sequence[MemberPlaces],
    *,
    units: Unit,
    room: tuple[float, float],
    name: str,
    paper: Paper | None = None,
) -> Scene:
    """Return members below each other, with running dimensions to each screw.

    Args:
        members: What ``drawn_members`` gives.
        units: Unit of print.
        room: Width and height it may take. [mm]
        name: File name without its ending.
        paper: What drilling templates are printed on: the sheet says of each member where its
            own is. Nothing is said when None.

    Raises:
        OutOfRangeError: If it does not fit even at 1:100.
    """
    for scale in (s for s in ALL_SCALES if s <= 0.5):
        blocks = [_member_items(member, scale, units, paper) for member in members]
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
                    name=f"{member.member} member{member.hand}",
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


def _member_items(
    member: MemberPlaces, scale: float, units: Unit, paper: Paper | None
) -> tuple[Item, ...]:
    s = scale
    right, top = member.length * s, member.height * s
    side = Bounds(left=0.0, bottom=-member.below * s, right=right, top=top)
    items: list[Item] = [Region(outer=side.corners, fill="wood", pen="visible", about=member.mark)]
    if member.under > 0.0:
        base = Bounds(left=0.0, bottom=-member.under * s, right=right, top=0.0)
        items.append(Region(outer=base.corners, fill="wood-dark", pen="outline"))
    items += _runner_items(member, s)
    items += _run_items(member, s, units)
    return (*_words(member, scale, paper, bounds(items)), *items)


def _words(member: MemberPlaces, scale: float, paper: Paper | None, box: Bounds) -> Iterator[Text]:
    """Yield a member's title, where its zeros are, and where its drilling template is."""
    drawer = member.member == "drawer"
    what = "Drawer member" if drawer else "Cabinet member"
    hand = f"{member.hand}," if member.hand else ""
    end = "face end of the side" if drawer else "face edge of the upright"
    zero = "lower edge of the side" if drawer else member.stands_on
    notes = [f"0 along is the {end}, 0 up the {zero}."]
    if paper is not None:
        notes.append(template_words(member, paper=paper))
    yield Text(
        text=f"{what}{hand} on {member.mark} {member.piece} · {scale_text(scale)}",
        at=(box.left, box.top + 2.4 + _STEP * len(notes)),
        height=3.5,
        weight="bold",
    )
    for k, note in enumerate(reversed(notes)):
        yield Text(text=note, at=(box.left, box.top + 2.4 + _STEP * k), height=_NOTE)


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
