//! `trimloft centre`: the middle of a panel from readings on the command line.

use super::Failure;
use super::args::CentreArgs;
use super::{meaning, readings, report};
use serde::Serialize;
use std::path::Path;
use trimloft::base::Direction;
use trimloft::base::fixed;
use trimloft::base::length::{Told, Units};
use trimloft::draw::reading_picture;
use trimloft::model::centre::{
    Agreement, ArcCentre, ArcReadings, Centre, CentreError, Estimate, Measuring, Readings, Tape,
    TapeClass, TapeEnd, Zero, solve, solve_arcs,
};
use trimloft::model::panel::Orientation;
use trimloft::output::{svg, write_whole};

pub(super) fn run(args: &CentreArgs) -> Result<(), Failure> {
    let measuring = measuring(args)?;
    if args.swings.is_empty() {
        pairs(args, measuring)
    } else {
        arcs(args, measuring)
    }
}

fn pairs(args: &CentreArgs, measuring: Measuring) -> Result<(), Failure> {
    let units = args.units.into();
    let typed = args.pairs.iter().enumerate();
    let width = args
        .width
        .as_deref()
        .map(|text| meaning::length("--width", text, units))
        .transpose()?;
    let readings = Readings {
        zero: if args.zero.is_right() {
            Zero::Right
        } else {
            Zero::Left
        },
        measuring,
        panel_width: width,
        pairs: typed
            .map(|(i, text)| readings::pair(text, i + 1, units))
            .collect::<Result<_, _>>()?,
    };
    let centre = solve(&readings).map_err(|errors| told(&errors, units))?;
    if let Some(path) = &args.svg {
        write_picture(args, &readings, &centre, width, path)?;
    }
    let depths = depths(args)?;
    if args.json {
        report::print_json(&CentreJson::of(&centre, width, &depths))
    } else {
        report::print(&told_pairs(&centre, width, &depths, units))
    }
}

fn arcs(args: &CentreArgs, measuring: Measuring) -> Result<(), Failure> {
    let units = args.units.into();
    if args.svg.is_some() {
        return Err(Failure::usage(
            "`--svg` draws pairs; arcs have no place along the panel",
        ));
    }
    let typed = args.swings.iter().enumerate();
    let readings = ArcReadings {
        measuring,
        mark_depth: match &args.mark_depth {
            Some(text) => meaning::length("--mark-depth", text, units)?,
            None => 0.0,
        },
        swings: typed
            .map(|(i, text)| readings::swing(text, i + 1, units))
            .collect::<Result<_, _>>()?,
    };
    let centre = solve_arcs(&readings).map_err(|errors| told(&errors, units))?;
    if args.json {
        report::print_json(&ArcsJson::of(&centre, readings.mark_depth))
    } else {
        report::print(&told_arcs(&centre, readings.mark_depth, units))
    }
}

fn measuring(args: &CentreArgs) -> Result<Measuring, Failure> {
    let units = args.units.into();
    let usual = Measuring::default();
    let length = |flag: &str, text: &Option<String>, usual: f64| {
        text.as_deref()
            .map_or(Ok(usual), |text| meaning::length(flag, text, units))
    };
    Ok(Measuring {
        tape: Tape {
            class: match args.tape_class.as_deref() {
                None => usual.tape.class,
                Some(word) => TapeClass::from_word(word).ok_or_else(|| {
                    Failure::usage(format!(
                        "`--tape-class {word}` is not known; allowed: I, II, III"
                    ))
                })?,
            },
            end: if args.hook {
                TapeEnd::HookOrButt
            } else {
                TapeEnd::Mark
            },
            graduation: length("--graduation", &args.graduation, usual.tape.graduation)?,
        },
        reading: length("--reading", &args.reading, usual.reading)?,
        moulding: length("--moulding", &args.moulding, usual.moulding)?,
        skew_limit: match &args.skew_limit {
            Some(text) => meaning::angle("--skew-limit", text)?,
            None => usual.skew_limit,
        },
    })
}

/// Where the centre is told: at the datum edge, and at every depth asked for.
fn depths(args: &CentreArgs) -> Result<Vec<f64>, Failure> {
    let asked = args
        .at
        .iter()
        .map(|text| meaning::length("--at", text, args.units.into()));
    std::iter::once(Ok(0.0)).chain(asked).collect()
}

fn told(errors: &[CentreError], units: Units) -> Failure {
    let lines: Vec<String> = errors
        .iter()
        .map(|error| format!("{}\nhint: {}", error.told(units), error.hint()))
        .collect();
    Failure::falls_short(lines.join("\n"))
}

fn write_picture(
    args: &CentreArgs,
    readings: &Readings,
    centre: &Centre,
    width: Option<f64>,
    path: &Path,
) -> Result<(), Failure> {
    let (Some(seen_from), Some(page_up), Some(width)) = (&args.seen_from, &args.page_up, width)
    else {
        return Err(Failure::usage(
            "`--svg` needs `--width`, `--seen-from` and `--page-up`",
        ));
    };
    let page_up = meaning::direction("--page-up", page_up)?;
    let datum = match &args.datum {
        Some(word) => meaning::direction("--datum", word)?,
        None => page_up.opposite(),
    };
    let orientation = Orientation::new(meaning::face("--seen-from", seen_from)?, datum, page_up)
        .map_err(meaning::turned_wrong)?;
    if !matches!(orientation.page_right(), Direction::Left | Direction::Right) {
        return Err(Failure::usage(
            "the datum edge must run across the vehicle, from left to right",
        ));
    }
    let plate = reading_picture(readings, centre, width, (orientation, args.units.into()))
        .map_err(Failure::falls_short)?;
    let text = svg(&plate).map_err(Failure::falls_short)?;
    write_whole(path, text.as_bytes())
        .map_err(|error| Failure::falls_short(format!("{error}; hint: {}", error.hint())))?;
    report::tell(format_args!("wrote {}\n", path.display()));
    Ok(())
}

fn told_pairs(centre: &Centre, width: Option<f64>, depths: &[f64], units: Units) -> String {
    let mut lines = String::new();
    let zero = centre.zero().word();
    for depth in depths {
        let Estimate {
            middle,
            uncertainty,
            ..
        } = centre.at(*depth);
        let place = if *depth == 0.0 {
            "at the datum edge".into()
        } else {
            format!("{} from the datum edge", units.length(*depth))
        };
        let from_other = width.map_or_else(String::new, |width| {
            format!(
                ", {} from the {} end",
                units.length(width - middle),
                centre.zero().other().word()
            )
        });
        lines += &format!(
            "{place}: {} from the {zero} end{from_other}; known to {}\n",
            units.length(middle),
            units.doubt(uncertainty, 1)
        );
    }
    lines += &format!("skew: {} degrees\n", fixed(centre.skew().degrees(), 2));
    for residual in centre.residuals() {
        lines += &format!(
            "{}: its middle {}, off by {}, {} explained\n",
            residual.name,
            units.length(residual.middle),
            units.doubt(residual.residual, 2),
            units.doubt(residual.explained, 2)
        );
    }
    match centre.agreement() {
        Agreement::Agree => {}
        Agreement::Unproved => lines += "one pair proves nothing: read a second one\n",
        Agreement::Disagree => lines += "the pairs disagree: read them again, and one more\n",
        Agreement::OneDisagrees(odd) => {
            lines += &format!(
                "{} disagrees with the others by {} and {} the centre would be {}: read it again\n",
                odd.name,
                units.doubt(odd.by, 1),
                if odd.left_out {
                    "is left out; with it"
                } else {
                    "counts still; without it"
                },
                units.length(odd.otherwise.at(0.0).middle)
            )
        }
    }
    lines + &promise(&centre.at(0.0), centre.middle().freedom())
}

/// What is promised of uncertainties.
fn promise(estimate: &Estimate, scatter: f64) -> String {
    format!(
        "uncertainties hold in 93 to 99.5 of 100 cases, where the panel is moulded as evenly as \
         `moulding` says: Student's t with {} degrees of freedom, {} of them for the scatter\n",
        fixed(estimate.freedom.floor(), 0),
        fixed(scatter, 0)
    )
}

fn told_arcs(centre: &ArcCentre, mark_depth: f64, units: Units) -> String {
    let mut lines = String::new();
    let right = centre.mark_right_by();
    let side = if right > 0.0 { "left" } else { "right" };
    lines += &format!(
        "the centreline is {} to the {side} of the mark; known to {}\n",
        units.length(right.abs()),
        units.doubt(centre.at(mark_depth).uncertainty, 1)
    );
    for residual in centre.residuals() {
        lines += &format!(
            "{}, {}: measured {}, off by {}, {} explained\n",
            residual.name,
            residual.what,
            units.length(residual.measured),
            units.doubt(residual.residual, 2),
            units.doubt(residual.explained, 2)
        );
    }
    lines
}

/// The centre as a program reads it, mm and degrees.
#[derive(Serialize)]
struct CentreJson {
    zero: &'static str,
    at: Vec<PlaceJson>,
    skew_degrees: f64,
    residuals: Vec<ResidualJson>,
    odd_pair: Option<OddJson>,
}

#[derive(Serialize)]
struct PlaceJson {
    from_datum: f64,
    from_zero: f64,
    from_other_end: Option<f64>,
    uncertainty: f64,
    degrees_of_freedom: f64,
}

#[derive(Serialize)]
struct ResidualJson {
    name: String,
    what: &'static str,
    measured: f64,
    residual: f64,
    explained: f64,
}

#[derive(Serialize)]
struct OddJson {
    name: String,
    by: f64,
    left_out: bool,
    centre_otherwise: f64,
}

impl CentreJson {
    fn of(centre: &Centre, width: Option<f64>, depths: &[f64]) -> Self {
        let place = |depth: &f64| {
            let estimate = centre.at(*depth);
            PlaceJson {
                from_datum: *depth,
                from_zero: estimate.middle,
                from_other_end: width.map(|width| width - estimate.middle),
                uncertainty: estimate.uncertainty,
                degrees_of_freedom: estimate.freedom,
            }
        };
        Self {
            zero: centre.zero().word(),
            at: depths.iter().map(place).collect(),
            skew_degrees: centre.skew().degrees(),
            residuals: centre
                .residuals()
                .iter()
                .map(|residual| ResidualJson {
                    name: residual.name.clone(),
                    what: "middle",
                    measured: residual.middle,
                    residual: residual.residual,
                    explained: residual.explained,
                })
                .collect(),
            odd_pair: match centre.agreement() {
                Agreement::OneDisagrees(odd) => Some(OddJson {
                    name: odd.name.clone(),
                    by: odd.by,
                    left_out: odd.left_out,
                    centre_otherwise: odd.otherwise.at(0.0).middle,
                }),
                _ => None,
            },
        }
    }
}

#[derive(Serialize)]
struct ArcsJson {
    mark_right_of_centreline_by: f64,
    uncertainty: f64,
    residuals: Vec<ResidualJson>,
}

impl ArcsJson {
    fn of(centre: &ArcCentre, mark_depth: f64) -> Self {
        Self {
            mark_right_of_centreline_by: centre.mark_right_by(),
            uncertainty: centre.at(mark_depth).uncertainty,
            residuals: centre
                .residuals()
                .iter()
                .map(|residual| ResidualJson {
                    name: residual.name.clone(),
                    what: residual.what,
                    measured: residual.measured,
                    residual: residual.residual,
                    explained: residual.explained,
                })
                .collect(),
        }
    }
}
