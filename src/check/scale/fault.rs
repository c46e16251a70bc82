//! Which settings of a print dialog the readings allow.

use super::fault_table::{Borders, Cause, Fault, candidates, office_papers, paper_name, same};
use super::{Scales, Way};
use crate::base::fixed;
use kurbo::Size;
use std::fmt;

/// What was printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FileKind {
    /// A PDF, whose units no program mistakes.
    Pdf,
    /// An SVG.
    Svg,
}

/// What is known of how a sheet was printed; what is not known is left open.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Circumstances {
    /// Page as drawn, mm, portrait or landscape; `None`: A4 or Letter.
    pub page: Option<Size>,
    /// Paper in the tray, mm; `None`: the page's own, A4 or Letter.
    pub tray: Option<Size>,
    /// The printer's unprintable borders, mm; `None`: those seen in makers' manuals.
    pub borders: Option<Borders>,
    /// Kind of file; `None`: either.
    pub file: Option<FileKind>,
}

/// Every fault whose scale lies within the uncertainty of each direction that was read; none where
/// nothing was read. Ask with [`super::Estimate::widest`].
///
/// Ranked, the plainest first: see [`Cause`]. Among those alike, the one nearest to the readings.
/// Faults are worked out, not listed: the page fitted to the paper or to its printable area, the
/// right way or unturned, two or four pages on a sheet, and for an SVG units taken for others.
pub fn faults(scales: &Scales, circumstances: &Circumstances) -> Vec<Fault> {
    let read: Vec<_> = [Way::Across, Way::Down]
        .into_iter()
        .filter_map(|way| scales.along(way))
        .collect();
    if read.is_empty() {
        return vec![];
    }
    let pages = match circumstances.page {
        Some(page) => vec![page],
        None => office_papers().to_vec(),
    };
    let units = circumstances.file != Some(FileKind::Pdf);
    let found = candidates(&pages, circumstances.tray, circumstances.borders, units);
    let allowed = |scale: f64| read.iter().all(|read| read.allows(scale));
    let mut found: Vec<Fault> = found
        .into_iter()
        .filter(|fault| allowed(fault.scale))
        .collect();
    let off = |fault: &Fault| {
        read.iter()
            .map(|read| (fault.scale - read.value).abs())
            .sum::<f64>()
    };
    // A stable sort: alike ones stay in the order of the table.
    found.sort_by(|a, b| {
        let rank = a.cause.rank().cmp(&b.cause.rank());
        rank.then(off(a).total_cmp(&off(b)))
    });
    found
}

impl Fault {
    /// What to choose instead, in one sentence.
    pub fn remedy(&self) -> String {
        const ACTUAL: &str = "choose `Actual size`, `100 %` or `Scaling: none`";
        match self.cause {
            Cause::Fitted { page, tray, .. } if same(page, tray) => format!(
                "{ACTUAL} in the print dialog, not `Fit`, `Shrink` or `Scale to printable area`"
            ),
            Cause::Fitted { page, tray, .. } => format!(
                "put {page} in the tray and name it in the dialog, or draw the pattern again for \
                 {tray}; then {ACTUAL}",
                page = paper_name(page),
                tray = paper_name(tray)
            ),
            Cause::Several { .. } => format!("choose one page per sheet, and {ACTUAL}"),
            Cause::Units { .. } => format!(
                "print the PDF instead, or have the drawing program keep the SVG's own size in \
                 mm; then {ACTUAL}"
            ),
        }
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.cause {
            Cause::Fitted {
                page,
                tray,
                borders,
                unturned,
            } => {
                write!(out, "{} page ", paper_name(page))?;
                if unturned {
                    write!(out, "left landscape across and ")?;
                }
                write!(out, "fitted to ")?;
                area(out, tray, borders)?;
            }
            Cause::Several {
                count,
                tray,
                borders,
            } => {
                let count = if count == 2 { "two" } else { "four" };
                write!(out, "{count} pages on one sheet, fitted to ")?;
                area(out, tray, borders)?;
            }
            Cause::Units { written, read } => write!(
                out,
                "SVG units of {} to the inch read as {}",
                fixed(written, 0),
                fixed(read, 0)
            )?,
        }
        write!(out, ": 100 mm reads {:.2}", 100.0 * self.scale)
    }
}

fn area(out: &mut fmt::Formatter<'_>, tray: Size, borders: Option<Borders>) -> fmt::Result {
    let paper = paper_name(tray);
    let mm = |length| fixed(length, 2);
    match borders {
        None => write!(out, "the whole of {paper} paper"),
        Some(even) if even.sides == even.head && even.head == even.foot => write!(
            out,
            "the printable area of {paper} paper with borders of {} mm",
            mm(even.sides)
        ),
        Some(borders) => write!(
            out,
            "the printable area of {paper} paper with borders of {} mm at the sides, {} at the \
             head and {} at the foot",
            mm(borders.sides),
            mm(borders.head),
            mm(borders.foot)
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Gauge, Measured, Reading, Rule, estimate};
    use super::*;

    const A4: Size = Size::new(210.0, 297.0);
    const LETTER: Size = Size::new(215.9, 279.4);

    fn every(circumstances: &Circumstances) -> Vec<Fault> {
        let anything = Measured {
            value: 1.0,
            uncertainty: 10.0,
        };
        let scales = Scales {
            across: Some(anything),
            ..Scales::default()
        };
        faults(&scales, circumstances)
    }

    fn fitted(page: Size, tray: Size, borders: Option<Borders>) -> Fault {
        let circumstances = Circumstances {
            page: Some(page),
            tray: Some(tray),
            borders,
            file: Some(FileKind::Pdf),
        };
        every(&circumstances)
            .into_iter()
            .find(|fault| {
                matches!(fault.cause, Cause::Fitted { borders: b, unturned: false, .. } if b == borders)
            })
            .unwrap()
    }

    #[test]
    fn the_published_faults_come_out() {
        // Each worked out by hand from ISO 216 and PWG 5101.1 sizes: what a true 100 mm reads.
        let sixth = Some(Borders::even(25.4 / 6.0));
        for (page, tray, borders, reads) in [
            (A4, A4, sixth, 95.97),
            (A4, A4, Some(Borders::even(4.0)), 96.19),
            (LETTER, LETTER, Some(Borders::even(25.4 / 4.0)), 94.12),
            (LETTER, LETTER, sixth, 96.08),
            (A4, LETTER, None, 94.07),
            (A4, LETTER, sixth, 91.22),
            (LETTER, A4, None, 97.27),
            (LETTER, A4, sixth, 93.35),
        ] {
            let fault = fitted(page, tray, borders);
            assert!(
                (100.0 * fault.scale - reads).abs() < 0.005_1,
                "{fault} is not {reads}"
            );
        }
        let svg = Circumstances {
            file: Some(FileKind::Svg),
            ..Circumstances::default()
        };
        for (written, read, reads) in [(90.0, 96.0, 93.75), (96.0, 90.0, 106.67)] {
            let cause = Cause::Units { written, read };
            let fault = every(&svg).into_iter().find(|f| f.cause == cause).unwrap();
            assert!(
                (100.0 * fault.scale - reads).abs() < 0.005_1,
                "{fault} is not {reads}"
            );
        }
    }

    #[test]
    fn the_true_fault_is_always_named_and_none_beyond_the_error() {
        // Every fault of A4 and Letter, each direction read up to 0.25 mm wrong.
        let all = every(&Circumstances::default());
        assert!(all.len() > 40);
        for truth in &all {
            for (wrong_across, wrong_down) in [
                (0.25, 0.25),
                (-0.25, 0.25),
                (0.0, 0.0),
                (0.13, -0.2),
                (-0.25, -0.25),
            ] {
                let read = |way, wrong: f64| {
                    let mm = 100.0 * truth.scale + wrong;
                    let reading = Reading::new(way, Gauge::Metric, mm, Rule::new(0.25)).unwrap();
                    estimate(way, &[reading]).unwrap().unwrap().widest
                };
                let across = read(Way::Across, wrong_across);
                let down = read(Way::Down, wrong_down);
                let scales = Scales {
                    across: Some(across),
                    down: Some(down),
                    skew: None,
                };
                let named = faults(&scales, &Circumstances::default());
                assert!(
                    named.iter().any(|named| named.cause == truth.cause),
                    "{truth}"
                );
                for other in &named {
                    for read in [across, down] {
                        let off = 100.0 * (other.scale - read.value).abs();
                        assert!(off <= 0.25 + 1e-9, "{other} named for {}", read.value);
                    }
                }
                let ranks: Vec<_> = named.iter().map(|named| named.cause.rank()).collect();
                assert!(ranks.is_sorted(), "{ranks:?}");
            }
        }
    }

    #[test]
    fn what_is_known_of_paper_and_file_is_used() {
        let reads = |mm: f64| {
            let reading = Reading::new(Way::Across, Gauge::Metric, mm, Rule::new(0.25)).unwrap();
            Scales {
                across: Some(estimate(Way::Across, &[reading]).unwrap().unwrap().widest),
                ..Scales::default()
            }
        };
        let both = Circumstances {
            page: Some(A4),
            tray: Some(A4),
            borders: None,
            file: Some(FileKind::Pdf),
        };
        let named = faults(&reads(96.0), &both);
        // 95.97 and 96.19 are both within 0.25 mm of it, the nearer first.
        assert_eq!(named.len(), 2, "{named:?}");
        assert_eq!(
            named[0].to_string(),
            "A4 page fitted to the printable area of A4 paper with borders of 4.23 mm: \
             100 mm reads 95.97"
        );
        assert!(named[0].remedy().contains("`Actual size`"));
        let letter = Circumstances {
            tray: Some(LETTER),
            ..both
        };
        let named = faults(&reads(94.0), &letter);
        assert_eq!(named.len(), 1, "{named:?}");
        assert!(
            named[0].remedy().starts_with("put A4 in the tray"),
            "{}",
            named[0].remedy()
        );
        assert!(faults(&reads(100.0), &Circumstances::default()).is_empty());
        assert!(faults(&Scales::default(), &both).is_empty());
    }
}
