//! What the sheets tell of parts, clearances and findings.

use super::{around, panel, window};
use crate::common::{assert_close, drawn};
use trimloft::draw::ink::{Block, Cell, Drawing, Ink, Layer};
use trimloft::layout::{Paper, Setup, sheets};

fn neck() -> String {
    panel(
        &("[[locator]]\nname = \"clip\"\nacross = 552\nfrom_datum = 100\ndiameter = 8\n"
            .to_owned()
            + &window("neck", 60.0, 60.0, "0", 100.0)
            + "[[keep_out]]\nname = \"radar\"\nguards = \"sensor\"\nshape = \"round-hole\"\n\
               with = { diameter = 30 }\ncentre_offset = \"120 mm left\"\nfrom_datum = 120\n"
            + "[[line]]\nname = \"hem\"\nkind = \"fold\"\npoints = [[400, 200], [600, 200]]\n"
            + &around("hole", "\"neck\"", "follow = \"box\"")
            + "[[accepted]]\nfinding = \"ligament: hole, hole clip\"\nvalue = 8\nby = \"bay lead\"\n\
               because = \"the clip is left out\"\n"),
    )
}

fn told(drawing: &Drawing) -> String {
    drawing.told().collect::<Vec<_>>().join("\n")
}

/// The words of the front page on A4, line by line.
fn front_page(toml: &str) -> Vec<String> {
    let setup = Setup::new(Paper::parse("a4").unwrap());
    let set = sheets(&drawn(toml), &setup).unwrap();
    let words = set.pages[0].furniture.iter();
    words
        .filter_map(|mark| match &mark.ink {
            Ink::Text(text) => Some(text.words.clone()),
            _ => None,
        })
        .collect()
}

/// The rows of the first table after a heading, as words.
fn table(drawing: &Drawing, heading: &str) -> Vec<Vec<String>> {
    let blocks = &drawing.record;
    let after = blocks
        .iter()
        .position(|block| matches!(block, Block::Heading(words) if words == heading))
        .unwrap_or_else(|| panic!("no `{heading}`"));
    let Some(Block::Table { rows, .. }) = blocks[after..]
        .iter()
        .find(|block| matches!(block, Block::Table { .. }))
    else {
        panic!("no table after `{heading}`");
    };
    let cell = |cell: &Cell| match cell {
        Cell::Words(words) | Cell::Page(words, _) => words.clone(),
        Cell::TickBox | Cell::Blank => String::new(),
    };
    rows.iter()
        .map(|row| row.iter().map(cell).collect())
        .collect()
}

#[test]
fn the_printed_budget_adds_up() {
    for combine in ["worst-case", "root-sum-square"] {
        let toml = neck().replace(
            "[[opening]]",
            &format!("[clearance]\ncombine = \"{combine}\"\n[[opening]]"),
        );
        let rows = table(&drawn(&toml), "Clearance of hole");
        let number = |name: &str, column: usize| -> f64 {
            let row = rows.iter().find(|row| row[0].trim() == name);
            row.unwrap_or_else(|| panic!("no `{name}` in {rows:?}"))[column]
                .parse()
                .unwrap()
        };
        for column in [1, 2] {
            let terms = ["position", "centre", "marking", "cutting", "print"]
                .map(|name| number(name, column));
            let together = match combine {
                "worst-case" => terms.iter().sum::<f64>(),
                _ => 2.0 * (terms.iter().map(|term| term * term).sum::<f64>() / 3.0).sqrt(),
            };
            let chance = number("chance terms together", column);
            assert_close(chance, together, 0.011, combine);
            let sum = number("gap", column) + number("thermal", column) + chance;
            assert_close(
                number("clearance", column),
                sum,
                0.011,
                "the total is the sum of its rows",
            );
        }
        assert!(
            rows.iter().all(|row| !row[3].is_empty()),
            "a term without its reason: {rows:?}"
        );
    }
}

#[test]
fn how_chance_terms_are_combined_is_told_as_it_is_done() {
    let rows = table(&drawn(&neck()), "Clearance of hole");
    let row = rows
        .iter()
        .find(|row| row[0] == "chance terms together")
        .unwrap();
    assert_eq!(
        row[3],
        "2 x root of ((centre / 2)² + sum of the other squares / 3), at most their sum"
    );
}

#[test]
fn cautions_come_before_the_steps_and_name_what_may_lie_behind() {
    let page = front_page(&neck());
    let at = |heading: &str| page.iter().position(|words| words == heading);
    let (cautions, steps) = (at("Cautions").unwrap(), at("Steps").unwrap());
    assert!(cautions < steps, "{page:?}");
    let told = page[cautions..steps].join(" ");
    for words in [
        "high-voltage cables",
        "fuel and brake pipes",
        "Never cut the crash beam or its absorber",
        "Support a lowered exhaust",
        "a dust mask for glass fibre and old fibre shields",
        "gloves for sheet metal",
        "Paint bare edges of the chassis",
        "type plate",
        "ball mount, ball and trailer holds",
    ] {
        assert!(told.contains(words), "{words} is not in\n{told}");
    }
}

#[test]
fn sheets_say_what_full_size_is_from_the_clearances() {
    let reads = |toml: &str| {
        let page = front_page(toml);
        let reads = |words: &String| words.strip_prefix("100 mm must read ").map(str::to_owned);
        page.iter().find_map(reads).unwrap()
    };
    assert_eq!(reads(&neck()), "99.7 to 100.3 mm");
    let with =
        |term: &str| neck().replace("[[opening]]", &format!("[clearance]\n{term}\n[[opening]]"));
    assert_eq!(reads(&with("scale_error = \"0.5 %\"")), "99.5 to 100.5 mm");
    assert_eq!(reads(&with("print = 0")), "100 mm");
    // The farthest cut of the opening from the locator at (52, 100): its box reaches to -x, so
    // the share is 1 mm over that distance, and never more than a printer is off.
    let pattern = crate::common::solved(&with("print = 1"));
    let sides = pattern.openings[0].outline.sides();
    let places = sides.flat_map(|side| (0..=1000).map(move |at| side.at(f64::from(at) / 1000.0)));
    let locator = pattern.locators.iter().map(|locator| locator.at);
    let nearest = |at: &kurbo::Point| {
        locator
            .clone()
            .map(|one| one.distance(*at))
            .fold(f64::INFINITY, f64::min)
    };
    let farthest = places.map(|place| nearest(&place)).fold(0.0, f64::max);
    assert_close(
        pattern.scale_error,
        (1.0 / farthest).min(0.03),
        1e-5,
        "share",
    );
}

#[test]
fn what_each_part_keeps_is_measured_and_told() {
    let rows = table(&drawn(&neck()), "What each part keeps");
    assert_eq!(rows.len(), 1);
    assert_eq!(rows[0][0], "neck");
    assert_eq!(rows[0][3], "6");
    assert_eq!(
        rows[0][2], "6",
        "the gap is what is left after all movement: {rows:?}"
    );
}

#[test]
fn findings_stand_at_their_place_and_in_the_list_under_one_number() {
    let drawing = drawn(&neck());
    let at_place: Vec<&str> = drawing
        .work
        .iter()
        .filter_map(|mark| match &mark.ink {
            Ink::Text(text) if mark.layer == Layer::Findings => Some(text.words.as_str()),
            _ => None,
        })
        .collect();
    let told = told(&drawing);
    assert!(!at_place.is_empty());
    for number in at_place {
        assert!(
            told.contains(&format!("{number} ")),
            "{number} is not in the list:\n{told}"
        );
    }
    assert!(told.contains(") accepted: "), "{told}");
    assert!(told.contains("By bay lead: the clip is left out"), "{told}");
}

#[test]
fn each_thing_stands_in_its_layer() {
    let drawing = drawn(&neck());
    let strokes = |layer: Layer| {
        let is_line = |ink: &Ink| matches!(ink, Ink::Stroke { .. });
        drawing
            .work
            .iter()
            .filter(|mark| mark.layer == layer && is_line(&mark.ink))
            .count()
    };
    assert!(strokes(Layer::Parts) >= 1);
    assert!(strokes(Layer::KeepOut) >= 1);
    assert!(strokes(Layer::Fold) >= 1);
}

#[test]
fn steps_are_in_order_and_name_the_tools() {
    let steps = |toml: &str| drawn(toml).front.steps.join("\n");
    let in_order = |text: &str, words: &[&str]| {
        let mut from = 0;
        for word in words {
            let at = text[from..].find(word);
            from += at.unwrap_or_else(|| panic!("`{word}` not after the others in:\n{text}"));
        }
    };
    let of = |material: &str| neck().replace("[panel]\n", &format!("[panel]\n{material}\n"));
    let plastic = steps(&of("material = \"pp\""));
    in_order(
        &plastic,
        &[
            "tape",
            "Drill",
            "4 × hole saw Ø25.4",
            "Saw with a jigsaw, fine blade, along the line of hole",
            "Fold or bend the panel along hem",
            "burr",
            "Try the neck",
            "Refit",
        ],
    );
    let own = neck().replacen("format = 1\n", "format = 1\ntools = [16]\n", 1);
    in_order(&steps(&own), &["4 × hole saw or step drill Ø16"]);
    assert!(!told(&drawn(&of("material = \"pp\""))).contains("chip behind"));
    // The strictest holds for what is not told, and for what is not in the table.
    for (material, which) in [
        ("material = \"aluminium\"", "Sheet metal"),
        (
            "material = \"other\"\nexpansion = 12",
            "Take it for sheet metal",
        ),
        ("", "Take it for sheet metal"),
    ] {
        in_order(&steps(&of(material)), &["snips", "Deburr both faces"]);
        let told = told(&drawn(&of(material)));
        assert!(
            told.contains(which) && told.contains("chip behind"),
            "{material}"
        );
        assert_eq!(told.contains("material NOT TOLD"), material.is_empty());
    }
}

#[test]
fn a_hole_that_is_drilled_together_and_a_distance_that_nobody_gave_are_told_as_such() {
    let bolt = "[[part]]\nname = \"bolt\"\nbolt = \"M12\"\ncentre_offset = \"200 mm left\"\n\
                from_datum = 90\n"
        .to_owned()
        + &around("bolt hole", "\"bolt\"", "follow = \"contour\"");
    let loose = neck() + &bolt;
    let drilled = loose.replace(
        "bolt = \"M12\"\n",
        "bolt = \"M12\"\ndrilled_together = true\n",
    );
    let (loose, drilled) = (drawn(&loose), drawn(&drilled));
    // ISO 273, medium series: M12 has 13.5 mm, which leaves 0.75 to each side.
    let words = told(&drilled);
    assert!(
        words.contains("bolt, M12: panel and bracket are DRILLED TOGETHER, in place, Ø13.5 mm")
    );
    assert!(!told(&loose).contains("DRILLED TOGETHER"));
    let step = "bolt hole: offer up the bracket, centre-mark the cross, and drill panel and bracket \
                together, in place, a small pilot first, then drill Ø13.5.";
    assert!(words.contains(step), "{words}");
    assert!(!told(&loose).contains("offer up the bracket"));
    let row = |drawing: &Drawing| {
        let rows = table(drawing, "What each part keeps");
        rows.into_iter()
            .find(|row| row[0].starts_with("bolt"))
            .unwrap()
    };
    let kept = row(&drilled);
    assert_eq!(kept[0], "bolt, M12 drilled together Ø13.5");
    assert_eq!(kept[1..4], ["0.75", "0.75", "0.75"]);
    let kept: f64 = row(&loose)[1].parse().unwrap();
    assert!(kept > 8.0, "{kept}");
    // No table of terms for a hole that has none of them.
    let terms = |drawing: &Drawing| {
        let heading = |block: &&Block| match block {
            Block::Table { columns, .. } => columns.iter().any(|one| one.head == "Depthways"),
            _ => false,
        };
        drawing.record.iter().filter(heading).count()
    };
    assert_eq!((terms(&loose), terms(&drilled)), (2, 1));
    let areas = table(&drilled, "Areas to keep out of");
    assert_eq!(
        areas,
        [["radar", "sensor", "30 mm, not given: design value"]]
    );
}
