//! What a misspelt word was meant to be.

/// The candidates nearest to `found`; none where none is near, several where they are equally near.
#[must_use]
pub fn nearest<'a>(found: &str, candidates: impl Iterator<Item = &'a str>) -> Vec<String> {
    let found = found.trim().to_lowercase();
    let ranked: Vec<(usize, &str)> =
        candidates.filter_map(|candidate| distance(&found, candidate).map(|far| (far, candidate))).collect();
    let least = ranked.iter().map(|(far, _)| *far).min();
    ranked.iter().filter(|(far, _)| Some(*far) == least).map(|(_, candidate)| (*candidate).to_owned()).collect()
}

/// Slips of the pen between two words, `None` where they are too many for one to be meant for the other. One word that
/// goes on where the other ends (`pd` for `pd_mm`) counts as one slip; a word with every letter changed is another.
fn distance(found: &str, candidate: &str) -> Option<usize> {
    let slips = strsim::osa_distance(found, candidate);
    let goes_on = |long: &str, short: &str| {
        !short.is_empty() && long.strip_prefix(short).is_some_and(|rest| rest.starts_with(['_', '-']))
    };
    if slips > 0 && (goes_on(candidate, found) || goes_on(found, candidate)) {
        return Some(1);
    }
    let letters = candidate.chars().count();
    (slips <= letters.div_ceil(3) && slips < letters).then_some(slips)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn finds_what_was_meant_and_nothing_else() {
        let near = |found| nearest(found, ["oval", "octagon", "pd_mm", "resin-1.74", "resin-1.67"].into_iter());
        assert_eq!(near("Oval"), ["oval"]);
        assert_eq!(near("ovel"), ["oval"]);
        assert_eq!(near("pd"), ["pd_mm"]);
        assert_eq!(near("resin-1.76"), ["resin-1.74", "resin-1.67"]);
        assert!(near("panto").is_empty());
    }
}
