"""What every maker needs to know about the job: thicknesses, the cut grid, the shelf."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from stowright.design.box_limits import plain_mm
from stowright.design.thickness import thickness_in_use
from stowright.model.catalogue import Catalogue
from stowright.model.design import ThicknessInUse
from stowright.model.job import Build, Job
from stowright.model.refit import BlockRefit, OpeningRefit, Refit
from stowright.units import format_length

__all__ = ["FINEST_GRID", "Context"]

#: Trim that a sheet loses at each edge before a part is cut from it (common practice). [mm]
SHEET_TRIM = 10.0
#: A sheet where neither shelf nor shop names one (common practice). [mm]
USUAL_SHEET = (2440.0, 1220.0)

#: A cut grid of 0 (any size can be cut) still means 0.1 mm: what is printed is what is cut. [mm]
FINEST_GRID = 0.1


def _inches(mm: float) -> str:
    return format_length(mm, "in", with_unit=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class Context:
    """A job, the shelf it is built from, and the thickness of each material in it.

    Attributes:
        grid: The cut grid in use. [mm]
        refit: What was cut and read while building; None before the work begins.
        bodies_only: Gaps, sums and joints are left out: for trying many.
    """

    job: Job
    catalogue: Catalogue
    grid: float
    refit: Refit | None = None
    bodies_only: bool = False
    _seen: dict[str, ThicknessInUse] = field(default_factory=dict)

    @classmethod
    def of(cls, job: Job, catalogue: Catalogue, refit: Refit | None = None) -> Context:
        """Return the context of a job, and of what was cut and read while building it."""
        grid = job.cut_grid or FINEST_GRID
        return cls(job=job, catalogue=catalogue, grid=grid, refit=refit)

    def refit_of(self, opening: str) -> OpeningRefit | None:
        """Return what readings and cut parts change in an opening."""
        return self.refit.of_opening(opening) if self.refit else None

    def cut_block(self, block: str) -> BlockRefit | None:
        """Return what cut panels have settled of a block."""
        return self.refit.of_block(block) if self.refit else None

    def joined(self, build: Build) -> bool:
        """Whether joints are of use: for fixings, or where tabs change the bodies themselves."""
        return not self.bodies_only or build.joint == "tab-and-slot"

    def thickness(self, material: str) -> ThicknessInUse:
        """Return the thickness in use of a material, found once."""
        if material not in self._seen:
            self._seen[material] = thickness_in_use(self.job, self.catalogue, material)
        return self._seen[material]

    def t(self, material: str) -> float:
        """Return the thickness that sizes are made with. [mm]."""
        return self.thickness(material).t

    def largest_sheet(self, material: str) -> tuple[float, float]:
        """Return the largest sheet of a material that can be had, trimmed: length, width. [mm]."""
        family = self.catalogue.material(material).family
        sizes = [
            (size.length, size.width)
            for size in self.catalogue.stock_sizes
            if size.material in {material, family}
        ]
        sizes += [(s.length, s.width) for s in self.job.sheets if s.material == material]
        length, width = max(sizes, key=lambda size: (size[0] * size[1], size), default=USUAL_SHEET)
        return (length - 2.0 * SHEET_TRIM, width - 2.0 * SHEET_TRIM)

    def density(self, material: str) -> float:
        """Return mean density. [kg/m3]."""
        return self.catalogue.material(material).density

    @property
    def cutter(self) -> float:
        """Diameter of the router's cutter as the cut counts with it; 0 for a job that is sawn.

        A job that names the method but no saw gets the first router on the shelf.
        """
        if self.job.build.method != "cnc":
            return 0.0
        saw = self.catalogue.saw(self.job.build.saw)
        if saw.method != "cnc" and any(row.field == "build.saw" for row in self.job.assumed):
            saw = next((row for row in self.catalogue.saws if row.method == "cnc"), saw)
        return saw.kerf

    @property
    def shown(self) -> Callable[[float], str]:
        """How a length is printed in the job's own unit."""
        return _inches if self.job.units == "in" else plain_mm

    @property
    def thicknesses(self) -> tuple[ThicknessInUse, ...]:
        """Every thickness asked for so far, by name."""
        return tuple(self._seen[name] for name in sorted(self._seen))
