#[path = "../tests/it/support.rs"]
mod support;
use rimwise::rx::*;
use support::*;
fn main() {
    let mut case = Case::plain();
    case.rx.power = Power::new(-6.0, -1.5, 35.0);
    case.rx.prism = Prism::new(2.0, 30.0);
    if std::env::args().nth(1).as_deref() == Some("plus") {
        case.rx.power = Power::spherical(5.0);
        case.rx.prism = Prism::default();
    }
    let o = case.outline();
    let mut s = 0.0;
    for _ in 0..2000 {
        s += case.make_in(&o).unwrap().mass_g;
    }
    println!("{s}");
}
