"""Cut: each sheet's layout with its numbered cuts to tick off; what went wrong and how to go on."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stowright.app.edits import typed
from stowright.app.shop_floor import (
    add_caliper,
    bad_corner,
    done_marks,
    mark_done,
    mark_spoiled,
    readings_in,
)
from stowright.app.study import model_key
from stowright.errors import JobError
from stowright.units import format_length, parse_length
from stowright.web.fields import small_button, tick
from stowright.web.help_texts import help_for
from stowright.web.markup import Markup, h
from stowright.web.visitor import Event, Notice, Visitor
from stowright.web.work_parts import downloads, job_url, needed_plan

if TYPE_CHECKING:
    from stowright.model.layout import Layout, StockUse
    from stowright.model.plan import Plan
    from stowright.units import Unit

__all__ = ["ACTS", "caliper_forms", "cut_page", "picture_key"]

_CORNERS = (
    ("left-bottom", "left, near you"), ("right-bottom", "right, near you"),
    ("left-top", "left, far side"), ("right-top", "right, far side"),
)  # fmt: skip


def cut_page(visitor: Visitor) -> Markup:
    """Return the page."""
    plan = needed_plan(visitor, "Cut")
    if isinstance(plan, Markup):
        return plan
    cutting = plan.cutting
    proved = "proved least" if cutting.proved_least else f"at least {cutting.lower_bound} needed"
    return h(
        "div.form",
        h("h2", "Cut"),
        h("p.lead", f"{cutting.sheets} sheets, {proved}; {cutting.saw_lines} saw lines, "
          f"{cutting.cut_metres:.1f} m of cut, {cutting.settings} settings."),
        h("p.caution", "Eye and hearing protection and a dust mask; let the blade stop before "
          "reaching in."),
        help_for("kerf"),
        _calipers(visitor, plan),
        [_layout(visitor, plan, layout) for layout in cutting.layouts],
        _parts(visitor, plan),
        downloads(visitor, "cutting.csv", "plan.json", "all.zip"),
    )  # fmt: skip


def picture_key(layout: Layout) -> str:
    """Return a key that changes when a layout does, for ticks and for the picture's address."""
    return model_key(repr(layout).encode())[:12]


def _calipers(visitor: Visitor, plan: Plan) -> Markup:
    return h(
        "details",
        h("summary", "Caliper readings of the sheets in hand"),
        help_for("caliper"),
        caliper_forms(visitor, plan),
        data_key="calipers",
    )


def caliper_forms(visitor: Visitor, plan: Plan) -> list[Markup]:
    """Return where the thickness of each material is entered."""
    units: Unit = "in" if plan.job.units == "in" else "mm"
    shown = "14.6 mm" if units == "in" else "14.6 14.7"
    may = visitor.may_change()
    return [
        h(
            "form.cells",
            h("div.field.compact.wide",
              h("label", f"{row.material}, now {format_length(row.t, 'mm')} mm ({row.source})",
                for_=f"cal-{row.material}"),
              h("div.place", h("input", type="text", id=f"cal-{row.material}", name="readings",
                               placeholder=shown, inputmode="text", disabled=not may,
                               autocomplete="off"),
                h("span.unit", units))),
            h("button.quiet", "Add readings", type="submit", disabled=not may,
              aria_label=f"Add readings of {row.material}"),
            data_act="caliper",
            data_material=row.material,
            data_clear="1",
            data_key=f"cal-{row.material}",
        )
        for row in plan.design.thicknesses
    ]  # fmt: skip


def _layout(visitor: Visitor, plan: Plan, layout: Layout) -> Markup:
    key = picture_key(layout)
    ticks = visitor.house.benches.records.ticks(visitor.job)
    names = [f"{key}:{cut.order}" for cut in layout.cuts]
    done = sum(name in ticks for name in names)
    copies = f", {layout.copies} sheets alike" if layout.copies > 1 else ""
    title = f"Sheet {layout.number}: {layout.material}{copies}"
    source = f"{job_url(visitor.job, 'picture', f'layout-{layout.number}')}?v={key}"
    units: Unit = "in" if plan.job.units == "in" else "mm"
    return h(
        "section.sheet",
        h("h3", title),
        h("div.paper", h("img", src=source, alt=f"{title}: what lies where, and its cuts",
                         loading="lazy")),
        h(
            "details",
            h("summary", f"Cuts: {done} of {len(names)} done"),
            h(
                "ol.cuts",
                [
                    h(
                        "li",
                        tick(
                            f"{cut.order}. {cut.kind} at {format_length(cut.setting, units)} "
                            f"{units} → {', '.join(leaf.name or leaf.what for leaf in cut.leaves)}",
                            on=name in ticks,
                            act="tick-cut",
                            what=name,
                            enabled=visitor.can_edit,
                        ),
                    )
                    for cut, name in zip(layout.cuts, names, strict=True)
                ],
            ),
            data_key=f"cuts-{layout.number}",
        ),
        _corner_form(visitor, layout),
        data_key=f"layout-{layout.number}",
    )  # fmt: skip


def _corner_form(visitor: Visitor, layout: Layout) -> Markup:
    may, number = visitor.may_change(), layout.number
    units = visitor.units
    return h(
        "details",
        h("summary", "A corner of this sheet is damaged"),
        h(
            "form.cells",
            h("div.field", h("label", "Which corner", for_=f"corner-{number}"),
              h("select", [h("option", shown, value=key) for key, shown in _CORNERS],
                id=f"corner-{number}", name="corner", disabled=not may)),
            [
                h("div.field.compact", h("label", label, for_=f"{name}-{number}"),
                  h("div.place", h("input", type="text", id=f"{name}-{number}", name=name,
                                   disabled=not may, autocomplete="off"), h("span.unit", units)))
                for name, label in (("along", "along the sheet"), ("across", "across"))
            ],
            h("button.main", "Lay out anew", type="submit", disabled=not may),
            data_act="bad-corner",
            data_layout=number,
            data_clear="1",
        ),
        data_key=f"corner-{number}",
    )  # fmt: skip


def _parts(visitor: Visitor, plan: Plan) -> Markup:
    text = visitor.bench.text
    cut = done_marks(text, "cut")
    spoiled = {str(row.get("mark")) for row in visitor.at("spoiled") or []}
    units: Unit = "in" if plan.job.units == "in" else "mm"
    may = visitor.may_change()
    return h(
        "section",
        h("h3", "Parts"),
        h("p", "Tick a part off when it is cut: its size is written into the job file. A spoiled "
          "one is cut again."),
        h(
            "ul.parts",
            [
                h(
                    "li",
                    tick(
                        f"{part.mark} {part.name}, {format_length(part.length, units)} × "
                        f"{format_length(part.width, units)}, {part.quantity} of {part.material}",
                        on=part.mark in cut,
                        act="tick-part",
                        mark=part.mark,
                        enabled=may,
                    ),
                    small_button(
                        "Not spoiled" if part.mark in spoiled else "Spoiled",
                        "spoil",
                        mark=part.mark,
                        on="" if part.mark in spoiled else "1",
                        enabled=may,
                        style="quiet",
                        name=f"{part.mark} {'is not' if part.mark in spoiled else 'is'} spoiled",
                    ),
                    data_key=part.mark,
                )
                for part in plan.design.parts
            ],
        ),
    )  # fmt: skip


def _stock(plan: Plan, layout: Layout) -> StockUse:
    return next(
        use
        for use in plan.cutting.stock
        if (use.sheet, use.material) == (layout.sheet, layout.material)
    )


async def _tick_cut(visitor: Visitor, event: Event) -> None:
    if visitor.can_edit:
        visitor.house.benches.records.tick(visitor.job, event.data["what"], on=bool(event.value))
        await visitor.house.tell(visitor.job)


async def _tick_part(visitor: Visitor, event: Event) -> None:
    plan = visitor.house.shown_plan(visitor.bench)
    if plan is None:
        return
    part = plan.design.part(event.data["mark"])
    on = bool(event.value)
    edits = mark_done(visitor.bench.text, part, on=on)
    await visitor.edit(edits, event.seen, what=f"{part.mark} {'cut' if on else 'not cut'}")


async def _spoil(visitor: Visitor, event: Event) -> None:
    mark, on = event.data["mark"], bool(event.data.get("on"))
    edits = mark_spoiled(visitor.bench.text, mark, on=on)
    await visitor.edit(edits, event.seen, what=f"{mark} {'spoiled' if on else 'not spoiled'}")


async def _bad_corner(visitor: Visitor, event: Event) -> None:
    plan = visitor.house.shown_plan(visitor.bench)
    number = int(event.data["layout"])
    layout = next((x for x in plan.cutting.layouts if x.number == number), None) if plan else None
    if plan is None or layout is None:
        return
    units: Unit = "in" if plan.job.units == "in" else "mm"
    try:
        along = parse_length(event.values.get("along", ""), units=units)
        across = parse_length(event.values.get("across", ""), units=units)
    except JobError as error:
        visitor.notice = Notice(text=f"Say how large the damage is. {error}", kind="wrong")
        return
    edits = bad_corner(
        visitor.bench.text,
        _stock(plan, layout),
        corner=event.values.get("corner", ""),
        along_mm=along,
        across_mm=across,
    )
    await visitor.edit(edits, event.seen, what=f"damaged corner, sheet {number}")


async def _caliper(visitor: Visitor, event: Event) -> None:
    said = readings_in(event.values.get("readings", ""))
    if not said:
        return
    readings = [typed(each) for each in said]
    material = event.data["material"]
    edits = add_caliper(visitor.bench.text, material, readings)
    await visitor.edit(edits, event.seen, what=f"caliper, {material}: {' '.join(said)}")


ACTS = {
    "tick-cut": _tick_cut,
    "tick-part": _tick_part,
    "spoil": _spoil,
    "bad-corner": _bad_corner,
    "caliper": _caliper,
}
