"""Loads before any factor, capacities with their basis, and the factor that the basis asks for.

A demand goes into a proof unfactored and named by its kind; the capacity says what its value means;
the factor follows from both. What does not belong together is refused, so that a characteristic
value is never added to, or held against, a working load.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Literal

from stowright.errors import BasisMixError
from stowright.formulas.actions_en1990 import ULTIMATE_DIVISOR, load_factor, working_load_n
from stowright.formulas.ec5_design import Duration, design_strength_n_mm2, k_mod, partial_factor
from stowright.formulas.restraint import RuleSet, restraint_factor
from stowright.model.catalogue import Basis, Material, Standing
from stowright.model.finding import Finding
from stowright.proofs.judge import About, not_proved, ratio, weakest

__all__ = [
    "Capacity",
    "Load",
    "LoadKind",
    "design_resistance",
    "factor_on",
    "gravity",
    "held",
    "held_or_told",
    "least",
    "sheet_strength",
    "together",
    "working",
    "worst",
]

type LoadKind = Literal["own mass", "contents", "people", "restraint"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """A demand before any factor, in the unit of the capacity it is held against."""

    kind: LoadKind
    value: float
    what: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Capacity:
    """What something can take.

    Attributes:
        value: In ``unit``; a design value where the basis is characteristic.
        basis: What the value is.
        source: Where formula and numbers come from.
        standing: Standing of the weakest number in it.
        working: Formula and numbers, a line each.
    """

    value: float
    unit: str
    basis: Basis
    source: str
    standing: Standing
    working: tuple[str, ...] = ()


def factor_on(kind: LoadKind, *, basis: Basis, rules: RuleSet | None = None) -> float:
    """Return the factor on a load of a kind that is held against a capacity on a basis. [-].

    Raises:
        BasisMixError: For a mean ultimate value not yet divided, or a rule set that is stated
            against working loads held against a characteristic value.
    """
    if basis == "mean ultimate":
        raise BasisMixError("a load", "mean ultimate, not yet divided")
    if basis != "characteristic":
        return 1.0
    if kind != "restraint":
        return load_factor(load=kind, capacity_basis="characteristic")
    return 1.5 if rules is None else restraint_factor(rules, capacity_basis="characteristic")


def working(capacity: Capacity, *, divisor: float = ULTIMATE_DIVISOR) -> Capacity:
    """Return a mean ultimate capacity as a working value, its divisor said.

    Raises:
        BasisMixError: If the capacity is anything else.
    """
    if capacity.basis != "mean ultimate":
        raise BasisMixError("a mean ultimate value", capacity.basis)
    value = working_load_n(mean_ultimate_n=capacity.value, divisor=divisor)
    line = f"working value = mean ultimate / {divisor:g} = {value:.3g} {capacity.unit}"
    return replace(
        capacity,
        value=value,
        basis="allowable",
        standing=weakest(capacity.standing, "assumed"),
        working=(*capacity.working, line),
    )


def together(*capacities: Capacity) -> Capacity:
    """Return the sum of capacities that act at once.

    Raises:
        BasisMixError: If they are not all on one basis.
    """
    _require_one_basis(capacities)
    return replace(
        capacities[0],
        value=sum(each.value for each in capacities),
        standing=weakest(*(each.standing for each in capacities)),
        working=tuple(line for each in capacities for line in each.working),
    )


def least(*capacities: Capacity) -> Capacity:
    """Return the least of capacities in a row.

    Raises:
        BasisMixError: If they are not all on one basis: two bases cannot be compared.
    """
    _require_one_basis(capacities)
    return min(capacities, key=lambda each: each.value)


def _require_one_basis(capacities: tuple[Capacity, ...]) -> None:
    bases = sorted({each.basis for each in capacities})
    if len(bases) > 1:
        raise BasisMixError(bases[0], bases[1])


def held(
    about: About,
    *,
    loads: Iterable[Load],
    capacity: Capacity,
    rules: RuleSet | None = None,
    advice: tuple[str, ...] = (),
) -> Finding:
    """Return the ratio finding of loads, each with its own factor, against a capacity.

    Raises:
        BasisMixError: If a load may not be held against the capacity's basis.
    """
    all_rows = [(load, factor_on(load.kind, basis=capacity.basis, rules=rules)) for load in loads]
    rows = [row for row in all_rows if row[0].value > 0.0]
    demand = sum(load.value * factor for load, factor in rows)
    _, factor = max(rows, key=lambda row: row[0].value * row[1], default=(None, 1.0))
    terms = " + ".join(
        f"{factor:g} x {load.value:.4g} ({load.what or load.kind})" for load, factor in rows
    )
    return ratio(
        About(
            id=about.id,
            title=about.title,
            about=about.about,
            family=about.family,
            load_case=about.load_case,
            assumed=about.assumed,
            source=f"{about.source}; {capacity.source}" if about.source else capacity.source,
            standing=weakest(about.standing, capacity.standing),
            working=(
                *about.working,
                *capacity.working,
                f"E = {terms or '0'} = {demand:.4g} {capacity.unit}",
                f"R = {capacity.value:.4g} {capacity.unit} ({capacity.basis})",
            ),
        ),
        demand=demand,
        capacity=capacity.value,
        unit=capacity.unit,
        basis=capacity.basis,
        factor=factor,
        advice=advice,
    )


def held_or_told(about: About, find: Callable[[], Finding]) -> Finding:
    """Return the finding, or "not proved" where its rule set and its capacity do not go together.

    Two rule sets are stated against working-load values; most strengths of wood are characteristic.
    """
    try:
        return find()
    except BasisMixError as mixed:
        return not_proved(
            about,
            needs=(f"job.rules: a set for such strengths, or a working-load value: {mixed}",),
            advice=('rules = "light-envelope" holds its demand against characteristic strengths',),
        )


def worst(findings: Iterable[Finding]) -> Finding:
    """Return the finding that governs, with the working of the others before its own.

    The findings are about one thing and are each within one basis; their utilisations compare.
    """
    rows = list(findings)
    governs = max(rows, key=gravity)
    if len(rows) == 1:
        return governs
    others = tuple(
        f"{_named(each, governs)}: {each.utilisation:.2f}"
        for each in rows
        if each is not governs and each.utilisation is not None
    )
    return replace(governs, working=(*governs.working, *others))


def _named(each: Finding, governs: Finding) -> str:
    """Return how a finding that does not govern is called beside the one that does."""
    same = each.load_case == governs.load_case
    return "the other way" if same else each.load_case or "another case"


_GRAVITY = {"pass": 0, "warn": 1, "not proved": 2, "fail": 3}


def gravity(finding: Finding) -> tuple[int, float]:
    """Return how grave a finding is, to sort by: its status, then its utilisation."""
    return _GRAVITY[finding.status], finding.utilisation or 0.0


def design_resistance(
    capacity: Capacity, *, duration: Duration, service_class: int, what: Literal["sheet", "joint"]
) -> Capacity:
    """Return R_d = k_mod R_k / gamma_M of a characteristic capacity; others are left as they are.

    A working value already holds what time, damp and scatter take; a mean ultimate one is divided.
    """
    if capacity.basis == "mean ultimate":
        return working(capacity)
    if capacity.basis != "characteristic":
        return capacity
    mod = k_mod(service_class=service_class, duration=duration)
    gamma = partial_factor(what="plywood" if what == "sheet" else "connection")
    value = design_strength_n_mm2(
        characteristic_n_mm2=capacity.value, strength_factor=mod, material_factor=gamma
    )
    symbol = "f" if what == "sheet" else "R"
    line = (
        f"{symbol}_d = k_mod {symbol}_k / gamma_M = {mod:g} x {capacity.value:.4g} / {gamma:g} = "
        f"{value:.4g} {capacity.unit} ({duration}, service class {service_class})"
    )
    return replace(
        capacity,
        value=value,
        source=f"{capacity.source}; k_mod, gamma_M: EN 1995-1-1",
        working=(*capacity.working, line),
    )


@lru_cache(maxsize=512)
def sheet_strength(
    material: Material, *, strength: float, duration: Duration, service_class: int
) -> Capacity:
    """Return the design value of one of a sheet's strengths. [N/mm²]."""
    return design_resistance(
        Capacity(
            value=strength,
            unit="N/mm²",
            basis=material.basis,
            source=f"strength of {material.name}: {material.origin.source}",
            standing=material.origin.standing,
        ),
        duration=duration,
        service_class=service_class,
        what="sheet",
    )
