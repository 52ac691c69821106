"""What the readings changed, told where they are entered: parts, shims, what is frozen, pages."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stowright.app.refit_view import RefitView
from stowright.app.study import model_key
from stowright.web.fields import small_button
from stowright.web.help_texts import help_for
from stowright.web.markup import Markup, h
from stowright.web.visitor import Event, Visitor
from stowright.web.work_parts import job_url, waiting

if TYPE_CHECKING:
    from stowright.app.refit_view import ChangedPart

__all__ = ["ACTS", "refit_part", "want_refit"]

_HEADS = ("Part", "Was", "Is now", "What", "Why")


def want_refit(visitor: Visitor) -> None:
    """Begin to fit what is still to be cut to what was read and cut, when that is not there."""
    house, bench = visitor.house, visitor.bench
    job = bench.study.job
    if job is None or not (job.readings or job.done or job.spoiled):
        return
    if house.made_of(bench, "refit") is None:
        house.want(bench, "refit", "The refit to what was read")


def refit_part(visitor: Visitor) -> Markup | None:
    """Return what was read and what follows from it; None while nothing was read or cut."""
    job = visitor.bench.study.job
    if job is None or not (job.readings or job.done or job.spoiled):
        return None
    found: RefitView | None = visitor.house.made_of(visitor.bench, "refit")
    return h(
        "section.card.refit",
        h("h3", "What the readings change"),
        help_for("refit"),
        _readings(visitor),
        waiting(visitor, "refit", "What is still to be cut is being fitted to what was read …")
        if found is None
        else _found(visitor, found),
        data_key="refit",
    )


def _readings(visitor: Visitor) -> Markup | None:
    rows = visitor.at("reading") or []
    if not rows:
        return None
    return h(
        "ul.parts",
        [
            h(
                "li",
                h("span", f"{_of(row)}: {' '.join(str(value) for value in row.get('values', ()))}"),
                small_button("Take back", "take-reading-back", path=f"reading[{place}]",
                             style="quiet", enabled=visitor.may_change(),
                             name=f"Take back: {_of(row)}"),
            )
            for place, row in enumerate(rows, start=1)
        ],
    )  # fmt: skip


def _of(row: dict[str, dict[str, str]]) -> str:
    of = row.get("of", {})
    return ", ".join(str(value).replace("-", " ") for value in of.values())


def _found(visitor: Visitor, found: RefitView) -> list[Markup | None]:
    if found.trouble:
        return [h("p.caution", f"It cannot be fitted. {found.trouble}"),
                h("p", "Take a reading back, or mend it at its step.")]  # fmt: skip
    return [
        h("ul.notes", [h("li.odd", line) for line in found.open]) if found.open else None,
        _table(visitor, found) if found.parts else h("p", "No part changes."),
        _shims(found),
        h("div", h("h4", "Cut parts that no longer serve"),
          h("ul", [h("li", line) for line in found.mended])) if found.mended else None,
        _frozen(found),
        h("details", h("summary", "Why"), h("ul", [h("li", line) for line in found.reasons]),
          data_key="refit-why") if found.reasons else None,
        _pages(visitor, found),
        h("p.small", "Undo at the top goes back a step; History goes back to any version."),
    ]  # fmt: skip


def _table(visitor: Visitor, found: RefitView) -> Markup:
    return h(
        "div.scroll",
        h(
            "table.changed",
            h("caption", f"Parts that change ({visitor.units})"),
            h("thead", h("tr", [h("th", head, scope="col") for head in _HEADS])),
            h("tbody", [_row(row) for row in found.parts]),
        ),
        tabindex="0",
        role="region",
        aria_label="Parts that change",
    )


def _row(row: ChangedPart) -> Markup:
    return h(
        "tr",
        h("th", h("span.mark", row.mark), f" {row.name}", scope="row"),
        h("td", row.old),
        h("td", h("strong", row.new)),
        h("td", row.what),
        h("td", row.why),
        data_key=row.mark,
    )


def _shims(found: RefitView) -> Markup | None:
    if not found.shims:
        return None
    heads = ("Opening", "Side", "Screws, from the face end", "Lay in")
    return h(
        "div.scroll",
        h(
            "table.shims",
            h("caption", "Shims behind the runners"),
            h("thead", h("tr", [h("th", head, scope="col") for head in heads])),
            h("tbody", [h("tr", [h("td", cell) for cell in row]) for row in found.shims]),
        ),
        tabindex="0",
        role="region",
        aria_label="Shims behind the runners",
    )


def _frozen(found: RefitView) -> Markup | None:
    if not found.frozen:
        return None
    other = [mark for mark, _, differs in found.frozen if differs]
    return h(
        "div",
        h("h4", "Frozen: cut or fitted, they keep their size"),
        h("p", ", ".join(f"{mark} ({stage})" for mark, stage, _ in found.frozen)),
        h("p", f"The plan alone would now give another size to: {', '.join(other)}.")
        if other
        else None,
    )


def _pages(visitor: Visitor, found: RefitView) -> Markup | None:
    if not found.sheet:
        return None
    return h(
        "div",
        h("p.downloads", h("a", "The changed pages only (PDF)", download=True,
                           href=job_url(visitor.job, "get", "changes.pdf"))),
        h(
            "details",
            h("summary", f"Drawings that change ({len(found.pictures)})"),
            [
                h("div.paper", h("img", loading="lazy", alt=f"Drawing of part {mark} as it is now",
                                 src=_source(visitor, mark, drawing)), data_key=f"changed-{mark}")
                for mark, drawing in found.pictures.items()
            ],
            data_key="changed-drawings",
        )
        if found.pictures
        else None,
    )  # fmt: skip


def _source(visitor: Visitor, mark: str, drawing: str) -> str:
    return f"{job_url(visitor.job, 'picture', f'changed-{mark}')}?v={model_key(drawing.encode())}"


async def _take_back(visitor: Visitor, event: Event) -> None:
    path = event.data["path"]
    row, whole = visitor.at(path), visitor.at("reading") or []
    if row not in whole:
        return
    what = f"{_of(row)}: reading taken back"
    await visitor.edit({"reading" if len(whole) == 1 else path: None}, event.seen, what=what)


ACTS = {"take-reading-back": _take_back}
