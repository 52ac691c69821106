"""The list of jobs: new ones from each kind of bay, an example, open, copy, put aside, share."""

from __future__ import annotations

import asyncio
from datetime import UTC, datetime
from typing import TYPE_CHECKING

from stowright.app.examples import KIND_NOTES, example_text, new_text
from stowright.errors import JobError
from stowright.web.carry_page import MOST_UPLOAD
from stowright.web.fields import small_button
from stowright.web.kind_sketches import kind_sketch
from stowright.web.markup import Markup, h
from stowright.web.sharing import qr_svg
from stowright.web.visitor import Event, Notice, Visitor
from stowright.web.work_parts import job_url

if TYPE_CHECKING:
    from stowright.app.jobs_folder import JobEntry
    from stowright.units import Unit

__all__ = ["ACTS", "jobs_page"]


def jobs_page(visitor: Visitor) -> Markup:
    """Return the page."""
    entries = visitor.house.benches.folder.entries()
    return h(
        "div.two",
        h(
            "div.form",
            h("h1", "Jobs") if entries else _welcome(),
            h("ul.jobs", [_entry(visitor, entry) for entry in entries]) if entries else None,
            (_fresh(visitor), _open_file(visitor)) if visitor.can_edit else None,
        ),
        h("aside.beside", _sharing(visitor), _folder(visitor), aria_label="This workshop"),
    )


def _welcome() -> Markup:
    stages = (
        ("Measure", "read the bay, see it drawn, be asked about odd readings"),
        ("Carry", "list what goes in"),
        ("Arrange", "drawers, trays, deck and wings, in three dimensions at once"),
        ("Prove", "what holds, what does not, and what would mend it"),
        ("Cut, Buy, Build", "sheets with numbered cuts, lists in packs, steps with hold points"),
        ("Install", "anchor plan, weighbridge slip, handover"),
    )
    return h(
        "div",
        h("h1", "From a tape measure to a plan book"),
        h("p.lead", "Measure a load bay, say what has to go in, and take away drawings, sheet "
          "layouts and a book that a person can build from. Everything stays on this machine."),
        h("ol.path", [h("li", h("strong", name), f": {text}") for name, text in stages]),
    )  # fmt: skip


def _entry(visitor: Visitor, entry: JobEntry) -> Markup:
    when = datetime.fromtimestamp(entry.changed, UTC).astimezone().strftime("%d %b %Y, %H:%M")
    may = visitor.can_edit
    return h(
        "li",
        h("a", h("strong", entry.title), h("span.small", f"{entry.name}.toml · {when}"),
          href=job_url(entry.name, "measure"), data_go="job", data_job=entry.name),
        h(
            "div.row",
            small_button("Copy", "copy-job", job=entry.name, enabled=may, style="quiet",
                         name=f"Copy {entry.title}"),
            small_button("Put aside", "remove-job", job=entry.name, enabled=may, style="quiet",
                         name=f"Put {entry.title} aside",
                         confirm="Put this job aside? Its file goes into the folder .removed."),
        ),
        data_key=entry.name,
    )  # fmt: skip


def _fresh(visitor: Visitor) -> Markup:
    may = visitor.can_edit
    return h(
        "section",
        h("h2", "A new job"),
        h(
            "form",
            h(
                "div.cells",
                h("div.field.wide", h("label", "What it is called", for_="new-title"),
                  h("input", type="text", id="new-title", name="title", maxlength=120,
                    placeholder="field crew, spring", autocomplete="off",
                    disabled=not may)),
                h("div.field", h("label", "Unit", for_="new-units"),
                  h("select", h("option", "millimetres", value="mm"),
                    h("option", "inches and fractions", value="in"), id="new-units", name="units",
                    disabled=not may)),
            ),
            h("p", "Which kind of bay?"),
            h("div.kinds", [_kind(kind, note, enabled=may) for kind, note in KIND_NOTES.items()]),
            data_act="new-job",
            data_clear="1",
        ),
        h(
            "div.row.wrap",
            h("span", "Or look round first:"),
            [
                small_button(f"example {kind}", "example", kind=kind, units="mm", enabled=may,
                             style="quiet")
                for kind in KIND_NOTES
            ],
            small_button("example tub in inches", "example", kind="tub", units="in", enabled=may,
                         style="quiet"),
        ),
    )  # fmt: skip


def _kind(kind: str, note: str, *, enabled: bool) -> Markup:
    return h(
        "button.kind",
        kind_sketch(kind),
        h("strong", kind),
        h("span.small", note),
        type="submit",
        name="kind",
        value=kind,
        disabled=not enabled,
    )


def _open_file(visitor: Visitor) -> Markup:
    return h(
        "section",
        h("h2", "Open a job file"),
        h("label", "A .toml file from anywhere; it is copied into this folder", for_="job-file"),
        h("input", type="file", id="job-file", accept=".toml,text/plain", data_act="import-job",
          data_most=MOST_UPLOAD, data_local="upload", disabled=not visitor.can_edit),
    )  # fmt: skip


def _folder(visitor: Visitor) -> Markup | None:
    if not visitor.is_local:
        return None
    root = str(visitor.house.benches.folder.root)
    return h(
        "div.card",
        h("h3", "Where the jobs are"),
        h("p.path-name", root),
        h("p.small", "Plain text files: open them in the terminal or an editor as well. What is "
          "changed there shows here at once."),
    )  # fmt: skip


def _sharing(visitor: Visitor) -> Markup | None:
    if not visitor.is_local:
        return None
    door = visitor.house.sharing.door
    if door is None:
        return h(
            "div.card",
            h("h3", "Take it to the shed"),
            h("p", "A phone in the same network can look at the jobs, or work on them. Until you "
              "share, only this machine can."),
            h("div.row.wrap",
              small_button("Share, may change", "share", edit="1", style="main"),
              small_button("Share, look only", "share", edit="", style="quiet")),
        )  # fmt: skip
    guests = list(visitor.house.sharing.guests.values())
    address = visitor.house.sharing.address()
    code = door.code
    return h(
        "div.card",
        h("h3", "Shared in this network"),
        [
            h("p", "On the phone go to ", h("strong", address), " and type this code, once:"),
            h("p.code", f"{code[:4]} {code[4:]}"),
            Markup(f'<div class="qr" role="img" aria-label="The same as a QR code">'
                   f"{qr_svg(f'{address}/enter?code={code}')}</div>"),
            h("p.small", "The code works once, for ten minutes."),
        ]
        if code
        else h("p", "The code was used. Make another for the next device."),
        h("ul", [
            h("li", f"{guest.address}, {'may change' if guest.can_edit else 'looks only'} ",
              small_button("Send out", "send-out", key=guest.key[:12], style="quiet",
                           name=f"Send {guest.address} out"))
            for guest in guests
        ]),
        h("div.row.wrap",
          small_button("New code, may change", "renew", edit="1", style="quiet"),
          small_button("New code, look only", "renew", edit="", style="quiet"),
          small_button("End sharing", "unshare", style="main")),
    )  # fmt: skip


async def _new(visitor: Visitor, event: Event) -> None:
    units: Unit = "in" if event.values.get("units") == "in" else "mm"
    kind = event.values.get("kind", "")
    if not visitor.can_edit or kind not in KIND_NOTES:
        return
    title = event.values.get("title", "").strip()[:120] or f"New {kind}"
    await _started(visitor, title, new_text(kind, title, units=units))


async def _example(visitor: Visitor, event: Event) -> None:
    kind = event.data.get("kind", "")
    if not visitor.can_edit or kind not in KIND_NOTES:
        return
    units: Unit = "in" if event.data.get("units") == "in" else "mm"
    await _started(visitor, f"example {kind}", example_text(kind, units=units))


async def _started(visitor: Visitor, wanted: str, text: str) -> None:
    name = await asyncio.to_thread(visitor.house.benches.new, wanted, text)
    if visitor.go_to is not None:
        visitor.go_to(job_url(name, "measure"))


async def _import(visitor: Visitor, event: Event) -> None:
    if not visitor.can_edit:
        return
    wanted = event.values.get("name", "job").rpartition(".")[0] or "job"
    if len(event.value.encode()) > MOST_UPLOAD:
        visitor.notice = Notice(text=f"At most {MOST_UPLOAD // 1000} kB.", kind="wrong")
        return
    try:
        await _started(visitor, wanted, event.value)
    except JobError as error:
        visitor.notice = Notice(text=f"Not opened. {error}", kind="wrong")


async def _copy(visitor: Visitor, event: Event) -> None:
    if visitor.can_edit:
        name = await asyncio.to_thread(visitor.house.benches.copy, event.data["job"])
        visitor.notice = Notice(text=f"Copied to {name}.")
        await visitor.house.tell("")


async def _remove(visitor: Visitor, event: Event) -> None:
    if visitor.can_edit:
        job = event.data["job"]
        await asyncio.to_thread(visitor.house.benches.remove, job)
        visitor.house.last_plans.pop(job, None)
        visitor.house.last_figures.pop(job, None)
        await visitor.house.tell(job)
        visitor.notice = Notice(text=f"{job} lies in the folder .removed now.")
        await visitor.house.tell("")


async def _too_large(visitor: Visitor, _: Event) -> None:
    visitor.notice = Notice(
        text=f"That file is too large: at most {MOST_UPLOAD // 1000} kB.", kind="wrong"
    )


ACTS = {
    "new-job": _new,
    "example": _example,
    "import-job": _import,
    "copy-job": _copy,
    "remove-job": _remove,
    "too-large": _too_large,
}
