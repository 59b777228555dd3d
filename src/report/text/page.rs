//! Lines for the terminal: paragraphs broken between words, gaps, bold.

use super::super::number::plain;

/// No line is longer, in signs.
pub const WIDTH: usize = 100;

/// A page of the terminal.
pub(super) struct Page {
    text: String,
    styled: bool,
}

impl Page {
    /// An empty page; with `styled` bold is written (ANSI).
    pub(super) fn new(styled: bool) -> Page {
        Page { text: String::new(), styled }
    }

    pub(super) fn is_styled(&self) -> bool {
        self.styled
    }

    pub(super) fn bold(&self, text: &str) -> String {
        if self.styled { format!("\u{1b}[1m{text}\u{1b}[0m") } else { text.to_owned() }
    }

    pub(super) fn line(&mut self, text: &str) {
        self.text.push_str(text.trim_end());
        self.text.push('\n');
    }

    /// One empty line, however often it is asked for.
    pub(super) fn gap(&mut self) {
        if !self.text.is_empty() && !self.text.ends_with("\n\n") {
            self.text.push('\n');
        }
    }

    pub(super) fn block(&mut self, text: &str) {
        text.lines().for_each(|line| self.line(line));
    }

    /// A text broken into lines, and a gap after it.
    pub(super) fn paragraph(&mut self, text: &str) {
        self.item(text, 0);
        self.gap();
    }

    /// A text broken into lines, the later ones set in by `indent`.
    pub(super) fn item(&mut self, text: &str, indent: usize) {
        for line in wrapped(text, indent) {
            self.line(&line);
        }
    }

    pub(super) fn finish(self) -> String {
        plain(self.text.trim_end()) + "\n"
    }
}

/// Breaks a text between words into lines of at most [`WIDTH`]; styling counts for nothing.
fn wrapped(text: &str, indent: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let (mut line, mut length) = (String::new(), 0);
    for (i, word) in text.split(' ').enumerate() {
        let width = visible(word);
        if i > 0 && length + 1 + width > WIDTH {
            lines.push(std::mem::replace(&mut line, " ".repeat(indent)));
            length = indent;
        } else if i > 0 {
            line.push(' ');
            length += 1;
        }
        line.push_str(word);
        length += width;
    }
    lines.push(line);
    lines
}

/// How many signs of a word are seen.
fn visible(word: &str) -> usize {
    let mut escaped = false;
    let seen = |sign: &char| {
        let hidden = escaped || *sign == '\u{1b}';
        escaped = hidden && *sign != 'm';
        !hidden
    };
    word.chars().filter(seen).count()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_are_broken_between_words() {
        let text = "word ".repeat(60) + "\u{1b}[1mend\u{1b}[0m";
        let lines = wrapped(&text, 4);
        assert!(lines.len() == 4 && lines.iter().all(|line| visible(line) <= WIDTH), "{lines:?}");
        assert!(lines[1].starts_with("    word"));
        assert_eq!(visible("\u{1b}[1mend\u{1b}[0m"), 3);
    }
}
