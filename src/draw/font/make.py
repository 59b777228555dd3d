"""Makes NotoSans-subset.ttf and .woff2: run once, by hand, with fonttools and brotli.

Usage: make.py NotoSans-Regular.ttf NotoSansMath-Regular.ttf NotoSansSymbols-Regular.ttf

Noto Sans 2.015 (npm @expo-google-fonts/noto-sans 0.4.2) has the text; the signs it lacks are taken from Noto Sans Math
and Noto Sans Symbols (Debian fonts-noto-core 20201225-1), drawn on the same 1000 units. All three are under the OFL 1.1
without a reserved name. Layout tables and hints are dropped: widths are summed glyph by glyph, without kerning.
"""
import sys, tempfile, os
from fontTools import subset, merge
from fontTools.ttLib import TTFont

LATIN = list(range(0x20, 0x7F)) + list(range(0xA0, 0x100))
SIGNS = [ord(c) for c in "−–—…‘’“”′″Δλμπ€\u2007\u2009\u202f"]
FROM_MATH = [ord(c) for c in "≤≥≈←↑→↓"]
FROM_SYMBOLS = [ord("⌀")]


def part(path, codes, folder):
    options = subset.Options()
    options.name_IDs = ["*"]
    options.layout_features = []
    options.hinting = False
    options.notdef_outline = True
    options.drop_tables += ["GSUB", "GPOS", "GDEF", "MATH", "STAT", "DSIG"]
    font = TTFont(path)
    missing = [hex(c) for c in codes if c not in font.getBestCmap()]
    assert not missing, (path, missing)
    subsetter = subset.Subsetter(options)
    subsetter.populate(unicodes=codes)
    subsetter.subset(font)
    out = os.path.join(folder, os.path.basename(path))
    font.save(out)
    return out


sans, maths, symbols = sys.argv[1:4]
here = os.path.dirname(os.path.abspath(__file__))
with tempfile.TemporaryDirectory() as folder:
    parts = [part(sans, LATIN + SIGNS, folder), part(maths, FROM_MATH, folder), part(symbols, FROM_SYMBOLS, folder)]
    names = TTFont(parts[0])["name"]
    font = merge.Merger().merge(parts)
    first = TTFont(parts[0])
    for table in ("hhea", "OS/2"):
        for field in ("ascent", "descent", "lineGap", "sTypoAscender", "sTypoDescender", "sTypoLineGap", "usWinAscent", "usWinDescent", "sCapHeight", "sxHeight"):
            if hasattr(first[table], field):
                setattr(font[table], field, getattr(first[table], field))
    font["name"] = names
    font["head"].created = font["head"].modified = first["head"].modified
    font.recalcTimestamp = False
    out = os.path.join(here, "NotoSans-subset.ttf")
    font.save(out)
    font.flavor = "woff2"
    font.save(os.path.join(here, "NotoSans-subset.woff2"))
    final = TTFont(out)
    print(len(final.getGlyphOrder()), "glyphs", sorted(final.keys()))
    digits = {final["hmtx"][final.getBestCmap()[ord(c)]][0] for c in "0123456789"}
    print("digit widths", digits)
