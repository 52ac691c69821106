"""The guide's page on the catalogue: what it shows must work."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from stowright.catalogue import load_catalogue
from stowright.catalogue.tables import ORIGIN, SIZE, TABLES

PAGE = (Path(__file__).parents[2] / "docs" / "guide" / "catalogue.md").read_text(encoding="utf-8")
BLOCKS = re.findall(r"```toml\n(.*?)```", PAGE, flags=re.DOTALL)


@pytest.mark.parametrize("block", BLOCKS, ids=[f"block-{n}" for n in range(1, len(BLOCKS) + 1)])
def test_every_example_of_the_guide_loads(block):
    assert load_catalogue(block) != load_catalogue()


def test_all_examples_load_together():
    shelf = load_catalogue("".join(BLOCKS))
    assert shelf.screw("stainless-4x30").price == 12.0
    assert shelf.saw("track-thin").kerf == 1.8


@pytest.mark.parametrize("table", TABLES, ids=[table.key for table in TABLES])
def test_the_guide_names_every_column(table):
    line = next(row for row in PAGE.splitlines() if row.startswith(f"| `{table.key}` |"))
    columns = [column for column in table.columns if column not in ORIGIN]
    if table.key == "runners":
        columns += ["side_space", "holes.cabinet", "holes.drawer", *SIZE.needed]
    assert [c for c in columns if not re.search(rf"\b{re.escape(c)}\b", line)] == []
