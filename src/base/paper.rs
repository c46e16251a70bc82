//! How a paper is named: number, revision and content code.

use std::fmt;

/// Digits of Crockford's base 32: no I, L, O or U.
pub(crate) const DIGITS: &[u8; 32] = b"0123456789ABCDEFGHJKMNPQRSTVWXYZ";

/// Digits of a content code, each of 5 bits: any two of a shop's hundred thousand papers share one with
/// a chance of less than 1 in 200,000.
pub(crate) const CODE_LENGTH: usize = 10;

/// Number and revision, as sheets have them.
pub fn number_and_revision(number: &str, revision: &str) -> String {
    match revision {
        "" => number.into(),
        revision => format!("{number} rev {revision}"),
    }
}

/// Name of the files for a number and a revision, less their ending.
pub fn file_stem(number: &str, revision: &str) -> String {
    if revision.is_empty() {
        number.into()
    } else {
        format!("{number}-{revision}")
    }
}

/// A content code as it is printed, from however somebody typed it: small letters, groups or none,
/// and O, I and L for the digits that they look like. None for what is no code.
pub fn content_code(typed: &str) -> Option<String> {
    let digit = |letter: char| match letter.to_ascii_uppercase() {
        'O' => Some('0'),
        'I' | 'L' => Some('1'),
        letter => u8::try_from(letter)
            .is_ok_and(|byte| DIGITS.contains(&byte))
            .then_some(letter),
    };
    let letters = typed.trim().chars().filter(|letter| *letter != '-');
    let digits: String = letters.map(digit).collect::<Option<_>>()?;
    (digits.len() == CODE_LENGTH).then(|| {
        let (one, other) = digits.split_at(CODE_LENGTH / 2);
        format!("{one}-{other}")
    })
}

/// What a page says of itself to a camera, in its symbol.
///
/// As text: `TL1 LV2-UP-01 B 7K3MQ-9XDT2 2/3`, five words with a blank between them: the form and its
/// version; number; revision; content code; sheet 2 of 3. A page of the record is `R1/2`. A dot stands
/// for a revision that is not there, and for the sheet where the whole pattern is one drawing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PageName {
    /// Number of the pattern or kit.
    pub number: String,
    /// Revision; may be empty.
    pub revision: String,
    /// Content code.
    pub code: String,
    /// Which page it is; none for the whole in one drawing.
    pub page: Option<PageNumber>,
}

/// A page among those that are counted together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct PageNumber {
    /// It is of the record, which is counted by itself.
    pub of_record: bool,
    /// Which, from 1.
    pub number: usize,
    /// Of how many.
    pub count: usize,
}

/// The form of a page's name, and its version.
const FORM: &str = "TL1";
/// What stands for a word that is not there: no number or revision begins with it.
const NONE: &str = ".";

impl PageName {
    /// Number and revision, as sheets have them.
    pub fn number_and_revision(&self) -> String {
        number_and_revision(&self.number, &self.revision)
    }

    /// The same in words, as `LV2-UP-01 rev B, 7K3MQ-9XDT2, sheet 2 of 3`.
    pub fn words(&self) -> String {
        let name = format!("{}, {}", self.number_and_revision(), self.code);
        match &self.page {
            Some(page) => format!("{name}, {page}"),
            None => name,
        }
    }

    /// The name that a text is; none for any other text.
    pub fn parse(text: &str) -> Option<Self> {
        let words: Vec<&str> = text.split(' ').collect();
        let [FORM, number, revision, code, page] = words[..] else {
            return None;
        };
        let page = match page {
            NONE => None,
            page => Some(PageNumber::parse(page)?),
        };
        let is_word = !number.is_empty() && !revision.is_empty() && number != NONE;
        (is_word && content_code(code).as_deref() == Some(code)).then(|| Self {
            number: number.into(),
            revision: Some(revision)
                .filter(|word| *word != NONE)
                .unwrap_or_default()
                .into(),
            code: code.into(),
            page,
        })
    }
}

impl PageNumber {
    fn parse(text: &str) -> Option<Self> {
        let bare = text.strip_prefix('R');
        let (number, count) = bare.unwrap_or(text).split_once('/')?;
        let (number, count) = (number.parse().ok()?, count.parse().ok()?);
        (1..=count).contains(&number).then_some(Self {
            of_record: bare.is_some(),
            number,
            count,
        })
    }
}

impl fmt::Display for PageNumber {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let what = if self.of_record {
            "record page"
        } else {
            "sheet"
        };
        write!(out, "{what} {} of {}", self.number, self.count)
    }
}

impl fmt::Display for PageName {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self {
            number,
            revision,
            code,
            page,
        } = self;
        let revision = Some(revision.as_str()).filter(|word| !word.is_empty());
        let revision = revision.unwrap_or(NONE);
        write!(out, "{FORM} {number} {revision} {code} ")?;
        match page {
            None => out.write_str(NONE),
            Some(PageNumber {
                of_record,
                number,
                count,
            }) => {
                let record = if *of_record { "R" } else { "" };
                write!(out, "{record}{number}/{count}")
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_pages_name_is_read_as_it_was_written_and_no_other_text_is_one() {
        for text in [
            "TL1 LV2-UP-01 B 7K3MQ-9XDT2 2/3",
            "TL1 LV2-UP-01 . 7K3MQ-9XDT2 .",
            "TL1 n_1.2 b 7K3MQ-9XDT2 R1/2",
        ] {
            let name = PageName::parse(text);
            assert_eq!(name.map(|name| name.to_string()).as_deref(), Some(text));
        }
        for other in [
            "TL2 LV2-UP-01 B 7K3MQ-9XDT2 2/3",
            "TL1 LV2-UP-01 B 7K3MQ-9XDTU 2/3",
            "TL1 LV2-UP-01 B 7K3MQ-9XDT2 4/3",
            "TL1 LV2-UP-01 B 7K3MQ-9XDT2 0/3",
            "TL1 LV2-UP-01 B 7K3MQ-9XDT2",
            "TL1 LV2 UP B 7K3MQ-9XDT2 2/3",
            "TL1  B 7K3MQ-9XDT2 2/3",
            "",
        ] {
            assert_eq!(PageName::parse(other), None, "{other}");
        }
    }

    #[test]
    fn a_code_is_taken_as_people_type_it() {
        // Letters that are mistaken, as Crockford's base 32 takes them.
        for typed in ["0DA8E-YD116", "oda8eydil6", " 0DA8EYD1L6 "] {
            assert_eq!(content_code(typed).as_deref(), Some("0DA8E-YD116"));
        }
        for other in ["0DA8E-YD11", "0DA8E-YD11U", "LV2-UP-01", "0DA8E-YD1166"] {
            assert_eq!(content_code(other), None, "{other}");
        }
    }
}
