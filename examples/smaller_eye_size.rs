//! What does a smaller eye size take off the thickest edge, and why?
#![expect(clippy::print_stdout, reason = "an example prints its answer")]

use rimwise::assess::Fit;
use rimwise::material::Shelf;
use rimwise::read;
use rimwise::study::compare::Comparison;

/// A job as a file would hold it: one frame in four eye sizes, one lens.
const JOB: &str = r#"
format = 1
prescription.right = { sphere = -6.25, pd_mm = 30.0 }
prescription.left = { sphere = -6.00, pd_mm = 30.5 }
frame = [{ name = "Fennel", shape = "oval", eye_sizes_mm = [54, 52, 50, 48], depth_mm = 40, bridge_mm = 18, rim = "metal" }]
lens = [{ name = "thin", material = "resin-1.60" }]
"#;

fn main() {
    print!("{}", answer());
}

/// The answer, as text.
pub(crate) fn answer() -> String {
    let job = read::job(JOB.as_bytes(), &Shelf::built_in()).value.expect("a sound job");
    let comparison = Comparison::of(&job);
    let mut text = String::from("eye size   thickest edge   pair mass   temporal reach   nasal reach (right eye)\n");
    for (_, fit) in comparison.offered() {
        text += &row(fit);
    }
    text
}

fn row(fit: &Fit<'_>) -> String {
    let pair = fit.pair().expect("this lens can be made");
    let reach = pair.eyes.right.centration.reach;
    format!(
        "{:5} mm {:12.1} mm {:9.1} g {:13.1} mm {:10.1} mm\n",
        fit.mounting.boxing.eye_size_mm,
        pair.edge_max_mm(),
        pair.mass_g(),
        reach.temporal_mm,
        reach.nasal_mm,
    )
}
