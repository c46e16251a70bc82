//! What the sheets tell of parts, clearances and findings.

use super::{around, panel, window};
use crate::common::{assert_close, drawn};
use trimloft::drawing::{Block, Cell, Drawing, Ink, Layer};

fn neck() -> String {
    panel(
        &("[[locator]]\nname = \"clip\"\nacross = 552\nfrom_datum = 100\ndiameter = 8\n"
            .to_owned()
            + &window("neck", 60.0, 60.0, "0", 100.0)
            + "[[keep_out]]\nname = \"radar\"\nguards = \"sensor\"\nshape = \"round-hole\"\n\
               with = { diameter = 30 }\ncentre_offset = \"120 mm left\"\nfrom_datum = 120\n"
            + "[[line]]\nname = \"hem\"\nkind = \"fold\"\npoints = [[400, 200], [600, 200]]\n"
            + &around("hole", "\"neck\"", "follow = \"box\"")
            + "[[accepted]]\nfinding = \"ligament: hole, clip\"\nvalue = 8\nby = \"bay lead\"\n\
               because = \"the clip is left out\"\n"),
    )
}

fn words(block: &Block) -> String {
    match block {
        Block::Points(all) | Block::Steps(all) => all.join("\n"),
        Block::Paragraph(one) | Block::Heading(one) | Block::Notice(one) => one.clone(),
        Block::Table { .. } | Block::Figure { .. } => String::new(),
    }
}

fn told(drawing: &Drawing) -> String {
    drawing
        .instructions
        .iter()
        .map(words)
        .collect::<Vec<_>>()
        .join("\n")
}

/// The rows of the first table after a heading, as words.
fn table(drawing: &Drawing, heading: &str) -> Vec<Vec<String>> {
    let blocks = &drawing.instructions;
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
        Cell::Words(words) => words.clone(),
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
fn what_each_part_keeps_is_measured_and_told() {
    let rows = table(&drawn(&neck()), "What each part keeps");
    assert_eq!(rows.len(), 1);
    assert_eq!(rows[0][0], "neck");
    assert_eq!(rows[0][3], "6 mm");
    assert_eq!(
        rows[0][2], "6 mm",
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
    let steps = |toml: &str| {
        let drawing = drawn(toml);
        let steps = drawing.instructions.iter().find_map(|block| match block {
            Block::Steps(steps) => Some(steps.join("\n")),
            _ => None,
        });
        steps.unwrap()
    };
    let in_order = |text: &str, words: &[&str]| {
        let mut from = 0;
        for word in words {
            let at = text[from..].find(word);
            from += at.unwrap_or_else(|| panic!("`{word}` not after the others in:\n{text}"));
        }
    };
    let plastic = steps(&neck());
    in_order(
        &plastic,
        &[
            "Print at actual size",
            "tape",
            "Drill",
            "4 × drill Ø25.75",
            "Saw along the line of hole",
            "Fold or bend the panel along hem",
            "burr",
            "Try the neck",
            "Refit",
        ],
    );
    let own = neck().replacen("format = 1\n", "format = 1\ntools = [16]\n", 1);
    in_order(&steps(&own), &["4 × drill or hole saw Ø16"]);
    let metal = neck().replace("[panel]\n", "[panel]\nmaterial = \"aluminium\"\n");
    in_order(&steps(&metal), &["snips", "Deburr both faces"]);
    assert!(told(&drawn(&metal)).contains("Sheet metal: wear gloves"));
}
