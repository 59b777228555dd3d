"""Every page that the program writes for the demo jobs, under every check."""

from collections import Counter
from pathlib import Path

import pytest
from playwright.sync_api import Browser

import checker
import contrast
import keyboard
import known
import layout
import look
import paper
from conftest import EXPLAINED, FAULTY, LIMITS, OUT, SWEPT
from finding import Finding

# The longest first, so that they do not run alone at the end.
CHECKS = {module.__name__: module for module in (contrast, paper, layout, checker, keyboard, look)}
PAGES = sorted(OUT.glob("*/**/*.html"), key=lambda page: -page.stat().st_size)
# So many findings of a kind are printed; the rest is counted, and is in a file.
PRINTED = 4


def test_there_are_pages() -> None:
    """A report for each demo job: none was forgotten, and the tests below have something to look at."""
    jobs = {job.stem for job in (Path(__file__).parents[2] / "demo-jobs").glob("*.toml")} - {Path(FAULTY).stem}
    assert len(jobs) > 5
    explained = {f"explain-{job}" for job in EXPLAINED}
    swept = {f"sweep-{job}" for job in SWEPT}
    wanted = jobs | {f"limit-{job}" for job in LIMITS} | explained | swept | {"stock", "practise"}
    assert {page.relative_to(OUT).parts[0] for page in PAGES} == wanted


@pytest.mark.parametrize("check", CHECKS)
@pytest.mark.parametrize("page", PAGES, ids=lambda page: str(page.relative_to(OUT)))
def test_page(browser: Browser, page: Path, check: str, record_property: object) -> None:
    """Nothing is found but what is known."""
    name = str(page.relative_to(OUT))
    findings, facts = CHECKS[check].check(browser, page)
    record_property("page", name)
    new, met = known.sorted_out(check, findings)
    record_property("facts", facts | ({f"known from {check}": len(findings) - len(new)} if met else {}))
    record_property("met", met)
    if new:
        pytest.fail(told(page, check, new), pytrace=False)


def told(page: Path, check: str, new: list[Finding]) -> str:
    """The findings for people."""
    file = page.parent / f"{page.stem}-{check}.txt"
    file.write_text("".join(f"{finding}\n" for finding in new))
    kinds, lines = Counter(), []
    for finding in new:
        kinds[finding.check] += 1
        if kinds[finding.check] <= PRINTED:
            lines.append(str(finding))
    lines += [f"… {kind}: {count} in all" for kind, count in kinds.items() if count > PRINTED]
    return "\n".join([f"{page.relative_to(OUT)}: {len(new)} findings, all of them in {file}", *lines])
