"""What cannot be tried by a program, and why: said beside the advice instead of a number."""

from __future__ import annotations

from stowright.model.finding import Finding

__all__ = ["BY_ITSELF", "FAMILIES", "UNTRIED", "why_untried"]

_READING = "only a reading on the unit tells"
#: Codes of findings whose mending is somebody's act, not a change of the plan.
UNTRIED: dict[str, str] = {
    "WAY-OUT": "only somebody in the bed, doors shut, can try it",
    "HELD-BACK": _READING,
    "CUT-SIZE": "it is about parts that are cut already",
    "HANDS": "it is about parts that are cut already",
    "WIDTH": _READING,
    "SQUARE": _READING,
    "WING": _READING,
    "THICKNESS": "only a caliper on other sheets tells",
    "SLIP-FRONT": "only another weighing tells",
    "SLIP-REAR": "only another weighing tells",
    "BELT-USED": "whether it is an anchorage for people is on its label, not in the job",
    "LOOSE-PIECES": "a piece that nothing joins is a fault of the program: report it",
    "FIXINGS-CLASH": "the program places screws; report it with the job file",
    "TAB-FIT": _READING,
    "STOWED": "other arrangements are looked for by `stowright explore` (on the pages: Arrange, "
    "Proposals)",
}
_ELSE = "no change of the job that the program knows helps here"
#: Codes whose proofs try their advice by themselves and say what it comes to.
BY_ITSELF = frozenset(
    {
        "BARRIER",
        "BUILT-INSIDE",
        "FRONT-GAPS",
        "LATCH",
        "LIFT",
        "ON-DECK",
        "ON-DECK-HEIGHT",
        "RUNS",
        "SCREW-LENGTH",
        "STAYS-OPEN",
    }
)
#: The same of all codes that begin so.
FAMILIES = ("DECK-CARGO", "LOOSE", "RESTRAINT", "RUNNER", "TIP-USE", "TIP-VEHICLE", "VEHICLE-")


def why_untried(finding: Finding) -> str:
    """Return why nothing was tried to mend a finding; empty where its own proof tells."""
    code = finding.id.partition(":")[0]
    if code in BY_ITSELF or code.startswith(FAMILIES):
        return ""
    return f"not tried: {UNTRIED.get(code, _ELSE)}"
