//! The whole lens: area, perimeter, volume, what edging takes away, mass; and the blank that it is cut from.
//!
//! Units: mm, mm², mm³, grams. Integrals are sums of weight × value over nodes round the outline, which the lines hold.

use super::back::Back;
use super::expr::Rule;
use super::layout::Layout;
use super::sheet::{Head, Node, Section};
use super::{BOXING, MATERIAL, OURS, PRACTICE, Spot, TEXTBOOK, Work};
use crate::choose::blank::ALLOWANCE_MM;
use crate::choose::{Substance, Supply, base};
use crate::measure::{Integral, IntegralNode, Mounted};
use crate::outline::{self, Density};
use kurbo::Vec2;

const GREEN: &str = "Green's theorem, docs/model.md";

impl Work<'_> {
    pub(super) fn mass(&mut self, back: &Back) -> Option<()> {
        let (fit, made) = (self.fit, self.made);
        let outline = fit.mounting.outlines.of(self.eye);
        let mut sums: Vec<IntegralNode> = Vec::new();
        let mounted = Mounted { lens: &made.lens, outline, reference: self.reference() };
        mounted.cut_out_by(fit.mounting.frame.rim.edging(), mounted.density(), &mut |node| sums.push(node))?;
        let of = |integral| {
            let nodes = sums.iter().filter(|node| node.of == integral);
            nodes.map(|node| Node { at: node.at, weight: node.weight, value: node.value }).collect::<Vec<Node>>()
        };
        let round = |value: fn(&outline::Node) -> f64| {
            let nodes = outline.nodes(Density::Finest).iter();
            nodes.map(|node| Node { at: node.jet.p, weight: node.weight, value: value(node) }).collect::<Vec<Node>>()
        };
        let sheet = &mut self.sheet;
        sheet.section = Section::Mass;
        let figures = made.outline;
        let head =
            Head::new("mass.area", ("Q", ""), "area of the shape: half of x dy − y dx, once round", "mm²", GREEN);
        let area = sheet.integrated(head, round(|node| 0.5 * node.jet.p.cross(node.jet.d1)), figures.area_mm2);
        sheet.figure("outline.area_mm2");
        let head = Head::new("mass.perimeter", ("l", ""), "length once round", "mm", BOXING);
        sheet.integrated(head, round(|node| node.turn.speed), figures.perimeter_mm);
        sheet.figure("outline.perimeter_mm");
        let sags = of(Integral::Sags);
        let total = sags.iter().map(|node| node.weight * node.value).sum();
        let meaning = "what the back's sag holds more than the front's, over the shape";
        let between = sheet.integrated(Head::new("mass.sags", ("J", ""), meaning, "mm³", GREEN), sags, total);
        let head = Head::new("mass.volume", ("V", ""), "volume, cut square out to the shape", "mm³", TEXTBOOK);
        let volume = sheet.known(head, &back.centre * &area + between, made.volume_mm3);
        sheet.figure("volume_mm3");
        let head = Head::new("mass.edging", ("E", ""), "what bevel, groove or holes take away", "mm³", PRACTICE);
        let removed = sheet.integrated(head, of(Integral::Edging), made.edging_removed_mm3);
        sheet.figure("edging_removed_mm3");
        let head = Head::new("mass.density", ("ρ", ""), "density", "g/cm³", MATERIAL);
        let density = sheet.given(head, fit.option.substance.glass(fit.prescription.reference_line).density);
        let head = Head::new("mass.mass", ("W", ""), "mass", "g", TEXTBOOK);
        sheet.known(head, density * (volume - removed) / 1000.0, made.mass_g);
        sheet.figure("mass_g");
        Some(())
    }

    pub(super) fn blank(&mut self, layout: &Layout, back: &Back) -> Option<()> {
        let (made, outline) = (self.made, self.fit.mounting.outlines.of(self.eye));
        let reference = self.reference();
        let (far, longest) = (outline.distances(reference), outline.distances(Vec2::ZERO));
        self.sheet.section = Section::Blank;
        let mm = |id: &str, symbol, meaning: &str, source| Head::new(id, symbol, meaning, "mm", source);
        let radius = mm("blank.longest_radius", ("R", ""), "longest radius from the boxed centre", BOXING);
        let radius = self.sheet.searched(radius, Some(longest.farthest), longest.farthest_mm);
        let diameter = mm("blank.effective_diameter", ("ED", ""), "effective diameter", BOXING);
        let diameter = self.sheet.known(diameter, 2.0 * radius, made.outline.effective_diameter_mm);
        self.sheet.figure("outline.effective_diameter_mm");
        let farthest =
            mm("blank.farthest", ("R", "f"), "longest distance from the reference point to the outline", OURS);
        let farthest = self.sheet.searched(farthest, Some(far.farthest), far.farthest_mm);
        let thickness_mm = made.lens.thickness(far.farthest - reference)?;
        let spot = Spot { letter: "f", name: "farthest from the reference point", at: far.farthest, thickness_mm };
        self.spots.push(spot);
        let decentred = (layout.inward.clone().squared() + layout.up.clone().squared()).root();
        let rule_of_thumb = diameter + 2.0 * decentred + 2.0 * ALLOWANCE_MM;
        let least = mm("blank.minimum", ("D", "least"), "smallest blank: twice that, and 1 mm all round", PRACTICE);
        let least = self.sheet.known(least, 2.0 * (&farthest + ALLOWANCE_MM), made.blank.minimum_mm);
        self.sheet.figure("blank.minimum_mm");
        self.sheet.by_hand("ED + 2d, and 2", rule_of_thumb.clone());
        let rule = mm("blank.rule", ("D", "rule"), "the same by effective diameter and decentration", TEXTBOOK);
        self.sheet.known(rule, rule_of_thumb, made.blank.rule_of_thumb_mm);
        self.sheet.figure("blank.rule_of_thumb_mm");
        if let Some(listed_mm) = made.blank.diameter_mm {
            let words = if made.blank.decentred {
                "blank: the largest listed, its middle off the reference point"
            } else {
                "blank: the smallest listed that is large enough"
            };
            let pick = least.listed(Rule::AtLeast, self.diameters()?);
            self.sheet.known(mm("blank.diameter", ("D", "b"), words, MATERIAL), pick, listed_mm);
            self.sheet.figure("blank.diameter_mm");
        }
        let square = farthest.squared();
        let head = mm("blank.bulge", ("s", "1f"), "how far the front stands out before its own rim", TEXTBOOK);
        let front = super::point::sag(self, back.front.radius.as_ref(), &back.front.curvature, &square);
        self.sheet.known(head, front, made.bulge_mm);
        self.sheet.figure("bulge_mm");
        Some(())
    }

    /// The diameters that the blank was taken from.
    fn diameters(&self) -> Option<Vec<f64>> {
        let (option, power) = (self.fit.option, self.made.recipe.power);
        let Substance::Listed(material) = &option.substance else { return None };
        match option.supply {
            Supply::Stock => material.stock_for(power.sphere(), power.cylinder()).map(|row| row.diameters_mm.clone()),
            Supply::Surfaced => {
                let near = base::nearest(base::listed_bases(option), self.made.base.base_curve_d);
                let row = material.semi_finished.iter().find(|row| row.base_curve_d == near)?;
                Some(row.diameters_mm.clone())
            }
        }
    }
}
