//! Readings as they are typed: `outer holes=112,868@18`.

use super::{Failure, meaning};
use trimloft::base::length::{Units, parse_length};
use trimloft::model::centre::{Pair, Swing};

/// A pair: `[NAME=]LEFT,RIGHT[@DEPTH]`, at the datum edge unless a depth is given.
pub(super) fn pair(text: &str, number: usize, units: Units) -> Result<Pair, Failure> {
    let typed = Typed::read("--pair", text, &format!("pair {number}"), units)?;
    match typed.lengths.as_slice() {
        [left, right] => Ok(Pair {
            name: typed.name,
            left: *left,
            right: *right,
            depth: typed.depth,
            reading: None,
        }),
        _ => Err(Failure::usage(format!(
            "`--pair {text}` is not two readings; hint: write `--pair 112,868` or `--pair 112,868@18`"
        ))),
    }
}

/// A swing: `[NAME=]LEFT,RIGHT[,APART][@DEPTH]`.
pub(super) fn swing(text: &str, number: usize, units: Units) -> Result<Swing, Failure> {
    let typed = Typed::read("--swing", text, &format!("arcs {number}"), units)?;
    let (left, right, apart) = match typed.lengths.as_slice() {
        [left, right] => (*left, *right, None),
        [left, right, apart] => (*left, *right, Some(*apart)),
        _ => {
            return Err(Failure::usage(format!(
                "`--swing {text}` is not two or three distances; hint: write `--swing 181,177` or \
                 `--swing 181,177,354`"
            )));
        }
    };
    Ok(Swing {
        name: typed.name,
        left,
        right,
        apart,
        depth: typed.depth,
    })
}

struct Typed {
    name: String,
    lengths: Vec<f64>,
    depth: f64,
}

impl Typed {
    fn read(flag: &str, text: &str, usual_name: &str, units: Units) -> Result<Self, Failure> {
        let (name, rest) = text.split_once('=').unwrap_or((usual_name, text));
        let (lengths, depth) = rest.split_once('@').unwrap_or((rest, "0"));
        let length = |written: &str| {
            parse_length(written, units).map_err(|error| meaning::unread(flag, text, &error))
        };
        Ok(Self {
            name: name.trim().to_owned(),
            lengths: lengths.split(',').map(length).collect::<Result<_, _>>()?,
            depth: length(depth)?,
        })
    }
}
