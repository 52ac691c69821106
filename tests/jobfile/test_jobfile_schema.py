"""The published schema and the starters, held against jsonschema and tomllib."""

import json
import re
import tomllib
from pathlib import Path

import jsonschema
import pytest
from hypothesis import given, settings
from strategies import job_texts

from stowright.errors import JobError, UnknownNameError
from stowright.jobfile import (
    STARTER_KINDS,
    dump_job,
    job_schema,
    read_job,
    starter,
    starter_answers,
)
from stowright.jobfile.flaws import Flaws, shaped
from stowright.jobfile.keys import walk
from stowright.units import parse_length

VALIDATOR = jsonschema.Draft202012Validator(job_schema())
EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*/job.toml"))


def complaints(text):
    return [error.message for error in VALIDATOR.iter_errors(tomllib.loads(text))]


def test_the_schema_is_a_valid_one_and_plain_json():
    jsonschema.Draft202012Validator.check_schema(job_schema())
    assert json.loads(json.dumps(job_schema())) == job_schema()
    assert job_schema() == job_schema()


def test_every_key_is_described_and_nothing_of_the_inside_shows():
    text = json.dumps(job_schema())
    assert "x-stowright" not in text
    assert '"null"' not in text
    for name, table in job_schema()["$defs"].items():
        for key, field in table.get("properties", {}).items():
            assert field.get("description"), f"{name}.{key}"


def test_the_descriptions_tell_the_defaults_that_are_taken():
    job = read_job(
        '[job]\ntitle = "x"\n[bay]\nlength = 1494\nwidth = 1392\nrail = 486\n'
        "[[block]]\n[[deck]]\n[[carry]]\nwhat = 'a'\nsize = [1, 2, 3]\nmass = 1\n"
        "[vehicle]\n[bay.people_space]\n[bay.tailgate]\n[bay.floor]\n"
    )
    shape = shaped(
        {"job": {}, "bay": {"people_space": {}, "tailgate": {}, "floor": {}}, "block": [{}],
         "deck": [{}], "carry": [{}], "vehicle": {}, "build": {"packers": {}, "lining": {},
         "handle": {}}}, "mm", Flaws(),
    )  # fmt: skip
    tables = {
        ".".join(part for part in path if isinstance(part, str)): type(table)
        for path, table in walk(shape)
    }
    told_in_words = {"name", "columns", "over"}
    looked_at = 0
    for row in job.assumed:
        table, _, key = row.field.replace("[1]", "").rpartition(".")
        if table in tables and key not in told_in_words:
            told = tables[table].model_fields[key].description.partition("Default")[2]
            word = {"0 mm": "0"}.get(row.value, row.value)
            assert re.search(rf"\b{word}\b", told), f"{row} is told as {told}"
            looked_at += 1
    assert looked_at > 50


@pytest.mark.parametrize("kind", STARTER_KINDS)
@pytest.mark.parametrize("units", ["mm", "in"])
def test_every_starter_is_valid_and_reads_as_the_same_vehicle(kind, units):
    text = starter(kind, units=units)
    assert complaints(text) == []
    job = read_job(text)
    assert (job.units, job.bay.kind) == (units, kind)
    assert job.blocks
    assert text.count("#") > 15
    metric = read_job(starter(kind))
    # an inch starter is rounded to 1/16 in: half of that is 0.8 mm
    assert job.bay.length == pytest.approx(metric.bay.length, abs=0.8)
    assert max(map(len, text.split("\n"))) <= 120


@pytest.mark.parametrize("kind", STARTER_KINDS)
@pytest.mark.parametrize("units", ["mm", "in"])
def test_answers_go_in_and_the_other_readings_follow(kind, units):
    height = "rail" if kind == "tub" else "clear_height"
    given = {"title": 'A "new" one', "length": "1.3 m", "width": "1250 mm", height: "500 mm"}
    job = read_job(starter(kind, units=units, answers=given))
    assert job.title == 'A "new" one'
    for name in ("length", "width", height):
        # written to 1/16 in in an inch job
        assert getattr(job.bay, name) == pytest.approx(
            parse_length(given[name], units="mm"), abs=0.0 if units == "mm" else 0.8
        )
    assert all(arch.end < 1300 for arch in job.bay.arches)


@pytest.mark.parametrize("kind", STARTER_KINDS)
def test_every_answer_that_is_offered_is_taken(kind):
    for name in starter_answers(kind):
        plain = starter(kind)
        value = "y" if name in ("title", "client") else {"rail": 480}.get(name)
        if value is None:
            continue
        assert starter(kind, answers={name: value}) != plain


def test_what_has_no_starter_or_no_place_in_it_is_refused():
    with pytest.raises(UnknownNameError, match="starter"):
        starter("boat")
    with pytest.raises(UnknownNameError, match="length"):
        starter("tub", answers={"lenght": 3})
    with pytest.raises(JobError, match="length"):
        starter("tub", answers={"length": "long"})
    with pytest.raises(JobError):
        starter("tub", answers={"length": -5})


@pytest.mark.parametrize("file", EXAMPLES, ids=[file.parent.name for file in EXAMPLES])
def test_the_examples_are_valid(file):
    assert complaints(file.read_text(encoding="utf-8")) == []


@settings(max_examples=40, deadline=None)
@given(text=job_texts())
def test_what_reads_is_valid_and_so_is_its_full_form(text):
    assert complaints(text) == []
    assert complaints(dump_job(read_job(text))) == []


BROKEN = {
    "an unknown key": "[job]\ntitle = 'x'\n[bay]\nlength = 1\nwidth = 1\nrial = 3\n",
    "no bay": "[job]\ntitle = 'x'\n",
    "no width": "[job]\ntitle = 'x'\n[bay]\nlength = 1\nrail = 3\n",
    "a negative length": "[job]\ntitle = 'x'\n[bay]\nlength = -1\nwidth = 1\nrail = 3\n",
    "a wrong word": "[job]\ntitle = 'x'\n[bay]\nlength = 1\nwidth = 1\nrail = 3\nkind = 'boat'\n",
}


@pytest.mark.parametrize("text", BROKEN.values(), ids=BROKEN)
def test_what_is_refused_on_reading_is_refused_by_the_schema(text):
    assert complaints(text)
    with pytest.raises(JobError):
        read_job(text)
