//! What development did to each opening, beside a flat guess.

use super::PanelSurface;
use super::opening::Placed;
use crate::base::fixed;
use crate::geometry::development::{FlatGuess, Misfit, difference_to_flat};
use crate::geometry::outline::Outline;
use crate::input::Problem;

/// An opening that was developed.
#[derive(Debug, Clone)]
pub struct Developed {
    /// Name of the opening.
    pub opening: String,
    /// What a flat pattern would have been off by.
    pub guess: FlatGuess,
    /// How badly paper lies there, on a panel curved both ways.
    pub misfit: Option<Misfit>,
}

/// Compares openings with what flat paper would have been given, by name.
///
/// # Errors
/// An opening where paper would have to stretch more than it can.
pub(super) fn developed(
    guesses: &[(String, Vec<Outline>)],
    placed: &[Placed],
    surface: &PanelSurface,
) -> Result<Vec<Developed>, Vec<Problem>> {
    let (mut developed, mut problems) = (vec![], vec![]);
    for (name, flat) in guesses {
        let own = placed.iter().filter(|one| one.declared.name == *name);
        let guess = own
            .zip(flat)
            .map(|(one, flat)| (one, difference_to_flat(&one.outline, flat)))
            .max_by(|a, b| a.1.short_by.abs().total_cmp(&b.1.short_by.abs()));
        let Some((one, guess)) = guess else { continue };
        let misfit = surface.misfit(one.outline.bounds());
        if let Some(misfit) = misfit.filter(Misfit::refused) {
            problems.push(Problem {
                message: format!(
                    "opening `{name}`: the panel is curved both ways there, and paper would have \
                     to stretch by {} %; at most 2 % is allowed",
                    fixed(misfit.strain * 100.0, 1)
                ),
                hint: Some(
                    "make a smaller opening, or take the outline off the panel with thin film"
                        .into(),
                ),
                span: one.span.clone(),
            });
        }
        developed.push(Developed {
            opening: name.clone(),
            guess,
            misfit,
        });
    }
    if problems.is_empty() {
        Ok(developed)
    } else {
        Err(problems)
    }
}
