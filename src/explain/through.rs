//! Through the lens, by hand: Prentice's rule at the points on the lines through the boxed centre, colour, spectacle
//! magnification.
//!
//! Units: prism dioptres, mm; magnifications are bare numbers. No ray is traced.

use super::back::Back;
use super::expr::Expr;
use super::point::Marked;
use super::prescription::Rx;
use super::sheet::{Head, Section};
use super::{GIVEN, MATERIAL, Points, TEXTBOOK, Work};

const PRENTICE: &str = "Prentice's rule; Long 1976 for a cylinder";
/// Behind the cornea lies the entrance pupil, mm.
const PUPIL_MM: f64 = 3.0;
/// Nearer to its focus than this the pupil sees no image whose size could be told.
const LEAST_LEFT: f64 = 0.01;
/// From the lens to the cornea, where the job does not say, mm (common practice).
const VERTEX_MM: f64 = 12.0;

impl Work<'_> {
    pub(super) fn through(&mut self, rx: &Rx, back: &Back, points: &Points) {
        self.sheet.section = Section::Through;
        let d = |id: &str, symbol, meaning: &str| Head::new(id, symbol, meaning, "D", "Long 1976; Keating 1980");
        let matrix = [
            self.sheet.worked(
                d("through.f11", ("f", "11"), "power matrix: across"),
                &rx.sphere + &rx.cylinder * rx.sin.clone().squared(),
            ),
            self.sheet.worked(
                d("through.f12", ("f", "12"), "power matrix: across to upright"),
                -(&rx.cylinder * &rx.sin * &rx.cos),
            ),
            self.sheet.worked(
                d("through.f22", ("f", "22"), "power matrix: upright"),
                &rx.sphere + &rx.cylinder * rx.cos.clone().squared(),
            ),
        ];
        let abbe = self.fit.option.substance.glass(self.fit.prescription.reference_line).abbe;
        let abbe = self.sheet.given(Head::new("through.abbe", ("ν", ""), "Abbe number", "", MATERIAL), abbe);
        let at = [
            ("nasal", "n", "nasal point", &points.nasal),
            ("temporal", "t", "temporal point", &points.temporal),
            ("top", "u", "upper point", &points.top),
            ("bottom", "l", "lower point", &points.bottom),
        ];
        for (id, letter, words, marked) in at {
            self.prentice((id, letter, words), marked, &matrix, &abbe);
        }
        self.magnification(rx, back);
    }

    fn prentice(&mut self, (id, letter, words): (&str, &str, &str), at: &Marked, f: &[Expr; 3], abbe: &Expr) {
        let pd = |what: &str, symbol, meaning: String, source| {
            Head::new(format!("through.{id}_{what}"), symbol, meaning, "Δ", source)
        };
        let across = format!("h{letter}");
        let upright = format!("v{letter}");
        let [f11, f12, f22] = f;
        let toward = format!("prism of the power at the {words}, base to the observer's right");
        let h = pd("horizontal", ("P", across.as_str()), toward, PRENTICE);
        let h = self.sheet.worked(h, -((f11 * &at.x + f12 * &at.y) / 10.0));
        let v =
            pd("vertical", ("P", upright.as_str()), format!("prism of the power at the {words}, base up"), PRENTICE);
        let v = self.sheet.worked(v, -((f12 * &at.x + f22 * &at.y) / 10.0));
        let whole = pd("prism", ("P", letter), format!("prism of the power at the {words}, altogether"), TEXTBOOK);
        let whole = self.sheet.worked(whole, (h.squared() + v.squared()).root());
        let colour =
            pd("colour", ("K", letter), format!("colour fringe at the {words}: prism over Abbe number"), TEXTBOOK);
        self.sheet.worked(colour, whole / abbe);
    }

    fn magnification(&mut self, rx: &Rx, back: &Back) {
        let told = self.fit.prescription.vertex_mm;
        let (source, meaning) = match told {
            Some(_) => (GIVEN, "from the lens to the cornea"),
            None => ("usual distance, no source", "from the lens to the cornea, assumed"),
        };
        let vertex = Head::new("through.vertex", ("k", ""), meaning, "mm", source);
        let vertex = self.sheet.given(vertex, told.unwrap_or(VERTEX_MM));
        let bare = |id: &str, symbol, meaning: &str| Head::new(id, symbol, meaning, "", TEXTBOOK);
        let pupil = "from the lens to the entrance pupil, 3 mm behind the cornea";
        let pupil = self.sheet.worked(Head::new("through.pupil", ("k", "p"), pupil, "mm", TEXTBOOK), vertex + PUPIL_MM);
        let shape = self.sheet.worked(
            bare("through.shape", ("G", "s"), "magnification by the lens's shape"),
            1.0 / (1.0 - &back.centre / (1000.0 * &back.front.index) * &back.front.power),
        );
        let along = if rx.toric { ", along the axis" } else { "" };
        self.in_meridian(["power", "total"], ["p", ""], along, &pupil, &rx.sphere, &shape);
        if rx.toric {
            let across = &rx.sphere + &rx.cylinder;
            let ids = ["power_across", "total_across"];
            self.in_meridian(ids, ["px", "x"], ", across the axis", &pupil, &across, &shape);
        }
    }

    /// Magnification in one meridian; nothing where the power focuses before the pupil, or in it.
    fn in_meridian(
        &mut self,
        [power_id, total_id]: [&str; 2],
        [power_below, total_below]: [&str; 2],
        whose: &str,
        pupil: &Expr,
        power: &Expr,
        shape: &Expr,
    ) {
        let left = 1.0 - pupil / 1000.0 * power;
        if self.sheet.value(&left) < LEAST_LEFT {
            return;
        }
        let bare = |id: &str, below, what: &str| {
            Head::new(format!("through.{id}"), ("G", below), format!("{what}{whose}"), "", TEXTBOOK)
        };
        let by_power = bare(power_id, power_below, "magnification by its power");
        let by_power = self.sheet.worked(by_power, 1.0 / left);
        self.sheet.worked(bare(total_id, total_below, "spectacle magnification"), shape * by_power);
    }
}
