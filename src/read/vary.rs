//! What `--vary` says: `WHAT=FROM:TO:STEP`, or a list of words.

use crate::material::Shelf;
use crate::study::sweep::{Vary, VaryFault};

/// Reads it.
///
/// # Errors
/// [`VaryFault`] where it cannot be meant.
pub fn vary(text: &str, shelf: &Shelf) -> Result<Vary, VaryFault> {
    let (word, values) = text.split_once('=').map_or((text, None), |(word, values)| (word, Some(values)));
    let what = Vary::what(word)?;
    if what.is_of_words() {
        let words: Vec<&str> = values.map(|list| list.split(',').map(str::trim).collect()).unwrap_or_default();
        return Vary::words(what, &words, shelf);
    }
    let parts: Vec<&str> = values.unwrap_or_default().split(':').map(str::trim).collect();
    let [from, to, step] = parts[..] else { return Err(VaryFault::Form { word: what.word }) };
    let number = |text: &str| {
        text.parse::<f64>().ok().filter(|value| value.is_finite()).ok_or_else(|| {
            let pointed = text.replace(',', ".").replace('−', "-");
            let mend = pointed.parse::<f64>().is_ok_and(f64::is_finite).then_some(pointed);
            VaryFault::NoNumber { word: what.word, found: text.to_owned(), mend }
        })
    };
    Vary::numbers(what, [number(from)?, number(to)?, number(step)?])
}
