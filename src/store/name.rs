//! Names that a folder's definitions may have: words, and nothing that leads elsewhere.

use crate::base::words::{is_device_name, shown};
use std::fmt;

/// Longest name, bytes: with its ending, and the names in the history, under what file systems take.
const LONGEST: usize = 80;

/// The name of a definition, less its ending: begins with a letter or a digit, and holds letters,
/// digits, blanks, `-`, `_` and `.`.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Name(String);

impl Name {
    /// The name that these words are, with or without `.toml` behind it.
    ///
    /// # Errors
    /// [`NameError`]: words that no file of the folder can be called by.
    pub fn parse(words: &str) -> Result<Self, NameError> {
        let stem = words.trim();
        let stem = stem.strip_suffix(".toml").unwrap_or(stem);
        let plain =
            |letter: char| letter.is_alphanumeric() || matches!(letter, ' ' | '-' | '_' | '.');
        let begins = stem.chars().next().is_some_and(char::is_alphanumeric);
        let ends = stem
            .chars()
            .next_back()
            .is_some_and(|last| !matches!(last, ' ' | '.'));
        if stem.is_empty() {
            return Err(NameError::Empty);
        }
        if stem.len() > LONGEST {
            return Err(NameError::Long);
        }
        if !begins || !ends || !stem.chars().all(plain) {
            return Err(NameError::Letters(shown(stem).into_owned()));
        }
        if is_device_name(stem) {
            return Err(NameError::Device(stem.into()));
        }
        Ok(Self(stem.into()))
    }

    /// The name itself.
    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// The file's name.
    pub(super) fn file(&self) -> String {
        format!("{}.toml", self.0)
    }
}

impl fmt::Display for Name {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(&self.0)
    }
}

/// Why words are no name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NameError {
    /// No words.
    Empty,
    /// Too many of them.
    Long,
    /// Letters that a name can't hold.
    Letters(String),
    /// A name that Windows keeps for a device.
    Device(String),
}

impl fmt::Display for NameError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty => out.write_str("a pattern needs a name"),
            Self::Long => write!(out, "the name is too long; allowed: up to {LONGEST} bytes"),
            Self::Letters(words) => write!(
                out,
                "`{words}` is no name; allowed: letters, digits, blanks, `-`, `_` and `.`, beginning \
                 with a letter or a digit"
            ),
            Self::Device(words) => {
                write!(out, "`{words}` is no name: Windows keeps it for a device")
            }
        }
    }
}

impl std::error::Error for NameError {}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_leads_out_of_a_folder_or_hides_in_it_is_no_name() {
        for words in [
            "",
            " ",
            ".toml",
            "..",
            ".",
            "../a",
            "a/b",
            "a\\b",
            "/a",
            ".hidden",
            "C:a",
            "con",
            "Nul.x",
            "com1",
            "a\0b",
            "a\nb",
            "a\u{202e}b",
            "-a",
            "a.",
            "~a",
            "a%2fb",
            "a*",
            "$a",
            "\u{feff}a",
        ] {
            assert!(Name::parse(words).is_err(), "{words:?}");
        }
        assert_eq!(Name::parse(&"a".repeat(81)), Err(NameError::Long));
    }

    #[test]
    fn names_that_people_give_are_taken() {
        for (words, name) in [
            ("LV2-UP-01", "LV2-UP-01"),
            (" under panel.toml ", "under panel"),
            ("Träger 2.5", "Träger 2.5"),
            ("7", "7"),
        ] {
            assert_eq!(Name::parse(words).unwrap().as_str(), name);
        }
    }
}
