//! Chance from a seed: the same number always gives the same odd input.

/// A small generator of random numbers (SplitMix64: Steele, Lea and Flood, 2014).
pub struct Dice(u64);

impl Dice {
    /// Dice for one case of one seed.
    pub fn of(seed: u64, case: u64) -> Self {
        Self(seed ^ case.wrapping_mul(0xd134_2543_de82_ef95))
    }

    pub fn throw(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    /// A whole number below `end`; 0 where there is none.
    pub fn below(&mut self, end: usize) -> usize {
        (self.throw() % end.max(1) as u64) as usize
    }

    /// Whether a chance of one in `of` falls.
    pub fn one_in(&mut self, of: usize) -> bool {
        self.below(of) == 0
    }

    pub fn pick<'a, T>(&mut self, from: &'a [T]) -> &'a T {
        &from[self.below(from.len())]
    }

    /// A number in a range, evenly.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * (self.throw() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// A length as somebody may write it: mostly of a size that panels have.
    pub fn length(&mut self) -> String {
        match self.below(14) {
            0 => (*self.pick(&ODD_VALUES)).to_owned(),
            1 => format!("{:.9}", self.between(-1.0, 1.0)),
            2 => format!(
                "\"{} {}/{} in\"",
                self.below(30),
                self.below(9),
                self.below(17)
            ),
            3 => format!("{}", self.below(6000)),
            4..=8 => format!("{}", self.below(120)),
            _ => format!("{:.3}", self.between(0.0, 300.0)),
        }
    }
}

/// Values that nobody should write, and some that are right but rare.
pub const ODD_VALUES: [&str; 34] = [
    "nan",
    "inf",
    "-inf",
    "0",
    "-0.0",
    "-1",
    "1e308",
    "1e-308",
    "1e999",
    "-1e17",
    "5000",
    "5000.000001",
    "4999.999999",
    "0.001",
    "1e-9",
    "99999999999999999999999999",
    "0xffff",
    "0o17",
    "1_000",
    "true",
    "1979-05-27",
    "1979-05-27T07:32:00Z",
    "[]",
    "[[[[[[[[[[]]]]]]]]]]",
    "{}",
    "{ a = { b = { c = 1 } } }",
    "\"\"",
    "\"½\"",
    "\"1/0 in\"",
    "\"3 left\"",
    "\"1e5 mm\"",
    "\"12 deg\"",
    "\"\\u0000\\u202e\\n\"",
    "'ＷＩＤＥ 🛠 ﷽ é'",
];

/// Letters that trip readers and typefaces.
pub const ODD_LETTERS: [&str; 14] = [
    "\"", "'", "[", "]", "{", "}", "=", ".", "#", "\n", "\u{202e}", "\u{0}", "🛠", "e\u{301}",
];
