//! A folder that is written whole or not at all: beside its name, then put in its place.

#![expect(clippy::disallowed_methods, reason = "folders are replaced here and nowhere else")]

use super::{FileFault, Why, all_may_read, folder_of, names_in, read_small};
use crate::report::folder::Store;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};

/// The list of the files in a report folder.
pub const MANIFEST: &str = "manifest.json";

/// What a report folder says of itself.
#[derive(Debug, Serialize, Deserialize)]
struct Manifest {
    format: i64,
    files: Vec<String>,
}

/// Writes a folder with the files that `fill` puts into it, and the list of them. A folder of the name is replaced if it
/// is empty or holds only what its own list names.
///
/// # Errors
/// A [`FileFault`] if such a folder holds anything else or if anything cannot be written, or what `fill` fails with; then
/// nothing was changed.
pub fn write_folder<E: From<FileFault>>(dir: &Path, fill: impl FnOnce(&NewFolder) -> Result<(), E>) -> Result<(), E> {
    let fault = |error| FileFault::of(dir, error);
    let there = replaceable(dir)?;
    let dir = there.clone().unwrap_or_else(|| dir.to_owned());
    let parent = folder_of(&dir);
    let made = Ancestors::make(parent).map_err(fault)?;
    let beside = all_may_read(0o777).tempdir_in(parent).map_err(fault)?;
    let new = NewFolder { shown: dir.clone(), path: beside.path().to_owned(), files: Mutex::default() };
    fill(&new)?;
    new.finish()?;
    match there {
        Some(dir) => swap(beside.path(), &dir, parent),
        None => fs::rename(beside.path(), &dir),
    }
    .map_err(fault)?;
    made.keep();
    Ok(())
}

/// A folder that is being written beside the place where it will stand.
#[derive(Debug)]
pub struct NewFolder {
    /// Where it will stand.
    shown: PathBuf,
    path: PathBuf,
    /// Each file; open where more may come.
    files: Mutex<BTreeMap<String, Option<File>>>,
}

impl NewFolder {
    fn files(&self) -> MutexGuard<'_, BTreeMap<String, Option<File>>> {
        self.files.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn fault(&self, error: io::Error) -> FileFault {
        FileFault::of(&self.shown, error)
    }

    /// Everything is on the disk, and listed.
    fn finish(&self) -> Result<(), FileFault> {
        let mut names = Vec::new();
        for (name, file) in self.files().iter() {
            if let Some(file) = file {
                file.sync_all().map_err(|error| self.fault(error))?;
            }
            names.push(name.clone());
        }
        names.push(MANIFEST.to_owned());
        let mut text = serde_json::to_vec_pretty(&Manifest { format: 1, files: names }).unwrap_or_default();
        text.push(b'\n');
        self.put(MANIFEST, &text)
    }
}

impl Store for NewFolder {
    type Fault = FileFault;

    fn put(&self, name: &str, bytes: &[u8]) -> Result<(), FileFault> {
        write_synced(&self.path.join(name), bytes).map_err(|error| self.fault(error))?;
        self.files().insert(name.to_owned(), None);
        Ok(())
    }

    fn add(&self, name: &str, piece: &[u8]) -> Result<(), FileFault> {
        let mut files = self.files();
        let added = match files.get_mut(name) {
            Some(Some(file)) => file.write_all(piece),
            Some(None) => Err(io::ErrorKind::AlreadyExists.into()),
            None => File::create_new(self.path.join(name)).and_then(|mut file| {
                file.write_all(piece)?;
                files.insert(name.to_owned(), Some(file));
                Ok(())
            }),
        };
        added.map_err(|error| self.fault(error))
    }
}

/// Folders that were made on the way to another; they go again unless they are kept.
struct Ancestors(Vec<PathBuf>);

impl Ancestors {
    fn make(dir: &Path) -> io::Result<Ancestors> {
        let missing = dir.ancestors().take_while(|dir| !dir.as_os_str().is_empty() && !dir.exists());
        let made = Ancestors(missing.map(Path::to_owned).collect());
        fs::create_dir_all(dir)?;
        Ok(made)
    }

    fn keep(mut self) {
        self.0.clear();
    }
}

impl Drop for Ancestors {
    fn drop(&mut self) {
        for dir in &self.0 {
            // What somebody else has filled in the meantime stays.
            let _ = fs::remove_dir(dir);
        }
    }
}

fn write_synced(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let mut file = File::create_new(path)?;
    file.write_all(bytes)?;
    file.sync_all()
}

/// Puts the new folder in the place of the old one, at once where the system can; if that fails, the old one stays.
fn swap(new: &Path, dir: &Path, parent: &Path) -> io::Result<()> {
    if exchange(new, dir).is_ok() {
        return Ok(());
    }
    let aside = all_may_read(0o700).tempdir_in(parent)?;
    let old = aside.path().join("old");
    fs::rename(dir, &old)?;
    fs::rename(new, dir).inspect_err(|_| {
        // The error that counts is the first one.
        let _ = fs::rename(&old, dir);
    })
}

/// Lets two folders change places, so that there is one at every moment.
#[cfg(any(target_os = "linux", target_os = "android", target_vendor = "apple"))]
fn exchange(one: &Path, other: &Path) -> io::Result<()> {
    use rustix::fs::{CWD, RenameFlags, renameat_with};
    Ok(renameat_with(CWD, one, CWD, other, RenameFlags::EXCHANGE)?)
}

/// Lets two folders change places, so that there is one at every moment.
#[cfg(not(any(target_os = "linux", target_os = "android", target_vendor = "apple")))]
fn exchange(_: &Path, _: &Path) -> io::Result<()> {
    Err(io::ErrorKind::Unsupported.into())
}

/// The folder that may be replaced; `None` where there is none of the name.
fn replaceable(dir: &Path) -> Result<Option<PathBuf>, FileFault> {
    let fault = |why| FileFault::new(dir, why);
    let found = match fs::canonicalize(dir) {
        Err(error) if error.kind() != io::ErrorKind::NotFound => return Err(FileFault::of(dir, error)),
        Err(_) if dir.is_symlink() => return Err(fault(Why::LeadsNowhere)),
        Err(_) => return Ok(None),
        Ok(found) => found,
    };
    if !found.is_dir() {
        return Err(fault(Why::IsFile));
    }
    if is_mount_point(&found) {
        return Err(fault(Why::InUse));
    }
    if let Some(name) = foreign(&found)? {
        return Err(fault(Why::Foreign(name)));
    }
    if std::env::current_dir().is_ok_and(|here| here.starts_with(&found)) {
        return Err(fault(Why::StandingIn));
    }
    Ok(Some(found))
}

/// Does a disk of its own hang there?
#[cfg(unix)]
fn is_mount_point(dir: &Path) -> bool {
    use std::os::unix::fs::MetadataExt;
    let disk = |dir: &Path| fs::metadata(dir).ok().map(|about| about.dev());
    dir.parent().is_none_or(|parent| disk(parent) != disk(dir))
}

/// Does a disk of its own hang there?
#[cfg(not(unix))]
fn is_mount_point(dir: &Path) -> bool {
    dir.parent().is_none()
}

/// Something in a folder that its own list does not name.
fn foreign(dir: &Path) -> Result<Option<String>, FileFault> {
    let names = names_in(dir)?;
    let listed: Vec<String> = read_small(&dir.join(MANIFEST))
        .ok()
        .and_then(|text| serde_json::from_slice(&text).ok())
        .map_or_else(Vec::new, |manifest: Manifest| manifest.files);
    Ok(names.into_iter().find(|name| !(listed.contains(name) && dir.join(name).is_file())))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Fills a folder with files of these names.
    fn files(names: &[&'static str]) -> impl FnOnce(&NewFolder) -> Result<(), FileFault> {
        move |new| names.iter().try_for_each(|name| new.put(name, name.as_bytes()))
    }

    #[test]
    fn a_folder_is_replaced_whole_and_only_if_it_is_ours() {
        let room = tempfile::tempdir().expect("a folder");
        let dir = room.path().join("deep/report");
        write_folder(&dir, files(&["index.html", "old.svg"])).expect("a new folder");
        write_folder(&dir, files(&["index.html"])).expect("its own folder");
        assert_eq!(names_in(&dir).expect("there"), ["index.html", MANIFEST]);
        fs::write(dir.join("mine.txt"), "mine").expect("a file");
        let fault = write_folder(&dir, files(&["index.html"])).expect_err("not ours alone");
        assert!(matches!(&fault.why, Why::Foreign(name) if name == "mine.txt"), "{fault}");
        assert!(fault.is_asked_wrongly());
        assert_eq!(names_in(room.path().join("deep").as_path()).expect("there"), ["report"], "something was left over");
    }

    #[test]
    fn an_empty_folder_is_replaced_and_a_file_is_not() {
        let room = tempfile::tempdir().expect("a folder");
        let empty = room.path().join("empty");
        fs::create_dir_all(&empty).expect("a folder");
        write_folder(&empty, files(&["index.html"])).expect("an empty folder");
        let fault = write_folder(&empty.join("index.html"), files(&[])).expect_err("a file");
        assert!(matches!(fault.why, Why::IsFile), "{fault}");
    }

    #[test]
    fn what_fails_midway_leaves_nothing() {
        let room = tempfile::tempdir().expect("a folder");
        let dir = room.path().join("report");
        write_folder(&dir, files(&["index.html", "no/such/folder.svg"])).expect_err("a name with a folder in it");
        assert!(names_in(room.path()).expect("there").is_empty());
    }

    #[test]
    fn what_fails_midway_leaves_the_old_folder() {
        let room = tempfile::tempdir().expect("a folder");
        let dir = room.path().join("report");
        write_folder(&dir, files(&["index.html", "old.svg"])).expect("a new folder");
        let full = |new: &NewFolder| {
            new.add("index.html", b"half a page")?;
            Err(FileFault::new(&dir, Why::Full))
        };
        assert!(matches!(write_folder(&dir, full).expect_err("no room").why, Why::Full));
        assert_eq!(fs::read(dir.join("index.html")).expect("there"), b"index.html");
        assert_eq!(names_in(&dir).expect("there"), ["index.html", MANIFEST, "old.svg"]);
        assert_eq!(names_in(room.path()).expect("there"), ["report"], "something was left over");
    }

    #[test]
    fn a_file_may_come_in_pieces() {
        let room = tempfile::tempdir().expect("a folder");
        let dir = room.path().join("report");
        let pieces = |new: &NewFolder| {
            new.add("index.html", b"one, ")?;
            new.put("a.svg", b"")?;
            assert!(new.add("a.svg", b"more").is_err() && new.put("a.svg", b"again").is_err(), "a whole file is whole");
            new.add("index.html", b"two")
        };
        write_folder(&dir, pieces).expect("a new folder");
        assert_eq!(fs::read(dir.join("index.html")).expect("there"), b"one, two");
        assert_eq!(names_in(&dir).expect("there"), ["a.svg", "index.html", MANIFEST]);
    }
}
