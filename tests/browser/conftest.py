"""Makes every demo job's report with the built program, and the other pages that it writes; hands a browser to the tests.

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
import known

ROOT = Path(__file__).parents[2]
OUT = ROOT / "target/tmp/browser"
# `check` refuses this one, and no report comes of it.
FAULTY = "faulty.toml"
# Wishes for the thickest edge, mm: one that sizes keep, one that only larger sizes do.
LIMITS = {"strong-minus": "5.5", "strong-plus": "4.5"}
# Lenses to be worked line by line: with prism, the longest formulas; and a plain one.
EXPLAINED = {"prescribed-prism": ("left", "light"), "mild": ("right", "standard")}
# Things varied: one, with a gap; two numbers, a map; a list of supplies, bars.
SWEPT = {
    "strong-minus": ["sphere=-18:-8:1"],
    "nasal-edge": ["eye_size_mm=42:54:2", "bridge_mm=14:22:2"],
    "mild": ["supply"],
}


def program() -> Path:
    """The built program."""
    return Path(os.environ.get("CARGO_TARGET_DIR", ROOT / "target")) / "debug/rimwise"


def pytest_configure(config: pytest.Config) -> None:
    """Makes the pages."""
    if hasattr(config, "workerinput"):
        return
    shutil.rmtree(OUT, ignore_errors=True)
    jobs = ROOT / "demo-jobs"
    commands = [["compare", job, "--out", OUT / job.stem] for job in sorted(jobs.glob("*.toml")) if job.name != FAULTY]
    for job, wish in LIMITS.items():
        commands.append(["limit", jobs / f"{job}.toml", "--edge-max", wish, "--out", OUT / f"limit-{job}"])
    commands.append(["practise", "--level", "2", "--questions", "28", "--choices", "--out", OUT / "practise"])
    for job, (eye, lens) in EXPLAINED.items():
        command = ["explain", jobs / f"{job}.toml", "--eye", eye, "--lens", lens, "--out", OUT / f"explain-{job}"]
        commands.append(command)
    for job, things in SWEPT.items():
        varied = [word for thing in things for word in ("--vary", thing)]
        commands.append(["sweep", jobs / f"{job}.toml", *varied, "--out", OUT / f"sweep-{job}"])
    commands.append(["stock", jobs / "orders.csv", "--out", OUT / "stock"])
    for command in commands:
        made = subprocess.run([program(), *command], stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL)
        # Orders of which some are refused are worked all the same.
        assert made.returncode in (0, 3), command


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """One browser a process."""
    with sync_playwright() as playwright:
        yield chrome.launch(playwright)


def said(terminal: pytest.TerminalReporter) -> Iterator[dict]:
    """What the tests of pages put down."""
    for report in terminal.getreports("passed") + terminal.getreports("failed"):
        properties = dict(report.user_properties)
        if report.when == "call" and "page" in properties:
            yield properties


def gone(terminal: pytest.TerminalReporter, config: pytest.Config) -> list[str]:
    """Known faults that no page has any more, if all pages were looked at."""
    if config.option.keyword or not any(said(terminal)):
        return []
    met = {i for properties in said(terminal) for i in properties["met"]}
    return [f"{one.check}: {one.said}" for i, one in enumerate(known.KNOWN) if i not in met]


def pytest_sessionfinish(session: pytest.Session) -> None:
    """A known fault that is gone fails the run."""
    terminal = session.config.pluginmanager.getplugin("terminalreporter")
    if not hasattr(session.config, "workerinput") and gone(terminal, session.config):
        session.exitstatus = pytest.ExitCode.TESTS_FAILED


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter, config: pytest.Config) -> None:
    """A line a page: what was looked at, and the least of what was measured."""
    lines: dict[str, dict] = {}
    for properties in said(terminalreporter):
        lines.setdefault(properties["page"], {}).update(properties["facts"])
    terminalreporter.section("pages")
    for page in sorted(lines):
        facts = ", ".join(f"{name} {fact}" for name, fact in lines[page].items())
        terminalreporter.write_line(f"{page}: {facts}")
    for line in gone(terminalreporter, config):
        terminalreporter.write_line(f"FAILED: known, but not found any more; take it out of known.py: {line}")
