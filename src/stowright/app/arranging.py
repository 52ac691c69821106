"""Building a unit by hand: columns, stacks, fills and decks as changes to the job file."""

from __future__ import annotations

import copy
from typing import TYPE_CHECKING, Any

from stowright.app.edits import Edits, tables_of, value_at
from stowright.errors import UnknownNameError

if TYPE_CHECKING:
    from stowright.model.job import Block, Job

__all__ = [
    "add_block",
    "add_column",
    "add_deck",
    "add_fill",
    "block_path",
    "drop",
    "fill_path",
    "moved_column",
    "moved_fill",
    "set_in_block",
    "written_blocks",
]


def written_blocks(text: str, job: Job) -> list[dict[str, Any]]:
    """Return the blocks as the job file would write them out: defaults of layout put in."""
    given = tables_of(text).get("block") or [{}]
    blocks = [copy.deepcopy(dict(each)) for each in given]
    for raw, block in zip(blocks, job.blocks, strict=False):
        _fill_in(raw, block)
    return blocks


def _fill_in(raw: dict[str, Any], block: Block) -> None:
    raw.setdefault("name", block.name)
    columns = raw.get("columns") or [{} for _ in block.columns]
    raw["columns"] = columns
    for column, made in zip(columns, block.columns, strict=False):
        column.setdefault("width", "share")
        stack = column.get("stack") or [{} for _ in made.stack]
        column["stack"] = stack
        for fill, known in zip(stack, made.stack, strict=False):
            fill.setdefault("fill", known.fill)
            fill.setdefault("name", known.name)
            fill.setdefault("height", "share")


def set_in_block(text: str, job: Job, path: str, value: object) -> Edits:
    """Return the change of one field of a block, writing the block out when it is not yet there.

    Args:
        text: The job file.
        job: The job.
        path: ``block[1].columns[2].width`` and the like.
        value: The new value.
    """
    tables = tables_of(text)
    holder = path.rpartition(".")[0]
    if value_at(tables, holder) is not None:
        return {path: value}
    return {"block": _with(written_blocks(text, job), path, value)}


def add_column(text: str, job: Job, block: int) -> Edits:
    """Return the change that puts a column at the right of a block."""
    fresh = {"width": "share", "stack": [_drawer(job)]}
    path = f"block[{block}].columns"
    there = value_at(tables_of(text), path)
    if there is None:
        blocks = written_blocks(text, job)
        _block(blocks, block)["columns"].append(fresh)
        return {"block": blocks}
    return {f"{path}[{len(there) + 1}]": fresh}


def add_fill(text: str, job: Job, block: int, column: int) -> Edits:
    """Return the change that puts a drawer on top of a stack."""
    path = f"block[{block}].columns[{column}].stack"
    there = value_at(tables_of(text), path)
    if there is None:
        blocks = written_blocks(text, job)
        columns = _block(blocks, block)["columns"]
        if column > len(columns):
            raise UnknownNameError("column", str(column))
        columns[column - 1]["stack"].append(_drawer(job))
        return {"block": blocks}
    return {f"{path}[{len(there) + 1}]": _drawer(job)}


def add_block(text: str, job: Job) -> Edits:
    """Return the change that adds a block; the first one is written out as it stands."""
    blocks = written_blocks(text, job)
    taken = {block.name for block in job.blocks}
    name = next(f"block {k}" for k in range(2, 100) if f"block {k}" not in taken)
    fresh = {"name": name, "columns": [{"width": "share", "stack": [_drawer(job)]}]}
    there = value_at(tables_of(text), "block")
    if not there:
        return {"block": [*blocks, fresh]}
    return {f"block[{len(there) + 1}]": fresh}


def add_deck(text: str, job: Job) -> Edits:
    """Return the change that adds a deck over the blocks that have none."""
    covered = {name for deck in job.decks for name in deck.over}
    over = [block.name for block in job.blocks if block.name not in covered]
    there = value_at(tables_of(text), "deck") or []
    fresh: dict[str, Any] = {"over": over or [block.name for block in job.blocks]}
    if job.bay.rail is None:
        top = max(300.0, (job.bay.clear_height or 900.0) / 2.0)
        fresh["top"] = f"{top:.0f} mm"
    return {f"deck[{len(there) + 1}]": fresh}


def drop(text: str, job: Job, path: str) -> Edits:
    """Return the change that takes a column, a fill, a block or a deck out.

    Raises:
        UnknownNameError: If it is the last one, which has to stay.
    """
    holder, _, place = path.rpartition("[")
    there = value_at(tables_of(text), holder)
    if there is None and holder.startswith("block"):
        return {"block": _without(written_blocks(text, job), holder, int(place.rstrip("]")))}
    if not there or len(there) <= 1:
        if holder == "deck":
            return {"deck": None}
        raise UnknownNameError("other one to keep beside", path)
    return {path: None}


def moved_column(text: str, job: Job, block: int, column: int, by: int) -> Edits:
    """Return the change that moves a column to the left (-1) or to the right (1)."""
    blocks = written_blocks(text, job)
    moved = _moved(_block(blocks, block)["columns"], column, by)
    path = f"block[{block}].columns"
    if value_at(tables_of(text), path) is None:
        blocks[block - 1]["columns"] = moved
        return {"block": blocks}
    return {path: moved}


def moved_fill(text: str, job: Job, block: int, column: int, place: int, by: int) -> Edits:
    """Return the change that moves a fill up (1) or down (-1) in its stack."""
    blocks = written_blocks(text, job)
    columns = _block(blocks, block)["columns"]
    if not 0 < column <= len(columns):
        raise UnknownNameError("column", str(column))
    stack = _moved(columns[column - 1]["stack"], place, by)
    path = f"block[{block}].columns[{column}].stack"
    if value_at(tables_of(text), path) is None:
        columns[column - 1]["stack"] = stack
        return {"block": blocks}
    return {path: stack}


def fill_path(job: Job, opening: str) -> str:
    """Return where an opening stands in the job file.

    Raises:
        UnknownNameError: If there is no such opening.
    """
    for b, block in enumerate(job.blocks, start=1):
        for c, column in enumerate(block.columns, start=1):
            for r, fill in enumerate(column.stack, start=1):
                if fill.name == opening:
                    return f"block[{b}].columns[{c}].stack[{r}]"
    raise UnknownNameError("opening", opening)


def block_path(job: Job, name: str) -> str:
    """Return where a block stands in the job file.

    Raises:
        UnknownNameError: If there is no such block.
    """
    for place, block in enumerate(job.blocks, start=1):
        if block.name == name:
            return f"block[{place}]"
    raise UnknownNameError("block", name)


def _drawer(job: Job) -> dict[str, Any]:
    taken = {fill.name for b in job.blocks for c in b.columns for fill in c.stack}
    name = next(f"drawer {k}" for k in range(1, 1000) if f"drawer {k}" not in taken)
    return {"fill": "drawer", "name": name, "height": "share"}


def _block(blocks: list[dict[str, Any]], place: int) -> dict[str, Any]:
    if not 0 < place <= len(blocks):
        raise UnknownNameError("block", str(place))
    return blocks[place - 1]


def _moved(rows: list[Any], place: int, by: int) -> list[Any]:
    aim = place - 1 + by
    if not 0 < place <= len(rows) or not 0 <= aim < len(rows):
        return rows
    moved = list(rows)
    moved.insert(aim, moved.pop(place - 1))
    return moved


def _with(blocks: list[dict[str, Any]], path: str, value: object) -> list[dict[str, Any]]:
    holder = value_at({"block": blocks}, path.rpartition(".")[0])
    if not isinstance(holder, dict):
        raise UnknownNameError("field", path)
    key = path.rpartition(".")[2]
    if value is None:
        holder.pop(key, None)
    else:
        holder[key] = value
    return blocks


def _without(blocks: list[dict[str, Any]], holder: str, place: int) -> list[dict[str, Any]]:
    rows = value_at({"block": blocks}, holder)
    if not isinstance(rows, list) or len(rows) <= 1 or not 0 < place <= len(rows):
        raise UnknownNameError("other one to keep beside", f"{holder}[{place}]")
    del rows[place - 1]
    return blocks
