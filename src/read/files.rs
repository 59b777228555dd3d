//! The one opener and writer of files. What is written is written whole or not at all: beside its name, then renamed.

#![expect(clippy::disallowed_methods, reason = "files are opened and replaced here and nowhere else")]

mod folder;

pub use folder::{MANIFEST, NewFolder, write_folder};

use super::toml::MOST_BYTES;
use std::fs::{self, File};
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};
use std::{error, fmt};

/// The largest material file, the largest outline file, and the largest list of a folder's files, that are read.
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
    /// It is neither a file nor a folder: a pipe, a device.
    IsNoFile,
    /// It is a link to what is not there.
    LeadsNowhere,
    /// A disk hangs there, or something uses it: it cannot be moved.
    InUse,
    /// It lies on a disk that is not written to.
    ReadOnly,
    /// It is there, and nothing is written over it.
    Exists,
    /// It holds something that the program did not write.
    Foreign(String),
    /// It is the folder in which the program was started.
    StandingIn,
    /// There is no material in it.
    NoMaterials,
    /// It is not UTF-8 text.
    NotText,
    /// It is larger than such a file can be.
    TooLarge,
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

    fn of(path: &Path, error: io::Error) -> FileFault {
        let why = match error.kind() {
            io::ErrorKind::NotFound => Why::NotThere,
            io::ErrorKind::IsADirectory => Why::IsFolder,
            io::ErrorKind::NotADirectory => Why::IsFile,
            io::ErrorKind::AlreadyExists => Why::Exists,
            io::ErrorKind::PermissionDenied => Why::Denied,
            io::ErrorKind::ReadOnlyFilesystem => Why::ReadOnly,
            io::ErrorKind::ResourceBusy | io::ErrorKind::CrossesDevices => Why::InUse,
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
            Why::IsNoFile => write!(f, "{path}: this is a pipe or a device; a file is wanted"),
            Why::LeadsNowhere => {
                write!(f, "{path}: this is a link to what is not there; take it away, or make the folder it names")
            }
            Why::InUse => write!(
                f,
                "{path}: the folder is replaced as a whole, but a disk hangs there (a mount point) or something uses it; \
                 choose a folder in it"
            ),
            Why::ReadOnly => write!(f, "{path}: nothing can be written there, the file system is read-only"),
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
            Why::NotText => write!(f, "{path}: this is not UTF-8 text"),
            Why::TooLarge => write!(f, "{path}: the file is too large and was not read"),
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
    // A pipe is asked before it is opened: opening it would wait for a writer.
    match fs::metadata(path).map_err(fault)? {
        about if about.is_dir() => return Err(FileFault::new(path, Why::IsFolder)),
        about if !about.is_file() => return Err(FileFault::new(path, Why::IsNoFile)),
        _ => {}
    }
    let file = File::open(path).map_err(fault)?;
    let about = file.metadata().map_err(fault)?;
    let mut bytes = Vec::new();
    file.take(most + 1).read_to_end(&mut bytes).map_err(fault)?;
    let size = about.len().max(bytes.len() as u64);
    Ok((bytes, size))
}

fn read_small(path: &Path) -> Result<Vec<u8>, FileFault> {
    let (bytes, size) = read_up_to(path, MOST_SMALL_BYTES)?;
    if size > MOST_SMALL_BYTES { Err(FileFault::new(path, Why::TooLarge)) } else { Ok(bytes) }
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

/// The bytes of an outline file. What is no file of a disk, and might never end, is not opened.
///
/// # Errors
/// [`FileFault`] if it cannot be opened or read, or is too large.
pub fn read_outline(path: &Path) -> Result<Vec<u8>, FileFault> {
    read_small(path)
}

/// Where files lie that a job or orders name: beside them, or where the program was started if they came through a pipe or
/// standard input.
#[must_use]
pub fn beside(job: &Path) -> PathBuf {
    let on_disk = job.metadata().is_ok_and(|about| about.is_file()) && !job.starts_with("/dev");
    if on_disk { folder_of(job).to_owned() } else { PathBuf::from(".") }
}

/// A file of a folder of materials.
#[derive(Debug)]
pub struct MaterialBytes {
    /// Its name without the ending.
    pub stem: String,
    /// Where it is.
    pub path: PathBuf,
    /// Its bytes, or why it cannot be read.
    pub bytes: Result<Vec<u8>, FileFault>,
}

/// Each `*.toml` of a folder, sorted by name.
///
/// # Errors
/// [`FileFault`] if the folder cannot be read, or if there is none in it.
pub fn read_materials(dir: &Path) -> Result<Vec<MaterialBytes>, FileFault> {
    let mut files = Vec::new();
    for name in names_in(dir)? {
        if let Some(stem) = name.strip_suffix(".toml") {
            let path = dir.join(&name);
            let bytes = read_small(&path);
            files.push(MaterialBytes { stem: stem.to_owned(), path, bytes });
        }
    }
    if files.is_empty() { Err(FileFault::new(dir, Why::NoMaterials)) } else { Ok(files) }
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
    let mut beside = all_may_read(0o666).tempfile_in(folder_of(path)).map_err(fault)?;
    write(&mut beside).and_then(|()| beside.as_file().sync_all()).map_err(fault)?;
    beside.persist_noclobber(path).map_err(|error| fault(error.error))?;
    Ok(())
}

/// Names for what is not yet in its place; the umask decides who may read it.
fn all_may_read(mode: u32) -> tempfile::Builder<'static, 'static> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(".rimwise-");
    #[cfg(unix)]
    builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(mode));
    #[cfg(not(unix))]
    let _ = mode;
    builder
}

/// The folder that a file or a folder stands in.
#[must_use]
pub fn folder_of(path: &Path) -> &Path {
    match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_the_system_says_is_put_in_words() {
        let said = |kind: io::ErrorKind| FileFault::of(Path::new("there"), kind.into());
        for (kind, words) in [
            (io::ErrorKind::ReadOnlyFilesystem, "read-only"),
            (io::ErrorKind::ResourceBusy, "mount point"),
            (io::ErrorKind::PermissionDenied, "permission denied"),
        ] {
            let fault = said(kind);
            assert!(fault.is_asked_wrongly() && fault.to_string().contains(words), "{fault}");
        }
        assert!(!said(io::ErrorKind::StorageFull).is_asked_wrongly());
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
