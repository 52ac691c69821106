"""The words beside a view on an edge: its name, and what is made in that edge."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from stowright.drawings.board import Board, is_round
from stowright.drawings.extent import bounds
from stowright.drawings.figures import LINE_STEP
from stowright.drawings.lettering import text_width, wrapped
from stowright.drawings.part_edges import EdgeView
from stowright.drawings.part_notes import FeatureGroup, Tip, hole_size, led_note
from stowright.drawings.scene import Item, Text
from stowright.drawings.space import Space
from stowright.model.part import Edge, Feature
from stowright.units import Unit, format_length

__all__ = ["edge_words"]

_HEIGHT = 2.5


def edge_words(board: Board, view: EdgeView, space: Space, units: Unit) -> tuple[Item, ...]:
    """Return a view's name and notes, placed where they touch nothing and entered as taken.

    An edge with holes of one kind needs no leader: name and note stand together.
    """
    groups = _groups(board, view.edge)
    if len(groups) == 1:
        for words in _together(view, _note(groups[0], units)):
            if space.free(bounds(words)):
                space.take(words)
                return words
    space.take((view.caption,))
    tips = {id(feature): point for feature, point in view.tips}
    items: list[Item] = [view.caption]
    for group in groups:
        places = [Tip(tips[id(f)], 0.0) for f in (group.features[-1], *group.features)]
        note = led_note(_note(group, units), places, space)
        space.take((note,))
        items.append(note)
    return tuple(items)


def _together(view: EdgeView, note: tuple[str, ...]) -> Iterator[tuple[Text, ...]]:
    """Yield name and note in one: a line along a level view, lines at an upright one's ends."""
    name = view.caption
    if view.edge in {"v0", "v1"}:
        yield (replace(name, text=f"{name.text}: {', '.join(note)}"),)
        return
    lines = (name.text, *note)
    box = bounds(view.items)
    wide = max(text_width(line, height=_HEIGHT) for line in lines)
    step = LINE_STEP * _HEIGHT
    yield _lines(lines, box.right + 3.0, box.top - _HEIGHT)
    for x in (box.left, box.right - wide, (box.left + box.right - wide) / 2.0):
        yield _lines(lines, x, box.top + 2.5 + (len(lines) - 1) * step)
        yield _lines(lines, x, box.bottom - 2.5 - _HEIGHT)


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
