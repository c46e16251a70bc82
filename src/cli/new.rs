//! `trimloft new`: a definition made or changed by questions, and drawn.

mod face;
mod terminal;

use super::Failure;
use super::args::NewArgs;
use super::{definition, draw, meaning, report};
use face::{Face, Reply};
use std::io::{IsTerminal, stdin};
use std::path::Path;
use toml_edit::DocumentMut;
use trimloft::ask::{Question, asked_by, blank, questions};
use trimloft::input::families::Library;
use trimloft::input::{PatternSpec, Problem, Report, Source};
use trimloft::output::write_whole;
use trimloft::solve::{Pattern, solve};

pub(super) fn run(args: &NewArgs) -> Result<(), Failure> {
    let shapes = meaning::library(&args.drawn.families)?;
    let mut definition = opened(&args.file)?;
    let before = definition.to_string();
    answer_all(&mut definition, &shapes, &args.answers)?;
    if args.questions {
        return report::print(&listed(&definition, &shapes));
    }
    let asks = stdin().is_terminal() && !args.no_input && args.answers.is_empty();
    if asks {
        ask_all(&mut definition, &shapes, &mut terminal::Terminal)?;
    }
    let lacking = lacking(&definition, &shapes);
    if !lacking.is_empty() {
        return Err(Failure::usage(format!(
            "these must be answered, with figures of your own:{lacking}\nhint: `trimloft new {} \
             --questions` lists all of them",
            args.file.display()
        )));
    }
    let text = definition.to_string();
    let pattern = match judged(&args.file, &text, &shapes) {
        Ok(pattern) => pattern,
        Err(wrong) => {
            report::tell(refused(&wrong, &definition, &shapes));
            return Err(Failure::falls_short("nothing is written"));
        }
    };
    if text != before || !args.file.exists() {
        write_whole(&args.file, text.as_bytes())
            .map_err(|error| Failure::falls_short(format!("{error}; hint: {}", error.hint())))?;
    }
    report::tell(left_out(&args.file, &definition, &shapes));
    report::tell(to_accept(&pattern, &definition, &shapes));
    draw::files(std::slice::from_ref(&args.file), &args.drawn)
}

/// Whether a definition's text can be solved.
fn judged(file: &Path, text: &str, shapes: &Library) -> Result<Pattern, Report> {
    let source = Source::new(file, text);
    let spec = PatternSpec::read(&source)?;
    solve(&spec, shapes).map_err(|problems| Report::new(&source, problems))
}

/// What is wrong with a definition, each by the question that was answered so; as the file's reader
/// has it where it is about nothing that is asked.
fn refused(report: &Report, definition: &DocumentMut, shapes: &Library) -> String {
    let asked = questions(definition, shapes);
    let by = |problem: &Problem| asked_by(&report.source.text, &asked, problem);
    if !report.problems.iter().all(|problem| by(problem).is_some()) {
        return report.to_string();
    }
    let told = |problem: &Problem| {
        let question = by(problem)?;
        let hint = problem.hint.iter();
        let hint: String = hint.map(|hint| format!("hint: {hint}\n")).collect();
        let (id, words) = (&question.id, &question.words);
        Some(format!("`{id}`: {words} {}\n{hint}", problem.message))
    };
    report.problems.iter().filter_map(told).collect()
}

/// What stands in a definition that nobody answered, a line each.
fn left_out(file: &Path, definition: &DocumentMut, shapes: &Library) -> String {
    let asked = questions(definition, shapes);
    let open = asked.iter().filter(|own| !own.is_answered(definition));
    let lines = open.filter_map(|own| Some(format!("\n  {}: {}", own.id, own.usual.as_ref()?)));
    let lines: String = lines.collect();
    match lines.is_empty() {
        true => String::new(),
        false => format!(
            "{}: not answered, so that it stands at:{lines}\n",
            file.display()
        ),
    }
}

/// How what stops a pattern is answered for, beside what is answered for already: the one answer that
/// gives it.
fn to_accept(pattern: &Pattern, definition: &DocumentMut, shapes: &Library) -> String {
    let asked = questions(definition, shapes);
    let stopping = pattern
        .findings
        .iter()
        .filter(|own| own.waits_for_somebody());
    match asked.iter().find(|own| own.id == "accepted") {
        Some(question) if stopping.clone().next().is_some() => {
            let mut all = question.read(definition);
            all.extend(stopping.map(|own| {
                let told = [own.id.as_str(), &own.accepted_at(), "WHO", "WHY"];
                told.map(str::to_owned).to_vec()
            }));
            let told = question.line(&all);
            format!("what stops it can be answered for: --answer 'accepted={told}'\n")
        }
        _ => String::new(),
    }
}

/// The definition in a file, or one with nothing answered that is named after it.
fn opened(file: &Path) -> Result<DocumentMut, Failure> {
    if definition::is_standard_input(file) {
        return Err(Failure::usage("`new` writes its file: name one"));
    }
    if !file.exists() {
        let stem = file.file_stem().unwrap_or_default().to_string_lossy();
        let number: String = stem
            .chars()
            .map(|letter| {
                if letter.is_ascii_alphanumeric() {
                    letter
                } else {
                    '-'
                }
            })
            .collect();
        let number = number.trim_matches('-');
        return Ok(blank(if number.is_empty() { "pattern" } else { number }));
    }
    let source = definition::open(file).map_err(|report| {
        report::tell(&report);
        Failure::falls_short("nothing is changed")
    })?;
    source.text.parse().map_err(|error: toml_edit::TomlError| {
        Failure::falls_short(format!(
            "{}: {}; hint: `trimloft check` shows each fault at its place",
            file.display(),
            error.message()
        ))
    })
}

/// Writes the answers of the command line, each in its turn: what one answer brings up may be
/// answered by another.
fn answer_all(
    definition: &mut DocumentMut,
    shapes: &Library,
    answers: &[String],
) -> Result<(), Failure> {
    let mut left: Vec<(&str, &str)> = vec![];
    for answer in answers {
        let Some((id, line)) = answer.split_once('=') else {
            return Err(Failure::usage(format!(
                "`--answer \"{answer}\"` names no question; hint: `--answer \"width=980\"`"
            )));
        };
        if left.iter().any(|(other, _)| *other == id.trim()) {
            return Err(Failure::usage(format!("`{}` is answered twice", id.trim())));
        }
        left.push((id.trim(), line.trim()));
    }
    while !left.is_empty() {
        let asked = questions(definition, shapes);
        let next = asked.iter().find_map(|question| {
            let place = left.iter().position(|(id, _)| *id == question.id)?;
            Some((question, left.remove(place).1))
        });
        let Some((question, line)) = next else {
            let known: Vec<&str> = asked.iter().map(|question| question.id.as_str()).collect();
            return Err(Failure::usage(format!(
                "`{}` is not asked here; hint: these are: {}",
                left[0].0,
                known.join(", ")
            )));
        };
        question
            .write(definition, &question.rows(line))
            .map_err(|why| Failure::usage(format!("`{}={line}`: {why}", question.id)))?;
    }
    Ok(())
}

/// What must be answered and is not, one a line.
fn lacking(definition: &DocumentMut, shapes: &Library) -> String {
    questions(definition, shapes)
        .iter()
        .filter(|question| question.is_lacking(definition))
        .map(|question| {
            format!(
                "\n  --answer \"{}={}\"  {}",
                question.id,
                question.form(),
                question.words
            )
        })
        .collect()
}

/// All questions with their answers, by section.
fn listed(definition: &DocumentMut, shapes: &Library) -> String {
    let mut told = String::new();
    let mut section = None;
    for question in questions(definition, shapes) {
        if section != Some(question.section) {
            section = Some(question.section);
            told += &format!("{}\n", question.section.title());
        }
        told += &format!("  {} = {}\n", question.id, question.form());
        told += &format!("      {} {}", question.words, question.help);
        told = told.trim_end().to_owned();
        let rows = question.read(definition);
        let stands = match (&question.usual, question.is_answered(definition)) {
            (_, true) => format!("now: {}", question.line(&rows)),
            (Some(usual), false) => format!("unless answered: {usual}"),
            (None, false) => "must be answered".into(),
        };
        told += &format!("\n      {stands}\n");
    }
    told
}

/// Asks one question after the other; back goes to the one before.
fn ask_all(
    definition: &mut DocumentMut,
    shapes: &Library,
    face: &mut impl Face,
) -> Result<(), Failure> {
    let mut at = 0;
    loop {
        let asked = questions(definition, shapes);
        let Some(question) = asked.get(at) else {
            match asked
                .iter()
                .position(|question| question.is_lacking(definition))
            {
                Some(lacking) => {
                    face.tell("This one must be answered.");
                    at = lacking;
                    continue;
                }
                None => return Ok(()),
            }
        };
        if at == 0 || asked[at - 1].section != question.section {
            face.tell(question.section.title());
        }
        match face.ask(question, definition)? {
            Reply::Keep => at += 1,
            Reply::Back => at = at.saturating_sub(1),
            Reply::Answer(line) => match write(question, definition, &line) {
                Ok(()) => at += 1,
                Err(why) => face.tell(&why),
            },
        }
    }
}

fn write(question: &Question, definition: &mut DocumentMut, line: &str) -> Result<(), String> {
    question.write(definition, &question.rows(line))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Replies by the list, then keeps what stands.
    struct Listed {
        replies: Vec<(&'static str, Reply)>,
        told: Vec<String>,
    }

    impl Face for Listed {
        fn ask(&mut self, question: &Question, _: &DocumentMut) -> Result<Reply, Failure> {
            let next = self
                .replies
                .first()
                .is_some_and(|(id, _)| *id == question.id);
            Ok(if next {
                self.replies.remove(0).1
            } else {
                Reply::Keep
            })
        }

        fn tell(&mut self, words: &str) {
            self.told.push(words.to_owned());
        }
    }

    #[test]
    fn wrong_answers_are_asked_again_and_back_goes_one_back() {
        let answer = |line: &str| Reply::Answer(line.to_owned());
        let mut face = Listed {
            replies: vec![
                ("seen-from", answer("below")),
                ("datum-edge", answer("up")),
                ("datum-edge", answer("rear")),
                ("width", answer("900")),
                ("material", Reply::Back),
                ("width", answer("980")),
                ("part.1.size", answer("60, 60, 4")),
                ("part.1.at", answer("4 mm left, 34")),
            ],
            told: vec![],
        };
        let shapes = Library::shipped();
        let mut definition = blank("neck");
        ask_all(&mut definition, &shapes, &mut face).unwrap();
        assert!(face.replies.is_empty(), "{:?}", face.replies);
        assert!(
            face.told
                .iter()
                .any(|words| words.contains("`up` is none of"))
        );
        assert_eq!(definition["panel"]["width"].as_integer(), Some(980));
        assert_eq!(lacking(&definition, &shapes), "");
        assert!(PatternSpec::read(&Source::new("x", definition.to_string())).is_ok());
    }
}
