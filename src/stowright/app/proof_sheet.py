"""One proof as an engineer's calculation sheet, and finding a proof by its name."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from difflib import get_close_matches

from stowright.errors import UnknownNameError
from stowright.formulas.restraint import RuleSet, rule_set
from stowright.model.design import Design
from stowright.model.finding import Finding

__all__ = ["FAMILIES", "count_lines", "proof_sheet", "proofs_named"]

FAMILIES: dict[int, str] = {
    1: "it fits and gets in",
    2: "it moves",
    3: "fit under tolerance",
    4: "runners",
    5: "drawer bottoms, decks, shelves",
    6: "uprights, rails, bearers, cleats",
    7: "joints",
    8: "it stays put",
    9: "nothing is loose",
    10: "drawers stay shut, and stay open",
    11: "tipping",
    12: "the vehicle",
    13: "people and danger",
    14: "fixings",
    15: "keeping",
    16: "the cut and the book",
}
_KINDS = {
    "ratio": "ratio: pass up to 0.90, warn up to 1.00",
    "clearance": "clearance: pass when what is there is enough, warn within the reading error",
    "chance": "chance: pass from 0.95, warn from 0.80",
    "complete": "complete: pass when nothing is missing",
}
_MOST = 5
#: Families whose demands come from a rule set of accelerations.
_RESTRAINED = {8, 9, 10, 11}


def proofs_named(findings: Sequence[Finding], name: str) -> tuple[Finding, ...]:
    """Return the proof of an id, or all that share a code (``RUNNER``); letters' case is free.

    Raises:
        UnknownNameError: With the nearest known ids.
    """
    wanted = name.strip().casefold()
    exact = tuple(found for found in findings if found.id.casefold() == wanted)
    if exact:
        return exact
    coded = tuple(f for f in findings if f.id.casefold().split(":", maxsplit=1)[0] == wanted)
    if coded:
        return coded
    ids = {found.id.casefold(): found.id for found in findings}
    near = get_close_matches(wanted, list(ids), n=_MOST, cutoff=0.4)
    raise UnknownNameError("proof", name, tuple(ids[each] for each in near))


def count_lines(findings: Iterable[Finding]) -> tuple[str, str]:
    """Return how many proofs have each status, and each standing, in words."""
    rows = tuple(findings)
    statuses = Counter(found.status for found in rows)
    standings = Counter(found.standing for found in rows)
    by_status = ", ".join(
        f"{statuses[word]} {word}" for word in ("fail", "warn", "not proved", "pass")
    )
    by_standing = ", ".join(
        f"{standings[word]} {word}"
        for word in ("published", "common practice", "from memory", "assumed")
    )
    return by_status, by_standing


def proof_sheet(finding: Finding, design: Design) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Return a proof's calculation sheet: what each block is called, and its lines.

    The demand is printed as it stands in the proof, factored; the factor and the basis that asks
    for it stand beside it. Blocks without content are left out, except what a reader looks for.
    """
    rules = rule_set(design.job.rules)
    rows: list[tuple[str, tuple[str, ...]]] = [
        ("Proof", (finding.id,)),
        ("Title", (finding.title,)),
        ("About", (finding.about,)),
        ("Family", (f"{finding.family}, {FAMILIES.get(finding.family, 'other')}",)),
        ("Status", (finding.shown,)),
        ("Kind", (_KINDS[finding.kind],)),
        ("Load case", (finding.load_case or "none",)),
        ("Rule set", _rules(finding, rules)),
        *_working(finding),
        ("Demand", _demand(finding)),
        ("Capacity", _capacity(finding)),
        ("Utilisation", () if finding.utilisation is None else (f"{finding.utilisation:.3f}",)),
        ("Source", (finding.source,)),
        ("Standing", (f"{finding.standing}, that of the weakest input",)),
        ("Assumed", finding.assumed),
        ("Needs", finding.needs),
        ("Advice", finding.advice),
    ]
    return tuple((label, lines) for label, lines in rows if lines)


def _rules(finding: Finding, rules: RuleSet) -> tuple[str, ...]:
    if finding.family in _RESTRAINED or rules.name in finding.load_case:
        return (f"{rules.name}: {rules.title}",)
    return ("none: no restraint acceleration in it",)


def _working(finding: Finding) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Part the formula from its numbers; what is not worked out was looked at."""
    if not finding.working:
        return
    formula, *numbers = finding.working
    if finding.kind == "complete" or "=" not in formula:
        yield "Looked at", finding.working
        return
    yield "Formula", (formula,)
    yield "Numbers put in", tuple(numbers)


def _number(value: float, unit: str) -> str:
    return f"{value:.6g} {unit}".strip()


def _demand(finding: Finding) -> tuple[str, ...]:
    if finding.demand is None:
        return ()
    if finding.kind != "ratio":
        word = {"clearance": "needed", "chance": "passes from"}.get(finding.kind, "")
        return (f"{word} {_number(finding.demand, finding.unit)}".strip(),)
    factored = _number(finding.demand, finding.unit)
    if finding.factor == 1.0:
        return (f"{factored} (factor 1: the basis asks for none)",)
    before = _number(finding.demand / finding.factor, finding.unit)
    return (f"{before} x {finding.factor:g} = {factored}",)


def _capacity(finding: Finding) -> tuple[str, ...]:
    if finding.capacity is None:
        return ()
    word = {"clearance": "available ", "chance": "found "}.get(finding.kind, "")
    basis = f" ({finding.basis})" if finding.basis else ""
    return (f"{word}{_number(finding.capacity, finding.unit)}{basis}",)
