//! Sound files with something done to them.

use super::dice::{Dice, ODD_LETTERS, ODD_VALUES};

/// `text` after one to three changes, mostly one.
pub fn mutated(text: &str, dice: &mut Dice) -> Vec<u8> {
    let mut bytes = text.as_bytes().to_vec();
    let more = if dice.one_in(3) { dice.below(3) } else { 0 };
    for _ in 0..=more {
        change(&mut bytes, dice);
    }
    bytes
}

fn change(bytes: &mut Vec<u8>, dice: &mut Dice) {
    let at = dice.below(bytes.len());
    match dice.below(20) {
        0 if !bytes.is_empty() => bytes[at] ^= 1 << dice.below(8),
        1 => bytes.truncate(at),
        2 => {
            let end = (at + dice.below(40)).min(bytes.len());
            bytes.drain(at..end);
        }
        3 => insert(bytes, at, dice.pick(&ODD_LETTERS).as_bytes()),
        4 => {
            let depth = [10, 79, 81, 3000][dice.below(4)];
            let (open, close) = *dice.pick(&[("[", "]"), ("{a=", "}"), ("(", ")"), ("a.", "a")]);
            let nest = format!("{}{}", open.repeat(depth), close.repeat(depth));
            insert(bytes, at, nest.as_bytes());
        }
        5 => {
            let letter = *dice.pick(&["x", "W", "字", "ÿ", "9", " ", "\t"]);
            let long = letter.repeat([64, 65, 500, 501, 20_000][dice.below(5)]);
            insert(bytes, at, long.as_bytes());
        }
        6 => on_lines(bytes, dice, |lines, line, _| {
            lines.insert(line, lines[line].clone())
        }),
        7 => on_lines(bytes, dice, |lines, line, _| drop(lines.remove(line))),
        8 => on_lines(bytes, dice, |lines, line, dice| {
            let other = dice.below(lines.len());
            lines.swap(line, other);
        }),
        9 => on_lines(bytes, dice, |lines, line, dice| {
            if let Some(equals) = lines[line].iter().position(|byte| *byte == b'=') {
                lines[line].truncate(equals + 1);
                lines[line].extend(dice.pick(&ODD_VALUES).as_bytes());
            }
        }),
        _ => change_number(bytes, dice),
    }
}

/// Another number where one stands: what reaches deepest.
fn change_number(bytes: &mut Vec<u8>, dice: &mut Dice) {
    let starts: Vec<usize> = (0..bytes.len())
        .filter(|i| {
            bytes[*i].is_ascii_digit() && (*i == 0 || !bytes[*i - 1].is_ascii_alphanumeric())
        })
        .collect();
    let Some(start) = starts.get(dice.below(starts.len())).copied() else {
        return;
    };
    let digits = |byte: &u8| byte.is_ascii_digit() || *byte == b'.';
    let end = start
        + bytes[start..]
            .iter()
            .take_while(|byte| digits(byte))
            .count();
    let number = dice.length();
    bytes.splice(start..end, number.trim_matches('"').bytes());
}

fn insert(bytes: &mut Vec<u8>, at: usize, what: &[u8]) {
    bytes.splice(at..at, what.iter().copied());
}

fn on_lines(
    bytes: &mut Vec<u8>,
    dice: &mut Dice,
    change: impl FnOnce(&mut Vec<Vec<u8>>, usize, &mut Dice),
) {
    let mut lines: Vec<Vec<u8>> = bytes
        .split(|byte| *byte == b'\n')
        .map(<[u8]>::to_vec)
        .collect();
    let line = dice.below(lines.len());
    change(&mut lines, line, dice);
    *bytes = lines.join(&b'\n');
}
