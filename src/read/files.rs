//! The one opener and writer of files. A file or a folder is written whole or not at all: beside its name, then renamed.

#![expect(clippy::disallowed_methods, reason = "files are opened and replaced here and nowhere else")]

use super::toml::MOST_BYTES;
use rayon::prelude::*;
use serde::{Deserialize, Serialize};
use std::fs::{self, File};
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};
use std::{error, fmt};

/// The list of the files in a report folder.
pub const MANIFEST: &str = "manifest.json";

/// The largest material file, and the largest list of a folder's files, that are read.
const MOST_SMALL_BYTES: u64 = 1_000_000;

/// Why a file or a folder could not be read or written.
#[derive(Debug)]
pub struct FileFault {
    /// Which.
    pub path: PathBuf,
    /// Why.
    pub why: Why,
}

/// Why a file or a folder could not be read or written.
#[derive(Debug)]
#[non_exhaustive]
pub enum Why {
    /// It is not there.
    NotThere,
    /// It is a folder where a file is wanted.
    IsFolder,
    /// It is a file where a folder is wanted.
    IsFile,
    /// It is there, and nothing is written over it.
    Exists,
    /// It holds something that the program did not write.
    Foreign(String),
    /// It is the folder in which the program was started.
    StandingIn,
    /// There is no material in it.
    NoMaterials,
    /// It is larger than such a file can be.
    TooLarge,
    /// It is not UTF-8 text.
    NotText,
    /// It may not be read or written.
    Denied,
    /// There is no room left.
    Full,
    /// Anything else, in the system's words.
    Other(io::Error),
}

impl FileFault {
    fn new(path: &Path, why: Why) -> FileFault {
        FileFault { path: path.to_owned(), why }
    }

    pub(super) fn of(path: &Path, error: io::Error) -> FileFault {
        let why = match error.kind() {
            io::ErrorKind::NotFound => Why::NotThere,
            io::ErrorKind::IsADirectory => Why::IsFolder,
            io::ErrorKind::NotADirectory => Why::IsFile,
            io::ErrorKind::AlreadyExists => Why::Exists,
            io::ErrorKind::PermissionDenied | io::ErrorKind::ReadOnlyFilesystem => Why::Denied,
            io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded => Why::Full,
            _ => Why::Other(error),
        };
        FileFault::new(path, why)
    }

    /// Is what was asked for wrong, rather than the machine?
    #[must_use]
    pub fn is_asked_wrongly(&self) -> bool {
        !matches!(self.why, Why::Full | Why::Other(_))
    }
}

impl fmt::Display for FileFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let path = self.path.display();
        match &self.why {
            Why::NotThere => write!(f, "{path}: there is no such file or folder"),
            Why::IsFolder => write!(f, "{path}: this is a folder; a file is wanted"),
            Why::IsFile => write!(f, "{path}: this is a file; a folder is wanted"),
            Why::Exists => write!(f, "{path}: this is there already and is not overwritten; choose another name"),
            Why::Foreign(name) => write!(
                f,
                "{path}: the folder holds \"{name}\", which this program did not write, and is left as it is; choose \
                 an empty or a new folder"
            ),
            Why::StandingIn => {
                write!(f, "{path}: the folder is replaced as a whole and you are standing in it; choose another")
            }
            Why::NoMaterials => write!(f, "{path}: there is no material (ID.toml) in this folder"),
            Why::TooLarge => write!(f, "{path}: the file is too large and was not read"),
            Why::NotText => write!(f, "{path}: this is not UTF-8 text"),
            Why::Denied => write!(f, "{path}: permission denied"),
            Why::Full => write!(f, "{path}: no room left on the disk; nothing was written"),
            Why::Other(error) => write!(f, "{path}: {error}"),
        }
    }
}

impl error::Error for FileFault {}

/// The bytes of a job file, as far as it is read.
#[derive(Clone, Debug, PartialEq)]
pub struct JobBytes {
    /// At most one more than [`MOST_BYTES`].
    pub bytes: Vec<u8>,
    /// Size of the file.
    pub size_bytes: u64,
}

/// Reads a job file.
///
/// # Errors
/// [`FileFault`] if it cannot be opened or read.
pub fn read_job(path: &Path) -> Result<JobBytes, FileFault> {
    let (bytes, size_bytes) = read_up_to(path, MOST_BYTES as u64)?;
    Ok(JobBytes { bytes, size_bytes })
}

/// At most one byte more than `most` of a file, and its size.
fn read_up_to(path: &Path, most: u64) -> Result<(Vec<u8>, u64), FileFault> {
    let fault = |error| FileFault::of(path, error);
    let file = File::open(path).map_err(fault)?;
    let about = file.metadata().map_err(fault)?;
    if about.is_dir() {
        return Err(FileFault::new(path, Why::IsFolder));
    }
    let mut bytes = Vec::new();
    file.take(most + 1).read_to_end(&mut bytes).map_err(fault)?;
    let size = about.len().max(bytes.len() as u64);
    Ok((bytes, size))
}

fn read_small_text(path: &Path) -> Result<String, FileFault> {
    let (bytes, size) = read_up_to(path, MOST_SMALL_BYTES)?;
    if size > MOST_SMALL_BYTES {
        return Err(FileFault::new(path, Why::TooLarge));
    }
    String::from_utf8(bytes).map_err(|_| FileFault::new(path, Why::NotText))
}

/// Opens a file of orders.
///
/// # Errors
/// [`FileFault`] if it cannot be opened, or is a folder.
pub fn open_orders(path: &Path) -> Result<File, FileFault> {
    let file = File::open(path).map_err(|error| FileFault::of(path, error))?;
    if path.is_dir() { Err(FileFault::new(path, Why::IsFolder)) } else { Ok(file) }
}

/// The totals of a folder of worked orders.
pub const TOTALS: &str = "totals.json";
/// The largest file of totals that is read: a group takes some 400 bytes of it.
const MOST_TOTALS_BYTES: u64 = 200_000_000;

/// The text of the totals in a folder of worked orders.
///
/// # Errors
/// [`FileFault`] if they cannot be read.
pub fn read_totals(dir: &Path) -> Result<String, FileFault> {
    let path = dir.join(TOTALS);
    let (bytes, size) = read_up_to(&path, MOST_TOTALS_BYTES)?;
    if size > MOST_TOTALS_BYTES {
        return Err(FileFault::new(&path, Why::TooLarge));
    }
    String::from_utf8(bytes).map_err(|_| FileFault::new(&path, Why::NotText))
}

/// A folder that is named before, perhaps by another way to it.
pub fn named_twice<'a>(dirs: impl Iterator<Item = &'a Path>) -> Option<&'a Path> {
    let mut seen: Vec<PathBuf> = Vec::new();
    for dir in dirs {
        let found = fs::canonicalize(dir).unwrap_or_else(|_| dir.to_owned());
        if seen.contains(&found) {
            return Some(dir);
        }
        seen.push(found);
    }
    None
}

/// The stem and the text of each `*.toml` of a folder, sorted by name.
///
/// # Errors
/// [`FileFault`] if the folder or one of its files cannot be read, or if there is none.
pub fn read_materials(dir: &Path) -> Result<Vec<(String, String)>, FileFault> {
    let mut texts = Vec::new();
    for name in names_in(dir)? {
        if let Some(stem) = name.strip_suffix(".toml") {
            texts.push((stem.to_owned(), read_small_text(&dir.join(&name))?));
        }
    }
    if texts.is_empty() { Err(FileFault::new(dir, Why::NoMaterials)) } else { Ok(texts) }
}

fn names_in(dir: &Path) -> Result<Vec<String>, FileFault> {
    let fault = |error| FileFault::of(dir, error);
    let mut names = Vec::new();
    for entry in fs::read_dir(dir).map_err(fault)? {
        names.push(entry.map_err(fault)?.file_name().to_string_lossy().into_owned());
    }
    names.sort();
    Ok(names)
}

/// Writes a file that is not there yet.
///
/// # Errors
/// [`FileFault`] if there is one, or it cannot be written; then there is none.
pub fn write_new(path: &Path, bytes: &[u8]) -> Result<(), FileFault> {
    write_new_with(path, |out| out.write_all(bytes))
}

/// Writes a file that is not there yet, as `write` writes it.
///
/// # Errors
/// [`FileFault`] if there is one, or it cannot be written; then there is none.
pub fn write_new_with(path: &Path, write: impl FnOnce(&mut dyn Write) -> io::Result<()>) -> Result<(), FileFault> {
    let fault = |error| FileFault::of(path, error);
    if path.symlink_metadata().is_ok() {
        return Err(FileFault::new(path, Why::Exists));
    }
    let mut beside = all_may_read(0o666).tempfile_in(parent_of(path)).map_err(fault)?;
    write(&mut beside).and_then(|()| beside.as_file().sync_all()).map_err(fault)?;
    beside.persist_noclobber(path).map_err(|error| fault(error.error))?;
    Ok(())
}

/// What a report folder says of itself.
#[derive(Debug, Serialize, Deserialize)]
struct Manifest {
    format: i64,
    files: Vec<String>,
}

/// Writes a folder with these files and the list of them. A folder of the name is replaced if it is empty or holds only
/// what its own list names.
///
/// # Errors
/// [`FileFault`] if such a folder holds anything else, or if anything cannot be written; then nothing was changed.
pub fn write_folder(dir: &Path, files: &[(String, Vec<u8>)]) -> Result<(), FileFault> {
    let fault = |error| FileFault::of(dir, error);
    let there = replaceable(dir)?;
    let dir = there.clone().unwrap_or_else(|| dir.to_owned());
    let parent = parent_of(&dir);
    let made = Ancestors::make(parent).map_err(fault)?;
    let beside = all_may_read(0o777).tempdir_in(parent).map_err(fault)?;
    let write = |(name, bytes): &(String, Vec<u8>)| write_synced(&beside.path().join(name), bytes);
    files.par_iter().try_for_each(write).map_err(fault)?;
    write_synced(&beside.path().join(MANIFEST), &manifest(files.iter().map(|(name, _)| name.clone()).collect()))
        .map_err(fault)?;
    match there {
        Some(dir) => swap(beside.path(), &dir, parent),
        None => fs::rename(beside.path(), &dir),
    }
    .map_err(fault)?;
    made.keep();
    Ok(())
}

/// Folders that were made on the way to another; they go again unless they are kept.
pub(super) struct Ancestors(Vec<PathBuf>);

impl Ancestors {
    pub(super) fn make(dir: &Path) -> io::Result<Ancestors> {
        let missing = dir.ancestors().take_while(|dir| !dir.as_os_str().is_empty() && !dir.exists());
        let made = Ancestors(missing.map(Path::to_owned).collect());
        fs::create_dir_all(dir)?;
        Ok(made)
    }

    pub(super) fn keep(mut self) {
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

pub(super) fn manifest(mut names: Vec<String>) -> Vec<u8> {
    names.push(MANIFEST.to_owned());
    let mut text = serde_json::to_vec_pretty(&Manifest { format: 1, files: names }).unwrap_or_default();
    text.push(b'\n');
    text
}

fn write_synced(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let mut file = File::create_new(path)?;
    file.write_all(bytes)?;
    file.sync_all()
}

/// Puts the new folder in the place of the old one; if that fails, the old one stays.
pub(super) fn swap(new: &Path, dir: &Path, parent: &Path) -> io::Result<()> {
    let aside = all_may_read(0o700).tempdir_in(parent)?;
    let old = aside.path().join("old");
    fs::rename(dir, &old)?;
    fs::rename(new, dir).inspect_err(|_| {
        // The error that counts is the first one.
        let _ = fs::rename(&old, dir);
    })
}

/// The folder that may be replaced; `None` where there is none of the name.
pub(super) fn replaceable(dir: &Path) -> Result<Option<PathBuf>, FileFault> {
    let fault = |why| FileFault::new(dir, why);
    let found = match fs::canonicalize(dir) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(None),
        Err(error) => return Err(FileFault::of(dir, error)),
        Ok(found) => found,
    };
    if !found.is_dir() {
        return Err(fault(Why::IsFile));
    }
    if let Some(name) = foreign(&found)? {
        return Err(fault(Why::Foreign(name)));
    }
    if std::env::current_dir().is_ok_and(|here| here.starts_with(&found)) {
        return Err(fault(Why::StandingIn));
    }
    Ok(Some(found))
}

/// Something in a folder that its own list does not name.
fn foreign(dir: &Path) -> Result<Option<String>, FileFault> {
    let names = names_in(dir)?;
    let listed: Vec<String> = read_small_text(&dir.join(MANIFEST))
        .ok()
        .and_then(|text| serde_json::from_str(&text).ok())
        .map_or_else(Vec::new, |manifest: Manifest| manifest.files);
    Ok(names.into_iter().find(|name| !(listed.contains(name) && dir.join(name).is_file())))
}

/// Names for what is not yet in its place; the umask decides who may read it.
pub(super) fn all_may_read(mode: u32) -> tempfile::Builder<'static, 'static> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(".rimwise-");
    #[cfg(unix)]
    builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(mode));
    #[cfg(not(unix))]
    let _ = mode;
    builder
}

pub(super) fn parent_of(path: &Path) -> &Path {
    match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn files(names: &[&str]) -> Vec<(String, Vec<u8>)> {
        names.iter().map(|name| ((*name).to_owned(), name.as_bytes().to_vec())).collect()
    }

    #[test]
    fn a_folder_is_replaced_whole_and_only_if_it_is_ours() {
        let room = tempfile::tempdir().expect("a folder");
        let dir = room.path().join("deep/report");
        write_folder(&dir, &files(&["index.html", "old.svg"])).expect("a new folder");
        write_folder(&dir, &files(&["index.html"])).expect("its own folder");
        assert_eq!(names_in(&dir).expect("there"), ["index.html", MANIFEST]);
        fs::write(dir.join("mine.txt"), "mine").expect("a file");
        let fault = write_folder(&dir, &files(&["index.html"])).expect_err("not ours alone");
        assert!(matches!(&fault.why, Why::Foreign(name) if name == "mine.txt"), "{fault}");
        assert!(fault.is_asked_wrongly());
        assert_eq!(names_in(room.path().join("deep").as_path()).expect("there"), ["report"], "something was left over");
    }

    #[test]
    fn an_empty_folder_is_replaced_and_a_file_is_not() {
        let room = tempfile::tempdir().expect("a folder");
        let empty = room.path().join("empty");
        fs::create_dir_all(&empty).expect("a folder");
        write_folder(&empty, &files(&["index.html"])).expect("an empty folder");
        let fault = write_folder(&empty.join("index.html"), &[]).expect_err("a file");
        assert!(matches!(fault.why, Why::IsFile), "{fault}");
    }

    #[test]
    fn what_fails_midway_leaves_nothing() {
        let room = tempfile::tempdir().expect("a folder");
        let dir = room.path().join("report");
        write_folder(&dir, &files(&["index.html", "no/such/folder.svg"])).expect_err("a name with a folder in it");
        assert!(names_in(room.path()).expect("there").is_empty());
    }

    #[test]
    fn a_new_file_is_never_written_over_another() {
        let room = tempfile::tempdir().expect("a folder");
        let path = room.path().join("job.toml");
        write_new(&path, b"one").expect("new");
        assert!(matches!(write_new(&path, b"two").expect_err("there").why, Why::Exists));
        assert_eq!(fs::read(&path).expect("there"), b"one");
    }

    #[cfg(unix)]
    #[test]
    fn the_umask_decides_who_may_read() {
        use std::os::unix::fs::PermissionsExt;
        let room = tempfile::tempdir().expect("a folder");
        let plain = room.path().join("plain");
        File::create_new(&plain).expect("new");
        write_new(&room.path().join("ours"), b"").expect("new");
        let mode = |name: &str| fs::metadata(room.path().join(name)).expect("there").permissions().mode();
        assert_eq!(mode("ours"), mode("plain"));
    }
}
