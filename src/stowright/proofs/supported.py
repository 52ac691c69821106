"""A rectangle of sheet on the edges that really hold it: the series that fits, patches, strips.

Four held edges: Navier. Two opposite held edges and one or two free ones: Levy. A point on a free
edge goes by a strip rule: a strip of the width that Levy's series finds for that edge carries the
load alone, and shares it with a rail or batten under it by stiffness. One held edge with the sheet
going on behind it: a cantilever strip.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from stowright.formulas import plates_levy, plates_navier
from stowright.formulas.beams import (
    cantilever_point_moment_n_mm,
    cantilever_point_sag_mm,
    pinned_patch_moment_n_mm,
)
from stowright.formulas.plates_navier import PlateResponse, SimplySupportedPlate
from stowright.formulas.sections import rectangle_second_moment_mm4
from stowright.formulas.strips import cantilever_strip_width_mm, edge_strip_width_mm
from stowright.proofs.sheets import Sheet

__all__ = ["EDGES", "EdgeName", "Field", "cantilever", "held_well", "scaled"]

#: Edges across direction 1 (at its start and end) and across direction 2.
type EdgeName = Literal["low 1", "high 1", "low 2", "high 2"]
EDGES: tuple[EdgeName, ...] = ("low 1", "high 1", "low 2", "high 2")


def held_well(edges: frozenset[EdgeName]) -> bool:
    """Say whether two opposite edges, at least, are held."""
    return {"low 1", "high 1"} <= edges or {"low 2", "high 2"} <= edges


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """One span of a sheet.

    Attributes:
        sheet: The sheet.
        side_1, side_2: Its sides. [mm]
        edges: Which edges are held (simply supported).
    """

    sheet: Sheet
    side_1: float
    side_2: float
    edges: frozenset[EdgeName]

    @property
    def all_held(self) -> bool:
        """Whether all four edges are held."""
        return len(self.edges) == 4

    @property
    def across_1(self) -> bool:
        """Whether the pair of opposite held edges lies across direction 1."""
        return {"low 1", "high 1"} <= self.edges

    @property
    def free(self) -> tuple[bool, bool]:
        """Whether the low and the high edge beside the held pair are free."""
        way = "2" if self.across_1 else "1"
        return f"low {way}" not in self.edges, f"high {way}" not in self.edges

    @property
    def span(self) -> float:
        """Length of the strip between the held pair. [mm]."""
        if self.all_held:
            return min(self.side_1, self.side_2)
        return self.side_1 if self.across_1 else self.side_2

    def _levy_plate(self) -> SimplySupportedPlate:
        if self.across_1:
            return self.sheet.plate(side_1=self.side_1, side_2=self.side_2)
        turned = self.sheet.turned()
        return turned.plate(side_1=self.side_2, side_2=self.side_1)

    def _way_round(self, answer: PlateResponse) -> PlateResponse:
        """Return an answer of Levy's plate with moments along directions 1 and 2."""
        if self.across_1:
            return answer
        return PlateResponse(
            deflection_mm=answer.deflection_mm,
            moment_x_n=answer.moment_y_n,
            moment_y_n=answer.moment_x_n,
        )

    def uniform(self, *, pressure_n_mm2: float) -> PlateResponse:
        """Return the greatest deflection and moments under an even load."""
        if self.all_held:
            it = self.sheet.plate(side_1=self.side_1, side_2=self.side_2)
            return scaled(_navier_uniform(it), pressure_n_mm2)
        answer = _levy_uniform(self._levy_plate(), *self.free)
        return self._way_round(scaled(answer, pressure_n_mm2))

    def patch(self, *, load_n: float, patch_1_mm: float, patch_2_mm: float) -> PlateResponse:
        """Return deflection and moments under a patch amid the field."""
        one, two = min(patch_1_mm, self.side_1), min(patch_2_mm, self.side_2)
        if self.all_held:
            it = self.sheet.plate(side_1=self.side_1, side_2=self.side_2)
            return scaled(_navier_patch(it, one, two), load_n)
        along, beside = (one, two) if self.across_1 else (two, one)
        answer = _levy_patch(self._levy_plate(), *self.free, along, beside)
        return self._way_round(scaled(answer, load_n))

    def strip_width(self, *, patch_mm: float) -> float:
        """Return the width of the strip that carries a square patch on the free edge. [mm]."""
        it = self._levy_plate()
        side = min(patch_mm, it.side_x_mm, it.side_y_mm)
        return edge_strip_width_mm(
            patch_mm=side,
            span_mm=it.side_x_mm,
            moment_per_load=_levy_edge_moment(it, *self.free, side),
            most_mm=it.side_y_mm,
        )

    def strip_moment(self, *, load_n: float, patch_mm: float) -> float:
        """Return the moment of a whole strip under a patch at midspan. [N mm]."""
        span = self.span
        return pinned_patch_moment_n_mm(load_n=load_n, span_mm=span, patch_mm=min(patch_mm, span))

    def strip_modulus(self) -> float:
        """Return the modulus of the strip between the held pair. [N/mm2]."""
        one, two = self.sheet.moduli
        return one if self.across_1 else two

    def strip_strength(self) -> float:
        """Return the bending strength of that strip, on the material's basis. [N/mm2]."""
        one, two = self.sheet.strengths
        return one if self.across_1 else two

    def shear(self, *, pressure_n_mm2: float) -> tuple[float, float]:
        """Return the reactions per length along directions 1 and 2 under an even load. [N/mm]."""
        if self.all_held:
            it = self.sheet.plate(side_1=self.side_1, side_2=self.side_2)
            one, two = _navier_reactions(it)
            return one * pressure_n_mm2, two * pressure_n_mm2
        strip = pressure_n_mm2 * self.span / 2.0
        return (strip, 0.0) if self.across_1 else (0.0, strip)


@lru_cache(maxsize=256)
def _navier_uniform(it: SimplySupportedPlate) -> PlateResponse:
    return plates_navier.uniform_response(it, pressure_n_mm2=1.0)


@lru_cache(maxsize=256)
def _navier_reactions(it: SimplySupportedPlate) -> tuple[float, float]:
    return plates_navier.edge_reactions_uniform_n_mm(it, pressure_n_mm2=1.0)


@lru_cache(maxsize=256)
def _navier_patch(it: SimplySupportedPlate, one_mm: float, two_mm: float) -> PlateResponse:
    return plates_navier.patch_response(it, load_n=1.0, patch_x_mm=one_mm, patch_y_mm=two_mm)


@lru_cache(maxsize=256)
def _levy_uniform(it: SimplySupportedPlate, low: bool, high: bool) -> PlateResponse:
    """Return the greatest answers to a unit load, amid the plate and at its free edges."""
    places = [it.side_y_mm / 2.0, *([0.0] if low else []), *([it.side_y_mm] if high else [])]
    if low and high:
        places.pop()  # both free edges are alike
    return _greatest(
        [
            plates_levy.uniform_response(
                it, free_low=low, free_high=high, pressure_n_mm2=1.0, at_y_mm=place
            )
            for place in places
        ]
    )


@lru_cache(maxsize=256)
def _levy_patch(
    it: SimplySupportedPlate, low: bool, high: bool, along_mm: float, beside_mm: float
) -> PlateResponse:
    return plates_levy.patch_response(
        it,
        free_low=low,
        free_high=high,
        load_n=1.0,
        patch_x_mm=along_mm,
        patch_y_mm=beside_mm,
    )


@lru_cache(maxsize=256)
def _levy_edge_moment(it: SimplySupportedPlate, low: bool, high: bool, side_mm: float) -> float:
    """Return the moment per width at a free edge under a unit load on a square at it. [-]."""
    at_low = low or not high
    centre = side_mm / 2.0 if at_low else it.side_y_mm - side_mm / 2.0
    answer = plates_levy.patch_response(
        it,
        free_low=low,
        free_high=high,
        load_n=1.0,
        patch_x_mm=side_mm,
        patch_y_mm=side_mm,
        centre_y_mm=centre,
        at_y_mm=0.0 if at_low else it.side_y_mm,
    )
    return abs(answer.moment_x_n)


def scaled(answer: PlateResponse, load: float) -> PlateResponse:
    """Return an answer times a load (answers are linear)."""
    return PlateResponse(*(load * each for each in answer))


def _greatest(found: list[PlateResponse]) -> PlateResponse:
    """Return the greatest of each number over several places."""
    return PlateResponse(
        deflection_mm=max(each.deflection_mm for each in found),
        moment_x_n=max((each.moment_x_n for each in found), key=abs),
        moment_y_n=max((each.moment_y_n for each in found), key=abs),
    )


def cantilever(
    sheet: Sheet, *, along_1: bool, arm_mm: float, width_mm: float, load_n: float, patch_mm: float
) -> tuple[float, float]:
    """Return the moment per width and the sag at the tip of a sheet that stands over. [N, mm]."""
    reach = max(arm_mm - patch_mm / 2.0, 0.0)
    strip = cantilever_strip_width_mm(arm_mm=reach, patch_mm=patch_mm, most_mm=width_mm)
    modulus = sheet.moduli[0 if along_1 else 1]
    moment = (
        cantilever_point_moment_n_mm(load_n=load_n, span_mm=reach, at_mm=reach)
        if reach > 0.0
        else 0.0
    )
    sag = cantilever_point_sag_mm(
        load_n=load_n,
        span_mm=reach,
        at_mm=reach,
        modulus_n_mm2=modulus,
        second_moment_mm4=rectangle_second_moment_mm4(width_mm=strip, depth_mm=sheet.thickness),
    )
    return moment / strip, sag
