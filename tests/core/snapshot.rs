//! Shared: texts that are kept beside the tests. `UPDATE=1` rewrites them.

use std::path::Path;

/// Is the text what is kept in this file? Otherwise what it is now, for whoever reads the failure.
pub(crate) fn compare_with_snapshot(path: &Path, text: &str) -> Result<(), String> {
    if std::env::var_os("UPDATE").is_some() {
        std::fs::write(path, text).expect("the snapshot can be written");
    }
    let kept = std::fs::read_to_string(path).unwrap_or_default();
    if kept == text {
        Ok(())
    } else {
        Err(format!("{} is not up to date (UPDATE=1 rewrites it). Now:\n{text}", path.display()))
    }
}
