"""The shop's shelf: sheets, runners, fixings, saws, read into model values.

The shipped rows are generic and carry a source and a standing each; a shop's own file overrides
them by name, field by field.
"""

from __future__ import annotations

from stowright.catalogue.choose import (
    Fixings,
    fixings_of,
    known_names,
    origin_of,
    screws_of,
    stock_sizes_of,
)
from stowright.catalogue.load import all_stock_sizes, load_catalogue, shipped_text

__all__ = [
    "Fixings",
    "all_stock_sizes",
    "fixings_of",
    "known_names",
    "load_catalogue",
    "origin_of",
    "screws_of",
    "shipped_text",
    "stock_sizes_of",
]
