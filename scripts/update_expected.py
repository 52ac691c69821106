"""Write examples/*/expected.json anew. Look at what changed, and why, before it goes in."""

import json
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "examples"))

from expected import EXAMPLES, NAMES, planned, summary


def main(names: list[str]) -> None:
    """Write what the named examples give now; all of them without names."""
    for name in names or NAMES:
        text = json.dumps(summary(planned(name)), ensure_ascii=False, indent=1) + "\n"
        path = EXAMPLES / name / "expected.json"
        before = path.read_text(encoding="utf-8") if path.exists() else ""
        path.write_text(text, encoding="utf-8")
        print(f"{name}: {'as before' if text == before else 'changed'}")


if __name__ == "__main__":
    main(sys.argv[1:])
