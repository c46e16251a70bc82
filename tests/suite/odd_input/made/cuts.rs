//! Cuts that meet what is there: trims, holes, ties, feet, features.

use super::super::dice::Dice;
use std::fmt::Write;

/// Tables that stand beside the openings of a panel of this size.
pub fn beside(text: &mut String, along: [&str; 2], (width, height): (f64, f64), dice: &mut Dice) {
    let offset = |dice: &mut Dice| {
        format!(
            "\"{:.2} mm {}\"",
            dice.between(0.0, width / 2.0),
            dice.pick(&along)
        )
    };
    if dice.one_in(6) {
        let side = dice.pick(&["rear", "front", "left", "right", "up", "down"]);
        let mut points = vec![(0.0, dice.between(0.0, height / 3.0))];
        for _ in 0..dice.below(3) {
            points.push((dice.between(0.0, width), dice.between(0.0, height / 2.0)));
        }
        points.push((width, dice.between(0.0, height / 3.0)));
        let points = points.iter().map(|(x, y)| format!("[{x:.2}, {y:.2}]"));
        let points: Vec<String> = points.collect();
        write!(
            text,
            "[[trim]]\nname = \"trim\"\npoints = [{}]\nfalls_away = \"{side}\"\n",
            points.join(", ")
        )
        .unwrap();
        if dice.one_in(3) {
            writeln!(text, "corner_radius = {}", dice.length()).unwrap();
        }
    }
    if dice.one_in(12) {
        write!(
            text,
            "[[trim]]\nname = \"ear\"\nshape = \"window\"\nwith = {{ width = 60, height = 40 }}\n\
             centre_offset = {}\nfrom_datum = {:.1}\n",
            offset(dice),
            dice.between(0.0, height)
        )
        .unwrap();
    }
    for kind in ["foot", "feature"] {
        if dice.one_in(6) {
            write!(
                text,
                "[[{kind}]]\nname = \"{kind}\"\nshape = \"window\"\n\
                 with = {{ width = {:.1}, height = {:.1} }}\ncentre_offset = {}\nfrom_datum = {:.1}\n",
                dice.between(5.0, 200.0),
                dice.between(5.0, 100.0),
                offset(dice),
                dice.between(0.0, height)
            )
            .unwrap();
            if kind == "feature" {
                let what = dice.pick(&["peg", "rib", "clip tower", "socket"]);
                let high = dice.between(1.0, 60.0);
                writeln!(text, "kind = \"{what}\"\nheight = {high:.1}").unwrap();
            }
        }
    }
    for hole in 0..dice.below(3) {
        write!(
            text,
            "[[hole]]\nname = \"old {hole}\"\nacross = {:.2}\nfrom_datum = {:.2}\ndiameter = {:.2}\n",
            dice.between(0.0, width),
            dice.between(0.0, height),
            dice.between(2.0, 40.0)
        )
        .unwrap();
    }
}

/// Where a part is tied to, instead of its offset and depth; most ties meet nowhere.
pub fn ties(reach: f64, dice: &mut Dice) -> String {
    let ties = (0..2 + dice.below(3)).map(|index| {
        let distance = dice.between(20.0, reach / 2.0);
        format!("{{ from = \"hole {index}\", distance = {distance:.2} }}")
    });
    let ties: Vec<String> = ties.collect();
    format!("ties = [{}]\n", ties.join(", "))
}

/// What an opening may ask for besides; `is_boxed` where it is worked out as a box.
pub fn asked(text: &mut String, is_boxed: bool, along: [&str; 2], dice: &mut Dice) {
    if dice.one_in(5) {
        text.push_str("rough_cut = true\n");
    }
    if dice.one_in(8) {
        let hole = dice.pick(&["old 0", "old 1", "hole 0"]);
        writeln!(text, "take_in = [\"{hole}\"]").unwrap();
    }
    if is_boxed && dice.one_in(4) {
        let gap = dice.between(0.0, 20.0);
        writeln!(text, "gap_to = {{ {} = {gap:.2} }}", dice.pick(&along)).unwrap();
    }
}
