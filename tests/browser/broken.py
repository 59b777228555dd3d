"""Pages with one fault each: `sound.html` with something changed in it."""

from pathlib import Path
from typing import NamedTuple

SOUND = Path(__file__).parent / "sound.html"


class Broken(NamedTuple):
    """Who finds it, what that says, and each text of the sound page with what it is replaced by."""

    check: str
    fault: str
    changes: dict[str, str]

    def page(self) -> str:
        """The page; the change is really in it."""
        text = SOUND.read_text()
        for was, becomes in self.changes.items():
            assert was in text, f"“{was}” is not in {SOUND.name}"
            text = text.replace(was, becomes, 1)
        return text


WORDS, FIGURE, END, PICTURE_END = "<p>Some words,", "<figure tab", "</main>", "</svg>"
LABEL, SIZE = '<text x="10" y="16">nose', 'width="150mm" height="40mm" viewBox="0 0 150 40"'
HALO = 'class="f-ink s-paper halo" fill="#1b222b" stroke="#fff" stroke-width="1.4"'
LINE, FOCUS = '<g class="s-ink" stroke="#1b222b"', ":focus-visible { outline: 3px solid #0d6373 }"
FIGURE_WITH_FOCUS = '<figure tabindex="0" role="group" aria-label="A picture">'
POLICY = "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\">"
CUT = '<p style="width: 60px; overflow: hidden; white-space: nowrap">Words that are cut short.</p>'
LONG = '<p style="white-space: nowrap">A line that is much too long for a telephone, and is not broken.</p>'
UNDER = '<p style="margin-bottom: -40px">Some words that others lie over.</p>'
OVER = '<p style="position: relative; top: 100px; margin-left: 60px">Words over a picture.</p>'
LID = '<div style="position: fixed; inset: 0 0 auto; height: 200px; background: #fff"></div>'
DOT = "data:image/gif;base64,R0lGODlhAQABAAAAACwAAAAAAQABAAA="

BROKEN = {
    "labels": Broken("layout", "labels overlap", {LABEL: '<text x="42" y="21.5">nose'}),
    "turned labels": Broken("layout", "labels overlap", {LABEL: '<text transform="translate(48 24) rotate(-90)">nose'}),
    "label outside": Broken("layout", "text outside its picture", {LABEL: '<text x="1" y="41.5">nosy'}),
    "words over words": Broken("layout", "texts overlap", {WORDS: UNDER + WORDS}),
    "words over a picture": Broken("layout", "texts overlap", {FIGURE: OVER + FIGURE}),
    "words cut": Broken("layout", "text cut", {WORDS: CUT + WORDS}),
    "too wide": Broken("layout", "page scrolls sideways", {WORDS: LONG + WORDS}),
    "picture shrunk": Broken("layout", "picture not true", {"display: block;": "display: block; max-width: 100%; height: auto;"}),
    "unit no millimetre": Broken("layout", "picture not true", {'viewBox="0 0 150 40"': 'viewBox="0 0 300 80"'}),
    "script error": Broken("layout", "console", {END: f"<script>nothingOfThatName()</script>{END}"}),
    "policy broken": Broken("layout", "console", {"<title>": f"{POLICY}<title>", END: f"<script>1</script>{END}"}),
    "request": Broken("layout", "request", {END: f'<img src="beside.png" alt="Something beside">{END}'}),
    "needs scripts": Broken("layout", "needs scripts", {END: f'{END}<script>document.body.append("Written.")</script>'}),
    "image without words": Broken("checker", "axe image-alt", {END: f'<img src="{DOT}">{END}'}),
    "picture without name": Broken("checker", "axe svg-img-alt", {' aria-label="A line with its length"': ""}),
    "scroller for mice": Broken("checker", "axe scrollable-region-focusable", {FIGURE_WITH_FOCUS: "<figure>"}),
    "pale words": Broken("contrast", "text contrast", {WORDS: f'<p style="color: #999">Pale.</p>{WORDS}'}),
    "pale words in the dark": Broken("contrast", "text contrast", {"color: #e8ecf0 } a": "color: #5a6066 } a"}),
    "label on a dark map": Broken("contrast", "text contrast", {"#f7de4b": "#14386c"}),
    "label struck through": Broken("contrast", "text contrast", {HALO: 'class="f-ink" fill="#1b222b"'}),
    "label covered": Broken(
        "contrast", "text not seen", {PICTURE_END: f'<rect x="8" y="12" width="12" height="6" fill="#fff"/>{PICTURE_END}'}
    ),
    "pale line": Broken("contrast", "line contrast", {LINE: '<g stroke="#b0b0b0"'}),
    "line lost in the dark": Broken("contrast", "line contrast", {LINE: '<g stroke="#1b222b"'}),
    "pale mark": Broken(
        "contrast", "line contrast", {PICTURE_END: f'<circle class="f-accent" fill="#ddd" cx="60" cy="32" r="2"/>{PICTURE_END}'}
    ),
    "focus unseen": Broken("keyboard", "focus not visible", {FOCUS: "a:focus-visible { outline: none }"}),
    "focus pale": Broken("keyboard", "focus not visible", {FOCUS: ":focus-visible { outline: 3px solid #def }"}),
    "focus covered": Broken("keyboard", "focus covered", {WORDS: LID + WORDS}),
    "link for mice": Broken("keyboard", "not reached by Tab", {'<a href="#fold">': '<a href="#fold" tabindex="-1">'}),
    "cut on paper": Broken("paper", "picture cut", {SIZE: 'width="150mm" height="300mm" viewBox="0 0 150 300"'}),
    "in the margin": Broken("paper", "picture in the margin", {"figure { overflow: visible }": "figure { margin-left: -0.45mm; overflow: visible }"}),
    "shrunk on paper": Broken("paper", "picture not true", {SIZE: 'width="230mm" height="40mm" viewBox="0 0 230 40"'}),
    "empty sheet": Broken("paper", "sheet nearly empty", {FIGURE: f'<div style="break-before: page"></div><p>Alone.</p><hr style="break-after: page">{FIGURE}'}),
    "dark sheet": Broken(
        "paper", "sheet not white", {"<main>": '<main style="background: #222; print-color-adjust: exact; height: 220mm">'}
    ),
}
