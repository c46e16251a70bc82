//! One state of a file: its text, and the hash that tells it from others.

use crate::base::words::hex;
use sha2::{Digest, Sha256};
use std::fmt;

/// SHA-256 of a text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Hash([u8; 32]);

impl Hash {
    /// Of these bytes.
    pub fn of(bytes: &[u8]) -> Self {
        Self(Sha256::digest(bytes).into())
    }

    /// From 64 hexadecimal digits, as they are printed.
    pub fn parse(digits: &str) -> Option<Self> {
        let mut bytes = [0; 32];
        if digits.len() != 64 || !digits.is_ascii() {
            return None;
        }
        for (at, byte) in bytes.iter_mut().enumerate() {
            *byte = u8::from_str_radix(digits.get(2 * at..2 * at + 2)?, 16).ok()?;
        }
        Some(Self(bytes))
    }
}

impl fmt::Display for Hash {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(&hex(&self.0))
    }
}

/// A text and its hash.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct State {
    /// The text.
    pub text: String,
    /// Its hash.
    pub hash: Hash,
}

impl State {
    /// The state that a text is.
    pub fn of(text: impl Into<String>) -> Self {
        let text = text.into();
        let hash = Hash::of(text.as_bytes());
        Self { text, hash }
    }
}
