//! Every built-in shape fills its box exactly, turns one way round, and is the mirror image on the other side.
//!
//! Units: mm.

use crate::dense;
use kurbo::Vec2;
use rimwise::eye::Eye;
use rimwise::outline::{Density, Outline, Shape};

/// Every shape for both eyes, as drawn, and squeezed flat and stretched tall.
fn every() -> impl Iterator<Item = (String, Shape, Outline)> {
    Shape::all().flat_map(|shape| {
        let own = shape.depth_ratio();
        let ratios = if shape == Shape::Circle { vec![1.0] } else { vec![own, 0.45, 1.05] };
        ratios.into_iter().flat_map(move |ratio| {
            Eye::BOTH.map(|eye| {
                let outline = shape.outline(eye, 50.0, 50.0 * ratio);
                (format!("{} {} at {ratio}", eye.word(), shape.word()), shape, outline)
            })
        })
    })
}

fn points(outline: &Outline, count: usize) -> Vec<Vec2> {
    dense::steps(outline, count).map(|u| outline.curve().jet(u).p).collect()
}

/// A side of the box: its name, how far a point lies toward it, and how far the box does.
type Side = (&'static str, fn(Vec2) -> f64, f64);

#[test]
fn every_shape_fills_its_box_exactly() {
    const BOUND: f64 = 1e-9;
    let mut off_middle = 0;
    for (name, _, outline) in every() {
        let (a, b) = (0.5 * outline.width_mm(), 0.5 * outline.depth_mm());
        let curve = outline.curve();
        let extreme = |f: fn(Vec2) -> f64| {
            let (u, value) = dense::least(&outline, |u| -f(curve.jet(u).p));
            (curve.jet(u).p, -value)
        };
        let sides: [Side; 4] =
            [("right", |p| p.x, a), ("left", |p| -p.x, a), ("top", |p| p.y, b), ("bottom", |p| -p.y, b)];
        for (side, f, wanted) in sides {
            let (at, value) = extreme(f);
            assert!((value - wanted).abs() < BOUND, "{name}, {side}: {value} against {wanted}, bound {BOUND}");
            off_middle += usize::from(at.x.abs().min(at.y.abs()) > 1.0);
        }
    }
    // A box of points on the lines through its middle would have done for symmetrical shapes only.
    assert!(off_middle > 40, "only {off_middle} extremes off the middle lines");
}

#[test]
fn every_shape_is_seen_whole_from_its_boxed_centre() {
    for (name, _, outline) in every() {
        let curve = outline.curve();
        let mut turned = 0.0;
        let corners = points(&outline, 3000);
        for (u, next) in dense::steps(&outline, 3000).zip(corners.iter().cycle().skip(1)) {
            let jet = curve.jet(u);
            assert!(jet.p.cross(jet.d1) > 0.0, "{name}: hidden, or clockwise, at {:?}", jet.p);
            turned += jet.p.cross(*next).atan2(jet.p.dot(*next));
            let normal = jet.turn().normal;
            assert!((normal.hypot() - 1.0).abs() < 1e-12 && normal.dot(jet.p) > 0.0, "{name}: normal {normal:?}");
        }
        assert!((turned - std::f64::consts::TAU).abs() < 1e-9, "{name}: once round is {turned}");
        // One crossing on each side, and it is the one named.
        for (side, coordinate, named) in [
            ("right", Vec2::new(0.0, 1.0), outline.cardinal().right),
            ("left", Vec2::new(0.0, -1.0), outline.cardinal().left),
            ("top", Vec2::new(-1.0, 0.0), outline.cardinal().top),
            ("bottom", Vec2::new(1.0, 0.0), outline.cardinal().bottom),
        ] {
            // Anticlockwise, each side is crossed with this coordinate rising.
            let rising: Vec<Vec2> = corners
                .iter()
                .zip(corners.iter().cycle().skip(1))
                .filter(|(from, to)| from.dot(coordinate) < 0.0 && to.dot(coordinate) >= 0.0)
                .map(|(from, to)| {
                    let (a, b) = (from.dot(coordinate), to.dot(coordinate));
                    *from + (*to - *from) * (a / (a - b))
                })
                .collect();
            assert_eq!(rising.len(), 1, "{name}: the {side} is crossed at {rising:?}");
            // Chords of 0.05 mm bend away by less than 1e-4.
            assert!((rising[0] - named).hypot() < 1e-3, "{name}, {side}: {named:?} against {:?}", rising[0]);
            assert!(named.dot(coordinate).abs() < 1e-12, "{name}, {side}: {named:?} is off the line");
            let (_, off) = dense::least(&outline, |u| (curve.jet(u).p - named).hypot());
            assert!(off < 1e-9, "{name}, {side}: {off} off the outline");
        }
    }
}

#[test]
fn the_left_lens_is_the_mirror_image() {
    let mut lopsided = 0;
    for shape in Shape::all() {
        let depth = 50.0 * shape.depth_ratio();
        let [right, left] = Eye::BOTH.map(|eye| shape.outline(eye, 50.0, depth));
        for u in dense::steps(&right, 500) {
            let p = right.curve().jet(u).p;
            let mirrored = Vec2::new(-p.x, p.y);
            let (_, off) = dense::least(&left, |u| (left.curve().jet(u).p - mirrored).hypot());
            assert!(off < 1e-9, "{}: {mirrored:?} is {off} off the left outline", shape.word());
            if u == 0.0 {
                let (_, own) = dense::least(&right, |u| (right.curve().jet(u).p - mirrored).hypot());
                lopsided += usize::from(own > 0.01);
            }
        }
        let [a, b] = [&right, &left].map(|o| (o.area_mm2(), o.perimeter_mm(), o.effective_diameter_mm()));
        assert!((a.0 - b.0).abs() < 1e-9 && (a.1 - b.1).abs() < 1e-8 && (a.2 - b.2).abs() < 1e-9, "{a:?} {b:?}");
        assert!((right.cardinal().right.x + left.cardinal().left.x).abs() < 1e-9, "{}", shape.word());
    }
    assert!(lopsided > 5, "only {lopsided} shapes tell right from left");
}

#[test]
fn area_perimeter_and_radius_are_those_of_a_fine_polygon() {
    for (name, _, outline) in every() {
        // A polygon's errors fall with the square of its steps: two of them tell the limit (Richardson).
        let polygon = |count: usize| {
            let p = points(&outline, count);
            let sides = p.iter().zip(p.iter().cycle().skip(1));
            let area: f64 = sides.clone().map(|(a, b)| 0.5 * a.cross(*b)).sum();
            let length: f64 = sides.map(|(a, b)| (*b - *a).hypot()).sum();
            (area, length)
        };
        // Multiples of the number of pieces, so that the errors of both have the same make-up.
        let count = 200 * dense::stretches(&outline).len();
        let (coarse, fine) = (polygon(count), polygon(2 * count));
        let area = (4.0 * fine.0 - coarse.0) / 3.0;
        let length = (4.0 * fine.1 - coarse.1) / 3.0;
        let (ours, bound) = (outline.area_mm2(), 1e-8 * area);
        assert!((ours - area).abs() < bound, "{name}: area {ours} against {area}, bound {bound}");
        let (ours, bound) = (outline.perimeter_mm(), 1e-8 * length);
        assert!((ours - length).abs() < bound, "{name}: perimeter {ours} against {length}, bound {bound}");
        let (_, longest) = dense::least(&outline, |u| -outline.curve().jet(u).p.hypot());
        let ours = outline.effective_diameter_mm();
        assert!((ours + 2.0 * longest).abs() < 1e-9, "{name}: effective diameter {ours} against {}", -2.0 * longest);
        // The nodes that everything is integrated with count the same area.
        for density in [Density::Plain, Density::Fine, Density::Finest] {
            let nodes: f64 = outline.nodes(density).iter().map(|n| 0.5 * n.weight * n.jet.p.cross(n.jet.d1)).sum();
            assert!((nodes / area - 1.0).abs() < 1e-8, "{name}: nodes {nodes} against {area}");
        }
    }
}

#[test]
fn distances_are_those_found_by_looking_everywhere() {
    let (mut inside, mut outside, mut worst) = (0, 0, 0f64);
    for (name, _, outline) in every() {
        for i in 0..14 {
            let p = Vec2::new(
                0.55 * 50.0 * f64::cos(2.4 * f64::from(i)),
                0.52 * outline.depth_mm() * f64::sin(2.4 * f64::from(i)),
            ) * (f64::from(i + 1) / 14.0);
            let (ours, slow) = (outline.depth_inside_mm(p), dense::depth_inside(&outline, p));
            assert!((ours - slow).abs() < 1e-8, "{name}: {p:?} is {ours} deep, or {slow}");
            let (_, far) = dense::least(&outline, |u| -(outline.curve().jet(u).p - p).hypot());
            let ours_far = outline.farthest_mm(p);
            assert!((ours_far + far).abs() < 1e-9, "{name}: from {p:?} farthest {ours_far} against {}", -far);
            worst = worst.max((ours - slow).abs());
            inside += usize::from(slow > 0.0);
            outside += usize::from(slow < 0.0);
        }
    }
    assert!(inside > 300 && outside > 100, "{inside} inside, {outside} outside, worst {worst}");
}

/// A straight side opposite the point that is measured from: two farthest points, with a nearer one halfway between them
/// that may fall right on a node.
#[test]
fn the_farther_of_two_corners_is_found_and_not_the_middle_between_them() {
    let (mut twins, mut wrong) = (0, Vec::new());
    for word in ["octagon", "hexagon", "trapezoid", "square", "rectangle"] {
        let shape = Shape::from_word(word).expect("a shape");
        for i in 0..200 {
            let ratio = 0.5 + 0.002 * f64::from(i);
            for eye in Eye::BOTH {
                let outline = shape.outline(eye, 46.0, 46.0 * ratio);
                let radius = |u: f64| outline.curve().jet(u).p.hypot();
                let (_, longest) = dense::least(&outline, |u| -radius(u));
                let ours = outline.farthest_mm(Vec2::ZERO);
                if (ours + longest).abs() > 1e-9 {
                    wrong.push(format!("{} {word} at {ratio:.3}: {ours} against {}", eye.word(), -longest));
                }
                let side = outline.cardinal().right.hypot();
                twins += usize::from(-longest > side + 1e-6 && -longest < side + 0.01);
            }
        }
    }
    assert!(wrong.is_empty(), "{} found too short:\n{}", wrong.len(), wrong.join("\n"));
    assert!(twins > 2, "only {twins} times was the middle of a side nearly as far as its corners");
}
