//! Orders: worked as jobs are, to the digit; added up the same however they are shared out; refused one by one; and what
//! comes in that is no orders at all.

use crate::messages::jobs;
use assert_cmd::Command;
use rimwise::assess::{Fit, Made};
use rimwise::choose::{LensOption, Substance};
use rimwise::eye::Eye;
use rimwise::job::Job;
use rimwise::keys;
use rimwise::material::Shelf;
use rimwise::read::{self, orders::Orders};
use rimwise::rx::{EyeRx, Prism};
use rimwise::study::compare::Comparison;
use rimwise::study::invented;
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

pub(crate) fn rimwise() -> Command {
    let mut command = Command::cargo_bin("rimwise").expect("the program was built");
    command.env("NO_COLOR", "1").current_dir(env!("CARGO_MANIFEST_DIR"));
    command
}

pub(crate) fn room() -> tempfile::TempDir {
    tempfile::tempdir().expect("a folder")
}

/// Rows of CSV, each from column to field.
pub(crate) type Rows = Vec<BTreeMap<String, String>>;

pub(crate) fn table(bytes: &[u8]) -> Rows {
    let mut reader = csv::Reader::from_reader(bytes);
    reader.deserialize().map(|row| row.expect("a row as long as the header")).collect()
}

pub(crate) fn csv_text(rows: impl IntoIterator<Item = Vec<String>>) -> Vec<u8> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    for row in rows {
        writer.write_record(row).expect("written to memory");
    }
    writer.into_inner().expect("written to memory")
}

/// Works orders into a folder of the room; gives back the exit code and what was said.
pub(crate) fn stock(room: &Path, orders: &[u8], out: &str) -> (i32, String) {
    let path = room.join(format!("{out}.csv"));
    fs::write(&path, orders).expect("a file");
    let assert = rimwise().arg("stock").arg(&path).arg("--out").arg(room.join(out)).assert();
    let output = assert.get_output();
    (output.status.code().expect("an end"), String::from_utf8(output.stderr.clone()).expect("text"))
}

pub(crate) fn file(room: &Path, out: &str, name: &str) -> Vec<u8> {
    fs::read(room.join(out).join(name)).expect("a file of the folder")
}

const COLUMNS: [&str; 23] = [
    "order",
    "eye",
    "sphere",
    "cylinder",
    "axis",
    "prism_pd",
    "base_deg",
    "pd_mm",
    "shape",
    "outline",
    "eye_size_mm",
    "depth_mm",
    "bridge_mm",
    "rim",
    "optical_centre_height_mm",
    "material",
    "supply",
    "base_curve_d",
    "min_centre_mm",
    "min_edge_mm",
    "reference_line",
    "index",
    "date",
];

/// The outline files that frames of a job name, by the name of the frame.
type Outlines = BTreeMap<String, String>;

fn outlines_of(job: &str) -> Outlines {
    let job: toml::Table = job.parse().expect("a job");
    let text = |frame: &toml::Value, key: &str| frame.get(key).and_then(toml::Value::as_str).map(str::to_owned);
    let frames = job["frame"].as_array().expect("frames").iter();
    frames.filter_map(|frame| Some((text(frame, "name")?, text(frame, "outline")?))).collect()
}

/// The same job with each eye's prisms written as one: the amount and base of their sum, as orders have it. The sum of several
/// is told in other numbers then, and its last digits may turn.
fn with_one_prism(job: &Job) -> Job {
    let mut job = job.clone();
    let eyes = &mut job.prescription.eyes;
    for prism in [&mut eyes.right.prism, &mut eyes.left.prism] {
        let told = Prism::new(prism.amount_pd(), prism.base_deg());
        assert!((told.x_pd - prism.x_pd).hypot(told.y_pd - prism.y_pd) < 1e-14, "{told:?} for {prism:?}");
        *prism = told;
    }
    job
}

/// One lens of a fit as a row of orders.
fn row_of(order: &str, eye: Eye, fit: &Fit<'_>, outlines: &Outlines) -> Vec<String> {
    let outline = outlines.get(&fit.mounting.frame.name);
    let unmeasured = |field: String| if outline.is_none() { field } else { String::new() };
    let EyeRx { power, prism, pd_mm, add: _ } = fit.prescription.eyes.of(eye);
    let boxing = fit.mounting.boxing;
    let LensOption { substance, base_curve_d, min_centre_mm, min_edge_mm, supply, .. } = fit.option;
    let Substance::Listed(material) = substance else { panic!("the demo jobs name their materials") };
    let up_mm = *fit.mounting.frame.centre_up_mm.of(eye);
    let number = |value: Option<f64>| value.map(|value| value.to_string()).unwrap_or_default();
    let with_prism = |value: f64| (!prism.is_none()).then_some(value);
    vec![
        order.to_owned(),
        eye.word().to_owned(),
        power.sphere().to_string(),
        power.cylinder().to_string(),
        power.axis().to_string(),
        number(with_prism(prism.amount_pd())),
        number(with_prism(prism.base_deg())),
        pd_mm.to_string(),
        unmeasured(fit.mounting.frame.shape.word().to_owned()),
        outline.cloned().unwrap_or_default(),
        boxing.eye_size_mm.to_string(),
        unmeasured(boxing.depth_mm.to_string()),
        boxing.bridge_mm.to_string(),
        fit.mounting.frame.rim.word().to_owned(),
        number((up_mm != 0.0).then_some(up_mm + 0.5 * boxing.depth_mm)),
        material.id.clone(),
        supply.word().to_owned(),
        number(*base_curve_d),
        number(*min_centre_mm),
        number(*min_edge_mm),
        fit.prescription.reference_line.word().to_owned(),
        String::new(),
        "2026-03-14".to_owned(),
    ]
}

/// The figures of a lens as `lenses.csv` has them.
fn figures(made: &Made) -> [(&'static str, Option<f64>); 6] {
    let thickness = &made.thickness;
    [
        ("centre_mm", thickness.centre_mm),
        ("edge_max_mm", Some(thickness.edges.max.thickness_mm)),
        ("edge_min_mm", Some(thickness.edges.min.thickness_mm)),
        ("mass_g", Some(made.mass_g)),
        ("volume_mm3", Some(made.volume_mm3)),
        ("minimum_blank_mm", Some(made.blank.minimum_mm)),
    ]
}

#[test]
fn every_demo_job_written_as_orders_gives_the_numbers_of_compare() {
    let (mut exact, mut oblique, mut measured) = (0, 0, 0);
    for path in jobs("demo-jobs").iter().filter(|path| !path.ends_with("faulty.toml")) {
        let text = fs::read_to_string(path).expect("a job");
        let files = read::OutlineFiles::beside(path);
        let job = read::job_with(text.as_bytes(), &Shelf::built_in(), &files).value.expect("sound");
        let room = room();
        let outlines = outlines_of(&text);
        for name in outlines.values() {
            fs::copy(path.with_file_name(name), room.path().join(name)).expect("an outline beside the orders");
            measured += 1;
        }
        let tally = compared(&with_one_prism(&job), &outlines, room.path(), 0.0);
        if tally.oblique > 0 {
            // As the job writes it, a prism in two directions.
            compared(&job, &outlines, room.path(), 1e-11);
        }
        assert!(tally.exact > 0, "{}: nothing was compared", path.display());
        exact += tally.exact;
        oblique += tally.oblique;
    }
    assert_eq!(measured, 2, "a demo job has two measured outlines");
    assert!(exact > 1_750 && oblique > 50, "{exact} numbers, {oblique} of them of oblique prisms");
}

#[derive(Default)]
struct Tally {
    exact: usize,
    /// Of them under an oblique prism.
    oblique: usize,
}

/// Holds orders to the job: to the digit, but for `slack` (a share) where a prism is oblique.
fn compared(job: &Job, outlines: &Outlines, room: &Path, slack: f64) -> Tally {
    let comparison = Comparison::of(job);
    let mut rows = vec![COLUMNS.map(str::to_owned).to_vec()];
    for (i, fit) in comparison.fits.iter().enumerate() {
        rows.extend(Eye::BOTH.map(|eye| row_of(&format!("F{i}"), eye, fit, outlines)));
    }
    let (_, said) = stock(room, &csv_text(rows), "out");
    let lenses = table(&file(room, "out", "lenses.csv"));
    let refused = table(&file(room, "out", "refused.csv"));
    let mut tally = Tally::default();
    for (i, fit) in comparison.fits.iter().enumerate() {
        let order = format!("F{i}");
        let Some(pair) = fit.pair() else {
            assert!(refused.iter().any(|row| row["order"] == order), "{} was made: {said}", fit.address());
            continue;
        };
        for (eye, made) in pair.eyes.iter() {
            let lens = lenses.iter().find(|row| row["order"] == order && row["eye"] == eye.word());
            let lens = lens.unwrap_or_else(|| panic!("{} {}: {refused:?}", fit.address(), eye.word()));
            for (name, wanted) in figures(made) {
                let found: Option<f64> = lens[name].parse().ok();
                let prism = &fit.prescription.eyes.of(eye).prism;
                let oblique = prism.x_pd != 0.0 && prism.y_pd != 0.0;
                let near = |(a, b): (f64, f64)| oblique && (a - b).abs() <= slack * b.abs();
                let held = found == wanted || found.zip(wanted).is_some_and(near);
                assert!(held, "{} {} {name}: {found:?} against {wanted:?}", fit.address(), eye.word());
                tally.exact += 1;
                tally.oblique += usize::from(oblique);
            }
            let blank = made.blank.diameter_mm.map_or(String::new(), |diameter| {
                format!("{}/{:.2}/{diameter}", fit.option.supply.word(), made.base.base_curve_d)
            });
            assert_eq!(lens["blank"], blank);
        }
    }
    tally
}

#[test]
fn outlines_lie_beside_the_orders_and_of_standard_input_where_the_program_was_started() {
    let (room, elsewhere) = (room(), room());
    fs::copy("demo-jobs/betony.csv", room.path().join("betony.csv")).expect("an outline");
    let orders = "order,eye,sphere,pd_mm,outline,bridge_mm,rim,material\n\
        A1,right,-4,31,betony.csv,18,metal,resin-1.60\nA2,right,-4,31,sorrel.csv,18,metal,resin-1.60\n";
    let (code, said) = stock(room.path(), orders.as_bytes(), "out");
    assert_eq!(code, 3, "{said}");
    let refused = table(&file(room.path(), "out", "refused.csv"));
    assert!(refused.len() == 1 && refused[0]["reason"].contains("sorrel.csv: there is no such file"), "{refused:?}");
    let filtered = |dir: &Path| {
        let assert = rimwise().args(["stock", "-"]).current_dir(dir).write_stdin(orders).assert();
        assert.get_output().stdout.clone()
    };
    assert_eq!(filtered(room.path()), file(room.path(), "out", "lenses.csv"));
    assert!(table(&filtered(elsewhere.path())).is_empty(), "there is no outline");
}

/// Invented orders as text.
pub(crate) fn invented(lenses: u64, seed: u64) -> Vec<Vec<String>> {
    let header = invented::columns().map(str::to_owned).to_vec();
    std::iter::once(header).chain(invented::Orders::new(lenses, seed).map(|row| row.to_vec())).collect()
}

pub(crate) fn column(name: &str) -> usize {
    invented::columns().iter().position(|column| *column == name).expect("a column")
}

#[test]
fn four_bad_rows_in_ten_thousand_are_refused_alone() {
    let room = room();
    let mut rows = invented(10_000, 3);
    let (code, _) = stock(room.path(), &csv_text(rows.clone()), "good");
    let impossible = table(&file(room.path(), "good", "refused.csv"));
    assert_eq!(code, if impossible.is_empty() { 0 } else { 3 });
    let good = table(&file(room.path(), "good", "lenses.csv"));
    assert_eq!(good.len() + impossible.len(), 10_000);
    // Row 1 is the header, which is the first of the rows.
    let bad = [
        (17, "sphere", "-4,25", "`sphere` is the text \"-4,25\""),
        (4_242, "shape", "ovel", "`shape` is \"ovel\""),
        (7_777, "pd_mm", "63", "`pd_mm` is 63 mm"),
        (10_001, "date", "2025-02-30", "`date` is the text \"2025-02-30\""),
    ];
    for (row, name, text, _) in bad {
        rows[row - 1][column(name)] = text.to_owned();
    }
    let (code, said) = stock(room.path(), &csv_text(rows.clone()), "bad");
    assert_eq!(code, 3, "{said}");
    let refused = table(&file(room.path(), "bad", "refused.csv"));
    for (row, _, _, reason) in bad {
        let found = refused.iter().find(|refused| refused["row"] == row.to_string()).expect("refused");
        assert!(found["reason"].contains(reason), "row {row}: {}", found["reason"]);
        assert_eq!(found["order"], rows[row - 1][0], "row {row}");
    }
    let here: Vec<&String> = impossible.iter().map(|row| &row["row"]).collect();
    let also = refused.iter().filter(|refused| !bad.iter().any(|(row, ..)| refused["row"] == row.to_string()));
    assert_eq!(also.map(|refused| &refused["row"]).collect::<Vec<_>>(), here, "others were refused too");
    // All the others are what they were, but for those of the same order, whose base is now chosen alone.
    let touched: Vec<&String> = bad.iter().map(|(row, ..)| &rows[row - 1][0]).collect();
    let kept = |lenses: &[BTreeMap<String, String>]| -> Vec<BTreeMap<String, String>> {
        lenses.iter().filter(|lens| !touched.contains(&&lens["order"])).cloned().collect()
    };
    let after = table(&file(room.path(), "bad", "lenses.csv"));
    assert_eq!(kept(&after), kept(&good));
    assert_eq!(after.len(), good.len() - 4);
}

/// The rows shared out over parts, none of which ends within an order.
fn parts(rows: &[Vec<String>], number: usize) -> Vec<Vec<Vec<String>>> {
    let size = (rows.len() - 1).div_ceil(number);
    let mut parts = vec![vec![rows[0].clone()]];
    for (i, row) in rows.iter().enumerate().skip(1) {
        let full = parts.last().is_some_and(|part| part.len() > size);
        if full && rows[i - 1][0] != row[0] {
            parts.push(vec![rows[0].clone()]);
        }
        parts.last_mut().expect("one").push(row.clone());
    }
    parts
}

#[test]
fn totals_do_not_depend_on_how_orders_are_shared_out_or_sorted() {
    let room = room();
    let rows = invented(3_000, 5);
    stock(room.path(), &csv_text(rows.clone()), "whole");
    let whole = file(room.path(), "whole", "totals.json");
    for number in [1, 7, 100] {
        let mut merge = rimwise();
        merge.arg("stock").arg("--merge");
        let shared = parts(&rows, number);
        // Cutting between orders only may make a part or two fewer.
        assert!(shared.len() + 3 > number, "{} parts", shared.len());
        for (i, part) in shared.iter().enumerate() {
            let name = format!("part-{number}-{i}");
            stock(room.path(), &csv_text(part.clone()), &name);
            merge.arg(room.path().join(name));
        }
        let out = format!("merged-{number}");
        merge.arg("--out").arg(room.path().join(&out)).assert().code(0);
        for name in ["totals.json", "blanks.csv", "index.html"] {
            assert!(file(room.path(), &out, name) == file(room.path(), "whole", name), "{name} of {number} parts");
        }
    }
    // The other way round, whole orders at a time.
    let mut orders: Vec<&[Vec<String>]> = rows[1..].chunk_by(|a, b| a[0] == b[0]).collect();
    orders.reverse();
    let reversed: Vec<Vec<String>> = [&rows[..1]].into_iter().chain(orders).flatten().cloned().collect();
    stock(room.path(), &csv_text(reversed), "reversed");
    assert!(file(room.path(), "reversed", "totals.json") == whole);
}

/// A number of a CSV in millionths.
fn millionths(text: &str) -> u128 {
    (text.parse::<f64>().expect("a number") * 1e6).round() as u128
}

#[test]
fn totals_are_what_the_lenses_add_up_to() {
    let room = room();
    stock(room.path(), &csv_text(invented(2_000, 6)), "out");
    let lenses = table(&file(room.path(), "out", "lenses.csv"));
    let totals: serde_json::Value = serde_json::from_slice(&file(room.path(), "out", "totals.json")).expect("JSON");
    for name in ["mass_g", "volume_mm3"] {
        let sum: u128 = lenses.iter().map(|lens| millionths(&lens[name])).sum();
        assert_eq!(totals["millionths"][name].to_string(), sum.to_string(), "{name}");
    }
    assert_eq!(totals["lenses"], lenses.len());
    let mut counted: BTreeMap<String, u64> = BTreeMap::new();
    for lens in &lenses {
        *counted.entry(lens["blank"].clone()).or_default() += 1;
    }
    let mut listed: BTreeMap<String, u64> = BTreeMap::new();
    for blank in table(&file(room.path(), "out", "blanks.csv")) {
        let name = format!("{}/{}/{}", blank["supply"], blank["base_curve_d"], blank["diameter_mm"]);
        *listed.entry(name).or_default() += blank["count"].parse::<u64>().expect("a number");
    }
    assert_eq!(counted, listed);
}

#[test]
fn as_a_filter_it_writes_the_same_lines() {
    let room = room();
    let mut rows = invented(500, 8);
    rows[20][column("rim")] = "wood".to_owned();
    let text = csv_text(rows);
    stock(room.path(), &text, "out");
    let assert = rimwise().args(["stock", "-"]).write_stdin(text).assert().code(3);
    assert_eq!(assert.get_output().stdout, file(room.path(), "out", "lenses.csv"));
    assert_eq!(assert.get_output().stderr, file(room.path(), "out", "refused.csv"));
    let again = room.path().join("again");
    rimwise().args(["stock", "-", "--out"]).arg(&again).write_stdin(csv_text(invented(0, 1))).assert().code(0);
    assert!(again.join("index.html").is_file());
    // With nothing to do there is still a header, and nothing to say.
    let header = csv_text(invented(0, 1));
    let head = rimwise::report::orders::LENSES.join(",") + "\n";
    rimwise().args(["stock", "-"]).write_stdin(header).assert().code(0).stdout(head).stderr("");
}

const HEAD: &str = "order,eye,sphere,pd_mm,shape,eye_size_mm,depth_mm,bridge_mm,rim,material,prism_pd,base_deg,index,abbe,density,min_centre_mm,min_edge_mm,supply\n";
const TAIL: &str = "31,oval,50,40,18,metal,resin-1.60,,,,,,,,\n";

/// What `stock -` says of orders: lenses and refused rows.
fn filtered(text: &str) -> (Rows, Rows) {
    let assert = rimwise().args(["stock", "-"]).write_stdin(text).assert();
    let output = assert.get_output();
    (table(&output.stdout), table(&output.stderr))
}

#[test]
fn cautions_of_all_rows_are_kept_with_their_rows_and_counted_by_kind() {
    let room = room();
    let mut rows = invented(3_000, 12);
    // A pd that is seldom, in a row that is done and in one that is refused for another reason; a base that is not listed.
    let seldom = [12, 1_500];
    for row in seldom {
        rows[row - 1][column("pd_mm")] = "23.5".to_owned();
    }
    rows[1_499][column("rim")] = "wood".to_owned();
    rows[0].push("base_curve_d".to_owned());
    for (i, row) in rows.iter_mut().enumerate().skip(1) {
        let surfaced = row[column("supply")] == "surfaced";
        row.push(if i % 100 == 0 && surfaced { "5.25".to_owned() } else { String::new() });
    }
    let unlisted: Vec<usize> =
        (0..rows.len()).filter(|i| *i > 0 && rows[*i].last().is_some_and(|base| base == "5.25")).collect();
    assert!(unlisted.len() > 10, "{unlisted:?}");
    let (_, _) = stock(room.path(), &csv_text(rows.clone()), "out");
    let cautions = table(&file(room.path(), "out", "cautions.csv"));
    let of = |id: &str| -> Vec<usize> {
        let these = cautions.iter().filter(|caution| caution["id"] == id);
        these.map(|caution| caution["row"].parse().expect("a number")).collect()
    };
    assert_eq!(of("lens.base-not-listed"), unlisted.iter().map(|i| i + 1).collect::<Vec<_>>());
    let found = of("eye.pd-unusual");
    assert!(seldom.iter().all(|row| found.contains(row)), "{found:?}");
    for caution in &cautions {
        let row: usize = caution["row"].parse().expect("a number");
        assert_eq!(caution["order"], rows[row - 1][0]);
        assert!(caution["caution"].ends_with(['.', '?']), "{caution:?}");
    }
    let totals: serde_json::Value = serde_json::from_slice(&file(room.path(), "out", "totals.json")).expect("JSON");
    let counted = totals["cautions"].as_object().expect("by kind");
    let sum: u64 = counted.values().map(|rows| rows.as_u64().expect("a number")).sum();
    assert_eq!((sum, counted["lens.base-not-listed"].as_u64()), (cautions.len() as u64, Some(unlisted.len() as u64)));
    let page = String::from_utf8(file(room.path(), "out", "index.html")).expect("text");
    for id in counted.keys() {
        let meaning = rimwise::report::orders::meaning(id);
        assert!(page.contains(id) && page.contains(meaning) && !meaning.contains("does not know"), "{id}: {meaning}");
    }
    // Of parts they are added up.
    for (i, part) in parts(&rows, 3).into_iter().enumerate() {
        stock(room.path(), &csv_text(part), &format!("part-{i}"));
    }
    let parts: Vec<PathBuf> = (0..3).map(|i| room.path().join(format!("part-{i}"))).collect();
    rimwise().args(["stock", "--merge"]).args(parts).arg("--out").arg(room.path().join("sum")).assert().code(0);
    assert!(file(room.path(), "sum", "totals.json") == file(room.path(), "out", "totals.json"));
}

#[test]
fn a_pair_shares_a_base_and_what_is_left_of_one_is_chosen_alone() {
    // −3.00 wants 4.50, −5.00 wants 3.50: 4.00 and 4.00 alone too. −1.00 wants 5.50: alone 6.00, with −3.50 (4.25) 4.00.
    let base = |lens: &BTreeMap<String, String>| lens["blank"].split('/').nth(1).expect("a base").to_owned();
    let row = |order: &str, eye: &str, sphere: &str| format!("{order},{eye},{sphere},{TAIL}");
    let text = [
        HEAD.to_owned(),
        row("pair", "right", "-1.00"),
        row("pair", "left", "-3.50"),
        row("alone", "right", "-1.00"),
        row("half", "right", "-1.00"),
        row("half", "left", "-350"),
        // Others between them: not one pair.
        row("apart", "right", "-1.00"),
        row("other", "left", "-3.50"),
        row("apart", "left", "-3.50"),
        // Two of the same eye: not one pair either.
        row("same", "right", "-1.00"),
        row("same", "right", "-3.50"),
    ];
    let (lenses, refused) = filtered(&text.concat());
    let bases: Vec<String> = lenses.iter().map(base).collect();
    assert_eq!(bases, ["4.00", "4.00", "6.00", "6.00", "6.00", "4.00", "4.00", "6.00", "4.00"]);
    assert_eq!((refused.len(), refused[0]["row"].as_str()), (1, "6"));
}

#[test]
fn what_spreadsheets_take_for_a_formula_is_refused_and_not_repeated() {
    for sign in ["=", "+", "-", "@"] {
        let (lenses, refused) = filtered(&format!("{HEAD}{sign}2+3,right,-1.00,{TAIL}A1,right,-1.00,{TAIL}"));
        assert_eq!(lenses.len(), 1, "{sign}");
        assert_eq!(refused[0]["order"], format!("'{sign}2+3"));
        assert!(refused[0]["reason"].contains("formula"), "{}", refused[0]["reason"]);
    }
}

#[test]
fn names_with_commas_quotes_and_letters_of_any_script_come_back_as_they_were() {
    for order in ["A, B", "the \"big\" one", "Ünal–7", "処方 12", "007"] {
        let field = format!("\"{}\"", order.replace('"', "\"\""));
        let (lenses, refused) = filtered(&format!("\u{feff}{HEAD}{field},right,-1.00,{TAIL}"));
        assert!(refused.is_empty(), "{refused:?}");
        assert_eq!(lenses[0]["order"], order);
    }
}

#[test]
fn a_row_says_what_is_wrong_with_it_by_its_columns() {
    let said = |row: &str| {
        let (_, refused) = filtered(&format!("{HEAD}{row}\n"));
        refused.first().map(|refused| refused["reason"].clone()).unwrap_or_default()
    };
    let shows = |row: &str, words: &str| {
        let reason = said(row);
        assert!(reason.contains(words), "{row}: {reason}");
        for wrong in ["--", "[[", "quotes", "list"] {
            assert!(!reason.contains(wrong), "{row}: {reason}");
        }
    };
    shows("A,right,-1.00,31,oval,50,40,18,metal,,,,,,,,,", "`material` is missing");
    shows(",right,-1.00,31,oval,50,40,18,metal,resin-1.60,,,,,,,,", "`order` is missing");
    shows("A,right,-99,31,oval,50,40,18,metal,resin-1.60,,,,,,,,", "`sphere` is -99 D (allowed: -40 to 30 D)");
    shows(
        "A,right,-1.00,31,oval,5O,40,18,metal,resin-1.60,,,,,,,,",
        "`eye_size_mm` is the text \"5O\" (allowed: a number)",
    );
    shows("A,right,-1.00,31,oval,50,x,18,metal,resin-1.60,,,,,,,,", "`depth_mm` is the text \"x\" (allowed: a number)");
    shows("A,right,-1.00,31,oval,50,40,18,metal,resin-1.60,2,,,,,,,", "`base_deg` is missing");
    shows("A,right,-1.00,31,oval,50,40,18,metal,resin-1.60,25,0,,,,,,", "`prism_pd` is 25 Δ");
    shows("A,right,-1.00,31,oval,50,40,18,metal,,,,1.6,41,1.3,,,", "`min_centre_mm` is missing");
    shows("A,right,-1.00,31,oval,50,40,18,metal,,,,1.6,,1.3,1,1,", "`abbe` is missing");
    shows("A,right,-1.00,31,oval,50,40,18,metal,resin-1.60,,,1.6,,,,,", "named, and given by its numbers as well");
    shows("A,right,-9.00,31,oval,50,40,18,metal,resin-1.60,,,,,,,,stock", "no ready-made lens");
    shows("A,both,-1.00,31,oval,50,40,18,metal,resin-1.60,,,,,,,,", "`eye` is \"both\"");
    shows("A,right,-1.00", "The row has 3 fields and the header has 18");
    shows("A,right,1e999,31,oval,50,40,18,metal,resin-1.60,,,,,,,,", "`sphere` is 1e999");
    // An inline material is worked, without a blank; a prism of nothing needs no base.
    let (lenses, _) = filtered(&format!("{HEAD}A,right,-1.00,31,oval,50,40,18,metal,,0,,1.6,41,1.3,1.2,1,\n"));
    assert_eq!((lenses.len(), lenses[0]["blank"].as_str()), (1, ""));
}

#[test]
fn what_is_no_orders_is_refused_whole() {
    let room = room();
    let says = |text: &[u8], words: &[&str]| {
        let (code, said) = stock(room.path(), text, "out");
        assert_eq!(code, 2, "{said}");
        for word in words {
            assert!(said.contains(word), "{word:?} is not in: {said}");
        }
        assert!(!room.path().join("out").exists());
    };
    says(b"", &["row 1", "nothing in it"]);
    says(HEAD.replace(',', ";").as_bytes(), &["semicolons"]);
    says(HEAD.replace("sphere", "spere").as_bytes(), &["no column \"spere\"", "did you mean `sphere`?"]);
    says(
        b"order,eye,eye,colour\n",
        &["`eye` is there twice", "no column \"colour\"", "`sphere`, `pd_mm`", "must be there"],
    );
    let endless = format!("{HEAD}A,right,\"{}", "0123456789,\n".repeat(200_000));
    says(endless.as_bytes(), &["row 2 is longer", "not closed"]);
    rimwise().args(["stock", "no-such.csv", "--out"]).arg(room.path().join("out")).assert().code(2);
    rimwise().arg("stock").arg(room.path()).arg("--out").arg(room.path().join("out")).assert().code(2);
    rimwise().args(["stock", "orders.csv"]).assert().code(2);
    // Trailing rows of nothing, as spreadsheets leave them, are no rows.
    let (lenses, refused) = filtered(&format!("{HEAD}A,right,-1.00,{TAIL}\n,,,,,,,,,,,,,,,,,\n\n"));
    assert_eq!((lenses.len(), refused.len()), (1, 0));
}

#[test]
fn parts_that_are_none_are_not_added_up() {
    let room = room();
    stock(room.path(), &csv_text(invented(100, 9)), "part");
    let part = room.path().join("part");
    let out = room.path().join("sum");
    let merge = |parts: &[&Path]| {
        let assert = rimwise().args(["stock", "--merge"]).args(parts).arg("--out").arg(&out).assert();
        let output = assert.get_output().clone();
        (output.status.code(), String::from_utf8(output.stderr).expect("text"))
    };
    let (code, said) = merge(&[&part, &room.path().join("part/../part")]);
    assert!(code == Some(2) && said.contains("named twice"), "{said}");
    assert_eq!(merge(&[room.path()]).0, Some(2));
    let text = String::from_utf8(file(room.path(), "part", "totals.json")).expect("text");
    for (from, to) in
        [("\"rows\": 100", "\"rows\": 101"), ("\"format\": 1", "\"format\": 2"), ("\"lenses\"", "\"lens\"")]
    {
        let changed = room.path().join("changed");
        fs::create_dir_all(&changed).expect("a folder");
        fs::write(changed.join("totals.json"), text.replacen(from, to, 1)).expect("a file");
        let (code, said) = merge(&[&part, &changed]);
        assert!(code == Some(2) && said.contains("totals"), "{said}");
    }
    assert!(!out.exists());
}

#[test]
fn a_run_that_is_killed_leaves_nothing_under_its_name() {
    use std::io::Write;
    use std::process::{Command, Stdio};
    let room = room();
    let mut child = Command::new(assert_cmd::cargo::cargo_bin("rimwise"))
        .args(["stock", "-", "--out", "out"])
        .current_dir(room.path())
        .stdin(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .expect("started");
    let mut orders = child.stdin.take().expect("piped");
    orders.write_all(&csv_text(invented(5_000, 4))).expect("read");
    let begun = || fs::read_dir(room.path()).expect("there").any(|entry| entry.is_ok());
    for _ in 0..600 {
        if begun() {
            break;
        }
        std::thread::sleep(std::time::Duration::from_millis(50));
    }
    assert!(begun(), "nothing was begun");
    child.kill().expect("running");
    child.wait().expect("ended");
    drop(orders);
    assert!(!room.path().join("out").exists());
}

#[test]
fn invented_orders_are_the_same_for_a_seed_and_look_like_orders() {
    let rows = invented(4_000, 2);
    assert_eq!(rows, invented(4_000, 2));
    assert_ne!(rows, invented(4_000, 3));
    let body = &rows[1..];
    assert_eq!(body.len(), 4_000);
    let of = |name: &str| {
        let at = column(name);
        body.iter().map(move |row| row[at].as_str())
    };
    assert!(of("date").is_sorted() && of("date").all(|date| date.starts_with("2025-")));
    assert_eq!((of("date").next(), of("date").next_back()), (Some("2025-01-01"), Some("2025-12-31")));
    let share = |name: &str| of(name).filter(|text| !text.is_empty()).count() as f64 / 4_000.0;
    assert!((share("prism_pd") - 0.1).abs() < 0.03, "{}", share("prism_pd"));
    assert!((share("cylinder") - 0.65).abs() < 0.05, "{}", share("cylinder"));
    // Dodgson, Proc. SPIE 5291 (2004) 36: adults about 63 mm in the mean, the vast majority 50 to 75.
    let pd: Vec<f64> = of("pd_mm").map(|pd| 2.0 * pd.parse::<f64>().expect("a number")).collect();
    let mean = pd.iter().sum::<f64>() / pd.len() as f64;
    assert!((mean - 63.0).abs() < 0.7, "{mean}");
    assert!(pd.iter().filter(|pd| (50.0..=75.0).contains(*pd)).count() > 3_960);
    for name in invented::columns() {
        assert!(keys::columns().any(|key| key.column() == Some(name)), "{name}");
    }
}

#[test]
fn the_demo_orders_are_those_of_the_program() {
    let kept = fs::read(PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("demo-jobs/orders.csv")).expect("demo orders");
    assert!(kept == csv_text(invented(60, 1)), "rimwise new-orders demo-jobs/orders.csv --lenses 60 --seed 1");
}

/// Rows that were read, whatever is in them.
fn read_all(bytes: &[u8]) -> usize {
    let Ok(mut orders) = Orders::new(bytes) else { return 0 };
    let header = orders.header().clone();
    let shelf = Shelf::built_in();
    let mut rows = 0;
    while let Ok(units) = orders.some(10) {
        if units.is_empty() {
            break;
        }
        for row in units.iter().flat_map(|unit| std::iter::once(&unit.first).chain(&unit.second)) {
            let judged = header.judge(row, &shelf, &rimwise::job::NoOutlines);
            assert_eq!(judged.value.is_none(), judged.findings.iter().any(|finding| finding.is_fault()));
            rows += 1;
        }
    }
    rows
}

proptest::proptest! {
    #![proptest_config(proptest::prelude::ProptestConfig { cases: 300, failure_persistence: None, ..Default::default() })]

    #[test]
    fn whatever_stands_in_a_row_is_judged(
        at in 0usize..4000,
        length in 0usize..30,
        put in proptest::collection::vec(proptest::prelude::any::<u8>(), 0..12),
    ) {
        let mut bytes = csv_text(invented(20, 1));
        let from = at.min(bytes.len());
        let to = (from + length).min(bytes.len());
        bytes.splice(from..to, put);
        proptest::prop_assert!(read_all(&bytes) <= 40);
    }
}
