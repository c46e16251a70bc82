//! Changes by chance: bytes, chunks, whole objects, and numbers that nobody should write.

use crate::odd_input::dice::Dice;
use std::ops::Range;

/// Numbers put in the place of others: huge, tiny, at the ends of what machines hold, and none.
const ODD_NUMBERS: [&str; 24] = [
    "1e308",
    "-1e308",
    "1e-308",
    "1e24",
    "nan",
    "inf",
    "-inf",
    "-0",
    "0",
    "-1",
    "2147483647",
    "2147483648",
    "-2147483649",
    "4294967295",
    "4294967296",
    "18446744073709551616",
    "9007199254740993",
    "99999999999999999999999999999999999999999999",
    "0.00000000000000000000000000000000001",
    "20000",
    "56692.9",
    "1.0.0",
    "--5",
    "1e999",
];

/// A file with one to four changes; chunks may come from another.
pub fn changed(original: &[u8], other: &[u8], dice: &mut Dice) -> Vec<u8> {
    let mut bytes = original.to_vec();
    for _ in 0..=dice.below(4) {
        if bytes.is_empty() {
            break;
        }
        let at = dice.below(bytes.len());
        match dice.below(10) {
            0 => bytes[at] ^= 1 << dice.below(8),
            1 => bytes[at] = *dice.pick(b"0<>[]/() \n%-.\"'&;{}\0\xff"),
            2 => drop(bytes.drain(chunk(&bytes, dice))),
            3 => {
                let again = bytes[chunk(&bytes, dice)].repeat(1 + dice.below(40));
                bytes.splice(at..at, again);
            }
            4 => {
                let taken = other[chunk(other, dice)].to_vec();
                bytes.splice(at..at, taken);
            }
            5 if dice.one_in(3) => bytes.truncate(at),
            6 => swap(&mut bytes, dice),
            7 | 8 => {
                let odd = *dice.pick(&ODD_NUMBERS);
                renumber(&mut bytes, dice, |_| odd.to_owned());
            }
            _ => {
                let by = *dice.pick(&[0.5, 0.97, 0.9995, 1.0005, 1.0667, 2.0, -1.0]);
                renumber(&mut bytes, dice, |number| format!("{:.4}", number * by));
            }
        }
    }
    bytes
}

/// A few hundred bytes at most.
fn chunk(bytes: &[u8], dice: &mut Dice) -> Range<usize> {
    let from = dice.below(bytes.len());
    let longest = *dice.pick(&[4, 40, 400]);
    from..(from + 1 + dice.below(longest)).min(bytes.len())
}

/// Two lines exchanged: an operator, an element, a row of a table.
fn swap(bytes: &mut Vec<u8>, dice: &mut Dice) {
    let mut lines: Vec<&[u8]> = bytes
        .split_inclusive(|byte| matches!(byte, b'\n' | b'>'))
        .collect();
    let (one, two) = (dice.below(lines.len()), dice.below(lines.len()));
    lines.swap(one, two);
    *bytes = lines.concat();
}

/// The first number after a place changed.
fn renumber(bytes: &mut Vec<u8>, dice: &mut Dice, to: impl Fn(f64) -> String) {
    let from = dice.below(bytes.len());
    let is_part = |byte: &u8| byte.is_ascii_digit() || matches!(byte, b'.' | b'-');
    let Some(start) = bytes[from..].iter().position(u8::is_ascii_digit) else {
        return;
    };
    let mut start = from + start;
    while start > 0 && is_part(&bytes[start - 1]) {
        start -= 1;
    }
    let length = bytes[start..]
        .iter()
        .take_while(|byte| is_part(byte))
        .count();
    let number = String::from_utf8_lossy(&bytes[start..start + length]);
    let number = to(number.parse().unwrap_or(1.0));
    bytes.splice(start..start + length, number.into_bytes());
}

/// The objects of a PDF, unpacked, so that each can be changed and the table still be right.
pub struct Objects {
    bodies: Vec<(u32, Vec<u8>)>,
    trailer: String,
}

impl Objects {
    pub fn of(pdf: &[u8]) -> Self {
        let mut file = lopdf::Document::load_mem(pdf).unwrap();
        file.decompress();
        let reference = |key: &[u8]| file.trailer.get(key).unwrap().as_reference().unwrap().0;
        let trailer = format!(
            "/Root {} 0 R/Info {} 0 R",
            reference(b"Root"),
            reference(b"Info")
        );
        let mut bytes = vec![];
        file.save_to(&mut bytes).unwrap();
        let mut bodies = vec![];
        let mut rest = bytes.as_slice();
        let find = |text: &[u8], what: &[u8]| text.windows(what.len()).position(|w| w == what);
        while let Some(head) = find(rest, b" 0 obj") {
            let digits = rest[..head]
                .iter()
                .rev()
                .take_while(|byte| byte.is_ascii_digit());
            let number = &rest[head - digits.count()..head];
            let number = std::str::from_utf8(number).unwrap().parse().unwrap();
            let end = find(rest, b"endobj").unwrap();
            bodies.push((number, rest[head + 6..end].to_vec()));
            rest = &rest[end + 6..];
        }
        Self { bodies, trailer }
    }

    /// The file with one to three of its objects changed or exchanged.
    pub fn changed(&self, dice: &mut Dice) -> Vec<u8> {
        let mut bodies: Vec<(u32, Vec<u8>)> = self.bodies.clone();
        for _ in 0..=dice.below(3) {
            let (one, two) = (dice.below(bodies.len()), dice.below(bodies.len()));
            if dice.one_in(12) {
                let body = bodies[two].1.clone();
                bodies[one].1 = body;
            } else {
                bodies[one].1 = changed(&bodies[one].1, &bodies[two].1, dice);
            }
        }
        self.file(&bodies)
    }

    fn file(&self, bodies: &[(u32, Vec<u8>)]) -> Vec<u8> {
        let mut bytes = b"%PDF-1.7\n".to_vec();
        let mut table = String::new();
        for (number, body) in bodies {
            table += &format!("{number} 1\n{:010} 00000 n \n", bytes.len());
            bytes.extend(format!("{number} 0 obj").into_bytes());
            bytes.extend_from_slice(body);
            bytes.extend_from_slice(b"endobj\n");
        }
        let at = bytes.len();
        bytes.extend(
            format!(
                "xref\n{table}trailer\n<</Size 9999{}>>\nstartxref\n{at}\n%%EOF\n",
                self.trailer
            )
            .into_bytes(),
        );
        bytes
    }

    /// The file as it was, unpacked.
    pub fn unchanged(&self) -> Vec<u8> {
        self.file(&self.bodies)
    }
}
