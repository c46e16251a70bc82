//! The datum edge, and readings that no edge would give.

use crate::base::length::Units;
use crate::input::{PanelSpec, Placed, Problem};
use crate::model::panel::DatumEdge;

/// How far past the range of its readings an edge may swing between two of them, mm, however
/// small that range is; beyond it, the range itself is the limit.
const LEAST_SWING: f64 = 5.0;

/// Straight pieces that an edge may take: some five times what 2 m of edge with a wave every
/// 100 mm takes. What stays of the panel is judged in time that grows with their square.
const MOST_PIECES: usize = 3000;

/// The datum edge along the tape: x is a reading from the zero end, y falls where it stands out.
///
/// # Errors
/// Readings so uneven that the curve through them swings far past them all, or so many ups and
/// downs that it is no edge.
pub(super) fn datum_edge(panel: &PanelSpec, units: Units) -> Result<DatumEdge, Problem> {
    let readings: &[Placed<(f64, f64)>] = &panel.edge;
    let edge = panel.edge_along_tape();
    let [first, .., last] = readings else {
        return Ok(edge);
    };
    let rises = || readings.iter().map(|reading| reading.value.1);
    let range = rises().fold(f64::NEG_INFINITY, f64::max) - rises().fold(f64::INFINITY, f64::min);
    if let Some((before, by)) = edge.swing()
        && by > range.max(LEAST_SWING)
        && let [from, to, ..] = &readings[before..]
    {
        let message = format!(
            "the curve through the readings of `edge` swings {} past them all between {} and \
             {}: at most {} is believed",
            units.roughly(by),
            units.close(from.value.0.min(to.value.0)),
            units.close(from.value.0.max(to.value.0)),
            units.roughly(range.max(LEAST_SWING))
        );
        let hint = "look for a wrong reading there, and read the edge at evenly spaced places";
        return Err(to.problem(message).hint(hint));
    }
    // Pieces are counted where they are few; a wild edge has been refused above.
    let pieces = edge.points(first.value.0, last.value.0).len();
    if pieces > MOST_PIECES {
        let message = format!(
            "the readings of `edge` go up and down so often that the edge takes {pieces} straight \
             pieces: at most {MOST_PIECES} are allowed"
        );
        let hint = "look for wrong readings, or leave out those that only repeat the tape's error";
        return Err(readings[0].problem(message).hint(hint));
    }
    Ok(edge)
}

#[cfg(test)]
mod tests {
    use crate::input::families::Library;
    use crate::input::{PatternSpec, Problem, Source};
    use crate::solve::solve;

    fn solved(edge: &str) -> Result<(), Vec<Problem>> {
        let toml = format!(
            "format = 1\n[pattern]\nnumber = \"E-1\"\ntitle = \"E\"\n[panel]\nwidth = 4000\n\
             height = 400\ndatum_edge = \"rear\"\nseen_from = \"below\"\npage_up = \"front\"\n\
             edge = [{edge}]\n[[opening]]\nname = \"n\"\nshape = \"notch\"\n\
             with = {{ width = 80, depth = 60 }}\ncentre_offset = 0\n\
             from_datum = 0\n"
        );
        let spec = PatternSpec::read(&Source::new("e.toml", toml)).unwrap();
        solve(&spec, &Library::shipped()).map(|_| ())
    }

    #[test]
    fn readings_side_by_side_that_differ_are_refused_by_name() {
        let problems = solved("[0, 0], [900, 3], [900.2, 6], [4000, 0]").unwrap_err();
        assert_eq!(problems.len(), 1);
        let message = &problems[0].message;
        assert!(message.contains("swings"), "{message}");
        assert!(problems[0].span.is_some());
        // Read at even distances, such an edge is followed.
        solved("[0, 0], [1300, 3], [2600, 6], [4000, 0]").unwrap();
    }

    #[test]
    fn an_edge_that_only_waves_passes_and_a_saw_does_not() {
        let waves = |count: usize, rise: f64| {
            let step = 4000.0 / count as f64;
            let inner: String = (1..count)
                .map(|i| {
                    format!(
                        "[{}, {}], ",
                        i as f64 * step,
                        if i % 2 == 0 { rise } else { -rise }
                    )
                })
                .collect();
            format!("[0, 0], {inner}[4000, 0]")
        };
        solved(&waves(40, 8.0)).unwrap();
        let problems = solved(&waves(400, 30.0)).unwrap_err();
        assert!(
            problems[0].message.contains("straight pieces"),
            "{problems:?}"
        );
    }
}
