//! Cylinders crossed at any angle: the spherical equivalent, and the one power that two thin lenses make, by power vectors
//! (Thibos, Wheeler & Horner 1997), which a pocket calculator adds.

use super::super::exercise::Scale;
use super::super::{Answer, Chance, Exercise, Form, Given, Mistake};
use super::{AXIS, CYLINDER, OTHER_AXIS, OTHER_CYLINDER, OTHER_SPHERE, SPHERE, bracketed, written};
use crate::draw::number::size;
use crate::math::angle::cos_sin_deg;
use crate::rx::Power;

/// "What is the spherical equivalent?"
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Equivalent {
    /// Sphere, cylinder, axis.
    pub rx: [f64; 3],
}

/// "Which one power do two thin lenses make?"
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Crossed {
    /// Sphere, cylinder, axis.
    pub one: [f64; 3],
    /// The same.
    pub other: [f64; 3],
}

/// Rounding on the way through six lines, D.
const TOLERANCE_D: f64 = 0.02;
/// With less cylinder than this there is no axis to speak of, D.
const LEAST_CYLINDER_D: f64 = 0.05;
/// A part of the vector below this is shown as nought, D.
const NOUGHT_D: f64 = 5e-5;

pub(super) static FORMS: &[Form] = &[
    Form {
        find: "spherical-equivalent",
        takes: &[SPHERE, CYLINDER, AXIS.or("180")],
        pose: |given| Ok(Equivalent { rx: given.power("") }.exercise()),
    },
    Form {
        find: "sum",
        takes: &[SPHERE.or("0"), CYLINDER, AXIS, OTHER_SPHERE.or("0"), OTHER_CYLINDER, OTHER_AXIS],
        pose,
    },
];

fn pose(given: &Given) -> Result<Exercise, String> {
    let asked = Crossed { one: given.power(""), other: given.power("other_") };
    if asked.sum().cylinder().abs() < LEAST_CYLINDER_D {
        return Err("the two cylinders undo one another: what is left is a sphere, without an axis".to_owned());
    }
    Ok(asked.exercise())
}

pub(super) fn any(level: u8, chance: &mut Chance) -> Exercise {
    let mut cylinder = || chance.on_grid(0.5, 3.0, 0.5) * chance.one_of(&[-1.0, 1.0]);
    let (first, second) = (cylinder(), cylinder());
    if level == 1 {
        return Equivalent { rx: [chance.on_grid(-6.0, 6.0, 0.25), first, chance.on_grid(5.0, 180.0, 5.0)] }.exercise();
    }
    let axis = chance.on_grid(5.0, 180.0, 5.0);
    let apart = if level == 2 { chance.one_of(&[30.0, 45.0, 60.0]) } else { chance.on_grid(20.0, 70.0, 5.0) };
    let crossed = axis + apart;
    let other_axis = if crossed > 180.0 { crossed - 180.0 } else { crossed };
    let spheres = if level == 2 { [0.0; 2] } else { [chance.quarters(-4.0, 4.0), chance.quarters(-2.0, 2.0)] };
    Crossed { one: [spheres[0], first, axis], other: [spheres[1], second, other_axis] }.exercise()
}

impl Equivalent {
    /// The question with its answer.
    #[must_use]
    pub fn exercise(&self) -> Exercise {
        let [sphere, cylinder, deg] = self.rx;
        let right = Power::new(sphere, cylinder, deg).spherical_equivalent();
        let question = format!("{}: what is its spherical equivalent?", written(self.rx));
        Exercise::number(question, Scale::plain("D", 2).within(0.006).signed(), right)
            .step("half the cylinder", format!("{} / 2", bracketed(cylinder, 2)), 0.5 * cylinder, (3, "D"))
            .slip(Mistake::WholeCylinder, sphere + cylinder)
            .step(
                "M = sphere + half the cylinder",
                format!("{} + {}", bracketed(sphere, 2), bracketed(0.5 * cylinder, 3)),
                right,
                (3, "D"),
            )
            .slip(Mistake::CylinderSign, sphere - 0.5 * cylinder)
    }
}

/// The minus form of a power vector.
fn of_vector(m: f64, j0: f64, j45: f64) -> [f64; 3] {
    let cylinder = -2.0 * j0.hypot(j45);
    [m - 0.5 * cylinder, cylinder, turned(0.5 * j45.atan2(j0).to_degrees())]
}

/// An axis in (0, 180].
fn turned(deg: f64) -> f64 {
    let axis = deg.rem_euclid(180.0);
    if axis == 0.0 { 180.0 } else { axis }
}

impl Crossed {
    fn sum(&self) -> Power {
        let of = |[sphere, cylinder, deg]: [f64; 3]| Power::new(sphere, cylinder, deg);
        of(self.one).plus(&of(self.other))
    }

    /// J0 and J45 as a mistake would add them: angles taken so many times.
    fn parts(&self, times: f64) -> [f64; 2] {
        let of = |[_, cylinder, deg]: [f64; 3]| {
            let (cosine, sine) = cos_sin_deg(times * deg);
            [-0.5 * cylinder * cosine, -0.5 * cylinder * sine]
        };
        let (one, other) = (of(self.one), of(self.other));
        [one[0] + other[0], one[1] + other[1]]
    }

    /// One part of the vector, as it is added.
    fn line(&self, function: &str) -> String {
        let term =
            |[_, cylinder, deg]: [f64; 3]| format!("{} / 2 × {function}({})", bracketed(cylinder, 2), size(2.0 * deg));
        format!("0 − {} − {}", term(self.one), term(self.other))
    }

    /// The question with its answer.
    #[must_use]
    pub fn exercise(&self) -> Exercise {
        let (sum, one, other) = (self.sum(), self.one, self.other);
        let (vector, right) = (sum.vector(), [sum.sphere(), sum.cylinder(), sum.axis()]);
        let power = |sphere, cylinder, deg| Answer::Power([sphere, cylinder, deg]);
        let [m, j0, j45] = [vector.m, vector.j0, vector.j45];
        let question = format!(
            "Two thin lenses in contact: {} and {}. Which one power do they make? Write it with a minus cylinder, powers to \
             two decimals, the axis to a whole degree.",
            written(one),
            written(other)
        );
        let [single0, single45] = self.parts(1.0);
        let made = Exercise::power(question, TOLERANCE_D, right)
            .step(
                "M = spheres + half the cylinders",
                format!(
                    "{} + {} / 2 + {} + {} / 2",
                    bracketed(one[0], 2),
                    bracketed(one[1], 2),
                    bracketed(other[0], 2),
                    bracketed(other[1], 2)
                ),
                m,
                (3, "D"),
            )
            .wrong(Mistake::NotAlongOneAxis, power(one[0] + other[0], one[1] + other[1], one[2]))
            .step("J0: of each −C/2 × cos(2 × axis)", self.line("cos"), j0, (4, "D"))
            .step("J45: of each −C/2 × sin(2 × axis)", self.line("sin"), j45, (4, "D"))
            .wrong(Mistake::AngleNotDoubled, Answer::Power(of_vector(m, single0, single45)))
            .step(
                "C = −2 √(J0² + J45²)",
                format!("0 − 2 × √({}² + {}²)", bracketed(j0, 4), bracketed(j45, 4)),
                right[1],
                (3, "D"),
            )
            .wrong(Mistake::CylinderHalved, power(m - 0.25 * right[1], 0.5 * right[1], right[2]))
            .step("S = M − C/2", format!("{} − {} / 2", bracketed(m, 3), bracketed(right[1], 3)), right[0], (3, "D"))
            .wrong(Mistake::MeanForSphere, power(m, right[1], right[2]))
            .wrong(Mistake::CylinderSign, power(right[0], -right[1], right[2]));
        let (formula, numbers) = angle(j0, j45);
        made.step(formula, numbers, right[2], (1, "°"))
            .wrong(Mistake::AxisNotHalved, power(right[0], right[1], turned(2.0 * right[2])))
    }
}

/// The line of the axis: half the angle whose tangent is J45/J0, in the quarter that both signs tell.
fn angle(j0: f64, j45: f64) -> (&'static str, String) {
    let tangent = format!("atan({} / {})", bracketed(j45, 4), bracketed(j0, 4));
    if j0.abs() < NOUGHT_D {
        return match j45 > 0.0 {
            true => ("J0 is nought, J45 plus: 2 × axis = 90", "90 / 2".to_owned()),
            false => ("J0 is nought, J45 minus: 2 × axis = 270", "270 / 2".to_owned()),
        };
    }
    match (j0 > 0.0, j45 > 0.0) {
        (true, true) => ("2 × axis = the angle of the tangent J45/J0", format!("{tangent} / 2")),
        (false, _) => {
            ("2 × axis = the angle of the tangent J45/J0, and 180, since J0 is minus", format!("({tangent} + 180) / 2"))
        }
        (true, false) => (
            "2 × axis = the angle of the tangent J45/J0, and 360, since J45 is not plus",
            format!("({tangent} + 360) / 2"),
        ),
    }
}
