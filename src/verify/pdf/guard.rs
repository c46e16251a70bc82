//! Files that would swell beyond all bounds when unpacked are found before anything is unpacked.
//!
//! The reader below unpacks some streams by itself and without a bound, so every stream is counted
//! here first: plain deflate by inflating it into nothing, all other filters by the most that they
//! can swell.

use crate::verify::error::VerifyError;
use flate2::read::ZlibDecoder;
use std::io::Read;

/// Most bytes that a file may come to.
pub(crate) const LARGEST_UNPACKED: u64 = 256 << 20;

/// How many times its size a filter's output can be, at most: deflate's longest match is 258 bytes
/// from 2 bits; LZW's longest entry 4096 bytes from 9 bits; a run 128 bytes from 2; `z` is 4 of 1.
const SWELLING: [(&[u8], u64); 7] = [
    (b"/FlateDecode", 1032),
    (b"/LZWDecode", 3641),
    (b"/RunLengthDecode", 64),
    (b"/ASCII85Decode", 4),
    (b"/Fl", 1032),
    (b"/LZW", 3641),
    (b"/RL", 64),
];

/// Refuses files that hide what they are, or that come to more than [`LARGEST_UNPACKED`].
pub(crate) fn guard(bytes: &[u8]) -> Result<(), VerifyError> {
    let mut left = LARGEST_UNPACKED;
    let mut at = 0;
    while let Some(found) = find(&bytes[at..], b"stream") {
        let begin = at + found;
        let end = begin + b"stream".len();
        let is_end = bytes[..begin].ends_with(b"end");
        let head = unescaped(dictionary(bytes, begin));
        at = end;
        if is_end {
            continue;
        }
        if find(&head, b"/Encrypt").is_some() {
            return Err(VerifyError::Pdf("it is locked by a password"));
        }
        let body = skip_line_end(&bytes[end..]);
        let size = unpacked(&head, body, left)?;
        left = left.checked_sub(size).ok_or(VerifyError::Swells {
            at_most: LARGEST_UNPACKED,
        })?;
    }
    let trailer = find_last(bytes, b"trailer").unwrap_or(bytes.len());
    let trailer = unescaped(&bytes[trailer..(trailer + 4096).min(bytes.len())]);
    if find(&trailer, b"/Encrypt").is_some() {
        return Err(VerifyError::Pdf("it is locked by a password"));
    }
    Ok(())
}

/// Size of a stream, unpacked.
fn unpacked(head: &[u8], body: &[u8], left: u64) -> Result<u64, VerifyError> {
    let length = find(body, b"endstream").unwrap_or(body.len()) as u64;
    let by_reference = find(head, b"/Filter").is_some_and(|at| {
        let rest = &head[at + b"/Filter".len()..];
        let start = rest.iter().position(|byte| !byte.is_ascii_whitespace());
        start.is_some_and(|start| rest[start].is_ascii_digit())
    });
    if by_reference {
        return Err(VerifyError::Pdf("it hides how a stream is packed"));
    }
    let filters: Vec<u64> = SWELLING
        .iter()
        .flat_map(|(name, times)| std::iter::repeat_n(*times, count(head, name)))
        .collect();
    if let [1032] = filters.as_slice() {
        let mut inflated = 0;
        let mut decoder = ZlibDecoder::new(body);
        let mut buffer = vec![0; 1 << 16];
        while let Ok(more @ 1..) = decoder.read(&mut buffer) {
            inflated += more as u64;
            if inflated > left {
                break;
            }
        }
        // What is damaged, or not of this form after all, is bounded by what it could be.
        return Ok(if inflated == 0 && length < (1 << 16) {
            length * 1032
        } else {
            inflated
        });
    }
    Ok(filters
        .iter()
        .fold(length, |size, times| size.saturating_mul(*times)))
}

/// How often a name stands in a dictionary, whole.
fn count(head: &[u8], name: &[u8]) -> usize {
    let mut found = 0;
    let mut at = 0;
    while let Some(next) = find(&head[at..], name) {
        at += next + name.len();
        let whole = head
            .get(at)
            .is_none_or(|byte| !byte.is_ascii_alphanumeric());
        found += usize::from(whole);
    }
    found
}

/// The dictionary that ends where a stream begins.
fn dictionary(bytes: &[u8], begin: usize) -> &[u8] {
    const LONGEST: usize = 16 << 10;
    let from = begin.saturating_sub(LONGEST);
    let head = &bytes[from..begin];
    match find_last(head, b"obj") {
        Some(at) => &head[at..],
        None => head,
    }
}

/// Names with their `#` escapes resolved (ISO 32000-1, 7.3.5).
fn unescaped(bytes: &[u8]) -> Vec<u8> {
    let mut plain = Vec::with_capacity(bytes.len());
    let mut at = 0;
    let hex = |byte: u8| char::from(byte).to_digit(16);
    while let Some(&byte) = bytes.get(at) {
        if let (b'#', [Some(high), Some(low)]) = (
            byte,
            [1, 2].map(|by| bytes.get(at + by).and_then(|&byte| hex(byte))),
        ) {
            plain.push((high * 16 + low) as u8);
            at += 3;
        } else {
            plain.push(byte);
            at += 1;
        }
    }
    plain
}

fn skip_line_end(bytes: &[u8]) -> &[u8] {
    let start = bytes
        .iter()
        .take(8)
        .position(|byte| !byte.is_ascii_whitespace());
    &bytes[start.unwrap_or(0)..]
}

pub(crate) fn find(bytes: &[u8], what: &[u8]) -> Option<usize> {
    let first = *what.first()?;
    let mut at = 0;
    loop {
        at += bytes.get(at..)?.iter().position(|byte| *byte == first)?;
        if bytes[at..].starts_with(what) {
            return Some(at);
        }
        at += 1;
    }
}

fn find_last(bytes: &[u8], what: &[u8]) -> Option<usize> {
    bytes.windows(what.len()).rposition(|window| window == what)
}

#[cfg(test)]
mod tests {
    use super::*;
    use flate2::Compression;
    use flate2::write::ZlibEncoder;
    use std::io::Write;

    fn deflated(bytes: &[u8]) -> Vec<u8> {
        let mut encoder = ZlibEncoder::new(vec![], Compression::fast());
        encoder.write_all(bytes).unwrap();
        encoder.finish().unwrap()
    }

    fn file(dictionary: &str, body: &[u8]) -> Vec<u8> {
        let mut file = format!("%PDF-1.7\n1 0 obj\n<<{dictionary}>>\nstream\n").into_bytes();
        file.extend_from_slice(body);
        file.extend_from_slice(b"\nendstream\nendobj\n");
        file
    }

    #[test]
    fn bombs_are_refused_and_ordinary_streams_are_not() {
        let plain = deflated(&[b' '; 100_000]);
        guard(&file("/Filter /FlateDecode", &plain)).unwrap();
        guard(&file("/Filter [/ASCII85Decode]", b"zzzz~>")).unwrap();
        let large = deflated(&vec![0; LARGEST_UNPACKED as usize + 1]);
        for bomb in [
            file("/Filter /FlateDecode", &large),
            file("/Filter /Flate#44ecode", &large),
            file("/Filter [/FlateDecode /FlateDecode]", &deflated(&large)),
            file("/Filter [/Fl /LZWDecode]", &large),
        ] {
            let error = guard(&bomb).unwrap_err();
            assert!(matches!(error, VerifyError::Swells { .. }), "{error}");
        }
        assert!(guard(&file("/Filter 7 0 R", &plain)).is_err());
        assert!(guard(&file("/Type /XRef /#45ncrypt 9 0 R", b"x")).is_err());
    }
}
