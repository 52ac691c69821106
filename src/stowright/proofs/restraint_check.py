"""A body on its bolts against a rule set: the worst use of each link, and by which case."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from stowright.formulas.restraint import RuleSet, restraint_factor
from stowright.model.bay import Floor
from stowright.model.catalogue import Catalogue
from stowright.model.design import Design
from stowright.proofs.anchor_holds import Hold, holds_of
from stowright.proofs.anchor_path import path_links
from stowright.proofs.anchor_strengths import (
    Link,
    LinkName,
    Open,
    bolt_link,
    factory_link,
    sheet_links,
)
from stowright.proofs.restraint_bodies import StandingBody, Survey, survey_of
from stowright.proofs.restraint_forces import Case, Forces, Group, Way, cases_of, group_of

__all__ = [
    "Held",
    "Key",
    "Study",
    "Worst",
    "check_of",
    "greatest_use",
    "held_by",
    "studied",
    "terms_of",
    "worst_of",
]

#: A case at a factor: way, loaded, factored push and lift.
type Key = tuple[Way, bool, float, float]

#: A design resistance divided by this is a working value: the factor that the demand else has.
WORKING_DIVISOR = 1.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Worst:
    """The worst use of a link.

    Attributes:
        use: Utilisation.
        shear_n, pull_n: What the bolt saw, factored.
        factor: Factor on the accelerations.
        divisor: What the link's figures were divided by to be working values; 1 else.
    """

    use: float
    hold: Hold
    link: Link
    case: Case
    shear_n: float
    pull_n: float
    factor: float
    divisor: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """A body with the bolts that hold it and what each link can take.

    Attributes:
        group: None when the bolts cannot stop it from turning.
        links: What is known, bolt by bolt.
        open: What is not, bolt by bolt.
    """

    body: StandingBody
    holds: tuple[Hold, ...]
    group: Group | None
    links: tuple[tuple[Link, ...], ...]
    open: tuple[tuple[Hold, Open], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Study:
    """A design looked through, and each of its carcasses on the bolts that it has."""

    survey: Survey
    held: tuple[Held, ...]


def studied(design: Design, catalogue: Catalogue) -> Study:
    """Return a design looked through, each carcass on its bolts."""
    survey = survey_of(design)
    held = tuple(check_of(survey, body, catalogue) for body in survey.bodies)
    return Study(survey=survey, held=held)


def check_of(survey: Survey, body: StandingBody, catalogue: Catalogue) -> Held:
    """Return a body of a design with the bolts that the design gave it."""
    return held_by(body, holds_of(survey, body, catalogue), survey.of.job.bay.floor)


def held_by(body: StandingBody, holds: Sequence[Hold], floor: Floor | None) -> Held:
    """Return a body on any set of bolts."""
    known: list[tuple[Link, ...]] = []
    lacking: list[tuple[Hold, Open]] = []
    for hold in holds:
        found = _links(hold, floor)
        known.append(tuple(link for link in found if isinstance(link, Link)))
        lacking += [(hold, link) for link in found if isinstance(link, Open)]
    return Held(
        body=body,
        holds=tuple(holds),
        group=group_of(body, [(hold.x, hold.y) for hold in holds]),
        links=tuple(known),
        open=tuple(lacking),
    )


def _links(hold: Hold, floor: Floor | None) -> Iterable[Link | Open]:
    beyond = (factory_link(hold),) if hold.existing else sheet_links(hold, floor)
    return (bolt_link(hold), *beyond, *path_links(hold))


def terms_of(rules: RuleSet, link: Link) -> tuple[float, float]:
    """Return the factor on the demand and the divisor of a link's figures under a rule set.

    Working loads: 1.0. Design values after Eurocode factors: what the rule set says; a set that is
    only meant for working loads sees them divided by 1.5 instead, which makes them working values.
    """
    if link.basis == "allowable":
        return restraint_factor(rules, capacity_basis="working load"), 1.0
    if rules.working_load_only:
        return 1.0, WORKING_DIVISOR
    return restraint_factor(rules, capacity_basis="characteristic"), 1.0


def worst_of(held: Held, rules: RuleSet) -> dict[LinkName, Worst]:
    """Return the worst use of each link over every case of a rule set."""
    found: dict[LinkName, Worst] = {}
    group = held.group
    if group is None:
        return found
    by_terms = _by_terms(held, rules)
    for case in cases_of(rules, group):
        for (factor, divisor), rows in by_terms.items():
            forces = group.forces(case, factor=factor)
            for index, link in rows:
                shear, pull = forces.shears[index], forces.pulls[index]
                use = divisor * link.use(shear, pull)
                best = found.get(link.name)
                if best is None or use > best.use + 1.0e-12:
                    found[link.name] = Worst(
                        use=use,
                        hold=held.holds[index],
                        link=link,
                        case=case,
                        shear_n=shear,
                        pull_n=pull,
                        factor=factor,
                        divisor=divisor,
                    )
    return found


def greatest_use(held: Held, rules: RuleSet, seen: dict[Key, Forces] | None = None) -> float:
    """Return the worst use of any link under a rule set; infinite when nothing holds the body.

    Args:
        held: The body on its bolts.
        rules: The rule set.
        seen: Forces worked out before on the same body and bolts; what is new is added.
    """
    group = held.group
    if group is None:
        return float("inf")
    memory = {} if seen is None else seen
    by_terms = _by_terms(held, rules)
    worst = 0.0
    for case in cases_of(rules, group):
        for (factor, divisor), rows in by_terms.items():
            key = (case.way, case.loaded, round(factor * case.push, 9), factor * case.lift)
            forces = memory.get(key)
            if forces is None:
                forces = memory[key] = group.forces(case, factor=factor)
            shears, pulls = forces.shears, forces.pulls
            for index, link in rows:
                shear, pull = shears[index], pulls[index]
                use = shear / link.shear + pull / link.pull
                worst = max(worst, divisor * use, divisor * pull / link.alone)
    return worst


def _by_terms(held: Held, rules: RuleSet) -> dict[tuple[float, float], list[tuple[int, Link]]]:
    """Return bolts with their links, by the factor and divisor that go with each."""
    rows: dict[tuple[float, float], list[tuple[int, Link]]] = {}
    for index, links in enumerate(held.links):
        for link in links:
            rows.setdefault(terms_of(rules, link), []).append((index, link))
    return rows
