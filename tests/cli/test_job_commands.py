"""The commands that work on a job: what they print, write and exit with."""

import json
import subprocess
import sys

import pytest
from pypdf import PdfReader

JOB = """
[job]
title = "Small box"
[bay]
kind = "van"
length = 900
width = 700
clear_height = 900
[[bay.opening]]
face = "tail"
width = 690
height = 880
[[carry]]
what = "case"
size = [300, 200, 100]
mass = {mass}
goes_in = "only"
[[block]]
name = "box"
place = {{z = [0, 350]}}
columns = [{{stack = [{{fill = "drawer", name = "only"}}]}}]
"""
LIGHT, HEAVY = JOB.format(mass=8), JOB.format(mass=900)


def run(*arguments, given=None):
    return subprocess.run(
        [sys.executable, "-m", "stowright", *map(str, arguments)],
        input=given,
        capture_output=True,
        text=True,
        check=False,
    )


@pytest.fixture(scope="module")
def planned(tmp_path_factory):
    folder = tmp_path_factory.mktemp("planned")
    job = folder / "job.toml"
    job.write_text(LIGHT)
    done = run("plan", job, "--json", "--out", folder / "out", "--paper", "letter")
    assert done.returncode == 0, done.stderr
    return done, folder


def test_plan_prints_nothing_but_the_plan_as_json(planned):
    done, folder = planned
    assert json.loads(done.stdout) == json.loads((folder / "out" / "plan.json").read_text())


def test_plan_writes_everything_that_the_contract_names(planned):
    out = planned[1] / "out"
    data = json.loads((out / "plan.json").read_text())
    for part in data["parts"]:
        for ending in ("svg", "dxf"):
            assert (out / "drawings" / f"part-{part['mark']}.{ending}").stat().st_size > 500
    assert len(list((out / "layouts").glob("*.svg"))) == len(data["cutting"]["layouts"])
    assert len(list((out / "layouts").glob("*.dxf"))) == len(data["cutting"]["layouts"])
    assert (out / "unit.glb").read_bytes()[:4] == b"glTF"  # magic of glTF 2.0, section 4.4.2
    assert (out / "cutting.csv").read_text().count("\n") == len(data["parts"]) + 1


def test_the_book_is_on_the_paper_that_was_asked_for(planned):
    pages = PdfReader(planned[1] / "out" / "book.pdf").pages
    assert len(pages) > 5
    # US Letter is 8.5 by 11 in (ANSI Y14.1); PDF counts 72 to the inch, typst rounds to 0.01
    for page in pages:
        assert sorted(map(float, page.mediabox[2:])) == pytest.approx([612.0, 792.0], abs=0.02)


def test_the_cutting_list_can_be_cut_by_itself(planned):
    done = run("cut", planned[1] / "out" / "cutting.csv", "--json")
    assert done.returncode == 0, done.stderr
    assert json.loads(done.stdout)["sheets"] >= 1


def test_a_second_run_replaces_its_own_files(planned):
    folder = planned[1]
    before = (folder / "out" / "plan.json").read_bytes()
    done = run("plan", folder / "job.toml", "--out", folder / "out", "--paper", "letter")
    assert done.returncode == 0, done.stderr
    assert "Small box" in done.stdout
    assert (folder / "out" / "plan.json").read_bytes() == before


def test_prove_lists_each_proof_worst_first(planned):
    done = run("prove", planned[1] / "job.toml")
    assert done.returncode == 0, done.stderr
    data = json.loads(run("prove", planned[1] / "job.toml", "--json").stdout)
    assert data
    for found in data:
        assert found["id"] in done.stdout
        assert found["status"] in {"pass", "warn", "fail", "not proved"}
    ranks = [("fail", "not proved", "warn", "pass").index(found["status"]) for found in data]
    assert ranks == sorted(ranks)
    assert f"{len(data)} proofs: {ranks.count(0)} fail" in done.stdout
    assert "By the weakest input: " in done.stdout


def test_why_prints_one_proof_as_a_calculation_sheet(planned):
    job = planned[1] / "job.toml"
    data = json.loads(run("prove", job, "--json").stdout)
    one = next(found for found in data if found["kind"] == "ratio" and found["advice"] == [])
    done = run("prove", job, "--why", one["id"].lower())
    assert done.returncode == 0, done.stderr
    words = " ".join(done.stdout.split())
    for text in (one["id"], one["title"], one["source"], one["standing"], *one["working"]):
        assert " ".join(text.split()) in words
    for label in ("Formula", "Demand", "Capacity", "Utilisation", "Load case", "Rule set"):
        assert label in done.stdout
    told = json.loads(run("prove", job, "--json", "--why", one["id"]).stdout)
    assert told == [one]


def test_a_code_alone_shows_all_its_proofs_and_a_wrong_id_the_nearest(planned):
    job = planned[1] / "job.toml"
    ids = [found["id"] for found in json.loads(run("prove", job, "--json").stdout)]
    code = next(each.split(":")[0] for each in ids if each.startswith("RUNS:"))
    done = run("prove", job, "--why", code)
    assert done.stdout.count("Proof ") == sum(each.split(":")[0] == code for each in ids)
    wrong = run("prove", job, "--why", "RUNZ:" + ids[0])
    assert wrong.returncode == 2
    assert "nearest: " in wrong.stderr


def test_a_failing_proof_exits_1_only_when_strict():
    assert run("prove", "-", given=HEAVY).returncode == 0
    strict = run("prove", "-", "--strict", given=HEAVY)
    assert strict.returncode == 1
    assert "fail" in strict.stdout


def test_not_proved_is_no_failure():
    strict = run("prove", "-", "--strict", given=LIGHT)
    assert "not proved" in strict.stdout
    assert strict.returncode == 0


@pytest.mark.parametrize("command", ["plan", "prove", "cut", "book"])
def test_all_mistakes_are_told_a_line_each_and_exit_2(command):
    wrong = LIGHT.replace("length = 900", "length = -900\ncowe = 3").replace('"van"', '"boat"')
    done = run(command, "-", given=wrong)
    assert (done.returncode, done.stdout) == (2, "")
    lines = done.stderr.splitlines()
    for field in ("bay.length", "bay.kind", "bay.cowe"):
        assert sum(field in line for line in lines) == 1, lines
    assert "cove" in done.stderr  # the nearest known name
    assert "Traceback" not in done.stderr


def test_a_job_that_is_no_text_is_refused(tmp_path):
    junk = tmp_path / "junk.toml"
    junk.write_bytes(bytes(range(256)) * 40)
    done = run("plan", junk)
    assert done.returncode == 2
    assert "Traceback" not in done.stderr


def test_a_shop_catalogue_beside_the_job_is_used(tmp_path):
    (tmp_path / "job.toml").write_text(LIGHT)
    (tmp_path / "catalogue.toml").write_text("this is no catalogue")
    done = run("plan", tmp_path / "job.toml")
    assert done.returncode == 2


@pytest.mark.parametrize("kind", ["tub", "van", "wagon", "tray"])
def test_a_starter_reads_without_a_mistake(kind, tmp_path):
    target = tmp_path / "job.toml"
    assert run("new", kind, "--title", 'A "B"', "--units", "in", "--to", target).returncode == 0
    assert run("new", kind, "--to", target).returncode == 2  # not overwritten
    assert run("prove", target, "--json").returncode == 0


def test_new_says_which_kinds_there_are():
    done = run("new", given="")
    assert done.returncode == 2
    assert "tub, van, wagon, tray" in done.stderr


def test_a_refused_job_is_told_what_is_odd_about_it_too():
    thick = LIGHT + '[build]\nmeasured_thickness = {ply-15 = ["14.6 in"]}\n'
    done = run("plan", "-", given=thick)
    assert done.returncode == 2
    refusal, *odd = done.stderr.splitlines()
    assert ": box: " in refusal
    assert refusal.startswith("line ")
    assert any("build.measured_thickness.ply-15" in line for line in odd)
