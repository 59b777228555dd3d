//! Keeping texts apart: a placer that takes the first place where a text meets no other, and a row of labels moved no
//! further than needed.
//!
//! Units: mm on the sheet.

use super::svg::TextStyle;
use kurbo::{Point, Rect};

/// Least space between two texts.
pub const APART_MM: f64 = 0.5;

/// What is taken on a sheet.
#[derive(Clone, Debug, Default)]
pub struct Labels {
    taken: Vec<Rect>,
}

impl Labels {
    /// Nothing taken yet.
    #[must_use]
    pub fn new() -> Labels {
        Labels::default()
    }

    /// What is taken, in the order in which it was.
    #[must_use]
    pub fn boxes(&self) -> &[Rect] {
        &self.taken
    }

    /// Takes a place, whatever is there.
    pub fn take(&mut self, place: Rect) {
        self.taken.push(place);
    }

    /// Whether nothing is there yet.
    #[must_use]
    pub fn is_free(&self, place: Rect) -> bool {
        !self.taken.iter().any(|taken| meet(taken.inflate(APART_MM, APART_MM), place))
    }

    /// The first of these points at which the text meets nothing, taken for it.
    pub fn place(&mut self, text: &str, style: &TextStyle, points: impl IntoIterator<Item = Point>) -> Option<Point> {
        let found = points.into_iter().find(|&at| self.is_free(style.bounds(at, text)))?;
        self.take(style.bounds(found, text));
        Some(found)
    }
}

/// Whether two boxes share an inner point.
#[must_use]
pub fn meet(one: Rect, other: Rect) -> bool {
    one.x0 < other.x1 && other.x0 < one.x1 && one.y0 < other.y1 && other.y0 < one.y1
}

/// Something with a size that would like to stand at a place along a line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wanted {
    /// Where its middle would like to be.
    pub at: f64,
    /// How long it is along the line, space included.
    pub size: f64,
}

/// Middles for all, in the order given, none meeting another and the squares of the moves together least, all within
/// `from` … `to` where there is room (else they go on beyond `to`).
///
/// Less the sizes before it each middle must not fall, which is isotonic regression: neighbours that would cross are
/// pooled at their mean (Barlow and others, Statistical inference under order restrictions, 1972).
#[must_use]
pub fn spread(wanted: &[Wanted], from: f64, to: f64) -> Vec<f64> {
    let mut order: Vec<usize> = (0..wanted.len()).collect();
    order.sort_by(|&a, &b| wanted[a].at.total_cmp(&wanted[b].at).then(a.cmp(&b)));
    let offsets: Vec<f64> = order
        .iter()
        .scan((0.0, None), |(offset, before), &i| {
            *offset += before.map_or(0.0, |size: f64| 0.5 * (size + wanted[i].size));
            *before = Some(wanted[i].size);
            Some(*offset)
        })
        .collect();
    let (Some(&first), Some(&last), Some(&length)) = (order.first(), order.last(), offsets.last()) else {
        return Vec::new();
    };
    let lowest = from + 0.5 * wanted[first].size;
    let highest = (to - 0.5 * wanted[last].size - length).max(lowest);
    let mut pools: Vec<(f64, usize)> = Vec::new();
    for (&i, offset) in order.iter().zip(&offsets) {
        pools.push((wanted[i].at - offset, 1));
        while let [.., (a, m), (b, n)] = pools[..]
            && a > b
        {
            pools.truncate(pools.len() - 2);
            pools.push(((a * m as f64 + b * n as f64) / (m + n) as f64, m + n));
        }
    }
    let mut middles = vec![0.0; wanted.len()];
    let levels = pools.iter().flat_map(|&(level, count)| std::iter::repeat_n(level, count));
    for ((&i, offset), level) in order.iter().zip(&offsets).zip(levels) {
        middles[i] = level.clamp(lowest, highest) + offset;
    }
    middles
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::svg::PLAIN;
    use proptest::prelude::*;

    #[test]
    fn the_first_free_place_is_taken() {
        let mut labels = Labels::new();
        let places = [Point::new(0.0, 0.0), Point::new(1.0, 0.0), Point::new(0.0, 5.0)];
        assert_eq!(labels.place("12.5", &PLAIN, places), Some(places[0]));
        assert_eq!(labels.place("12.5", &PLAIN, places), Some(places[2]));
        assert_eq!(labels.place("12.5", &PLAIN, places), None);
        assert_eq!(labels.boxes().len(), 2);
    }

    #[test]
    fn who_has_room_stays() {
        let wanted = [5.0, 20.0, 20.0, 40.0].map(|at| Wanted { at, size: 4.0 });
        assert_eq!(spread(&wanted, 0.0, 100.0), [5.0, 18.0, 22.0, 40.0]);
        assert!(spread(&[], 0.0, 1.0).is_empty());
    }

    proptest! {
        #[test]
        fn none_meet_and_all_stay_in_range(at in prop::collection::vec(-20.0..120.0_f64, 1..9)) {
            let wanted: Vec<Wanted> =
                at.iter().enumerate().map(|(i, &at)| Wanted { at, size: 4.0 + i as f64 }).collect();
            let middles = spread(&wanted, 0.0, 100.0);
            for (i, a) in middles.iter().enumerate() {
                prop_assert!(a - 0.5 * wanted[i].size > -1e-9 && a + 0.5 * wanted[i].size < 100.0 + 1e-9);
                for (j, b) in middles.iter().enumerate().skip(i + 1) {
                    prop_assert!((a - b).abs() > 0.5 * (wanted[i].size + wanted[j].size) - 1e-9);
                }
            }
        }
    }
}
