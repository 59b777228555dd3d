//! The files of `limit --out DIR`: the page, the JSON, and each picture as its own SVG.

use super::PAGE;
use crate::job::Job;
use crate::report::pictures::LimitPictures;
use crate::report::{html, wire};
use crate::study::limit::Limits;

/// The JSON's name.
pub const LIMIT: &str = "limit.json";

/// Name and contents of every file, the page last.
#[must_use]
pub fn limit_files(job: &Job, limits: &Limits<'_>) -> Vec<(String, Vec<u8>)> {
    let pictures = LimitPictures::of(limits);
    let mut files = vec![(LIMIT.to_owned(), wire::limit_text(limits).into_bytes())];
    // One picture of each kind.
    let drawn = pictures.iter().flat_map(LimitPictures::all);
    files.extend(drawn.map(|picture| (format!("{}.svg", picture.kind), picture.to_file().into_bytes())));
    files.push((PAGE.to_owned(), html::limit_page(job, limits, pictures.as_ref()).into_bytes()));
    files
}
