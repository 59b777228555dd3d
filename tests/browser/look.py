"""Screenshots and the printed page, for whoever wants to look: target/tmp/browser/JOB/*.png, *.pdf."""

from pathlib import Path

from playwright.sync_api import Browser, Error, Page

from chrome import opened, resize
from finding import Finding
from paper import SHEETS, printed

# Pages are long; their beginning shows how they look.
HEIGHT = 5000


def check(browser: Browser, path: Path) -> tuple[list[Finding], dict]:
    """Finds nothing."""
    with opened(browser, path) as page:
        for width in (390, 1280):
            for scheme in ("light", "dark"):
                page.emulate_media(color_scheme=scheme)
                resize(page, width, HEIGHT)
                take(page, path.with_name(f"{path.stem}-{width}-{scheme}.png"))
        page.emulate_media(color_scheme="light")
        path.with_name(f"{path.stem}-a4.pdf").write_bytes(printed(page, *SHEETS["A4"]))
    return [], {}


def take(page: Page, path: Path) -> None:
    """On a busy machine Chromium now and then says that it cannot; asked again, it can."""
    try:
        page.screenshot(path=path)
    except Error:
        page.wait_for_timeout(1000)
        page.screenshot(path=path)
