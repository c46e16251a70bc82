//! What somebody answers for, and lengths in other units.

use crate::stage::{DESKTOP, PHONE, Served, Stage, root};

/// A finding that stops the pattern is answered for by a button, a name and a reason, on both screens; then
/// it prints, and the file says who and why.
#[tokio::test(flavor = "multi_thread")]
async fn a_finding_is_answered_for_by_name() {
    let demo = std::fs::read_to_string(root().join("shapes/demo/fascia-socket.toml")).unwrap();
    let (unanswered, _) = demo.split_once("[[accepted]]").unwrap();
    for screen in [DESKTOP, PHONE] {
        let served = Served::new().with("a", unanswered);
        let stage = Stage::new().await;
        let page = stage.window(screen, &format!("{}p/a", served.link)).await;
        page.says("not to be printed yet").await;
        page.clicks("[data-accept]").await;
        // The name and the reason are what is left to say: the focus is where they begin.
        page.waits("document.activeElement?.name === 'ask:accepted:0:2'")
            .await;
        page.types("bay lead").await;
        page.writes("ask:accepted:0:3", "the bezel spans the web")
            .await;
        page.waits("document.querySelector('#status .accepted')?.textContent.includes('bay lead')")
            .await;
        page.waits("/^[0-9]+ pages/.test(document.querySelector('#status .paper')?.innerText)")
            .await;
        page.is_for_everybody("what is answered for").await;
        page.clicks("button[value=print]").await;
        page.says("What does your ruler read?").await;
        let text = served.text("a");
        for words in ["by = \"bay lead\"", "because = \"the bezel spans the web\""] {
            assert!(text.contains(words), "{text}");
        }
        page.is_quiet();
    }
}

/// Lengths stay what they are when the units are changed, there and back again.
#[tokio::test(flavor = "multi_thread")]
async fn lengths_stay_when_the_units_are_changed() {
    let served = Served::new().demo("under-panel", "a");
    let stage = Stage::new().await;
    let page = stage.window(DESKTOP, &format!("{}p/a", served.link)).await;
    page.writes("ask:part.1.size:0:0", "12.7").await;
    page.writes("ask:width:0:0", "990.6").await;
    page.waits("document.getElementById('text').value.includes('width = 12.7')")
        .await;
    let width = |told: &str| {
        format!("document.querySelector(\"[name='ask:width:0:0']\")?.value === '{told}'")
    };
    let size = |told: &str| {
        format!("document.querySelector(\"[name='ask:part.1.size:0:0']\")?.value === '{told}'")
    };
    page.chooses("ask:units:0:0", "in").await;
    // 25.4 mm to the inch: 990.6 mm are 39 in, 12.7 mm half of one.
    page.waits(&width("39")).await;
    page.waits(&size("1/2")).await;
    page.chooses("ask:units:0:0", "mm").await;
    page.waits(&width("990.6")).await;
    page.waits(&size("12.7")).await;
    page.is_quiet();
}
