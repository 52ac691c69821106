"""Prove: what is wrong first, each finding opened to its working, advice applied with one tap."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from stowright.app.model_view import pieces_about
from stowright.app.remedies import remedies, tried_remedies
from stowright.web.arrange_page import part_card, refusal_card
from stowright.web.fields import small_button
from stowright.web.help_texts import help_for
from stowright.web.markup import Markup, h
from stowright.web.visitor import Event, Visitor

if TYPE_CHECKING:
    from stowright.app.remedies import Remedy
    from stowright.app.study import Study
    from stowright.model.finding import Finding, Status

__all__ = ["ACTS", "prove_page", "status_sign"]

_ORDER: tuple[Status, ...] = ("fail", "not proved", "warn", "pass")
_SIGNS = {"fail": "✕", "not proved": "?", "warn": "!", "pass": "✓"}
_TITLES = {
    "fail": "Fails",
    "not proved": "Not proved: something is not known",
    "warn": "Worth a look",
    "pass": "Within the stated limit",
}


def prove_page(visitor: Visitor) -> Markup:
    """Return the page; the model stands beside it."""
    shown = visitor.bench.shown
    findings = findings_of(visitor)
    counts = Counter(found.status for found in findings)
    return h(
        "div.form",
        h("h2", "Prove"),
        h("p.lead", "Within a stated limit is not the same as safe: local rules and a licensed "
          "inspector have the last word. No finding speaks of a crash."),
        refusal_card(visitor),
        h(
            "ul.counts",
            [
                h("li", status_sign(status), f" {counts[status]} {status}")
                for status in _ORDER
                if counts[status]
            ],
        ),
        help_for("utilisation"),
        part_card(visitor),
        [_group(visitor, status, findings, shown) for status in _ORDER if counts[status]],
    )  # fmt: skip


def findings_of(visitor: Visitor) -> tuple[Finding, ...]:
    """Return every finding there is: of the whole plan once it was worked out."""
    plan = visitor.house.plan_of(visitor.bench)
    if plan is not None:
        return plan.findings
    shown = visitor.bench.shown
    return shown.findings if shown is not None else ()


def status_sign(status: str) -> Markup:
    """Return the sign of a status: a shape as well as a colour."""
    name = status.replace(" ", "-")
    return h("span.sign", _SIGNS[status], class_=f"is-{name}", aria_hidden="true")


def _group(
    visitor: Visitor, status: str, findings: tuple[Finding, ...], shown: Study | None
) -> Markup:
    mine = [found for found in findings if found.status == status]
    mine.sort(key=lambda found: -(found.utilisation or 0.0))
    return h(
        "details" if status == "pass" else "div.group",
        h("summary" if status == "pass" else "h3", f"{_TITLES[status]} ({len(mine)})"),
        [_finding(visitor, found, shown) for found in mine],
        data_key=f"group-{status}",
    )


def _finding(visitor: Visitor, found: Finding, shown: Study | None) -> Markup:
    marked = visitor.chosen.get("finding") == found.id
    used = "" if found.utilisation is None else f"{found.utilisation * 100:.0f} % used"
    return h(
        "details.finding",
        h(
            "summary",
            status_sign(found.status),
            h("span", h("strong", found.title), h("span.small", f" {found.about} · {found.shown}")),
            h("span.n", used),
        ),
        _figures(found),
        h("p", f"Needs: {', '.join(found.needs)}.") if found.needs else None,
        h("ol.working", [h("li", line) for line in found.working]),
        h("p.small", f"{found.source} ({found.standing})"),
        [h("p.small", f"Assumed: {line}") for line in found.assumed],
        _advice(visitor, found, shown),
        small_button(
            "Let go" if marked else "Show in the model",
            "show-finding",
            finding=found.id,
            about=found.about,
            name=f"{'Let go of' if marked else 'Show'} {found.title}, {found.about}",
            style="quiet",
        ),
        data_key=found.id,
        data_act="open-finding",
        data_finding=found.id,
        data_about=found.about,
        class_=f"is-{found.status.replace(' ', '-')}",
    )


def _figures(found: Finding) -> Markup | None:
    if found.demand is None and found.capacity is None:
        return None
    words = {"clearance": ("needed", "there is"), "chance": ("chance", "at least")}
    asked, has = words.get(found.kind, ("asked of it", "it can bear"))
    rows = [(asked, found.demand), (has, found.capacity)]
    return h(
        "dl.inline",
        [[h("dt", what), h("dd", f"{value:.4g} {found.unit}")] for what, value in rows
         if value is not None],
    )  # fmt: skip


def _advice(visitor: Visitor, found: Finding, shown: Study | None) -> Markup | None:
    if not found.advice:
        return None
    ways = ways_for(visitor, found, shown)
    return h(
        "div.advice",
        h("h4", "What would mend it"),
        h("ul", [h("li", line) for line in found.advice]),
        [
            small_button(
                f"Do it: {way.label}",
                "apply",
                finding=found.id,
                way=way.label,
                enabled=visitor.may_change(),
                style="main",
            )
            for way in ways
        ],
    )


def ways_for(visitor: Visitor, found: Finding, shown: Study | None) -> tuple[Remedy, ...]:
    """Return what can be done with one tap about a finding.

    What was tried on the whole unit is written out for the finding that is open: that takes some
    hundredths of a second.
    """
    if shown is None or shown.job is None or not found.advice:
        return ()
    text, shelf = visitor.bench.text, visitor.bench.catalogue
    ways = remedies(text, shown.job, shelf, found)
    is_open = f"opened {found.id}" in visitor.chosen
    if shown.design is None or shown.text != text or not is_open:
        return ways
    tried = tried_remedies(text, shown.design, shelf, found)
    known = [way.edits for way in tried]
    return (*tried, *(way for way in ways if way.edits not in known))


async def _apply(visitor: Visitor, event: Event) -> None:
    study = visitor.bench.study
    found = next((f for f in findings_of(visitor) if f.id == event.data["finding"]), None)
    if found is None or study.job is None:
        return
    ways = ways_for(visitor, found, visitor.bench.shown)
    way = next((each for each in ways if each.label == event.data.get("way")), None)
    if way is not None:
        what = f"advice on {found.id}: {way.label}"
        await visitor.edit(way.edits, event.seen, what=what)


async def _show(visitor: Visitor, event: Event) -> None:
    shown = visitor.bench.shown
    name = event.data["finding"]
    visitor.chosen[f"opened {name}"] = "1"
    again = visitor.chosen.get("finding") == name and event.act == "show-finding"
    if again or shown is None or shown.design is None:
        visitor.chosen.pop("finding", None)
        visitor.marked = ()
        return
    visitor.chosen["finding"] = name
    visitor.marked = tuple(pieces_about(shown.design, event.data["about"]))


ACTS = {"apply": _apply, "show-finding": _show, "open-finding": _show}
