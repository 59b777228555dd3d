//! Numbers as they stand in pictures: figures for people, and coordinates for the writer.
//!
//! Units: those of the number given.

/// A figure for people: this many decimals, half away from zero, a true minus sign, never "−0". What is not finite is
/// a dash.
#[must_use]
pub fn figure(value: f64, decimals: usize) -> String {
    if !value.is_finite() {
        return "—".to_owned();
    }
    let scale = 10_f64.powi(i32::try_from(decimals).unwrap_or(0));
    let rounded = (value.abs() * scale).round() / scale;
    let sign = if value < 0.0 && rounded > 0.0 { "−" } else { "" };
    format!("{sign}{rounded:.decimals$}")
}

/// A size as it is written: as many decimals as it needs, two at the most.
#[must_use]
pub fn size(value: f64) -> String {
    let text = figure(value, 2);
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

/// A power in dioptres, as prescriptions write it: sign and two decimals, or "plano".
#[must_use]
pub fn power(value: f64) -> String {
    match figure(value, 2) {
        zero if zero == "0.00" => "plano".to_owned(),
        text if value > 0.0 => format!("+{text}"),
        text => text,
    }
}

/// An axis: three digits, no degree sign.
#[must_use]
pub fn axis(deg: f64) -> String {
    if deg.fract() == 0.0 { format!("{deg:03}") } else { format!("{deg:05.1}") }
}

/// What is left of one number on show when another on show is taken from it: a reader who subtracts finds the same.
#[must_use]
pub fn difference(from: f64, to: f64, decimals: usize) -> f64 {
    let scale = 10_f64.powi(i32::try_from(decimals).unwrap_or(0));
    let shown = |value: f64| value.signum() * (value.abs() * scale).round();
    (shown(from) - shown(to)) / scale
}

/// Thousandths of a millimetre, the grid that every coordinate is rounded to. What is not finite, or beyond any sheet,
/// is held at the edge of a sheet of 100 m, so that a picture is always valid.
#[must_use]
pub(super) fn thousandths(mm: f64) -> i64 {
    // A cast of a float saturates and takes NaN to 0.
    (mm * 1000.0).round().clamp(-1e8, 1e8) as i64
}

/// Writes thousandths as mm in the shortest form that SVG reads: no exponent, no "-0", no zero before the point.
pub(super) fn push_thousandths(out: &mut String, value: i64) {
    if value < 0 {
        out.push('-');
    }
    let (whole, rest) = (value.unsigned_abs() / 1000, value.unsigned_abs() % 1000);
    if whole > 0 || rest == 0 {
        out.push_str(&whole.to_string());
    }
    if rest > 0 {
        let digits = format!(".{rest:03}");
        out.push_str(digits.trim_end_matches('0'));
    }
}

/// Millimetres, written as coordinates are.
#[derive(Clone, Copy, Debug)]
pub(super) struct Mm(pub(super) f64);

impl maud::Render for Mm {
    fn render_to(&self, out: &mut String) {
        push_thousandths(out, thousandths(self.0));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use maud::Render;

    #[test]
    fn figures_are_rounded_for_people() {
        assert_eq!(figure(1.25, 1), "1.3");
        assert_eq!(figure(-1.25, 1), "−1.3");
        assert_eq!(figure(difference(3.649, 3.05, 1), 1), "0.5", "3.6 less 3.1");
        assert_eq!(figure(-0.04, 1), "0.0");
        assert_eq!(figure(-0.05, 1), "−0.1");
        assert_eq!(figure(12.0, 0), "12");
        assert_eq!(figure(f64::NAN, 1), "—");
    }

    #[test]
    fn coordinates_are_short_and_valid() {
        let written = |mm| Mm(mm).render().into_string();
        assert_eq!(written(0.0), "0");
        assert_eq!(written(-0.0001), "0");
        assert_eq!(written(0.5), ".5");
        assert_eq!(written(-0.25), "-.25");
        assert_eq!(written(12.3456), "12.346");
        assert_eq!(written(100.0), "100");
        assert_eq!(written(1e300), "100000");
        assert_eq!(written(f64::NAN), "0");
    }
}
