"""CTU Code (IMO/ILO/UNECE), Annex 7, Appendix 2: static friction of swept clean surfaces. Exact."""

import pytest

from stowright.errors import UnknownNameError
from stowright.formulas import friction

TABLE = {
    "sawn timber on plywood": 0.45,
    "planed wood on plywood": 0.30,
    "sawn timber on stainless sheet": 0.30,
    "planed wood on stainless sheet": 0.20,
    "planed wood on grooved aluminium": 0.25,
    "plastic pallet on plywood": 0.20,
    "steel crate on plywood": 0.45,
    "painted smooth metal on painted smooth metal": 0.20,
    "painted rough metal on painted rough metal": 0.30,
}


@pytest.mark.parametrize("pair", TABLE)
def test_pairs(pair):
    assert friction.static_friction(pair) == TABLE[pair]


def test_mat_and_dirt():
    # EN 12195-1 (restated) and from memory
    assert friction.static_friction("anything on rubber mat") == 0.60
    assert friction.static_friction("anything dirty, icy or greasy") == 0.20
    assert friction.PLYWOOD_ON_PAINTED_STEEL == 0.20


def test_dynamic_is_three_quarters():
    # rubber mat: 0.45 = 0.75 x 0.6
    assert friction.dynamic_friction(static=0.6) == pytest.approx(0.45, rel=1e-12)


def test_other_pairs_are_refused():
    with pytest.raises(UnknownNameError, match="friction pair"):
        friction.static_friction("plywood on painted steel")
