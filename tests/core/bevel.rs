//! The way of bevel and groove round the edge, against closed forms, against other routes, and on lenses by chance.

use crate::case::Case;
use crate::support::{Chance, inline};
use kurbo::Vec2;
use rimwise::assess::{EdgeWork, Made};
use rimwise::eye::Eye;
use rimwise::frame::{Boxing, Frame};
use rimwise::light::ReferenceLine;
use rimwise::outline::{Density, Outline, Shape};
use rimwise::rim::{EdgeWish, Position, Rim};
use rimwise::rx::{EyeRx, Power, Prism};

fn case(sphere: f64, cylinder: f64, shape: Shape, rim: Rim) -> Case {
    let mut option = inline(1.6, 41.0, 1.3, 1.5, 1.5);
    option.base_curve_d = Some(4.0);
    let depth_mm = if shape == Shape::Circle { 50.0 } else { 38.0 };
    Case {
        eye: Eye::Right,
        rx: EyeRx { power: Power::new(sphere, cylinder, 30.0), prism: Prism::default(), pd_mm: 34.0, add: None },
        shape,
        boxing: Boxing { eye_size_mm: 50.0, depth_mm, bridge_mm: 18.0 },
        up_mm: 0.0,
        rim,
        option,
    }
}

fn framed(case: &Case, edge: EdgeWish) -> Frame {
    let mut frame = Frame::new("Fennel", case.shape, vec![case.boxing], case.rim);
    frame.edge = edge;
    frame
}

fn work(case: &Case, made: &Made, outline: &Outline, edge: EdgeWish) -> EdgeWork {
    made.edge_work(case.eye, &framed(case, edge), outline, &case.option, ReferenceLine::D)
}

#[track_caller]
fn near(found: f64, wanted: f64, within: f64) {
    assert!((found - wanted).abs() < within, "{found}, not {wanted}");
}

/// A front that is a sphere, followed at a distance, gives a bevel on that sphere's curve, wherever its reference point
/// lies; in a rim of that curve it fits to the last digit.
#[test]
fn a_bevel_that_follows_the_front_has_its_curve() {
    for rim in [Rim::Metal, Rim::Supra] {
        for decentred in [0.0, 4.0] {
            let mut case = case(-6.0, -2.0, Shape::Oval, rim);
            case.rx.pd_mm -= decentred;
            let (outline, made) = (case.outline(), case.make().expect("makes"));
            let edge = EdgeWish {
                position: Position::Front { behind_mm: 1.2 },
                rim_curve_d: Some(4.0),
                ..EdgeWish::default()
            };
            let work = work(&case, &made, &outline, edge);
            near(work.bevel_curve_d.expect("a curve"), 4.0, 1e-7);
            let off = work.off_rim.expect("off");
            assert!(off.bevel.mm < 1e-9 && off.front.mm < 1e-9, "{off:?}");
            let [least, most] = work.behind_mm.expect("goes round");
            near(least, 1.2, 1e-9);
            near(most, 1.2, 1e-9);
            assert_eq!(work.moved.expect("goes round").mm, 0.0);
        }
    }
}

/// A share of a lens that is thickest and thinnest somewhere is that share of its thickest and of its thinnest edge.
#[test]
fn a_share_is_that_share_of_the_edge() {
    let case = case(-6.0, 0.0, Shape::Oval, Rim::Metal);
    let (outline, made) = (case.outline(), case.make().expect("makes"));
    let edge = EdgeWish { position: Position::Share { before: 0.4 }, ..EdgeWish::default() };
    let [least, most] = work(&case, &made, &outline, edge).behind_mm.expect("goes round");
    near(least, 0.4 * made.thickness.edges.min.thickness_mm, 1e-9);
    near(most, 0.4 * made.thickness.edges.max.thickness_mm, 1e-9);
}

/// A round lens has a bevel in a plane circle: it has no curve, and fits any rim.
#[test]
fn a_round_lens_fits_any_rim() {
    let case = case(-4.0, 0.0, Shape::Circle, Rim::Metal);
    let (outline, made) = (case.outline(), case.make().expect("makes"));
    for rim_curve_d in [0.0, 4.0, 8.0] {
        let edge = EdgeWish { rim_curve_d: Some(rim_curve_d), ..EdgeWish::default() };
        let work = work(&case, &made, &outline, edge);
        assert!(work.bevel_curve_d.is_none());
        assert!(work.off_rim.expect("off").bevel.mm < 1e-9);
    }
}

/// The bevel is laid on the rim's curve, and comes out on it, where the edge has room.
#[test]
fn a_bevel_on_the_rims_curve_has_it() {
    let case = case(-8.0, -1.0, Shape::Oval, Rim::Metal);
    let (outline, made) = (case.outline(), case.make().expect("makes"));
    for rim_curve_d in [0.0, 2.0, 6.0, 8.0] {
        let edge = EdgeWish {
            position: Position::RimCurve { rim_curve_d },
            rim_curve_d: Some(rim_curve_d),
            ..EdgeWish::default()
        };
        let work = work(&case, &made, &outline, edge);
        near(work.bevel_curve_d.expect("a curve"), rim_curve_d, 1e-6);
        assert!(work.off_rim.expect("off").bevel.mm < 1e-9 && work.moved.expect("round").mm < 1e-9);
        // As far to the front as anywhere it may.
        near(work.behind_mm.expect("round")[0], 1.0, 1e-6);
    }
}

/// The place where a bevel on the rim's curve comes nearest to the front is the true one, between the nodes of the outline too:
/// there it keeps its usual distance, and nowhere less.
#[test]
fn a_bevel_on_the_rims_curve_touches_its_usual_place_between_nodes_too() {
    let mut between = 0;
    for word in ["oval", "panto", "rectangle", "hexagon", "pilot"] {
        for rim_curve_d in [1.0, 3.0, 6.0, 8.0] {
            let case = case(-8.0, -1.5, Shape::from_word(word).expect("a shape"), Rim::Metal);
            let (outline, made) = (case.outline(), case.make().expect("makes"));
            let edge = EdgeWish { position: Position::RimCurve { rim_curve_d }, ..EdgeWish::default() };
            let frame = framed(&case, edge);
            let course = made.course(case.eye, &frame, &outline).expect("a course");
            let behind = |p: Vec2| course.seat(p, None).expect("reaches").tip_mm;
            let nodes = outline.nodes(Density::Finest);
            let at_nodes = nodes.iter().map(|node| behind(node.jet.p)).fold(f64::INFINITY, f64::min);
            let (curve, steps) = (outline.curve(), 40_000);
            let step = curve.period() / f64::from(steps);
            let least = (0..steps).map(|i| behind(curve.jet(step * f64::from(i)).p)).fold(f64::INFINITY, f64::min);
            assert!((least - 1.0).abs() < 1e-6, "{word}, {rim_curve_d} D: {least} mm behind the front");
            between += usize::from(at_nodes > least + 1e-5);
        }
    }
    assert!(between >= 5, "the nodes alone find it in all but {between}");
}

/// The sphere of a rim through the points of an edge by another route: its middle and height, moved step by step down
/// the sum of squares.
fn off_by_search(points: &[(f64, Vec2, f64)], curvature: f64) -> f64 {
    let z = |at: [f64; 3], p: Vec2| {
        let h2 = (p - Vec2::new(at[0], at[1])).hypot2();
        at[2] + curvature * h2 / (1.0 + (1.0 - curvature * curvature * h2).sqrt())
    };
    let sum =
        |at: [f64; 3]| points.iter().map(|(weight, p, wanted)| weight * (z(at, *p) - wanted).powi(2)).sum::<f64>();
    let (mut at, mut step) = ([0.0; 3], 2.0);
    while step > 1e-7 {
        let moves = (0..3).flat_map(|i| [(i, step), (i, -step)]).map(|(i, by)| {
            let mut to = at;
            to[i] += by;
            to
        });
        // Height and middle pull at one another, so the height is settled for each.
        let settled = moves.map(|mut to| {
            let whole: f64 = points.iter().map(|(weight, ..)| weight).sum();
            to[2] += points.iter().map(|(weight, p, wanted)| weight * (wanted - z(to, *p))).sum::<f64>() / whole;
            to
        });
        let best = settled.min_by(|a, b| sum(*a).total_cmp(&sum(*b))).expect("some");
        if sum(best) < sum(at) {
            at = best;
        } else {
            step *= 0.5;
        }
    }
    points.iter().map(|(_, p, wanted)| (z(at, *p) - wanted).abs()).fold(0.0, f64::max)
}

#[test]
fn how_far_a_bevel_lies_off_its_rim_is_found_by_another_route() {
    for (shape, rim_curve_d) in [("oval", 8.0), ("rectangle", 6.0), ("oval", 1.0)] {
        let case = case(-5.0, -1.5, Shape::from_word(shape).expect("a shape"), Rim::Metal);
        let (outline, made) = (case.outline(), case.make().expect("makes"));
        let edge = EdgeWish { rim_curve_d: Some(rim_curve_d), ..EdgeWish::default() };
        let frame = framed(&case, edge);
        let course = made.course(case.eye, &frame, &outline).expect("a course");
        let points: Vec<(f64, Vec2, f64)> = outline
            .nodes(Density::Finest)
            .iter()
            .map(|node| {
                (node.weight * node.turn.speed, node.jet.p, course.at(node.jet.p, None).expect("reaches").tip_z())
            })
            .collect();
        let found = work(&case, &made, &outline, edge).off_rim.expect("off").bevel.mm;
        let wanted = off_by_search(&points, rim_curve_d / 530.0);
        // Along z against along the sphere's own equation, and the largest sample against the true peak.
        assert!((found - wanted).abs() < 0.004 && wanted > 0.1, "{shape}: {found} and {wanted}");
    }
}

/// Laid on the rim's curve it is tilted as the usual course comes nearest to that rim, and only moved along z; where the edge
/// is too thin for that curve anywhere, as far before the front's room as behind the back's.
#[test]
fn a_bevel_on_the_rims_curve_lies_between_front_and_back() {
    let (mut roomy, mut cramped) = (0, 0);
    for (sphere, depth_mm, rim_curve_d) in
        [(-9.0, 24.0, 4.5), (-9.0, 24.0, 4.0), (-1.0, 38.0, 8.0), (-2.0, 24.0, 0.5), (2.0, 30.0, 8.0)]
    {
        let mut case = case(sphere, -1.5, Shape::Oval, Rim::Metal);
        (case.boxing.depth_mm, case.rx.pd_mm, case.up_mm) = (depth_mm, 30.0, 2.0);
        let (outline, made) = (case.outline(), case.make().expect("makes"));
        let usual = made.course(case.eye, &framed(&case, EdgeWish::default()), &outline).expect("a course");
        let rim = usual.rim(rim_curve_d).expect("a rim");
        let edge = EdgeWish { position: Position::RimCurve { rim_curve_d }, ..EdgeWish::default() };
        let course = made.course(case.eye, &framed(&case, edge), &outline).expect("a course");
        let (mut moved, mut before, mut behind) = (Vec::new(), f64::INFINITY, f64::INFINITY);
        for node in outline.nodes(Density::Finest) {
            let p = node.jet.p;
            let passed = course.at(p, None).expect("reaches");
            let wished = passed.front_z + passed.wanted_mm;
            moved.push(wished - rim.z(p).expect("reaches"));
            before = before.min(wished - passed.seat.half_mm - passed.front_z);
            behind = behind.min(passed.back_z - wished - passed.seat.half_mm);
        }
        // The same ball moved along z.
        for by in &moved {
            near(*by, moved[0], 1e-9);
        }
        if before >= -1e-9 && behind >= -1e-9 {
            roomy += 1;
        } else {
            // The least of a few hundred places, for the least of all.
            near(before, behind, 1e-3);
            cramped += 1;
        }
    }
    assert!(roomy >= 2 && cramped >= 3, "{roomy} {cramped}");
}

/// A chamfer wider than any edge takes all the room there is, so that both corners and the bevel between them are the edge.
#[test]
fn corners_leave_the_bevel_its_room() {
    for (up_mm, pd_mm, rim) in [(3.0, 28.0, Rim::Metal), (-2.0, 33.0, Rim::Metal), (2.0, 30.0, Rim::Supra)] {
        let mut case = case(-5.0, -1.5, Shape::Oval, rim);
        (case.up_mm, case.rx.pd_mm) = (up_mm, pd_mm);
        let (outline, made) = (case.outline(), case.make().expect("makes"));
        let course = made.course(case.eye, &framed(&case, EdgeWish::default()), &outline).expect("a course");
        let mounted = course.mounted();
        for node in outline.nodes(Density::Plain) {
            let passed = course.at(node.jet.p, None).expect("reaches");
            let inset_mm = course.inset_mm(&passed);
            let corners = mounted.corners(&passed, node.turn.normal, inset_mm, 100.0).expect("corners");
            let edge_mm = mounted.thickness(node.jet.p - inset_mm * node.turn.normal).expect("reaches");
            near(corners.front.along_mm + 2.0 * passed.seat.half_mm + corners.back.along_mm, edge_mm, 1e-9);
            let front = made.lens.front().sag(node.jet.p - inset_mm * node.turn.normal - mounted.reference);
            near(front.expect("reaches") + corners.front.along_mm + passed.seat.half_mm, passed.tip_z(), 1e-9);
        }
    }
}

/// What lies before the plane of a chamfer, added up in small steps inward with the true surfaces.
fn chamfered_by_steps(case: &Case, made: &Made, outline: &Outline, face_mm: f64) -> f64 {
    let frame = framed(case, EdgeWish::default());
    let course = made.course(case.eye, &frame, outline).expect("a course");
    let reference = made.centration.point(case.eye);
    let (steps, reach) = (400, 1.0);
    let mut sum = 0.0;
    for node in outline.nodes(Density::Plain) {
        let passed = course.at(node.jet.p, None).expect("reaches");
        let inset = if case.rim == Rim::Metal { passed.seat.inset_mm() } else { 0.0 };
        let faces = |q: f64| {
            let p = node.jet.p - (inset + q) * node.turn.normal - reference;
            let front = made.lens.front().sag(p).expect("reaches");
            (front, made.lens.centre_mm() + made.lens.back().sag(p).expect("reaches"))
        };
        let (front, back) = faces(0.0);
        let along = face_mm / 2_f64.sqrt();
        for i in 0..steps {
            let q = reach * (f64::from(i) + 0.5) / f64::from(steps);
            let (front_here, back_here) = faces(q);
            let cut = (front + along - q - front_here).max(0.0) + (back_here - back + along - q).max(0.0);
            let run = 1.0 - node.turn.curvature * (inset + q);
            sum += node.weight * node.turn.speed * cut * run * reach / f64::from(steps);
        }
    }
    sum
}

#[test]
fn what_a_chamfer_takes_off_is_what_lies_before_its_plane() {
    for rim in [Rim::Metal, Rim::Supra, Rim::Rimless] {
        let case = case(-5.0, -1.5, Shape::Oval, rim);
        let (outline, made) = (case.outline(), case.make().expect("makes"));
        let edge = EdgeWish { chamfer_mm: 0.25, ..EdgeWish::default() };
        let found = work(&case, &made, &outline, edge).chamfered_mm3.expect("chamfered");
        let wanted = chamfered_by_steps(&case, &made, &outline, 0.25);
        assert!((found / wanted - 1.0).abs() < 5e-3, "{rim:?}: {found} and {wanted}");
        let none = EdgeWish { chamfer_mm: 0.0, ..edge };
        assert_eq!(work(&case, &made, &outline, none).chamfered_mm3, Some(0.0));
    }
}

/// Wherever bevel or groove are wished, they lie within the edge; and where that is elsewhere, it is told.
#[test]
fn bevels_stay_within_the_edge_or_it_is_told() {
    let mut chance = Chance(23);
    let (mut kept, mut moved) = (0, 0);
    for _ in 0..400 {
        let mut case = Case::any(&mut chance);
        case.rim = chance.one_of(&[Rim::Metal, Rim::Plastic, Rim::Supra]);
        let outline = case.outline();
        let Ok(made) = case.make_in(&outline) else { continue };
        let rim_curve_d = chance.within(0.0, 8.0);
        let position = chance.one_of(&[
            Position::Usual,
            Position::Front { behind_mm: 1.5 },
            Position::Share { before: 0.3 },
            Position::RimCurve { rim_curve_d },
        ]);
        let edge = EdgeWish { position, rim_curve_d: Some(rim_curve_d), ..EdgeWish::default() };
        let frame = framed(&case, edge);
        let Some(course) = made.course(case.eye, &frame, &outline) else { continue };
        let told = work(&case, &made, &outline, edge).moved.expect("goes round");
        for node in outline.nodes(Density::Fine) {
            let passed = course.at(node.jet.p, None).expect("reaches");
            let (front, back) = (passed.tip_z() - passed.seat.half_mm, passed.tip_z() + passed.seat.half_mm);
            assert!(front > passed.front_z - 1e-9 && back < passed.back_z + 1e-9, "{passed:?}");
            assert!(passed.moved_mm() <= told.mm + 1e-6, "{passed:?} and {told:?}");
        }
        if told.mm > 0.01 { moved += 1 } else { kept += 1 }
    }
    assert!(kept > 50 && moved > 30, "{kept} {moved}");
}

#[test]
fn directions_are_found_on_the_outline() {
    let outline = case(-5.0, 0.0, Shape::Oval, Rim::Metal).outline();
    for deg in [0.0, 17.5, 90.0, 135.0, 180.0, 270.0, 359.0, 360.0] {
        let (sin, cos) = f64::to_radians(deg).sin_cos();
        let p = outline.at_deg(deg).expect("a point");
        let wanted = 1.0 / ((cos / 25.0).powi(2) + (sin / 19.0).powi(2)).sqrt();
        near(p.hypot(), wanted, 1e-9);
        near(p.dot(Vec2::new(cos, sin)), wanted, 1e-9);
    }
}
