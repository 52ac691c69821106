"""From pieces to parts: equal pieces of a block become copies of one part with a short mark."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from functools import lru_cache
from operator import attrgetter

from stowright.design.pieces import Piece, mass_kg_of, rectangle
from stowright.design.tab_shapes import reaches
from stowright.model.geometry import Axes3, Point2
from stowright.model.part import Feature, Part, PlacedPart
from stowright.model.part_area import Shape, shape_volume_mm3

__all__ = ["mark_pieces"]

#: Marks of what belongs to no block; blocks take the other letters in order.
_OWN_LETTERS = {
    "packer": "P",
    "side-packing": "P",
    "floor-bearer": "P",
    "wing": "W",
    "wing-lid": "W",
    "wing-cleat": "W",
    "wing-leg": "W",
    "infill": "W",
    "deck": "T",
    "joint-strip": "T",
    "bearer": "T",
    "divider": "V",
}
_BLOCK_LETTERS = "ABCDEFGHJKLMNQRSUXYZ"
#: What two features share that are the same but for the fixing they serve.
_anonymous = attrgetter(
    "kind", "face", "at", "size", "depth", "through", "radius", "purpose", "starts"
)


def mark_pieces(
    pieces: Iterable[Piece],
    blocks: tuple[str, ...],
    *,
    density: Callable[[str], float],
    known: Mapping[str, str] | None = None,
) -> tuple[tuple[Part, ...], tuple[PlacedPart, ...]]:
    """Return the parts with their marks, and where each copy stands.

    Args:
        pieces: All pieces, features included.
        blocks: Block names in order: they give the letters.
        density: Mean density of a material. [kg/m3]
        known: Marks that pieces had before, by id: they keep them, so that what is written on a
            part stays true. Of copies that are no longer alike the first keep the mark.
    """
    groups: dict[tuple[object, ...], list[Piece]] = {}
    letters, cuts = _letters(blocks), _Cuts()
    for piece in pieces:
        before = known.get(piece.id, "") if known else ""
        same = _sameness(piece, _letter(piece, letters), cuts.of(piece.features))
        groups.setdefault((before, *same), []).append(piece)
    counters: dict[str, int] = {}
    taken = set(known.values()) if known else set[str]()
    used: set[str] = set()
    parts: list[Part] = []
    placed: list[PlacedPart] = []
    for members in groups.values():
        before = known.get(members[0].id, "") if known else ""
        mark = before and _free(before, used)
        while not mark or (not before and mark in taken):
            letter = _letter(members[0], letters)
            counters[letter] = counters.get(letter, 0) + 1
            mark = f"{letter}{counters[letter]}"
        used.add(mark)
        part = _part(members, mark, density)
        parts.append(part)
        placed.extend(_placed(piece, part.mark, n) for n, piece in enumerate(members, start=1))
    return tuple(parts), tuple(placed)


def _free(mark: str, used: set[str]) -> str:
    """Return a mark, or it with a letter behind it where other copies kept it."""
    tails = ("", *"bcdefghijklmnopqrstuvwxyz")
    return next((mark + tail for tail in tails if mark + tail not in used), f"{mark}-{len(used)}")


def _letters(blocks: tuple[str, ...]) -> dict[str, str]:
    """Return the letter of each block; that of what stands in no block is under the empty name."""
    found: dict[str, str] = {}
    for index, name in enumerate((*blocks, "")):
        letter = _BLOCK_LETTERS[index % len(_BLOCK_LETTERS)]
        found.setdefault(name, letter * (1 + index // len(_BLOCK_LETTERS)))
    return found


def _letter(piece: Piece, letters: Mapping[str, str]) -> str:
    return _OWN_LETTERS.get(piece.role) or letters.get(piece.block, letters[""])


class _Cuts:
    """Numbers for what is cut into pieces: the same number for the same, fixings apart."""

    def __init__(self) -> None:
        self.seen: dict[int, tuple[tuple[Feature, ...], int]] = {}
        self.numbers: dict[tuple[object, ...], int] = {}

    def of(self, features: tuple[Feature, ...]) -> int:
        """Return the number of what is cut into a piece; pieces often hold one and the same."""
        if not features:
            return -1
        seen = self.seen.get(id(features))
        if seen is None:
            key = tuple(sorted(map(_anonymous, features)))
            seen = (features, self.numbers.setdefault(key, len(self.numbers)))
            self.seen[id(features)] = seen  # it keeps them, and so their id
        return seen[1]


def _sameness(piece: Piece, letter: str, cuts: int) -> tuple[object, ...]:
    """What two pieces must share to be copies of one part.

    What waits for a reading of one opening is cut to that opening, so it is never a copy of what
    waits for another.
    """
    return (
        letter,
        piece.role,
        piece.material,
        piece.length,
        piece.width,
        piece.thickness,
        _shape(piece),
        piece.grain,
        piece.hand,
        _mirrored(piece.axes),
        piece.release,
        piece.waits_for,
        piece.edges,
        piece.front_edge,
        piece.tabs,
        piece.reliefs,
        cuts,
    )


def _shape(piece: Piece) -> tuple[Point2, ...]:
    """Return the contour of a piece, nothing for the plain rectangle of its length and width."""
    outline = piece.outline
    if not outline or outline == rectangle(length=piece.length, width=piece.width):
        return ()
    return outline


@lru_cache(maxsize=64)
def _mirrored(axes: Axes3) -> bool:
    (a, b, c), (d, e, f), (g, h, i) = axes
    return a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g) < 0.0


def _part(members: list[Piece], mark: str, density: Callable[[str], float]) -> Part:
    first = members[0]
    modules = {piece.module for piece in members}
    mass = mass_kg_of(volume_mm3=_volume_mm3(first), density_kg_m3=density(first.material))
    return Part(
        mark=mark,
        name=first.name,
        role=first.role,
        block=first.block,
        module=first.module if len(modules) == 1 else "",
        material=first.material,
        length=first.length,
        width=first.width,
        thickness=first.thickness,
        outline=first.contour,
        quantity=len(members),
        grain=first.grain,
        hand=first.hand,
        mirrored=_mirrored(first.axes),
        release=first.release,
        waits_for=first.waits_for,
        edges=first.edges,
        front_edge=first.front_edge,
        features=first.features,
        mass_kg=round(mass, 6),
        origin_note=first.origin_note,
        tabs=first.tabs,
        reliefs=first.reliefs,
    )


def _volume_mm3(piece: Piece) -> float:
    if not (piece.outline or piece.features or piece.reliefs):
        return piece.length * piece.width * piece.thickness
    return shape_volume_mm3(
        Shape(
            outline=piece.contour,
            length=piece.length,
            width=piece.width,
            thickness=piece.thickness,
            features=piece.features,
            reliefs=piece.reliefs,
        )
    )


def _placed(piece: Piece, mark: str, copy: int) -> PlacedPart:
    return PlacedPart(
        id=piece.id,
        mark=mark,
        copy=copy,
        body=piece.body,
        block=piece.block,
        module=piece.module,
        opening=piece.opening,
        role=piece.role,
        origin=piece.origin,
        axes=piece.axes,
        length=piece.length,
        width=piece.width,
        thickness=piece.thickness,
        shoulders=reaches(piece.tabs),
    )
