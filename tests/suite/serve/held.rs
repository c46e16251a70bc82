//! The list of definitions, and the files of each.

use super::served::Served;

#[test]
fn a_new_pattern_is_found_copied_and_named_anew() {
    let served = Served::new();
    let answer = served.post("/new", &[("name", "bay 1")]).is(303);
    assert_eq!(answer.header("location"), Some("/p/bay%201"));
    served.get("/p/bay%201").is(200);
    std::fs::write(served.folder.path().join("bay 1.toml"), "# by hand").unwrap();
    served.post("/new", &[("name", "bay 1")]).is(409);
    let copy = || served.post("/p/bay%201/copy", &[("to", "bay 2")]);
    copy().is(303);
    std::fs::write(served.folder.path().join("bay 1.toml"), "# anew").unwrap();
    copy().is(409);
    std::fs::write(served.folder.path().join("bay 1.toml"), "# by hand").unwrap();
    served
        .post("/p/bay%202/rename", &[("to", "Träger")])
        .is(303);
    assert_eq!(served.text("bay 1"), served.text("Träger"));
    let list = served.get("/").is(200);
    assert!(list.text().contains("/p/Tr%C3%A4ger") && !list.text().contains("bay 2"));
    served.get("/p/bay%202").is(404);
}

#[test]
fn patterns_are_found_by_name_and_title() {
    let served = Served::new()
        .demo("under-panel", "a")
        .demo("heat-shield", "b");
    let found = |words: &str| {
        let answer = served.get(&format!("/?q={words}")).is(200);
        ["/p/a\"", "/p/b\""].map(|link| answer.text().contains(link))
    };
    assert_eq!(found(""), [true, true]);
    assert_eq!(found("NECK"), [true, false]);
    assert_eq!(found("heat+shield"), [false, true]);
    assert_eq!(found("b"), [true, true]);
    assert_eq!(found("nothing+such"), [false, false]);
}

#[test]
fn files_are_those_of_the_command_line() {
    let served = Served::new().demo("under-panel", "a");
    let sample = |name: &str| std::fs::read(crate::common::root().join("out").join(name)).unwrap();
    let pdf = served.get("/p/a/pdf?paper=a4").is(200);
    assert!(pdf.body == sample("LV2-UP-01-B.pdf"), "another PDF");
    assert!(
        pdf.header("content-disposition")
            .unwrap()
            .contains("LV2-UP-01-B.pdf")
    );
    assert!(
        served.get("/p/a/svg").is(200).body == sample("LV2-UP-01-B.svg"),
        "another SVG"
    );
    assert!(served.get("/p/a/picture.svg").is(200).body == sample("LV2-UP-01-B.svg"));
    assert_eq!(served.get("/p/a/toml").is(200).text(), served.text("a"));
    let with_record = served.get("/p/a/pdf?record").is(200);
    assert!(with_record.body.len() > pdf.body.len());
}

#[test]
fn what_can_not_be_drawn_says_why() {
    let served = Served::new();
    served.post("/new", &[("name", "a")]).is(303);
    std::fs::write(
        served.folder.path().join("a.toml"),
        "format = 1\n[panel]\nwidth = -3\n",
    )
    .unwrap();
    let page = served.get("/p/a").is(200);
    assert!(page.text().contains("data-line=\"3\""), "{}", page.text());
    served.get("/p/a/pdf").is(422);
    served.get("/p/a/print").is(200);
}

#[test]
fn line_ends_and_comments_of_who_writes_by_hand_are_kept() {
    let served = Served::new().demo("under-panel", "a");
    let windows = served.text("a").replace('\n', "\r\n");
    std::fs::write(served.folder.path().join("a.toml"), &windows).unwrap();
    let from = served.get("/p/a").field("from");
    let sent = windows.replace("width = 980", "width = 990");
    let fields = [
        ("from", from.as_str()),
        ("text", &sent),
        ("move", "part,0,left,2,"),
    ];
    served.post("/p/a", &fields).is(303);
    let should = sent.replace(
        "centre_offset = 0\r\nfrom_datum = 34",
        "centre_offset = \"2 mm left\"\r\nfrom_datum = 34",
    );
    assert_eq!(served.text("a"), should);
}

#[test]
fn a_measuring_sheet_is_handed_out() {
    let served = Served::new().demo("under-panel", "mine");
    for path in [
        "/measuring-sheet",
        "/p/mine/measuring-sheet",
        "/p/mine/measuring-sheet?paper=letter",
    ] {
        let answer = served.get(path);
        assert_eq!(answer.status, 200, "{path}");
        assert!(answer.body.starts_with(b"%PDF-"), "{path}");
    }
}
