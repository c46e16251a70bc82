//! A progress bar, on a terminal only.

use super::report;
use indicatif::{ProgressBar, ProgressStyle};
use std::time::Duration;
use trimloft::jobs::kit::Watch;

/// A bar on stderr; where that is no terminal, nothing is drawn.
pub(super) struct Progress {
    bar: ProgressBar,
}

impl Progress {
    /// A bar for so many patterns.
    pub(super) fn of(patterns: usize) -> Self {
        let bar = ProgressBar::new(patterns as u64);
        if let Ok(style) = ProgressStyle::with_template("{wide_bar} {pos} of {len} patterns, {eta}")
        {
            bar.set_style(style);
        }
        bar.enable_steady_tick(Duration::from_millis(200));
        Self { bar }
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        self.bar.finish_and_clear();
    }
}

impl Watch for Progress {
    fn waiting(&self) {
        self.bar
            .suspend(|| report::tell("another run has this kit in hand: waiting for it\n"));
    }

    fn step(&self) {
        self.bar.inc(1);
    }
}
