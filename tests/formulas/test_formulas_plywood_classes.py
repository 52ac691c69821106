"""EN 636 marks and the scope of EN 12369-2, at every end of the range."""

import pytest

from stowright.errors import OutOfRangeError, UnknownNameError
from stowright.formulas import plywood_classes

BOARD = {"layers": 5, "thickness_mm": 6.0, "veneer_ratio": 2.5, "density_kg_m3": 350.0}


@pytest.mark.parametrize(
    ("change", "inside"),
    [
        ({}, True),
        ({"layers": 4}, False),
        ({"thickness_mm": 5.95}, False),
        ({"veneer_ratio": 2.51}, False),
        ({"density_kg_m3": 349.0}, False),
        ({"density_kg_m3": 750.0}, True),
        ({"density_kg_m3": 751.0}, False),
    ],
)
def test_scope(change, inside):
    assert plywood_classes.in_scope_of_en_12369_2(**(BOARD | change)) is inside


def test_three_plies_are_non_structural():
    assert not plywood_classes.in_scope_of_en_12369_2(**(BOARD | {"layers": 3}))


def test_mark():
    got = plywood_classes.class_values(" F10/20 E30/40 ")
    assert got == (10.0, 20.0, 3000.0, 4000.0)
    for wrong in ("F10/20", "F10/20 E30", "f10/20 e30/40", ""):
        with pytest.raises(UnknownNameError, match="EN 636 mark"):
            plywood_classes.class_values(wrong)


def test_parts():
    assert [plywood_classes.highest_service_class(part=part) for part in (1, 2, 3)] == [1, 2, 3]
    with pytest.raises(UnknownNameError, match="part of EN 636"):
        plywood_classes.highest_service_class(part=4)


def test_nonsense_is_refused(refuses_nonsense):
    refuses_nonsense(plywood_classes.in_scope_of_en_12369_2, BOARD)
    for change in ({"layers": 0}, {"veneer_ratio": 0.99}):
        with pytest.raises(OutOfRangeError):
            plywood_classes.in_scope_of_en_12369_2(**(BOARD | change))
    assert plywood_classes.in_scope_of_en_12369_2(**(BOARD | {"veneer_ratio": 1.0}))
    assert not plywood_classes.in_scope_of_en_12369_2(**(BOARD | {"layers": 1}))
