//! What a line is cut with by hand, by what the panel is made of and how thick it is.

use super::THIN_SHEET;
use crate::model::material::{Material, OTHER};

/// Sheet metal from this thickness on, mm, hand snips no longer cut: common practice, no source.
const THICKEST_FOR_SNIPS: f64 = 1.6;

/// Plastics up to this thickness, mm, are scored and cut with a knife: common practice, no source.
const THICKEST_FOR_KNIFE: f64 = 1.5;

/// What a line is cut with by hand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Cutter {
    /// Snips: thin sheet metal.
    Snips,
    /// A jigsaw with a blade for metal: sheet that snips do not cut.
    MetalJigsaw,
    /// A jigsaw with a fine blade: plastics.
    Jigsaw,
    /// A sharp knife: thin plastics.
    Knife,
    /// Nobody told what the panel is made of.
    SnipsOrSaw,
}

impl Cutter {
    /// What fits a panel: one of unknown material by what its maker would have to say.
    pub fn of(material: Option<&Material>, thickness: Option<f64>) -> Self {
        match (material.filter(|own| own.name != OTHER), thickness) {
            (None, _) => Self::SnipsOrSaw,
            (Some(metal), Some(thickness)) if metal.is_metal && thickness > THICKEST_FOR_SNIPS => {
                Self::MetalJigsaw
            }
            (Some(metal), _) if metal.is_metal => Self::Snips,
            (Some(_), Some(thickness)) if thickness <= THICKEST_FOR_KNIFE => Self::Knife,
            (Some(_), _) => Self::Jigsaw,
        }
    }

    /// What it is called in a list of tools.
    pub fn words(self) -> &'static str {
        match self {
            Self::Snips => "snips",
            Self::MetalJigsaw => "jigsaw, blade for metal",
            Self::Jigsaw => "jigsaw, fine blade",
            Self::Knife => "sharp knife",
            Self::SnipsOrSaw => "snips or a fine blade",
        }
    }

    /// What is done with it, to be followed by where: `Cut with snips`.
    pub fn how(self) -> &'static str {
        match self {
            Self::Snips => "cut with snips",
            Self::MetalJigsaw => "saw with a jigsaw, blade for metal,",
            Self::Jigsaw => "saw with a jigsaw, fine blade,",
            Self::Knife => "score and cut with a sharp knife",
            Self::SnipsOrSaw => "cut with snips or a fine blade",
        }
    }
}

/// Whether a hole saw is at home in a panel: in what is thin and may be sheet metal, and in sheet metal
/// of a thickness that nobody told, it snatches.
pub fn takes_hole_saw(material: Option<&Material>, thickness: Option<f64>) -> bool {
    match thickness {
        Some(thickness) => {
            thickness >= THIN_SHEET || material.is_some_and(|material| !material.is_metal)
        }
        None => material.is_none_or(|material| !material.is_metal),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::material::find;

    // Common practice, no source.
    #[test]
    fn the_cutter_fits_material_and_thickness() {
        let of = |name: &str, thickness| {
            let material = find(name).unwrap();
            Cutter::of(Some(material), thickness)
        };
        assert_eq!(of("aluminium", Some(0.5)), Cutter::Snips);
        assert_eq!(of("aluminium", None), Cutter::Snips);
        assert_eq!(of("aluminium", Some(2.0)), Cutter::MetalJigsaw);
        assert_eq!(of("pp", Some(3.0)), Cutter::Jigsaw);
        assert_eq!(of("pp", None), Cutter::Jigsaw);
        assert_eq!(of("pp", Some(1.0)), Cutter::Knife);
        assert_eq!(Cutter::of(None, Some(2.0)), Cutter::SnipsOrSaw);
        let other = crate::model::material::other(12.0);
        assert_eq!(Cutter::of(Some(&other), Some(2.0)), Cutter::SnipsOrSaw);
    }

    #[test]
    fn a_hole_saw_has_metal_to_be_led_by() {
        let metal = find("aluminium").ok();
        assert!(!takes_hole_saw(metal, Some(0.5)) && !takes_hole_saw(metal, None));
        assert!(takes_hole_saw(metal, Some(1.0)) && takes_hole_saw(None, None));
        assert!(!takes_hole_saw(None, Some(0.8)) && takes_hole_saw(find("pp").ok(), Some(0.8)));
    }
}
