//! What goes over the wire: the JSON of the commands, in types of its own, so that inner ones stay free to
//! move. Names and units stay put; keys may be added.
//!
//! Units: mm, mm², mm³, grams, dioptres, degrees, each in the key's name. Numbers keep all their digits.

mod answer;
mod edging;
mod explain;
mod gauge;
mod limit;
#[cfg(feature = "cli")]
mod practise;
mod surfacing;
mod sweep;
mod totals;
mod why;

pub use answer::{AnswerWire, SavingWire};
pub use edging::{EdgingWire, edging};
pub use explain::{ExplainWire, HandWire, LineWire, NodeWire, SpotWire, explain, explain_text, not_explained_text};
pub use gauge::{AboutWire, EdgeGaugedWire, GaugeWire, gauge_text};
pub use limit::{
    ChangedToWire, CurvesWire, EdgeMaxWire, LimitInMaterialWire, LimitOfLensWire, LimitWire, MendWire, PointWire,
    SpreadWire, SureWire, limit, limit_text, sure,
};
#[cfg(feature = "cli")]
pub use practise::{ExerciseWire, MistakeWire, PractiseWire, StepWire, practise_text};
pub use surfacing::{CutsFromWire, SurfacingWire, surfacing};
pub use sweep::{SweepRowWire, SweepWire, ValueWire, sweep, sweep_text};
pub use totals::{GroupWire, MillionthsWire, TotalsFault, TotalsWire, read_totals, totals, totals_text};
pub use why::{ShareWire, SharedWire, WhyOutcomeWire, WhyWire, why, why_text};

use super::promise::Promise;
use super::{findings, number, words};
use crate::advice::{self, Caution};
use crate::assess::{Fit, Impossible, LabWork, Made, Pair};
use crate::choose::base::ChosenBy;
use crate::choose::centre::SetBy;
use crate::eye::Eye;
use crate::figures::radius_mm;
use crate::finding::Finding;
use crate::job::{Job, NOW, OneLens};
use crate::study;
use crate::study::compare::Comparison;
use serde::Serialize;

/// The number of this format.
pub const FORMAT: i64 = 1;

/// The answer to `compare`.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CompareWire {
    /// The number of this format.
    pub format: i64,
    /// The practice's own reference; null where the job has none.
    pub reference: Option<String>,
    /// Of the job as a whole.
    pub cautions: Vec<CautionWire>,
    /// The option that the comparison comes to; null where none can be made.
    pub answer: Option<AnswerWire>,
    /// `now` first where given, then frame, size, lens in the order of the job.
    pub fits: Vec<FitWire>,
}

/// One frame at one eye size with one lens option.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FitWire {
    /// Name of the frame, or `now`.
    pub frame: String,
    /// Width of the box round one lens.
    pub eye_size_mm: f64,
    /// Height of that box.
    pub depth_mm: f64,
    /// Name of the lens option, or `now`.
    pub lens: String,
    /// Both lenses, or why not.
    #[serde(flatten)]
    pub outcome: OutcomeWire,
    /// What to think of.
    pub cautions: Vec<CautionWire>,
}

/// Both lenses, or why the pair cannot be made.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(untagged)]
#[non_exhaustive]
pub enum OutcomeWire {
    /// They can be made.
    Made(Box<MadeWire>),
    /// They cannot.
    Impossible {
        /// Why, in one sentence that names the eye.
        impossible: String,
    },
}

/// Both lenses.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct MadeWire {
    /// The right lens.
    pub right: EyeWire,
    /// The left lens.
    pub left: EyeWire,
    /// Both together.
    pub pair: PairWire,
}

/// Both lenses together.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct PairWire {
    /// Of both lenses.
    pub mass_g: f64,
    /// The larger of the two.
    pub edge_max_mm: f64,
    /// Lenses and frame; null where the frame's mass is not known.
    pub with_frame_g: Option<f64>,
}

/// Something to think of.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CautionWire {
    /// Stays put.
    pub id: String,
    /// note, caution or warning.
    pub severity: &'static str,
    /// Which eye; null where it is both or neither.
    pub eye: Option<Eye>,
    /// In a sentence or two, with a mend where one is likely.
    pub text: String,
    /// The same without any term of the trade; null where it is about how the job is written.
    pub for_wearer: Option<String>,
}

/// One lens with all its figures.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct EyeWire {
    /// Where the prescribed power is to be found, from the boxed centre.
    pub reference_point: ReferencePointWire,
    /// From there to the sides of the box.
    pub reach: ReachWire,
    /// The front surface.
    pub front: FrontWire,
    /// The back surface.
    pub back: BackWire,
    /// Thicknesses.
    pub thickness: ThicknessWire,
    /// How far the front stands out before its own rim.
    pub bulge_mm: f64,
    /// Of the outline alone.
    pub outline: OutlineWire,
    /// Cut square out to the outline.
    pub volume_mm3: f64,
    /// What bevel, groove or holes take away from that.
    pub edging_removed_mm3: f64,
    /// Density times what is left.
    pub mass_g: f64,
    /// What it is cut from.
    pub blank: BlankWire,
    /// The work on its edge.
    pub edging: EdgingWire,
    /// The work on its back.
    pub surfacing: SurfacingWire,
}

/// From the boxed centre.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct ReferencePointWire {
    /// Toward the nose.
    pub in_mm: f64,
    /// Upward.
    pub up_mm: f64,
}

/// From the reference point to the sides of the box.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct ReachWire {
    /// Toward the nose.
    pub nasal_mm: f64,
    /// Toward the temple.
    pub temporal_mm: f64,
}

/// The front surface.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct FrontWire {
    /// As marked at index 1.530.
    pub base_curve_d: f64,
    /// True power.
    pub power_d: f64,
    /// Null for a plane.
    pub radius_mm: Option<f64>,
    /// Where the curve comes from.
    pub chosen_by: ChosenBy,
}

/// The back surface.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct BackWire {
    /// Along the axis and across it.
    pub powers_d: [f64; 2],
    /// Along the axis and across it; null where it is plane.
    pub radii_mm: [Option<f64>; 2],
    /// Of the minus cylinder, above 0 to 180; null for a sphere.
    pub axis_deg: Option<f64>,
}

/// Thicknesses, parallel to the line of sight; edges at the outline before bevelling.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct ThicknessWire {
    /// At the reference point; null where that lies outside the shape.
    pub centre_mm: Option<f64>,
    /// The smallest anywhere.
    pub thinnest_mm: f64,
    /// Thickest edge.
    pub edge_max_mm: f64,
    /// Its direction from the boxed centre.
    pub edge_max_deg: f64,
    /// Thinnest edge.
    pub edge_min_mm: f64,
    /// Its direction from the boxed centre.
    pub edge_min_deg: f64,
    /// On the horizontal line through the boxed centre.
    pub nasal_mm: f64,
    /// On the horizontal line through the boxed centre.
    pub temporal_mm: f64,
    /// On the vertical line through the boxed centre.
    pub top_mm: f64,
    /// On the vertical line through the boxed centre.
    pub bottom_mm: f64,
    /// Thickest shoulder; null where the rim has no bevel.
    pub shoulder_max_mm: Option<f64>,
    /// What of the thickest edge shows before the rim, at the bevel's shoulder; below zero where the rim stands before the
    /// lens; null where the rim has no bevel or its depth is not known.
    pub before_rim_mm: Option<f64>,
    /// The same behind the rim; below zero where the rim hides the edge.
    pub behind_rim_mm: Option<f64>,
    /// At the hole toward the nose; null where none is drilled.
    pub hole_nasal_mm: Option<f64>,
    /// At the hole toward the temple; null where none is drilled.
    pub hole_temporal_mm: Option<f64>,
    /// Which demand set it.
    pub set_by: SetBy,
}

/// Of the outline alone.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct OutlineWire {
    /// Area inside.
    pub area_mm2: f64,
    /// Length once round.
    pub perimeter_mm: f64,
    /// Twice the longest radius from the boxed centre.
    pub effective_diameter_mm: f64,
}

/// What a lens is cut from.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct BlankWire {
    /// The smallest that holds the lens with the reference point in its middle.
    pub minimum_mm: f64,
    /// As textbooks estimate it.
    pub rule_of_thumb_mm: f64,
    /// The listed one; null for an inline material.
    pub diameter_mm: Option<f64>,
}

/// One lens that cannot be made.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ImpossibleWire {
    /// Why, in one sentence.
    pub impossible: String,
}

/// A number that other programs may have: finite, and never −0.
///
/// # Panics
/// Where it is not finite, which is a mistake in this program: JSON would have `null` in silence.
fn finite(value: f64) -> f64 {
    assert!(value.is_finite(), "a figure is not finite: {value}");
    value + 0.0
}

/// The answer to `compare`, for other programs. The findings are those of a job without a fault.
#[must_use]
pub fn compare(comparison: &Comparison<'_>, findings: &[Finding]) -> CompareWire {
    CompareWire {
        format: FORMAT,
        reference: comparison.job.reference.clone(),
        cautions: findings.iter().map(|finding| of_job(finding, comparison.job)).collect(),
        answer: Promise::of(comparison).map(|promise| answer::answer(comparison, &promise)),
        fits: comparison.fits.iter().enumerate().map(|(i, one)| fit(one, comparison.is_now(i))).collect(),
    }
}

/// The same as text.
#[must_use]
pub fn compare_text(comparison: &Comparison<'_>, findings: &[Finding]) -> String {
    text(&compare(comparison, findings))
}

/// The answer to `lens`, as text: an eye, or why it cannot be made.
#[must_use]
pub fn lens_text(outcome: &Result<Made, Impossible>, one: &OneLens) -> String {
    match outcome {
        Ok(made) => text(&eye(made, &study::lab_work_of_one(one, made))),
        Err(why) => {
            let impossible = number::plain(&words::capital(&words::impossible(why, &one.lens, &one.rx.power)));
            text(&ImpossibleWire { impossible })
        }
    }
}

/// A caution of the job as a whole.
#[must_use]
pub fn of_job(finding: &Finding, job: &Job) -> CautionWire {
    CautionWire {
        id: finding.id(),
        severity: finding.severity().word(),
        eye: finding.eye,
        text: number::plain(&findings::sentence(finding, Some(job))),
        for_wearer: None,
    }
}

fn of_fit(caution: &Caution) -> CautionWire {
    CautionWire {
        id: caution.rule.id.to_owned(),
        severity: words::severity(caution.rule.severity),
        eye: caution.eye,
        text: number::plain(&words::caution(caution)),
        for_wearer: Some(number::plain(&words::caution_for_wearer(caution))),
    }
}

fn fit(fit: &Fit<'_>, now: bool) -> FitWire {
    let name = |name: &str| if now { NOW.to_owned() } else { name.to_owned() };
    FitWire {
        frame: name(&fit.mounting.frame.name),
        eye_size_mm: finite(fit.mounting.boxing.eye_size_mm),
        depth_mm: finite(fit.mounting.boxing.depth_mm),
        lens: name(&fit.option.name),
        outcome: outcome(fit),
        cautions: advice::cautions(fit).iter().map(of_fit).collect(),
    }
}

fn outcome(fit: &Fit<'_>) -> OutcomeWire {
    match &fit.outcome {
        Ok(both) => OutcomeWire::Made(Box::new(MadeWire {
            right: eye(&both.eyes.right, &fit.lab_work(Eye::Right, &both.eyes.right)),
            left: eye(&both.eyes.left, &fit.lab_work(Eye::Left, &both.eyes.left)),
            pair: pair(both),
        })),
        Err(why) => OutcomeWire::Impossible { impossible: number::plain(&words::pair_impossible(why, fit)) },
    }
}

fn pair(pair: &Pair) -> PairWire {
    PairWire {
        mass_g: finite(pair.mass_g()),
        edge_max_mm: finite(pair.edge_max_mm()),
        with_frame_g: pair.with_frame_g().map(finite),
    }
}

/// One lens, for other programs.
#[must_use]
pub fn eye(made: &Made, work: &LabWork) -> EyeWire {
    EyeWire {
        reference_point: ReferencePointWire {
            in_mm: finite(made.centration.in_mm),
            up_mm: finite(made.centration.up_mm),
        },
        reach: ReachWire {
            nasal_mm: finite(made.centration.reach.nasal_mm),
            temporal_mm: finite(made.centration.reach.temporal_mm),
        },
        front: FrontWire {
            base_curve_d: finite(made.base.base_curve_d),
            power_d: finite(made.recipe.front_power_d()),
            radius_mm: radius_mm(made.recipe.front_curvature()).map(finite),
            chosen_by: made.base.chosen_by,
        },
        back: back(made),
        thickness: thickness(made),
        bulge_mm: finite(made.bulge_mm),
        outline: OutlineWire {
            area_mm2: finite(made.outline.area_mm2),
            perimeter_mm: finite(made.outline.perimeter_mm),
            effective_diameter_mm: finite(made.outline.effective_diameter_mm),
        },
        volume_mm3: finite(made.volume_mm3),
        edging_removed_mm3: finite(made.edging_removed_mm3),
        mass_g: finite(made.mass_g),
        blank: BlankWire {
            minimum_mm: finite(made.blank.minimum_mm),
            rule_of_thumb_mm: finite(made.blank.rule_of_thumb_mm),
            diameter_mm: made.blank.diameter_mm.map(finite),
        },
        edging: edging(&work.edging),
        surfacing: surfacing(made, &work.surfacing),
    }
}

fn back(made: &Made) -> BackWire {
    let power = made.recipe.power;
    BackWire {
        powers_d: made.lens.back_powers_d().map(finite),
        radii_mm: made.lens.back_curvatures().map(|curvature| radius_mm(curvature).map(finite)),
        axis_deg: (power.cylinder() != 0.0).then(|| finite(power.axis())),
    }
}

fn thickness(made: &Made) -> ThicknessWire {
    let t = &made.thickness;
    ThicknessWire {
        centre_mm: t.centre_mm.map(finite),
        thinnest_mm: finite(t.thinnest_mm),
        edge_max_mm: finite(t.edges.max.thickness_mm),
        edge_max_deg: finite(t.edges.max.deg),
        edge_min_mm: finite(t.edges.min.thickness_mm),
        edge_min_deg: finite(t.edges.min.deg),
        nasal_mm: finite(t.nasal_mm),
        temporal_mm: finite(t.temporal_mm),
        top_mm: finite(t.top_mm),
        bottom_mm: finite(t.bottom_mm),
        shoulder_max_mm: t.shoulder_max_mm.map(finite),
        before_rim_mm: t.beside_rim.map(|shows| finite(shows.before_mm)),
        behind_rim_mm: t.beside_rim.map(|shows| finite(shows.behind_mm)),
        hole_nasal_mm: t.holes_mm.map(|[nasal, _]| finite(nasal)),
        hole_temporal_mm: t.holes_mm.map(|[_, temporal]| finite(temporal)),
        set_by: t.set_by,
    }
}

/// As JSON that people can read too.
fn text(value: &impl Serialize) -> String {
    // Our own types hold text, numbers and lists only.
    let mut text = serde_json::to_string_pretty(value).expect("plain data");
    text.push('\n');
    text
}
