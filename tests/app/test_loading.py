"""Jobs and catalogues from files and texts."""

import pytest

from stowright import JobError, load_catalogue, load_job
from stowright.app.loading import MOST_BYTES

JOB = '[job]\ntitle = "Text"\n[bay]\nlength = 900\nwidth = 700\nclear_height = 900\n'


def test_a_text_bytes_and_a_file_give_the_same_job(tmp_path):
    path = tmp_path / "job.toml"
    path.write_bytes(b"\xef\xbb\xbf" + JOB.encode())  # with a byte-order mark
    assert load_job(JOB) == load_job(JOB.encode()) == load_job(path) == load_job(str(path))


def test_a_file_that_is_not_there_is_a_mistake(tmp_path):
    with pytest.raises(JobError):
        load_job(tmp_path / "none.toml")


def test_a_catalogue_that_is_too_large_or_no_text_is_refused(tmp_path):
    path = tmp_path / "shop.toml"
    path.write_bytes(b"#" * (MOST_BYTES + 1))
    with pytest.raises(JobError, match="at most"):
        load_catalogue(path)
    path.write_bytes(b"\xff\xfe\x00")
    with pytest.raises(JobError, match="UTF-8"):
        load_catalogue(path)


def test_names_are_checked_against_the_shelf():
    with pytest.raises(JobError, match="birch-15"):
        load_job(JOB + '[build]\ncarcass = "birch-51"\n')
