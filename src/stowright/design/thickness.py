"""The one thickness that each material has in a job, fixed before any part is sized."""

from __future__ import annotations

from statistics import fmean

from stowright.model.catalogue import Catalogue
from stowright.model.design import ThicknessInUse
from stowright.model.job import Job

__all__ = ["thickness_in_use"]


def thickness_in_use(job: Job, catalogue: Catalogue, material: str) -> ThicknessInUse:
    """Return the thickness of a material: caliper readings, else the sheets', else the catalogue's.

    Raises:
        UnknownNameError: When the catalogue has no such material.
    """
    row = catalogue.material(material)
    measured = dict(job.measured_thickness).get(material, ())
    if measured:
        return _from_readings(material, measured, "measured")
    sheets = tuple(
        reading for sheet in job.sheets if sheet.material == material for reading in sheet.thickness
    )
    if sheets:
        return _from_readings(material, sheets, "sheets")
    return ThicknessInUse(
        material=material,
        t=row.thickness,
        t_min=row.nominal - row.thinner,
        t_max=row.nominal + row.thicker,
        source="catalogue",
    )


def _from_readings(material: str, readings: tuple[float, ...], source: str) -> ThicknessInUse:
    return ThicknessInUse(
        material=material,
        t=round(fmean(readings), 6),
        t_min=min(readings),
        t_max=max(readings),
        source="measured" if source == "measured" else "sheets",
    )
