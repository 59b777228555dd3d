//! Does a lens worked by hand, with nothing but the sag formula, agree with the program?
//!
//! −5.00, index 1.6, base curve 4.00, centre 1.5 mm, cut to a circle of 50 mm with its optical centre in the middle.
#![expect(clippy::print_stdout, reason = "an example prints its answer")]

use kurbo::Vec2;
use rimwise::lens::Recipe;
use rimwise::rx::{Power, Prism};

fn main() {
    print!("{}", answer());
}

/// Edge thickness in mm, by hand and by the program.
pub(crate) fn edges_mm() -> (f64, f64) {
    let (power, index, base, centre_mm, half_mm) = (-5.0, 1.6, 4.0, 1.5, 25.0_f64);
    // Front: marked at 1.530, so its radius is 530/4 mm and its true power (1.6 − 1) · 1000/r.
    let r1: f64 = 530.0 / base;
    let f1 = (index - 1.0) * 1000.0 / r1;
    // Light has gained vergence on its way through; the back makes up the rest.
    let arriving = f1 / (1.0 - centre_mm / 1000.0 / index * f1);
    let r2: f64 = (1.0 - index) * 1000.0 / (power - arriving);
    let sag = |r: f64| r - (r * r - half_mm * half_mm).sqrt();
    let by_hand = centre_mm + sag(r2) - sag(r1);

    let recipe = Recipe { power: Power::spherical(power), prism: Prism::default(), index, base_curve_d: base };
    let lens = recipe.at_centre(centre_mm).expect("a minus lens focuses nowhere inside");
    (by_hand, lens.thickness(Vec2::new(half_mm, 0.0)).expect("both surfaces reach the edge"))
}

/// The answer, as text.
pub(crate) fn answer() -> String {
    let (by_hand, by_program) = edges_mm();
    format!("edge by hand {by_hand:.6} mm, by the program {by_program:.6} mm\n")
}
