//! The flags of `lens`: one for each key that can be asked of one lens, from its row in `keys`.

use super::numbers::decimal;
use crate::job::words;
use crate::keys::{self, Key, Kind, Refused};
use crate::material::Shelf;
use clap::{Arg, ArgAction, ArgMatches, Command, FromArgMatches};
use std::path::PathBuf;

/// An example of the command.
pub(super) const EXAMPLE: &str = "Example: rimwise lens --eye right --sphere -6.25 --cylinder -1.5 --axis 175 \
                                  --prism 1.5@in --pd-mm 31.5 --shape oval --eye-size-mm 50 --depth-mm 40 \
                                  --bridge-mm 18 --rim metal --material resin-1.67";

const PROFILE_DEG: &str = "profile-deg";
const PROFILE_OUT: &str = "profile-out";
const LAYOUT_OUT: &str = "layout-out";
/// Directions from the boxed centre.
const DIRECTIONS_DEG: [f64; 2] = [0.0, 360.0];

/// What `lens` is asked.
#[derive(Clone, Debug)]
pub(super) struct LensFlags {
    /// The flags given, with their text.
    pub(super) flags: Vec<(&'static Key, String)>,
    /// Print the result as JSON.
    pub(super) json: bool,
    /// The edge to be drawn: in which direction, into which file.
    pub(super) profile: Option<(f64, PathBuf)>,
    /// The file that its layout in the blank is drawn into.
    pub(super) layout: Option<PathBuf>,
}

impl FromArgMatches for LensFlags {
    fn from_arg_matches(matches: &ArgMatches) -> Result<LensFlags, clap::Error> {
        let given = |key: &'static Key| {
            let texts = matches.get_many::<String>(key.single.unwrap_or(key.name));
            texts.into_iter().flatten().map(move |text| (key, text.clone()))
        };
        let drawn = (matches.get_one::<f64>(PROFILE_DEG), matches.get_one::<PathBuf>(PROFILE_OUT));
        let profile = match drawn {
            (Some(deg), Some(path)) => Some((*deg, path.clone())),
            _ => None,
        };
        let layout = matches.get_one::<PathBuf>(LAYOUT_OUT).cloned();
        let flags = keys::single().flat_map(given).collect();
        Ok(LensFlags { flags, json: matches.get_flag("json"), profile, layout })
    }

    fn update_from_arg_matches(&mut self, matches: &ArgMatches) -> Result<(), clap::Error> {
        *self = LensFlags::from_arg_matches(matches)?;
        Ok(())
    }
}

impl clap::Args for LensFlags {
    fn augment_args(command: Command) -> Command {
        let shelf = Shelf::built_in();
        keys::single()
            .fold(command, |command, key| command.arg(flag(key, &shelf)))
            .arg(
                Arg::new(PROFILE_DEG)
                    .long(PROFILE_DEG)
                    .value_name("DEG")
                    .value_parser(direction)
                    .allow_negative_numbers(true)
                    .requires(PROFILE_OUT)
                    .help("Draw the edge, enlarged, in this direction from the boxed centre, anticlockwise from the observer's right"),
            )
            .arg(
                Arg::new(PROFILE_OUT)
                    .long(PROFILE_OUT)
                    .value_name("FILE")
                    .value_parser(clap::value_parser!(PathBuf))
                    .requires(PROFILE_DEG)
                    .help("The SVG file that it is drawn into; there must be none yet"),
            )
            .arg(
                Arg::new(LAYOUT_OUT)
                    .long(LAYOUT_OUT)
                    .value_name("FILE")
                    .value_parser(clap::value_parser!(PathBuf))
                    .help("Draw the lens laid in its blank, at true size, into this SVG file; there must be none yet"),
            )
            .arg(Arg::new("json").long("json").action(ArgAction::SetTrue).help("Print the result as JSON"))
    }

    fn augment_args_for_update(command: Command) -> Command {
        LensFlags::augment_args(command)
    }
}

fn direction(text: &str) -> Result<f64, String> {
    let deg = decimal(text)?;
    let [least, most] = DIRECTIONS_DEG;
    if deg >= least && deg <= most { Ok(deg) } else { Err(format!("allowed is {least} to {most}")) }
}

fn flag(key: &'static Key, shelf: &Shelf) -> Arg {
    let several = *key == keys::PRISM;
    let inline = key.section == keys::Section::Material;
    let arg = Arg::new(key.single.unwrap_or(key.name))
        .long(key.flag().unwrap_or_default().into_owned())
        .value_name(value_name(key))
        .allow_negative_numbers(true)
        .action(if several { ArgAction::Append } else { ArgAction::Set })
        .help(help(key, shelf));
    if inline { arg.conflicts_with(keys::MATERIAL.name) } else { arg }
}

fn value_name(key: &Key) -> &'static str {
    match (key.kind, key.unit) {
        (Kind::Tables(_), _) => "AMOUNT@BASE",
        (Kind::Word(_) | Kind::WordOrTable(..), _) => "WORD",
        (Kind::File, _) => "FILE",
        (_, "mm") => "MM",
        (_, "D") => "D",
        (_, "°") => "DEG",
        _ => "NUMBER",
    }
}

fn help(key: &Key, shelf: &Shelf) -> String {
    let mut text = match key.kind {
        // What a job file lists is one thing here.
        Kind::Numbers => "Width of the box round the lens shape.".to_owned(),
        Kind::NumberOrEach | Kind::NumberOrEyes => one_of(key).to_owned(),
        _ => key.help.to_owned(),
    };
    if let Kind::Word(which) | Kind::WordOrTable(which, _) = key.kind {
        text = format!("{text} One of {}.", words(which, shelf).join(", "));
    }
    match key.refused {
        Refused::Beyond(from, to) => text = format!("{text} From {from} to {to}."),
        Refused::Nothing | Refused::BeyondShape { .. } => {}
    }
    let needed = key.is_required() && key.section != keys::Section::Material && *key != keys::MATERIAL;
    match key.left_out {
        Some(then) => format!("{text} [left out: {then}]"),
        None if needed => format!("{text} [required]"),
        None => text,
    }
}

fn one_of(key: &Key) -> &'static str {
    if *key == keys::DEPTH {
        "Height of the box round the lens shape."
    } else if *key == keys::BRIDGE {
        "Horizontal distance between the two boxes."
    } else {
        "Height of the optical centre above the lowest point of the shape."
    }
}
