//! Optional content: which layers there are, and which of them print (ISO 32000-1, 8.11).

use super::look::{look, look_into, look_through};
use crate::check::verify::budget::{Budget, Cost};
use crate::check::verify::error::VerifyError;
use hayro_syntax::object::{Array, Dict, Name, ObjRef, Object, ObjectIdentifier, String as Words};
use std::collections::{BTreeMap, BTreeSet};

/// The layers of a file.
#[derive(Debug, Default)]
pub(super) struct Layers {
    names: Vec<String>,
    known: BTreeMap<String, usize>,
    base_off: bool,
    on: BTreeSet<ObjectIdentifier>,
    off: BTreeSet<ObjectIdentifier>,
}

/// What marked content is part of.
#[derive(Debug, Clone, Copy)]
pub(super) struct Membership {
    /// Its layer; `None` where it names none.
    pub(super) layer: Option<usize>,
    /// Whether it is shown and printed.
    pub(super) visible: bool,
    /// Whether that could be told.
    pub(super) told: bool,
}

/// The groups of a membership, as they come.
#[derive(Debug)]
struct Several {
    first: Option<Membership>,
    any_on: bool,
    any_off: bool,
    told: bool,
}

impl Default for Several {
    fn default() -> Self {
        Self {
            first: None,
            any_on: false,
            any_off: false,
            told: true,
        }
    }
}

impl Several {
    fn add(&mut self, group: Membership) {
        self.first.get_or_insert(group);
        self.any_on |= group.visible;
        self.any_off |= !group.visible;
        self.told &= group.told;
    }

    /// What a policy makes of them; where there are none, all is shown.
    fn visible(&self, policy: &str) -> bool {
        self.first.is_none()
            || match policy {
                "AllOn" => !self.any_off,
                "AnyOff" => self.any_off,
                "AllOff" => !self.any_on,
                _ => self.any_on,
            }
    }
}

/// What may show or hide a group by what a viewer does, or by who looks (ISO 32000-1, table 102).
const RULES: [(&str, &str); 2] = [("View", "ViewState"), ("Export", "ExportState")];

impl Layers {
    pub(super) fn of(catalog: &Dict<'_>) -> Self {
        let properties: Dict<'_> = catalog.get("OCProperties").unwrap_or_default();
        let setting: Dict<'_> = properties.get("D").unwrap_or_default();
        let state = setting.get::<Name<'_>>("BaseState");
        let named = |key: &str| {
            let groups: Option<Array<'_>> = setting.get(key);
            groups.as_ref().map(ids).unwrap_or_default()
        };
        Self {
            base_off: state.is_some_and(|name| name.as_str() == "OFF"),
            on: named("ON"),
            off: named("OFF"),
            ..Self::default()
        }
    }

    pub(super) fn into_names(self) -> Vec<String> {
        self.names
    }

    /// What a group, or a membership of several, says.
    pub(super) fn membership(
        &mut self,
        content: &Dict<'_>,
        budget: &mut Budget,
    ) -> Result<Membership, VerifyError> {
        look_into(content, budget)?;
        look(content, &["Type", "OCGs", "P"], budget)?;
        let kind = content.get::<Name<'_>>("Type");
        if kind.is_none_or(|name| name.as_str() != "OCMD") {
            return self.group(content, budget);
        }
        let mut all = Several::default();
        match content.get::<Object<'_>>("OCGs") {
            Some(Object::Dict(one)) => all.add(self.group(&one, budget)?),
            Some(Object::Array(several)) => {
                look_through(&several, budget)?;
                for group in several.iter::<Dict<'_>>() {
                    all.add(self.group(&group, budget)?);
                }
            }
            _ => {}
        }
        let policy = content.get::<Name<'_>>("P");
        Ok(Membership {
            layer: all.first.and_then(|group| group.layer),
            visible: all.visible(policy.as_ref().map_or("AnyOn", |name| name.as_str())),
            told: all.told && !content.contains_key("VE"),
        })
    }

    fn group(&mut self, group: &Dict<'_>, budget: &mut Budget) -> Result<Membership, VerifyError> {
        budget.spend_len(Cost::Bytes, group.data().len())?;
        look(group, &["Name", "Usage"], budget)?;
        let name = group
            .get::<Words<'_>>("Name")
            .map(|words| text(words.as_bytes()))
            .unwrap_or_default();
        let next = self.names.len();
        let layer = *self.known.entry(name.clone()).or_insert(next);
        if layer == next {
            self.names.push(name);
        }
        let id = group.obj_id();
        let listed = |set: &BTreeSet<ObjectIdentifier>| id.is_some_and(|id| set.contains(&id));
        let on = if self.base_off {
            listed(&self.on)
        } else {
            !listed(&self.off)
        };
        let usage: Dict<'_> = group.get("Usage").unwrap_or_default();
        let kept_from_paper = is_off(&usage, ("Print", "PrintState"), budget)?;
        let mut told = !["Language", "User", "Zoom"]
            .iter()
            .any(|rule| usage.contains_key(rule));
        for rule in RULES {
            told &= !is_off(&usage, rule, budget)?;
        }
        Ok(Membership {
            layer: Some(layer),
            visible: on && !kept_from_paper,
            told,
        })
    }
}

/// Whether a group is switched off by what it is used for.
fn is_off(
    usage: &Dict<'_>,
    (used, key): (&str, &str),
    budget: &mut Budget,
) -> Result<bool, VerifyError> {
    look(usage, &[used], budget)?;
    let used: Dict<'_> = usage.get(used).unwrap_or_default();
    look(&used, &[key], budget)?;
    let state = used.get::<Name<'_>>(key);
    Ok(state.is_some_and(|state| state.as_str() == "OFF"))
}

fn ids(groups: &Array<'_>) -> BTreeSet<ObjectIdentifier> {
    groups
        .raw_iter()
        .filter_map(|group| group.as_obj_ref())
        .map(|at: ObjRef| ObjectIdentifier::new(at.obj_number, at.gen_number))
        .collect()
}

/// A text of the file: UTF-16 with its mark, or single bytes.
pub(super) fn text(words: &[u8]) -> String {
    match words {
        [0xfe, 0xff, rest @ ..] => {
            let (pairs, _) = rest.as_chunks::<2>();
            let units = pairs.iter().map(|pair| u16::from_be_bytes(*pair));
            char::decode_utf16(units)
                .map(|letter| letter.unwrap_or(char::REPLACEMENT_CHARACTER))
                .collect()
        }
        plain => plain.iter().map(|&byte| char::from(byte)).collect(),
    }
}
