//! The only place that writes to standard output and standard error. Styles are stripped where no terminal reads them or
//! `NO_COLOR` is set.

use std::io::{self, Write};

/// Writes a result to standard output.
pub(super) fn answer(text: &str) -> io::Result<()> {
    let mut out = anstream::stdout().lock();
    out.write_all(text.as_bytes())?;
    out.flush()
}

/// Writes bytes of a result to standard output, for other programs.
pub(super) fn bytes(bytes: &[u8]) -> io::Result<()> {
    let mut out = io::stdout().lock();
    out.write_all(bytes)?;
    out.flush()
}

/// Says something to whoever sits in front: progress, trouble.
pub(super) fn say(text: &str) {
    // Where nobody listens, there is nobody to tell either.
    let _ = anstream::stderr().lock().write_all(text.as_bytes());
}
