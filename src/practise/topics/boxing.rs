//! What a shape has beside its box: the effective diameter of a rectangle, the radii of an oval. Plain geometry of the
//! boxing system (ISO 8624).

use super::super::exercise::Scale;
use super::super::{Chance, Exercise, Form, Given, Mistake, Takes};
use super::{EYE_SIZE, mm};
use crate::draw::number::{figure, size};
use crate::math::angle::cos_sin_deg;

/// "What is the effective diameter of a rectangle?"
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Corners {
    /// mm.
    pub eye_size_mm: f64,
    /// mm.
    pub depth_mm: f64,
}

/// "How far is the outline of an oval from the middle?"
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OvalRadius {
    /// mm.
    pub eye_size_mm: f64,
    /// mm.
    pub depth_mm: f64,
    /// From the horizontal.
    pub direction_deg: f64,
}

pub(super) static FORMS: &[Form] = &[
    Form {
        find: "effective-diameter",
        takes: &[EYE_SIZE, mm("depth_mm", 15.0, 70.0)],
        pose: |given: &Given| {
            Ok(Corners { eye_size_mm: given.number("eye_size_mm"), depth_mm: given.number("depth_mm") }.exercise())
        },
    },
    Form {
        find: "radius",
        takes: &[EYE_SIZE, mm("depth_mm", 15.0, 70.0), Takes::number("direction_deg", "°", [0.0, 90.0], 1)],
        pose: |given: &Given| {
            let (eye_size_mm, depth_mm) = (given.number("eye_size_mm"), given.number("depth_mm"));
            Ok(OvalRadius { eye_size_mm, depth_mm, direction_deg: given.number("direction_deg") }.exercise())
        },
    },
];

/// Width and depth whose diagonal comes out well, mm.
const WELL: [(f64, f64); 14] = [
    (40.0, 30.0),
    (48.0, 36.0),
    (48.0, 20.0),
    (56.0, 33.0),
    (45.0, 28.0),
    (42.0, 40.0),
    (55.0, 48.0),
    (60.0, 32.0),
    (52.0, 39.0),
    (44.0, 33.0),
    (56.0, 42.0),
    (60.0, 45.0),
    (36.0, 27.0),
    (48.0, 14.0),
];

pub(super) fn any(level: u8, chance: &mut Chance) -> Exercise {
    let (eye_size_mm, depth_mm) = match level {
        1 => chance.one_of(&WELL),
        _ => (chance.on_grid(44.0, 58.0, 1.0), chance.on_grid(26.0, 40.0, 1.0)),
    };
    match level {
        3 => OvalRadius { eye_size_mm, depth_mm, direction_deg: chance.on_grid(15.0, 75.0, 5.0) }.exercise(),
        _ => Corners { eye_size_mm, depth_mm }.exercise(),
    }
}

impl Corners {
    /// The question with its answer.
    #[must_use]
    pub fn exercise(&self) -> Exercise {
        let (wide, deep) = (self.eye_size_mm, self.depth_mm);
        let right = wide.hypot(deep);
        let question = format!(
            "A rectangular lens with sharp corners, {} mm wide and {} mm deep. What is its effective diameter, which is twice \
             its longest radius from the boxed centre?",
            size(wide),
            size(deep)
        );
        Exercise::number(question, Scale::plain("mm", 1).within(0.1), right)
            .step(
                "longest radius, to a corner = √((width / 2)² + (depth / 2)²)",
                format!("√({}² + {}²)", size(0.5 * wide), size(0.5 * deep)),
                0.5 * right,
                (2, "mm"),
            )
            .slip(Mistake::AddedPlainly, wide + deep)
            .slip(Mistake::WidthForDiagonal, wide)
            .step("effective diameter = 2 × that", format!("2 × {}", figure(0.5 * right, 2)), right, (1, "mm"))
            .slip(Mistake::RadiusForDiameter, 0.5 * right)
    }
}

impl OvalRadius {
    /// The question with its answer.
    #[must_use]
    pub fn exercise(&self) -> Exercise {
        let (a, b, deg) = (0.5 * self.eye_size_mm, 0.5 * self.depth_mm, self.direction_deg);
        let (cosine, sine) = cos_sin_deg(deg);
        let root = (a * sine).hypot(b * cosine);
        let right = a * b / root;
        let question = format!(
            "An oval lens, an ellipse {} mm wide and {} mm deep. How far is its outline from the boxed centre, {}° from the \
             horizontal? To one decimal.",
            size(self.eye_size_mm),
            size(self.depth_mm),
            size(deg)
        );
        Exercise::number(question, Scale::plain("mm", 1).within(0.1), right)
            .step("a = half the width", format!("{} / 2", size(self.eye_size_mm)), a, (2, "mm"))
            .step("b = half the depth", format!("{} / 2", size(self.depth_mm)), b, (2, "mm"))
            .step(
                "√(a² sin² φ + b² sin² (90 − φ))",
                format!("√({}² × sin²({}) + {}² × sin²(90 − {}))", size(a), size(deg), size(b), size(deg)),
                root,
                (3, "mm"),
            )
            .slip(Mistake::FromTheVertical, a * b / (a * cosine).hypot(b * sine))
            .step("radius = a × b / that", format!("{} × {} / {}", size(a), size(b), figure(root, 3)), right, (1, "mm"))
            .slip(Mistake::ParametricAngle, (a * cosine).hypot(b * sine))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::outline::Outline;
    use kurbo::Vec2;

    /// The core's oval, walked out to along a ray.
    #[test]
    fn an_oval_is_as_far_out_as_its_outline() {
        let oval = Outline::ellipse(50.0, 36.0);
        for deg in [0.0, 10.0, 45.0, 80.0, 90.0] {
            let (mut near, mut far) = (0.0, 60.0);
            for _ in 0..60 {
                let middle = 0.5 * (near + far);
                let at = Vec2::from_angle(f64::to_radians(deg)) * middle;
                if oval.depth_inside_mm(at) > 0.0 { near = middle } else { far = middle }
            }
            let asked = OvalRadius { eye_size_mm: 50.0, depth_mm: 36.0, direction_deg: deg }.exercise();
            let super::super::super::Answer::Number(ours) = asked.answer else { panic!("a number") };
            assert!((ours - near).abs() < 1e-3, "{deg}: {ours} against {near}");
        }
    }
}
