"""Makes every demo job's report with the built program, and hands a browser to the tests.

With more than one process the reports are made once, before any of the others start.
"""

import os
import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, sync_playwright

import chrome

ROOT = Path(__file__).parents[2]
OUT = ROOT / "target/tmp/browser"
# `check` refuses this one, and no report comes of it.
FAULTY = "faulty.toml"


def program() -> Path:
    """The built program."""
    return Path(os.environ.get("CARGO_TARGET_DIR", ROOT / "target")) / "debug/rimwise"


def pytest_configure(config: pytest.Config) -> None:
    """Makes the reports."""
    if hasattr(config, "workerinput"):
        return
    shutil.rmtree(OUT, ignore_errors=True)
    for job in sorted((ROOT / "demo-jobs").glob("*.toml")):
        if job.name != FAULTY:
            command = [program(), "compare", job, "--out", OUT / job.stem]
            subprocess.run(command, check=True, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL)


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """One browser a process."""
    with sync_playwright() as playwright:
        yield chrome.launch(playwright)


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """A line a page: what was looked at, and the least of what was measured."""
    lines: dict[str, dict] = {}
    for report in terminalreporter.getreports("passed") + terminalreporter.getreports("failed"):
        said = dict(report.user_properties)
        if report.when == "call" and "page" in said:
            lines.setdefault(said["page"], {}).update(said["facts"])
    terminalreporter.section("pages")
    for page in sorted(lines):
        facts = ", ".join(f"{name} {fact}" for name, fact in lines[page].items())
        terminalreporter.write_line(f"{page}: {facts}")
