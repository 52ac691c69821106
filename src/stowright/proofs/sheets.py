"""A piece of sheet as a plate: sides and moduli the way its grain lies, stresses, sags, trials."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import lru_cache, partial

from stowright.formulas.ec5_design import Duration
from stowright.formulas.plates_navier import (
    PlateResponse,
    SimplySupportedPlate,
    bending_stress_n_mm2,
    plate,
)
from stowright.formulas.restraint import RuleSet
from stowright.formulas.sections import (
    rectangle_shear_stress_n_mm2,
    rolling_shear_stress_n_mm2,
)
from stowright.formulas.veneer import ShearFactors, rolling_shear_factors
from stowright.model.catalogue import Material
from stowright.model.finding import Finding
from stowright.proofs.basis import Load, LoadKind, held, sheet_strength, worst
from stowright.proofs.index import G, Index
from stowright.proofs.judge import About
from stowright.proofs.tried import Trial, stronger, thicker

__all__ = [
    "PLATE",
    "Sheet",
    "bending_held",
    "rolling_held",
    "self_weight_n_mm2",
    "sheet_trials",
]

PLATE = "orthotropic plate (Navier's and Levy's series, Timoshenko & Woinowsky-Krieger, ch. 6, 11)"


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """A rectangle of sheet looked at along two directions, 1 and 2.

    Attributes:
        material: The sheet.
        thickness: As the design uses it (mean measured). [mm]
        grain_1: Whether the grain runs along direction 1; None where the part's grain is free and
            the weaker value counts both ways.
    """

    material: Material
    thickness: float
    grain_1: bool | None

    @property
    def moduli(self) -> tuple[float, float]:
        """Moduli for bending along directions 1 and 2. [N/mm2]."""
        return self._two(self.material.e_along, self.material.e_across)

    @property
    def strengths(self) -> tuple[float, float]:
        """Bending strengths along directions 1 and 2, on the material's basis. [N/mm2]."""
        return self._two(self.material.f_along, self.material.f_across)

    def _two(self, along: float, across: float) -> tuple[float, float]:
        if self.grain_1 is None:
            weak = min(along, across)
            return weak, weak
        return (along, across) if self.grain_1 else (across, along)

    def plate(self, *, side_1: float, side_2: float) -> SimplySupportedPlate:
        """Return the plate with its sides along directions 1 and 2. [mm]."""
        e_1, e_2 = self.moduli
        return plate(
            side_x_mm=side_1,
            side_y_mm=side_2,
            thickness_mm=self.thickness,
            modulus_x_n_mm2=e_1,
            modulus_y_n_mm2=e_2,
            shear_modulus_n_mm2=self.material.g_panel,
        )

    def turned(self) -> Sheet:
        """Return the sheet with its grain the other way."""
        return self if self.grain_1 is None else replace(self, grain_1=not self.grain_1)

    def in_sheet(self, material: Material, *, thickness: float) -> Sheet:
        """Return the same piece in another sheet."""
        return replace(self, material=material, thickness=thickness)


def self_weight_n_mm2(sheet: Sheet) -> float:
    """Return the weight of a sheet lying flat. [N/mm2]."""
    return sheet.thickness * sheet.material.density * 1.0e-9 * G


def bending_held(
    about: About,
    *,
    sheet: Sheet,
    parts: tuple[tuple[LoadKind, PlateResponse], ...],
    duration: Duration,
    service_class: int,
    rules: RuleSet | None = None,
    ways: tuple[str, str] = ("along the grain", "across the grain"),
) -> Finding:
    """Return the bending finding of a plate: both directions, the one that governs."""
    rows = []
    for way, word in enumerate(ways):
        strength = sheet_strength(
            sheet.material,
            strength=sheet.strengths[way],
            duration=duration,
            service_class=service_class,
        )
        loads = []
        for kind, answer in parts:
            moment = abs(answer.moment_y_n if way else answer.moment_x_n)
            stress = bending_stress_n_mm2(moment_n=moment, thickness_mm=sheet.thickness)
            loads.append(Load(kind=kind, value=stress))
        rows.append(
            held(
                replace(
                    about,
                    working=(
                        *about.working,
                        (
                            f"{word}: sigma = 6 M / t², t {sheet.thickness:g} mm, "
                            f"E {sheet.moduli[way]:g}, f {sheet.strengths[way]:g} N/mm²"
                        ),
                    ),
                ),
                loads=loads,
                capacity=strength,
                rules=rules,
            )
        )
    return worst(rows)


def rolling_held(
    about: About,
    *,
    sheet: Sheet,
    parts: tuple[tuple[LoadKind, tuple[float, float]], ...],
    duration: Duration,
    service_class: int,
    rules: RuleSet | None = None,
) -> Finding:
    """Return the rolling-shear finding at the supports; shears per length along 1 and 2. [N/mm]."""
    strength = sheet_strength(
        sheet.material,
        strength=sheet.material.f_rolling,
        duration=duration,
        service_class=service_class,
    )
    rows = []
    for way in (0, 1):
        loads = [
            Load(kind=kind, value=_rolling(sheet, way, abs(shear[way]))) for kind, shear in parts
        ]
        rows.append(
            held(
                replace(
                    about,
                    working=(
                        *about.working,
                        (
                            "tau_r = V S / (I b) of the plies, 3 V / (2 t) where the lay-up is not "
                            "known"
                        ),
                    ),
                ),
                loads=loads,
                capacity=strength,
                rules=rules,
            )
        )
    return worst(rows)


@lru_cache(maxsize=128)
def _factors_of(layup: tuple[float, ...]) -> ShearFactors:
    return rolling_shear_factors(ply_mm=layup)


def _rolling(sheet: Sheet, way: int, shear_n_mm: float) -> float:
    """Return the rolling shear stress under a shear per length, bending along direction 1 or 2."""
    if not sheet.material.layup or sheet.grain_1 is None:
        return rectangle_shear_stress_n_mm2(
            shear_n=shear_n_mm, width_mm=1.0, depth_mm=sheet.thickness
        )
    factors = _factors_of(sheet.material.layup)
    along = sheet.grain_1 == (way == 0)
    factor = factors.along_per_mm if along else factors.across_per_mm
    return rolling_shear_stress_n_mm2(shear_n=shear_n_mm, width_mm=1.0, shear_factor_per_mm=factor)


def sheet_trials(
    index: Index, sheet: Sheet, find: Callable[[Sheet], Finding], *, may_turn: bool = True
) -> tuple[list[Trial], list[Trial], list[Trial]]:
    """Return trials of a proof: thicker sheets, the grain turned, other sheets as thick."""
    rows = [
        Trial(
            words=f"{sheet.material.name} → {row.name}",
            find=partial(find, sheet.in_sheet(row, thickness=row.thickness)),
        )
        for row in thicker(index.catalogue, sheet.material)
    ]
    turned: list[Trial] = []
    if may_turn and sheet.grain_1 is not None:
        turned.append(Trial(words="grain turned the other way", find=partial(find, sheet.turned())))
    others = [
        Trial(
            words=f"{row.name} instead of {sheet.material.name}",
            find=partial(find, sheet.in_sheet(row, thickness=row.thickness)),
        )
        for row in stronger(index.catalogue, sheet.material)
    ]
    return rows, turned, others
