"""A published formwork plywood data sheet (17.5 mm, 13 plies, 1.0 mm faces; the maker is not named
here).

It prints I 255.7 and 204.2 mm4/mm, Z 28.6 and 25.4 mm3/mm. The plies inside are taken as equal,
which the sheet does not say: 0.5 % covers that and the printed rounding.
"""

import pytest

from stowright.formulas import veneer

PLIES = (1.0, *[(17.5 - 2.0) / 11.0] * 11, 1.0)


def test_l3_effective_section_of_the_sheet():
    got = veneer.effective_section(ply_mm=PLIES, cross_factor=0.03)
    assert got.second_moment_0_mm3 == pytest.approx(255.7, rel=0.005)
    assert got.second_moment_90_mm3 == pytest.approx(204.2, rel=0.005)
    assert got.section_modulus_0_mm2 == pytest.approx(28.6, rel=0.005)
    assert got.section_modulus_90_mm2 == pytest.approx(25.4, rel=0.005)
    # as recomputed by hand from the same plies
    assert got.second_moment_0_mm3 == pytest.approx(255.3, abs=0.1)
    assert got.second_moment_90_mm3 == pytest.approx(204.7, abs=0.1)
    assert veneer.effective_section(ply_mm=PLIES) == got
