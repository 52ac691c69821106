"""The main view of a part drawing, with everything that stands on it and round it."""

from __future__ import annotations

from dataclasses import dataclass

from stowright.drawings.board import EDGES, Board, feature_items, on_face, outline_items
from stowright.drawings.extent import Bounds, bounds, moved
from stowright.drawings.lettering import text_width, wrapped
from stowright.drawings.part_captions import edge_names, put_edge_notes
from stowright.drawings.part_dimensions import is_shaped, part_dimensions, shows_in_section
from stowright.drawings.part_edges import EdgeView, edge_view, edges_with_features
from stowright.drawings.part_notes import NoteBoard, Tip, feature_groups
from stowright.drawings.part_sections import cutting_planes, profiles
from stowright.drawings.scene import Arrow, Circle, Item, Polyline, Text
from stowright.drawings.space import Space
from stowright.model.geometry import Point2
from stowright.model.part import Edge, Part
from stowright.units import Unit

__all__ = ["Bare", "Block", "bare_view", "block", "datum_ring", "finished_view", "removed_views"]

_NOTE = 2.5
_OVER = 48.0  # room for notes above and below the main view
_BESIDE = 40.0  # most room at the left of it
_SEAL_OFF = 1.1


@dataclass(frozen=True, slots=True)
class Block:
    """Items that stay together on the sheet, and the scale of their view."""

    name: str
    items: tuple[Item, ...]
    box: Bounds
    scale: float = 1.0
    mirrored: bool = False


def block(
    name: str, items: tuple[Item, ...], *, scale: float = 1.0, mirrored: bool = False
) -> Block:
    """Return items as a block."""
    return Block(name, items, bounds(items), scale, mirrored)


@dataclass(frozen=True, slots=True, kw_only=True)
class Bare:
    """A main view with its dimensions, before anything is placed where there is room."""

    board: Board
    items: tuple[Item, ...]
    edges: tuple[EdgeView, ...]
    box: Bounds


def bare_view(board: Board, units: Unit, *, both_sides: bool, ends_beside: bool) -> Bare:
    """Return the outline, features, dimensions and edge views of a part.

    Args:
        board: The part as it lies.
        units: Unit of print.
        both_sides: Heights are dimensioned on both sides of the view.
        ends_beside: Views on the two ends stand beside the main view; else they are drawn by
            ``removed_views``.
    """
    dims = part_dimensions(board, units, both_sides=both_sides)
    starts: dict[Edge, float] = {
        "u0": dims.datum_side,
        "u1": dims.far_side,
        "v0": dims.below,
        "v1": dims.above,
    }
    edges = tuple(
        edge_view(board, edge, start=starts[edge], units=units)
        for edge in edges_with_features(board)
        if ends_beside or edge in {"v0", "v1"}
    )
    items = (
        *(item for f in board.part.features for item in feature_items(board, f)),
        *outline_items(board),
        *_sealed(board),
        *dims.items,
        *(item for view in edges for item in view.items),
        datum_ring(board),
    )
    named = (*items, *(view.caption for view in edges))
    return Bare(board=board, items=items, edges=edges, box=bounds(named))


def finished_view(bare: Bare, units: Unit, room: tuple[float, float]) -> Block:
    """Return the main view with grain, front edge, cutting planes and notes in place."""
    board = bare.board
    space = Space(_note_room(bare.box, room))
    space.take(bare.items)
    notes = NoteBoard(space)
    placed, pending = edge_names(board, bare.edges, space, units)
    for profile in profiles(board):
        placed += cutting_planes(profile, board, space)
    placed += _grain(board, space)
    placed += _front_edge(board, space, notes)
    faces = tuple(f for f in board.part.features if on_face(f) and not shows_in_section(f, board))
    put_edge_notes(notes, pending, units)
    notes.put_groups(board, feature_groups(faces), units)
    items = (*bare.items, *placed, *notes.placed)
    return block(
        "good face",
        (*items, *_listed(notes, items)),
        scale=board.scale,
        mirrored=board.part.mirrored,
    )


def _listed(notes: NoteBoard, items: tuple[Item, ...]) -> list[Text]:
    """Return the words of lettered notes, set below everything else."""
    box = bounds(items)
    wide = max(box.width, 120.0)
    lines = [line for words in notes.listed for line in wrapped(words, width=wide, height=_NOTE)]
    return [
        Text(text=line, at=(box.left, box.bottom - 4.0 - 4.3 * k), height=_NOTE, rise="top")
        for k, line in enumerate(lines)
    ]


def _note_room(box: Bounds, room: tuple[float, float]) -> Bounds:
    """Return where notes may stand: over and under the view too, as wide as the paper allows."""
    spare = max(room[0] - box.width, 0.0)
    left = min(0.5 * spare, _BESIDE)
    return Bounds(
        left=box.left - left,
        bottom=box.bottom - _OVER,
        right=box.right + spare - left,
        top=box.top + _OVER,
    )


def removed_views(board: Board, units: Unit, room: tuple[float, float]) -> list[Block]:
    """Return the views on the two ends as blocks of their own, for a sheet too narrow for them."""
    blocks = []
    for edge in edges_with_features(board):
        if edge in {"u0", "u1"}:
            view = edge_view(board, edge, start=0.0, units=units)
            box = bounds(view.items)
            right, top = box.left + room[0], box.top + _OVER
            space = Space(Bounds(left=box.left - 6.0, bottom=box.bottom, right=right, top=top))
            space.take(view.items)
            notes = NoteBoard(space)
            names, pending = edge_names(board, (view,), space, units)
            put_edge_notes(notes, pending, units)
            items = (*view.items, *names, *notes.placed)
            items = (*items, *_listed(notes, items))
            blocks.append(block(f"view on {edge}", items, scale=board.scale))
    return blocks


# What stands on the view -------------------------------------------------------------------------


def datum_ring(board: Board) -> Item:
    """Return the dot at the part's origin."""
    return Circle(centre=board.at(0.0, 0.0), radius=0.8, pen="dimension", fill="ink")


def _sealed(board: Board) -> list[Item]:
    """Return wide chain lines beside the edges to seal (ISO 128-2: surface treatment)."""
    part = board.part
    shifts: dict[Edge, Point2] = {
        "u0": (-_SEAL_OFF * board.away, 0.0),
        "u1": (_SEAL_OFF * board.away, 0.0),
        "v0": (0.0, -_SEAL_OFF),
        "v1": (0.0, _SEAL_OFF),
    }
    items: list[Item] = []
    for edge in EDGES:
        if edge in part.edges:
            points = tuple(board.at(u, v) for u, v in _edge_run(part, edge))
            dx, dy = shifts[edge]
            items += moved((Polyline(points=points, pen="treated"),), x=dx, y=dy)
    return items


def _edge_run(part: Part, edge: Edge) -> list[Point2]:
    """Return the points of the outline along an edge: a shaped far edge with all its corners."""
    length, width = part.length, part.width
    plain: dict[Edge, list[Point2]] = {
        "u0": [(0.0, 0.0), (0.0, width)],
        "u1": [(length, 0.0), (length, width)],
        "v0": [(0.0, 0.0), (length, 0.0)],
        "v1": [(0.0, width), (length, width)],
    }
    if edge != "v1" or not is_shaped(part):
        return plain[edge]
    highest: dict[float, float] = {}
    for u, v in part.outline:
        highest[u] = max(v, highest.get(u, 0.0))
    return sorted(highest.items())


def _grain(board: Board, space: Space) -> tuple[Item, ...]:
    """Return the grain arrow with its word, somewhere free on the part or just off it."""
    if board.part.grain != "long":
        return ()
    width = board.right - board.left
    longest = min(24.0, 0.4 * width)
    for reach in (longest, min(12.0, longest)):
        for x, y in _grain_places(board, width):
            items = _grain_items((x, y), reach)
            half = max(reach, text_width("grain", height=_NOTE)) / 2.0
            box = Bounds(left=x - half, bottom=y - 0.8, right=x + half, top=y + 4.4)
            if space.free(box):
                space.take(items)
                return items
    return ()  # the heading says it in words


def _grain_places(board: Board, width: float) -> list[Point2]:
    ups = (0.5, 0.62, 0.38, 0.74, 0.26, 0.85, 0.15)
    acrosses = (0.5, 0.35, 0.65, 0.25, 0.75, 0.18, 0.82)
    inside = [(board.left + a * width, u * board.top) for u in ups for a in acrosses]
    over = [(board.left + a * width, board.top + up) for up in (9.0, 16.0) for a in acrosses]
    return inside + over


def _grain_items(at: Point2, reach: float) -> tuple[Item, ...]:
    x, y = at
    return (
        Arrow(tail=(x - reach / 2.0, y), tip=(x + reach / 2.0, y), style="double", pen="grain"),
        Text(text="grain", at=(x, y + 1.2), height=_NOTE, anchor="middle", pen="grain"),
    )


def _front_edge(board: Board, space: Space, notes: NoteBoard) -> tuple[Item, ...]:
    """Return the words ``front edge`` along that edge, or led to it where there is no room."""
    edge = board.part.front_edge
    if not edge:
        return ()
    size = board.top if edge in {"u0", "u1"} else board.right - board.left
    for inset in (2.0, 5.0, 8.0, -4.5, -7.0):
        for share in (0.5, 0.3, 0.7, 0.2, 0.8, 0.12, 0.88):
            text = _edge_text(board, edge, share * size, inset)
            if space.free(bounds((text,))):
                space.take((text,))
                return (text,)
    u, v = {"u0": (0.0, 0.5), "u1": (1.0, 0.5), "v0": (0.5, 0.0), "v1": (0.5, 1.0)}[edge]
    tip = Tip(board.at(u * board.part.length, v * board.part.width), 0.0)
    notes.put(("front edge",), [tip])
    return ()


def _edge_text(board: Board, edge: Edge, along: float, inset: float) -> Text:
    on_left = (edge == "u0") == (board.away > 0)
    half = _NOTE / 2.0
    match edge:
        case "v0":
            at, turn = (board.left + along, inset + half), 0.0
        case "v1":
            at, turn = (board.left + along, board.top - inset - half), 0.0
        case _:
            x = board.left + inset + half if on_left else board.right - inset - half
            at, turn = (x, along), 90.0
    return Text(
        text="front edge",
        at=at,
        height=_NOTE,
        anchor="middle",
        rise="middle",
        turn=turn,
        weight="italic",
    )
