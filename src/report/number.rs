//! Numbers on show: the one place where a value becomes figures with its unit. 0.1 mm and 0.1 g, a true minus sign, a
//! thin space before a unit; powers with sign and two decimals.
//!
//! Units: in the names of the functions.

pub use crate::draw::number::{axis, difference, figure, power, size};
use crate::figures::{Figure, Unit};

/// Between a number and its unit: thin, and no place to break a line.
pub const THIN: char = '\u{202f}';
/// More decimals than this tell nothing apart.
const MOST_DECIMALS: usize = 3;

/// A number and its unit.
#[must_use]
pub fn with_unit(value: f64, decimals: usize, unit: &str) -> String {
    match unit {
        "" | "°" => format!("{}{unit}", figure(value, decimals)),
        unit => format!("{}{THIN}{unit}", figure(value, decimals)),
    }
}

/// A length, to 0.1 mm.
#[must_use]
pub fn mm(value: f64) -> String {
    with_unit(value, 1, "mm")
}

/// A mass, to 0.1 g.
#[must_use]
pub fn grams(value: f64) -> String {
    with_unit(value, 1, "g")
}

/// A base curve, as fronts are marked: two decimals, no sign.
#[must_use]
pub fn base_curve(value: f64) -> String {
    with_unit(value, 2, "D")
}

/// Two lengths with as many decimals as it takes to tell them apart: one where that is enough.
#[must_use]
pub fn apart(one: f64, other: f64) -> [String; 2] {
    let decimals = (1..MOST_DECIMALS).find(|&d| figure(one, d) != figure(other, d)).unwrap_or(MOST_DECIMALS);
    let decimals = if one == other { 1 } else { decimals };
    [figure(one, decimals), figure(other, decimals)]
}

/// A figure of the catalogue, without its unit.
#[must_use]
pub fn shown<T>(of: &Figure<T>, value: f64) -> String {
    let plain = figure(value, of.decimals);
    let signed = of.unit == Unit::D && of.id.ends_with("power_d") && value > 0.0;
    if signed { format!("+{plain}") } else { plain }
}

/// The same text with ordinary spaces, for places where every sign is of one width, and for other programs.
#[must_use]
pub fn plain(text: &str) -> String {
    text.replace(THIN, " ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_look_the_same_everywhere() {
        assert_eq!(mm(-0.04), "0.0\u{202f}mm");
        assert_eq!(grams(-1.26), "−1.3\u{202f}g");
        assert_eq!((size(46.0), size(46.5), size(100.0)), ("46".into(), "46.5".into(), "100".into()));
        assert_eq!((power(-6.25), power(0.001), power(2.5)), ("−6.25".into(), "plano".into(), "+2.50".into()));
        assert_eq!((axis(5.0), axis(175.0), axis(7.5)), ("005".into(), "175".into(), "007.5".into()));
        assert_eq!(apart(0.96, 1.0), ["0.96", "1.00"]);
        assert_eq!(apart(0.8, 1.0), ["0.8", "1.0"]);
        assert_eq!(with_unit(12.4, 0, "°"), "12°");
    }
}
