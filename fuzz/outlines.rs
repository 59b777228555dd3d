//! Outline files made of chance, and what has to hold of every one, through to the last picture.
//!
//! The fuzz target and the tests share this file, as they do `jobs.rs`.

use super::jobs;
use arbitrary::{Result, Unstructured};
use rimwise::job::{Judged, Outlines};
use rimwise::outline::Measured;
use rimwise::read;
use rimwise::report::findings::sentence;
use std::f64::consts::TAU;
use std::fmt::Write as _;
use std::sync::Arc;

/// One outline, whatever it is called.
struct Only(Judged<Arc<Measured>>);

impl Outlines for Only {
    fn named(&self, _: &str) -> Judged<Arc<Measured>> {
        self.0.clone()
    }
}

/// A job with the outline at its measured size and at two others.
const JOB: &str = r#"
format = 1
prescription.right = { sphere = -4.5, cylinder = -1.25, axis = 20, pd_mm = 31 }
prescription.left = { sphere = 3.0, pd_mm = 32.5 }
frame = [
    { name = "Fennel", outline = "it", bridge_mm = 18, rim = "metal" },
    { name = "Teasel", outline = "it", eye_sizes_mm = [46, 52], bridge_mm = 18, rim = "supra" },
]
lens = [{ name = "thin", material = "resin-1.60" }]
"#;

/// An outline file, mostly sound: a lopsided oval, its radii rounded as they would be, now and then with a slip.
pub(crate) fn written(u: &mut Unstructured<'_>) -> Result<String> {
    let count = *u.choose(&[24_u16, 36, 72, 120, 400])?;
    let mut share = || Ok::<f64, arbitrary::Error>(f64::from(u.int_in_range(0..=1000_u16)?) / 1000.0);
    let (a, b) = (18.0 + 14.0 * share()?, 11.0 + 16.0 * share()?);
    let bumps = [0.08 * share()?, 0.05 * share()?, 0.03 * share()?, TAU * share()?];
    let radius = |angle: f64| {
        let oval = a * b / (b * angle.cos()).hypot(a * angle.sin());
        let bump = |k: f64, size: f64| size * (k * angle + bumps[3]).cos();
        oval * (1.0 + bump(1.0, bumps[0]) + bump(2.0, bumps[1]) + bump(5.0, bumps[2]))
    };
    let mut radii: Vec<f64> = (0..count).map(|i| radius(TAU * f64::from(i) / f64::from(count))).collect();
    if u.ratio(1, 6)? {
        let at = u.choose_index(radii.len())?;
        radii[at] *= *u.choose(&[-1.0, 0.0, 0.1, 0.9, 1.1, 10.0, 1e9])?;
    }
    let records = u.arbitrary()?;
    let mut text = if records { format!("TRCFMT=1;{count};E;R;F\n") } else { "angle_deg,radius_mm\n".to_owned() };
    for (i, radius) in radii.iter().enumerate() {
        let _ = if records {
            writeln!(text, "R={:.0}", 100.0 * radius)
        } else {
            writeln!(text, "{},{radius:.2}", 360.0 * i as f64 / f64::from(count))
        };
    }
    if u.ratio(1, 8)? {
        let mut at = u.choose_index(text.len())?;
        while !text.is_char_boundary(at) {
            at -= 1;
        }
        let put: String = u.arbitrary::<&str>()?.chars().take(12).collect();
        text.insert_str(at, &put);
    }
    Ok(text)
}

/// Judges whatever the bytes say, and works lenses in it. `draw` asks for the report too. Says how far it came.
///
/// # Panics
/// Where something does not hold.
#[must_use]
pub(crate) fn worked(bytes: &[u8], draw: bool) -> jobs::Came {
    let judged = read::outline::outline("outline", bytes);
    let faults = judged.findings.iter().filter(|finding| finding.is_fault()).count();
    assert_eq!(judged.value.is_some(), faults == 0, "an outline or a fault");
    for finding in &judged.findings {
        jobs::readable("what is wrong", &unquoted(&sentence(finding, None)));
    }
    jobs::worked_with(JOB.as_bytes(), draw, &Only(judged))
}

/// What the program says itself, without what it quotes from the file.
fn unquoted(text: &str) -> String {
    match (text.find('"'), text.rfind('"')) {
        (Some(from), Some(to)) if from < to => format!("{}{}", &text[..from], &text[to + 1..]),
        _ => text.to_owned(),
    }
}
