"""What a job holds once its gaps are filled: blocks, columns and fills, each with a name."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from stowright.jobfile.check_bay import floor_width_at, whole_width
from stowright.jobfile.shape_bay import BayShape
from stowright.jobfile.shape_blocks import BlockShape, ColumnShape, FillShape
from stowright.jobfile.shape_job import JobFile

__all__ = [
    "DEFAULT_BLOCK",
    "Names",
    "blocks_of",
    "columns_of",
    "deck_names",
    "names_of",
    "stack_of",
]

#: The block that is planned when the job has none.
DEFAULT_BLOCK = "drawers"
#: Above this clear width one drawer would be too wide to run well (common practice). [mm]
_ONE_COLUMN = 800.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Names:
    """The name of every block, and of every opening by block, column and place in the stack."""

    blocks: tuple[str, ...]
    openings: tuple[tuple[tuple[str, ...], ...], ...]

    @property
    def all_openings(self) -> tuple[str, ...]:
        """Every opening's name in file order."""
        return tuple(name for block in self.openings for column in block for name in column)


def blocks_of(job: JobFile) -> Sequence[BlockShape]:
    """Return the blocks of a job; a job without any gets one."""
    return job.block or [BlockShape()]


def columns_of(job: JobFile, block: BlockShape) -> Sequence[ColumnShape]:
    """Return the columns of a block: where none is given, two over 800 mm of width, else one."""
    if block.columns:
        return block.columns
    room = _room_across(job.bay, block) if job.bay else None
    return [ColumnShape()] * (2 if room is None or room > _ONE_COLUMN else 1)


def stack_of(column: ColumnShape) -> Sequence[FillShape]:
    """Return the fills of a column; an empty one gets a drawer."""
    return column.stack or [FillShape()]


def names_of(job: JobFile) -> Names:
    """Name everything; what has no name is named by its kind and numbered through the job.

    A name that is given somewhere is never made up elsewhere.
    """
    blocks = blocks_of(job)
    maker = _Maker({block.name for block in blocks if block.name})
    only = len(blocks) == 1
    block_names = tuple(
        block.name or (DEFAULT_BLOCK if only else maker.next("block")) for block in blocks
    )
    stacks = [[stack_of(column) for column in columns_of(job, block)] for block in blocks]
    fills = (fill for block in stacks for stack in block for fill in stack)
    maker = _Maker({fill.name for fill in fills if fill.name})
    openings = tuple(
        tuple(
            tuple(fill.name or maker.next(fill.fill or "drawer") for fill in stack)
            for stack in block
        )
        for block in stacks
    )
    return Names(blocks=block_names, openings=openings)


def deck_names(job: JobFile) -> tuple[str, ...]:
    """Return the names that the job's decks answer to: ``deck``, ``deck 2``, … where none is given.

    A job with neither block nor deck gets one deck under its rail.
    """
    shapes = job.deck or ()
    if not shapes and not job.block and job.bay is not None and job.bay.rail is not None:
        return ("deck",)
    given = {shape.name for shape in shapes if shape.name}
    usual = ("deck", *(f"deck {number}" for number in range(2, len(shapes) + len(given) + 2)))
    free = iter([name for name in usual if name not in given])
    return tuple(shape.name or next(free) for shape in shapes)


class _Maker:
    """Numbers names of a kind, past those that are taken."""

    def __init__(self, taken: set[str]) -> None:
        self._taken = taken
        self._counts: dict[str, int] = {}

    def next(self, kind: str) -> str:
        while True:
            self._counts[kind] = self._counts.get(kind, 0) + 1
            name = f"{kind} {self._counts[kind]}"
            if name not in self._taken:
                return name


def _room_across(bay: BayShape, block: BlockShape) -> float | None:
    """Return the least clear room across a block's face, as far as the readings tell. [mm]."""
    given = block.place or BlockShape().place
    if block.face in ("left", "right"):
        span = block.x or (given.x if given else None)
        doors = [
            d.x[1] - d.x[0] if d.x else d.width for d in bay.opening or () if d.face == block.face
        ]
        return span[1] - span[0] if span else next((d for d in doors if d), bay.length)
    span = block.y or (given.y if given else None)
    if span:
        return span[1] - span[0]
    rooms = [bay.width, *(each.width for each in bay.between or ())]
    rooms += [whole_width(each) for each in bay.widths or ()]
    if not bay.between:
        rooms += [_beside(bay, arch.start) for arch in bay.arches or ()]
    return min((room for room in rooms if room is not None), default=None)


def _beside(bay: BayShape, x: float | None) -> float | None:
    """Return the width left between the arches at a station. [mm]."""
    width = floor_width_at(bay, x or 0.0)
    taken = sum(
        arch.reach or 0.0
        for arch in bay.arches or ()
        if x is not None and (arch.start or 0.0) <= x <= (arch.end or 0.0)
    )
    return None if width is None else width - taken
