"""Every proof stands on a theory page; every page of checked numbers has rows for them."""

import re
from pathlib import Path

from theory_pages import PAGES, START, known_tables

PROOFS = Path(__file__).parents[2] / "src" / "stowright" / "proofs"
#: The findings of wings are those of decks, told so on their page.
_WINGS = "WING-"


def test_every_code_of_a_proof_is_named_on_a_page():
    said = "\n".join(path.read_text(encoding="utf-8") for path in PAGES.glob("*.md"))
    codes = set()
    for path in PROOFS.glob("*.py"):
        text = path.read_text(encoding="utf-8")
        codes |= set(re.findall(r'\b(?:id|code)=f?"([A-Z][A-Z-]*[A-Z])[:"]', text))
    assert len(codes) > 50
    named = set(re.findall(r"`([A-Z][A-Z-]+)`", said))
    starts = {name.rpartition("-")[0] for name in named}  # SHELF of SHELF-SAG
    left = codes - named - starts
    assert {code for code in left if not code.startswith(_WINGS)} == set()


def test_pages_with_a_table_are_those_that_have_rows():
    with_table = {
        path.stem for path in PAGES.glob("*.md") if START in path.read_text(encoding="utf-8")
    }
    assert with_table == set(known_tables())


def test_the_index_links_every_page():
    index = (PAGES / "README.md").read_text(encoding="utf-8")
    assert {path.name for path in PAGES.glob("*.md")} - {"README.md"} == set(
        re.findall(r"\(([a-z-]+\.md)\)", index)
    )
