//! How a paper is named: number, revision and content code.

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

#[cfg(test)]
mod tests {
    use super::*;

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
