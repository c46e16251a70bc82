//! `trimloft scale`: what printed rulers, or a scanned sheet, say.

use super::args::{Format, OrientationArg, PrintedArgs, ReadingArgs, ScaleArgs};
use super::scale_told::{self, Said};
use super::{Failure, definition, meaning, report};
use kurbo::Size;
use std::path::Path;
use trimloft::base::length::{Units, parse_length};
use trimloft::base::paper::PageName;
use trimloft::check::scale::{
    Borders, Circumstances, Cut, Evidence, FileKind, Gauge, Judgement, Printer, Reading, Rule,
    Scales, Squareness, Verdict, Way,
};
use trimloft::check::scan::{Raster, ScanError, Scanner, SheetScale, measure};
use trimloft::input::{Report, Source};
use trimloft::layout::{PageOrientation, Paper, Setup, Stock, frame_size};
use trimloft::model::clearance::{PRINTER_ERROR, SCALE_ERROR};
use trimloft::output::write_whole;
use trimloft::solve::solve;

pub(super) fn run(args: &ScaleArgs) -> Result<(), Failure> {
    let (mut evidence, estimates, scan, sheets) = match &args.scan.scan {
        Some(file) => {
            let (scan, sheets) = scanned(file, args)?;
            (scan.evidence(), vec![], Some(scan), sheets)
        }
        None => {
            let read = Evidence::of(&readings(&args.readings)?);
            let (evidence, estimates) = read.map_err(Failure::falls_short)?;
            (evidence, estimates, None, vec![])
        }
    };
    if let Some(text) = &args.readings.diagonals {
        let skew = diagonals(text, args)?.skew(&evidence.scales);
        evidence.scales.skew = Some(skew.map_err(Failure::falls_short)?);
    }
    let scales = evidence.scales;
    if scales == Scales::default() {
        return Err(Failure::usage(
            "nothing was read; hint: give what the rulers read, such as `--across 99.6 --down \
             99.7`, or a scan with `--scan`",
        ));
    }
    let (named, units) = match cut(args)? {
        Some((cut, units)) => (Some(cut), units),
        None => (None, args.judged.units()),
    };
    // With no pattern to judge, what its sheets say whose clearances do not tell otherwise.
    let cut = named.unwrap_or(Cut {
        across: 0.0,
        down: 0.0,
        scale_error: SCALE_ERROR,
    });
    let (verdict, faults) = evidence.judged(&circumstances(&args.printed)?, &cut);
    let saved = match &args.saved.save {
        Some(file) => Some(save(file, args, &scales, &verdict)?),
        None => None,
    };
    let said = Said {
        estimates,
        scan,
        sheets,
        scales,
        cut,
        named: named.is_some(),
        units,
        verdict,
        faults,
        saved,
    };
    scale_told::print(&said, args.json)?;
    match (said.verdict.judgement, &said.saved) {
        (Judgement::Good, _) | (_, Some(_)) => Ok(()),
        _ => Err(Failure::falls_short(said.verdict.words())),
    }
}

fn readings(args: &ReadingArgs) -> Result<Vec<Reading>, Failure> {
    let given = [
        ("--across", &args.across, Way::Across, Gauge::Metric),
        ("--down", &args.down, Way::Down, Gauge::Metric),
        ("--across-4in", &args.across_4in, Way::Across, Gauge::Inches),
        ("--down-4in", &args.down_4in, Way::Down, Gauge::Inches),
    ];
    let mut readings = vec![];
    for (flag, texts, way, gauge) in given {
        for text in texts {
            let (read, rule) = read_and_rule(flag, text, args)?;
            let [read] = lengths(flag, read, Units::Mm)?;
            let reading = Reading::new(way, gauge, read, rule);
            readings.push(reading.map_err(Failure::falls_short)?);
        }
    }
    for text in &args.card {
        let (read, rule) = read_and_rule("--card", text, args)?;
        let [across, down] = lengths("--card", read, Units::Mm)?;
        for (way, read) in [(Way::Across, across), (Way::Down, down)] {
            let reading = Reading::new(way, Gauge::Card, read, rule);
            readings.push(reading.map_err(Failure::falls_short)?);
        }
    }
    Ok(readings)
}

/// A reading less its rule, and the rule.
fn read_and_rule<'t>(
    flag: &str,
    text: &'t str,
    args: &ReadingArgs,
) -> Result<(&'t str, Rule), Failure> {
    let (read, graduation) = match text.rsplit_once('@') {
        Some((read, graduation)) => (read, meaning::length(flag, graduation, Units::Mm)?),
        None => (
            text,
            meaning::length("--graduation", &args.graduation, Units::Mm)?,
        ),
    };
    let rule = Rule {
        graduation,
        permissible: meaning::length("--rule-error", &args.rule_error, Units::Mm)?,
    };
    Ok((read, rule))
}

/// So many lengths, with commas between them.
fn lengths<const N: usize>(flag: &str, text: &str, units: Units) -> Result<[f64; N], Failure> {
    let read: Vec<f64> = text
        .split(',')
        .map(|part| {
            parse_length(part.trim(), units).map_err(|error| meaning::unread(flag, text, &error))
        })
        .collect::<Result<_, _>>()?;
    let count = read.len();
    read.try_into().map_err(|_| {
        Failure::usage(format!(
            "`{flag} {text}` holds {count} lengths; allowed: {N}, with a comma between them"
        ))
    })
}

fn diagonals(text: &str, args: &ScaleArgs) -> Result<Squareness, Failure> {
    let (read, rule) = read_and_rule("--diagonals", text, &args.readings)?;
    let [rising, falling] = lengths("--diagonals", read, Units::Mm)?;
    let figure = match &args.readings.frame {
        Some(text) => {
            let [width, height] =
                lengths("--frame", &text.replace(['x', 'X', '×'], ","), Units::Mm)?;
            Size::new(width, height)
        }
        None => frame(&args.printed)?,
    };
    Ok(Squareness {
        figure,
        rising,
        falling,
        graduation: rule.graduation,
    })
}

/// The frame of sheets for this paper, as it is told to have lain.
fn frame(args: &PrintedArgs) -> Result<Size, Failure> {
    let mut setup = Setup::new(paper(args)?);
    setup.margin = margin(args)?;
    setup.orientation = match args.orientation {
        OrientationArg::Portrait => PageOrientation::Portrait,
        OrientationArg::Landscape => PageOrientation::Landscape,
    };
    frame_size(&setup).map_err(Failure::usage)
}

fn paper(args: &PrintedArgs) -> Result<Paper, Failure> {
    Paper::parse(args.paper.as_deref().unwrap_or("a4")).map_err(Failure::usage)
}

fn margin(args: &PrintedArgs) -> Result<f64, Failure> {
    match &args.margin {
        Some(text) => meaning::length("--margin", text, Units::Mm),
        None => Ok(Setup::MARGIN),
    }
}

/// What a scan measures, and which sheets it says that it shows.
fn scanned(file: &Path, args: &ScaleArgs) -> Result<(SheetScale, Vec<PageName>), Failure> {
    let own_scale = match &args.scan.scanner {
        None => None,
        Some(text) => {
            let parts: Result<Vec<f64>, _> =
                text.split(',').map(|part| part.trim().parse()).collect();
            match parts.as_deref() {
                Ok([both]) => Some((*both, *both)),
                Ok([width, height]) => Some((*width, *height)),
                _ => {
                    return Err(Failure::usage(format!(
                        "`--scanner {text}` is no scale; hint: write what it measures over what \
                         it is, such as `1.002` or `1.002,0.999`"
                    )));
                }
            }
        }
    };
    let scanner = Scanner {
        dpi: args.scan.dpi.unwrap_or(0.0),
        own_scale,
    };
    let told = |error: ScanError| Failure::falls_short(format!("`{}`: {error}", file.display()));
    let raster = Raster::load(file).map_err(told)?;
    let sheet = measure(&raster, &scanner).map_err(told)?;
    // What is kept for a printer is kept for a paper, given or not.
    if args.printed.paper.is_some() || args.saved.save.is_some() {
        let frame = frame(&args.printed)?;
        if !sheet.has_frame(&raster, frame) {
            let paper = paper(&args.printed)?.name().to_string();
            return Err(told(ScanError::OtherPaper { paper }));
        }
    }
    // A sheet may be measured whose code can't be read.
    let names = raster.page_names().unwrap_or_default();
    Ok((sheet, names))
}

fn circumstances(args: &PrintedArgs) -> Result<Circumstances, Failure> {
    let size = |name: &Option<String>| match name {
        None => Ok(None),
        Some(name) => match Paper::parse(name).map_err(Failure::usage)?.stock() {
            Stock::Sheet(size) => Ok(Some(size)),
            Stock::Roll { .. } => Ok(None),
        },
    };
    let borders = match &args.borders {
        Some(text) => Some(Borders::even(meaning::length(
            "--borders",
            text,
            Units::Mm,
        )?)),
        None => None,
    };
    Ok(Circumstances {
        page: size(&args.paper)?,
        tray: size(&args.tray)?,
        borders,
        file: args.printed.map(|kind| match kind {
            Format::Pdf => FileKind::Pdf,
            Format::Svg => FileKind::Svg,
        }),
    })
}

/// The cut that is to be judged, where one is, and the units that it is told in.
fn cut(args: &ScaleArgs) -> Result<Option<(Cut, Units)>, Failure> {
    let judged = &args.judged;
    if let Some(text) = &judged.farthest {
        let units = judged.units();
        let [across, down] = lengths("--farthest", text, units)?;
        if across < 0.0 || down < 0.0 {
            return Err(Failure::usage(format!(
                "`--farthest {text}` is out of range; allowed: 0 and more"
            )));
        }
        let print = match &judged.print {
            Some(text) => Some(meaning::length("--print", text, units)?),
            None => None,
        };
        let scale_error = print.map_or(SCALE_ERROR, |print| print / across.hypot(down));
        let cut = Cut {
            across,
            down,
            scale_error: scale_error.min(PRINTER_ERROR),
        };
        return Ok(Some((cut, units)));
    }
    let Some(file) = &judged.pattern else {
        return Ok(None);
    };
    let shapes = meaning::library(&judged.families)?;
    let solved = definition::read(file, None).and_then(|(source, spec)| {
        solve(&spec, &shapes).map_err(|problems| Report::new(&source, problems))
    });
    match solved {
        Ok(pattern) => Ok(Some((
            Cut::of(&pattern),
            judged.units.map_or(pattern.units, Units::from),
        ))),
        Err(report) => {
            report::tell(&report);
            Err(Failure::falls_short(format!(
                "`{}` can't be solved, so its cut can't be judged",
                file.display()
            )))
        }
    }
}

/// A slip in the name must not cost a pattern: only a printer file is replaced.
fn refuse_another_kind(file: &Path) -> Result<(), Failure> {
    let is_printer = || {
        file.is_file()
            && Source::open(file, file).is_ok_and(|source| Printer::read(&source).is_ok())
    };
    if !file.exists() || file.is_dir() || is_printer() {
        return Ok(());
    }
    Err(Failure::falls_short(format!(
        "`{}` is there and is no printer file, so it is not replaced; hint: give another name, or \
         move it away",
        file.display()
    )))
}

/// Keeps the printer's correction, where it is the printer that is wrong.
fn save(
    file: &Path,
    args: &ScaleArgs,
    scales: &Scales,
    verdict: &Verdict,
) -> Result<Printer, Failure> {
    if let Some(reason) = verdict.not_the_printers() {
        return Err(Failure::falls_short(format!(
            "this is no printer's own error, so nothing is kept: {reason}"
        )));
    }
    let portrait = match args.printed.orientation {
        OrientationArg::Portrait => *scales,
        OrientationArg::Landscape => Scales {
            across: scales.down,
            down: scales.across,
            ..*scales
        },
    };
    let stem = file
        .file_stem()
        .map(|stem| stem.to_string_lossy().into_owned());
    let name = args.saved.name.clone().or(stem).unwrap_or_default();
    let paper = paper(&args.printed)?;
    let measured = args.saved.measured.as_deref().unwrap_or("");
    let printer = Printer::new(
        &name,
        measured,
        &portrait,
        paper.name(),
        margin(&args.printed)?,
    )
    .map_err(Failure::falls_short)?;
    refuse_another_kind(file)?;
    write_whole(file, printer.to_toml().as_bytes())
        .map_err(|error| Failure::falls_short(format!("{error}; hint: {}", error.hint())))?;
    let lay = match args.printed.orientation {
        OrientationArg::Portrait => {
            "as read on portrait sheets; hint: had they their long side across, say \
             `--orientation landscape`"
        }
        OrientationArg::Landscape => "as read on sheets with their long side across",
    };
    report::tell(format_args!(
        "wrote {}, {} on {}: {lay}\n",
        file.display(),
        name,
        paper.name()
    ));
    Ok(printer)
}
