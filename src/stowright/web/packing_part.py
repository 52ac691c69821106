"""What lies where: a plan of each opening, its masses, and what found no place."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

from stowright.app.packing_view import packed_openings
from stowright.app.study import model_key
from stowright.web.fields import small_button
from stowright.web.help_texts import help_for
from stowright.web.markup import Markup, h
from stowright.web.visitor import Event, Visitor
from stowright.web.work_parts import job_url

if TYPE_CHECKING:
    from stowright.app.study import Study

__all__ = ["ACTS", "packing_key", "packing_part"]


def packing_key(text: str) -> str:
    """Return the name that the packing of a job file has in addresses."""
    return model_key(text.encode())[:12]


def packing_part(visitor: Visitor) -> Markup | None:
    """Return where the list lies; while it is packed anew, where it lay."""
    study, packed = visitor.bench.study, visitor.bench.last_settled
    if study.design is None or not study.job or not study.job.carry:
        return None
    return h(
        "section",
        h("h3", "What lies where"),
        help_for("packing"),
        _going_on(visitor, study),
        _packing(visitor, packed) if packed is not None else None,
        data_key="packing",
    )


def _going_on(visitor: Visitor, study: Study) -> Markup | None:
    """Say that the load is being packed, with a way to stop, or that it is not."""
    if study.settled:
        return None
    house, bench = visitor.house, visitor.bench
    if bench.text not in house.unsettled:
        told = house.packing.get(bench.name, "starting")
        words = f"Packing the load: {told.removeprefix('packing the load: ')}"
        return h(
            "div.work",
            _bar(words),
            h("span", f"{words} …"),
            small_button("Stop packing", "stop-packing", style="quiet", enabled=visitor.can_edit),
            role="status",
            data_key="packing-work",
        )
    return h(
        "div.work",
        h("span", "The load is not packed."),
        small_button("Pack it", "pack", style="main", enabled=visitor.can_edit),
        data_key="packing-work",
    )


def _bar(words: str) -> Markup:
    """Return how far the packing is, as far as its words tell."""
    share = re.search(r"(\d+) %$", words)
    if share is None:
        return h("progress", aria_label="Packing the load")
    return h("progress", value=int(share[1]), max=100, aria_label="Packing the load")


def _packing(visitor: Visitor, study: Study) -> list[Markup | None]:
    design = study.design
    if design is None or design.packed is None:
        return [h("p", "Nothing was packed: there are no openings.")]
    left = design.packed.left_out
    earlier = study.text != visitor.bench.text
    return [
        h("p.notice", "This is where things lay before the last change.", role="status")
        if earlier
        else None,
        h(
            "div.card.wrong",
            h("h4", "What found no place"),
            h("ul", [h("li", h("strong", f"{row.copies} × {row.what}: "), row.why)
                     for row in left]),
            role="status",
            data_key="left-out",
        )
        if left
        else h("p", h("span.sign.is-pass", "✓", aria_hidden="true"), " Everything has a place."),
        h(
            "div.packed",
            [
                _opening(visitor, place, row, packing_key(study.text))
                for place, row in enumerate(packed_openings(design))
            ],
        ),
    ]  # fmt: skip


def _opening(visitor: Visitor, place: int, row: dict[str, Any], key: str) -> Markup:
    name = row["name"]
    words = f"Plan of {name}, layer by layer, the face below; the numbers are in the list"
    return h(
        "section.card",
        h("h4", name),
        h("p", h("strong", row["contents"]), " of contents, ", h("strong", row["gross"]),
          " with what moves", f"; runners rated {row['rated']}" if row["rated"] else "", "."),
        h("div.paper", h("img", alt=words, loading="lazy",
                         src=job_url(visitor.job, "picture", f"packing-{key}-{place}"))),
        h(
            "details",
            h("summary", f"List ({len(row['things'])})"),
            h(
                "div.scroll",
                h(
                    "table",
                    h("thead", h("tr", [h("th", head, scope="col") for head in
                                        ("No.", "Thing", f"Size, {visitor.units}", "Mass", "")])),
                    h("tbody", [
                        h("tr", h("td", number), h("th", what, scope="row"), h("td", size),
                          h("td", mass), h("td", note))
                        for number, what, size, _, mass, note in row["things"]
                    ]),
                ),
                tabindex="0", role="region", aria_label=f"What lies in {name}",
            ),
            data_key=f"packed-list-{name}",
        ),
        data_key=f"packed-{name}",
    )  # fmt: skip


async def _stop(visitor: Visitor, _: Event) -> None:
    if visitor.can_edit:
        visitor.house.stop_settling(visitor.bench)
        visitor.house.tell_others(visitor.job, visitor.number)


async def _pack(visitor: Visitor, _: Event) -> None:
    if visitor.can_edit:
        await visitor.house.settle_again(visitor.bench)


ACTS = {"stop-packing": _stop, "pack": _pack}
