"""A body that stands on bearers or on another body: what its feet would have to take.

No bolt goes from its floor to the load floor. What holds it is left to the fitter, so it is never
proved here; how many angles at the feet would take the push and the pull is worked out, as a start.
"""

from __future__ import annotations

from dataclasses import replace
from math import ceil

from stowright.formulas.gravity import GRAVITY_M_S2
from stowright.formulas.restraint import RuleSet
from stowright.model.finding import Finding
from stowright.proofs.judge import About, not_proved
from stowright.proofs.loose_holds import BRACKET_N
from stowright.proofs.restraint_check import Held

__all__ = ["raised_finding"]

_PASS = 0.9
#: Least angles at the feet of a body: one near each corner (common practice).
_LEAST = 4


def raised_finding(about: About, held: Held, rules: RuleSet) -> Finding:
    """Return that nothing proves what holds a raised body, with what its feet have to take."""
    body = held.body
    mass, (x, y, z) = body.loaded.mass, body.loaded.centre
    floor_up = z  # above the load floor, where feet stand
    rows = []
    for way, fraction, arm, base in (
        ("forward", rules.forward, body.x.high - x, body.x.size),
        ("rearward", rules.rear, x - body.x.low, body.x.size),
        ("left", rules.side, body.y.high - y, body.y.size),
        ("right", rules.side, y - body.y.low, body.y.size),
    ):
        push = fraction * mass * GRAVITY_M_S2
        net = max(0.0, push * floor_up - (1.0 - rules.up) * mass * GRAVITY_M_S2 * arm)
        rows.append((push, net / base, way, fraction))
    push, _, way, fraction = max(rows)
    pull = max(row[1] for row in rows)
    count = max(_LEAST, ceil(push / (_PASS * BRACKET_N)), 2 * ceil(pull / (_PASS * BRACKET_N)))
    count += count % 2
    use = max(push / (count * BRACKET_N), 2.0 * pull / (count * BRACKET_N))
    told = replace(
        about,
        working=(
            *about.working,
            (
                f"it stands {body.module.box.z.low:.0f} mm above the load floor: no bolt goes "
                "through its floor, and screws into bearers on edge hold no pull that is rated"
            ),
            (
                f"feet: H = {fraction:g} g {way} = {push:.0f} N together, pull "
                f"(H h - (1 - a_v) m g x_c) / b = {pull:.0f} N on the side that lifts"
            ),
        ),
    )
    angles = (
        f"{count} x angle-60 at the feet, half on each side, each with an M8 bolt and plate "
        f"through the load floor: {BRACKET_N:.0f} N an angle as a working load, {use:.2f} of it "
        "used; a start for the fitter, not a proof"
    )
    return not_proved(
        told,
        needs=(
            (
                f"what holds {body.name} down: block.z from the floor up (z = [0, ...]), so that "
                "it is bolted through its floor, or a lower block under it with bay.anchors "
                "(tension and shear in N)"
            ),
        ),
        advice=(
            angles,
            "or a lower block under it between the arches, bolted down, and it to that",
        ),
    )
