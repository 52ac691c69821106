"""The path from bolt to upright by hand: wood under the shank, washer, floor, joint, angle."""

from dataclasses import replace
from math import hypot, pi

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from restraint_jobs import CATALOGUE, held

from stowright.proofs.anchor_path import path_links
from stowright.proofs.anchor_strengths import Link, Open

# k_mod 1.1 instantaneous in service class 2, gamma_M 1.3 for connections and 1.2 for panels
CONNECTION, PANEL = 1.1 / 1.3, 1.1 / 1.2
BIRCH = CATALOGUE.material("birch-15")
HOLD = replace(
    held().holds[0],
    bolt=CATALOGUE.bolt("M8x55-8.8"),
    washer=CATALOGUE.washer("washer-M8-timber"),
    panel=BIRCH,
    floor_mm=15.0,
    bending_n_mm2=30.0,
    packer_mm=12.0,
    gap_mm=9.0,
    arm_mm=30.0,
    span_mm=500.0,
    ends_mm=(400.0, 400.0),
    glued=True,
    joint_mm=15.0,
    angle=None,
)


def links(**changes):
    found = {link.name: link for link in path_links(replace(HOLD, **changes))}
    assert all(isinstance(link, Link | Open) for link in found.values())
    return found


def test_sideways_through_floor_and_packer_over_a_rib():
    # f_h = 0.11 (1 - 0.08) 630; the bolt tilts in 27 mm of wood, 9 mm off the sheet
    f_h = 0.11 * 0.92 * BIRCH.density_char
    arm = 1.0 + 2.0 * 9.0 / 27.0
    tilts = f_h * 8.0 * 27.0 * (hypot(arm, 1.0) - arm)
    assert links()["wood"].shear == pytest.approx(CONNECTION * tilts, rel=1e-9)


def test_washer_on_the_floor():
    # 28 mm washer: f_head 8 d^2 (rho/350)^0.8 against panel shear round it
    pulled = 8.0 * 28.0**2 * (BIRCH.density_char / 350.0) ** 0.8
    punched = pi * 28.0 * 15.0 * BIRCH.f_panel_shear
    assert links()["washer"].alone == pytest.approx(CONNECTION * min(pulled, punched), rel=1e-9)


def test_floor_as_a_strip():
    # b = 28 + 2 x 30 = 88; T = f b t^2/6 L / (a (L - a))
    strength = PANEL * 30.0
    expected = strength * 88.0 * 15.0**2 / 6.0 * 500.0 / (30.0 * 470.0)
    assert links()["floor"].alone == pytest.approx(expected, rel=1e-9)


def test_glued_joint_carries_its_stretch():
    expected = 0.5 * 88.0 * 15.0 / (470.0 / 500.0)
    assert links()["joint"].alone == pytest.approx(expected, rel=1e-9)


def test_an_unglued_joint_is_not_counted_and_an_angle_is():
    assert isinstance(links(glued=False)["joint"], Open)
    angled = links(glued=False, angle=CATALOGUE.item("angle-60"))
    assert "floor" not in angled
    # 235 x 60 x 4^2 / (4 x 30) bends before four screws of a 4 mm plate give way, or they govern
    assert angled["joint"].alone <= 235.0 * 60.0 * 16.0 / (4.0 * 30.0) + 1e-9
    assert isinstance(links(arm_mm=58.0, angle=CATALOGUE.item("angle-60"))["joint"], Open)


def test_strengths_on_another_basis_are_not_used():
    ultimate = replace(BIRCH, basis="mean ultimate")
    found = path_links(replace(HOLD, panel=ultimate))
    assert [type(link) for link in found] == [Open]


@settings(max_examples=25, deadline=None)
@given(st.floats(9.0, 20.0), st.floats(0.1, 6.0))
def test_a_thicker_floor_is_never_weaker(thick, more):
    one, two = (links(floor_mm=t, joint_mm=t) for t in (thick, thick + more))
    for name, link in one.items():
        assert two[name].shear >= link.shear * (1.0 - 1e-12)
        assert two[name].alone >= link.alone * (1.0 - 1e-12) or thick < 20.0 < thick + more
