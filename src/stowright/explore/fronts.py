"""The best of what was judged: what serves and no other beats, in steps that matter."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from stowright.explore.judging import Judged
from stowright.explore.measures import Measures, criteria_known, stepped
from stowright.explore.pareto import non_dominated

__all__ = ["best_of", "values_of"]

#: While nothing serves, so many of those that fall short least count as best.
LEAST_BAD = 40


def best_of(rows: Iterable[Judged]) -> list[Judged]:
    """Return what no other beats of what serves; while nothing does, what falls short least.

    Of designs equal in every step the one is kept whose plain numbers come first.
    """
    made = [row for row in rows if row.measures is not None]
    serving = [row for row in made if row.serves]
    if not serving:
        return sorted(made, key=lambda row: (row.short, row.choice))[:LEAST_BAD]
    serving.sort(key=lambda row: (_plain(row), row.choice))
    values = values_of(serving)
    return [serving[k] for k in non_dominated(values)]


def values_of(rows: Sequence[Judged]) -> list[tuple[int, ...]]:
    """Return the values in steps by the criteria that all have, less being better."""
    measures = [row.measures for row in rows if row.measures is not None]
    criteria = criteria_known(measures)
    return [stepped(each, criteria) for each in measures]


def _plain(row: Judged) -> tuple[float, ...]:
    m = row.measures
    return (-m.litres, m.mass_kg, m.sheets, m.cuts) if isinstance(m, Measures) else ()
