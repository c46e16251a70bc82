//! The last resort behind the budgets: work that is watched from beside.
//!
//! Libraries read what files hold, and no bound of ours reaches into them. Should one of them run
//! on without end, or fall over, the file is not judged. A thread can't be ended from outside: work
//! that was given up is told so by a flag, and ends where it looks at it; what runs on within a
//! library does so until the program ends, which it soon does.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{RecvTimeoutError, channel};
use std::thread;
use std::time::{Duration, Instant};

/// Memory that the work may take, bytes, beside what the program took before. What other threads
/// take meanwhile counts too; tests run side by side.
const MOST_MEMORY: u64 = if cfg!(debug_assertions) {
    8 << 30
} else {
    448 << 20
};
/// How often the work is looked at.
const LOOK: Duration = Duration::from_millis(10);
/// Room for nesting, bytes: libraries go down 512 levels, some hundred bytes each.
const STACK: usize = 32 << 20;

/// Why there is no result.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Stopped {
    /// It took too long.
    Time,
    /// It took too much memory.
    Memory,
    /// It fell over.
    Fell,
}

/// Whether work was given up, and nobody waits for it any more.
#[derive(Debug, Clone, Default)]
pub(crate) struct GivenUp(Arc<AtomicBool>);

impl GivenUp {
    /// Whether it was.
    pub(crate) fn is_set(&self) -> bool {
        self.0.load(Ordering::Relaxed)
    }
}

/// Longest time for a file of this many bytes.
pub(crate) fn longest_time(bytes: usize) -> Duration {
    // A test build is some times slower, and shares its machine.
    const LEAST: Duration = Duration::from_millis(if cfg!(debug_assertions) {
        30_000
    } else {
        4_500
    });
    // A tenth of a second for each 256 KiB, so that a volume of ten thousand sheets has its time.
    let parts = u32::try_from(bytes >> 18).unwrap_or(u32::MAX);
    LEAST.max(Duration::from_millis(100).saturating_mul(parts))
}

impl Stopped {
    /// Why, in words that follow `reading it`.
    pub(crate) fn words(self) -> &'static str {
        match self {
            Self::Time => "takes too long: it is made so that reading it hardly ends",
            Self::Memory => "takes too much memory",
            Self::Fell => "failed: it is damaged, or made so that reading it fails",
        }
    }
}

/// Does the work within a time, and within [`MOST_MEMORY`] where the system says what is taken.
pub(crate) fn watched<T: Send + 'static>(
    longest: Duration,
    work: impl FnOnce(GivenUp) -> T + Send + 'static,
) -> Result<T, Stopped> {
    watched_within(longest, MOST_MEMORY, work)
}

fn watched_within<T: Send + 'static>(
    longest: Duration,
    most_memory: u64,
    work: impl FnOnce(GivenUp) -> T + Send + 'static,
) -> Result<T, Stopped> {
    let (sender, receiver) = channel();
    let given_up = GivenUp::default();
    let told = given_up.clone();
    let (begin, before) = (Instant::now(), memory().unwrap_or(0));
    let run = move || {
        // Nobody listens any more where it took too long.
        let _ = sender.send(work(told));
    };
    let thread = thread::Builder::new()
        .name("reader".into())
        .stack_size(STACK);
    if thread.spawn(run).is_err() {
        return Err(Stopped::Memory);
    }
    let stopped = loop {
        match receiver.recv_timeout(LOOK) {
            Ok(result) => return Ok(result),
            Err(RecvTimeoutError::Disconnected) => return Err(Stopped::Fell),
            Err(RecvTimeoutError::Timeout) if begin.elapsed() > longest => break Stopped::Time,
            Err(RecvTimeoutError::Timeout) => {}
        }
        if memory().is_some_and(|now| now > before.saturating_add(most_memory)) {
            break Stopped::Memory;
        }
    };
    given_up.0.store(true, Ordering::Relaxed);
    Err(stopped)
}

/// Memory that the process takes, bytes; `None` where the system does not say.
fn memory() -> Option<u64> {
    // The second number counts pages (proc(5), from memory), of 4 KiB at least.
    let pages = std::fs::read_to_string("/proc/self/statm").ok()?;
    let pages: u64 = pages.split(' ').nth(1)?.parse().ok()?;
    pages.checked_mul(4096)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn work_that_ends_gives_its_result() {
        assert_eq!(watched(Duration::from_secs(60), |_| 7), Ok(7));
    }

    #[test]
    fn work_that_does_not_end_is_left_to_itself() {
        let (sender, receiver) = channel();
        let long = move |given_up: GivenUp| {
            while !given_up.is_set() {
                thread::sleep(Duration::from_millis(1));
            }
            let _ = sender.send(());
        };
        assert_eq!(watched(Duration::from_millis(50), long), Err(Stopped::Time));
        // It is told, and ends.
        receiver.recv_timeout(Duration::from_secs(60)).unwrap();
    }

    #[test]
    fn work_that_falls_over_is_told() {
        let fall = |_| -> u8 { std::panic::resume_unwind(Box::new("over")) };
        assert_eq!(watched(Duration::from_secs(60), fall), Err(Stopped::Fell));
    }

    #[test]
    #[cfg(target_os = "linux")]
    fn work_that_takes_all_memory_is_told() {
        assert!(memory().is_some());
        let eat = |_| {
            let mut all = vec![];
            for _ in 0..200 {
                all.push(vec![1_u8; 1 << 20]);
            }
            thread::sleep(Duration::from_secs(2));
            all.len()
        };
        let outcome = watched_within(Duration::from_secs(60), 100 << 20, eat);
        assert_eq!(outcome, Err(Stopped::Memory));
    }
}
