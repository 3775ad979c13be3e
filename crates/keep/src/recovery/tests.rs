//! In folders that go away again; a window that has crashed is one whose lock is let go while its record stays.

use super::*;
use model::{Size, Unit};
use tempfile::TempDir;

fn design(title: &str) -> Document {
    let mut document = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
    document.title = title.to_owned();
    document
}

fn keep() -> (TempDir, Keep) {
    let room = tempfile::tempdir().unwrap();
    let keep = Keep::at(room.path().join("state"));
    (room, keep)
}

/// The titles and files of what was left, all put back.
fn found(keep: &Keep) -> Vec<(String, Option<PathBuf>)> {
    left(keep).iter().map(|left| (left.document.title.clone(), left.file.clone())).collect()
}

fn names(keep: &Keep) -> Vec<String> {
    let entries = fs::read_dir(keep.folder().unwrap().join("recovery"));
    entries.into_iter().flatten().map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect()
}

/// Waits for something that another thread does.
fn wait_until(ready: impl Fn() -> bool) {
    let begun = Instant::now();
    while !ready() {
        assert!(begun.elapsed() < Duration::from_secs(60), "it never happens");
        std::thread::sleep(Duration::from_millis(2));
    }
}

#[test]
fn what_a_crash_left_is_found_and_what_is_open_is_not() {
    let (room, keep) = keep();
    let window = Recovery::new(&keep);
    assert!(!keep.folder().unwrap().exists(), "nothing is made before there is something to keep");
    window.keep(&design("Swap"), Some(&room.path().join("swap.folio")), None);
    wait_until(|| names(&keep).iter().any(|name| name.ends_with(".json")));
    assert_eq!(found(&keep), [], "the window is still open");
    // An end without a word: what was told last is still written, and the lock let go.
    let version = Version::of_digest([7; 32]);
    window.keep(&design("Swap, later"), Some(&room.path().join("swap.folio")), Some(version));
    drop(window);
    assert_eq!(left(&keep)[0].version, Some(version));
    let expected = [("Swap, later".to_owned(), Some(room.path().join("swap.folio")))];
    assert_eq!(found(&keep), expected);
    assert_eq!(found(&keep), expected, "looking at it takes nothing away");
}

#[test]
fn only_one_window_offers_it_at_a_time() {
    let (_room, keep) = keep();
    let window = Recovery::new(&keep);
    window.keep(&design("Swap"), None, None);
    drop(window);
    let first = left(&keep);
    assert_eq!((first.len(), left(&keep).len()), (1, 0));
    drop(first);
    assert_eq!(found(&keep), [("Swap".to_owned(), None)]);
}

#[test]
fn what_is_saved_or_let_go_is_not_kept() {
    let (_room, keep) = keep();
    let window = Recovery::new(&keep);
    window.keep(&design("Swap"), None, None);
    wait_until(|| names(&keep).iter().any(|name| name.ends_with(".json")));
    window.forget();
    wait_until(|| !names(&keep).iter().any(|name| name.ends_with(".json")));
    drop(window);
    assert_eq!((found(&keep).len(), names(&keep).len()), (0, 0), "and the folder is empty");
}

#[test]
fn what_is_recovered_stays_kept_until_it_is_saved() {
    let (_room, keep) = keep();
    let window = Recovery::new(&keep);
    window.keep(&design("Swap"), None, None);
    drop(window);
    // Recovered, and the next crash comes at once.
    drop(Recovery::of(left(&keep).remove(0)));
    let window = Recovery::of(left(&keep).remove(0));
    assert_eq!(found(&keep), [], "it is open");
    window.keep(&design("Swap, mended"), None, None);
    drop(window);
    assert_eq!(found(&keep), [("Swap, mended".to_owned(), None)]);
    let window = Recovery::of(left(&keep).remove(0));
    window.forget();
    drop(window);
    assert_eq!(names(&keep), [""; 0]);
}

#[test]
fn what_is_discarded_is_gone() {
    let (_room, keep) = keep();
    let window = Recovery::new(&keep);
    window.keep(&design("Swap"), None, None);
    drop(window);
    left(&keep).remove(0).discard();
    assert_eq!(names(&keep), [""; 0]);
}

#[test]
fn what_lies_there_is_bounded_and_swept() {
    let (_room, keep) = keep();
    let folder = keep.folder().unwrap().join("recovery");
    fs::create_dir_all(&folder).unwrap();
    for number in 0..u64::try_from(MOST_LEFT).unwrap() + 5 {
        let record = Record {
            when: number * 1_000,
            file: None,
            version: None,
            design: file::to_text(&design(&number.to_string())),
        };
        fs::write(folder.join(format!("{number}-1.json")), serde_json::to_vec(&record).unwrap()).unwrap();
        fs::write(folder.join(format!("{number}-1.lock")), "").unwrap();
    }
    for (name, text) in [("cut-1", "{ \"when\": 3, "), ("odd-1", "{ \"when\": 1, \"design\": \"{}\", \"x\": 1 }")] {
        fs::write(folder.join(name).with_extension("json"), text).unwrap();
        fs::write(folder.join(name).with_extension("lock"), "").unwrap();
    }
    fs::write(folder.join("empty-1.lock"), "").unwrap();
    let found = found(&keep);
    assert_eq!(found.len(), MOST_LEFT);
    assert_eq!(found[0].0, "24", "the newest first");
    assert_eq!(names(&keep).len(), 2 * MOST_LEFT);
}

#[test]
fn nothing_is_kept_where_nothing_can_be_written() {
    let window = Recovery::new(&Keep::nowhere());
    window.keep(&design("Swap"), None, None);
    drop(window);
    let room = tempfile::tempdir().unwrap();
    fs::write(room.path().join("file"), "").unwrap();
    let keep = Keep::at(room.path().join("file/state"));
    let window = Recovery::new(&keep);
    window.keep(&design("Swap"), None, None);
    window.forget();
    drop(window);
    assert_eq!(found(&keep), []);
}

#[test]
fn many_changes_are_written_at_their_pace() {
    let (_room, keep) = keep();
    let window = Recovery::new(&keep);
    let begun = Instant::now();
    for number in 0..20_000 {
        window.keep(&design(&format!("Change {number}")), None, None);
    }
    let told = begun.elapsed();
    drop(window);
    assert_eq!(found(&keep), [("Change 19999".to_owned(), None)]);
    assert!(told < Duration::from_secs(20), "telling does not wait for the disk: {told:?}");
}

#[test]
fn ages_are_said_in_words() {
    let (_room, keep) = keep();
    let window = Recovery::new(&keep);
    window.keep(&design("Swap"), None, None);
    drop(window);
    let mut left = left(&keep).remove(0);
    for (seconds, words) in
        [(0, "less than a minute ago"), (61, "1 minute ago"), (7_300, "2 hours ago"), (90_000, "1 day ago")]
    {
        left.age = Duration::from_secs(seconds);
        assert_eq!(left.age_in_words(), words);
    }
}
