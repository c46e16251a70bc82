//! Streams unpacked, and never beyond a budget.

use super::look::look;
use super::predictor::{parameters, unpredicted};
use crate::check::verify::budget::{Budget, Cost};
use crate::check::verify::error::VerifyError;
use flate2::read::ZlibDecoder;
use hayro_syntax::Filter;
use hayro_syntax::object::Stream;
use std::io::Read;

const DAMAGED: VerifyError = VerifyError::Pdf("a stream of it is damaged");
const PACKED_ODDLY: VerifyError = VerifyError::Pdf("a stream of it is packed in an unusual way");

/// What deflate packed, up to the end that it gives itself.
pub(super) fn inflated(raw: &[u8], budget: &mut Budget) -> Result<Vec<u8>, VerifyError> {
    let mut bytes = vec![];
    let read = ZlibDecoder::new(raw)
        .take(budget.bytes_left().saturating_add(1))
        .read_to_end(&mut bytes);
    // What came before the damage may look whole.
    read.map_err(|_| DAMAGED)?;
    budget.spend_len(Cost::Bytes, bytes.len())?;
    Ok(bytes)
}

/// The bytes of a stream that the library has read.
///
/// Every reading counts, so that content which shows itself comes to an end.
pub(super) fn unpacked(stream: &Stream<'_>, budget: &mut Budget) -> Result<Vec<u8>, VerifyError> {
    let raw = stream.raw_data();
    // Empty content still costs a visit.
    let visit = stream.dict().data().len().saturating_add(64);
    budget.spend_len(Cost::Bytes, raw.len().saturating_add(visit))?;
    let asked = ["Length", "F", "Filter", "DP", "DecodeParms"];
    look(stream.dict(), &asked, budget)?;
    let filters = stream.filters();
    let parameters = parameters(stream.dict());
    if raw.is_empty() {
        // Nothing packed is nothing, whatever packed it.
        return Ok(vec![]);
    }
    if filters.as_slice() == [Filter::FlateDecode] {
        let data = inflated(&raw, budget)?;
        return match parameters {
            Some(parameters) => unpredicted(data, &parameters).ok_or(PACKED_ODDLY),
            None => Ok(data),
        };
    }
    // The library reckons rows of any length, beyond what its numbers hold.
    if ["DecodeParms", "DP"]
        .iter()
        .any(|key| stream.dict().contains_key(key))
    {
        return Err(PACKED_ODDLY);
    }
    if filters.as_slice() == [Filter::AsciiHexDecode, Filter::FlateDecode] {
        // Saved as plain text: what deflate then makes of it is not guessed at either.
        return inflated(&from_hex(&raw)?, budget);
    }
    // The library has no bound of its own, so that the most that may come of it is spent before,
    // filter by filter.
    let mut most = raw.len() as u64;
    for filter in &filters {
        most = most.saturating_mul(swelling(*filter));
        budget.spend(Cost::Bytes, most)?;
    }
    let bytes = stream.decoded_data().map_err(|_| DAMAGED)?;
    Ok(bytes.into_owned())
}

/// The bytes of hexadecimal digits, up to `>` (ISO 32000-1, 7.4.2).
fn from_hex(text: &[u8]) -> Result<Vec<u8>, VerifyError> {
    let digits = text.iter().take_while(|letter| **letter != b'>');
    let digits = digits.filter(|letter| !letter.is_ascii_whitespace());
    let digits: Option<Vec<u32>> = digits
        .map(|letter| char::from(*letter).to_digit(16))
        .collect();
    let bytes = digits
        .ok_or(DAMAGED)?
        .chunks(2)
        .map(|pair| {
            // A digit that stands alone is the higher one.
            let byte = pair
                .iter()
                .chain(&[0])
                .take(2)
                .fold(0, |byte, digit| byte << 4 | digit);
            u8::try_from(byte).map_err(|_| DAMAGED)
        })
        .collect::<Result<_, _>>()?;
    Ok(bytes)
}

/// How many times its size a filter's output can be at most: deflate's longest match is 258 bytes
/// from 2 bits; LZW's longest entry 4096 bytes from 9 bits; a run 128 bytes from 2; `z` is 4 of 1.
fn swelling(filter: Filter) -> u64 {
    match filter {
        Filter::FlateDecode => 1032,
        Filter::LzwDecode => 3641,
        Filter::RunLengthDecode => 64,
        Filter::Ascii85Decode => 4,
        _ => 1,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hexadecimal_digits_are_bytes() {
        // ISO 32000-1, 7.4.2: blanks are passed over, an odd digit is followed by 0.
        assert_eq!(from_hex(b"48 65\n6C6c 6F7>99").unwrap(), b"Hellop");
        assert!(from_hex(b"4X").is_err());
    }
}
