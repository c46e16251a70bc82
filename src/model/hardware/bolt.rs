//! Metric bolts: clearance holes and widths across flats.

use crate::base::words::{listed, shown};
use std::fmt;

/// How closely a clearance hole fits its bolt (ISO 273).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Fit {
    /// Close.
    Fine,
    /// The usual one.
    #[default]
    Medium,
    /// Wide.
    Coarse,
}

impl Fit {
    /// All of them, closest first.
    pub const ALL: [Self; 3] = [Self::Fine, Self::Medium, Self::Coarse];

    /// The word for it in files.
    pub fn word(self) -> &'static str {
        match self {
            Self::Fine => "fine",
            Self::Medium => "medium",
            Self::Coarse => "coarse",
        }
    }
}

/// A metric bolt size.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bolt {
    /// As patterns write it.
    pub name: &'static str,
    /// Thread diameter, mm.
    pub diameter: f64,
    holes: [f64; 3],
    /// Width across flats by ISO, mm, where it was read.
    pub across_flats_iso: Option<f64>,
    /// Width across flats on Japanese vehicles, mm, where it was read.
    pub across_flats_japan: Option<f64>,
}

impl Bolt {
    /// Diameter of its clearance hole, mm, in a panel that is drilled together with what the bolt
    /// holds: nothing is added to it.
    ///
    /// ISO 273. The medium holes were read second-hand; fine and coarse are from memory.
    pub fn hole(&self, fit: Fit) -> f64 {
        match fit {
            Fit::Fine => self.holes[0],
            Fit::Medium => self.holes[1],
            Fit::Coarse => self.holes[2],
        }
    }
}

const fn size(
    name: &'static str,
    diameter: f64,
    holes: [f64; 3],
    flats: Option<(f64, f64)>,
) -> Bolt {
    let (across_flats_iso, across_flats_japan) = match flats {
        Some((iso, japan)) => (Some(iso), Some(japan)),
        None => (None, None),
    };
    Bolt {
        name,
        diameter,
        holes,
        across_flats_iso,
        across_flats_japan,
    }
}

/// The sizes known, smallest first.
pub const BOLTS: &[Bolt] = &[
    size("M5", 5.0, [5.3, 5.5, 5.8], None),
    size("M6", 6.0, [6.4, 6.6, 7.0], Some((10.0, 10.0))),
    size("M8", 8.0, [8.4, 9.0, 10.0], Some((13.0, 12.0))),
    size("M10", 10.0, [10.5, 11.0, 12.0], Some((16.0, 14.0))),
    size("M12", 12.0, [13.0, 13.5, 14.5], Some((18.0, 17.0))),
    size("M14", 14.0, [15.0, 15.5, 16.5], None),
    size("M16", 16.0, [17.0, 17.5, 18.5], None),
];

/// No bolt of that name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct UnknownBolt {
    /// As written.
    pub name: String,
}

impl fmt::Display for UnknownBolt {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let names: Vec<&str> = BOLTS.iter().map(|bolt| bolt.name).collect();
        write!(
            out,
            "no bolt `{}` in the table: {} are known",
            shown(&self.name),
            listed(&names, " and ")
        )
    }
}

impl std::error::Error for UnknownBolt {}

impl UnknownBolt {
    /// The sizes next to it, and what to write for one that is not in the table.
    pub fn hint(&self) -> String {
        let digits = self.name.trim().trim_start_matches(['M', 'm']).trim();
        let near: Vec<&str> = match digits.parse::<f64>() {
            Ok(diameter) => [
                BOLTS.iter().rfind(|bolt| bolt.diameter <= diameter),
                BOLTS.iter().find(|bolt| bolt.diameter > diameter),
            ]
            .into_iter()
            .flatten()
            .map(|bolt| bolt.name)
            .collect(),
            Err(_) => vec![],
        };
        let other = "give any other as `shape = \"round-hole\"` with the diameter it needs";
        if near.is_empty() {
            other.into()
        } else {
            format!("next to it are {}; {other}", listed(&near, " and "))
        }
    }
}

/// The bolt called `name`, in capitals or not.
///
/// # Errors
/// Names the sizes that are known.
pub fn bolt(name: &str) -> Result<&'static Bolt, UnknownBolt> {
    BOLTS
        .iter()
        .find(|bolt| bolt.name.eq_ignore_ascii_case(name.trim()))
        .ok_or_else(|| UnknownBolt {
            name: name.to_owned(),
        })
}

#[cfg(test)]
mod tests {
    use super::*;

    // ISO 273, medium series, read second-hand.
    #[test]
    fn medium_holes_are_the_published_ones() {
        let published = [5.5, 6.6, 9.0, 11.0, 13.5, 15.5, 17.5];
        let is: Vec<f64> = BOLTS.iter().map(|bolt| bolt.hole(Fit::default())).collect();
        assert_eq!(is, published);
    }

    #[test]
    fn fits_widen_in_order_and_clear_the_thread() {
        for bolt in BOLTS {
            let [fine, medium, coarse] = bolt.holes;
            assert!(bolt.diameter < fine && fine < medium && medium < coarse);
            assert_eq!(bolt.name, format!("M{}", bolt.diameter));
        }
    }

    // ISO widths across flats, read second-hand; those of Japanese vehicles in a workshop
    // manual.
    #[test]
    fn widths_across_flats() {
        let flats = |name: &str| {
            let bolt = bolt(name).unwrap();
            (bolt.across_flats_iso, bolt.across_flats_japan)
        };
        assert_eq!(flats("m8"), (Some(13.0), Some(12.0)));
        assert_eq!(flats("M10"), (Some(16.0), Some(14.0)));
        assert_eq!(flats("M16"), (None, None));
    }

    #[test]
    fn an_unknown_size_names_the_known_ones() {
        let unknown = bolt("M9").unwrap_err();
        let message = unknown.to_string();
        assert!(message.contains("`M9`") && message.contains("`M8`, `M10`"));
        assert!(unknown.hint().starts_with("next to it are `M8` and `M10`"));
        let hint = |name: &str| bolt(name).unwrap_err().hint();
        assert!(hint("M20").starts_with("next to it are `M16`; "));
        assert!(hint("UNC 3/8").starts_with("give any other"));
    }
}
