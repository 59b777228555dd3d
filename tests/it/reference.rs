//! The reference pages in `docs/reference` are written from the catalogues. A page that no longer says what the program
//! says fails here; `UPDATE=1` rewrites it.

use crate::snapshot::compare_with_snapshot;
use assert_cmd::Command;
use rimwise::advice;
use rimwise::figures::{Better, Figure, OF_EDGING, OF_EYE, OF_PAIR, OF_SURFACING};
use rimwise::finding;
use rimwise::job::words;
use rimwise::keys::{self, Key, Kind, Refused, Section, Words};
use rimwise::light::ReferenceLine;
use rimwise::material::{INLINE_BASES_D, INLINE_DIAMETERS_MM, Material, Shelf};
use rimwise::practise::{Form, LeftOut, TOPICS, Takes};
use rimwise::rim::Rim;
use std::path::Path;

/// A page as it ought to be.
struct Page {
    name: &'static str,
    text: String,
}

const WRITTEN: &str = "<!-- Written by `UPDATE=1 cargo test reference`; changes made here by hand are lost. -->\n";

impl Page {
    fn new(name: &'static str, title: &str, about: &str) -> Page {
        Page { name, text: format!("{WRITTEN}\n# {title}\n\n{about}\n") }
    }

    fn heading(&mut self, title: &str) {
        self.text += &format!("\n## {title}\n\n");
    }

    fn paragraph(&mut self, text: &str) {
        self.text += &format!("{text}\n");
    }

    fn table(&mut self, heads: &[&str], rows: impl IntoIterator<Item = Vec<String>>) {
        self.text += &format!("| {} |\n|{}\n", heads.join(" | "), "---|".repeat(heads.len()));
        for row in rows {
            assert_eq!(row.len(), heads.len());
            let cells: Vec<String> = row.iter().map(|cell| cell.replace('|', "\\|")).collect();
            self.text += &format!("| {} |\n", cells.join(" | "));
        }
    }
}

fn code(text: &str) -> String {
    if text.is_empty() { String::new() } else { format!("`{text}`") }
}

/// A number with a true minus sign.
fn number(value: f64) -> String {
    value.to_string().replace('-', "−")
}

fn from_to([from, to]: [f64; 2]) -> String {
    format!("{} to {}", number(from), number(to))
}

fn list(numbers: &[f64]) -> String {
    numbers.iter().map(|value| number(*value)).collect::<Vec<_>>().join(", ")
}

fn head(section: Section) -> &'static str {
    match section {
        Section::Job => "Top of the file",
        Section::Client => "[client]",
        Section::Prescription => "[prescription]",
        Section::Eye => "[prescription.right] and [prescription.left]",
        Section::Prism => "A prism, in the list `prism`",
        Section::Frame => "[[frame]]",
        Section::Heights => "Heights of both eyes, in `optical_centre_height_mm`",
        Section::Lens => "[[lens]]",
        Section::Material => "A material by its numbers, in `material`",
        Section::Present => "[present]",
        Section::Single => "Of one lens alone, no key of a job file",
        Section::Shelf => "Top of a material file",
        Section::Minimum => "[minimum]",
        Section::OfRim => "[minimum.metal] and its like",
        Section::Blank => "[[semi_finished]]",
        Section::Stock => "[[stock]]",
    }
}

fn kind(kind: Kind) -> String {
    match kind {
        Kind::Whole => "whole number".to_owned(),
        Kind::Number => "number".to_owned(),
        Kind::Numbers => "list of numbers".to_owned(),
        Kind::FromTo => "list of two numbers, from and to".to_owned(),
        Kind::YesNo => "true or false".to_owned(),
        Kind::Texts => "table of texts".to_owned(),
        Kind::NumberOrEach => "number, or one for each eye size".to_owned(),
        Kind::NumberOrEyes => "number, or one for each eye".to_owned(),
        Kind::Text => "text".to_owned(),
        Kind::Name => "name".to_owned(),
        Kind::Date => "date".to_owned(),
        Kind::File => "name of a file".to_owned(),
        Kind::Word(which) => format!("word, {}", link(which)),
        Kind::WordOrNumber(which) => format!("word, {}, or number", link(which)),
        Kind::WordOrTable(which, _) => format!("word, {}, or table", link(which)),
        Kind::Table(_) => "table".to_owned(),
        Kind::Tables(_) => "list of tables".to_owned(),
    }
}

const WORDS: [(Words, &str); 8] = [
    (Words::Eye, "eyes"),
    (Words::ReferenceLine, "reference lines"),
    (Words::Base, "bases"),
    (Words::Shape, "shapes"),
    (Words::Rim, "rims"),
    (Words::Position, "positions of the bevel"),
    (Words::Supply, "supplies"),
    (Words::Material, "materials"),
];

fn link(which: Words) -> String {
    let (_, name) = WORDS.into_iter().find(|(words, _)| *words == which).expect("named");
    format!("[{name}](#{})", name.replace(' ', "-"))
}

fn key_row(key: &Key) -> Vec<String> {
    let refused = match key.refused {
        Refused::Nothing => String::new(),
        Refused::Beyond(from, to) => from_to([from, to]),
        Refused::BeyondShape { margin_mm } => format!("{} to depth + {margin_mm}", number(-margin_mm)),
    };
    vec![
        code(key.name),
        key.help.to_owned(),
        kind(key.kind),
        key.unit.to_owned(),
        refused,
        key.usual.map(from_to).unwrap_or_default(),
        key.left_out.map_or("**must be given**".to_owned(), str::to_owned),
        code(key.example),
        key.flag().map(|flag| code(&format!("--{flag}"))).unwrap_or_default(),
        key.column().map(code).unwrap_or_default(),
    ]
}

fn keys_page() -> Page {
    let mut page = Page::new(
        "keys.md",
        "Keys of a job file",
        "All that can be asked. What lies beyond *allowed* is refused; what lies beyond *usual* is worked, with a caution. \
         The flag is the one of `rimwise lens`, where one lens is asked for without a job; the column is the one of \
         `rimwise stock`, where orders are a row a lens.",
    );
    let heads = ["key", "what it is", "holds", "unit", "allowed", "usual", "if left out", "example", "flag", "column"];
    for section in Section::ALL {
        page.heading(head(section));
        page.table(&heads, keys::of(section).map(key_row));
    }
    page.heading("Material files");
    page.paragraph(
        "A folder given with `--materials` holds a file `ID.toml` for each material. Its keys, judged like those of a job:",
    );
    for section in Section::OF_SHELF {
        page.text += &format!("\n### {}\n\n", head(section));
        page.table(
            // Neither flag nor column.
            &heads[..heads.len() - 2],
            keys::of(section).map(key_row).map(|mut row| {
                row.truncate(heads.len() - 2);
                row
            }),
        );
    }
    page.heading("Words");
    page.paragraph("Some keys hold one of these words.");
    let shelf = Shelf::built_in();
    for (which, name) in WORDS {
        page.text += &format!("\n### {}{}\n\n", name[..1].to_uppercase(), &name[1..]);
        let all: Vec<String> = words(which, &shelf).iter().map(|word| code(word)).collect();
        page.paragraph(&all.join(", "));
    }
    page
}

fn figure_row<T>(figure: &Figure<T>) -> Vec<String> {
    let better = match figure.better {
        Better::Less => "less",
        Better::Neither => "",
    };
    vec![
        code(figure.id),
        figure.name.to_owned(),
        figure.unit.symbol().to_owned(),
        figure.decimals.to_string(),
        better.to_owned(),
        figure.formula.to_owned(),
        figure.source.to_owned(),
    ]
}

fn figures_page() -> Page {
    let mut page = Page::new(
        "figures.md",
        "Figures",
        "All that can be answered. The id is the path in the JSON of `rimwise compare`; JSON carries all digits, the screen \
         as many decimals as are given here. How each is worked is in [the model](../model.md).",
    );
    let heads = ["id", "name", "unit", "decimals", "better", "formula", "source"];
    page.heading("Of one lens");
    page.table(&heads, OF_EYE.iter().map(figure_row));
    page.heading("Of the work on one edge");
    page.table(&heads, OF_EDGING.iter().map(figure_row));
    page.heading("Of the work on one back");
    page.table(&heads, OF_SURFACING.iter().map(figure_row));
    page.heading("Of a pair");
    page.table(&heads, OF_PAIR.iter().map(figure_row));
    page
}

fn findings_page() -> Page {
    let mut page = Page::new(
        "findings.md",
        "What may be wrong or doubtful",
        "Each has an id that stays put. A *fault* keeps anything from being computed, and the exit code is 2. A *warning*, a \
         *caution* or a *note* comes with the result.",
    );
    page.heading("In what is written");
    let rows = finding::rules().map(|rule| {
        let ids: Vec<String> = rule.ids().iter().map(|id| code(id)).collect();
        vec![ids.join("<br>"), rule.severity.word().to_owned(), rule.help.to_owned()]
    });
    page.table(&["id", "severity", "what it is"], rows);
    page.heading("In a lens that was worked");
    page.paragraph("Numbers stand in for {value} and {limit}.\n");
    let rows = advice::RULES.iter().map(|rule| {
        vec![
            code(rule.id),
            format!("{:?}", rule.severity).to_lowercase(),
            rule.dispenser.to_owned(),
            rule.wearer.to_owned(),
            rule.mend.to_owned(),
            rule.source.to_owned(),
        ]
    });
    page.table(&["id", "severity", "to the dispenser", "to the wearer", "what helps", "source"], rows);
    page.paragraph(
        "\nA lens that cannot be made is neither: it is a result, and says in one sentence why and what would help.",
    );
    page
}

fn material_row(material: &Material) -> Vec<String> {
    let yes = |may: bool| if may { "yes" } else { "no" }.to_owned();
    vec![
        code(&material.id),
        material.name.clone(),
        format!("{:.3}", material.n_d),
        format!("{:.3}", material.glass(ReferenceLine::E).index),
        format!("{:.1}", material.v_d),
        format!("{:.2}", material.density),
        material.uv_cutoff_nm.map_or("not known".to_owned(), |cutoff| format!("{cutoff:.0}")),
        yes(material.grooved),
        yes(material.drilled),
    ]
}

fn minimum_row(material: &Material) -> Vec<String> {
    let least = Rim::ALL.map(|rim| {
        let minimum = material.minimum_for(rim);
        format!("{:.1}, {:.1}", minimum.centre_mm, minimum.edge_mm)
    });
    std::iter::once(code(&material.id)).chain(least).collect()
}

fn materials_page() -> Page {
    let shelf = Shelf::built_in();
    let all = || shelf.materials.iter().map(AsRef::as_ref);
    let mut page = Page::new(
        "materials.md",
        "Materials on the shelf",
        "Generic materials, not those of any maker. A folder of your own, given with `--materials`, adds to them or takes \
         their place; `rimwise materials` prints the shelf as it then is.",
    );
    page.heading("Substance");
    page.paragraph("Density in g/cm³; UV: next to nothing passes below this wavelength, in nm.\n");
    page.table(
        &["id", "name", "n_d", "n_e", "V_d", "density", "UV", "may be grooved", "may be drilled"],
        all().map(material_row),
    );
    page.heading("Least thickness");
    page.paragraph(
        "Centre and edge in mm, for each rim; what the rim itself asks for is counted in. A job may ask for other figures.\n",
    );
    let heads: Vec<&str> = std::iter::once("id").chain(Rim::ALL.iter().map(|rim| rim.word())).collect();
    page.table(&heads, all().map(minimum_row));
    page.heading("Semi-finished blanks");
    page.paragraph("Base curves in dioptres at index 1.530; diameters and thicknesses in mm.\n");
    let rows = all().flat_map(|material| {
        material.semi_finished.iter().map(|blank| {
            vec![
                code(&material.id),
                number(blank.base_curve_d),
                list(&blank.diameters_mm),
                number(blank.centre_mm),
                number(blank.edge_mm),
            ]
        })
    });
    page.table(&["id", "base curve", "diameters", "centre", "edge"], rows);
    page.paragraph(&format!(
        "\nA material given in a job by its numbers comes in base curves {} and diameters {}.",
        list(&INLINE_BASES_D),
        list(&INLINE_DIAMETERS_MM)
    ));
    page.heading("Stock lenses");
    page.paragraph("Finished uncuts; the first row that covers the power counts.\n");
    let rows = all().flat_map(|material| {
        material.stock.iter().map(|row| {
            vec![
                code(&material.id),
                from_to(row.sphere),
                format!("to {}", number(row.cylinder_to)),
                number(row.base_curve_d),
                list(&row.diameters_mm),
                number(row.centre_mm),
                number(row.edge_mm),
            ]
        })
    });
    page.table(&["id", "sphere", "cylinder", "base curve", "diameters", "centre", "edge"], rows);
    page.heading("Where the numbers are from");
    page.paragraph("*Common practice, no source* is what it says: usual in the trade, and nothing to cite.\n");
    page.table(&["id", "number", "source"], all().flat_map(source_rows));
    page
}

/// One row a source, with all the numbers that are from it.
fn source_rows(material: &Material) -> Vec<Vec<String>> {
    let mut by_source: Vec<(&str, Vec<String>)> = Vec::new();
    for (what, source) in &material.source {
        match by_source.iter_mut().find(|(there, _)| there == source) {
            Some((_, numbers)) => numbers.push(code(what)),
            None => by_source.push((source, vec![code(what)])),
        }
    }
    by_source
        .into_iter()
        .map(|(source, numbers)| vec![code(&material.id), numbers.join(", "), source.to_owned()])
        .collect()
}

/// What the program says of itself, or of one of its commands.
pub(crate) fn help(command: &[&str]) -> String {
    let output = Command::cargo_bin("rimwise")
        .expect("the program is built")
        .env("COLUMNS", "100")
        .env("NO_COLOR", "1")
        .args(command)
        .arg("--help")
        .assert()
        .code(0)
        .get_output()
        .stdout
        .clone();
    let text = String::from_utf8(output).expect("text");
    text.lines().map(str::trim_end).collect::<Vec<_>>().join("\n")
}

/// The commands that the program lists, `help` left out.
pub(crate) fn commands() -> Vec<String> {
    let text = help(&[]);
    let listed = text.lines().skip_while(|line| *line != "Commands:").skip(1).take_while(|line| !line.is_empty());
    // A sentence that runs on stands farther in.
    let names = listed.filter(|line| line.starts_with("  ") && !line.starts_with("   "));
    let names = names.filter_map(|line| line.split_whitespace().next());
    names.filter(|name| *name != "help").map(str::to_owned).collect()
}

fn cli_page() -> Page {
    let mut page = Page::new(
        "cli.md",
        "The command line",
        "What `--help` says. Exit codes: 0 done; 2 the input or the command line is wrong, and nothing was written; 3 many \
         were to be done and some of them were refused; 1 anything else. Results go to standard output, what is said about progress or trouble to standard error.",
    );
    let mut section = |title: &str, text: &str| {
        page.heading(title);
        page.paragraph(&format!("```text\n{}\n```", text.trim()));
    };
    section("rimwise", &help(&[]));
    let commands = commands();
    assert!(commands.len() > 4, "{commands:?}");
    for command in commands {
        section(&format!("rimwise {command}"), &help(&[&command]));
    }
    page
}

fn exercises_page() -> Page {
    let mut page = Page::new(
        "exercises.md",
        "Exercises with numbers of your own",
        "What `rimwise practise --topic TOPIC --with KEY=VALUE,...` can ask: a book's question with the book's numbers, worked \
         line by line, and your answer judged. Keys decide which question is meant; where two take the same, `find=WORD` says \
         which, and else the first in the list is asked.",
    );
    for topic in &TOPICS {
        page.heading(&format!("{} (`{}`)", topic.title, topic.id));
        if topic.forms.is_empty() {
            page.paragraph("It takes no numbers of your own.");
            continue;
        }
        let row = |form: &Form| {
            let key = |takes: &Takes| {
                let left_out = match takes.left_out {
                    LeftOut::Wanted => String::new(),
                    LeftOut::Is(taken) => format!("; left out: {taken}"),
                    LeftOut::Nothing => "; where it is wanted".to_owned(),
                };
                format!("`{}` ({}{left_out})", takes.key, takes.allowed())
            };
            vec![code(form.find), form.takes.iter().map(key).collect::<Vec<_>>().join(", ")]
        };
        page.table(&["find", "keys"], topic.forms.iter().map(row));
    }
    page
}

#[test]
fn reference_pages_say_what_the_program_says() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("docs/reference");
    let pages = [keys_page(), figures_page(), findings_page(), materials_page(), exercises_page(), cli_page()];
    let stale: Vec<String> =
        pages.iter().filter_map(|page| compare_with_snapshot(&folder.join(page.name), &page.text).err()).collect();
    assert!(stale.is_empty(), "{}", stale.join("\n\n"));
    let there = std::fs::read_dir(folder).expect("a folder of pages").count();
    assert_eq!(there, pages.len(), "a page that nothing writes");
}
