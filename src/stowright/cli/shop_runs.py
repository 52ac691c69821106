"""What the commands of ``stowright shop`` do."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from stowright.app.cut_list import stock_from_words
from stowright.app.files import write_file
from stowright.app.plain import json_text, plain
from stowright.app.planning import plan
from stowright.app.quoting import option_of
from stowright.app.shop_room import ShopRoom
from stowright.cli.reading import STDIN, catalogue_for, given_job, tell
from stowright.cli.show import say, show_table, show_warnings
from stowright.errors import FileConflictError, JobError, Mistake
from stowright.shop.figures import SHOP_FILE, STARTER

if TYPE_CHECKING:
    from stowright.model.catalogue import Catalogue
    from stowright.model.plan import Plan
    from stowright.model.quote import Quote, QuotedPart, ShopOption, Sum, Variation
    from stowright.shop.stockroom import Rack

__all__ = [
    "run_draw",
    "run_figures",
    "run_hours",
    "run_jobs",
    "run_price",
    "run_put",
    "run_quote",
    "run_rack",
    "run_take",
]


def run_figures(*, folder: str | None, force: bool) -> None:
    """Write the shop's file to fill in, or show what stands in it."""
    path = Path(folder or ".") / SHOP_FILE
    if force or not path.exists():
        write_file(path, STARTER.encode())
        say(f"{path} is written: fill in hour_rate and what you need of the rest")
        return
    with _room(folder) as room:
        found = room.figures()
    show_table(
        str(path), ("figure", "value"),
        [(key, str(value)) for key, value in plain(found).items() if value and key != "assumed"],
    )  # fmt: skip
    for what, why in found.assumed:
        say(f"not given: {what}: {why}")


def run_rack(*, folder: str | None, as_json: bool) -> None:
    """List what is on the rack."""
    with _room(folder) as room:
        rows = room.rack.rows()
    if as_json:
        click.echo(json_text(plain(rows)), nl=False)
    elif not rows:
        say("the rack is empty")
    else:
        heads = ("id", "material", ">length", ">width", ">how many", ">worth", "what it is")
        show_table("Rack", heads, [_rack_row(row) for row in rows])


def run_put(
    *, material: str, sheet: str, offcut: bool, folder: str | None, catalogue_file: str | None
) -> None:
    """Put sheets on the rack."""
    shelf = _shop_shelf(folder, catalogue_file)
    (given,) = stock_from_words((sheet,))
    with _room(folder) as room:
        kept = room.put(
            shelf,
            material,
            (given.length, given.width),
            copies=1 if given.copies is None else given.copies,
            price=given.price,
            offcut=offcut,
        )
    say(f"{kept.id}: {kept.material}, {kept.length:g} × {kept.width:g}, {kept.copies} there now; "
        "write the id on what is new")  # fmt: skip


def _shop_shelf(folder: str | None, catalogue_file: str | None) -> Catalogue:
    return catalogue_for(str(Path(folder or ".") / SHOP_FILE), catalogue_file)


def run_take(*, sheet: str, count: int, folder: str | None) -> None:
    """Take sheets off the rack."""
    with _room(folder) as room:
        room.rack.take(sheet, count)
        left = {row.id: row.copies for row in room.rack.rows()}.get(sheet, 0)
    say(f"{sheet}: {left} left")


def run_draw(
    *, job: str, done: bool, as_json: bool, folder: str | None, catalogue_file: str | None
) -> None:
    """Lay a job out on the rack, and take what it uses when it is cut."""
    with _room(folder, job) as room:
        made = _planned(job, catalogue_file, rack=room)
        drawn = room.draw(made, name=_name(job), credit=_credit(room))
        back = room.rack.draw(drawn) if done else drawn.back
    bought = [use for use in made.cutting.stock if use.origin == "buy" and use.used]
    if as_json:
        data = {
            "taken": dict(drawn.taken),
            "bought": {use.name: use.used for use in bought},
            "back": back,
            "done": done,
        }
        click.echo(json_text(plain(data)), nl=False)
        return
    taken = [(f"{id_} of the rack", str(count)) for id_, count in drawn.taken]
    show_table("Sheets", ("sheet", ">how many"), [*taken, *((u.name, str(u.used)) for u in bought)])
    if back:
        heads = ("id", "material", ">length", ">width", ">how many", ">worth", "what it is")
        show_table("Offcuts that come back", heads, [_rack_row(row) for row in back])
    say("taken off the rack, offcuts put on: write their ids on them" if done
        else "nothing is changed yet: --done when it is cut")  # fmt: skip


def run_price(
    *, name: str | None, amount: float | None, own: bool, forget: bool, folder: str | None,
    as_json: bool, catalogue_file: str | None,
) -> None:  # fmt: skip
    """List own prices, keep one, or take one away."""
    with _room(folder) as room:
        if name is not None and (forget or amount is not None):
            shelf = None if own else _shop_shelf(folder, catalogue_file)
            room.keep_price(name, None if forget else amount, shelf=shelf)
        elif name is not None:
            allowed = "an amount behind the name, or --forget"
            raise JobError((Mistake(field="amount", found="nothing", allowed=allowed),))
        rows = room.prices()
    if as_json:
        click.echo(json_text(rows), nl=False)
    elif not rows:
        say("no own prices are kept")
    else:
        show_table("Own prices", ("what", ">price"), [(n, f"{p:.2f}") for n, p in rows.items()])


def run_hours(
    *, job: str, task: str | None, took: float | None, folder: str | None, as_json: bool,
    catalogue_file: str | None,
) -> None:  # fmt: skip
    """Show expected and tracked hours, or keep what a task took."""
    with _room(folder, job) as room:
        made = _planned(job, catalogue_file)
        if task is not None:
            if took is None:
                allowed = "hours behind the task"
                raise JobError((Mistake(field="hours", found="nothing", allowed=allowed),))
            room.keep_hours(made, task, took, name=_name(job))
        tracked = {r.task: r.took for r in room.ledger.worked() if r.job == _name(job)}
        expected = made.making.tasks
    if as_json:
        rows = [
            {
                "task": t.what,
                "expected": t.hours_shop,
                "took": tracked.get(t.what),
                "basis": t.basis,
            }
            for t in expected
        ]
        click.echo(json_text(rows), nl=False)
        return
    shown = [
        (
            t.what,
            f"{t.hours_shop:.1f}",
            f"{tracked[t.what]:.1f}" if t.what in tracked else "",
            t.basis,
        )
        for t in expected
    ]
    show_table("Hours", ("task", ">expected", ">took", "basis of what is expected"), shown)


def run_quote(
    *, job: str, customer: str, vehicle: str, others: tuple[str, ...], since: int | None,
    keep: bool, target: str | None, force: bool, date: str, paper: Any, ink: Any,
    folder: str | None, as_json: bool, catalogue_file: str | None,
) -> None:  # fmt: skip
    """Quote a job, or price a change to it."""
    if target is not None and Path(target).exists() and not force:
        raise FileConflictError(target)
    with _room(folder, job) as room:
        room.figures()  # its mistakes are told before the work begins
        made = _planned(job, catalogue_file)
        name = _name(job)
        offer = room.quote(made, name=name, customer=customer, vehicle=vehicle)
        options = tuple(_option(room, offer, other, catalogue_file) for other in others)
        offer = replace(offer, options=options)
        if since is not None:
            change = room.variation(offer, name=name, number=since)
            page = _change_page(change, offer, made, date=date, paper=paper, ink=ink)
            data = plain(change)
        else:
            change = None
            number = room.keep(offer, name=name) if keep else None
            page = _quote_page(offer, made, number, date=date, paper=paper, ink=ink)
            data = plain(offer) | {"number": number}
    if target is not None:
        write_file(Path(target), page())
    if as_json:
        click.echo(json_text(data), nl=False)
    elif change is not None:
        _show_change(change)
    else:
        _show_quote(offer)
        if number is not None:
            say(f"kept as quote {number}")
    if target is not None and not as_json:
        say(f"{target} is written")


def run_jobs(*, folder: str | None, as_json: bool) -> None:
    """List the jobs with quotes or hours."""
    with _room(folder) as room:
        rows = room.jobs()
    if as_json:
        click.echo(json_text(plain(rows)), nl=False)
    elif not rows:
        say("no job was quoted or tracked yet")
    else:
        shown = [
            (row.name, str(row.quotes), "" if row.price is None else f"{row.price:.2f}",
             f"{row.quoted:.1f}", f"{row.took:.1f}") for row in rows
        ]  # fmt: skip
        heads = ("job", ">quotes", ">last price", ">h quoted for what is tracked", ">h tracked")
        show_table("Jobs", heads, shown)


@contextmanager
def _room(folder: str | None, job: str = STDIN) -> Iterator[ShopRoom]:
    if folder is None:
        folder = "." if job == STDIN else str(Path(job).parent)
    room = ShopRoom(Path(folder))
    try:
        yield room
    finally:
        room.close()


def _planned(job: str, catalogue_file: str | None, *, rack: ShopRoom | None = None) -> Plan:
    """Return the plan of a job; only what is cut now is laid out on the rack.

    A quote charges whole sheets as they are bought, so that it does not change with the rack.
    """
    asked, shelf = given_job(job, catalogue_file)
    made = plan(rack.on_rack(asked) if rack else asked, catalogue=shelf, progress=tell)
    show_warnings(made.design.warnings)
    return made


def _option(room: ShopRoom, offer: Quote, path: str, catalogue_file: str | None) -> ShopOption:
    other = room.quote(_planned(path, catalogue_file), name=_name(path))
    return option_of(offer, other)


def _quote_page(
    offer: Quote, made: Plan, number: int | None, **options: Any
) -> Callable[[], bytes]:
    def page() -> bytes:
        from stowright.book.quote_sheet import make_quote_sheet

        return make_quote_sheet(offer, made.design, number=number, **options)

    return page


def _change_page(
    change: Variation, offer: Quote, made: Plan, **options: Any
) -> Callable[[], bytes]:
    def page() -> bytes:
        from stowright.book.quote_sheet import make_variation_sheet

        return make_variation_sheet(change, offer, units=made.job.units, **options)

    return page


def _show_quote(offer: Quote) -> None:
    show_table(
        "Hours", ("task", ">hours", "basis"),
        [(row.what, f"{row.hours:.1f}", row.basis) for row in offer.hours],
    )  # fmt: skip
    _show_sums(offer.title, offer.sums, offer.price_word, offer.price)
    for row in offer.options:
        say(f"instead {row.title}: {row.difference:+.2f}, {row.mass_kg:+.1f} kg")
    for words, amount in offer.payments:
        say(f"{words}: {amount:.2f}")
    for what, why in offer.figures.assumed:
        say(f"not given in {SHOP_FILE}: {what}: {why}")
    for line in offer.findings:
        say(line)
    _show_unpriced(offer.without_price)


def _show_change(change: Variation) -> None:
    show_table(
        f"Change since {change.since}", ("what", ">change"),
        [
            *(_part_told(old, new) for old, new in change.parts),
            *((name, f"{amount:+g}") for name, amount in change.goods),
            *((task, f"{hours:+.1f} h") for task, hours in change.hours),
            ("empty mass", f"{change.mass_kg:+.1f} kg"),
        ],
    )  # fmt: skip
    _show_sums("Price of the change", change.sums, "this change", change.price)
    _show_unpriced(change.without_price)


def _part_told(old: QuotedPart | None, new: QuotedPart | None) -> tuple[str, str]:
    name = "".join(dict.fromkeys(part.name for part in (old, new) if part is not None))
    sizes = ["none" if part is None else _part_size(part) for part in (old, new)]
    return (name, " → ".join(sizes))


def _part_size(part: QuotedPart) -> str:
    return f"{part.quantity} of {part.length:g} × {part.width:g} × {part.thickness:g}"


def _show_sums(title: str, sums: tuple[Sum, ...], last: str, price: float) -> None:
    rows = [(f"{row.what}: {row.how}", f"{row.amount:.2f}") for row in sums]
    show_table(title, ("sum", ">amount"), [*rows, (last, f"{price:.2f}")])


def _show_unpriced(names: tuple[str, ...]) -> None:
    if names:
        say(f"without a price, so the price is not fixed yet: {', '.join(names)}")


def _rack_row(row: Rack) -> tuple[str, ...]:
    what = f"offcut of {row.came_from}" if row.came_from else "offcut" if row.offcut else "sheet"
    worth = "" if row.price is None else f"{row.price:.2f}"
    sizes = (f"{row.length:g}", f"{row.width:g}", str(row.copies))
    return (row.id, row.material, *sizes, worth, what)


def _credit(room: ShopRoom) -> float:
    """Return what share of its sheet an offcut is worth; none where there are no figures yet."""
    return room.figures().offcut_credit if (room.folder / SHOP_FILE).is_file() else 0.0


def _name(job: str) -> str:
    return "job" if job == STDIN else Path(job).stem
