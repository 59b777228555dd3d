//! `compare --watch`: the report follows its job, a fault shows above the last good report, and an end leaves a plain
//! report. Waits are bounded.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::Duration;

/// Longest wait for anything, in steps of [`STEP`].
const STEPS: u32 = 600;
const STEP: Duration = Duration::from_millis(100);

/// A program that is ended with the test.
struct Watching {
    room: tempfile::TempDir,
    child: Child,
}

impl Watching {
    /// Starts with a job of this text.
    fn start(text: &str, more: &[&str]) -> Watching {
        let room = tempfile::tempdir().expect("a folder");
        fs::write(room.path().join("job.toml"), text).expect("a job");
        let child = Command::new(assert_cmd::cargo::cargo_bin("rimwise"))
            .args(["compare", "job.toml", "--out", "report", "--watch"])
            .args(more)
            .current_dir(room.path())
            .stdout(Stdio::null())
            .stderr(fs::File::create(room.path().join("said")).expect("a file"))
            .spawn()
            .expect("started");
        Watching { room, child }
    }

    fn path(&self, name: &str) -> PathBuf {
        self.room.path().join(name)
    }

    /// Waits until the page is so.
    fn page(&mut self, wanted: &str, is_so: impl Fn(&str) -> bool) -> String {
        for _ in 0..STEPS {
            let page = fs::read_to_string(self.path("report/index.html")).unwrap_or_default();
            if is_so(&page) {
                return page;
            }
            assert!(self.child.try_wait().expect("a child").is_none(), "it ended: {}", self.said());
            std::thread::sleep(STEP);
        }
        panic!("{wanted} did not come; said: {}", self.said());
    }

    fn said(&self) -> String {
        fs::read_to_string(self.path("said")).unwrap_or_default()
    }

    /// Asks for an end, as Ctrl-C does, and waits for it.
    #[cfg(unix)]
    fn end(&mut self) -> Option<i32> {
        let asked = Command::new("kill").args(["-INT", &self.child.id().to_string()]).status();
        assert!(asked.expect("kill is there").success());
        for _ in 0..STEPS {
            if let Some(ended) = self.child.try_wait().expect("a child") {
                return ended.code();
            }
            std::thread::sleep(STEP);
        }
        panic!("it did not end; said: {}", self.said());
    }
}

impl Drop for Watching {
    fn drop(&mut self) {
        // One that ended is no error here.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

fn job() -> String {
    fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-jobs/mild.toml")).expect("a job")
}

/// The job under another reference, which stands at the head of the page.
fn called(reference: &str) -> String {
    let job = job();
    let from = job.find("reference = \"").expect("a reference") + "reference = \"".len();
    let to = from + job[from..].find('"').expect("its end");
    format!("{}{reference}{}", &job[..from], &job[to..])
}

const REFRESH: &str = "http-equiv=\"refresh\"";

#[test]
fn the_report_follows_its_job_however_it_is_saved() {
    let mut watching = Watching::start(&called("W-1"), &[]);
    let page = watching.page("the first report", |page| page.contains("W-1"));
    assert!(page.contains(REFRESH) && page.contains("is written anew whenever job.toml is saved"), "not watched");
    assert!(!page.contains("<script") && page.contains("default-src 'none'"));
    fs::write(watching.path("job.toml"), called("W-2")).expect("saved");
    watching.page("the report of a job written over", |page| page.contains("W-2") && !page.contains("W-1"));
    fs::write(watching.path("new.toml"), called("W-3")).expect("saved");
    fs::rename(watching.path("new.toml"), watching.path("job.toml")).expect("put in place");
    watching.page("the report of a job put in place", |page| page.contains("W-3"));
    assert!(fs::read_to_string(watching.path("report/result.json")).expect("JSON").contains("W-3"));
    #[cfg(unix)]
    {
        assert_eq!(watching.end(), Some(0));
        let page = fs::read_to_string(watching.path("report/index.html")).expect("a page");
        assert!(page.contains("W-3") && !page.contains(REFRESH) && !page.contains("Written at"), "it still waits");
        let mut left: Vec<_> =
            fs::read_dir(watching.room.path()).expect("there").map(|entry| entry.expect("one").file_name()).collect();
        left.sort();
        assert_eq!(left, ["job.toml", "report", "said"], "something was left over");
    }
}

#[test]
fn a_fault_shows_above_the_last_good_report() {
    let mut watching = Watching::start(&called("W-1"), &[]);
    let good = watching.page("the first report", |page| page.contains("W-1"));
    let answer = |page: &str| {
        let from = page.find("class=\"lead\"").expect("an answer");
        page[from..].split("</p>").next().expect("its end").to_owned()
    };
    let faulty = called("W-2").replacen("sphere = ", "sphere = 100 # ", 1);
    fs::write(watching.path("job.toml"), faulty).expect("saved");
    let page = watching.page("the fault", |page| page.contains("role=\"alert\""));
    assert!(page.contains("`sphere` is 100 D") && page.contains("job.toml:"), "no message in the page");
    assert!(page.find("role=\"alert\"") < page.find("id=\"answer\""), "the fault comes first");
    assert!(page.contains("W-1") && answer(&page) == answer(&good), "the last good report is gone");
    assert!(!page.contains('\u{1b}'), "styles of a terminal");
    assert!(watching.said().contains("`sphere` is 100 D"), "not said in the terminal: {}", watching.said());
    fs::write(watching.path("job.toml"), called("W-3")).expect("saved");
    watching.page("the mended report", |page| page.contains("W-3") && !page.contains("role=\"alert\""));
}

#[test]
fn a_job_that_is_faulty_from_the_start_is_waited_for() {
    let mut watching = Watching::start("format = 1\n", &[]);
    let page = watching.page("the fault", |page| page.contains("role=\"alert\""));
    assert!(page.contains("There is no report yet") && page.contains("there is no `[prescription]`"), "{page}");
    fs::write(watching.path("job.toml"), "format = 2\n").expect("saved");
    watching.page("the next fault", |page| page.contains("newer than this program"));
    fs::write(watching.path("job.toml"), called("W-1")).expect("saved");
    watching.page("the first report", |page| page.contains("W-1") && page.contains("id=\"answer\""));
}

#[test]
fn materials_are_watched_too() {
    let shelf = tempfile::tempdir().expect("a folder");
    let text =
        fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("materials/resin-1.60.toml")).expect("text");
    let file = shelf.path().join("resin-1.60.toml");
    fs::write(&file, &text).expect("saved");
    let dir = shelf.path().to_str().expect("a name").to_owned();
    let mut watching = Watching::start(&job().replace("resin-1.67", "resin-1.60"), &["--materials", &dir]);
    watching.page("the first report", |page| page.contains("id=\"answer\""));
    fs::write(&file, text.replace("1.60 resin", "house resin")).expect("saved");
    watching.page("the new name", |page| page.contains("house resin"));
    fs::write(&file, text.replace("n_d = 1.5", "n_d = 15")).expect("saved");
    let page = watching.page("the fault of a material", |page| page.contains("role=\"alert\""));
    assert!(page.contains("resin-1.60.toml:") && page.contains("house resin"), "no place, or no report below");
}

#[test]
fn a_watcher_wants_a_folder() {
    let run = |more: &[&str]| {
        let mut command = Command::new(assert_cmd::cargo::cargo_bin("rimwise"));
        command.args(["compare", "demo-jobs/mild.toml", "--watch"]).args(more).stdin(Stdio::null());
        command.output().expect("ended").status.code()
    };
    assert_eq!(run(&[]), Some(2));
    assert_eq!(run(&["--out", "report", "--json"]), Some(2));
}

#[test]
fn the_report_follows_the_outlines_that_its_job_names() {
    let demo = |name: &str| {
        fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-jobs").join(name)).expect("a file")
    };
    let mut watching = Watching::start(&called("W-1"), &[]);
    watching.page("the first report", |page| page.contains("W-1"));
    fs::create_dir(watching.path("shapes")).expect("a folder");
    for name in ["betony.csv", "coltsfoot.txt"] {
        fs::write(watching.path("shapes").join(name), demo(name)).expect("an outline");
    }
    let job = demo("traced-frame.toml").replace("outline = \"", "outline = \"shapes/");
    fs::write(watching.path("job.toml"), job).expect("saved");
    watching.page("the report of a measured outline", |page| page.contains("easured outline") && !page.contains("W-1"));
    fs::write(watching.path("shapes/betony.csv"), "angle_deg,radius_mm\n0,nothing\n").expect("saved");
    let page = watching.page("the fault in an outline", |page| page.contains("role=\"alert\""));
    assert!(page.contains("shapes/betony.csv:2"), "no message in the page");
    fs::write(watching.path("shapes/betony.csv"), demo("betony.csv")).expect("saved");
    watching.page("the mended report", |page| !page.contains("role=\"alert\""));
}
