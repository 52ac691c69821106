"""Many designs for a bay, judged; a few kept that no other beats and that really differ."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

from stowright.design.bodies import bodies
from stowright.explore.arranged import arranged
from stowright.explore.arrangement import KIND, Space, space_of
from stowright.explore.budget import KEEP, Budget
from stowright.explore.design_search import Search, Told, search
from stowright.explore.fronts import best_of, values_of
from stowright.explore.judging import Judge, Judged, Wrong, judge_job
from stowright.explore.measures import CRITERIA, Criterion, Measures, criteria_known, worth
from stowright.explore.sheet_choices import SHEETS
from stowright.explore.volume import most_volume
from stowright.explore.wording import best_at, gives_up, named
from stowright.explore.workers import Client, Crew, crew
from stowright.model.catalogue import Catalogue
from stowright.model.design import Design
from stowright.model.job import Job
from stowright.model.layout import CuttingPlan

__all__ = ["Candidate", "Exploration", "Refusal", "explore", "few"]

#: While nothing serves, so many are shown at most.
LEAST_BAD = 4
#: Of one kind so many are shown, or a quarter of all where more are asked for.
OF_A_KIND, QUARTER = 3, 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidate:
    """A design that was kept.

    Attributes:
        name: In words.
        job: What asks for it: a job like any other.
        judged: How it was judged.
        best_at: What it is best at among those kept.
        gives_up: What it gives up against the best of those kept.
    """

    name: str
    job: Job
    judged: Judged
    best_at: tuple[str, ...] = ()
    gives_up: tuple[str, ...] = ()

    @property
    def measures(self) -> Measures:
        """Its numbers."""
        if self.judged.measures is None:
            raise ValueError("a design that could not be made has no numbers")
        return self.judged.measures


@dataclass(frozen=True, slots=True, kw_only=True)
class Refusal:
    """What designs failed.

    Attributes:
        code: Of the proof, or words that say all.
        count: How many of those proved failed it.
        looked_at: What it looked at in one of them, in words; empty where there is none.
    """

    code: str
    count: int
    looked_at: str

    @property
    def told(self) -> str:
        """In words, with the code of the proof."""
        words = f" (as: {self.looked_at})" if self.looked_at else ""
        return f"{self.code} in {self.count}{words}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Exploration:
    """What came out of looking at many designs.

    Attributes:
        kept: The few that are shown.
        front: Everything that serves and no other beats, the kept ones among it. While nothing
            serves it is empty, and those kept fall short least.
        asked: The job as it stands, judged in the same way; None when it cannot be made.
        criteria: What they were compared by.
        quick, whole: How many were judged by their bodies, and proved.
        serving: How many of those proved serve.
        refused: Why the others do not, the most frequent first.
        size: How many arrangements there are, equal units counted more than once.
        stopped: Whether it was stopped before its end.
    """

    kept: tuple[Candidate, ...]
    front: tuple[Judged, ...]
    asked: Candidate | None
    criteria: tuple[Criterion, ...]
    quick: int
    whole: int
    serving: int
    refused: tuple[Refusal, ...]
    size: int
    stopped: bool


def explore(
    job: Job,
    catalogue: Catalogue,
    cut: Callable[[Design, Catalogue], CuttingPlan],
    *,
    seed: int = 0,
    budget: Budget | None = None,
    keep: int = KEEP,
    space: Space | None = None,
    workers: int | None = None,
    client: Client | None = None,
    progress: Callable[[Told], None] | None = None,
    should_stop: Callable[[], bool] | None = None,
) -> Exploration:
    """Return a few designs for a job's bay, vehicle and carry list that no other beats.

    The same job, shelf, seed and budget give the same designs, however many processes work.

    Args:
        job: Its bay, vehicle, carry list and build count; its blocks and decks do not.
        catalogue: The shelf.
        cut: Lays a design out on sheets; it goes to other processes, so a module's function.
        seed: Start of the random numbers.
        budget: How many designs are judged; None for the usual number.
        keep: How many to keep at most.
        space: What may be chosen; None for everything that the bay leaves open.
        workers: Local processes; None for one a core.
        client: A cluster's client, instead of local processes.
        progress: Told after each round.
        should_stop: Asked now and then; True ends it with the best so far.
    """
    judge = Judge(space=space or space_of(job, catalogue), catalogue=catalogue, cut=cut)
    with crew(judge, workers=workers, client=client, should_stop=should_stop) as hands:
        found, stopped = search(
            judge, hands, seed=seed, budget=budget or Budget(), progress=progress
        )
        front, rows = _planned(judge.space, hands, found, keep)
    return _explored(judge, job, found, front, rows, stopped=stopped)


def _planned(
    space: Space, hands: Crew, found: Search, keep: int
) -> tuple[tuple[Judged, ...], list[Judged]]:
    """Return what no other beats and the few of it, these judged as a plan judges them.

    A plan packs more patiently: what fails then is no longer among the best, and others take its
    place. It is done after a stop too, so that what is shown is true.
    """
    to_the_end = Crew(hands.work, lambda: False)
    front = list(found.best())
    rows = few(space, front, keep)
    while new := [row.choice for row in rows if row.stage != "shown" and found.whole]:
        again = {row.choice: row for row in to_the_end.judge([("shown", c) for c in new])}
        front = best_of(again.get(row.choice, row) for row in front)
        rows = few(space, front, keep)
    return tuple(front), rows


def _explored(
    judge: Judge,
    job: Job,
    found: Search,
    front: Sequence[Judged],
    rows: Sequence[Judged],
    *,
    stopped: bool,
) -> Exploration:
    front = tuple(row for row in front if row.serves)
    criteria = criteria_known(row.measures for row in rows if row.measures) if rows else CRITERIA
    asked = _asked(judge, job)
    return Exploration(
        kept=_candidates(judge, rows, criteria),
        front=front,
        asked=asked,
        criteria=criteria,
        quick=len(found.quick),
        whole=len(found.whole),
        serving=sum(row.serves for row in found.whole.values()),
        refused=_refused(found.whole.values()),
        size=judge.space.size,
        stopped=stopped,
    )


def _refused(rows: Iterable[Judged]) -> tuple[Refusal, ...]:
    """Return what fails most often, by the codes of proofs."""
    failed = [wrong for row in rows for wrong in _by_code(row.wrong).items()]
    counts = Counter(code for code, _ in failed)
    words = dict(reversed(failed))
    found = (
        Refusal(code=code, count=count, looked_at=words[code].looked_at)
        for code, count in counts.items()
    )
    return tuple(sorted(found, key=lambda each: (-each.count, each.code)))


def _by_code(wrong: Sequence[Wrong]) -> dict[str, Wrong]:
    """Return the first of each code; what has no place is not also told as lying loose."""
    kept = [each for each in wrong if not each.no_place]
    return {each.what.split(":")[0]: each for each in reversed(kept)}


def few(space: Space, front: Sequence[Judged], keep: int) -> list[Judged]:
    """Return the best in one thing each, and those that beat most beside them, a few of a kind.

    Of units that differ in nothing but their sheets the ones are left out that another is nowhere
    worse than by what counts. While nothing serves it is what falls short least, and then what
    differs most from it.
    """
    if not front:
        return []
    if not front[0].serves:
        return _least_bad(space, front, min(keep, LEAST_BAD))
    rows = _unlike(space, front)
    places = most_volume(
        values_of(rows),
        keep,
        ends=keep // 2,
        apart=_shapes(space, rows),
        kinds=_kinds(space, rows),
        of_a_kind=max(OF_A_KIND, keep // QUARTER),
    )
    return [rows[k] for k in places]


def _kinds(space: Space, rows: Sequence[Judged]) -> list[tuple[int, ...]]:
    """Return what kind of unit each is: its answers but for sizes, shares and sheets."""
    asked = [k for k, question in enumerate(space.questions) if question.name in KIND]
    return [tuple(row.choice[k] for k in asked) for row in rows]


def _unlike(space: Space, front: Sequence[Judged]) -> list[Judged]:
    """Return the rows without those that stand beside a better one of their own shape."""
    shapes = _shapes(space, front)
    criteria = criteria_known(row.measures for row in front if row.measures)
    values = [worth(row.measures, criteria) for row in front if row.measures]
    kept: list[int] = []
    for k in sorted(range(len(front)), key=lambda k: (sum(values[k]), k)):
        gains = (
            max(a - b for a, b in zip(values[i], values[k], strict=True))
            for i in kept
            if shapes[i] == shapes[k]
        )
        if all(gain >= 1.0 for gain in gains):
            kept.append(k)
    return [front[k] for k in sorted(kept)]


def _least_bad(space: Space, rows: Sequence[Judged], keep: int) -> list[Judged]:
    """Return what falls short least, then again and again what differs most from those taken."""
    shapes = _shapes(space, rows)
    taken = [0]
    while len(taken) < min(keep, len(rows)):
        far = [
            min(sum((a - b) ** 2 for a, b in zip(shapes[k], shapes[i], strict=True)) for i in taken)
            for k in range(len(rows))
        ]
        if not max(far) > 0.0:
            break
        taken.append(far.index(max(far)))
    return [rows[k] for k in sorted(taken)]


def _shapes(space: Space, rows: Sequence[Judged]) -> list[tuple[float, ...]]:
    """Return where arrangements stand: another answer, but for sheets, is another place."""
    sheets = {key for key, _ in SHEETS}
    return [
        tuple(
            float(answer == k)
            for place, question in enumerate(space.questions)
            if question.name not in sheets
            for answer in range(len(question.answers))
            for k in (row.choice[place],)
        )
        for row in rows
    ]


def _candidates(
    judge: Judge, rows: Sequence[Judged], criteria: Sequence[Criterion]
) -> tuple[Candidate, ...]:
    jobs = [arranged(judge.space, row.choice) for row in rows]
    names = named(jobs, [_depth(job, judge.catalogue) for job in jobs])
    measures = [row.measures for row in rows if row.measures is not None]
    made = tuple(
        Candidate(
            name=name,
            job=replace(job, title=f"{job.title}: {name}"),
            judged=row,
            best_at=best_at(mine, measures, criteria) if row.serves else (),
            gives_up=gives_up(mine, measures, criteria, job.units) if row.serves else (),
        )
        for name, job, row, mine in zip(names, jobs, rows, measures, strict=True)
    )
    return tuple(sorted(made, key=lambda c: (-c.measures.litres, c.measures.mass_kg, c.name)))


def _depth(job: Job, catalogue: Catalogue) -> float:
    design = bodies(job, catalogue)
    return max((o.depth for block in design.blocks for o in block.openings), default=0.0)


def _asked(judge: Judge, job: Job) -> Candidate | None:
    """Return the job as it stands, judged like the others; by area where it cannot be cut."""
    if not job.blocks:
        return None
    row = judge_job(judge, job, stage="shown")
    if row.measures is None:
        row = judge_job(judge, job, stage="whole")
    return Candidate(name="as the job stands", job=job, judged=row) if row.measures else None
