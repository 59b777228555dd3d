//! Shared: one lens to ask for, to be changed where a test wants another.

use crate::support::{Chance, inline};
use rimwise::assess::{Ask, Impossible, Made, make};
use rimwise::choose::{LensOption, base};
use rimwise::eye::Eye;
use rimwise::frame::{Boxing, Centration};
use rimwise::light::ReferenceLine;
use rimwise::outline::{Outline, Shape};
use rimwise::rim::{Position, Rim};
use rimwise::rx::{EyeRx, Power, Prism};

/// One lens to ask for, owned.
#[derive(Clone, Debug)]
pub(crate) struct Case {
    pub(crate) eye: Eye,
    pub(crate) rx: EyeRx,
    pub(crate) shape: Shape,
    pub(crate) boxing: Boxing,
    pub(crate) up_mm: f64,
    pub(crate) rim: Rim,
    pub(crate) option: LensOption,
}

impl Case {
    /// A −6.00 right lens in a 50 × 40 oval, 1.60, metal rim: to be changed where a test wants another.
    pub(crate) fn plain() -> Case {
        Case {
            eye: Eye::Right,
            rx: EyeRx { power: Power::spherical(-6.0), prism: Prism::default(), pd_mm: 31.0, add: None },
            shape: Shape::Oval,
            boxing: Boxing { eye_size_mm: 50.0, depth_mm: 40.0, bridge_mm: 18.0 },
            up_mm: 0.0,
            rim: Rim::Metal,
            option: inline(1.6, 41.0, 1.3, 1.4, 1.0),
        }
    }

    /// Any lens that might be ordered.
    pub(crate) fn any(chance: &mut Chance) -> Case {
        let eye = chance.one_of(&Eye::BOTH);
        let shapes: Vec<Shape> = Shape::all().collect();
        let shape = shapes[(chance.share() * shapes.len() as f64) as usize];
        let eye_size_mm = chance.within(44.0, 58.0);
        let depth_mm = match shape {
            Shape::Circle => eye_size_mm,
            _ => eye_size_mm * chance.within(0.6, 0.95),
        };
        let cylinder = if chance.share() < 0.6 { chance.within(-4.0, 0.0) } else { 0.0 };
        let prism = if chance.share() < 0.4 {
            Prism::new(chance.within(0.25, 6.0), chance.within(0.0, 360.0))
        } else {
            Prism::default()
        };
        let mut option = inline(
            chance.within(1.49, 1.9),
            chance.within(30.0, 58.0),
            chance.within(1.1, 4.0),
            chance.within(1.0, 2.2),
            chance.within(0.5, 2.0),
        );
        option.base_curve_d = Some(chance.one_of(&[0.0, 0.5, 2.0, 4.0, 6.0, 8.0]));
        Case {
            eye,
            rx: EyeRx {
                power: Power::new(chance.within(-10.0, 7.0), cylinder, chance.within(0.0, 180.0)),
                prism,
                pd_mm: chance.within(27.0, 36.0),
                add: None,
            },
            shape,
            boxing: Boxing { eye_size_mm, depth_mm, bridge_mm: chance.within(14.0, 22.0) },
            up_mm: chance.within(-4.0, 6.0),
            rim: chance.one_of(&Rim::ALL),
            option,
        }
    }

    pub(crate) fn outline(&self) -> Outline {
        self.shape.outline(self.eye, self.boxing.eye_size_mm, self.boxing.depth_mm)
    }

    pub(crate) fn centration(&self) -> Centration {
        Centration::new(&self.boxing, self.rx.pd_mm, self.up_mm)
    }

    pub(crate) fn make(&self) -> Result<Made, Impossible> {
        self.make_in(&self.outline())
    }

    pub(crate) fn make_in(&self, outline: &Outline) -> Result<Made, Impossible> {
        make(&Ask {
            eye: self.eye,
            rx: &self.rx,
            line: ReferenceLine::D,
            outline,
            centration: self.centration(),
            rim: self.rim,
            rim_depth_mm: Some(2.2),
            position: Position::Usual,
            option: &self.option,
            base: base::alone(&self.option, &self.rx.power),
        })
    }
}

/// Says what a test met and how near to its bounds it came, where `SHOW=1` and `--nocapture` ask for it.
#[expect(clippy::print_stderr, reason = "asked for by whoever runs the tests")]
pub(crate) fn show(what: impl FnOnce() -> String) {
    if std::env::var_os("SHOW").is_some() {
        eprintln!("{}", what());
    }
}
