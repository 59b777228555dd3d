//! Which figures of a sweep are shown: rows of the catalogue of figures, of the pair or of an eye.

use super::{Asked, Row};
use crate::assess::{EdgeWork, Made, Pair, Surfacing};
use crate::eye::Eye;
use crate::figures::{Figure, OF_EDGING, OF_EYE, OF_PAIR, OF_SURFACING, Unit};
use crate::job::nearest;
use crate::study::compare::Lead;

/// A figure that is shown.
#[derive(Clone, Copy, Debug)]
pub enum Show {
    /// Of the pair.
    Pair(&'static Figure<Pair>),
    /// Of one lens.
    Eye(Eye, &'static Figure<Made>),
    /// Of the work on one edge.
    Edging(Eye, &'static Figure<EdgeWork>),
    /// Of the work on one back.
    Surfacing(Eye, &'static Figure<Surfacing>),
}

impl Show {
    /// Those of this name: `pair.mass_g`, `right.thickness.centre_mm`; without a first word the pair's, else both eyes'.
    /// The last part alone will do where nothing else of an eye ends so.
    ///
    /// # Errors
    /// The names nearest to one that is not known.
    pub fn named(found: &str) -> Result<Vec<Show>, Vec<String>> {
        let (whose, id) = match found.split_once('.') {
            Some((whose @ ("pair" | "right" | "left"), id)) => (Some(whose), id),
            _ => (None, found),
        };
        let pair = OF_PAIR.iter().find(|figure| figure.id == id).map(Show::Pair);
        let eyes = match whose {
            Some("pair") => Vec::new(),
            Some("right") => vec![Eye::Right],
            Some("left") => vec![Eye::Left],
            _ => Eye::BOTH.to_vec(),
        };
        let of_eyes: Vec<Show> = eyes.into_iter().filter_map(|eye| of_eye(eye, id)).collect();
        match (pair, whose) {
            (Some(pair), None | Some("pair")) => Ok(vec![pair]),
            _ if !of_eyes.is_empty() => Ok(of_eyes),
            _ => Err(near(id)),
        }
    }

    /// Its path in a row of the JSON: `pair.mass_g`.
    #[must_use]
    pub fn id(&self) -> String {
        match self {
            Show::Pair(figure) => format!("pair.{}", figure.id),
            Show::Eye(eye, figure) => format!("{}.{}", eye.word(), figure.id),
            Show::Edging(eye, figure) => format!("{}.{}", eye.word(), figure.id),
            Show::Surfacing(eye, figure) => format!("{}.{}", eye.word(), figure.id),
        }
    }

    /// The same without whose it is.
    #[must_use]
    pub fn figure_id(&self) -> &'static str {
        match self {
            Show::Pair(figure) => figure.id,
            Show::Eye(_, figure) => figure.id,
            Show::Edging(_, figure) => figure.id,
            Show::Surfacing(_, figure) => figure.id,
        }
    }

    /// The eye that it is of; `None` for the pair.
    #[must_use]
    pub fn eye(&self) -> Option<Eye> {
        match self {
            Show::Pair(_) => None,
            Show::Eye(eye, _) | Show::Edging(eye, _) | Show::Surfacing(eye, _) => Some(*eye),
        }
    }

    /// Its name on screen, without the eye.
    #[must_use]
    pub fn name(&self) -> &'static str {
        match self {
            Show::Pair(figure) => figure.name,
            Show::Eye(_, figure) => figure.name,
            Show::Edging(_, figure) => figure.name,
            Show::Surfacing(_, figure) => figure.name,
        }
    }

    /// Its unit.
    #[must_use]
    pub fn unit(&self) -> Unit {
        match self {
            Show::Pair(figure) => figure.unit,
            Show::Eye(_, figure) => figure.unit,
            Show::Edging(_, figure) => figure.unit,
            Show::Surfacing(_, figure) => figure.unit,
        }
    }

    /// Decimals on screen.
    #[must_use]
    pub fn decimals(&self) -> usize {
        match self {
            Show::Pair(figure) => figure.decimals,
            Show::Eye(_, figure) => figure.decimals,
            Show::Edging(_, figure) => figure.decimals,
            Show::Surfacing(_, figure) => figure.decimals,
        }
    }

    /// Reads it off a row; `None` where it does not exist.
    #[must_use]
    pub fn read(&self, row: &Row) -> Option<f64> {
        match self {
            Show::Pair(figure) => (figure.read)(row.pair()?),
            Show::Eye(eye, figure) => (figure.read)(row.pair()?.eyes.of(*eye)),
            Show::Edging(eye, figure) => (figure.read)(&row.lab_work(*eye)?.edging),
            Show::Surfacing(eye, figure) => (figure.read)(&row.lab_work(*eye)?.surfacing),
        }
    }
}

/// What is shown where nothing is asked for: the leading thickness and the mass, of the pair or of the eye that varies.
#[must_use]
pub fn defaults(asked: &Asked<'_>) -> Vec<Show> {
    let lead = Lead::for_pair(asked.at.prescription);
    let names: &[&str] = match (asked.eye, lead) {
        (None, Lead::Edge) => &["pair.edge_max_mm", "pair.mass_g"],
        (None, Lead::Centre) => &["thickness.centre_mm", "pair.mass_g"],
        (Some(Eye::Right), Lead::Edge) => &["right.thickness.edge_max_mm", "right.mass_g"],
        (Some(Eye::Right), Lead::Centre) => &["right.thickness.centre_mm", "right.mass_g"],
        (Some(Eye::Left), Lead::Edge) => &["left.thickness.edge_max_mm", "left.mass_g"],
        (Some(Eye::Left), Lead::Centre) => &["left.thickness.centre_mm", "left.mass_g"],
    };
    names.iter().flat_map(|name| Show::named(name).unwrap_or_default()).collect()
}

/// What a figure of an eye may be called: its whole id, and the last part of it where no other ends so.
fn of_eye(eye: Eye, id: &str) -> Option<Show> {
    let all = of_eyes(eye);
    let whole = all.iter().find(|show| show.figure_id() == id);
    let mut ending = all.iter().filter(|show| last(show.figure_id()) == id);
    let short = ending.next().filter(|_| ending.next().is_none());
    whole.or(short).copied()
}

fn of_eyes(eye: Eye) -> Vec<Show> {
    let made = OF_EYE.iter().map(|figure| Show::Eye(eye, figure));
    let edging = OF_EDGING.iter().map(|figure| Show::Edging(eye, figure));
    made.chain(edging).chain(OF_SURFACING.iter().map(|figure| Show::Surfacing(eye, figure))).collect()
}

fn last(id: &str) -> &str {
    id.rsplit('.').next().unwrap_or(id)
}

/// The names nearest to one that is not known: all that end in it, where it is short for several.
fn near(id: &str) -> Vec<String> {
    let mut ids: Vec<&str> = of_eyes(Eye::Right).iter().map(Show::figure_id).collect();
    ids.extend(OF_PAIR.iter().map(|figure| figure.id));
    let ending: Vec<String> = ids.iter().filter(|full| last(full) == id).map(|full| (*full).to_owned()).collect();
    if !ending.is_empty() {
        return ending;
    }
    let short: Vec<&str> = ids.iter().map(|id| last(id)).collect();
    let mut near = nearest(id, ids.into_iter().chain(short));
    near.sort_unstable();
    near.dedup();
    near
}
