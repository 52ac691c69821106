"""Restraint rule sets against their texts: 49 CFR 393.102, NTC guides 2018, Quebec C-24.2 r. 30,
EN 12195-1:2010, VDI 2700 Sheet 16 (table in ESV paper 09-0008). Fractions of g are exact;
forces are printed to 0.1 N (case 17).
"""

import pytest

from stowright.formulas import restraint

# name: forward, rear, side, side if it can tip, up, masses above, up to
TABLE = {
    "light-envelope": (0.9, 0.5, 0.7, 0.7, 0.2, 0.0, 3500.0),
    "au-light": (0.8, 0.5, 0.5, 0.5, 0.2, 0.0, 4500.0),
    "au": (0.8, 0.5, 0.5, 0.5, 0.2, 0.0, float("inf")),
    "us-393": (0.8, 0.5, 0.5, 0.5, 0.2, 0.0, float("inf")),
    "us-393-wll": (0.435, 0.5, 0.25, 0.25, 0.2, 0.0, float("inf")),
    "ca-qc": (0.8, 0.5, 0.5, 0.5, 0.2, 0.0, float("inf")),
    "en-12195": (0.8, 0.5, 0.5, 0.6, 0.0, 3500.0, float("inf")),
    "vdi-2000": (0.9, 0.5, 0.7, 0.7, 0.0, 0.0, 2000.0),
    "vdi-3500": (0.8, 0.5, 0.6, 0.6, 0.0, 2000.0, 3500.0),
}


@pytest.mark.parametrize("name", TABLE)
def test_fractions_and_masses(name):
    rules = restraint.rule_set(name)
    got = (
        *(rules.fraction(direction) for direction in ("forward", "rear", "side")),
        rules.side_if_tippable,
        rules.fraction("up"),
        rules.mass_above_kg,
        rules.mass_up_to_kg,
    )
    assert got == TABLE[name]


def test_the_names_are_these_and_no_others():
    assert list(restraint.RULE_SETS) == list(TABLE)


@pytest.mark.parametrize(
    ("name", "direction", "force"),
    [
        ("au-light", "forward", 941.8),
        ("au-light", "side", 588.6),
        ("us-393-wll", "forward", 512.1),
        ("vdi-2000", "forward", 1059.5),
        ("vdi-2000", "side", 824.0),
    ],
)
def test_case_17_a_load_of_120_kg(name, direction, force):
    fraction = restraint.rule_set(name).fraction(direction)
    got = restraint.restraint_force_n(mass_kg=120.0, fraction=fraction)
    assert got == pytest.approx(force, abs=0.06)


def test_standards_scope_in_kilograms():
    # EN 12195-1:2010 does not apply at or below 3500 kg; VDI's first row ends at 2.0 t
    assert not restraint.rule_set("en-12195").is_meant_for(vehicle_mass_kg=3500.0)
    assert restraint.rule_set("en-12195").is_meant_for(vehicle_mass_kg=3501.0)
    assert restraint.rule_set("vdi-2000").is_meant_for(vehicle_mass_kg=2000.0)
    assert not restraint.rule_set("vdi-3500").is_meant_for(vehicle_mass_kg=2000.0)
