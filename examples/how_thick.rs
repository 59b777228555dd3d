//! How thick is one lens at the centre and round the edge, how heavy is it, and what set its thickness?
#![expect(clippy::print_stdout, reason = "an example prints its answer")]

use rimwise::eye::Eye;
use rimwise::figures;
use rimwise::material::Shelf;
use rimwise::read;
use rimwise::study::compare::Comparison;

/// A job as a file would hold it: a plus pair with prism in one frame.
const JOB: &str = r#"
format = 1
prescription.right = { sphere = 4.50, cylinder = -1.25, axis = 80, prism = [{ amount_pd = 2, base = "out" }], pd_mm = 32 }
prescription.left = { sphere = 4.25, pd_mm = 32.5 }
frame = [{ name = "Tansy", shape = "panto", eye_sizes_mm = [48], depth_mm = 42, bridge_mm = 20, rim = "metal" }]
lens = [{ name = "thin", material = "resin-1.60" }]
"#;

fn main() {
    print!("{}", answer());
}

/// The answer, as text.
pub(crate) fn answer() -> String {
    let job = read::job(JOB.as_bytes(), &Shelf::built_in()).value.expect("a sound job");
    let comparison = Comparison::of(&job);
    let pair = comparison.fits[0].pair().expect("this lens can be made");
    let right = pair.eyes.of(Eye::Right);
    let mut text = String::from("Right lens:\n");
    for id in ["thickness.centre_mm", "thickness.edge_max_mm", "thickness.edge_min_mm", "mass_g", "blank.minimum_mm"] {
        let figure = figures::of_eye(id).expect("a figure of the catalogue");
        let value = (figure.read)(right).map_or("none".to_owned(), |value| format!("{value:.*}", figure.decimals));
        text += &format!("{:16} {value:>5} {}\n", figure.name, figure.unit.symbol());
    }
    text += &format!(
        "base curve       {:>5} D, where the rule asks for {:.2} D\n",
        right.base.base_curve_d, right.base.wanted_d
    );
    text + &format!("its thickness is set by: {:?}\n", right.thickness.set_by)
}
