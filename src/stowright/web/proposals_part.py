"""Proposals on the page Arrange: cards with a picture and numbers, to be taken or left."""

from __future__ import annotations

import asyncio
from typing import TYPE_CHECKING

from stowright.app.study import model_key
from stowright.web.fields import small_button
from stowright.web.markup import Markup, h
from stowright.web.visitor import Event, Notice, Visitor
from stowright.web.work_parts import job_url

if TYPE_CHECKING:
    from stowright.app.proposals import Proposal, Proposals

__all__ = ["ACTS", "proposals_of", "proposals_part"]


def proposals_part(visitor: Visitor) -> Markup:
    """Return the proposals there are, or the way to have some made."""
    found = proposals_of(visitor)
    return h(
        "details.proposals",
        h("summary", f"Proposals ({len(found.rows)})" if found else "Proposals"),
        h("p", "Many arrangements for this bay and load are tried and proved; a few that no other "
          "beats are shown. It takes up to a minute and a half and can be stopped with the best "
          "so far. What you have now stays until you take one, and Undo brings it back."),
        small_button("Look again" if found else "Look for proposals", "propose", style="main",
                     enabled=visitor.may_change() and visitor.job not in visitor.house.running),
        _cards(visitor, found) if found else None,
        data_key="proposals",
    )  # fmt: skip


def proposals_of(visitor: Visitor) -> Proposals | None:
    """Return the newest proposals that were made for the job."""
    kept: Proposals | None = visitor.house.files.get(("proposals", visitor.job))
    return kept


def _cards(visitor: Visitor, found: Proposals) -> Markup:
    refused = "; ".join(found.refused)
    return h(
        "div",
        h("p.small", found.told, f" Why others do not serve: {refused}." if refused else ""),
        h(
            "p",
            "There is nothing to show: it was ended before a first set stood, or the bay and "
            "the load leave no room.",
        )
        if not found.rows
        else None,
        h("div.cards", [_card(visitor, each, k) for k, each in enumerate(found.rows)]),
    )


def _card(visitor: Visitor, proposal: Proposal, place: int) -> Markup:
    source = job_url(visitor.job, "picture", f"proposal-{place}")
    return h(
        "article.card",
        h("div.paper", h("img", src=f"{source}?v={model_key(proposal.picture.encode())}",
                         alt=f"Proposal: {proposal.name}", loading="lazy")),
        h("h4", proposal.name),
        h("p", h("strong", ", ".join(proposal.best_at))) if proposal.best_at else None,
        h("p.small", f"for it: {', '.join(proposal.gives_up)}") if proposal.gives_up else None,
        h("dl", [[h("dt", what), h("dd", said)] for what, said in proposal.numbers]),
        small_button("Take this one", "take-proposal", place=place, style="main",
                     enabled=visitor.may_change(), name=f"Take {proposal.name}"),
        data_key=f"proposal-{place}",
    )  # fmt: skip


async def _propose(visitor: Visitor, _: Event) -> None:
    if not visitor.may_change():
        return
    house, bench = visitor.house, visitor.bench
    house.files.pop(("proposals", visitor.job), None)
    going = house.running.get(visitor.job)
    if going is not None:  # what pages had made for themselves is made again when it is wanted
        house.stop(visitor.job)
        await asyncio.wait({going})
    if visitor.job not in house.running:
        house.works.pop(visitor.job, None)
        house.begin(bench, house.task(bench, "proposals"), "Proposals")
        house.want_again(visitor.job)
    else:
        words = "Something else is worked out for this job: stop it, or ask again when it is done."
        visitor.notice = Notice(text=words, kind="wrong")
    await house.tell(visitor.job)


async def _take(visitor: Visitor, event: Event) -> None:
    found, place = proposals_of(visitor), event.data.get("place", "")
    if found is None or not place.isdigit() or int(place) >= len(found.rows):
        return
    chosen = found.rows[int(place)]
    if await visitor.edit(chosen.edits, event.seen, what=f"proposal taken: {chosen.name}"):
        visitor.notice = Notice(text=f"Taken: {chosen.name}. Undo brings back what was.")


ACTS = {"propose": _propose, "take-proposal": _take}
