"""Rule sets as a program sees them: names, titles, bases that may not be mixed, and their order."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.errors import BasisMixError, UnknownNameError
from stowright.formulas import gravity, restraint

NAMES = list(restraint.RULE_SETS)


@pytest.mark.parametrize("name", NAMES)
def test_titles_say_what_it_is_and_what_it_is_not(name):
    rules = restraint.rule_set(name)
    assert rules.name == name
    assert rules.title.startswith("accelerations as in ")
    assert rules.title.endswith(", driving level; not a crash or approval check")
    assert rules.source.text
    assert rules.mass_note
    assert rules.basis_note


def test_the_default_is_the_envelope_of_the_light_sets():
    envelope = restraint.rule_set(restraint.DEFAULT_RULE_SET)
    assert envelope.name == "light-envelope"
    assert envelope.source.standing == "judgement"
    for name in ("au-light", "vdi-2000", "vdi-3500", "us-393", "ca-qc"):
        other = restraint.rule_set(name)
        for direction in restraint.DIRECTIONS:
            assert envelope.fraction(direction) >= other.fraction(direction)


STANDINGS = {
    "au-light": "public restatement",
    "au": "public restatement",
    "us-393": "published",
    "us-393-wll": "published",
    "ca-qc": "published",
    "en-12195": "public restatement",
    "vdi-2000": "public restatement",
    "vdi-3500": "public restatement",
}


@pytest.mark.parametrize("name", STANDINGS)
def test_standing_of_each_set(name):
    assert restraint.rule_set(name).source.standing == STANDINGS[name]


def test_a_misspelt_name_gets_the_nearest():
    with pytest.raises(UnknownNameError) as caught:
        restraint.rule_set("vdi2000")
    assert "vdi-2000" in caught.value.known
    with pytest.raises(UnknownNameError) as caught:
        restraint.rule_set("zzzzz")
    assert caught.value.known == tuple(NAMES)


FACTORS = {
    "light-envelope": 1.5,
    "au-light": 1.5,
    "au": 1.5,
    "us-393": 1.0,
    "en-12195": 1.5,
    "vdi-2000": 1.5,
    "vdi-3500": 1.5,
}


@pytest.mark.parametrize("name", NAMES)
def test_factor_on_the_demand(name):
    rules = restraint.rule_set(name)
    assert restraint.restraint_factor(rules, capacity_basis="working load") == 1.0
    if name in FACTORS:
        got = restraint.restraint_factor(rules, capacity_basis="characteristic")
        assert got == FACTORS[name]
    else:
        with pytest.raises(BasisMixError):
            restraint.restraint_factor(rules, capacity_basis="characteristic")
    with pytest.raises(BasisMixError):
        restraint.restraint_factor(rules, capacity_basis="mean ultimate")


def test_only_two_sets_are_for_working_loads_alone():
    alone = [name for name in NAMES if restraint.rule_set(name).working_load_only]
    assert alone == ["us-393-wll", "ca-qc"]
    for name in alone:
        assert restraint.rule_set(name).demand_factor == 1.0


def test_mass_ranges():
    light = restraint.rule_set("light-envelope")
    assert light.is_meant_for(vehicle_mass_kg=3500.0)
    assert not light.is_meant_for(vehicle_mass_kg=3500.1)
    middle = restraint.rule_set("vdi-3500")
    assert middle.is_meant_for(vehicle_mass_kg=2000.1)
    assert middle.is_meant_for(vehicle_mass_kg=3500.0)
    assert not middle.is_meant_for(vehicle_mass_kg=3500.1)
    assert restraint.rule_set("au").is_meant_for(vehicle_mass_kg=40_000.0)


@given(mass=st.floats(0.0, 2000.0), fraction=st.floats(0.0, 2.0))
@settings(max_examples=25, deadline=None)
def test_force_is_the_fraction_of_the_weight(mass, fraction):
    force = restraint.restraint_force_n(mass_kg=mass, fraction=fraction)
    assert force == pytest.approx(fraction * gravity.weight_n(mass_kg=mass))


def test_crash_levels_are_information():
    assert restraint.CRASH_INFORMATION == (10.0, 20.0)


def test_weight():
    assert gravity.weight_n(mass_kg=100.0) == pytest.approx(981.0, rel=1e-12)
    assert gravity.GRAVITY_M_S2 == 9.81


def test_nonsense_is_refused(refuses_nonsense):
    refuses_nonsense(restraint.restraint_force_n, {"mass_kg": 10.0, "fraction": 0.8})
    refuses_nonsense(gravity.weight_n, {"mass_kg": 10.0})
