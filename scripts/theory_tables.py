"""Write the tables of checked numbers in docs/theory from the rows that the tests hold."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "validation"))

from theory_pages import PAGES, filled, known_tables


def main() -> None:
    """Write every page that has rows; say which changed."""
    for page, rows in known_tables().items():
        path = PAGES / f"{page}.md"
        before, text = path.read_text(encoding="utf-8"), filled(page, rows)
        path.write_text(text, encoding="utf-8")
        print(f"{page}: {'as before' if text == before else 'changed'}")


if __name__ == "__main__":
    main()
