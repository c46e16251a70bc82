//! Which paper a code or a file is, by what a folder of drawn files and issues holds.

use super::papers::{Held, Papers, REPLACED, WITHDRAWN};
use crate::base::paper::{PageName, PageNumber, number_and_revision};
use crate::solve::Content;
use serde::Deserialize;
use serde::de::DeserializeOwned;
use std::cmp::Ordering;
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

/// What is to be done with a paper.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Standing {
    /// Nothing later is there.
    Current(Held),
    /// A later revision is there.
    Superseded {
        /// The paper asked for.
        paper: Held,
        /// The latest.
        by: Held,
    },
    /// It was called back.
    Withdrawn {
        /// Number and revision.
        paper: String,
        /// Why.
        because: String,
    },
    /// It was a draft that another paper took the place of.
    Replaced {
        /// Number and revision.
        paper: String,
        /// Code of what took its place.
        by: String,
        /// Why.
        because: String,
    },
    /// The folder holds another paper under its number and revision.
    Other(Held),
    /// The folder does not know it.
    Unknown,
}

impl Standing {
    /// Whether it may be cut by.
    pub fn is_current(&self) -> bool {
        matches!(self, Self::Current(_))
    }

    /// The word for it.
    pub fn word(&self) -> &'static str {
        match self {
            Self::Current(_) => "current",
            Self::Superseded { .. } => "superseded",
            Self::Withdrawn { .. } => "withdrawn",
            Self::Replaced { .. } => "replaced",
            Self::Other(_) => "not the paper of that revision",
            Self::Unknown => "unknown",
        }
    }
}

/// What is asked for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Asked {
    /// Content code.
    pub code: String,
    /// Number and revision, where they are known.
    pub name: Option<[String; 2]>,
    /// Which of its pages it is, where that is known.
    pub page: Option<PageNumber>,
}

impl Asked {
    /// Number and revision as sheets have them, where they are known.
    pub fn number_and_revision(&self) -> Option<String> {
        let [number, revision] = self.name.as_ref()?;
        Some(number_and_revision(number, revision))
    }
}

impl From<&Content> for Asked {
    fn from(content: &Content) -> Self {
        let fact = |name| content.fact(name).unwrap_or_default().to_owned();
        Self {
            code: content.code(),
            name: Some([fact("number"), fact("revision")]),
            page: None,
        }
    }
}

impl From<PageName> for Asked {
    fn from(name: PageName) -> Self {
        Self {
            code: name.code,
            name: Some([name.number, name.revision]),
            page: name.page,
        }
    }
}

#[derive(Deserialize)]
struct WithdrawnLine {
    paper: String,
    code: String,
    because: String,
}

#[derive(Deserialize)]
struct Line {
    paper: String,
    old: String,
    new: String,
    because: String,
}

/// All papers of a folder.
#[derive(Debug)]
pub struct Shelf {
    held: Vec<Held>,
    replaced: PathBuf,
    withdrawn: PathBuf,
}

impl Shelf {
    /// Those of a folder's drawn files, and of the issues in it.
    pub fn of(folder: &Path) -> Self {
        Self {
            held: Papers::of(folder, None).held(),
            replaced: folder.join(REPLACED),
            withdrawn: folder.join(WITHDRAWN),
        }
    }

    /// How a paper stands.
    ///
    /// Of two revisions the later is that of the later date of issue, or where dates do not tell, the
    /// longer word and then the later in the alphabet: AA comes after Z, 10 after 9.
    pub fn standing(&self, asked: &Asked) -> Standing {
        if let Some(withdrawn) = self.withdrawn(asked) {
            return withdrawn;
        }
        let Some(paper) = self.held.iter().find(|held| held.code == asked.code) else {
            return self.replaced(asked).unwrap_or_else(|| {
                let other = asked.name.as_ref().and_then(|[number, revision]| {
                    let is_it = |held: &&Held| held.number == *number && held.revision == *revision;
                    self.held.iter().find(is_it)
                });
                other.map_or(Standing::Unknown, |held| Standing::Other(held.clone()))
            });
        };
        let same = self.held.iter().filter(|held| held.number == paper.number);
        let same = same.map(|held| (held, held.issued()));
        let latest = same.max_by(later);
        let own = (paper, paper.issued());
        match latest.filter(|latest| later(&own, latest).is_lt()) {
            Some((by, _)) => Standing::Superseded {
                paper: paper.clone(),
                by: by.clone(),
            },
            None => Standing::Current(paper.clone()),
        }
    }

    fn withdrawn(&self, asked: &Asked) -> Option<Standing> {
        let line = last(&self.withdrawn, |line: &WithdrawnLine| {
            line.code == asked.code
        })?;
        Some(Standing::Withdrawn {
            paper: line.paper,
            because: line.because,
        })
    }

    fn replaced(&self, asked: &Asked) -> Option<Standing> {
        let line = last(&self.replaced, |line: &Line| line.old == asked.code)?;
        Some(Standing::Replaced {
            paper: line.paper,
            by: line.new,
            because: line.because,
        })
    }
}

/// The last line of a file of JSON lines that is meant; lines of another form are passed over.
fn last<T: DeserializeOwned>(file: &Path, is_meant: impl Fn(&T) -> bool) -> Option<T> {
    let lines = fs::read_to_string(file).ok()?;
    let mut lines = lines.lines().rev();
    lines.find_map(|line| serde_json::from_str(line).ok().filter(&is_meant))
}

fn later((one, issued): &(&Held, String), (other, other_issued): &(&Held, String)) -> Ordering {
    let by_word = || {
        let length = |held: &Held| held.revision.len();
        let by_length = length(one).cmp(&length(other));
        by_length.then_with(|| one.revision.cmp(&other.revision))
    };
    match issued.is_empty() || other_issued.is_empty() {
        true => by_word(),
        false => issued.cmp(other_issued).then_with(by_word),
    }
}

/// Which sheets of a set are not there, in words; none of a set of which no sheet or only one is.
pub fn missing(all: &[Asked]) -> Vec<String> {
    type Set<'a> = (&'a str, bool, usize);
    let mut there: BTreeMap<Set<'_>, BTreeSet<usize>> = BTreeMap::new();
    for asked in all {
        if let Some(page) = asked.page {
            let set = (asked.code.as_str(), page.of_record, page.count);
            there.entry(set).or_default().insert(page.number);
        }
    }
    let several = there.into_iter().filter(|(_, numbers)| numbers.len() > 1);
    let told = several.flat_map(|((code, of_record, count), numbers)| {
        let lacking = (1..=count).filter(move |number| !numbers.contains(number));
        lacking.map(move |number| {
            let page = PageNumber {
                of_record,
                number,
                count,
            };
            format!("{code}: {page} is not among them")
        })
    });
    told.collect()
}

/// Whether files and sheets that have one number are of one paper, and sheets of one paper printed
/// alike.
///
/// # Errors
/// Two that are not, in words.
pub fn belong_together(all: &[Asked]) -> Result<(), String> {
    let number = |asked: &Asked| asked.name.as_ref().map(|[number, _]| number.clone());
    let pairs = all
        .iter()
        .flat_map(|one| all.iter().map(move |other| (one, other)));
    let mut pairs = pairs.filter(|(one, other)| one.name.is_some() && number(one) == number(other));
    let counts = |asked: &Asked| asked.page.map(|page| (page.of_record, page.count));
    let apart = |one: &Asked, other: &Asked| {
        let [Some(own), Some(others)] = [one, other].map(counts) else {
            return false;
        };
        own.0 == others.0 && own.1 != others.1
    };
    let strangers = pairs.find(|(one, other)| one.code != other.code || apart(one, other));
    strangers.map_or(Ok(()), |(one, other)| {
        let told = |asked: &Asked| {
            let name = asked.number_and_revision().unwrap_or_default();
            let page = asked.page.map(|page| format!(", {page}"));
            format!(
                "{name} with code {}{}",
                asked.code,
                page.unwrap_or_default()
            )
        };
        Err(format!("{} and {}", told(one), told(other)))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn held(revision: &str) -> Held {
        Held {
            number: "P".into(),
            revision: revision.into(),
            code: String::new(),
            file: PathBuf::new(),
        }
    }

    #[test]
    fn dates_tell_what_is_later_and_else_words() {
        let is_later = |one: (&str, &str), other: (&str, &str)| {
            let [first, second] = [held(one.0), held(other.0)];
            later(&(&first, one.1.into()), &(&second, other.1.into())).is_gt()
        };
        assert!(is_later(("A", "2026-03-02"), ("B", "2026-03-01")));
        assert!(is_later(("B", "2026-03-01"), ("A", "2026-03-01")));
        assert!(is_later(("AA", ""), ("Z", "2026-03-01")));
        assert!(is_later(("10", ""), ("9", "")));
        assert!(!is_later(("A", ""), ("A", "")));
    }

    #[test]
    fn files_of_two_papers_under_one_number_are_told() {
        let asked = |code: &str, number: &str| Asked {
            code: code.into(),
            name: Some([number.into(), "B".into()]),
            page: None,
        };
        let [one, other] = ["0DA8E-YD556", "1DA8E-YD556"];
        let fine = [asked(one, "P"), asked(one, "P"), asked(other, "Q")];
        assert_eq!(belong_together(&fine), Ok(()));
        let told = belong_together(&[asked(one, "P"), asked(other, "P")]).unwrap_err();
        assert_eq!(
            told,
            format!("P rev B with code {one} and P rev B with code {other}")
        );
    }

    #[test]
    fn sheets_of_one_paper_printed_otherwise_are_told_and_so_is_what_lacks() {
        let sheet = |number, count| Asked {
            code: "0DA8E-YD556".into(),
            name: Some(["P".into(), "B".into()]),
            page: Some(PageNumber {
                of_record: false,
                number,
                count,
            }),
        };
        let one_set = [sheet(1, 4), sheet(4, 4), sheet(3, 4)];
        assert_eq!(belong_together(&one_set), Ok(()));
        assert_eq!(
            missing(&one_set),
            ["0DA8E-YD556: sheet 2 of 4 is not among them"]
        );
        assert!(missing(&one_set[..1]).is_empty());
        let told = belong_together(&[sheet(1, 4), sheet(2, 3)]).unwrap_err();
        assert!(told.contains("sheet 1 of 4 and P rev B"), "{told}");
    }
}
