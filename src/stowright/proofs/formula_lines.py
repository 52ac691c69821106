"""The formula of each proof of structure, with its symbols: the first line of its working."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from stowright.model.finding import Finding

__all__ = ["FORMULAS", "with_formula"]

_PLATE = "M from Dx w,xxxx + 2 H w,xxyy + Dy w,yyyy = q on the held edges"
_STRESS = f"sigma = 6 M / t² <= f_d = k_mod f_k / gamma_M; {_PLATE}"
_ROLLING = "tau_r = V S / (I b) <= f_r,d = k_mod f_r,k / gamma_M; V the edge reaction"
_FINAL = "w_fin = w_G (1 + k_def) + w_Q (1 + psi2 k_def)"
_STRIP = "sigma = 6 M / (b t²) <= f_d; M = P (2 L - c) / 8 on a strip b = M / m, shared by E I"
_SHEAR = "F <= the better of n F_v,Rd, (8.6) or tested, and A f of the glue"

#: Formula by the first word of a finding's code.
FORMULAS: Final = {
    "BOTTOM-STRESS": _STRESS,
    "SHELF-STRESS": _STRESS,
    "FLOOR-STRESS": _STRESS,
    "DECK-STRESS": _STRESS,
    "WING-STRESS": _STRESS,
    "FRONT-PANEL": f"{_STRESS}; q = a m g / A",
    "BACK-PANEL": f"{_STRESS}; q = a m g / A",
    "SIDE-PANEL": f"{_STRESS}; q = a m g / A",
    "BOTTOM-SHEAR": _ROLLING,
    "SHELF-SHEAR": _ROLLING,
    "FLOOR-SHEAR": _ROLLING,
    "DECK-SHEAR": _ROLLING,
    "WING-SHEAR": _ROLLING,
    "BOTTOM-SAG": f"{_FINAL} <= gap - 2 mm",
    "SHELF-SAG": f"{_FINAL} <= gap - 2 mm, span / 200",
    "FLOOR-SAG": f"{_FINAL} <= gap - 2 mm",
    "DECK-GAP": f"{_FINAL} <= gap - 2 mm",
    "WING-GAP": f"{_FINAL} <= gap - 2 mm",
    "DECK-CARGO-STRESS": _STRESS,
    "DECK-CARGO-SHEAR": _ROLLING,
    "DECK-CARGO-SAG": "w_fin = (w_G + w_Q) (1 + k_def) <= span / 200",
    "DECK-CARGO-JOINT": f"F = a m g; {_SHEAR}",
    "DECK-SAG": f"w under a knee <= span / 150; w from {_PLATE.removeprefix('M from ')}",
    "WING-SAG": f"w under a knee <= span / 150; w from {_PLATE.removeprefix('M from ')}",
    "DECK-EDGE": _STRIP,
    "WING-EDGE": _STRIP,
    "DECK-OVERHANG": "sigma = 6 m / t² <= f_d; m = P e / b on a strip b = c + e / 2",
    "WING-OVERHANG": "sigma = 6 m / t² <= f_d; m = P e / b on a strip b = c + e / 2",
    "UPRIGHT-PUSHED": "sigma = 6 m / t² <= f_d; m = q a b / h, q = a m g / L of the runner",
    "RAIL-TIES": "R = F a / h <= pull of the rails' screws, or A f of the glue",
    "UPRIGHT-PRESSED": "P / (c t) <= f_c,d; P <= N_cr = pi² E_05 I / h², both k_mod / gamma_M",
    "RACKING": "H = a g sum(m z) / h; v = H / (b t), F = H l / b at the rim; M = H h at corners",
    "FRONT-JOINT": f"F = a m g; {_SHEAR}",
    "BACK-JOINT": f"F = a m g; {_SHEAR}",
    "SHELF-JOINT": f"F = n g m; {_SHEAR}, or A f_c where it bears",
    "CLEAT-JOINT": f"F = n g m, or a foot; {_SHEAR}",
    "BOTTOM-JOINT": "n g m <= lip h f_r per length, screws pulled or sheared, glue, or A f_c",
    "FRONT-PULL": "F <= n F_ax,Rd of the thread, n F_head,Rd of the head, or A f of the glue",
    "RUNNER-FIXINGS": "shut R = n W max(c, L - c) / L; open W (1 + e / s), W e / s; R <= n F_v,Rd",
    "STAYS-OPEN": "F = m g (sin theta - mu cos theta) <= the open lock",
}


def with_formula(finding: Finding, *, assumed: str) -> Finding:
    """Return a finding whose working begins with its formula.

    ``assumed`` is added to what it assumes where its strengths depend on damp; empty adds nothing.
    """
    line = FORMULAS.get(finding.id.split(":", maxsplit=1)[0])
    lead = (line,) if line is not None and finding.working[:1] != (line,) else ()
    damp = bool(assumed) and any("service class" in each for each in finding.working)
    if not lead and not damp:
        return finding
    return replace(
        finding,
        working=(*lead, *finding.working),
        assumed=(*finding.assumed, assumed) if damp else finding.assumed,
    )
