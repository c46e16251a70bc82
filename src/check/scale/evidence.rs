//! All that was read of one print, and what it comes to.

use super::{
    Circumstances, Cut, Estimate, Fault, Read, Reading, Reason, ScaleError, Scales, Verdict, Way,
    estimate, faults, judge,
};

/// What is known of a print's scale, from readings or from a scan.
#[derive(Debug, Clone, Default)]
pub struct Evidence {
    /// The scales.
    pub scales: Scales,
    /// The same, as uncertain as [`faults`] must be asked with.
    pub widest: Scales,
    /// What each gauge reads.
    pub reads: Vec<Read>,
}

impl Evidence {
    /// Of readings taken with a rule, with the estimate of each direction that was read.
    ///
    /// # Errors
    /// As [`fn@estimate`].
    pub fn of(readings: &[Reading]) -> Result<(Self, Vec<Estimate>), ScaleError> {
        let mut evidence = Self::default();
        let mut estimates = vec![];
        for way in [Way::Across, Way::Down] {
            estimates.extend(estimate(way, readings)?);
        }
        for estimate in &estimates {
            let (own, wide) = (Some(estimate.scale), Some(estimate.widest));
            let (scales, widest) = (&mut evidence.scales, &mut evidence.widest);
            match estimate.way {
                Way::Across => (scales.across, widest.across) = (own, wide),
                Way::Down => (scales.down, widest.down) = (own, wide),
            }
            let alone = estimate.readings.iter().map(Reading::alone);
            evidence.reads.extend(alone);
        }
        Ok((evidence, estimates))
    }

    /// What it makes of a cut, and what a print dialog may have done, the plainest first: nothing
    /// where full size fits.
    pub fn judged(&self, circumstances: &Circumstances, cut: &Cut) -> (Verdict, Vec<Fault>) {
        let read = [self.scales.across, self.scales.down];
        let faults = if read.iter().flatten().all(|scale| scale.allows(1.0)) {
            vec![]
        } else {
            faults(&self.widest, circumstances)
        };
        (judge(&self.reads, &self.scales, cut, &faults), faults)
    }
}

impl Verdict {
    /// Why what is off is not the printer's own error, and can't be corrected for it; none where it
    /// can.
    pub fn not_the_printers(&self) -> Option<&Reason> {
        let others = |reason: &&Reason| {
            matches!(reason, Reason::NotThePrinter { .. } | Reason::KnownFault(_))
        };
        self.reasons.iter().find(others)
    }
}
