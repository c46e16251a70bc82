//! A number worked out from a document's content, to stand as its `/ID`.
//!
//! FNV-1a of 128 bits (draft-eastlake-fnv): not secret, the same on every machine and in every
//! year, which the standard library's hashes do not promise.

use crate::sheet::SheetSet;

const BASIS: u128 = 0x6c62_272e_07bb_0142_62b8_2175_6295_c58d;
const PRIME: u128 = 0x0000_0000_0100_0000_0000_0000_0000_013b;

/// A fingerprint in the making.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Fingerprint(u128);

impl Fingerprint {
    /// Of what a set says outside its pages' ink.
    pub(super) fn of_set(set: &SheetSet) -> Self {
        let mut finger = Self(BASIS);
        for words in [&set.title, &set.author, &set.subject, &set.issued] {
            finger.add_part(words);
        }
        for page in &set.pages {
            finger.add_part(&page.bookmark);
        }
        for side in [set.size.width, set.size.height] {
            finger.add(&side.to_le_bytes());
        }
        finger
    }

    /// Takes in more bytes.
    pub(super) fn add(&mut self, bytes: &[u8]) {
        for &byte in bytes {
            self.0 = (self.0 ^ u128::from(byte)).wrapping_mul(PRIME);
        }
    }

    /// Its bytes.
    pub(super) fn bytes(self) -> [u8; 16] {
        self.0.to_be_bytes()
    }

    /// The length goes first, so that words moved from one part to the next make a difference.
    fn add_part(&mut self, words: &str) {
        self.add(&(words.len() as u64).to_le_bytes());
        self.add(words.as_bytes());
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn agrees_with_published_values() {
        // draft-eastlake-fnv, FNV-1a test values of 128 bits.
        for (words, value) in [
            ("", 0x6c62_272e_07bb_0142_62b8_2175_6295_c58d_u128),
            ("a", 0xd228_cb69_6f1a_8caf_7891_2b70_4e4a_8964),
            ("foobar", 0x343e_1662_793c_64bf_6f0d_3597_ba44_6f18),
        ] {
            let mut finger = Fingerprint(BASIS);
            finger.add(words.as_bytes());
            assert_eq!(u128::from_be_bytes(finger.bytes()), value, "{words:?}");
        }
    }
}
