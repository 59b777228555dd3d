//! Extremes of the thickness: round the edge, along the shoulder, and at the lowest point inside.
//!
//! Units: mm and degrees.

use super::Mounted;
use crate::math::periodic::{Peaks, Sample, Scan};
use crate::outline::{self, CurveJet, Density, Turn};
use kurbo::Vec2;

/// A point of the edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EdgePoint {
    /// Where, from the boxed centre.
    pub point: Vec2,
    /// Its direction from the boxed centre, 0 ≤ deg < 360.
    pub deg: f64,
    /// Thickness there.
    pub thickness_mm: f64,
}

/// Thickest and thinnest point of the edge. Of equal ones the smallest direction counts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Edges {
    /// Thickest.
    pub max: EdgePoint,
    /// Thinnest.
    pub min: EdgePoint,
}

/// Where the thickness has a minimum with level ground, inside the outline.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LowestPoint {
    /// Where, from the boxed centre.
    pub point: Vec2,
    /// Thickness there.
    pub thickness_mm: f64,
    /// Its distance from the outline.
    pub inside_mm: f64,
}

/// Newton for the lowest point stops after a step below this, mm.
const SETTLED_MM: f64 = 1e-10;
/// It takes three or four steps; a plane-parallel lens never settles.
const MOST_STEPS: usize = 40;

impl Mounted<'_> {
    fn field(&self) -> impl Fn(Vec2) -> Option<(f64, Vec2)> {
        |p| self.slope(p).map(|slope| (slope.z, slope.gradient))
    }

    /// The thickness sampled round the outline; `None` where a surface ends too soon.
    #[must_use]
    pub fn scan_edge(&self, density: Density) -> Option<Scan> {
        self.outline.scan(density, self.field())
    }

    /// The thinnest point of the edge.
    #[must_use]
    pub fn thinnest_edge(&self, scan: &Scan) -> Option<EdgePoint> {
        self.first(&scan.min(self.outline.along(self.field()))?)
    }

    /// The thickest point of the edge.
    #[must_use]
    pub fn thickest_edge(&self, scan: &Scan) -> Option<EdgePoint> {
        self.first(&scan.max(self.outline.along(self.field()))?)
    }

    /// Of equal extremes the one of the smallest direction; the point at 0° where all are equal.
    fn first(&self, peaks: &Peaks) -> Option<EdgePoint> {
        let least = |a: EdgePoint, b: EdgePoint| if b.deg < a.deg { b } else { a };
        let point =
            |point: Vec2, thickness_mm: f64| EdgePoint { point, deg: outline::direction_deg(point), thickness_mm };
        match peaks.all().iter().map(|peak| point(self.outline.curve().jet(peak.u).p, peak.value)).reduce(least) {
            Some(found) => Some(found),
            None => {
                let at = self.outline.cardinal().right;
                self.thickness(at).map(|thickness_mm| point(at, thickness_mm))
            }
        }
    }

    /// The thickest place on the line `inset_mm` inside the outline (its true offset); `None` where a surface ends too
    /// soon. Where the outline turns more sharply than the inset the offset has no point there.
    #[must_use]
    pub fn thickest_inside_mm(&self, inset_mm: f64, density: Density) -> Option<f64> {
        let curve = self.outline.curve();
        let sample = |u: f64, jet: &CurveJet, turn: &Turn| {
            let p = jet.p - turn.normal * inset_mm;
            let run = (1.0 - turn.curvature * inset_mm).max(0.0);
            self.slope(p).map(|slope| Sample { u, value: slope.z, slope: slope.gradient.dot(jet.d1) * run })
        };
        let at = |u: f64| {
            let jet = curve.jet(u);
            sample(u, &jet, &jet.turn())
        };
        let nodes = self.outline.nodes(density).iter();
        let scan = Scan::new(nodes.map(|node| sample(node.u, &node.jet, &node.turn)), curve.period())?;
        match scan.max(at)?.all().first() {
            Some(peak) => Some(peak.value),
            None => at(0.0).map(|sample| sample.value),
        }
    }

    /// The point of least thickness with level ground, where there is one inside the outline: the reference point of a
    /// lens that is hollow in all meridians and has no prism, and where prism has moved it to otherwise.
    #[must_use]
    pub fn lowest_point(&self) -> Option<LowestPoint> {
        let mut point = self.reference;
        let far = self.outline.effective_diameter_mm();
        for _ in 0..MOST_STEPS {
            let jet = self.jet(point)?;
            let determinant = jet.zxx * jet.zyy - jet.zxy * jet.zxy;
            let level = jet.zx == 0.0 && jet.zy == 0.0;
            if determinant <= 0.0 || jet.zxx <= 0.0 {
                return None;
            }
            let step = if level {
                Vec2::ZERO
            } else {
                Vec2::new(jet.zyy * jet.zx - jet.zxy * jet.zy, jet.zxx * jet.zy - jet.zxy * jet.zx) / determinant
            };
            point -= step;
            if point.hypot() > far {
                return None;
            }
            if step.hypot() < SETTLED_MM {
                let inside_mm = self.outline.depth_inside_mm(point);
                return (inside_mm >= 0.0)
                    .then(|| self.thickness(point).map(|thickness_mm| LowestPoint { point, thickness_mm, inside_mm }))
                    .flatten();
            }
        }
        None
    }
}
