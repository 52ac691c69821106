"""Values that are made quickly are frozen dataclasses like all others."""

import copy
from dataclasses import FrozenInstanceError, dataclass, fields, replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stowright.errors import OutOfRangeError
from stowright.model.part import Feature
from stowright.model.quick_made import quick_made


@dataclass(frozen=True, slots=True, kw_only=True)
class Plain:
    """As it is usually made."""

    name: str
    size: float = 1.5
    marks: tuple[str, ...] = ()


@quick_made
@dataclass(frozen=True, slots=True, kw_only=True)
class Quick:
    """The same, made quickly."""

    name: str
    size: float = 1.5
    marks: tuple[str, ...] = ()


WORDS = st.fixed_dictionaries(
    {"name": st.text()}, optional={"size": st.floats(0, 9), "marks": st.tuples(st.text())}
)


@given(one=WORDS, two=WORDS)
def test_it_is_what_a_frozen_dataclass_is(one, two):
    plain, quick = Plain(**one), Quick(**one)
    assert type(quick) is Quick
    assert repr(quick) == repr(plain).replace("Plain", "Quick")
    assert hash(quick) == hash(Quick(**one)) == hash(plain)
    assert (quick == Quick(**two)) is (plain == Plain(**two))
    for other in (copy.copy(quick), copy.deepcopy(quick), replace(quick)):
        assert type(other) is Quick
        assert other == quick
    assert replace(quick, size=7.0).size == 7.0
    assert [row.name for row in fields(Quick)] == [row.name for row in fields(Plain)]


def test_nothing_is_set_later():
    quick = Quick(name="a")
    with pytest.raises(FrozenInstanceError):
        quick.name = "b"
    with pytest.raises(FrozenInstanceError):
        del quick.name


def test_what_is_missing_or_unknown_is_refused_as_usual():
    with pytest.raises(TypeError, match="missing"):
        Quick()
    with pytest.raises(TypeError, match="unexpected"):
        Quick(name="a", colour="red")
    with pytest.raises(TypeError, match="missing 7 required"):
        Feature()


def test_a_class_that_has_more_to_do_is_refused():
    @dataclass(frozen=True, slots=True, kw_only=True)
    class Checked:
        name: str

        def __post_init__(self) -> None:
            """It would not be called."""

    with pytest.raises(OutOfRangeError):
        quick_made(Checked)
