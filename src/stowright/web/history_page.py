"""History and the job file itself: versions to look back on, the text to look at and to mend."""

from __future__ import annotations

import asyncio

from stowright.errors import JobError
from stowright.web.fields import small_button
from stowright.web.markup import Markup, h
from stowright.web.visitor import Event, Notice, Visitor
from stowright.web.work_parts import downloads

__all__ = ["ACTS", "history_page", "locked_page"]

_SHOWN = 100


def history_page(visitor: Visitor) -> Markup:
    """Return the page."""
    bench = visitor.bench
    versions = bench.records.versions(visitor.job, most=_SHOWN)
    return h(
        "div.form",
        h("h2", "History and file"),
        h("p.lead", "Every change is kept. Any version can stand again; nothing is lost by it."),
        h(
            "ol.versions",
            [
                h(
                    "li",
                    h("span.mark", f"{version.number}"),
                    h("span", version.what, h("span.small", f"{version.made} UTC"
                      + (f", {version.who}" if version.who else ""))),
                    h("strong", "stands now")
                    if version.number == bench.number
                    else small_button("Let it stand", "restore", number=version.number,
                                      enabled=visitor.can_edit, style="quiet",
                                      name=f"Let version {version.number} stand"),
                    data_key=f"v{version.number}",
                )
                for version in versions
            ],
        ),
        _text(visitor),
        downloads(visitor, "job.toml", "book.pdf", "plan.json", "cutting.csv", "unit.glb",
                  "all.zip"),
    )  # fmt: skip


def locked_page(visitor: Visitor) -> Markup:
    """Return what is shown of a job that can only be looked at."""
    mistakes = visitor.bench.locked
    newer = any("newer release" in mistake.found for mistake in mistakes)
    good = visitor.bench.last_good()
    return h(
        "div.form",
        h("h2", "This job can only be looked at"),
        h("p", "It was written by a newer release of this program; this one would spoil it."
          if newer else "Its file has mistakes, so nothing is planned from it. Mend them below, or "
          "in an editor: the page takes it up at once."),
        h("ul.mistakes", [h("li", str(mistake)) for mistake in mistakes[:50]]),
        h("p", f"The last version that was in order is number {good.number}, of {good.made} UTC: "
          f"{good.what}.") if good else h("p", "No version in order is known."),
        small_button("Let the last good version stand", "restore", number=good.number,
                     enabled=visitor.can_edit, style="main") if good else None,
        _text(visitor),
    )  # fmt: skip


def _text(visitor: Visitor) -> Markup:
    kept = visitor.chosen.get("file-text")
    return h(
        "details",
        h("summary", "The job file as it is written"),
        h(
            "form",
            h("label", "Job file", for_="file-text"),
            h("textarea", kept if kept is not None else visitor.bench.text, id="file-text",
              name="text", rows=22, spellcheck="false", data_key="file-text",
              disabled=not visitor.can_edit),
            h("div.row", h("button", "Check and save", type="submit",
                           disabled=not visitor.can_edit)),
            data_act="save-text",
        ),
        data_key="text",
        open=bool(visitor.bench.locked),
    )  # fmt: skip


async def _restore(visitor: Visitor, event: Event) -> None:
    if visitor.can_edit and event.data.get("number", "").isdigit():
        _let_go(visitor)
        number = int(event.data["number"])
        await asyncio.to_thread(visitor.bench.restore, number, who=visitor.who)
        await visitor.house.tell(visitor.job)


async def _save_text(visitor: Visitor, event: Event) -> None:
    if not visitor.can_edit:
        return
    text = event.values.get("text", "").replace("\r\n", "\n")
    visitor.chosen["file-text"] = text
    # what was refused and is mended now still comes from the version that it was typed over
    seen = int(visitor.chosen.pop("file-seen", event.seen))
    try:
        await visitor.replace(text, seen, what="edited as text")
    except JobError as error:
        visitor.chosen["file-seen"] = str(seen)
        visitor.notice = Notice(text=f"Not saved. {error}", kind="wrong")
        return
    _let_go(visitor)
    visitor.notice = Notice(text="Saved.")


def _let_go(visitor: Visitor) -> None:
    """Show the job file as it stands again."""
    for name in ("file-text", "file-seen"):
        visitor.chosen.pop(name, None)


ACTS = {"restore": _restore, "save-text": _save_text}
