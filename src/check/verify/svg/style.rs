//! How an element is painted: attributes and `style`, handed down (SVG 1.1, chapter 11).

use crate::check::verify::paint::{Dashes, darkness};

use roxmltree::Node;
use std::collections::BTreeSet;
use svgtypes::{Color, NumberListParser, Paint};

/// What bears on strokes, as handed down.
#[derive(Debug, Clone, Copy)]
pub(super) struct Style {
    pub(super) strokes: bool,
    pub(super) stroke_darkness: f64,
    pub(super) stroke_opacity: f64,
    /// Opacity of its colour itself.
    pub(super) stroke_alpha: f64,
    pub(super) fills: bool,
    pub(super) fill_darkness: f64,
    pub(super) fill_opacity: f64,
    pub(super) fill_alpha: f64,
    pub(super) width: f64,
    /// Whether corners of lines are pointed, and up to how many times their width.
    pub(super) mitred: bool,
    pub(super) mitre_limit: f64,
    /// In the drawing's own units.
    pub(super) dashes: Dashes,
    pub(super) visible: bool,
    /// Of all groups round it, multiplied.
    pub(super) opacity: f64,
    pub(super) shown: bool,
}

impl Style {
    pub(super) fn root() -> Self {
        Self {
            strokes: false,
            stroke_darkness: 1.0,
            stroke_opacity: 1.0,
            stroke_alpha: 1.0,
            fills: true,
            fill_darkness: 1.0,
            fill_opacity: 1.0,
            fill_alpha: 1.0,
            width: 1.0,
            mitred: true,
            mitre_limit: 4.0,
            dashes: Dashes::default(),
            visible: true,
            opacity: 1.0,
            shown: true,
        }
    }

    /// The style of an element inside; what is not understood is noted.
    pub(super) fn of(mut self, node: Node<'_, '_>, unread: &mut BTreeSet<&'static str>) -> Self {
        let mut inline = None;
        // What other programs note for themselves has a name space of its own.
        let own = |attribute: &roxmltree::Attribute<'_, '_>| attribute.namespace().is_none();
        for attribute in node.attributes().filter(own) {
            match attribute.name() {
                "style" => inline = Some(attribute.value()),
                "class" => {}
                name => self.set(name, attribute.value(), false, unread),
            }
        }
        // What stands in `style` comes before attributes.
        if inline.is_some_and(|style| style.contains("/*") || style.contains('\\')) {
            unread.insert("styles with remarks in them");
        }
        let inline = inline.map(str::to_ascii_lowercase);
        for rule in inline.iter().flat_map(|style| style.split(';')) {
            if let Some((name, value)) = rule.split_once(':') {
                let value = value.split('!').next().unwrap_or_default();
                self.set(name.trim(), value, true, unread);
            }
        }
        self
    }

    fn set(&mut self, name: &str, value: &str, inline: bool, unread: &mut BTreeSet<&'static str>) {
        let value = value.trim();
        if hangs_on_others(value) {
            unread.insert("values that hang on others");
            return;
        }
        match name {
            "stroke" => match paint(value) {
                Painted::None => self.strokes = false,
                Painted::Plain(paint) => {
                    self.strokes = true;
                    (self.stroke_darkness, self.stroke_alpha) = paint;
                }
                Painted::Strange => {
                    self.strokes = true;
                    unread.insert("strokes painted with a pattern");
                }
            },
            "fill" => match paint(value) {
                Painted::None => self.fills = false,
                Painted::Plain(paint) => {
                    self.fills = true;
                    (self.fill_darkness, self.fill_alpha) = paint;
                }
                Painted::Strange => {
                    self.fills = true;
                    unread.insert("areas painted with a pattern");
                }
            },
            "stroke-width" => {
                if let Some(width) = number(value) {
                    self.width = width;
                } else {
                    unread.insert("strokes of a width that hangs on the screen");
                }
            }
            "stroke-linejoin" => self.mitred = !matches!(value, "round" | "bevel"),
            "stroke-miterlimit" => self.mitre_limit = number(value).unwrap_or(f64::INFINITY),
            "stroke-dasharray" => {
                let lengths = NumberListParser::from(value).flatten();
                self.dashes = Dashes::new(lengths, self.dashes.phase);
            }
            "stroke-dashoffset" => {
                self.dashes.phase = number(value).unwrap_or(f64::INFINITY);
            }
            "fill-rule" | "clip-rule" if value != "nonzero" => {
                unread.insert("areas that are filled by another rule");
            }
            "opacity" | "stroke-opacity" | "fill-opacity" => match (share(value), name) {
                (Some(share), "opacity") => self.opacity *= share,
                (Some(share), "stroke-opacity") => self.stroke_opacity = share,
                (Some(share), _) => self.fill_opacity = share,
                (None, _) => drop(unread.insert("values that hang on others")),
            },
            "visibility" => match value {
                "visible" => self.visible = true,
                _ => self.visible = false,
            },
            "display" => self.shown &= !value.eq_ignore_ascii_case("none"),
            "mask" | "filter" if value != "none" => {
                unread.insert("masks and filters");
            }
            "marker" | "marker-start" | "marker-mid" | "marker-end" if value != "none" => {
                unread.insert("markers on lines");
            }
            "mix-blend-mode" | "isolation" | "paint-order" if value != "normal" => {
                unread.insert("inks that are mixed");
            }
            "transform-origin" | "translate" | "rotate" | "scale" | "zoom" | "offset-path" => {
                unread.insert("turns and scales set by a style");
            }
            "width" | "height" | "min-width" | "min-height" | "max-width" | "max-height"
            | "object-fit" | "position" | "inset" | "left" | "top" | "right" | "bottom"
            | "margin" | "padding" | "aspect-ratio" | "contain" | "perspective" | "all"
            | "vector-effect"
                if inline =>
            {
                unread.insert("sizes and places set by a style");
            }
            "transform" if inline && value != "none" => {
                unread.insert("turns and scales set by a style");
            }
            "clip-path" if inline && value != "none" => {
                unread.insert("clips set by a style");
            }
            "d" if inline => {
                unread.insert("paths set by a style");
            }
            "animation" | "animation-name" => {
                unread.insert("what moves");
            }
            _ if is_harmless(name, inline) || matches!(value, "none" | "normal" | "auto") => {}
            _ => drop(unread.insert("properties that are not known here")),
        }
    }
}

enum Painted {
    None,
    /// How dark it is, and how opaque.
    Plain((f64, f64)),
    Strange,
}

fn paint(value: &str) -> Painted {
    match Paint::from_str(value) {
        Ok(Paint::None) => Painted::None,
        Ok(Paint::Color(Color {
            red,
            green,
            blue,
            alpha,
        })) => {
            let parts = [red, green, blue].map(|part| f64::from(part) / 255.0);
            Painted::Plain((darkness(parts), f64::from(alpha) / 255.0))
        }
        _ => Painted::Strange,
    }
}

/// A number in the drawing's own units.
fn number(value: &str) -> Option<f64> {
    let value = value.strip_suffix("px").unwrap_or(value);
    value.trim().parse().ok().filter(|n: &f64| n.is_finite())
}

fn share(value: &str) -> Option<f64> {
    match value.strip_suffix('%') {
        Some(percent) => number(percent).map(|percent| percent / 100.0),
        None => number(value),
    }
}

/// Whether a value is worked out from others, or from what surrounds its element.
fn hangs_on_others(value: &str) -> bool {
    const WORDS: [&str; 8] = [
        "inherit",
        "initial",
        "unset",
        "revert",
        "revert-layer",
        "currentcolor",
        "context-fill",
        "context-stroke",
    ];
    const WORKED_OUT: [&str; 7] = ["calc(", "var(", "env(", "min(", "max(", "clamp(", "attr("];
    let value = value.to_ascii_lowercase();
    WORDS.contains(&value.as_str()) || WORKED_OUT.iter().any(|begin| value.contains(begin))
}

/// Properties and attributes that move nothing and hide nothing, or are read where they belong.
fn is_harmless(name: &str, inline: bool) -> bool {
    const ANYWHERE: [&str; 15] = [
        "stroke-linecap",
        "shape-rendering",
        "text-rendering",
        "image-rendering",
        "color-rendering",
        "color-interpolation",
        "color",
        "direction",
        "writing-mode",
        "letter-spacing",
        "word-spacing",
        "line-height",
        "fill-rule",
        "clip-rule",
        "enable-background",
    ];
    const ATTRIBUTES: [&str; 33] = [
        "id",
        "class",
        "style",
        "role",
        "d",
        "points",
        "x",
        "y",
        "x1",
        "y1",
        "x2",
        "y2",
        "cx",
        "cy",
        "r",
        "rx",
        "ry",
        "width",
        "height",
        "viewBox",
        "version",
        "baseProfile",
        "preserveAspectRatio",
        "transform",
        "clip-path",
        "href",
        "lang",
        "clipPathUnits",
        "type",
        "media",
        "title",
        "tabindex",
        "focusable",
    ];
    ["font", "text-", "aria-", "data-"]
        .iter()
        .any(|begin| name.starts_with(begin))
        || ANYWHERE.contains(&name)
        || (!inline && ATTRIBUTES.contains(&name))
}
