//! Features of the panel that fall into the waste.

use super::super::{Finding, FindingId, Severity};
use super::Judged;

pub(super) fn findings(judged: &Judged<'_>) -> Vec<Finding> {
    let mut findings = vec![];
    for opening in judged.openings {
        for locator in judged
            .locators
            .iter()
            .filter(|one| opening.outline.contains(one.at))
        {
            let finding = if locator.fixed {
                Finding::new(
                    Severity::Error,
                    FindingId::of("fixed point").about(&locator.name),
                    format!(
                        "`{}`, which holds the panel, falls into `{}`",
                        locator.name,
                        opening.name()
                    ),
                    "move the opening, or hold the panel elsewhere and accept it by its id",
                )
            } else {
                Finding::new(
                    Severity::Warning,
                    FindingId::of("locator").about(&locator.name),
                    format!(
                        "locator `{}` falls into the waste of `{}`",
                        locator.name,
                        opening.name()
                    ),
                    "it places the pattern until it is cut; take another if it is needed later",
                )
            };
            findings.push(finding.at(locator.at));
        }
    }
    findings
}
