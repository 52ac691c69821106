"""WCAG 2.2 AA by axe-core on the page as it stands, in every look."""

from pathlib import Path

import axe_playwright_python

AXE = (Path(axe_playwright_python.__file__).parent / "axe.min.js").read_text(encoding="utf-8")
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]
OPEN_ALL = "document.querySelectorAll('details').forEach(each => each.open = true)"


#: What changes with the look; everything else is the same markup.
BY_LOOK = ["color-contrast", "link-in-text-block", "target-size"]
SET_LOOK = "look => { document.documentElement.dataset.look = look }"


def violations(page, asked):
    if page.evaluate("typeof axe") == "undefined":  # the page was loaded anew
        page.evaluate(AXE)
    result = page.evaluate("asked => axe.run({runOnly: asked})", asked)
    return [
        (each["id"], node["html"][:120]) for each in result["violations"] for node in each["nodes"]
    ]


def found(page):
    """Everything in one look, then in each other look what depends on it."""
    page.evaluate(OPEN_ALL)
    page.evaluate(SET_LOOK, "light")
    wrong = violations(page, {"type": "tag", "values": RULES})
    for look in ("dark", "outdoor"):
        page.evaluate(SET_LOOK, look)
        wrong += [(look, *each) for each in violations(page, {"type": "rule", "values": BY_LOOK})]
    return wrong
