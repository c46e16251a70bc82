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
