"""A finding: one proof about a design, with its working."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from stowright.model.catalogue import Basis, Standing

__all__ = ["Finding", "Kind", "Status"]

type Kind = Literal["ratio", "clearance", "chance", "complete"]
type Status = Literal["pass", "warn", "fail", "not proved"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One proof, passes included. "Pass" means within the stated limit, never "safe".

    Attributes:
        id: Stable code and subject: ``DRAWER-BOTTOM:meters``. Codes are never reused.
        title: What was looked at, in words.
        about: The opening, block, part mark or ``vehicle`` it speaks of.
        family: Number of the family in the list of proofs (1 to 16).
        kind: How demand and capacity compare.
        status: ``pass``, ``warn``, ``fail`` or ``not proved``.
        demand: Factored demand (ratio), needed (clearance), chance; None when not known.
        capacity: Capacity (ratio), available (clearance); None when not known.
        unit: Unit of both.
        utilisation: demand / capacity, needed / available; None where it has no meaning.
        basis: Basis of the capacity; empty where none applies.
        factor: Factor on the demand that the basis asks for.
        load_case: Which load case governed, and which rule set.
        source: Where formula and numbers come from.
        standing: Standing of the weakest input.
        working: The formula with symbols, then the numbers put in, a line each.
        advice: What would mend it; each was tried by the program.
        assumed: Which inputs were assumed.
        needs: Names of missing inputs when "not proved".
    """

    id: str
    title: str
    about: str
    family: int
    kind: Kind
    status: Status
    demand: float | None
    capacity: float | None
    unit: str
    utilisation: float | None
    basis: Basis | Literal[""]
    factor: float
    load_case: str
    source: str
    standing: Standing
    working: tuple[str, ...]
    advice: tuple[str, ...] = ()
    assumed: tuple[str, ...] = ()
    needs: tuple[str, ...] = ()

    @property
    def shown(self) -> str:
        """Status as shown to people: ``pass (value from memory)``."""
        if self.status == "not proved" or self.standing == "published":
            return self.status
        word = "value from memory" if self.standing == "from memory" else self.standing
        return f"{self.status} ({word})"
