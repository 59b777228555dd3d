//! The font of the pictures: a part of Noto Sans (SIL Open Font License 1.1, see `font/OFL.txt`; made by
//! `font/make.py`), and the widths of texts set in it.
//!
//! Units: mm. Widths are summed glyph by glyph, as the pictures are set without kerning. Its figures are all of one
//! width. One weight only: strong text is thickened by a line of its own colour.

use std::sync::LazyLock;
use ttf_parser::Face;

/// The font as TrueType, for measuring and for drawing to pixels.
pub const TTF: &[u8] = include_bytes!("font/NotoSans-subset.ttf");
/// The same as WOFF2, for pages.
pub const WOFF2: &[u8] = include_bytes!("font/NotoSans-subset.woff2");
/// The family list of the pictures: the embedded font where the page brings it, else what there is.
pub const FAMILY: &str = "Noto Sans, system-ui, sans-serif";

/// Height of capitals and figures, in sizes.
pub const CAP_HEIGHT: f64 = 0.714;
/// How far letters go below the line, in sizes.
pub const DESCENT: f64 = 0.24;
/// Width taken for a sign that the font lacks, in sizes: that of a wide letter.
const UNKNOWN_WIDTH: f64 = 0.9;

static FACE: LazyLock<Option<Face<'static>>> = LazyLock::new(|| Face::parse(TTF, 0).ok());
/// Widths of the first 256 signs, in sizes: nearly all that is ever measured.
static WIDTHS: LazyLock<[f64; 256]> =
    LazyLock::new(|| std::array::from_fn(|i| advance(char::from(u8::try_from(i).unwrap_or(0)))));

fn advance(sign: char) -> f64 {
    let found = FACE.as_ref().and_then(|face| {
        let glyph = face.glyph_index(sign)?;
        Some(f64::from(face.glyph_hor_advance(glyph)?) / f64::from(face.units_per_em()))
    });
    found.unwrap_or(UNKNOWN_WIDTH)
}

/// Whether the font can show this sign.
#[must_use]
pub fn has(sign: char) -> bool {
    FACE.as_ref().is_some_and(|face| face.glyph_index(sign).is_some())
}

/// Width of a text at this size.
#[must_use]
pub fn width_mm(text: &str, size_mm: f64) -> f64 {
    let sum: f64 = text.chars().map(|sign| WIDTHS.get(sign as usize).copied().unwrap_or_else(|| advance(sign))).sum();
    sum * size_mm
}

/// A picture kept as a file of its own may be shown in whatever font is there: common ones run up to an eighth wider.
const WIDER: f64 = 1.125;

/// A text broken at spaces into lines no wider than this, in a wider font too (a longer word keeps a line to itself); not at
/// the thin space before a unit, and not at the colon of a scale.
#[must_use]
pub fn wrapped(text: &str, size_mm: f64, most_mm: f64) -> Vec<String> {
    let most_mm = most_mm / WIDER;
    let mut lines: Vec<String> = Vec::new();
    for word in text.replace(" : ", "\u{a0}:\u{a0}").split(' ').filter(|word| !word.is_empty()) {
        match lines.last_mut() {
            Some(line) if width_mm(line, size_mm) + width_mm(" ", size_mm) + width_mm(word, size_mm) <= most_mm => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines.iter().map(|line| line.replace('\u{a0}', " ")).collect()
}

/// A text no wider than this: what is too long ends in an ellipsis.
#[must_use]
pub fn cut_short(text: &str, size_mm: f64, most_mm: f64) -> String {
    if width_mm(text, size_mm) <= most_mm {
        return text.to_owned();
    }
    let room = most_mm - width_mm("…", size_mm);
    let mut width = 0.0;
    let fits = |sign: &char| {
        width += width_mm(sign.encode_utf8(&mut [0; 4]), size_mm);
        width <= room
    };
    text.chars().take_while(fits).chain(['…']).collect()
}

/// The `@font-face` rule that brings the font into a page, whole.
#[must_use]
pub fn face_rule() -> String {
    format!(
        "@font-face{{font-family:\"Noto Sans\";src:url(data:font/woff2;base64,{}) format(\"woff2\")}}",
        base64(WOFF2)
    )
}

/// Base64 (RFC 4648, section 4).
fn base64(bytes: &[u8]) -> String {
    const SIGNS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut out = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for group in bytes.chunks(3) {
        let word = group.iter().enumerate().fold(0_usize, |word, (i, &byte)| word | usize::from(byte) << (16 - 8 * i));
        for i in 0..4 {
            let sign = SIGNS[word >> (18 - 6 * i) & 63];
            out.push(if i <= group.len() { char::from(sign) } else { '=' });
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_font_has_every_sign_that_pictures_use_and_even_figures() {
        for sign in "AZaz09é°·×ß−–—…′″⌀±≤≥≈←↑→↓Δλ‘’“”\u{2009}\u{202f}".chars()
        {
            assert!(has(sign), "{sign:?}");
        }
        assert!(!has('漢'));
        let widths: Vec<f64> = "0123456789".chars().map(|sign| width_mm(&sign.to_string(), 1.0)).collect();
        assert!(widths.iter().all(|width| *width == widths[0]), "{widths:?}");
        assert!((width_mm("0.0", 1.0) - (2.0 * 0.572 + 0.268)).abs() < 1e-9);
    }

    #[test]
    fn lines_break_between_words() {
        assert_eq!(wrapped("one two three", 3.0, 10.0), ["one", "two", "three"]);
        assert_eq!(wrapped("one two three", 3.0, 100.0), ["one two three"]);
        assert!(wrapped("", 3.0, 100.0).is_empty());
        assert_eq!(wrapped("edge 5\u{202f}mm, 2 : 1", 3.0, 5.0), ["edge", "5\u{202f}mm,", "2 : 1"]);
    }

    #[test]
    fn long_names_are_cut_short() {
        assert_eq!(cut_short("thin", 3.2, 33.0), "thin");
        let short = cut_short("a-name-that-goes-on-and-on-without-a-space", 3.2, 33.0);
        assert!(short.ends_with('…') && width_mm(&short, 3.2) <= 33.0, "{short}");
    }

    #[test]
    fn base64_as_in_the_standard() {
        for (plain, coded) in [("", ""), ("f", "Zg=="), ("fo", "Zm8="), ("foo", "Zm9v"), ("foobar", "Zm9vYmFy")] {
            assert_eq!(base64(plain.as_bytes()), coded);
        }
    }
}
