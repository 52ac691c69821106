"""Defaults as they are taken: each one is noted with its value and where it comes from."""

from __future__ import annotations

from stowright.jobfile.keys import field_text
from stowright.jobfile.scanner import Path
from stowright.model.job import Assumption
from stowright.units import Unit, format_length

__all__ = ["NOT_SAID", "USUAL", "Taker"]

USUAL = "what a careful builder would choose (common practice)"
NOT_SAID = "the job does not say (assumed)"


class Taker:
    """Hands out what the job says, else the default, and keeps a list of the defaults."""

    def __init__(self, units: Unit) -> None:
        self.units = units
        self._assumed: list[Assumption] = []

    @property
    def assumed(self) -> tuple[Assumption, ...]:
        """Every default taken so far, in the order taken."""
        return tuple(self._assumed)

    def take[T](self, path: Path, given: T | None, default: T, why: str = USUAL) -> T:
        """Return a word, a flag or a count: as given, else the default."""
        if given is not None:
            return given
        self.note(path, _shown(default), why)
        return default

    def length(self, path: Path, given: float | None, default: float, why: str = USUAL) -> float:
        """Return a length: as given, else the default. [mm]."""
        if given is not None:
            return given
        self.note(path, self.shown(default), why)
        return default

    def shown(self, mm: float) -> str:
        """Print a default in the job's unit; an inch job also gets the millimetres it stands for.

        Defaults are whole millimetres: the nearest 1/32 in alone would hide what is used.
        """
        text = format_length(mm, self.units, with_unit=True)
        if self.units == "mm" or format_length(mm, "in", rounding=True) == format_length(mm, "in"):
            return text
        return f"{text} ({format_length(mm)} mm)"

    def note(self, path: Path, value: str, why: str) -> None:
        """Note a default."""
        self._assumed.append(Assumption(field=field_text(path), value=value, why=why))


def _shown(value: object) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, float):
        return f"{value:g}"
    return str(value) or "none"
