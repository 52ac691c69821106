"""Parts that several pages share: the whole plan being worked out, downloads, progress."""

from __future__ import annotations

from typing import TYPE_CHECKING
from urllib.parse import quote

from stowright.web.fields import small_button
from stowright.web.markup import Markup, h

if TYPE_CHECKING:
    from stowright.app.long_work import Kind
    from stowright.model.plan import Plan
    from stowright.web.visitor import Event, Visitor

__all__ = ["ACTS", "downloads", "job_url", "needed_plan", "waiting", "want_plan", "work_line"]

_FILES = {
    "job.toml": "Job file",
    "book.pdf": "Plan book (PDF)",
    "plan.json": "Plan as data",
    "cutting.csv": "Cutting list (CSV)",
    "unit.glb": "Model (GLB)",
    "all.zip": "Everything, drawings as SVG and DXF (ZIP)",
}


def job_url(job: str, *parts: str) -> str:
    """Return an address within a job."""
    return "/" + "/".join(quote(part, safe="") for part in ("job", job, *parts))


def downloads(visitor: Visitor, *names: str) -> Markup:
    """Return links to files of the job as it stands; without a design there is the job alone."""
    planned = visitor.bench.study.design is not None
    names = names if planned else tuple(name for name in names if name == "job.toml")
    return h(
        "div.downloads",
        h("h3", "Take with you"),
        None
        if planned
        else h(
            "p",
            "There are no plan, book and drawings to take while the job "
            "has no design. Look at Measure and Arrange first.",
        ),
        h(
            "ul",
            [
                h("li", h("a", _FILES[name], href=job_url(visitor.job, "get", name), download=True))
                for name in names
            ],
        ),
    )


def work_line(visitor: Visitor) -> Markup | None:
    """Return what long work is going on, with a way to stop it."""
    work = visitor.house.works.get(visitor.job)
    if work is None:
        return None
    if work.error:
        return h(
            "div.work.wrong",
            h("span", f"{work.what}: {work.error}"),
            small_button("Put away", "put-away", style="quiet"),
            role="status",
            data_key="work",
        )
    return h(
        "div.work",
        h("progress", aria_label=work.what),
        h("span", f"{work.what}: {work.doing} …"),
        small_button("Stop", "stop-work", style="quiet", enabled=visitor.can_edit),
        role="status",
        data_key="work",
    )


def needed_plan(visitor: Visitor, heading: str) -> Plan | Markup:
    """Return the whole plan, or what is shown while there is none.

    While a plan is worked out anew the last one stays in sight; the line of work says so.
    """
    bench = visitor.bench
    plan = visitor.house.shown_plan(bench)
    if plan is not None:
        return plan
    if bench.study.design is None:
        return h("div.form", h("h2", heading), h("p", "There is no plan while the job has no "
                 "design. Look at Measure and Arrange first."))  # fmt: skip
    return h(
        "div.form",
        h("h2", heading),
        waiting(visitor, "plan", "The whole plan is worked out first: sheets, steps and lists."),
    )


def waiting(visitor: Visitor, kind: Kind, words: str) -> Markup:
    """Return what is shown until something is made, or the way to have it made after a stop."""
    house, bench = visitor.house, visitor.bench
    if house.was_stopped(bench, kind) or visitor.job not in house.works:
        return h(
            "div.row.wrap",
            h("p", "It was stopped, or has not begun."),
            small_button("Work it out", "work-out", style="main"),
            data_key=f"wait-{kind}",
        )
    return h("p", words, role="status", data_key=f"wait-{kind}")


def want_plan(visitor: Visitor) -> None:
    """Begin to work the whole plan out when it is not there; one who only looks needs it too."""
    bench = visitor.bench
    if bench.study.design is None:
        return
    if visitor.house.plan_of(bench) is None:
        visitor.house.want(bench, "plan", "The whole plan")


async def _work_out(visitor: Visitor, _: Event) -> None:
    await _put_away(visitor, _)
    visitor.house.want_again(visitor.job)  # what the page wants begins as it is shown


async def _stop(visitor: Visitor, _: Event) -> None:
    if visitor.can_edit:
        visitor.house.stop(visitor.job)


async def _put_away(visitor: Visitor, _: Event) -> None:
    work = visitor.house.works.get(visitor.job)
    if work is not None and work.error:
        visitor.house.works.pop(visitor.job, None)


ACTS = {"work-out": _work_out, "stop-work": _stop, "put-away": _put_away}
