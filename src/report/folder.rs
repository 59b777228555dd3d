//! The files of `--out DIR`: the page, the JSON, and each picture as its own SVG.

mod limit;

pub use limit::{LIMIT, limit_files};

use super::html;
use super::number::size;
use super::pictures::Pictures;
use super::wire;
use crate::draw::Picture;
use crate::eye::Eye;
use crate::finding::Finding;
use crate::job::NOW;
use crate::study::compare::Comparison;
use std::collections::BTreeSet;

/// The page's name.
pub const PAGE: &str = "index.html";
/// The JSON's name.
pub const RESULT: &str = "result.json";

/// Name and contents of every file, the page last. The findings are those of a job without a fault.
#[must_use]
pub fn files(comparison: &Comparison<'_>, findings: &[Finding]) -> Vec<(String, Vec<u8>)> {
    let pictures = Pictures::of(comparison);
    let (page, rest) = rayon::join(
        || html::page(comparison, findings, &pictures),
        || {
            let mut files = vec![(RESULT.to_owned(), wire::compare_text(comparison, findings).into_bytes())];
            files.extend(picture_files(comparison, &pictures));
            files
        },
    );
    let mut files = rest;
    files.push((PAGE.to_owned(), page.into_bytes()));
    files
}

fn picture_files(comparison: &Comparison<'_>, pictures: &Pictures) -> Vec<(String, Vec<u8>)> {
    let mut names = Names::default();
    let mut files = Vec::new();
    let mut put = |parts: &[&str], picture: &Picture| {
        files.push((names.unique(parts), picture.to_file().into_bytes()));
    };
    for (i, (fit, drawn)) in comparison.fits.iter().zip(&pictures.fits).enumerate() {
        let Some(drawn) = drawn else { continue };
        let eye_size = size(fit.mounting.boxing.eye_size_mm);
        let (frame, lens) = if comparison.is_now(i) {
            (NOW, NOW)
        } else {
            (fit.mounting.frame.name.as_str(), fit.option.name.as_str())
        };
        for (eye, picture) in drawn.all() {
            let parts = [picture.kind, frame, &eye_size, lens].into_iter().chain(eye.map(Eye::word));
            put(&parts.collect::<Vec<_>>(), picture);
        }
    }
    for (frame, charts) in comparison.job.frames.iter().zip(&pictures.charts) {
        for chart in charts.iter().flat_map(|charts| charts.all()) {
            put(&[chart.kind, &frame.name], chart);
        }
    }
    for chart in pictures.edges.iter().chain(&pictures.sure) {
        put(&[chart.kind], chart);
    }
    if let Some(key) = &pictures.key {
        put(&["map", key.kind], key);
    }
    files
}

/// Names given so far.
#[derive(Default)]
struct Names(BTreeSet<String>);

impl Names {
    /// A name of these parts that no other file has: lower case, other characters `-`, a number added on collision.
    fn unique(&mut self, parts: &[&str]) -> String {
        let plain = |sign: char| if sign.is_ascii_alphanumeric() { sign.to_ascii_lowercase() } else { '-' };
        let stem: String = parts.join("-").chars().map(plain).collect();
        let candidates = std::iter::once(stem.clone()).chain((2..).map(|number| format!("{stem}-{number}")));
        let free = candidates.map(|stem| format!("{stem}.svg")).find(|name| !self.0.contains(name)).unwrap_or_default();
        self.0.insert(free.clone());
        free
    }
}

#[cfg(test)]
mod tests {
    use super::Names;

    #[test]
    fn names_are_plain_and_their_own() {
        let mut names = Names::default();
        assert_eq!(names.unique(&["plan", "Öre & Co", "46.5", "thin"]), "plan--re---co-46-5-thin.svg");
        assert_eq!(names.unique(&["plan", "a b"]), "plan-a-b.svg");
        assert_eq!(names.unique(&["plan", "A-B"]), "plan-a-b-2.svg");
        assert_eq!(names.unique(&["plan", "a/b"]), "plan-a-b-3.svg");
    }
}
