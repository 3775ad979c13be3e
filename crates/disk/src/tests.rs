//! Against a real file system, in folders that go away again.

use super::*;
use crate::save::save_with;
use model::{Length, Line, LineId, Place, Run, Size, Step, Unit, Work};
use std::io::{self, Write};
use std::path::PathBuf;
use tempfile::TempDir;

fn design(title: &str) -> Document {
    let mut document = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
    document.title = title.to_owned();
    document
}

/// A folder with one saved design in it.
fn folder() -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("old.folio");
    save_design(&path, &design("Old")).unwrap();
    (folder, path)
}

/// Expects a sentence that begins with the path as asked for.
#[track_caller]
fn check<T>(path: &Path, result: Result<T, DiskError>, says: &str) {
    let said = result.err().expect("a refusal").to_string();
    assert_eq!(said, format!("{}: {says}", path.display()));
}

/// The names in a folder, sorted.
fn names(folder: &TempDir) -> Vec<String> {
    let entries = fs::read_dir(folder.path()).unwrap();
    let mut names: Vec<String> = entries.map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
    names.sort();
    names
}

#[test]
fn what_is_saved_is_read_and_nothing_is_left_beside_it() {
    let (folder, path) = folder();
    assert_eq!(read_design(&path).unwrap(), design("Old"));
    save_design(&path, &design("New")).unwrap();
    assert_eq!(read_design(&path).unwrap(), design("New"));
    assert_eq!(fs::read_to_string(&path).unwrap(), file::to_text(&design("New")));
    let export = folder.path().join("template.pdf");
    save_bytes(&export, b"\xff\x00").unwrap();
    assert_eq!(fs::read(&export).unwrap(), b"\xff\x00");
    assert_eq!(names(&folder), ["old.folio", "old.folio~", "template.pdf"]);
}

#[test]
fn the_version_before_the_last_is_kept() {
    let (folder, path) = folder();
    let kept = || fs::read_to_string(backup(&path)).ok();
    assert_eq!(kept(), None, "there was none before it");
    assert!(save_design(&path, &design("New")).unwrap().not_kept.is_none());
    assert_eq!(kept(), Some(file::to_text(&design("Old"))));
    save_design(&path, &design("New")).unwrap();
    assert_eq!(kept(), Some(file::to_text(&design("Old"))), "saving the same once more is no version");
    save_design(&path, &design("Newer")).unwrap();
    assert_eq!(kept(), Some(file::to_text(&design("New"))));
    assert_eq!(names(&folder), ["old.folio", "old.folio~"], "one and no more");

    let opened = open_design(&backup(&path)).unwrap();
    assert_eq!((opened.document, opened.is_backup), (design("New"), true));
    assert_eq!(opened.path, path, "it is saved in the place of the design");
    replace_design(&path, &design("New"), opened.version).unwrap();
    assert_eq!(kept(), Some(file::to_text(&design("Newer"))), "what it took the place of");
    assert_eq!(names(&folder), ["old.folio", "old.folio~"]);
}

#[test]
fn a_backup_that_cannot_be_kept_is_told_and_the_work_is_saved() {
    let (_folder, path) = folder();
    fs::create_dir(backup(&path)).unwrap();
    let saved = save_design(&path, &design("New")).unwrap();
    check(&backup(&path), saved.not_kept.map_or(Ok(()), Err), "this is a folder; name a file in it");
    assert_eq!(read_design(&path).unwrap(), design("New"));
}

#[test]
fn what_somebody_else_has_changed_is_not_replaced_unasked() {
    let (_folder, path) = folder();
    let opened = open_design(&path).unwrap();
    assert_eq!((&opened.document, &opened.path, opened.is_backup), (&design("Old"), &path, false));
    let saved = replace_design(&path, &design("Mine"), opened.version).unwrap();
    replace_design(&path, &design("Mine too"), Some(saved.version)).unwrap();

    let says = "this has been changed since it was opened; save under another name or open it again";
    let known = open_design(&path).unwrap().version;
    save_design(&path, &design("Theirs")).unwrap();
    check(&path, replace_design(&path, &design("Mine"), known), says);
    assert_eq!(read_design(&path).unwrap(), design("Theirs"));
    replace_design(&path, &design("Theirs"), known).unwrap();
    check(&path, replace_design(&path, &design("Mine"), None), says);
    // Something that is no design, of any size, is somebody else's too.
    File::create(&path).unwrap().set_len(1 << 30).unwrap();
    check(&path, replace_design(&path, &design("Mine"), known), says);
    fs::remove_file(&path).unwrap();
    replace_design(&path, &design("Mine"), known).unwrap();
    assert_eq!(read_design(&path).unwrap(), design("Mine"), "what is gone can't be lost");
}

#[test]
fn files_that_cannot_be_read_are_refused() {
    let (folder, old) = folder();
    let read = |path: &Path, says| check(path, read_design(path), says);
    read(&folder.path().join("none.folio"), "there is no such file; check the name");
    read(&old.join("inside.folio"), "there is no such file; check the name");
    read(folder.path(), "this is a folder; name a file in it");
    read(Path::new(""), "there is no such file; check the name");
    read(Path::new("a\0b"), "a file cannot have this name; choose another, of at most 200 letters");

    let bytes = folder.path().join("bytes.folio");
    fs::write(&bytes, b"{\"title\": \"\xff\"}").unwrap();
    read(&bytes, "this is not text from byte 12 on; open a .folio file");

    let text = file::to_text(&design("Old")).replace("\"steps\"", "\"stops\"");
    fs::write(&bytes, text).unwrap();
    let said = read_design(&bytes).unwrap_err().to_string();
    assert!(said.starts_with(&format!("{}: stops (line 10) is not a key", bytes.display())), "{said}");
}

#[test]
fn a_file_too_large_for_a_design_is_not_read() {
    let (folder, _) = folder();
    let path = folder.path().join("large.folio");
    let large = File::create(&path).unwrap();
    let refusal = "a design takes at most 16 MiB and this is more; check that it is the right file";
    // Sparse: it takes no room on the disk.
    large.set_len(1 << 40).unwrap();
    check(&path, read_design(&path), refusal);
    large.set_len(file::MOST_BYTES as u64 + 1).unwrap();
    check(&path, read_design(&path), refusal);
    // At the limit it is read, and then is no design.
    large.set_len(file::MOST_BYTES as u64).unwrap();
    assert!(matches!(read_design(&path).unwrap_err().fault, Fault::Design(file::FileError::Syntax { .. })));
}

#[test]
fn a_file_too_large_for_a_picture_is_not_read() {
    let (folder, design) = folder();
    let path = folder.path().join("large.png");
    let large = File::create(&path).unwrap();
    let take_in = || artwork::take_in(&design, &path, Length::INCH).map(drop).unwrap_err().fault;
    // Sparse: it takes no room on the disk.
    for size in [artwork::MOST_BYTES + 1, 1 << 40] {
        large.set_len(size).unwrap();
        assert!(matches!(take_in(), Fault::LargePicture), "{size}");
    }
    // At the limit it is read, and then is no picture.
    large.set_len(artwork::MOST_BYTES).unwrap();
    assert!(matches!(take_in(), Fault::Picture(_)));
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 2, "nothing is left behind");
}

#[test]
fn saving_where_no_file_can_be_is_refused() {
    let (folder, old) = folder();
    let save = |path: &Path, says| check(path, save_design(path, &design("New")), says);
    let no_folder = "there is no such folder to save in; make the folder or choose another";
    save(&folder.path().join("none").join("new.folio"), no_folder);
    save(&old.join("new.folio"), no_folder);
    save(folder.path(), "this is a folder; name a file in it");
    let bad_name = "a file cannot have this name; choose another, of at most 200 letters";
    save(Path::new(""), bad_name);
    save(&folder.path().join("none/"), bad_name);
    save(&folder.path().join("n".repeat(400)), bad_name);
    save(&folder.path().join("a\0b"), bad_name);
    assert_eq!(names(&folder), ["old.folio"]);
    assert_eq!(read_design(&old).unwrap(), design("Old"));
}

#[test]
fn a_read_only_file_is_not_replaced() {
    let (_folder, path) = folder();
    let mut permissions = fs::metadata(&path).unwrap().permissions();
    permissions.set_readonly(true);
    fs::set_permissions(&path, permissions).unwrap();
    let says = "this is marked read-only; take the mark off or save under another name";
    check(&path, save_design(&path, &design("New")), says);
    assert_eq!(read_design(&path).unwrap(), design("Old"));
}

#[test]
fn a_design_that_could_not_be_opened_again_does_not_replace_one_that_can() {
    let (_folder, path) = folder();
    let mut document = design("New");
    let place = Place::Along { line: LineId(9), run: Run::FULL };
    document.lines = vec![Line::new(LineId(1), place, Work::Cut)];
    document.steps = vec![Step::of(vec![LineId(2)])];
    let says = "nothing was saved, as it could not be opened again: steps[0][0]: there is no line 2; put the id of a \
                line there, or take it out";
    check(&path, save_design(&path, &document), says);
    assert_eq!(read_design(&path).unwrap(), design("Old"));
}

#[test]
fn a_save_that_fails_half_way_leaves_the_old_file_alone() {
    let (folder, path) = folder();
    let full = save_with(&path, |file| {
        file.write_all(b"{ \"half")?;
        Err(io::ErrorKind::StorageFull.into())
    });
    assert!(matches!(full, Err(Fault::Full)), "{full:?}");
    assert_eq!(read_design(&path).unwrap(), design("Old"));
    assert_eq!(names(&folder), ["old.folio"]);
}

#[test]
fn a_crash_before_the_end_leaves_the_old_file_alone() {
    let (_folder, path) = folder();
    let crash = std::panic::catch_unwind(|| {
        save_with(&path, |file| {
            file.write_all(b"{ \"half")?;
            file.sync_all()?;
            panic!("the lights go out");
        })
    });
    assert!(crash.is_err());
    assert_eq!(read_design(&path).unwrap(), design("Old"));
}

#[test]
fn errors_of_the_system_become_sentences() {
    #[track_caller]
    fn check(fault: &Fault, says: &str) {
        let said = fault.to_string();
        assert!(said.contains(says), "{said}");
    }
    // By kind, not by provoking them: whoever runs the tests may be allowed everything.
    let reading = |kind: io::ErrorKind| Fault::of_reading(kind.into());
    let saving = |kind: io::ErrorKind| Fault::of_saving(kind.into());
    check(&reading(io::ErrorKind::PermissionDenied), "you may not read this;");
    check(&reading(io::ErrorKind::TimedOut), "it cannot be read (timed out);");
    check(&saving(io::ErrorKind::PermissionDenied), "you may not save here;");
    check(&saving(io::ErrorKind::ReadOnlyFilesystem), "read-only");
    check(&saving(io::ErrorKind::QuotaExceeded), "no room left");
    check(&saving(io::ErrorKind::TimedOut), "it cannot be saved (timed out);");
}

#[cfg(unix)]
mod unix {
    use super::*;
    use std::os::unix::fs::{PermissionsExt, symlink};

    fn mode(path: &Path) -> u32 {
        fs::metadata(path).unwrap().permissions().mode() & 0o7777
    }

    #[test]
    fn permissions_are_kept() {
        let (_folder, path) = folder();
        for kept in [0o600, 0o640, 0o664, 0o666] {
            fs::set_permissions(&path, fs::Permissions::from_mode(kept)).unwrap();
            save_design(&path, &design(&format!("Mode {kept:o}"))).unwrap();
            assert_eq!((mode(&path), mode(&backup(&path))), (kept, kept), "{kept:o}");
        }
    }

    #[test]
    fn a_link_stays_a_link() {
        let (folder, path) = folder();
        let shelf = folder.path().join("shelf");
        fs::create_dir(&shelf).unwrap();
        // A link to a link, each relative to where it lies.
        symlink("../near.folio", shelf.join("far.folio")).unwrap();
        symlink("old.folio", folder.path().join("near.folio")).unwrap();
        save_design(&shelf.join("far.folio"), &design("New")).unwrap();
        assert_eq!(fs::read_link(shelf.join("far.folio")).unwrap(), Path::new("../near.folio"));
        assert_eq!(fs::read_link(folder.path().join("near.folio")).unwrap(), Path::new("old.folio"));
        assert!(fs::symlink_metadata(&path).unwrap().is_file());
        assert_eq!(read_design(&path).unwrap(), design("New"));
        assert_eq!(
            open_design(&backup(&path)).unwrap().document,
            design("Old"),
            "the backup lies beside the file itself"
        );
    }

    #[test]
    fn a_link_to_nothing_yet_is_saved_through() {
        let (folder, _) = folder();
        let link = folder.path().join("link.folio");
        symlink("new.folio", &link).unwrap();
        check(&link, read_design(&link), "there is no such file; check the name");
        save_design(&link, &design("New")).unwrap();
        assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
        assert_eq!(read_design(&folder.path().join("new.folio")).unwrap(), design("New"));
    }

    #[test]
    fn links_in_a_circle_are_refused() {
        let (folder, _) = folder();
        let link = folder.path().join("a.folio");
        symlink("b.folio", &link).unwrap();
        symlink("a.folio", folder.path().join("b.folio")).unwrap();
        let says = "this link leads round in a circle; name the file itself";
        check(&link, save_design(&link, &design("New")), says);
        assert!(matches!(read_design(&link).unwrap_err().fault, Fault::Reading(_)));
    }

    #[test]
    fn devices_are_neither_read_nor_replaced() {
        let null = Path::new("/dev/null");
        let says = "this is not a file but a device or a pipe; name a file";
        check(null, read_design(null), says);
        check(null, save_bytes(null, b"x"), says);
        assert!(!fs::metadata(null).unwrap().is_file());
    }

    #[test]
    fn a_folder_that_may_not_be_written_to_is_refused_or_written_to() {
        let (folder, path) = folder();
        fs::set_permissions(folder.path(), fs::Permissions::from_mode(0o555)).unwrap();
        let saved = save_design(&path, &design("New"));
        // Some users may write everywhere; then the new file is there, else the old one.
        let expected = if saved.is_ok() { design("New") } else { design("Old") };
        assert_eq!(read_design(&path).unwrap(), expected);
        if let Err(error) = saved {
            assert!(matches!(error.fault, Fault::MayNotWrite), "{error}");
        }
        fs::set_permissions(folder.path(), fs::Permissions::from_mode(0o755)).unwrap();
    }
}
