//! What was found, and somebody answers for.

use super::{List, MOST_ROWS, Section};
use crate::ask::picture::Picture;
use crate::ask::question::Writes;

impl List<'_> {
    pub(super) fn accepted(&mut self) {
        self.ask(
            Section::Accepted,
            "accepted",
            "Which finding that stops the pattern do you answer for?",
            "Its name and what it comes to, as they are told with it; and who answers for it, and why. It stops \
             again where it gets worse.",
            Picture::None,
            Writes::Tables("accepted".into(), "", &[]),
        )
        .usual("none")
        .up_to(MOST_ROWS)
        .name("accepted", "finding", "finding")
        .name("accepted", "value", "what it comes to")
        .name("accepted", "by", "who answers for it")
        .name("accepted", "because", "why it may stand");
    }
}
