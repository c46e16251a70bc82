//! The questions of the page: answered one by one as its script does, and all at once without it.

use super::served::{Answer, Served};
use scraper::{Html, Selector};

/// The fields of a page or a piece of one, as a browser would send them.
fn fields(html: &str) -> Vec<(String, String)> {
    let page = Html::parse_fragment(html);
    let selector = Selector::parse("input, select, textarea").unwrap();
    let option = Selector::parse("option[selected]").unwrap();
    let mut all = vec![];
    for field in page.select(&selector) {
        let own = field.value();
        let Some(name) = own.attr("name") else {
            continue;
        };
        if own.attr("type") == Some("radio") && own.attr("checked").is_none() {
            continue;
        }
        let value = match own.name() {
            "select" => {
                let chosen = field.select(&option).next();
                chosen
                    .and_then(|one| one.value().attr("value"))
                    .unwrap_or_default()
                    .to_owned()
            }
            "textarea" => field
                .text()
                .collect::<String>()
                .trim_start_matches('\n')
                .to_owned(),
            _ => own.attr("value").unwrap_or_default().to_owned(),
        };
        all.push((name.to_owned(), value));
    }
    all
}

fn with(mut fields: Vec<(String, String)>, name: &str, value: &str) -> Vec<(String, String)> {
    match fields.iter_mut().find(|(key, _)| key == name) {
        Some((_, old)) => *old = value.into(),
        None => fields.push((name.into(), value.into())),
    }
    fields
}

fn sent(served: &Served, path: &str, fields: &[(String, String)]) -> Answer {
    let pairs: Vec<(&str, &str)> = fields
        .iter()
        .map(|(key, value)| (key.as_str(), value.as_str()))
        .collect();
    served.post(path, &pairs)
}

/// What the page's script holds: the text, and the questions as they were last told.
struct Script<'s> {
    served: &'s Served,
    text: String,
    questions: String,
    last: serde_json::Value,
}

impl<'s> Script<'s> {
    fn open(served: &'s Served) -> Self {
        let page = served.get("/p/a").is(200);
        let text = served.text("a");
        Self {
            served,
            text,
            questions: page.text().to_owned(),
            last: serde_json::Value::Null,
        }
    }

    /// One answer in one field, as it is typed.
    fn answers(&mut self, field: &str, value: &str) {
        let fields = with(fields(&self.questions), field, value);
        let fields = with(fields, "text", &self.text);
        let told = sent(self.served, "/p/a/picture", &fields).is(200).json();
        self.text = told["text"].as_str().unwrap().to_owned();
        self.questions = told["questions"].as_str().unwrap().to_owned();
        self.last = told;
    }
}

#[test]
fn a_pattern_is_made_of_answers_alone() {
    let served = Served::new();
    served.post("/new", &[("name", "a")]).is(303);
    let mut script = Script::open(&served);
    let answers = [
        ("ask:seen-from:0:0", "below"),
        ("ask:datum-edge:0:0", "rear"),
        ("ask:width:0:0", "980"),
        ("ask:part.1.size:0:0", "60"),
        ("ask:part.1.size:0:1", "60"),
        ("ask:part.1.at:0:0", "4"),
        ("side:part.1.at:0:0", "left"),
        ("ask:part.1.at:0:1", "34"),
        ("ask:open-at-edge:0:0", "yes"),
    ];
    for (field, value) in answers {
        if !field.starts_with("side:") && value == "60" && field.ends_with(":0") {
            // Half an answer of two is not taken yet, and stays in its field.
            script.answers(field, value);
            assert!(
                fields(&script.questions).contains(&(field.into(), value.into())),
                "{}",
                script.questions
            );
            continue;
        }
        script.answers(field, value);
    }
    assert_eq!(script.last["prints"], true, "{}", script.last["status"]);
    let pattern = crate::common::solved(&script.text);
    let bounds = pattern.parts[0].outline.bounds();
    assert!((bounds.width() - 60.0).abs() < 1e-9 && (bounds.center().y - 34.0).abs() < 1e-9);
    assert!(
        script.text.contains("centre_offset = \"4 left\"") || script.text.contains("\"4 mm left\""),
        "{}",
        script.text
    );
    // Saved, it is drawn by the command line.
    let from = served.get("/p/a").field("from");
    served
        .post(
            "/p/a",
            &[("from", &from), ("text", &script.text), ("do", "print")],
        )
        .is(303);
    served.get("/p/a/pdf").is(200);
}

#[test]
fn without_script_a_form_is_saved_with_what_was_changed_alone() {
    let served = Served::new().demo("under-panel", "a");
    let before = served.text("a");
    let form = fields(served.get("/p/a").is(200).text());
    // Nothing was changed, and nothing is.
    sent(&served, "/p/a", &form).is(303);
    assert_eq!(served.text("a"), before);
    let form = with(form, "ask:width:0:0", "990");
    sent(&served, "/p/a", &form).is(303);
    assert_eq!(
        served.text("a"),
        before.replace("width = 980", "width = 990")
    );
}

#[test]
fn a_wrong_answer_is_told_beside_its_question_and_nothing_is_saved() {
    let served = Served::new().demo("under-panel", "a");
    let before = served.text("a");
    let form = with(fields(served.get("/p/a").text()), "ask:width:0:0", "98o");
    let page = sent(&served, "/p/a", &form).is(422);
    let html = Html::parse_document(page.text());
    let wrong = Selector::parse("#q-width .wrong").unwrap();
    let words: String = html.select(&wrong).next().unwrap().text().collect();
    assert!(words.contains("98o"), "{words}");
    assert!(fields(page.text()).contains(&("ask:width:0:0".into(), "98o".into())));
    assert_eq!(served.text("a"), before);
}

#[test]
fn going_back_to_one_answer_changes_nothing_else() {
    let served = Served::new().demo("under-panel", "a");
    let mut script = Script::open(&served);
    let before = script.text.clone();
    for (field, there, back) in [
        ("ask:width:0:0", "1000", "980"),
        ("ask:thickness:0:0", "3", "2.5"),
        ("ask:part.1.at:0:1", "36.5", "34"),
    ] {
        script.answers(field, there);
        assert_ne!(script.text, before, "{field}");
        script.answers(field, back);
        assert_eq!(script.text, before, "{field}");
    }
}

#[test]
fn a_finding_that_stops_is_answered_for_by_its_name() {
    let served = Served::new().demo("fascia-socket", "a");
    let whole = served.text("a");
    let text = whole.split("[[accepted]]").next().unwrap();
    let told = served
        .post("/p/a/picture", &[("text", text)])
        .is(200)
        .json();
    assert_eq!(told["prints"], false);
    let status = scraper::Html::parse_fragment(told["status"].as_str().unwrap());
    let button = scraper::Selector::parse("button[data-accept]").unwrap();
    let stopping: Vec<(&str, &str)> = status
        .select(&button)
        .map(|own| {
            (
                own.attr("data-accept").unwrap(),
                own.attr("data-value").unwrap(),
            )
        })
        .collect();
    assert!(!stopping.is_empty(), "{}", told["status"]);
    let mut fields = vec![("text".to_owned(), text.to_owned())];
    for (row, (id, value)) in stopping.iter().enumerate() {
        let own = [id, value, &"A. Fitter", &"held behind; tried, and sound"];
        for (blank, answer) in own.into_iter().enumerate() {
            fields.push((format!("ask:accepted:{row}:{blank}"), (*answer).to_owned()));
        }
    }
    let fields: Vec<(&str, &str)> = fields
        .iter()
        .map(|(key, value)| (key.as_str(), value.as_str()))
        .collect();
    let told = served.post("/p/a/picture", &fields).is(200).json();
    assert_eq!(told["prints"], true, "{}", told["status"]);
    let text = told["text"].as_str().unwrap();
    assert_eq!(text.matches("[[accepted]]").count(), stopping.len());
    assert!(
        text.contains("because = \"held behind; tried, and sound\""),
        "{text}"
    );
}
