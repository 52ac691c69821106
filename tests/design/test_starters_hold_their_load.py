"""A starter as it is written takes what stands on its own carry list."""

import pytest
from job_texts import CATALOGUE

from stowright.design.build import design
from stowright.jobfile import read_job, starter


@pytest.mark.parametrize("units", ["mm", "in"])
@pytest.mark.parametrize("kind", ["tub", "van", "wagon", "tray"])
def test_everything_on_a_starters_carry_list_finds_a_place(kind, units):
    warnings = design(read_job(starter(kind, units=units)), CATALOGUE).warnings
    assert not [text for text in warnings if "found no place" in text]
