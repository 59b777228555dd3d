//! What a laboratory wants to know of the work on one edge, worked out where it is asked for: no lens needs it to be made.
//!
//! Units: mm, mm³, grams, dioptres, degrees in the names.

use super::{Made, uncut_mm3};
use crate::choose::{LensOption, Substance};
use crate::eye::Eye;
use crate::frame::Frame;
use crate::light::ReferenceLine;
use crate::measure::{Course, DepthOfCut, Mounted, Worst, depth_of_cut};
use crate::outline::Outline;
use crate::rim::EdgeWish;

/// The work on one edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EdgeWork {
    /// Once round the outline.
    pub path_mm: f64,
    /// Blank less the finished lens; `None` where no blank is listed.
    pub swarf_g: Option<f64>,
    /// From the blank's edge to the outline; `None` where no blank is listed.
    pub depth: Option<DepthOfCut>,
    /// The curve of bevel or groove as it comes out, as marked at index 1.530; `None` where there is none, and on an
    /// outline that is as good as round.
    pub bevel_curve_d: Option<f64>,
    /// How far bevel or groove lie behind the front corner, least and most; `None` where there is none.
    pub behind_mm: Option<[f64; 2]>,
    /// Where bevel or groove have to leave their wished place most; `None` where there is none.
    pub moved: Option<Worst>,
    /// How far the lens lies off its rim; `None` where the rim's curve is not known, or nothing goes round.
    pub off_rim: Option<OffRim>,
    /// Face of the safety chamfers.
    pub chamfer_mm: f64,
    /// What they take off both corners; not in the mass.
    pub chamfered_mm3: Option<f64>,
    /// The same by its mass.
    pub chamfered_g: Option<f64>,
}

/// How far a lens lies off a rim of another curve, put into it as it fits best.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OffRim {
    /// The rim's own curve, as marked at index 1.530.
    pub rim_curve_d: f64,
    /// Its bevel or groove at the worst place: so far the rim would have to give.
    pub bevel: Worst,
    /// Its front surface at the worst place.
    pub front: Worst,
}

/// The round outline of an uncut.
struct RoundUncut(Outline);

impl RoundUncut {
    fn of(diameter_mm: f64) -> RoundUncut {
        RoundUncut(Outline::ellipse(diameter_mm, diameter_mm))
    }
}

impl AsRef<Outline> for RoundUncut {
    fn as_ref(&self) -> &Outline {
        &self.0
    }
}

impl OffRim {
    /// Of a lens; `None` where the rim's curve is not known or ends within the outline, or nothing goes round.
    #[must_use]
    pub fn of(made: &Made, eye: Eye, frame: &Frame, outline: &Outline) -> Option<OffRim> {
        let goes_round = frame.rim.goes_round();
        goes_round.then(|| OffRim::on(&made.course(eye, frame, outline)?, &frame.edge)).flatten()
    }

    fn on(course: &Course<'_>, wish: &EdgeWish) -> Option<OffRim> {
        let rim_curve_d = wish.rim_curve_d?;
        Some(OffRim { rim_curve_d, bevel: course.off_rim(rim_curve_d)?, front: course.front_off_rim(rim_curve_d)? })
    }
}

impl Made {
    /// The lens in its outline.
    #[must_use]
    pub fn mounted<'a>(&'a self, eye: Eye, outline: &'a Outline) -> Mounted<'a> {
        let reference = self.centration.point(eye);
        Mounted { lens: &self.lens, outline, reference }
    }

    /// The way of bevel or groove round it; `None` where the rim's curve ends within the outline.
    #[must_use]
    pub fn course<'a>(&'a self, eye: Eye, frame: &Frame, outline: &'a Outline) -> Option<Course<'a>> {
        self.mounted(eye, outline).course(frame.rim, frame.edge.position)
    }

    /// Where bevel or groove have to leave their wished place most; `None` where nothing goes round.
    #[must_use]
    pub fn most_moved(&self, eye: Eye, frame: &Frame, outline: &Outline) -> Option<Worst> {
        frame.rim.goes_round().then(|| self.course(eye, frame, outline)?.most_moved()).flatten()
    }

    /// The work on its edge.
    #[must_use]
    pub fn edge_work(
        &self,
        eye: Eye,
        frame: &Frame,
        outline: &Outline,
        option: &LensOption,
        line: ReferenceLine,
    ) -> EdgeWork {
        let course = self.course(eye, frame, outline);
        let round = course.as_ref().filter(|_| frame.rim.goes_round());
        let middle = self.blank.middle(outline, self.centration.point(eye));
        let listed = match option.substance {
            Substance::Listed(_) => self.blank.diameter_mm,
            Substance::Inline(_) => None,
        };
        let chamfered_mm3 = course.as_ref().and_then(|course| course.chamfered_mm3(frame.edge.chamfer_mm));
        let density = option.substance.glass(line).density;
        let uncut = uncut_mm3(self, option, RoundUncut::of);
        EdgeWork {
            path_mm: self.outline.perimeter_mm,
            swarf_g: uncut.map(|mm3| self.swarf_g(mm3, density)),
            depth: listed.and_then(|diameter_mm| depth_of_cut(outline, middle, diameter_mm)),
            bevel_curve_d: round.and_then(Course::curve_d),
            behind_mm: round.and_then(Course::behind_mm),
            moved: round.and_then(Course::most_moved),
            off_rim: round.and_then(|course| OffRim::on(course, &frame.edge)),
            chamfer_mm: frame.edge.chamfer_mm,
            chamfered_mm3,
            chamfered_g: chamfered_mm3.map(|mm3| density * mm3 / 1000.0),
        }
    }
}
