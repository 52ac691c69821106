"""The fixtures of the browser tests; see ``browser_app``."""

import shutil
from pathlib import Path

import pytest
from browser_app import FLAGS, App, Contexts
from playwright.sync_api import sync_playwright


def pytest_collection_modifyitems(items):
    for item in items:
        if item.path.parent == Path(__file__).parent:
            item.add_marker(pytest.mark.browser)
            item.add_marker(pytest.mark.xdist_group("browser"))


@pytest.fixture(scope="session")
def app(tmp_path_factory):
    running = App(tmp_path_factory.mktemp("jobs"))
    yield running
    running.stop()


@pytest.fixture(scope="session")
def chromium():
    with sync_playwright() as play:
        browser = play.chromium.launch(executable_path=shutil.which("chromium"), args=FLAGS)
        yield browser
        browser.close()


@pytest.fixture
def contexts(chromium):
    made = Contexts(chromium)
    yield made
    for context in made.open:
        context.close()
    assert made.elsewhere == []  # nothing is asked of any other machine
    assert made.errors == []


@pytest.fixture
def page(contexts):
    return contexts.page()
