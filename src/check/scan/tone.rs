//! Ink told from paper, whatever grey both have.
//!
//! N. Otsu, A threshold selection method from gray-level histograms, IEEE Trans. SMC 9 (1979): the
//! threshold that parts the histogram into two classes with the greatest variance between them.
//! A sheet has so little ink that noise would outweigh it, so the histogram is of means of three by
//! three pixels, and the ink's grey that of the darker half of the dark class: the lighter half
//! are edges.

use super::raster::Raster;

/// Least difference between ink and paper, of 255.
const LEAST_CONTRAST: f64 = 40.0;

/// Means that are enough to know the tones by.
const ENOUGH: usize = 500_000;

/// How dark each grey is: 0 as the paper, 1 as the ink.
#[derive(Debug, Clone)]
pub(crate) struct Tones {
    darkness: [f32; 256],
}

impl Tones {
    /// The tones of a raster; `None` where there is no contrast.
    pub(crate) fn of(raster: &Raster) -> Option<Self> {
        let counts = histogram(raster);
        let (ink, paper) = classes(&counts)?;
        if paper - ink < LEAST_CONTRAST {
            return None;
        }
        let mut darkness = [0.0; 256];
        for (grey, darkness) in darkness.iter_mut().enumerate() {
            *darkness = ((paper - grey as f64) / (paper - ink)).clamp(0.0, 1.0) as f32;
        }
        Some(Self { darkness })
    }

    /// How dark a grey is, 0 to 1.
    pub(crate) fn darkness(&self, grey: u8) -> f32 {
        self.darkness[usize::from(grey)]
    }
}

/// How often each grey occurs among means of three by three pixels, evenly spread.
fn histogram(raster: &Raster) -> [u64; 256] {
    let (width, height) = (raster.width(), raster.height());
    let stride = (width * height / ENOUGH).isqrt().max(1);
    let mut counts = [0_u64; 256];
    for y in (0..height).step_by(stride) {
        let rows = y.saturating_sub(1)..(y + 2).min(height);
        for x in (0..width).step_by(stride) {
            let columns = x.saturating_sub(1)..(x + 2).min(width);
            let number = rows.len() * columns.len();
            let sum: usize = rows
                .clone()
                .flat_map(|row| &raster.grey()[row * width..][columns.clone()])
                .map(|grey| usize::from(*grey))
                .sum();
            if let Some(count) = counts.get_mut((sum + number / 2) / number) {
                *count += 1;
            }
        }
    }
    counts
}

/// Grey of ink and of paper.
fn classes(counts: &[u64; 256]) -> Option<(f64, f64)> {
    let moment = |range: &[u64]| -> f64 {
        let terms = range.iter().enumerate();
        terms.map(|(at, count)| at as f64 * *count as f64).sum()
    };
    let total: u64 = counts.iter().sum();
    let whole = moment(counts);
    let (mut dark, mut dark_moment) = (0_u64, 0.0);
    let mut best: Option<(f64, usize, f64, f64)> = None;
    for (grey, count) in counts.iter().enumerate() {
        dark += count;
        dark_moment += grey as f64 * *count as f64;
        let light = total - dark;
        if dark == 0 || light == 0 {
            continue;
        }
        let ink = dark_moment / dark as f64;
        let paper = (whole - dark_moment) / light as f64;
        let between = dark as f64 * light as f64 * (paper - ink).powi(2);
        if best.is_none_or(|(most, ..)| between > most) {
            best = Some((between, grey, ink, paper));
        }
    }
    let (_, threshold, mean, paper) = best?;
    let darker = &counts[..=threshold.min(mean as usize)];
    let number: u64 = darker.iter().sum();
    let ink = if number == 0 {
        mean
    } else {
        moment(darker) / number as f64
    };
    Some((ink, paper))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn grey_ink_on_grey_paper_is_told_apart() {
        // Lines of five pixels, one in fifty.
        let mut grey = vec![0; 250_000];
        for (at, pixel) in grey.iter_mut().enumerate() {
            let noise = (at * 7_919 % 31) as u8;
            *pixel = if at % 250 < 5 {
                75 + noise
            } else {
                190 + noise
            };
        }
        let tones = Tones::of(&Raster::new(500, 500, grey).unwrap()).unwrap();
        assert!(tones.darkness(205) < 0.03 && tones.darkness(90) > 0.93);
        assert!((tones.darkness(147) - 0.5).abs() < 0.05);
    }

    #[test]
    fn an_empty_page_has_no_contrast() {
        for page in [
            vec![255; 100],
            vec![0; 100],
            (200..=219).cycle().take(100).collect(),
        ] {
            assert!(Tones::of(&Raster::new(10, 10, page).unwrap()).is_none());
        }
    }
}
