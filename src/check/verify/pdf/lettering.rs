//! What is written on a page: codes of a font turned into letters by the font's own table of them
//! (`ToUnicode`, ISO 32000-1, 9.10.3).

use super::look::look;
use super::unpack::unpacked;
use crate::check::verify::budget::{Budget, Cost};
use crate::check::verify::error::VerifyError;
use crate::check::verify::measured::Words;
use hayro_syntax::object::{Dict, Name, Object, ObjectIdentifier, Stream};
use kurbo::{Affine, Point, Vec2};
use std::collections::BTreeMap;
use std::rc::Rc;

/// Most codes of one font that are kept.
const MOST_CODES: usize = 70_000;
/// Most letters of one code, in UTF-16: a ligature has a few.
const MOST_LETTERS: usize = 16;

/// What a piece of a table costs while its section is held, in parts of lines.
const TOKEN: u64 = 2;

/// Letters of a font by their codes.
#[derive(Debug, Default)]
pub(super) struct Letters {
    /// Bytes of a code.
    length: usize,
    known: BTreeMap<u32, String>,
}

/// The fonts of a file, read once each.
#[derive(Debug, Default)]
pub(super) struct Fonts {
    known: BTreeMap<ObjectIdentifier, Rc<Letters>>,
}

impl Fonts {
    /// The letters of the font of this name; none where there is no such font.
    pub(super) fn letters(
        &mut self,
        fonts: &Dict<'_>,
        name: &Name<'_>,
        budget: &mut Budget,
    ) -> Result<Option<Rc<Letters>>, VerifyError> {
        let id = fonts.get_ref(name).map(ObjectIdentifier::from);
        if let Some(known) = id.and_then(|id| self.known.get(&id)) {
            return Ok(Some(known.clone()));
        }
        look(fonts, &[name.as_str()], budget)?;
        let Some(font) = fonts.get::<Dict<'_>>(name) else {
            return Ok(None);
        };
        budget.spend_len(Cost::Bytes, font.data().len())?;
        look(&font, &["ToUnicode"], budget)?;
        let letters = Rc::new(match font.get::<Stream<'_>>("ToUnicode") {
            Some(table) => Letters::read(&unpacked(&table, budget)?, budget)?,
            None => Letters::default(),
        });
        if let Some(id) = id {
            self.known.insert(id, letters.clone());
        }
        Ok(Some(letters))
    }
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

impl Letters {
    fn read(table: &[u8], budget: &mut Budget) -> Result<Self, VerifyError> {
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

    /// What a string of codes says; a code that is not known is no letter.
    fn said(&self, codes: &[u8]) -> String {
        let each = codes.chunks_exact(self.length.clamp(1, 4));
        each.map(|one| {
            self.known
                .get(&code(one))
                .map_or("\u{fffd}", String::as_str)
        })
        .collect()
    }
}

/// Where lettering stands, and in which font.
#[derive(Debug, Default)]
pub(super) struct Lettering {
    pub(super) font: Option<Rc<Letters>>,
    line: Affine,
    leading: f64,
}

impl Lettering {
    /// Operators that place lettering (ISO 32000-1, 9.4.2).
    pub(super) fn place(&mut self, operator: &[u8], n: &[f64; 6]) {
        let moved = |line: Affine, x: f64, y: f64| line * Affine::translate(Vec2::new(x, y));
        match operator {
            b"BT" => self.line = Affine::IDENTITY,
            b"Tm" => self.line = Affine::new(*n),
            b"Td" => self.line = moved(self.line, n[0], n[1]),
            b"TD" => {
                self.leading = -n[1];
                self.line = moved(self.line, n[0], n[1]);
            }
            b"TL" => self.leading = n[0],
            _ => self.line = moved(self.line, 0.0, -self.leading),
        }
    }

    /// What is shown, at its place on the page.
    pub(super) fn show<'a>(
        &self,
        operands: impl Iterator<Item = &'a Object<'a>>,
        to_page: Affine,
    ) -> Option<Words> {
        let font = self.font.as_ref()?;
        let mut words = String::new();
        for operand in operands {
            match operand {
                Object::Array(parts) => {
                    for part in parts.iter::<Object<'_>>() {
                        words += &font.said(&bytes(&part));
                    }
                }
                one => words += &font.said(&bytes(one)),
            }
        }
        (!words.is_empty()).then(|| Words {
            at: to_page * self.line * Point::ZERO,
            words,
        })
    }
}

fn bytes(object: &Object<'_>) -> Vec<u8> {
    match object {
        Object::String(text) => text.as_bytes().to_vec(),
        _ => vec![],
    }
}

fn code(bytes: &[u8]) -> u32 {
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
