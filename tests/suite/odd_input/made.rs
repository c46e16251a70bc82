//! Files made from nothing: noise, and definitions that are odd but read as such.

mod cuts;
mod family;

pub use family::made_family;

use super::dice::{Dice, ODD_LETTERS, ODD_VALUES};
use std::fmt::Write;

/// Noise.
pub fn random_bytes(dice: &mut Dice) -> Vec<u8> {
    (0..dice.below(400)).map(|_| dice.throw() as u8).collect()
}

/// Keys, tables, values and signs in any order.
pub fn random_toml(dice: &mut Dice) -> Vec<u8> {
    const KEYS: [&str; 29] = [
        "format = 1",
        "units",
        "[pattern]",
        "number",
        "title",
        "revision",
        "issued",
        "notes",
        "[panel]",
        "width",
        "height",
        "datum_edge = \"rear\"",
        "seen_from = \"below\"",
        "page_up = \"front\"",
        "edge",
        "extent",
        "[[locator]]",
        "name",
        "across",
        "from_datum",
        "[[opening]]",
        "[[part]]",
        "[clearance]",
        "[[accepted]]",
        "around",
        "gap",
        "shape = \"notch\"",
        "with",
        "centre_offset",
    ];
    let mut text = String::new();
    for _ in 0..dice.below(40) {
        let key = *dice.pick(&KEYS);
        text += key;
        if !key.contains(['=', '[']) {
            write!(text, " = {}", dice.pick(&ODD_VALUES)).unwrap();
        }
        text += if dice.one_in(12) {
            *dice.pick(&ODD_LETTERS)
        } else {
            "\n"
        };
    }
    text.into_bytes()
}

/// Families with their parameters.
const FAMILIES: [(&str, &[&str]); 8] = [
    ("notch", &["width", "depth", "corner_radius"]),
    (
        "flared-notch",
        &[
            "width",
            "depth",
            "mouth_width",
            "flare_depth",
            "flare_radius",
            "corner_radius",
        ],
    ),
    (
        "tapered-notch",
        &["mouth_width", "throat_width", "depth", "corner_radius"],
    ),
    (
        "stepped-notch",
        &[
            "mouth_width",
            "mouth_depth",
            "throat_width",
            "depth",
            "corner_radius",
            "shoulder_radius",
        ],
    ),
    (
        "t-opening",
        &[
            "stem_width",
            "stem_depth",
            "bar_width",
            "bar_depth",
            "corner_radius",
        ],
    ),
    ("window", &["width", "height", "corner_radius"]),
    ("slot", &["length", "width"]),
    ("round-hole", &["diameter"]),
];

/// Face, head of the page, and the directions that run along the datum edge then.
const WAYS: [(&str, &str, [&str; 2]); 6] = [
    ("below", "front", ["left", "right"]),
    ("below", "left", ["front", "rear"]),
    ("behind", "up", ["left", "right"]),
    ("front", "down", ["right", "left"]),
    ("left", "up", ["front", "rear"]),
    ("above", "rear", ["left", "right"]),
];

/// A pattern that reads well and may be anything once it is solved; `family` is one more shape.
pub fn made_pattern(family: Option<&str>, dice: &mut Dice) -> Vec<u8> {
    let (face, up, along) = *dice.pick(&WAYS);
    let opposite = |word: &str| match word {
        "front" => "rear",
        "rear" => "front",
        "left" => "right",
        "up" => "down",
        _ => "up",
    };
    let datum = if dice.one_in(2) { up } else { opposite(up) };
    let (width, height) = (dice.between(200.0, 2500.0), dice.between(150.0, 700.0));
    let extent = if dice.one_in(6) { "panel" } else { "work" };
    let units = if dice.one_in(20) {
        "units = \"in\"\n"
    } else {
        ""
    };
    let mut text = format!(
        "format = 1\n{units}[pattern]\nnumber = \"T-1\"\ntitle = \"Odd\"\n[panel]\nname = \"Panel\"\n\
         width = {width:.2}\nheight = {height:.2}\ndatum_edge = \"{datum}\"\nseen_from = \"{face}\"\n\
         page_up = \"{up}\"\nextent = \"{extent}\"\n"
    );
    if dice.one_in(3) {
        let readings = if dice.one_in(20) {
            400
        } else {
            1 + dice.below(12)
        };
        let mut places: Vec<f64> = (0..readings).map(|_| dice.between(0.0, width)).collect();
        places.sort_by(f64::total_cmp);
        let deepest = if dice.one_in(8) { 400.0 } else { 8.0 };
        let rise = dice.between(0.0, deepest);
        let inner: String = places
            .iter()
            .map(|x| format!("[{x:.2}, {:.2}], ", dice.between(-rise, rise)))
            .collect();
        writeln!(text, "edge = [[0, 0], {inner}[{width:.2}, 0]]").unwrap();
    }
    if dice.one_in(3) {
        surface(&mut text, dice);
    }
    for i in 0..dice.below(6) {
        let (across, depth) = (dice.between(0.0, width), dice.between(0.0, height));
        write!(
            text,
            "[[locator]]\nname = \"hole {i}\"\nacross = {across:.3}\nfrom_datum = {depth:.3}\n"
        )
        .unwrap();
        if dice.one_in(2) {
            writeln!(text, "diameter = {}", dice.length()).unwrap();
        }
    }
    if dice.one_in(5) {
        let y = dice.between(5.0, height);
        writeln!(
            text,
            "[[line]]\nname = \"line\"\nkind = \"fold\"\npoints = [[{:.2}, {y:.2}], [{:.2}, {:.2}]]",
            dice.between(0.0, width / 2.0),
            dice.between(width / 2.0, width),
            dice.between(5.0, height)
        )
        .unwrap();
    }
    cuts::beside(&mut text, along, (width, height), dice);
    let openings = if dice.one_in(10) {
        12
    } else {
        1 + dice.below(3)
    };
    if dice.one_in(3) {
        clearance(&mut text, dice);
    }
    for i in 0..openings {
        opening(&mut text, i, family, along, width.max(height), dice);
    }
    text.into_bytes()
}

fn opening(
    text: &mut String,
    index: usize,
    family: Option<&str>,
    along: [&str; 2],
    reach: f64,
    dice: &mut Dice,
) {
    let (name, parameters) = match family {
        Some(name) => (name, &["a", "b"][..]),
        None => *dice.pick(&FAMILIES),
    };
    let is_part = family.is_none() && dice.one_in(3);
    // Whole numbers meet: sides that coincide and corners that touch are the hardest to unite.
    let coarse = dice.one_in(2);
    let mut with = vec![];
    for parameter in parameters {
        // A size left out refuses the file at once; a radius may be.
        let left_out = if parameter.ends_with("radius") { 5 } else { 60 };
        if dice.one_in(left_out) {
            continue;
        }
        let value = match (dice.one_in(40), coarse) {
            (true, _) => dice.length(),
            (false, _) if parameter.ends_with("radius") => format!("{}", 2 + dice.below(10)),
            (false, true) => format!("{}", 10 * (3 + dice.below(9))),
            (false, false) => format!("{:.4}", dice.between(25.0, 140.0)),
        };
        with.push(format!("{parameter} = {value}"));
    }
    let offset = if coarse {
        10.0 * dice.below(9) as f64
    } else {
        dice.between(0.0, reach / 3.0)
    };
    let depth = match (name.contains("notch") || name.starts_with("t-"), coarse) {
        (true, _) => 0.0,
        (false, true) => 10.0 * dice.below(20) as f64,
        (false, false) => dice.between(-20.0, 300.0),
    };
    let place = match is_part && dice.one_in(6) {
        true => cuts::ties(reach, dice),
        false => format!(
            "centre_offset = \"{offset:.4} mm {}\"\nfrom_datum = {depth:.4}\n",
            dice.pick(&along)
        ),
    };
    write!(
        text,
        "{}name = \"{} {index}\"\nshape = \"{name}\"\nwith = {{ {} }}\n{place}",
        if is_part {
            "[[part]]\n"
        } else {
            "[[opening]]\n"
        },
        if is_part { "part" } else { "opening" },
        with.join(", ")
    )
    .unwrap();
    if is_part {
        for way in ["slope", "yaw"] {
            if dice.one_in(4) {
                writeln!(text, "{way} = \"{:.1} deg\"", dice.between(-80.0, 80.0)).unwrap();
            }
        }
    }
    if dice.one_in(3) {
        let measured = dice.pick(&["square-on", "on the panel"]);
        writeln!(text, "measured = \"{measured}\"").unwrap();
    }
    if is_part {
        around(text, index, along, dice);
    } else {
        cuts::asked(text, false, along, dice);
    }
    if dice.one_in(6) {
        write!(
            text,
            "[[keep_out]]\nname = \"area {index}\"\nguards = \"{}\"\nshape = \"round-hole\"\n\
             with = {{ diameter = {} }}\ncentre_offset = \"{} mm {}\"\nfrom_datum = {}\n\
             distance = {}\n",
            dice.pick(&["sensor", "wiring", "exhaust"]),
            5 + dice.below(80),
            dice.below(200),
            dice.pick(&along),
            dice.below(200),
            dice.below(40)
        )
        .unwrap();
    }
}

/// An opening worked out round this part, and round the one before where there is one.
fn around(text: &mut String, index: usize, along: [&str; 2], dice: &mut Dice) {
    let follow = dice.pick(&["contour", "box"]);
    let open = dice.one_in(2);
    write!(
        text,
        "[[opening]]\nname = \"opening {index}\"\naround = [\"part {index}\"]\nfollow = \"{follow}\"\n\
         open_at_edge = {open}\n"
    )
    .unwrap();
    if *follow == "box" && dice.one_in(4) {
        writeln!(text, "corner_radius = {}", dice.length()).unwrap();
    }
    cuts::asked(text, *follow == "box", along, dice);
}

fn surface(text: &mut String, dice: &mut Dice) {
    text.push_str("[panel.surface]\n");
    if dice.one_in(2) {
        writeln!(text, "rake = \"{:.1} deg\"", dice.between(-84.0, 84.0)).unwrap();
    }
    let across = dice.one_in(2);
    if !across {
        text.push_str("along = \"edge\"\n");
    }
    let bulges = dice.pick(&["towards", "away"]);
    let crown = if across && dice.one_in(2) {
        String::new()
    } else {
        format!("crown = {:.1}\n", dice.between(-200.0, 400.0))
    };
    match dice.below(4) {
        0 => {}
        1 => {
            let (chord, rise) = (dice.between(50.0, 2000.0), dice.between(0.5, 400.0));
            writeln!(
                text,
                "chord = {chord:.1}\nrise = {rise:.1}\nbulges = \"{bulges}\"\n{crown}"
            )
            .unwrap();
        }
        2 => {
            let radius = dice.between(5.0, 4000.0);
            writeln!(text, "radius = {radius:.1}\nbulges = \"{bulges}\"\n{crown}").unwrap();
        }
        _ => {
            let bend = dice.between(-2e-3, 2e-3);
            let profile = |dice: &mut Dice| {
                let readings: String = (0..3 + dice.below(12))
                    .map(|k| {
                        let x = 90.0 * k as f64 - 400.0;
                        format!("[{x}, {:.2}], ", bend * x * x + dice.between(-3.0, 3.0))
                    })
                    .collect();
                format!("[{readings}]")
            };
            writeln!(text, "profile = {}", profile(dice)).unwrap();
            if dice.one_in(3) {
                writeln!(
                    text,
                    "at = 40\nother_profile = {}\nother_at = 300",
                    profile(dice)
                )
                .unwrap();
            }
        }
    }
}

fn clearance(text: &mut String, dice: &mut Dice) {
    text.push_str("[clearance]\n");
    for term in [
        "gap", "position", "centre", "marking", "cutting", "print", "thermal",
    ] {
        if dice.one_in(3) {
            let value = if dice.one_in(12) {
                dice.length()
            } else {
                format!("{:.3}", dice.between(0.0, 12.0))
            };
            writeln!(text, "{term} = {value}").unwrap();
        }
    }
    if dice.one_in(3) {
        text.push_str("combine = \"worst-case\"\n");
    }
}
