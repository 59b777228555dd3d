//! What set the centre thickness: which minimum, at which point; and the thinnest place.
//!
//! Units: mm.

use super::back::Back;
use super::expr::Expr;
use super::layout::Layout;
use super::point::{Marked, Name};
use super::prescription::Rx;
use super::sheet::{Head, Section};
use super::{GIVEN, MATERIAL, OURS, Points, Work};
use crate::choose::Substance;
use crate::choose::centre::{RIM_BELT_MM, SetBy};
use crate::material::StockRow;
use crate::math::angle;
use kurbo::Vec2;

impl Work<'_> {
    pub(super) fn demand(&mut self, rx: &Rx, layout: &Layout, back: &Back, points: &Points) -> Option<()> {
        let thickness = self.made.thickness;
        let low = match thickness.lowest {
            Some(lowest) => {
                let name = Name { id: "lowest", letter: "p", words: "where the lens is thinnest inside", figure: None };
                let marked = self.marked(layout, rx, back, name, lowest.point)?;
                Some((marked, lowest.inside_mm, lowest.point))
            }
            None => None,
        };
        self.sheet.section = Section::Demand;
        let again = if self.is_stock() { self.of_stock(rx, back)? } else { self.of_minima(points, low.as_ref()) };
        let head = Head::new("demand.centre", ("t", "0"), "centre thickness again, from what set it", "mm", OURS);
        self.sheet.known(head, again, self.made.lens.centre_mm());
        let mut thinnest = points.thinnest.thickness.clone();
        if thickness.centre_mm.is_some() {
            thinnest = thinnest.or_less(&back.centre);
        }
        if let Some((low, ..)) = low {
            thinnest = thinnest.or_less(low.thickness);
        }
        let head = Head::new("demand.thinnest", ("t", "least"), "thinnest place of the whole lens", "mm", OURS);
        self.sheet.known(head, thinnest, thickness.thinnest_mm);
        self.sheet.figure("thickness.thinnest_mm");
        Some(())
    }

    /// The centre thickness that the hardest demand asks for.
    fn of_minima(&mut self, points: &Points, low: Option<&(Marked, f64, Vec2)>) -> Expr {
        let minima = self.made.minima;
        let source = |given| if given { GIVEN } else { "the material for this rim" };
        let mm = |id: &str, symbol, meaning: &str, source| Head::new(id, symbol, meaning, "mm", source);
        let edge = mm("demand.edge", ("m", "e"), "least thickness asked for at the edge", source(minima.edge_given));
        let edge = self.sheet.given(edge, minima.kept.edge_mm);
        match (self.made.thickness.set_by, low) {
            (SetBy::LowestPoint, Some((marked, inside_mm, at))) => {
                let guard = self.guard(edge, *inside_mm, *at);
                guard + &marked.front - &marked.back
            }
            (SetBy::Centre, _) => {
                let reference = self.reference();
                let inside_mm = self.fit.mounting.outlines.of(self.eye).depth_inside_mm(reference);
                self.guard(edge, inside_mm, reference)
            }
            (SetBy::Edge | SetBy::LowestPoint, _) => edge + &points.thinnest.front - &points.thinnest.back,
        }
    }

    /// The demand at a guarded point: a centre's, and near the rim more and more an edge's.
    fn guard(&mut self, edge: Expr, inside_mm: f64, at: Vec2) -> Expr {
        let minima = self.made.minima;
        let source = if minima.centre_given { GIVEN } else { "the material for this rim" };
        let mm = |id: &str, symbol, meaning: &str, source| Head::new(id, symbol, meaning, "mm", source);
        let least = mm("demand.least_centre", ("m", "c"), "least thickness asked for inside", source);
        let centre = self.sheet.given(least, minima.kept.centre_mm);
        let depth = mm("demand.inside", ("i", ""), "how far that point lies inside the outline", OURS);
        let inside = self.sheet.searched(depth, Some(at), inside_mm);
        let held = mm("demand.held_edge", ("m", "h"), "the edge's, where it asks for less", OURS);
        let edge = self.sheet.worked(held, edge.or_less(&centre));
        let guard = mm("demand.guard", ("m", "g"), "what is asked for there: near the rim more and more an edge", OURS);
        let share = (inside / RIM_BELT_MM).or_less(1.0);
        self.sheet.worked(guard, &edge + (centre - &edge) * share)
    }

    /// The centre thickness of a ready-made lens: listed, or what its listed edge asks for.
    fn of_stock(&mut self, rx: &Rx, back: &Back) -> Option<Expr> {
        let row = self.stock_row()?;
        let mm = |id: &str, symbol, meaning: &str| Head::new(id, symbol, meaning, "mm", MATERIAL);
        if self.made.thickness.set_by == SetBy::Centre {
            let head = mm("demand.listed_centre", ("m", "c"), "least centre of the ready-made lens, as listed");
            return Some(self.sheet.given(head, row.centre_mm));
        }
        let head = mm("demand.listed_edge", ("m", "e"), "least edge of the round uncut, as listed");
        let (edge_mm, diameter_mm) = (row.edge_mm, self.made.blank.diameter_mm?);
        let edge = self.sheet.given(head, edge_mm);
        let diameter = self.sheet.given(mm("demand.uncut", ("D", ""), "diameter of the uncut"), diameter_mm);
        let (cos, sin) = angle::cos_sin_deg(self.made.recipe.power.axis());
        let along = Vec2::new(cos, sin) * (0.5 * diameter_mm);
        let across = Vec2::new(-sin, cos) * (0.5 * diameter_mm);
        let lens = &self.made.lens;
        let (at, [x, y]) = if lens.thickness(along)? <= lens.thickness(across)? {
            (along, [&diameter / 2.0 * &rx.cos, &diameter / 2.0 * &rx.sin])
        } else {
            (across, [-(&diameter / 2.0 * &rx.sin), &diameter / 2.0 * &rx.cos])
        };
        let mut place = |axis: &str, letter, words: &str, formula| {
            let id = format!("uncut.{axis}");
            self.sheet.worked(Head::new(id, (letter, "e"), words, "mm", OURS), formula)
        };
        let x = place("x", "x", "where the uncut is thinnest: across from its middle", x);
        let y = place("y", "y", "the same, upward", y);
        let name = Name { id: "uncut", letter: "e", words: "edge of the uncut", figure: None };
        let marked = self.at(rx, back, name, [x, y], at)?;
        Some(edge + marked.front - marked.back)
    }

    fn stock_row(&self) -> Option<StockRow> {
        let power = self.made.recipe.power;
        match &self.fit.option.substance {
            Substance::Listed(material) => material.stock_for(power.sphere(), power.cylinder()).cloned(),
            Substance::Inline(_) => None,
        }
    }
}
