//! What would cost the library's time or memory beyond measure is found in one pass before it
//! reads.
//!
//! It compares the attributes of an element with each other, copies namespaces into every element
//! that adds one, and puts entities in wherever they are named.

use crate::check::verify::error::VerifyError;

/// Most attributes of one element. Drawing programs give some dozens.
const MOST_ATTRIBUTES: usize = 500;
/// Most namespaces. Drawing programs declare some dozens, once.
const MOST_NAMESPACES: usize = 500;

/// Refuses a text that costs too much to read.
pub(super) fn guard(text: &str) -> Result<(), VerifyError> {
    let refuse = |words: &str| Err(VerifyError::Svg(words.into()));
    if text.contains("<!ENTITY") {
        return refuse("it declares entities, which are not read");
    }
    if text.matches("xmlns").take(MOST_NAMESPACES + 1).count() > MOST_NAMESPACES {
        return refuse("it declares too many namespaces; allowed: up to 500");
    }
    let mut rest = text;
    while let Some((_, tag)) = rest.split_once('<') {
        let skipped = [("!--", "-->"), ("![CDATA[", "]]>"), ("?", "?>")];
        let other = skipped.iter().find(|(begin, _)| tag.starts_with(begin));
        if let Some((_, end)) = other {
            rest = tag.split_once(end).map_or("", |(_, rest)| rest);
            continue;
        }
        let mut attributes = 0;
        rest = tag;
        // Up to the next tag at most, so that each letter is looked at once.
        while let Some(at) = rest.find(['"', '\'', '>', '<']) {
            let (_, from) = rest.split_at(at);
            rest = from;
            let mut letters = from.chars();
            let Some(quote @ ('"' | '\'')) = letters.next() else {
                break;
            };
            attributes += 1;
            if attributes > MOST_ATTRIBUTES {
                return refuse("an element has too many attributes; allowed: up to 500");
            }
            rest = letters
                .as_str()
                .split_once(quote)
                .map_or("", |(_, rest)| rest);
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn too_many_attributes_are_refused_wherever_they_stand() {
        let many = |count: usize| (0..count).map(|n| format!(" a{n}='>'")).collect::<String>();
        guard(&format!(
            "<?xml v='1'?><!-- <a{} --><svg{}/>",
            many(900),
            many(500)
        ))
        .unwrap();
        guard(&format!("<a{0}/><a{0}/>", many(300))).unwrap();
        for text in [
            format!("<svg{}/>", many(501)),
            format!("<svg><g x=\"<\"><path{}", many(501)),
            format!("<svg>{}</svg>", "<g xmlns:a='b'/>".repeat(501)),
            "<!DOCTYPE svg [<!ENTITY a 'b'>]><svg>&a;</svg>".to_owned(),
        ] {
            assert!(guard(&text).is_err(), "{text}");
        }
    }
}
