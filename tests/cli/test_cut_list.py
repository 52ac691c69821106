"""``stowright cut parts.csv``: a list of parts on sheets, without a job."""

import json

HEAD = "mark,length,width,quantity,grain\n"


def test_a_list_is_cut_and_written(stowright, tmp_path):
    parts = tmp_path / "parts.csv"
    parts.write_text(HEAD + "A,1200,590,4,yes\nB,600,400,2,no\n")
    run = stowright(
        "cut", parts, "--sheet", "2440x1220", "--kerf", 3, "--trim", 10, "--out", tmp_path / "out"
    )
    assert run.returncode == 0, run.stderr
    data = json.loads((tmp_path / "out" / "cutting.json").read_text())
    pieces = [p for layout in data["layouts"] for p in layout["pieces"] * layout["copies"]]
    assert sorted(p["mark"] for p in pieces) == ["A"] * 4 + ["B"] * 2
    assert not any(p["turned"] for p in pieces if p["mark"] == "A")  # grain along the sheet
    assert data["sheets"] == 2  # 4 × 0.708 m2 and 2 × 0.24 m2 are more than one sheet of 2.98 m2
    assert {layout["kerf"] for layout in data["layouts"]} == {3.0}


def test_mistakes_are_told_all_at_once_and_exit_2(stowright, tmp_path):
    parts = tmp_path / "parts.csv"
    parts.write_text(HEAD + "A,-3,x,1,no\nA,600,400,0.5,perhaps\n,1,nan,1,\n")
    run = stowright("cut", parts)
    assert (run.returncode, run.stdout) == (2, "")
    lines = run.stderr.splitlines()
    wanted = ["2, column 1: length", "2, column 1: width", "3, column 1: quantity"]
    wanted += ["3, column 1: grain", "4, column 1: mark", "4, column 1: width"]
    for text in wanted:
        assert sum(line.startswith(f"line {text}") for line in lines) == 1, text
    assert sum("A twice" in line for line in lines) == 1


def test_a_part_larger_than_the_sheet_is_told_with_what_would_serve(stowright, tmp_path):
    parts = tmp_path / "parts.csv"
    parts.write_text(HEAD + "LONG,2600,300,1,no\n")
    run = stowright("cut", parts, "--sheet", "2440x1220", "--trim", 10)
    assert run.returncode == 2
    assert "LONG" in run.stderr
    assert "180 mm too long" in run.stderr  # 2600 - (2440 - 2 × 10)


def test_a_sheet_that_is_no_size_is_refused(stowright, tmp_path):
    parts = tmp_path / "parts.csv"
    parts.write_text(HEAD + "A,100,100,1,no\n")
    run = stowright("cut", parts, "--sheet", "big")
    assert run.returncode == 2
    assert "--sheet: found big" in run.stderr


def test_a_file_that_is_not_there_is_told_plainly(stowright):
    run = stowright("cut", "nowhere.csv")
    assert run.returncode == 2
    assert run.stderr.startswith("nowhere.csv: found no such file")


def test_a_file_of_someone_else_is_not_overwritten_without_force(stowright, tmp_path):
    parts = tmp_path / "parts.csv"
    parts.write_text(HEAD + "A,100,100,1,no\n")
    (tmp_path / "cutting.json").write_text("mine")
    assert stowright("cut", parts, "--out", tmp_path).returncode == 2
    assert (tmp_path / "cutting.json").read_text() == "mine"
    assert stowright("cut", parts, "--out", tmp_path, "--force").returncode == 0
    assert stowright("cut", parts, "--out", tmp_path).returncode == 0  # now it is ours
