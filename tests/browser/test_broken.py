"""The checks find what they are for, and nothing on a page without fault."""

from pathlib import Path

import pytest
from playwright.sync_api import Browser

from broken import BROKEN, SOUND
from test_pages import CHECKS


@pytest.mark.parametrize("name", BROKEN)
def test_broken(browser: Browser, name: str, tmp_path: Path) -> None:
    """The fault is found."""
    broken, page = BROKEN[name], tmp_path / "broken.html"
    page.write_text(broken.page())
    findings, _ = CHECKS[broken.check].check(browser, page)
    said = {finding.check for finding in findings}
    assert broken.fault in said, f"{broken.check} said {said or 'nothing'}"


@pytest.mark.parametrize("check", [check for check in CHECKS if check != "look"])
def test_sound(browser: Browser, check: str) -> None:
    """On a page without fault nothing is found, though there is something to look at."""
    findings, facts = CHECKS[check].check(browser, SOUND)
    assert not findings, "\n".join(map(str, findings))
    assert all(facts.values()), facts
