"""Which runner goes into an opening: the longest that fits and carries the gross load."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

from stowright.errors import DesignError
from stowright.formulas.runners import derated_kg, length_factor, width_factor
from stowright.model.catalogue import Catalogue, Runner, RunnerSize
from stowright.model.job import RunnerFactors

__all__ = ["Choice", "RunnerQuestion", "allowed_kg", "choose_runner", "rating_factors"]


@dataclass(frozen=True, slots=True, kw_only=True)
class RunnerQuestion:
    """What an opening asks of its runner.

    Attributes:
        about: Opening name, for the refusal.
        name: Wanted family, or ``auto``.
        depth: Clear depth. [mm]
        front: What stands before the runner: an inset front's thickness, else 0. [mm]
        back_room: Room wanted behind the box. [mm]
        opening_width: Clear width. [mm]
        lining: Lining on both faces together, each side. [mm]
        lock: Wanted lock, or empty.
        room_up: Height that the section has to go into. [mm]
        gross_kg: Gross mass as a function of box length and box width.
        factors: The job's table of factors on a rating.
    """

    about: str
    name: str
    depth: float
    front: float
    back_room: float
    opening_width: float
    lining: float
    lock: str
    room_up: float
    gross_kg: Callable[[float, float], float]
    factors: RunnerFactors


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """The runner chosen, why, and what a little more depth would buy."""

    runner: Runner
    size: RunnerSize
    why: str
    next_size: str


def rating_factors(
    runner: Runner, size: RunnerSize, *, box_width: float, table: RunnerFactors
) -> dict[str, float]:
    """Return what a pair's rating is multiplied by, each factor under its name.

    width min(1, length / width); vehicle, unless the rating already carries it; flat for runners
    that lie flat; length min(1, basis length / length) where the rating was taken on another one.
    The table changes or leaves out each of them.
    """
    factors = {}
    if table.width:
        factors["width"] = width_factor(length_mm=size.length, width_mm=box_width)
    if not runner.vehicle_rated:
        factors["vehicle"] = table.vehicle
    if runner.mount == "flat":
        factors["flat"] = table.flat
    if table.length and runner.basis_length is not None:
        factors["length"] = length_factor(
            length_mm=size.length, basis_length_mm=runner.basis_length
        )
    return factors


def allowed_kg(
    runner: Runner,
    size: RunnerSize,
    *,
    box_width: float,
    table: RunnerFactors,
) -> float:
    """Return the mass a pair may carry in a vehicle: label x every named factor. [kg]."""
    factors = rating_factors(runner, size, box_width=box_width, table=table)
    return derated_kg(rating_kg=size.rating_kg, factors=factors)


def choose_runner(catalogue: Catalogue, ask: RunnerQuestion) -> Choice:
    """Return the longest runner that fits and suffices; the strongest that fits if none suffices.

    Raises:
        DesignError: When no length goes in; it says how much depth the shortest needs.
        UnknownNameError: When a family is asked for that the catalogue does not have.
    """
    families = _families(catalogue, ask)
    names = {runner.name for runner in families}
    front, behind, room = ask.front, ask.back_room, ask.depth + 1e-6
    fitting = (
        (r, s)
        for r, s in _ranked(catalogue)
        if front + r.set_back + s.length + behind <= room and r.name in names
    )
    enough, passed = None, []
    for pair in fitting:
        if _enough(*pair, ask):
            enough = pair
            break
        passed.append(pair)
    if enough:
        runner, size = enough
        why = "the longest that fits and carries the gross load"
        if ask.name != "auto":
            why = f"the longest {runner.name} that fits and carries the gross load"
    else:
        if not passed:
            raise _nothing_fits(families, ask)
        runner, size = max(passed, key=lambda pair: (pair[1].rating_kg, *_preference(pair)))
        why = "no length that fits carries the gross load; this one carries most"
    return Choice(runner=runner, size=size, why=why, next_size=_next(runner, size, ask))


def _families(catalogue: Catalogue, ask: RunnerQuestion) -> tuple[Runner, ...]:
    if ask.name != "auto":
        return (catalogue.runner(ask.name),)
    side = tuple(r for r in catalogue.runners if r.mount == "side")
    low_enough = tuple(r for r in side if r.section <= ask.room_up + 1e-6) or side
    locked = tuple(r for r in low_enough if _locks(r, ask.lock))
    return locked or low_enough


@lru_cache(maxsize=4)
def _ranked(catalogue: Catalogue) -> tuple[tuple[Runner, RunnerSize], ...]:
    """Return every runner of a shelf in every length, the preferred ones first."""
    pairs = ((runner, size) for runner in catalogue.runners for size in runner.sizes)
    return tuple(sorted(pairs, key=_preference, reverse=True))


def _locks(runner: Runner, wish: str) -> bool:
    """Whether the runner's locks serve the wish; without a wish every runner may be chosen."""
    if wish == "none":
        return not (runner.lock_in or runner.lock_out)
    return (runner.lock_in or "in" not in wish.split("-")) and (
        runner.lock_out or "out" not in wish.split("-")
    )


def _needs(runner: Runner, size: RunnerSize, ask: RunnerQuestion) -> float:
    return ask.front + runner.set_back + size.length + ask.back_room


def _enough(runner: Runner, size: RunnerSize, ask: RunnerQuestion) -> bool:
    width = ask.opening_width - 2.0 * (runner.side_space.aim + ask.lining)
    gross = ask.gross_kg(size.length, width)
    return gross <= allowed_kg(runner, size, box_width=width, table=ask.factors)


def _preference(pair: tuple[Runner, RunnerSize]) -> tuple[float, bool, float, float, str]:
    """Longest first; then one that locks, the taller section, the lighter pair."""
    runner, size = pair
    locks = runner.lock_in and runner.lock_out
    return (size.length, locks, runner.section, -size.mass, runner.name)


def _nothing_fits(families: tuple[Runner, ...], ask: RunnerQuestion) -> DesignError:
    shortest = min(_needs(r, s, ask) for r in families for s in r.sizes)
    return DesignError(
        ask.about,
        f"no runner goes into a clear depth of {ask.depth:.1f} mm; the shortest "
        f"needs {shortest:.1f} mm",
        f"give it {shortest - ask.depth:.1f} mm more depth, less back_room, or make it open",
    )


def _next(runner: Runner, size: RunnerSize, ask: RunnerQuestion) -> str:
    longer = [s for s in runner.sizes if s.length > size.length]
    if not longer:
        return ""
    following = min(longer, key=lambda s: s.length)
    short = _needs(runner, following, ask) - ask.depth
    if short <= 1e-6:
        return f"the next length ({following.length:g}) fits but does not carry the gross load"
    return f"{short:.1f} mm more depth would take the next length ({following.length:g})"
