//! One point of the lens: where it is, the sag of front and back there, the thickness between them.
//!
//! Units: mm.

use super::back::{Back, Meridian};
use super::expr::Expr;
use super::front::Lean;
use super::layout::Layout;
use super::prescription::Rx;
use super::sheet::{Head, Section};
use super::{BOXING, OURS, Points, Spot, TEXTBOOK, Work};
use kurbo::Vec2;

/// Flatter radii than this are worked from the curvature: a difference of two large numbers loses digits.
const FLAT_MM: f64 = 1e4;
const TORUS: &str = "a circle swept round, docs/model.md";

/// A point whose lines stand.
#[derive(Clone)]
pub(super) struct Marked {
    /// From the reference point.
    pub(super) x: Expr,
    pub(super) y: Expr,
    pub(super) front: Expr,
    pub(super) back: Expr,
    pub(super) thickness: Expr,
}

/// What a point is called.
#[derive(Clone, Copy)]
pub(super) struct Name {
    /// In ids.
    pub(super) id: &'static str,
    pub(super) letter: &'static str,
    pub(super) words: &'static str,
    /// Which figure the thickness there is.
    pub(super) figure: Option<&'static str>,
}

impl Work<'_> {
    /// The points on the lines through the boxed centre, and the extremes of the edge.
    pub(super) fn points(&mut self, layout: &Layout, rx: &Rx, back: &Back) -> Option<Points> {
        let outline = self.fit.mounting.outlines.of(self.eye);
        let cardinal = *outline.cardinal();
        let (nasal, temporal) = cardinal.nasal_and_temporal(self.eye);
        let edges = self.made.thickness.edges;
        let name = |id, letter, words, figure| Name { id, letter, words, figure: Some(figure) };
        let mut mark = |name, at| self.marked(layout, rx, back, name, at);
        Some(Points {
            nasal: mark(name("nasal", "n", "nasal point", "thickness.nasal_mm"), nasal)?,
            temporal: mark(name("temporal", "t", "temporal point", "thickness.temporal_mm"), temporal)?,
            top: mark(name("top", "u", "upper point", "thickness.top_mm"), cardinal.top)?,
            bottom: mark(name("bottom", "l", "lower point", "thickness.bottom_mm"), cardinal.bottom)?,
            thinnest: {
                let thickest = name("thickest", "k", "thickest edge", "thickness.edge_max_mm");
                mark(thickest, edges.max.point)?;
                mark(name("thinnest", "h", "thinnest edge", "thickness.edge_min_mm"), edges.min.point)?
            },
        })
    }

    /// A point of the outline or inside it, from the boxed centre.
    pub(super) fn marked(&mut self, layout: &Layout, rx: &Rx, back: &Back, name: Name, at: Vec2) -> Option<Marked> {
        self.sheet.section = Section::Points;
        let from = at - self.reference();
        let mut place = |axis: &str, letter, small, found: f64, zero: &Expr, from: f64| {
            let words = if axis == "x" { "across" } else { "upward" };
            let head = Head::new(
                format!("{}.boxed_{axis}", name.id),
                (letter, name.letter),
                format!("{}: {words} from the boxed centre", name.words),
                "mm",
                BOXING,
            );
            let boxed = self.sheet.searched(head, None, found);
            let meaning = format!("{}: {words} from the reference point", name.words);
            let head = Head::new(format!("{}.{axis}", name.id), (small, name.letter), meaning, "mm", OURS);
            self.sheet.known(head, boxed - zero, from)
        };
        let x = place("x", "X", "x", at.x, &layout.x, from.x);
        let y = place("y", "Y", "y", at.y, &layout.y, from.y);
        let marked = self.at(rx, back, name, [x, y], from)?;
        let thickness_mm = self.made.lens.thickness(from)?;
        self.spots.push(Spot { letter: name.letter, name: name.words, at, thickness_mm });
        Some(marked)
    }

    /// Sags and thickness at a point from the reference point.
    pub(super) fn at(&mut self, rx: &Rx, back: &Back, name: Name, [x, y]: [Expr; 2], at: Vec2) -> Option<Marked> {
        let lens = &self.made.lens;
        let id = |what: &str| format!("{}.{what}", name.id);
        let of = |what: &str| format!("{}: {what}", name.words);
        let head =
            Head::new(id("square"), ("q", name.letter), of("distance from the reference point, squared"), "mm²", OURS);
        let square = self.sheet.worked(head, x.clone().squared() + y.clone().squared());
        let below = format!("1{}", name.letter);
        let head = Head::new(id("front_sag"), ("s", &below), of("sag of the front"), "mm", TEXTBOOK);
        let front = sag(self, back.front.radius.as_ref(), &back.front.curvature, &square);
        let front = self.sheet.known(head, front, lens.front().sag(at)?);
        let approximate = &square * &back.front.power / (2000.0 * (&back.front.index - 1.0));
        self.sheet.by_hand("s ≈ y²F/2000(n − 1)", approximate);
        let sag_mm = lens.back().sag(at)?;
        let own = match &back.lean {
            None => [x.clone(), y.clone()],
            Some(lean) => self.own(name, lean, [&x, &y], sag_mm),
        };
        let depth = self.back_depth(rx, back, name, &own);
        let below = format!("2{}", name.letter);
        let head = Head::new(id("back_sag"), ("s", &below), of("sag of the back"), "mm", TEXTBOOK);
        let depth = match &back.lean {
            None => depth,
            Some(lean) => (depth - (&lean.nx * &x + &lean.ny * &y)) / &lean.nz,
        };
        let back_sag = self.sheet.known(head, depth, sag_mm);
        let head =
            Head::new(id("thickness"), ("t", name.letter), of("thickness, parallel to the axis"), "mm", TEXTBOOK);
        let thickness = self.sheet.known(head, &back.centre + &back_sag - &front, lens.thickness(at)?);
        self.sheet.by_hand("by the approximate sag of the power", by_hand(rx, back, [&x, &y], &square));
        if let Some(figure) = name.figure {
            self.sheet.figure(figure);
        }
        Some(Marked { x, y, front, back: back_sag, thickness })
    }

    /// The point in the turned back's own coordinates, by the height at which the line through it meets the back.
    fn own(&mut self, name: Name, lean: &Lean, [x, y]: [&Expr; 2], sag_mm: f64) -> [Expr; 2] {
        let id = |what: &str| format!("{}.{what}", name.id);
        let head =
            Head::new(id("height"), ("z", name.letter), "height at which the turned back is met there", "mm", OURS);
        let height = self.sheet.searched(head, None, sag_mm);
        let toward = (&lean.nx * x + &lean.ny * y) / (1.0 + &lean.nz) + height;
        let mut own = |what: &str, letter, words: &str, from: &Expr, axis: &Expr| {
            let head = Head::new(id(what), (letter, name.letter), words, "mm", OURS);
            self.sheet.worked(head, from - axis * &toward)
        };
        [
            own("own_x", "u", "the point as the turned back has it, across", x, &lean.nx),
            own("own_y", "w", "the point as the turned back has it, upward", y, &lean.ny),
        ]
    }

    /// Depth of the back at a point in its own coordinates.
    fn back_depth(&mut self, rx: &Rx, back: &Back, name: Name, [x, y]: &[Expr; 2]) -> Expr {
        let Some(across) = &back.across else {
            let square = x.clone().squared() + y.clone().squared();
            return sag(self, back.along.radius.as_ref(), &back.along.curvature, &square);
        };
        let id = |what: &str| format!("{}.{what}", name.id);
        let along_axis = x * &rx.cos + y * &rx.sin;
        let across_axis = y * &rx.cos - x * &rx.sin;
        let ((flat, u), (steep, w)) = if back.flat_along {
            ((&back.along, along_axis), (across, across_axis))
        } else {
            ((across, across_axis), (&back.along, along_axis))
        };
        let mm = |what: &str, letter, words: &str| Head::new(id(what), (letter, name.letter), words, "mm", TORUS);
        let u = self.sheet.worked(mm("flat", "a", "distance along the flatter meridian of the back"), u);
        let w = self.sheet.worked(mm("steep", "b", "distance along its steeper meridian"), w);
        let circle = sag(self, steep.radius.as_ref(), &steep.curvature, &w.squared());
        let s = self.sheet.worked(mm("circle", "σ", "sag of the steeper circle, which is swept round"), circle);
        let Meridian { curvature: c, radius: _ } = flat;
        let left = 1.0 - c * &s;
        (2.0 * &s - c * s.clone().squared() + c * u.clone().squared())
            / (1.0 + (left.squared() - (c * u).squared()).root())
    }
}

/// Depth of a circle: r − √(r² − y²), or by its curvature where it is flat.
pub(super) fn sag(work: &Work<'_>, radius: Option<&Expr>, curvature: &Expr, square: &Expr) -> Expr {
    match radius.map(|radius| (radius, work.sheet.value(radius))) {
        Some((radius, value)) if value.abs() < FLAT_MM => {
            let root = (radius.clone().squared() - square).root();
            if value > 0.0 { radius - root } else { radius + root }
        }
        _ => curvature * square / (1.0 + (1.0 - curvature.clone().squared() * square).root()),
    }
}

/// Thickness by the approximate sags: of the power in that direction, and of the prism.
fn by_hand(rx: &Rx, back: &Back, [x, y]: [&Expr; 2], square: &Expr) -> Expr {
    let n = &back.front.index - 1.0;
    let power = &rx.sphere * square;
    let power = if rx.toric { power + &rx.cylinder * (y * &rx.cos - x * &rx.sin).squared() } else { power };
    let thin = &back.centre - power / (2000.0 * n.clone());
    match &rx.prism {
        Some([px, py]) => thin + (px * x + py * y) / (100.0 * n),
        None => thin,
    }
}
