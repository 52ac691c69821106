"""A plan with a shop's figures: what the job is offered for, and what a change to it costs."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stowright.app.buying import buying
from stowright.app.plan_mass import vehicle_data
from stowright.book.stamp import stamp_of
from stowright.model.quote import Good, HoursRow, Quote, QuotedPart, ShopOption
from stowright.shop.pricing import own_hours, payments, price_up
from stowright.shop.stockroom import draw_of
from stowright.units import format_length

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from stowright.model.design import BlockDesign, Design, OpeningDesign
    from stowright.model.plan import Plan
    from stowright.model.quote import ShopFigures

__all__ = ["option_of", "quote_of", "sheet_prices"]

_AXLES = (
    ("front_axle", "front axle"),
    ("rear_axle", "rear axle"),
    ("total", "whole vehicle"),
)


def quote_of(
    plan: Plan,
    figures: ShopFigures,
    *,
    prices: Mapping[str, float],
    past: tuple[tuple[str, float, float], ...] = (),
    customer: str = "",
    vehicle: str = "",
    options: tuple[ShopOption, ...] = (),
) -> Quote:
    """Return the quote for a plan.

    Args:
        plan: The plan of the job.
        figures: The shop's own figures.
        prices: The shop's own prices by name; they go before those of the catalogue.
        past: Task, hours estimated and hours tracked, of finished jobs. [h]
        customer: Who it is for; the job's own client when empty.
        vehicle: Which vehicle.
        options: What other forms of the job would cost.
    """
    goods = _goods(plan, prices)
    hours = _hours(plan, past)
    sums, price = price_up(figures, goods, hours, credit=_credit(plan, figures, prices))
    design = plan.design
    return Quote(
        job=stamp_of(plan.job).text,
        title=plan.job.title,
        customer=customer or plan.job.client,
        vehicle=vehicle,
        scope=_scope(plan),
        goods=goods,
        hours=hours,
        sums=sums,
        price=price,
        without_price=tuple(good.name for good in goods if good.total is None),
        payments=payments(figures, price),
        mass_kg=design.empty_kg,
        axles=_axles(plan),
        findings=_open_findings(plan),
        parts=tuple(
            QuotedPart(
                mark=part.mark,
                name=part.name,
                material=part.material,
                length=part.length,
                width=part.width,
                thickness=part.thickness,
                quantity=part.quantity,
            )
            for part in design.parts
        ),
        figures=figures,
        options=options,
    )


def option_of(quote: Quote, other: Quote) -> ShopOption:
    """Return what another form of a job costs more, and what it weighs more."""
    return ShopOption(
        title=other.title,
        difference=round(other.price - quote.price, 2),
        mass_kg=other.mass_kg - quote.mass_kg,
    )


def sheet_prices(plan: Plan, prices: Mapping[str, float]) -> dict[str, float]:
    """Return what one of each sheet in use costs, by its id; those without a price are left out."""
    found = {}
    for use in plan.cutting.stock:
        price = prices.get(use.name or use.sheet, use.price)
        if price is not None:
            found[use.sheet] = price
    return found


def _goods(plan: Plan, prices: Mapping[str, float]) -> tuple[Good, ...]:
    costs = sheet_prices(plan, prices)
    in_hand = [
        Good(
            name=f"{use.material}, {use.length:g} × {use.width:g}",
            group="sheets",
            get=f"{use.used} sheet{'' if use.used == 1 else 's'} in hand",
            amount=use.used,
            price=costs.get(use.sheet),
            total=round(costs[use.sheet] * use.used, 2) if use.sheet in costs else None,
            origin="in hand",
        )
        for use in plan.cutting.stock
        if use.used and use.origin != "buy"
    ]
    bought = [
        Good(
            name=row.name,
            group=row.group,
            get=row.get,
            amount=row.amount,
            price=row.price,
            total=row.total,
        )
        for row in buying(plan, prices).rows
    ]
    return (*in_hand, *bought)


def _credit(plan: Plan, figures: ShopFigures, prices: Mapping[str, float]) -> float:
    if not figures.offcut_credit:
        return 0.0
    costs = sheet_prices(plan, prices)
    draw = draw_of(plan.cutting, job="", credit=figures.offcut_credit, prices=costs)
    return sum(piece.price or 0.0 for piece in draw.back)


def _hours(plan: Plan, past: tuple[tuple[str, float, float], ...]) -> tuple[HoursRow, ...]:
    tasks = plan.making.tasks
    own = own_hours({task.what: task.hours_shop for task in tasks}, past)
    rows = []
    for task in tasks:
        if task.what in own:
            hours, jobs = own[task.what]
            basis = f"own hours of {jobs} job{'' if jobs == 1 else 's'}"
        else:
            hours, basis = task.hours_shop, task.basis
        rows.append(HoursRow(what=task.what, hours=hours, basis=basis))
    return tuple(rows)


def _scope(plan: Plan) -> tuple[str, ...]:
    """Return what is built, a line each, in the words of the trade."""
    design = plan.design
    rows = [line for block in design.blocks for line in _block_scope(design, block)]
    wings = sum(placed.role in {"wing", "wing-lid"} for placed in design.placed)
    decks = [deck.name for deck in design.job.decks]
    if decks:
        rows.append(f"deck: {', '.join(decks)}")
    if wings:
        rows.append(f"side wings and lids: {wings} pieces, scribed to the vehicle")
    materials = dict.fromkeys(part.material for part in design.parts)
    rows.append(f"sheets: {', '.join(materials)}; finish: {design.job.build.finish}")
    anchors = len(design.anchors)
    rows.append(f"{anchors} anchor points to the vehicle" if anchors else "not anchored")
    rows.append("plan book, drawer labels and handover sheet with limits and re-torque dates")
    return tuple(rows)


def _block_scope(design: Design, block: BlockDesign) -> Iterable[str]:
    units = design.job.units
    size = " × ".join(
        format_length(axis.size, units) for axis in (block.box.x, block.box.y, block.box.z)
    )
    yield f"{block.name}: {size} (along, across, high), opens to the {block.face}"
    for opening in block.openings:
        yield f"{opening.name}: {_opening_scope(design, opening)}"


def _opening_scope(design: Design, opening: OpeningDesign) -> str:
    units = design.job.units
    if opening.box is not None:
        inside = opening.usable
        sizes = (inside.x.size, inside.y.size, inside.z.size)
        size = " × ".join(format_length(side, units) for side in sizes)
        words = f"{opening.fill}, inside {size}"
    else:
        sizes = (opening.width, opening.height, opening.depth)
        size = " × ".join(format_length(side, units) for side in sizes)
        words = f"{opening.fill}, {size}"
    if opening.runner is None:
        return words
    return f"{words}, on {opening.runner.runner.name} runners"


def _axles(plan: Plan) -> tuple[tuple[str, float, float | None], ...]:
    data = vehicle_data(plan.job, plan.design)
    if data is None:
        return ()
    change, margins = data["unit_change"], data["case_margins"]
    return tuple((words, float(change[key]), margins[key]) for key, words in _AXLES)


def _open_findings(plan: Plan) -> tuple[str, ...]:
    """Return what fails, a line each, and how many things are not proved."""
    rows = [
        f"fails: {found.title} ({found.about})" if found.about else f"fails: {found.title}"
        for found in plan.findings
        if found.status == "fail"
    ]
    open_ = sum(found.status == "not proved" for found in plan.findings)
    if open_:
        rows.append(f"{open_} things are not proved: see the book")
    return tuple(rows)
