//! Errors drawn by chance, for simulations: seeded, so that each run is the same.

/// Steele, Lea and Flood's SplitMix64 (OOPSLA 2014): small, seeded, the same everywhere.
pub struct Random(pub u64);

impl Random {
    /// Evenly spread from -1 to 1.
    pub fn either_way(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^= z >> 31;
        (z >> 11) as f64 / (1u64 << 52) as f64 - 1.0
    }

    /// Evenly spread between two values.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * (self.either_way() + 1.0) / 2.0
    }

    /// Near enough normal, standard deviation 1.
    pub fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.either_way()).sum::<f64>() / 2.0
    }
}
