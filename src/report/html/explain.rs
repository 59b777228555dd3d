//! The page of `explain`: the whole calculation for one lens, its mathematics set as MathML, and a drawing with the
//! points marked. One file like that of a comparison.
//!
//! Units: behind every number.

use super::super::formula::{Shown, Writer, Written, like, symbol, value};
use super::super::words;
use super::{document, figure_of, heading, prescription};
use crate::draw::Picture;
use crate::explain::{Explained, Expr, HandRule, How, Line};
use crate::job::Job;
use maud::{Markup, PreEscaped, html};
use pulldown_latex::{Parser, RenderConfig, Storage, push_mathml};

/// A formula of more signs than this, with numbers, may be wider than a small screen.
const LONG: usize = 36;
const TITLE: &str = "One lens, worked";

/// The page.
#[must_use]
pub fn explain_page(job: &Job, explained: &Explained<'_>, picture: Option<&Picture>) -> String {
    let heading = heading(job);
    let lines = &explained.lines;
    let body = html! {
        header {
            h1 { (TITLE) }
            @if let Some(heading) = &heading { p.reference { (heading) } }
            div.rx { (prescription(explained.fit.prescription, "Prescription")) }
        }
        main {
            section.answer aria-labelledby="answer" {
                h2 #answer { "The answer" }
                p.lead { (words::explain_answer(explained)) }
                p { (words::EXPLAIN_METHOD) }
                @if let Some(picture) = picture { (figure_of(picture, "w-", &picture.description)) }
            }
            @for part in lines.chunk_by(|a, b| a.section == b.section) {
                @let section = part[0].section;
                @let id = part[0].head.id.replace('.', "-");
                section aria-labelledby=(id) {
                    h2 id=(id) { (words::explain_section(section)) }
                    @if let Some(lead) = words::explain_lead(section) { p { (lead) } }
                    dl.worked { @for line in part { (worked(line, lines)) } }
                }
            }
            section.safety aria-labelledby="safety" {
                h2 #safety { "Calculated, not measured" }
                (super::closing::safety(None))
            }
        }
    };
    document(TITLE, heading.as_deref(), None, &body)
}

/// A line: what it is and its source, then the formula, with numbers, the result; the rule of the hand.
fn worked(line: &Line, lines: &[Line]) -> Markup {
    html! {
        div.bare-line[matches!(line.how, How::Given | How::Searched { .. })] {
            dt { (words::capital(&line.head.meaning)) }
            dd.wide[is_wide(&line.how, lines)] tabindex=[is_wide(&line.how, lines).then_some("0")] {
                (mathematics(&symbol(&line.head.symbol, Written::Tex)))
                @match &line.how {
                    How::Worked(formula) => (formulas(formula, lines)),
                    How::Integrated(_) => (mathematics("= \\sum w\\,f")),
                    How::Given | How::Searched { .. } => {},
                }
                span.result { "= " strong { (value(line)) } }
                @if let Some(marked) = words::explain_marked(line) { " " span.marked { (marked) } }
            }
            dd.source { (line.head.source) }
            @if let Some(rule) = &line.by_hand {
                @let wide = is_long(&rule.formula, lines);
                dd.hand.wide[wide] tabindex=[wide.then_some("0")] { (by_hand(line, rule, lines)) }
            }
        }
    }
}

/// May the mathematics of a line be wider than a small screen?
fn is_wide(how: &How, lines: &[Line]) -> bool {
    matches!(how, How::Worked(formula) if is_long(formula, lines))
}

fn is_long(formula: &Expr, lines: &[Line]) -> bool {
    let numbers = Writer { lines, shown: Shown::Numbers, written: Written::Plain }.write(formula);
    numbers.chars().count() > LONG
}

fn formulas(formula: &Expr, lines: &[Line]) -> Markup {
    let written = |shown| Writer { lines, shown, written: Written::Tex }.write(formula);
    html! {
        (mathematics(&format!("= {}", written(Shown::Symbols))))
        @if !matches!(formula, Expr::Line(_)) { (mathematics(&format!("= {}", written(Shown::Numbers)))) }
    }
}

fn by_hand(line: &Line, rule: &HandRule, lines: &[Line]) -> Markup {
    let formula = Writer { lines, shown: Shown::Symbols, written: Written::Tex }.write(&rule.formula);
    html! {
        "By hand, " (rule.name) ": " (mathematics(&formula))
        span.result { "≈ " (like(line, rule.value)) } ", " (words::explain_off(line, rule)) "."
    }
}

/// LaTeX as MathML.
fn mathematics(tex: &str) -> Markup {
    let storage = Storage::new();
    let mut out = String::new();
    // Only a failing writer is an error, and a string does not fail; what LaTeX it cannot read stands in the mathematics.
    let _ = push_mathml(&mut out, Parser::new(tex, &storage), RenderConfig::default());
    // A name of HTML, where other readers of MathML want the sign itself.
    html! { span.formula { (PreEscaped(out.replace("&nbsp;", "\u{a0}"))) } " " }
}
