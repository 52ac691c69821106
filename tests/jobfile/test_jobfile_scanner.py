"""Positions of keys and values, held against the reference parser (tomllib)."""

import tomllib

import pytest
import tomlkit
from hypothesis import given, settings
from hypothesis import strategies as st
from strategies import job_texts

from stowright.jobfile.scanner import MOST_NESTING, ScanLimitError, scan

ODD_LAYOUTS = {
    "quoted keys": 'a."b.c".\'d e\' = 1\n"k\\u0041" = 2\n["x y".z]\n"" = 3\n',
    "multi-line arrays": "a = [ # one [\n  1, # two ]\n  [2,\n 3,],\n]\nb = 4\n",
    "inline tables": 'a = {b = {c = [1, {d = "}"}]}, "e" = \'#\'}\nf.g = 1\n',
    "comments with brackets": "# [no]\na = 1 # = [x]\n[b] # ]]\nc = 2\n",
    "strings with signs": (
        'a = "# not [a] comment = 1"\n'
        "b = '''\n[x]\ny = 1\n'''\n"
        'c = """a\n"b" \\" ""\n"""\nd = """x"""""\n'
    ),
    "lists of tables": (
        "[[a]]\nb = 1\n[[a]]\n[[a.c]]\nd = 2\n[[a.c]]\n[a.c.e]\nf = 3\n[[a]]\ng = 4\n"
    ),
    "header with spaces": "[ a . 'b' ]\nc = 1\n[[ d ]]\ne = 2\n",
    "dates and numbers": "a = 1979-05-27 07:32:00\nb = 1e3 # x\nc = -inf\nd = 0x1F\n",
    "windows line ends": "a = 1\r\n[b]\r\nc = [\r\n1,\r\n]\r\n",
    "no last line end": "[a]\nb = true",
    "empty": "",
}


def paths_in(value, path=()):
    """Every path that the reference parser knows."""
    found = {path} if path else set()
    if isinstance(value, dict):
        for key, each in value.items():
            found |= paths_in(each, (*path, key))
    elif isinstance(value, list):
        for place, each in enumerate(value):
            found |= paths_in(each, (*path, place))
    return found


@pytest.mark.parametrize("text", ODD_LAYOUTS.values(), ids=ODD_LAYOUTS)
def test_the_paths_are_those_of_the_reference_parser(text):
    positions = scan(text)
    implied = {path for path in paths_in(tomllib.loads(text)) if path}
    seen = set(positions.keys) | set(positions.values)
    # a table that only its sub-tables imply has no place of its own
    assert {p for p in seen if p in implied} == seen
    leaves = {p for p in implied if not any(q[: len(p)] == p and q != p for q in implied)}
    assert leaves <= seen


def test_each_position_is_where_a_person_finds_it():
    text = '# top\n[bay]\narches = [ {side = "left"},\n  {start = 4} ]\n[[block]]\nname = "x"\n'
    positions = scan(text)
    assert positions.of_key(("bay",)) == (2, 1)
    assert positions.of_key(("bay", "arches")) == (3, 1)
    assert positions.of_value(("bay", "arches", 0)) == (3, 12)
    assert positions.of_value(("bay", "arches", 1, "start")) == (4, 12)
    assert positions.of_key(("bay", "arches", 1, "start")) == (4, 4)
    assert positions.of_value(("block", 0, "name")) == (6, 8)
    # what is missing is told where its table stands
    assert positions.of_value(("block", 0, "face")) == (5, 1)
    assert positions.of_value(("nothing",)) == (0, 0)


@settings(max_examples=40, deadline=None)
@given(text=job_texts())
def test_every_leaf_of_a_job_file_has_a_place_and_its_text_stands_there(text):
    positions = scan(text)
    lines = text.split("\n")
    for path in paths_in(tomllib.loads(text)):
        if path in positions.values:
            line, column = positions.of_value(path)
            assert lines[line - 1][column - 1] not in " =,"
        if path in positions.keys and isinstance(path[-1], str):
            line, column = positions.of_key(path)
            there = lines[line - 1][column - 1 :]
            dotted = ".".join(part for part in path if isinstance(part, str))
            assert there.lstrip("[").startswith((path[-1], dotted))


KEYS = st.text("abñ .#[]=\"'\\", max_size=4)
SCALARS = st.one_of(st.integers(-9, 9), st.booleans(), st.text("a#[]{}\"'\n\\=", max_size=6))
TABLES = st.recursive(
    st.dictionaries(KEYS, SCALARS, max_size=3),
    lambda inner: st.dictionaries(
        KEYS, st.one_of(SCALARS, inner, st.lists(inner, max_size=2)), max_size=3
    ),
    max_leaves=8,
)


@given(tables=TABLES)
def test_any_keys_and_texts_are_followed(tables):
    text = tomlkit.dumps(tables)
    parsed = tomllib.loads(text)
    positions = scan(text)
    known = paths_in(parsed)
    seen = set(positions.keys) | set(positions.values)
    assert seen <= known
    assert {p for p in known if not any(q[: len(p)] == p and q != p for q in known)} <= seen


@given(text=st.text(max_size=80))
def test_a_text_that_is_no_job_never_breaks_the_scanner(text):
    scan(text)


@pytest.mark.parametrize("sign", ["[", "{a="])
def test_deep_nesting_is_refused_before_anything_recurses(sign):
    with pytest.raises(ScanLimitError):
        scan("a = " + sign * 100_000)
    with pytest.raises(ScanLimitError):
        scan(".".join("a" * 100_000) + " = 1")
    scan("a = " + "[" * (MOST_NESTING - 1) + "]" * (MOST_NESTING - 1))
