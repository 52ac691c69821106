"""At the saw: strips from a sheet, noise and dust."""

from __future__ import annotations

import math
from typing import Final

from stowright.errors import require_not_negative, require_positive
from stowright.formulas.sources import Source

__all__ = [
    "HARDWOOD_DUST_LIMIT_MG_M3",
    "NOISE_LIMIT_DBA",
    "NOISE_LOWER_DBA",
    "NOISE_UPPER_DBA",
    "SOURCES",
    "daily_noise_exposure_dba",
    "noise_time_h",
    "strips_per_width",
]

# Directive 2003/10/EC, published.
NOISE_LOWER_DBA: Final = 80.0
NOISE_UPPER_DBA: Final = 85.0
NOISE_LIMIT_DBA: Final = 87.0
# Directive 2017/2398, inhalable, 8 h, published.
HARDWOOD_DUST_LIMIT_MG_M3: Final = 2.0


_NOISE: Final = Source(
    text="Directive 2003/10/EC, daily exposure with 3 dB exchange", standing="published"
)
SOURCES: Final = {
    "strips_per_width": Source(text="strips, kerfs and two trims in a width", standing="derived"),
    "daily_noise_exposure_dba": _NOISE,
    "noise_time_h": _NOISE,
}


def strips_per_width(*, sheet_mm: float, strip_mm: float, kerf_mm: float, trim_mm: float) -> int:
    """Return how many equal strips a sheet gives. [-].

    n = floor((S - 2 T + k) / (w + k)), T trimmed off each edge, k between strips.

    Source: geometry. Standing: derived.

    Raises:
        OutOfRangeError: If the sheet or the strip is not above zero or kerf or trim is negative.
    """
    require_positive(sheet_mm=sheet_mm, strip_mm=strip_mm)
    require_not_negative(kerf_mm=kerf_mm, trim_mm=trim_mm)
    room_mm = sheet_mm - 2.0 * trim_mm + kerf_mm
    # rounded so that a strip that fits to the last hundredth is not lost to binary fractions
    return max(0, math.floor(round(room_mm / (strip_mm + kerf_mm), 9)))


def daily_noise_exposure_dba(*, level_dba: float, hours: float) -> float:
    """Return the exposure of a working day. [dB(A)].

    L_EX,8h = L + 10 log10(T / 8).

    Source: Directive 2003/10/EC. Standing: published.

    Raises:
        OutOfRangeError: If a number is not above zero.
    """
    require_positive(level_dba=level_dba, hours=hours)
    return level_dba + 10.0 * math.log10(hours / 8.0)


def noise_time_h(*, level_dba: float, limit_dba: float = NOISE_LOWER_DBA) -> float:
    """Return how long a noise may last in a day before a limit is reached. [h].

    T = 8 x 10^((limit - L) / 10).

    Source: Directive 2003/10/EC. Standing: published.

    Raises:
        OutOfRangeError: If a level is not above zero.
    """
    require_positive(level_dba=level_dba, limit_dba=limit_dba)
    return 8.0 * math.pow(10.0, (limit_dba - level_dba) / 10.0)
