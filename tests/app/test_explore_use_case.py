"""Exploring and changing one number: files written, jobs that plan, where a proof flips."""

import csv
import io
import json
import signal
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner
from pypdf import PdfReader

sys.path.append(str(Path(__file__).parents[1] / "explore"))
from small_bays import WAGON

from stowright.app.exploring import explore_job, first_cut
from stowright.app.loading import load_catalogue, load_job
from stowright.app.planning import design_job
from stowright.app.what_if import what_if, with_value
from stowright.app.what_if_files import values_of, write_what_if
from stowright.cli.main import cli
from stowright.errors import JobError, StoppedError
from stowright.proofs import prove

SHELF = load_catalogue()
FEW = ["--quick", "60", "--whole", "6", "--keep", "3", "--workers", "1"]


@pytest.fixture(scope="module")
def written(tmp_path_factory):
    folder = tmp_path_factory.mktemp("explore")
    (folder / "job.toml").write_text(WAGON, encoding="utf-8")
    result = CliRunner().invoke(
        cli, ["explore", str(folder / "job.toml"), "--out", str(folder / "out"), *FEW]
    )
    assert result.exit_code == 0, result.output
    return folder / "out", result.output


def test_the_sheet_names_every_design_with_its_file(written):
    folder, output = written
    data = json.loads((folder / "explore.json").read_text(encoding="utf-8"))
    assert data["kept"]
    page = (folder / "comparison.html").read_text(encoding="utf-8")
    pdf = " ".join(p.extract_text() for p in PdfReader(folder / "comparison.pdf").pages)
    told = " ".join(pdf.split())
    for row in data["kept"]:
        assert row["name"] in page
        assert row["name"] in told
        assert row["file"] in page
        assert (folder / row["file"]).is_file()
        assert row["name"] in " ".join(output.split())
    assert page.count("<svg") == len(data["kept"])
    assert "http://" not in page.replace("http://www.w3.org", "")
    assert "of a first layout" in page
    assert "of a first layout" in told


def test_each_candidate_is_a_job_with_the_numbers_of_the_sheet(written):
    """Designed, packed and proved as a plan does it, it serves and comes to every number told."""
    folder, _ = written
    data = json.loads((folder / "explore.json").read_text(encoding="utf-8"))
    for row in data["kept"]:
        job = load_job(folder / row["file"], catalogue=SHELF)
        design = design_job(job, catalogue=SHELF)
        assert design.empty_kg == pytest.approx(row["measures"]["mass_kg"], abs=1e-6)
        findings = prove(design, SHELF, advise=False)
        assert row["serves"] == all(found.status != "fail" for found in findings)
        assert row["warnings"] == sum(found.status == "warn" for found in findings)
        worst = max(f.utilisation or 0.0 for f in findings if f.kind == "ratio")
        assert row["measures"]["worst_use"] == pytest.approx(worst, abs=1e-9)
        assert row["measures"]["cuts"] == first_cut(design, SHELF).saw_lines


def test_ctrl_c_ends_the_search_with_the_best_so_far(tmp_path, monkeypatch):
    (tmp_path / "job.toml").write_text(WAGON, encoding="utf-8")

    def pressed(job, *, should_stop, **options):
        assert not should_stop()
        signal.raise_signal(signal.SIGINT)
        assert should_stop()
        with pytest.raises(KeyboardInterrupt):
            signal.raise_signal(signal.SIGINT)
        return explore_job(job, should_stop=should_stop, **options)

    monkeypatch.setattr("stowright.cli.exploring.explore_job", pressed)
    words = ["explore", str(tmp_path / "job.toml"), "--out", str(tmp_path / "out"), *FEW]
    result = CliRunner().invoke(cli, words)
    assert result.exit_code == 0, result.output
    assert "stopped before its end" in " ".join(result.output.split())
    assert (tmp_path / "out" / "comparison.pdf").is_file()


def test_json_on_the_terminal_is_data(tmp_path):
    (tmp_path / "job.toml").write_text(WAGON, encoding="utf-8")
    words = ["explore", str(tmp_path / "job.toml"), "--json", "--quick", "30", "--whole", "2"]
    result = CliRunner().invoke(cli, [*words, "--workers", "1"])
    data = json.loads(result.stdout)
    assert data["judged"] == {"quick": 30, "whole": 2, "serving": data["judged"]["serving"]}


def test_values_are_read_as_a_range_or_a_list():
    assert values_of("bay.width=10..20:5") == ("bay.width", (10.0, 15.0, 20.0))
    assert len(values_of("bay.width=10..20")[1]) == 11
    assert values_of("build.runner=auto,x") == ("build.runner", ("auto", "x"))
    assert values_of("a.b=[1, 2],{x = [3, 4]},true,birch-15,'a,b'")[1] == (
        "[1, 2]",
        "{x = [3, 4]}",
        "true",
        "birch-15",
        "'a,b'",
    )
    assert values_of("bay.width=47 1/16..48 1/16:1/2", units="in")[1] == (47.0625, 47.5625, 48.0625)
    assert values_of("bay.width=1 in,30 mm") == ("bay.width", (25.4, 30.0))
    for wrong in ("bay.width", "=3", "bay.width=", "bay.width=9..1:2", "bay.width=1..2:0"):
        with pytest.raises(JobError):
            values_of(wrong)


STATIONS = "widths = [{at = 0, width = 1040}, {at = 900, left = 510, right = 512}]"
VEHICLE = """
[vehicle]
wheelbase = 2600
rear_axle_x = 500
weighed = {front_axle = 800, rear_axle = 600}
limits = {front_axle = 3000, rear_axle = 900}
"""


def test_a_wider_bay_moves_every_station():
    job = load_job(WAGON.replace("width = 1040", f"width = 1040\n{STATIONS}", 1))
    wider = with_value(job, "bay.width", 1060.0)
    assert [s.width for s in wider.bay.widths] == [1060.0, 1042.0]
    assert wider.bay.widths[1].left == 520.0


def test_a_field_is_changed_as_in_the_job_file():
    job = load_job(WAGON)
    assert with_value(job, "carry[1].mass", 12.0).carry[0].mass == 12.0
    assert with_value(job, "build.carcass", "birch-12").blocks[0].build.carcass == "birch-12"
    thick = with_value(job, "build.measured_thickness.birch-15", 14.6)
    assert ("birch-15", (14.6,)) in thick.measured_thickness
    with pytest.raises(JobError) as told:
        with_value(job, "build.no_such_key", 1.0)
    assert [mistake.line for mistake in told.value.mistakes] == [0]  # no line of a rewritten text


def test_lists_tables_and_truths_are_values_too():
    job = load_job(WAGON)
    assert with_value(job, "carry[1].size", "[400, 300, 120]").carry[0].size == (400, 300, 120)
    assert with_value(job, "carry[1].keep_upright", "true").carry[0].keep_upright
    box = with_value(job, "bay.keep_out", '[{what = "lamp", x = [0, 90], y = [300, 500]}]')
    assert box.bay.keep_out[0].what == "lamp"
    assert with_value(job, "build.packers", '{how = "none"}').blocks[0].build.packers.how == "none"
    with pytest.raises(JobError, match="TOML"):
        with_value(job, "carry[1].size", "[400, 300")


def test_a_number_of_things_flips_between_whole_numbers():
    job = load_job(WAGON)
    found = what_if(job, "carry[1].quantity", (1.0, 4.0), catalogue=SHELF)
    flip = next(f for f in found.flips if f.proof == "STOWED:carry")
    assert flip.fails == flip.holds + 1.0
    assert flip.told == "Everything on the carry list has a place (STOWED:carry)"


@pytest.fixture(scope="module")
def limited():
    job = load_job(WAGON + VEHICLE)
    return what_if(job, "vehicle.limits.rear_axle", (600.0, 900.0), catalogue=SHELF)


def test_a_limit_flips_where_what_is_on_the_axle_says(limited):
    """The limit less the margin that is left is what stands on the axle: there it flips."""
    flip = next(f for f in limited.flips if f.proof == "VEHICLE-REAR")
    on_it = 900.0 - limited.points[1].measures.axle_margin_kg
    assert flip.fails < on_it <= flip.holds
    assert flip.holds - flip.fails <= 300.0 / 2**7 + 1e-3  # halved seven times


def test_curves_are_written(limited, tmp_path):
    files = write_what_if(limited, tmp_path)
    assert [f.name for f in files] == ["what-if.html", "what-if.csv", "what-if.json"]
    rows = list(csv.reader(io.StringIO(files[1].read_text(encoding="utf-8"))))
    assert rows[0][0] == "vehicle.limits.rear_axle"
    assert [row[0] for row in rows[1:]] == ["600", "900"]
    page = files[0].read_text(encoding="utf-8")
    assert "VEHICLE-REAR" in page
    chart = next(f for f in page.split("</figure>") if "Most used part of its strength (%)" in f)
    shares = [100.0 * point.measures.worst_use for point in limited.points]
    assert f">{min(shares):.4g}<" in chart
    assert "of a first layout" in page


def test_a_change_can_be_stopped():
    with pytest.raises(StoppedError):
        what_if(load_job(WAGON), "bay.width", (1040.0,), catalogue=SHELF, should_stop=lambda: True)


def test_a_change_is_told_on_a_terminal_and_every_design_is_laid_out(tmp_path):
    """From the command to the files; a step that fails has sheets and saw lines like the others."""
    job = tmp_path / "job.toml"
    job.write_text(WAGON, encoding="utf-8")
    change = "carry[1].mass=7..167:160"
    result = CliRunner().invoke(
        cli, ["explore", str(job), "--what-if", change, "--out", str(tmp_path / "out")]
    )
    assert result.exit_code == 0, result.output
    assert "carry[1].mass" in result.output
    assert "At 167: " in result.output
    assert " holds at " in result.output
    assert "of a first layout" in result.output
    rows = list(csv.DictReader(io.StringIO((tmp_path / "out" / "what-if.csv").read_text("utf-8"))))
    assert [row["carry[1].mass"] for row in rows] == ["7", "167"]
    assert rows[1]["fails"]
    assert all(float(row["sheets"]) == int(float(row["sheets"])) for row in rows)


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ("bay.widht=1000,1010", "bay.widht"),
        ("carry[9].mass=1,2", "carry[9].mass"),
        ("build.runner=nosuch", "build.runner"),
        ("carry[1].mass=heavy", "carry[1].mass"),
        ("bay.width=1000..", "--what-if"),
        ("bay.width", "--what-if"),
    ],
)
def test_a_change_that_cannot_be_is_told_in_a_line(tmp_path, change, said):
    job = tmp_path / "job.toml"
    job.write_text(WAGON, encoding="utf-8")
    result = CliRunner().invoke(cli, ["explore", str(job), "--what-if", change])
    assert result.exit_code != 0
    told = result.output + str(result.exception or "")
    assert said in told
    assert "Traceback" not in result.output
