//! Two people at one definition, and a server that is killed.

use super::served::Served;

#[test]
fn the_second_save_shows_both_and_loses_neither() {
    let served = Served::new().demo("under-panel", "a");
    let before = served.text("a");
    let from = served.get("/p/a").field("from");
    let [mine, theirs] =
        ["981", "982"].map(|width| before.replace("width = 980", &format!("width = {width}")));
    served
        .post("/p/a", &[("from", &from), ("text", &theirs)])
        .is(303);
    let conflict = served
        .post("/p/a", &[("from", &from), ("text", &mine)])
        .is(409);
    for line in ["width = 981", "width = 982"] {
        assert!(conflict.text().contains(line), "{}", conflict.text());
    }
    assert_eq!(served.text("a"), theirs);
    // The choice: mine, knowing theirs.
    let from = conflict.field("from");
    served
        .post("/p/a", &[("from", &from), ("text", &mine)])
        .is(303);
    assert_eq!(served.text("a"), mine);
    let history = served.get("/p/a/history").is(200);
    assert!(history.text().contains("put aside"));
}

#[test]
fn an_earlier_state_is_brought_back() {
    let served = Served::new().demo("under-panel", "a");
    let first = served.text("a");
    let from = served.get("/p/a").field("from");
    let next = first.replace("width = 980", "width = 981");
    served
        .post("/p/a", &[("from", &from), ("text", &next)])
        .is(303);
    let page = served.get(&format!("/p/a/history/{from}")).is(200);
    assert!(
        page.text().contains("<mark>width = 980</mark>"),
        "{}",
        page.text()
    );
    let now = page.field("from");
    served
        .post("/p/a/history", &[("from", &now), ("state", &from)])
        .is(303);
    assert_eq!(served.text("a"), first);
    // One who has not seen that is told.
    served
        .post("/p/a/history", &[("from", &now), ("state", &now)])
        .is(409);
}

#[test]
fn a_killed_server_lost_nothing_that_was_sent() {
    let mut served = Served::new().demo("under-panel", "a");
    let mut text = served.text("a");
    let mut from = served.get("/p/a").field("from");
    for width in 1..6 {
        let next = text.replace("width = 980", &format!("width = {width}980"));
        served
            .post("/p/a", &[("from", &from), ("text", &next)])
            .is(303);
        served.killed_and_started();
        assert_eq!(served.text("a"), next);
        from = served.get("/p/a").field("from");
        text = served
            .text("a")
            .replace(&format!("width = {width}980"), "width = 980");
    }
}

#[test]
fn two_servers_of_one_folder_know_of_each_other() {
    let served = Served::new().demo("under-panel", "a");
    let other = {
        let mut other = Served::new();
        std::fs::remove_dir_all(other.folder.path()).unwrap();
        std::os::unix::fs::symlink(served.folder.path(), other.folder.path()).unwrap();
        other.killed_and_started();
        other
    };
    let text = served.text("a");
    let from = served.get("/p/a").field("from");
    other
        .post(
            "/p/a",
            &[("from", &from), ("text", &text.replace("980", "981"))],
        )
        .is(303);
    served
        .post(
            "/p/a",
            &[("from", &from), ("text", &text.replace("980", "982"))],
        )
        .is(409);
}

#[test]
fn what_was_sent_and_not_saved_is_there_after_the_server_is_killed() {
    let mut served = Served::new().demo("under-panel", "a");
    let (saved, from) = (served.text("a"), served.get("/p/a").field("from"));
    let worked_on = saved.replace("revision = \"B\"", "revision = \"D\"");
    let send = |served: &Served, window: &str, text: &str| {
        let fields = [("from", from.as_str()), ("window", window), ("text", text)];
        served.post("/p/a/picture", &fields).is(200);
    };
    send(&served, "window01", &saved.replace("\"B\"", "\"C\""));
    send(&served, "window01", &worked_on);
    send(&served, "window02", &saved);
    served.killed_and_started();
    assert_eq!(served.text("a"), saved);
    let page = served.get("/p/a/history").is(200);
    // The last of the one window; nothing of the one that changed nothing.
    assert_eq!(page.text().matches("not saved yet</span>").count(), 1);
    let draft = page.field("state");
    served
        .post("/p/a/history", &[("from", &from), ("state", &draft)])
        .is(303);
    assert_eq!(served.text("a"), worked_on);
    // It stands there now: no window has to save it any more.
    let page = served.get("/p/a/history").is(200);
    assert!(!page.text().contains("not saved yet</span>"));
}

#[test]
fn what_is_saved_is_no_draft_any_more() {
    let served = Served::new().demo("under-panel", "a");
    let from = served.get("/p/a").field("from");
    let text = served.text("a").replace("\"B\"", "\"C\"");
    let fields = [
        ("from", from.as_str()),
        ("window", "window01"),
        ("text", &text),
    ];
    served.post("/p/a/picture", &fields).is(200);
    let drafts = served.folder.path().join(".trimloft/drafts/a");
    assert_eq!(std::fs::read_dir(&drafts).unwrap().count(), 1);
    served.post("/p/a", &fields).is(303);
    assert_eq!(std::fs::read_dir(&drafts).unwrap().count(), 0);
    // A window's name is no way out of its folder.
    let fields = [
        ("from", from.as_str()),
        ("window", "../../window"),
        ("text", &text),
    ];
    served.post("/p/a/picture", &fields).is(200);
    assert_eq!(std::fs::read_dir(&drafts).unwrap().count(), 0);
}
