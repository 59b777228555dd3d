//! What is chosen, where it tips: a stock lens's centre, a blank that fits exactly, which of two equal demands is named.
//!
//! Units: mm, dioptres.

use crate::support::{Case, Chance, inline};
use kurbo::Vec2;
use rimwise::assess::{Impossible, Made};
use rimwise::choose::blank::{NoBlank, blank, stock_diameters_mm};
use rimwise::choose::centre::{Place, SetBy};
use rimwise::choose::{LensOption, Substance, Supply};
use rimwise::eye::{Eye, Eyes};
use rimwise::light::ReferenceLine;
use rimwise::material::{Material, SemiFinished, Shelf, StockRow};
use rimwise::outline::{Outline, Shape};
use rimwise::rx::{EyeRx, Power, Prescription, Prism};
use std::sync::Arc;

fn of_the_shelf(change: impl FnOnce(&mut Material)) -> LensOption {
    let mut material = Material::clone(Shelf::built_in().get("resin-1.60").expect("a built-in material"));
    change(&mut material);
    LensOption::new("lens", Substance::Listed(Arc::new(material)))
}

/// A stock lens of one row that covers everything.
fn from_stock(base_curve_d: f64, diameters_mm: &[f64], centre_mm: f64, edge_mm: f64) -> LensOption {
    let row = StockRow {
        sphere: [-20.0, 20.0],
        cylinder_to: -8.0,
        base_curve_d,
        diameters_mm: diameters_mm.to_vec(),
        centre_mm,
        edge_mm,
    };
    let mut option = of_the_shelf(|material| material.stock = vec![row]);
    option.supply = Supply::Stock;
    (option.min_centre_mm, option.min_edge_mm) = (Some(0.3), Some(0.3));
    option
}

/// The thinnest place of the round uncut, looked for all round its rim.
fn thinnest_rim_mm(made: &Made, diameter_mm: f64) -> f64 {
    let at = |i: i32| 0.5 * diameter_mm * Vec2::from_angle(f64::from(i).to_radians() / 2.0);
    let rim = (0..720).map(|i| made.lens.thickness(at(i)).expect("the uncut is whole"));
    rim.fold(f64::INFINITY, f64::min)
}

#[test]
fn a_stock_lens_has_its_listed_centre_or_its_listed_edge() {
    let mut chance = Chance(7);
    let (mut by_centre, mut by_edge) = (0, 0);
    for _ in 0..120 {
        let mut case = Case::plain();
        let (centre, edge) = (chance.within(1.0, 2.4), chance.within(0.6, 1.2));
        let base = chance.one_of(&[2.0, 4.0, 6.0]);
        case.option = from_stock(base, &[65.0, 75.0], centre, edge);
        case.rx.power =
            Power::new(chance.within(-6.0, 6.0), chance.within(-4.0, 0.0), chance.one_of(&[30.0, 90.0, 117.5, 180.0]));
        let made = match case.make() {
            Ok(made) => made,
            Err(other) => panic!("{:?}: {other:?}", case.rx.power),
        };
        let diameter = made.blank.diameter_mm.expect("listed");
        let rim = thinnest_rim_mm(&made, diameter);
        let own = made.lens.centre_mm();
        match made.thickness.set_by {
            SetBy::Centre => {
                by_centre += 1;
                assert!((own - centre).abs() < 1e-12 && rim >= edge - 1e-9, "{own} for {centre}; rim {rim} for {edge}");
            }
            SetBy::Edge => {
                by_edge += 1;
                assert!((rim - edge).abs() < 1e-9 && own > centre, "rim {rim} for {edge}; {own} for {centre}");
            }
            SetBy::LowestPoint => panic!("a stock lens has no prism"),
        }
    }
    assert!(by_centre > 20 && by_edge > 20, "{by_centre} by the centre, {by_edge} by the edge");
}

#[test]
fn a_stock_lens_thinner_than_the_job_asks_is_refused_with_what_was_found() {
    let mut case = Case::plain();
    case.option = from_stock(4.0, &[65.0], 1.5, 0.8);
    case.option.min_centre_mm = Some(1.5);
    assert!(case.make().is_ok(), "just enough is enough");
    case.option.min_centre_mm = Some(1.8);
    let centre = Impossible::StockTooThin { demand: SetBy::Centre, found_mm: 1.5, wanted_mm: 1.8 };
    assert_eq!(case.make().err(), Some(centre));
    case.rx.power = Power::spherical(4.0);
    case.option.min_edge_mm = Some(6.0);
    match case.make() {
        Err(Impossible::StockTooThin { demand: SetBy::Edge, found_mm, wanted_mm: 6.0 }) => {
            case.option.min_edge_mm = Some(found_mm);
            assert!(case.make().is_ok(), "{found_mm} is what it has");
        }
        other => panic!("{:?}", other.map(|made| made.thickness)),
    }
}

#[test]
fn the_diameters_of_stock_are_those_of_its_row() {
    let mut option = from_stock(4.0, &[60.0, 70.0], 1.5, 0.8);
    assert_eq!(stock_diameters_mm(&option, &Power::spherical(-2.0)), [60.0, 70.0]);
    assert!(stock_diameters_mm(&option, &Power::spherical(-24.0)).is_empty(), "no row covers it");
    option.supply = Supply::Surfaced;
    assert!(stock_diameters_mm(&option, &Power::spherical(-2.0)).is_empty(), "made to order");
}

/// A 50 mm circle wants 52 with the allowance of 1 mm all round, and 60 with the reference point 4 mm off its middle.
#[test]
fn a_blank_that_fits_exactly_fits() {
    let circle = Shape::Circle.outline(Eye::Right, 50.0, 50.0);
    let power = Power::spherical(-2.0);
    let of = |diameter_mm: f64| {
        of_the_shelf(|material| {
            let row = SemiFinished { base_curve_d: 4.0, diameters_mm: vec![diameter_mm], centre_mm: 9.0, edge_mm: 9.0 };
            material.semi_finished = vec![row];
        })
    };
    let taken = |diameter_mm: f64, outline: &Outline, x: f64| {
        blank(&of(diameter_mm), &power, 4.0, &Place::new(outline, Vec2::new(x, 0.0)))
    };
    let found = taken(60.0, &circle, 4.0).expect("it fits");
    assert!(found.diameter_mm == Some(60.0) && !found.decentred, "{found:?}");
    assert!((found.minimum_mm - 60.0).abs() < 1e-9, "{found:?}");
    let found = taken(60.0 - 1e-6, &circle, 4.0).expect("off its middle");
    assert!(found.decentred && found.diameter_mm == Some(60.0 - 1e-6), "{found:?}");
    let found = taken(52.0, &circle, 4.0).expect("off its middle it fits exactly");
    assert!(found.decentred, "{found:?}");
    let NoBlank { wanted_mm, largest_mm } = taken(52.0 - 1e-6, &circle, 4.0).expect_err("too small");
    assert!((wanted_mm - 52.0).abs() < 1e-9 && largest_mm == 52.0 - 1e-6, "{wanted_mm} {largest_mm}");
}

/// A plane plate is as thick everywhere: with equal minima the first of the demands is named, which is the centre.
#[test]
fn of_equal_demands_the_centre_is_named() {
    let mut case = Case::plain();
    case.rx.power = Power::spherical(0.0);
    case.option = inline(1.6, 41.0, 1.3, 1.4, 1.4);
    case.option.base_curve_d = Some(0.0);
    let made = case.make().expect("a plate");
    assert_eq!(made.thickness.set_by, SetBy::Centre);
    assert!((made.thickness.thinnest_mm - 1.4).abs() < 1e-12, "{:?}", made.thickness);
    case.option.min_edge_mm = Some(1.4 + 1e-9);
    assert_eq!(case.make().expect("a plate").thickness.set_by, SetBy::Edge, "a hair more at the edge");
}

#[test]
fn a_pair_is_plus_by_its_sum() {
    let pair = |right: f64, left: f64| {
        let eye = |sphere: f64| EyeRx {
            power: Power::new(sphere + 0.5, -1.0, 90.0),
            prism: Prism::default(),
            pd_mm: 32.0,
            add: None,
        };
        let eyes = Eyes { right: eye(right), left: eye(left) };
        Prescription { eyes, vertex_mm: None, reference_line: ReferenceLine::D }.is_plus()
    };
    assert!(pair(1.0, 2.0) && pair(3.0, -2.0));
    assert!(!pair(-1.0, -2.0) && !pair(2.0, -3.0) && !pair(1.0, -1.0), "zero counts as minus");
}

#[test]
fn a_material_of_the_shelf_has_an_id_and_bare_numbers_have_none() {
    let listed = of_the_shelf(|_| {}).substance;
    assert_eq!(listed.id().map(String::as_str), Some("resin-1.60"));
    assert_eq!(inline(1.6, 41.0, 1.3, 1.0, 1.0).substance.id(), None);
}
