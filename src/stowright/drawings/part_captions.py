"""The words beside a view on an edge: its name, and what is made in that edge."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from stowright.drawings.board import Board, is_round
from stowright.drawings.extent import bounds
from stowright.drawings.figures import LINE_STEP
from stowright.drawings.lettering import text_width, wrapped
from stowright.drawings.part_edges import EdgeView
from stowright.drawings.part_notes import FeatureGroup, NoteBoard, Tip, hole_size
from stowright.drawings.scene import Item, Text
from stowright.drawings.space import Space
from stowright.model.part import Edge, Feature
from stowright.units import Unit, format_length

__all__ = ["edge_names", "put_edge_notes"]

_HEIGHT = 2.5


def edge_names(
    board: Board, views: tuple[EdgeView, ...], space: Space, units: Unit
) -> tuple[list[Item], list[tuple[EdgeView, FeatureGroup]]]:
    """Return the views' names, entered as taken, and the notes that still need a leader.

    An edge with holes of one kind needs none where name and note have room together.
    """
    items: list[Item] = []
    pending: list[tuple[EdgeView, FeatureGroup]] = []
    space.take(view.caption for view in views)
    for view in views:
        groups = _groups(board, view.edge)
        words = _whole_name(view, groups, space, units)
        space.take(words)
        items += words or (view.caption,)
        if not words:
            pending += [(view, group) for group in groups]
    return items, pending


def _whole_name(
    view: EdgeView, groups: tuple[FeatureGroup, ...], space: Space, units: Unit
) -> tuple[Text, ...]:
    """Return name and note in one, where they have room; nothing otherwise."""
    if len(groups) != 1:
        return ()
    for words, new in _together(view, _note(groups[0], units)):
        if space.free(bounds(new)):
            return words
    return ()


def put_edge_notes(
    notes: NoteBoard, pending: list[tuple[EdgeView, FeatureGroup]], units: Unit
) -> None:
    """Place the notes of edges that need a leader."""
    for view, group in pending:
        tips = {id(feature): point for feature, point in view.tips}
        places = [Tip(tips[id(f)], 0.0) for f in (group.features[-1], *group.features)]
        notes.put(_note(group, units), places)


def _together(
    view: EdgeView, note: tuple[str, ...]
) -> Iterator[tuple[tuple[Text, ...], tuple[Text, ...]]]:
    """Yield name and note in one, and what of them is new beside the name itself.

    A line along a level view, lines beside or at the ends of an upright one.
    """
    name = view.caption
    if view.edge in {"v0", "v1"}:
        more = f": {', '.join(note)}"
        end = name.at[0] + text_width(name.text, height=_HEIGHT) + 1.0
        rest = replace(name, text=more, at=(end, name.at[1]))
        yield (replace(name, text=name.text + more),), (rest,)
        return
    lines = (name.text, *note)
    box = bounds(view.items)
    wide = max(text_width(line, height=_HEIGHT) for line in lines)
    step = LINE_STEP * _HEIGHT
    beside = _lines(lines, box.right + 3.0, box.top - _HEIGHT)
    yield beside, beside
    for x in (box.left, box.right - wide, (box.left + box.right - wide) / 2.0):
        over = _lines(lines, x, box.top + 2.5 + (len(lines) - 1) * step)
        yield over, over
        under = _lines(lines, x, box.bottom - 2.5 - _HEIGHT)
        yield under, under


def _lines(lines: tuple[str, ...], x: float, first: float) -> tuple[Text, ...]:
    step = LINE_STEP * _HEIGHT
    return tuple(
        Text(text=line, at=(x, first - k * step), height=_HEIGHT) for k, line in enumerate(lines)
    )


def _groups(board: Board, edge: Edge) -> tuple[FeatureGroup, ...]:
    """Return the features of an edge gathered by size, depth, height and purpose."""
    groups: dict[tuple[object, ...], list[Feature]] = {}
    for f in board.part.features:
        if f.face == edge:
            size = f.size if is_round(f) else f.size[1:]
            groups.setdefault((f.kind, size, f.depth, f.at[1], f.purpose), []).append(f)
    return tuple(FeatureGroup(features=tuple(rows)) for rows in groups.values())


def _note(group: FeatureGroup, units: Unit) -> tuple[str, ...]:
    """Return the note of what is made in an edge."""
    f = group.first
    count = f"{len(group.features)} × " if len(group.features) > 1 else ""
    if is_round(f):
        what = f"{count}{hole_size(f.size[0], units)}"
    else:
        what = f"{count}{f.kind}, {format_length(f.size[1], units)} wide"
    deep = f"{what} × {format_length(f.depth, units)} deep"
    height = f"{format_length(f.at[1], units)} from the back face"
    return (deep, height, *wrapped(f.purpose, width=46.0, height=_HEIGHT))
