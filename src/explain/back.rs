//! The back that goes with the centre thickness: powers and radii along the axis and across it, vertex powers, what a
//! lens measure reads.
//!
//! Units: dioptres, mm, 1/mm. Thickness and back are solved together; the lines show them where they have settled.

use super::expr::Expr;
use super::front::{Front, Lean};
use super::prescription::Rx;
use super::sheet::{Head, Section};
use super::{OURS, TEXTBOOK, Work};
use crate::figures::radius_mm;

const VERTEX_POWER: &str = "back vertex power, textbooks of ophthalmic lenses";
const LENS_MEASURE: &str = "lens measure marked at 1.530";

/// A curve of the back in one meridian.
#[derive(Clone)]
pub(super) struct Meridian {
    pub(super) curvature: Expr,
    /// `None` where it is plane.
    pub(super) radius: Option<Expr>,
}

/// Front and back, as the other parts want them.
pub(super) struct Back {
    pub(super) front: Front,
    pub(super) lean: Option<Lean>,
    /// Thickness at the reference point.
    pub(super) centre: Expr,
    pub(super) along: Meridian,
    /// Where there is a cylinder.
    pub(super) across: Option<Meridian>,
    /// Is the flatter curve the one along the axis?
    pub(super) flat_along: bool,
}

impl Work<'_> {
    pub(super) fn back(&mut self, rx: &Rx, front: Front, lean: Option<Lean>) -> Back {
        let lens = &self.made.lens;
        let sheet = &mut self.sheet;
        sheet.section = Section::Back;
        let inside = self.made.thickness.centre_mm.is_some();
        let meaning = if inside {
            "centre thickness, solved together with the back; what set it is worked further below"
        } else {
            "thickness that the surfaces would have at the reference point, which lies outside the shape"
        };
        let head = Head::new("back.centre", ("t", ""), meaning, "mm", OURS);
        let centre = sheet.searched(head, None, lens.centre_mm());
        if inside {
            self.sheet.figure("thickness.centre_mm");
        }
        let d = |id: &str, symbol, meaning: &str| Head::new(id, symbol, meaning, "D", VERTEX_POWER);
        let reduced = &centre / (1000.0 * &front.index);
        let arriving = self.sheet.worked(
            d("back.arriving", ("F′", "1"), "vergence of distant light as it reaches the back"),
            &front.power / (1.0 - &reduced * &front.power),
        );
        let [along_d, across_d] = lens.back_powers_d();
        let (words, thin) = ("power of the back along the axis", &rx.sphere - &front.power);
        let words = if rx.toric { words } else { "power of the back" };
        let head = d("back.power_along", ("F", "2"), words);
        let along_power = self.sheet.known(head, &rx.sphere - &arriving, along_d);
        self.sheet.by_hand("thin lens", thin);
        let across_power = rx.toric.then(|| {
            let head = d("back.power_across", ("F", "2x"), "power of the back across the axis");
            let line = self.sheet.known(head, &along_power + &rx.cylinder, across_d);
            self.sheet.by_hand("thin lens", &rx.sphere + &rx.cylinder - &front.power);
            line
        });
        let curvatures = lens.back_curvatures();
        let along = self.meridian("", &front, &along_power, curvatures[0]);
        let across = across_power.as_ref().map(|power| self.meridian("x", &front, power, curvatures[1]));
        self.vertex_powers(&front, &arriving, &reduced, &along_power);
        if self.made.recipe.front_curvature() != curvatures[0] {
            let (one, two) = (&front.curvature, &along.curvature);
            let head = Head::new("back.shape_factor", ("q", "s"), "shape factor, along the axis", "", TEXTBOOK);
            self.sheet.worked(head, (one + two) / (one - two));
        }
        let flat_along = curvatures[0].abs() <= curvatures[1].abs();
        Back { front, lean, centre, along, across, flat_along }
    }

    /// Radius and curvature from a power of the back, and what a lens measure reads on it.
    fn meridian(&mut self, below: &str, front: &Front, power: &Expr, curvature: f64) -> Meridian {
        let sheet = &mut self.sheet;
        let (where_, name) = if below.is_empty() { ("", "along") } else { (" across the axis", "across") };
        let symbol = format!("2{below}");
        let bend = Head::new(
            format!("back.curvature_{name}"),
            ("c", &symbol),
            format!("curvature of the back{where_}"),
            "1/mm",
            TEXTBOOK,
        );
        let line = sheet.known(bend, power / (1000.0 * (1.0 - &front.index)), curvature);
        let radius = radius_mm(curvature).map(|radius| {
            let meaning = format!("radius of the back{where_}");
            let head = Head::new(format!("back.radius_{name}"), ("r", &symbol), meaning, "mm", TEXTBOOK);
            sheet.known(head, 1000.0 * (1.0 - &front.index) / power, radius)
        });
        let meaning = format!("what a lens measure reads on the back{where_}");
        let head = Head::new(format!("back.reading_{name}"), ("L", &symbol), meaning, "D", LENS_MEASURE);
        sheet.worked(head, power * 0.53 / (&front.index - 1.0));
        Meridian { curvature: line, radius }
    }

    /// Nominal, front vertex and back vertex power along the axis: the last is what was prescribed.
    fn vertex_powers(&mut self, front: &Front, arriving: &Expr, reduced: &Expr, along: &Expr) {
        let d = |id: &str, symbol, meaning: &str| Head::new(id, symbol, meaning, "D", VERTEX_POWER);
        let sheet = &mut self.sheet;
        sheet.worked(d("back.nominal", ("F", "n"), "nominal power: the two surfaces added"), &front.power + along);
        sheet.worked(
            d("back.front_vertex", ("F", "fv"), "front vertex power"),
            &front.power + along / (1.0 - reduced * along),
        );
        sheet.worked(d("back.back_vertex", ("F", "bv"), "back vertex power: the sphere again"), arriving + along);
    }
}
