//! A difference shared out among its causes: the Shapley value.

/// The share of each of n causes in the difference between the last value and the first. `values` has a value for each
/// set of causes: at index Σ 2^i over the causes i that it holds, 2^n of them.
///
/// A cause's share is what it changes when it is added to a set of the others, averaged over all orders in which the
/// causes can come one after another (L. S. Shapley, *A value for n-person games*, 1953): a set of k others comes before it
/// in k! (n − 1 − k)! of the n! orders. No order is preferred, and the shares add up to the whole difference.
#[must_use]
pub fn shares(values: &[f64]) -> Vec<f64> {
    let n = values.len().ilog2() as usize;
    let weights = weights(n);
    let share = |i: usize| {
        let cause = 1 << i;
        let without = (0..values.len()).filter(|set| set & cause == 0);
        without.map(|set| weights[set.count_ones() as usize] * (values[set | cause] - values[set])).sum()
    };
    (0..n).map(share).collect()
}

/// k! (n − 1 − k)! / n! for each k below n: 1/n, and each from the one before by k/(n − k).
fn weights(n: usize) -> Vec<f64> {
    let mut weight = 1.0 / n as f64;
    (0..n)
        .map(|k| {
            if k > 0 {
                weight *= k as f64 / (n - k) as f64;
            }
            weight
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_causes_by_hand() {
        // Alone the first takes 3 and the second 1; together they take 6.
        assert_eq!(shares(&[10.0, 7.0, 9.0, 4.0]), [-4.0, -2.0]);
    }

    #[test]
    fn no_cause_has_no_share() {
        assert!(shares(&[5.0]).is_empty());
    }

    #[test]
    fn the_order_of_the_causes_does_not_matter() {
        let value = |set: usize| (set as f64 + 1.7).powi(2) + f64::from((set % 5) as u8);
        let values: Vec<f64> = (0..16).map(value).collect();
        // The causes in another order: the first is the third, and so on.
        let places = [2, 0, 3, 1];
        let moved = |set: usize| (0..4).filter(|i| set >> i & 1 == 1).map(|i: usize| 1 << places[i]).sum::<usize>();
        let other: Vec<f64> = (0..16).map(|set| values[moved(set)]).collect();
        let (straight, turned) = (shares(&values), shares(&other));
        for (i, place) in places.into_iter().enumerate() {
            assert!((turned[i] - straight[place]).abs() < 1e-12, "{turned:?} {straight:?}");
        }
        let whole: f64 = straight.iter().sum();
        assert!((whole - (values[15] - values[0])).abs() < 1e-12, "{whole}");
    }

    #[test]
    fn weights_count_orders() {
        assert_eq!(weights(3), [1.0 / 3.0, 1.0 / 6.0, 1.0 / 3.0]);
        for n in 1..14 {
            let weights = weights(n);
            // Every cause has one place in each order.
            let mut sets = 1.0;
            let mut whole = 0.0;
            for (k, weight) in weights.iter().enumerate() {
                whole += sets * weight;
                sets *= (n - 1 - k) as f64 / (k + 1) as f64;
            }
            assert!((whole - 1.0).abs() < 1e-15 * n as f64, "{n}: {whole}");
        }
    }
}
