"""Parts that several pages share: the whole plan being worked out, downloads, progress."""

from __future__ import annotations

from typing import TYPE_CHECKING
from urllib.parse import quote

from stowright.web.fields import small_button
from stowright.web.markup import Markup, h

if TYPE_CHECKING:
    from stowright.model.plan import Plan
    from stowright.web.visitor import Event, Visitor

__all__ = ["ACTS", "downloads", "job_url", "needed_plan", "want_plan", "work_line"]

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
    """Return links to files of the job as it stands."""
    return h(
        "div.downloads",
        h("h3", "Take with you"),
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
        h("p", "The whole plan is worked out first: sheets, steps and lists."),
        None
        if visitor.job in visitor.house.works
        else small_button("Work it out", "work-out", style="main", enabled=visitor.can_edit),
    )


def want_plan(visitor: Visitor) -> None:
    """Begin to work the whole plan out when it is not there."""
    bench = visitor.bench
    if not visitor.can_edit or bench.study.design is None:
        return
    if visitor.house.plan_of(bench) is None and visitor.job not in visitor.house.works:
        visitor.house.begin(bench, visitor.house.task(bench, "plan"), "The whole plan")


async def _work_out(visitor: Visitor, _: Event) -> None:
    visitor.house.works.pop(visitor.job, None)
    want_plan(visitor)


async def _stop(visitor: Visitor, _: Event) -> None:
    if visitor.can_edit:
        visitor.house.stop(visitor.job)


async def _put_away(visitor: Visitor, _: Event) -> None:
    work = visitor.house.works.get(visitor.job)
    if work is not None and work.error:
        visitor.house.works.pop(visitor.job, None)


ACTS = {"work-out": _work_out, "stop-work": _stop, "put-away": _put_away}
