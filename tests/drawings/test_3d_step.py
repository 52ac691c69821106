"""The STEP export says which extra it needs; its text does not depend on clock or call count."""

import sys
from copy import copy

import pytest
from samples import two_drawers

from stowright.drawings.step_file import _steady, to_step
from stowright.errors import MissingExtraError, StowrightError

WRITTEN = """ISO-10303-21;
HEADER;
FILE_NAME('unit','2026-03-01T09:12:33',('Author'),('Open CASCADE'
    ),'processor','library','Unknown');
DATA;
#7 = PRODUCT('A1 drawers/2/side-left','A1 drawers/2/side-left','',(
  #8));
#9 = PRODUCT('drawers','drawers','',(#10));
#11 = PRODUCT('A2 drawers/1/side-right','A2 drawers/1/side-right','',(#12));
#62 = NEXT_ASSEMBLY_USAGE_OCCURRENCE('144','drawers','',#5,#27,$);
#65 = NEXT_ASSEMBLY_USAGE_OCCURRENCE('145','A1 drawers/1/side-left','',#5,
  #27,$);
ENDSEC;
"""


def test_without_the_library_the_extra_is_named(monkeypatch):
    monkeypatch.setitem(sys.modules, "build123d", None)
    with pytest.raises(MissingExtraError, match="STEP export needs build123d") as caught:
        to_step(two_drawers())
    assert isinstance(caught.value, StowrightError)
    assert isinstance(caught.value, ImportError)
    assert (caught.value.library, caught.value.extra) == ("build123d", "step")
    assert str(copy(caught.value)) == str(caught.value)  # rebuilt from its fields


def test_the_library_is_loaded_only_when_asked_for():
    assert "build123d" not in sys.modules


def test_clock_and_running_numbers_are_taken_out():
    text = _steady(WRITTEN, {"A1": "side, left", "A2": "side, ø"})
    later = WRITTEN.replace("09:12:33", "10:00:00").replace("'144'", "'7'").replace("'145'", "'8'")
    assert _steady(later, {"A1": "side, left", "A2": "side, ø"}) == text
    assert "'1970-01-01T00:00:00'" in text
    assert "OCCURRENCE('1','drawers'" in text
    assert "OCCURRENCE('2','A1 drawers/1/side-left'" in text


def test_products_are_named_after_parts_and_uses_after_pieces():
    text = _steady(WRITTEN, {"A1": "side, left", "A2": "side, ø"})
    assert "PRODUCT('A1 side, left','A1 side, left','',(#8));" in text
    assert "PRODUCT('drawers','drawers'" in text
    # a name that plain text cannot hold leaves the mark alone
    assert "PRODUCT('A2','A2'" in text
