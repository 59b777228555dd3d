//! Stock lenses and blanks: the uncut's own rim and centre, every refusal, the smallest diameter that holds, and blanks
//! that are never too small, against rims walked in small steps and a circle found by brute force.
//!
//! Units: mm, dioptres.

use crate::case::Case;
use crate::dense;
use crate::support::Chance;
use kurbo::Vec2;
use rimwise::assess::{Impossible, Made};
use rimwise::choose::base::ChosenBy;
use rimwise::choose::centre::SetBy;
use rimwise::choose::{LensOption, Substance, Supply};
use rimwise::frame::Boxing;
use rimwise::material::{Material, Shelf, StockRow};
use rimwise::outline::{Outline, Shape};
use rimwise::rx::{Power, Prism};
use std::sync::Arc;

/// Thicknesses are solved to 1e-11.
const SOLVED_MM: f64 = 1e-9;

fn material(id: &str) -> Material {
    Shelf::built_in().get(id).map(|material| Material::clone(material)).expect("a built-in material")
}

fn option(material: Material, supply: Supply) -> LensOption {
    let mut option = LensOption::new("lens", Substance::Listed(Arc::new(material)));
    option.supply = supply;
    option
}

/// A stock lens of the 1.60 resin in an oval of 46 x 36.
fn stock(power: Power) -> Case {
    let mut case = Case::plain();
    case.boxing = Boxing { eye_size_mm: 46.0, depth_mm: 36.0, bridge_mm: 18.0 };
    case.rx.power = power;
    case.option = option(material("resin-1.60"), Supply::Stock);
    case
}

fn reference(case: &Case) -> Vec2 {
    Vec2::new(case.centration().x_mm(case.eye), case.up_mm)
}

fn row(case: &Case) -> StockRow {
    let Substance::Listed(material) = &case.option.substance else { panic!("a listed material") };
    material.stock_for(case.rx.power.sphere(), case.rx.power.cylinder()).expect("a stock row").clone()
}

/// The thinnest place of the round rim of an uncut, by walking it; with its direction.
fn thinnest_of_rim(made: &Made, diameter_mm: f64) -> (f64, f64) {
    let steps = 3600;
    (0..steps)
        .map(|i| {
            let deg = 360.0 * f64::from(i) / f64::from(steps);
            let at = 0.5 * diameter_mm * Vec2::from_angle(deg.to_radians());
            (made.lens.thickness(at).expect("the uncut reaches its rim"), deg)
        })
        .min_by(|a, b| a.0.total_cmp(&b.0))
        .expect("steps")
}

#[test]
fn an_uncut_has_the_centre_and_the_thinnest_edge_that_are_listed() {
    let shelf = Shelf::built_in();
    let (mut by_centre, mut by_edge, mut toric, mut made_all) = (0, 0, 0, 0);
    for material in &shelf.materials {
        for listed in &material.stock {
            let [from, to] = listed.sphere;
            for sphere in [from, 0.5 * (from + to), to, 0.75 * from + 0.25 * to] {
                for cylinder in [0.0, 0.5 * listed.cylinder_to, listed.cylinder_to] {
                    for axis in [90.0, 33.0, 180.0] {
                        let mut case = stock(Power::new(sphere, cylinder, axis));
                        case.option = option(Material::clone(material), Supply::Stock);
                        // Only what the lens is like is asked here, not whether it will do.
                        (case.option.min_centre_mm, case.option.min_edge_mm) = (Some(0.3), Some(0.3));
                        let Ok(made) = case.make() else { continue };
                        let row = row(&case);
                        let diameter = made.blank.diameter_mm.expect("listed");
                        let (thinnest, deg) = thinnest_of_rim(&made, diameter);
                        let centre = made.lens.centre_mm();
                        // Both as listed or thicker, and one of them as listed.
                        assert!(
                            centre >= row.centre_mm - SOLVED_MM,
                            "{}: centre {centre} under {}",
                            material.id,
                            row.centre_mm
                        );
                        assert!(
                            thinnest >= row.edge_mm - SOLVED_MM,
                            "{}: edge {thinnest} under {}",
                            material.id,
                            row.edge_mm
                        );
                        let tight = match made.thickness.set_by {
                            SetBy::Centre => centre - row.centre_mm,
                            SetBy::Edge => thinnest - row.edge_mm,
                            SetBy::LowestPoint => f64::NAN,
                        };
                        assert!(
                            tight.abs() < SOLVED_MM,
                            "{}: {:?} but {tight} over",
                            material.id,
                            made.thickness.set_by
                        );
                        if cylinder != 0.0 {
                            let off = (deg - case.rx.power.axis()).rem_euclid(90.0);
                            assert!(off.min(90.0 - off) < 0.2, "{}: thinnest at {deg}, axis {axis}", material.id);
                        }
                        assert_eq!((made.base.chosen_by, made.base.base_curve_d), (ChosenBy::Stock, row.base_curve_d));
                        by_centre += usize::from(made.thickness.set_by == SetBy::Centre);
                        by_edge += usize::from(made.thickness.set_by == SetBy::Edge);
                        toric += usize::from(cylinder != 0.0);
                        made_all += 1;
                    }
                }
            }
        }
    }
    assert!(by_centre > 50 && by_edge > 50 && toric > 100, "{by_centre} {by_edge} {toric} of {made_all}");
}

#[test]
fn a_plus_from_stock_is_thicker_than_one_surfaced_to_the_frame() {
    let (mut thicker, mut least) = (0, f64::INFINITY);
    for sphere in [1.0, 2.0, 3.0, 4.0, 5.0] {
        let ready = stock(Power::spherical(sphere));
        let mut ordered = ready.clone();
        ordered.option.supply = Supply::Surfaced;
        // On the same front, so that nothing else differs.
        ordered.option.base_curve_d = Some(row(&ready).base_curve_d);
        let (ready, ordered) = (ready.make().expect("in stock"), ordered.make().expect("can be made"));
        let more = ready.lens.centre_mm() - ordered.lens.centre_mm();
        assert!(more > 0.0 && ready.mass_g > ordered.mass_g, "{sphere}: {more} mm more");
        // The uncut's thin edge lies far outside the shape: what is cut off is the thin part.
        assert!(ready.thickness.edges.min.thickness_mm > ordered.thickness.edges.min.thickness_mm + 0.1);
        assert!(ready.blank.diameter_mm.expect("listed") >= ready.blank.minimum_mm);
        least = least.min(more / sphere);
        thicker += 1;
    }
    assert!(thicker == 5 && least > 0.1, "{least} mm more for each dioptre");
}

#[test]
fn the_smallest_listed_diameter_that_holds_is_taken() {
    let mut taken = std::collections::BTreeSet::new();
    for i in 0..60 {
        let mut case = stock(Power::spherical(-3.0));
        case.boxing.eye_size_mm = 42.0 + 0.4 * f64::from(i);
        let minimum = 2.0 * {
            let (outline, reference) = (case.outline(), reference(&case));
            -dense::least(&outline, |u| -(outline.curve().jet(u).p - reference).hypot()).1
        } + 2.0;
        let listed = row(&case).diameters_mm;
        let holding = listed.iter().copied().filter(|d| *d >= minimum).fold(f64::INFINITY, f64::min);
        match case.make() {
            Ok(made) => {
                assert_eq!(made.blank.diameter_mm, Some(holding), "of {listed:?} for {minimum}");
                assert!(!made.blank.decentred && (made.blank.minimum_mm - minimum).abs() < SOLVED_MM);
                taken.insert(holding as i64);
            }
            Err(Impossible::NoBlank { wanted_mm, largest_mm, supply }) => {
                // What is said is the diameter that would be needed.
                assert!(holding.is_infinite() && supply == Supply::Stock);
                assert!((wanted_mm - minimum).abs() < SOLVED_MM, "{wanted_mm} said, {minimum} needed");
                assert_eq!(largest_mm, listed.iter().copied().fold(0.0, f64::max));
                taken.insert(0);
            }
            Err(other) => panic!("{other:?}"),
        }
    }
    assert!(taken.len() > 2 && taken.contains(&0), "only {taken:?}");
}

#[test]
fn what_stock_cannot_do_is_refused_with_the_numbers() {
    assert!(stock(Power::spherical(-3.0)).make().is_ok());
    // Prism.
    let mut case = stock(Power::spherical(-3.0));
    case.rx.prism = Prism::new(1.5, 0.0);
    assert_eq!(case.make().err(), Some(Impossible::StockPrism { amount_pd: 1.5 }));
    // A power that no row covers: too strong, and too much cylinder.
    for power in [Power::spherical(-25.0), Power::new(-2.0, -9.0, 20.0)] {
        let said = stock(power).make().err();
        assert_eq!(
            said,
            Some(Impossible::NoStockPower { sphere_d: power.sphere(), cylinder_d: power.cylinder() }),
            "{power:?}"
        );
    }
    // The ends of a listed range belong to it; a hundredth beyond does not.
    let row = StockRow {
        sphere: [-4.0, -2.0],
        cylinder_to: -1.0,
        base_curve_d: 4.0,
        diameters_mm: vec![65.0, 70.0],
        centre_mm: 1.3,
        edge_mm: 0.8,
    };
    let mut alone = material("resin-1.60");
    alone.stock = vec![row.clone()];
    let from = |power: Power| {
        let mut case = stock(power);
        case.option = option(alone.clone(), Supply::Stock);
        case
    };
    for (sphere, cylinder, held) in
        [(-4.0, 0.0, true), (-4.01, 0.0, false), (-2.0, -1.0, true), (-1.99, 0.0, false), (-3.0, -1.01, false)]
    {
        let said = from(Power::new(sphere, cylinder, 90.0)).make();
        assert_eq!(said.is_ok(), held, "{sphere} {cylinder}: {said:?}");
    }
    // The same power written with a plus cylinder is the same lens: the row is asked in minus form.
    assert!(from(Power::new(-4.0, 1.0, 90.0)).make().is_ok());
    assert!(from(Power::new(-2.5, 1.0, 90.0)).make().is_err());
    // Too thin: in the middle, then at the edge; both numbers are said.
    let mut case = from(Power::spherical(-3.0));
    case.option.min_centre_mm = Some(1.6);
    let Err(Impossible::StockTooThin { demand: SetBy::Centre, found_mm, wanted_mm }) = case.make() else {
        panic!("{:?}", case.make());
    };
    assert!((found_mm - 1.3).abs() < SOLVED_MM && (wanted_mm - 1.6).abs() < SOLVED_MM, "{found_mm} {wanted_mm}");
    let mut case = from(Power::spherical(-3.0));
    (case.option.min_centre_mm, case.option.min_edge_mm) = (Some(1.0), Some(3.0));
    let Err(Impossible::StockTooThin { demand: SetBy::Edge, found_mm, wanted_mm }) = case.make() else {
        panic!("{:?}", case.make());
    };
    (case.option.min_centre_mm, case.option.min_edge_mm) = (Some(1.0), Some(0.5));
    let thinnest = case.make().expect("it will do").thickness.edges.min.thickness_mm;
    assert!((found_mm - thinnest).abs() < SOLVED_MM && wanted_mm == 3.0, "{found_mm} said, {thinnest} there");
    // Exactly as thick as wanted is thick enough.
    (case.option.min_centre_mm, case.option.min_edge_mm) = (Some(1.3), Some(thinnest));
    assert!(case.make().is_ok(), "{:?}", case.make());
}

#[test]
fn the_first_row_that_covers_the_power_counts() {
    let mut listed = material("resin-1.60");
    let row = |sphere, base_curve_d| StockRow {
        sphere,
        cylinder_to: -2.0,
        base_curve_d,
        diameters_mm: vec![70.0],
        centre_mm: 1.3,
        edge_mm: 0.8,
    };
    // The ends may be written either way round.
    listed.stock = vec![row([-4.0, -2.0], 4.0), row([-1.0, -6.0], 2.0)];
    for (sphere, base) in [(-3.0, 4.0), (-5.0, 2.0), (-1.5, 2.0), (-4.0, 4.0)] {
        let mut case = stock(Power::spherical(sphere));
        case.option = option(listed.clone(), Supply::Stock);
        assert_eq!(case.make().expect("covered").base.base_curve_d, base, "{sphere}");
    }
}

/// Does a round blank of this diameter, its middle at `middle`, hold the outline with 1 mm all round?
fn holds(outline: &Outline, middle: Vec2, diameter_mm: f64) -> bool {
    dense::steps(outline, 1500).all(|u| (outline.curve().jet(u).p - middle).hypot() + 1.0 <= 0.5 * diameter_mm + 1e-6)
}

#[test]
fn blanks_are_never_too_small_and_never_larger_than_need_be() {
    let mut chance = Chance(41);
    let ids = ["resin-1.50", "resin-1.60", "resin-1.67", "resin-1.74", "glass-1.80", "polycarbonate"];
    let (mut fitting, mut second, mut decentred, mut refused, mut short_rule) = (0, 0, 0, 0, 0);
    for _ in 0..500 {
        let mut case = Case::any(&mut chance);
        case.rx.prism = Prism::default();
        case.boxing.eye_size_mm = chance.within(46.0, 70.0);
        case.boxing.depth_mm = if case.shape == Shape::Circle {
            case.boxing.eye_size_mm
        } else {
            case.boxing.eye_size_mm * chance.within(0.6, 0.95)
        };
        case.rx.power = Power::spherical(chance.within(-3.0, 2.0));
        case.option = option(material(chance.one_of(&ids)), Supply::Surfaced);
        let Substance::Listed(material) = &case.option.substance else { panic!("listed") };
        let row = chance.one_of(&material.semi_finished.iter().collect::<Vec<_>>());
        let (base, listed) = (row.base_curve_d, row.diameters_mm.clone());
        case.option.base_curve_d = Some(base);
        let (outline, reference) = (case.outline(), reference(&case));
        let largest = listed.iter().copied().fold(0.0, f64::max);
        match case.make() {
            Ok(made) => {
                let taken = made.blank.diameter_mm.expect("a listed material has blanks");
                assert!(listed.contains(&taken), "{taken} of {listed:?}");
                if made.blank.decentred {
                    // No listed one holds it round the reference point, but the largest does round another point.
                    assert!(taken == largest && !holds(&outline, reference, largest), "{taken} of {listed:?}");
                    let (middle, _) = enclosing(&outline);
                    assert!(holds(&outline, middle, taken), "{taken} is too small: {case:?}");
                    decentred += 1;
                } else {
                    assert!(holds(&outline, reference, taken), "{taken} is too small: {case:?}");
                    let smaller = listed.iter().copied().filter(|d| *d < taken);
                    assert!(smaller.clone().all(|d| !holds(&outline, reference, d)), "{taken} of {listed:?}");
                    second += usize::from(smaller.count() > 0);
                    fitting += 1;
                }
                // The textbooks' rule is never too small in its full form.
                assert!(made.blank.rule_of_thumb_mm >= made.blank.minimum_mm - 1e-9);
                let horizontal = made.outline.effective_diameter_mm + 2.0 * reference.x.abs() + 2.0;
                short_rule += usize::from(horizontal < made.blank.minimum_mm - 0.01);
            }
            Err(Impossible::NoBlank { wanted_mm, largest_mm, supply }) => {
                let (middle, radius) = enclosing(&outline);
                assert_eq!((largest_mm, supply), (largest, Supply::Surfaced));
                assert!(!holds(&outline, middle, largest), "{largest} would have held it: {case:?}");
                assert!(
                    (wanted_mm - 2.0 * radius - 2.0).abs() < 3e-4,
                    "{wanted_mm} said, {} wanted",
                    2.0 * radius + 2.0
                );
                refused += 1;
            }
            // Large enough; whether it is thick enough is tried in `surfacing.rs`.
            Err(Impossible::TooShort { .. } | Impossible::BlankTooThin { .. }) => {}
            Err(other) => panic!("{other:?}"),
        }
    }
    assert!(fitting > 150 && second > 40 && decentred > 20 && refused > 8, "{fitting} {second} {decentred} {refused}");
    assert!(short_rule > 5, "the horizontal part alone would have done: {short_rule}");
}

/// The smallest circle that holds 3000 points of the outline, grown point by point: whenever one lies outside, it lies on
/// the new circle (Welzl 1991, in its plain nested form). Taken in leaps, since neighbours one after another are slow.
fn enclosing(outline: &Outline) -> (Vec2, f64) {
    let points: Vec<Vec2> = dense::steps(outline, 3000).map(|u| outline.curve().jet(u).p).collect();
    let points: Vec<Vec2> = (0..points.len()).map(|i| points[i * 1009 % points.len()]).collect();
    let outside = |p: Vec2, (middle, radius): (Vec2, f64)| (p - middle).hypot() > radius + 1e-12;
    let two = |a: Vec2, b: Vec2| (0.5 * (a + b), 0.5 * (a - b).hypot());
    let mut circle = (points[0], 0.0);
    for (i, &a) in points.iter().enumerate() {
        if outside(a, circle) {
            circle = (a, 0.0);
            for (j, &b) in points[..i].iter().enumerate() {
                if outside(b, circle) {
                    circle = two(a, b);
                    for &c in &points[..j] {
                        if outside(c, circle) {
                            circle = three(a, b, c);
                        }
                    }
                }
            }
        }
    }
    circle
}

/// The circle through three points: the middle is as far from all of them.
fn three(a: Vec2, b: Vec2, c: Vec2) -> (Vec2, f64) {
    let (u, v) = (b - a, c - a);
    let d = 2.0 * (u.x * v.y - u.y * v.x);
    let x = (v.y * u.hypot2() - u.y * v.hypot2()) / d;
    let y = (u.x * v.hypot2() - v.x * u.hypot2()) / d;
    (a + Vec2::new(x, y), x.hypot(y))
}

#[test]
fn the_enclosing_circle_is_the_smallest() {
    let (mut lopsided, mut worst) = (0, 0f64);
    for shape in Shape::all() {
        for ratio in [0.5, shape.depth_ratio(), 1.0] {
            let depth = if shape == Shape::Circle { 50.0 } else { 50.0 * ratio };
            let outline = shape.outline(rimwise::eye::Eye::Right, 50.0, depth);
            let ((middle, slow), ours) = (enclosing(&outline), outline.enclosing_radius_mm());
            // 3000 corners 0.06 mm apart: the outline stands out between them by less than 0.03²/8.
            let bound = 1.2e-4;
            assert!(ours > slow - 1e-9 && ours < slow + bound, "{} {ratio}: {ours}, of points {slow}", shape.word());
            let (_, farthest) = dense::least(&outline, |u| -(outline.curve().jet(u).p - middle).hypot());
            assert!(ours <= -farthest + 1e-5, "{} {ratio}: {ours}, another holds it with {}", shape.word(), -farthest);
            worst = worst.max((ours - slow).abs());
            lopsided += usize::from(middle.hypot() > 0.2 && 2.0 * ours < outline.effective_diameter_mm() - 0.1);
        }
    }
    assert!(lopsided > 5 && worst > 0.0, "{lopsided} shapes whose smallest circle is not about the boxed centre");
}

/// What is listed keeps the material's own minima: no row is there in vain.
#[test]
fn every_stock_row_can_be_supplied() {
    let shelf = Shelf::built_in();
    let mut rows = 0;
    for material in &shelf.materials {
        for listed in &material.stock {
            let [from, to] = listed.sphere;
            let mut case = stock(Power::new(0.5 * (from + to), listed.cylinder_to, 90.0));
            case.boxing = Boxing { eye_size_mm: 42.0, depth_mm: 34.0, bridge_mm: 20.0 };
            // Earlier rows left out, so that it is this one that counts.
            let mut alone = Material::clone(material);
            alone.stock = vec![listed.clone()];
            case.option = option(alone, Supply::Stock);
            let made = case.make();
            assert!(made.is_ok(), "{} {:?} to {}: {made:?}", material.id, listed.sphere, listed.cylinder_to);
            rows += 1;
        }
    }
    assert!(rows > 20, "only {rows} stock rows");
}
