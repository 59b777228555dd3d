//! The front: its base curve with the rule that chose it, radius and true power; and how prism turns the back.
//!
//! Units: dioptres, mm, 1/mm, degrees.

use super::expr::{Expr, Function, Rule};
use super::layout::Layout;
use super::prescription::Rx;
use super::sheet::{Head, Section};
use super::{GIVEN, MATERIAL, OURS, TEXTBOOK, Work};
use crate::choose::Supply;
use crate::choose::base::{ChosenBy, VOGEL_RANGE_D, listed_bases};
use crate::eye::Eye;
use crate::figures::radius_mm;

const VOGEL: &str = "Vogel's rule, textbooks of dispensing";
const TOOLING: &str = "index 1.530 of tools and lens measures: r = 530/F";

/// What the other parts want of the front.
pub(super) struct Front {
    pub(super) index: Expr,
    pub(super) curvature: Expr,
    /// `None` for a plane.
    pub(super) radius: Option<Expr>,
    pub(super) power: Expr,
    /// Size of the prism and its parts, where there is any.
    pub(super) prism: Option<[Expr; 2]>,
}

/// How the back is turned: its axis, seen from the lens.
pub(super) struct Lean {
    pub(super) nx: Expr,
    pub(super) ny: Expr,
    pub(super) nz: Expr,
}

impl Work<'_> {
    pub(super) fn front(&mut self, rx: &Rx) -> Front {
        let recipe = self.made.recipe;
        self.sheet.section = Section::Front;
        let base = self.base(rx);
        let sheet = &mut self.sheet;
        let n = Head::new("front.index", ("n", ""), "refractive index at the reference line", "", MATERIAL);
        let index = sheet.given(n, recipe.index);
        let curvature = sheet.known(
            Head::new("front.curvature", ("c", "1"), "curvature of the front", "1/mm", TOOLING),
            &base / 530.0,
            recipe.front_curvature(),
        );
        let radius = radius_mm(recipe.front_curvature()).map(|radius| {
            let head = Head::new("front.radius", ("r", "1"), "radius of the front", "mm", TOOLING);
            let line = sheet.known(head, 530.0 / &base, radius);
            sheet.figure("front.radius_mm");
            line
        });
        let power = sheet.known(
            Head::new("front.power", ("F", "1"), "true power of the front", "D", TEXTBOOK),
            1000.0 * (&index - 1.0) * &curvature,
            recipe.front_power_d(),
        );
        sheet.figure("front.power_d");
        sheet.by_hand("the marked curve, as if the index were 1.530", base);
        Front { index, curvature, radius, power, prism: rx.prism.clone() }
    }

    /// The base curve as marked, with what led to it.
    fn base(&mut self, rx: &Rx) -> Expr {
        let base = self.made.base;
        let marked = |meaning: &str, source| Head::new("front.base_curve", ("F", "b"), meaning, "D", source);
        let line = match base.chosen_by {
            ChosenBy::Job => self.sheet.given(marked("base curve, as marked at 1.530", GIVEN), base.base_curve_d),
            ChosenBy::Stock => {
                self.sheet.given(marked("base curve of the ready-made lens", MATERIAL), base.base_curve_d)
            }
            ChosenBy::Vogel => {
                let wanted = self.wanted_base(rx, base.shared);
                let listed: Vec<f64> = listed_bases(self.fit.option).collect();
                let nearest = wanted.listed(Rule::Nearest, listed);
                let head = marked("base curve: the nearest of those that the material comes in", MATERIAL);
                self.sheet.known(head, nearest, base.base_curve_d)
            }
        };
        self.sheet.figure("front.base_curve_d");
        line
    }

    /// What Vogel's rule asks for: of this eye, or one for both.
    fn wanted_base(&mut self, rx: &Rx, shared: bool) -> Expr {
        let own_d = self.made.recipe.power.spherical_equivalent();
        let own = self.vogel("front.vogel", ("F", "w"), "base curve by the rule", &rx.equivalent, own_d);
        if !shared {
            return own;
        }
        let other = match self.eye {
            Eye::Right => Eye::Left,
            Eye::Left => Eye::Right,
        };
        let other_d = self.fit.prescription.eyes.of(other).power.spherical_equivalent();
        let head = Head::new("front.other_equivalent", ("M", "o"), "spherical equivalent of the other eye", "D", GIVEN);
        let equivalent = self.sheet.given(head, other_d);
        let others = self.vogel("front.other_vogel", ("F", "wo"), "base curve of the other eye", &equivalent, other_d);
        let (one, words) = if own_d > 0.0 || other_d > 0.0 {
            (own.or_more(others), "one for both eyes: the larger, since one eye is plus")
        } else {
            (own.or_less(others), "one for both eyes: the smaller")
        };
        let head = Head::new("front.shared", ("F", "wb"), words, "D", OURS);
        self.sheet.known(head, one, self.made.base.wanted_d)
    }

    fn vogel(
        &mut self,
        id: &str,
        symbol: (&'static str, &str),
        meaning: &str,
        equivalent: &Expr,
        equivalent_d: f64,
    ) -> Expr {
        let rule = if equivalent_d > 0.0 { equivalent + 6.0 } else { equivalent / 2.0 + 6.0 };
        let (least, most) = VOGEL_RANGE_D;
        let held = rule.or_more(least).or_less(most);
        self.sheet.worked(Head::new(id, symbol, meaning, "D", VOGEL), held)
    }

    /// The slope that the back needs for the prism, and its axis after the turn.
    pub(super) fn prism(&mut self, front: &Front, layout: &Layout) -> Option<Lean> {
        let [px, py] = front.prism.as_ref()?;
        let (sheet, recipe) = (&mut self.sheet, self.made.recipe);
        sheet.section = Section::Prism;
        let bare = |id: &str, symbol, meaning: &str| Head::new(id, symbol, meaning, "", OURS);
        let amount = sheet.known(
            Head::new("prism.amount", ("P", ""), "prism altogether", "Δ", TEXTBOOK),
            (px.clone().squared() + py.clone().squared()).root(),
            recipe.prism.amount_pd(),
        );
        let turned = Head::new("prism.deviation", ("δ", ""), "deviation", "°", "one Δ is 1 cm at 1 m");
        let deviation = sheet.worked(turned, (&amount / 100.0).under(Function::Arctangent));
        let slope = sheet.known(
            bare("prism.slope", ("m", ""), "slope of the back at the reference point, toward the base"),
            deviation.clone().under(Function::Sine) / (&front.index - deviation.under(Function::Cosine)),
            recipe.lean().hypot(),
        );
        sheet.by_hand("thin prism", &amount / (100.0 * (&front.index - 1.0)));
        let nz = sheet.worked(
            bare("prism.nz", ("n", "z"), "axis of the turned back, along z"),
            1.0 / (1.0 + slope.clone().squared()).root(),
        );
        let part = |p: &Expr| -(&slope * p / &amount * &nz);
        let nx = sheet.worked(bare("prism.nx", ("n", "x"), "axis of the turned back, across"), part(px));
        let ny = sheet.worked(bare("prism.ny", ("n", "y"), "axis of the turned back, upward"), part(py));
        let adds = "what so much prism adds over the width of the box";
        let across = Head::new("prism.across", ("g", ""), adds, "mm", TEXTBOOK);
        sheet.worked(across, &slope * &layout.eye_size);
        sheet.by_hand("thin prism", amount * &layout.eye_size / (100.0 * (&front.index - 1.0)));
        Some(Lean { nx, ny, nz })
    }

    /// Is it ready-made?
    pub(super) fn is_stock(&self) -> bool {
        self.fit.option.supply == Supply::Stock
    }
}
