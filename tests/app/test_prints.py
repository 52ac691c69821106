"""What a folder gets: every print and drawing, router files for a routed job, labels alone."""

import io
from dataclasses import replace
from pathlib import Path

import ezdxf
import pytest
from pypdf import PdfReader

from stowright.app.cnc_files import cnc_files, cutter_of
from stowright.app.drawing_files import drawing_files
from stowright.app.outputs import OutputOptions, rendered, write_book
from stowright.app.planning import plan
from stowright.jobfile import read_job

WAGON = Path(__file__).parents[2] / "examples" / "wagon" / "job.toml"


@pytest.fixture(scope="module")
def wagon():
    return plan(read_job(WAGON.read_text(encoding="utf-8")))


@pytest.fixture(scope="module")
def routed(wagon):
    """The same unit, its sheets taken as routed: the layouts themselves are not looked at here."""
    return replace(wagon, cutting=replace(wagon.cutting, method="cnc"))


@pytest.fixture(scope="module")
def files(wagon):
    return rendered(wagon, OutputOptions(cards=True, revision="B"))


def test_every_print_is_a_pdf_of_its_own(files, wagon):
    for name in ("book.pdf", "labels.pdf", "survey.pdf", "rods.pdf", "cards.pdf"):
        assert len(PdfReader(io.BytesIO(files[name])).pages) > 0, name
    assert "revision B" in PdfReader(io.BytesIO(files["book.pdf"])).pages[0].extract_text()
    assert len(PdfReader(io.BytesIO(files["cards.pdf"])).pages) >= len(wagon.making.steps)


def test_every_drawing_there_should_be_is_there(files, wagon):
    for stem in (
        "drawings/assembled",
        "drawings/general-arrangement-boot",
        "drawings/detail-joint",
        "drawings/runners-tackle",
        *(f"drawings/part-{part.mark}" for part in wagon.design.parts),
    ):
        assert f"{stem}.svg" in files
        assert f"{stem}.dxf" in files
    assert not any(name.startswith("cnc/") for name in files)


def test_the_arrangement_stands_on_the_larger_sheet(files, wagon):
    """ISO 216 A3 is 420 x 297 mm; ANSI Y14.1 B is 17 x 11 in."""
    letter = drawing_files(wagon, paper="letter", ink="black", projection="third")
    for made, size in ((files, "420mm"), (letter, "431.8mm")):
        text = made["drawings/general-arrangement-boot.svg"].decode()
        assert f'width="{size}"' in text
        assert "general arrangement" in text


def test_a_print_alone_is_written_alone(wagon, tmp_path):
    path = write_book(wagon, tmp_path, OutputOptions(labels="60x35"), "labels")
    assert path.name == "labels.pdf"
    assert [p.name for p in tmp_path.iterdir() if p.suffix] == ["labels.pdf"]


def test_a_routed_job_has_a_file_for_each_part(routed):
    files = cnc_files(routed)
    assert set(files) == {f"cnc/part-{part.mark}.dxf" for part in routed.design.parts}
    assert cutter_of(routed) > 0.0
    for data in list(files.values())[:6]:
        document = ezdxf.read(io.StringIO(data.decode()))
        assert document.audit().errors == []
        layers = {entity.dxf.layer for entity in document.modelspace()}
        assert "cut outside, through" in layers
        assert "origin and notes, not cut" in layers
        texts = [e.dxf.text for e in document.modelspace() if e.dxftype() == "TEXT"]
        assert any("relieved for a cutter" in text for text in texts)
        outlines = [
            e
            for e in document.modelspace()
            if e.dxftype() == "LWPOLYLINE" and e.dxf.layer == "cut outside, through"
        ]
        assert outlines
        assert all(outline.closed for outline in outlines)
