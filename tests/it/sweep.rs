//! One thing varied, or two: every row against a job in which the value is written, gaps, refusals, CSV, pixels.

use crate::report::{demo, golden, job, skeleton};
use crate::snapshot::compare_with_snapshot;
use assert_cmd::Command;
use rimwise::advice;
use rimwise::draw::png::PIXELS_PER_MM;
use rimwise::job::{Addressed, Job};
use rimwise::material::Shelf;
use rimwise::read::vary::vary;
use rimwise::report::words::sweep as sweep_words;
use rimwise::report::{folder, pictures, sweep_rows, text, wire};
use rimwise::study::compare::Comparison;
use rimwise::study::sweep::{Asked, Show, Sweep, VaryFault, WHAT, defaults};
use serde_json::Value;
use std::collections::BTreeSet;
use std::path::Path;

/// A job with every key that can be varied, both eyes alike.
const WHOLE: &str = r#"
format = 1
[prescription.right]
sphere = -6.25
cylinder = -1.5
axis = 175
prism = [{ amount_pd = 1.5, base = "in" }]
pd_mm = 31.5
[prescription.left]
sphere = -6.25
cylinder = -1.5
axis = 175
prism = [{ amount_pd = 1.5, base = "in" }]
pd_mm = 31.5
[[frame]]
name = "Fennel"
shape = "panto"
eye_sizes_mm = [48]
depth_mm = 40
bridge_mm = 18
rim = "metal"
optical_centre_height_mm = 22
[[lens]]
name = "thin"
material = "resin-1.60"
"#;

/// The same mild and without a prism, so that it comes ready-made.
fn mild() -> String {
    WHOLE.replace("sphere = -6.25", "sphere = -2.25").replace("prism = [{ amount_pd = 1.5, base = \"in\" }]\n", "")
}

fn asked<'j>(job: &'j Job, words: &[&str]) -> Asked<'j> {
    let shelf = Shelf::built_in();
    let frame = &job.frames[0];
    let at = Addressed { frame, boxing: frame.sizes[0], option: &job.lenses[0], prescription: &job.prescription };
    let varied = words.iter().map(|text| vary(text, &shelf).unwrap_or_else(|fault| panic!("{text}: {fault:?}")));
    Asked::new(at, None, varied.collect()).unwrap_or_else(|fault| panic!("{words:?}: {fault:?}"))
}

fn swept<'j>(job: &'j Job, words: &[&str]) -> Sweep<'j> {
    Sweep::of(asked(job, words), &|| ())
}

fn json(of: &Sweep<'_>) -> Value {
    serde_json::from_str(&wire::sweep_text(of)).expect("JSON")
}

fn compared(text: &str) -> Vec<Value> {
    let job = job(text);
    let answer: Value = serde_json::from_str(&wire::compare_text(&Comparison::of(&job), &[])).expect("JSON");
    answer["fits"].as_array().expect("fits").clone()
}

/// What a row and a fit must have in common.
fn outcome(of: &Value) -> [Value; 4] {
    ["right", "left", "pair", "impossible"].map(|key| of.get(key).cloned().unwrap_or_default())
}

/// What is varied, the job that it is varied of, and the job in which a value of it is written.
struct Told {
    vary: String,
    of: String,
    with: Box<dyn Fn(&Value) -> String>,
}

/// A job for every row of the catalogue.
fn told(word: &str) -> Told {
    let key = |vary: &str, was: &str, is: &'static str| {
        assert!(WHOLE.contains(was), "{was} is in the job");
        let was = was.to_owned();
        let with = move |value: &Value| WHOLE.replace(&was, &is.replace('#', &value.to_string()));
        Told { vary: vary.to_owned(), of: WHOLE.to_owned(), with: Box::new(with) }
    };
    let lens = |vary: &str, is: &'static str| {
        let with = move |value: &Value| format!("{WHOLE}{}\n", is.replace('#', &value.to_string()));
        Told { vary: vary.to_owned(), of: WHOLE.to_owned(), with: Box::new(with) }
    };
    match word {
        // The first size stays the first, so that the proportion is its own.
        "eye_size_mm" => key("eye_size_mm=36:62:1.3", "[48]", "[48, #]"),
        "depth_mm" => Told {
            vary: "depth_mm=26:46:2.5".to_owned(),
            of: WHOLE.replace("optical_centre_height_mm = 22\n", ""),
            with: Box::new(|value| {
                let text = WHOLE.replace("optical_centre_height_mm = 22\n", "");
                text.replace("depth_mm = 40", &format!("depth_mm = {value}"))
            }),
        },
        "bridge_mm" => key("bridge-mm=12:26:1.75", "bridge_mm = 18", "bridge_mm = #"),
        "pd_mm" => key("pd_mm=36:26:0.7", "pd_mm = 31.5", "pd_mm = #"),
        "sphere" => key("sphere=5:-29:1.25", "sphere = -6.25", "sphere = #"),
        "cylinder" => key("cylinder=-4:3:0.5", "cylinder = -1.5", "cylinder = #"),
        "axis" => key("axis=0:180:15", "axis = 175", "axis = #"),
        "prism_pd" => key("prism_pd=0:6:0.5", "amount_pd = 1.5", "amount_pd = #"),
        "material" => key("material", "\"resin-1.60\"", "#"),
        "supply" => Told {
            vary: "supply".to_owned(),
            of: mild(),
            with: Box::new(|value| format!("{}supply = {value}\n", mild())),
        },
        "base_curve_d" => lens("base_curve_d=0:9:0.5", "base_curve_d = #"),
        "min_centre_mm" => lens("min_centre_mm=1:3:0.25", "min_centre_mm = #"),
        "min_edge_mm" => lens("min_edge_mm=0.5:6:0.5", "min_edge_mm = #"),
        "index" => {
            // The rest is the material's, as it was chosen.
            let shelf = Shelf::built_in();
            let glass = shelf.get("resin-1.60").expect("on the shelf").glass(rimwise::light::ReferenceLine::D);
            let rest = format!("abbe = {}, density = {} }}", glass.abbe, glass.density);
            let is = move |value: &Value| {
                let job = job(WHOLE);
                let comparison = Comparison::of(&job);
                let made = &comparison.fits[0].pair().expect("a pair").eyes.right;
                let minima = rimwise::choose::minimum::minima(&job.lenses[0], job.frames[0].rim).kept;
                let text = WHOLE.replace("\"resin-1.60\"", &format!("{{ index = {value}, {rest}"));
                format!(
                    "{text}base_curve_d = {}\nmin_centre_mm = {}\nmin_edge_mm = {}\n",
                    made.base.base_curve_d, minima.centre_mm, minima.edge_mm
                )
            };
            Told { vary: "index=1.45:1.95:0.05".to_owned(), of: WHOLE.to_owned(), with: Box::new(is) }
        }
        word => panic!("nobody knows a job for {word}"),
    }
}

#[test]
fn every_row_is_what_compare_has_for_that_value() {
    let (mut rows, mut impossible) = (0, 0);
    for what in WHAT {
        let told = told(what.word);
        let job = job(&told.of);
        let answer = json(&swept(&job, &[&told.vary]));
        assert_eq!(answer["vary"], Value::from(vec![what.word]));
        let mut kinds = BTreeSet::new();
        for row in answer["rows"].as_array().expect("rows") {
            let value = &row["values"][0];
            let fits = compared(&(told.with)(value));
            let fit = fits.last().expect("a fit");
            if what.word == "eye_size_mm" {
                assert_eq!(fit["eye_size_mm"].as_f64(), value.as_f64());
            }
            let [mut ours, mut theirs] = [outcome(row), outcome(fit)];
            if what.word == "index" {
                // There a job gives the base that was chosen here.
                for side in [&mut ours, &mut theirs].into_iter().flat_map(|of| of.iter_mut().take(2)) {
                    if let Some(front) = side.get_mut("front") {
                        front["chosen_by"] = Value::Null;
                    }
                }
            }
            assert_eq!(ours, theirs, "{} {value}", what.word);
            kinds.insert(ours[2].to_string() + &ours[0].to_string() + &ours[3].to_string());
            rows += 1;
            impossible += usize::from(!ours[3].is_null());
        }
        assert!(kinds.len() > 1, "{} makes no difference", what.word);
    }
    assert!(rows > 150 && impossible > 3, "{rows} rows, {impossible} of them impossible");
}

#[test]
fn two_things_are_varied_as_one_after_the_other() {
    let job = demo("strong-minus");
    let both = json(&swept(&job, &["eye_size_mm=44:56:4", "bridge_mm=16:20:2"]));
    assert_eq!(both["rows"].as_array().map(Vec::len), Some(12));
    let mut i = 0;
    for size in [44.0, 48.0, 52.0, 56.0] {
        for bridge in [16.0, 18.0, 20.0] {
            let row = &both["rows"][i];
            assert_eq!(row["values"], Value::from(vec![size, bridge]));
            let mut one = job.clone();
            one.frames.truncate(1);
            one.lenses.truncate(1);
            one.present = None;
            let first = one.frames[0].sizes[0];
            one.frames[0].sizes = vec![rimwise::frame::Boxing { bridge_mm: bridge, ..first.at_eye_size(size) }];
            let fit: Value = serde_json::from_str(&wire::compare_text(&Comparison::of(&one), &[])).expect("JSON");
            assert_eq!(outcome(row), outcome(&fit["fits"][0]), "{size} {bridge}");
            i += 1;
        }
    }
    // Whichever is named first, the depth counts after the eye size.
    let depth_first = json(&swept(&job, &["depth_mm=30:36:6", "eye_size_mm=44:50:6"]));
    let size_first = json(&swept(&job, &["eye_size_mm=44:50:6", "depth_mm=30:36:6"]));
    assert_eq!(outcome(&depth_first["rows"][1]), outcome(&size_first["rows"][2]));
    assert_ne!(outcome(&depth_first["rows"][1]), outcome(&size_first["rows"][1]));
}

#[test]
fn the_base_stays_while_sizes_vary_and_may_step_with_the_power() {
    let job = demo("strong-minus");
    let bases = |words: &[&str]| -> Vec<f64> {
        let sweep = swept(&job, words);
        let pairs = sweep.rows.iter().filter_map(|row| row.pair());
        let mut bases: Vec<f64> = pairs.map(|pair| pair.eyes.right.base.base_curve_d).collect();
        bases.dedup();
        bases
    };
    for words in ["eye_size_mm=40:60:1", "depth_mm=28:40:1", "bridge_mm=14:24:1", "pd_mm=26:36:1", "index=1.5:1.9:0.1"]
    {
        assert_eq!(bases(&[words]).len(), 1, "{words}");
    }
    assert!(bases(&["sphere=-10:-1:0.5"]).len() > 1);
    let sweep = swept(&job, &["sphere=-10:-1:0.5"]);
    let said = text::sweep(&sweep, &defaults(&sweep.asked), false);
    assert!(said.contains("Figures step where it changes"), "{said}");
    let sweep = swept(&job, &["eye_size_mm=44:48:1"]);
    assert!(text::sweep(&sweep, &defaults(&sweep.asked), false).contains("is chosen once, 2.00 D, and stays."));
    let mild = demo("mild");
    let sweep = swept(&mild, &["supply"]);
    let said = text::sweep(&sweep, &defaults(&sweep.asked), false);
    assert!(said.contains("Made to order the base curve is 6.00 D; a ready-made lens has its own."), "{said}");
}

#[test]
fn what_cannot_be_made_is_a_row_a_gap_and_a_sentence() {
    let job = demo("strong-minus");
    let sweep = swept(&job, &["sphere=-12:-25:1"]);
    let gone: Vec<bool> = sweep.rows.iter().map(|row| row.pair().is_none()).collect();
    assert!(!gone[0] && gone[13], "{gone:?}");
    let shows = defaults(&sweep.asked);
    let said = text::sweep(&sweep, &shows, false);
    let flowing = said.split_whitespace().collect::<Vec<_>>().join(" ");
    for reason in [
        "Cannot be made from sphere −16.00 D to sphere −23.00 D. At the first: right eye: the blank of base 0.50",
        "Cannot be made from sphere −24.00 D to sphere −25.00 D. At the first: right eye: the back",
    ] {
        assert!(flowing.contains(reason), "{said}");
    }
    for row in json(&sweep)["rows"].as_array().expect("rows") {
        assert_eq!(row.get("impossible").is_some(), row.get("right").is_none());
    }
    let chart = &pictures::sweep(&sweep, &shows)[0].picture;
    assert!(chart.description.contains("Cannot be made from"), "{}", chart.description);
    assert!(chart.to_file().contains("a gap: cannot be made"));
    // In the CSV every row stands, with its reason.
    let rows = String::from_utf8(sweep_rows::csv(&sweep, &shows)).expect("text");
    assert_eq!(rows.lines().count(), 15);
    assert_eq!(rows.lines().filter(|line| line.contains("the back surface reaches only")).count(), 2);
}

#[test]
fn the_csv_has_every_digit() {
    let job = demo("strong-minus");
    let sweep = swept(&job, &["eye_size_mm=44:46:0.1", "material=resin-1.60,resin-1.74"]);
    let shows: Vec<Show> = ["pair.mass_g", "thickness.nasal_mm", "swarf_g"]
        .into_iter()
        .flat_map(|name| Show::named(name).expect("known"))
        .collect();
    let written = sweep_rows::csv(&sweep, &shows);
    let mut reader = csv::Reader::from_reader(&written[..]);
    let heads: Vec<String> = reader.headers().expect("heads").iter().map(str::to_owned).collect();
    let wanted = [
        "eye_size_mm",
        "material",
        "pair.mass_g",
        "right.thickness.nasal_mm",
        "left.thickness.nasal_mm",
        "right.edging.swarf_g",
        "left.edging.swarf_g",
        "impossible",
    ];
    assert_eq!(heads, wanted);
    let answer = json(&sweep);
    let mut compared = 0;
    for (record, row) in reader.records().zip(answer["rows"].as_array().expect("rows")) {
        let record = record.expect("a row");
        // The numbers of the values are those that a person would write.
        assert!(record[0].len() <= 4, "{}", &record[0]);
        for (column, head) in heads.iter().enumerate().skip(2).take(5) {
            let there = head.split('.').fold(row, |value, key| &value[key]);
            let (ours, there) = (record[column].parse::<f64>().expect("a number"), there.as_f64().expect("a number"));
            // The reader of JSON may be wrong in the last bit.
            assert!((ours - there).abs() <= 1e-15 * there.abs(), "{head}: {ours} {there}");
            compared += 1;
        }
    }
    assert_eq!(compared, 21 * 2 * 5);
}

#[test]
fn figures_are_named_as_in_the_json() {
    let ids = |name: &str| Show::named(name).map(|shows| shows.iter().map(Show::id).collect::<Vec<String>>());
    let is = |name: &str, wanted: &[&str]| {
        assert_eq!(ids(name), Ok(wanted.iter().map(|id| (*id).to_owned()).collect()), "{name}");
    };
    is("mass_g", &["pair.mass_g"]);
    is("left.mass_g", &["left.mass_g"]);
    is("centre_mm", &["right.thickness.centre_mm", "left.thickness.centre_mm"]);
    is("thickness.edge_max_deg", &["right.thickness.edge_max_deg", "left.thickness.edge_max_deg"]);
    is("right.blank.minimum_mm", &["right.blank.minimum_mm"]);
    is("least_taken_mm", &["right.surfacing.least_taken_mm", "left.surfacing.least_taken_mm"]);
    // Two end so.
    assert_eq!(ids("nasal_mm"), Err(vec!["reach.nasal_mm".to_owned(), "thickness.nasal_mm".to_owned()]));
    assert_eq!(ids("bulge"), Err(vec!["bulge_mm".to_owned()]));
    assert!(ids("pair.centre_mm").is_err() && ids("").is_err());
}

#[test]
fn the_json_keeps_its_names_and_types() {
    let job = demo("strong-minus");
    let mut lines = Vec::new();
    skeleton(&json(&swept(&job, &["sphere=-15:-16:1"])), "", &mut lines);
    lines.dedup();
    golden("sweep.txt", &(lines.join("\n") + "\n"));
}

fn rimwise() -> Command {
    let mut command = Command::cargo_bin("rimwise").expect("the program is built");
    command.current_dir(env!("CARGO_MANIFEST_DIR"));
    command
}

#[test]
fn the_help_names_everything_that_can_be_varied() {
    let output = rimwise().args(["sweep", "--help"]).assert().code(0).get_output().stdout.clone();
    let help = String::from_utf8(output).expect("text");
    let words: Vec<&str> = help.split(|sign: char| !(sign.is_ascii_alphanumeric() || sign == '_')).collect();
    for what in WHAT {
        assert!(words.contains(&what.word), "{}", what.word);
        // It is a question of one lens too, or a column of orders.
        assert!(what.key.single == Some(what.word) || what.key.column() == Some(what.word), "{}", what.word);
    }
}

/// What each wrong question is answered.
#[test]
fn what_cannot_be_varied_is_refused_with_its_mend() {
    let wrong: &[&[&str]] = &[
        &["--vary", "eyesize=44:56:1"],
        &["--vary", "weight=1:2:1"],
        &["--vary", "eye_size_mm"],
        &["--vary", "eye_size_mm=44:56"],
        &["--vary", "eye_size_mm=44,5:56:1"],
        &["--vary", "eye_size_mm=small:56:1"],
        &["--vary", "eye_size_mm=44:56:0"],
        &["--vary", "sphere=-2:-8:-0.25"],
        &["--vary", "eye_size_mm=nan:56:1"],
        &["--vary", "eye_size_mm=44:156:1"],
        &["--vary", "axis=1:180:0.00001"],
        &["--vary", "sphere=-8:-2:0.01", "--vary", "axis=1:180:0.5"],
        &["--vary", "pd_mm=28:34:1", "--vary", "pd_mm=28:34:1"],
        &["--vary", "index=1.5:1.7:0.1", "--vary", "material"],
        &["--vary", "pd_mm=28:34:1", "--vary", "axis=5:180:5", "--vary", "sphere=-8:-2:1"],
        &["--vary", "prism_pd=0:6:1"],
        &["--vary", "material=resin-1.61"],
        &["--vary", "material=resin-1.60,resin-1.60"],
        &["--vary", "supply=stok"],
        &["--vary", "eye_size_mm=44:56:1", "--show", "edge_max"],
        &["--vary", "eye_size_mm=44:56:1", "--show", "colour"],
        &["--vary", "eye_size_mm=44:56:1", "--frame", "Yarow"],
    ];
    let room = tempfile::tempdir().expect("a folder");
    let out = room.path().join("out");
    let mut said = String::new();
    for words in wrong {
        let mut command = rimwise();
        command.args(["sweep", "demo-jobs/strong-minus.toml"]).args(*words).arg("--out").arg(&out);
        let assert = command.assert().code(2).stdout("");
        let told = String::from_utf8_lossy(&assert.get_output().stderr).into_owned();
        said += &format!("{}\n    {}", words.join(" "), told);
        assert!(!out.exists(), "{words:?}");
    }
    for (name, words) in [("mild", "base_curve_d=2:6:1"), ("mild", "axis=5:180:5")] {
        let mut command = rimwise();
        let assert =
            command.args(["sweep", &format!("demo-jobs/{name}.toml"), "--vary", words]).assert().code(2).stdout("");
        said += &format!("{name} {words}\n    {}", String::from_utf8_lossy(&assert.get_output().stderr));
    }
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/golden/sweep-refused.txt");
    compare_with_snapshot(&path, &said).unwrap_or_else(|now| panic!("{now}"));
}

#[test]
fn what_makes_no_sense_of_a_frame_or_lens_is_refused() {
    let shelf = Shelf::built_in();
    let unfit = |text: &str, words: &str| {
        let job = job(text);
        let frame = &job.frames[0];
        let at = Addressed { frame, boxing: frame.sizes[0], option: &job.lenses[0], prescription: &job.prescription };
        Asked::new(at, None, vec![vary(words, &shelf).expect("sound")]).err()
    };
    let says = |text: &str, words: &str, wanted: &str| match unfit(text, words) {
        Some(VaryFault::Unfit { why, .. }) => assert!(why.contains(wanted), "{words}: {why}"),
        other => panic!("{words}: {other:?}"),
    };
    says(&WHOLE.replace("\"panto\"", "\"circle\"").replace("depth_mm = 40\n", ""), "depth_mm=30:40:1", "circle");
    says(&(WHOLE.to_owned() + "base_curve_d = 3\n"), "supply", "base curve");
    let inline = "{ index = 1.6, abbe = 41, density = 1.3 }\nmin_centre_mm = 1.5\nmin_edge_mm = 1";
    says(&WHOLE.replace("\"resin-1.60\"", inline), "supply", "by its numbers");
    says(&(mild() + "supply = \"stock\"\n"), "index=1.5:1.6:0.1", "ready-made");
    assert_eq!(unfit(WHOLE, "depth_mm=30:40:1"), None);
}

#[test]
fn an_end_that_is_not_reached_is_said() {
    let job = demo("strong-minus");
    let sweep = swept(&job, &["eye_size_mm=44:55:2"]);
    let said = text::sweep(&sweep, &defaults(&sweep.asked), false);
    assert!(said.contains("Eye size 55 mm is not reached in these steps; the last is eye size 54 mm."), "{said}");
    let sweep = swept(&job, &["eye_size_mm=44:56:0.1"]);
    assert_eq!(sweep.rows.len(), 121);
    assert!(!text::sweep(&sweep, &defaults(&sweep.asked), false).contains("not reached"));
}

#[test]
fn one_eye_can_be_varied_alone() {
    let args = ["sweep", "demo-jobs/strong-minus.toml", "--vary", "pd_mm=29:33:2", "--eye", "left", "--json"];
    let output = rimwise().args(args).assert().code(0).stderr("").get_output().stdout.clone();
    let answer: Value = serde_json::from_slice(&output).expect("JSON");
    assert_eq!(answer["eye"], "left");
    let [first, last] = [&answer["rows"][0], &answer["rows"][2]];
    assert_eq!(first["right"], last["right"]);
    assert_ne!(first["left"], last["left"]);
}

/// Width and height that a PNG file says of itself (PNG specification, section 11.2.2).
fn png_size(bytes: &[u8]) -> [u32; 2] {
    assert_eq!(&bytes[..8], b"\x89PNG\r\n\x1a\n");
    assert_eq!(&bytes[12..16], b"IHDR");
    [16, 20].map(|at| u32::from_be_bytes(bytes[at..at + 4].try_into().expect("four bytes")))
}

#[test]
fn a_folder_holds_page_tables_and_each_chart_twice() {
    let room = tempfile::tempdir().expect("a folder");
    let out = room.path().join("swept");
    let kinds: &[(&[&str], usize)] = &[
        (&["--vary", "eye_size_mm=44:56:1", "--show", "edge_max_mm,centre_mm,thickness.nasal_mm"], 3),
        (&["--vary", "material"], 2),
        (&["--vary", "eye_size_mm=44:56:1", "--vary", "material=resin-1.50,resin-1.74"], 2),
        (&["--vary", "sphere=-16:-10:1", "--vary", "pd_mm=28:36:1"], 2),
        (&["--vary", "eye_size_mm=46:46:1"], 0),
    ];
    for (words, charts) in kinds {
        rimwise().args(["sweep", "demo-jobs/strong-minus.toml"]).args(*words).arg("--out").arg(&out).assert().code(0);
        let names: Vec<String> = std::fs::read_dir(&out)
            .expect("the folder")
            .map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned())
            .collect();
        for name in ["index.html", "manifest.json", folder::SWEEP, folder::SWEEP_CSV] {
            assert!(names.iter().any(|there| there == name), "{words:?}: {names:?}");
        }
        let drawn: Vec<&String> = names.iter().filter(|name| name.ends_with(".svg")).collect();
        assert_eq!(drawn.len(), *charts, "{words:?}: {names:?}");
        for name in drawn {
            let svg = std::fs::read_to_string(out.join(name)).expect("a chart");
            let document = roxmltree::Document::parse(&svg).expect("XML");
            let size = |key| -> f64 {
                let size = document.root_element().attribute(key).and_then(|size| size.strip_suffix("mm"));
                size.and_then(|size| size.parse().ok()).expect("a size")
            };
            let pixels = std::fs::read(out.join(name.replace(".svg", ".png"))).expect("the same as PNG");
            let wanted = [size("width"), size("height")].map(|mm| (mm * PIXELS_PER_MM).round() as u32);
            let found = png_size(&pixels);
            // The library takes sizes in single precision.
            assert!(
                found.iter().zip(wanted).all(|(found, wanted)| found.abs_diff(wanted) <= 1),
                "{found:?} {wanted:?}"
            );
            assert!(svg.len() < 60_000, "{name} has {} bytes", svg.len());
        }
        // The page is well formed but for what HTML lets be open, and shows every chart.
        let page = std::fs::read_to_string(out.join("index.html")).expect("the page");
        assert_eq!(page.matches("<figcaption>").count(), *charts);
    }
    // What is in the way stays.
    std::fs::write(out.join("mine.txt"), "mine").expect("a file");
    rimwise()
        .args(["sweep", "demo-jobs/strong-minus.toml", "--vary", "material", "--out"])
        .arg(&out)
        .assert()
        .code(2)
        .stdout("");
    assert_eq!(std::fs::read_to_string(out.join("mine.txt")).expect("still there"), "mine");
}

#[test]
fn lines_of_a_chart_run_through_the_figures() {
    // Each point is a dot where there are few; their heights are the figures', on one scale from nought.
    let job = demo("strong-minus");
    let sweep = swept(&job, &["eye_size_mm=44:56:1"]);
    let shows = defaults(&sweep.asked);
    let svg = pictures::sweep(&sweep, &shows)[0].picture.to_file();
    let document = roxmltree::Document::parse(&svg).expect("XML");
    let dots: Vec<[f64; 2]> = document
        .descendants()
        .filter(|node| node.has_tag_name("circle") && node.attribute("r") == Some(".6"))
        .map(|node| ["cx", "cy"].map(|key| node.attribute(key).and_then(|n| n.parse().ok()).expect("a number")))
        .collect();
    assert_eq!(dots.len(), 13);
    let figures: Vec<f64> = sweep.rows.iter().map(|row| shows[0].read(row).expect("made")).collect();
    let per_mm = (dots[12][1] - dots[0][1]) / (figures[12] - figures[0]);
    for (i, (dot, figure)) in dots.iter().zip(&figures).enumerate() {
        let up = dots[0][1] + per_mm * (figure - figures[0]);
        let across = dots[0][0] + (dots[12][0] - dots[0][0]) * i as f64 / 12.0;
        assert!((dot[1] - up).abs() < 0.005 && (dot[0] - across).abs() < 0.005, "{i}: {dot:?} for {across} {up}");
    }
}

/// Each caution says which values it is about, once, and is that of the pair alone.
#[test]
fn cautions_are_those_of_each_value() {
    let job = demo("strong-minus");
    let (mut partly, mut all) = (0, 0);
    for words in [&["eye_size_mm=44:60:1"][..], &["material"], &["eye_size_mm=44:56:2", "bridge_mm=14:22:2"]] {
        let of = swept(&job, words);
        let said = of.cautions();
        for (place, row) in of.rows.iter().enumerate() {
            let alone: BTreeSet<&str> = advice::cautions(&row.fit()).iter().map(|one| one.rule.id).collect();
            let here = said.iter().filter(|one| one.rows.contains(&place));
            let swept: BTreeSet<&str> = here.map(|one| one.first.rule.id).collect();
            assert_eq!(alone, swept, "{words:?}: row {place}");
            all += alone.len();
        }
        partly += said.iter().filter(|one| one.rows.len() < of.rows.len()).count();
        let answer = json(&of);
        for (wire, one) in answer["cautions"].as_array().expect("a list").iter().zip(&said) {
            assert_eq!(wire["id"], one.first.rule.id);
            assert_eq!(wire["rows"], Value::from(one.rows.clone()));
        }
        let text = text::sweep(&of, &defaults(&of.asked), false).split_whitespace().collect::<Vec<_>>().join(" ");
        for sentence in sweep_words::cautions(&of) {
            let sentence = sentence.split_whitespace().collect::<Vec<_>>().join(" ");
            assert_eq!(text.matches(&sentence).count(), 1, "{sentence}\n{text}");
        }
    }
    assert!(partly > 2 && all > 30, "{partly} {all}");
    // Where it begins, and what the job itself has.
    let of = swept(&job, &["eye_size_mm=44:60:1"]);
    let said = sweep_words::cautions(&of).join("\n");
    assert!(said.contains(" throughout") || said.contains("from eye size "), "{said}");
}
