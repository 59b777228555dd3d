//! The program from end to end: what goes to which stream, and with which exit code it ends.

use assert_cmd::Command;
use predicates::prelude::*;
use std::fs;
use std::path::{Path, PathBuf};

fn rimwise() -> Command {
    let mut command = Command::cargo_bin("rimwise").expect("the program was built");
    command.env("NO_COLOR", "1").current_dir(env!("CARGO_MANIFEST_DIR"));
    command
}

/// An empty folder, removed at the end.
fn room() -> tempfile::TempDir {
    tempfile::tempdir().expect("a folder")
}

fn written(room: &tempfile::TempDir, name: &str, bytes: &[u8]) -> PathBuf {
    let path = room.path().join(name);
    fs::write(&path, bytes).expect("a file");
    path
}

#[test]
fn every_demo_job_but_the_faulty_one_passes() {
    let mut seen = 0;
    for path in super::messages::jobs("demo-jobs") {
        let faulty = path.ends_with("faulty.toml");
        let tally = predicate::str::contains(if faulty { "10 faults" } else { "combinations" });
        rimwise().arg("check").arg(&path).assert().code(if faulty { 2 } else { 0 }).stdout(tally);
        seen += 1;
    }
    assert!(seen > 5, "only {seen} demo jobs");
}

#[test]
fn one_bad_job_among_good_ones_makes_the_exit_code_2() {
    rimwise()
        .args(["check", "demo-jobs/mild.toml", "demo-jobs/faulty.toml", "demo-jobs/strong-plus.toml"])
        .assert()
        .code(2)
        .stdout(predicate::str::contains("mild.toml: nothing wrong").and(predicate::str::contains("strong-plus.toml")))
        .stderr(predicate::str::contains("faulty.toml:15:8").and(predicate::str::contains('\u{1b}').not()));
}

#[test]
fn a_faulty_job_is_not_compared() {
    rimwise().args(["compare", "demo-jobs/faulty.toml", "--json"]).assert().code(2).stdout("");
}

#[test]
fn what_is_no_job_file_is_refused() {
    let room = room();
    let says = |path: &Path, text: &'static str| {
        rimwise().arg("check").arg(path).assert().code(2).stderr(predicate::str::contains(text));
    };
    says(room.path(), "this is a folder");
    says(&room.path().join("none.toml"), "there is no such file");
    says(&written(&room, "large.toml", &vec![b'#'; 10_000_000]), "the file has 10,000,000 bytes and was not read");
    says(&written(&room, "just.toml", &vec![b'#'; 1_000_000]), "`format` is missing");
}

#[cfg(unix)]
#[test]
fn a_pipe_or_a_device_is_no_job_and_nobody_waits_for_it() {
    let room = room();
    let pipe = room.path().join("pipe.toml");
    assert!(std::process::Command::new("mkfifo").arg(&pipe).status().expect("mkfifo is there").success());
    let says = || predicate::str::contains("this is a pipe or a device; a file is wanted");
    for path in [pipe.as_path(), Path::new("/dev/zero")] {
        for command in ["check", "compare"] {
            let patient = std::time::Duration::from_secs(60);
            rimwise().arg(command).arg(path).timeout(patient).assert().code(2).stdout("").stderr(says());
        }
    }
    let listed = rimwise().args(["materials", "--materials"]).arg(room.path()).assert();
    listed.code(2).stdout("").stderr(says().and(predicate::str::contains("1 file not read; nothing was computed")));
}

#[cfg(unix)]
#[test]
fn a_report_is_not_written_where_it_cannot_stand() {
    let room = room();
    let says = |out: &Path, text: &'static str| {
        let compared = rimwise().args(["compare", "demo-jobs/mild.toml", "--out"]).arg(out).assert();
        compared.code(2).stdout("").stderr(predicate::str::contains(text));
    };
    let link = room.path().join("link");
    std::os::unix::fs::symlink(room.path().join("nowhere"), &link).expect("a link");
    says(&link, "this is a link to what is not there");
    says(&written(&room, "file", b"mine"), "this is a file; a folder is wanted");
    says(&room.path().join("file/report"), "this is a file; a folder is wanted");
    says(Path::new("/"), "mount point");
    if cfg!(target_os = "linux") {
        says(Path::new("/proc"), "mount point");
    }
    let mut left: Vec<_> =
        fs::read_dir(room.path()).expect("there").map(|entry| entry.expect("one").file_name()).collect();
    left.sort();
    assert_eq!(left, ["file", "link"], "something was written");
    assert_eq!(fs::read(room.path().join("file")).expect("there"), b"mine");
}

#[test]
fn a_link_to_a_folder_of_its_own_is_followed() {
    let room = room();
    let report = room.path().join("report");
    fs::create_dir(&report).expect("a folder");
    let link = room.path().join("link");
    #[cfg(unix)]
    std::os::unix::fs::symlink(&report, &link).expect("a link");
    #[cfg(not(unix))]
    std::os::windows::fs::symlink_dir(&report, &link).expect("a link");
    rimwise().args(["compare", "demo-jobs/mild.toml", "--out"]).arg(&link).assert().code(0);
    assert!(link.is_symlink() && report.join("index.html").is_file());
}

/// A job of so many combinations.
fn job_of(sizes: usize, lenses: usize) -> String {
    let whole = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-jobs/mild.toml")).expect("a job");
    let mut text = whole.split("[[frame]]").next().expect("a start").to_owned();
    let sizes: Vec<String> = (0..sizes).map(|i| (40.0 + 0.25 * i as f64).to_string()).collect();
    text.push_str(&format!(
        "[[frame]]\nname = \"A\"\nshape = \"oval\"\neye_sizes_mm = [{}]\ndepth_mm = 36\nbridge_mm = 18\nrim = \"metal\"\n",
        sizes.join(", ")
    ));
    for i in 0..lenses {
        text.push_str(&format!("[[lens]]\nname = \"L{i}\"\nmaterial = \"resin-1.60\"\n"));
    }
    text
}

#[test]
fn too_many_combinations_are_counted_and_refused() {
    let room = room();
    let job = written(&room, "many.toml", job_of(73, 137).as_bytes());
    let counted = || predicate::str::contains("10,001 combinations").and(predicate::str::contains("at most 10,000"));
    rimwise().arg("check").arg(&job).assert().code(2).stderr(counted());
    rimwise().arg("compare").arg(&job).assert().code(2).stderr(counted());
    let most = written(&room, "most.toml", job_of(50, 200).as_bytes());
    rimwise().arg("check").arg(&most).assert().code(0);
}

#[test]
fn too_many_pictures_are_refused_before_anything_is_written() {
    let room = room();
    let job = written(&room, "drawn.toml", job_of(43, 7).as_bytes());
    let out = room.path().join("report");
    rimwise()
        .arg("compare")
        .arg(&job)
        .arg("--out")
        .arg(&out)
        .assert()
        .code(2)
        .stderr(predicate::str::contains("301 combinations").and(predicate::str::contains("at most 300")));
    assert!(!out.exists());
}

#[test]
fn a_new_job_passes_and_is_not_overwritten() {
    let room = room();
    let path = room.path().join("job.toml");
    rimwise().arg("new").arg(&path).assert().code(0).stderr("");
    rimwise().arg("check").arg(&path).assert().code(0).stderr("").stdout(predicate::str::contains("nothing wrong"));
    let first = fs::read(&path).expect("a job");
    rimwise().arg("new").arg(&path).assert().code(2).stderr(predicate::str::contains("not overwritten"));
    assert_eq!(fs::read(&path).expect("a job"), first);
    rimwise().args(["new", "no/such/folder/job.toml"]).assert().code(2);
}

#[test]
fn a_new_job_stays_sound_with_every_note_taken_up() {
    let room = room();
    let path = room.path().join("job.toml");
    rimwise().arg("new").arg(&path).assert().code(0);
    let text = fs::read_to_string(&path).expect("a job");
    let lines = text.lines().map(|line| match line.strip_prefix("# ") {
        // Keys and tables are taken up; what only says something is not.
        Some(key) if key.starts_with('[') || key.split(' ').nth(1) == Some("=") => key,
        _ => line,
    });
    // These stand for others that are there.
    let others = ["pd_both_mm", "outline = ", "material = {"];
    let all: Vec<&str> = lines.filter(|line| !others.iter().any(|other| line.starts_with(other))).collect();
    let twice = all.join("\n").replacen("\nmin_centre_mm = 1.2\nmin_edge_mm = 1.0\n# index", "\n# index", 1);
    let all = written(&room, "all.toml", twice.as_bytes());
    rimwise().arg("check").arg(&all).assert().code(0).stdout(predicate::str::contains("caution"));
}

#[test]
fn the_shelf_is_listed() {
    rimwise().arg("materials").assert().code(0).stdout(
        predicate::str::contains("resin-1.67")
            .and(predicate::str::contains("0.29"))
            .and(predicate::str::contains("−6 D")),
    );
    rimwise().args(["materials", "--at-power", "nan"]).assert().code(2);
    let output = rimwise().args(["materials", "--json"]).assert().code(0).get_output().stdout.clone();
    let json: serde_json::Value = serde_json::from_slice(&output).expect("JSON");
    assert_eq!(json["format"], 1);
    let materials = json["materials"].as_array().expect("a list");
    for id in [
        "resin-1.50",
        "resin-1.53",
        "resin-1.56",
        "resin-1.60",
        "resin-1.67",
        "resin-1.74",
        "polycarbonate",
        "acrylic",
        "glass-1.523",
        "glass-1.60",
        "glass-1.70",
        "glass-1.80",
        "glass-1.90",
    ] {
        let material = materials.iter().find(|material| material["id"] == id).unwrap_or_else(|| panic!("no {id}"));
        let names: Vec<&String> = material.as_object().expect("a material").keys().collect();
        let mut wanted =
            ["id", "name", "n_d", "v_d", "density", "uv_cutoff_nm", "reflection_percent", "curve_variation_factor"];
        wanted.sort_unstable();
        assert_eq!(names, wanted);
    }
}

#[test]
fn materials_of_ones_own_are_added_or_put_in_place() {
    let room = room();
    let text =
        fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("materials/resin-1.67.toml")).expect("text");
    written(&room, "resin-1.67.toml", text.replace("1.67 resin", "house resin").as_bytes());
    written(&room, "novel.toml", text.replace("id = \"resin-1.67\"", "id = \"novel\"").as_bytes());
    let listed = |room: &tempfile::TempDir| rimwise().arg("materials").arg("--materials").arg(room.path()).assert();
    listed(&room).code(0).stdout(
        predicate::str::contains("house resin")
            .and(predicate::str::contains("novel"))
            .and(predicate::str::contains("resin-1.74")),
    );
    written(&room, "wrong.toml", text.replace("n_d = 1.665", "n_d = 16.65").as_bytes());
    written(&room, "worse.toml", b"id = \"worse\"\nname = \xff\n");
    let told = |text: &'static str| predicate::str::contains(text);
    listed(&room).code(2).stdout("").stderr(
        told("the id is \"resin-1.67\"")
            .and(told("`n_d` is 16.65"))
            .and(told("wrong.toml:4:7"))
            .and(told("allowed: 1.4 to 2"))
            .and(told("not UTF-8 text"))
            .and(told("error: materials: 3 faults; nothing was computed")),
    );
    rimwise()
        .args(["materials", "--materials", "docs"])
        .assert()
        .code(2)
        .stderr(predicate::str::contains("no material"));
}

#[test]
fn a_decimal_comma_is_told_how_to_mend() {
    let lens = "lens --eye right --pd-mm 32 --shape oval --eye-size-mm 50 --depth-mm 40 --bridge-mm 18 --rim metal";
    rimwise()
        .args(lens.split(' '))
        .args(["--material", "resin-1.67", "--sphere", "-6,25", "--cylinder", "−1,5", "--axis", "17,5"])
        .assert()
        .code(2)
        .stdout("")
        .stderr(
            predicate::str::contains("`--sphere` is the text \"-6,25\"")
                .and(predicate::str::contains("write -6.25"))
                .and(predicate::str::contains("write -1.5"))
                .and(predicate::str::contains("write 17.5"))
                .and(predicate::str::contains("error: 3 faults; nothing was computed")),
        );
    rimwise()
        .args(["limit", "demo-jobs/strong-minus.toml", "--edge-max", "5,5"])
        .assert()
        .code(2)
        .stdout("")
        .stderr(predicate::str::contains("no number; write 5.5"));
    rimwise()
        .args(["materials", "--at-power", "-6,5"])
        .assert()
        .code(2)
        .stderr(predicate::str::contains("no number; write -6.5"));
}

#[test]
fn every_fault_of_the_flags_of_a_lens_is_told_at_once() {
    rimwise()
        .args(["lens", "--eye", "rigth", "--sphere=-inf", "--pd-mm", "63", "--prism", "1.5@inn", "--eye-size-mm", "50"])
        .assert()
        .code(2)
        .stdout("")
        .stderr(
            predicate::str::contains("did you mean \"right\"")
                .and(predicate::str::contains("`--sphere` is -inf"))
                .and(predicate::str::contains("half of it is 31.5 mm"))
                .and(predicate::str::contains("the base of `--prism`"))
                .and(predicate::str::contains("`--rim` is missing"))
                .and(predicate::str::contains("as in `--material resin-1.67`")),
        );
}

#[test]
fn completions_and_help_are_printed() {
    for shell in ["bash", "zsh", "fish"] {
        rimwise().args(["completions", shell]).assert().code(0).stdout(predicate::str::contains("rimwise"));
    }
    for command in ["compare", "why", "limit", "explain", "check", "lens", "new", "materials", "completions"] {
        rimwise().args([command, "--help"]).assert().code(0).stdout(predicate::str::contains("Example: rimwise"));
    }
    rimwise().arg("--help").assert().code(0).stderr("");
    rimwise().arg("--nonsense").assert().code(2).stdout("");
    rimwise().assert().code(2);
}

#[cfg(unix)]
#[test]
fn a_closed_pipe_ends_quietly_and_a_full_disk_does_not() {
    use std::process::{Command, Stdio};
    let program = assert_cmd::cargo::cargo_bin("rimwise");
    let mut started = Command::new(&program).arg("materials").stdout(Stdio::piped()).spawn().expect("started");
    drop(started.stdout.take());
    assert!(started.wait().expect("ended").success());
    let full = fs::OpenOptions::new().write(true).open("/dev/full").expect("a device");
    let ended = Command::new(&program).arg("materials").stdout(full).stderr(Stdio::piped()).output().expect("ended");
    assert_eq!(ended.status.code(), Some(1));
    assert!(String::from_utf8_lossy(&ended.stderr).starts_with("error: "));
}

#[test]
fn why_shares_out_a_difference() {
    let why = |from: &str, to: &str| {
        rimwise().args(["why", "demo-jobs/strong-minus.toml", "--json", "--from", from, "--to", to]).assert()
    };
    let output = why("now", "Yarrow/46/slim").code(0).stderr("").get_output().stdout.clone();
    let json: serde_json::Value = serde_json::from_slice(&output).expect("JSON");
    assert_eq!((&json["format"], &json["from"]), (&1.into(), &"now".into()));
    for figure in json["figures"].as_array().expect("figures") {
        let number = |value: &serde_json::Value| value.as_f64().expect("a number");
        let whole: f64 = figure["shares"].as_array().expect("shares").iter().map(|share| number(&share["share"])).sum();
        let difference = number(&figure["difference"]);
        assert!((whole - difference).abs() < 1e-9, "{whole} and {difference}");
        assert!((number(&figure["to"]) - number(&figure["from"]) - difference).abs() < 1e-12);
    }
    rimwise()
        .args(["why", "demo-jobs/strong-minus.toml", "--from", "Yarrow/50/thin", "--to", "Yarrow/46.0/thin"])
        .assert()
        .code(0)
        .stdout(predicate::str::contains("the eye size takes 1.8 mm off it"));
}

#[test]
fn an_address_that_leads_nowhere_is_refused() {
    let says = |job: &str, from: &str, to: &str, text: &'static str| {
        rimwise().args(["why", job, "--from", from, "--to", to]).assert().code(2).stdout("").stderr(text);
    };
    let minus = "demo-jobs/strong-minus.toml";
    let there = "Yarrow/46/thin";
    says(
        minus,
        "Yarow/46/thin",
        there,
        "error: --from is `Yarow/46/thin`: no frame is called “Yarow”; did you mean “Yarrow”?\n",
    );
    says(
        minus,
        there,
        "Yarrow/47/thin",
        "error: --to is `Yarrow/47/thin`: “Yarrow” comes in 46, 48 and 50, not in “47”\n",
    );
    says(
        minus,
        there,
        "Yarrow/46/thinn",
        "error: --to is `Yarrow/46/thinn`: no lens is called “thinn”; did you mean “thin”?\n",
    );
    says(
        minus,
        there,
        "Yarrow/46/oak",
        "error: --to is `Yarrow/46/oak`: no lens is called “oak”; the job has “thin”, “thinner”, “slim” and “glass”\n",
    );
    says(
        minus,
        "Yarrow 46 thin",
        there,
        "error: --from is `Yarrow 46 thin`: wanted is FRAME/SIZE/LENS, as in Fennel/48/thin, or now\n",
    );
    says("demo-jobs/mild.toml", "now", there, "error: --from is `now`: the job says nothing of spectacles worn now\n");
    rimwise().args(["why", "demo-jobs/faulty.toml", "--from", "now", "--to", "now"]).assert().code(2).stdout("");
    rimwise().args(["why", minus, "--from", "now"]).assert().code(2).stdout("");
}

#[test]
fn limit_finds_what_stays_within_a_wish() {
    let limit = |more: &[&str]| {
        let mut command = rimwise();
        command.args(["limit", "demo-jobs/strong-minus.toml", "--edge-max", "6"]).args(more);
        command
    };
    let json = |more: &[&str]| -> serde_json::Value {
        let output = limit(more).arg("--json").assert().code(0).stderr("").get_output().stdout.clone();
        serde_json::from_slice(&output).expect("JSON")
    };
    let one = json(&["--frame", "Yarrow", "--lens", "thin"]);
    let number = |value: &serde_json::Value| value.as_f64().expect("a number");
    let (size, edge) = (number(&one["largest_eye_size_mm"]), number(&one["right"]["edge_max_mm"]));
    assert!(size > 46.0 && size < 48.0 && (edge - 6.0).abs() < 1e-4, "{size} {edge}");
    assert!(one.get("reason").is_none() && one.get("lenses").is_none());
    // The first frame and size, and every lens, where nothing is said.
    let all = json(&[]);
    assert_eq!((&all["frame"], &all["lens"], &all["eye_size_mm"]), (&"Yarrow".into(), &"thin".into(), &46.0.into()));
    assert_eq!(all["lenses"].as_array().map(Vec::len), Some(4));
    assert_eq!(all["lenses"][0]["largest_eye_size_mm"], one["largest_eye_size_mm"]);
    limit(&["--frame", "Sorrel", "--size", "54"]).assert().code(0).stdout(predicate::str::contains("at eye size 54"));
    let refused = |more: &[&str], says: &'static str| {
        limit(more).assert().code(2).stdout("").stderr(predicate::str::contains(says));
    };
    refused(&["--frame", "Sorel"], "error: --frame is `Sorel`: no frame is called “Sorel”; did you mean “Sorrel”?\n");
    refused(&["--lens", "thinne"], "did you mean “thinner”?\n");
    refused(&["--size", "47"], "error: --size is `47`: “Yarrow” comes in 46, 48 and 50, not in “47”\n");
    for wish in ["nan", "-1", "0", "41", "six"] {
        rimwise().args(["limit", "demo-jobs/strong-minus.toml", "--edge-max", wish]).assert().code(2).stdout("");
    }
    rimwise().args(["limit", "demo-jobs/faulty.toml", "--edge-max", "6"]).assert().code(2).stdout("");
}

#[test]
fn explain_works_the_lens_that_is_asked_for() {
    let explain = |job: &str, more: &[&str]| {
        let mut command = rimwise();
        command.args(["explain", &format!("demo-jobs/{job}.toml"), "--eye", "left"]).args(more);
        command
    };
    let json = |job: &str, more: &[&str]| -> serde_json::Value {
        let output = explain(job, more).arg("--json").assert().code(0).stderr("").get_output().stdout.clone();
        serde_json::from_slice(&output).expect("JSON")
    };
    let first = json("strong-minus", &[]);
    assert_eq!((&first["frame"], &first["lens"], &first["eye"]), (&"Yarrow".into(), &"thin".into(), &"left".into()));
    assert_eq!(json("strong-minus", &["--size", "48"])["eye_size_mm"], 48.0);
    assert_eq!(json("strong-minus", &["--frame", "now"])["frame"], "now");
    let refused = |more: &[&str], says: &'static str| {
        explain("strong-minus", more).assert().code(2).stdout("").stderr(predicate::str::contains(says));
    };
    refused(&["--frame", "Sorel"], "error: --frame is `Sorel`: no frame is called “Sorel”; did you mean “Sorrel”?\n");
    refused(&["--frame", "now", "--size", "48"], "error: `now` is the spectacles worn now");
    rimwise().args(["explain", "demo-jobs/mild.toml", "--eye", "both"]).assert().code(2).stdout("");
    let room = room();
    let out = room.path().join("page");
    let written = ["--out", out.to_str().expect("a path")];
    explain("mild", &written).assert().code(0).stdout(predicate::str::contains("What is prescribed"));
    for name in ["index.html", "explain.json", "worked.svg", "manifest.json"] {
        assert!(out.join(name).exists(), "{name}");
    }
}

/// A trace of a circle of 50 mm.
fn trace() -> String {
    format!("TRCFMT=1;40;E;R;F\nR={}\n", vec!["2500"; 40].join(";"))
}

/// A job with the outline of this name.
fn traced(outline: &str) -> String {
    format!(
        "format = 1\nprescription.right = {{ sphere = -4, pd_mm = 31 }}\nprescription.left = {{ sphere = -4, pd_mm = 31 }}\n\
         frame = [{{ name = \"Fennel\", outline = \"{outline}\", bridge_mm = 18, rim = \"metal\" }}]\n\
         lens = [{{ name = \"thin\", material = \"resin-1.60\" }}]\n"
    )
}

#[test]
fn an_outline_is_found_from_the_folder_of_its_job() {
    let room = room();
    fs::create_dir(room.path().join("jobs")).expect("a folder");
    written(&room, "jobs/circle.trace", trace().as_bytes());
    let job = written(&room, "jobs/job.toml", traced("circle.trace").as_bytes());
    rimwise().arg("check").arg(&job).assert().code(0);
    let out = rimwise().arg("compare").arg(&job).arg("--json").assert().code(0).get_output().stdout.clone();
    let found: serde_json::Value = serde_json::from_slice(&out).expect("JSON");
    assert_eq!(found["fits"][0]["eye_size_mm"], 50.0);
    let area = found["fits"][0]["right"]["outline"]["area_mm2"].as_f64().expect("a number");
    assert!((area / (625.0 * std::f64::consts::PI) - 1.0).abs() < 1e-4, "{area}");
    // Through standard input there is no such folder: then it is the one where the program was started.
    let program = assert_cmd::cargo::cargo_bin("rimwise");
    let handed_in = |here: &Path| {
        let job = fs::File::open(&job).expect("a job");
        let mut command = std::process::Command::new(&program);
        command.current_dir(here).args(["check", "/dev/stdin"]).stdin(job).output().expect("started")
    };
    if cfg!(unix) {
        assert!(handed_in(&room.path().join("jobs")).status.success());
        let elsewhere = handed_in(room.path());
        assert_eq!(elsewhere.status.code(), Some(2));
        assert!(String::from_utf8_lossy(&elsewhere.stderr).contains("there is no such file"));
    }
}

#[test]
fn an_outline_that_is_no_file_is_refused_at_once() {
    let room = room();
    written(&room, "large.csv", &vec![b'1'; 1_000_001]);
    let says = |outline: &str, text: &'static str| {
        let job = written(&room, "job.toml", traced(outline).as_bytes());
        let refused = predicate::str::contains(text).and(predicate::str::contains("job.toml:4:39"));
        let timeout = std::time::Duration::from_secs(60);
        rimwise().arg("check").arg(&job).timeout(timeout).assert().code(2).stderr(refused);
    };
    says("none.csv", "none.csv: there is no such file");
    says(".", "this is a folder; a file is wanted");
    says("large.csv", "the file is too large and was not read");
    if cfg!(unix) {
        // Neither ends by itself.
        says("/dev/zero", "this is a pipe or a device");
        let pipe = room.path().join("pipe");
        let made = std::process::Command::new("mkfifo").arg(&pipe).status();
        assert!(made.is_ok_and(|status| status.success()), "no pipe could be made");
        says("pipe", "this is a pipe or a device");
    }
}

#[test]
fn one_lens_takes_an_outline_by_its_flag() {
    let room = room();
    written(&room, "circle.trace", trace().as_bytes());
    let asked = |more: &[&str]| {
        let mut command = rimwise();
        command
            .current_dir(room.path())
            .args("lens --eye left --sphere -4 --pd-mm 31 --bridge-mm 18 --rim metal".split(' '));
        command.args(["--material", "resin-1.60", "--json"]).args(more);
        command.assert()
    };
    let volume = |more: &[&str]| {
        let out = asked(more).code(0).get_output().stdout.clone();
        let found: serde_json::Value = serde_json::from_slice(&out).expect("JSON");
        found.pointer("/left/volume_mm3").or(found.get("volume_mm3")).and_then(|v| v.as_f64()).expect("a volume")
    };
    let (traced, circle) =
        (volume(&["--outline", "circle.trace"]), volume(&["--shape", "circle", "--eye-size-mm", "50"]));
    assert!((traced / circle - 1.0).abs() < 1e-4, "{traced} against {circle}");
    assert!(volume(&["--outline", "circle.trace", "--eye-size-mm", "46"]) < 0.9 * circle);
    asked(&["--outline", "circle.trace", "--depth-mm", "46"])
        .code(2)
        .stderr(predicate::str::contains("outline.with-depth"));
    asked(&["--outline", "circle.trace", "--shape", "oval"])
        .code(2)
        .stderr(predicate::str::contains("outline.beside-shape"));
    asked(&[]).code(2).stderr(predicate::str::contains("`--shape` is missing"));
}

#[test]
fn an_edge_is_drawn_in_the_direction_asked_for() {
    let room = room();
    let asked_of = |sphere: &str, more: &[&str]| {
        let mut command = rimwise();
        command.current_dir(room.path()).args(
            "lens --eye right --pd-mm 31 --shape oval --eye-size-mm 50 --depth-mm 40 --bridge-mm 18 --rim metal"
                .split(' '),
        );
        command.args(["--material", "resin-1.60", "--sphere", sphere]).args(more).assert()
    };
    let asked = |more: &[&str]| asked_of("-6", more);
    let drawn = ["--profile-deg", "135", "--profile-out", "edge.svg"];
    asked(&drawn).code(0).stderr(predicate::str::contains("The edge is drawn in edge.svg."));
    let svg = std::fs::read_to_string(room.path().join("edge.svg")).expect("a picture");
    assert!(svg.contains("Edge at 135°") && svg.contains("5 : 1"), "{svg}");
    asked(&["--layout-out", "card.svg"]).code(0).stderr(predicate::str::contains("The layout is drawn in card.svg."));
    let card = std::fs::read_to_string(room.path().join("card.svg")).expect("a picture");
    assert!(card.contains("Layout in the blank") && card.contains("right.blank.diameter_mm"), "{card}");
    asked(&["--layout-out", "card.svg"]).code(2).stderr(predicate::str::contains("card.svg"));
    // What is there is not overwritten, and half of what is wanted is refused.
    asked(&drawn).code(2).stderr(predicate::str::contains("edge.svg"));
    asked(&["--profile-deg", "135"]).code(2);
    asked(&["--profile-out", "other.svg"]).code(2);
    asked(&["--profile-deg", "400", "--profile-out", "other.svg"]).code(2).stderr(predicate::str::contains("0 to 360"));
    let far = ["--profile-deg", "0", "--profile-out", "other.svg"];
    asked_of("-39", &far).code(0).stderr(predicate::str::contains("other.svg was not written"));
    assert!(!room.path().join("other.svg").exists());
}
