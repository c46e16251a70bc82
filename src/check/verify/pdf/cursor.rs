//! The few words of a file that stand outside of its objects (ISO 32000-1, 7.2 and 7.5).

/// A place in a file, and what stands there.
#[derive(Debug, Clone, Copy)]
pub(super) struct Cursor<'b> {
    pub(super) rest: &'b [u8],
}

impl<'b> Cursor<'b> {
    /// The end of the file for places beyond it.
    pub(super) fn at(bytes: &'b [u8], place: usize) -> Self {
        Self {
            rest: bytes.get(place..).unwrap_or_default(),
        }
    }

    /// Past white space and comments.
    pub(super) fn skip_space(&mut self) {
        while let [first, rest @ ..] = self.rest {
            self.rest = match first {
                b'%' => {
                    let end = rest.iter().position(|byte| matches!(byte, b'\n' | b'\r'));
                    rest.get(end.unwrap_or(rest.len())..).unwrap_or_default()
                }
                first if is_space(*first) => rest,
                _ => return,
            };
        }
    }

    /// Past a word, if it stands here.
    pub(super) fn word(&mut self, word: &[u8]) -> Option<()> {
        self.rest = self.rest.strip_prefix(word)?;
        Some(())
    }

    /// A whole number without a sign, after white space.
    pub(super) fn number(&mut self) -> Option<u64> {
        self.skip_space();
        let digits = self.rest.iter().take_while(|byte| byte.is_ascii_digit());
        let (digits, rest) = self.rest.split_at_checked(digits.count())?;
        let number = std::str::from_utf8(digits).ok()?.parse().ok()?;
        self.rest = rest;
        Some(number)
    }

    /// Some bytes, whatever they are.
    pub(super) fn take(&mut self, count: usize) -> Option<&'b [u8]> {
        let (taken, rest) = self.rest.split_at_checked(count)?;
        self.rest = rest;
        Some(taken)
    }

    /// The head of an object: its number and its generation.
    pub(super) fn object_head(&mut self) -> Option<(u32, u32)> {
        let number = u32::try_from(self.number()?).ok()?;
        let generation = u32::try_from(self.number()?).ok()?;
        self.skip_space();
        self.word(b"obj")?;
        self.skip_space();
        Some((number, generation))
    }

    /// Past `stream` and the end of its line.
    pub(super) fn stream_head(&mut self) -> Option<()> {
        self.skip_space();
        self.word(b"stream")?;
        let ends: [&[u8]; 3] = [b"\r\n", b"\n", b"\r"];
        ends.into_iter().find_map(|end| self.word(end))
    }
}

/// White space (ISO 32000-1, table 1).
pub(super) fn is_space(byte: u8) -> bool {
    matches!(byte, 0 | b'\t' | b'\n' | 0x0c | b'\r' | b' ')
}

/// Where a word first stands.
pub(super) fn find(bytes: &[u8], what: &[u8]) -> Option<usize> {
    bytes.windows(what.len()).position(|window| window == what)
}

/// Where a word last stands.
pub(super) fn find_last(bytes: &[u8], what: &[u8]) -> Option<usize> {
    bytes.windows(what.len()).rposition(|window| window == what)
}

/// The numbers of all objects that are named in what an object holds (`7 0 R`).
pub(super) fn references(bytes: &[u8]) -> impl Iterator<Item = u32> {
    let ends = bytes.iter().enumerate().filter(|(_, byte)| **byte == b'R');
    ends.filter_map(|(end, _)| {
        let (before, _) = last_number(bytes.get(..end)?)?;
        last_number(before)?.1
    })
}

/// The whole number that ends some bytes, but for white space, and what stands before it; a number
/// beyond measure is none.
fn last_number(bytes: &[u8]) -> Option<(&[u8], Option<u32>)> {
    let last = bytes.iter().rposition(|byte| !is_space(*byte))?;
    let bytes = bytes.get(..=last)?;
    let first = bytes.iter().rposition(|byte| !byte.is_ascii_digit());
    let (before, digits) = bytes.split_at_checked(first.map_or(0, |at| at.saturating_add(1)))?;
    let number = std::str::from_utf8(digits).ok()?.parse();
    (!digits.is_empty()).then_some((before, number.ok()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn references_are_found_wherever_they_stand() {
        let found: Vec<u32> = references(
            b"<</A 7 0 R/B[8 0 R 9\n1\x00R]/C(R)/D 99999999999 0 R /E -1 R/RR R 10 0 R>>",
        )
        .collect();
        assert_eq!(found, [7, 8, 9, 10]);
        assert_eq!(references(b"R R 1 R").count(), 0);
    }
}
