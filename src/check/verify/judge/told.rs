//! What is wrong with the ink of a page, in words: on which sheet, in which layer, where, and what a
//! fitter loses by it.

use super::account::{Account, wanted_box};
use super::shown::Shown;
use crate::base::fixed;
use crate::base::length::Units;
use crate::check::verify::measured::MeasuredPage;
use crate::check::verify::paint::Tone;
use crate::check::verify::report::{Finding, Outcome, Topic};
use crate::check::verify::wanted::WantedMark;
use crate::draw::ink::{Ink, Layer, Width};
use kurbo::{Affine, Point, Rect};
use std::collections::BTreeMap;

/// How far other words may stand from those that they stand for, mm.
const INSTEAD: f64 = 4.0;
/// Most marks that are looked through for what became of one.
const MOST: usize = 2000;

/// A page, and what it must show.
pub(super) struct Page<'a> {
    pub(super) index: usize,
    pub(super) page: &'a MeasuredPage,
    pub(super) layers: &'a [String],
    pub(super) to_sheet: Affine,
    pub(super) wanted: &'a [WantedMark<'a>],
    /// That lengths are told in; widths of lines are mm everywhere.
    pub(super) units: Units,
}

/// What is wrong in one topic.
#[derive(Default)]
struct Wrong<'a, 'p> {
    lacking: Vec<usize>,
    extra: Vec<&'a Shown<'p>>,
    hidden: Vec<usize>,
    clipped: Vec<usize>,
    ragged: Vec<usize>,
}

/// What is wrong with a page; `hidden` is what something was painted over, `None` where that can't
/// be told.
pub(super) fn findings(
    page: &Page<'_>,
    account: &Account<'_>,
    hidden: Option<Vec<usize>>,
) -> Vec<Finding> {
    let mut found = vec![];
    let mut add = |outcome, topic, words: String| {
        found.push(Finding::new(outcome, topic, words).on(page.index));
    };
    if page.page.pictured.is_empty() && account.wrong() == 0 && hidden == Some(vec![]) {
        return found;
    }
    let mut topics: BTreeMap<Topic, Wrong<'_, '_>> = BTreeMap::new();
    let topic = |place: usize| topic(page.wanted[place].mark.layer);
    for place in &account.lacking {
        topics
            .entry(topic(*place))
            .or_default()
            .lacking
            .push(*place);
    }
    for place in &account.clipped {
        topics
            .entry(topic(*place))
            .or_default()
            .clipped
            .push(*place);
    }
    for place in &account.ragged {
        topics.entry(topic(*place)).or_default().ragged.push(*place);
    }
    for place in hidden.iter().flatten() {
        topics.entry(topic(*place)).or_default().hidden.push(*place);
    }
    for mark in account.extra.iter().filter(|mark| !mark.hides_only()) {
        let mut topic = page.topic_of(mark);
        // What is like the cut line is cut to, whatever its layer; where its layer lacks a line, it is
        // that one.
        let lacks = |topic| {
            topics
                .get(&topic)
                .is_some_and(|wrong| !wrong.lacking.is_empty())
        };
        if is_like_cut(mark) && !lacks(topic) {
            topic = Topic::CutLine;
        }
        topics.entry(topic).or_default().extra.push(mark);
    }
    for (topic, wrong) in topics {
        let whole = page
            .wanted
            .iter()
            .filter(|wanted| self::topic(wanted.mark.layer) == topic);
        let whole = whole.count();
        let loses = topic.loses();
        if !wrong.lacking.is_empty() {
            let lacking = wrong.lacking.len();
            if lacking == whole && wrong.extra.is_empty() {
                add(Outcome::Fault, topic, format!("gone: {loses}"));
            } else {
                let first = page.lost(wrong.lacking[0], account);
                let words = format!(
                    "{lacking} of {whole} marks are not where they must be: {first}; {loses}"
                );
                add(Outcome::Fault, topic, words);
            }
        } else if let Some(first) = wrong.extra.first() {
            let first = page.described(first);
            let what = match wrong.extra.len() {
                1 => "a mark that is not in the definition".into(),
                count => format!("{count} marks that are not in the definition"),
            };
            add(Outcome::Fault, topic, format!("{what}: {first}; {loses}"));
        }
        for (outcome, places, what) in [
            (
                Outcome::CannotJudge,
                &wrong.hidden,
                "something was painted over the",
            ),
            (
                Outcome::Fault,
                &wrong.clipped,
                "more or less than must be is seen of the",
            ),
            (
                Outcome::CannotJudge,
                &wrong.ragged,
                "what can be seen hangs on a clip or mask that is no box: of the",
            ),
        ] {
            if let Some(first) = places.first() {
                let at = page.place(wanted_box(page.wanted[*first]));
                add(outcome, topic, format!("{what} {}, {at}", topic.words()));
            }
        }
    }
    if hidden.is_none() {
        let words = "so much is painted in the paper's colour that it can't be told what it hides";
        add(Outcome::CannotJudge, Topic::Ink, words.into());
    }
    if let Some(picture) = page.page.pictured.first() {
        let at = page.place(page.to_sheet.transform_rect_bbox(*picture));
        let words =
            format!("a picture or a shading stands on it, {at}: what it shows can't be told");
        add(Outcome::CannotJudge, Topic::Ink, words);
    }
    if let Some((place, label)) = account.misread.first() {
        let words = format!("`{}` is drawn, and told as `{label}`", page.words(*place));
        add(Outcome::Fault, Topic::Words, words);
    }
    found
}

impl Page<'_> {
    /// What a mark that must not be there is about.
    fn topic_of(&self, mark: &Shown<'_>) -> Topic {
        let name = mark.layer().and_then(|layer| self.layers.get(layer));
        let layer = Layer::ALL
            .into_iter()
            .find(|layer| name.is_some_and(|name| layer.name() == name));
        match (layer, mark) {
            (Some(layer), _) => topic(layer),
            (None, Shown::Letters(_)) => Topic::Words,
            (None, Shown::Area(area)) if area.label.is_some() => Topic::Words,
            (None, _) => Topic::Ink,
        }
    }

    fn words(&self, place: usize) -> &str {
        match &self.wanted[place].mark.ink {
            Ink::Text(text) => &text.words,
            _ => "",
        }
    }

    /// Where something stands, measured on the sheet.
    fn place(&self, of: Rect) -> String {
        let middle = of.center();
        format!(
            "{} from the left and {} from the foot",
            self.units.length(middle.x),
            self.units.length(middle.y)
        )
    }

    /// What became of a mark that is not there, and where it must be.
    fn lost(&self, place: usize, account: &Account<'_>) -> String {
        let must = wanted_box(self.wanted[place]);
        let at = self.place(must);
        let mark = self.wanted[place].mark;
        let others = || account.extra.iter().take(MOST);
        let on_sheet = |mark: &Shown<'_>| {
            let own = mark.bounds(self.page);
            own.map_or(Rect::ZERO, |own| self.to_sheet.transform_rect_bbox(own))
        };
        match &mark.ink {
            Ink::Text(text) => {
                let instead = others().find_map(|other| {
                    let (words, begin) = match other {
                        Shown::Letters(letters) => {
                            (letters.words.as_str(), letters.glyphs.first()?.1)
                        }
                        Shown::Area(area) => {
                            let bounds = on_sheet(other);
                            let begin = Point::new(bounds.x0, bounds.y0);
                            (area.label.as_deref()?, self.to_sheet.inverse() * begin)
                        }
                        Shown::Stroke(_) => return None,
                    };
                    let far = must
                        .inflate(INSTEAD, INSTEAD)
                        .contains(self.to_sheet * begin);
                    far.then_some(words)
                });
                match instead {
                    Some(words) if words == text.words => {
                        format!("`{words}`, {at}, stands elsewhere or is drawn by other letters")
                    }
                    Some(words) => {
                        format!(
                            "it says `{}` where `{}` must stand, {at}",
                            plain(words),
                            text.words
                        )
                    }
                    None => format!("`{}` is lacking, {at}", text.words),
                }
            }
            _ => {
                let like = |other: &&Shown<'_>| {
                    let own = on_sheet(other);
                    (own.width() - must.width()).abs() < 0.2
                        && (own.height() - must.height()).abs() < 0.2
                };
                let moved = others().filter(like).map(|other| {
                    let by = on_sheet(other).center() - must.center();
                    (by.hypot(), by)
                });
                let moved = moved.min_by(|a, b| a.0.total_cmp(&b.0));
                match moved {
                    Some((far, by)) if far > 0.005 => format!(
                        "the first, {at}, is moved by {} to the right and {} up",
                        self.units.doubt(by.x, 2),
                        self.units.doubt(by.y, 2)
                    ),
                    Some(_) => format!("the first, {at}, is drawn otherwise"),
                    None => format!("the first must stand {at}"),
                }
            }
        }
    }

    /// A mark that must not be there.
    fn described(&self, mark: &Shown<'_>) -> String {
        let bounds = mark.bounds(self.page).unwrap_or(Rect::ZERO);
        let at = self.place(self.to_sheet.transform_rect_bbox(bounds));
        let faint = match mark.painted().tone {
            Tone::Faint => "faint ",
            _ => "",
        };
        match mark {
            Shown::Stroke(stroke) => {
                let broken = if stroke.dashes.any() { "broken " } else { "" };
                let width = fixed(stroke.width, 2);
                format!("a {faint}{broken}line {width} mm wide, {at}")
            }
            Shown::Area(area) => match &area.label {
                Some(label) => format!("{faint}`{}`, {at}", plain(label)),
                None => format!("a {faint}filled area, {at}"),
            },
            Shown::Letters(letters) if letters.glyphs.iter().any(|(glyph, _)| glyph.is_none()) => {
                format!("letters of a typeface that is not known, {at}")
            }
            Shown::Letters(letters) => format!("{faint}`{}`, {at}", plain(&letters.words)),
        }
    }
}

/// Whether a line may be taken for the cut line.
fn is_like_cut(mark: &Shown<'_>) -> bool {
    let width = Width::Thick.mm();
    matches!(mark, Shown::Stroke(stroke) if !stroke.dashes.any()
        && (stroke.width - width).abs() < 0.2 * width)
}

/// Words of a file, safe to show.
pub(super) fn plain(words: &str) -> String {
    let safe = words.chars().filter(|letter| !letter.is_control());
    safe.take(60).collect()
}

/// What the findings of a layer are about.
fn topic(layer: Layer) -> Topic {
    match layer {
        Layer::Cut => Topic::CutLine,
        Layer::Waste => Topic::Hatching,
        Layer::Fold => Topic::DatumEdge,
        Layer::Panel => Topic::Panel,
        Layer::Centreline => Topic::Centreline,
        Layer::Locators => Topic::Locators,
        Layer::Parts => Topic::Parts,
        Layer::Feet => Topic::Feet,
        Layer::Behind => Topic::Behind,
        Layer::KeepOut => Topic::KeepOut,
        Layer::Relief => Topic::Relief,
        Layer::Dimensions => Topic::Dimensions,
        Layer::Findings => Topic::Findings,
        Layer::CheckRuler => Topic::CheckRuler,
        Layer::Register => Topic::Register,
        Layer::Frame => Topic::Frame,
        Layer::Code => Topic::Code,
        Layer::Text => Topic::Words,
    }
}

/// Without what a pattern is judged and laid by nothing can be said of the rest.
pub(super) fn whole_layers(findings: &mut [Finding]) {
    for finding in findings {
        let judged_by = matches!(
            finding.topic,
            Topic::CutLine
                | Topic::CheckRuler
                | Topic::DatumEdge
                | Topic::Centreline
                | Topic::Locators
        );
        if judged_by && finding.words.starts_with("gone") {
            finding.outcome = Outcome::CannotJudge;
        }
    }
}
