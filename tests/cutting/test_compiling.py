"""What is compiled is kept under a name that changes with every file it is made from."""

from pathlib import Path

import stowright
from stowright.cutting import compiling

SOURCES = Path(stowright.__file__).parent


def test_every_file_with_compiled_functions_is_among_those_that_name_the_folder():
    listed = {(SOURCES / "cutting" / name).resolve() for name in compiling._FILES}
    found = {
        path.resolve()
        for path in SOURCES.rglob("*.py")
        if any(line.startswith("@compiled") for line in path.read_text("utf-8").splitlines())
    }
    assert len(found) > 5
    assert found == listed
