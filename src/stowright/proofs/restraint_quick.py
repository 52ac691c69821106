"""The worst use of any link under a rule set, fast: for tables over rule sets, plans and searches.

Sideways forces are in proportion to the push, pulls to the moment that is left, so each link of
each bolt is a line through the origin over both; only the outermost lines can govern.
"""

from __future__ import annotations

from stowright.formulas.gravity import GRAVITY_M_S2
from stowright.formulas.restraint import RuleSet
from stowright.proofs.anchor_strengths import Link
from stowright.proofs.restraint_forces import WAYS, Group, Way

__all__ = ["Quick"]

#: A line: use per newton of push on the body, use per newton millimetre of moment left.
type Line = tuple[float, float]


class Quick:
    """A body on its bolts, boiled down to the lines that can govern.

    Attributes:
        lines: By (way, loaded, basis).
        sizes: By (way, loaded): weight [N], height and arm of the centre [mm].
    """

    def __init__(self, group: Group, links: tuple[tuple[Link, ...], ...]) -> None:
        self.lines: dict[tuple[Way, bool, str], list[Line]] = {}
        self.sizes: dict[tuple[Way, bool], tuple[float, float, float]] = {}
        self.stuck: set[Way] = {way for way, _, _ in WAYS if not group.pull_of[way]}
        for way, axis, _ in WAYS:
            for loaded in (False, True):
                weight = group.weight(loaded=loaded).mass * GRAVITY_M_S2
                height, arm = group.height(loaded=loaded), group.arm(way, loaded=loaded)
                self.sizes[way, loaded] = (weight, height, arm)
                for basis in ("characteristic", "allowable"):
                    self.lines[way, loaded, basis] = _outermost(
                        _lines(group, links, way, axis, loaded=loaded, basis=basis)
                    )

    def use(self, rules: RuleSet, terms: dict[str, tuple[float, float]]) -> float:
        """Return the worst use under a rule set.

        Args:
            rules: The rule set.
            terms: By basis, the factor on the accelerations and the divisor of the strengths.
        """
        worst = 0.0
        for (way, loaded), (weight, height, arm) in self.sizes.items():
            push = _push(rules, way, height, arm)
            for basis, (factor, divisor) in terms.items():
                lines = self.lines[way, loaded, basis]
                if not lines:
                    continue
                force = factor * push * weight
                net = max(0.0, force * height - (1.0 - factor * rules.up) * weight * arm)
                if net > 0.0 and way in self.stuck:
                    return float("inf")
                worst = max(worst, divisor * max(s * force + p * net for s, p in lines))
        return worst


def _lines(
    group: Group,
    links: tuple[tuple[Link, ...], ...],
    way: Way,
    axis: int,
    *,
    loaded: bool,
    basis: str,
) -> list[Line]:
    shears = group.shear_of[axis, loaded]
    pulls = group.pull_of[way] or (0.0,) * len(shears)
    found: list[Line] = []
    for shear, pull, row in zip(shears, pulls, links, strict=True):
        for link in row:
            if link.basis == basis:
                found += [(shear / link.shear, pull / link.pull), (0.0, pull / link.alone)]
    return found


def _outermost(lines: list[Line]) -> list[Line]:
    """Return the lines that no other one outdoes in both."""
    found: list[Line] = []
    most = -1.0
    for line in sorted(set(lines), reverse=True):
        if line[1] > most:
            found.append(line)
            most = line[1]
    return found


def _push(rules: RuleSet, way: Way, height: float, arm: float) -> float:
    if way == "forward":
        return rules.forward
    if way == "rearward":
        return rules.rear
    tips = height > 0.0 and arm / height < rules.side_if_tippable
    return rules.side_if_tippable if tips else rules.side
