//! Sound files with something done to them: mostly to their numbers, words, keys and tables, which
//! still read and so reach deep, and now and then to any of their bytes.

use super::dice::{Dice, ODD_LETTERS, ODD_VALUES};

/// `text` after one to three changes, mostly one. Words and tables may come from `others`.
pub fn mutated(text: &str, others: &[String], dice: &mut Dice) -> Vec<u8> {
    let mut bytes = text.as_bytes().to_vec();
    let more = if dice.one_in(3) { dice.below(3) } else { 0 };
    for _ in 0..=more {
        change(&mut bytes, others, dice);
    }
    bytes
}

fn change(bytes: &mut Vec<u8>, others: &[String], dice: &mut Dice) {
    match dice.below(24) {
        0..=2 => change_bytes(bytes, dice),
        3 => change_line(bytes, dice),
        4..=6 => change_tables(bytes, others, dice),
        7..=9 => change_word(bytes, others, dice),
        10 | 11 => change_value(bytes, dice),
        _ => change_number(bytes, dice),
    }
}

fn change_bytes(bytes: &mut Vec<u8>, dice: &mut Dice) {
    let at = dice.below(bytes.len());
    match dice.below(6) {
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
        _ => {
            let letter = *dice.pick(&["x", "W", "字", "ÿ", "9", " ", "\t"]);
            let long = letter.repeat([64, 65, 500, 501, 20_000][dice.below(5)]);
            insert(bytes, at, long.as_bytes());
        }
    }
}

/// A line once more, gone, or in another's place.
fn change_line(bytes: &mut Vec<u8>, dice: &mut Dice) {
    let mut lines: Vec<Vec<u8>> = bytes
        .split(|byte| *byte == b'\n')
        .map(<[u8]>::to_vec)
        .collect();
    let line = dice.below(lines.len());
    match dice.below(3) {
        0 => lines.insert(line, lines[line].clone()),
        1 => drop(lines.remove(line)),
        _ => {
            let other = dice.below(lines.len());
            lines.swap(line, other);
        }
    }
    *bytes = lines.join(&b'\n');
}

/// A whole table many times, gone, in another's place, or one of another file beside it.
fn change_tables(bytes: &mut Vec<u8>, others: &[String], dice: &mut Dice) {
    let mut tables = tables(bytes);
    let table = dice.below(tables.len());
    match dice.below(5) {
        0 => drop(tables.remove(table)),
        1 => {
            let other = dice.below(tables.len());
            tables.swap(table, other);
        }
        2 | 3 => {
            let other = self::tables(dice.pick(others).as_bytes());
            let other = dice.pick(&other).clone();
            tables.insert(table, other);
        }
        _ => {
            let copies = *dice.pick(&[1, 2, 20, 300]);
            let copied: Vec<Vec<u8>> = (0..copies)
                .map(|copy| renamed(&tables[table], copy))
                .collect();
            tables.extend(copied);
        }
    }
    *bytes = tables.concat();
}

/// A file's tables, each from its heading on; what stands before the first is one as well.
fn tables(bytes: &[u8]) -> Vec<Vec<u8>> {
    let mut tables = vec![vec![]];
    for line in bytes.split_inclusive(|byte| *byte == b'\n') {
        if line.starts_with(b"[")
            && let Some(last) = tables.last()
            && !last.is_empty()
        {
            tables.push(vec![]);
        }
        if let Some(last) = tables.last_mut() {
            last.extend(line);
        }
    }
    tables
}

/// A table under a name that no other has, so that it reads.
fn renamed(table: &[u8], copy: usize) -> Vec<u8> {
    let text = String::from_utf8_lossy(table);
    text.replacen("name = \"", &format!("name = \"{copy} "), 1)
        .into_bytes()
}

/// Another word of this or another file where one stands between quotation marks.
fn change_word(bytes: &mut Vec<u8>, others: &[String], dice: &mut Dice) {
    let words = quoted(bytes);
    if words.is_empty() {
        return;
    }
    let place = dice.pick(&words).clone();
    let other = if dice.one_in(3) {
        dice.pick(&ODD_VALUES).trim_matches('"').as_bytes().to_vec()
    } else {
        let from = dice.pick(others).as_bytes();
        let place = dice.pick(&quoted(from)).clone();
        from[place].to_vec()
    };
    bytes.splice(place, other);
}

fn quoted(bytes: &[u8]) -> Vec<std::ops::Range<usize>> {
    let marks: Vec<usize> = (0..bytes.len()).filter(|at| bytes[*at] == b'"').collect();
    marks
        .chunks_exact(2)
        .map(|pair| pair[0] + 1..pair[1])
        .collect()
}

/// A value of any other kind behind an equals sign.
fn change_value(bytes: &mut Vec<u8>, dice: &mut Dice) {
    let equals: Vec<usize> = (0..bytes.len()).filter(|at| bytes[*at] == b'=').collect();
    if equals.is_empty() {
        return;
    }
    let from = *dice.pick(&equals) + 1;
    let ends = |byte: &u8| b",}\n".contains(byte);
    let end = bytes[from..]
        .iter()
        .position(ends)
        .map_or(bytes.len(), |at| from + at);
    bytes.splice(from..end, dice.pick(&ODD_VALUES).bytes());
}

/// Another number where one stands: huge, tiny, odd, or the same one not quite.
fn change_number(bytes: &mut Vec<u8>, dice: &mut Dice) {
    let starts: Vec<usize> = (0..bytes.len())
        .filter(|i| {
            bytes[*i].is_ascii_digit() && (*i == 0 || !bytes[*i - 1].is_ascii_alphanumeric())
        })
        .collect();
    if starts.is_empty() {
        return;
    }
    let start = *dice.pick(&starts);
    let digits = |byte: &u8| byte.is_ascii_digit() || *byte == b'.';
    let end = start
        + bytes[start..]
            .iter()
            .take_while(|byte| digits(byte))
            .count();
    let was = String::from_utf8_lossy(&bytes[start..end])
        .parse::<f64>()
        .unwrap_or(1.0);
    let number = match dice.below(8) {
        0 => dice.length(),
        1 => format!("-{was}"),
        2 => format!("{}", was * 10_f64.powi(dice.below(9) as i32 - 4)),
        3 => format!("{:.17}", was + dice.between(-1e-6, 1e-6)),
        4 => format!("{}", was + 1.0),
        _ => format!("{:.4}", was * dice.between(0.3, 2.5)),
    };
    bytes.splice(start..end, number.trim_matches('"').bytes());
}

fn insert(bytes: &mut Vec<u8>, at: usize, what: &[u8]) {
    bytes.splice(at..at, what.iter().copied());
}
