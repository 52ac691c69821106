"""The drawing of one part: as seen from its good face, with everything needed to make it.

Main view with running dimensions from the two datum edges, views on edges that have holes,
sections of grooves and rebates, notes, and for a handed pair the other hand beside it. Where there
is more width than height, what is small stands beside the heading, or both beside the main view.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import product

from stowright.drawings.board import EDGES, Board, edge_name, feature_items, outline_items
from stowright.drawings.extent import moved
from stowright.drawings.lettering import wrapped
from stowright.drawings.overlap import overlaps
from stowright.drawings.part_dimensions import is_shaped
from stowright.drawings.part_sections import profiles, section_items
from stowright.drawings.part_tabs import tab_words
from stowright.drawings.part_view import (
    Bare,
    Block,
    bare_view,
    block,
    datum_ring,
    finished_view,
    removed_views,
)
from stowright.drawings.scales import ALL_SCALES, SCALES, scale_text
from stowright.drawings.scene import Item, Scene, Text, View
from stowright.errors import OutOfRangeError
from stowright.model.part import Part
from stowright.units import Unit, format_length

__all__ = ["other_hand", "part_drawing", "shown_beside"]

_TITLE = 5.0
_NOTE = 2.5
_LINE = 1.7
_GAP = 7.0  # between blocks on the paper
_MARGIN = 0.5
_UPRIGHT = 190.0  # at most the width of an upright sheet's room
_OVER = 14.0  # the least that a heading takes
_COLUMN = 56.0  # of a heading that stands beside the main view
_LARGEST = 0.5  # a part is not drawn larger than 1:2: its sections are at full size


def part_drawing(
    part: Part,
    *,
    units: Unit,
    room: tuple[float, float] = (176.0, 237.0),
    pair: Part | None = None,
    smallest: float = 0.01,
    legible: bool = False,
) -> Scene:
    """Return the drawing of a part, without a frame.

    Args:
        part: The part.
        units: Unit that sizes are printed in.
        room: Width and height that the drawing may take; the default fits a framed A4 sheet. The
            largest recommended scale that fits is used, at most 1:2. [mm]
        pair: The part of the other hand, which is then shown beside it; left out where no
            recommended scale has room for both.
        smallest: The smallest scale to accept: 0.1 is 1:10.
        legible: Whether to refuse what has no arrangement without figures that meet lines.

    Raises:
        OutOfRangeError: If the part does not fit the room at any scale from 1:2 to ``smallest``.
    """
    scene, crowded = _fitting(part, units, room, pair, smallest)
    if scene is None and crowded is None and pair is not None and smallest <= SCALES[-1]:
        scene, crowded = _fitting(part, units, room, None, smallest)
    if not legible:
        scene = scene or crowded
    if scene is None:
        raise OutOfRangeError("part.length", part.length, "small enough for its drawing's room")
    return scene


def _fitting(
    part: Part, units: Unit, room: tuple[float, float], pair: Part | None, smallest: float
) -> tuple[Scene | None, Scene | None]:
    """Return the drawing at the largest scale that fits legibly, and the first that fits if not."""
    inner = (room[0] - 2 * _MARGIN, room[1] - 2 * _MARGIN)
    crowded: Scene | None = None  # the first that fits but is not legible throughout
    for bare, ends_beside in _trials(part, units, inner, smallest):
        for column in (False, True) if _is_wide(room) else (False,):
            for scene in _settings(bare, ends_beside, units, inner, pair, column=column):
                if scene.width > room[0] + 1e-6 or scene.height > room[1] + 1e-6:
                    continue
                if not overlaps(scene):
                    return scene, None
                crowded = crowded or scene
    return None, crowded


def _is_wide(room: tuple[float, float]) -> bool:
    """Return whether a room is that of a sheet on its side, not a strip of an upright one."""
    return room[0] > max(room[1], _UPRIGHT)


def _settings(
    bare: Bare,
    ends_beside: bool,
    units: Unit,
    inner: tuple[float, float],
    pair: Part | None,
    *,
    column: bool,
) -> Iterator[Scene]:
    """Yield a main view with its heading and small blocks, sections the largest first."""
    room = (inner[0] - _COLUMN - _GAP, inner[1]) if column else inner
    if bare.box.width > room[0]:
        return
    main = finished_view(bare, units, room)
    for section_scale in (1.0, 0.5):
        small = [] if ends_beside else removed_views(bare.board, units, room)
        small += _section_blocks(bare.board, units, section_scale)
        yield _composed(bare.board, main, small, units, inner, pair, column=column)


def other_hand(part: Part, parts: Iterable[Part]) -> Part | None:
    """Return the part that is this one's mirror image, or None when there is none.

    The two share every size and feature and differ in hand alone.
    """
    for other in parts:
        if {part.hand, other.hand} == {"left", "right"} and _shape(part) == _shape(other):
            return other
    return None


def shown_beside(part: Part, parts: Iterable[Part]) -> Part | None:
    """Return the other hand that is shown beside a part's drawing; None when there is none.

    A pair is drawn with its left one. A mirror image is taken first; else the one of the other hand
    with the same sizes in the same place, whose holes may differ.
    """
    if part.hand != "left":
        return None
    every = tuple(parts)
    mirror = other_hand(part, every)
    if mirror is not None:
        return mirror
    alike = (
        p
        for p in every
        if p.hand == "right"
        and (p.role, p.block, p.module, p.material)
        == (part.role, part.block, part.module, part.material)
        and _sizes(p) == _sizes(part)
    )
    return next(alike, None)


def _sizes(part: Part) -> tuple[object, ...]:
    return (part.length, part.width, part.thickness, part.outline)


def _shape(part: Part) -> tuple[object, ...]:
    size = _sizes(part)
    features = tuple(sorted(part.features, key=lambda f: (f.face, f.kind, f.at, f.size)))
    made = tuple((f.face, f.kind, f.at, f.size, f.depth, f.through) for f in features)
    return (part.role, part.material, part.release, size, made)


def _trials(
    part: Part, units: Unit, room: tuple[float, float], smallest: float
) -> Iterator[tuple[Bare, bool]]:
    """Yield main views that are narrow enough, largest scale and fullest arrangement first."""
    over = 0.0 if _is_wide(room) else _OVER  # a heading may stand beside the view
    for scale in (s for s in ALL_SCALES if smallest <= s <= _LARGEST):
        if part.length * scale > room[0] - 8.0 or part.width * scale > room[1] - 30.0:
            continue
        board = Board(part=part, scale=scale)
        for ends_beside, both_sides in product((True, False), (True, False)):
            bare = bare_view(board, units, both_sides=both_sides, ends_beside=ends_beside)
            if bare.box.width <= room[0] and bare.box.height <= room[1] - over:
                yield bare, ends_beside
                break  # a simpler arrangement at this scale is no lower


def _composed(
    board: Board,
    main: Block,
    small: list[Block],
    units: Unit,
    room: tuple[float, float],
    pair: Part | None,
    *,
    column: bool,
) -> Scene:
    """Set heading, main view and small blocks one below the other, or in two columns."""
    part = board.part
    blocks = [*small, *([_pair_block(pair, board.scale, part)] if pair is not None else [])]
    heading = _heading_block(part, board.scale, units, _COLUMN if column else room[0], pair)
    top = [heading, *blocks]
    if column:
        views, size = _side_by_side([[one] for one in top], [[main]])
    elif _is_wide(room) and _row_width(top) <= room[0]:
        views, size = _stacked([top, [main]])
    else:
        views, size = _stacked([[heading], [main], *_rows(blocks, room[0])])
    return Scene(
        name=f"part-{part.mark}",
        title=f"{part.mark} {part.name}",
        width=size[0],
        height=size[1],
        views=views,
        scale=board.scale,
    )


# Packing -----------------------------------------------------------------------------------------


def _row_width(row: list[Block]) -> float:
    return sum(b.box.width for b in row) + _GAP * max(len(row) - 1, 0)


def _rows(blocks: list[Block], width: float) -> list[list[Block]]:
    """Return small blocks in rows, as many side by side as fit."""
    rows: list[list[Block]] = []
    for one in blocks:
        if rows and _row_width([*rows[-1], one]) <= width:
            rows[-1].append(one)
        else:
            rows.append([one])
    return rows


def _stacked(rows: list[list[Block]]) -> tuple[tuple[View, ...], tuple[float, float]]:
    """Return the blocks set in rows from the top down, and the size of the whole."""
    heights = [max(b.box.height for b in row) for row in rows]
    height = sum(heights) + _GAP * (len(rows) - 1) + 2 * _MARGIN
    width = max(_row_width(row) for row in rows) + 2 * _MARGIN
    views = []
    top = height - _MARGIN
    for row, tall in zip(rows, heights, strict=True):
        left = _MARGIN
        for one in row:
            x, y = left - one.box.left, top - one.box.top
            items = moved(one.items, x=x, y=y)
            views.append(
                View(name=one.name, items=items, scale=one.scale, at=(x, y), mirrored=one.mirrored)
            )
            left += one.box.width + _GAP
        top -= tall + _GAP
    return tuple(views), (width, height)


def _side_by_side(
    left: list[list[Block]], right: list[list[Block]]
) -> tuple[tuple[View, ...], tuple[float, float]]:
    """Return two columns of blocks, level at the top, and the size of the whole."""
    (views, size), (beside, other) = _stacked(left), _stacked(right)
    height, shift = max(size[1], other[1]), size[0] + _GAP - 2 * _MARGIN
    placed = [
        *(_shifted(view, 0.0, height - size[1]) for view in views),
        *(_shifted(view, shift, height - other[1]) for view in beside),
    ]
    return tuple(placed), (shift + other[0], height)


def _shifted(view: View, x: float, y: float) -> View:
    at = (view.at[0] + x, view.at[1] + y)
    return replace(view, items=moved(view.items, x=x, y=y), at=at)


# Heading -----------------------------------------------------------------------------------------


def _heading_block(part: Part, scale: float, units: Unit, width: float, pair: Part | None) -> Block:
    title = Text(
        text=f"{part.mark} · {part.name}", at=(0.0, 0.0), height=_TITLE, weight="bold", rise="top"
    )
    items: list[Item] = [title]
    y = -_TITLE - 4.0
    for words, urgent in _heading_words(part, scale, units, pair):
        for line in wrapped(
            words, width=width, height=_NOTE, weight="bold" if urgent else "regular"
        ):
            items.append(
                Text(
                    text=line,
                    at=(0.0, y),
                    height=_NOTE,
                    rise="top",
                    weight="bold" if urgent else "regular",
                    pen="warning" if urgent else "lettering",
                )
            )
            y -= _NOTE * _LINE
    return block("heading", tuple(items))


def _heading_words(
    part: Part, scale: float, units: Unit, pair: Part | None
) -> list[tuple[str, bool]]:
    size = " × ".join(format_length(s, units) for s in (part.length, part.width, part.thickness))
    grain = "grain along the length" if part.grain == "long" else "grain either way"
    sheet = f"{part.quantity} off · {part.material} · {size} {units}"
    words = [
        (f"{sheet} · {grain} · scale {scale_text(scale)}", False),
        (_stands_for(part), False),
    ]
    if part.release == "B":
        words.insert(0, (f"RELEASE B: cut after reading {part.waits_for}.", True))
    if pair is not None:
        mirror = _shape(pair) == _shape(part)
        more = "its mirror image" if mirror else "its other hand; holes differ, see its own drawing"
        words.append((f"A pair: {pair.mark} {pair.name} is {more}.", False))
    if is_shaped(part):
        more = "its distance from the lower edge, at the length in line with it"
        words.append((f"Each figure along the shaped edge: {more}.", False))
    words += [(text, False) for text in tab_words(part, units)]
    if part.edges:
        names = ", ".join(edge_name(part, edge) for edge in EDGES if edge in part.edges)
        words.append((f"Seal where the chain line runs: {names}.", False))
    return words


def _stands_for(part: Part) -> str:
    origin = f": {part.origin_note}" if part.origin_note else ""
    hand = ", the length running to the left" if part.mirrored else ""
    return f"Seen from the good face{hand}. All sizes from 0{origin}."


# Sections and the other hand ---------------------------------------------------------------------


def _section_blocks(board: Board, units: Unit, scale: float) -> list[Block]:
    blocks = []
    for profile in profiles(board):
        items = section_items(profile, board, units, scale=scale)
        blocks.append(block(f"section {profile.letter}", items, scale=scale))
    return blocks


def _pair_block(pair: Part, scale: float, of: Part) -> Block:
    """Return the other hand, small and without dimensions."""
    smaller = next((s for s in SCALES if s < scale), scale)
    board = Board(part=pair, scale=smaller)
    items: list[Item] = [
        *(item for f in pair.features for item in feature_items(board, f)),
        *outline_items(board),
        datum_ring(board),
    ]
    words = f"{pair.mark} · {pair.name}: the other hand of {of.mark}"
    if _shape(pair) == _shape(of):
        words = f"{pair.mark} · {pair.name}: mirror image of {of.mark}, all sizes as {of.mark}"
    items.append(Text(text=words, at=(board.left, -4.0), height=_NOTE, rise="top"))
    scale_words = f"scale {scale_text(smaller)}"
    items.append(Text(text=scale_words, at=(board.left, -8.2), height=_NOTE, rise="top"))
    return block("other hand", tuple(items), scale=smaller, mirrored=pair.mirrored)
