"""Cautions of what is dangerous to carry: each hazard that a job may name has one."""

from typing import get_args, get_type_hints

from stowright.making.make import hazard_caution
from stowright.model.job import CarryItem


def test_every_hazard_has_its_caution_and_defers_to_the_local_code():
    for hazard in get_args(get_type_hints(CarryItem)["hazard"])[1:]:
        said = hazard_caution(hazard)
        assert said[0].isupper()
        assert said.endswith("; follow the local code.")
    assert hazard_caution("") == ""


def test_degrees_keep_their_capital_letter():
    assert "50 °C" in hazard_caution("aerosol")
