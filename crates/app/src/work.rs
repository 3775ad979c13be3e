//! Work that would hold the window up, on a thread of its own: with what is done of it and a way to call it off.

use std::ops::ControlFlow;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::{Arc, mpsc};
use std::time::Duration;

/// Is told how much of how much is done, and says whether to go on.
pub(crate) type Progress<'a> = &'a mut dyn FnMut(usize, usize) -> ControlFlow<()>;

/// Work under way, which comes to a `T`.
#[derive(Debug)]
pub(crate) struct Work<T> {
    shared: Arc<Shared>,
    ended: mpsc::Receiver<T>,
}

/// The work ended without coming to anything.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Lost;

#[derive(Debug, Default)]
struct Shared {
    done: AtomicUsize,
    all: AtomicUsize,
    is_off: AtomicBool,
}

impl<T: Send + 'static> Work<T> {
    /// Begins a job. `wake` is called when there is something new to show.
    pub(crate) fn begin(
        job: impl FnOnce(Progress<'_>) -> T + Send + 'static,
        wake: impl Fn() + Send + 'static,
    ) -> Self {
        let shared = Arc::new(Shared::default());
        let (send, ended) = mpsc::channel();
        let told = Arc::clone(&shared);
        std::thread::spawn(move || {
            let end = job(&mut |done, all| {
                told.done.store(done, Ordering::Relaxed);
                told.all.store(all, Ordering::Relaxed);
                wake();
                if told.is_off.load(Ordering::Relaxed) { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
            });
            // The window may be gone; then there is nobody to tell.
            send.send(end).unwrap_or_default();
            wake();
        });
        Self { shared, ended }
    }

    /// What it came to, once it has.
    pub(crate) fn ended(&self) -> Option<Result<T, Lost>> {
        self.ended_within(Duration::ZERO)
    }

    /// The same, waiting for it so long.
    pub(crate) fn ended_within(&self, patience: Duration) -> Option<Result<T, Lost>> {
        match self.ended.recv_timeout(patience) {
            Ok(end) => Some(Ok(end)),
            Err(mpsc::RecvTimeoutError::Timeout) => None,
            Err(mpsc::RecvTimeoutError::Disconnected) => Some(Err(Lost)),
        }
    }

    /// How much of how much is done; nothing of nothing while that is not known.
    pub(crate) fn progress(&self) -> (usize, usize) {
        (self.shared.done.load(Ordering::Relaxed), self.shared.all.load(Ordering::Relaxed))
    }

    /// Calls it off, as soon as it listens.
    pub(crate) fn call_off(&self) {
        self.shared.is_off.store(true, Ordering::Relaxed);
    }

    /// Whether it was called off.
    pub(crate) fn is_off(&self) -> bool {
        self.shared.is_off.load(Ordering::Relaxed)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Far longer than any of it takes.
    const LONG: Duration = Duration::from_secs(300);

    #[test]
    fn work_tells_how_far_it_is_and_what_it_came_to() {
        let (go, wait) = mpsc::channel::<()>();
        let work = Work::begin(
            move |progress| {
                let is_on = progress(2, 5).is_continue();
                wait.recv().unwrap();
                is_on
            },
            || {},
        );
        while work.progress() != (2, 5) {
            std::thread::yield_now();
        }
        assert_eq!(work.ended(), None);
        go.send(()).unwrap();
        assert_eq!((work.ended_within(LONG), work.is_off()), (Some(Ok(true)), false));
    }

    #[test]
    fn it_ends_when_it_hears_that_it_is_called_off() {
        let work = Work::begin(|progress| while progress(0, 0).is_continue() {}, || {});
        work.call_off();
        assert_eq!((work.ended_within(LONG), work.is_off()), (Some(Ok(())), true));
    }

    #[test]
    fn work_that_breaks_down_is_lost_and_no_more() {
        let work: Work<()> = Work::begin(|_| std::panic::resume_unwind(Box::new("broken")), || {});
        assert_eq!(work.ended_within(LONG), Some(Err(Lost)));
    }
}
