//! The facts of a pattern, a line each. Every field is named: one that is added is a fact or is said
//! to be none.

use crate::base::words::{hex, shown};
use crate::geometry::development::Along;
use crate::geometry::outline::{Outline, Side};
use crate::input::{CircleSize, Extent, FormSpec, Identity};
use crate::model::clearance::Kind;
use crate::solve::{
    Basis, Centreline, Clearances, Feature, Locator, Opening, Panel, Part, Pattern,
};
use kurbo::Point;
use sha2::{Digest, Sha256};

/// Every fact of a pattern, in no order.
pub(super) fn facts(pattern: &Pattern) -> Vec<String> {
    let Pattern {
        identity,
        units,
        orientation,
        panel,
        surface,
        centreline,
        parts,
        clearances,
        scale_error,
        openings,
        locators,
        holes,
        keep_outs,
        feet,
        features,
        lines,
        findings,
        // Worked out from what is listed.
        spacings: _,
        developed: _,
        hold: _,
        fouls: _,
    } = pattern;
    let mut facts = Facts::default();
    facts.identity(identity);
    facts.add("sizes in", units.word());
    facts.add("seen from", orientation.seen_from().word());
    facts.add("datum edge", orientation.datum_edge().word());
    facts.add("head of the page", orientation.page_up().word());
    facts.panel(panel);
    facts.add("rake", mm(surface.surface.rake().to_degrees()));
    if let Some(form) = &surface.form {
        facts.form(form, surface.surface.along());
    }
    facts.centreline(centreline);
    parts.iter().for_each(|part| facts.part(part));
    clearances.iter().for_each(|own| facts.clearance(own));
    facts.add("print may be off by", mm(scale_error * 100.0));
    openings.iter().for_each(|opening| facts.opening(opening));
    locators
        .iter()
        .for_each(|own| facts.locator("locator", own));
    holes.iter().for_each(|own| facts.locator("hole", own));
    for area in keep_outs {
        let words = [
            area.guards.word().into(),
            mm(area.distance),
            outline(&area.outline),
        ];
        facts.about("keep-out", &area.name, words);
    }
    for foot in feet {
        facts.about("foot", &foot.name, [outline(&foot.outline)]);
    }
    features.iter().for_each(|own| facts.feature(own));
    for line in lines {
        facts.about("line", &line.name, line.points.iter().map(|at| point(*at)));
    }
    for finding in findings {
        if let Some(accepted) = &finding.accepted {
            let words = [accepted.by.clone(), accepted.because.clone()];
            facts.about("accepted", finding.id.as_str(), words);
        }
    }
    facts.into_lines()
}

/// Facts as they are gathered.
#[derive(Debug, Default)]
pub(crate) struct Facts(Vec<String>);

impl Facts {
    /// A fact; one that says nothing is none.
    pub(crate) fn add(&mut self, name: &str, words: impl AsRef<str>) {
        let words = words.as_ref();
        if !words.is_empty() {
            self.0.push(format!("{name}: {}", one_line(words)));
        }
    }

    /// What a title block says, and the notes by their number.
    pub(crate) fn titles<const N: usize>(&mut self, words: [(&str, &String); N], notes: &[String]) {
        for (name, words) in words {
            self.add(name, words);
        }
        for (at, note) in notes.iter().enumerate() {
            self.add(&format!("note {}", at + 1), note);
        }
    }

    /// A fact about a thing of that kind and name.
    pub(crate) fn about(
        &mut self,
        kind: &str,
        name: &str,
        words: impl IntoIterator<Item = String>,
    ) {
        let words: Vec<String> = words.into_iter().collect();
        // A name holds no end of itself.
        let name = shown(name).replace(": ", " : ");
        self.add(&format!("{kind} {name}"), words.join(", "));
    }

    /// All of them, each as `name: words`.
    pub(crate) fn into_lines(self) -> Vec<String> {
        self.0
    }

    fn identity(&mut self, identity: &Identity) {
        let Identity {
            number,
            title,
            revision,
            issued,
            owner,
            drawn_by,
            approved_by,
            vehicle,
            accessory,
            notes,
        } = identity;
        let words = [
            ("number", &number.value),
            ("title", title),
            ("revision", revision),
            ("issued", issued),
            ("owner", owner),
            ("drawn by", drawn_by),
            ("approved by", approved_by),
            ("vehicle", vehicle),
            ("accessory", accessory),
        ];
        self.titles(words, notes);
    }

    fn panel(&mut self, panel: &Panel) {
        let Panel {
            name,
            material,
            thickness,
            size,
            extent,
            outline: edge,
            // Lies on the outline.
            edge: _,
        } = panel;
        self.add("panel", name);
        self.add("material", material.map_or("", |material| material.name));
        self.add("thickness", thickness.map_or_else(String::new, mm));
        self.add("panel's outline", outline(edge));
        if size.is_none() {
            self.add("panel's size", "not told");
        }
        if *extent == Extent::Panel {
            self.add("printed", extent.word());
        }
    }

    fn form(&mut self, form: &FormSpec, along: Along) {
        let along = match along {
            Along::Across => "across",
            Along::EdgeToEdge => "from edge to edge",
        };
        match form {
            FormSpec::Flat => {}
            FormSpec::Circle {
                size,
                bulges,
                crown,
            } => {
                let size = match *size {
                    CircleSize::Chord { chord, rise } => {
                        format!("chord {} rise {}", mm(chord), mm(rise))
                    }
                    CircleSize::Radius(radius) => format!("radius {}", mm(radius)),
                };
                let sign = match bulges {
                    crate::geometry::development::Bulge::Towards => "towards",
                    crate::geometry::development::Bulge::Away => "away",
                };
                self.add("curve", format!("{along}, {size}, {sign}, {}", mm(*crown)));
            }
            FormSpec::Profile { one, other, error } => {
                for profile in [Some(one), other.as_ref()].into_iter().flatten() {
                    let read = profile.readings.value.iter();
                    let read: Vec<String> = read
                        .map(|(at, falls)| format!("{}:{}", mm(*at), mm(*falls)))
                        .collect();
                    let name = format!("profile {along} at {}", mm(profile.at));
                    self.add(&name, read.join(" "));
                }
                self.add("profiles known to", mm(*error));
            }
        }
    }

    fn centreline(&mut self, line: &Centreline) {
        let from = line.zero.word();
        self.add(
            "middle",
            format!("{} from the {from} end", mm(line.reading)),
        );
        self.add("middle leans", mm(line.slope * 1000.0));
        let known = line.uncertainty_on_edge().map_or_else(String::new, mm);
        self.add("middle known to", known);
        match &line.basis {
            Basis::Assumed => self.add("middle found", "assumed"),
            Basis::Marked => self.add("middle found", "marked"),
            Basis::Pairs(pairs) => {
                for pair in pairs.residuals() {
                    self.about("pair", &pair.name, [mm(pair.depth), mm(pair.middle)]);
                }
            }
            Basis::Arcs(arcs) => {
                self.add("middle found", format!("arcs {}", mm(arcs.mark_right_by())))
            }
        }
    }

    fn part(&mut self, part: &Part) {
        let Part {
            name,
            outline: edge,
            gap,
            behind,
            tied,
            through,
            drilled,
            // Where its outline stands.
            origin: _,
            offset: _,
        } = part;
        let mut words = vec![outline(edge)];
        words.extend(gap.map(|gap| format!("gap {}", mm(gap))));
        words.extend(behind.map(|behind| format!("behind {}", mm(behind))));
        if let Some(tied) = tied {
            let ties = tied.ties.iter();
            words.extend(ties.map(|tie| {
                let (read, held) = (mm(tie.distance), point(tie.held));
                format!("tied {read} from {} to {held}", shown(&tie.from))
            }));
        }
        if let Some(through) = through {
            words.push(format!("through as {}", outline(&through.section)));
        }
        if let Some(drilled) = drilled {
            words.push(format!(
                "drilled {} {}",
                drilled.bolt.name,
                drilled.fit.word()
            ));
        }
        self.about("part", name, words);
    }

    fn clearance(&mut self, own: &Clearances) {
        let rows = own.budget.rows().into_iter();
        let rows = rows.filter(|row| matches!(row.kind, Kind::Added | Kind::Combined));
        let terms = rows.map(|row| {
            format!(
                "{} {}/{}",
                row.name,
                mm(row.value.sideways),
                mm(row.value.depthways)
            )
        });
        let sides = own.sides.iter();
        let sides = sides.map(|(side, gap)| format!("{} {}", side.word(), mm(*gap)));
        let follow = [
            own.follow.word().to_owned(),
            own.budget.combine.word().to_owned(),
        ];
        let words: Vec<String> = follow.into_iter().chain(terms).chain(sides).collect();
        self.about("clearance of", &own.opening, words);
    }

    fn opening(&mut self, own: &Opening) {
        let mut words = vec![outline(&own.outline)];
        words.extend(
            own.rough
                .iter()
                .flat_map(|rough| &rough.lines)
                .map(|rough| format!("rough {}", outline(rough))),
        );
        let relief = own.relief.iter().map(|hole| {
            format!(
                "{} {} at {}",
                hole.tool.words(),
                mm(hole.tool.diameter),
                point(hole.at)
            )
        });
        let mut relief: Vec<String> = relief.collect();
        relief.sort();
        words.extend(relief);
        words.extend(
            own.holes
                .iter()
                .map(|hole| format!("takes in {}", hole.name)),
        );
        if own.drilled_together {
            words.push("drilled together".into());
        }
        let kind = if own.is_trim() { "trim" } else { "opening" };
        self.about(kind, &own.name(), words);
    }

    fn locator(&mut self, kind: &str, own: &Locator) {
        let Locator {
            name,
            at,
            diameter,
            fixed,
        } = own;
        let mut words = vec![point(*at)];
        words.extend(diameter.map(|across| format!("diameter {}", mm(across))));
        words.extend(fixed.then(|| "fixed".to_owned()));
        self.about(kind, name, words);
    }

    fn feature(&mut self, own: &Feature) {
        let Feature {
            name,
            kind,
            outline: edge,
            height,
            // Worked out from the parts.
            first: _,
        } = own;
        let words = [kind.word().into(), mm(*height), outline(edge)];
        self.about("feature", name, words);
    }
}

/// Words that stand on one line.
fn one_line(words: &str) -> String {
    words
        .chars()
        .map(|letter| if letter.is_control() { ' ' } else { letter })
        .collect()
}

/// A length in mm to a thousandth.
///
/// What lies half-way goes up, and so does what lies a hair under it: sixty-fourths of an inch lie
/// half-way, and the last bit of a sum must not give another code.
fn mm(length: f64) -> String {
    const HAIR: f64 = 0.01;
    let thousandths = (length * 1000.0 + 0.5 + HAIR).floor();
    crate::base::fixed(thousandths / 1000.0, 3)
}

fn point(at: Point) -> String {
    format!("({} {})", mm(at.x), mm(at.y))
}

/// An outline as its size, its place, and a digest of every corner, from the least corner on.
fn outline(of: &Outline) -> String {
    let corners: Vec<String> = of
        .vertices()
        .iter()
        .map(|vertex| {
            let open = match vertex.side {
                Side::Cut => "",
                Side::Open => " open",
            };
            format!("{} {}{open}", point(vertex.point), mm(vertex.bulge))
        })
        .collect();
    let least = (0..corners.len())
        .min_by_key(|at| &corners[*at])
        .unwrap_or(0);
    let (before, from) = corners.split_at(least);
    let text = [from, before].concat().join("\n");
    let digest = Sha256::digest(text.as_bytes());
    let digest = hex(&digest[..8]);
    let bounds = of.bounds();
    let from = Point::new(bounds.x0, bounds.y0);
    format!(
        "{} x {} from {} #{digest}",
        mm(bounds.width()),
        mm(bounds.height()),
        point(from)
    )
}
