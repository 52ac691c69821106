"""Advice that was tried: the same proof with one thing changed, and what came out."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace

from stowright.model.catalogue import Catalogue, Material
from stowright.model.finding import Finding

__all__ = ["Trial", "advised", "first_pass", "stronger", "thicker"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Trial:
    """One change: how it reads, and the proof with it made."""

    words: str
    find: Callable[[], Finding]


def advised(
    finding: Finding,
    *ways: Iterable[Trial],
    last: Iterable[Trial] = (),
    otherwise: tuple[str, ...] = (),
) -> Finding:
    """Return a finding with advice that was tried, where there is something to mend.

    Each way is a row of trials, mildest first; the first that passes is told with its utilisation.
    ``last`` is tried when none does. Where nothing passes, what came nearest is told, and
    ``otherwise``.
    """
    if finding.status == "pass":
        return finding
    missed: list[tuple[float, str]] = []
    said = [line for way in ways if (line := first_pass(way, missed))]
    if not said and (line := first_pass(last, missed)):
        said = [line]
    if not said:
        said = [*_nearest(missed), *otherwise]
    return replace(finding, advice=(*finding.advice, *said))


def _nearest(missed: list[tuple[float, str]]) -> tuple[str, ...]:
    """Return how near the best of trials came that do not pass."""
    if not missed:
        return ()
    use, words = min(missed)
    reach = f"still {use:.2f}" if use > 1.0 else f"{use:.2f}, which leaves too little in hand"
    return (f"none of {len(missed)} tried passes; nearest: {words.rstrip(',')}, {reach}",)


def first_pass(way: Iterable[Trial], missed: list[tuple[float, str]] | None = None) -> str:
    """Return what the first passing trial of a row says; empty when none passes.

    What does not pass is added to ``missed`` with its utilisation.
    """
    for trial in way:
        found = trial.find()
        use = found.utilisation
        if found.status == "pass":
            return f"{trial.words} passes" + (f" at {use:.2f}" if use is not None else "")
        if missed is not None and use is not None:
            missed.append((use, trial.words))
    return ""


def stronger(catalogue: Catalogue, material: Material) -> Iterator[Material]:
    """Yield other families' sheets of the same trade thickness that bend stronger, weakest first.

    Standing goes before strength: a sheet of known make before another assumed one.
    """
    rows = [
        row
        for row in catalogue.materials
        if row.family != material.family
        and row.nominal == material.nominal
        and min(row.f_along, row.f_across) > min(material.f_along, material.f_across)
    ]
    yield from sorted(
        rows,
        key=lambda row: (row.origin.standing == "assumed", row.f_along + row.f_across, row.name),
    )


def thicker(catalogue: Catalogue, material: Material) -> Iterator[Material]:
    """Yield the catalogue's thicker sheets of a material's family, thinnest first."""
    rows = [
        row
        for row in catalogue.materials
        if row.family == material.family and row.nominal > material.nominal
    ]
    yield from sorted(rows, key=lambda row: row.nominal)
