"""Advice tried on the whole unit: the job changed, designed again, the same proof looked up again.

Proofs that can be tried by themselves (a thicker sheet, another runner) do so on the spot. What
moves or changes the unit is tried here. A load that was packed stays packed as it was; hold-down
bolts are not planned again, so that nothing is said of them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from itertools import islice

from stowright.design.build import design as designed
from stowright.errors import StowrightError
from stowright.model.catalogue import Catalogue
from stowright.model.design import Design
from stowright.model.finding import Finding
from stowright.model.given import Given
from stowright.model.job import Job
from stowright.model.packed import PackedLoad
from stowright.proofs.basis import gravity
from stowright.proofs.changes import changes_for
from stowright.proofs.job_changes import Change
from stowright.proofs.untried import why_untried

__all__ = ["tried_again"]

#: The most changes that are tried for one finding, and the most that pass and are told.
MOST, TOLD = 5, 2
#: The most units that are designed again for one design: what is worst comes first.
UNITS = 24
#: Word by which advice says that it was tried.
PASSES = " passes"
#: How advice begins that tells how near what was tried on the spot came.
NONE = "none of "
#: How advice begins that is said whatever was tried: cautions, and sums of the proof itself.
CAUTION = ("ask ", "or park level", "or carried in as panels", "in ", "the bay is ")
#: Findings about hold-down bolts, which are not planned again.
_BOLTED = ("RESTRAINT", "TIP-USE", "TIP-VEHICLE", "DRILL")
#: Proves a design without a Monte Carlo.
type Prove = Callable[[Design, Catalogue], Iterable[Finding]]


@dataclass(slots=True, kw_only=True)
class _Unit:
    """A design, and what came of changing it, each change once."""

    design: Design
    catalogue: Catalogue
    prove: Prove
    failing: frozenset[str]
    known: dict[Job, dict[str, Finding] | None] = field(default_factory=dict)
    unpacked: frozenset[str] | None = None

    def again(self, change: Change) -> dict[str, Finding] | None:
        """Return the findings of a changed job by id; None without a geometry for it."""
        if change.job not in self.known:
            if len(self.known) >= UNITS:
                return None
            packed = None if self._carries_else(change.job) else self.design.packed
            self.known[change.job] = self._proved(change.job, packed=packed)
        return self.known[change.job]

    def new_in(self, change: Change, after: dict[str, Finding]) -> list[str]:
        """Return what fails with a change and does not fail without it.

        Where what is carried changes nothing is packed: it is held against the unit unpacked.
        """
        before = self.failing
        if self._carries_else(change.job):
            if self.unpacked is None:
                same = self._proved(self.design.job, packed=None)
                self.unpacked = _bad((same or {}).values())
            before |= self.unpacked
        known = {_subject(name) for name in before}
        return [
            name
            for name in _bad(after.values())
            if _subject(name) not in known and not name.startswith(_BOLTED)
        ]

    def _carries_else(self, job: Job) -> bool:
        """Return whether a job's carry list is another one: how it was packed holds no more."""
        return job.carry != self.design.job.carry

    def _proved(self, job: Job, *, packed: PackedLoad | None) -> dict[str, Finding] | None:
        try:
            other = designed(job, self.catalogue, Given(packed=packed))
            return {each.id: each for each in self.prove(other, self.catalogue)}
        except (StowrightError, ArithmeticError, LookupError):
            return None


def tried_again(
    findings: tuple[Finding, ...], design: Design, catalogue: Catalogue, *, prove: Prove
) -> tuple[Finding, ...]:
    """Return findings, those that fail or warn with advice that was tried on the whole unit.

    ``prove`` proves a design. Nothing is designed again once parts are cut: a part that is cut
    cannot be another one.
    """
    if not any(each.status in {"fail", "warn"} for each in findings):
        return findings
    unit = _Unit(design=design, catalogue=catalogue, prove=prove, failing=_bad(findings))
    cut = design.refit is not None or bool(design.job.done)
    return tuple(_told(unit, each, cut=cut) for each in findings)


def _bad(findings: Iterable[Finding]) -> frozenset[str]:
    """Return the ids of what fails, and of deck pieces that come to stand over nothing."""
    return frozenset(
        each.id
        for each in findings
        if each.status == "fail"
        or (each.status == "not proved" and each.id.startswith("DECK-OVERHANG"))
    )


def _same(finding: Finding, after: dict[str, Finding]) -> Finding | None:
    """Return what became of a finding; of a deck's pieces the worst one."""
    subject = _subject(finding.id)
    return max(
        (each for name, each in after.items() if _subject(name) == subject),
        key=gravity,
        default=None,
    )


def _subject(name: str) -> str:
    """Return what a finding is of, by its id: a deck's pieces may be others and are one."""
    code, _, piece = name.partition(":")
    return f"{code}:{piece.rpartition('/')[0] or piece}" if code.startswith("DECK-") else name


def _told(unit: _Unit, finding: Finding, *, cut: bool) -> Finding:
    """Return a finding with what was tried, or with why nothing was."""
    if finding.status not in {"fail", "warn"}:
        return finding
    if any(PASSES in line and not line.startswith(NONE) for line in finding.advice):
        return finding
    if cut:
        why = "not tried: parts are cut; the program to refit the unit goes on from them"
        return replace(finding, advice=(*finding.advice, why))
    passing, nearest, count = _trials(unit, finding)
    kept = tuple(line for line in finding.advice if line.startswith(CAUTION))
    if passing:
        return replace(finding, advice=(*passing, *kept))
    if nearest:
        some = "1 change" if count == 1 else f"{count} changes"
        line = f"{some} of the job tried, none mends it; nearest: {nearest}"
        spot = tuple(each for each in finding.advice if each.startswith(NONE))
        return replace(finding, advice=(line, *spot, *kept))
    why = why_untried(finding)
    return replace(finding, advice=(*_plain(finding), why)) if why else finding


def _plain(finding: Finding) -> tuple[str, ...]:
    """Return the advice that was on a finding, as something that was not tried."""
    return tuple(
        line if line.startswith((NONE, "not tried", *CAUTION)) else f"not tried: {line}"
        for line in finding.advice
    )


def _trials(unit: _Unit, finding: Finding) -> tuple[list[str], str, int]:
    """Return what passes, what comes nearest, and how many changes gave a unit at all."""
    passing: list[str] = []
    rest: list[tuple[int, float, str, str]] = []
    for change in islice(changes_for(unit.design, unit.catalogue, finding), MOST):
        after = unit.again(change)
        if after is None:
            continue
        found = _same(finding, after)
        if found is None or found.status == "pass":
            passing.append(_passed(unit, change, found, after))
            if len(passing) == TOLD:
                break
        else:
            use = found.utilisation if found.utilisation is not None else float("inf")
            act = found.advice[:1] if found.status == "not proved" else ()
            then = "; ".join((found.status, *found.needs[:1], *act))
            rest.append((gravity(found)[0], use, change.words, then))
    if not rest:
        return passing, "", 0
    _, use, words, then = min(rest)
    at = f" at {use:.2f}" if use < float("inf") else ""
    return passing, f"{words.rstrip(',')}, then {then}{at}", len(rest)


def _passed(unit: _Unit, change: Change, found: Finding | None, after: dict[str, Finding]) -> str:
    """Return that a change passes, at what, and what fails for it that did not fail before."""
    at = f" at {found.utilisation:.2f}" if found and found.utilisation is not None else ""
    new = unit.new_in(change, after)
    but = f"; but then fails: {', '.join(sorted(new)[:3])}" if new else ""
    return f"{change.words}{PASSES}{at}{but}"
