//! Times of a bench: medians, what they grow by from size to size, and both as JSON for whoever draws them.

use serde_json::{Value, json};
use std::path::PathBuf;
use std::time::{Duration, Instant};

/// What takes longer than this is run once; what takes longer than [`TOO_LONG`] is not tried in a larger size.
const ONCE: Duration = Duration::from_millis(300);

/// What takes longer is not tried in a larger size.
pub const TOO_LONG: Duration = Duration::from_secs(5);

/// Something is run again until so much time has passed, and at least [`LEAST_RUNS`] times.
const LONG_ENOUGH: Duration = Duration::from_millis(200);

/// The median of fewer jumps about on a busy machine.
const LEAST_RUNS: usize = 5;

/// No more runs than this tell more.
const MOST_RUNS: usize = 60;

/// How long something took.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Taken {
    /// The median of all runs.
    pub median: Duration,
    /// The shortest of them: on a busy machine, what comes nearest to the time on an idle one.
    pub least: Duration,
    /// The longest of them.
    pub worst: Duration,
    /// How many there were.
    pub runs: usize,
    /// The time that a processor spent on one of them, on all threads together; `None` where the system does not tell.
    pub spent: Option<Duration>,
}

impl Taken {
    /// The median in milliseconds. With `--busy` on the command line, what comes nearest to it on a machine that does other
    /// work at the same time: the shortest run or the processor's time for one, whichever is less.
    #[must_use]
    pub fn ms(&self) -> f64 {
        let quiet = self.spent.map_or(self.least, |spent| spent.min(self.least));
        (if is_busy() { quiet } else { self.median }).as_secs_f64() * 1e3
    }

    /// Of times measured elsewhere, at least one.
    ///
    /// # Panics
    /// When there are none.
    #[must_use]
    pub fn of(mut times: Vec<Duration>) -> Self {
        times.sort_unstable();
        let (least, worst) = (times.first(), times.last());
        let [least, worst] = [least, worst].map(|time| *time.expect("something was measured"));
        Self { median: times[times.len() / 2], least, worst, runs: times.len(), spent: None }
    }
}

/// Runs something often enough to know how long it takes.
pub fn taken(mut run: impl FnMut()) -> Taken {
    let (begun, ticks) = (Instant::now(), processor());
    let so_far = || match processor().zip(ticks).filter(|_| is_busy()) {
        Some((now, before)) => now - before,
        None => begun.elapsed(),
    };
    let mut times = Vec::new();
    while times.is_empty()
        || so_far() < ONCE && times.len() < LEAST_RUNS
        || so_far() < LONG_ENOUGH && times.len() < MOST_RUNS
    {
        let start = Instant::now();
        run();
        times.push(start.elapsed());
    }
    let runs = u32::try_from(times.len()).unwrap_or(u32::MAX);
    // Rounded up to the next tick.
    let spent = processor().zip(ticks).map(|(now, before)| (now - before + TICK) / runs);
    Taken { spent, ..Taken::of(times) }
}

/// How finely the system tells a processor's time.
const TICK: Duration = Duration::from_millis(10);

/// The time that processors have spent on this process so far, ended threads included, as Linux tells it (`man 5 proc`:
/// fields 14 and 15, in ticks of 1/100 s).
fn processor() -> Option<Duration> {
    let stat = std::fs::read_to_string("/proc/self/stat").ok()?;
    // The second field is a name in brackets, which may hold anything.
    let (_, rest) = stat.rsplit_once(')')?;
    let ticks: Option<Vec<u32>> = rest.split_whitespace().skip(11).take(2).map(|word| word.parse().ok()).collect();
    Some(TICK * ticks?.into_iter().sum::<u32>())
}

fn is_busy() -> bool {
    std::env::args().any(|word| word == "--busy")
}

/// Everything that a bench measured.
#[derive(Debug, Default)]
pub struct Record {
    bench: &'static str,
    rows: Vec<Row>,
}

#[derive(Debug)]
struct Row {
    folio: String,
    panels: usize,
    what: String,
    taken: Taken,
}

impl Record {
    /// Nothing yet.
    #[must_use]
    pub const fn new(bench: &'static str) -> Self {
        Self { bench, rows: Vec::new() }
    }

    /// Measures something of a folio and keeps it; `None` where it took too long in a smaller size already.
    pub fn measure(&mut self, (folio, panels): (&str, usize), what: &str, run: impl FnMut()) -> Option<Taken> {
        let is_of = |row: &&Row| row.folio == folio && row.what == what;
        if self.rows.iter().filter(is_of).any(|row| row.taken.ms() > TOO_LONG.as_secs_f64() * 1e3) {
            return None;
        }
        let taken = taken(run);
        self.keep((folio, panels), what, taken);
        Some(taken)
    }

    /// Keeps what was measured elsewhere.
    pub fn keep(&mut self, (folio, panels): (&str, usize), what: &str, taken: Taken) {
        self.rows.push(Row { folio: folio.to_owned(), panels, what: what.to_owned(), taken });
    }

    /// Lets go of what was measured of a folio.
    pub fn forget(&mut self, (folio, panels): (&str, usize), what: &str) {
        self.rows.retain(|row| (row.folio.as_str(), row.panels, row.what.as_str()) != (folio, panels, what));
    }

    /// How long something took of a folio, see [`Taken::ms`].
    #[must_use]
    pub fn ms(&self, (folio, panels): (&str, usize), what: &str) -> Option<f64> {
        let of = |row: &&Row| (row.folio.as_str(), row.panels, row.what.as_str()) == (folio, panels, what);
        self.rows.iter().find(of).map(|row| row.taken.ms())
    }

    /// By which power of the panels something grew since the size before: 1 is in step with them, 2 with their square.
    #[must_use]
    pub fn exponent(&self, (folio, panels): (&str, usize), what: &str) -> Option<f64> {
        let sizes: Vec<&Row> = self.rows.iter().filter(|row| row.folio == folio && row.what == what).collect();
        let at = sizes.iter().position(|row| row.panels == panels)?;
        let before = sizes.get(at.checked_sub(1)?)?;
        let ratio = |a: f64, b: f64| libm::log(a / b);
        let count = |panels: usize| f64::from(u32::try_from(panels).unwrap_or(u32::MAX));
        Some(ratio(sizes[at].taken.ms(), before.taken.ms()) / ratio(count(panels), count(before.panels)))
    }

    /// All of it as JSON, times in milliseconds.
    #[must_use]
    pub fn json(&self) -> Value {
        let row = |row: &Row| {
            let Taken { median, least, worst, runs, .. } = row.taken;
            let [median, least, worst] = [median, least, worst].map(|time| time.as_secs_f64() * 1e3);
            json!({
                "folio": row.folio, "panels": row.panels, "what": row.what, "ms": row.taken.ms(), "median_ms": median,
                "least_ms": least, "worst_ms": worst, "runs": runs,
            })
        };
        json!({ "bench": self.bench, "rows": self.rows.iter().map(row).collect::<Vec<Value>>() })
    }

    /// Writes it where `--json FILE` says, if it says so.
    ///
    /// # Panics
    /// When the file can't be written.
    pub fn write(&self) {
        let Some(path) = after("--json").map(PathBuf::from) else { return };
        let text = format!("{:#}\n", self.json());
        std::fs::write(&path, text).unwrap_or_else(|why| panic!("{} can't be written: {why}", path.display()));
    }
}

/// The word that follows an option on the command line of a bench.
#[must_use]
pub fn after(option: &str) -> Option<String> {
    let mut words = std::env::args().skip_while(|word| word != option);
    words.next().and(words.next())
}
