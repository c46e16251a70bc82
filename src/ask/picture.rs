//! Small pictures of where the tape goes.

/// A picture beside a question.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Picture {
    /// Somebody who looks at a panel.
    Stand,
    /// A tape hooked over an edge.
    Hook,
    /// From end to end.
    Width,
    /// A panel's thickness.
    Thickness,
    /// An edge that bows, with a straightedge.
    Bow,
    /// A panel that leans.
    Lean,
    /// A chord and its rise.
    Rise,
    /// Readings down from a straightedge.
    Profile,
    /// Left and right from one end.
    Pair,
    /// One feature: across, and from the edge.
    Locator,
    /// Shapes that parts have.
    Shapes,
    /// A part's size.
    Size,
    /// The diameter of a round part.
    Round,
    /// The size of a long one with round ends.
    Slot,
    /// A part's place: from the middle, and from the edge.
    At,
    /// The gap round a part.
    Gap,
    /// An opening that runs out at the edge.
    Mouth,
    /// What lies behind.
    Behind,
    /// Nothing to show.
    None,
}

/// A panel with its datum edge, heavy, at the foot.
const PANEL: &str =
    r#"<path d="M8 8H88V54"/><path d="M8 8V54"/><path d="M8 54H88" stroke-width="3"/>"#;

impl Picture {
    /// The picture as SVG, 96 by 64, in the colour of the words beside it; empty where there is
    /// none.
    pub fn svg(self) -> String {
        let (panel, inner) = match self {
            Self::None => return String::new(),
            Self::Stand => (
                false,
                r#"<path d="M8 12H88" stroke-width="3"/><circle cx="48" cy="40" r="6"/><path d="M48 46V60M42 52H54M48 33V18M44 22L48 17L52 22"/>"#,
            ),
            Self::Hook => (
                true,
                r#"<path d="M48 58V26M44 58H52" stroke-width="2.5"/><path d="M44 31L48 25L52 31M44 36H52M44 42H52M44 48H52"/>"#,
            ),
            Self::Width => (
                true,
                r#"<path d="M9 34H87M14 30L9 34L14 38M82 30L87 34L82 38"/>"#,
            ),
            Self::Thickness => (
                false,
                r#"<path d="M8 28H88V36H8Z"/><path d="M48 10V27M44 22L48 27L52 22M48 54V37M44 42L48 37L52 42"/>"#,
            ),
            Self::Bow => (
                false,
                r#"<path d="M8 10V50Q48 26 88 50V10" stroke-width="2.5"/><path d="M8 50H88" stroke-dasharray="4 3"/><path d="M48 50V38M45 42L48 38L51 42"/>"#,
            ),
            Self::Lean => (
                false,
                r#"<path d="M30 56L58 10" stroke-width="3"/><path d="M30 56V10" stroke-dasharray="4 3"/><path d="M30 24Q40 22 48 26"/>"#,
            ),
            Self::Rise => (
                false,
                r#"<path d="M8 46Q48 6 88 46" stroke-width="2.5"/><path d="M8 46H88" stroke-dasharray="4 3"/><path d="M48 46V27M45 31L48 27L51 31"/>"#,
            ),
            Self::Profile => (
                false,
                r#"<path d="M8 10H88" stroke-width="2.5"/><path d="M8 50Q30 22 50 20T88 30"/><path d="M16 10V40M34 10V26M52 10V20M70 10V22"/>"#,
            ),
            Self::Pair => (
                true,
                r#"<circle cx="26" cy="26" r="4"/><circle cx="70" cy="26" r="4"/><path d="M9 40H26V32M9 46H70V32"/>"#,
            ),
            Self::Locator => (
                true,
                r#"<circle cx="60" cy="26" r="4"/><path d="M9 26H54M60 53V32"/>"#,
            ),
            Self::Size => (
                false,
                r#"<rect x="30" y="16" width="36" height="26" rx="4" stroke-width="2.5"/><path d="M30 50H66M30 47V53M66 47V53M76 16V42M73 16H79M73 42H79"/>"#,
            ),
            Self::Round => (
                false,
                r#"<circle cx="46" cy="29" r="17" stroke-width="2.5"/><path d="M29 52H63M29 49V55M63 49V55M29 29V49M63 29V49"/>"#,
            ),
            Self::Slot => (
                false,
                r#"<rect x="22" y="18" width="52" height="22" rx="11" stroke-width="2.5"/><path d="M22 52H74M22 49V55M74 49V55M82 18V40M79 18H85M79 40H85"/>"#,
            ),
            Self::Shapes => (
                false,
                r#"<rect x="8" y="22" width="26" height="20" rx="2" stroke-width="2.5"/><circle cx="48" cy="32" r="10" stroke-width="2.5"/><rect x="62" y="25" width="28" height="14" rx="7" stroke-width="2.5"/>"#,
            ),
            Self::At => (
                true,
                r#"<path d="M40 8V54" stroke-dasharray="7 3 2 3"/><rect x="56" y="18" width="20" height="16"/><path d="M40 26H66M66 53V26"/>"#,
            ),
            Self::Gap => (
                false,
                r#"<rect x="26" y="14" width="44" height="36" stroke-width="2.5"/><rect x="34" y="22" width="28" height="20" stroke-dasharray="3 2"/><path d="M62 32H70"/>"#,
            ),
            Self::Mouth => (
                false,
                r#"<path d="M8 8V54H32V24H64V54H88V8Z" stroke-width="2.5"/>"#,
            ),
            Self::Behind => (
                false,
                r#"<path d="M8 20H88" stroke-width="3"/><path d="M20 42Q34 26 48 42T76 42"/><path d="M48 21V30" stroke-dasharray="2 2"/>"#,
            ),
        };
        let panel = if panel { PANEL } else { "" };
        format!(
            r#"<svg viewBox="0 0 96 64" width="96" height="64" fill="none" stroke="currentColor" stroke-width="1.5" aria-hidden="true">{panel}{inner}</svg>"#
        )
    }
}
