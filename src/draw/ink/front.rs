//! What a fitter reads before the work, in the order that it is read.

use super::Block;

/// All that is told on the front page.
///
/// How the pattern is printed and joined hangs on the sheets, so the page puts that before `steps`.
/// From `checks` on, what finds no room is left to the record, the last first.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Front {
    /// Where the middle is, and what to do where nobody measured it.
    pub middle: Vec<Block>,
    /// How the pattern lies on the panel, a point each.
    pub lay: Vec<String>,
    /// Cautions, a point each.
    pub cautions: Vec<String>,
    /// Steps with their tools, from the joined pattern to the refitted panel.
    pub steps: Vec<String>,
    /// The tape checks that matter: from, to, distance.
    pub checks: Vec<[String; 3]>,
    /// What must be known of the panel that stays, each with its number on the work sheets; accepted
    /// ones say who answers for them.
    pub findings: Vec<String>,
    /// What found no place on the work sheets, each beginning with the number that stands there.
    pub numbered: Vec<String>,
    /// The author's notes.
    pub notes: Vec<String>,
}

impl Front {
    /// All its words.
    pub fn words(&self) -> Vec<&str> {
        let lists = [
            &self.lay,
            &self.cautions,
            &self.steps,
            &self.findings,
            &self.numbered,
            &self.notes,
        ];
        let listed = lists.into_iter().flatten();
        let checks = self.checks.iter().flatten();
        let middle = self.middle.iter().flat_map(Block::words);
        middle
            .chain(listed.chain(checks).map(String::as_str))
            .collect()
    }
}
