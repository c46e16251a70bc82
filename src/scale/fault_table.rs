//! What a print dialog does to a page, worked out from page, paper and borders.
//!
//! The shares of likelihood are design values, no source: they put the everyday before the odd.

use crate::sheet::{Paper, Stock};
use kurbo::Size;

const INCH: f64 = 25.4;

/// Units to the inch that drawing programs have taken an SVG's numbers to be in.
const UNITS: [f64; 3] = [72.0, 90.0, 96.0];

/// The part of a sheet that a printer leaves white, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Borders {
    /// At the left and at the right each, sheet upright.
    pub sides: f64,
    /// At the head.
    pub head: f64,
    /// At the foot.
    pub foot: f64,
}

impl Borders {
    /// The same at all four edges.
    pub const fn even(border: f64) -> Self {
        Self {
            sides: border,
            head: border,
            foot: border,
        }
    }

    /// The printable area of an upright sheet.
    fn printable(self, tray: Size) -> Size {
        Size::new(
            tray.width - 2.0 * self.sides,
            tray.height - self.head - self.foot,
        )
    }
}

/// Borders seen in makers' manuals (4, 5.08 and once 18 mm at the foot read in or through them),
/// and the round inches that drivers use, with their shares.
const BORDERS: [(Borders, f64); 5] = [
    (Borders::even(INCH / 6.0), 1.0),
    (Borders::even(4.0), 0.8),
    (Borders::even(INCH / 4.0), 0.8),
    (Borders::even(5.08), 0.6),
    (
        Borders {
            sides: INCH / 4.0,
            head: INCH / 4.0,
            foot: 18.0,
        },
        0.2,
    ),
];

/// What a dialog, or a program before it, did.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Cause {
    /// The page was fitted to the paper, or to what of it can be printed on.
    Fitted {
        /// Page as drawn, upright, mm.
        page: Size,
        /// Paper, upright, mm.
        tray: Size,
        /// Borders kept; `None` where the page was fitted to the whole sheet.
        borders: Option<Borders>,
        /// Whether the page lay the other way than its paper and was not turned.
        unturned: bool,
    },
    /// Several pages were put on one sheet.
    Several {
        /// Pages on a sheet.
        count: u8,
        /// Paper, upright, mm.
        tray: Size,
        /// Borders kept.
        borders: Option<Borders>,
    },
    /// A drawing's units were taken for others.
    Units {
        /// Units to the inch that it was written in.
        written: f64,
        /// Units to the inch that it was read in.
        read: f64,
    },
}

/// A cause with the scale it gives and its share of likelihood before anything is read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Candidate {
    pub(crate) cause: Cause,
    pub(crate) scale: f64,
    pub(crate) share: f64,
}

/// Everything that a dialog may do to these pages on these papers.
pub(crate) fn candidates(
    pages: &[Size],
    trays: Option<Size>,
    borders: Option<Borders>,
    units: bool,
) -> Vec<Candidate> {
    let mut found = Vec::new();
    let known: Vec<(Borders, f64)> = match borders {
        Some(given) => vec![(given, 1.0)],
        None => BORDERS.to_vec(),
    };
    for page in pages.iter().copied().map(upright) {
        let trays = match trays {
            Some(tray) => vec![upright(tray)],
            None => with_common(page),
        };
        for tray in trays {
            let own = same(page, tray);
            // With its own paper in the tray, a page is hardly ever on another.
            let other = if own { 1.0 } else { 0.4 };
            for (borders, share) in known
                .iter()
                .map(|(borders, share)| (Some(*borders), *share))
                .chain([(None, 0.5)])
            {
                let room = borders.map_or(tray, |borders| borders.printable(tray));
                found.extend(on_tray(page, tray, borders, room, share * other));
            }
        }
    }
    if units {
        for written in UNITS {
            for read in UNITS.into_iter().filter(|read| *read != written) {
                // 72 is the unit of print, which few programs take a drawing's numbers for.
                let share = if written.min(read) < 80.0 { 0.05 } else { 0.2 };
                found.push(Candidate {
                    cause: Cause::Units { written, read },
                    scale: written / read,
                    share,
                });
            }
        }
    }
    found.retain(|candidate| (candidate.scale - 1.0).abs() > 5e-4);
    found
}

fn on_tray(
    page: Size,
    tray: Size,
    borders: Option<Borders>,
    room: Size,
    share: f64,
) -> Vec<Candidate> {
    if !(room.width > 0.0 && room.height > 0.0) {
        return vec![];
    }
    let fit = |room: Size| (room.width / page.width).min(room.height / page.height);
    let turned = Size::new(room.height, room.width);
    let fitted = |unturned| Cause::Fitted {
        page,
        tray,
        borders,
        unturned,
    };
    let several = |count| Cause::Several {
        count,
        tray,
        borders,
    };
    let half = Size::new(room.height / 2.0, room.width);
    let quarter = Size::new(room.width / 2.0, room.height / 2.0);
    [
        (fitted(false), fit(room), share),
        (fitted(true), fit(turned), 0.1 * share),
        (several(2), fit(half), 0.2 * share),
        (several(4), fit(quarter), 0.1 * share),
    ]
    .into_iter()
    .map(|(cause, scale, share)| Candidate {
        cause,
        scale,
        share,
    })
    .collect()
}

fn upright(size: Size) -> Size {
    Size::new(size.min_side(), size.max_side())
}

/// Whether two sheets are the same within what ISO 216 lets them be trimmed to.
pub(crate) fn same(a: Size, b: Size) -> bool {
    (a.width - b.width).abs() < 1.0 && (a.height - b.height).abs() < 1.0
}

/// The page's own paper, and the two that stand in nearly every office.
fn with_common(page: Size) -> Vec<Size> {
    let mut trays = vec![page];
    for common in office_papers() {
        if !trays.iter().any(|tray| same(*tray, common)) {
            trays.push(common);
        }
    }
    trays
}

/// A4 and Letter, mm.
pub(crate) fn office_papers() -> [Size; 2] {
    [Size::new(210.0, 297.0), Size::new(8.5 * INCH, 11.0 * INCH)]
}

/// A paper's short name, as one says it, or its size.
pub(crate) fn paper_name(size: Size) -> String {
    let upright = upright(size);
    let named = Paper::short_names().find(|name| {
        Paper::parse(name).is_ok_and(|paper| match paper.stock() {
            Stock::Sheet(known) => same(known, upright),
            Stock::Roll { .. } => false,
        })
    });
    match named {
        Some(name) => {
            let mut letters = name.chars();
            let first = letters.next().map(|letter| letter.to_ascii_uppercase());
            first.into_iter().chain(letters).collect()
        }
        None => {
            let side = |side| crate::drawing::fixed(side, 1);
            format!("{} x {} mm", side(upright.width), side(upright.height))
        }
    }
}
