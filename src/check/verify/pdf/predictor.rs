//! Rows that were stored as differences (ISO 32000-1, 7.4.4.4; the rules are those of PNG).

use hayro_syntax::object::{Array, Dict, Object};

/// What the dictionary of a stream with one filter says of rows, if it does.
pub(super) fn parameters<'a>(dict: &Dict<'a>) -> Option<Dict<'a>> {
    let given = |key: &str| dict.get::<Object<'_>>(key);
    match given("DecodeParms").or_else(|| given("DP")) {
        Some(Object::Dict(one)) => Some(one),
        Some(Object::Array(several)) => Array::iter::<Object<'_>>(&several).next()?.into_dict(),
        _ => None,
    }
}

/// The rows themselves; none for parameters that tables and streams of objects do not have.
pub(super) fn unpredicted(data: Vec<u8>, parameters: &Dict<'_>) -> Option<Vec<u8>> {
    let number = |key: &str, otherwise: u32| parameters.get::<u32>(key).unwrap_or(otherwise);
    match number("Predictor", 1) {
        1 => return Some(data),
        10..=15 => {}
        _ => return None,
    }
    if number("Colors", 1) != 1 || number("BitsPerComponent", 8) != 8 {
        return None;
    }
    let columns = usize::try_from(number("Columns", 1)).ok()?;
    let mut rows: Vec<u8> = Vec::with_capacity(data.len());
    for coded in data.chunks(columns.checked_add(1)?) {
        let (rule, coded) = coded.split_first()?;
        let above = rows.len().checked_sub(columns);
        let (mut left, mut above_left) = (0, 0);
        for (place, byte) in coded.iter().enumerate() {
            let up = above.and_then(|above| rows.get(above.saturating_add(place)));
            let up = up.copied().unwrap_or(0);
            let guess = match rule {
                0 => 0,
                1 => left,
                2 => up,
                3 => left.midpoint(up),
                4 => paeth(left, up, above_left),
                _ => return None,
            };
            left = byte.wrapping_add(guess);
            above_left = up;
            rows.push(left);
        }
    }
    Some(rows)
}

/// The neighbour that is nearest to left + up - above left (PNG, 9.4).
fn paeth(left: u8, up: u8, above_left: u8) -> u8 {
    let guess = i16::from(left) + i16::from(up) - i16::from(above_left);
    let far = |neighbour: u8| (guess - i16::from(neighbour)).abs();
    if far(left) <= far(up) && far(left) <= far(above_left) {
        left
    } else if far(up) <= far(above_left) {
        up
    } else {
        above_left
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use hayro_syntax::object::FromBytes;

    #[test]
    fn rows_come_back_by_every_rule() {
        let parameters = Dict::from_bytes(b"<</Predictor 15/Columns 3>>").unwrap();
        // Worked by hand from the rules: 1 left, 2 up, 3 their middle, 4 the nearest neighbour.
        let coded = vec![1, 5, 1, 1, 2, 1, 1, 1, 3, 3, 0, 0, 4, 1, 1, 1, 0, 9, 9, 9];
        let rows = [[5, 6, 7], [6, 7, 8], [6, 6, 7], [7, 8, 9], [9, 9, 9]].concat();
        assert_eq!(unpredicted(coded, &parameters), Some(rows));
        let other = Dict::from_bytes(b"<</Predictor 2>>").unwrap();
        assert_eq!(unpredicted(vec![1], &other), None);
    }
}
