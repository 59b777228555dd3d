//! Measured outlines: a trace rounded as tracers round gives the lens of the exact shape; both eyes, every way of writing
//! angles; and what is wrong with radii is told.
//!
//! Units: mm, degrees. The exact shapes are ellipses and rectangles with arcs for corners, by their own formulas.

use crate::case::Case;
use crate::dense::gauss;
use crate::support::Chance;
use kurbo::Vec2;
use rimwise::assess::Made;
use rimwise::eye::Eye;
use rimwise::finding::{Problem, Unfit};
use rimwise::job::Judged;
use rimwise::outline::{Density, LEAST_RADII, MOST_RADII, Measured, Outline};
use rimwise::read::outline::outline;
use rimwise::rx::{Power, Prism};
use std::f64::consts::{PI, TAU};
use std::sync::Arc;

/// A shape by its radius in a direction, rad, from its middle.
struct Exact {
    name: &'static str,
    width_mm: f64,
    depth_mm: f64,
    radius: Box<dyn Fn(f64) -> f64>,
    /// Directions in the first quarter at which its curvature jumps.
    joints: Vec<f64>,
}

fn ellipse(width_mm: f64, depth_mm: f64) -> Exact {
    let (a, b) = (0.5 * width_mm, 0.5 * depth_mm);
    let radius = move |angle: f64| a * b / (b * angle.cos()).hypot(a * angle.sin());
    Exact { name: "ellipse", width_mm, depth_mm, radius: Box::new(radius), joints: Vec::new() }
}

/// A rectangle with arcs of `corner_mm` for corners.
fn rectangle(width_mm: f64, depth_mm: f64, corner_mm: f64) -> Exact {
    let (a, b) = (0.5 * width_mm, 0.5 * depth_mm);
    let (x, y) = (a - corner_mm, b - corner_mm);
    let (lower, upper) = (y.atan2(a), b.atan2(x));
    let radius = move |angle: f64| {
        let (s, c) = angle.sin_cos();
        let quarter = s.abs().atan2(c.abs());
        if quarter <= lower {
            a / c.abs()
        } else if quarter >= upper {
            b / s.abs()
        } else {
            // Where the ray leaves the circle about the middle of the corner.
            let along = x * c.abs() + y * s.abs();
            along + (along * along - x * x - y * y + corner_mm * corner_mm).sqrt()
        }
    };
    Exact { name: "rectangle", width_mm, depth_mm, radius: Box::new(radius), joints: vec![lower, upper] }
}

impl Exact {
    fn point(&self, angle: f64) -> Vec2 {
        (self.radius)(angle) * Vec2::from_angle(angle)
    }

    /// Stretches of the direction between joints, short enough to be integrated over.
    fn stretches(&self) -> Vec<(f64, f64)> {
        let mut ends: Vec<f64> = (0..=64).map(|i| TAU * f64::from(i) / 64.0).collect();
        for joint in &self.joints {
            ends.extend([*joint, PI - joint, PI + joint, TAU - joint]);
        }
        ends.sort_by(f64::total_cmp);
        ends.windows(2).map(|pair| (pair[0], pair[1])).collect()
    }

    /// ∬ f over the shape.
    fn over(&self, f: impl Fn(Vec2) -> f64) -> f64 {
        let spoke = |angle: f64| {
            let end = (self.radius)(angle);
            let half = |from: f64, to: f64| {
                gauss(from, to).map(|(r, weight)| weight * r * f(r * Vec2::from_angle(angle))).sum::<f64>()
            };
            half(0.0, 0.5 * end) + half(0.5 * end, end)
        };
        let stretch = |(from, to)| gauss(from, to).map(|(angle, weight)| weight * spoke(angle)).sum::<f64>();
        self.stretches().into_iter().map(stretch).sum()
    }

    /// Least and greatest of f along the outline.
    fn along(&self, f: impl Fn(Vec2) -> f64) -> [f64; 2] {
        let values = (0..7200).map(|i| f(self.point(TAU * f64::from(i) / 7200.0)));
        values.fold([f64::INFINITY, f64::NEG_INFINITY], |[least, most], value| [least.min(value), most.max(value)])
    }

    /// Radii at equal angles as a tracer writes them.
    fn records(&self, count: usize) -> String {
        let radii = (0..count).map(|i| hundredths((self.radius)(TAU * i as f64 / count as f64)));
        record("E", "R", &radii.collect::<Vec<_>>(), None)
    }

    fn measured(&self, count: usize) -> Arc<Measured> {
        sound(&self.records(count))
    }

    /// Its measured outline at its measured size.
    fn outline(&self, count: usize) -> Outline {
        own_size(&self.measured(count))
    }
}

/// The right lens at its measured size.
fn own_size(measured: &Measured) -> Outline {
    let size = measured.eye_size_mm();
    measured.outline(Eye::Right, size, size * measured.depth_ratio())
}

fn hundredths(radius_mm: f64) -> i64 {
    (100.0 * radius_mm).round() as i64
}

/// A trace, ten values a line.
fn record(spacing: &str, eye: &str, radii: &[i64], angles: Option<&[i64]>) -> String {
    let mut text = format!("TRCFMT=1;{};{spacing};{eye};F\n", radii.len());
    for (label, values) in [("R", Some(radii)), ("A", angles)] {
        for line in values.unwrap_or_default().chunks(10) {
            let values: Vec<String> = line.iter().map(i64::to_string).collect();
            text.push_str(&format!("{label}={}\n", values.join(";")));
        }
    }
    text
}

fn columns(rows: impl Iterator<Item = (f64, f64)>) -> String {
    let rows: String = rows.map(|(angle, radius)| format!("{angle},{radius:.2}\n")).collect();
    format!("angle_deg,radius_mm\n{rows}")
}

fn sound(text: &str) -> Arc<Measured> {
    let Judged { value, findings } = outline("trace", text.as_bytes());
    value.unwrap_or_else(|| panic!("{findings:?}"))
}

/// What is wrong with an outline.
fn unfit(text: &str) -> Vec<Unfit> {
    let Judged { value, findings } = outline("trace", text.as_bytes());
    assert!(value.is_none(), "nothing wrong with\n{text}");
    let unfit = |problem| match problem {
        Problem::Outline(unfit) => unfit,
        other => panic!("{other:?}"),
    };
    findings.into_iter().map(|finding| unfit(finding.problem)).collect()
}

fn cases(exact: &Exact) -> Vec<Case> {
    let mut cases = Vec::new();
    for (power, prism) in [
        (Power::spherical(-8.0), Prism::default()),
        (Power::new(-6.0, -1.5, 35.0), Prism::new(2.0, 30.0)),
        (Power::spherical(5.0), Prism::default()),
        (Power::new(5.0, -1.5, 35.0), Prism::new(2.0, 30.0)),
    ] {
        let mut case = Case::plain();
        (case.rx.power, case.rx.prism, case.up_mm) = (power, prism, 1.5);
        (case.boxing.eye_size_mm, case.boxing.depth_mm) = (exact.width_mm, exact.depth_mm);
        cases.push(case);
    }
    cases
}

/// How far a lens in a measured outline is off the same lens cut to the exact shape: edges and centre, mm, and volume, as
/// a share.
fn off(case: &Case, made: &Made, exact: &Exact) -> (f64, f64) {
    let reference = made.centration.point(case.eye);
    let thickness = |p: Vec2| made.lens.thickness(p - reference).expect("reaches");
    let [least, most] = exact.along(thickness);
    let edges = &made.thickness.edges;
    // Where the edge set the thickness this is what the centre is off by.
    let thick = (edges.min.thickness_mm - least).abs().max((edges.max.thickness_mm - most).abs());
    let volume = exact.over(thickness);
    (thick, (made.volume_mm3 / volume - 1.0).abs())
}

#[test]
fn a_rounded_trace_gives_the_lens_of_the_exact_shape() {
    let (mut thick, mut volume) = (0.0_f64, 0.0_f64);
    for exact in [ellipse(50.0, 36.0), ellipse(54.0, 28.0), rectangle(50.0, 32.0, 6.0), rectangle(54.0, 30.0, 3.0)] {
        for count in [200, 360, 400, 1000] {
            let outline = exact.outline(count);
            for case in cases(&exact) {
                let made = case.make_in(&outline).expect("can be made");
                let (off_mm, share) = off(&case, &made, &exact);
                let name = format!("{} {} × {}, {count} radii", exact.name, exact.width_mm, exact.depth_mm);
                assert!(off_mm < 0.01, "{name}: thickness is off by {off_mm} mm, bound 0.01");
                assert!(share < 2e-4, "{name}: volume is off by a share of {share}, bound 2e-4");
                (thick, volume) = (thick.max(off_mm), volume.max(share));
            }
        }
    }
    // Rounded numbers cannot be right to the last places: the test does measure something.
    assert!(thick > 1e-5 && volume > 1e-7, "{thick} {volume}");
}

#[test]
fn a_traced_ellipse_is_worked_like_the_exact_one() {
    for (width, depth) in [(50.0, 40.0), (50.0, 36.0)] {
        let (exact, oval) = (ellipse(width, depth), Outline::ellipse(width, depth));
        // A plus is as thick as the one point of its edge asks that is thinnest: from few radii that is less sure.
        for (count, bound) in [(36, 6e-4), (72, 6e-4), (120, 4e-4), (200, 2e-4), (400, 2e-4), (1000, 2e-4)] {
            let outline = exact.outline(count);
            for case in cases(&exact) {
                let (ours, wanted) = (case.make_in(&outline).expect("made"), case.make_in(&oval).expect("made"));
                let edges = |made: &Made| made.thickness.edges.max.thickness_mm;
                for (ours, wanted) in [
                    (edges(&ours), edges(&wanted)),
                    (ours.thickness.centre_mm.expect("inside"), wanted.thickness.centre_mm.expect("inside")),
                    (ours.thickness.nasal_mm, wanted.thickness.nasal_mm),
                    (ours.thickness.top_mm, wanted.thickness.top_mm),
                ] {
                    assert!((ours - wanted).abs() < 0.01, "{count} radii: {ours} against {wanted} mm, bound 0.01");
                }
                let share = (ours.volume_mm3 / wanted.volume_mm3 - 1.0).abs();
                assert!(share < bound, "{count} radii: volume off by {share}, bound {bound}");
            }
        }
    }
}

#[test]
fn the_published_trace_of_a_circle_comes_out() {
    // BX-05 of the list of checks: R=3000 at 400 equal angles; HBOX, VBOX, CIRC (188.496) and ED.
    let measured = sound(&record("E", "R", &[3000; 400], None));
    let circle = own_size(&measured);
    let found = [circle.width_mm(), circle.depth_mm(), circle.perimeter_mm(), circle.effective_diameter_mm()];
    for (found, wanted) in found.into_iter().zip([60.0, 60.0, 60.0 * PI, 60.0]) {
        assert!((found - wanted).abs() < 5e-4, "{found} against {wanted}, bound 0.0005");
    }
    // BX-06: the ellipse of 50 × 36 has R=2500, 2066, 1800 at 0, 45, 90 degrees; BX-07: 135.985 round.
    let exact = ellipse(50.0, 36.0);
    let text = exact.records(8);
    assert!(text.contains("R=2500;2066;1800;2066;2500"), "{text}");
    let round_mm = exact.outline(400).perimeter_mm();
    // Radii of a hundredth of a millimetre give the length to a few thousandths.
    assert!((round_mm - 135.985).abs() < 5e-3, "{round_mm}");
}

#[test]
fn what_was_measured_between_the_lenses_is_kept() {
    let text = record("E", "R", &[2500; 400], None);
    assert_eq!(sound(&text).bridge_mm(), None);
    assert_eq!(sound(&format!("{text}DBL=17.25\n")).bridge_mm(), Some(17.25));
}

#[test]
fn corners_survive() {
    // A hexagon with corners of 1 mm radius, 44 mm across its flats.
    let (flat, corner) = (22.0, 1.0);
    let exact = |angle: f64| {
        let turned = (angle + PI / 6.0).rem_euclid(PI / 3.0) - PI / 6.0;
        // From the middle of a flat; the arc's middle lies 30° off it.
        let middle = (flat - corner) / (PI / 6.0).cos();
        let joint = (flat - corner) * (PI / 6.0).tan();
        let away = turned.abs();
        if away <= joint.atan2(flat) {
            flat / away.cos()
        } else {
            let along = middle * (PI / 6.0 - away).cos();
            along + (along * along - middle * middle + corner * corner).sqrt()
        }
    };
    let radii: Vec<i64> = (0..400).map(|i| hundredths(exact(TAU * f64::from(i) / 400.0))).collect();
    let measured = sound(&record("E", "R", &radii, None));
    let outline = own_size(&measured);
    // A flat lies at 0° and at 180°.
    let width = outline.width_mm();
    assert!((width - 2.0 * flat).abs() < 0.04, "{width}");
    for i in 0..4000 {
        let p = outline.curve().jet(outline.curve().period() * f64::from(i) / 4000.0).p;
        let off = (p.hypot() - exact(p.y.atan2(p.x))).abs();
        assert!(off < 0.05, "off by {off} mm at {p:?}, bound 0.05");
    }
}

/// Farthest of points of one outline from another.
fn apart(one: &Outline, other: &Outline) -> f64 {
    let points = one.nodes(Density::Finest).iter().map(|node| node.jet.p);
    points.map(|p| other.depth_inside_mm(p).abs()).fold(0.0, f64::max)
}

/// A shape that is not its own mirror image, from a point inside.
fn lopsided(angle: f64) -> f64 {
    let oval = 24.0 * 19.0 / (19.0 * angle.cos()).hypot(24.0 * angle.sin());
    oval * (1.0 + 0.03 * (3.0 * angle + 1.2).cos() + 0.02 * (2.0 * angle + 0.4).cos())
}

#[test]
fn however_the_angles_are_written_it_is_the_same_shape() {
    let degrees = || (0..180).map(|i| 2.0 * f64::from(i));
    let row = |deg: f64| (deg, lopsided(deg.to_radians()));
    let outline = |measured: &Measured, eye| measured.outline(eye, 48.0, 48.0 * measured.depth_ratio());
    let plain = sound(&columns(degrees().map(row)));
    let wanted = outline(&plain, Eye::Right);
    let shifted = columns(degrees().map(|deg| row((deg + 90.0).rem_euclid(360.0))));
    let backward = columns(degrees().map(|deg| row(360.0 - deg)));
    let closed = columns(degrees().chain([360.0]).map(row));
    let swapped = columns(degrees().map(row))
        .lines()
        .map(|line| {
            let (angle, radius) = line.split_once(',').expect("two");
            format!("{radius}, {angle}\r\n")
        })
        .collect::<String>();
    let radii: Vec<i64> = degrees().map(|deg| hundredths(row(deg).1)).collect();
    // Unequal angles, a hundredth of a degree to a step.
    let mut chance = Chance(5);
    let angles: Vec<i64> = degrees().map(|deg| (100.0 * (deg + chance.within(0.0, 1.5))) as i64).collect();
    let there: Vec<i64> = angles.iter().map(|a| hundredths(lopsided((*a as f64 / 100.0).to_radians()))).collect();
    for (name, text) in [
        ("another start", shifted),
        ("clockwise", backward),
        ("the first repeated", closed),
        ("columns swapped", swapped),
        ("a byte order mark", format!("\u{feff}{}", columns(degrees().map(row)))),
        ("records", record("E", "R", &radii, None)),
        (
            "framed records",
            format!(
                "\u{1c}\r\nREQ=FIL\r\n{}ZFMT=1;180;E;R;F\r\nA=1;2;3\r\nZ=1\r\n\u{1d}\r\n",
                record("E", "R", &radii, None)
            ),
        ),
        ("unequal angles", record("U", "R", &there, Some(&angles))),
    ] {
        let measured = sound(&text);
        let off = apart(&outline(&measured, Eye::Right), &wanted);
        assert!(off < 0.02, "{name}: {off}");
        let off = (measured.eye_size_mm() - plain.eye_size_mm()).abs();
        assert!(off < 0.02, "{name}: {off}");
    }
}

#[test]
fn any_point_inside_will_do_to_measure_from() {
    let exact = ellipse(50.0, 36.0);
    // The radius of the ellipse from (6, −4).
    let from = Vec2::new(6.0, -4.0);
    let rows = (0..360).map(|deg| {
        let along = Vec2::from_angle(f64::from(deg).to_radians());
        let (a, b) = (25.0, 18.0);
        let scaled = |v: Vec2| Vec2::new(v.x / a, v.y / b);
        let (p, d) = (scaled(from), scaled(along));
        let half = p.dot(d);
        (f64::from(deg), (-half + (half * half - d.hypot2() * (p.hypot2() - 1.0)).sqrt()) / d.hypot2())
    });
    let measured = sound(&columns(rows));
    assert!((measured.eye_size_mm() - 50.0).abs() < 0.02, "{}", measured.eye_size_mm());
    let outline = measured.outline(Eye::Right, 50.0, 36.0);
    let off = (0..720).map(|i| outline.depth_inside_mm(exact.point(TAU * f64::from(i) / 720.0)).abs());
    let off = off.fold(0.0, f64::max);
    assert!(off < 0.01, "{off}");
}

#[test]
fn the_other_lens_is_the_mirror_image_unless_it_was_traced() {
    let radii: Vec<i64> = (0..360).map(|deg| hundredths(lopsided(f64::from(deg).to_radians()))).collect();
    let mirrored: Vec<i64> = (0..360).map(|deg| radii[(540 - deg) % 360]).collect();
    let narrow: Vec<i64> = radii.iter().map(|radius| radius - 20).collect();
    let outline = |measured: &Measured, eye| measured.outline(eye, 48.0, 48.0 * measured.depth_ratio());
    let right = sound(&record("E", "R", &radii, None));
    let left = sound(&record("E", "L", &mirrored, None));
    let both = sound(&format!("{}{}", record("E", "L", &narrow, None), record("E", "R", &radii, None)));
    assert!(apart(&outline(&right, Eye::Right), &outline(&left, Eye::Right)) < 0.01);
    assert!(apart(&outline(&right, Eye::Left), &outline(&left, Eye::Left)) < 0.01);
    assert!(apart(&outline(&right, Eye::Left), &outline(&right, Eye::Right)) > 0.5, "lopsided");
    // Its own, and brought into the box of the right one.
    assert!(apart(&outline(&both, Eye::Left), &outline(&right, Eye::Right)) < 0.05);
    assert!(apart(&outline(&both, Eye::Left), &outline(&right, Eye::Left)) > 0.5);
    assert_eq!(both.eye_size_mm(), right.eye_size_mm());
    for eye in Eye::BOTH {
        let [one, other] = [48.0, 54.0].map(|size| right.outline(eye, size, size * right.depth_ratio()).area_mm2());
        assert!((other / one - (54.0_f64 / 48.0).powi(2)).abs() < 1e-12);
    }
}

#[test]
fn a_measured_outline_is_as_exact_as_its_curve() {
    for exact in [ellipse(50.0, 36.0), rectangle(50.0, 32.0, 6.0), rectangle(50.0, 24.0, 1.0)] {
        let outline = exact.outline(400);
        for case in cases(&exact) {
            let made = case.make_in(&outline).expect("can be made");
            let reference = made.centration.point(case.eye);
            let thickness = |p: Vec2| made.lens.thickness(p - reference).expect("reaches");
            let volume = crate::dense::over(&outline, thickness);
            let off = (made.volume_mm3 / volume - 1.0).abs();
            assert!(off < 1e-7, "{} {:?}: {off}", exact.name, case.rx.power);
            let (_, least) = crate::dense::least(&outline, |u| thickness(outline.curve().jet(u).p));
            let off = made.thickness.edges.min.thickness_mm - least;
            assert!(off.abs() < 1e-9, "{} {:?}: thinnest edge off by {off}", exact.name, case.rx.power);
        }
    }
}

#[test]
fn what_is_wrong_with_radii_is_told() {
    let exact = ellipse(50.0, 36.0);
    let rows = |count: usize| -> Vec<(f64, f64)> {
        (0..count).map(|i| (360.0 * i as f64 / count as f64, (exact.radius)(TAU * i as f64 / count as f64))).collect()
    };
    let told = |rows: Vec<(f64, f64)>| unfit(&columns(rows.into_iter()));
    assert_eq!(told(rows(LEAST_RADII - 1)), [Unfit::Few { found: LEAST_RADII - 1, least: LEAST_RADII }]);
    let found = MOST_RADII + 1;
    assert_eq!(told(rows(found)), [Unfit::Many { found, most: MOST_RADII }]);
    let mut gap = rows(90);
    gap.drain(30..40);
    assert_eq!(told(gap), [Unfit::Gap { from_deg: 116.0, to_deg: 160.0, most_deg: 20.0 }]);
    assert_eq!(told(rows(72).split_off(6)), [Unfit::Gap { from_deg: 355.0, to_deg: 30.0, most_deg: 20.0 }]);
    let mut twice = rows(72);
    twice.extend(rows(72));
    assert!(matches!(told(twice)[..], [Unfit::TurnsBack { before_deg: 355.0, found_deg: 0.0 }]));
    for factor in [0.1, 10.0, 100.0] {
        let scaled = rows(72).into_iter().map(|(angle, radius)| (angle, radius / factor)).collect();
        let [Unfit::Size { factor: Some(found), .. }] = told(scaled)[..] else { panic!("{factor}") };
        assert_eq!(found, factor);
    }
    // One radius off by a slip of the pen, outward and inward, in dense and in sparse traces.
    for (count, slip) in [(36, 10.0), (72, -5.0), (400, 0.5), (400, -1.0), (1000, 3.0)] {
        let mut spiked = rows(count);
        spiked[count / 3].1 += slip;
        let angle = spiked[count / 3].0;
        let found = told(spiked);
        assert!(matches!(found[..], [Unfit::Spike { angle_deg, .. }] if angle_deg == angle), "{count}: {found:?}");
    }
}

#[test]
fn no_sound_shape_is_taken_for_a_wrong_one() {
    for shape in rimwise::outline::Shape::all() {
        let depth_mm = 50.0 * shape.depth_ratio();
        let drawn = shape.outline(Eye::Right, 50.0, depth_mm);
        let from = Vec2::new(2.0, -0.05 * depth_mm);
        for count in [36, 72, 400, 1000] {
            // The radius in a direction, by halving.
            let radius = |angle: f64| {
                let (mut inside, mut outside) = (0.0, 60.0);
                for _ in 0..14 {
                    let middle = 0.5 * (inside + outside);
                    let p = from + middle * Vec2::from_angle(angle);
                    if drawn.depth_inside_mm(p) > 0.0 { inside = middle } else { outside = middle }
                }
                let p = from + inside * Vec2::from_angle(angle);
                inside + drawn.depth_inside_mm(p)
            };
            let text = columns((0..count).map(|i| {
                let deg = 360.0 * f64::from(i) / f64::from(count);
                (deg, radius(deg.to_radians()))
            }));
            let Judged { value, findings } = outline("trace", text.as_bytes());
            let measured = value.unwrap_or_else(|| panic!("{}, {count} radii: {findings:?}", shape.word()));
            let ours = measured.outline(Eye::Right, measured.eye_size_mm(), 50.0 * measured.depth_ratio());
            assert!(ours.nodes(Density::Plain).len() < 700, "{} {count}", shape.word());
            if count >= 400 {
                let off = (measured.eye_size_mm() - 50.0).abs();
                assert!(off < 0.1, "{}: {off}", shape.word());
            }
        }
    }
}
