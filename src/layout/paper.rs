//! Paper, in millimetres, by the names of PWG 5101.1.

use crate::base::fixed;
use kurbo::Size;
use std::fmt;

/// Longest side of a page without a user unit of its own, mm: 14,400 units of 1/72 in
/// (ISO 32000-1 Annex C, read second-hand).
pub const LONGEST_SIDE: f64 = 5080.0;

/// Millimetres in an inch, exactly.
const INCH: f64 = 25.4;

/// One row of the table: short names, PWG name, width and length in mm.
type Row = (&'static [&'static str], &'static str, f64, f64);

/// ISO 216 and North American sizes with their names in PWG 5101.1.
const TABLE: [Row; 11] = [
    (&["a4"], "iso_a4_210x297mm", 210.0, 297.0),
    (&["a3"], "iso_a3_297x420mm", 297.0, 420.0),
    (&["a2"], "iso_a2_420x594mm", 420.0, 594.0),
    (&["a1"], "iso_a1_594x841mm", 594.0, 841.0),
    (&["a0"], "iso_a0_841x1189mm", 841.0, 1189.0),
    (&["letter"], "na_letter_8.5x11in", 8.5 * INCH, 11.0 * INCH),
    (&["legal"], "na_legal_8.5x14in", 8.5 * INCH, 14.0 * INCH),
    (
        &["ledger", "tabloid"],
        "na_ledger_11x17in",
        11.0 * INCH,
        17.0 * INCH,
    ),
    (&["ansi-c"], "na_c_17x22in", 17.0 * INCH, 22.0 * INCH),
    (&["ansi-d"], "na_d_22x34in", 22.0 * INCH, 34.0 * INCH),
    (&["ansi-e"], "na_e_34x44in", 34.0 * INCH, 44.0 * INCH),
];

/// What a page can be printed on.
#[derive(Debug, Clone, PartialEq)]
pub struct Paper {
    name: String,
    stock: Stock,
}

/// Cut sheets, or a roll.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Stock {
    /// A sheet of this size, mm; the short side is its width.
    Sheet(Size),
    /// A roll, cut as long as the pattern needs.
    Roll {
        /// Width of the roll, mm.
        width: f64,
        /// Longest piece, mm.
        at_most: f64,
    },
}

impl Paper {
    /// The paper that `text` names.
    ///
    /// A short name (`a4`, `letter`, `ansi-d`), a PWG 5101.1 name, a size (`300x500mm`,
    /// `24x36in`), an own size `custom_<name>_WxL{mm|in}`, or a roll: `roll-610mm`, `roll-24in`,
    /// or `roll_<name>_WxL{mm|in}` with its greatest length.
    ///
    /// # Errors
    /// An unknown name, with the nearest known one; a side that is not above 0 or is longer
    /// than [`LONGEST_SIDE`].
    pub fn parse(text: &str) -> Result<Self, PaperError> {
        let plain: String = text
            .chars()
            .filter(|letter| !letter.is_whitespace())
            .collect::<String>()
            .to_lowercase()
            .replace('×', "x");
        if let Some((_, pwg, width, length)) = TABLE
            .iter()
            .find(|(short, pwg, ..)| *pwg == plain || short.contains(&plain.as_str()))
        {
            return Ok(Self {
                name: (*pwg).into(),
                stock: Stock::Sheet(Size::new(*width, *length)),
            });
        }
        Self::own_size(&plain, text).unwrap_or_else(|| {
            Err(PaperError::Unknown {
                given: text.trim().into(),
                nearest: nearest(&plain),
            })
        })
    }

    /// A size of one's own; `None` where `plain` is not written as one.
    fn own_size(plain: &str, given: &str) -> Option<Result<Self, PaperError>> {
        let checked = |side: f64| -> Result<f64, PaperError> {
            if side > 0.0 && side <= LONGEST_SIDE {
                Ok(side)
            } else {
                Err(PaperError::Side {
                    given: given.trim().into(),
                    side,
                })
            }
        };
        if let Some(width) = plain.strip_prefix("roll-") {
            let (number, unit) = split_unit(width)?;
            let width = number.parse::<f64>().ok()? * unit;
            return Some(checked(width).map(|width| Self {
                name: plain.into(),
                stock: Stock::Roll {
                    width,
                    at_most: LONGEST_SIDE,
                },
            }));
        }
        let (kind, size) = match plain.split('_').collect::<Vec<_>>()[..] {
            [size] => ("", size),
            [kind @ ("custom" | "roll"), name, size] if !name.is_empty() => (kind, size),
            _ => return None,
        };
        let (numbers, unit) = split_unit(size)?;
        let (width, length) = numbers.split_once('x')?;
        let width = width.parse::<f64>().ok()? * unit;
        let length = length.parse::<f64>().ok()? * unit;
        let sides = checked(width).and_then(|width| Ok((width, checked(length)?)));
        Some(sides.map(|(width, length)| {
            if kind == "roll" {
                Self {
                    name: plain.into(),
                    stock: Stock::Roll {
                        width,
                        at_most: length,
                    },
                }
            } else {
                Self {
                    name: if kind.is_empty() {
                        format!("custom_own_{size}")
                    } else {
                        plain.into()
                    },
                    stock: Stock::Sheet(Size::new(width.min(length), width.max(length))),
                }
            }
        }))
    }

    /// Its self-describing name, as PWG 5101.1 writes it.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// As it stands on a packet and in a print dialog: `A4`, `Letter`, `300 x 500 mm`.
    pub fn common_name(&self) -> String {
        let row = TABLE.iter().find(|(_, pwg, ..)| *pwg == self.name);
        if let Some(name) = row.and_then(|(short, ..)| short.first()) {
            return match name.split_once('-') {
                Some((series, letter)) => format!("{series} {letter}").to_uppercase(),
                None => name[..1].to_uppercase() + &name[1..],
            };
        }
        let mm = |length: f64| fixed(length, 1);
        match self.stock {
            Stock::Sheet(size) => format!("{} x {} mm", mm(size.width), mm(size.height)),
            Stock::Roll { width, .. } => format!("{} mm roll", mm(width)),
        }
    }

    /// What `lp -o media=` calls it, for a page of this size, mm.
    pub fn media(&self, page: Size) -> String {
        if TABLE.iter().any(|(_, pwg, ..)| *pwg == self.name) {
            return match self.common_name() {
                name if name.contains(' ') => self.name.clone(),
                name => name,
            };
        }
        let (short, long) = (page.width.min(page.height), page.width.max(page.height));
        format!("Custom.{}x{}mm", fixed(short, 1), fixed(long, 1))
    }

    /// Sheet or roll, with its size.
    pub fn stock(&self) -> Stock {
        self.stock
    }

    /// Whether a page is a sheet of it, however it lies.
    pub(crate) fn fits(&self, page: Size) -> bool {
        let near = |a: f64, b: f64| (a - b).abs() < 0.05;
        match self.stock {
            Stock::Sheet(own) => {
                near(own.min_side(), page.min_side()) && near(own.max_side(), page.max_side())
            }
            Stock::Roll { .. } => false,
        }
    }

    /// Every short name, smallest series first.
    pub fn short_names() -> impl Iterator<Item = &'static str> {
        TABLE.iter().flat_map(|(short, ..)| short.iter().copied())
    }

    /// Short names of the smallest ISO and the smallest North American sheet with sides of at
    /// least these, mm.
    pub(crate) fn smallest_for(short: f64, long: f64) -> Vec<&'static str> {
        ["iso_", "na_"]
            .into_iter()
            .filter_map(|class| {
                TABLE
                    .iter()
                    .filter(|(_, pwg, width, length)| {
                        pwg.starts_with(class) && *width >= short && *length >= long
                    })
                    .min_by(|a, b| (a.2 * a.3).total_cmp(&(b.2 * b.3)))
                    .and_then(|(names, ..)| names.first().copied())
            })
            .collect()
    }
}

/// The number and its unit in mm.
fn split_unit(text: &str) -> Option<(&str, f64)> {
    text.strip_suffix("mm")
        .map(|number| (number, 1.0))
        .or_else(|| text.strip_suffix("in").map(|number| (number, INCH)))
}

fn nearest(plain: &str) -> Option<String> {
    TABLE
        .iter()
        .flat_map(|(short, pwg, ..)| short.iter().chain(std::iter::once(pwg)))
        .map(|name| (strsim::damerau_levenshtein(plain, name), *name))
        .min_by_key(|(distance, _)| *distance)
        .filter(|(distance, name)| *distance * 2 <= name.len().max(4))
        .map(|(_, name)| name.to_string())
}

/// Paper that can't be used.
#[derive(Debug, Clone, PartialEq)]
pub enum PaperError {
    /// Not a known name, nor a size.
    Unknown {
        /// As written.
        given: String,
        /// The nearest known name.
        nearest: Option<String>,
    },
    /// A side out of range.
    Side {
        /// As written.
        given: String,
        /// The side, mm.
        side: f64,
    },
}

impl fmt::Display for PaperError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Unknown { given, nearest } => {
                write!(out, "unknown paper `{given}`; ")?;
                if let Some(nearest) = nearest {
                    write!(out, "did you mean `{nearest}`? ")?;
                }
                let known: Vec<_> = Paper::short_names().collect();
                write!(
                    out,
                    "known: {}; hint: own sizes are written `300x500mm` or `24x36in`, rolls \
                     `roll-610mm` or `roll-24in`",
                    known.join(", ")
                )
            }
            Self::Side { given, side } => write!(
                out,
                "paper `{given}` has a side of {} mm; a side is above 0 and at most {} mm, the \
                 longest page of a PDF",
                fixed(*side, 2),
                fixed(LONGEST_SIDE, 0)
            ),
        }
    }
}

impl std::error::Error for PaperError {}

#[cfg(test)]
mod tests {
    use super::*;

    fn sheet(text: &str) -> Size {
        match Paper::parse(text).map(|paper| paper.stock()) {
            Ok(Stock::Sheet(size)) => size,
            other => panic!("{text}: {other:?}"),
        }
    }

    #[test]
    fn sizes_are_those_their_names_say() {
        // PWG 5101.1: the name holds the size.
        for (shorts, pwg, width, length) in TABLE {
            let (numbers, unit) = split_unit(pwg.rsplit('_').next().unwrap_or("")).unwrap();
            let (w, l) = numbers.split_once('x').unwrap();
            let told = (
                w.parse::<f64>().unwrap() * unit,
                l.parse::<f64>().unwrap() * unit,
            );
            assert!(
                (told.0 - width).abs() < 1e-9 && (told.1 - length).abs() < 1e-9,
                "{pwg}"
            );
            for name in shorts.iter().chain(std::iter::once(&pwg)) {
                assert_eq!(sheet(name), Size::new(width, length));
                assert_eq!(sheet(&name.to_uppercase()), Size::new(width, length));
            }
        }
    }

    #[test]
    fn own_sizes_and_rolls() {
        assert_eq!(sheet("500 x 300 mm"), Size::new(300.0, 500.0));
        assert_eq!(sheet("500 × 300 mm"), Size::new(300.0, 500.0));
        let own = sheet("24x36in");
        assert!((own.width - 609.6).abs() < 1e-9 && (own.height - 914.4).abs() < 1e-9);
        assert_eq!(sheet("custom_bench_297x1200mm"), Size::new(297.0, 1200.0));
        let roll = |text: &str| Paper::parse(text).unwrap().stock();
        let (width, at_most) = (610.0, LONGEST_SIDE);
        assert_eq!(roll("roll-610mm"), Stock::Roll { width, at_most });
        let at_most = 3000.0;
        assert_eq!(roll("roll_wide_610x3000mm"), Stock::Roll { width, at_most });
        assert!(
            matches!(roll("roll-24in"), Stock::Roll { width, .. } if (width - 609.6).abs() < 1e-9)
        );
    }

    #[test]
    fn a_print_dialog_and_lp_know_it_by_these_names() {
        let names = |text: &str, page: (f64, f64)| {
            let paper = Paper::parse(text).unwrap();
            (paper.common_name(), paper.media(page.into()))
        };
        for (given, common, media) in [
            ("a4", "A4", "A4"),
            ("na_letter_8.5x11in", "Letter", "Letter"),
            ("tabloid", "Ledger", "Ledger"),
            ("ansi-c", "ANSI C", "na_c_17x22in"),
            ("500x300mm", "300 x 500 mm", "Custom.300x500mm"),
            ("roll-610mm", "610 mm roll", "Custom.300x500mm"),
        ] {
            assert_eq!(names(given, (500.0, 300.0)), (common.into(), media.into()));
        }
    }

    #[test]
    fn what_is_not_paper_is_refused_with_the_nearest_name() {
        let told = |text: &str| Paper::parse(text).unwrap_err().to_string();
        assert!(
            told("leter").contains("did you mean `letter`?"),
            "{}",
            told("leter")
        );
        assert!(told("leter").contains("ansi-e"));
        assert!(told("5081x200mm").contains("at most 5080 mm"));
        for bad in [
            "",
            "x",
            "0x10mm",
            "-3x10mm",
            "nanx10mm",
            "infx10mm",
            "roll-",
            "roll--5mm",
            "roll-0mm",
            "10x20",
            "custom__10x20mm",
        ] {
            assert!(Paper::parse(bad).is_err(), "{bad}");
        }
    }
}
