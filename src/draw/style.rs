//! How pictures look: tones, line kinds (ISO 128), sizes of text, the colour scale.
//!
//! Units: mm on paper. Every tone is written twice: as a plain colour in the picture, so that a file stands by itself
//! in any viewer, and as a class that the page's style sheet may override to follow light and dark mode.

use std::fmt::Write;

/// A colour, red, green, blue.
pub type Rgb = [u8; 3];

/// What a colour is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tone {
    /// Outlines, numbers, names.
    Ink,
    /// Dimension lines, centre lines, words beside the matter.
    Soft,
    /// Grids: carries no meaning alone.
    Grid,
    /// The one accent.
    Accent,
    /// The option compared against.
    Second,
    /// Cut glass.
    Glass,
    /// Glass of the option compared against, where another saves it.
    Tint,
    /// The sheet.
    Paper,
}

/// Light or dark surroundings.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mode {
    /// Dark on light; always so on paper.
    Light,
    /// Light on dark.
    Dark,
}

impl Tone {
    /// All tones.
    pub const ALL: [Tone; 8] =
        [Tone::Ink, Tone::Soft, Tone::Grid, Tone::Accent, Tone::Second, Tone::Glass, Tone::Tint, Tone::Paper];

    /// The word in class names and custom properties.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Tone::Ink => "ink",
            Tone::Soft => "soft",
            Tone::Grid => "grid",
            Tone::Accent => "accent",
            Tone::Second => "second",
            Tone::Glass => "glass",
            Tone::Tint => "tint",
            Tone::Paper => "paper",
        }
    }

    /// Its colour.
    #[must_use]
    pub fn rgb(self, mode: Mode) -> Rgb {
        let (light, dark) = match self {
            Tone::Ink => ([0x1b, 0x22, 0x2b], [0xe8, 0xec, 0xf0]),
            Tone::Soft => ([0x55, 0x60, 0x6d], [0xa6, 0xb1, 0xbd]),
            Tone::Grid => ([0xdc, 0xe1, 0xe6], [0x36, 0x3e, 0x48]),
            Tone::Accent => ([0x0d, 0x63, 0x73], [0x6c, 0xc5, 0xd3]),
            Tone::Second => ([0x8a, 0x58, 0x00], [0xe2, 0xb3, 0x5f]),
            Tone::Glass => ([0xe2, 0xed, 0xf1], [0x25, 0x36, 0x3f]),
            Tone::Tint => ([0xef, 0xd9, 0xae], [0x4d, 0x3c, 0x1c]),
            Tone::Paper => ([0xff, 0xff, 0xff], [0x14, 0x19, 0x1f]),
        };
        match mode {
            Mode::Light => light,
            Mode::Dark => dark,
        }
    }

    /// The tone of this light colour, where there is one.
    #[must_use]
    pub(super) fn of_rgb(rgb: (u8, u8, u8)) -> Option<Tone> {
        Tone::ALL.into_iter().find(|tone| tone.rgb(Mode::Light) == [rgb.0, rgb.1, rgb.2])
    }
}

/// A colour as `#rrggbb`.
#[must_use]
pub fn hex([r, g, b]: Rgb) -> String {
    format!("#{r:02x}{g:02x}{b:02x}")
}

/// What something is drawn in: a tone, which follows the mode, or a colour that means a value and stays.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Colour {
    /// Follows light and dark mode.
    Tone(Tone),
    /// The same in both.
    Fixed(Rgb),
}

impl From<Tone> for Colour {
    fn from(tone: Tone) -> Colour {
        Colour::Tone(tone)
    }
}

/// Whether and how a line is broken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Dash {
    /// Not broken.
    Solid,
    /// Hidden edges, and what is projected from another plane.
    Dashed,
    /// Centre lines and lines of symmetry.
    DashDot,
    /// Outlines of neighbouring parts, and of the state before cutting.
    DashTwoDots,
}

impl Dash {
    /// As `stroke-dasharray`, mm; ISO 128's proportions, dots long enough to be seen on a screen.
    #[must_use]
    pub fn array(self) -> Option<&'static str> {
        match self {
            Dash::Solid => None,
            Dash::Dashed => Some("1.6 .7"),
            Dash::DashDot => Some("4.5 .8 .5 .8"),
            Dash::DashTwoDots => Some("3.2 .7 .4 .7 .4 .7"),
        }
    }
}

/// A line and a fill.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pen {
    /// Colour of the line, if it is drawn.
    pub stroke: Option<Colour>,
    /// Colour of the inside, if it is filled.
    pub fill: Option<Colour>,
    /// Width of the line.
    pub width_mm: f64,
    /// How it is broken.
    pub dash: Dash,
}

/// Visible outlines (ISO 128: wide line, group 0.5).
pub const OUTLINE: Pen = Pen::line(Tone::Ink, WIDE_MM);
/// Thin lines of the thing itself: hatching, marks.
pub const THIN: Pen = Pen::line(Tone::Ink, NARROW_MM);
/// Hatching.
pub const HATCHING: Pen = Pen::line(Tone::Soft, 0.18);
/// Dimension lines, extension lines, leaders.
pub const DIMENSION: Pen = Pen::line(Tone::Soft, NARROW_MM);
/// Hidden edges and projections.
pub const HIDDEN: Pen = DIMENSION.dashed(Dash::Dashed);
/// Centre lines.
pub const CENTRE: Pen = DIMENSION.dashed(Dash::DashDot);
/// Neighbouring parts and the state before cutting.
pub const GHOST: Pen = DIMENSION.dashed(Dash::DashTwoDots);
/// Grid lines, lighter than any data.
pub const GRID: Pen = Pen::line(Tone::Grid, 0.18);
/// Cut glass: lightly filled, not hatched.
pub const GLASS: Pen = Pen { fill: Some(Colour::Tone(Tone::Glass)), ..OUTLINE };

/// Width of wide lines.
pub const WIDE_MM: f64 = 0.5;
/// Width of narrow lines.
pub const NARROW_MM: f64 = 0.25;
/// Size of text: 12 px at the printed size, the least there is.
pub const TEXT_MM: f64 = 3.2;
/// Size of letters that name a part (R, L).
pub const LETTER_MM: f64 = 4.6;

impl Pen {
    /// A solid line.
    #[must_use]
    pub const fn line(tone: Tone, width_mm: f64) -> Pen {
        Pen { stroke: Some(Colour::Tone(tone)), fill: None, width_mm, dash: Dash::Solid }
    }

    /// Filled, without a line.
    #[must_use]
    pub const fn filled(colour: Colour) -> Pen {
        Pen { stroke: None, fill: Some(colour), width_mm: 0.0, dash: Dash::Solid }
    }

    /// The same, broken so.
    #[must_use]
    pub const fn dashed(self, dash: Dash) -> Pen {
        Pen { dash, ..self }
    }
}

/// The colour of a value's place in its range, 0 … 1: cividis turned round, so that dark is thick. Even to the eye, in
/// grey too, and the same to those who see fewer colours.
#[must_use]
pub fn scale_rgb(place: f64) -> Rgb {
    colorous::CIVIDIS.eval_continuous(1.0 - place.clamp(0.0, 1.0)).into_array()
}

/// Black or white, whichever stands out more on this colour (at least 4.5 : 1 on any).
#[must_use]
pub fn on(background: Rgb) -> Rgb {
    let (white, black) = ([255; 3], [0; 3]);
    if contrast(white, background) >= contrast(black, background) { white } else { black }
}

/// Black or white, whichever stands out more where these two colours meet.
#[must_use]
pub fn between(one: Rgb, other: Rgb) -> Rgb {
    let (white, black) = ([255; 3], [0; 3]);
    let least = |line: Rgb| contrast(line, one).min(contrast(line, other));
    if least(white) >= least(black) { white } else { black }
}

/// Contrast of two colours (WCAG 2: ratio of relative luminances).
#[must_use]
pub fn contrast(one: Rgb, other: Rgb) -> f64 {
    let (a, b) = (luminance(one), luminance(other));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

/// Relative luminance (WCAG 2, from IEC 61966-2-1).
fn luminance(rgb: Rgb) -> f64 {
    let [r, g, b] = rgb.map(|part| {
        let part = f64::from(part) / 255.0;
        if part <= 0.040_45 { part / 12.92 } else { ((part + 0.055) / 1.055).powf(2.4) }
    });
    0.2126 * r + 0.7152 * g + 0.0722 * b
}

/// The tones as custom properties, to stand in a rule of the page: `--rw-ink:#1b222b;…`.
#[must_use]
pub fn variables(mode: Mode) -> String {
    let mut css = String::new();
    for tone in Tone::ALL {
        let _ = write!(css, "--rw-{}:{};", tone.word(), hex(tone.rgb(mode)));
    }
    css
}

/// Looks that the page's style sheet knows: attribute, value, and the class that stands for it; none where pictures have it
/// unless they say otherwise.
const USUAL: [(&str, &str, &str); 10] = [
    ("stroke-width", ".25", ""),
    ("stroke-width", ".5", "wide"),
    ("stroke-width", "1.44", "halo"),
    ("stroke-dasharray", "1.6 .7", "dashed"),
    ("stroke-dasharray", "4.5 .8 .5 .8", "centre"),
    ("stroke-dasharray", "3.2 .7 .4 .7 .4 .7", "ghost"),
    ("text-anchor", "middle", "mid"),
    ("text-anchor", "end", "end"),
    ("font-size", "3.2", ""),
    ("paint-order", "stroke", ""),
];

/// The class that stands for a look in a page: empty where pictures have it by themselves, `None` where there is none.
pub(super) fn class_of(attribute: &str, value: &str) -> Option<&'static str> {
    USUAL.into_iter().find(|usual| (usual.0, usual.1) == (attribute, value)).map(|(.., class)| class)
}

/// The rules that pictures in a page need: what is common to all, and that their tones follow these properties.
#[must_use]
pub fn rules() -> String {
    let family = super::font::FAMILY;
    let mut css = format!(
        ".picture{{fill:none;font-family:{family};font-kerning:none;stroke-linejoin:round;\
         stroke-width:{NARROW_MM};font-size:{TEXT_MM}px}}.picture text{{paint-order:stroke}}"
    );
    for (attribute, value, class) in USUAL.into_iter().filter(|(.., class)| !class.is_empty()) {
        let _ = write!(css, ".picture .{class}{{{attribute}:{value}}}");
    }
    for tone in Tone::ALL {
        let (word, plain) = (tone.word(), hex(tone.rgb(Mode::Light)));
        let _ = write!(css, ".picture .f-{word}{{fill:var(--rw-{word},{plain})}}");
        let _ = write!(css, ".picture .s-{word}{{stroke:var(--rw-{word},{plain})}}");
    }
    css
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_and_meaningful_lines_stand_out_in_both_modes() {
        for mode in [Mode::Light, Mode::Dark] {
            let paper = Tone::Paper.rgb(mode);
            for tone in [Tone::Ink, Tone::Soft, Tone::Accent, Tone::Second] {
                let ratio = contrast(tone.rgb(mode), paper);
                assert!(ratio >= 4.5, "{tone:?} in {mode:?}: {ratio:.2}");
                let ratio = contrast(tone.rgb(mode), Tone::Glass.rgb(mode));
                assert!(ratio >= 4.5, "{tone:?} on glass in {mode:?}: {ratio:.2}");
                let ratio = contrast(tone.rgb(mode), Tone::Tint.rgb(mode));
                assert!(ratio >= 3.0, "{tone:?} beside tint in {mode:?}: {ratio:.2}");
            }
            assert!(contrast(Tone::Grid.rgb(mode), paper) < 2.0, "the grid is lighter than data");
        }
    }

    #[test]
    fn dark_is_thick_and_numbers_are_legible_on_every_colour() {
        let mut last = f64::INFINITY;
        for i in 0..=100 {
            let rgb = scale_rgb(f64::from(i) / 100.0);
            let now = luminance(rgb);
            assert!(now <= last + 0.002, "step {i}: {now} after {last}");
            assert!(contrast(on(rgb), rgb) >= 4.5, "step {i}");
            last = now;
        }
    }

    #[test]
    fn usual_looks_are_those_of_the_pens() {
        let mm = |mm: f64| format!("{mm}").trim_start_matches('0').to_owned();
        for width in [mm(NARROW_MM), mm(WIDE_MM)] {
            assert!(class_of("stroke-width", &width).is_some(), "{width}");
        }
        assert_eq!(class_of("font-size", &mm(TEXT_MM)), Some(""));
        for dash in [Dash::Dashed, Dash::DashDot, Dash::DashTwoDots] {
            assert!(class_of("stroke-dasharray", dash.array().unwrap_or("")).is_some_and(|class| !class.is_empty()));
        }
        assert!(rules().contains(".picture .wide{stroke-width:.5}"));
    }

    #[test]
    fn every_tone_has_its_rule() {
        assert!(rules().contains(".picture .s-accent{stroke:var(--rw-accent,#0d6373)}"));
        assert!(variables(Mode::Dark).contains("--rw-ink:#e8ecf0;"));
    }
}
