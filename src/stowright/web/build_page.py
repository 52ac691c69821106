"""Build: one step at a time with its figure; hold points ask for the reading."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stowright.app.edits import typed
from stowright.app.shop_floor import READINGS, add_reading, readings_in
from stowright.app.study import model_key
from stowright.errors import JobError
from stowright.units import format_length, parse_length
from stowright.web.cut_page import caliper_forms
from stowright.web.fields import small_button, tick
from stowright.web.help_texts import help_for
from stowright.web.markup import Markup, h, joined
from stowright.web.refit_part import refit_part
from stowright.web.visitor import Event, Notice, Visitor
from stowright.web.work_parts import downloads, job_url, needed_plan, waiting

if TYPE_CHECKING:
    from stowright.model.making import HoldPoint, Step
    from stowright.model.plan import Plan
    from stowright.units import Unit

__all__ = ["ACTS", "build_page", "step_view"]

_LAST_STAGES = ("install", "deck", "test")
_DIAGONALS = "diagonals"


def build_page(visitor: Visitor) -> Markup:
    """Return the page."""
    plan = needed_plan(visitor, "Build")
    if isinstance(plan, Markup):
        return joined([plan, refit_part(visitor)])
    steps = [step for step in plan.making.steps if step.stage not in _LAST_STAGES]
    return step_view(visitor, plan, steps, heading="Build", note="step")


def step_view(
    visitor: Visitor, plan: Plan, steps: list[Step], *, heading: str, note: str
) -> Markup:
    """Return one step of several, with the way to the others."""
    if not steps:
        return h("div.form", h("h2", heading), h("p", "There are no steps here."))
    records = visitor.house.benches.records
    kept = visitor.chosen.get(f"note-{note}") or records.note(visitor.job, note)
    numbers = [step.number for step in steps]
    place = numbers.index(int(kept)) if kept.isdigit() and int(kept) in numbers else 0
    step = steps[place]
    done = records.ticks(visitor.job)
    return h(
        "div.form.build",
        h("h2", heading),
        h(
            "div.row.wrap",
            h("button", "Keep the screen awake", type="button", data_act="awake",
              data_local="awake", aria_pressed="false", id="awake"),
            h("span.small", "", id="awake-said", role="status"),
        ),
        h("p.small", f"Step {place + 1} of {len(steps)}; {_done(steps, done)} done"),
        h("progress", value=place + 1, max=len(steps), aria_label="How far the work is"),
        _step(visitor, plan, step, done),
        refit_part(visitor) if note == "step" else None,
        h(
            "nav.thumbs",
            small_button("‹ Back", "step", number=numbers[place - 1] if place else numbers[0],
                         note=note, enabled=place > 0, name="The step before"),
            small_button("Next ›", "step",
                         number=numbers[min(place + 1, len(numbers) - 1)], note=note,
                         enabled=place + 1 < len(steps), style="main", name="The next step"),
            aria_label="Steps",
        ),
        h(
            "details",
            h("summary", "All steps"),
            h("ol", [
                h("li", small_button(f"{each.number}. {each.title}", "step", number=each.number,
                                     note=note, style="quiet"), " ✓" if _key(each) in done else "")
                for each in steps
            ]),
            data_key="all-steps",
        ),
        downloads(visitor, "book.pdf", "all.zip") if note == "step" else None,
    )  # fmt: skip


def _done(steps: list[Step], done: frozenset[str]) -> int:
    return sum(_key(step) in done for step in steps)


def _key(step: Step) -> str:
    return f"step:{step.stage}:{step.title}"


def _step(visitor: Visitor, plan: Plan, step: Step, done: frozenset[str]) -> Markup:
    pictures = visitor.house.shown_figures(visitor.bench)
    key = model_key(pictures.get(step.number, "").encode())
    source = f"{job_url(visitor.job, 'picture', f'step-{step.number}')}?v={key}"
    parts = [f"{part.copies} × {part.mark}" for part in step.parts if part.first]
    return h(
        "article.step",
        h("h3", f"{step.number}. {step.title}"),
        h("div.paper", h("img", src=source, alt=f"Figure of step {step.number}: {step.title}"))
        if step.figure and step.number in pictures
        else waiting(visitor, "figures", "The figure is being drawn …")
        if step.figure and not pictures
        else None,
        h("ul.todo", [h("li", line) for line in step.text]),
        h("p", h("strong", "Parts: "), ", ".join(parts)) if parts else None,
        h("p", h("strong", "Fixings: "),
          ", ".join(f"{each.count} × {each.type}" for each in step.fixings))
        if step.fixings
        else None,
        h("p", h("strong", "Tools: "), ", ".join(step.tools)) if step.tools else None,
        [h("p.check", line) for line in step.checks],
        [h("p.caution", line) for line in step.cautions],
        _hold_point(visitor, plan, step.hold_point) if step.hold_point else None,
        tick("This step is done", on=_key(step) in done, act="tick-step", what=_key(step),
             enabled=visitor.can_edit),
        data_key=f"step-{step.number}",
    )  # fmt: skip


def _hold_point(visitor: Visitor, plan: Plan, hold: HoldPoint) -> Markup:
    units: Unit = "in" if plan.job.units == "in" else "mm"
    limits = [format_length(value, units) for value in (hold.least, hold.most) if value is not None]
    told = f"It must read {' to '.join(limits)} {units}." if limits else ""
    what = f"{hold.what[:1].upper()}{hold.what[1:]}".replace(" [mm]", "")
    return h(
        "div.card.hold",
        h("h4", "Stop and read"),
        help_for("hold-point"),
        h("p", h("strong", f"{what}. "), told),
        _where_it_belongs(visitor, plan, hold),
        h("p", f"If not: {hold.otherwise}"),
    )


def _where_it_belongs(visitor: Visitor, plan: Plan, hold: HoldPoint) -> Markup:
    """Return where a reading is entered: of a sheet, of the bay, else of an opening."""
    if hold.reads == "thickness":
        return joined(caliper_forms(visitor, plan))
    if hold.reads == "bay":
        return h("p", h("a", "Type what you read at Measure", href=job_url(visitor.job, "measure"),
                        data_go="measure", data_job=visitor.job), ".")  # fmt: skip
    return _reading_form(visitor, plan, hold)


def _reading_form(visitor: Visitor, plan: Plan, hold: HoldPoint) -> Markup:
    """Where the reading is entered: of what the hold point asks, else of any opening."""
    what, may = _subject(plan, hold), visitor.may_change()
    about, kind = what or ("", "")
    limits = {} if what is None else {"least": hold.least, "most": hold.most}
    return h(
        "form.cells",
        None if what else _choices(plan, hold, enabled=may),
        h(
            "div.field",
            h("label", f"{kind.replace('-', ' ')} of {about}{_how_many(kind)}"
              if what else "Readings, one to three; two diagonals", for_="hold"),
            h(
                "div.place",
                h("input", type="text", id="hold", name="values", autocomplete="off",
                  inputmode="text", disabled=not may, data_key=f"hold-{about}-{kind}",
                  value=" ".join(_held(visitor, about, kind)) if what else ""),
                h("span.unit", visitor.units),
            ),
        ),
        h("button.main", "Enter the reading", type="submit", disabled=not may),
        data_act="reading",
        data_opening=about,
        data_what=kind,
        data_otherwise=hold.otherwise,
        **{f"data_{key}": value for key, value in limits.items() if value is not None},
    )  # fmt: skip


def _how_many(kind: str) -> str:
    return ", both" if kind.endswith(_DIAGONALS) else ", one to three"


def _choices(plan: Plan, hold: HoldPoint, *, enabled: bool) -> list[Markup]:
    openings = [o.name for block in plan.design.blocks for o in block.openings]
    asked = _DIAGONALS if _DIAGONALS in hold.what else ""
    return [
        h(
            "div.field",
            h("label", label, for_=f"hold-{name}"),
            h("select", [h("option", row.replace("-", " ") if name == "what" else row, value=row,
                           selected=row == asked) for row in rows],
              id=f"hold-{name}", name=name, disabled=not enabled),
        )
        for name, label, rows in (
            ("opening", "Opening", openings),
            ("what", "What is read", list(READINGS)),
        )
    ]  # fmt: skip


def _subject(plan: Plan, hold: HoldPoint) -> tuple[str, str] | None:
    """Return which opening a hold point reads, and what of it; None when it reads another thing."""
    name, _, what = hold.what.partition(": ")
    openings = {o.name for block in plan.design.blocks for o in block.openings}
    if name not in openings:
        return None
    said = what.lower()
    words = {"between runners": "between-runners", "box's diagonals": "box-diagonals"}
    found = next((kind for word, kind in words.items() if word in said), "")
    if not found:
        found = next((kind for kind in READINGS if kind.replace("-", " ") in said), "")
    return (name, found) if found else None


def _held(visitor: Visitor, opening: str, what: str) -> list[str]:
    for row in visitor.at("reading") or []:
        if row.get("of") == {"opening": opening, "what": what}:
            return [str(value) for value in row.get("values", ())]
    return []


async def _go(visitor: Visitor, event: Event) -> None:
    note, number = event.data.get("note", ""), event.data.get("number", "")
    if note not in {"step", "install"} or not number.isdigit():
        return
    visitor.chosen[f"note-{note}"] = number
    if visitor.can_edit:
        visitor.house.benches.records.keep_note(visitor.job, note, number)


async def _tick_step(visitor: Visitor, event: Event) -> None:
    if visitor.can_edit:
        visitor.house.benches.records.tick(visitor.job, event.data["what"], on=bool(event.value))
        await visitor.house.tell(visitor.job)


async def _reading(visitor: Visitor, event: Event) -> None:
    """Note a reading; the design is made anew with it at once."""
    said = readings_in(event.values.get("values", ""))
    if not said:
        return
    units = visitor.units
    try:
        sizes = [parse_length(str(typed(each)), units=units) for each in said]
    except JobError as error:
        visitor.notice = Notice(text=f"That is no reading. {error}", kind="wrong")
        return
    asked = event.values | {key: value for key, value in event.data.items() if value}
    of = {"opening": asked.get("opening", ""), "what": asked.get("what", "")}
    edits = add_reading(visitor.bench.text, of, [typed(each) for each in said])
    words = f"{of['opening']}, {of['what']}: {' '.join(said)}"
    if await visitor.edit(edits, event.seen, what=words):
        if of["what"].endswith(_DIAGONALS) and len(sizes) > 1:
            sizes = [abs(sizes[0] - sizes[1])]  # it is their difference that has limits
        visitor.notice = _judged(words, sizes, event.data)


def _judged(words: str, sizes: list[float], data: dict[str, str]) -> Notice:
    if not data.get("least") and not data.get("most"):
        return Notice(text=f"{words}: noted")
    if all(_within(size, data) for size in sizes):
        return Notice(text=f"{words}: within the limits")
    otherwise = data.get("otherwise", "")
    return Notice(text=f"{words}: outside the limits. {otherwise}", kind="wrong")


def _within(size: float, data: dict[str, str]) -> bool:
    least, most = data.get("least") or "-inf", data.get("most") or "inf"
    return float(least) <= size <= float(most)


ACTS = {"step": _go, "tick-step": _tick_step, "reading": _reading}
