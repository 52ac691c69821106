"""A body on its bolts against a rule set: the worst use of each link, and by which case."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from stowright.formulas.restraint import RuleSet, restraint_factor
from stowright.model.bay import Floor
from stowright.model.catalogue import Basis, Catalogue
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
from stowright.proofs.restraint_bodies import StandingBody, Survey, survey_of, total_of
from stowright.proofs.restraint_forces import Case, Group, cases_of, group_of
from stowright.proofs.restraint_quick import Quick

__all__ = [
    "Held",
    "Study",
    "Worst",
    "check_of",
    "greatest_use",
    "held_by",
    "quick_of",
    "spread",
    "studied",
    "terms_of",
    "worst_of",
]

_BASES: tuple[Basis, ...] = ("characteristic", "allowable")

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

    def only(self, chosen: Sequence[int]) -> Held:
        """Return the body on some of its bolts, given by their places in the row."""
        holds = tuple(self.holds[n] for n in chosen)
        return replace(
            self,
            holds=holds,
            group=group_of(self.body, [(hold.x, hold.y) for hold in holds]),
            links=tuple(self.links[n] for n in chosen),
        )

    def with_body(self, body: StandingBody) -> Held:
        """Return another body on the same bolts."""
        spots = [(hold.x, hold.y) for hold in self.holds]
        return replace(self, body=body, group=group_of(body, spots))


@dataclass(frozen=True, slots=True, kw_only=True)
class Study:
    """A design looked through, and each of its carcasses on the bolts that it has."""

    survey: Survey
    held: tuple[Held, ...]


def spread(holds: Iterable[Hold], bodies: Iterable[StandingBody]) -> str:
    """Return on which side of a centre of gravity no bolt stands; empty where they are spread.

    Bolts are spread where one at least stands on each side of the centre, along and across, of the
    bodies together, empty and loaded.
    """
    rows, spots = tuple(bodies), [(hold.x, hold.y) for hold in holds]
    sides = (("towards the tail", "towards the cab"), ("to the right", "to the left"))
    for weights in ([body.empty for body in rows], [body.loaded for body in rows]):
        centre = total_of(weights).centre
        for axis, (low, high) in enumerate(sides):
            at = [spot[axis] for spot in spots]
            if not any(each < centre[axis] for each in at):
                return low
            if not any(each > centre[axis] for each in at):
                return high
    return ""


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


def terms_of(rules: RuleSet, basis: Basis) -> tuple[float, float]:
    """Return the factor on the demand and the divisor of a basis's figures under a rule set.

    Working loads: 1.0. Design values after Eurocode factors: what the rule set says; a set that is
    only meant for working loads sees them divided by 1.5 instead, which makes them working values.
    """
    if basis == "allowable":
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
    for lifted in cases_of(rules, group):
        if lifted.lift != rules.up:
            continue  # lift never helps: the case without it is no worse
        for (factor, divisor), rows in by_terms.items():
            forces = group.forces(lifted, factor=factor)
            case = lifted if forces.net_n_mm > 0.0 else replace(lifted, lift=0.0)
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


def quick_of(held: Held) -> Quick | None:
    """Return a body boiled down for fast answers; None when its bolts do not hold it."""
    return None if held.group is None else Quick(held.group, held.links)


def greatest_use(held: Held, rules: RuleSet, quick: Quick | None = None) -> float:
    """Return the worst use of any link under a rule set; infinite when nothing holds the body.

    ``quick`` is the body boiled down before, to ask it more than once.
    """
    ready = quick or quick_of(held)
    if ready is None:
        return float("inf")
    return ready.use(rules, {basis: terms_of(rules, basis) for basis in _BASES})


def _by_terms(held: Held, rules: RuleSet) -> dict[tuple[float, float], list[tuple[int, Link]]]:
    """Return bolts with their links, by the factor and divisor that go with each."""
    rows: dict[tuple[float, float], list[tuple[int, Link]]] = {}
    for index, links in enumerate(held.links):
        for link in links:
            rows.setdefault(terms_of(rules, link.basis), []).append((index, link))
    return rows
