//! What is chosen, where it tips: a blank that fits exactly, which of two equal demands is named, what is a plus pair.
//!
//! Units: mm, dioptres.

use crate::case::Case;
use crate::support::inline;
use kurbo::Vec2;
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
