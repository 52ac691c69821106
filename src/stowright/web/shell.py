"""The frame of every page: stages, undo and redo, what is saved, notices, conflicts, looks."""

from __future__ import annotations

import asyncio
import logging
from collections.abc import Awaitable, Callable

from stowright.app.bench import ConflictError
from stowright.errors import StowrightError, UnknownNameError
from stowright.web import (
    arrange_page,
    build_page,
    buy_page,
    carry_page,
    cut_page,
    history_page,
    install_page,
    jobs_page,
    measure_page,
    packing_part,
    proposals_part,
    prove_page,
    refit_part,
    sharing_acts,
    work_parts,
)
from stowright.web.fields import small_button
from stowright.web.markup import Markup, h
from stowright.web.sheets_part import sheets_address, want_sheets
from stowright.web.visitor import Conflict, Event, Notice, Visitor, conflict_of
from stowright.web.work_parts import job_url, work_line

__all__ = [
    "STAGES",
    "WAITS_LONG",
    "act",
    "arrive",
    "head",
    "is_with_model",
    "leave_what_is_gone",
    "work",
]

log = logging.getLogger("stowright.web")

type Page = Callable[[Visitor], Markup]
type Act = Callable[[Visitor, Event], Awaitable[None]]

#: The stages of a job, in the order of the work.
STAGES: dict[str, tuple[str, Page]] = {
    "measure": ("Measure", measure_page.measure_page),
    "carry": ("Carry", carry_page.carry_page),
    "arrange": ("Arrange", arrange_page.arrange_page),
    "prove": ("Prove", prove_page.prove_page),
    "cut": ("Cut", cut_page.cut_page),
    "buy": ("Buy", buy_page.buy_page),
    "build": ("Build", build_page.build_page),
    "install": ("Install", install_page.install_page),
    "history": ("History", history_page.history_page),
}
_WITH_MODEL = frozenset({"arrange", "prove"})
_NEED_PLAN = frozenset({"cut", "buy", "build", "install"})
_NEED_FIGURES = frozenset({"build", "install"})
#: Acts that wait for long work; those told after them are done meanwhile.
WAITS_LONG = frozenset({"print", "propose"})
_MOVED = (
    "That was not done as well: the list had changed by what you did just before. Look at it, and "
    "do it again if you still want it."
)
_LOOKS = (("light", "light"), ("dark", "dark"), ("outdoor", "outdoor"))


def is_with_model(visitor: Visitor) -> bool:
    """Return whether the model stands beside the page."""
    return visitor.stage in _WITH_MODEL and bool(visitor.job) and not visitor.bench.locked


def head(visitor: Visitor) -> Markup:
    """Return the head of the page."""
    return h(
        "header.top",
        h("a.skip", "To the work", href="#work"),
        h(
            "div.bar",
            h("a.home", _SIGN, h("span", "stowright"), href="/", data_go="jobs",
              aria_label="stowright: all jobs"),
            _title(visitor) if visitor.job else h("span.job", ""),
            h("div.looks", [
                h("button", label, type="button", data_act="look", data_local="look",
                  data_look=name, aria_label=f"{label} colours", aria_pressed="false")
                for name, label in _LOOKS
            ], role="group", aria_label="Colours"),
        ),
        _stages(visitor) if visitor.job else None,
    )  # fmt: skip


def work(visitor: Visitor) -> Markup:
    """Return the work part of the page."""
    number = visitor.bench.number if visitor.job else 0
    return h(
        "div",
        _notice(visitor.notice),
        _conflict(visitor.conflict),
        work_line(visitor) if visitor.job else None,
        _earlier(visitor),
        None if visitor.can_edit else h("p.notice", "This device looks only; nothing can be "
                                        "changed from it.", role="status"),
        h("div", _page(visitor), data_key=f"page-{visitor.job}-{visitor.stage}"),
        id="work",
        data_version=number,
        data_sheets=sheets_address(visitor) if visitor.job else None,
        tabindex="-1",
        data_stage=visitor.stage,
    )  # fmt: skip


def _earlier(visitor: Visitor) -> Markup | None:
    """Say when a page shows the plan of an earlier version."""
    if not visitor.job or visitor.stage not in _NEED_PLAN:
        return None
    house, bench = visitor.house, visitor.bench
    if house.plan_of(bench) is not None or house.shown_plan(bench) is None:
        return None
    if bench.study.design is None:
        words = "as it stands now the job has no design. Arrange and Measure say why."
    elif house.was_stopped(bench, "plan"):
        words = "working it out anew was stopped."
    else:
        words = "it is being worked out anew."
    return h(
        "div.notice",
        h("span", f"This is the plan of an earlier version: {words}"),
        small_button("Work it out", "work-out") if house.was_stopped(bench, "plan") else None,
        role="status",
        data_key="earlier",
    )


def _page(visitor: Visitor) -> Markup:
    if not visitor.job:
        return jobs_page.jobs_page(visitor)
    if visitor.bench.locked and visitor.stage != "history":
        return history_page.locked_page(visitor)
    return STAGES[visitor.stage][1](visitor)


_SIGN = h(
    "svg",
    h("path.thick", d="M3 8 H29 V26 H3 Z M3 17 H29 M16 8 V26"),
    h("path.thin", d="M7 13 H12 M20 13 H25 M7 22 H12 M20 22 H25"),
    viewBox="0 0 32 32",
    aria_hidden="true",
)


def _title(visitor: Visitor) -> Markup:
    bench = visitor.bench
    title = str(visitor.at("job.title") or visitor.job) if not bench.locked else visitor.job
    records = bench.records
    may = visitor.may_change()
    return h(
        "div.job",
        h("h1", title),
        h("span.saved.small", f"saved, version {bench.number}{_settling(visitor)}"),
        h(
            "div.row",
            small_button("Undo", "undo", enabled=may and records.before(visitor.job) is not None,
                         style="quiet"),
            small_button("Redo", "redo", enabled=may and records.after(visitor.job) is not None,
                         style="quiet"),
            small_button("Print", "print", enabled=not bench.locked, style="quiet",
                         name="Print the book's pages"),
        ),
    )  # fmt: skip


def _settling(visitor: Visitor) -> str:
    study = visitor.bench.study
    pending = study.design is not None and not study.settled
    return "; packing the load, planning the bolts …" if pending else ""


def _stages(visitor: Visitor) -> Markup:
    return h(
        "nav.stages",
        h("ul", [
            h("li", h("a", label, href=job_url(visitor.job, name), data_go=name,
                      data_job=visitor.job,
                      aria_current="page" if name == visitor.stage else None))
            for name, (label, _) in STAGES.items()
        ]),
        aria_label="Stages of the work",
    )  # fmt: skip


def _notice(notice: Notice | None) -> Markup | None:
    if notice is None:
        return None
    return h(
        "div.notice",
        h("span", notice.text),
        small_button("Put away", "no-notice", style="quiet"),
        class_=notice.kind,
        data_key="notice",
        role="alert" if notice.kind == "wrong" else "status",
    )


def _conflict(conflict: Conflict | None) -> Markup | None:
    if conflict is None:
        return None
    return h(
        "div.card.wrong.conflict",
        h("h2", "Somebody else changed this meanwhile"),
        h("ul", [
            h("li", h("strong", path), f": it was {seen}, it is {now} now, you want {wanted}.")
            for path, seen, now, wanted in conflict.rows
        ]),
        h("p", "Yours was not saved. To have it all the same, look at what stands now and do it "
          "again.") if not conflict.edits else None,
        h("div.row.wrap", small_button("Keep what stands", "theirs", style="quiet"),
          small_button("Take mine", "mine", style="main") if conflict.edits else None),
        role="alert",
        data_key="conflict",
    )  # fmt: skip


async def _undo(visitor: Visitor, event: Event) -> None:
    if not visitor.may_change():
        return
    bench = visitor.bench
    back = event.act == "undo"
    found = await asyncio.to_thread(bench.undo if back else bench.redo)
    if found is not None and found.parent is not None:
        ends = (found.number, found.parent)
        visitor.went(*(ends if back else reversed(ends)))
    visitor.drafts.clear()
    words = "Taken back" if back else "Done again"
    visitor.notice = Notice(text=f"{words}: {found.what}." if found else "Nothing to take back.")
    visitor.house.tell_others(visitor.job, visitor.number)


async def _go(visitor: Visitor, event: Event) -> None:
    """Go to another page of the app without loading it anew."""
    name, job = event.data.get("go", ""), event.data.get("job", "")
    if name == "jobs" or not job:
        _come_to(visitor, "", "jobs")
    elif visitor.house.benches.folder.has(job):
        bench = await asyncio.to_thread(visitor.house.benches.open, job)
        if name in _WITH_MODEL:
            await asyncio.to_thread(bench.scene)
        _come_to(visitor, job, name if name in STAGES else "measure")
    else:
        raise UnknownNameError("job", job)
    visitor.notice = None
    visitor.house.want_again(visitor.job)
    arrive(visitor)


def _come_to(visitor: Visitor, job: str, stage: str) -> None:
    before, visitor.job, visitor.stage = visitor.job, job, stage
    if before == job:
        return
    for held in (visitor.drafts, visitor.chosen, visitor.own):
        held.clear()
    visitor.conflict, visitor.picked, visitor.marked = None, "", ()
    moved = visitor.house.watchers.get(before, {}).pop(visitor.number, None)
    if moved is not None:
        visitor.house.watch(job, visitor.number, moved)


def leave_what_is_gone(visitor: Visitor) -> None:
    """Show the list of jobs to one whose job was put aside, or taken away by another program."""
    if visitor.job and not visitor.house.benches.folder.has(visitor.job):
        words = f"{visitor.job} is not in the folder any more: it was put aside, or moved away."
        _come_to(visitor, "", "jobs")
        visitor.notice = Notice(text=words, kind="wrong")


def arrive(visitor: Visitor) -> None:
    """Begin what a page needs when somebody comes to it."""
    if visitor.job:
        visitor.house.want_settled(visitor.bench)
    if visitor.job and visitor.stage == "build":
        refit_part.want_refit(visitor)  # what a reading changes is told before all else
    if visitor.job and visitor.stage in _NEED_PLAN:
        work_parts.want_plan(visitor)
    if visitor.job and visitor.stage in _NEED_FIGURES:
        want_figures(visitor)
    if visitor.job and visitor.stage in _NEED_PLAN:
        want_sheets(visitor)


def want_figures(visitor: Visitor) -> None:
    """Begin to draw the steps once the plan is there."""
    house, bench = visitor.house, visitor.bench
    if house.plan_of(bench) is None or house.made_of(bench, "figures") is not None:
        return
    house.want(bench, "figures", "The figures of the steps")


async def _print(visitor: Visitor, _: Event) -> None:
    """Set the book, then hand the pages of this stage to the printer."""
    house, bench = visitor.house, visitor.bench
    await house.wait_for(bench, house.task(bench, "pages"), "The pages for printing")
    if visitor.print_pages is not None:
        name = f"section-{visitor.stage}.pdf"
        visitor.print_pages(job_url(visitor.job, "get", name) + "?show=1")


async def _no_notice(visitor: Visitor, _: Event) -> None:
    visitor.notice = None


async def _theirs(visitor: Visitor, event: Event) -> None:
    await visitor.decide(mine=event.act == "mine")


ACTS: dict[str, Act] = {
    "undo": _undo,
    "redo": _undo,
    "go": _go,
    "print": _print,
    "no-notice": _no_notice,
    "mine": _theirs,
    "theirs": _theirs,
    **work_parts.ACTS,
    **jobs_page.ACTS,
    **measure_page.ACTS,
    **carry_page.ACTS,
    **arrange_page.ACTS,
    **proposals_part.ACTS,
    **prove_page.ACTS,
    **cut_page.ACTS,
    **buy_page.ACTS,
    **build_page.ACTS,
    **packing_part.ACTS,
    **refit_part.ACTS,
    **history_page.ACTS,
    **install_page.ACTS,
    **sharing_acts.ACTS,
}


async def _in_turn(doing: Act, visitor: Visitor, event: Event) -> None:
    """Do an act once those told before it are done, unless they moved what it is about."""
    async with visitor.at_work:
        if visitor.job and visitor.has_moved(event.data.get("path", ""), event.seen):
            visitor.notice = Notice(text=_MOVED)
            return
        await doing(visitor, event)


async def act(visitor: Visitor, event: Event) -> None:
    """Do what a person asked for; what goes wrong is told plainly and logged."""
    doing = ACTS.get(event.act)
    if doing is None:
        log.warning("an act that nobody knows: %r", event.act[:40])
        return
    try:
        if event.act in WAITS_LONG:
            await doing(visitor, event)
        else:
            await _in_turn(doing, visitor, event)
    except ConflictError as error:
        visitor.conflict = conflict_of(error, "")
    except StowrightError as error:
        visitor.notice = Notice(text=str(error), kind="wrong")
    except Exception:
        log.exception("act %r on %r, seen %d: %r", event.act, visitor.job, event.seen, event)
        visitor.notice = Notice(
            text="Something went wrong in the program. Nothing that was saved is lost: load the "
            "page again, or undo the last change. What happened is in the log.",
            kind="wrong",
        )
