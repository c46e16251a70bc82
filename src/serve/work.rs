//! Work that takes a processor: beside the requests, so much at once, and no longer than is waited
//! for.
//!
//! A thread can't be ended from outside. Work that runs over is answered for, and goes on to its
//! end on one of a few places kept for that; when these are taken, it keeps its own, and others are
//! told that the server is busy.

use std::sync::{Arc, Mutex};
use std::thread::available_parallelism;
use std::time::Duration;
use tokio::sync::{OwnedSemaphorePermit, Semaphore};
use tokio::task::spawn_blocking;
use tokio::time::timeout;

/// Longest time that a definition is worked on while somebody waits.
pub(super) const LONGEST: Duration = Duration::from_secs(if cfg!(debug_assertions) {
    // A test build is some times slower, and shares its machine.
    30
} else {
    2
});
/// Longest time that work waits for its turn.
const LONGEST_WAIT: Duration = Duration::from_secs(10);
/// How many wait for their turn at most.
const MOST_WAITING: usize = 256;
/// How many may run over beside those that run.
const MOST_OVER: usize = 4;

/// Why there is no result.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum NotDone {
    /// Others are being worked for.
    Busy,
    /// It took longer than is waited for.
    TooLong,
    /// It fell over.
    Fell,
}

/// So many places to work at.
pub(super) struct Pool {
    waiting: Semaphore,
    running: Arc<Semaphore>,
    over: Arc<Semaphore>,
}

impl Pool {
    /// As many places as there are processors.
    pub(super) fn of_processors() -> Self {
        Self::of(available_parallelism().map_or(2, usize::from))
    }

    /// So many places.
    pub(super) fn of(places: usize) -> Self {
        Self {
            waiting: Semaphore::new(MOST_WAITING),
            running: Arc::new(Semaphore::new(places)),
            over: Arc::new(Semaphore::new(MOST_OVER)),
        }
    }

    /// Whether more work would have to wait.
    pub(super) fn is_busy(&self) -> bool {
        self.running.available_permits() == 0
    }

    /// Does the work when its turn comes.
    pub(super) async fn run<T: Send + 'static>(
        &self,
        longest: Duration,
        work: impl FnOnce() -> T + Send + 'static,
    ) -> Result<T, NotDone> {
        let _waiting = self.waiting.try_acquire().map_err(|_| NotDone::Busy)?;
        let turn = timeout(LONGEST_WAIT, self.running.clone().acquire_owned()).await;
        let Ok(Ok(place)) = turn else {
            return Err(NotDone::Busy);
        };
        let over = self.over.clone();
        // A task of its own: whoever asked may have gone meanwhile.
        let watched = tokio::spawn(async move {
            let place = Place::of(place);
            let own = place.clone();
            let thread = spawn_blocking(move || {
                let _given_back_at_the_end = Leaving(own);
                work()
            });
            match timeout(longest, thread).await {
                Ok(done) => done.map_err(|_| NotDone::Fell),
                Err(_) => {
                    place.change(over);
                    Err(NotDone::TooLong)
                }
            }
        });
        watched.await.unwrap_or(Err(NotDone::Fell))
    }
}

/// The place that work runs at, until it ends.
#[derive(Clone)]
struct Place(Arc<Mutex<Option<OwnedSemaphorePermit>>>);

impl Place {
    fn of(permit: OwnedSemaphorePermit) -> Self {
        Self(Arc::new(Mutex::new(Some(permit))))
    }

    /// Gives the place to others and takes one of those for work that runs over, if one is free.
    fn change(&self, over: Arc<Semaphore>) {
        if let Ok(mut place) = self.0.lock()
            && place.is_some()
            && let Ok(permit) = over.try_acquire_owned()
        {
            *place = Some(permit);
        }
    }
}

/// Gives a place back, also where the work fell over.
struct Leaving(Place);

impl Drop for Leaving {
    fn drop(&mut self) {
        if let Ok(mut place) = self.0.0.lock() {
            *place = None;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::mpsc::channel;

    const SHORT: Duration = Duration::from_millis(20);
    const LONG: Duration = Duration::from_secs(60);

    #[tokio::test(flavor = "multi_thread", worker_threads = 2)]
    async fn work_that_runs_over_leaves_its_place_until_too_many_do() {
        let pool = Pool::of(1);
        let mut ends = vec![];
        for _ in 0..=MOST_OVER {
            let (end, wait) = channel::<()>();
            ends.push(end);
            let stuck = pool.run(SHORT, move || wait.recv()).await;
            assert_eq!(stuck.unwrap_err(), NotDone::TooLong);
            if ends.len() <= MOST_OVER {
                assert_eq!(pool.run(LONG, || 7).await, Ok(7));
            }
        }
        // The last one keeps its place, and nothing more is begun; when one ends, others have it.
        assert_eq!(pool.running.available_permits(), 0);
        drop(ends);
        assert_eq!(pool.run(LONG, || 7).await, Ok(7));
    }

    #[tokio::test(flavor = "multi_thread", worker_threads = 2)]
    async fn work_that_falls_over_gives_its_place_back() {
        let pool = Pool::of(1);
        for _ in 0..3 {
            let fell: Result<u8, _> = pool
                .run(LONG, || std::panic::resume_unwind(Box::new("over")))
                .await;
            assert_eq!(fell, Err(NotDone::Fell));
        }
    }
}
