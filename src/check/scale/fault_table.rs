//! What a print dialog does to a page, worked out from page, paper and borders.

use crate::layout::{Paper, Stock};
use kurbo::Size;

const INCH: f64 = 25.4;

/// Units to the inch that drawing programs have taken an SVG's numbers to be in.
const UNITS: [f64; 3] = [72.0, 90.0, 96.0];

/// The part of a sheet that a printer leaves white, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Borders {
    /// At the left and at the right each, sheet portrait.
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

    /// The printable area of a portrait sheet.
    fn printable(self, tray: Size) -> Size {
        Size::new(
            tray.width - 2.0 * self.sides,
            tray.height - self.head - self.foot,
        )
    }
}

/// Borders seen in makers' manuals (4, 5.08 and once 18 mm at the foot read in or through them),
/// and the round inches that drivers use.
const BORDERS: [Borders; 5] = [
    Borders::even(INCH / 6.0),
    Borders::even(4.0),
    Borders::even(INCH / 4.0),
    Borders::even(5.08),
    Borders {
        sides: INCH / 4.0,
        head: INCH / 4.0,
        foot: 18.0,
    },
];

/// What a dialog, or a program before it, did.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Cause {
    /// The page was fitted to the paper, or to what of it can be printed on.
    Fitted {
        /// Page as drawn, portrait, mm.
        page: Size,
        /// Paper, portrait, mm.
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
        /// Paper, portrait, mm.
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

/// A fault of a print.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fault {
    /// What was done to the page.
    pub cause: Cause,
    /// The scale that it gives, the same in both directions.
    pub scale: f64,
}

impl Cause {
    /// Its place among others that the readings allow too, the everyday before the odd: a fit to
    /// the page's own paper, to another paper, units of an SVG, several pages on a sheet, a page
    /// left unturned. A design order, no source: how often each happens was never counted.
    pub(super) fn rank(self) -> u8 {
        match self {
            Self::Fitted { unturned: true, .. } => 4,
            Self::Fitted { page, tray, .. } if same(page, tray) => 0,
            Self::Fitted { .. } => 1,
            Self::Units { .. } => 2,
            Self::Several { .. } => 3,
        }
    }
}

/// Everything that a dialog may do to these pages on these papers.
pub(crate) fn candidates(
    pages: &[Size],
    trays: Option<Size>,
    borders: Option<Borders>,
    units: bool,
) -> Vec<Fault> {
    let mut found = Vec::new();
    let known = borders.map_or(BORDERS.to_vec(), |given| vec![given]);
    for page in pages.iter().copied().map(portrait) {
        let trays = match trays {
            Some(tray) => vec![portrait(tray)],
            None => with_common(page),
        };
        for tray in trays {
            for borders in known.iter().copied().map(Some).chain([None]) {
                let room = borders.map_or(tray, |borders| borders.printable(tray));
                found.extend(on_tray(page, tray, borders, room));
            }
        }
    }
    if units {
        for written in UNITS {
            for read in UNITS.into_iter().filter(|read| *read != written) {
                found.push(Fault {
                    cause: Cause::Units { written, read },
                    scale: written / read,
                });
            }
        }
    }
    found.retain(|fault| (fault.scale - 1.0).abs() > 5e-4);
    found
}

fn on_tray(page: Size, tray: Size, borders: Option<Borders>, room: Size) -> Vec<Fault> {
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
        (fitted(false), fit(room)),
        (fitted(true), fit(turned)),
        (several(2), fit(half)),
        (several(4), fit(quarter)),
    ]
    .map(|(cause, scale)| Fault { cause, scale })
    .to_vec()
}

fn portrait(size: Size) -> Size {
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
    let portrait = portrait(size);
    let named = Paper::short_names().find(|name| {
        Paper::parse(name).is_ok_and(|paper| match paper.stock() {
            Stock::Sheet(known) => same(known, portrait),
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
            let side = |side| crate::base::fixed(side, 1);
            format!("{} x {} mm", side(portrait.width), side(portrait.height))
        }
    }
}
