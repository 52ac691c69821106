"""Carry: what goes in, by hand, from usual sizes, or as a pasted or uploaded list."""

from __future__ import annotations

from stowright.app.carry_list import CARRY_COLUMNS, GENERIC, carry_from_csv, carry_sums, caution_of
from stowright.errors import JobError
from stowright.units import format_length
from stowright.web.arrange_page import refusal_card
from stowright.web.fields import choice, field, small_button, tick
from stowright.web.markup import Markup, h
from stowright.web.packing_part import packing_part
from stowright.web.ride_part import ACTS as RIDE_ACTS
from stowright.web.ride_part import deck_choice, ride_box
from stowright.web.visitor import Event, Notice, Visitor

__all__ = ["ACTS", "MOST_UPLOAD", "carry_page"]

#: An uploaded list or job is no larger. [bytes]
MOST_UPLOAD = 400_000
_HAZARDS = (
    ("", "none"), ("gas", "gas"), ("fuel", "fuel"), ("battery", "battery"), ("aerosol", "aerosol"),
)  # fmt: skip
_USED = (("", "not said"), ("daily", "daily"), ("trip", "each trip"), ("seldom", "seldom"))


def carry_page(visitor: Visitor) -> Markup:
    """Return the page."""
    items = visitor.at("carry") or []
    may = visitor.may_change()
    return h(
        "div.two",
        h(
            "div.form",
            h("h2", "Carry"),
            h("p.lead", "List what has to go in. A thing that must live in one drawer names it."),
            [_item(visitor, place + 1) for place in range(len(items))]
            or h("p.empty", "Nothing on the list yet. Add a thing, take a usual size, or paste a "
                 "list."),
            small_button("Add a thing", "add-thing", enabled=may, style="main"),
            _generic(visitor),
            _list(visitor),
        ),
        h("aside.beside", refusal_card(visitor), _sums(visitor), packing_part(visitor),
          aria_label="Masses and places"),
    )  # fmt: skip


def _item(visitor: Visitor, place: int) -> Markup:
    path = f"carry[{place}]"
    name = str(visitor.at(f"{path}.what") or f"thing {place}")
    caution = caution_of(str(visitor.at(f"{path}.hazard") or ""))
    return h(
        "fieldset",
        h("legend", name),
        h(
            "div.cells",
            field(visitor, f"{path}.what", "What", kind="text", unit="", compact=True),
            [
                field(visitor, f"{path}.size[{k}]", label, compact=True)
                for k, label in ((1, "length"), (2, "width"), (3, "height"))
            ],
            field(visitor, f"{path}.mass", "mass of one", unit="kg", compact=True),
            field(visitor, f"{path}.quantity", "how many", unit="", assumed="1", compact=True),
            choice(visitor, f"{path}.goes_in", "goes in", _openings(visitor)),
            deck_choice(visitor, path),
            choice(visitor, f"{path}.used", "used", _USED),
            choice(visitor, f"{path}.hazard", "hazard", _HAZARDS),
            tick(
                "keep upright",
                on=bool(visitor.at(f"{path}.keep_upright")),
                act="upright",
                path=f"{path}.keep_upright",
                enabled=visitor.may_change(),
            ),
        ),
        h("p.caution", caution) if caution else None,
        ride_box(visitor, path),
        small_button(
            "Take out", "drop-thing", path=path, name=f"Take out: {name}", style="quiet",
            enabled=visitor.may_change(),
        ),
        data_key=path,
    )  # fmt: skip


def _openings(visitor: Visitor) -> list[tuple[str, str]]:
    job = visitor.bench.study.job
    names = [
        fill.name
        for block in (job.blocks if job else ())
        for column in block.columns
        for fill in column.stack
    ]
    return [("", "anywhere"), *((name, name) for name in names)]


def _generic(visitor: Visitor) -> Markup:
    units = visitor.units
    return h(
        "details",
        h("summary", "Usual sizes"),
        h("p", "Sizes and masses from common practice: measure your own before you cut."),
        h(
            "div.row.wrap",
            [
                small_button(
                    f"{thing.what}: "
                    + " × ".join(format_length(size, units) for size in thing.size)
                    + f" {units}, {thing.mass:g} kg",
                    "add-generic",
                    place=place,
                    enabled=visitor.may_change(),
                    style="quiet",
                )
                for place, thing in enumerate(GENERIC)
            ],
        ),
        data_key="generic",
    )


def _list(visitor: Visitor) -> Markup:
    may = visitor.may_change()
    return h(
        "details",
        h("summary", "Paste or upload a list"),
        h(
            "form",
            h("p", f"First line: {', '.join(CARRY_COLUMNS)}. Comma, semicolon or tab between."),
            h("label", "The list", for_="carry-csv"),
            h("textarea", visitor.chosen.get("carry-csv", ""), id="carry-csv", name="list", rows=6,
              disabled=not may, data_key="carry-csv"),
            h("div.row", h("button", "Add these", type="submit", disabled=not may)),
            data_act="paste-list",
        ),
        h("label", "Or a file", for_="carry-file"),
        h("input", type="file", id="carry-file", accept=".csv,text/csv,text/plain",
          data_act="upload-list", data_most=MOST_UPLOAD, data_local="upload", disabled=not may),
        data_key="list",
    )  # fmt: skip


def _sums(visitor: Visitor) -> Markup:
    study = visitor.bench.study
    job = study.job
    if job is None:
        return h("p", "No sums while the job has mistakes.")
    rows = carry_sums(job, study.design)
    return h(
        "div.card",
        h("h3", "Masses"),
        h("dl", [[h("dt", what), h("dd", text)] for what, text in rows]),
    )


async def _add_thing(visitor: Visitor, _: Event) -> None:
    place = len(visitor.at("carry") or []) + 1
    units = visitor.at("job.units")
    size = [16, 12, 8] if units == "in" else [400, 300, 200]
    fresh = {"what": f"thing {place}", "size": size, "mass": 5}
    await visitor.append("carry", fresh, what=f"thing {place}: added")


async def _add_generic(visitor: Visitor, event: Event) -> None:
    number = event.data.get("place", "")
    if not number.isdigit() or int(number) >= len(GENERIC):
        return
    thing = GENERIC[int(number)]
    fresh = {
        "what": thing.what,
        "size": [f"{size:g} mm" for size in thing.size],
        "mass": thing.mass,
    }
    if visitor.at("job.units") != "in":
        fresh["size"] = list(thing.size)
    if thing.upright:
        fresh["keep_upright"] = True
    await visitor.append("carry", fresh, what=f"{thing.what}: added")


async def _drop_thing(visitor: Visitor, event: Event) -> None:
    rows = visitor.at("carry") or []
    path = event.data["path"]
    await visitor.edit(
        {"carry": None} if len(rows) <= 1 else {path: None}, event.seen, what=f"{path}: taken out"
    )


async def _upright(visitor: Visitor, event: Event) -> None:
    await visitor.edit({event.data["path"]: bool(event.value)}, event.seen)


async def _paste(visitor: Visitor, event: Event) -> None:
    text = event.values.get("list", "") if event.act == "paste-list" else event.value
    if len(text) > MOST_UPLOAD:
        visitor.notice = Notice(text=f"At most {MOST_UPLOAD // 1000} kB.", kind="wrong")
        return
    visitor.chosen["carry-csv"] = text
    units = visitor.units
    try:
        rows = carry_from_csv(text, units=units)
    except JobError as error:
        visitor.notice = Notice(text=f"Nothing was added. {error}", kind="wrong")
        return
    whole = [*(visitor.at("carry") or []), *rows]
    if await visitor.edit({"carry": whole}, event.seen, what=f"{len(rows)} things from a list"):
        visitor.chosen.pop("carry-csv", None)
        visitor.notice = Notice(text=f"{len(rows)} things added.")


ACTS = {
    "add-thing": _add_thing,
    "add-generic": _add_generic,
    "drop-thing": _drop_thing,
    "upright": _upright,
    "paste-list": _paste,
    "upload-list": _paste,
    **RIDE_ACTS,
}
