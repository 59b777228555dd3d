//! JSON as people can read it too: a line for every key down to a given depth, what lies deeper on one line.
//!
//! Numbers keep all their digits; that each is finite has been seen to before (`wire`).

use serde::Serialize;
use serde_json::ser::{Formatter, Serializer};
use std::io::{self, Write};

/// The JSON of a value, broken into lines down to `depth` levels.
#[must_use]
pub(super) fn text(value: &impl Serialize, depth: usize) -> String {
    let mut bytes = Vec::new();
    let mut serializer = Serializer::with_formatter(&mut bytes, Lines { depth, level: 0, empty: true });
    // Our own types hold text, numbers and lists only, and a vector takes all bytes.
    value.serialize(&mut serializer).expect("plain data into memory");
    bytes.push(b'\n');
    String::from_utf8(bytes).expect("JSON is UTF-8")
}

struct Lines {
    depth: usize,
    level: usize,
    empty: bool,
}

impl Lines {
    fn open<W: ?Sized + Write>(&mut self, writer: &mut W, bracket: u8) -> io::Result<()> {
        self.level += 1;
        self.empty = true;
        writer.write_all(&[bracket])
    }

    fn close<W: ?Sized + Write>(&mut self, writer: &mut W, bracket: u8) -> io::Result<()> {
        let (inner, empty) = (self.level, self.empty);
        self.level -= 1;
        self.empty = false;
        if !empty {
            if inner <= self.depth {
                self.line(writer)?;
            } else if bracket == b'}' {
                writer.write_all(b" ")?;
            }
        }
        writer.write_all(&[bracket])
    }

    fn line<W: ?Sized + Write>(&self, writer: &mut W) -> io::Result<()> {
        writer.write_all(b"\n")?;
        (0..self.level).try_for_each(|_| writer.write_all(b"  "))
    }

    fn item<W: ?Sized + Write>(&mut self, writer: &mut W, first: bool, in_object: bool) -> io::Result<()> {
        if !first {
            writer.write_all(b",")?;
        }
        self.empty = false;
        if self.level <= self.depth {
            self.line(writer)
        } else if !first || in_object {
            writer.write_all(b" ")
        } else {
            Ok(())
        }
    }
}

impl Formatter for Lines {
    fn begin_array<W: ?Sized + Write>(&mut self, writer: &mut W) -> io::Result<()> {
        self.open(writer, b'[')
    }

    fn end_array<W: ?Sized + Write>(&mut self, writer: &mut W) -> io::Result<()> {
        self.close(writer, b']')
    }

    fn begin_array_value<W: ?Sized + Write>(&mut self, writer: &mut W, first: bool) -> io::Result<()> {
        self.item(writer, first, false)
    }

    fn begin_object<W: ?Sized + Write>(&mut self, writer: &mut W) -> io::Result<()> {
        self.open(writer, b'{')
    }

    fn end_object<W: ?Sized + Write>(&mut self, writer: &mut W) -> io::Result<()> {
        self.close(writer, b'}')
    }

    fn begin_object_key<W: ?Sized + Write>(&mut self, writer: &mut W, first: bool) -> io::Result<()> {
        self.item(writer, first, true)
    }

    fn begin_object_value<W: ?Sized + Write>(&mut self, writer: &mut W) -> io::Result<()> {
        writer.write_all(b": ")
    }
}

#[cfg(test)]
mod tests {
    #[test]
    fn deep_things_stay_on_a_line() {
        let value = serde_json::json!({ "a": [1.0, 2.5], "b": { "c": null, "d": {} }, "e": [], "f": [{ "g": 1 }] });
        let flat = super::text(&value, 1);
        assert_eq!(
            flat,
            "{\n  \"a\": [1.0, 2.5],\n  \"b\": { \"c\": null, \"d\": {} },\n  \"e\": [],\n  \"f\": [{ \"g\": 1 }]\n}\n"
        );
        for depth in 0..5 {
            let text = super::text(&value, depth);
            assert_eq!(serde_json::from_str::<serde_json::Value>(&text).expect("JSON"), value, "depth {depth}");
        }
    }
}
