import subprocess
import sys

import pytest


@pytest.fixture
def stowright():
    """Run the command in a process of its own, as a person would."""

    def run(*arguments, given=None):
        return subprocess.run(
            [sys.executable, "-m", "stowright", *map(str, arguments)],
            input=given,
            capture_output=True,
            text=True,
            check=False,
        )

    return run
