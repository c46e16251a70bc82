//! Codes of a font turned into letters by the font's own table of them (`ToUnicode`, ISO 32000-1,
//! 9.10.3): what it claims to draw.

use crate::check::verify::budget::{Budget, Cost};
use crate::check::verify::error::VerifyError;
use std::collections::BTreeMap;

/// Most codes of one font that are kept.
const MOST_CODES: usize = 70_000;
/// Most letters of one code, in UTF-16: a ligature has a few.
const MOST_LETTERS: usize = 16;

/// What a piece of a table costs while its section is held, in parts of lines.
const TOKEN: u64 = 2;

/// Letters of a font by their codes.
#[derive(Debug, Default)]
pub(super) struct Table {
    /// Bytes of a code.
    pub(super) length: usize,
    pub(super) known: BTreeMap<u32, String>,
}

/// A piece of such a table.
enum Token {
    Codes(Vec<u8>),
    Open,
    Close,
    Word(Vec<u8>),
}

/// The pieces of a table. Its sections are longer than a content stream's reader holds operands.
fn tokens(table: &[u8]) -> impl Iterator<Item = Token> + '_ {
    let mut rest = table;
    std::iter::from_fn(move || {
        rest = rest.trim_ascii_start();
        let (first, after) = rest.split_first()?;
        let (token, length) = match first {
            b'<' if after.first() != Some(&b'<') => {
                let end = after.iter().position(|byte| *byte == b'>')?;
                (Token::Codes(hex(after.get(..end)?)), end + 2)
            }
            b'[' => (Token::Open, 1),
            b']' => (Token::Close, 1),
            _ => {
                let ends = |byte: &u8| byte.is_ascii_whitespace() || b"<[]".contains(byte);
                let end = after.iter().position(ends).unwrap_or(after.len());
                (Token::Word(rest.get(..=end)?.to_vec()), end + 1)
            }
        };
        rest = rest.get(length..)?;
        Some(token)
    })
}

fn hex(digits: &[u8]) -> Vec<u8> {
    let digits: Vec<u32> = digits
        .iter()
        .filter_map(|digit| char::from(*digit).to_digit(16))
        .collect();
    let bytes = digits.chunks(2).map(|pair| {
        let byte = match pair {
            [high, low] => high << 4 | low,
            _ => pair.iter().sum::<u32>() << 4,
        };
        u8::try_from(byte).unwrap_or(0)
    });
    bytes.collect()
}

impl Table {
    pub(super) fn read(table: &[u8], budget: &mut Budget) -> Result<Self, VerifyError> {
        let mut letters = Self::default();
        // Each item is one string, or several in brackets.
        let mut items: Vec<Vec<Vec<u8>>> = vec![];
        let mut open = false;
        for token in tokens(table) {
            budget.spend(Cost::Elements, TOKEN)?;
            match token {
                Token::Codes(codes) => match items.last_mut() {
                    Some(list) if open => list.push(codes),
                    _ => items.push(vec![codes]),
                },
                Token::Open => {
                    open = true;
                    items.push(vec![]);
                }
                Token::Close => open = false,
                Token::Word(word) => {
                    letters.section(&word, &items, budget)?;
                    items.clear();
                }
            }
        }
        Ok(letters)
    }

    /// What stood before the word that ends a section.
    fn section(
        &mut self,
        end: &[u8],
        items: &[Vec<Vec<u8>>],
        budget: &mut Budget,
    ) -> Result<(), VerifyError> {
        let first = |item: &Vec<Vec<u8>>| item.first().map_or(0, |codes| code(codes));
        match end {
            b"endcodespacerange" => {
                self.length = items
                    .first()
                    .and_then(|item| item.first())
                    .map_or(0, Vec::len);
            }
            b"endbfchar" => {
                let (pairs, _) = items.as_chunks::<2>();
                for [code, letters] in pairs {
                    let letters = letters.first().map(|codes| utf16(codes));
                    self.add(first(code), letters.unwrap_or_default(), budget)?;
                }
            }
            b"endbfrange" => {
                let (ranges, _) = items.as_chunks::<3>();
                for [from, to, letters] in ranges {
                    self.range(first(from), first(to), letters, budget)?;
                }
            }
            _ => {}
        }
        Ok(())
    }

    fn range(
        &mut self,
        from: u32,
        to: u32,
        letters: &[Vec<u8>],
        budget: &mut Budget,
    ) -> Result<(), VerifyError> {
        let codes = from..=to.min(from.saturating_add(0xffff));
        if let [first] = letters {
            let first = utf16(first);
            let mut before = first.chars();
            let Some(last) = before.next_back() else {
                return Ok(());
            };
            for code in codes {
                let next = char::from_u32(u32::from(last) + (code - from));
                self.add(code, before.clone().chain(next).collect(), budget)?;
            }
        } else {
            for (code, letter) in codes.zip(letters) {
                self.add(code, utf16(letter), budget)?;
            }
        }
        Ok(())
    }

    fn add(&mut self, code: u32, letters: String, budget: &mut Budget) -> Result<(), VerifyError> {
        budget.spend(Cost::Elements, 1)?;
        if self.known.len() < MOST_CODES {
            self.known.insert(code, letters);
        }
        Ok(())
    }
}

pub(super) fn code(bytes: &[u8]) -> u32 {
    bytes
        .iter()
        .take(4)
        .fold(0, |all, byte| (all << 8) | u32::from(*byte))
}

fn utf16(bytes: &[u8]) -> String {
    let (units, _) = bytes.as_chunks::<2>();
    let units = units.iter().take(MOST_LETTERS);
    let units = units.map(|pair| u16::from_be_bytes(*pair));
    char::decode_utf16(units).filter_map(Result::ok).collect()
}
