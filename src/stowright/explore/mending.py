"""Arrangements that may mend one that fails: each sheet one step thicker, and all of them."""

from __future__ import annotations

from stowright.explore.arrangement import Choice, Space, normal
from stowright.explore.sheet_choices import SHEETS, thicker
from stowright.model.catalogue import Catalogue

__all__ = ["mended"]


def mended(space: Space, catalogue: Catalogue, choice: Choice) -> tuple[Choice, ...]:
    """Return the arrangements with all sheets a step thicker, then with one of them."""
    if not choice:
        return ()
    steps = dict(_thicker(space, catalogue, choice))
    together = _with(space, choice, steps)
    singles = (_with(space, choice, {place: k}) for place, k in steps.items())
    found = dict.fromkeys((together, *singles))
    return tuple(each for each in found if each != choice)


def _thicker(space: Space, catalogue: Catalogue, choice: Choice) -> list[tuple[int, int]]:
    found = []
    for key, _ in SHEETS:
        place = space.place(key)
        names = tuple(str(name) for name in space.questions[place].answers)
        name = thicker(names, names[choice[place]], catalogue)
        if name is not None:
            found.append((place, names.index(name)))
    return found


def _with(space: Space, choice: Choice, answers: dict[int, int]) -> Choice:
    return normal(space, tuple(answers.get(place, k) for place, k in enumerate(choice)))
