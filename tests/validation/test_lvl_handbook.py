"""LVL Handbook (2025), Tables 5.1 and 5.2, which agree with EN 1995-1-1, Table 8.2, where both say
something.

Multiples of the diameter are exact; the edge-face diameters are printed to 0.1 mm.
"""

import pytest

from stowright.formulas import ec5_spacing

D = 4.0


def multiples(distances):
    return tuple(distance / D for distance in distances)


@pytest.mark.parametrize(
    ("angle", "predrilled", "expected"),
    [
        (0.0, False, (10.0, 5.0, 15.0, 10.0, 5.0, 5.0)),
        (90.0, False, (5.0, 5.0, 10.0, 10.0, 7.0, 5.0)),
        (0.0, True, (5.0, 3.0, 12.0, 7.0, 3.0, 3.0)),
        (90.0, True, (4.0, 4.0, 7.0, 7.0, 5.0, 3.0)),
        (60.0, False, (7.5, 5.0, 12.5, 10.0, 6.73205, 5.0)),
        (60.0, True, (4.5, 3.866025, 9.5, 7.0, 4.73205, 3.0)),
    ],
)
def test_timber(angle, predrilled, expected):
    got = ec5_spacing.timber_distances(diameter_mm=D, angle_deg=angle, predrilled=predrilled)
    assert multiples(got) == pytest.approx(expected, rel=1e-5)


@pytest.mark.parametrize(
    ("angle", "expected"),
    [
        (0.0, (7.0, 5.0, 7.0, 5.0, 3.0, 3.0)),
        (90.0, (5.0, 5.0, 4.0, 5.0, 7.0, 3.0)),
        (60.0, (6.0, 5.0, 5.5, 5.0, 6.464102, 3.0)),
    ],
)
def test_cross_bonded_wide_face(angle, expected):
    got = ec5_spacing.cross_ply_panel_distances(diameter_mm=D, angle_deg=angle)
    assert multiples(got) == pytest.approx(expected, rel=1e-5)


def test_pulled_screws():
    assert multiples(ec5_spacing.axial_screw_distances(diameter_mm=D)) == (7, 5, 10, 10, 4, 4)


@pytest.mark.parametrize(
    ("thickness", "pulled", "predrilled", "diameter"),
    [
        (27.0, False, False, 1.9),
        (27.0, False, True, 4.5),
        (27.0, True, True, 3.4),
        (18.0, False, True, 3.0),
        (18.0, True, True, 2.25),
    ],
)
def test_edge_faces(thickness, pulled, predrilled, diameter):
    got = ec5_spacing.edge_face_greatest_diameter_mm(
        thickness_mm=thickness, pulled=pulled, predrilled=predrilled
    )
    assert got == pytest.approx(diameter, abs=0.03)


def test_penetration_of_the_cross_bonded_row():
    assert ec5_spacing.panel_penetration_ok(diameter_mm=D, penetration_mm=40.0)
    assert not ec5_spacing.panel_penetration_ok(diameter_mm=D, penetration_mm=39.9)
