//! Many orders, one or two lenses at a time: outlines are prepared once for each shape, size and depth and kept while they
//! are wanted, so that memory does not grow with the orders.
//!
//! Units: mm in the names.

use crate::assess::{Ask, Impossible, Made, make, uncut_mm3};
use crate::choose::base::{self, Base};
use crate::eye::{Eye, Eyes};
use crate::frame::Centration;
use crate::job::OneLens;
use crate::outline::{Form, Outline, Shape};
use crate::rx::Power;
use quick_cache::sync::Cache;
use std::sync::Arc;

/// Outlines kept at a time: some 50 kB each.
const MOST_OUTLINES: usize = 1_000;

/// A lens of an order that can be made.
#[derive(Clone, Copy, Debug)]
pub struct Worked {
    /// The lens.
    pub made: Made,
    /// Volume of the blank or the uncut that it is cut from; `None` where none is listed.
    pub uncut_mm3: Option<f64>,
}

/// What decides an outline: the word of its shape, where a measured one is held, its eye, width and depth.
type Wanted = (&'static str, usize, Eye, u64, u64);

/// A place to work orders at; it may be shared between threads.
#[derive(Debug)]
pub struct Orders {
    /// With their shapes: another of the same word is not kept, and a measured one stays where it is held.
    outlines: Cache<Wanted, (Form, Arc<Outline>)>,
}

impl Default for Orders {
    fn default() -> Orders {
        Orders { outlines: Cache::new(MOST_OUTLINES) }
    }
}

impl Orders {
    /// A lens alone: its base is chosen for this eye only.
    ///
    /// # Errors
    /// [`Impossible`] where it cannot be made.
    pub fn alone(&self, lens: &OneLens) -> Result<Worked, Impossible> {
        self.work(lens, base::alone(&lens.lens, &lens.rx.power))
    }

    /// Both lenses of a pair, which share a chosen base; if one cannot be made, the other is chosen alone.
    pub fn pair(&self, lenses: [&OneLens; 2]) -> [Result<Worked, Impossible>; 2] {
        let [first, second] = lenses;
        let powers = powers(lenses);
        let shared = |lens: &OneLens| self.work(lens, *base::pair(&lens.lens, &powers).of(lens.eye));
        match (shared(first), shared(second)) {
            (Ok(_), Err(why)) => [self.alone(first), Err(why)],
            (Err(why), Ok(_)) => [Err(why), self.alone(second)],
            both => both.into(),
        }
    }

    fn work(&self, lens: &OneLens, base: Option<Base>) -> Result<Worked, Impossible> {
        let boxing = lens.frame.sizes[0];
        let outline = self.outline(&lens.frame.shape, lens.eye, boxing.eye_size_mm, boxing.depth_mm);
        let made = make(&Ask {
            eye: lens.eye,
            rx: &lens.rx,
            line: lens.reference_line,
            outline: &outline,
            centration: Centration::new(&boxing, lens.rx.pd_mm, *lens.frame.centre_up_mm.of(lens.eye)),
            rim: lens.frame.rim,
            rim_depth_mm: lens.frame.rim_depth_mm,
            position: lens.frame.edge.position,
            option: &lens.lens,
            base,
        })?;
        let circle = |diameter_mm| self.outline(&Shape::Circle.into(), Eye::Right, diameter_mm, diameter_mm);
        Ok(Worked { made, uncut_mm3: uncut_mm3(&made, &lens.lens, circle) })
    }

    fn outline(&self, form: &Form, eye: Eye, width_mm: f64, depth_mm: f64) -> Arc<Outline> {
        let held = match form {
            Form::Built(_) => 0,
            Form::Measured(measured) => Arc::as_ptr(measured).addr(),
        };
        let wanted = (form.word(), held, eye, width_mm.to_bits(), depth_mm.to_bits());
        if let Some((kept, outline)) = self.outlines.get(&wanted)
            && is_same(&kept, form)
        {
            return outline;
        }
        let outline = Arc::new(form.outline(eye, width_mm, depth_mm));
        self.outlines.insert(wanted, (form.clone(), Arc::clone(&outline)));
        outline
    }
}

/// The powers of a pair, each with its eye.
pub(super) fn powers([first, second]: [&OneLens; 2]) -> Eyes<Power> {
    match first.eye {
        Eye::Right => Eyes { right: first.rx.power, left: second.rx.power },
        Eye::Left => Eyes { right: second.rx.power, left: first.rx.power },
    }
}

fn is_same(kept: &Form, wanted: &Form) -> bool {
    match (kept, wanted) {
        (Form::Measured(kept), Form::Measured(wanted)) => Arc::ptr_eq(kept, wanted),
        _ => kept == wanted,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn outlines_are_kept_and_their_number_is_bounded() {
        let orders = Orders::default();
        let outline = |width_mm: f64| orders.outline(&Shape::Oval.into(), Eye::Right, width_mm, 40.0);
        assert!(Arc::ptr_eq(&outline(50.0), &outline(50.0)));
        for step in 0..3 * MOST_OUTLINES {
            assert_eq!(outline(40.0 + 0.005 * step as f64).depth_mm(), 40.0);
        }
        assert!(orders.outlines.len() <= MOST_OUTLINES, "{}", orders.outlines.len());
    }
}
