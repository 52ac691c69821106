"""Arrange: columns, stacks and fills by hand, the face drawn to be dragged, the picked part."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from stowright.app import arranging
from stowright.app.edits import tables_of, typed, value_at
from stowright.app.part_facts import part_facts
from stowright.errors import StowrightError
from stowright.units import format_length
from stowright.web.deck_part import ACTS as DECK_ACTS
from stowright.web.deck_part import deck_box
from stowright.web.fields import choice, field, said, small_button
from stowright.web.markup import Markup, h, joined
from stowright.web.proposals_part import proposals_part
from stowright.web.visitor import Event, Notice, Visitor

if TYPE_CHECKING:
    from stowright.model.design import BlockDesign, OpeningDesign
    from stowright.model.job import Block, Column, Fill, Job

__all__ = ["ACTS", "arrange_page", "part_card", "refusal_card"]

_FILLS = tuple((word, word) for word in ("drawer", "tray", "open", "locker", "through", "blank"))
_FACES = (("tail", "the tail"), ("left", "the left"), ("right", "the right"))
_PLACES = tuple((word, word) for word in ("fill", "left", "right", "tail", "cab"))
_WINGS = (("none", "none"), ("fixed", "fixed"), ("lid", "lid to lift"))
_MATERIALS = ("carcass", "drawer", "drawer_bottom", "front_sheet", "deck_sheet")
_WORDS: tuple[tuple[str, str, tuple[str, ...]], ...] = (
    ("method", "How it is cut", ("hand", "panel", "cnc")),
    ("joint", "Joints", ("butt", "rebate", "housing", "tab-and-slot")),
    ("carcass_kind", "Carcass", ("box", "frame")),
    ("top", "Top of the carcass", ("rails", "panel", "deck")),
    ("back", "Back", ("panel", "frame", "none")),
    ("bottom_fit", "Drawer bottom", ("between", "planted", "grooved")),
    ("front", "Front", ("inset", "overlay")),
    ("lever", "Lever of a lock", ("notch", "narrow", "hand-hole", "none")),
)


def arrange_page(visitor: Visitor) -> Markup:
    """Return the page; the model stands beside it."""
    job = visitor.bench.study.job
    if job is None:
        return h("p", "Nothing can be arranged while the job has mistakes.")
    may = visitor.may_change()
    return h(
        "div.form",
        h("h2", "Arrange"),
        h("p.lead", "Columns from left to right as you look at the face, stacks from the floor up. "
          "Type a size, leave it at share, or drag a line on the face."),
        refusal_card(visitor),
        part_card(visitor),
        proposals_part(visitor),
        [_block(visitor, block, place) for place, block in enumerate(job.blocks, start=1)],
        [deck_box(visitor, place) for place in range(1, len(visitor.at("deck") or []) + 1)],
        h(
            "div.row.wrap",
            small_button("Add a deck", "add-deck", enabled=may, style="quiet"),
            small_button("Add a block", "add-block", enabled=may, style="quiet"),
        ),
        _materials(visitor),
    )  # fmt: skip


def refusal_card(visitor: Visitor) -> Markup | None:
    """Return why no geometry serves the job, and what would."""
    refusal = visitor.bench.study.refusal
    if refusal is None:
        return None
    return h(
        "div.card.wrong",
        h("h3", "It does not go"),
        h("p", h("strong", refusal.about), f": {refusal.reason}"),
        h("p", f"What would go: {refusal.advice}") if refusal.advice else None,
        h("p", "Model, proofs and sums shown are of the last one that went; undo brings it back."),
        role="status",
        data_key="refusal",
    )


def part_card(visitor: Visitor) -> Markup | None:
    """Return what is known of the picked piece."""
    shown = visitor.bench.shown
    if not visitor.picked or shown is None or shown.design is None:
        return None
    facts = part_facts(shown.design, visitor.picked)
    if facts is None:
        return None
    return h(
        "div.card.part",
        h("h3", h("span.mark", facts.mark), f" {facts.name}"),
        h("dl", [[h("dt", what), h("dd", said)] for what, said in facts.rows if said]),
        h(
            "details",
            h("summary", f"How the sizes come about ({len(facts.sums)} sums)"),
            [
                h(
                    "table.sum",
                    h("caption", each.size_of),
                    h("tbody", [h("tr", h("td", what), h("td.n", said)) for what, said in
                                each.lines]),
                    h("tfoot", h("tr", h("td", "comes to"), h("td.n", each.result))),
                )
                for each in facts.sums
            ],
            data_key="sums",
        ),
        small_button("Let go", "pick", part="", style="quiet"),
        data_key="part",
    )  # fmt: skip


def _block(visitor: Visitor, block: Block, place: int) -> Markup:
    shown = visitor.bench.shown
    design = shown.design if shown else None
    made = next((b for b in design.blocks if b.name == block.name), None) if design else None
    path = f"block[{place}]"
    may = visitor.may_change()
    return h(
        "fieldset",
        h("legend", f"Block: {block.name}"),
        _face(visitor, made, place) if made is not None else None,
        h(
            "div.cells",
            choice(visitor, f"{path}.face", "Opens to", _FACES, act="in-block", value=block.face),
            choice(visitor, f"{path}.place", "Stands", _PLACES, act="in-block",
                   value=block.place.word),
            choice(visitor, f"{path}.modules", "Columns are",
                   (("separate", "separate carcasses"), ("shared", "parted in one carcass")),
                   act="in-block", value=block.modules),
            choice(visitor, f"{path}.wings.left", "Left wing", _WINGS, act="wing",
                   value=block.wings.left, help_name="wing"),
            choice(visitor, f"{path}.wings.right", "Right wing", _WINGS, act="wing",
                   value=block.wings.right),
            field(visitor, f"{path}.clear_at_face", "Clear at the face", act="in-block"),
        ),
        [
            _column(visitor, column, place, c, len(block.columns))
            for c, column in enumerate(block.columns, start=1)
        ],
        h(
            "div.row.wrap",
            small_button("Add a column", "add-column", path=path, block=place, enabled=may,
                         style="main"),
            small_button("Take this block out", "drop", path=path, enabled=may, style="quiet",
                         name=f"Take block {block.name} out"),
        ),
        data_key=path,
    )  # fmt: skip


def _column(visitor: Visitor, column: Column, block: int, place: int, many: int) -> Markup:
    path = f"block[{block}].columns[{place}]"
    may = visitor.may_change()
    fills = list(enumerate(column.stack, start=1))
    return h(
        "div.column-box",
        h("h4", f"Column {place}"),
        h(
            "div.cells",
            field(visitor, f"{path}.width", "Clear width", act="in-block", assumed="share",
                  help_name="share"),
            h(
                "div.row",
                small_button("←", "move-column", path=path, block=block, column=place, by=-1,
                             style="quiet", enabled=may and place > 1,
                             name=f"Column {place} to the left"),
                small_button("→", "move-column", path=path, block=block, column=place, by=1,
                             style="quiet", enabled=may and place < many,
                             name=f"Column {place} to the right"),
                small_button("Take out", "drop", path=path, style="quiet",
                             enabled=may and many > 1, name=f"Take column {place} out"),
            ),
        ),
        [_fill(visitor, fill, path, row, len(fills)) for row, fill in reversed(fills)],
        small_button("Add on top", "add-fill", path=path, block=block, column=place,
                     enabled=may, style="quiet", name=f"Add a drawer on top of column {place}"),
        data_key=path,
    )  # fmt: skip


def _fill(visitor: Visitor, fill: Fill, column: str, row: int, many: int) -> Markup:
    path = f"{column}.stack[{row}]"
    may = visitor.may_change()
    block, place = column[6:].partition("]")[0], column.rpartition("[")[2].rstrip("]")
    return h(
        "div.fill-box",
        h(
            "div.cells",
            field(visitor, f"{path}.name", "Name", act="in-block", kind="text", unit="",
                  value=fill.name),
            choice(visitor, f"{path}.fill", "Fill", _FILLS, act="in-block", value=fill.fill),
            field(visitor, f"{path}.height", "Clear height", act="in-block", assumed="share"),
            choice(visitor, f"{path}.door", "Door", (("drop", "drop"), ("lift", "lift")),
                   act="in-block", value=fill.door or "drop")
            if fill.fill == "locker"
            else None,
            field(visitor, f"{path}.sides", "Height of sides", act="in-block", assumed="0")
            if fill.fill == "tray"
            else None,
        ),
        h(
            "div.row",
            small_button("↑", "move-fill", path=path, block=block, column=place, place=row,
                         by=1, style="quiet", enabled=may and row < many, name=f"{fill.name} up"),
            small_button("↓", "move-fill", path=path, block=block, column=place, place=row,
                         by=-1, style="quiet", enabled=may and row > 1, name=f"{fill.name} down"),
            small_button("Take out", "drop", path=path, style="quiet", enabled=may and many > 1,
                         name=f"Take {fill.name} out"),
        ),
        data_key=path,
    )  # fmt: skip


def _face(visitor: Visitor, block: BlockDesign, place: int) -> Markup:
    """The face as you look at it; the lines between columns and fills can be dragged."""
    job = visitor.bench.study.job
    columns_asked = job.blocks[place - 1].columns if job and place <= len(job.blocks) else ()
    columns: dict[int, list[OpeningDesign]] = {}
    for opening in block.openings:
        columns.setdefault(opening.column, []).append(opening)
    width = sum(max(o.width for o in rows) for rows in columns.values())
    step = _step(visitor)
    shown = [
        _face_column(visitor, sorted(rows, key=lambda o: o.row), place, c, step,
                     handle=c < len(columns_asked))
        for c, rows in ((key + (0 if min(columns) else 1), columns[key]) for key in sorted(columns))
    ]  # fmt: skip
    return h(
        "div.face",
        shown,
        data_track=f"{width:.1f}",
        role="group",
        aria_label=f"Face of {block.name}; sizes can be typed below as well",
        data_key=f"face-{place}",
    )


def _face_column(
    visitor: Visitor, rows: list[OpeningDesign], block: int, column: int, step: float,
    *, handle: bool,
) -> Markup:  # fmt: skip
    width = max(opening.width for opening in rows)
    height = sum(opening.height for opening in rows)
    path = f"block[{block}].columns[{column}]"
    cells = []
    for place, opening in reversed(list(enumerate(rows, start=1))):
        top = place < len(rows)
        cells.append(
            h(
                "div.face-cell",
                h("span", opening.name),
                h("span.small", _sizes(visitor, opening.width, opening.height)),
                class_=f"fill-{opening.fill}",
                style=f"flex-grow: {opening.height:.1f}",
                data_key=opening.name,
            )
        )
        if top:
            grip = _grip("y", f"{path}.stack[{place}].height", opening.height, step, visitor)
            cells.insert(len(cells) - 1, grip)
    stack = h("div.face-stack", cells, data_track=f"{height:.1f}",
              style=f"flex-grow: {width:.1f}", data_key=f"stack-{column}")  # fmt: skip
    if not handle:
        return stack
    return joined([stack, _grip("x", f"{path}.width", width, step, visitor)])


def _grip(axis: str, path: str, size: float, step: float, visitor: Visitor) -> Markup:
    return h(
        "div.grip",
        class_=f"grip-{axis}",
        data_drag=axis if visitor.may_change() else None,
        data_dragged="drag",
        data_path=path,
        data_size=f"{size:.3f}",
        data_step=step,
        data_unit=visitor.units,
        aria_hidden="true",
        data_key=f"grip-{path}",
    )


def _step(visitor: Visitor) -> float:
    return 1.5875 if visitor.at("job.units") == "in" else 1.0


def _sizes(visitor: Visitor, width: float, height: float) -> str:
    units = visitor.units
    return f"{format_length(width, units)} × {format_length(height, units)} {units}"


def _materials(visitor: Visitor) -> Markup:
    job = visitor.bench.study.job
    names = [(row.name, row.name) for row in visitor.bench.catalogue.materials]
    runners = [("auto", "auto"), *((r.name, r.name) for r in visitor.bench.catalogue.runners)]
    build: Any = job.build if job else None
    return h(
        "details",
        h("summary", "Materials and methods"),
        h(
            "div.grid",
            [
                choice(visitor, f"build.{key}", key.replace("_", " "), names,
                       value=str(getattr(build, key, "")))
                for key in _MATERIALS
            ],
            choice(visitor, "build.runner", "Runner", runners, default="auto", help_name="runner"),
            [
                choice(visitor, f"build.{key}", label, [(word, word) for word in words],
                       value=str(getattr(build, key, "")))
                for key, label, words in _WORDS
            ],
            field(visitor, "build.front_gap", "Gap round a front"),
            field(visitor, "build.side_clear", "Clear of wall or arch, each side"),
            field(visitor, "build.end_clear", "Clear of the headboard"),
            field(visitor, "job.cut_grid", "Sizes in steps of"),
        ),
        data_key="materials",
    )  # fmt: skip


def _job(visitor: Visitor) -> Job | None:
    return visitor.bench.study.job


async def _in_block(visitor: Visitor, event: Event) -> None:
    job, path = _job(visitor), event.data["path"]
    if job is None:
        return
    edits = arranging.set_in_block(visitor.bench.text, job, path, said(event))
    what = "" if path in edits else f"{path} {event.value}"
    await visitor.edit(edits, event.seen, what=what, drafts={path: event.value})


async def _wing(visitor: Visitor, event: Event) -> None:
    job, path = _job(visitor), event.data["path"]
    if job is None:
        return
    block, _, side = path.partition(".wings.")
    there = value_at(tables_of(visitor.bench.text), f"{block}.wings") or {}
    wings = {**there, side: event.value}
    edits = arranging.set_in_block(visitor.bench.text, job, f"{block}.wings", wings)
    await visitor.edit(edits, event.seen, what=f"{side} wing: {event.value}")


async def _drag(visitor: Visitor, event: Event) -> None:
    """A line that was dragged fixes the size of the column or fill before it."""
    job, path = _job(visitor), event.data["path"]
    if job is None:
        return
    text = format_length(float(event.value), job.units, parts=16)
    value = typed(text)
    edits = arranging.set_in_block(visitor.bench.text, job, path, value)
    await visitor.edit(edits, event.seen, what=f"{path} dragged to {text}")


async def _change(visitor: Visitor, event: Event) -> None:
    """Add, move or take out a part of the arrangement."""
    job = _job(visitor)
    if job is None:
        return
    text, data = visitor.bench.text, event.data
    number = {key: int(data[key]) for key in ("block", "column", "place", "by") if key in data}
    try:
        edits = _CHANGES[event.act](text, job, number, data)
    except StowrightError as error:
        visitor.notice = Notice(text=f"That cannot be done: {error}", kind="wrong")
        return
    words = f"{event.act.replace('-', ' ')} {data.get('path', '')} {number.get('by', '')}"
    await visitor.edit(edits, event.seen, what=words.strip())


_CHANGES: dict[str, Any] = {
    "add-column": lambda text, job, n, _: arranging.add_column(text, job, n["block"]),
    "add-fill": lambda text, job, n, _: arranging.add_fill(text, job, n["block"], n["column"]),
    "add-block": lambda text, job, _n, _: arranging.add_block(text, job),
    "add-deck": lambda text, job, _n, _: arranging.add_deck(text, job),
    "drop": lambda text, job, _, data: arranging.drop(text, job, data["path"]),
    "move-column": lambda text, job, n, _: arranging.moved_column(
        text, job, n["block"], n["column"], n["by"]
    ),
    "move-fill": lambda text, job, n, _: arranging.moved_fill(
        text, job, n["block"], n["column"], n["place"], n["by"]
    ),
}


async def _pick(visitor: Visitor, event: Event) -> None:
    visitor.picked = event.data.get("part", "")


ACTS = {
    "in-block": _in_block,
    "wing": _wing,
    "drag": _drag,
    "pick": _pick,
    **DECK_ACTS,
    **dict.fromkeys(_CHANGES, _change),
}
