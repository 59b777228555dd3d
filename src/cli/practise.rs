//! `practise`: exercises for a trainee, asked on standard input or written as sheets.

use super::{Exit, output, refuse, refuse_file};
use crate::job::nearest;
use crate::practise::{LEVELS, Set, TOPICS, Topic, Verdict};
use crate::read::files;
use crate::report::{folder, text::practise as told, wire};
use std::io::{self, BufRead, IsTerminal, Read};
use std::path::PathBuf;

/// What the help ends with.
pub(super) const EXAMPLES: &str = "Answer with a number, its sign or direction (1.7 up), or a power (-2.00 +1.50 x 90). An \
                                   empty line shows the working, q ends.\n\
                                   Example: rimwise practise --topic edge --level 2 --seed 7 --questions 5\n\
                                   Example: rimwise practise --level 1 --out sheets\n\
                                   Example: rimwise practise --topic sag --with radius_mm=52.3,diameter_mm=40\n\n\
                                   --list --topic sag says what --with takes there. Ten experiments for a trainee are in \
                                   docs/guide.md.";
/// More questions than this are no exercise.
const MOST_QUESTIONS: u64 = 1000;

/// What `practise` is asked.
#[derive(clap::Args, Debug)]
pub(super) struct Args {
    /// What to ask about; may be given more than once [left out: all topics in turn]
    #[arg(long, value_name = "TOPIC")]
    topic: Vec<String>,
    /// Ask with these numbers, a book's for instance, in place of some by chance: KEY=VALUE,... of one topic; given again,
    /// it asks again. At the end of the input the working is shown
    #[arg(long, value_name = "KEY=VALUE,...", requires = "topic", conflicts_with_all = ["level", "seed", "questions"])]
    with: Vec<String>,
    /// 1 for the head, 2 by hand, 3 with a calculator
    #[arg(long, value_name = "1-3", default_value_t = 1, value_parser = level)]
    level: u8,
    /// The same seed gives the same exercises
    #[arg(long, value_name = "NUMBER", default_value_t = 1)]
    seed: u64,
    /// How many
    #[arg(long, value_name = "NUMBER", default_value_t = 10, value_parser = clap::value_parser!(u64).range(1..=MOST_QUESTIONS))]
    questions: u64,
    /// Offer answers to choose from
    #[arg(long)]
    choices: bool,
    /// Write sheets to print, index.html with the questions and answers.html, into this folder
    #[arg(long, value_name = "DIR", conflicts_with = "json")]
    out: Option<PathBuf>,
    /// Print the exercises with their answers as JSON
    #[arg(long)]
    json: bool,
    /// List the topics; with --topic, what --with takes
    #[arg(long)]
    list: bool,
}

fn level(text: &str) -> Result<u8, String> {
    text.parse().ok().filter(|level| LEVELS.contains(level)).ok_or_else(|| "allowed is 1, 2 or 3".to_owned())
}

/// Asks, prints or writes.
pub(super) fn run(args: &Args) -> io::Result<Exit> {
    let topics = match topics(&args.topic) {
        Ok(topics) => topics,
        Err(why) => return Ok(refuse(&why)),
    };
    if args.list {
        let listed = match args.topic.is_empty() {
            true => told::topics(),
            false => topics.iter().map(|topic| told::forms(topic)).collect::<Vec<_>>().join("\n"),
        };
        output::answer(&listed)?;
        return Ok(Exit::Done);
    }
    let set = match set(args, &topics) {
        Ok(set) => set,
        Err(why) => return Ok(refuse(&why)),
    };
    if args.json {
        output::answer(&wire::practise_text(&set))?;
    } else if let Some(dir) = &args.out {
        if let Err(fault) = files::write_folder(dir, |new| folder::write_practise(&set, args.choices, new)) {
            return Ok(refuse_file(&fault));
        }
        let [questions, answers] = [folder::PAGE, folder::ANSWERS].map(|name| dir.join(name));
        output::answer(&format!("Questions: {}\nAnswers:   {}\n", questions.display(), answers.display()))?;
    } else {
        ask(&set, args.choices, &mut io::stdin().lock())?;
    }
    Ok(Exit::Done)
}

/// By chance, or with the numbers that are given.
fn set(args: &Args, topics: &[&'static Topic]) -> Result<Set, String> {
    match topics {
        _ if args.with.is_empty() => Ok(Set::new(topics, args.level, args.seed, args.questions as usize)),
        [topic] => Set::given(topic, &args.with).map_err(|why| format!("--with: {why}")),
        _ => Err("--with goes with one --topic".to_owned()),
    }
}

fn topics(named: &[String]) -> Result<Vec<&'static Topic>, String> {
    if named.is_empty() {
        return Ok(TOPICS.iter().collect());
    }
    let one = |id: &String| {
        Topic::from_id(id).ok_or_else(|| {
            let known = TOPICS.iter().map(|topic| topic.id);
            match nearest(id, known.clone()).as_slice() {
                [] => format!("there is no topic “{id}”; there are {}", known.collect::<Vec<_>>().join(", ")),
                near => format!("there is no topic “{id}”; did you mean {}?", near.join(" or ")),
            }
        })
    };
    named.iter().map(one).collect()
}

/// What one line of input led to.
enum Turn {
    Right,
    Wrong,
    Shown,
    Over,
}

/// Asks one after the other, until all are asked or the input ends.
fn ask(set: &Set, choices: bool, input: &mut impl BufRead) -> io::Result<()> {
    let (mut right, mut answered) = (0, 0);
    for place in 0..set.exercises.len() {
        output::answer(&told::question(set, place, choices, true))?;
        match turn(set, place, choices, input)? {
            Turn::Right => (right, answered) = (right + 1, answered + 1),
            Turn::Wrong => answered += 1,
            Turn::Shown => {}
            Turn::Over => break,
        }
        output::answer("\n")?;
    }
    // One question of one's own is no match to keep the score of.
    if set.drawn.is_none() && set.exercises.len() == 1 {
        Ok(())
    } else {
        output::answer(&told::score(set, right, answered))
    }
}

/// Reads until there is an answer that can be judged.
fn turn(set: &Set, place: usize, choices: bool, input: &mut impl BufRead) -> io::Result<Turn> {
    let Some(exercise) = set.exercises.get(place) else { return Ok(Turn::Over) };
    let offered = choices || exercise.is_choice();
    loop {
        output::answer("> ")?;
        let Some(line) = line(input)? else {
            output::answer("\n")?;
            // Whoever gives the numbers wants to see them worked.
            if set.drawn.is_none() {
                output::answer(&told::worked(exercise, true))?;
                return Ok(Turn::Shown);
            }
            return Ok(Turn::Over);
        };
        // Nobody's own key has ended the line of the prompt.
        if !io::stdin().is_terminal() {
            output::answer("\n")?;
        }
        match line.trim() {
            "" | "?" => {
                output::answer(&told::worked(exercise, true))?;
                return Ok(Turn::Shown);
            }
            "q" => return Ok(Turn::Over),
            typed => {
                let verdict = exercise.judge(typed, offered);
                output::answer(&told::verdict(exercise, &verdict, true))?;
                match verdict {
                    Verdict::Right => return Ok(Turn::Right),
                    Verdict::Wrong(_) => return Ok(Turn::Wrong),
                    Verdict::Unread(_) => {}
                }
            }
        }
    }
}

/// Longer than any answer, bytes.
const LONGEST_LINE: u64 = 4096;

/// The next line, whatever its bytes; `None` at the end of the input.
fn line(input: &mut impl BufRead) -> io::Result<Option<String>> {
    let mut bytes = Vec::new();
    let read = input.by_ref().take(LONGEST_LINE).read_until(b'\n', &mut bytes)?;
    Ok((read > 0).then(|| String::from_utf8_lossy(&bytes).into_owned()))
}
