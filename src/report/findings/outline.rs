//! What is said of measured outlines.

use super::{from_to, grouped, short};
use crate::finding::{HeadPart, Unfit};
use crate::keys::{self, Key};

/// What is wrong, and what is allowed.
type Clauses = (String, Option<String>);

/// A clause without an end of its own.
fn plain(said: impl Into<String>, allowed: impl Into<String>) -> Clauses {
    (said.into(), Some(allowed.into()))
}

/// What is wrong, and what is allowed.
pub(super) fn clauses(unfit: &Unfit) -> Clauses {
    match unfit {
        Unfit::BesideShape => plain("a shape is given beside a measured outline", "allowed: one of the two"),
        Unfit::WithDepth => {
            plain("a depth is given beside a measured outline", "the outline has its own proportion at every eye size")
        }
        Unfit::Unreadable { why } => (format!("the outline cannot be read: {why}"), None),
        Unfit::Bridge { said_mm, job_mm } => plain(
            format!("the bridge is {}, and the outline file says {}", mm(*job_mm), mm(*said_mm)),
            "that of the job is used",
        ),
        Unfit::Uneven { right_mm, left_mm } => plain(
            format!("the right lens measures {}, the left one {}", box_mm(right_mm), box_mm(left_mm)),
            "both are worked at the size of the right one",
        ),
        other => about_file(other).unwrap_or_else(|| about_radii(other)),
    }
}

fn about_file(unfit: &Unfit) -> Option<Clauses> {
    Some(match unfit {
        Unfit::Empty => {
            plain("there is nothing in the outline file", "wanted: columns of angle and radius, or trace records")
        }
        Unfit::Header { found } => plain(
            format!("the outline file begins with \"{}\"", short(found)),
            "wanted: the header `angle_deg,radius_mm`, or trace records headed `TRCFMT=1;…`",
        ),
        Unfit::Columns { found } => plain(
            format!("the row holds {found} value{}", plural(*found)),
            "wanted: an angle and a radius with a comma between",
        ),
        Unfit::NotNumber { found } => {
            plain(format!("\"{}\" is no number that an outline can hold", short(found)), "wanted: a number")
        }
        Unfit::NoTrace => plain("there is no trace among the records", "a trace is headed `TRCFMT=1;…`"),
        Unfit::TraceFormat { found } => trace_format(found),
        Unfit::TraceHead { part, found } => trace_head(*part, found),
        Unfit::TraceTwice => plain("there is a second trace of the same eye", "allowed: one of each eye"),
        Unfit::TraceCount { label, found, wanted } => plain(
            format!("the `{label}` records hold {} value{}", grouped(*found as u64), plural(*found)),
            format!("the head of the trace says {}", grouped(*wanted as u64)),
        ),
        _ => return None,
    })
}

fn about_radii(unfit: &Unfit) -> Clauses {
    match unfit {
        Unfit::Few { found, least } => plain(
            format!("the outline has {found} radi{}", if *found == 1 { "us" } else { "i" }),
            format!("at least {least}, so that its shape is known"),
        ),
        Unfit::Many { found, most } => plain(
            format!("the outline has {} radii", grouped(*found as u64)),
            format!("at most {}", grouped(*most as u64)),
        ),
        Unfit::Gap { from_deg, to_deg, most_deg } => plain(
            format!("the outline is open: there is no radius between {} and {}", deg(*from_deg), deg(*to_deg)),
            format!("at most {} from one radius to the next", deg(*most_deg)),
        ),
        Unfit::NotClosed { first_mm, last_mm } => plain(
            format!("the outline does not close: it begins with {} and ends with {}", mm(*first_mm), mm(*last_mm)),
            "once round it comes back to its first radius",
        ),
        Unfit::NotRound { radius_mm } => {
            plain(format!("a radius is {}", mm(*radius_mm)), "radii are above 0 mm, from a point inside the shape")
        }
        Unfit::TurnsBack { before_deg, found_deg } => plain(
            format!("the angle turns back from {} to {}", deg(*before_deg), deg(*found_deg)),
            "seen from a point inside, each direction has one radius, and they follow one another once round",
        ),
        other => about_shape(other),
    }
}

fn about_shape(unfit: &Unfit) -> Clauses {
    match unfit {
        Unfit::Spike { angle_deg, found_mm, expected_mm } => plain(
            format!("the radius of {} at {} stands out like a spike", mm(*found_mm), deg(*angle_deg)),
            format!("its neighbours lead one to expect about {}", mm(*expected_mm)),
        ),
        Unfit::Jagged { off_mm, most_mm } => plain(
            format!("the outline is jagged: the nearest smooth curve passes a point by {}", mm(*off_mm)),
            format!("at most {}", mm(*most_mm)),
        ),
        Unfit::Size { width_mm, depth_mm, .. } => plain(
            format!("the outline is {} wide and {} deep", mm(*width_mm), mm(*depth_mm)),
            format!("allowed: {} wide, {} deep", allowed(&keys::EYE_SIZES), allowed(&keys::DEPTH)),
        ),
        Unfit::Boxed { label, said_mm, found_mm, most_mm } => plain(
            format!("`{label}` says {}, and the radii give {}", mm(*said_mm), mm(*found_mm)),
            format!("at most {} apart", mm(*most_mm)),
        ),
        Unfit::Girth { said_mm, found_mm, most_share } => plain(
            format!("`CIRC` says {} round, and the radii give {}", mm(*said_mm), mm(*found_mm)),
            format!(
                "usual: within {} %, also where it follows the rim's curve in space",
                hundredths(100.0 * most_share)
            ),
        ),
        // The rest was said before.
        _ => (String::new(), None),
    }
}

fn trace_format(found: &str) -> Clauses {
    let what = match found {
        "2" | "3" | "4" => ", which is binary",
        "5" | "6" => ", which holds differences between radii",
        _ => "",
    };
    plain(
        format!("the trace is in format {}{what}", if found.is_empty() { "\"\"".to_owned() } else { short(found) }),
        "only format 1 is read: plain text, every radius whole",
    )
}

fn trace_head(part: HeadPart, found: &str) -> Clauses {
    let found = if found.is_empty() { "missing".to_owned() } else { format!("\"{}\"", short(found)) };
    match part {
        HeadPart::Count => {
            plain(format!("the number of radii is {found}"), "wanted: a whole number, as in `1;400;E;R;F`")
        }
        HeadPart::Spacing => {
            plain(format!("how the angles are spaced is {found}"), "allowed: E for equal, U for unequal angles")
        }
        HeadPart::Eye => plain(format!("the eye is {found}"), "allowed: R or L, each with a trace of its own"),
    }
}

/// What may help.
pub(super) fn mend(unfit: &Unfit) -> Option<String> {
    let text = match unfit {
        Unfit::Size { factor: Some(factor), .. } => {
            return Some(format!(
                "multiplied with {factor} it would be a lens: radii are in mm, in records in 0.01 mm"
            ));
        }
        Unfit::Unreadable { .. } => "name the file as it is found from the job's own folder",
        Unfit::TraceFormat { .. } => "export the trace as plain text, `TRCFMT=1`",
        Unfit::Spike { .. } => "look at the frame there; correct or leave out the radius",
        Unfit::Gap { .. } | Unfit::NotClosed { .. } | Unfit::Jagged { .. } => "trace the shape again, once round",
        Unfit::NotRound { .. } => "measure from a point inside the shape",
        Unfit::Boxed { .. } => "see that radii and box belong to the same frame",
        _ => return None,
    };
    Some(text.to_owned())
}

fn allowed(key: &Key) -> String {
    key.refused.allowed(0.0).map_or(String::new(), |range| from_to(range, key.unit))
}

fn plural(count: usize) -> &'static str {
    if count == 1 { "" } else { "s" }
}

/// A length as messages have it: to a hundredth.
fn mm(value: f64) -> String {
    format!("{} mm", hundredths(value))
}

fn box_mm(sides: &[f64; 2]) -> String {
    format!("{} × {}", hundredths(sides[0]), mm(sides[1]))
}

fn deg(value: f64) -> String {
    format!("{}°", hundredths(value))
}

fn hundredths(value: f64) -> String {
    // A sum with nought has no signed nought.
    let text = format!("{:.2}", (value * 100.0).round() / 100.0 + 0.0);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}
