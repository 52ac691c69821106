"""A cutting plan as files: ``cutting.json`` and a drawing of each layout as SVG and DXF."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stowright.app.files import write_files
from stowright.app.outputs import cutting_data
from stowright.app.plain import json_text
from stowright.errors import OutOfRangeError

if TYPE_CHECKING:
    from pathlib import Path

    from stowright.model.layout import CuttingPlan

__all__ = ["layout_pictures", "write_layouts"]


def write_layouts(cutting: CuttingPlan, folder: Path, *, force: bool = False) -> tuple[Path, ...]:
    """Write ``cutting.json`` and the layouts' drawings; other files of earlier runs stay.

    Raises:
        FileConflictError: If a file stands there and no earlier run wrote it.
        OSError: If the folder cannot be written.
    """
    files = {"cutting.json": json_text(cutting_data(cutting)).encode(), **layout_pictures(cutting)}
    return write_files(folder, files, force=force, whole=False)


def layout_pictures(cutting: CuttingPlan) -> dict[str, bytes]:
    """Return the drawing of each layout, twice; one that fits no scale is left out."""
    from stowright.drawings.dxf import to_dxf
    from stowright.drawings.layout_drawing import layout_pages
    from stowright.drawings.svg import to_svg

    stock = {(use.sheet, use.material): use for use in cutting.stock}
    files: dict[str, bytes] = {}
    for layout in cutting.layouts:
        try:
            pages = layout_pages(layout, stock=stock[layout.sheet, layout.material], units="mm")
        except OutOfRangeError:
            continue
        for scene in pages:
            files[f"layouts/{scene.name}.svg"] = to_svg(scene, ink="colour").encode()
            files[f"layouts/{scene.name}.dxf"] = to_dxf(scene, units="mm")
    return files
