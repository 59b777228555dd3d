//! Findings printed like a compiler's messages: the file with line and column, what was found, what is allowed, and the
//! likely mend as a patch. Styled for a terminal; whoever prints it strips that for a pipe.

use crate::finding::{At, Finding, Mend, Severity};
use crate::report::findings::{Said, grouped, say};
use annotate_snippets::{Annotation, AnnotationKind, Group, Level, Origin, Patch, Renderer, Snippet};
use std::ops::Range;

/// More messages than these are counted and not printed.
pub const MOST_MESSAGES: usize = 50;

/// A longer list of what is allowed stands below the line that it is about.
const LONGEST_LABEL: usize = 60;

/// Longest line of such a list.
const LONGEST_LINE: usize = 80;

/// What findings are about: a text with a name.
#[derive(Clone, Copy, Debug)]
pub struct Source<'a> {
    /// Name of the file; empty for a command line.
    pub name: &'a str,
    /// Its text; empty where there is none to show.
    pub text: &'a str,
}

/// Findings as messages, one below the other, at most [`MOST_MESSAGES`] of them, faults before others where there are
/// more.
#[must_use]
pub fn print(source: Source<'_>, findings: &[Finding]) -> String {
    let shown = chosen(findings);
    let mut text = String::new();
    for finding in &shown {
        text.push_str(&message(source, finding));
        text.push_str("\n\n");
    }
    if findings.len() > shown.len() {
        let rest = findings.len() - shown.len();
        text.push_str(&format!("and {} more like these, not shown\n\n", grouped(rest as u64)));
    }
    text
}

/// `3 faults, 1 caution`; `nothing wrong` where there is neither.
#[must_use]
pub fn tally(findings: &[Finding]) -> String {
    let faults = findings.iter().filter(|finding| finding.is_fault()).count();
    let others = findings.len() - faults;
    let each: Vec<String> = [(faults, "fault"), (others, "caution")]
        .into_iter()
        .filter(|(count, _)| *count > 0)
        .map(|(count, what)| format!("{} {what}{}", grouped(count as u64), if count == 1 { "" } else { "s" }))
        .collect();
    if each.is_empty() { "nothing wrong".to_owned() } else { each.join(", ") }
}

fn chosen(findings: &[Finding]) -> Vec<&Finding> {
    let mut order: Vec<usize> = (0..findings.len()).collect();
    order.sort_by_key(|i| !findings[*i].is_fault());
    order.truncate(MOST_MESSAGES);
    order.sort_unstable();
    order.into_iter().map(|i| &findings[i]).collect()
}

fn message(source: Source<'_>, finding: &Finding) -> String {
    let Said { said, allowed, mend } = say(finding);
    let level = match finding.severity() {
        Severity::Fault => Level::ERROR.with_name("fault"),
        Severity::Warning => Level::WARNING,
        Severity::Caution => Level::WARNING.with_name("caution"),
        Severity::Note => Level::NOTE,
    };
    let mut problem = Group::with_title(level.primary_title(said).id(finding.id()));
    let (label, below) = match allowed {
        Some(allowed) if allowed.chars().count() <= LONGEST_LABEL => (Some(allowed), None),
        allowed => (None, allowed),
    };
    problem = match line_of(source, &finding.place.at) {
        Some(line) => problem.element(line.snippet(AnnotationKind::Primary, label)),
        None => without_line(problem, source, label),
    };
    if let Some(below) = below {
        problem = problem.element(Level::NOTE.no_name().message(wrapped(&below)));
    }
    if let Some(line) = finding.also.as_ref().and_then(|also| line_of(source, &also.at)) {
        let label = match finding.place.at {
            At::File(..) => "named here",
            _ if finding.is_twice() => "here first",
            _ => "beside this",
        };
        problem = problem.element(line.snippet(AnnotationKind::Context, Some(label.to_owned())));
    }
    let mut groups = vec![problem];
    if let Some(mend) = mend {
        groups.push(mended(source, finding, mend));
    }
    Renderer::styled().render(&groups)
}

/// The text in lines that a terminal holds.
fn wrapped(text: &str) -> String {
    let mut lines = vec![String::new()];
    for word in text.split(' ') {
        let full = lines.last().is_some_and(|line| line.chars().count() + 1 + word.chars().count() > LONGEST_LINE);
        match lines.last_mut() {
            Some(line) if !full => {
                if !line.is_empty() {
                    line.push(' ');
                }
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines.join("\n")
}

fn without_line<'a>(group: Group<'a>, source: Source<'a>, allowed: Option<String>) -> Group<'a> {
    let group = if source.name.is_empty() { group } else { group.element(Origin::path(source.name)) };
    match allowed {
        Some(allowed) => group.element(Level::NOTE.no_name().message(allowed)),
        None => group,
    }
}

fn mended<'a>(source: Source<'a>, finding: &'a Finding, mend: String) -> Group<'a> {
    let title = Level::HELP.secondary_title(mend);
    match (line_of(source, &finding.place.at), replacement(finding)) {
        (Some(line), Some(text)) => title.element(line.bare().patch(Patch::new(line.bytes.clone(), text))),
        _ => Group::with_title(title),
    }
}

/// What a job file would hold in place of what was found, where there is one such.
fn replacement(finding: &Finding) -> Option<String> {
    match finding.mend.as_ref()? {
        Mend::Words(words) => match &words[..] {
            [word] => Some(format!("{word:?}")),
            _ => None,
        },
        Mend::Keys(keys) => match &keys[..] {
            [key] => Some(key.clone()),
            _ => None,
        },
        Mend::Literal(text) => Some(text.clone()),
        Mend::Add(_) | Mend::Remove => None,
    }
}

/// One line of a text and the bytes that are meant in it.
struct Line<'a> {
    /// Name of its file.
    file: &'a str,
    number: usize,
    text: &'a str,
    bytes: Range<usize>,
}

fn line_of<'a>(source: Source<'a>, at: &'a At) -> Option<Line<'a>> {
    let (source, bytes) = match at {
        At::Bytes(bytes) => (source, bytes),
        At::File(file, bytes) => (Source { name: file.name(), text: file.text() }, bytes),
        _ => return None,
    };
    let before = source.text.get(..bytes.start)?;
    let start = before.rfind('\n').map_or(0, |newline| newline + 1);
    let end = source.text[bytes.start..].find(['\r', '\n']).map_or(source.text.len(), |newline| bytes.start + newline);
    Some(Line {
        file: source.name,
        number: 1 + before.matches('\n').count(),
        text: &source.text[start..end],
        // What goes on over several lines is shown by its first.
        bytes: bytes.start - start..bytes.end.clamp(bytes.start, end) - start,
    })
}

impl<'a> Line<'a> {
    fn bare<T: Clone>(&self) -> Snippet<'a, T> {
        Snippet::source(self.text).line_start(self.number).path(self.file)
    }

    fn snippet(&self, kind: AnnotationKind, label: Option<String>) -> Snippet<'a, Annotation<'a>> {
        self.bare().annotation(kind.span(self.bytes.clone()).label(label))
    }
}
