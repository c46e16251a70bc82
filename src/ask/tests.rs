use super::{BlankKind, blank, questions};
use crate::input::families::Library;
use crate::input::{PatternSpec, Source};
use crate::solve::{Pattern, solve};
use proptest::prelude::*;
use std::path::Path;
use toml_edit::DocumentMut;

fn demo(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("shapes/demo")
        .join(name);
    std::fs::read_to_string(path).unwrap()
}

const DEMOS: [&str; 6] = [
    "under-panel.toml",
    "under-panel-tied.toml",
    "heat-shield-rear.toml",
    "fascia-socket.toml",
    "heat-shield.toml",
    "fascia-wide.toml",
];

pub(super) fn answered(definition: &mut DocumentMut, id: &str, line: &str) -> Result<(), String> {
    let asked = questions(definition, &Library::shipped());
    let question = asked.iter().find(|own| own.id == id);
    let question = question.ok_or_else(|| format!("`{id}` is not asked"))?;
    question.write(definition, &question.rows(line))
}

pub(super) fn pattern(text: &str) -> Pattern {
    let spec = PatternSpec::read(&Source::new("asked.toml", text))
        .unwrap_or_else(|report| panic!("{report}\n{text}"));
    solve(&spec, &Library::shipped()).unwrap_or_else(|errors| panic!("{errors:?}"))
}

/// Fourteen answers, no text among them, and the cut line is the under-panel demo's.
#[test]
fn answers_alone_give_the_opening_of_the_under_panel() {
    let answers = [
        ("seen-from", "below"),
        ("datum-edge", "rear"),
        ("width", "980"),
        ("material", "pp"),
        ("thickness", "2.5"),
        ("edge", "0, 0; 250, 4; 490, 6; 730, 4; 980, 0"),
        (
            "profile",
            "0, 14; 15, 8.5; 30, 4.5; 50, 1; 80, -1; 120, -1.5; 200, -1.5",
        ),
        ("profile-error", "0.3"),
        ("curved-along", "edge"),
        ("pairs", "112, 867, 18, yes; 301, 679, 42, yes"),
        ("locators", "430, 118, 10; 552, 84, 8"),
        ("part.1.size", "60, 60, 4"),
        ("part.1.at", "0, 34"),
        ("open-at-edge", "yes"),
    ];
    assert!(answers.len() <= 14);
    let mut definition = blank("asked");
    for (id, line) in answers {
        answered(&mut definition, id, line).unwrap_or_else(|why| panic!("{id}: {why}"));
    }
    let asked = pattern(&definition.to_string());
    let wanted = pattern(&demo("under-panel.toml"));
    let [asked, wanted] = [&asked, &wanted].map(|pattern| {
        assert_eq!(pattern.openings.len(), 1);
        pattern.openings[0].outline.sides().collect::<Vec<_>>()
    });
    assert_eq!(asked.len(), wanted.len());
    for (one, other) in asked.iter().zip(&wanted) {
        for step in 0..=10 {
            let t = f64::from(step) / 10.0;
            let off = one.at(t).distance(other.at(t));
            assert!(off < 0.01, "{off} mm off");
        }
    }
}

/// What is there already can be answered: the demo of it comes out.
#[test]
fn answers_give_the_demo_of_what_is_there() {
    let there = [
        ("seen-from", "below"),
        ("datum-edge", "rear"),
        ("width", "360"),
        ("material", "aluminium"),
        ("thickness", "0.8"),
        ("pairs", "92, 270, 150, yes"),
        ("part.1.size", "36, 60, 3"),
        ("part.1.at", "0, 62"),
        ("holes", "205.5, 96, 12"),
        ("take-in", "old hole 1"),
        ("trims", "rear, 6"),
        ("trim.1.points", "60, 0; 60, 16; 300, 16; 300, 0"),
        ("feet", "130, 50, 0, 120"),
        ("features", "rib, 60, 8, 54 mm left, 70, 5"),
        ("open-at-edge", "yes"),
        ("rough-cut", "yes"),
        ("gap", "4"),
        ("position", "1.5"),
    ];
    let mut definition = blank("asked");
    for (id, line) in there {
        answered(&mut definition, id, line).unwrap_or_else(|why| panic!("{id}: {why}"));
    }
    let text = definition.to_string();
    let (asked, wanted) = (pattern(&text), pattern(&demo("heat-shield-rear.toml")));
    let area = |pattern: &Pattern| pattern.openings[0].outline.area();
    assert!((area(&asked) - area(&wanted)).abs() < 0.01, "{text}");
    assert_eq!(
        asked.openings[0].rough.is_some(),
        wanted.openings[0].rough.is_some()
    );
    assert_eq!((asked.feet.len(), asked.features.len()), (1, 1));
    answered(&mut definition, "gap-to", "9").unwrap_or_else(|why| panic!("{why}"));
    assert!(area(&pattern(&definition.to_string())) > area(&asked));
}

/// A foot can be round, and a part without a place can be tied.
#[test]
fn other_shapes_and_ties_can_be_answered() {
    let mut definition = blank("asked");
    for (id, line) in [
        ("seen-from", "below"),
        ("datum-edge", "rear"),
        ("width", "400"),
        ("material", "pp"),
        ("thickness", "2.5"),
        ("pairs", "100, 300, 150, yes"),
        ("locators", "140, 30, 8; 260, 30, 8"),
        ("part.1.size", "30, 30, 2"),
        ("feet", "60, 40, 0, 110"),
        ("foot.1.what", "round-hole"),
        ("foot.1.size", "70"),
    ] {
        answered(&mut definition, id, line).unwrap_or_else(|why| panic!("{id}: {why}"));
    }
    let asked = questions(&definition, &Library::shipped());
    let has = |id: &str| asked.iter().any(|own| own.id == id);
    assert!(has("part.1.at") && has("part.1.ties"));
    let ties = asked.iter().find(|own| own.id == "part.1.ties").unwrap();
    let BlankKind::Choice(from) = &ties.blanks.last().unwrap().kind else {
        panic!("{:?}", ties.blanks);
    };
    let names = from.iter().map(|(name, _)| name.as_str());
    let names: Vec<&str> = names.filter(|name| name.starts_with("locator")).collect();
    // 60 to each side and 40 deeper: 72.11 each.
    let line = format!("72.11, , {}; 72.11, , {}", names[0], names[1]);
    answered(&mut definition, "part.1.ties", &line).unwrap_or_else(|why| panic!("{why}"));
    let asked = questions(&definition, &Library::shipped());
    assert!(!asked.iter().any(|own| own.id == "part.1.at"));
    let solved = pattern(&definition.to_string());
    let area = solved.feet[0].outline.area();
    assert!(
        (area - std::f64::consts::PI * 35.0 * 35.0).abs() < 1e-6,
        "{area}"
    );
    let at = solved.parts[0].origin;
    assert!(at.x.abs() < 0.01 && (at.y - 70.0).abs() < 0.01, "{at:?}");
}

/// What was read out and is written back leaves every byte of a file made by hand as it was.
#[test]
fn answers_written_back_change_nothing() {
    let shapes = Library::shipped();
    for name in DEMOS {
        let text = demo(name);
        let mut definition: DocumentMut = text.parse().unwrap();
        let mut tried = 0;
        for question in questions(&definition.clone(), &shapes) {
            let answer = question.read(&definition);
            if answer.is_empty() {
                continue;
            }
            question
                .write(&mut definition, &answer)
                .unwrap_or_else(|why| panic!("{name}, {}: {why}", question.id));
            assert_eq!(definition.to_string(), text, "{name}, {}", question.id);
            let line = question.line(&answer);
            question
                .write(&mut definition, &question.rows(&line))
                .unwrap();
            assert_eq!(definition.to_string(), text, "{name}, {}", question.id);
            tried += 1;
        }
        assert!(tried >= 12, "{name}: {tried}");
    }
}

/// An answer for each kind of blank, other than what stands there.
fn other(question: &super::Question, now: &[Vec<String>]) -> Vec<Vec<String>> {
    use super::BlankKind::*;
    let row = |row: &[String]| {
        question
            .blanks
            .iter()
            .enumerate()
            .map(|(place, blank)| {
                let old = row.get(place).map_or("", String::as_str);
                match &blank.kind {
                    Length => if old == "77" { "78" } else { "77" }.into(),
                    Angle => if old == "7 deg" { "8 deg" } else { "7 deg" }.into(),
                    Place(sides) => format!("7 mm {}", sides[0]),
                    Choice(words) => words
                        .iter()
                        .map(|(word, _)| word)
                        .find(|word| *word != old)
                        .or(words.first().map(|(word, _)| word))
                        .unwrap()
                        .clone(),
                    YesOrNo => if old == "yes" { "no" } else { "yes" }.into(),
                    Count(_) => if old == "2" { "1" } else { "2" }.into(),
                    Name => "other".into(),
                }
            })
            .collect::<Vec<String>>()
    };
    row(now.first().map_or(&[][..], Vec::as_slice))
        .into_iter()
        .fold(vec![vec![]], |mut all: Vec<Vec<String>>, text| {
            all[0].push(text);
            all
        })
}

/// Going back to one answer and taking it back leaves all others as they were.
#[test]
fn going_back_changes_one_answer() {
    let shapes = Library::shipped();
    for name in DEMOS {
        let first: DocumentMut = demo(name).parse().unwrap();
        for question in questions(&first, &shapes) {
            // These bring and take other questions with them.
            let leads = [".what", "parts", "openings", "pairs", "locators"]
                .iter()
                .any(|end| question.id.ends_with(end));
            if leads {
                continue;
            }
            let before = question.read(&first);
            let mut definition = first.clone();
            if question
                .write(&mut definition, &other(&question, &before))
                .is_err()
            {
                continue;
            }
            for same in questions(&first, &shapes)
                .iter()
                .filter(|own| own.id != question.id)
            {
                assert_eq!(
                    same.read(&definition),
                    same.read(&first),
                    "{name}: {} changed {}",
                    question.id,
                    same.id
                );
            }
            question.write(&mut definition, &before).unwrap();
            for same in questions(&first, &shapes) {
                assert_eq!(
                    same.read(&definition),
                    same.read(&first),
                    "{name}: {} back, {}",
                    question.id,
                    same.id
                );
            }
        }
    }
}

#[test]
fn what_a_blank_does_not_take_is_said_in_its_words() {
    let mut definition = blank("x");
    let told = |definition: &mut DocumentMut, id: &str, line: &str| {
        answered(definition, id, line).unwrap_err()
    };
    assert!(told(&mut definition, "width", "wide").contains("end to end"));
    let too_long = told(&mut definition, "width", "6 m");
    assert!(too_long.contains("at most 5 m"), "{too_long}");
    assert!(told(&mut definition, "seen-from", "underneath").contains("below"));
    assert!(told(&mut definition, "pairs", "112, 867").contains("from the edge"));
    assert!(told(&mut definition, "part.1.at", "4 mm, 30").contains("left"));
    assert_eq!(
        definition.to_string(),
        blank("x").to_string(),
        "nothing is written"
    );
}

#[test]
fn parts_have_an_opening_together_or_each_or_none() {
    let mut definition = blank("x");
    answered(&mut definition, "parts", "3").unwrap();
    assert_eq!(definition["opening"].as_array_of_tables().unwrap().len(), 1);
    answered(&mut definition, "openings", "each").unwrap();
    answered(&mut definition, "part.2.name", "bolt").unwrap();
    let text = definition.to_string();
    assert_eq!(
        definition["opening"].as_array_of_tables().unwrap().len(),
        3,
        "{text}"
    );
    assert!(text.contains("around = [\"bolt\"]"), "{text}");
    answered(&mut definition, "parts", "1").unwrap();
    assert_eq!(definition["opening"].as_array_of_tables().unwrap().len(), 1);
    answered(&mut definition, "parts", "0").unwrap();
    assert!(answered(&mut definition, "opening.what", "notch").is_ok());
    assert!(answered(&mut definition, "opening.size", "80, 60, 10").is_ok());
    assert!(answered(&mut definition, "opening.at", "0, 0").is_ok());
    for (id, line) in [
        ("seen-from", "below"),
        ("datum-edge", "rear"),
        ("width", "900"),
    ] {
        answered(&mut definition, id, line).unwrap();
    }
    assert_eq!(pattern(&definition.to_string()).openings.len(), 1);
}

proptest! {
    /// Whatever is answered, the reader takes it, or says what is missing; it never finds an answer
    /// that the blanks took of the wrong kind.
    #[test]
    fn answers_make_definitions(picks in prop::collection::vec((0usize..60, 0usize..6, 0usize..6), 0..60)) {
        let shapes = Library::shipped();
        let mut definition = blank("x");
        for (which, one, two) in picks {
            let asked = questions(&definition, &shapes);
            let question = &asked[which % asked.len()];
            let lines = ["0", "50", "1/2 in", "4 mm left", "12 deg", "yes"];
            let text = |blank: &super::Blank, n: usize| match &blank.kind {
                super::BlankKind::Choice(words) => words[n % words.len()].0.clone(),
                super::BlankKind::Count(_) => n.to_string(),
                super::BlankKind::Place(sides) if n > 0 => format!("{n} in {}", sides[n % 2]),
                super::BlankKind::Place(_) => "0".into(),
                super::BlankKind::YesOrNo => if n.is_multiple_of(2) { "yes" } else { "no" }.into(),
                super::BlankKind::Name => format!("name-{n}"),
                super::BlankKind::Angle => format!("{n} deg"),
                super::BlankKind::Length => lines[n % 3].into(),
            };
            let row = question.blanks.iter().enumerate().map(|(place, blank)| text(blank, one + place * two)).collect();
            let _ = question.write(&mut definition, &[row]);
            let text = definition.to_string();
            let read = PatternSpec::read(&Source::new("x.toml", text.as_str()));
            if let Err(report) = read {
                for problem in &report.problems {
                    let words = &problem.message;
                    let wrong = ["unknown key", "must be a", "can't be parsed", "is not a"].iter().any(|bad| words.contains(bad));
                    prop_assert!(!wrong, "{words}\n{text}");
                }
            }
        }
    }
}

/// Inches for millimetres and back: nothing that was measured changes, whatever it was written in.
#[test]
fn other_units_change_words_alone() {
    for name in DEMOS {
        let mut definition: DocumentMut = demo(name).parse().unwrap();
        let first = lengths(&pattern(&definition.to_string()));
        let before = answer_of(&definition, "units");
        let other = if before == "in" { "mm" } else { "in" };
        for units in [other, &before] {
            answered(&mut definition, "units", units).unwrap();
            let now = lengths(&pattern(&definition.to_string()));
            assert_eq!(now.len(), first.len(), "{name} in {units}");
            for (now, was) in now.iter().zip(&first) {
                assert!(
                    (now - was).abs() < 1e-9,
                    "{name} in {units}: {now}, was {was}"
                );
            }
        }
    }
    let mut definition = blank("asked");
    answered(&mut definition, "width", "980").unwrap();
    answered(&mut definition, "part.1.size", "63.5, 60").unwrap();
    answered(&mut definition, "part.1.at", "12.7 left, 1/2 in").unwrap();
    answered(&mut definition, "units", "in").unwrap();
    assert_eq!(answer_of(&definition, "width"), "980 mm");
    assert_eq!(answer_of(&definition, "part.1.size"), "2-1/2, 60 mm");
    assert_eq!(answer_of(&definition, "part.1.at"), "1/2 left, 1/2");
    answered(&mut definition, "units", "mm").unwrap();
    assert_eq!(answer_of(&definition, "width"), "980");
    assert_eq!(answer_of(&definition, "part.1.size"), "63.5, 60");
    assert_eq!(answer_of(&definition, "part.1.at"), "12.7 left, 12.7");
}

fn answer_of(definition: &DocumentMut, id: &str) -> String {
    let asked = questions(definition, &Library::shipped());
    let question = asked.iter().find(|own| own.id == id).unwrap();
    let line = question.line(&question.read(definition));
    if line.is_empty() { "mm".into() } else { line }
}

/// What was measured, as it was understood, mm: parts, locators, the panel, and gaps. The tools of a
/// shop that works in inches are others, and so are corners of openings.
fn lengths(pattern: &Pattern) -> Vec<f64> {
    let parts = pattern.parts.iter().flat_map(|part| {
        let bounds = part.outline.bounds();
        [
            bounds.x0,
            bounds.y0,
            bounds.x1,
            bounds.y1,
            part.origin.x,
            part.origin.y,
        ]
    });
    let locators = pattern
        .locators
        .iter()
        .flat_map(|own| [own.at.x, own.at.y, own.diameter.unwrap_or(0.0)]);
    let size = pattern
        .panel
        .size
        .into_iter()
        .flat_map(|size| [size.x0, size.x1, size.y1]);
    let gaps = pattern.spacings.iter().map(|clear| clear.gap);
    parts.chain(locators).chain(size).chain(gaps).collect()
}

#[test]
fn ties_are_answered_and_taken_back() {
    let mut definition: DocumentMut = demo("under-panel-tied.toml").parse().unwrap();
    let tied = |definition: &DocumentMut| {
        let pattern = pattern(&definition.to_string());
        let tied = pattern.parts[0].tied.clone();
        (
            pattern.parts[0].origin,
            tied.map_or(0, |tied| tied.ties.len()),
        )
    };
    let (before, three) = tied(&definition);
    assert_eq!(three, 3);
    let line = "101.5, , outer clip holes, left; 102.5, , outer clip holes, right";
    answered(&mut definition, "part.1.ties", line).unwrap();
    let (after, two) = tied(&definition);
    assert!(two == 2 && before.distance(after) < 2.0);
    let more = format!("{line}; 119.5, , drain hole");
    answered(&mut definition, "part.1.ties", &more).unwrap();
    assert_eq!(tied(&definition), (before, 3));
    let asked = questions(&definition, &Library::shipped());
    let question = asked.iter().find(|own| own.id == "part.1.ties").unwrap();
    assert_eq!(question.line(&question.read(&definition)), more);
    let why = answered(&mut definition, "part.1.ties", "90, , dran hole").unwrap_err();
    assert!(why.contains("`dran hole` is none of"), "{why}");
    // One alone is refused by this question.
    answered(&mut definition, "part.1.ties", "90, , drain hole").unwrap();
    let text = definition.to_string();
    let report = PatternSpec::read(&Source::new("asked.toml", &*text)).unwrap_err();
    let asked = questions(&definition, &Library::shipped());
    let by = super::asked_by(&text, &asked, &report.problems[0]).unwrap();
    assert_eq!(by.id, "part.1.ties", "{report}");
    // Taken back, the middle is asked.
    answered(&mut definition, "part.1.ties", "").unwrap();
    answered(&mut definition, "part.1.at", "0, 60").unwrap();
    assert_eq!(tied(&definition).1, 0);
}
