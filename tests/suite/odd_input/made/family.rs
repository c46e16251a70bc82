//! Shape families made from nothing.

use crate::odd_input::dice::{Dice, ODD_VALUES};
use std::fmt::Write;

/// A family of corners that may cross, coincide, or hold radii that do not fit.
pub fn made_family(name: &str, dice: &mut Dice) -> Vec<u8> {
    let mut text = format!("format = 1\nname = \"{name}\"\ntitle = \"Odd\"\n");
    for parameter in ["a", "b"] {
        let default = if dice.one_in(12) {
            (*dice.pick(&ODD_VALUES)).to_owned()
        } else {
            format!("\"{} mm\"", 1 + dice.below(150))
        };
        write!(
            text,
            "[parameters.{parameter}]\nabout = \"one\"\ndefault = {default}\n"
        )
        .unwrap();
        if dice.one_in(4) {
            writeln!(text, "at_least = \"{}\"", expression(dice, 2)).unwrap();
        }
        if dice.one_in(8) {
            writeln!(text, "kind = \"radius\"").unwrap();
        }
    }
    for _ in 0..dice.below(12) {
        write!(
            text,
            "[[corner]]\nx = \"{}\"\ny = \"{}\"\n",
            expression(dice, 2),
            expression(dice, 2)
        )
        .unwrap();
        if dice.one_in(2) {
            writeln!(text, "radius = \"{}\"", expression(dice, 1)).unwrap();
        }
        if dice.one_in(12) {
            text += "to_next = \"open\"\n";
        }
    }
    text.into_bytes()
}

fn expression(dice: &mut Dice, deep: usize) -> String {
    if deep == 0 || dice.one_in(3) {
        return match dice.below(8) {
            0 => "a".into(),
            1 => "b".into(),
            2 => {
                (*dice.pick(&["0", "1e300", "1e-300", "-1", ".5", "1.", "c", "", "90 deg"])).into()
            }
            _ => format!("{}", dice.below(150)),
        };
    }
    let (one, other) = (expression(dice, deep - 1), expression(dice, deep - 1));
    match dice.below(12) {
        0 => format!("sqrt({one})"),
        1 => format!("min({one}, {other})"),
        2 => format!("max({one}, {other})"),
        3 => format!("{one} / ({other})"),
        4 => format!("tan({one})"),
        5 => format!("({one}) * ({other})"),
        6 | 7 => format!("-({one})"),
        8 | 9 => format!("{one} - ({other})"),
        _ => format!("{one} + {other}"),
    }
}
