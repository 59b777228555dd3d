//! One lens, from prescription to every figure, asks for no memory: a lab's pile of orders runs at the speed of the sums.

use crate::case::Case;
use crate::support::Chance;

#[test]
fn one_lens_allocates_nothing() {
    let mut chance = Chance(3);
    let mut made = 0;
    while made < 200 {
        let case = Case::any(&mut chance);
        let outline = case.outline();
        // The rules of quadrature are made at first use.
        let Ok(_) = case.make_in(&outline) else { continue };
        let info = allocation_counter::measure(|| {
            let _ = std::hint::black_box(case.make_in(&outline));
        });
        assert_eq!(info.count_total, 0, "{case:?}");
        made += 1;
    }
    // The counter counts.
    assert!(allocation_counter::measure(|| drop(std::hint::black_box(vec![1u8; 100]))).count_total > 0);
}
