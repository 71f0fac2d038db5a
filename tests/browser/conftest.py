from __future__ import annotations

import pytest

from tests.browser.phone import PocketPage, absent, opened
from tests.core.export.pocket.pages import content_of, hostile_evening
from tests.core.sheet.samples import evening


@pytest.fixture(scope="session")
def driver(tmp_path_factory):
    """One browser for all tests of a run."""
    if absent():
        pytest.skip(absent())
    driver = opened(tmp_path_factory.mktemp("downloads"))
    yield driver
    driver.quit()


@pytest.fixture(scope="session")
def content():
    """The sheet's content of an evening with every verdict."""
    return content_of(evening())


@pytest.fixture(scope="session")
def page(driver, content, tmp_path_factory):
    """Its page on the phone."""
    return PocketPage.of(driver, content, tmp_path_factory.mktemp("page"))


@pytest.fixture(scope="session")
def hostile(driver, tmp_path_factory):
    """The page of a plan whose every free text is hostile."""
    return PocketPage.of(driver, content_of(hostile_evening()), tmp_path_factory.mktemp("hostile"))
