//! `completions`: what a shell needs to complete the command line.

use super::{Exit, output};
use clap_complete::Shell;
use std::io;

/// What `completions` is asked.
#[derive(clap::Args, Debug)]
pub(super) struct Args {
    /// The shell
    shell: Shell,
}

/// Prints the completions.
pub(super) fn run(args: &Args, command: &mut clap::Command) -> io::Result<Exit> {
    let mut bytes = Vec::new();
    clap_complete::generate(args.shell, command, "rimwise", &mut bytes);
    output::answer(&String::from_utf8_lossy(&bytes))?;
    Ok(Exit::Done)
}
