"""How long to search, counted in steps that are the same on every machine."""

from __future__ import annotations

import math
import time
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable

__all__ = ["EFFORTS", "ROUND_COST", "Effort", "Progress", "Watch"]


ROUND_COST = 400  # slots that could be looked at in the time that any round takes
# Parts beyond which the budgets grow with their number, the one for less stock sooner.
_PLACE_FROM, _FINISH_FROM = 40, 200
_FULL_FROM = 35_000  # slots in one round for each part; 34 parts and more get the whole budget


@dataclass(frozen=True, slots=True, kw_only=True)
class Effort:
    """A budget of steps. The same budget gives the same layouts everywhere.

    Attributes:
        place: Slots looked at, per stream, for each sheet less that is tried for.
        finish: Slots looked at to make the cheapest layout handier: half of them in each search
            of a saw's, all of them in each stream of a router's or a batch's.
        queue: Width of packingsolver's second, wider tree search; 0 leaves it out.
        prove: Cuts looked at, about, for the bound from whole sheets; 0 leaves it out.
        pool: True to pick the fewest of all sheets seen by an integer program.
    """

    place: int
    finish: int
    queue: int = 0
    prove: int = 0
    pool: bool = False

    def for_parts(self, parts: int) -> Effort:
        """Return the budget for a number of parts: few are soon tried every way."""
        slots_a_round = 18 * parts + ROUND_COST
        share = min(1.0, parts * slots_a_round / _FULL_FROM)
        place, finish = max(share, parts / _PLACE_FROM), max(share, parts / _FINISH_FROM)
        return replace(
            self, place=math.ceil(self.place * place), finish=math.ceil(self.finish * finish)
        )


EFFORTS = {
    "first": Effort(place=0, finish=0),
    "quick": Effort(place=20_000_000, finish=40_000_000, prove=400_000_000),
    "normal": Effort(
        place=150_000_000, finish=80_000_000, queue=128, prove=3_000_000_000, pool=True
    ),
    "long": Effort(
        place=3_000_000_000, finish=1_000_000_000, queue=512, prove=60_000_000_000, pool=True
    ),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Progress:
    """What a search has come to, for whoever waits.

    Attributes:
        material: The material that is being laid out.
        stage: Which stage has ended: ``first answer``, ``solver``, ``fewer sheets`` or
            ``whole sheets``.
        sheets: Sheets of the best layout so far.
        bound: Sheets that no layout can do without.
    """

    material: str
    stage: str
    sheets: int
    bound: int


@dataclass(slots=True)
class Watch:
    """Tells a search when to stop early, and whoever waits how it goes.

    Attributes:
        time_limit_s: Ends the search early; None without limit. [s]
        should_stop: Asked between rounds; True ends the search.
        report: Told between rounds.
        stopped: True once the search was ended early.
        started: When the watch was started, on a clock that only goes forward. [s]
    """

    time_limit_s: float | None = None
    should_stop: Callable[[], bool] | None = None
    report: Callable[[Progress], None] | None = None
    stopped: bool = False
    started: float = field(default_factory=time.monotonic)

    def is_over(self) -> bool:
        """Tell whether to end now; remembered in ``stopped``."""
        late = self.time_limit_s is not None and time.monotonic() - self.started > self.time_limit_s
        if late or (self.should_stop is not None and self.should_stop()):
            self.stopped = True
        return self.stopped

    def tell(self, progress: Progress) -> None:
        """Report, if anybody listens."""
        if self.report is not None:
            self.report(progress)
