//! `compare --watch`: the report is written anew whenever its job, an outline that it names or its materials are saved.

use super::compare::Args;
use super::{Exit, output, refuse, refuse_file};
use crate::finding::Finding;
use crate::job::{self, Job};
use crate::read::files::{self, FileFault, folder_of};
use crate::read::messages;
use crate::read::{open_job, outline_paths, shelf};
use crate::report::findings::sentence;
use crate::report::folder::{self, PAGE, Store};
use crate::report::html::{Trouble, Watched};
use crate::report::text;
use crate::study::compare::Comparison;
use notify::{RecommendedWatcher, RecursiveMode};
use notify_debouncer_mini::{DebounceEventResult, Debouncer, new_debouncer};
use std::collections::BTreeSet;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::mpsc::{self, Receiver, Sender};
use std::time::Duration;

/// Saving takes an editor several steps; so long nothing must happen before the files are looked at.
const QUIET: Duration = Duration::from_millis(150);

/// What wakes the watcher.
enum Woken {
    /// Something happened in a watched folder.
    Changed,
    /// Somebody wants an end.
    Ended,
}

/// What is asked, and what was seen last.
struct Watch<'a> {
    args: &'a Args,
    out: &'a Path,
    materials: Option<&'a Path>,
    /// The last sound job with its cautions, and when its report was written.
    good: Option<(Job, Vec<Finding>, String)>,
    trouble: Option<Trouble>,
    /// Was anything written yet? A report of before is kept until there is a new one.
    written: bool,
}

/// A sound job with its cautions, or what is wrong, in one line and at length (styled).
type Seen = Result<(Job, Vec<Finding>), (String, String)>;

/// Writes the report, and again after each change, until somebody wants an end.
pub(super) fn run(args: &Args, materials: Option<&Path>) -> io::Result<Exit> {
    // The command line wants a folder wherever it wants a watcher.
    let Some(out) = args.out.as_deref() else { return Ok(Exit::Wrong) };
    let (tell, told) = mpsc::channel();
    let mut folders = match Folders::watched(&tell, &args.job, materials) {
        Ok(folders) => folders,
        Err(why) => return Ok(refuse(&format!("the files cannot be watched: {why}"))),
    };
    if let Err(why) = ctrlc::set_handler(move || wake(&tell, Woken::Ended)) {
        return Ok(refuse(&format!("an end could not be asked for: {why}")));
    }
    let mut watch = Watch { args, out, materials, good: None, trouble: None, written: false };
    let mut stamp = watch.stamp();
    folders.follow(&stamp);
    if let Err(fault) = watch.look()? {
        return Ok(refuse_file(&fault));
    }
    while changed(&told) {
        // Whatever happens beside the files is no reason to work, least of all the report itself.
        let now = watch.stamp();
        if now != stamp {
            stamp = now;
            folders.follow(&stamp);
            if let Err(fault) = watch.look()? {
                refuse_file(&fault);
            }
        }
    }
    watch.end()
}

/// Waits; `false` where somebody wants an end, or nothing can happen any more.
fn changed(told: &Receiver<Woken>) -> bool {
    let mut woken = told.recv();
    // Whatever else has happened meanwhile is looked at together.
    while let (Ok(Woken::Changed), Ok(next)) = (&woken, told.try_recv()) {
        woken = Ok(next);
    }
    matches!(woken, Ok(Woken::Changed))
}

fn wake(tell: &Sender<Woken>, woken: Woken) {
    // Where nobody waits any more, there is nobody to wake.
    let _ = tell.send(woken);
}

/// What is watched: folders, not files, as an editor may put a new file in the place of the old one.
struct Folders {
    watcher: Debouncer<RecommendedWatcher>,
    watched: BTreeSet<PathBuf>,
}

impl Folders {
    fn watched(tell: &Sender<Woken>, job: &Path, materials: Option<&Path>) -> notify::Result<Folders> {
        let tell = tell.clone();
        let watcher = new_debouncer(QUIET, move |_: DebounceEventResult| wake(&tell, Woken::Changed))?;
        let mut folders = Folders { watcher, watched: BTreeSet::new() };
        for folder in [Some(folder_of(job)), materials].into_iter().flatten() {
            folders.watch(folder)?;
        }
        Ok(folders)
    }

    fn watch(&mut self, folder: &Path) -> notify::Result<()> {
        if !self.watched.contains(folder) {
            self.watcher.watcher().watch(folder, RecursiveMode::NonRecursive)?;
            self.watched.insert(folder.to_owned());
        }
        Ok(())
    }

    /// Watches the folders of these files too. Where there is no such folder yet, the job's own message says so.
    fn follow(&mut self, stamp: &Stamp) {
        for (path, _) in stamp {
            let _ = self.watch(folder_of(path));
        }
    }
}

/// Files with what is in them, where they can be read.
type Stamp = Vec<(PathBuf, Option<Vec<u8>>)>;

impl Watch<'_> {
    /// What is in the files, to be compared with what was.
    fn stamp(&self) -> Stamp {
        let job = files::read_job(&self.args.job).ok().map(|job| job.bytes);
        let outlines = job.as_deref().map_or_else(Vec::new, |bytes| outline_paths(&self.args.job, bytes));
        let mut stamp = vec![(self.args.job.clone(), job)];
        stamp.extend(outlines.into_iter().map(|path| (path.clone(), files::read_outline(&path).ok())));
        let materials = self.materials.and_then(|dir| files::read_materials(dir).ok());
        stamp.extend(materials.into_iter().flatten().map(|file| (file.path, file.bytes.ok())));
        stamp
    }

    fn read(&self) -> Seen {
        let shelf = shelf(self.materials).map_err(|trouble| {
            let (messages, tally) = trouble.print();
            (tally, messages)
        })?;
        let file = open_job(&self.args.job, &shelf).map_err(|fault| (fault.to_string(), String::new()))?;
        let name = &file.name;
        let Some(job) = &file.judged.value else {
            let tally = format!("{name}: {}; nothing was computed", messages::tally(&file.judged.findings));
            return Err((tally, messages::print(file.source(), &file.judged.findings)));
        };
        match job::limits(job, true) {
            Some(finding) => Err((format!("{name}: {}", sentence(&finding, Some(job))), String::new())),
            None => Ok((job.clone(), file.judged.findings)),
        }
    }

    /// Reads the files and writes the report; the inner error is that of the report's folder.
    fn look(&mut self) -> io::Result<Result<(), FileFault>> {
        let now = clock();
        match self.read() {
            Ok((job, cautions)) => {
                self.good = Some((job, cautions, now));
                self.trouble = None;
            }
            Err((tally, messages)) => {
                output::say(&messages);
                refuse(&tally);
                let messages = anstream::adapter::strip_str(&messages).to_string().trim_end().to_owned();
                self.trouble = Some(Trouble { seen: now, tally, messages });
            }
        }
        let written = self.write(true)?;
        if written.is_ok() {
            let (page, job) = (self.out.join(PAGE), self.args.job.display());
            output::say(&format!("The report is {}. Waiting for {job} to be saved; Ctrl-C ends.\n", page.display()));
        }
        Ok(written)
    }

    fn write(&mut self, goes_on: bool) -> io::Result<Result<(), FileFault>> {
        let watched = |written: &str| Watched {
            job: self.args.job.display().to_string(),
            written: written.to_owned(),
            trouble: self.trouble.clone(),
            goes_on,
        };
        let Some((job, cautions, written)) = &self.good else {
            if !self.written && self.out.join(PAGE).is_file() {
                output::say("The report that is there is of before, and stays as it is.\n");
                return Ok(Ok(()));
            }
            let page = watched("").alone();
            let done = files::write_folder(self.out, |new| new.put(PAGE, page.as_bytes()));
            self.written |= done.is_ok();
            return Ok(done);
        };
        let comparison = Comparison::of(job);
        if self.trouble.is_none() && goes_on {
            output::answer(&text::compare(&comparison, cautions, true))?;
        }
        // What nobody watches any more and is up to date is a report like any other.
        let watched = (goes_on || self.trouble.is_some()).then(|| watched(written));
        Ok(files::write_folder(self.out, |new| folder::write(&comparison, cautions, watched.as_ref(), new)))
    }

    /// Leaves a report that does not wait for more.
    fn end(mut self) -> io::Result<Exit> {
        output::say("Ended.\n");
        Ok(match self.write(false)? {
            Ok(()) => Exit::Done,
            Err(fault) => refuse_file(&fault),
        })
    }
}

/// The time of day, where the program runs.
fn clock() -> String {
    jiff::Zoned::now().strftime("%H:%M:%S").to_string()
}
