//! `new`: a commented job to start from, written from the rows of `keys` and their examples.

use super::{Exit, output, refuse_file};
use crate::job::words;
use crate::keys::{self, Key, Kind, Refused, Section};
use crate::material::Shelf;
use crate::read::files;
use std::io;
use std::path::PathBuf;

/// What `new` is asked.
#[derive(clap::Args, Debug)]
pub(super) struct Args {
    /// The file to write; it must not be there yet
    file: PathBuf,
}

/// Writes the job.
pub(super) fn run(args: &Args, shelf: &Shelf) -> io::Result<Exit> {
    if let Err(fault) = files::write_new(&args.file, job(shelf).as_bytes()) {
        return Ok(refuse_file(&fault));
    }
    output::answer(&format!("{}: written; change it, then run rimwise compare on it\n", args.file.display()))?;
    Ok(Exit::Done)
}

/// Keys that need not be given but are shown in use.
static SHOWN: [&Key; 9] = [
    &keys::REFERENCE,
    &keys::VERTEX,
    &keys::CYLINDER,
    &keys::AXIS,
    &keys::SHAPE,
    &keys::EYE_SIZES,
    &keys::DEPTH,
    &keys::RIM_DEPTH,
    &keys::MASS,
];

/// The text of a commented job.
fn job(shelf: &Shelf) -> String {
    let mut text = String::new();
    note(
        &mut text,
        "A job: what is prescribed, the frames and the lens options to be compared. Everything here is invented.",
    );
    note(
        &mut text,
        "A line that begins with # says something or shows a key that may be left out; take the # away to use it.",
    );
    text.push('\n');
    write_key(&mut text, &keys::FORMAT, shelf);
    for (head, section) in [
        ("[client]", Section::Client),
        ("[prescription]", Section::Prescription),
        ("[prescription.right]", Section::Eye),
    ] {
        write_section(&mut text, head, section, shelf);
    }
    text.push_str(LEFT_EYE);
    write_section(&mut text, "[[frame]]", Section::Frame, shelf);
    text.push_str(SECOND_FRAME);
    write_section(&mut text, "[[lens]]", Section::Lens, shelf);
    text.push('\n');
    note(
        &mut text,
        "A material that is not on the shelf is given by its numbers, and then needs both least thicknesses:",
    );
    text.push_str(INLINE);
    for key in keys::of(Section::Material) {
        note(&mut text, &format!("{}: {}", key.name, about(key, shelf)));
    }
    text.push_str(SECOND_LENS);
    text.push('\n');
    note(&mut text, keys::PRESENT.help);
    text.push_str(PRESENT);
    text
}

const LEFT_EYE: &str = "\n[prescription.left]\nsphere = -5.75\npd_mm = 32.0\n";
const SECOND_FRAME: &str = "\n[[frame]]\nname = \"Sorrel\"\nshape = \"panto\"\neye_sizes_mm = [46, 48]\ndepth_mm = 41\n\
                            bridge_mm = [21, 20]\nrim = \"plastic\"\n";
const INLINE: &str =
    "# material = { index = 1.6, abbe = 41, density = 1.34 }\n# min_centre_mm = 1.2\n# min_edge_mm = 1.0\n";
const SECOND_LENS: &str = "\n[[lens]]\nname = \"standard\"\nmaterial = \"resin-1.50\"\n";
const PRESENT: &str = "# [present.frame]\n# shape = \"rectangle\"\n# eye_sizes_mm = [54]\n# depth_mm = 34\n\
                       # bridge_mm = 17\n# rim = \"plastic\"\n#\n# [present.lens]\n# material = \"resin-1.50\"\n#\n\
                       # [present.prescription.right]\n# sphere = -5.75\n# pd_mm = 31.5\n#\n\
                       # [present.prescription.left]\n# sphere = -5.25\n# pd_mm = 32.0\n";

fn write_section(text: &mut String, head: &str, section: Section, shelf: &Shelf) {
    text.push('\n');
    text.push_str(head);
    text.push('\n');
    for key in keys::of(section).filter(|key| !matches!(key.kind, Kind::Table(_))) {
        write_key(text, key, shelf);
    }
}

fn write_key(text: &mut String, key: &'static Key, shelf: &Shelf) {
    note(text, &about(key, shelf));
    let shown = key.is_required() || SHOWN.contains(&key);
    text.push_str(&format!("{}{} = {}\n", if shown { "" } else { "# " }, key.name, key.example));
}

/// What a key is, what it may hold and what stands in for it.
fn about(key: &Key, shelf: &Shelf) -> String {
    let mut text = key.help.to_owned();
    if let Kind::Word(which) | Kind::WordOrTable(which, _) = key.kind {
        text = format!("{text} One of: {}.", words(which, shelf).join(", "));
    }
    text = match key.refused {
        Refused::Beyond(from, to) if key.unit.is_empty() => format!("{text} From {from} to {to}."),
        Refused::Beyond(from, to) => format!("{text} From {from} to {to} {}.", key.unit),
        Refused::Nothing | Refused::BeyondShape { .. } => text,
    };
    match key.left_out {
        Some(then) => format!("{text} If left out: {then}."),
        None => text,
    }
}

/// The longest line of a note.
const NOTE_WIDTH: usize = 100;

/// Writes a note over as many lines as it needs.
fn note(text: &mut String, said: &str) {
    let mut line = String::from("#");
    for word in said.split_whitespace() {
        if line.chars().count() + 1 + word.chars().count() > NOTE_WIDTH {
            text.push_str(&line);
            text.push('\n');
            line = String::from("#");
        }
        line.push(' ');
        line.push_str(word);
    }
    text.push_str(&line);
    text.push('\n');
}
