//! The single terms of a clearance, each with its reason.

use crate::base::fixed;
use crate::base::length::Units;
use crate::model::hardware::Cutter;
use crate::model::material::{self, Material};

/// Why a term has its value.
#[derive(Debug, Clone, PartialEq)]
pub enum Reason {
    /// The pattern says so.
    Given,
    /// Nothing was given; why this value stands in.
    Default(&'static str),
    /// Worked out, in words.
    WorkedOut(String),
}

impl Reason {
    /// In words, for a table.
    pub fn words(&self) -> &str {
        match self {
            Self::Given => "given",
            Self::Default(why) => why,
            Self::WorkedOut(how) => how,
        }
    }
}

/// One term of a clearance.
#[derive(Debug, Clone, PartialEq)]
pub struct Term {
    /// Half-width, mm, 0 or more.
    pub value: f64,
    /// Why it is so large.
    pub reason: Reason,
}

impl Term {
    /// A value that the pattern gives; a given 0 is 0.
    pub const fn given(value: f64) -> Self {
        Self {
            value,
            reason: Reason::Given,
        }
    }

    /// Whether the pattern gives it.
    pub fn is_given(&self) -> bool {
        self.reason == Reason::Given
    }

    pub(crate) const fn default(value: f64, why: &'static str) -> Self {
        Self {
            value,
            reason: Reason::Default(why),
        }
    }

    /// Worked out, and rounded up to what a table prints, so that its rows add up.
    pub(crate) fn worked_out(value: f64, how: String) -> Self {
        Self {
            value: rounded_up(value),
            reason: Reason::WorkedOut(how),
        }
    }
}

/// The last place that is printed of what is worked out, as a part of 1 mm: 0.01 mm.
const PRINTED: f64 = 100.0;

/// `value` in mm, rounded up to 0.01 mm.
pub(super) fn rounded_up(value: f64) -> f64 {
    // Noise of the last bits must not cost a hundredth.
    (value * PRINTED - 1e-7).ceil().max(0.0) / PRINTED + 0.0
}

/// The gap that shall remain where none is given: 6 mm for plastics and where the material is
/// not told or not of the table, 4 mm for sheet metal. A design value, without a source.
pub fn default_gap(material: Option<&Material>) -> Term {
    match material {
        Some(material) => {
            let why = match (material.name, material.is_metal) {
                (material::OTHER, _) => "not given: design value, any material",
                (_, true) => "not given: design value for sheet metal",
                (_, false) => "not given: design value for plastics",
            };
            Term::default(material.gap, why)
        }
        None => Term::default(6.0, "not given: design value, the material is not told"),
    }
}

/// How far the part may stand from where it was measured, 2 mm: a design value, no source.
pub fn default_position() -> Term {
    Term::default(2.0, "not given: design value")
}

/// How far the marked line may lie from the pattern's, 0.5 mm: a design value, no source.
pub fn default_marking() -> Term {
    Term::default(0.5, "not given: design value for a paint line")
}

/// How far the cut may lie from the marked line, 1.5 mm whatever it is cut with, as it is filed to the
/// line: a design value, no source.
pub fn default_cutting(with: Cutter) -> Term {
    let why = match with {
        Cutter::Snips => "not given: design value for snips and file",
        Cutter::MetalJigsaw | Cutter::Jigsaw => "not given: design value for jigsaw and file",
        Cutter::Knife => "not given: design value for knife and file",
        Cutter::SnipsOrSaw => "not given: design value for snips or saw, and file",
    };
    Term::default(1.5, why)
}

/// Scale error of a printer that nobody has measured yet: a design value, no source.
pub const SCALE_ERROR: f64 = 0.003;

/// Scale error beyond which it is the print dialog, not the printer, a part of 1: old laser engines
/// were allowed 2 to 3 % (read second-hand).
pub const PRINTER_ERROR: f64 = 0.03;

/// Decimals of what a ruler in mm may read.
pub const MM_DECIMALS: i32 = 2;

/// Decimals of what one in inches may read.
pub const INCH_DECIMALS: i32 = 3;

/// What a ruler of `nominal` mm or in may read, least and greatest, where the scale may be off by
/// `scale_error`, a part of 1: rounded inwards to so many decimals.
///
/// This is the one acceptance of scale: sheets say it, and the verdict on a printed sheet holds to it.
pub fn accepted_readings(nominal: f64, scale_error: f64, decimals: i32) -> (f64, f64) {
    let parts = 10_f64.powi(decimals);
    let off = ((nominal * scale_error * parts + 1e-7).floor() / parts).max(0.0);
    (nominal - off, nominal + off)
}

/// The same in words: `99.7 to 100.3 mm`, of a ruler of so many `unit`, `mm` or `in`.
pub fn accepted_readings_in_words(nominal: f64, scale_error: f64, unit: &str) -> String {
    let decimals = if unit == "in" {
        INCH_DECIMALS
    } else {
        MM_DECIMALS
    };
    let (least, greatest) = accepted_readings(nominal, scale_error, decimals);
    let words = |value| fixed(value, decimals as usize);
    if least < greatest {
        format!("{} to {} {unit}", words(least), words(greatest))
    } else {
        format!("{} {unit}", words(nominal))
    }
}

/// What the printed scale may be off by at the farthest cut, `distance` mm from what the sheets are
/// `laid_by`, in words.
///
/// `scale_error` is a part of 1, [`SCALE_ERROR`] until the printer is known. Rounded up to
/// 0.01 mm; told in `units`.
pub fn print_term(scale_error: f64, distance: f64, laid_by: &str, units: Units) -> Term {
    let how = format!(
        "{} % of {} from the farthest cut to {laid_by}",
        fixed(scale_error * 100.0, 2),
        units.roughly(distance)
    );
    Term::worked_out(scale_error.abs() * distance.abs(), how)
}

/// The centreline's expanded uncertainty, mm, at an opening `depth` mm from the datum edge.
/// Rounded up to 0.01 mm; told in `units`.
pub fn centre_term(uncertainty: f64, depth: f64, units: Units) -> Term {
    let how = format!("how well the centre is known at {}", units.roughly(depth));
    Term::worked_out(uncertainty, how)
}

/// Temperatures that a panel sees, degrees Celsius.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Temperatures {
    /// When it is fitted.
    pub fitted: f64,
    /// The coldest it gets.
    pub lowest: f64,
    /// The hottest it gets.
    pub highest: f64,
}

impl Default for Temperatures {
    /// Fitted at 20, from -30 to 80: design values, without a source.
    fn default() -> Self {
        Self {
            fitted: 20.0,
            lowest: -30.0,
            highest: 80.0,
        }
    }
}

impl Temperatures {
    /// The larger of the two steps from the temperature of fitting, K.
    pub fn step(&self) -> f64 {
        let down = (self.fitted - self.lowest).abs();
        down.max((self.highest - self.fitted).abs())
    }
}

/// How far the panel's growth moves a cut `length` mm from the nearest fixed point.
///
/// `expansion x length x temperature step`, rounded up to 0.01 mm; a known movement, to be added
/// outright. Told in `units`.
pub fn thermal_term(
    material: &Material,
    length: f64,
    temperatures: Temperatures,
    units: Units,
) -> Term {
    let step = temperatures.step();
    let how = format!(
        "{} per million and K x {} from the farthest cut to the nearest fixed point x {} K",
        fixed(material.expansion, 1),
        units.roughly(length),
        fixed(step, 0)
    );
    Term::worked_out(material.expansion * 1e-6 * length.abs() * step, how)
}

#[cfg(test)]
mod tests {
    use super::*;
    #[track_caller]
    fn close(is: f64, should: f64) {
        assert!((is - should).abs() < 1e-9, "{is} should be {should}");
    }

    #[test]
    fn thermal_takes_the_larger_step_and_the_upper_expansion() {
        close(Temperatures::default().step(), 60.0);
        let cold = Temperatures {
            highest: 30.0,
            ..Temperatures::default()
        };
        close(cold.step(), 50.0);
        // 600 mm of a plastic of 100e-6 over 40 K moves by 2.4 mm: 100e-6 x 600 x 40.
        let round = Material {
            expansion: 100.0,
            ..*material::find("pp").unwrap()
        };
        let temperatures = Temperatures {
            fitted: 20.0,
            lowest: 0.0,
            highest: 60.0,
        };
        let term = thermal_term(&round, 600.0, temperatures, Units::Mm);
        close(term.value, 2.4);
        assert_eq!(
            term.reason.words(),
            "100 per million and K x 600 mm from the farthest cut to the nearest fixed point x 40 K"
        );
        // PP, upper end 121e-6: 121e-6 x 250 x 60 = 1.815, up to 1.82.
        let pp = material::find("pp").unwrap();
        close(
            thermal_term(pp, 250.0, Temperatures::default(), Units::Mm).value,
            1.82,
        );
    }

    #[test]
    fn print_grows_with_the_distance() {
        let term = print_term(SCALE_ERROR, 240.0, "the nearest locator", Units::Mm);
        close(term.value, 0.72);
        assert_eq!(
            term.reason.words(),
            "0.3 % of 240 mm from the farthest cut to the nearest locator"
        );
        close(print_term(SCALE_ERROR, 0.0, "it", Units::In).value, 0.0);
    }

    #[test]
    fn rounding_goes_up_and_only_where_it_must() {
        close(rounded_up(1.2301), 1.24);
        close(rounded_up(0.1 + 0.2), 0.3);
        close(rounded_up(4.53), 4.53);
        assert_eq!(rounded_up(0.0), 0.0);
        assert!(rounded_up(0.0).is_sign_positive());
    }

    #[test]
    fn gap_follows_the_material() {
        close(default_gap(None).value, 6.0);
        close(default_gap(material::find("tpo").ok()).value, 6.0);
        close(default_gap(material::find("aluminium").ok()).value, 4.0);
        let other = default_gap(Some(&material::other(12.0)));
        close(other.value, 6.0);
        assert_eq!(
            other.reason.words(),
            "not given: design value, any material"
        );
    }
}
