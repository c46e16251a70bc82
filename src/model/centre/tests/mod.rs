//! The centreline against closed forms, a linear algebra crate and planted faults.

mod against_algebra;
mod arcs;
mod faults;
mod odd_pair;

use super::{Centre, Measuring, Pair, Readings, Zero, solve};

fn pair(name: &str, left: f64, right: f64, depth: f64) -> Pair {
    Pair {
        name: name.into(),
        left,
        right,
        depth,
        reading: None,
    }
}

fn from_left(pairs: Vec<Pair>) -> Readings {
    Readings {
        zero: Zero::Left,
        measuring: Measuring::default(),
        panel_width: Some(980.0),
        pairs,
    }
}

fn solved(readings: &Readings) -> Centre {
    solve(readings).unwrap_or_else(|problems| panic!("{problems:?}"))
}

fn close(found: f64, wanted: f64, within: f64) {
    assert!(
        (found - wanted).abs() <= within,
        "{found} is not {wanted} within {within}"
    );
}
