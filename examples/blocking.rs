//! How much thinner does the temporal edge of a decentred minus lens come out when it is blocked on the boxed centre
//! instead of the reference point?
//!
//! The program cuts parallel to the axis of the lens. A lens blocked on its boxed centre is cut parallel to the front's
//! normal there: seen from the edger it is the same lens rolled about the centre of curvature of its front. Units: mm.
#![expect(clippy::print_stdout, reason = "an example prints its answer")]

use rimwise::choose::base::vogel_d;
use rimwise::lens::Recipe;
use rimwise::rx::{Power, Prism};

const EYE_SIZE_MM: f64 = 50.0;
const IN_MM: f64 = 6.0;
const CENTRE_MM: f64 = 1.4;

fn main() {
    print!("{}", answer());
}

/// Nasal and temporal edge on the horizontal centre line: blocked on the reference point, then on the boxed centre.
pub(crate) fn edges(sphere: f64, base_curve_d: f64) -> [[f64; 2]; 2] {
    let recipe = Recipe { power: Power::spherical(sphere), prism: Prism::default(), index: 1.6, base_curve_d };
    let lens = recipe.at_centre(CENTRE_MM).expect("a minus lens focuses nowhere inside");
    let (c1, c2) = (recipe.front_curvature(), lens.back_curvatures()[0]);
    // x from the boxed centre, the nose at +x.
    let sides = [0.5 * EYE_SIZE_MM, -0.5 * EYE_SIZE_MM];
    let sag = |c: f64, x: f64| c * x * x / (1.0 + (1.0 - c * c * x * x).sqrt());
    let reference = sides.map(|x| CENTRE_MM + sag(c2, x - IN_MM) - sag(c1, x - IN_MM));
    // Rolled by θ, sin θ = c1 · in, the front keeps its place; the centre of the back goes with the axis of the lens.
    let sin = c1 * IN_MM;
    let cos = (1.0 - sin * sin).sqrt();
    let (r1, r2) = (1.0 / c1, 1.0 / c2);
    let between = CENTRE_MM + r2 - r1;
    let (x2, z2) = (-between * sin, r1 + between * cos);
    let boxed = sides.map(|x| z2 - (r2 * r2 - (x - x2).powi(2)).sqrt() - sag(c1, x));
    [reference, boxed]
}

/// The answer, as text.
pub(crate) fn answer() -> String {
    let mut text = format!(
        "{IN_MM} mm in, eye size {EYE_SIZE_MM}, index 1.6, centre {CENTRE_MM} mm; edges in mm\n\
         sphere  base   temporal: reference  boxed  change   nasal: reference  boxed  change\n"
    );
    for sphere in [-4.0, -6.0, -8.0] {
        for base_curve_d in [1.0, 4.0, 6.0] {
            let [[nasal, temporal], [nasal_boxed, temporal_boxed]] = edges(sphere, base_curve_d);
            let (more, less) = (nasal_boxed - nasal, temporal_boxed - temporal);
            text += &format!("{sphere:6.2} {base_curve_d:5.1} {temporal:20.2} {temporal_boxed:6.2} {less:+7.2}");
            text += &format!(" {nasal:18.2} {nasal_boxed:6.2} {more:+7.2}\n");
        }
        let [[_, temporal], [_, boxed]] = edges(sphere, vogel_d(sphere));
        text += &format!("{sphere:6.2} on the base of Vogel's rule, {}: {:+.2}\n", vogel_d(sphere), boxed - temporal);
    }
    text
}
