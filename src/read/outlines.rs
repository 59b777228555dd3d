//! Outline files, each read and prepared once, however many rows name it, and kept while they are wanted.

use super::files::{self, FileFault, read_outline};
use super::toml;
use crate::job::{Judged, Outlines};
use crate::keys;
use crate::outline::Measured;
use crate::written::Data;
use quick_cache::sync::Cache;
use std::convert::Infallible;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// Prepared outlines kept at a time, or a few more, as they are shared out: some 100 kB each.
const MOST_KEPT: usize = 500;

/// Reads the bytes of a file.
type Reader = fn(&Path) -> Result<Vec<u8>, FileFault>;

/// The outline files of a folder, by their names there. Whoever wants one that another is preparing waits for it; whoever wants
/// another does not.
#[derive(Debug)]
pub struct OutlineFiles {
    dir: PathBuf,
    reader: Reader,
    kept: Cache<String, Judged<Arc<Measured>>>,
}

impl OutlineFiles {
    /// Those beside a job or a file of orders; where that came through a pipe or standard input, those where the program was
    /// started.
    #[must_use]
    pub fn beside(job: &Path) -> OutlineFiles {
        OutlineFiles::of(files::beside(job))
    }

    /// Those where the program was started.
    #[must_use]
    pub fn here() -> OutlineFiles {
        OutlineFiles::of(PathBuf::from("."))
    }

    fn of(dir: PathBuf) -> OutlineFiles {
        OutlineFiles { dir, reader: read_outline, kept: Cache::new(MOST_KEPT) }
    }

    fn open(&self, name: &str) -> Judged<Arc<Measured>> {
        match (self.reader)(&self.dir.join(name)) {
            Ok(bytes) => super::outline::outline(name, &bytes),
            // Told by the name that it has in the job.
            Err(fault) => Judged::unreadable(&FileFault { path: PathBuf::from(name), ..fault }.to_string()),
        }
    }
}

impl Outlines for OutlineFiles {
    fn named(&self, name: &str) -> Judged<Arc<Measured>> {
        let Ok(outline) = self.kept.get_or_insert_with(name, || Ok::<_, Infallible>(self.open(name)));
        outline
    }
}

/// The outline files that the text of a job names; none where its text cannot be made out.
pub fn outline_paths(job: &Path, bytes: &[u8]) -> Vec<PathBuf> {
    let mut names = Vec::new();
    if let Ok(written) = toml::parse(bytes) {
        collect(Data::Table(written), &mut names);
    }
    let dir = files::beside(job);
    names.iter().map(|name| dir.join(name)).collect()
}

fn collect(data: Data, names: &mut Vec<String>) {
    match data {
        Data::List(items) => items.into_iter().for_each(|item| collect(item.data, names)),
        Data::Table(mut table) => {
            for entry in table.take_rest() {
                match entry.value.data {
                    Data::Text(name) if entry.name == keys::OUTLINE.name => names.push(name),
                    other => collect(other, names),
                }
            }
        }
        _ => {}
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::material::Shelf;
    use crate::read::orders::Orders;
    use rayon::prelude::*;
    use std::sync::atomic::{AtomicUsize, Ordering};
    use std::time::Duration;

    fn files(reader: Reader) -> OutlineFiles {
        OutlineFiles { reader, ..OutlineFiles::of(PathBuf::from("demo-jobs")) }
    }

    #[test]
    fn a_trace_that_many_rows_name_is_read_once() {
        static READ: AtomicUsize = AtomicUsize::new(0);
        let files = files(|path| {
            READ.fetch_add(1, Ordering::SeqCst);
            // Long enough for all the others to ask as well.
            std::thread::sleep(Duration::from_millis(20));
            read_outline(path)
        });
        let row = |i: usize| {
            let name = ["betony.csv", "coltsfoot.txt", "no-such.csv"][i % 3];
            format!("A{i},right,-4,31,{name},18,metal,resin-1.60\n")
        };
        let rows: String = (0..600).map(row).collect();
        let text = format!("order,eye,sphere,pd_mm,outline,bridge_mm,rim,material\n{rows}");
        let mut orders = Orders::new(text.as_bytes()).expect("a sound header");
        let header = orders.header().clone();
        let units = orders.some(1_000).expect("orders");
        let shelf = Shelf::built_in();
        let sound = |unit: &&crate::read::orders::Unit| header.judge(&unit.first, &shelf, &files).value.is_some();
        assert_eq!(units.par_iter().filter(sound).count(), 400, "a third of them name no file");
        assert_eq!(READ.load(Ordering::SeqCst), 3);
    }

    #[test]
    fn whoever_wants_another_trace_does_not_wait() {
        static BEGUN: AtomicUsize = AtomicUsize::new(0);
        // Either is done only when both are begun: one at a time would never come to an end.
        let files = files(|path| {
            BEGUN.fetch_add(1, Ordering::SeqCst);
            let both_are_begun = (0..30_000).any(|_| {
                std::thread::sleep(Duration::from_millis(1));
                BEGUN.load(Ordering::SeqCst) >= 2
            });
            assert!(both_are_begun, "{} was waited for by another", path.display());
            read_outline(path)
        });
        std::thread::scope(|scope| {
            for name in ["betony.csv", "coltsfoot.txt"] {
                scope.spawn(|| assert!(files.named(name).value.is_some()));
            }
        });
    }

    #[test]
    fn no_more_are_kept_than_is_said() {
        let most = MOST_KEPT + MOST_KEPT / 10;
        let files = files(|_| read_outline(Path::new("no-such.csv")));
        for i in 0..3 * MOST_KEPT {
            assert!(files.named(&format!("{i}.csv")).value.is_none());
        }
        assert!(files.kept.len() <= most, "{}", files.kept.len());
    }
}
