"""The checks find what they are for: every page in broken/ has one fault, and says in its first line who finds it.

`<!-- layout: labels overlap -->` means that `layout.check` says "labels overlap".
"""

import re
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from test_pages import CHECKS

BROKEN = sorted((Path(__file__).parent / "broken").glob("*.html"))
SOUND = Path(__file__).parent / "sound.html"


@pytest.mark.parametrize("page", BROKEN, ids=lambda page: page.stem)
def test_broken(browser: Browser, page: Path) -> None:
    """The fault is found."""
    check, fault = re.match(r"<!-- (\w+): (.+) -->", page.read_text()).groups()
    findings, _ = CHECKS[check].check(browser, page)
    said = {finding.check for finding in findings}
    assert fault in said, f"{page.name}: {check} said {said or 'nothing'}"


@pytest.mark.parametrize("check", [check for check in CHECKS if check != "look"])
def test_sound(browser: Browser, check: str) -> None:
    """On a page without fault nothing is found, though there is much to look at."""
    findings, facts = CHECKS[check].check(browser, SOUND)
    assert not findings, "\n".join(map(str, findings))
    assert all(facts.values()), facts
