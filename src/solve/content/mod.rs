//! What a pattern is, as a short code: the same code is the same paper.
//!
//! The code is taken over a list of facts: what is cut and laid by, in thousandths of a millimetre,
//! and the author's own words. How a definition is written, in which order it names things, the
//! paper, and the words and lettering that the program itself puts on sheets are no facts of the
//! pattern; so neither a comment nor a later version of the program gives another code. What is
//! judged or worked out from the facts is not listed again.

pub(crate) mod facts;

use crate::base::paper::{CODE_LENGTH, DIGITS, PageName};
use crate::solve::Pattern;
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;

/// Goes before every list, and finds it in a file; to be changed whenever something else is listed.
const HEAD: &str = "trimloft content 1";

/// Goes before the list of a volume's patterns.
const VOLUME_HEAD: &str = "trimloft volume 1";

/// Facts told in one line of what differs; more are counted.
const MOST_TOLD: usize = 6;

/// What a pattern is: its facts, each with what it is called.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Content {
    /// In the order of the alphabet.
    lines: Vec<String>,
}

impl Content {
    /// The content of a solved pattern.
    pub fn of(pattern: &Pattern) -> Self {
        Self::of_facts(facts::facts(pattern))
    }

    /// The content that these facts are, each as `name: words`.
    pub(crate) fn of_facts(mut lines: Vec<String>) -> Self {
        lines.sort();
        Self { lines }
    }

    /// Its code, ten digits of Crockford's base 32 in two groups: `7K3MQ-9XDT2`.
    ///
    /// The first 50 bits of the SHA-256 (FIPS 180-4) of its text.
    pub fn code(&self) -> String {
        let digest = Sha256::digest(self.text().as_bytes());
        let first = digest
            .iter()
            .take(8)
            .fold(0_u64, |bits, byte| bits << 8 | u64::from(*byte));
        let digit = |at: usize| {
            let five = first >> (64 - 5 * (at + 1)) & 31;
            char::from(DIGITS[five as usize])
        };
        let (one, other) = (0..CODE_LENGTH / 2, CODE_LENGTH / 2..CODE_LENGTH);
        format!(
            "{}-{}",
            one.map(digit).collect::<String>(),
            other.map(digit).collect::<String>()
        )
    }

    /// The words of a fact, the first where several have the name; none where none has.
    pub fn fact(&self, name: &str) -> Option<&str> {
        let facts = self.lines.iter().filter_map(|line| line.split_once(": "));
        let mut facts = facts.filter(|(own, _)| *own == name);
        facts.next().map(|(_, words)| words)
    }

    /// Its list, as files carry it: a line a fact.
    pub fn text(&self) -> String {
        let mut text = String::from(HEAD);
        for line in &self.lines {
            text.push('\n');
            text += line;
        }
        text
    }

    /// The list that a file carries which this program wrote, PDF or SVG: it stands there unpacked.
    /// None where another program saved the file without it.
    pub fn in_file(bytes: &[u8]) -> Option<Self> {
        Some(Self {
            lines: carried(bytes, HEAD)?,
        })
    }

    /// What differs in `other`, a fact each, as `opening neck: this; that`; none where nothing does.
    pub fn differences(&self, other: &Self) -> Vec<String> {
        let (this, that) = (self.by_name(), other.by_name());
        let mut names: Vec<&str> = this.keys().chain(that.keys()).copied().collect();
        names.sort_unstable();
        names.dedup();
        let told = names.into_iter().filter_map(|name| {
            let (old, new) = (this.get(name), that.get(name));
            (old != new).then(|| {
                let one = |words: Option<&Vec<&str>>| match words {
                    None => "not there".to_owned(),
                    Some(all) => all.join(", "),
                };
                format!("{name}: {}; now {}", one(old), one(new))
            })
        });
        told.collect()
    }

    fn by_name(&self) -> BTreeMap<&str, Vec<&str>> {
        let mut all = BTreeMap::<&str, Vec<&str>>::new();
        for line in &self.lines {
            let (name, words) = line.split_once(": ").unwrap_or((line, ""));
            all.entry(name).or_default().push(words);
        }
        all
    }
}

/// The patterns of a volume as its file carries them: a line each.
#[cfg(feature = "kit")]
pub(crate) fn volume_text(patterns: impl IntoIterator<Item = PageName>) -> String {
    let lines = patterns.into_iter().map(|name| format!("\n{name}"));
    format!("{VOLUME_HEAD}{}", lines.collect::<String>())
}

/// The patterns that a volume carries which this program wrote; none of any other file.
pub fn volume_in_file(bytes: &[u8]) -> Vec<PageName> {
    let lines = carried(bytes, VOLUME_HEAD).unwrap_or_default();
    let names = lines.iter().filter_map(|line| PageName::parse(line));
    names.collect()
}

/// The lines after a head in the bytes of a file, up to the next mark-up.
fn carried(bytes: &[u8], head: &str) -> Option<Vec<String>> {
    let head = head.as_bytes();
    let start = bytes
        .windows(head.len())
        .position(|window| window == head)?;
    let rest = &bytes[start + head.len()..];
    let end = rest.iter().position(|byte| *byte == b'<')?;
    let text = std::str::from_utf8(&rest[..end]).ok()?;
    let text = [
        ("&lt;", "<"),
        ("&gt;", ">"),
        ("&quot;", "\""),
        ("&apos;", "'"),
        ("&amp;", "&"),
    ]
    .into_iter()
    .fold(text.to_owned(), |text, (written, meant)| {
        text.replace(written, meant)
    });
    let lines = text.lines().filter(|line| !line.is_empty());
    Some(lines.map(str::to_owned).collect())
}

/// What differs, in one breath.
pub fn in_one_breath(differences: &[String]) -> String {
    let told: Vec<&str> = differences
        .iter()
        .take(MOST_TOLD)
        .map(String::as_str)
        .collect();
    let more = match differences.len().saturating_sub(MOST_TOLD) {
        0 => String::new(),
        more => format!(" (and {more} more)"),
    };
    format!("{}{more}", told.join(" | "))
}

#[cfg(test)]
mod tests;
