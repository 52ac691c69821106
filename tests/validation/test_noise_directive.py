"""Directive 2003/10/EC: daily noise exposure, 3 dB exchange (80 = 95 for 15 min = 98 for 8 min)."""

import pytest

from stowright.formulas import cutting_practice


@pytest.mark.parametrize(("hours", "exposure"), [(0.5, 82.96), (0.25, 79.95)])
def test_h1(hours, exposure):
    got = cutting_practice.daily_noise_exposure_dba(level_dba=95.0, hours=hours)
    assert got == pytest.approx(exposure, abs=0.006)  # printed to 0.01 dB


@pytest.mark.parametrize(("level", "minutes"), [(95.0, 15.0), (98.0, 8.0)])
def test_time_to_the_lower_action_value(level, minutes):
    # the directive's own pairs are rounded: 5 %
    got = cutting_practice.noise_time_h(level_dba=level)
    assert got * 60.0 == pytest.approx(minutes, rel=0.06)


def test_action_values():
    assert cutting_practice.NOISE_LOWER_DBA == 80.0
    assert cutting_practice.NOISE_UPPER_DBA == 85.0
    assert cutting_practice.NOISE_LIMIT_DBA == 87.0
    assert cutting_practice.HARDWOOD_DUST_LIMIT_MG_M3 == 2.0
