//! The blank of each lens, by plain geometry on points round the outline: it holds them all with what edging wants, and
//! nothing smaller on the list would.

use crate::support::Chance;
use kurbo::Vec2;
use rimwise::choose::base;
use rimwise::choose::blank::{ALLOWANCE_MM, NoBlank, blank};
use rimwise::choose::centre::Place;
use rimwise::choose::{LensOption, Substance, Supply};
use rimwise::eye::Eye;
use rimwise::frame::{Boxing, Centration};
use rimwise::material::{Material, Shelf};
use rimwise::outline::{Outline, Shape};
use rimwise::rx::Power;
use std::sync::Arc;

/// Points looked at round an outline.
const POINTS: usize = 720;
/// Between two of them an outline stands out by less than this, mm.
const BETWEEN_MM: f64 = 0.01;

/// A frame with its outline as points.
struct Frame {
    eye: Eye,
    boxing: Boxing,
    outline: Outline,
    points: Vec<Vec2>,
}

impl Frame {
    fn any(chance: &mut Chance) -> Frame {
        let shapes: Vec<Shape> = Shape::all().collect();
        let shape = chance.one_of(&shapes);
        let eye_size_mm = chance.within(42.0, 64.0);
        let depth_mm = if shape == Shape::Circle { eye_size_mm } else { eye_size_mm * chance.within(0.5, 0.95) };
        let boxing = Boxing { eye_size_mm, depth_mm, bridge_mm: chance.within(13.0, 24.0) };
        let eye = chance.one_of(&Eye::BOTH);
        let outline = shape.outline(eye, eye_size_mm, depth_mm);
        let period = outline.curve().period();
        let points = (0..POINTS).map(|i| outline.curve().jet(period * i as f64 / POINTS as f64).p).collect();
        Frame { eye, boxing, outline, points }
    }

    fn farthest(&self, from: Vec2) -> (f64, Vec2) {
        let far = |p: &Vec2| (*p - from).hypot();
        self.points
            .iter()
            .map(|p| (far(p), *p))
            .fold((0.0, from), |best, next| if next.0 > best.0 { next } else { best })
    }

    /// Radius of the smallest circle that holds the points: its middle walks toward the farthest of them, by steps that
    /// shrink (Bădoiu & Clarkson 2003).
    fn enclosing(&self) -> f64 {
        let mut middle = Vec2::ZERO;
        for step in 1..2_000 {
            middle += (self.farthest(middle).1 - middle) / f64::from(step + 1);
        }
        self.farthest(middle).0
    }
}

/// The diameters that the option comes in.
fn listed(material: &Material, supply: Supply, power: &Power, base_curve_d: f64) -> Vec<f64> {
    match supply {
        Supply::Stock => material.stock_for(power.sphere(), power.cylinder()).map(|row| row.diameters_mm.clone()),
        Supply::Surfaced => {
            let rows = material.semi_finished.iter();
            rows.clone().find(|row| row.base_curve_d == base_curve_d).map(|row| row.diameters_mm.clone())
        }
    }
    .expect("a base of the list")
}

#[test]
fn no_blank_is_too_small_and_none_is_beaten_by_a_smaller_one() {
    let mut chance = Chance(20);
    let shelf = Shelf::built_in();
    let frames: Vec<(Frame, f64)> = (0..200)
        .map(|_| {
            let frame = Frame::any(&mut chance);
            let enclosing = frame.enclosing();
            (frame, enclosing)
        })
        .collect();
    let (mut held, mut decentred, mut none) = (0, 0, 0);
    while held + decentred + none < 100_000 {
        let (frame, enclosing) = &frames[(chance.share() * frames.len() as f64) as usize];
        let material = &shelf.materials[(chance.share() * shelf.materials.len() as f64) as usize];
        let mut option = LensOption::new("any", Substance::Listed(Arc::clone(material)));
        option.supply = chance.one_of(&[Supply::Surfaced, Supply::Surfaced, Supply::Stock]);
        let power = Power::new(chance.within(-12.0, 8.0), chance.within(-4.0, 0.0), chance.within(0.0, 180.0));
        let Some(base) = base::alone(&option, &power) else { continue };
        let centration = Centration::new(&frame.boxing, chance.within(24.0, 38.0), chance.within(-4.0, 6.0));
        let reference = centration.point(frame.eye);
        let found = blank(&option, &power, base.base_curve_d, &Place::new(&frame.outline, reference));
        let all = listed(material, option.supply, &power, base.base_curve_d);
        let largest = all.iter().copied().fold(0.0, f64::max);
        // Twice the longest way, as far as the points tell: the outline itself may stand out a little more.
        let wanted = 2.0 * (frame.farthest(reference).0 + ALLOWANCE_MM);
        let round = 2.0 * (enclosing + ALLOWANCE_MM);
        let slack = 2.0 * BETWEEN_MM;
        match found {
            Ok(found) if !found.decentred => {
                let diameter = found.diameter_mm.expect("listed");
                assert!(diameter >= wanted - 1e-9, "{diameter} for {wanted}");
                let smaller = all.iter().copied().filter(|other| *other < diameter).fold(0.0, f64::max);
                assert!(smaller < wanted + slack, "{smaller} would do for {wanted}, and {diameter} was taken");
                held += 1;
            }
            Ok(found) => {
                let diameter = found.diameter_mm.expect("listed");
                assert!(diameter >= round - slack && option.supply == Supply::Surfaced, "{diameter} for {round}");
                assert!(diameter == largest && largest < wanted + slack, "{largest} would do for {wanted}");
                decentred += 1;
            }
            Err(NoBlank { largest_mm, .. }) => {
                let least = if option.supply == Supply::Stock { wanted } else { round };
                assert!(largest_mm == largest && largest < least + slack, "{largest} would do for {least}");
                none += 1;
            }
        }
    }
    assert!(held > 50_000 && decentred > 1_000 && none > 500, "{held} held, {decentred} decentred, {none} none");
}
