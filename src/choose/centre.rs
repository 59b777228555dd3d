//! The centre thickness of a surfaced lens: the smallest that keeps every demand. The loop that solves thickness and
//! back surface together is here, is bounded, and says so if it does not settle.
//!
//! Units: mm. Points from the boxed centre.

use crate::lens::{Lens, Recipe, Unmakeable};
use crate::material::Minimum;
use crate::math::periodic::Scan;
use crate::measure::{EdgePoint, Edges, LowestPoint, Mounted, TooShort};
use crate::outline::{Density, Distances, Outline};
use kurbo::Vec2;
use serde::Serialize;

/// Within this distance of the outline a thin place is more and more an edge (ours).
pub(crate) const RIM_BELT_MM: f64 = 5.0;
/// Demands and thickness agree to this.
const SETTLED_MM: f64 = 1e-11;
/// Three or four rounds are the rule.
const MOST_ROUNDS: usize = 60;
/// Steps for one point: the thickness there grows by little more than the centre does.
const MOST_STEPS: usize = 40;

/// What set the centre thickness.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub enum SetBy {
    /// The minimum at the reference point, or a stock lens's listed centre.
    #[serde(rename = "centre")]
    Centre,
    /// The minimum where the lens is thinnest inside.
    #[serde(rename = "lowest point")]
    LowestPoint,
    /// The minimum at the outline, or a stock lens's listed edge.
    #[serde(rename = "edge")]
    Edge,
}

/// A lens whose thickness is settled, with what was found on the way.
#[derive(Clone, Copy, Debug)]
pub struct Settled {
    /// The lens.
    pub lens: Lens,
    /// Its edge.
    pub edges: Edges,
    /// Its lowest point, where it has one inside.
    pub lowest: Option<LowestPoint>,
    /// How deep the reference point lies inside the outline, negative outside.
    pub reference_inside_mm: f64,
    /// How densely its outline must be sampled.
    pub density: Density,
    /// Which demand set it.
    pub set_by: SetBy,
}

impl Settled {
    /// The smallest thickness anywhere in the closed shape.
    #[must_use]
    pub fn thinnest_mm(&self) -> f64 {
        let mut thinnest = self.edges.min.thickness_mm;
        if self.reference_inside_mm >= 0.0 {
            thinnest = thinnest.min(self.lens.centre_mm());
        }
        self.lowest.map_or(thinnest, |lowest| thinnest.min(lowest.thickness_mm))
    }
}

/// Why no thickness was found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Unsolved {
    /// A surface ends before the outline does.
    TooShort(TooShort),
    /// The recipe gives no lens.
    Unmakeable(Unmakeable),
    /// The loop did not settle.
    Unsettled,
}

impl From<Unmakeable> for Unsolved {
    fn from(unmakeable: Unmakeable) -> Unsolved {
        Unsolved::Unmakeable(unmakeable)
    }
}

/// The demand at a guarded point `inside_mm` from the outline: g = e + (c − e) min(1, d/5 mm), e at most c (ours: a thin
/// place close to the rim is an edge, and the demand must not jump as the point crosses the outline).
#[must_use]
pub fn guard_mm(minimum: &Minimum, inside_mm: f64) -> f64 {
    let edge = minimum.edge_mm.min(minimum.centre_mm);
    edge + (minimum.centre_mm - edge) * (inside_mm / RIM_BELT_MM).min(1.0)
}

/// A demand: the thickness that is wanted at a point.
#[derive(Clone, Copy)]
struct Demand {
    by: SetBy,
    /// From the reference point.
    at: Vec2,
    wanted_mm: f64,
    found_mm: f64,
}

/// A lens at one centre thickness and its demands inside the outline: cheap to look at.
struct Inside {
    lens: Lens,
    lowest: Option<LowestPoint>,
    demands: [Option<Demand>; 2],
}

/// The same with its edge: everything known of the lens at one centre thickness.
pub(super) struct Looked {
    inside: Inside,
    edge: Scan,
    thinnest: EdgePoint,
    density: Density,
    rim: Demand,
}

/// The demand that lacks most; of equal ones the first.
fn hardest(demands: impl Iterator<Item = Demand>) -> Option<Demand> {
    demands.reduce(|a, b| if b.lack_mm() > a.lack_mm() + SETTLED_MM { b } else { a })
}

impl Inside {
    fn at(recipe: &Recipe, place: &Place<'_>, minimum: &Minimum, centre_mm: f64) -> Result<Inside, Unsolved> {
        let lens = recipe.at_centre(centre_mm)?;
        // Without prism the level ground is at the reference point, which is guarded anyway.
        let lowest = if recipe.prism.is_none() { None } else { place.mounted(&lens).lowest_point() };
        let centre = (place.reference_inside_mm >= 0.0).then(|| Demand {
            by: SetBy::Centre,
            at: Vec2::ZERO,
            wanted_mm: guard_mm(minimum, place.reference_inside_mm),
            found_mm: centre_mm,
        });
        let low = lowest.map(|lowest| Demand {
            by: SetBy::LowestPoint,
            at: lowest.point - place.reference,
            wanted_mm: guard_mm(minimum, lowest.inside_mm),
            found_mm: lowest.thickness_mm,
        });
        Ok(Inside { lens, lowest, demands: [centre, low] })
    }

    fn hardest(&self) -> Option<Demand> {
        hardest(self.demands.iter().flatten().copied())
    }
}

impl Looked {
    /// The lens of a recipe at a centre thickness, in its outline.
    pub(super) fn at(
        recipe: &Recipe,
        place: &Place<'_>,
        minimum: &Minimum,
        centre_mm: f64,
    ) -> Result<Looked, Unsolved> {
        Looked::round(Inside::at(recipe, place, minimum, centre_mm)?, place, minimum)
    }

    /// Looks round the edge of a lens.
    fn round(inside: Inside, place: &Place<'_>, minimum: &Minimum) -> Result<Looked, Unsolved> {
        let mounted = place.mounted(&inside.lens);
        let density = mounted.density_within(place.farthest_mm);
        let found = mounted.scan_edge(density).and_then(|scan| mounted.thinnest_edge(&scan).map(|point| (scan, point)));
        let Some((edge, thinnest)) = found else { return Err(place.too_short(&inside.lens)) };
        let rim = Demand {
            by: SetBy::Edge,
            at: thinnest.point - place.reference,
            wanted_mm: minimum.edge_mm,
            found_mm: thinnest.thickness_mm,
        };
        Ok(Looked { inside, edge, thinnest, density, rim })
    }

    fn hardest(&self) -> Option<Demand> {
        hardest(self.inside.demands.iter().flatten().copied().chain([self.rim]))
    }

    /// The demand that is missed most, if one is by more than the slack: which, what was found and what is wanted.
    pub(super) fn unmet(&self, slack_mm: f64) -> Option<(SetBy, f64, f64)> {
        self.hardest()
            .filter(|demand| demand.lack_mm() > slack_mm)
            .map(|demand| (demand.by, demand.found_mm, demand.wanted_mm))
    }

    pub(super) fn settled(&self, place: &Place<'_>, set_by: SetBy) -> Result<Settled, Unsolved> {
        let lens = self.inside.lens;
        let max = place.mounted(&lens).thickest_edge(&self.edge).ok_or_else(|| place.too_short(&lens))?;
        Ok(Settled {
            lens,
            edges: Edges { max, min: self.thinnest },
            lowest: self.inside.lowest,
            reference_inside_mm: place.reference_inside_mm,
            density: self.density,
            set_by,
        })
    }
}

impl Demand {
    fn lack_mm(&self) -> f64 {
        self.wanted_mm - self.found_mm
    }
}

/// An outline and where the reference point lies in it.
#[derive(Clone, Copy, Debug)]
pub struct Place<'a> {
    /// The outline, from the boxed centre.
    pub outline: &'a Outline,
    /// The reference point, from the boxed centre.
    pub reference: Vec2,
    /// How deep it lies inside, negative outside.
    pub reference_inside_mm: f64,
    /// How far the outline reaches from it.
    pub farthest_mm: f64,
}

impl<'a> Place<'a> {
    /// A reference point in an outline.
    #[must_use]
    pub fn new(outline: &'a Outline, reference: Vec2) -> Place<'a> {
        let Distances { inside_mm, farthest_mm, farthest: _, normal: _ } = outline.distances(reference);
        Place { outline, reference, reference_inside_mm: inside_mm, farthest_mm }
    }

    /// A lens in this place.
    fn mounted<'b>(&self, lens: &'b Lens) -> Mounted<'b>
    where
        'a: 'b,
    {
        Mounted { lens, outline: self.outline, reference: self.reference }
    }

    fn too_short(&self, lens: &Lens) -> Unsolved {
        self.mounted(lens).too_short().map_or(Unsolved::Unsettled, Unsolved::TooShort)
    }
}

/// The smallest centre thickness at which every demand is met. The edge is looked at only where the demands inside are
/// met, since that is what takes time.
///
/// # Errors
/// [`Unsolved`] where a surface ends too soon or the loop does not settle.
pub fn surfaced(recipe: &Recipe, place: &Place<'_>, minimum: &Minimum) -> Result<Settled, Unsolved> {
    let mut centre_mm = guard_mm(minimum, place.reference_inside_mm.max(0.0));
    for _ in 0..MOST_ROUNDS {
        let inside = Inside::at(recipe, place, minimum, centre_mm)?;
        let missed = inside.hardest().filter(|demand| demand.lack_mm() > SETTLED_MM);
        let next = match missed {
            Some(demand) => demand,
            None => {
                let looked = Looked::round(inside, place, minimum)?;
                let Some(hardest) = looked.hardest() else { return Err(Unsolved::Unsettled) };
                if hardest.lack_mm().abs() <= SETTLED_MM {
                    return looked.settled(place, hardest.by);
                }
                hardest
            }
        };
        centre_mm = match next.by {
            SetBy::Centre => next.wanted_mm,
            SetBy::LowestPoint | SetBy::Edge => centre_for(recipe, next.at, next.wanted_mm, centre_mm)?,
        };
    }
    Err(Unsolved::Unsettled)
}

/// The centre thickness that gives `wanted_mm` at the point `at` (from the reference point): the back follows the
/// thickness, so both are solved together, by the secant.
pub(super) fn centre_for(recipe: &Recipe, at: Vec2, wanted_mm: f64, start_mm: f64) -> Result<f64, Unsolved> {
    let lack = |centre_mm: f64| -> Result<f64, Unsolved> {
        let lens = recipe.at_centre(centre_mm)?;
        lens.thickness(at)
            .map(|found| wanted_mm - found)
            .ok_or_else(|| TooShort::toward(&lens, at).map_or(Unsolved::Unsettled, Unsolved::TooShort))
    };
    let (mut before, mut lack_before) = (start_mm, lack(start_mm)?);
    let mut now = before + lack_before;
    for _ in 0..MOST_STEPS {
        let lack_now = lack(now)?;
        if lack_now.abs() < 0.1 * SETTLED_MM || lack_now == lack_before {
            return Ok(now);
        }
        let next = now + lack_now * (now - before) / (lack_before - lack_now);
        (before, lack_before, now) = (now, lack_now, next);
    }
    Err(Unsolved::Unsettled)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rx::{Power, Prism};

    /// However far off the start, what comes back gives the wanted thickness there, and no more steps are taken by the
    /// whole than there are points to ask for.
    #[test]
    fn the_centre_found_gives_the_thickness_wanted() {
        for (sphere, cylinder, base_curve_d) in [(-8.0, -2.0, 2.0), (6.0, -3.0, 8.0), (0.0, 0.0, 4.0), (12.0, 0.0, 8.0)]
        {
            let recipe = Recipe {
                power: Power::new(sphere, cylinder, 30.0),
                prism: Prism::new(2.0, 90.0),
                index: 1.6,
                base_curve_d,
            };
            for (x, y) in [(20.0, 3.0), (-25.0, 10.0), (0.0, -18.0)] {
                for wanted_mm in [0.5, 3.0, 9.0] {
                    for start_mm in [0.5, 2.0, 11.0] {
                        let at = Vec2::new(x, y);
                        let centre_mm = centre_for(&recipe, at, wanted_mm, start_mm).expect("such a lens");
                        let found =
                            recipe.at_centre(centre_mm).ok().and_then(|lens| lens.thickness(at)).expect("whole");
                        assert!(
                            (found - wanted_mm).abs() < 4.0 * SETTLED_MM,
                            "{found} for {wanted_mm} from {start_mm}"
                        );
                    }
                }
            }
        }
    }
}
