"""Complete rows into model values."""

from __future__ import annotations

from functools import cache
from typing import Any, Final, Literal, cast

from stowright.catalogue.overlay import NOT_TECHNICAL, Shelf
from stowright.catalogue.rows import Notes, Row
from stowright.catalogue.tables import HOLE_PATTERN, ORIGIN, SIDE_SPACE, SIZE, STANDINGS, TABLES
from stowright.model.catalogue import (
    Catalogue,
    Origin,
    RunnerHole,
    RunnerSize,
    SideSpace,
    Standing,
)

__all__ = ["build_catalogue", "hole_pattern", "is_complete"]

_RUNNER_PARTS: Final = ("side_space", "sizes", "holes")
#: A station nearer than this to the last one is left out. [steps]
_CROWDED: Final = 0.5


def is_complete(row: Row, notes: Notes) -> bool:
    """Note every needed column that a row lacks; true when it lacks none."""
    before = len(notes.mistakes)
    needed = {**row.table.needed, **ORIGIN}
    for column, cell in needed.items():
        if column not in row.cells:
            notes.add(f"{row.path}.{column}", "nothing", cell.allowed)
    if row.table.key == "runners":
        _note_runner_gaps(row, notes)
    return len(notes.mistakes) == before


def _note_runner_gaps(row: Row, notes: Notes) -> None:
    parts = {part: row.cells.get(part, {}) for part in _RUNNER_PARTS}
    wanted: list[tuple[str, dict[str, Any], tuple[str, ...]]] = [
        ("side_space", parts["side_space"], tuple(SIDE_SPACE))
    ]
    for member in ("cabinet", "drawer"):
        pattern = parts["holes"].get(member, {})
        wanted.append((f"holes.{member}", pattern, tuple(HOLE_PATTERN)))
    wanted.extend(
        (f"sizes ({length:g})", size, tuple(SIZE.needed)) for length, size in parts["sizes"].items()
    )
    if not parts["sizes"]:
        notes.add(f"{row.path}.sizes", "nothing", f"lists of {', '.join(SIZE.needed)}")
    for where, have, keys in wanted:
        for key in keys:
            if key not in have:
                notes.add(f"{row.path}.{where}.{key}", "nothing", "a number above 0")


def build_catalogue(shelf: Shelf) -> Catalogue:
    """Return the catalogue of a shelf of complete rows, in the shelf's order."""
    tables = {
        table.key: tuple(_value(row) for row in shelf.get(table.key, {}).values())
        for table in TABLES
    }
    return Catalogue(**tables)


def _value(row: Row) -> Any:
    values = {column: row.cells[column] for column in row.table.needed}
    for column, (_, default) in row.table.optional.items():
        values[column] = row.cells.get(column, default)
    if row.table.key == "runners":
        values |= _runner_parts(row)
    origins = tuple(
        (column, _origin(source, standing)) for column, (source, standing) in row.origins.items()
    )
    return row.table.value(**values, origin=_row_origin(row), origins=origins)


@cache
def _origin(source: str, standing: str) -> Origin:
    return Origin(source=source, standing=cast("Standing", standing))


def _row_origin(row: Row) -> Origin:
    """Return the row's origin: its own, which is that of its weakest value.

    Where a shop has laid cells over it the weakest of both counts and both sources are named; the
    standing below stops counting once every technical cell has an origin of its own.
    """
    own = (row.cells["source"], row.cells["standing"])
    if not row.above:
        return _origin(*own)
    covered = {column for column, origin in row.origins.items() if origin in row.above}
    left = row.cells.keys() - covered - NOT_TECHNICAL
    counted = dict.fromkeys((own, *row.above) if left else row.above)
    weakest = max((standing for _, standing in counted), key=STANDINGS.index)
    return _origin("; ".join(source for source, _ in counted), weakest)


def _runner_parts(row: Row) -> dict[str, Any]:
    cabinet, drawer = row.cells["holes"]["cabinet"], row.cells["holes"]["drawer"]
    sizes = []
    for length in sorted(row.cells["sizes"]):
        size = row.cells["sizes"][length]
        holes = hole_pattern("cabinet", length, **cabinet) + hole_pattern(
            "drawer", length, **drawer
        )
        rest = {column: size.get(column, default) for column, (_, default) in SIZE.optional.items()}
        sizes.append(
            RunnerSize(**{column: size[column] for column in SIZE.needed}, **rest, holes=holes)
        )
    return {"side_space": SideSpace(**row.cells["side_space"]), "sizes": tuple(sizes)}


@cache
def hole_pattern(
    member: Literal["cabinet", "drawer"],
    length: float,
    *,
    first: float,
    step: float,
    pair: float,
    end: float,
    up: float,
) -> tuple[RunnerHole, ...]:
    """Return the fixing holes of one member of a runner, from the face end.

    Stations stand at ``first`` and every ``step`` from it; the last one stands as far back as the
    pattern allows, on a multiple of ``pair`` from the first, at least ``end`` from the back end
    with its round hole; a station closer to it than half a step is left out. Each station
    has a slot and, ``pair`` further back, a round hole.

    Args:
        member: Which member.
        length: Closed length of the runner. [mm]
        first: First slot from the face end. [mm]
        step: From station to station. [mm]
        pair: From a slot to its round hole. [mm]
        end: Least distance of a hole from the back end. [mm]
        up: Height of the holes above the centre line. [mm]
    """
    room = length - end - pair - first
    last = first + max(0.0, room // pair) * pair
    stations = [first]
    while stations[-1] + step < last - _CROWDED * step:
        stations.append(stations[-1] + step)
    if last > first:
        stations.append(last)
    holes: list[RunnerHole] = []
    for at in stations:
        holes.append(RunnerHole(member=member, at=at, up=up, kind="slot"))
        if at + pair <= length - end:
            holes.append(RunnerHole(member=member, at=at + pair, up=up, kind="round"))
    return tuple(holes)
