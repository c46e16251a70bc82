//! A kit file as written.

use super::field::{choice, choices, keys};
use super::keys::{COUNT, Kind, List, MASS, texts};
use super::problem::Placed;
use super::reading::Reading;
use super::source::Source;
use super::value::{NOTES, Torque};
use crate::base::length::{LONGEST, Units};
use crate::base::words::{is_device_name, shown};

/// How many of anything.
const HOW_MANY: Kind = Kind::Number(&COUNT, 1.0, 999.0);

/// Distances that are handed over.
const DISTANCE: Kind = Kind::Length(0.0, LONGEST);

/// Masses that are towed or carried.
const KILOGRAMS: Kind = Kind::Number(&MASS, 0.0, 50_000.0);

/// Names of panels.
static PANELS: List = texts("names", Kind::FilledText, 50);

/// Most bolt positions, panels, and kinds of fasteners on a panel: more fill no card.
const MOST_POSITIONS: usize = 200;

impl KitSpec {
    /// Whether a text that is TOML has a `[kit]` and so was meant as a kit file.
    pub fn is_meant(source: &Source) -> bool {
        let (document, _) = toml::de::DeTable::parse_recoverable(&source.text);
        document.get_ref().contains_key("kit")
    }
}

choices!(Reuse);

keys! {
/// A kit file: patterns issued together, and what the fitter needs beside them.
#[derive(Debug, Clone)]
pub struct KitSpec file {
    /// Units of bare lengths.
    units: Units = choice!(Units), or(Units::Mm);
    /// What identifies the kit.
    identity("kit"): KitIdentity = Kind::Table(&KitIdentity::KEYS), required;
    /// Its patterns, in the order that they are issued.
    patterns("pattern"): Vec<KitPattern> = Kind::Tables(&KitPattern::KEYS, 1, 20_000), required;
    /// The accessory's hardware, position by position.
    bolts("bolt"): Vec<BoltPosition> = Kind::Tables(&BoltPosition::KEYS, 0, MOST_POSITIONS);
    /// What comes off and goes back on.
    panels("panel"): Vec<KitPanel> = Kind::Tables(&KitPanel::KEYS, 0, MOST_POSITIONS);
    /// What is measured and handed to the customer; what is left out is left blank on the card.
    handover: HandoverSpec = Kind::Table(&HandoverSpec::KEYS), usual(HandoverSpec::default());
}
}

keys! {
/// `[kit]`: what identifies it.
#[derive(Debug, Clone)]
pub struct KitIdentity {
    /// Letters, digits, `-`, `_` and `.`; names the folder and its files.
    number: Placed<String> = Kind::HeadWord, required;
    /// Revision, of the same letters.
    revision: Placed<String> = Kind::FilledWord, required;
    /// Title.
    title: String = Kind::FilledText, required;
    /// Date of issue as `YYYY-MM-DD`.
    issued: String = Kind::Date, required;
    /// Legal owner; may be empty.
    owner: String = Kind::Text;
    /// Creator; may be empty.
    drawn_by: String = Kind::Text;
    /// Approval person; may be empty.
    approved_by: String = Kind::Text;
    /// Vehicle; may be empty.
    vehicle: String = Kind::Text;
    /// Accessory; may be empty.
    accessory: String = Kind::Text;
    /// Notes for the fitting card.
    notes: Vec<String> = Kind::List(&NOTES);
}
}

keys! {
/// `[[pattern]]`: a pattern of the kit.
#[derive(Debug, Clone)]
pub struct KitPattern {
    /// Its definition: a path from the folder of the kit file.
    file: Placed<String> = Kind::FilledText, required;
    /// How many are put in the box.
    quantity: u32 = HOW_MANY, or(1);
}
check(_table, reading) {
    file.iter().for_each(|file| check_file(file, reading));
}
}

/// The kit must be issued wherever somebody takes it.
fn check_file(file: &Placed<String>, reading: &Reading<'_>) {
    if file.value.split(['/', '\\']).any(is_device_name) {
        let message = format!(
            "`{}` holds a name that Windows keeps for a device",
            shown(&file.value)
        );
        let hint = "rename the file, so that the kit can be issued anywhere";
        reading.report(file.problem(message).hint(hint));
    }
}

keys! {
/// `[[bolt]]`: one position, or several alike.
#[derive(Debug, Clone)]
pub struct BoltPosition {
    /// Where it is.
    position: Placed<String> = Kind::FilledText, required;
    /// How many positions are alike.
    count: u32 = HOW_MANY, or(1);
    /// The bolt's size, as its maker writes it.
    size: String = Kind::FilledText, required;
    /// What stands on it, in order from its head.
    stack: Vec<StackItem> = Kind::Tables(&StackItem::KEYS, 0, 20);
    /// Torque, where the accessory's maker gives one.
    torque: Option<Torque> = Kind::Torque(0.1, 2000.0);
    /// Tool; may be empty.
    tool: String = Kind::Text;
}
}

keys! {
/// One thing in a bolt's stack.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StackItem {
    /// What it is: spacer, washer, nut ...
    part: String = Kind::FilledText, required;
    /// Its size as its maker writes it; may be empty.
    size: String = Kind::Text;
    /// How many.
    count: u32 = HOW_MANY, or(1);
}
}

keys! {
/// `[[panel]]`: a panel that comes off and goes back on.
#[derive(Debug, Clone)]
pub struct KitPanel {
    /// Its name, that of a pattern's panel.
    name: Placed<String> = Kind::FilledText, required;
    /// Panels whose edge lies under this one's: it comes off before them.
    overlaps: Vec<Placed<String>> = Kind::List(&PANELS);
    /// What holds it.
    fasteners("fastener"): Vec<Fastener> = Kind::Tables(&Fastener::KEYS, 0, MOST_POSITIONS);
}
}

keys! {
/// `[[panel.fastener]]`: fasteners alike.
#[derive(Debug, Clone)]
pub struct Fastener {
    /// What it is: push clip, screw ...
    kind: String = Kind::FilledText, required;
    /// How many.
    count: u32 = HOW_MANY, required;
    /// Tool; may be empty.
    tool: String = Kind::Text;
    /// What becomes of it.
    reuse: Reuse = choice!(Reuse), required;
    /// Other panels that it holds too; it is named under one of them alone.
    shared_with: Vec<Placed<String>> = Kind::List(&PANELS);
}
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

keys! {
/// `[handover]`: what is left out is left blank on the card.
#[derive(Debug, Clone, Default)]
pub struct HandoverSpec {
    /// Pin hole to the bumper's rear face, mm.
    pin_hole_to_bumper: Option<f64> = DISTANCE;
    /// Ground to the inside top of the receiver, mm.
    ground_to_receiver: Option<f64> = DISTANCE;
    /// Limits of the bracket.
    bracket: RatingSpec = Kind::Table(&RatingSpec::KEYS), usual(RatingSpec::default());
    /// Limits of the vehicle.
    vehicle: RatingSpec = Kind::Table(&RatingSpec::KEYS), usual(RatingSpec::default());
    /// What is carried on the tongue beside the trailer's own load.
    carried: Vec<CarriedSpec> = Kind::Tables(&CarriedSpec::KEYS, 0, 10);
}
}

keys! {
/// `[handover.bracket]`, `[handover.vehicle]`: limits as their makers give them; the lower of the
/// two holds.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct RatingSpec {
    /// Mass that may be towed, kg.
    towed: Option<f64> = KILOGRAMS;
    /// Load on the tongue, kg.
    tongue: Option<f64> = KILOGRAMS;
}
}

keys! {
/// `[[handover.carried]]`: an accessory whose mass counts in full in the load on the tongue.
#[derive(Debug, Clone)]
pub struct CarriedSpec {
    /// What it is.
    name: String = Kind::FilledText, required;
    /// Its mass with what is on it, kg.
    mass: Placed<f64> = KILOGRAMS, required;
}
}
