"""How demand and capacity become a status, as the page on proofs says."""

import pytest

from stowright.errors import BasisMixError
from stowright.proofs.judge import About, clearance, complete, not_proved, ratio, weakest

ABOUT = About(id="X:y", title="t", about="y", family=4, source="s", standing="published")


@pytest.mark.parametrize(
    ("demand", "status"),
    [(89.9, "pass"), (90.0, "pass"), (90.1, "warn"), (100.0, "warn"), (100.1, "fail")],
)
def test_ratio_passes_to_090_and_warns_to_100(demand, status):
    found = ratio(ABOUT, demand=demand, capacity=100.0, unit="kg", basis="allowable", factor=1.0)
    assert found.status == status


def test_ratio_without_capacity_fails_without_a_utilisation():
    found = ratio(ABOUT, demand=1.0, capacity=0.0, unit="kg", basis="allowable", factor=1.0)
    assert (found.status, found.utilisation) == ("fail", None)


@pytest.mark.parametrize(
    ("available", "status"), [(5.0, "pass"), (4.0, "warn"), (3.0, "warn"), (2.9, "fail")]
)
def test_clearance_warns_within_the_reading_error(available, status):
    found = clearance(ABOUT, needed=5.0, available=available, reading_error=2.0)
    assert found.status == status


def test_clearance_has_no_utilisation_where_nothing_is_left():
    assert clearance(ABOUT, needed=5.0, available=-1.0, reading_error=2.0).utilisation is None


def test_complete_and_not_proved():
    assert complete(ABOUT, missing=()).status == "pass"
    assert complete(ABOUT, missing=("a",)).status == "fail"
    found = not_proved(ABOUT, needs=("vehicle.wheelbase",))
    assert (found.status, found.needs) == ("not proved", ("vehicle.wheelbase",))


@pytest.mark.parametrize(
    ("basis", "factor"), [("allowable", 1.5), ("mean ultimate", 1.0), ("characteristic", 5.0)]
)
def test_mixing_bases_is_refused(basis, factor):
    with pytest.raises(BasisMixError):
        ratio(ABOUT, demand=1.0, capacity=2.0, unit="N", basis=basis, factor=factor)


def test_the_weakest_standing_is_shown_with_the_status():
    assert weakest("published", "from memory", "common practice") == "from memory"
    found = ratio(
        About(id="a", title="t", about="y", family=4, source="s", standing="from memory"),
        demand=1.0,
        capacity=2.0,
        unit="N",
        basis="allowable",
        factor=1.0,
    )
    assert found.shown == "pass (value from memory)"
