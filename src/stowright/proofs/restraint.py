"""It stays put: each carcass on its hold-down bolts, every direction, empty and loaded.

Four findings a carcass: its bolts (with the whole working), the load floor round them, the factory
anchors it uses, and the path from the bolts into the wood. A carcass stands alone; what joins it
to its neighbours is not counted.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from stowright.formulas.gravity import GRAVITY_M_S2
from stowright.formulas.restraint import CRASH_INFORMATION, RULE_SETS, RuleSet, rule_set
from stowright.model.catalogue import Catalogue, Standing
from stowright.model.design import AnchorPoint, Design
from stowright.model.finding import Finding
from stowright.model.given import AnchorDemand
from stowright.proofs.anchor_strengths import LINKS, LinkName
from stowright.proofs.index import NO_CARRY
from stowright.proofs.judge import About, complete, not_proved, ratio, weakest
from stowright.proofs.restraint_advice import advice_for
from stowright.proofs.restraint_bodies import Survey
from stowright.proofs.restraint_check import (
    Held,
    Study,
    Worst,
    greatest_use,
    quick_of,
    studied,
    worst_of,
)
from stowright.proofs.restraint_forces import SHARING, Case, Forces, Group, cases_of
from stowright.proofs.restraint_joined import Joined, joined_of
from stowright.proofs.restraint_limit import contents_kg
from stowright.proofs.restraint_raised import raised_finding
from stowright.proofs.restraint_spread import spread_findings

__all__ = ["AnchorDemand", "anchor_demands", "restraint_findings"]

_FAMILY = 8
#: Findings by code: what they speak of, and the links they gather.
_CODES: tuple[tuple[str, str, tuple[LinkName, ...]], ...] = (
    ("RESTRAINT", "the bolts", ("bolt",)),
    ("RESTRAINT-SHEET", "the load floor", ("sheet",)),
    ("RESTRAINT-ANCHOR", "the factory anchors", ("factory",)),
    ("RESTRAINT-PATH", "the wood from bolts to uprights", ("wood", "washer", "floor", "joint")),
)
_STATICS = "rigid body on its outer lower edge, elastic bolt group (statics)"


def restraint_findings(
    design: Design, catalogue: Catalogue, study: Study | None = None
) -> Iterator[Finding]:
    """Yield findings about what holds each carcass to the vehicle.

    ``study`` is the design looked through before, to save doing it twice.
    """
    rules = rule_set(design.job.rules)
    seen = study or studied(design, catalogue)
    for held in seen.held:
        together = _together(seen, held, rules, catalogue)
        if together is None:
            yield from _body(seen.survey, held, rules, catalogue)
        else:
            for found in _body(seen.survey, together.held, rules, catalogue):
                yield _told_joined(found, held, together)
    yield from spread_findings(seen)
    drilling = _drilling(design)
    if drilling is not None:
        yield drilling


def _together(study: Study, held: Held, rules: RuleSet, catalogue: Catalogue) -> Joined | None:
    """Return a carcass with what it is bolted to, where only together they are proved."""
    if held.open or greatest_use(held, rules) <= 1.0:
        return None
    found = joined_of(study, held, rules, catalogue)
    return found if found is not None and found.use <= 1.0 else None


def _told_joined(found: Finding, held: Held, together: Joined) -> Finding:
    """Return a finding of a joined body as one of the carcass that cannot stand alone."""
    code = found.id.split(":", maxsplit=1)[0]
    lines = together.lines if code == "RESTRAINT" else ()
    title = found.title.replace(together.held.body.name, held.body.name, 1)
    return replace(
        found,
        id=f"{code}:{held.body.id}",
        title=f"{title}, bolted to {', '.join(together.names[1:])}",
        working=(*lines, *found.working),
        standing=weakest(found.standing, "assumed"),
    )


def anchor_demands(design: Design, catalogue: Catalogue) -> tuple[AnchorDemand, ...]:
    """Return what each anchor sees under the job's rule set, factor 1.0, in the design's order."""
    rules = rule_set(design.job.rules)
    found: dict[str, AnchorDemand] = {}
    study = studied(design, catalogue)
    for held in study.held:
        together = _together(study, held, rules, catalogue)
        for row in _demands(together.held if together else held, rules):
            found[row.id] = _greater(found.get(row.id), row)
    return tuple(found[a.id] for a in design.anchors if a.id in found)


def _greater(one: AnchorDemand | None, two: AnchorDemand) -> AnchorDemand:
    """Return the greater of two demands on an anchor: alone, and with what hangs on its carcass."""
    if one is None:
        return two
    if one.shear_n > two.shear_n:
        two = replace(two, shear_n=one.shear_n, shear_case=one.shear_case)
    if (one.tension_n or 0.0) > (two.tension_n or 0.0):
        two = replace(two, tension_n=one.tension_n, tension_case=one.tension_case)
    return two


def _demands(held: Held, rules: RuleSet) -> Iterator[AnchorDemand]:
    group = held.group
    if group is None:
        return
    rows = [(case, group.forces(case, factor=1.0)) for case in cases_of(rules, group)]
    for index, hold in enumerate(held.holds):
        shear_case, shear = max(rows, key=lambda row: row[1].shears[index])
        pull_case, pull = max(rows, key=lambda row: row[1].pulls[index])
        most = pull.pulls[index]
        yield AnchorDemand(
            id=hold.id,
            shear_n=round(shear.shears[index], 1),
            shear_case=shear_case.text,
            tension_n=round(most, 1) if most < float("inf") else None,
            tension_case=pull_case.text if most > 0.0 else "",
            rules=rules.name,
        )


def _body(survey: Survey, held: Held, rules: RuleSet, catalogue: Catalogue) -> Iterator[Finding]:
    if held.group is None:
        yield _unheld(held, rules)
        return
    worst = worst_of(held, rules)
    for code, what, names in _CODES:
        found = {name: worst[name] for name in names if name in worst}
        lacking = [(hold, gap) for hold, gap in held.open if gap.name in names]
        if not found and not lacking:
            continue
        about = _about(held, rules, code, what, found)
        lines = _working(held, held.group, rules, found, full=code == "RESTRAINT")
        assumed = _assumed(survey.of, rules)
        about = _with(about, lines, assumed)
        if lacking:
            needs = tuple(dict.fromkeys(gap.needs for _, gap in lacking))
            why = tuple(dict.fromkeys(gap.why for _, gap in lacking))
            advice = advice_for(survey, held, rules, catalogue, tuple(names), lacking=True)
            yield not_proved(_with(about, (*lines, *why), assumed), needs=needs, advice=advice)
        else:
            yield _judged(about, survey, held, rules, catalogue, found)


def _assumed(design: Design, rules: RuleSet) -> tuple[str, ...]:
    found = []
    total = design.job.vehicle.limits.total if design.job.vehicle else None
    if total is not None and not rules.is_meant_for(vehicle_mass_kg=total):
        found.append(f"{rules.name} is meant for {rules.mass_note}; this vehicle: {total:g} kg")
    return tuple(found)


def _judged(
    about: About,
    survey: Survey,
    held: Held,
    rules: RuleSet,
    catalogue: Catalogue,
    found: dict[LinkName, Worst],
) -> Finding:
    top = max(found.values(), key=lambda w: w.use)
    if not survey.of.job.carry and top.use <= 1.0:
        return _empty_only(about, held, rules, top)
    demand, capacity, unit = _compared(top)
    advice: tuple[str, ...] = ()
    if top.use > 0.9:
        advice = advice_for(survey, held, rules, catalogue, tuple(found))
    return ratio(
        about,
        demand=demand,
        capacity=capacity,
        unit=unit,
        basis="allowable" if top.divisor > 1.0 else top.link.basis,
        factor=top.factor,
        advice=advice,
    )


def _empty_only(about: About, held: Held, rules: RuleSet, top: Worst) -> Finding:
    """Return that nothing is said of contents, with how much would still be held."""
    limit = contents_kg(held, rules)
    return not_proved(
        about,
        needs=(NO_CARRY,),
        advice=(
            f"empty it stands at {top.use:.2f}; its bolts hold up to {limit:.0f} kg of contents",
        ),
    )


def _compared(top: Worst) -> tuple[float, float, str]:
    """Return demand and capacity as one pair: a force where one force governs, else a use of 1."""
    link, shear, pull = top.link, top.shear_n, top.pull_n
    lone_pull = pull / link.alone
    if lone_pull >= shear / link.shear + pull / link.pull and pull < float("inf"):
        return pull, link.alone / top.divisor, "N"
    if not pull / link.pull > 0.0:
        return shear, link.shear / top.divisor, "N"
    return top.use, 1.0, "of the limit"


def _with(about: About, lines: tuple[str, ...], assumed: tuple[str, ...]) -> About:
    return replace(about, working=lines, assumed=assumed)


def _about(held: Held, rules: RuleSet, code: str, what: str, found: dict[LinkName, Worst]) -> About:
    top = max(found.values(), key=lambda w: w.use) if found else None
    standings: list[Standing] = [rules.source.shown_as]
    if top is not None:
        standings.append(top.link.standing)
    place = f" at {top.hold.id}" if top else ""
    return About(
        id=f"{code}:{held.body.id}",
        title=f"{held.body.name} stays put: {what}",
        about=held.body.block.name,
        family=_FAMILY,
        source=f"{rules.title}; {_STATICS}; {top.link.source if top else 'no strength known'}",
        standing=weakest(*standings),
        load_case=f"{rules.name}: {top.case.text}{place}" if top else rules.name,
    )


def _unheld(held: Held, rules: RuleSet) -> Finding:
    body = held.body
    about = About(
        id=f"RESTRAINT:{body.id}",
        title=f"{body.name} stays put: the bolts",
        about=body.block.name,
        family=_FAMILY,
        source=f"{rules.title}; {_STATICS}",
        standing=weakest("common practice", rules.source.shown_as),
        load_case=rules.name,
        working=(
            (
                f"{body.loaded.mass:.1f} kg loaded; {rules.forward:g} g forward asks for "
                f"{rules.forward * body.loaded.mass * GRAVITY_M_S2:.0f} N"
            ),
        ),
    )
    if not held.holds and not body.on_floor:
        return raised_finding(about, held, rules)
    missing = (
        "one bolt alone lets it turn on the floor" if held.holds else "nothing holds it down",
    )
    return complete(
        about,
        missing=missing,
        advice=(
            "name places that may be drilled or factory anchors under it, or move it over some",
        ),
    )


def _working(
    held: Held,
    group: Group,
    rules: RuleSet,
    found: dict[LinkName, Worst],
    *,
    full: bool,
) -> tuple[str, ...]:
    lines: list[str] = []
    if full:
        lines += _body_lines(held, group)
        lines += _direction_lines(group, rules, found)
    for name, top in sorted(found.items(), key=lambda row: -row[1].use):
        lines.append(
            f"{LINKS[name]}: {top.hold.id} governs at {top.use:.2f}, {top.case.text}, "
            f"V {top.shear_n:.0f} N, T {top.pull_n:.0f} N"
            + (f", its figures / {top.divisor:g} as working loads" if top.divisor > 1.0 else "")
        )
        lines += top.link.lines
    if full:
        lines += _other_rules(held, rules)
        lines += _crash_lines(held, group)
    return tuple(lines)


def _body_lines(held: Held, group: Group) -> Iterator[str]:
    body = held.body
    for loaded in (False, True):
        weight = group.weight(loaded=loaded)
        x, y, _ = weight.centre
        yield (
            f"{'loaded' if loaded else 'empty'}: {weight.mass:.1f} kg, centre x {x:.0f}, y {y:.0f},"
            f" {group.height(loaded=loaded):.0f} mm above the edges it tips about (x "
            f"{body.x.low:.0f} to {body.x.high:.0f}, y {body.y.low:.0f} to {body.y.high:.0f})"
        )
    yield (
        "H = f a m g; M = max(0, H h - (1 - f a_v) m g x_c); T_i = M y_i/sum(y_j^2); V_i = H/n "
        f"and M_t r_i/J about the bolts' middle, / {SHARING:g} for clearance holes; no friction"
    )
    yield f"{len(held.holds)} bolts: " + ", ".join(
        f"{hold.id} ({hold.x:.0f}, {hold.y:.0f})" for hold in held.holds
    )


def _direction_lines(group: Group, rules: RuleSet, found: dict[LinkName, Worst]) -> Iterator[str]:
    factor = next((w.factor for w in found.values()), 1.0)
    yield f"every case with f = {factor:g}: H, tipping and keeping moment, worst V and T of a bolt"
    for case in cases_of(rules, group):
        yield _case_line(case, group.forces(case, factor=factor))


def _case_line(case: Case, forces: Forces) -> str:
    return (
        f"{case.text}: H {forces.push_n:.0f} N, M {forces.over_n_mm / 1000.0:.0f} - "
        f"{forces.back_n_mm / 1000.0:.0f} N m, V {max(forces.shears):.0f} N, "
        f"T {max(forces.pulls):.0f} N"
    )


def _other_rules(held: Held, rules: RuleSet) -> Iterator[str]:
    quick = quick_of(held)
    others = [
        f"{name} {greatest_use(held, row, quick):.2f}"
        for name, row in RULE_SETS.items()
        if name != rules.name
    ]
    yield "worst link under the other rule sets: " + ", ".join(others)


def _crash_lines(held: Held, group: Group) -> Iterator[str]:
    for level in CRASH_INFORMATION:
        case = Case(way="forward", push=level, lift=0.0, loaded=True)
        forces = group.forces(case, factor=1.0)
        yield (
            f"information only, nothing is claimed: at {level:g} g forward {held.body.name} pushes "
            f"with {forces.push_n / 1000.0:.1f} kN, {max(forces.shears) / 1000.0:.1f} kN sideways "
            f"and {max(forces.pulls) / 1000.0:.1f} kN pull on a bolt; no calculation here shows "
            "that anything holds in a crash"
        )


def _drilling(design: Design) -> Finding | None:
    """Return whether the new holes are known to be clear; None when nothing is drilled."""
    new = [a for a in design.anchors if not a.existing]
    if not new:
        return None
    bay = design.job.bay
    about = About(
        id="DRILL:load floor",
        title="New holes in the load floor miss what lies under it",
        about="vehicle",
        family=_FAMILY,
        source="existing anchors first; never in a no-drill area; 300 mm from belt and seat "
        "anchorages (common practice)",
        standing="common practice",
        load_case=f"{len(new)} new holes",
        working=tuple(_places(new)),
    )
    if not any(area.surface == "floor" for area in bay.no_drill):
        return not_proved(
            about,
            needs=("bay.no_drill: what must not be drilled, looked for from below",),
            advice=("look behind first: tank, brake and fuel pipes, cables, closed sections",),
        )
    return complete(about, missing=())


def _places(anchors: Iterable[AnchorPoint]) -> Iterator[str]:
    for anchor in anchors:
        yield f"{anchor.id}: x {anchor.x:.0f}, y {anchor.y:.0f}"
