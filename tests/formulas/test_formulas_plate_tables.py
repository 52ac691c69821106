"""The printed plate tables refuse what they do not print; their values are under validation."""

import pytest

from stowright.errors import OutOfRangeError
from stowright.formulas import plates_roark, plates_timoshenko

NUMBERS = {
    "pressure_n_mm2": 0.005,
    "load_n": 500.0,
    "radius_mm": 30.0,
    "short_mm": 500.0,
    "long_mm": 700.0,
    "thickness_mm": 12.0,
    "modulus_n_mm2": 9000.0,
    "rigidity_n_mm": 2e6,
    "poisson": 0.3,
}
EVERY = [
    (module, name)
    for module in (plates_roark, plates_timoshenko)
    for name in module.__all__
    if name.islower()
]


@pytest.mark.parametrize(("module", "name"), EVERY, ids=[name for _, name in EVERY])
def test_nonsense_is_refused(module, name, refuses_nonsense):
    function = getattr(module, name)
    arguments = {key: NUMBERS[key] for key in function.__annotations__ if key in NUMBERS}
    refuses_nonsense(function, arguments)
    if "short_mm" in arguments:
        with pytest.raises(OutOfRangeError):
            function(**(arguments | {"short_mm": 701.0}))


def test_ratios_beyond_the_printed_ones():
    plate = {"load_n": 500.0, "short_mm": 500.0, "rigidity_n_mm": 2e6}
    plates_timoshenko.supported_point_sag_mm(**plate, long_mm=1500.0)
    plates_timoshenko.clamped_point_sag_mm(**plate, long_mm=1000.0)
    with pytest.raises(OutOfRangeError):
        plates_timoshenko.supported_point_sag_mm(**plate, long_mm=1501.0)
    with pytest.raises(OutOfRangeError):
        plates_timoshenko.clamped_point_sag_mm(**plate, long_mm=1001.0)


def test_rigidity_by_hand():
    # 9000 * 1728 / (12 * (1 - 0.04)) = 1 350 000
    got = plates_timoshenko.rigidity_n_mm(modulus_n_mm2=9000.0, thickness_mm=12.0, poisson=0.2)
    assert got == pytest.approx(1_350_000.0, rel=1e-12)
    with pytest.raises(OutOfRangeError):
        plates_timoshenko.rigidity_n_mm(modulus_n_mm2=9000.0, thickness_mm=12.0, poisson=1.0)
