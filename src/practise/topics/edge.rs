//! Edge thickness of a minus lens and centre thickness of a plus lens.

use super::super::exercise::Scale;
use super::super::{Chance, Exercise, Form, Mistake, Takes};
use super::decentration::marked;
use super::sag::sag;
use super::vertex_power::{arriving_d, recipe};
use super::{BRIDGE, CENTRE, DIAMETER, EYE_SIZE, INDEX, PD, dioptres};
use crate::assess::{Made, Mounting, make};
use crate::choose::{LensOption, Substance, base};
use crate::draw::number::{figure, power, size};
use crate::eye::Eye;
use crate::frame::{Boxing, Frame};
use crate::lens::TOOLING_INDEX;
use crate::light::ReferenceLine;
use crate::material::Glass;
use crate::outline::Shape;
use crate::rim::Rim;
use crate::rx::{EyeRx, Power, Prism};

/// "How thick is the temporal edge?"
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MinusEdge {
    /// D, minus.
    pub power_d: f64,
    /// Of the lens.
    pub index: f64,
    /// As marked at 1.530; 0 is a plane front.
    pub base_curve_d: f64,
    /// The least centre, which is the centre of a minus lens.
    pub centre_mm: f64,
    /// Of the frame, or the uncut: then without bridge to speak of.
    pub boxing: Boxing,
    /// Of this eye; `None` for a round uncut with its optical centre in the middle.
    pub pd_mm: Option<f64>,
}

/// "How thick is the centre of this plano-convex uncut?"
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlusCentre {
    /// True power of the front, D.
    pub front_d: f64,
    /// Of the lens.
    pub index: f64,
    /// mm.
    pub diameter_mm: f64,
    /// mm.
    pub edge_mm: f64,
}

/// "How thick is the edge of this round uncut?" of two curves that are given.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TwoCurves {
    /// True powers of front, plus, and back, minus, D.
    pub surfaces_d: [f64; 2],
    /// Of the lens.
    pub index: f64,
    /// mm.
    pub centre_mm: f64,
    /// mm.
    pub diameter_mm: f64,
}

const MINUS: Takes = dioptres("power_d", -30.0, -0.25);
const BASE: Takes = dioptres("base_curve_d", 0.0, 16.0).or("0");
/// Centres that an order can ask for.
const LEAST_CENTRE: Takes = Takes::number("centre_mm", "mm", [0.3, 8.0], 1);

pub(super) static FORMS: &[Form] = &[
    Form {
        find: "edge",
        takes: &[MINUS, INDEX, BASE, LEAST_CENTRE, Takes::number("diameter_mm", "mm", [30.0, 70.0], 1)],
        pose: |given| {
            let [power_d, index, base_curve_d, centre_mm, diameter_mm] =
                ["power_d", "index", "base_curve_d", "centre_mm", "diameter_mm"].map(|key| given.number(key));
            let boxing = uncut(diameter_mm);
            Ok(MinusEdge { power_d, index, base_curve_d, centre_mm, boxing, pd_mm: None }.exercise())
        },
    },
    Form {
        find: "edge",
        takes: &[MINUS, INDEX, BASE, LEAST_CENTRE, EYE_SIZE, BRIDGE, PD],
        pose: |given| {
            let [power_d, index, base_curve_d, centre_mm] =
                ["power_d", "index", "base_curve_d", "centre_mm"].map(|key| given.number(key));
            let [eye_size_mm, bridge_mm, pd_mm] = ["eye_size_mm", "bridge_mm", "pd_mm"].map(|key| given.number(key));
            // The horizontal centre line is the same in an oval of any depth.
            let boxing = Boxing { eye_size_mm, depth_mm: 0.8 * eye_size_mm, bridge_mm };
            Ok(MinusEdge { power_d, index, base_curve_d, centre_mm, boxing, pd_mm: Some(pd_mm) }.exercise())
        },
    },
    Form {
        find: "edge",
        takes: &[dioptres("front_d", 0.25, 30.0), dioptres("back_d", -40.0, -0.25), INDEX, CENTRE, DIAMETER],
        pose: |given| {
            let surfaces_d = ["front_d", "back_d"].map(|key| given.number(key));
            let [index, centre_mm, diameter_mm] = ["index", "centre_mm", "diameter_mm"].map(|key| given.number(key));
            Ok(TwoCurves { surfaces_d, index, centre_mm, diameter_mm }.exercise())
        },
    },
    Form {
        find: "centre",
        takes: &[dioptres("front_d", 0.25, 30.0), INDEX, DIAMETER, Takes::number("edge_mm", "mm", [0.0, 10.0], 1)],
        pose: |given| {
            let [front_d, index, diameter_mm, edge_mm] =
                ["front_d", "index", "diameter_mm", "edge_mm"].map(|key| given.number(key));
            Ok(PlusCentre { front_d, index, diameter_mm, edge_mm }.exercise())
        },
    },
];

/// What a lens is made of and for, by its numbers.
pub(super) struct Order {
    pub(super) power_d: f64,
    pub(super) index: f64,
    pub(super) base_curve_d: f64,
    pub(super) centre_mm: f64,
    pub(super) edge_mm: f64,
    pub(super) shape: Shape,
    pub(super) boxing: Boxing,
    pub(super) pd_mm: f64,
}

impl Order {
    /// The right lens, as the core makes it.
    pub(super) fn made(&self) -> Option<Made> {
        // Neither the Abbe number nor the density bears on a thickness.
        let glass = Glass::new(self.index, 40.0, 1.3, ReferenceLine::D);
        let mut option = LensOption::new("asked", Substance::Inline(glass));
        option.base_curve_d = Some(self.base_curve_d);
        option.min_centre_mm = Some(self.centre_mm);
        option.min_edge_mm = Some(self.edge_mm);
        let frame = Frame::new("asked", self.shape, vec![self.boxing], Rim::Metal);
        let rx = EyeRx { power: Power::spherical(self.power_d), prism: Prism::default(), pd_mm: self.pd_mm, add: None };
        let mounting = Mounting::new(&frame, self.boxing);
        make(&mounting.ask(Eye::Right, &rx, ReferenceLine::D, &option, base::alone(&option, &rx.power))).ok()
    }
}

/// The uncut of a diameter.
fn uncut(diameter_mm: f64) -> Boxing {
    Boxing { eye_size_mm: diameter_mm, depth_mm: diameter_mm, bridge_mm: 18.0 }
}

/// Index, power and half the diameter at which the root of the sag comes out well.
const WELL: [(f64, f64, f64); 9] = [
    (1.5, 5.0, 28.0),
    (1.5, 4.0, 35.0),
    (1.5, 8.0, 17.5),
    (1.6, 6.0, 28.0),
    (1.6, 8.0, 21.0),
    (1.5, 10.0, 14.0),
    (1.7, 7.0, 28.0),
    (1.6, 12.0, 14.0),
    (1.8, 8.0, 28.0),
];

pub(super) fn any(level: u8, chance: &mut Chance) -> Exercise {
    let centre_mm = chance.one_of(&[1.0, 1.2, 1.4, 1.5, 1.8, 2.0]);
    if level == 1 {
        let (index, power, half) = chance.one_of(&WELL);
        return if chance.yes() {
            let boxing = uncut(2.0 * half);
            MinusEdge { power_d: -power, index, base_curve_d: 0.0, centre_mm, boxing, pd_mm: None }.exercise()
        } else {
            PlusCentre { front_d: power, index, diameter_mm: 2.0 * half, edge_mm: centre_mm - 0.4 }.exercise()
        };
    }
    if level == 3 && chance.yes() {
        let surfaces_d = [chance.on_grid(2.0, 6.0, 0.5), -chance.on_grid(7.0, 11.0, 0.5)];
        let index = chance.one_of(&[1.5, 1.6, 1.67]);
        return TwoCurves { surfaces_d, index, centre_mm, diameter_mm: chance.on_grid(44.0, 56.0, 2.0) }.exercise();
    }
    let eye_size_mm = chance.on_grid(46.0, 54.0, 2.0);
    let boxing = Boxing { eye_size_mm, depth_mm: 38.0, bridge_mm: chance.on_grid(16.0, 20.0, 2.0) };
    let pd_mm = Some(0.5 * boxing.centre_distance_mm() - chance.on_grid(2.0, 6.0, 0.5));
    let index = chance.one_of(&[1.5, 1.6, 1.67, 1.74]);
    let (power_d, base_curve_d) = match level {
        2 => (-chance.on_grid(3.0, 8.0, 0.5), 0.0),
        _ => (-chance.on_grid(3.0, 7.0, 0.25), chance.one_of(&[2.0, 3.0, 4.0])),
    };
    MinusEdge { power_d, index, base_curve_d, centre_mm, boxing, pd_mm }.exercise()
}

impl MinusEdge {
    fn order(&self) -> Order {
        let Boxing { eye_size_mm, bridge_mm, .. } = self.boxing;
        Order {
            power_d: self.power_d,
            index: self.index,
            base_curve_d: self.base_curve_d,
            centre_mm: self.centre_mm,
            // Of no account: the edge is the thicker.
            edge_mm: 0.3,
            shape: if self.pd_mm.is_some() { Shape::Oval } else { Shape::Circle },
            boxing: self.boxing,
            pd_mm: self.pd_mm.unwrap_or(0.5 * (eye_size_mm + bridge_mm)),
        }
    }

    fn question(&self) -> String {
        let front = match self.base_curve_d {
            0.0 => "a plane front".to_owned(),
            base => format!("base curve {} at 1.530", size(base)),
        };
        let lens =
            format!("{}, index {}, {front}, centre {} mm", power(self.power_d), self.index, figure(self.centre_mm, 1));
        match self.pd_mm {
            None => format!(
                "A round uncut of {} mm: {lens}. How thick is its edge? To one decimal.",
                size(self.boxing.eye_size_mm)
            ),
            Some(pd) => format!(
                "An oval lens: {}, pd of this eye {} mm. {lens}. How thick is the temporal edge, on the horizontal centre \
                 line? To one decimal.",
                marked(&self.boxing),
                size(pd)
            ),
        }
    }

    /// The question with its answer.
    #[must_use]
    pub fn exercise(&self) -> Exercise {
        let made = self.order().made();
        let right = made.as_ref().map_or(f64::NAN, |made| made.thickness.temporal_mm);
        let exercise = Exercise::number(self.question(), Scale::plain("mm", 1).within(0.1), right);
        let Some(made) = made else { return exercise };
        let (exercise, y) = self.reach(exercise, &made);
        let (exercise, front, radius) = self.radii(exercise, &made);
        self.sags(exercise, y, front, radius, right)
    }

    /// How far it reaches from the optical centre.
    fn reach(&self, exercise: Exercise, made: &Made) -> (Exercise, f64) {
        let Boxing { eye_size_mm, bridge_mm, .. } = self.boxing;
        let y = made.centration.reach.temporal_mm;
        let exercise = match self.pd_mm {
            None => exercise.step("y = half the diameter", format!("{} / 2", size(eye_size_mm)), y, (2, "mm")),
            Some(pd) => exercise.step(
                "y = temporal reach = eye size + half the bridge − pd",
                format!("{} + {} / 2 − {}", size(eye_size_mm), size(bridge_mm), size(pd)),
                y,
                (2, "mm"),
            ),
        };
        let slip = |mistake, wrong_y: f64, exercise: Exercise| exercise.slip(mistake, self.edge_at(made, wrong_y));
        let exercise = match self.pd_mm {
            None => slip(Mistake::DiameterForHalf, eye_size_mm, exercise),
            Some(_) => {
                let exercise = slip(Mistake::HalfEyeSize, 0.5 * eye_size_mm, exercise);
                slip(Mistake::OtherSide, made.centration.reach.nasal_mm, exercise)
            }
        };
        (exercise, y)
    }

    /// The same lens so far out.
    fn edge_at(&self, made: &Made, y_mm: f64) -> f64 {
        made.lens.thickness(kurbo::Vec2::new(y_mm, 0.0)).unwrap_or(f64::NAN)
    }

    /// Radii of front (where it is curved) and back.
    fn radii(&self, exercise: Exercise, made: &Made) -> (Exercise, Option<f64>, f64) {
        let n = self.index;
        let back = made.lens.back_powers_d()[0];
        let radius = 1.0 / made.lens.back_curvatures()[0];
        let curved = self.base_curve_d > 0.0;
        let exercise = if curved { self.front_lines(exercise, made) } else { exercise };
        let formula = match curved {
            true => "r2 = 1000 (n − 1) / F2, without its sign",
            false => "r = 1000 (n − 1) / F, without its sign",
        };
        let numbers = format!("1000 × ({n} − 1) / {}", figure(back.abs(), 4));
        let front = curved.then(|| 1.0 / made.recipe.front_curvature());
        (exercise.step(formula, numbers, radius, (2, "mm")), front, radius)
    }

    /// From the base curve to the power that is left to the back.
    fn front_lines(&self, exercise: Exercise, made: &Made) -> Exercise {
        let (n, t, base) = (self.index, self.centre_mm, size(self.base_curve_d));
        let (front, back) = (made.recipe.front_power_d(), made.lens.back_powers_d()[0]);
        let arriving = self.power_d - back;
        let shape = format!("{front:.4} / (1 − {t} / 1000 / {n} × {front:.4})");
        let left = format!("({}) − {arriving:.4}", figure(self.power_d, 2));
        let front_mm = 1.0 / made.recipe.front_curvature();
        exercise
            .step("r1 = 1000 × 0.530 / base curve", format!("1000 × 0.530 / {base}"), front_mm, (2, "mm"))
            .step("F1 = base curve × (n − 1) / 0.530", format!("{base} × ({n} − 1) / 0.530"), front, (4, "D"))
            .step("F1′ = F1 / (1 − t/n F1), t in metres", shape, arriving, (4, "D"))
            .step("F2 = F − F1′", left, back, (4, "D"))
    }

    fn sags(&self, exercise: Exercise, y: f64, front: Option<f64>, radius: f64, right: f64) -> Exercise {
        let (n, t) = (self.index, self.centre_mm);
        let front_sag = front.map_or(0.0, |front| sag(front, y));
        let back_sag = sag(radius, y);
        let of_radius = |radius: f64| t + sag(radius, y) - front_sag;
        let line = |r: f64| format!("{} − √({}² − {}²)", figure(r, 2), figure(r, 2), figure(y, 2));
        let exercise = exercise
            .slip(Mistake::IndexForIndexMinusOne, of_radius(radius * n / (n - 1.0)))
            .slip(Mistake::WrongRadius, of_radius(radius * (TOOLING_INDEX - 1.0) / (n - 1.0)));
        let exercise =
            match front {
                Some(front) => exercise
                    .slip(Mistake::FrontForgotten, t + sag(1000.0 * (n - 1.0) / -self.power_d, y))
                    .step("sag of the front", line(front), front_sag, (2, "mm")),
                None => exercise,
            };
        let exercise = exercise
            .step("sag of the back", line(radius), back_sag, (2, "mm"))
            .slip(Mistake::ShortForm, t + y * y / (2.0 * radius) - front.map_or(0.0, |front| y * y / (2.0 * front)));
        match front {
            None => exercise
                .step("edge = centre + sag", format!("{} + {}", figure(t, 1), figure(back_sag, 2)), right, (1, "mm"))
                .slip(Mistake::CentreForgotten, back_sag),
            Some(_) => from_two_sags(exercise, t, [front_sag, back_sag], right),
        }
    }
}

/// The last line of a lens with both surfaces curved, and what comes of mistakes in it.
fn from_two_sags(exercise: Exercise, t: f64, [front, back]: [f64; 2], right: f64) -> Exercise {
    exercise
        .step(
            "edge = centre + sag of the back − sag of the front",
            format!("{} + {} − {}", figure(t, 1), figure(back, 2), figure(front, 2)),
            right,
            (1, "mm"),
        )
        .slip(Mistake::SagsAdded, t + back + front)
        .slip(Mistake::CentreForgotten, back - front)
}

impl PlusCentre {
    /// The question with its answer.
    #[must_use]
    pub fn exercise(&self) -> Exercise {
        let PlusCentre { front_d, index: n, diameter_mm, edge_mm } = *self;
        let (r, y) = (1000.0 * (n - 1.0) / front_d, 0.5 * diameter_mm);
        let depth = sag(r, y);
        let question = format!(
            "A round plano-convex uncut of {} mm: front {}, index {n}, edge {} mm. How thick is its centre? To one decimal.",
            size(diameter_mm),
            power(front_d),
            figure(edge_mm, 1)
        );
        Exercise::number(question, Scale::plain("mm", 1).within(0.1), edge_mm + depth)
            .step("y = half the diameter", format!("{} / 2", size(diameter_mm)), y, (2, "mm"))
            .slip(Mistake::DiameterForHalf, edge_mm + sag(r, diameter_mm))
            .step("r = 1000 (n − 1) / F", format!("1000 × ({n} − 1) / {}", figure(front_d, 2)), r, (2, "mm"))
            .slip(Mistake::IndexForIndexMinusOne, edge_mm + sag(1000.0 * n / front_d, y))
            .slip(Mistake::WrongRadius, edge_mm + sag(1000.0 * (TOOLING_INDEX - 1.0) / front_d, y))
            .step("sag", format!("{} − √({}² − {}²)", figure(r, 2), figure(r, 2), figure(y, 2)), depth, (2, "mm"))
            .slip(Mistake::ShortForm, edge_mm + y * y / (2.0 * r))
            .step(
                "centre = edge + sag",
                format!("{} + {}", figure(edge_mm, 1), figure(depth, 2)),
                edge_mm + depth,
                (2, "mm"),
            )
            .slip(Mistake::EdgeForgotten, depth)
            .slip(Mistake::SagTakenOff, (depth - edge_mm).abs())
    }
}

impl TwoCurves {
    /// The question with its answer.
    #[must_use]
    pub fn exercise(&self) -> Exercise {
        let TwoCurves { surfaces_d: [front_d, back_d], index: n, centre_mm: t, diameter_mm } = *self;
        let y = 0.5 * diameter_mm;
        let lens = recipe(arriving_d(front_d, n, t) + back_d, front_d, n).at_centre(t).ok();
        let at = |y: f64| lens.and_then(|lens| lens.thickness(kurbo::Vec2::new(y, 0.0))).unwrap_or(f64::NAN);
        let right = at(y);
        let radii = [front_d, back_d].map(|power| (1000.0 * (n - 1.0) / power).abs());
        let [front, back] = radii.map(|radius| sag(radius, y));
        let short = |radius: f64| y * y / (2.0 * radius);
        let of_index = |n: f64| {
            let [front, back] = [front_d, back_d].map(|power| sag((1000.0 * n / power).abs(), y));
            t + back - front
        };
        let question = format!(
            "A round uncut of {} mm: front {}, back {}, index {n}, centre {} mm. How thick is its edge? To one decimal.",
            size(diameter_mm),
            power(front_d),
            power(back_d),
            figure(t, 1)
        );
        let radius = |power: f64| format!("1000 × ({n} − 1) / {}", figure(power.abs(), 2));
        let depth = |r: f64| format!("{} − √({}² − {}²)", figure(r, 2), figure(r, 2), figure(y, 2));
        let exercise = Exercise::number(question, Scale::plain("mm", 1).within(0.1), right)
            .step("y = half the diameter", format!("{} / 2", size(diameter_mm)), y, (2, "mm"))
            .slip(Mistake::DiameterForHalf, at(diameter_mm))
            .step("r1 = 1000 (n − 1) / F1", radius(front_d), radii[0], (2, "mm"))
            .step("r2 = 1000 (n − 1) / F2, without its sign", radius(back_d), radii[1], (2, "mm"))
            .slip(Mistake::IndexForIndexMinusOne, of_index(n))
            .slip(Mistake::ToolingIndex, of_index(TOOLING_INDEX - 1.0))
            .step("sag of the front", depth(radii[0]), front, (2, "mm"))
            .slip(Mistake::FrontForgotten, t + back)
            .step("sag of the back", depth(radii[1]), back, (2, "mm"))
            .slip(Mistake::ShortForm, t + short(radii[1]) - short(radii[0]));
        from_two_sags(exercise, t, [front, back], right)
    }
}
