//! Every stroke of a drawing, in order of painting.

use super::shape::outline;
use super::strange::strange;
use super::style::Style;
use crate::check::verify::budget::{Budget, Cost};
use crate::check::verify::error::VerifyError;
use crate::check::verify::measured::{Area, Clip, MeasuredPage, Stroke, Words, upright_box};
use crate::check::verify::paint::{Tone, UNEVEN_PEN, is_uneven, reach};
use crate::draw::ink::Layer;
use kurbo::{Affine, BezPath, PathEl, Rect, Shape};
use roxmltree::{Document, Node};
use std::collections::HashMap;
use svgtypes::{TransformListParser, TransformListToken as Token};

/// Deepest nesting that is read.
const DEEPEST: usize = 200;
/// Most parts that are shown a second time.
const MOST_USES: usize = 1000;
/// Clips this near to a rectangle are one, mm.
const BOX_WITHIN: f64 = 0.01;

/// Attributes of a clip's shape that say no more than where it is.
const PLAIN_CLIP: [&str; 14] = [
    "id",
    "d",
    "points",
    "x",
    "y",
    "width",
    "height",
    "cx",
    "cy",
    "r",
    "rx",
    "ry",
    "transform",
    "clip-rule",
];

/// What is handed down to the elements inside.
#[derive(Clone, Copy)]
struct Around {
    to_page: Affine,
    style: Style,
    layer: Option<usize>,
    clip: Clip,
    depth: usize,
}

struct Walk<'p, 'd> {
    page: &'p mut MeasuredPage,
    budget: &'p mut Budget,
    /// The first element of each id.
    by_id: HashMap<&'d str, Node<'d, 'd>>,
    names: Vec<String>,
    uses: usize,
}

/// Puts the strokes of a drawing on its page; the names of its layers.
pub(super) fn strokes(
    document: &Document<'_>,
    to_page: Affine,
    page: &mut MeasuredPage,
    budget: &mut Budget,
) -> Result<Vec<String>, VerifyError> {
    let root = document.root_element();
    let mut by_id = HashMap::new();
    for node in root.descendants() {
        strange(node, root, &mut page.unread);
        if matches!(node.tag_name().name(), "title" | "desc") {
            let text = node.text().unwrap_or_default();
            budget.spend_len(Cost::Bytes, text.len())?;
            page.titles.push(text.into());
        }
        if let Some(id) = node.attribute("id") {
            by_id.entry(id).or_insert(node);
        }
    }
    let style = Style::root().of(root, &mut page.unread);
    let mut walk = Walk {
        page,
        budget,
        by_id,
        names: vec![],
        uses: 0,
    };
    let around = Around {
        to_page,
        style,
        layer: None,
        clip: Clip::default(),
        depth: 0,
    };
    walk.children(root, around)?;
    Ok(walk.names)
}

impl<'d> Walk<'_, 'd> {
    fn children(&mut self, of: Node<'d, 'd>, around: Around) -> Result<(), VerifyError> {
        if around.depth > DEEPEST {
            return Err(VerifyError::Svg("its groups are nested too deep".into()));
        }
        for node in of.children().filter(Node::is_element) {
            self.element(node, around)?;
        }
        Ok(())
    }

    fn element(&mut self, node: Node<'d, 'd>, around: Around) -> Result<(), VerifyError> {
        self.looked_at(node)?;
        // A browser shows nothing of what is not SVG's own.
        if node.tag_name().namespace() != node.document().root_element().tag_name().namespace() {
            return Ok(());
        }
        match node.tag_name().name() {
            "g" | "a" => {
                let inside = self.inside(node, around)?;
                if inside.style.shown {
                    self.children(node, inside)?;
                }
            }
            "use" => self.used(node, around)?,
            "image" => {
                self.budget.spend(Cost::Elements, 1)?;
                self.page.pictures += 1;
                let all = self.page.shown;
                self.page.picture(all);
            }
            "svg" | "switch" | "foreignObject" => {
                self.page.unread.insert("a drawing within the drawing");
            }
            "path" | "line" | "rect" | "circle" | "ellipse" | "polyline" | "polygon" => {
                self.shape(node, around)?;
            }
            // Definitions, titles, lettering and what belongs to other programs.
            _ => {}
        }
        Ok(())
    }

    /// An element's words are read anew each time that it is shown.
    fn looked_at(&mut self, node: Node<'d, 'd>) -> Result<(), VerifyError> {
        let words = node.attributes().map(|attribute| attribute.value().len());
        self.budget.spend_len(Cost::Bytes, words.sum())?;
        self.budget.spend(Cost::Steps, 1)
    }

    /// The outline of an element in its own units.
    fn outline(&mut self, node: Node<'d, 'd>) -> Result<Option<BezPath>, VerifyError> {
        let path = outline(node, &mut self.page.unread);
        let parts = path.as_ref().map_or(0, |path| path.elements().len());
        self.budget.spend_len(Cost::Elements, parts)?;
        Ok(path)
    }

    /// What is handed down inside an element.
    fn inside(&mut self, node: Node<'d, 'd>, around: Around) -> Result<Around, VerifyError> {
        let mut inside = Around {
            style: around.style.of(node, &mut self.page.unread),
            depth: around.depth + 1,
            ..around
        };
        if let Some(text) = node.attribute("transform") {
            inside.to_page *= self.transform(text);
        }
        if let Some(id) = node.attribute("id")
            && Layer::ALL.iter().any(|layer| layer.name() == id)
        {
            inside.layer = Some(self.layer(id));
        }
        if let Some(clip) = node.attribute("clip-path")
            && clip != "none"
        {
            inside.clip = self.clipped(clip, inside)?;
        }
        Ok(inside)
    }

    fn layer(&mut self, name: &str) -> usize {
        match self.names.iter().position(|known| known == name) {
            Some(place) => place,
            None => {
                self.names.push(name.into());
                self.names.len() - 1
            }
        }
    }

    fn transform(&mut self, text: &str) -> Affine {
        let mut all = Affine::IDENTITY;
        for token in TransformListParser::from(text) {
            all *= match token {
                Ok(Token::Matrix { a, b, c, d, e, f }) => Affine::new([a, b, c, d, e, f]),
                Ok(Token::Translate { tx, ty }) => Affine::translate((tx, ty)),
                Ok(Token::Scale { sx, sy }) => Affine::scale_non_uniform(sx, sy),
                Ok(Token::Rotate { angle }) => Affine::rotate(angle.to_radians()),
                Ok(Token::SkewX { angle }) => Affine::skew(angle.to_radians().tan(), 0.0),
                Ok(Token::SkewY { angle }) => Affine::skew(0.0, angle.to_radians().tan()),
                Err(_) => {
                    self.page
                        .unread
                        .insert("a turn or scale that is miswritten");
                    return all;
                }
            };
        }
        all
    }

    fn shape(&mut self, node: Node<'d, 'd>, around: Around) -> Result<(), VerifyError> {
        let Around {
            to_page,
            style,
            layer,
            clip,
            ..
        } = self.inside(node, around)?;
        if !(style.shown && (style.strokes || style.fills)) {
            return Ok(());
        }
        let Some(path) = self.outline(node)? else {
            return Ok(());
        };
        let path = self.page.on_paper(to_page * path, style.strokes);
        if path.elements().is_empty() {
            return Ok(());
        }
        let tone = |dark: f64, opacity: f64| match style.visible {
            true => Tone::of(dark, opacity * style.opacity),
            false => Tone::None,
        };
        let scale = to_page.determinant().abs().sqrt();
        let filled = tone(style.fill_darkness, style.fill_opacity * style.fill_alpha);
        let stroked = tone(
            style.stroke_darkness,
            style.stroke_opacity * style.stroke_alpha,
        );
        // Words as outlines, with a line round them where they are heavy.
        let label = node
            .attribute("aria-label")
            .filter(|_| style.fills && style.visible);
        if let Some(label) = label {
            let at = path.elements().first().and_then(PathEl::end_point);
            let words = Words {
                at: at.unwrap_or_default(),
                words: label.into(),
            };
            self.page.write(words, self.budget)?;
        }
        if style.fills && filled != Tone::None {
            self.budget.keep(&path)?;
            let bounds = path.bounding_box();
            if filled != Tone::Faint {
                let seen = clip.bounds.map_or(bounds, |clip| clip.intersect(bounds));
                self.page.cover(seen, filled == Tone::Paper);
            }
            let one_tone = label.is_none() || !style.strokes || filled == stroked;
            let painted = self
                .page
                .next(if one_tone { filled } else { Tone::Faint }, clip);
            self.page.areas.push(Area {
                layer,
                path: path.clone(),
                outlined: (label.is_some() && style.strokes).then_some(style.width * scale),
                label: label.map(Into::into),
                painted,
            });
        }
        if style.strokes && label.is_none() {
            self.budget.keep(&path)?;
            if is_uneven(to_page) {
                self.page.unread.insert(UNEVEN_PEN);
            }
            let limit = style.mitred.then_some(style.mitre_limit);
            let reach = reach(style.width * scale, limit);
            self.page
                .reaches(path.bounding_box(), reach, limit, stroked);
            let painted = self.page.next(stroked, clip);
            self.page.strokes.push(Stroke {
                layer,
                reach,
                width: style.width * scale,
                dashes: style.dashes.scaled(scale),
                visible: stroked == Tone::Ink,
                painted,
                path,
            });
        }
        Ok(())
    }

    fn used(&mut self, node: Node<'d, 'd>, around: Around) -> Result<(), VerifyError> {
        let href = node.attributes().find(|a| a.name() == "href");
        let Some(id) = href.and_then(|href| href.value().strip_prefix('#')) else {
            self.page.unread.insert("parts taken from other files");
            return Ok(());
        };
        let mut inside = self.inside(node, around)?;
        if !inside.style.shown {
            return Ok(());
        }
        self.uses += 1;
        if inside.depth > DEEPEST || self.uses > MOST_USES {
            return Err(VerifyError::Svg(
                "its parts use each other without end".into(),
            ));
        }
        let side = |name: &str| -> f64 {
            let text = node.attribute(name).unwrap_or("0");
            text.parse().unwrap_or(0.0)
        };
        inside.to_page *= Affine::translate((side("x"), side("y")));
        let Some(part) = self.by_id.get(id).copied() else {
            return Ok(());
        };
        if part.tag_name().name() == "symbol" {
            self.page.unread.insert("a drawing within the drawing");
            return Ok(());
        }
        self.element(part, inside)
    }

    /// The clip of an element: a box where it is one.
    fn clipped(&mut self, clip: &str, inside: Around) -> Result<Clip, VerifyError> {
        let id = clip.trim().strip_prefix("url(#");
        let path = match id.and_then(|rest| rest.strip_suffix(')')) {
            Some(id) => self.clip_path(id, inside.to_page)?,
            None => None,
        };
        Ok(match path {
            Some(path) => {
                let (bounds, plain) = upright_box(&path, BOX_WITHIN);
                inside.clip.within(bounds, !plain)
            }
            None => inside
                .clip
                .within(inside.clip.bounds.unwrap_or(Rect::ZERO), true),
        })
    }

    fn clip_path(&mut self, id: &str, to_page: Affine) -> Result<Option<BezPath>, VerifyError> {
        let Some(clip) = self.by_id.get(id).copied() else {
            return Ok(None);
        };
        let odd = clip.attributes().any(|attribute| {
            let is_units = attribute.name() == "clipPathUnits";
            !(attribute.name() == "id" || is_units && attribute.value() == "userSpaceOnUse")
        });
        let mut parts = clip.children().filter(Node::is_element);
        let (only, more) = (parts.next(), parts.next());
        // Styles hide a clip's shape, or move it.
        let is_plain = |only: &Node<'_, '_>| {
            let mut names = only.attributes().map(|attribute| attribute.name());
            names.all(|name| PLAIN_CLIP.contains(&name))
        };
        let Some(only) = only.filter(is_plain) else {
            return Ok(None);
        };
        if odd || more.is_some() || clip.tag_name().name() != "clipPath" {
            return Ok(None);
        }
        self.looked_at(only)?;
        let own = match only.attribute("transform") {
            Some(text) => self.transform(text),
            None => Affine::IDENTITY,
        };
        let path = self.outline(only)?;
        Ok(path.map(|path| self.page.on_paper(to_page * own * path, false)))
    }
}
