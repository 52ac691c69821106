"""Measure: the readings beside the drawing of the bay, what is odd at its field, what emerges."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from stowright.app.edits import tables_of, typed, value_at
from stowright.app.examples import new_text
from stowright.app.loading import load_job, starter
from stowright.app.survey import emerging, readings_of, tables_of_kind
from stowright.app.unit_change import in_unit
from stowright.web.arrange_page import refusal_card
from stowright.web.bay_sketch import bay_sketch
from stowright.web.fields import choice, field, raw, said, small_button
from stowright.web.help_texts import help_for
from stowright.web.markup import Markup, h
from stowright.web.visitor import Draft, Event, Visitor

if TYPE_CHECKING:
    from stowright.app.survey import Table

__all__ = ["ACTS", "KINDS", "measure_page", "set_field"]

KINDS = (
    ("tub", "tub: an open load bed with side rails"),
    ("van", "van: closed, with a roof"),
    ("wagon", "wagon: behind the seats"),
    ("tray", "tray: a flat bed"),
)


def measure_page(visitor: Visitor) -> Markup:
    """Return the page."""
    study = visitor.bench.study
    kind = str(visitor.at("bay.kind") or (study.job.bay.kind if study.job else "tub"))
    bay = study.job.bay if study.job else None
    return h(
        "div.two",
        h(
            "div.form",
            h("h2", "Measure"),
            h("p.lead", "Empty the bay, sweep it, and read everything twice from the same datum: "
              "the inner face of the shut tail, the middle of the floor's tail end, the top of "
              "the ribs."),
            h("p.empty", "Length, width and height stand there to begin with: type yours over "
              "them. Add stations, arches and doorways as you read them; nothing else is taken "
              "for read.") if _untouched(visitor) else None,
            _head(visitor, kind),
            h("div.grid", [_reading(visitor, each) for each in readings_of(kind)]),
            [_table(visitor, table) for table in tables_of_kind(kind)],
            _tail_and_floor(visitor),
        ),
        h(
            "aside.beside.first",
            bay_sketch(bay) if bay is not None else h("p", "No drawing until length, width and a "
                                                      "height are there."),
            refusal_card(visitor),
            _emerging(visitor),
            _odd(visitor),
            aria_label="The bay as read so far",
        ),
    )  # fmt: skip


def _untouched(visitor: Visitor) -> bool:
    """Whether nothing was typed into a new job yet."""
    job = visitor.bench.study.job
    if visitor.bench.number != 1 or job is None:
        return False
    return visitor.bench.text == new_text(job.bay.kind, job.title, units=job.units)


def _head(visitor: Visitor, kind: str) -> Markup:
    return h(
        "div.grid",
        field(visitor, "job.title", "What the job is called", kind="text", unit=""),
        field(visitor, "job.client", "For whom", kind="text", unit=""),
        choice(visitor, "bay.kind", "Kind of bay", KINDS, value=kind),
        choice(
            visitor, "job.units", "Unit", (("mm", "millimetres"), ("in", "inches and fractions")),
            default="mm", act="units",
        ),
    )  # fmt: skip


def _reading(visitor: Visitor, reading: Any) -> Markup:
    assumed = "needed" if reading.needed else ""
    act = "diagonal" if "diagonals" in reading.path else "set"
    return field(
        visitor,
        reading.path,
        reading.label,
        number=reading.number or None,
        help_name=reading.help_name,
        assumed=assumed,
        act=act,
    )


def _table(visitor: Visitor, table: Table) -> Markup:
    rows = visitor.at(table.path) or []
    may = visitor.may_change()
    return h(
        "fieldset",
        h("legend", h("span.arrow", str(table.number), aria_hidden="true"), table.title),
        help_for(table.help_name),
        [_row(visitor, table, place + 1) for place in range(len(rows))],
        small_button("Add a reading", "add-row", path=table.path, enabled=may, style="quiet")
        if table.path != "bay.arches"
        else _arch_buttons(visitor, rows),
    )


def _row(visitor: Visitor, table: Table, place: int) -> Markup:
    path = f"{table.path}[{place}]"
    side = visitor.at(f"{path}.side") or visitor.at(f"{path}.face")
    name = f"{table.title}, {side or place}"
    cells = [
        field(visitor, f"{path}.{key}", f"{side + ': ' if side else ''}{label}", compact=True)
        for key, label in table.columns
    ]
    return h(
        "div.cells.reading",
        cells,
        small_button(
            "Take out", "drop-row", path=path, name=f"Take out: {name}", style="quiet",
            enabled=visitor.may_change(),
        ),
        data_key=path,
    )  # fmt: skip


def _arch_buttons(visitor: Visitor, rows: list[Any]) -> Markup:
    there = {row.get("side") for row in rows}
    may = visitor.may_change()
    return h(
        "div.row",
        [
            small_button(f"Add the {side} arch", "add-arch", side=side, enabled=may, style="quiet")
            for side in ("left", "right")
            if side not in there
        ],
    )


def _tail_and_floor(visitor: Visitor) -> Markup:
    return h(
        "details",
        h("summary", "Tailgate, floor and vehicle"),
        h(
            "div.grid",
            choice(
                visitor, "bay.tailgate.hinge", "Tailgate or door opens",
                (("", "by its kind"), ("down", "down"), ("up", "up"), ("side", "to the side")),
            ),
            field(visitor, "bay.tailgate.length", "Length of the tailgate"),
            field(visitor, "bay.tailgate.open_top", "Its upper face when open, above the floor"),
            field(visitor, "bay.floor.material", "Floor is made of", kind="text", unit=""),
            field(visitor, "bay.floor.thickness", "Thickness of the floor's sheet"),
            field(visitor, "bay.floor.rib_depth", "Depth of the ribs", help_name="rib"),
            field(visitor, "bay.floor.rib_pitch", "From rib to rib"),
            field(visitor, "vehicle.wheelbase", "Wheelbase"),
            field(visitor, "vehicle.rear_axle_x", "Rear axle, from the tail"),
            field(visitor, "vehicle.weighed.front_axle", "Front axle as weighed", unit="kg"),
            field(visitor, "vehicle.weighed.rear_axle", "Rear axle as weighed", unit="kg"),
            field(visitor, "vehicle.limits.front_axle", "Front axle limit", unit="kg"),
            field(visitor, "vehicle.limits.rear_axle", "Rear axle limit", unit="kg"),
            field(visitor, "vehicle.limits.total", "Total limit", unit="kg"),
        ),
        data_key="tail-and-floor",
    )  # fmt: skip


def _emerging(visitor: Visitor) -> Markup | None:
    shown = visitor.bench.shown
    if shown is None or shown.design is None:
        return None
    rows = emerging(shown.design)
    return h(
        "div.card",
        h("h3", "What the readings come to"),
        h("dl", [[h("dt", what), h("dd", text)] for what, text in rows]),
    )


def _odd(visitor: Visitor) -> Markup | None:
    warnings = visitor.bench.study.warnings
    if not warnings:
        return None
    return h(
        "details.card",
        h("summary", f"Read again or think over ({len(warnings)})"),
        h("ul", [h("li", line) for line in warnings]),
        data_key="odd",
    )


async def set_field(visitor: Visitor, event: Event) -> None:
    """Change one field to what was typed."""
    path = event.data["path"]
    await visitor.edit({path: said(event)}, event.seen, drafts={path: event.value})


async def _units(visitor: Visitor, event: Event) -> None:
    """Change the unit: every bare number is told in the new one, so that no length changes."""
    if event.value not in {"mm", "in"} or not visitor.can_edit:
        return
    bench = visitor.bench
    text = in_unit(bench.text, "in" if event.value == "in" else "mm")
    await visitor.replace(text, event.seen, what=f"unit: {event.value}")


async def _diagonal(visitor: Visitor, event: Event) -> None:
    """Change one diagonal; both stand in the file together."""
    place = 0 if event.data["path"].endswith("[1]") else 1
    stands = list(visitor.at("bay.diagonals") or ["", ""])
    held = [visitor.chosen.get(f"diagonal-{k}", "") or stands[k] for k in (0, 1)]
    held[place] = typed(event.value) if event.value.strip() else ""
    visitor.chosen[f"diagonal-{place}"] = event.value
    for k in (1, 2):
        visitor.drafts.pop(f"bay.diagonals[{k}]", None)
    if all(value == "" for value in held):
        await visitor.edit({"bay.diagonals": None}, event.seen)
    elif all(value not in ("", None) for value in held):
        both = [typed(value) if isinstance(value, str) else value for value in held]
        await visitor.edit(
            {"bay.diagonals": both}, event.seen, drafts={event.data["path"]: event.value}
        )
    else:
        await _one_diagonal(visitor, event, 0 if held[0] not in ("", None) else 1, held)


async def _one_diagonal(visitor: Visitor, event: Event, place: int, held: list[object]) -> None:
    """Keep a single diagonal where it was typed: the file holds both or none."""
    if visitor.at("bay.diagonals") is not None:
        await visitor.edit({"bay.diagonals": None}, event.seen)
    text = visitor.chosen[f"diagonal-{place}"] = raw(held[place])
    reason = "a diagonal counts when the other one is there too"
    visitor.drafts[f"bay.diagonals[{place + 1}]"] = Draft(text=text, reason=reason)


async def _add_row(visitor: Visitor, event: Event) -> None:
    path = event.data["path"]
    table = next(
        (each for kind in dict(KINDS) for each in tables_of_kind(kind) if each.path == path), None
    )
    if table is None:
        return
    rows = visitor.at(path) or []
    fresh = dict(table.fresh) | _like(visitor, path, rows)
    await visitor.append(path, fresh, what=f"{table.title}: added")


def _like(visitor: Visitor, path: str, rows: list[Any]) -> dict[str, Any]:
    """A new row starts as the last one, or from the plain length and width."""
    if rows:
        return {key: value for key, value in rows[-1].items() if value is not None}
    width, length = visitor.at("bay.width"), visitor.at("bay.length")
    return {
        "bay.widths": {"width": width},
        "bay.between": {"width": width},
        "bay.lengths": {"length": length},
        "bay.tail_lean": {"x": 0},
        "bay.opening": {"face": "tail", "width": width},
    }.get(path, {})


async def _drop_row(visitor: Visitor, event: Event) -> None:
    path = event.data["path"]
    whole = path.rpartition("[")[0]
    rows = visitor.at(whole) or []
    edits = {whole: None} if len(rows) <= 1 else {path: None}
    await visitor.edit(edits, event.seen, what=f"{path}: taken out")


async def _add_arch(visitor: Visitor, event: Event) -> None:
    """Add an arch like the other one, else like the starter's of the same kind."""
    side = event.data["side"]
    rows = visitor.at("bay.arches") or []
    if side not in {"left", "right"}:
        return
    like = dict(rows[0]) if rows else _starter_arch(visitor)
    fresh = like | {"side": side}
    await visitor.append("bay.arches", fresh, what=f"{side} arch: added")


def _starter_arch(visitor: Visitor) -> dict[str, Any]:
    units = visitor.units
    answers = {key: str(visitor.at(f"bay.{key}")) for key in ("length", "width")}
    text = starter("tub", units=units, answers=answers)
    load_job(text)
    found = value_at(tables_of(text), "bay.arches[1]")
    return dict(found) if isinstance(found, dict) else {}


ACTS = {
    "set": set_field,
    "units": _units,
    "diagonal": _diagonal,
    "add-row": _add_row,
    "drop-row": _drop_row,
    "add-arch": _add_arch,
}
