//! What is varied: an option of a job, taken apart so that one thing of it can be another.

use crate::choose::LensOption;
use crate::eye::Eye;
use crate::frame::{Boxing, Frame};
use crate::job::Addressed;
use crate::rx::{EyeRx, Power, Prescription, Prism};

/// A frame at a size, a lens option and a prescription, one's own.
#[derive(Clone, Debug, PartialEq)]
pub struct Order {
    /// The frame.
    pub frame: Frame,
    /// Its box.
    pub boxing: Boxing,
    /// The lens option.
    pub option: LensOption,
    /// What it is made for.
    pub prescription: Prescription,
}

/// A power as it is written: sphere and cylinder in dioptres, axis in degrees.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Written {
    pub(super) sphere: f64,
    pub(super) cylinder: f64,
    pub(super) axis: f64,
}

impl Order {
    /// As the job has it.
    #[must_use]
    pub fn of(at: &Addressed<'_>) -> Order {
        Order {
            frame: at.frame.clone(),
            boxing: at.boxing,
            option: at.option.clone(),
            prescription: at.prescription.clone(),
        }
    }

    /// Of one eye or of both.
    pub(super) fn each(&mut self, eye: Option<Eye>, mut change: impl FnMut(&mut EyeRx)) {
        let eyes = &mut self.prescription.eyes;
        if eye != Some(Eye::Left) {
            change(&mut eyes.right);
        }
        if eye != Some(Eye::Right) {
            change(&mut eyes.left);
        }
    }

    /// What one eye has, or both alike.
    pub(super) fn alike(&self, eye: Option<Eye>, of: impl Fn(&EyeRx) -> f64) -> Option<f64> {
        let of = |eye: Eye| of(self.prescription.eyes.of(eye));
        match eye {
            Some(eye) => Some(of(eye)),
            None => Some(of(Eye::Right)).filter(|right| *right == of(Eye::Left)),
        }
    }

    /// Changes a power in its minus-cylinder form.
    pub(super) fn power(&mut self, eye: Option<Eye>, change: impl Fn(&mut Written)) {
        self.each(eye, |rx| {
            let mut written =
                Written { sphere: rx.power.sphere(), cylinder: rx.power.cylinder(), axis: rx.power.axis() };
            change(&mut written);
            rx.power = Power::new(written.sphere, written.cylinder, written.axis);
        });
    }

    /// Changes the amount of a prism whose base stays.
    pub(super) fn prism(&mut self, eye: Option<Eye>, amount_pd: f64) {
        self.each(eye, |rx| {
            let is_pd = amount(rx.prism);
            if is_pd > 0.0 {
                let times = amount_pd / is_pd;
                rx.prism = Prism { x_pd: rx.prism.x_pd * times, y_pd: rx.prism.y_pd * times };
            }
        });
    }
}

/// Amount of a prism, prism dioptres.
pub(super) fn amount(prism: Prism) -> f64 {
    prism.x_pd.hypot(prism.y_pd)
}
