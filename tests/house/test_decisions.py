"""Decision notes are numbered without a gap and say where they stand."""

import re
from pathlib import Path

NOTES = sorted((Path(__file__).parents[2] / "docs" / "decisions").glob("*.md"))


def test_notes_are_numbered_dated_and_have_a_status():
    assert [int(note.name[:4]) for note in NOTES] == list(range(1, len(NOTES) + 1))
    for note in NOTES:
        text = note.read_text(encoding="utf-8")
        assert text.startswith(f"# {note.name[:4]}. "), note.name
        assert re.search(r"^Status: (accepted|superseded by \d{4})$", text, re.MULTILINE), note.name
        assert re.search(r"^Date: \d{4}-\d\d-\d\d$", text, re.MULTILINE), note.name
