"""Debian's Chromium, and a page in it as the checks want it.

Units: CSS pixels.
"""

import base64
import io
import json
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import numpy as np
from PIL import Image
from playwright.sync_api import Browser, Page, Playwright

HERE = Path(__file__).parent
SCRIPTS = [(HERE / name).read_text() for name in ("measure.js", "marks.js")]
HEIGHT = 900
# As root there is no sandbox; nothing but the project's own pages is opened.
FLAGS = ["--no-sandbox", "--disable-gpu", "--hide-scrollbars", "--disable-background-networking"]


def launch(playwright: Playwright) -> Browser:
    """The browser. It must be there: tests/run installs it."""
    return playwright.chromium.launch(executable_path="/usr/bin/chromium", args=FLAGS)


@contextmanager
def opened(browser: Browser, path: Path, width: int = 1280, **context: object) -> Iterator[Page]:
    """The page of a file at this width, light, with the measuring scripts in it. `page.said` has what the console
    said and `page.asked` whatever was asked for."""
    with browser.new_context(viewport={"width": width, "height": HEIGHT}, **context) as inside:
        page = inside.new_page()
        page.said, page.asked = [], []
        page.on("console", lambda message: page.said.append(f"{message.type}: {message.text}"))
        page.on("pageerror", lambda error: page.said.append(f"error: {error}"))
        page.on("request", lambda request: page.asked.append(request.url))
        page.on("websocket", lambda socket: page.asked.append(socket.url))
        page.goto(path.as_uri())
        page.evaluate("document.fonts.ready.then(() => true)")
        for script in SCRIPTS:
            page.evaluate(script)
        yield page


def resize(page: Page, width: int, height: int = HEIGHT) -> None:
    """The same page in another window."""
    page.set_viewport_size({"width": width, "height": height})


def ask(page: Page, script: str) -> object:
    """What a script says, as text on the way: much faster for much."""
    return json.loads(page.evaluate(f"JSON.stringify({script})"))


class Camera:
    """Takes pictures of parts of a page. The window is made high enough for them: what lies beyond it costs a layout."""

    def __init__(self, page: Page, width: int, height: int) -> None:
        page.set_viewport_size({"width": width, "height": height})
        self.page, self.height = page, height
        self.session = page.context.new_cdp_session(page)

    def shot(self, box: tuple[int, int, int, int]) -> np.ndarray:
        """Left, top, width, height, no higher than the window; rows of pixels of red, green, blue."""
        left, top, width, height = box
        assert height <= self.height, f"{height} px in a window of {self.height}"
        self.page.evaluate("(top) => scrollTo({ top, behavior: 'instant' })", top)
        clip = {"x": left, "y": top, "width": width, "height": height, "scale": 1}
        wanted = {"format": "png", "optimizeForSpeed": True, "captureBeyondViewport": False, "clip": clip}
        data = self.session.send("Page.captureScreenshot", wanted)["data"]
        return np.asarray(Image.open(io.BytesIO(base64.b64decode(data))).convert("RGB"))
