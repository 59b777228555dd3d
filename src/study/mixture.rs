//! Two options of a job and every mixture of them: some quantities of the one, the rest of the other, each as it was
//! resolved (the base curve, the minima, the index themselves, not the rules that chose them).
//!
//! Units: mm, mm³, grams in the names. A mixture that is made to order is asked for its geometry alone, since blanks set
//! no figure; a ready-made one has to be on the list, with its power, its size and its minima.

use crate::assess::{Ask, Fit, Impossible, Made, Pair, PairImpossible, make};
use crate::choose::centre::{self, Place};
use crate::choose::{LensOption, Supply, base};
use crate::eye::{Eye, Eyes};
use crate::frame::{Boxing, Centration};
use crate::lens::Recipe;
use crate::material::Minimum;
use crate::measure::Mounted;
use crate::outline::Outline;
use crate::rim::{Position, Rim};
use crate::rx::EyeRx;

/// One of the things in which two options may differ.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cause {
    /// Power and prism.
    Prescription,
    /// Where the pupils are: pd, and height above the boxed centre.
    Position,
    /// Width of the box round one lens.
    EyeSize,
    /// Height of that box.
    Depth,
    /// Distance between the two boxes.
    Bridge,
    /// The shape within its box.
    Shape,
    /// What the rim asks of the edge: bevel, groove or holes.
    Rim,
    /// Refractive index at the reference line.
    Index,
    /// Density of the material.
    Density,
    /// Least thickness at the guarded points.
    MinCentre,
    /// Least thickness at the outline.
    MinEdge,
    /// Front curve.
    Base,
    /// Made to order or ready-made.
    Supply,
}

impl Cause {
    /// All of them, in the order in which they are listed anywhere.
    pub const ALL: [Cause; 13] = [
        Cause::Prescription,
        Cause::Position,
        Cause::EyeSize,
        Cause::Depth,
        Cause::Bridge,
        Cause::Shape,
        Cause::Rim,
        Cause::Index,
        Cause::Density,
        Cause::MinCentre,
        Cause::MinEdge,
        Cause::Base,
        Cause::Supply,
    ];

    /// What a ready-made lens is bought with: they move together where either option is one.
    pub const OF_SUPPLY: [Cause; 5] = [Cause::Index, Cause::MinCentre, Cause::MinEdge, Cause::Base, Cause::Supply];

    /// The word used in JSON.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Cause::Prescription => "prescription",
            Cause::Position => "position",
            Cause::EyeSize => "eye_size",
            Cause::Depth => "depth",
            Cause::Bridge => "bridge",
            Cause::Shape => "shape",
            Cause::Rim => "rim",
            Cause::Index => "index",
            Cause::Density => "density",
            Cause::MinCentre => "min_centre",
            Cause::MinEdge => "min_edge",
            Cause::Base => "base",
            Cause::Supply => "supply",
        }
    }
}

/// A set of causes: those that a mixture has from the second option.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct Causes(u16);

impl Causes {
    /// These together.
    #[must_use]
    pub fn of(causes: &[Cause]) -> Causes {
        Causes(causes.iter().fold(0, |set, cause| set | 1 << *cause as u16))
    }

    /// Is it among them?
    #[must_use]
    pub fn has(self, cause: Cause) -> bool {
        self.0 & 1 << cause as u16 != 0
    }

    /// Those of both.
    #[must_use]
    pub fn with(self, other: Causes) -> Causes {
        Causes(self.0 | other.0)
    }
}

/// An option with what came of it.
pub(super) struct End<'f> {
    fit: &'f Fit<'f>,
    pair: &'f Pair,
    /// The option with the minima that were kept written into it.
    option: LensOption,
}

impl<'f> End<'f> {
    /// # Errors
    /// Why it cannot be made, where it cannot.
    pub(super) fn new(fit: &'f Fit<'f>) -> Result<End<'f>, PairImpossible> {
        let pair = fit.outcome.as_ref().map_err(|why| *why)?;
        let Minimum { centre_mm, edge_mm } = pair.eyes.right.minima.kept;
        let option = LensOption { min_centre_mm: Some(centre_mm), min_edge_mm: Some(edge_mm), ..fit.option.clone() };
        Ok(End { fit, pair, option })
    }

    fn made(&self, eye: Eye) -> &Made {
        self.pair.eyes.of(eye)
    }

    fn rx(&self, eye: Eye) -> &EyeRx {
        self.fit.prescription.eyes.of(eye)
    }

    fn boxing(&self) -> &Boxing {
        &self.fit.mounting.boxing
    }

    fn kept(&self) -> Minimum {
        self.pair.eyes.right.minima.kept
    }

    fn density(&self) -> f64 {
        self.option.substance.glass(self.fit.prescription.reference_line).density
    }

    fn rim(&self) -> Rim {
        self.fit.mounting.frame.rim
    }
}

/// One lens of a mixture.
#[derive(Clone, Copy, Debug)]
pub(super) struct Piece {
    pub(super) edge_max_mm: f64,
    /// `None` where the reference point lies outside the shape.
    pub(super) centre_mm: Option<f64>,
    /// What is left after edging for the rim of the first option and for that of the second.
    pub(super) left_mm3: [f64; 2],
}

/// Two options that can be made, and all between them.
pub(super) struct Mixtures<'f> {
    ends: [End<'f>; 2],
    /// By eye size, depth and shape: a bit each, set where it is the second option's.
    outlines: [Eyes<Outline>; 8],
}

impl<'f> Mixtures<'f> {
    pub(super) fn between(from: End<'f>, to: End<'f>) -> Mixtures<'f> {
        let ends = [from, to];
        let outlines = std::array::from_fn(|bits| {
            let end = |bit: usize| &ends[usize::from(bits & bit != 0)];
            let (width_mm, depth_mm) = (end(1).boxing().eye_size_mm, end(2).boxing().depth_mm);
            Eyes::from_fn(|eye| end(4).fit.mounting.frame.shape.outline(eye, width_mm, depth_mm))
        });
        Mixtures { ends, outlines }
    }

    /// What differs, each cause with all that moves with it.
    pub(super) fn differing(&self) -> Vec<(Cause, Causes)> {
        let together = Causes::of(&Cause::OF_SUPPLY);
        let stock = self.ends.iter().any(|end| end.option.supply == Supply::Stock);
        let alone = |cause: Cause| Causes::of(&[cause]);
        let moves = |cause: Cause| match (stock, cause) {
            (true, Cause::Supply) => self.supply_differs().then_some(together),
            (true, cause) if together.has(cause) => None,
            (_, cause) => self.differs(cause).then(|| alone(cause)),
        };
        Cause::ALL.into_iter().filter_map(|cause| Some((cause, moves(cause)?))).collect()
    }

    fn supply_differs(&self) -> bool {
        let [from, to] = &self.ends;
        from.option.supply != to.option.supply
            || from.option.substance != to.option.substance
            || from.kept() != to.kept()
    }

    fn differs(&self, cause: Cause) -> bool {
        let [from, to] = &self.ends;
        let unlike = |of: fn(&End<'_>, Eye) -> f64| Eye::BOTH.into_iter().any(|eye| of(from, eye) != of(to, eye));
        match cause {
            Cause::Prescription => Eye::BOTH.into_iter().any(|eye| {
                let (a, b) = (from.rx(eye), to.rx(eye));
                a.power != b.power || a.prism != b.prism
            }),
            Cause::Position => {
                unlike(|end, eye| end.rx(eye).pd_mm) || unlike(|end, eye| end.made(eye).centration.up_mm)
            }
            Cause::EyeSize => from.boxing().eye_size_mm != to.boxing().eye_size_mm,
            Cause::Depth => from.boxing().depth_mm != to.boxing().depth_mm,
            Cause::Bridge => from.boxing().bridge_mm != to.boxing().bridge_mm,
            Cause::Shape => from.fit.mounting.frame.shape != to.fit.mounting.frame.shape,
            Cause::Rim => from.rim() != to.rim(),
            Cause::Index => unlike(|end, eye| end.made(eye).recipe.index),
            Cause::Density => from.density() != to.density(),
            Cause::MinCentre => from.kept().centre_mm != to.kept().centre_mm,
            Cause::MinEdge => from.kept().edge_mm != to.kept().edge_mm,
            Cause::Base => unlike(|end, eye| end.made(eye).base.base_curve_d),
            Cause::Supply => from.option.supply != to.option.supply,
        }
    }

    /// Densities of the first option and of the second.
    pub(super) fn densities(&self) -> [f64; 2] {
        [self.ends[0].density(), self.ends[1].density()]
    }

    /// Both lenses of a mixture, right first.
    pub(super) fn pieces(&self, mixture: Causes) -> Result<[Piece; 2], PairImpossible> {
        let piece = |eye| self.piece(mixture, eye).map_err(|why| PairImpossible { eye, why });
        Ok([piece(Eye::Right)?, piece(Eye::Left)?])
    }

    /// The option that a mixture has this from.
    fn end(&self, mixture: Causes, cause: Cause) -> &End<'f> {
        &self.ends[usize::from(mixture.has(cause))]
    }

    fn outline(&self, mixture: Causes, eye: Eye) -> &Outline {
        let bit = |cause, bit: usize| if mixture.has(cause) { bit } else { 0 };
        self.outlines[bit(Cause::EyeSize, 1) | bit(Cause::Depth, 2) | bit(Cause::Shape, 4)].of(eye)
    }

    fn piece(&self, mixture: Causes, eye: Eye) -> Result<Piece, Impossible> {
        let from = |cause| self.end(mixture, cause);
        let boxing = Boxing {
            eye_size_mm: from(Cause::EyeSize).boxing().eye_size_mm,
            depth_mm: from(Cause::Depth).boxing().depth_mm,
            bridge_mm: from(Cause::Bridge).boxing().bridge_mm,
        };
        let position = from(Cause::Position);
        let rx = EyeRx { pd_mm: position.rx(eye).pd_mm, ..*from(Cause::Prescription).rx(eye) };
        let centration = Centration::new(&boxing, rx.pd_mm, position.made(eye).centration.up_mm);
        let rims = [self.ends[0].rim(), self.ends[1].rim()];
        match from(Cause::Supply).option.supply {
            Supply::Surfaced => self.surfaced(mixture, eye, &rx, &centration, rims),
            Supply::Stock => self.stock(mixture, eye, &rx, centration, rims),
        }
    }

    fn surfaced(
        &self,
        mixture: Causes,
        eye: Eye,
        rx: &EyeRx,
        centration: &Centration,
        rims: [Rim; 2],
    ) -> Result<Piece, Impossible> {
        let from = |cause| self.end(mixture, cause);
        let recipe = Recipe {
            power: rx.power,
            prism: rx.prism,
            index: from(Cause::Index).made(eye).recipe.index,
            base_curve_d: from(Cause::Base).made(eye).base.base_curve_d,
        };
        let minimum = Minimum {
            centre_mm: from(Cause::MinCentre).kept().centre_mm,
            edge_mm: from(Cause::MinEdge).kept().edge_mm,
        };
        let outline = self.outline(mixture, eye);
        let place = Place::new(outline, centration.point(eye));
        let settled =
            centre::surfaced(&recipe, &place, &minimum).map_err(|why| Impossible::of_unsolved(why, &recipe))?;
        let mounted = Mounted { lens: &settled.lens, outline, reference: place.reference };
        let left = |rim: Rim| {
            let cut = mounted.cut_out(rim.edging(), settled.density).ok_or(Impossible::Unsettled)?;
            Ok(cut.volume_mm3 - cut.removed_mm3)
        };
        Ok(Piece {
            edge_max_mm: settled.edges.max.thickness_mm,
            centre_mm: (settled.reference_inside_mm >= 0.0).then_some(settled.lens.centre_mm()),
            left_mm3: each(rims, left)?,
        })
    }

    fn stock(
        &self,
        mixture: Causes,
        eye: Eye,
        rx: &EyeRx,
        centration: Centration,
        rims: [Rim; 2],
    ) -> Result<Piece, Impossible> {
        let supplied = self.end(mixture, Cause::Supply);
        let lens = |rim| {
            make(&Ask {
                eye,
                rx,
                line: supplied.fit.prescription.reference_line,
                outline: self.outline(mixture, eye),
                centration,
                rim,
                rim_depth_mm: None,
                position: Position::Usual,
                option: &supplied.option,
                base: base::alone(&supplied.option, &rx.power),
            })
        };
        let first = lens(rims[0])?;
        Ok(Piece {
            edge_max_mm: first.thickness.edges.max.thickness_mm,
            centre_mm: first.thickness.centre_mm,
            left_mm3: each(rims, |rim| lens(rim).map(|made| made.volume_mm3 - made.edging_removed_mm3))?,
        })
    }
}

/// For each of two rims, worked once where they are the same.
fn each(rims: [Rim; 2], left: impl Fn(Rim) -> Result<f64, Impossible>) -> Result<[f64; 2], Impossible> {
    let first = left(rims[0])?;
    Ok([first, if rims[1] == rims[0] { first } else { left(rims[1])? }])
}
