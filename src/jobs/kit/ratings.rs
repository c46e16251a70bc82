//! What may be towed and carried: the lower of bracket and vehicle.

use crate::input::HandoverSpec;

/// Limits to hand to the customer, kg; `None` where one of the two makers' figures is not given.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ratings {
    /// Mass that may be towed.
    pub towed: Option<f64>,
    /// Load that the tongue may hold in all.
    pub tongue: Option<f64>,
    /// What the accessories carried take of it.
    pub carried: f64,
    /// What is left of it for a trailer; never below 0.
    pub left_for_trailer: Option<f64>,
}

impl Ratings {
    /// The limits of a kit: each the lower of bracket and vehicle, the mass of all that is carried
    /// counted in full in the load on the tongue.
    pub fn of(handover: &HandoverSpec) -> Self {
        let lower = |one: Option<f64>, other: Option<f64>| Some(one?.min(other?));
        let (bracket, vehicle) = (handover.bracket, handover.vehicle);
        let tongue = lower(bracket.tongue, vehicle.tongue);
        let carried = handover.carried.iter().map(|one| one.mass.value).sum();
        Self {
            towed: lower(bracket.towed, vehicle.towed),
            tongue,
            carried,
            left_for_trailer: tongue.map(|tongue| (tongue - carried).max(0.0)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::input::{CarriedSpec, Placed, RatingSpec};

    fn handover(bracket: [f64; 2], vehicle: [f64; 2], carried: &[f64]) -> HandoverSpec {
        let rating = |[towed, tongue]: [f64; 2]| RatingSpec {
            towed: Some(towed),
            tongue: Some(tongue),
        };
        HandoverSpec {
            bracket: rating(bracket),
            vehicle: rating(vehicle),
            carried: carried
                .iter()
                .map(|mass| CarriedSpec {
                    name: "carried".into(),
                    mass: Placed::unwritten(*mass),
                })
                .collect(),
            ..HandoverSpec::default()
        }
    }

    #[test]
    fn worked_sums() {
        // Bracket 2000 and 100 kg, vehicle 1800 and 80 kg, a carrier of 18.5 kg with 30 kg on it:
        // towed 1800, tongue 80, left 80 - 48.5 = 31.5.
        let ratings = Ratings::of(&handover([2000.0, 100.0], [1800.0, 80.0], &[18.5, 30.0]));
        assert_eq!(ratings.towed, Some(1800.0));
        assert_eq!((ratings.tongue, ratings.carried), (Some(80.0), 48.5));
        assert_eq!(ratings.left_for_trailer, Some(31.5));
        // The lower may be the bracket's in one and the vehicle's in the other.
        let ratings = Ratings::of(&handover([1500.0, 90.0], [1800.0, 75.0], &[]));
        assert_eq!((ratings.towed, ratings.tongue), (Some(1500.0), Some(75.0)));
        assert_eq!(ratings.left_for_trailer, Some(75.0));
        let ratings = Ratings::of(&handover([750.0, 50.0], [750.0, 50.0], &[50.0]));
        assert_eq!(ratings.left_for_trailer, Some(0.0));
    }

    #[test]
    fn half_a_pair_gives_no_limit() {
        let mut half = handover([2000.0, 100.0], [1800.0, 80.0], &[10.0]);
        half.vehicle.tongue = None;
        let ratings = Ratings::of(&half);
        assert_eq!(ratings.towed, Some(1800.0));
        assert_eq!((ratings.tongue, ratings.left_for_trailer), (None, None));
    }
}
