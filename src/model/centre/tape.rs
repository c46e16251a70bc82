//! What a tape may be wrong by, and still be sold.
//!
//! Source: Measuring Instruments Regulations 2016, Schedule 1I, Table 1, the same as Directive
//! 2014/32/EU, Annex X, Table 1.

use super::combine::rectangular;

/// Accuracy class of a tape, as printed on its blade.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum TapeClass {
    /// 0.1 mm and 0.1 mm more for each metre.
    I,
    /// 0.3 mm and 0.2 mm more for each metre.
    #[default]
    II,
    /// 0.6 mm and 0.4 mm more for each metre.
    III,
}

impl TapeClass {
    /// Every class, in the order that messages list them.
    pub const ALL: [Self; 3] = [Self::I, Self::II, Self::III];

    /// The word for it in files.
    pub fn word(self) -> &'static str {
        match self {
            Self::I => "I",
            Self::II => "II",
            Self::III => "III",
        }
    }

    /// The class named by `word`, if it names one.
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|class| class.word() == word)
    }

    /// Largest error that the regulation permits between two marks of the blade, mm, for a
    /// `length` in mm: `a + b L`, with `L` in metres rounded up to a whole metre.
    pub fn permissible_error(self, length: f64) -> f64 {
        let metres = (length.abs() / 1000.0).ceil();
        let (fixed, each_metre) = match self {
            Self::I => (0.1, 0.1),
            Self::II => (0.3, 0.2),
            Self::III => (0.6, 0.4),
        };
        fixed + each_metre * metres
    }

    /// What a hook or butt at the zero adds to the permissible error, mm.
    pub fn end_allowance(self) -> f64 {
        match self {
            Self::I => 0.1,
            Self::II => 0.2,
            Self::III => 0.3,
        }
    }
}

/// Where the tape's zero is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum TapeEnd {
    /// A mark on the blade, held to the edge or the feature by eye.
    #[default]
    Mark,
    /// The hook or butt at the end of the blade.
    HookOrButt,
}

impl TapeEnd {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Mark, Self::HookOrButt];

    /// The word for it in files.
    pub fn word(self) -> &'static str {
        match self {
            Self::Mark => "mark",
            Self::HookOrButt => "hook",
        }
    }
}

/// A tape, as far as its errors go.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tape {
    /// Accuracy class.
    pub class: TapeClass,
    /// Which zero is used.
    pub end: TapeEnd,
    /// Smallest division that readings are rounded to, mm, above 0.
    pub graduation: f64,
}

impl Default for Tape {
    /// Class II, in millimetres, zero mark on the blade.
    fn default() -> Self {
        Self {
            class: TapeClass::II,
            end: TapeEnd::Mark,
            graduation: 1.0,
        }
    }
}

impl Tape {
    /// Largest permitted error of a reading of `length` mm from this zero, mm.
    pub fn permissible_error(&self, length: f64) -> f64 {
        let end = match self.end {
            TapeEnd::Mark => 0.0,
            TapeEnd::HookOrButt => self.class.end_allowance(),
        };
        self.class.permissible_error(length) + end
    }

    /// Standard uncertainty from rounding one reading to the graduation, mm: the error is spread
    /// evenly over half a division either way (GUM F.2.2.1).
    pub fn rounding(&self) -> f64 {
        rectangular(self.graduation / 2.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn close(found: f64, wanted: f64) {
        assert!((found - wanted).abs() < 1e-12, "{found} is not {wanted}");
    }

    /// Figures of Directive 2014/32/EU, Annex X, Table 1.
    #[test]
    fn permissible_errors_are_those_of_the_regulation() {
        for (class, length, error) in [
            (TapeClass::I, 1000.0, 0.2),
            (TapeClass::I, 1000.1, 0.3),
            (TapeClass::II, 1.0, 0.5),
            (TapeClass::II, 1000.0, 0.5),
            (TapeClass::II, 1001.0, 0.7),
            (TapeClass::II, 2000.0, 0.7),
            (TapeClass::II, 4700.0, 1.3),
            (TapeClass::III, 1000.0, 1.0),
            (TapeClass::III, 2500.0, 1.8),
            (TapeClass::II, 0.0, 0.3),
        ] {
            close(class.permissible_error(length), error);
        }
    }

    #[test]
    fn a_hook_or_butt_adds_its_allowance() {
        for (class, allowance) in TapeClass::ALL.into_iter().zip([0.1, 0.2, 0.3]) {
            let tape = |end| Tape {
                class,
                end,
                graduation: 1.0,
            };
            let by_eye = tape(TapeEnd::Mark).permissible_error(800.0);
            let hooked = tape(TapeEnd::HookOrButt).permissible_error(800.0);
            close(hooked - by_eye, allowance);
        }
    }

    #[test]
    fn classes_are_read_back_from_their_words() {
        for class in TapeClass::ALL {
            assert_eq!(TapeClass::from_word(class.word()), Some(class));
        }
        assert_eq!(TapeClass::from_word("IV"), None);
    }

    /// GUM F.2.2.1: rounding to a division d has u = 0.29 d.
    #[test]
    fn rounding_to_a_millimetre_is_0_29_mm() {
        close(Tape::default().rounding(), 1.0 / 12.0_f64.sqrt());
    }
}
