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
    assert sum(line.startswith("line 3, column 1: mark: found A again") for line in lines) == 1


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


def test_a_cheaper_mix_of_sizes_is_taken_by_price_and_no_more_than_there_are(stowright, tmp_path):
    parts = tmp_path / "parts.csv"
    parts.write_text(HEAD + "A,500,300,5,no\n")
    small = "1040x640:price=5:count=1"
    run = stowright("cut", parts, "--sheet", "2440x1220:price=50", "--sheet", small, "--json")
    assert run.returncode == 0, run.stderr
    used = {use["sheet"]: use["used"] for use in json.loads(run.stdout)["stock"]}
    assert used == {"2440 × 1220": 1}  # the small one holds four of the five
    parts.write_text(HEAD + "A,500,300,4,no\n")
    run = stowright("cut", parts, "--sheet", "2440x1220:price=50", "--sheet", small, "--json")
    assert {use["sheet"] for use in json.loads(run.stdout)["stock"]} == {"1040 × 640"}


def test_sheet_words_that_are_wrong_are_told_each(stowright, tmp_path):
    parts = tmp_path / "parts.csv"
    parts.write_text(HEAD + "A,100,100,1,no\n")
    words = ["2440x1220:cost=3", "1220x1220:count=0", "0x5", "600x600:price=4", "700x700"]
    run = stowright("cut", parts, *(cell for word in words for cell in ("--sheet", word)))
    assert run.returncode == 2
    lines = run.stderr.splitlines()
    assert [sum(word in line for line in lines) for word in words[:3]] == [1, 1, 1]
    assert sum("no price for" in line for line in lines) == 1


def test_wrong_rows_and_parts_too_large_are_told_together_with_their_lines(stowright, tmp_path):
    parts = tmp_path / "parts.csv"
    parts.write_text(HEAD + "A,700,300,0,no\nB,500,1230,1,yes\nC,3000,100,1,no\n")
    run = stowright("cut", parts, "--sheet", "2440x1220")
    assert run.returncode == 2
    first, second, third = run.stderr.splitlines()
    assert first.startswith("line 2")
    assert "leave the row out" in first
    assert second.startswith("line 3: B")
    assert "grain = no in a parts list" in second
    assert third.startswith("line 4: C")
    assert "joined" in third


def test_the_summary_says_where_the_sheets_went(stowright, tmp_path):
    parts = tmp_path / "parts.csv"
    parts.write_text(HEAD + "A,1200,590,4,yes\n")
    run = stowright("cut", parts)
    assert run.returncode == 0, run.stderr
    for word in ("saw lines at", "settings", "m of cut", "needed because", "kerf", "trim", "scrap"):
        assert word in run.stdout, word
    assert "Offcuts to keep" in run.stdout or "No offcut" in run.stdout


def test_the_summary_says_what_the_sheets_to_buy_cost_where_they_have_prices(stowright, tmp_path):
    parts = tmp_path / "parts.csv"
    parts.write_text(HEAD + "A,1200,590,5,yes\n")
    for words, told in (
        ("2440x1220:price=58.5", "2 sheets (117.00 to buy), "),
        ("2440x1220", "2 sheets, "),
    ):
        run = stowright("cut", parts, "--sheet", words)
        assert "2 sheets are needed because" in run.stdout  # proved by their number
        assert any(line.startswith(told) for line in run.stdout.splitlines()), run.stdout


def test_list_options_are_refused_with_a_job(stowright, tmp_path):
    job = tmp_path / "job.toml"
    job.write_text("format = 1\n")
    run = stowright("cut", job, "--kerf", 4, "--method", "panel")
    assert run.returncode == 2
    assert "--kerf: found with a job file" in run.stderr
    assert "--method: found with a job file" in run.stderr
