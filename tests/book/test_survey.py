"""The survey form: every reading on the drawing once, every field one of the job file's."""

import io

import pytest
from pypdf import PdfReader

from stowright.book.bay_table import bay_rows
from stowright.book.survey import make_survey, survey_rows
from stowright.drawings.overlap import overlaps
from stowright.drawings.scene import Balloon
from stowright.drawings.survey_fields import KINDS, survey_fields
from stowright.drawings.survey_form import survey_figure
from stowright.jobfile import job_schema
from stowright.units import format_length


@pytest.mark.parametrize("kind", KINDS)
def test_every_reading_is_an_arrow_on_the_drawing(kind):
    scene = survey_figure(kind)
    shown = [item.text for item in scene.items if isinstance(item, Balloon)]
    assert sorted(shown) == sorted(row[0] for row in survey_rows(kind))
    assert overlaps(scene) == []
    assert scene.width <= 178.0, "it has to go between a page's margins"


@pytest.mark.parametrize("kind", KINDS)
def test_every_field_is_one_of_the_job_file(kind):
    schema = job_schema()
    text = str(schema)
    for field in survey_fields(kind):
        for word in field.field.split(",")[0].split("."):
            assert f"'{word}'" in text, word


def test_a_number_means_the_same_field_on_every_form():
    names = {}
    for kind in KINDS:
        for field in survey_fields(kind):
            assert names.setdefault(field.number, field.field) == field.field


@pytest.mark.parametrize("kind", KINDS)
def test_the_form_prints_with_all_its_fields(kind):
    pages = PdfReader(io.BytesIO(make_survey(kind, paper="letter", units="in"))).pages
    text = "\n".join(page.extract_text() for page in pages)
    assert float(pages[0].mediabox.width) == pytest.approx(612.0, abs=0.1)  # US Letter
    for label, field, _, _ in survey_rows(kind):
        assert label in text
        assert field.split(",")[0] in text


def test_the_measure_first_page_shows_what_was_read(pickup):
    rows = bay_rows(pickup.job.bay, lambda mm: format_length(mm, "mm"))
    said = {row[1]: row for row in rows}
    assert said["bay.length"][0] == "1"
    assert said["bay.length"][3] == "1510"
    assert said["bay.diagonals"][3] == "2062, 2057"
    assert said["bay.between[1]"][0] == "4"
    assert all(row[0] for row in rows if not row[1].startswith("bay.keep_out"))
    numbers = {row[2].split()[0]: row[0] for row in rows if row[1].startswith("bay.arches")}
    assert numbers == {"left": "7", "right": "8"}  # as the drawing and the blank form number them
    told = [int(row[0]) for row in rows if row[0]]
    assert told == sorted(told)
