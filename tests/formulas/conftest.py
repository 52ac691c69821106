"""Shared by the tests of formulas: every number that makes no sense is refused, by name."""

import math

import pytest

from stowright.errors import OutOfRangeError


@pytest.fixture
def refuses_nonsense():
    """Put NaN and infinity in place of each float argument in turn; each is refused by name."""

    def check(function, arguments, *, except_for=()):
        for name, value in arguments.items():
            if not isinstance(value, float) or name in except_for:
                continue
            for nonsense in (math.nan, math.inf, -math.inf):
                with pytest.raises(OutOfRangeError):
                    function(**(arguments | {name: nonsense}))

    return check
