//! Why one option is thinner and lighter than another: the differences in thickest edge, centre and mass of the pair,
//! shared out among everything that differs, as resolved, by the Shapley value. Exact, without an order, adding up.
//!
//! Units: mm and grams in the names. All mixtures of the two options are worked: with n causes 2ⁿ of them.

use super::mixture::{Cause, Causes, End, Mixtures, Piece};
use crate::assess::{Fit, PairImpossible};
use crate::math::shapley;
use crate::study::compare::Comparison;
use rayon::prelude::*;

/// What is shared out: of the pair.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shared {
    /// The larger thickest edge of the two.
    EdgeMax,
    /// The larger centre of the two.
    Centre,
    /// Of both lenses.
    Mass,
}

impl Shared {
    /// All of them, in the order in which they are listed anywhere.
    pub const ALL: [Shared; 3] = [Shared::EdgeMax, Shared::Centre, Shared::Mass];

    /// The word used in JSON.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Shared::EdgeMax => "edge_max_mm",
            Shared::Centre => "centre_mm",
            Shared::Mass => "mass_g",
        }
    }
}

/// What one cause adds to a figure; negative where it takes off.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Share {
    /// The cause.
    pub cause: Cause,
    /// mm or g.
    pub share: f64,
}

/// A figure of both options, and the difference shared out.
#[derive(Clone, Debug, PartialEq)]
pub struct SharedOut {
    /// Which figure.
    pub figure: Shared,
    /// Of the first option; `None` where it has none.
    pub from: Option<f64>,
    /// Of the second.
    pub to: Option<f64>,
    /// A share for each cause; where the figure does not exist all the way, the causes from the second option in a
    /// mixture that has none.
    pub shares: Result<Vec<Share>, Vec<Cause>>,
}

impl SharedOut {
    /// Second less first, where both have the figure.
    #[must_use]
    pub fn difference(&self) -> Option<f64> {
        Some(self.to? - self.from?)
    }
}

/// Two options side by side, and why their figures differ.
#[derive(Clone, Debug)]
pub struct Why<'f, 'a> {
    /// The first option.
    pub from: &'f Fit<'a>,
    /// The second.
    pub to: &'f Fit<'a>,
    /// What differs.
    pub causes: Vec<Cause>,
    /// Do index, base and minima move together with the supply, because an option is ready-made?
    pub supply_together: bool,
    /// Thickest edge, centre and mass.
    pub figures: [SharedOut; 3],
}

/// Why nothing can be shared out.
#[derive(Clone, Debug)]
pub enum Unshared<'f, 'a> {
    /// One of the two options cannot be made.
    Option {
        /// Which.
        fit: &'f Fit<'a>,
        /// Why.
        why: PairImpossible,
    },
    /// A mixture of the two cannot be made.
    Mixture {
        /// What it has from the second option.
        causes: Vec<Cause>,
        /// The option whose power it is made for.
        powered: &'f Fit<'a>,
        /// The option whose supply it has.
        supplied: &'f Fit<'a>,
        /// Why.
        why: PairImpossible,
    },
}

/// Shares out the difference between two fits among its causes.
///
/// # Errors
/// [`Unshared`] where an option or a mixture of the two cannot be made.
pub fn why<'f, 'a>(from: &'f Fit<'a>, to: &'f Fit<'a>) -> Result<Why<'f, 'a>, Unshared<'f, 'a>> {
    let end = |fit: &'f Fit<'a>| End::new(fit).map_err(|why| Unshared::Option { fit, why });
    let mixtures = Mixtures::between(end(from)?, end(to)?);
    let unmade = |set: Causes, causes: Vec<Cause>, why| {
        let end = |cause| if set.has(cause) { to } else { from };
        Unshared::Mixture { causes, powered: end(Cause::Prescription), supplied: end(Cause::Supply), why }
    };
    let sets = Sets::new(mixtures.differing());
    let table = sets.work(&mixtures).map_err(|(set, why)| unmade(sets.moved(set), sets.causes(set), why))?;
    Ok(Why {
        from,
        to,
        causes: sets.in_order(),
        supply_together: sets.movers.iter().any(|(_, moved)| *moved == Causes::of(&Cause::OF_SUPPLY)),
        figures: Shared::ALL.map(|figure| sets.share_out(figure, &table)),
    })
}

/// The causes and all sets of them, each a number with a bit for each cause.
struct Sets {
    /// Those that change the lens before edging come first.
    movers: Vec<(Cause, Causes)>,
    /// How many of them do.
    shaping: usize,
}

/// The figures of one mixture, in the order of [`Shared::ALL`].
type Figures = [Option<f64>; 3];

impl Sets {
    fn new(mut movers: Vec<(Cause, Causes)>) -> Sets {
        let finishes = |cause| matches!(cause, Cause::Rim | Cause::Density);
        movers.sort_by_key(|(cause, _)| finishes(*cause));
        let shaping = movers.iter().filter(|(cause, _)| !finishes(*cause)).count();
        Sets { movers, shaping }
    }

    fn members(&self, set: usize) -> impl Iterator<Item = &(Cause, Causes)> {
        self.movers.iter().enumerate().filter(move |(i, _)| set >> i & 1 == 1).map(|(_, mover)| mover)
    }

    /// All that a set moves.
    fn moved(&self, set: usize) -> Causes {
        self.members(set).fold(Causes::default(), |all, (_, moved)| all.with(*moved))
    }

    /// The causes of a set, in the order of [`Cause::ALL`].
    fn causes(&self, set: usize) -> Vec<Cause> {
        let mut causes: Vec<Cause> = self.members(set).map(|(cause, _)| *cause).collect();
        causes.sort_by_key(|cause| *cause as usize);
        causes
    }

    fn in_order(&self) -> Vec<Cause> {
        self.causes(usize::MAX >> 1)
    }

    /// The figures of every mixture; else the smallest set of causes with which it cannot be made.
    fn work(&self, mixtures: &Mixtures<'_>) -> Result<Vec<Figures>, (usize, PairImpossible)> {
        let worked: Vec<Result<[Piece; 2], PairImpossible>> =
            (0..1usize << self.shaping).into_par_iter().map(|set| mixtures.pieces(self.moved(set))).collect();
        let unmade = worked.iter().enumerate().filter_map(|(set, worked)| Some((set, worked.as_ref().err()?)));
        if let Some((set, why)) = unmade.min_by_key(|(set, _)| set.count_ones()) {
            return Err((set, *why));
        }
        let pieces: Vec<[Piece; 2]> = worked.into_iter().flatten().collect();
        let whole = (0..1usize << self.movers.len()).map(|set| {
            let moved = self.moved(set);
            let density = mixtures.densities()[usize::from(moved.has(Cause::Density))];
            of_pair(&pieces[set % pieces.len()], usize::from(moved.has(Cause::Rim)), density)
        });
        Ok(whole.collect())
    }

    fn share_out(&self, figure: Shared, table: &[Figures]) -> SharedOut {
        let values: Vec<Option<f64>> = table.iter().map(|figures| figures[figure as usize]).collect();
        let (from, to) = (values[0], values[values.len() - 1]);
        let shares = match values.iter().position(Option::is_none) {
            Some(set) => Err(self.causes(set)),
            None => {
                let values: Vec<f64> = values.into_iter().flatten().collect();
                let causes = self.movers.iter().map(|(cause, _)| *cause);
                let mut shares: Vec<Share> =
                    causes.zip(shapley::shares(&values)).map(|(cause, share)| Share { cause, share }).collect();
                shares.sort_by_key(|share| share.cause as usize);
                Ok(shares)
            }
        };
        SharedOut { figure, from, to, shares }
    }
}

fn of_pair([right, left]: &[Piece; 2], rim: usize, density: f64) -> Figures {
    let mass_g = |piece: &Piece| density * piece.left_mm3[rim] / 1000.0;
    [
        Some(right.edge_max_mm.max(left.edge_max_mm)),
        right.centre_mm.zip(left.centre_mm).map(|(right, left)| right.max(left)),
        Some(mass_g(right) + mass_g(left)),
    ]
}

/// The pairs of fits whose difference is most asked for, by their index: the chosen option against the spectacles worn
/// now, else against the thickest; and against the largest size of its own frame in the same lens.
#[must_use]
pub fn most_asked(comparison: &Comparison<'_>, chosen: usize) -> Vec<(usize, usize)> {
    let Some(best) = comparison.fits.get(chosen) else { return Vec::new() };
    let reference = if comparison.has_now { Some(0) } else { comparison.thickest().map(|(index, _)| index) };
    let sizes = comparison.offered().filter(|(_, fit)| {
        fit.pair().is_some()
            && std::ptr::eq(fit.mounting.frame, best.mounting.frame)
            && std::ptr::eq(fit.option, best.option)
    });
    let by_size = |a: &(usize, &Fit<'_>), b: &(usize, &Fit<'_>)| {
        a.1.mounting.boxing.eye_size_mm.total_cmp(&b.1.mounting.boxing.eye_size_mm)
    };
    let largest = sizes.max_by(by_size).map(|(index, _)| index);
    let mut pairs: Vec<(usize, usize)> = [reference, largest]
        .into_iter()
        .flatten()
        .filter(|&from| from != chosen && comparison.fits.get(from).is_some_and(|fit| fit.pair().is_some()))
        .map(|from| (from, chosen))
        .collect();
    pairs.dedup();
    pairs
}
