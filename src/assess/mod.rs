//! An ask becomes a lens with all its figures, or the reason why it cannot be made: the pipeline on one screen.
//!
//! Units: mm, mm³, grams, dioptres, degrees, each in the name. No opinions here.

mod cuts_from;
mod edge_work;
mod extreme;
mod fit;
mod surfacing;
mod uncut;
mod unworked;

pub use cuts_from::CutsFrom;
pub use edge_work::{EdgeWork, OffRim};
pub use fit::{Fit, LabWork, Mounting, Pair, PairImpossible};
pub use surfacing::{CENTRE_TOLERANCE_MM, CRIB_EDGE_MM, Crib, Spot, Surfacing, Tool, Tools};
pub use uncut::uncut_mm3;
pub use unworked::{LEAST_TAKEN_MM, Laid, Room, Unworked};

use crate::choose::base::Base;
use crate::choose::blank::{self, Blank, NoBlank};
use crate::choose::centre::{self, Place, SetBy, Settled, Unsolved};
use crate::choose::minimum::{self, Minima};
use crate::choose::stock::{self, NoStock};
use crate::choose::{LensOption, Substance, Supply};
use crate::eye::Eye;
use crate::frame::Centration;
use crate::keys;
use crate::lens::{Lens, Recipe, Unmakeable};
use crate::light::ReferenceLine;
use crate::measure::{BesideRim, CutOut, EdgePoint, Edges, LowestPoint, Mounted, Side, TooShort};
use crate::outline::Outline;
use crate::rim::{Edging, Position, Rim};
use crate::rx::EyeRx;
use kurbo::Vec2;
use unworked::Wanted;

/// One lens that is asked for: everything that the answer depends on.
#[derive(Clone, Copy, Debug)]
pub struct Ask<'a> {
    /// Which eye.
    pub eye: Eye,
    /// Power, prism and pd.
    pub rx: &'a EyeRx,
    /// The wavelength at which the power is meant.
    pub line: ReferenceLine,
    /// The outline of this eye's lens.
    pub outline: &'a Outline,
    /// Where the reference point lies in it.
    pub centration: Centration,
    /// How the frame holds it.
    pub rim: Rim,
    /// Of the rim, front to back, where known.
    pub rim_depth_mm: Option<f64>,
    /// Where bevel or groove are wished.
    pub position: Position,
    /// What the lens is made of, and the wishes.
    pub option: &'a LensOption,
    /// The front curve, chosen for the pair; `None` where no stock row covers the power.
    pub base: Option<Base>,
}

/// A lens that can be made, with all its figures.
#[derive(Clone, Copy, Debug)]
pub struct Made {
    /// From the boxed centre.
    pub centration: Centration,
    /// The front curve and why.
    pub base: Base,
    /// What was to be made.
    pub recipe: Recipe,
    /// Its two surfaces.
    pub lens: Lens,
    /// Thicknesses.
    pub thickness: Thickness,
    /// Of the outline alone.
    pub outline: OutlineFigures,
    /// The minima that were kept, and what would have been usual.
    pub minima: Minima,
    /// Cut square out to the outline.
    pub volume_mm3: f64,
    /// What bevel, groove or holes take away from that.
    pub edging_removed_mm3: f64,
    /// Density times what is left.
    pub mass_g: f64,
    /// What it is cut from.
    pub blank: Blank,
    /// How far the front stands out before its own rim: its greatest sag at the outline.
    pub bulge_mm: f64,
}

/// Thicknesses, parallel to z; edges at the outline before bevelling.
#[derive(Clone, Copy, Debug)]
pub struct Thickness {
    /// At the reference point; `None` where that lies outside the shape.
    pub centre_mm: Option<f64>,
    /// The smallest anywhere in the closed shape.
    pub thinnest_mm: f64,
    /// Thickest and thinnest edge.
    pub edges: Edges,
    /// On the horizontal line through the boxed centre, toward the nose.
    pub nasal_mm: f64,
    /// On the horizontal line through the boxed centre, toward the temple.
    pub temporal_mm: f64,
    /// On the vertical line through the boxed centre, above.
    pub top_mm: f64,
    /// On the vertical line through the boxed centre, below.
    pub bottom_mm: f64,
    /// The thickest shoulder of the bevel; `None` where the rim has no bevel.
    pub shoulder_max_mm: Option<f64>,
    /// What of the thickest edge shows before and behind the rim, at the bevel's shoulder; `None` where the rim has no bevel
    /// or its depth is not known.
    pub beside_rim: Option<BesideRim>,
    /// At the holes, toward the nose and toward the temple; `None` where none are drilled.
    pub holes_mm: Option<[f64; 2]>,
    /// The lowest point inside, where prism has moved it away from the reference point.
    pub lowest: Option<LowestPoint>,
    /// Which demand set the centre.
    pub set_by: SetBy,
}

/// Figures of the outline.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OutlineFigures {
    /// Area inside.
    pub area_mm2: f64,
    /// Length once round.
    pub perimeter_mm: f64,
    /// Twice the longest radius from the boxed centre.
    pub effective_diameter_mm: f64,
}

/// Why a lens cannot be made. A result, not an error.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum Impossible {
    /// A surface ends before the outline does.
    TooShort {
        /// Which surface.
        side: Side,
        /// How far it reaches from the reference point.
        reach_mm: f64,
        /// How far it ought to.
        wanted_mm: f64,
        /// Would it on another base curve?
        base_helps: bool,
    },
    /// The front focuses inside the lens.
    FocusInside {
        /// The thickness tried.
        centre_mm: f64,
    },
    /// No thickness settled.
    Unsettled,
    /// Even the largest blank is too small.
    NoBlank {
        /// The diameter wanted.
        wanted_mm: f64,
        /// The largest listed.
        largest_mm: f64,
        /// Made to order or finished.
        supply: Supply,
    },
    /// The blank to be surfaced is not thick enough.
    BlankTooThin {
        /// The listed base whose blank was tried, as marked at index 1.530.
        base_curve_d: f64,
        /// Is it at the edge of the lens?
        at_edge: bool,
        /// What the blank has there.
        blank_mm: f64,
        /// The lens there, and what surfacing takes off at least.
        wanted_mm: f64,
    },
    /// A surface of the blank to be surfaced ends within the lens.
    BlankEnds {
        /// The listed base whose blank was tried, as marked at index 1.530.
        base_curve_d: f64,
    },
    /// No stock lens covers the power.
    NoStockPower {
        /// Of the minus-cylinder form.
        sphere_d: f64,
        /// Of the minus-cylinder form.
        cylinder_d: f64,
    },
    /// A stock lens has no prism.
    StockPrism {
        /// The prism prescribed.
        amount_pd: f64,
    },
    /// A stock lens, cut out, is thinner than the minimum.
    StockTooThin {
        /// Which minimum.
        demand: SetBy,
        /// The thickness there.
        found_mm: f64,
        /// The minimum there.
        wanted_mm: f64,
    },
}

impl Impossible {
    pub(crate) fn of_unsolved(unsolved: Unsolved, recipe: &Recipe) -> Impossible {
        match unsolved {
            Unsolved::TooShort(TooShort { side, reach_mm, wanted_mm }) => {
                Impossible::TooShort { side, reach_mm, wanted_mm, base_helps: base_helps(side, wanted_mm, recipe) }
            }
            Unsolved::Unmakeable(Unmakeable::FocusInside { centre_mm }) => Impossible::FocusInside { centre_mm },
            Unsolved::Unsettled => Impossible::Unsettled,
        }
    }

    fn of_stock(no_stock: NoStock, recipe: &Recipe) -> Impossible {
        match no_stock {
            NoStock::Unsolved(unsolved) => Impossible::of_unsolved(unsolved, recipe),
            NoStock::TooThin { demand, found_mm, wanted_mm } => {
                Impossible::StockTooThin { demand, found_mm, wanted_mm }
            }
        }
    }
}

/// Would the surface reach on another base curve? A flatter front always does; a back that is too hollow wants the
/// flattest front, one that stands out toward the front the steepest.
fn base_helps(side: Side, wanted_mm: f64, recipe: &Recipe) -> bool {
    let [flattest, steepest] = keys::BASE_CURVE.refused.allowed(0.0).unwrap_or([recipe.base_curve_d; 2]);
    let reaches = |base_curve_d: f64| {
        let other = Recipe { base_curve_d, ..*recipe }.at_centre(0.0);
        other.is_ok_and(|lens| lens.back().steepness(wanted_mm) < 1.0 && lens.front().steepness(wanted_mm) < 1.0)
    };
    match side {
        Side::Front => reaches(flattest),
        Side::Back => reaches(flattest) || reaches(steepest),
    }
}

/// Makes the lens that is asked for.
///
/// # Errors
/// [`Impossible`] where it cannot be made.
pub fn make(ask: &Ask<'_>) -> Result<Made, Impossible> {
    let power = ask.rx.power;
    let glass = ask.option.substance.glass(ask.line);
    let base = ask.base.ok_or(Impossible::NoStockPower { sphere_d: power.sphere(), cylinder_d: power.cylinder() })?;
    if ask.option.supply == Supply::Stock && !ask.rx.prism.is_none() {
        return Err(Impossible::StockPrism { amount_pd: ask.rx.prism.amount_pd() });
    }
    let recipe = Recipe { power, prism: ask.rx.prism, index: glass.index, base_curve_d: base.base_curve_d };
    let place = Place::new(ask.outline, ask.centration.point(ask.eye));
    let minima = minimum::minima(ask.option, ask.rim);
    let no_blank = |none: NoBlank| Impossible::NoBlank {
        wanted_mm: none.wanted_mm,
        largest_mm: none.largest_mm,
        supply: ask.option.supply,
    };
    let blank = blank::blank(ask.option, &power, base.base_curve_d, &place).map_err(no_blank)?;
    let settled = match ask.option.supply {
        Supply::Surfaced => {
            centre::surfaced(&recipe, &place, &minima.kept).map_err(|why| Impossible::of_unsolved(why, &recipe))?
        }
        Supply::Stock => from_stock(ask, &recipe, &place, &minima, &blank)?,
    };
    lies_in(ask, &recipe, &place, &blank, &settled)?;
    let unsettled = || Impossible::Unsettled;
    let mounted = Mounted { lens: &settled.lens, outline: ask.outline, reference: place.reference };
    let thickness = thickness(ask, &mounted, &settled).ok_or_else(unsettled)?;
    let CutOut { volume_mm3, removed_mm3 } =
        mounted.cut_out(ask.rim.edging(), settled.density).ok_or_else(unsettled)?;
    Ok(Made {
        centration: ask.centration,
        base,
        recipe,
        lens: settled.lens,
        thickness,
        outline: OutlineFigures {
            area_mm2: ask.outline.area_mm2(),
            perimeter_mm: ask.outline.perimeter_mm(),
            effective_diameter_mm: ask.outline.effective_diameter_mm(),
        },
        minima,
        volume_mm3,
        edging_removed_mm3: removed_mm3,
        mass_g: glass.density * (volume_mm3 - removed_mm3) / 1000.0,
        blank,
        bulge_mm: settled.lens.front().sag(Vec2::new(place.farthest_mm, 0.0)).ok_or_else(unsettled)?,
    })
}

/// A surfaced lens that is still to be made must lie in its unworked blank, where one is listed.
fn lies_in(
    ask: &Ask<'_>,
    recipe: &Recipe,
    place: &Place<'_>,
    blank: &Blank,
    settled: &Settled,
) -> Result<(), Impossible> {
    if ask.option.worn {
        return Ok(());
    }
    let base_curve_d = recipe.base_curve_d;
    let Some(unworked) = Unworked::listed(ask.option, base_curve_d) else { return Ok(()) };
    let wanted = Wanted {
        lens: &settled.lens,
        outline: ask.outline,
        reference: place.reference,
        blank,
        thickest_edge_mm: settled.edges.max.thickness_mm,
        prism: !recipe.prism.is_none(),
    };
    match unworked.lacks(&wanted) {
        None => Ok(()),
        Some(None) => Err(Impossible::BlankEnds { base_curve_d }),
        Some(Some(room)) => Err(Impossible::BlankTooThin {
            base_curve_d,
            at_edge: room.at_edge,
            blank_mm: room.lens_mm + room.taken_mm,
            wanted_mm: room.lens_mm + LEAST_TAKEN_MM,
        }),
    }
}

fn from_stock(
    ask: &Ask<'_>,
    recipe: &Recipe,
    place: &Place<'_>,
    minima: &Minima,
    blank: &Blank,
) -> Result<Settled, Impossible> {
    let power = recipe.power;
    let row = match &ask.option.substance {
        Substance::Listed(material) => material.stock_for(power.sphere(), power.cylinder()),
        Substance::Inline(_) => None,
    };
    match (row, blank.diameter_mm) {
        (Some(row), Some(diameter_mm)) => {
            stock::stock(recipe, row, diameter_mm, place, &minima.kept).map_err(|why| Impossible::of_stock(why, recipe))
        }
        _ => Err(Impossible::NoStockPower { sphere_d: power.sphere(), cylinder_d: power.cylinder() }),
    }
}

fn thickness(ask: &Ask<'_>, mounted: &Mounted<'_>, settled: &Settled) -> Option<Thickness> {
    let cardinal = ask.outline.cardinal();
    let (nasal, temporal) = cardinal.nasal_and_temporal(ask.eye);
    let shoulder_max_mm = match ask.rim.edging() {
        Edging::Bevel { height_mm } => Some(mounted.thickest_inside_mm(height_mm, settled.density)?),
        Edging::Groove { .. } | Edging::Holes { .. } => None,
    };
    Some(Thickness {
        centre_mm: (settled.reference_inside_mm >= 0.0).then_some(settled.lens.centre_mm()),
        thinnest_mm: settled.thinnest_mm(),
        edges: settled.edges,
        nasal_mm: mounted.thickness(nasal)?,
        temporal_mm: mounted.thickness(temporal)?,
        top_mm: mounted.thickness(cardinal.top)?,
        bottom_mm: mounted.thickness(cardinal.bottom)?,
        shoulder_max_mm,
        beside_rim: beside_rim(ask, mounted, &settled.edges.max),
        holes_mm: holes_mm(ask, mounted, [nasal, temporal]),
        lowest: settled.lowest,
        set_by: settled.set_by,
    })
}

fn beside_rim(ask: &Ask<'_>, mounted: &Mounted<'_>, edge: &EdgePoint) -> Option<BesideRim> {
    let (Edging::Bevel { .. }, Some(depth_mm)) = (ask.rim.edging(), ask.rim_depth_mm) else { return None };
    let seat = mounted.course(ask.rim, ask.position)?.seat(edge.point, Some(depth_mm))?;
    Some(mounted.shoulder(edge, &seat)?.beside_rim(&seat))
}

fn holes_mm(ask: &Ask<'_>, mounted: &Mounted<'_>, [nasal, temporal]: [Vec2; 2]) -> Option<[f64; 2]> {
    let Edging::Holes { inset_mm, .. } = ask.rim.edging() else { return None };
    let toward_nose = Vec2::new(ask.eye.nasal_sign() * inset_mm, 0.0);
    Some([mounted.thickness(nasal - toward_nose)?, mounted.thickness(temporal + toward_nose)?])
}
