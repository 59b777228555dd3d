//! What is prescribed: both forms, spherical equivalent, power across and upright.
//!
//! Units: dioptres, degrees, prism dioptres.

use super::expr::{Expr, Function};
use super::sheet::{Head, Section};
use super::{AXES, GIVEN, TEXTBOOK, Work};

const THIBOS: &str = "Thibos, Wheeler & Horner 1997";

/// What the other parts want of the prescription.
pub(super) struct Rx {
    pub(super) sphere: Expr,
    pub(super) cylinder: Expr,
    pub(super) equivalent: Expr,
    /// Cosine and sine of the axis.
    pub(super) cos: Expr,
    pub(super) sin: Expr,
    /// Is there a cylinder?
    pub(super) toric: bool,
    /// Prism toward its base, to the observer's right and upward, where there is any.
    pub(super) prism: Option<[Expr; 2]>,
}

impl Work<'_> {
    pub(super) fn prescription(&mut self) -> Rx {
        let rx = self.fit.prescription.eyes.of(self.eye);
        let power = rx.power;
        let toric = power.cylinder() != 0.0;
        let sheet = &mut self.sheet;
        sheet.section = Section::Prescription;
        let d = |id: &str, symbol, meaning: &str, source| Head::new(id, symbol, meaning, "D", source);
        let deg = |id: &str, symbol, meaning: &str| Head::new(id, symbol, meaning, "°", AXES);
        let sphere = sheet.given(d("rx.sphere", ("S", ""), "sphere, in minus-cylinder form", GIVEN), power.sphere());
        let cylinder =
            sheet.given(d("rx.cylinder", ("C", ""), "cylinder, in minus-cylinder form", GIVEN), power.cylinder());
        let axis = sheet.given(deg("rx.axis", ("α", ""), "its axis"), power.axis());
        if toric {
            let (plus_sphere, plus_cylinder, plus_axis) = power.plus_form();
            let plus = |id: &str, symbol, meaning: &str| d(id, symbol, meaning, TEXTBOOK);
            sheet.known(
                plus("rx.plus_sphere", ("S′", ""), "transposed: sphere in plus-cylinder form"),
                &sphere + &cylinder,
                plus_sphere,
            );
            sheet.known(plus("rx.plus_cylinder", ("C′", ""), "transposed: cylinder"), -&cylinder, plus_cylinder);
            let turned = if power.axis() > 90.0 { &axis - 90.0 } else { &axis + 90.0 };
            sheet.known(deg("rx.plus_axis", ("α′", ""), "transposed: axis"), turned, plus_axis);
        }
        let equivalent = sheet.known(
            d("rx.spherical_equivalent", ("M", ""), "spherical equivalent", TEXTBOOK),
            &sphere + &cylinder / 2.0,
            power.spherical_equivalent(),
        );
        if toric {
            let (vector, double) = (power.vector(), 2.0 * &axis);
            let part = |id: &str, below, meaning: &str| d(id, ("J", below), meaning, THIBOS);
            let straight = part("rx.j0", "0", "power vector: cylinder with the rule and against it");
            let half = -(&cylinder / 2.0);
            sheet.known(straight, half.clone() * double.clone().under(Function::Cosine), vector.j0);
            let oblique = part("rx.j45", "45", "power vector: oblique cylinder");
            sheet.known(oblique, half * double.under(Function::Sine), vector.j45);
        }
        let along = |deg: f64| &sphere + &cylinder * (deg - &axis).under(Function::Sine).squared();
        let level = d("rx.power_180", ("F", "180"), "power along the horizontal", TEXTBOOK);
        sheet.known(level, along(180.0), power.along(180.0));
        let upright = d("rx.power_90", ("F", "90"), "power along the vertical", TEXTBOOK);
        sheet.known(upright, along(90.0), power.along(90.0));
        let bare = |id: &str, symbol, meaning: &str| Head::new(id, symbol, meaning, "", AXES);
        let cosine = axis.clone().under(Function::Cosine);
        let cos = sheet.worked(bare("rx.axis_cosine", ("a", "x"), "the axis, across"), cosine);
        let sin = sheet.worked(bare("rx.axis_sine", ("a", "y"), "the axis, upward"), axis.under(Function::Sine));
        let prism = (!rx.prism.is_none()).then(|| {
            let pd = |id: &str, symbol, meaning: &str| Head::new(id, symbol, meaning, "Δ", GIVEN);
            let right = pd("rx.prism_right", ("P", "x"), "prism, base to the observer's right");
            let up = pd("rx.prism_up", ("P", "y"), "prism, base up");
            [sheet.given(right, rx.prism.x_pd), sheet.given(up, rx.prism.y_pd)]
        });
        Rx { sphere, cylinder, equivalent, cos, sin, toric, prism }
    }
}
