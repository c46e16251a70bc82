//! What panels are made of.
//!
//! Tables of linear expansion differ by up to two to one, so each entry is the upper end of what
//! they give.

use crate::base::words::{listed, nearest, shown};

/// A panel's material.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Material {
    /// As patterns write it.
    pub name: &'static str,
    /// In words.
    pub title: &'static str,
    /// Linear expansion, 1e-6 per K, upper end.
    pub expansion: f64,
    /// Where the expansion comes from.
    pub source: &'static str,
    /// The gap that stands in where none is given, mm: a design value, no source.
    pub gap: f64,
    /// Whether it is sheet metal, or may be: thin, sharp at the edges, and hot beside an exhaust.
    pub is_metal: bool,
}

/// What patterns call a material that the table does not hold.
pub const OTHER: &str = "other";

/// A material by its expansion alone, 1e-6 per K: whatever it is, the larger gap and the strictest
/// cautions hold for it.
pub const fn other(expansion: f64) -> Material {
    Material {
        name: OTHER,
        title: "a material of stated expansion",
        expansion,
        source: "given",
        gap: PLASTIC_GAP,
        is_metal: true,
    }
}

const PLASTIC_GAP: f64 = 6.0;
const METAL_GAP: f64 = 4.0;
const TABLES: &str = "published tables of plastics, read second-hand";
const MEMORY: &str = "from memory, not read anywhere";
const ALLOYS: &str = "published tables of aluminium alloys, read second-hand";

const fn plastic(
    name: &'static str,
    title: &'static str,
    expansion: f64,
    source: &'static str,
) -> Material {
    Material {
        name,
        title,
        expansion,
        source,
        gap: PLASTIC_GAP,
        is_metal: false,
    }
}

const fn aluminium(name: &'static str, title: &'static str, expansion: f64) -> Material {
    Material {
        name,
        title,
        expansion,
        source: ALLOYS,
        gap: METAL_GAP,
        is_metal: true,
    }
}

/// Every material that is known by name. Read ranges: PP 81 to 121, ABS 53 to 150, PC 38 to 70,
/// HDPE 59 to 200, PA66 40 to 90, with a third of glass 30, talc-filled PP and TPO 40 to 90,
/// aluminium 3003 23.2, 1100 23.6.
pub const MATERIALS: &[Material] = &[
    plastic("pp", "polypropylene", 121.0, TABLES),
    plastic("pp-talc", "talc-filled polypropylene", 90.0, MEMORY),
    plastic("tpo", "polyolefin elastomer", 90.0, MEMORY),
    plastic("abs", "ABS", 150.0, TABLES),
    plastic("pc", "polycarbonate", 70.0, TABLES),
    plastic("hdpe", "high-density polyethylene", 200.0, TABLES),
    plastic("pa66", "polyamide 66", 90.0, TABLES),
    plastic("pa66-gf33", "polyamide 66, 33 % glass", 30.0, TABLES),
    aluminium("aluminium", "aluminium sheet", 23.6),
    aluminium("aluminium-1100", "aluminium 1100 sheet", 23.6),
    aluminium("aluminium-3003", "aluminium 3003 sheet", 23.2),
];

/// No material of that name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct UnknownMaterial {
    /// As written.
    pub name: String,
    /// The known name that was most likely meant, where one is near.
    pub nearest: Option<&'static str>,
}

impl std::fmt::Display for UnknownMaterial {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let names: Vec<&str> = MATERIALS.iter().map(|material| material.name).collect();
        write!(
            out,
            "no material `{}` is known; known are {}",
            shown(&self.name),
            listed(&names, " and ")
        )
    }
}

impl UnknownMaterial {
    /// The known name that was most likely meant, and what to write for a material that is not in
    /// the table.
    pub fn hint(&self) -> String {
        let own = format!(
            "for any other write `material = \"{OTHER}\"` and its `expansion`, millionths per K, \
             from its maker's data sheet"
        );
        match self.nearest {
            Some(name) => format!("did you mean `{name}`? {own}"),
            None => own,
        }
    }
}

impl std::error::Error for UnknownMaterial {}

/// The material called `name`, in capitals or not, blanks and underscores as hyphens.
///
/// # Errors
/// Names the known one that is most like it.
pub fn find(name: &str) -> Result<&'static Material, UnknownMaterial> {
    let plain = name.trim().to_lowercase().replace([' ', '_'], "-");
    if let Some(material) = MATERIALS.iter().find(|material| material.name == plain) {
        return Ok(material);
    }
    let names = MATERIALS.iter().map(|material| material.name);
    Err(UnknownMaterial {
        name: name.to_owned(),
        nearest: nearest(&plain, names),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_found_however_written_and_lead_on_when_not() {
        assert_eq!(find(" PA66 GF33 ").unwrap().expansion, 30.0);
        assert_eq!(find("aluminium_3003").unwrap().expansion, 23.2);
        let unknown = find("aluminum").unwrap_err();
        assert_eq!(unknown.nearest, Some("aluminium"));
        assert!(unknown.hint().starts_with("did you mean `aluminium`? "));
        assert_eq!(find("pp talk").unwrap_err().nearest, Some("pp-talc"));
        let steel = find("steel").unwrap_err();
        assert_eq!(steel.nearest, None);
        assert!(steel.to_string().contains("`pp`, ") && steel.hint().contains("\"other\""));
    }

    #[test]
    fn of_any_other_the_strictest_holds() {
        let other = other(12.0);
        let most = |of: fn(&Material) -> f64| MATERIALS.iter().map(of).fold(0.0, f64::max);
        assert_eq!(other.gap, most(|material| material.gap));
        assert!(other.is_metal && other.expansion == 12.0);
    }

    #[test]
    fn names_are_unique_and_values_in_range() {
        for (index, material) in MATERIALS.iter().enumerate() {
            assert!(
                MATERIALS[index + 1..]
                    .iter()
                    .all(|other| other.name != material.name)
            );
            assert_eq!(find(material.name), Ok(material));
            // The widest ranges of the tables: aluminium 3003 to HDPE.
            assert!((23.2..=200.0).contains(&material.expansion));
            assert_eq!(material.gap, if material.is_metal { 4.0 } else { 6.0 });
        }
    }
}
