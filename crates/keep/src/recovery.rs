//! Work that is not saved yet, kept so that a crash loses no more than the last seconds of it.
//!
//! Each window has a place of its own in the folder `recovery` of its keep, which it holds by a lock on a file there. The
//! system takes the lock away however the program ends, so that a place which can be locked belongs to nobody, and what is
//! in it was left behind. Writing is done on a thread of its own, at most once in [`PACE`], and only in the keep: the
//! design's own file is never touched here.

use crate::Keep;
use disk::Version;
use model::Document;
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;
use std::fs::{self, File, TryLockError};
use std::io::Read;
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::thread::JoinHandle;
use std::time::{Duration, Instant, SystemTime, UNIX_EPOCH};

/// How long after one writing the next may begin: what a crash can lose, and a disk can bear.
pub const PACE: Duration = Duration::from_secs(2);

/// How many designs that were left behind are kept: more crashes than anybody lets lie. The oldest give way.
pub const MOST_LEFT: usize = 20;

/// The largest file that is read back, in bytes: a design with every character of it escaped.
const MOST_BYTES: u64 = 6 * 16 * 1024 * 1024;

/// What is in a recovery file.
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Record {
    /// Seconds since 1970, by the system's clock.
    when: u64,
    /// The file that the design came from, if from any.
    file: Option<String>,
    /// What that file held when the design was read or saved last: the SHA-256 of it.
    version: Option<[u8; 32]>,
    /// The design, as its file would have it.
    design: String,
}

/// Keeps the unsaved work of one window.
#[derive(Debug)]
pub struct Recovery {
    sender: Option<Sender<Order>>,
    thread: Option<JoinHandle<()>>,
}

enum Order {
    /// This is not saved yet.
    Keep(Box<Unsaved>),
    /// All is saved, or let go.
    Forget,
}

struct Unsaved {
    document: Document,
    file: Option<PathBuf>,
    version: Option<Version>,
}

/// A design that was left behind, held so that no other window offers it at the same time.
#[derive(Debug)]
pub struct Left {
    /// The design.
    pub document: Document,
    /// The file that it came from, if from any.
    pub file: Option<PathBuf>,
    /// What that file held when the design was read or saved last.
    pub version: Option<Version>,
    /// How long ago it was kept.
    pub age: Duration,
    place: Place,
}

/// A window's place: a lock, and beside it the recovery file.
#[derive(Debug)]
struct Place {
    path: PathBuf,
    /// Where the system has no locks, it is open and no more.
    _lock: Option<File>,
}

impl Recovery {
    /// Keeps what it is told in a new place of this keep. Nothing is made there before there is something to keep.
    #[must_use]
    pub fn new(keep: &Keep) -> Self {
        Self::with_pace(keep, PACE)
    }

    /// The same at another pace than [`PACE`].
    #[must_use]
    pub fn with_pace(keep: &Keep, pace: Duration) -> Self {
        keep.folder().map_or_else(Self::none, |folder| Self::begin(Place::new_in(&folder.join("recovery")), pace))
    }

    /// Goes on in the place of a design that was left behind, which stays kept until it is saved.
    #[must_use]
    pub fn of(left: Left) -> Self {
        let place = left.place;
        Self::begin(move || Some(place), PACE)
    }

    /// Keeps nothing.
    #[must_use]
    pub const fn none() -> Self {
        Self { sender: None, thread: None }
    }

    fn begin(place: impl FnOnce() -> Option<Place> + Send + 'static, pace: Duration) -> Self {
        let (sender, orders) = channel();
        let thread = std::thread::Builder::new().name("recovery".to_owned()).spawn(move || obey(&orders, place, pace));
        match thread {
            Ok(thread) => Self { sender: Some(sender), thread: Some(thread) },
            Err(_) => Self::none(),
        }
    }

    /// This is not saved yet. It came from `file`, if from any, which held `version` then.
    pub fn keep(&self, document: &Document, file: Option<&Path>, version: Option<Version>) {
        let (document, file) = (document.clone(), file.map(Path::to_owned));
        self.tell(Order::Keep(Box::new(Unsaved { document, file, version })));
    }

    /// All is saved, or let go: there is nothing to recover.
    pub fn forget(&self) {
        self.tell(Order::Forget);
    }

    fn tell(&self, order: Order) {
        if let Some(sender) = &self.sender {
            // A thread that is gone has nobody left to keep anything.
            sender.send(order).unwrap_or_default();
        }
    }
}

impl Drop for Recovery {
    /// Waits until what was told last is done, so that nothing is lost or left by an ordinary end.
    fn drop(&mut self) {
        self.sender = None;
        if let Some(thread) = self.thread.take() {
            thread.join().unwrap_or_default();
        }
    }
}

/// Does what it is told until nobody is left to tell; of several orders only the last counts.
fn obey(orders: &Receiver<Order>, find: impl FnOnce() -> Option<Place>, pace: Duration) {
    let mut find = Some(find);
    let mut place = None;
    while let Ok(order) = orders.recv() {
        let mut order = orders.try_iter().last().unwrap_or(order);
        loop {
            let begun = Instant::now();
            match &order {
                Order::Keep(unsaved) => {
                    if place.is_none() {
                        place = find.take().and_then(|find| find());
                    }
                    if let Some(place) = &place {
                        place.write(unsaved);
                    }
                }
                Order::Forget => {
                    // A place that was left behind is found only to be cleared.
                    if place.is_none() {
                        place = find.take().and_then(|find| find());
                    }
                    place.iter().for_each(Place::clear);
                }
            }
            let pace = if matches!(order, Order::Keep(_)) { pace } else { Duration::ZERO };
            match next(orders, begun + pace) {
                Some(newer) => order = newer,
                None => break,
            }
        }
    }
    if let Some(place) = place {
        place.leave();
    }
}

/// The last order given until then; at once where there is nothing to keep, or nobody is left to tell.
fn next(orders: &Receiver<Order>, until: Instant) -> Option<Order> {
    let mut last = None;
    loop {
        match orders.recv_timeout(until.saturating_duration_since(Instant::now())) {
            Ok(Order::Forget) => return Some(Order::Forget),
            Ok(order) => last = Some(order),
            Err(RecvTimeoutError::Timeout | RecvTimeoutError::Disconnected) => return last,
        }
    }
}

impl Place {
    /// A way to a new place in a folder.
    fn new_in(folder: &Path) -> impl FnOnce() -> Option<Self> + Send + 'static {
        let folder = folder.to_owned();
        move || {
            fs::create_dir_all(&folder).ok()?;
            // Another window that has just started may look at a new lock before it is locked, and sweep it away.
            (0..8).find_map(|_| Self::new(&folder))
        }
    }

    fn new(folder: &Path) -> Option<Self> {
        // A name that no other window has or had: the time and its number.
        let now = SystemTime::now().duration_since(UNIX_EPOCH).unwrap_or_default();
        let path = folder.join(format!("{}-{}", now.as_nanos(), std::process::id()));
        let lock = File::create_new(path.with_extension("lock")).ok()?;
        match lock.try_lock() {
            Err(TryLockError::WouldBlock) => None,
            _ => path.with_extension("lock").exists().then_some(Self { path, _lock: Some(lock) }),
        }
    }

    /// One that was there before; `None` while it belongs to a window.
    fn left(path: &Path) -> Option<Self> {
        let lock = File::options().append(true).open(path.with_extension("lock")).ok();
        match lock.as_ref().map(File::try_lock) {
            Some(Err(TryLockError::WouldBlock)) => None,
            _ => Some(Self { path: path.to_owned(), _lock: lock }),
        }
    }

    fn record(&self) -> PathBuf {
        self.path.with_extension("json")
    }

    /// Where nothing can be written, nothing is: the window still has the work, and says so when it is saved.
    fn write(&self, unsaved: &Unsaved) {
        let when = SystemTime::now().duration_since(UNIX_EPOCH).unwrap_or_default().as_secs();
        let absolute = |file: &PathBuf| std::path::absolute(file).ok()?.to_str().map(str::to_owned);
        let (file, version) = (unsaved.file.as_ref().and_then(absolute), unsaved.version.map(Version::digest));
        let record = Record { when, file, version, design: file::to_text(&unsaved.document) };
        if let Ok(text) = serde_json::to_vec(&record) {
            disk::save_bytes(&self.record(), &text).unwrap_or_default();
        }
    }

    fn read(self) -> Option<Left> {
        let mut bytes = Vec::new();
        File::open(self.record()).ok()?.take(MOST_BYTES).read_to_end(&mut bytes).ok()?;
        let record: Record = serde_json::from_slice(&bytes).ok()?;
        let document = file::from_text(&record.design).ok()?;
        let when = UNIX_EPOCH.checked_add(Duration::from_secs(record.when))?;
        let age = SystemTime::now().duration_since(when).unwrap_or_default();
        let (file, version) = (record.file.map(PathBuf::from), record.version.map(Version::of_digest));
        Some(Left { document, file, version, age, place: self })
    }

    /// Nothing is kept here any more.
    fn clear(&self) {
        fs::remove_file(self.record()).unwrap_or_default();
    }

    /// Leaves the folder as if the place had never been, unless something is kept in it.
    fn leave(self) {
        if !self.record().exists() {
            fs::remove_file(self.path.with_extension("lock")).unwrap_or_default();
        }
    }
}

impl Left {
    /// What is said of its age: "3 minutes ago".
    #[must_use]
    pub fn age_in_words(&self) -> String {
        let of = |count: u64, one: &str| format!("{count} {one}{} ago", if count == 1 { "" } else { "s" });
        match self.age.as_secs() {
            0..=59 => "less than a minute ago".to_owned(),
            seconds @ 60..=3_599 => of(seconds / 60, "minute"),
            seconds @ 3_600..=86_399 => of(seconds / 3_600, "hour"),
            seconds => of(seconds / 86_400, "day"),
        }
    }

    /// Removes it for good.
    pub fn discard(self) {
        self.place.clear();
        self.place.leave();
    }
}

/// The designs that were left behind in a keep, the newest first; those of windows that are still open are not among them.
/// What can't be read as one is removed, and so are the oldest beyond [`MOST_LEFT`].
#[must_use]
pub fn left(keep: &Keep) -> Vec<Left> {
    let entries = keep.folder().and_then(|folder| fs::read_dir(folder.join("recovery")).ok());
    let paths = entries.into_iter().flatten().filter_map(|entry| Some(entry.ok()?.path()));
    let (places, others): (Vec<PathBuf>, Vec<PathBuf>) =
        paths.partition(|path| path.extension().is_some_and(|ending| ending == "lock" || ending == "json"));
    let places: BTreeSet<PathBuf> = places.iter().map(|path| path.with_extension("")).collect();
    let mut found: Vec<Left> = Vec::new();
    for place in places.iter().filter_map(|path| Place::left(path)) {
        let path = place.path.clone();
        match place.read() {
            Some(left) => found.push(left),
            None => ["json", "lock"].iter().for_each(|ending| {
                fs::remove_file(path.with_extension(ending)).unwrap_or_default();
            }),
        }
    }
    // Such as what a crash has left of a file that was being written.
    for path in others.iter().filter(|path| is_old(path)) {
        fs::remove_file(path).unwrap_or_default();
    }
    found.sort_by_key(|left| left.age);
    found.drain(MOST_LEFT.min(found.len())..).for_each(Left::discard);
    found
}

/// Whether nobody can be in the middle of writing it.
fn is_old(path: &Path) -> bool {
    let modified = fs::metadata(path).and_then(|found| found.modified());
    modified.is_ok_and(|when| when.elapsed().is_ok_and(|age| age > Duration::from_secs(3_600)))
}

#[cfg(test)]
mod tests;
