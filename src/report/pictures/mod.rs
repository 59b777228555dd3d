//! The pictures of a comparison: what each fit looks like, and how eye size matters. Numbers are read off the fits here;
//! the drawing is `draw`'s.
//!
//! Units: mm. All pictures of one kind share one scale, all maps one set of levels.

mod charts;
mod edges;
mod explain;
mod front;
mod layout;
mod limit;
mod over;
mod profile;
mod round;
mod section;
mod sheet;
mod sure;
mod sweep;
mod unrolled;
mod view;

use super::number::mm;
use super::promise::Promise;
use super::words;
use crate::assess::{Fit, Made};
use crate::draw::Picture;
use crate::draw::clock::Rings;
use crate::draw::contours::Scale;
use crate::draw::dimension::scale_words;
use crate::draw::map::{self, EdgePoint, ThicknessMap};
use crate::eye::{Eye, Eyes};
use crate::job::NOW;
use crate::measure;
use crate::study::compare::Comparison;
use kurbo::Vec2;
use profile::Held;
use rayon::prelude::*;

/// Pictures of lenses measure true.
const SCALE: f64 = 1.0;

/// The pictures of a fit.
#[derive(Clone, Debug)]
pub struct FitPictures {
    /// Plan section of the pair.
    pub plan: Picture,
    /// Thickness map of each lens.
    pub maps: Eyes<Picture>,
    /// Front view of the pair.
    pub front: Picture,
    /// Vertical section of each lens.
    pub verticals: Eyes<Picture>,
    /// The thickest edge of each lens.
    pub details: Eyes<Picture>,
    /// The edge of each lens where it has least room for bevel or groove.
    pub criticals: Eyes<Picture>,
    /// The edge of each lens unrolled, with bevel or groove on it.
    pub unrolled: Eyes<Picture>,
    /// The outline of each lens laid in its blank.
    pub layouts: Eyes<Picture>,
    /// Edge thickness round the rim of both.
    pub clock: Picture,
    /// Laid over the pair that all are compared with; none for that pair itself and for the spectacles worn now.
    pub over: Option<Picture>,
    /// As others see it.
    pub view: Picture,
}

impl FitPictures {
    /// All of them, with the eye where a picture is of one lens.
    pub fn all(&self) -> impl Iterator<Item = (Option<Eye>, &Picture)> {
        let FitPictures { plan, maps, front, verticals, details, criticals, unrolled, layouts, clock, over, view } =
            self;
        let of_lenses = [maps, verticals, details, criticals, unrolled, layouts].into_iter().flat_map(Eyes::iter);
        let of_lenses = of_lenses.map(|(eye, picture)| (Some(eye), picture));
        [Some(plan), over.as_ref(), Some(front), Some(clock), Some(view)]
            .into_iter()
            .flatten()
            .map(|picture| (None, picture))
            .chain(of_lenses)
    }
}

/// The charts of a frame.
#[derive(Clone, Debug)]
pub struct FrameCharts {
    /// The leading thickness over eye size.
    pub thickness: Picture,
    /// The mass of the pair over eye size.
    pub mass: Picture,
    /// The leading thickness, eye size traded against bridge; `None` where there is nothing to trade.
    pub trade: Option<Picture>,
    /// The leading thickness over the index; `None` where hardly any can be made.
    pub index: Option<Picture>,
    /// Does a line break, where a lens comes from the next blank or cannot be made?
    pub broken: bool,
}

impl FrameCharts {
    /// All of them.
    pub fn all(&self) -> impl Iterator<Item = &Picture> {
        let FrameCharts { thickness, mass, trade, index, broken: _ } = self;
        [Some(thickness), Some(mass), trade.as_ref(), index.as_ref()].into_iter().flatten()
    }
}

pub use explain::explained;
pub use layout::layout_card;
pub use limit::LimitPictures;
pub use over::reference as compared_with;
pub use profile::edge_profile;
pub use sheet::{outlines, ruler};
pub use sweep::{SweepPicture, sweep};

/// All pictures of a comparison.
#[derive(Clone, Debug)]
pub struct Pictures {
    /// For each fit; `None` where it cannot be made.
    pub fits: Vec<Option<FitPictures>>,
    /// For each frame of the job; `None` where no size can be made.
    pub charts: Vec<Option<FrameCharts>>,
    /// The key of the maps; `None` where there is none.
    pub key: Option<Picture>,
    /// The thickest edges of all options, thin to thick; `None` where there is only one.
    pub edges: Option<Picture>,
    /// How sure the answer is; `None` where nothing can be made.
    pub sure: Option<Picture>,
}

impl Pictures {
    /// Draws them, on all cores. Whoever wants one after the other, and not all at a time, asks a [`Drawing`].
    #[must_use]
    pub fn of(comparison: &Comparison<'_>) -> Pictures {
        let drawing = Drawing::of(comparison);
        let fits = || (0..comparison.fits.len()).into_par_iter().map(|index| drawing.fit(index)).collect();
        let charts = || (0..comparison.job.frames.len()).into_par_iter().map(|index| drawing.charts(index)).collect();
        let (fits, charts) = rayon::join(fits, charts);
        Pictures { fits, charts, key: drawing.key(), edges: drawing.edges(), sure: drawing.sure() }
    }
}

/// What the pictures of a comparison have in common, from which each is drawn when it is wanted.
#[derive(Debug)]
pub struct Drawing<'c> {
    comparison: &'c Comparison<'c>,
    levels: Option<Scale>,
    rings: Rings,
    side: Eye,
    curves: charts::Curves<'c>,
}

impl<'c> Drawing<'c> {
    /// Looks through a comparison for what its pictures share.
    #[must_use]
    pub fn of(comparison: &'c Comparison<'c>) -> Drawing<'c> {
        let (rings, side) = (round::rings(comparison), view::side(comparison));
        Drawing { comparison, levels: levels(comparison), rings, side, curves: charts::Curves::of(comparison) }
    }

    /// The pictures of a fit; `None` where it cannot be made.
    #[must_use]
    pub fn fit(&self, index: usize) -> Option<FitPictures> {
        let fit = self.comparison.fits.get(index)?;
        of_fit(fit, self.levels.as_ref()?, self.rings, self.side, over::over(self.comparison, index))
    }

    /// The plan section of a fit alone; `None` where it cannot be made.
    #[must_use]
    pub fn plan(&self, index: usize) -> Option<Picture> {
        let fit = self.comparison.fits.get(index)?;
        section::plan(fit, fit.pair()?)
    }

    /// The charts of a frame of the job; `None` where no size can be made.
    #[must_use]
    pub fn charts(&self, index: usize) -> Option<FrameCharts> {
        self.curves.draw(self.comparison, index)
    }

    /// The key of the maps; `None` where there is none.
    #[must_use]
    pub fn key(&self) -> Option<Picture> {
        self.levels.as_ref().map(map::legend)
    }

    /// How sure the answer is; `None` where nothing can be made.
    #[must_use]
    pub fn sure(&self) -> Option<Picture> {
        let of = Promise::of(self.comparison)?;
        sure::strip(&of.sure, of.lead, &words::fit(of.fit))
    }

    /// The thickest edges of all options, thin to thick; `None` where there is only one.
    #[must_use]
    pub fn edges(&self) -> Option<Picture> {
        edges::edges(self.comparison)
    }
}

/// The levels that all maps share.
fn levels(comparison: &Comparison<'_>) -> Option<Scale> {
    let lenses = comparison.fits.iter().filter_map(Fit::pair).flat_map(|pair| pair.eyes.iter().map(|(_, made)| made));
    let range = |made: &Made| {
        let most = made.thickness.edges.max.thickness_mm.max(made.thickness.centre_mm.unwrap_or(0.0));
        (made.thickness.thinnest_mm, most)
    };
    let (low, high) = lenses.map(range).reduce(|a, b| (a.0.min(b.0), a.1.max(b.1)))?;
    Some(Scale::covering(low, high))
}

/// "Yarrow 46 with “thin” (1.60 resin)", or "the spectacles worn now (1.56 resin)".
fn subject(fit: &Fit<'_>) -> String {
    let material = words::material(fit.option);
    if fit.option.name == NOW {
        format!("the spectacles worn now ({material})")
    } else {
        format!("{} ({material})", words::fit(fit))
    }
}

fn of_fit(fit: &Fit<'_>, levels: &Scale, rings: Rings, side: Eye, over: Option<Picture>) -> Option<FitPictures> {
    let pair = fit.pair()?;
    let map = |eye| thickness_map(fit, eye, pair.eyes.of(eye), levels);
    let each = |draw: fn(&Fit<'_>, Eye, &Made) -> Option<Picture>| {
        Some(Eyes { right: draw(fit, Eye::Right, &pair.eyes.right)?, left: draw(fit, Eye::Left, &pair.eyes.left)? })
    };
    Some(FitPictures {
        plan: section::plan(fit, pair)?,
        maps: Eyes::from_fn(map),
        front: front::front(fit, pair),
        verticals: each(section::vertical)?,
        details: each(|fit, eye, made| Held::of(fit, eye, made).thickest(&subject(fit)))?,
        criticals: each(|fit, eye, made| Held::of(fit, eye, made).critical(&subject(fit)))?,
        unrolled: each(|fit, eye, made| unrolled::unrolled(&Held::of(fit, eye, made), &subject(fit)))?,
        layouts: Eyes::from_fn(|eye| layout::layout(&Held::of(fit, eye, pair.eyes.of(eye)), fit.option, &subject(fit))),
        clock: round::clock(fit, pair, rings)?,
        over,
        view: view::view(fit, pair, side)?,
    })
}

fn edge_point(edge: &measure::EdgePoint) -> EdgePoint {
    EdgePoint { x: edge.point.x, y: edge.point.y, thickness_mm: edge.thickness_mm }
}

fn thickness_map(fit: &Fit<'_>, eye: Eye, made: &Made, levels: &Scale) -> Picture {
    let reference = made.centration.point(eye);
    let edges = &made.thickness.edges;
    let description = format!(
        "Thickest edge {} {}, thinnest edge {} {}.",
        mm(edges.max.thickness_mm),
        words::edge_side(eye, &edges.max),
        mm(edges.min.thickness_mm),
        words::edge_side(eye, &edges.min),
    );
    let map = ThicknessMap {
        title: &format!("Thickness map, {}, {} lens, {}", subject(fit), eye.word(), scale_words(SCALE)),
        description: &description,
        eye,
        outline: fit.mounting.outlines.of(eye),
        thickness: &|x, y| made.lens.thickness(Vec2::new(x, y) - reference),
        reference: (reference.x, reference.y),
        thickest: edge_point(&edges.max),
        thinnest: edge_point(&edges.min),
        levels,
        scale: SCALE,
    };
    map.draw()
}
