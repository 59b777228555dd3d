//! A lens cut out: its volume, and what edging takes away from it: a bevel's flanks, a cord's groove, or two holes.
//!
//! Units: mm, mm³.

use super::Mounted;
use super::across::{Cut, Profile};
use crate::math::{quadrature, roots};
use crate::outline::{Density, Node, Turn};
use crate::rim::Edging;
use kurbo::Vec2;
use std::f64::consts::PI;

/// A parameter and the shortfall there.
type Seen = (f64, f64);

/// Where the edge changes between too thin for the whole cut and thick enough: between which points.
struct Changes {
    first: Option<Seen>,
    last: Option<Seen>,
    found: [(Seen, Seen); MOST_CHANGES],
    len: usize,
}

/// Two to four are the rule on a whole outline. Beyond these the nodes' own sum is the answer: good to 1e-5 of what is
/// taken away.
const MOST_CHANGES: usize = 12;
/// The end of an arc is found to this share of its piece; the lack grows with its square from there.
const END_OF_ARC: f64 = 1e-6;

impl Changes {
    fn new() -> Changes {
        Changes { first: None, last: None, found: [((0.0, 0.0), (0.0, 0.0)); MOST_CHANGES], len: 0 }
    }

    fn see(&mut self, u: f64, shortfall: f64) {
        match self.last {
            Some(last) if (last.1 > 0.0) != (shortfall > 0.0) => {
                if self.len < MOST_CHANGES {
                    self.found[self.len] = (last, (u, shortfall));
                }
                self.len += 1;
            }
            Some(_) => {}
            None => self.first = Some((u, shortfall)),
        }
        self.last = Some((u, shortfall));
    }

    /// Puts a point before all that were seen.
    fn open_at(&mut self, u: f64, shortfall: f64) {
        if let Some(first) = self.first
            && (first.1 > 0.0) != (shortfall > 0.0)
            && self.len < MOST_CHANGES
        {
            self.found.copy_within(0..self.len, 1);
            self.found[0] = ((u, shortfall), first);
            self.len += 1;
        }
    }

    fn any(&self) -> bool {
        self.len > 0 && self.len + 2 <= MOST_CHANGES
    }

    fn all(&self) -> &[(Seen, Seen)] {
        &self.found[..self.len.min(MOST_CHANGES)]
    }
}

/// What is integrated round the outline.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Integral {
    /// Of the back's sag less the front's, over the shape.
    Sags,
    /// Of what edging takes away.
    Edging,
}

/// One node of an integral: its share is weight × value, and the shares add up to the integral.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct IntegralNode {
    /// Of which integral.
    pub of: Integral,
    /// Where, from the boxed centre.
    pub at: Vec2,
    /// How much of the way round it stands for.
    pub weight: f64,
    /// The integrand there, mm³ per unit of the weight.
    pub value: f64,
}

/// A lens cut out: what is inside the outline, and what edging takes away from that.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CutOut {
    /// Volume of the lens cut square out to its outline.
    pub volume_mm3: f64,
    /// What bevel, groove or holes take away.
    pub removed_mm3: f64,
}

impl Mounted<'_> {
    /// Volume and edging, integrated round the outline (Green) in one pass; `None` where a surface ends too soon.
    #[must_use]
    pub fn cut_out(&self, edging: Edging, density: Density) -> Option<CutOut> {
        self.cut_out_by(edging, density, &mut |_| ())
    }

    /// The same, and tells every node that it adds.
    #[must_use]
    pub fn cut_out_by(&self, edging: Edging, density: Density, told: &mut impl FnMut(IntegralNode)) -> Option<CutOut> {
        let cut = Cut::of(edging);
        let (front, back) = (self.lens.front(), self.lens.back());
        let mut volume = self.lens.centre_mm() * self.outline.area_mm2();
        let mut removed = 0.0;
        for piece in self.outline.pieces(density) {
            let (mut whole, mut lack) = (0.0, 0.0);
            let mut changes = Changes::new();
            for node in piece.nodes {
                let p = node.jet.p - self.reference;
                let (front, back) = (front.rim(p, node.jet.d1)?, back.rim(p, node.jet.d1)?);
                let value = back.below - front.below;
                volume += node.weight * value;
                told(IntegralNode { of: Integral::Sags, at: node.jet.p, weight: node.weight, value });
                let Some(cut) = cut else { continue };
                let profile = match density {
                    Density::Plain => Profile::new(&self.lens.between(&front.jet, &back.jet), &node.turn),
                    Density::Fine | Density::Finest => self.steep_profile(cut, node.jet.p, &node.turn)?,
                };
                let edging = |value| IntegralNode { of: Integral::Edging, at: node.jet.p, weight: node.weight, value };
                let value = cut.whole(&profile);
                whole += node.weight * value;
                told(edging(value));
                let shortfall = cut.shortfall(&profile);
                changes.see(node.u, shortfall);
                if shortfall > 0.0 {
                    lack += node.weight * cut.lack(&profile);
                }
            }
            let lack = match cut {
                Some(cut) if changes.any() => self.lack_in_arcs(cut, (piece.from, piece.to), changes, density, told)?,
                Some(cut) if lack != 0.0 => {
                    self.tell_lacks(cut, piece.nodes, density, told)?;
                    lack
                }
                _ => lack,
            };
            removed += whole + lack;
        }
        if let Edging::Holes { diameter_mm, inset_mm } = edging {
            removed = self.holes_mm3(diameter_mm, inset_mm, told)?;
        }
        Some(CutOut { volume_mm3: volume, removed_mm3: removed })
    }

    /// Tells what the nodes of a piece whose edge is too thin nearly all the way add to the whole cut.
    fn tell_lacks(
        &self,
        cut: Cut,
        nodes: &[Node],
        density: Density,
        told: &mut impl FnMut(IntegralNode),
    ) -> Option<()> {
        for node in nodes {
            let profile = self.profile_at(cut, node.u, density)?;
            if cut.shortfall(&profile) > 0.0 {
                let value = cut.lack(&profile);
                told(IntegralNode { of: Integral::Edging, at: node.jet.p, weight: node.weight, value });
            }
        }
        Some(())
    }

    fn profile_at(&self, cut: Cut, u: f64, density: Density) -> Option<Profile> {
        let jet = self.outline.curve().jet(u);
        let turn = jet.turn();
        match density {
            Density::Plain => self.jet(jet.p).map(|field| Profile::new(&field, &turn)),
            Density::Fine | Density::Finest => self.steep_profile(cut, jet.p, &turn),
        }
    }

    /// Where a surface stands steeply its derivatives at the outline do not tell what it does further in.
    fn steep_profile(&self, cut: Cut, p: Vec2, turn: &Turn) -> Option<Profile> {
        let depth = cut.depth();
        let at = |share: f64| self.thickness(p - turn.normal * (share * depth));
        Some(Profile::through([at(0.0)?, at(0.5)?, at(1.0)?], depth, turn))
    }

    /// ∮ of the lack over those arcs of from … to where the edge falls short, each found to its ends, so that the kink
    /// where an edge becomes thick enough costs no accuracy.
    fn lack_in_arcs(
        &self,
        cut: Cut,
        (from, to): (f64, f64),
        mut changes: Changes,
        density: Density,
        told: &mut impl FnMut(IntegralNode),
    ) -> Option<f64> {
        let shortfall = |u: f64| self.profile_at(cut, u, density).map(|profile| cut.shortfall(&profile));
        let at_from = shortfall(from)?;
        changes.open_at(from, at_from);
        changes.see(to, shortfall(to)?);
        let mut start = (at_from > 0.0).then_some(from);
        let mut sum = 0.0;
        for &(before, after) in changes.all() {
            let span = END_OF_ARC * (to - from);
            let end = roots::between(|u| shortfall(u).unwrap_or(f64::NAN), before, after, span)
                .unwrap_or_else(|unsettled| unsettled.at);
            match start.take() {
                Some(start) => sum += self.lack_in_arc(cut, (start, end), density, told)?,
                None => start = Some(end),
            }
        }
        if let Some(start) = start {
            sum += self.lack_in_arc(cut, (start, to), density, told)?;
        }
        Some(sum)
    }

    fn lack_in_arc(
        &self,
        cut: Cut,
        (start, end): (f64, f64),
        density: Density,
        told: &mut impl FnMut(IntegralNode),
    ) -> Option<f64> {
        // An ellipse is cut at every radian, a cubic piece is short enough.
        let panels = (end - start).ceil().max(1.0);
        let step = (end - start) / panels;
        let mut sum = 0.0;
        for panel in 0..panels as usize {
            for node in quadrature::gauss(4) {
                let u = start + step * (panel as f64 + node.at);
                let profile = self.profile_at(cut, u, density)?;
                if cut.shortfall(&profile) > 0.0 {
                    let (weight, value) = (node.weight * step, cut.lack(&profile));
                    sum += weight * value;
                    told(IntegralNode { of: Integral::Edging, at: self.outline.curve().jet(u).p, weight, value });
                }
            }
        }
        Some(sum)
    }

    /// Two holes on the horizontal line through the boxed centre. Over a small disc the mean of a field is its middle
    /// plus r²/8 of its Laplacian; the next term is below 1e-8.
    fn holes_mm3(&self, diameter_mm: f64, inset_mm: f64, told: &mut impl FnMut(IntegralNode)) -> Option<f64> {
        let radius = 0.5 * diameter_mm;
        let cardinal = self.outline.cardinal();
        let mut sum = 0.0;
        for (at, inward) in [(cardinal.right, -inset_mm), (cardinal.left, inset_mm)] {
            let at = Vec2::new(at.x + inward, at.y);
            let field = self.jet(at)?;
            let (weight, value) = (PI * radius * radius, field.z + radius * radius / 8.0 * (field.zxx + field.zyy));
            sum += weight * value;
            told(IntegralNode { of: Integral::Edging, at, weight, value });
        }
        Some(sum)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn changes_are_seen_between_too_thin_and_thick_enough() {
        let seen = |shortfalls: &[f64]| {
            let mut changes = Changes::new();
            for (i, shortfall) in shortfalls.iter().enumerate() {
                changes.see(i as f64, *shortfall);
            }
            changes
        };
        let between = |changes: &Changes| changes.all().iter().map(|(a, b)| (a.0, b.0)).collect::<Vec<_>>();
        assert!(!seen(&[]).any() && !seen(&[1.0, 2.0]).any() && !seen(&[-1.0, 0.0]).any());
        let two = seen(&[-1.0, 0.0, 0.2, 0.1, -0.3]);
        assert_eq!((two.any(), between(&two)), (true, vec![(1.0, 2.0), (3.0, 4.0)]), "exactly enough is enough");
        let mut opened = seen(&[0.1, -0.3]);
        opened.open_at(-1.0, -0.5);
        assert_eq!(between(&opened), [(-1.0, 0.0), (0.0, 1.0)]);
        opened.open_at(-2.0, 0.5);
        assert_eq!(opened.len, 2, "as the first");
        let wild: Vec<f64> = (0..MOST_CHANGES + 4).map(|i| if i % 2 == 0 { 1.0 } else { -1.0 }).collect();
        assert!(!seen(&wild).any() && seen(&wild).all().len() == MOST_CHANGES, "too many are none");
        assert!(seen(&wild[..MOST_CHANGES - 1]).any(), "two more are left for the ends");
        assert!(!seen(&wild[..MOST_CHANGES]).any());
    }
}
