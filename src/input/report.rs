//! Problems shown in their file: the line itself, a caret under the place, and what to do.

use super::problem::Problem;
use super::source::Source;
use crate::base::words::{is_unprintable, printable};
use std::fmt;
use std::ops::Range;
use unicode_width::UnicodeWidthChar;

/// Problems shown one by one; a file that has more is most likely no definition at all.
const MOST_SHOWN: usize = 100;

/// Problems kept of one file: what more there is is counted, since each takes a walk through the
/// file to be placed.
const MOST_KEPT: usize = 1000;

/// Longest piece of a source line that is shown, in letters.
const LONGEST_LINE: usize = 100;

/// Letters kept before the place in a line that is cut.
const KEPT_BEFORE: usize = 40;

/// Everything that is wrong with one file, in the order of the file.
#[derive(Debug, Clone)]
pub struct Report {
    /// The file.
    pub source: Source,
    /// At least one; those with no place first. Of a file that has more than a thousand, the first.
    pub problems: Vec<Problem>,
    /// How many more there are.
    pub more: usize,
}

impl Report {
    /// Problems of a file, put in its order, each said once.
    pub fn new(source: &Source, mut problems: Vec<Problem>) -> Self {
        let place = |problem: &Problem| problem.span.as_ref().map(|span| (span.start, span.end));
        problems.sort_by_key(place);
        problems.dedup();
        let more = problems.len().saturating_sub(MOST_KEPT);
        problems.truncate(MOST_KEPT);
        Self {
            source: source.clone(),
            problems,
            more,
        }
    }

    fn show(&self, problem: &Problem, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let name = self.source.name.display().to_string();
        write!(out, "{}", printable(&name))?;
        if let Some(span) = &problem.span {
            let (line, column) = self.source.place(span.start);
            write!(out, ":{line}:{column}")?;
        }
        writeln!(out, ": error: {}", printable(&problem.message))?;
        if let Some(span) = &problem.span {
            let line = self.source.line_at(span.start);
            let begin = line.clamp(self.source.floor(span.start));
            let end = line.clamp(self.source.floor(span.end)).max(begin);
            let piece = Piece::around(&self.source.text, line.span, begin..end);
            let margin = line.number.to_string().len();
            writeln!(out, " {} | {}", line.number, piece.text)?;
            writeln!(out, " {:margin$} | {}", "", piece.carets)?;
        }
        if let Some(hint) = &problem.hint {
            writeln!(out, "hint: {}", printable(hint))?;
        }
        Ok(())
    }
}

impl fmt::Display for Report {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (index, problem) in self.problems.iter().take(MOST_SHOWN).enumerate() {
            if index > 0 {
                writeln!(out)?;
            }
            self.show(problem, out)?;
        }
        match (self.problems.len() + self.more).saturating_sub(MOST_SHOWN) {
            0 => Ok(()),
            more => writeln!(out, "\nand {more} more"),
        }
    }
}

impl std::error::Error for Report {}

/// A line as shown, and the carets to put under it.
struct Piece {
    text: String,
    carets: String,
}

impl Piece {
    /// The part of `line` that holds `mark`; both are bytes of `source`, at letters' borders.
    fn around(source: &str, line: Range<usize>, mark: Range<usize>) -> Self {
        let count = |bytes: Range<usize>| source[bytes].chars().count();
        let letters = count(line.clone());
        let before = count(line.start..mark.start);
        let (first, kept) = if letters > LONGEST_LINE {
            let first = before.saturating_sub(KEPT_BEFORE);
            (first, LONGEST_LINE.min(letters - first))
        } else {
            (0, letters)
        };
        let marked = before - first..before - first + count(mark);
        let dots = |cut: bool| if cut { "..." } else { "" };
        let mut text = String::from(dots(first > 0));
        let mut carets = " ".repeat(text.len());
        let mut width = 0;
        for (index, letter) in source[line].chars().skip(first).take(kept).enumerate() {
            text.push(shown_letter(letter));
            if index < marked.start {
                carets.push_str(blank_for(letter));
            } else if index < marked.end {
                width += width_of(letter);
            }
        }
        carets.extend(std::iter::repeat_n('^', width.max(1)));
        text.push_str(dots(first + kept < letters));
        Self { text, carets }
    }
}

/// A letter that the screen can show without being commanded by it.
fn shown_letter(letter: char) -> char {
    if letter != '\t' && is_unprintable(letter) {
        char::REPLACEMENT_CHARACTER
    } else {
        letter
    }
}

fn blank_for(letter: char) -> &'static str {
    match (letter, width_of(letter)) {
        ('\t', _) => "\t",
        (_, 0) => "",
        (_, 1) => " ",
        _ => "  ",
    }
}

/// Columns that a letter takes on a screen, as it is shown.
fn width_of(letter: char) -> usize {
    shown_letter(letter).width().unwrap_or(1)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shown(text: &str, span: Range<usize>) -> String {
        let source = Source::new("a.toml", text);
        let problem = Problem::new("wrong").at(span);
        Report::new(&source, vec![problem]).to_string()
    }

    #[test]
    fn the_carets_stand_under_the_words() {
        assert_eq!(
            shown("one\ntwo = 5\nthree", 10..11),
            "a.toml:2:7: error: wrong\n 2 | two = 5\n   |       ^\n"
        );
        assert_eq!(
            shown("řeka = \"日本\" x", 9..15),
            "a.toml:1:9: error: wrong\n 1 | řeka = \"日本\" x\n   |         ^^^^\n"
        );
        assert_eq!(
            shown("\ta\t= 1", 5..6),
            "a.toml:1:6: error: wrong\n 1 | \ta\t= 1\n   | \t \t  ^\n"
        );
    }

    #[test]
    fn line_ends_and_the_mark_at_the_head_are_not_shown() {
        let windows = "\u{feff}one = 1\r\ntwo = 2\r\n";
        assert_eq!(
            shown(windows, 3..6),
            "a.toml:1:1: error: wrong\n 1 | one = 1\n   | ^^^\n"
        );
        assert_eq!(
            shown(windows, 12..100),
            "a.toml:2:1: error: wrong\n 2 | two = 2\n   | ^^^^^^^\n"
        );
        // The end of a line and of the file, where something is missing.
        assert!(
            shown(windows, 11..11).starts_with("a.toml:1:8: "),
            "{}",
            shown(windows, 11..11)
        );
        assert!(shown("a", 1..1).starts_with("a.toml:1:2: "));
        assert!(shown("", 0..0).starts_with("a.toml:1:1: "));
        assert!(shown("a\n", 7..9).starts_with("a.toml:2:1: "));
    }

    #[test]
    fn a_run_over_several_lines_is_marked_on_the_first() {
        assert_eq!(
            shown("a = [1,\n2]", 4..10),
            "a.toml:1:5: error: wrong\n 1 | a = [1,\n   |     ^^^\n"
        );
    }

    #[test]
    fn long_lines_are_cut_round_the_place() {
        let line = format!("{}X{}", "a".repeat(300), "b".repeat(300));
        let expected = format!(
            "a.toml:1:301: error: wrong\n 1 | ...{}X{}...\n   | {}^\n",
            "a".repeat(40),
            "b".repeat(59),
            " ".repeat(43)
        );
        assert_eq!(shown(&line, 300..301), expected);
        let all = shown(&line, 0..601);
        assert!(all.contains(&format!("{}...\n", "a".repeat(100))), "{all}");
        assert!(all.ends_with(&format!("| {}\n", "^".repeat(100))), "{all}");
    }

    #[test]
    fn nothing_in_a_file_commands_the_screen() {
        let out = shown("a = \"\u{1b}[2J\u{202e}\"", 0..1);
        assert!(out.contains("a = \"\u{fffd}[2J\u{fffd}\""), "{out}");
        // What is shown in place of a letter without width takes a column.
        let out = shown("\u{202e}\u{200b}b", 6..7);
        assert!(out.ends_with("|  ^\n"), "{out}");
    }

    #[test]
    fn problems_stand_in_the_order_of_the_file_and_once() {
        let source = Source::new("a.toml", "one\ntwo\n");
        let problems = vec![
            Problem::new("later").at(4..7),
            Problem::new("earlier").at(0..3).hint("do this"),
            Problem::new("whole file"),
            Problem::new("later").at(4..7),
        ];
        assert_eq!(
            Report::new(&source, problems).to_string(),
            "a.toml: error: whole file\n\
             \n\
             a.toml:1:1: error: earlier\n 1 | one\n   | ^^^\nhint: do this\n\
             \n\
             a.toml:2:1: error: later\n 2 | two\n   | ^^^\n"
        );
    }

    #[test]
    fn a_flood_of_problems_is_counted() {
        let source = Source::new("a.toml", "x".repeat(150));
        let problems = (0..150)
            .map(|at| Problem::new("bad").at(at..at + 1))
            .collect();
        let out = Report::new(&source, problems).to_string();
        assert_eq!(out.matches("error: bad").count(), 100);
        assert!(out.ends_with("\nand 50 more\n"), "{out}");
    }

    #[test]
    fn bytes_that_are_no_text_are_shown_in_their_place() {
        let report = Source::from_bytes("a.toml", b"ok = 1\nx = \"\xff\"\n".to_vec()).unwrap_err();
        assert_eq!(
            report.to_string(),
            "a.toml:2:6: error: the file is not UTF-8 text\n 2 | x = \"\u{fffd}\"\n   |      ^\n\
             hint: save it as UTF-8 in a text editor\n"
        );
        assert!(Source::from_bytes("a.toml", b"ok = 1".to_vec()).is_ok());
    }
}
