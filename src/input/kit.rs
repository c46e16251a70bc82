//! A kit file as written.

use super::problem::Placed;
use crate::base::length::Units;

/// A kit file: patterns issued together, and what the fitter needs beside them.
#[derive(Debug, Clone)]
pub struct KitSpec {
    /// Units of bare lengths.
    pub units: Units,
    /// `[kit]`.
    pub identity: KitIdentity,
    /// `[[pattern]]`, in the order that they are issued.
    pub patterns: Vec<KitPattern>,
    /// `[[bolt]]`: the accessory's hardware, position by position.
    pub bolts: Vec<BoltPosition>,
    /// `[[panel]]`: what comes off and goes back on.
    pub panels: Vec<KitPanel>,
    /// `[handover]`: what is measured and handed to the customer.
    pub handover: HandoverSpec,
}

/// `[kit]`: what identifies it.
#[derive(Debug, Clone)]
pub struct KitIdentity {
    /// Letters, digits, `-`, `_` and `.`; names the folder and its files.
    pub number: Placed<String>,
    /// Revision, of the same letters; never empty.
    pub revision: Placed<String>,
    /// Title.
    pub title: String,
    /// Date of issue as `YYYY-MM-DD`.
    pub issued: String,
    /// Legal owner; may be empty.
    pub owner: String,
    /// Creator; may be empty.
    pub drawn_by: String,
    /// Approval person; may be empty.
    pub approved_by: String,
    /// Vehicle; may be empty.
    pub vehicle: String,
    /// Accessory; may be empty.
    pub accessory: String,
    /// Notes for the fitting card.
    pub notes: Vec<String>,
}

/// `[[pattern]]`.
#[derive(Debug, Clone)]
pub struct KitPattern {
    /// Its definition: a path from the folder of the kit file.
    pub file: Placed<String>,
    /// How many are put in the box, 1 or more.
    pub quantity: u32,
}

/// `[[bolt]]`: one position, or several alike.
#[derive(Debug, Clone)]
pub struct BoltPosition {
    /// Where it is.
    pub position: Placed<String>,
    /// How many positions are alike, 1 or more.
    pub count: u32,
    /// The bolt's size, as its maker writes it.
    pub size: String,
    /// What stands on it, in order from its head.
    pub stack: Vec<StackItem>,
    /// Torque, where the accessory's maker gives one.
    pub torque: Option<Torque>,
    /// Tool; may be empty.
    pub tool: String,
}

/// One thing in a bolt's stack.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StackItem {
    /// What it is: spacer, washer, nut ...
    pub part: String,
    /// Its size as its maker writes it; may be empty.
    pub size: String,
    /// How many, 1 or more.
    pub count: u32,
}

/// A torque as the accessory's maker gives it.
#[derive(Debug, Clone, PartialEq)]
pub struct Torque {
    /// As written.
    pub written: String,
    /// Least, N m.
    pub least: f64,
    /// Greatest, N m; as `least` unless a range is given.
    pub greatest: f64,
    /// Whether it was written in N m.
    pub in_newton_metres: bool,
}

/// `[[panel]]`.
#[derive(Debug, Clone)]
pub struct KitPanel {
    /// Its name.
    pub name: Placed<String>,
    /// Panels whose edge lies under this one's: it comes off before them.
    pub overlaps: Vec<Placed<String>>,
    /// `[[panel.fastener]]`.
    pub fasteners: Vec<Fastener>,
}

/// `[[panel.fastener]]`.
#[derive(Debug, Clone)]
pub struct Fastener {
    /// What it is: push clip, screw ...
    pub kind: String,
    /// How many, 1 or more.
    pub count: u32,
    /// Tool; may be empty.
    pub tool: String,
    /// What becomes of it.
    pub reuse: Reuse,
    /// Other panels that it holds too.
    pub shared_with: Vec<Placed<String>>,
}

/// What becomes of a fastener that came out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Reuse {
    /// It goes back in.
    Keep,
    /// A new one takes its place.
    Replace,
}

impl Reuse {
    /// Both, in the order that messages list them.
    pub const ALL: [Self; 2] = [Self::Keep, Self::Replace];

    /// The word for it in files and on the card.
    pub fn word(self) -> &'static str {
        match self {
            Self::Keep => "keep",
            Self::Replace => "replace",
        }
    }
}

/// `[handover]`: what is left out is left blank on the card.
#[derive(Debug, Clone, Default)]
pub struct HandoverSpec {
    /// Pin hole to the bumper's rear face, mm.
    pub pin_hole_to_bumper: Option<f64>,
    /// Ground to the inside top of the receiver, mm.
    pub ground_to_receiver: Option<f64>,
    /// Limits of the bracket.
    pub bracket: RatingSpec,
    /// Limits of the vehicle.
    pub vehicle: RatingSpec,
    /// What is carried on the tongue beside the trailer's own load.
    pub carried: Vec<CarriedSpec>,
}

/// `[handover.bracket]`, `[handover.vehicle]`: limits as their makers give them.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct RatingSpec {
    /// Mass that may be towed, kg.
    pub towed: Option<f64>,
    /// Load on the tongue, kg.
    pub tongue: Option<f64>,
}

/// `[[handover.carried]]`: an accessory whose mass counts in the load on the tongue.
#[derive(Debug, Clone)]
pub struct CarriedSpec {
    /// What it is.
    pub name: String,
    /// Its mass with what is on it, kg.
    pub mass: Placed<f64>,
}
