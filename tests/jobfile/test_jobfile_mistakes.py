"""Mistakes: all at once, a line each, with field, found, allowed, place and nearest name."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.errors import JobError
from stowright.jobfile import KEPT_MATERIALS, KnownNames, read_job

HEAD = '[job]\ntitle = "x"\n'
BAY = "[bay]\nlength = 1494\nwidth = 1392\nrail = 486\n"
MINIMAL = HEAD + BAY


def mistakes(text, **names):
    known = KnownNames(**names) if names else None
    with pytest.raises(JobError) as caught:
        read_job(text, catalogue_names=known)
    return caught.value.mistakes


def only(text, **names):
    found = mistakes(text, **names)
    assert len(found) == 1, [str(mistake) for mistake in found]
    return found[0]


def test_mistakes_of_every_sort_are_reported_at_once_in_the_order_of_the_file():
    found = mistakes(
        '[job]\ntitle = "x"\nunits = "cm"\n'
        "[bay]\nlenght = 1494\nwidth = -5\nrail = nan\n"
        'arches = [{side="left", start=0, end=900, height=200, reach=800},\n'
        '          {side="right", start=0, end=900, height=200, reach=800}]\n'
        '[[block]]\nname = "a"\nbeside = "b"\n[[block]]\nname = "a"\nface = "cab"\n'
        '[[deck]]\nover = ["aa"]\n[[carry]]\nwhat = "box"\ngoes_in = "drawr 1"\n'
        'size = [1, 2, 3]\nmass = 1\n[build]\ncarcass = "pyl-15"\n',
        materials=KEPT_MATERIALS,
    )
    assert [(m.field, m.line) for m in found] == [
        ("job.units", 3),
        ("bay.lenght", 5),
        ("bay.width", 6),
        ("bay.rail", 7),
        ("block[1].beside", 12),
        ("block[2].name", 14),
        ("block[2].face", 15),
        ("deck[1].over", 17),
        ("carry[1].goes_in", 20),
        ("build.carcass", 24),
    ]
    nearest = {m.field: m.nearest for m in found}
    assert nearest["bay.lenght"] == "length"
    assert nearest["deck[1].over"] == "a"
    assert nearest["carry[1].goes_in"] == "drawer 1"
    assert nearest["build.carcass"] == "ply-15"
    assert all("\n" not in str(m) for m in found)
    assert str(found[2]) == (
        "line 6, column 9: bay.width: found -5; allowed: a length above zero, at most 30 m"
    )


CASES = {
    "missing title": ("[job]\n" + BAY, "job.title", 1, ""),
    "missing bay": (HEAD, "bay", 0, ""),
    "no height": (HEAD + "[bay]\nlength = 9\nwidth = 9\n", "bay", 3, ""),
    "text for a number": (MINIMAL + 'cove = "round"\n', "bay.cove", 7, ""),
    "number for a text": (MINIMAL.replace('"x"', "5"), "job.title", 2, ""),
    "misspelt value": (MINIMAL + 'kind = "tubb"\n', "bay.kind", 7, "tub"),
    "misspelt key": (MINIMAL + "[build]\nfront_gpa = 3\n", "build.front_gpa", 8, "front_gap"),
    "misspelt table": (MINIMAL + "[biuld]\nfront_gap = 3\n", "biuld", 7, "build"),
    "misspelt in a list": (
        MINIMAL + 'belts = [{what = "b", surfase = "floor", x = 1, y = 2}]\n',
        "bay.belts[1].surfase",
        7,
        "surface",
    ),
    "wrong table": (MINIMAL + "front_gap = 3\n", "bay.front_gap", 7, "build.front_gap"),
    "wrong table, sub-table": (
        MINIMAL + "[bay.tailgate]\nlength = 520\ncove = 20\n",
        "bay.tailgate.cove",
        9,
        "bay.cove",
    ),
    "deck key in a block": (MINIMAL + "[[block]]\nover = ['a']\n", "block[1].over", 8, "deck.over"),
    "table for a list": (MINIMAL + "[block]\nname = 'a'\n", "block", 7, ""),
    "list for a table": (MINIMAL + "[[build]]\nlap = 3\n", "build", 7, ""),
    "unbuilt face": (MINIMAL + "[[block]]\nface = 'top'\n", "block[1].face", 8, ""),
    "1e9 mm": (MINIMAL.replace("1494", "1e9"), "bay.length", 4, ""),
    "infinite": (MINIMAL.replace("1494", "inf"), "bay.length", 4, ""),
    "huge integer": (MINIMAL.replace("1494", "9" * 400), "bay.length", 4, ""),
    "zero": (MINIMAL.replace("1494", "0"), "bay.length", 4, ""),
    "true as a length": (MINIMAL.replace("1494", "true"), "bay.length", 4, ""),
    "a date as a length": (MINIMAL.replace("1494", "1979-05-27"), "bay.length", 4, ""),
    "reversed range": (
        MINIMAL + "keep_out = [{what='a', x=[90, 0], y=[0, 9], z=[0, 9]}]\n",
        "bay.keep_out[1].x",
        7,
        "",
    ),
    "three diagonals": (MINIMAL + "diagonals = [1, 2, 3]\n", "bay.diagonals", 7, ""),
    "a diagonal shorter than the bay": (
        MINIMAL + "diagonals = [1400, 2041]\n",
        "bay.diagonals",
        7,
        "",
    ),
    "a diagonal longer than both sides": (
        MINIMAL + "diagonals = [2041, 2900]\n",
        "bay.diagonals",
        7,
        "",
    ),
    "arches without end": (
        MINIMAL + "arches = [" + "{side='left', start=1, end=2, height=9, reach=9}," * 300 + "]\n",
        "bay.arches",
        7,
        "",
    ),
    "a deck under the floor": (MINIMAL + "[[deck]]\nbelow_rail=486\n", "deck[1].below_rail", 8, ""),
    "a deck above the roof": (
        MINIMAL + "clear_height=900\n[[deck]]\ntop=900\n",
        "deck[1].top",
        9,
        "",
    ),
    "rail above the roof": (MINIMAL + "clear_height = 400\n", "bay.rail", 6, ""),
    "arch longer than the bay": (
        MINIMAL + "arches = [{side='left', start=0, end=1600, height=200, reach=99}]\n",
        "bay.arches[1]",
        7,
        "",
    ),
    "arch outside": (
        MINIMAL + "arches = [{side='left', start=1000, end=1600, height=200, reach=99}]\n",
        "bay.arches[1].end",
        7,
        "",
    ),
    "arch reversed": (
        MINIMAL + "arches = [{side='left', start=900, end=300, height=200, reach=99}]\n",
        "bay.arches[1].end",
        7,
        "",
    ),
    "arches that meet": (
        MINIMAL
        + "arches = [{side='left', start=300, end=900, height=200, reach=700},\n"
        + "{side='right', start=500, end=1100, height=200, reach=692}]\n",
        "bay.arches[2].reach",
        8,
        "",
    ),
    "arches one in another": (
        MINIMAL
        + "arches = [{side='left', start=300, end=900, height=200, reach=99},\n"
        + "{side='left', start=890, end=1100, height=200, reach=99}]\n",
        "bay.arches[2]",
        8,
        "",
    ),
    "station outside": (
        MINIMAL + "widths = [{at=1600, height=0, width=1390}]\n",
        "bay.widths[1].at",
        7,
        "",
    ),
    "station before the tail": (
        MINIMAL + "widths = [{at=-50, height=0, width=1390}]\n",
        "bay.widths[1].at",
        7,
        "",
    ),
    "station above the roof": (
        MINIMAL + "clear_height = 900\nlengths = [{height=1000, length=1490}]\n",
        "bay.lengths[1].height",
        8,
        "",
    ),
    "half a width": (MINIMAL + "widths = [{at=0, left=600}]\n", "bay.widths[1]", 7, ""),
    "no width of a door": (MINIMAL + "[[bay.opening]]\nheight=9\n", "bay.opening[1].width", 7, ""),
    "door outside": (
        MINIMAL + "[[bay.opening]]\nface='left'\nat=1600\nwidth=600\n",
        "bay.opening[1].at",
        9,
        "",
    ),
    "no drill along the wrong axis": (
        MINIMAL + "no_drill = [{surface='floor', x=[0, 9], z=[0, 9]}]\n",
        "bay.no_drill[1].z",
        7,
        "",
    ),
    "an anchor nowhere": (MINIMAL + "anchors = [{x=9}]\n", "bay.anchors[1].y", 7, ""),
    "beside nothing": (
        MINIMAL + "[[block]]\nname='left'\n[[block]]\nname='rite'\nbeside='lefd'\n",
        "block[2].beside",
        11,
        "left",
    ),
    "beside itself": (MINIMAL + "[[block]]\nname='a'\nbeside='a'\n", "block[1].beside", 9, ""),
    "in a circle": (
        MINIMAL + "[[block]]\nname='a'\nbeside='b'\n[[block]]\nname='b'\nbeside='a'\n",
        "block[1].beside",
        9,
        "",
    ),
    "an opening twice": (
        MINIMAL + "[[block]]\ncolumns = [{stack=[{name='a'}]}, {stack=[{name='a'}]}]\n",
        "block[1].columns[2].stack[1].name",
        8,
        "",
    ),
    "range outside": (MINIMAL + "[[block]]\nx=[1500, 1600]\n", "block[1].x", 8, ""),
    "two heights of a deck": (MINIMAL + "[[deck]]\nbelow_rail=45\ntop=430\n", "deck[1].top", 9, ""),
    "below no rail": (
        MINIMAL.replace("rail", "clear_height") + "[[deck]]\nbelow_rail=45\n",
        "deck[1].below_rail",
        8,
        "",
    ),
    "least above the fixed": (
        MINIMAL + "[[block]]\ncolumns=[{width=300, least=400}]\n",
        "block[1].columns[1].least",
        8,
        "",
    ),
    "no rules of that name": (
        MINIMAL.replace('"x"', '"x"\nrules="vdi-200"'),
        "job.rules",
        3,
        "vdi-2000",
    ),
    "an unknown reading": (
        MINIMAL + "[[reading]]\nof={opening='drawer 1', what='widht'}\nvalues=[1]\n",
        "reading[1].of.what",
        8,
        "width",
    ),
    "a reading of a block": (
        MINIMAL + "[[reading]]\nof={block='drawers', what='between-runners'}\nvalues=[1]\n",
        "reading[1].of.what",
        8,
        "",
    ),
    "four readings": (
        MINIMAL + "[[reading]]\nof={opening='drawer 1', what='width'}\nvalues=[1,2,3,4]\n",
        "reading[1].values",
        9,
        "",
    ),
    "one diagonal": (
        MINIMAL + "[[reading]]\nof={block='drawers', what='diagonals'}\nvalues=[1]\n",
        "reading[1].values",
        9,
        "",
    ),
    "a defect off its sheet": (
        MINIMAL + "[[sheet]]\nmaterial='ply-15'\nsize=[900, 600]\ndefects=[[850, 0, 80, 60]]\n",
        "sheet[1].defects[1]",
        10,
        "",
    ),
    "a dot in a material": (
        MINIMAL + "[build]\nmeasured_thickness = {ply-6.5 = [6.4]}\n",
        "build.measured_thickness.ply-6",
        8,
        "",
    ),
    "a mass of gold": (
        MINIMAL + "[[carry]]\nwhat='a'\nsize=[1,2,3]\nmass=-1\n",
        "carry[1].mass",
        10,
        "",
    ),
    "half a thing": (
        MINIMAL + "[[carry]]\nwhat='a'\nsize=[1,2,3]\nmass=1\nquantity=1.5\n",
        "carry[1].quantity",
        11,
        "",
    ),
    "two places for one thing": (
        MINIMAL + "[[carry]]\nwhat='a'\nsize=[1,2,3]\nmass=1\non='deck'\ngoes_in='drawer 1'\n",
        "carry[1].on",
        11,
        "",
    ),
    "on a deck that is not there": (
        MINIMAL + "[[carry]]\nwhat='a'\nsize=[1,2,3]\nmass=1\non='dek'\n[[deck]]\ntop=400\n",
        "carry[1].on",
        11,
        "deck",
    ),
    "a strap without a deck": (
        MINIMAL + "[[carry]]\nwhat='a'\nsize=[1,2,3]\nmass=1\nlash={count=4, to='unit'}\n",
        "carry[1].lash",
        11,
        "",
    ),
    "a strap to nothing that is known": (
        MINIMAL
        + "[[carry]]\nwhat='a'\nsize=[1,2,3]\nmass=1\non='deck'\nlash={count=4, to='untit'}\n"
        + "[[deck]]\ntop=400\n",
        "carry[1].lash.to",
        12,
        "unit",
    ),
    "a strap without a number": (
        MINIMAL
        + "[[carry]]\nwhat='a'\nsize=[1,2,3]\nmass=1\non='deck'\nlash={to='unit'}\n"
        + "[[deck]]\ntop=400\n",
        "carry[1].lash.count",
        12,
        "",
    ),
    "a place of one length": (
        MINIMAL + "[[carry]]\nwhat='a'\nsize=[1,2,3]\nmass=1\non='deck'\nat=[5]\n"
        "[[deck]]\ntop=400\n",
        "carry[1].at",
        12,
        "",
    ),
    "no latch at all": (
        MINIMAL + "[[block]]\ncolumns=[{stack=[{latch=false}]}]\n",
        "block[1].columns[1].stack[1].latch",
        8,
        "",
    ),
    "newer format": ("format = 2\n" + MINIMAL + "[future]\n", "format", 1, ""),
    "no format": ('format = "1"\n' + MINIMAL, "format", 1, ""),
}


@pytest.mark.parametrize(("text", "field", "line", "nearest"), CASES.values(), ids=CASES)
def test_one_mistake_is_one_line_at_its_place(text, field, line, nearest):
    mistake = only(text)
    assert (mistake.field, mistake.line, mistake.nearest) == (field, line, nearest)
    assert mistake.found
    assert mistake.allowed
    assert len(str(mistake)) < 600  # [build] has forty keys
    if line:
        assert mistake.column >= 1


def test_columns_point_at_the_value_or_at_the_key_that_is_to_blame():
    assert only(MINIMAL + "cove   =  -3\n").column == 11
    assert only(MINIMAL + "[build]\n  gap = 3\n").column == 3
    nested = "[[block]]\ncolumns = [ {stack = [ {fil = 'drawer'} ]} ]\n"
    assert only(MINIMAL + nested).column == 25


def test_places_in_a_list_hold_when_one_of_its_entries_is_refused():
    found = mistakes(
        MINIMAL + "belts = [5, {x = 1, surfase = 'floor'}]\n"
        "lengths = [{length = 0}, 7, {lenght = 1490}, {length = 1490, y = 'left'}]\n"
        "diagonals = [1, 'two']\n"
    )
    assert [m.field for m in found] == [
        "bay.belts[1]",
        "bay.belts[2].y",
        "bay.belts[2].surfase",
        "bay.lengths[1].length",
        "bay.lengths[2]",
        "bay.lengths[3].lenght",
        "bay.lengths[4].y",
        "bay.diagonals",
    ]


def test_a_key_in_the_wrong_table_is_told_its_home():
    mistake = only(MINIMAL + "[bay.tailgate]\nlength = 520\nclear_height = 900\n")
    assert "clear_height belongs to [bay]" in mistake.allowed
    assert "plain keys of a table stand before its sub-tables" in mistake.allowed
    assert "[[deck]]" in only(MINIMAL + "[build]\noverhang = 3\n").allowed


def test_a_slip_in_a_key_is_not_told_twice_as_a_missing_one():
    assert only(MINIMAL.replace("length", "lenght")).nearest == "length"
    assert only(MINIMAL.replace("rail = 486", "clear_heigth = 900")).nearest == "clear_height"


def test_more_things_than_can_be_packed_are_one_mistake():
    one = '[[carry]]\nwhat = "tin"\nsize = [60, 50, 40]\nmass = 0.2\nquantity = {}\n'
    mistake = only(MINIMAL + one.format(1000) + one.format(1))
    assert (mistake.field, mistake.found) == ("carry", "1001 things")
    assert "at most 1000" in mistake.allowed


def test_a_number_for_a_table_is_told_the_keys_and_no_reading_how_many():
    done = MINIMAL + '[[done]]\nstage = "cut"\nparts = '
    assert only(done + "3\n").allowed == "a list of tables { mark = …, size = … }"
    assert only(done + "[3]\n").allowed == "a table { mark = …, size = … }"
    reading = '[[block]]\nname = "a"\n[[reading]]\nof = {block = "a", what = "width"}\nvalues = '
    for values in ("[]", "[1, 2, 3, 4]"):
        assert "one to three" in only(MINIMAL + reading + values + "\n").allowed


SYNTAX = {
    "no value": ("[job]\ntitle =\n", 2),
    "a bare fraction": (HEAD + "[bay]\nlength = 47 1/16 in\n", 4),
    "open text": ('[job]\ntitle = "x\n', 2),
    "a key twice": (MINIMAL + "rail = 3\n", 7),
    "a table twice": (MINIMAL + "[job]\n", 7),
    "lines in a { }": (HEAD + "[bay]\nfloor = {rib_depth = 3,\nthickness = 1}\n", 4),
    "ends in the middle": ("[job]\na = [1,", 2),
    "a number too long": (MINIMAL + "cove = " + "9" * 5000 + "\n", 0),
}


@pytest.mark.parametrize(("text", "line"), SYNTAX.values(), ids=SYNTAX)
def test_a_slip_in_the_writing_is_one_clear_line(text, line):
    mistake = only(text)
    assert mistake.field == "file"
    assert "\n" not in str(mistake)
    if line:
        assert mistake.line == line


def test_a_bare_fraction_gets_the_hint_that_it_wants_quotes():
    assert 'in quotes: "47 1/16 in"' in only(HEAD + "[bay]\nlength = 47 1/16 in\n").allowed
    assert 'in quotes: "47 1/16 in"' in only(HEAD + "[bay]\nlength = 1195 mm\n").allowed


JUNK = {
    "ten megabytes": b"a = 1\n" * 1_700_000,
    "zeros": b"\0" * 1000,
    "zero in a text": b'a = "\0"',
    "not utf-8": b"[job]\ntitle = \xff\xfe\n",
    "utf-16": MINIMAL.encode("utf-16"),
    "an archive's first bytes": b"PK\x03\x04\x14\x00\x08\x08",
    "deep lists": b"a = " + b"[" * 100_000,
    "deep tables": b"a = " + b"{b = " * 100_000,
    "deep keys": b".".join([b"a"] * 200_000) + b" = 1",
    "deep headers": b"[" + b".".join([b"a"] * 200_000) + b"]",
    "a deep value": b"a = " + b"[" * 40 + b"]" * 40,
    "many entries": b"a = [" + b"1," * 100_000 + b"]",
    "many lists of tables": b"[[block]]\n" * 60_000,
}


@pytest.mark.parametrize("data", JUNK.values(), ids=JUNK)
def test_what_is_no_job_is_refused_in_one_line(data):
    (mistake,) = mistakes(data)
    assert "\n" not in str(mistake)
    assert len(str(mistake)) < 400


@settings(max_examples=150, deadline=None)
@given(data=st.one_of(st.binary(max_size=60), st.text(max_size=60)))
def test_any_bytes_are_read_or_refused_and_never_crash(data):
    with pytest.raises(JobError):
        read_job(data)


VALUES = st.recursive(
    st.one_of(
        st.sampled_from(["1", "-1", "nan", "inf", "1e300", "true", '"share"', '"1/0"', "07:32:00"]),
        st.sampled_from(['"a"', "'left'", "[]", "{}", "1979-05-27", "0.5", '"47 1/16 in"']),
    ),
    lambda inner: st.lists(inner, max_size=3).map(lambda each: f"[{', '.join(each)}]"),
    max_leaves=4,
)
PATHS = """
    format job.title job.units bay.length bay.widths bay.arches bay.opening bay.floor bay.diagonals
    bay.keep_out bay.anchors bay.tailgate.hinge bay.no_drill bay.people_space block deck.over
    build.lining build.packers build.handle build.measured_thickness sheet done reading carry
    build.measured_thickness.ply-15 vehicle vehicle.people vehicle.weighed vehicle.limits.total
"""
KEYS = st.sampled_from(PATHS.split())


@settings(max_examples=150, deadline=None)
@given(lines=st.dictionaries(KEYS, VALUES, max_size=5))
def test_any_value_under_any_key_is_read_or_refused_and_never_crashes(lines):
    text = "\n".join(f"{key} = {value}" for key, value in lines.items())
    with pytest.raises(JobError) as caught:
        read_job(text)
    for mistake in caught.value.mistakes:
        assert "\n" not in str(mistake)
