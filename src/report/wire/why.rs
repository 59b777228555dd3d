//! The JSON of `why`.
//!
//! Units: mm and grams, in the word of each figure.

use super::{FORMAT, finite, text};
use crate::assess::Fit;
use crate::report::{number, words};
use crate::study::mixture::Cause;
use crate::study::why::{SharedOut, Unshared, Why};
use serde::Serialize;

/// The answer to `why`.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct WhyWire {
    /// The number of this format.
    pub format: i64,
    /// Address of the first option: FRAME/SIZE/LENS, or `now`.
    pub from: String,
    /// Address of the second.
    pub to: String,
    /// The differences, or why they cannot be shared out.
    #[serde(flatten)]
    pub outcome: WhyOutcomeWire,
}

/// The differences, or why they cannot be shared out.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(untagged)]
#[non_exhaustive]
pub enum WhyOutcomeWire {
    /// They are shared out.
    Shared {
        /// Of the pair: thickest edge, centre, mass.
        figures: Vec<SharedWire>,
        /// What moves together with `supply`, where either option is ready-made.
        #[serde(skip_serializing_if = "Vec::is_empty")]
        with_supply: Vec<&'static str>,
    },
    /// They are not.
    Impossible {
        /// Why, with the option or the mixture that cannot be made.
        impossible: String,
        /// What that mixture has from the second option.
        #[serde(skip_serializing_if = "Vec::is_empty")]
        mixture: Vec<&'static str>,
    },
}

/// A figure of both options, and the difference shared out.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SharedWire {
    /// Its name in the JSON of `compare`; `centre_mm` is the larger of both eyes.
    pub figure: &'static str,
    /// Of the first option; null where there is none.
    pub from: Option<f64>,
    /// Of the second.
    pub to: Option<f64>,
    /// Second less first.
    pub difference: Option<f64>,
    /// What each cause adds; negative where it takes off.
    pub shares: Vec<ShareWire>,
    /// Why it is not shared out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub impossible: Option<String>,
}

/// What one cause adds.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct ShareWire {
    /// The cause.
    pub cause: &'static str,
    /// mm or g, as the figure.
    pub share: f64,
}

/// The answer to `why`, for other programs; `from` and `to` are what it was asked of.
#[must_use]
pub fn why(outcome: &Result<Why<'_, '_>, Unshared<'_, '_>>, from: &Fit<'_>, to: &Fit<'_>) -> WhyWire {
    let outcome = match outcome {
        Ok(why) => WhyOutcomeWire::Shared {
            figures: why.figures.iter().map(|figure| shared(figure, why)).collect(),
            with_supply: if why.supply_together { with_supply() } else { Vec::new() },
        },
        Err(unshared) => WhyOutcomeWire::Impossible {
            impossible: number::plain(&words::unshared(unshared, from, to)),
            mixture: match unshared {
                Unshared::Mixture { causes, .. } => causes.iter().map(|cause| cause.word()).collect(),
                Unshared::Option { .. } => Vec::new(),
            },
        },
    };
    WhyWire { format: FORMAT, from: words::address(from), to: words::address(to), outcome }
}

/// The same as text.
#[must_use]
pub fn why_text(outcome: &Result<Why<'_, '_>, Unshared<'_, '_>>, from: &Fit<'_>, to: &Fit<'_>) -> String {
    text(&why(outcome, from, to))
}

fn with_supply() -> Vec<&'static str> {
    Cause::OF_SUPPLY.into_iter().filter(|cause| *cause != Cause::Supply).map(Cause::word).collect()
}

fn shared(shared_out: &SharedOut, why: &Why<'_, '_>) -> SharedWire {
    let shares = shared_out.shares.iter().flatten();
    SharedWire {
        figure: shared_out.figure.word(),
        from: shared_out.from.map(finite),
        to: shared_out.to.map(finite),
        difference: shared_out.difference().map(finite),
        shares: shares.map(|share| ShareWire { cause: share.cause.word(), share: finite(share.share) }).collect(),
        impossible: words::no_figure(shared_out, why).map(|reason| number::plain(&reason)),
    }
}
