"""Install and hand over: where it is bolted, cautions, torque list, weighbridge slip, handover."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stowright.app.plan_mass import vehicle_data
from stowright.units import format_length, in_job_unit
from stowright.web.bay_sketch import anchor_sketch
from stowright.web.build_page import step_view
from stowright.web.fields import field, tick
from stowright.web.markup import Markup, h
from stowright.web.visitor import Event, Visitor
from stowright.web.work_parts import downloads, needed_plan

if TYPE_CHECKING:
    from stowright.model.design import AnchorPoint
    from stowright.model.plan import Plan

__all__ = ["ACTS", "install_page"]

_STAGES = ("install", "deck", "test")
_HANDOVER = (
    "every drawer and lid shown to the user, locks and latches tried",
    "the greatest load of each drawer told and written on it",
    "the way to take the unit out again shown",
    "the torque list and the date of the next check handed over",
    "the weighbridge slip handed over, axle limits told",
)


def install_page(visitor: Visitor) -> Markup:
    """Return the page."""
    plan = needed_plan(visitor, "Install and hand over")
    if isinstance(plan, Markup):
        return plan
    steps = [step for step in plan.making.steps if step.stage in _STAGES]
    return h(
        "div",
        step_view(visitor, plan, steps, heading="Install and hand over", note="install"),
        h(
            "div.form",
            _cautions(plan),
            _anchors(visitor, plan),
            _torque(visitor, plan),
            _weighbridge(visitor, plan),
            _handover(visitor, plan),
        ),
    )


def _cautions(plan: Plan) -> Markup:
    return h(
        "section",
        h("h3", "Cautions"),
        h("ul", [h("li.caution", line) for line in plan.making.cautions]),
    )


def _anchors(visitor: Visitor, plan: Plan) -> Markup:
    design = plan.design
    heads = ("Anchor", "From the tail", "Off the middle", "Surface", "Thread")
    return h(
        "section",
        h("h3", "Anchor plan"),
        h("p.caution", "Look behind before drilling: tank, pipes, cables, closed sections. Never "
          "share a belt or seat anchorage."),
        anchor_sketch(
            design.job.bay,
            tuple((a.x, a.y, a.id) for a in design.anchors if a.surface == "floor"),
        ),
        h(
            "div.scroll",
            h(
                "table.anchors",
                h(
                    "thead",
                    h(
                        "tr",
                        [h("th", head, scope="col") for head in heads],
                        [h("th.below", head, scope="col") for head in ("Bolt", "Note")],
                    ),
                ),
                h("tbody", [_anchor(visitor, anchor) for anchor in design.anchors]),
            ),
            tabindex="0",
            role="region",
            aria_label="Anchors",
        )
        if design.anchors
        else h("p", "No anchor is planned; see Prove for what that means."),
    )  # fmt: skip


def _anchor(visitor: Visitor, anchor: AnchorPoint) -> Markup:
    units = visitor.units
    side = "left" if anchor.y > 0 else "right"
    return h(
        "tr",
        h("th", anchor.id, scope="row"),
        h("td", format_length(anchor.x, units, with_unit=True)),
        h("td", f"{format_length(abs(anchor.y), units, with_unit=True)} {side}"),
        h("td", anchor.surface),
        h("td", anchor.thread),
        h("td.below", ", ".join(filter(None, (anchor.bolt, anchor.washer, anchor.plate)))),
        h("td.below", in_job_unit(anchor.existing or anchor.note, units)),
    )


def _torque(visitor: Visitor, plan: Plan) -> Markup:
    ticks = visitor.house.benches.records.ticks(visitor.job)
    rows = [
        h("li", tick(f"{anchor.id}: {anchor.bolt or anchor.thread or 'bolt'} tightened, marked with"
                     " paint", on=f"torque:{anchor.id}" in ticks, act="tick-torque",
                     what=f"torque:{anchor.id}", enabled=visitor.can_edit))
        for anchor in plan.design.anchors
    ]  # fmt: skip
    return h(
        "section",
        h("h3", "Torque list"),
        h("p", "Tighten to what the bolt's maker states; check again after the first 100 km and "
          "then at each service (common practice)."),
        h("ul.plain", rows) if rows else None,
    )  # fmt: skip


def _weighbridge(visitor: Visitor, plan: Plan) -> Markup:
    data = vehicle_data(plan.job, plan.design)
    rows = []
    if data is not None:
        for key, label in (("front_axle", "Front axle"), ("rear_axle", "Rear axle"),
                           ("total", "Total")):  # fmt: skip
            margin = data["margins"][key]
            left = "no limit given" if margin is None else f"{margin:.0f} kg to the limit"
            sizes = [h("td", f"{data[when][key]:.0f} kg") for when in ("before", "after")]
            rows.append(h("tr", h("th", label, scope="row"), sizes, h("td", left)))
    heads = ("Before", "Loaded, by sums", "Margin")
    return h(
        "section",
        h("h3", "Weighbridge slip"),
        h(
            "table",
            h("thead", h("tr", h("td"), [h("th", each, scope="col") for each in heads])),
            h("tbody", rows),
        )
        if rows
        else h("p", "Wheelbase, rear axle and axle masses are not given: nothing is told about "
                    "the axles."),
        h(
            "div.cells",
            field(visitor, "vehicle.weighed_after.front_axle", "Front axle, weighed after",
                  unit="kg"),
            field(visitor, "vehicle.weighed_after.rear_axle", "Rear axle, weighed after",
                  unit="kg"),
        ),
    )  # fmt: skip


def _handover(visitor: Visitor, plan: Plan) -> Markup:
    ticks = visitor.house.benches.records.ticks(visitor.job)
    return h(
        "section",
        h("h3", "Handover sheet"),
        h("p", f"{plan.job.title}; empty {plan.design.empty_kg:.1f} kg, contents "
          f"{plan.design.contents_kg:.1f} kg."),
        h("ul", [
            h("li", f"{opening.name}: contents as planned {opening.contents_kg:.1f} kg"
              + (f", runner rated {opening.runner.size.rating_kg:g} kg a pair"
                 if opening.runner else ""))
            for block in plan.design.blocks for opening in block.openings
        ]),
        h("ul.plain", [
            h("li", tick(line, on=f"handover:{line}" in ticks, act="tick-torque",
                         what=f"handover:{line}", enabled=visitor.can_edit))
            for line in _HANDOVER
        ]),
        h("h4", "To take it out again"),
        h("ol", [h("li", line) for line in plan.making.removal_order]),
        downloads(visitor, "book.pdf", "all.zip", "job.toml"),
    )  # fmt: skip


async def _tick(visitor: Visitor, event: Event) -> None:
    if visitor.can_edit:
        visitor.house.benches.records.tick(visitor.job, event.data["what"], on=bool(event.value))
        await visitor.house.tell(visitor.job)


ACTS = {"tick-torque": _tick}
