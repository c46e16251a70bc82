//! The one place where numbers become text.

/// `value` with at most `decimals` places, no trailing zeros and no minus zero.
pub fn fixed(value: f64, decimals: usize) -> String {
    let mut text = format!("{value:.decimals$}");
    if text.contains('.') {
        text.truncate(text.trim_end_matches('0').trim_end_matches('.').len());
    }
    if text == "-0" { "0".into() } else { text }
}
