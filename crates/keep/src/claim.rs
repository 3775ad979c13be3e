//! Which designs are open in a window, so that a second window on the same file is noticed.
//!
//! A window that opens a file locks a small file of its own for it, named after the design's path. The system takes the lock away
//! however the program ends. Where there are no locks nothing is noticed here; saving still looks at the file first.

use crate::Keep;
use sha2::{Digest, Sha256};
use std::fs::{self, File, TryLockError};
use std::path::{Path, PathBuf};

/// That a design is open in this window.
#[derive(Debug)]
pub struct Claim {
    lock: Option<(File, PathBuf)>,
}

impl Claim {
    /// Says that a design is open here; `None` while another window has it open.
    #[must_use]
    pub fn of(keep: &Keep, design: &Path) -> Option<Self> {
        let Some(path) = place(keep, design) else { return Some(Self { lock: None }) };
        for _ in 0..8 {
            let Ok(file) = File::options().create(true).append(true).open(&path) else { break };
            match file.try_lock() {
                Err(TryLockError::WouldBlock) => return None,
                Err(TryLockError::Error(_)) => break,
                // The window that had it may have removed the file just before.
                Ok(()) if is_at(&file, &path) => return Some(Self { lock: Some((file, path)) }),
                Ok(()) => {}
            }
        }
        Some(Self { lock: None })
    }
}

impl Drop for Claim {
    fn drop(&mut self) {
        if let Some((_file, path)) = &self.lock {
            // While the lock is still held: whoever opened the file before then finds that it is gone.
            fs::remove_file(path).unwrap_or_default();
        }
    }
}

/// The lock of a design: its whole path, through all links, as a name that a file can have.
fn place(keep: &Keep, design: &Path) -> Option<PathBuf> {
    let folder = keep.folder()?.join("open");
    let design = fs::canonicalize(design).ok()?;
    fs::create_dir_all(&folder).ok()?;
    let digest = Sha256::digest(design.as_os_str().as_encoded_bytes());
    let name: String = digest.iter().take(16).map(|byte| format!("{byte:02x}")).collect();
    Some(folder.join(name).with_extension("lock"))
}

/// Whether an open file is the one at a path.
#[cfg(unix)]
fn is_at(file: &File, path: &Path) -> bool {
    use std::os::unix::fs::MetadataExt;
    match (file.metadata(), fs::metadata(path)) {
        (Ok(one), Ok(other)) => (one.dev(), one.ino()) == (other.dev(), other.ino()),
        _ => false,
    }
}

/// Elsewhere a file that is open is not removed.
#[cfg(not(unix))]
fn is_at(_file: &File, path: &Path) -> bool {
    path.exists()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_design_is_open_in_one_window() {
        let room = tempfile::tempdir().unwrap();
        let keep = Keep::at(room.path().join("state"));
        let [swap, other] = ["swap.folio", "other.folio"].map(|name| room.path().join(name));
        fs::write(&swap, "").unwrap();
        fs::write(&other, "").unwrap();
        let first = Claim::of(&keep, &swap).unwrap();
        assert!(Claim::of(&keep, &swap).is_none(), "the same design in another window");
        assert!(Claim::of(&keep, &room.path().join("state/../swap.folio")).is_none(), "by another name");
        assert!(Claim::of(&keep, &other).is_some());
        drop(first);
        assert!(Claim::of(&keep, &swap).is_some());
        assert_eq!(fs::read_dir(room.path().join("state/open")).unwrap().count(), 0, "nothing is left behind");
    }

    #[test]
    fn what_a_crash_left_claims_nothing() {
        let room = tempfile::tempdir().unwrap();
        let keep = Keep::at(room.path().join("state"));
        let swap = room.path().join("swap.folio");
        fs::write(&swap, "").unwrap();
        let path = place(&keep, &swap).unwrap();
        fs::write(&path, "").unwrap();
        assert!(Claim::of(&keep, &swap).is_some());
    }

    #[test]
    fn without_a_place_nothing_is_noticed() {
        let room = tempfile::tempdir().unwrap();
        let swap = room.path().join("swap.folio");
        let keep = Keep::at(room.path().join("state"));
        assert!(Claim::of(&keep, &swap).is_some(), "there is no such file yet");
        fs::write(&swap, "").unwrap();
        let claims = [Claim::of(&Keep::nowhere(), &swap), Claim::of(&Keep::nowhere(), &swap)];
        assert!(claims.iter().all(Option::is_some));
    }
}
