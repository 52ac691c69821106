"""Many builds of one drawer with errors drawn from the tolerance model, and what a refit buys.

Each build is followed three ways: cut from the plan at once; its inner parts cut to what was read;
cut to the reading a little narrower, with shims chosen by trial fit. A build runs when the play of
both sides together lies in the runner's window at the face and at the back (run-out counted where
the runners were not run in), and its diagonals keep their limit. The tolerance model draws no
build beyond that limit: a carcass that is, is pulled square before its runners go in.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from stowright.formulas.fit_window import FitStack, shifted_probabilities
from stowright.formulas.tolerance_stack import Term
from stowright.proofs.tolerance_terms import SHIM_SET, Fit, Way, play_stack

__all__ = [
    "FEELER",
    "RefitSample",
    "Share",
    "narrower_to_shim",
    "refit_chances",
    "stacks_of",
]

type Array = NDArray[np.float64]

#: What a trial fit or a feeler gauge tells of a gap (common practice). [mm either way, each side]
FEELER = 0.1
#: Chance from which no more is cut off a box to be shimmed.
AS_GOOD_AS_ALL = 0.9995
_STEP = min(SHIM_SET)
#: How much narrower a box may be cut to be shimmed. [mm]
_NARROWER = tuple(0.25 * n for n in range(13))
#: Steps in which what the cut grid takes off is gone through. [mm]
_FINE = 0.125


class Share(NamedTuple):
    """Part of the builds that run and are square, and its standard error. [-]."""

    runs: float
    error: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RefitSample:
    """What many builds gave.

    Attributes:
        first: Cut from the plan at once.
        recut: Inner parts cut to the readings.
        shimmed: Cut to the readings, narrower, and shimmed from one set a side.
        narrower: How much narrower they were cut for that. [mm]
    """

    first: Share
    recut: Share
    shimmed: Share
    narrower: float
    builds: int


def stacks_of(fit: Fit) -> tuple[FitStack, FitStack]:
    """Return the terms of a drawer cut from the plan at once, and of one cut to its readings.

    The readings are those between the runners and those of the batch: its sheets are calipered.
    """
    measured = fit.box_sheet.source != "catalogue"
    first = Way(calipered=measured, held=False, run_in=False, shims=False)
    recut = Way(calipered=True, held=True, run_in=True, shims=False)
    return play_stack(fit, first), play_stack(fit, recut)


def refit_chances(
    fit: Fit,
    *,
    grid: float = 0.0,
    taken: float = 0.0,
    builds: int = 500,
    seed: int = 20_260_101,
) -> RefitSample:
    """Return how many of many builds run: as first cut, recut, recut and shimmed.

    Args:
        fit: The drawer.
        grid: The cut grid: what is cut to a reading is snapped down to it; 0 cuts any size. [mm]
        taken: What the grid took off the plan's own box: a box that is cut to a reading loses anew,
            and not that as well. [mm]
        builds: How many builds.
        seed: The same seed gives the same builds.
    """
    random = np.random.Generator(np.random.PCG64(seed))
    fit = replace(fit, more=(0.0, 0.0))  # any build of the plan, not the one that was read
    first, _ = stacks_of(fit)
    anew = replace(fit, play=fit.play - taken)
    _, recut = stacks_of(anew)
    face, back, lean = _ends(random, first, builds)
    runs_first = _inside(face, first) & _inside_sideways(back, lean, first) & _square(lean, first)
    face, back, _ = _ends(random, recut, builds)
    lost = random.uniform(0.0, grid, builds) if grid else np.zeros(builds)
    runs_recut = _inside(face + lost, recut) & _inside(back + lost, recut)
    narrower = narrower_to_shim(anew, grid=grid)
    wide = lost + narrower
    runs_shimmed = np.ones(builds, dtype=np.bool_)
    for end in (face + wide, back + wide):
        runs_shimmed &= _inside(end - _shims(random, end, recut), recut)
    return RefitSample(
        first=_share(runs_first),
        recut=_share(runs_recut),
        shimmed=_share(runs_shimmed),
        narrower=narrower,
        builds=builds,
    )


def narrower_to_shim(fit: Fit, *, grid: float = 0.0) -> float:
    """Return how much narrower than its reading a box is best cut, to be shimmed. [mm].

    The least step with which as good as every build runs; where none does, the likeliest. The cut
    grid takes off anything from nothing to a step of it: all of that counts, not the mean alone.
    """
    _, stack = stacks_of(fit)
    wide = replace(stack, high_mm=stack.high_mm + 2.0 * sum(SHIM_SET))
    most = round((max(_NARROWER) + grid) / _FINE) + 1
    shifts = tuple(_FINE * n for n in range(most + 1))
    chances = shifted_probabilities(wide, shifts_mm=shifts)
    lost = np.linspace(0.0, grid, max(1, math.ceil(grid / _FINE)) + 1)
    means = [float(np.mean(np.interp(lost + n, shifts, chances))) for n in _NARROWER]
    enough = (n for n, found in enumerate(means) if found >= AS_GOOD_AS_ALL)
    return _NARROWER[next(enough, max(range(len(means)), key=lambda n: means[n]))]


def _ends(random: np.random.Generator, stack: FitStack, builds: int) -> tuple[Array, Array, Array]:
    """Return the play at face and back and the run-out of each build."""
    shared = _sum(random, stack.shared, builds)
    face = stack.face_mm + shared + _sum(random, stack.at_face, builds)
    back = stack.back_mm + shared + _sum(random, stack.at_back, builds)
    return face, back, _sum(random, stack.sideways, builds)


def _sum(random: np.random.Generator, terms: tuple[Term, ...], builds: int) -> Array:
    total = np.zeros(builds)
    for term in terms:
        total += _drawn(random, term, builds)
    return total


def _drawn(random: np.random.Generator, term: Term, builds: int) -> Array:
    if term.shape == "normal":
        return random.standard_normal(builds) * (term.reach_mm / 2.0)
    one = random.uniform(-term.reach_mm, term.reach_mm, builds)
    if term.shape == "triangular":
        return (one + random.uniform(-term.reach_mm, term.reach_mm, builds)) / 2.0
    return one


def _inside(play: Array, stack: FitStack) -> NDArray[np.bool_]:
    return (play >= stack.low_mm) & (play <= stack.high_mm)


def _inside_sideways(play: Array, lean: Array, stack: FitStack) -> NDArray[np.bool_]:
    """Whether both sides of the back lie in half the window; run-out takes from one."""
    one, two = play / 2.0 + lean, play / 2.0 - lean
    low, high = stack.low_mm / 2.0, stack.high_mm / 2.0
    return (one >= low) & (one <= high) & (two >= low) & (two <= high)


def _square(lean: Array, stack: FitStack) -> NDArray[np.bool_]:
    """Whether diagonals keep the limit that the terms are drawn from."""
    limit = sum(term.reach_mm for term in stack.sideways)
    found: NDArray[np.bool_] = np.abs(lean) <= limit + 1.0e-9
    return found


def _shims(random: np.random.Generator, play: Array, stack: FitStack) -> Array:
    """Return what shims of both sides take up, chosen by trial fit. [mm]."""
    felt = play + random.uniform(-FEELER, FEELER, play.size)
    felt = felt + random.uniform(-FEELER, FEELER, play.size)
    wanted = felt - (stack.low_mm + stack.high_mm) / 2.0
    steps = np.round(wanted / _STEP)
    return np.clip(steps, 0.0, 2.0 * sum(SHIM_SET) / _STEP) * _STEP


def _share(runs: NDArray[np.bool_]) -> Share:
    part = float(np.count_nonzero(runs)) / runs.size
    return Share(runs=part, error=math.sqrt(part * (1.0 - part) / runs.size))
