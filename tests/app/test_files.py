"""Writing into a folder: whole or not at all, and nobody else's file."""

import pytest

from stowright.app.files import LIST_NAME, write_files
from stowright.errors import FileConflictError


def names(folder):
    return {str(p.relative_to(folder)) for p in folder.rglob("*") if p.is_file()} - {LIST_NAME}


def test_files_are_written_and_listed(tmp_path):
    write_files(tmp_path / "out", {"a.txt": b"1", "b/c.txt": b"2"})
    assert names(tmp_path / "out") == {"a.txt", "b/c.txt"}
    assert (tmp_path / "out" / LIST_NAME).read_text() == "a.txt\nb/c.txt\n"


def test_a_second_run_replaces_its_own_and_takes_away_what_is_gone(tmp_path):
    write_files(tmp_path, {"a.txt": b"1", "gone.txt": b"x"})
    write_files(tmp_path, {"a.txt": b"2"})
    assert names(tmp_path) == {"a.txt"}
    assert (tmp_path / "a.txt").read_bytes() == b"2"


def test_a_partial_run_leaves_the_other_files(tmp_path):
    write_files(tmp_path, {"a.txt": b"1", "b.txt": b"1"})
    write_files(tmp_path, {"b.txt": b"2"}, whole=False)
    assert names(tmp_path) == {"a.txt", "b.txt"}
    write_files(tmp_path, {"c.txt": b"3"})
    assert names(tmp_path) == {"c.txt"}


def test_nothing_is_written_when_one_file_is_not_ours(tmp_path):
    (tmp_path / "b.txt").write_text("mine")
    with pytest.raises(FileConflictError) as told:
        write_files(tmp_path, {"a.txt": b"1", "b.txt": b"2"})
    assert told.value.path == str(tmp_path / "b.txt")
    assert names(tmp_path) == {"b.txt"}
    write_files(tmp_path, {"b.txt": b"2"}, force=True)
    assert (tmp_path / "b.txt").read_bytes() == b"2"


@pytest.mark.parametrize("line", ["../mine.txt", "/mine.txt", "x/../../mine.txt"])
def test_a_list_that_leads_out_of_the_folder_is_not_believed(tmp_path, line):
    mine = tmp_path / "mine.txt"
    mine.write_text("mine")
    folder = tmp_path / "out"
    folder.mkdir()
    (folder / LIST_NAME).write_text(line.replace("/mine", f"{tmp_path}/mine", 1) + "\n")
    write_files(folder, {"a.txt": b"1"})
    assert mine.read_text() == "mine"


def test_no_half_written_file_stays(tmp_path, monkeypatch):
    write_files(tmp_path, {"a.txt": b"old"})

    def fail(*_):
        raise OSError("disk full")

    monkeypatch.setattr("pathlib.Path.replace", fail)
    with pytest.raises(OSError, match="disk full"):
        write_files(tmp_path, {"a.txt": b"new"})
    assert (tmp_path / "a.txt").read_bytes() == b"old"
    assert names(tmp_path) == {"a.txt"}
