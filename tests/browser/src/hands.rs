//! Two windows at one definition, and things that are dragged.

use crate::stage::{DESKTOP, PHONE, Served, Stage};

#[tokio::test(flavor = "multi_thread")]
async fn the_second_of_two_windows_sees_both_versions() {
    let served = Served::new().demo("under-panel", "a");
    let link = format!("{}p/a", served.link);
    // Two browsers: a window behind another one sleeps.
    let stages = [Stage::new().await, Stage::new().await];
    let one = stages[0].window(DESKTOP, &link).await;
    let other = stages[1].window(DESKTOP, &link).await;
    for (page, width) in [(&one, "981"), (&other, "982")] {
        page.writes("ask:width:0:0", width).await;
        page.waits(&format!(
            "document.getElementById('text').value.includes('width = {width}')"
        ))
        .await;
    }
    one.clicks("button[value=save]").await;
    one.says("Saved").await;
    one.waits("document.querySelector(\"[name='ask:width:0:0']\")?.value === '981'")
        .await;
    other.clicks("button[value=save]").await;
    other.says("somebody else saved this pattern").await;
    for words in ["width = 981", "width = 982"] {
        other.says(words).await;
    }
    other.shows("desktop-5-conflict").await;
    other.is_for_everybody("the conflict").await;
    assert!(served.text("a").contains("width = 981"));
    other.clicks(".choice .primary").await;
    other
        .waits("document.querySelector(\"[name='ask:width:0:0']\")?.value === '982'")
        .await;
    assert!(served.text("a").contains("width = 982"));
    other.opens(&format!("{link}/history")).await;
    other.says("put aside").await;
    other.is_for_everybody("the history").await;
}

#[tokio::test(flavor = "multi_thread")]
async fn what_is_dragged_is_written_and_nothing_else() {
    let served = Served::new().demo("under-panel", "a");
    for screen in [DESKTOP, PHONE] {
        let stage = Stage::new().await;
        let page = stage.window(screen, &format!("{}p/a", served.link)).await;
        page.waits("document.querySelector(\"[data-handle='part0']\")")
            .await;
        // A finger that goes up and to the side, as the browser tells of it.
        let _: bool = page
            .js("(() => { const h = document.querySelector(\"[data-handle='part0']\"); h.scrollIntoView({ block: 'center' }); const r = h.getBoundingClientRect(); h.setPointerCapture = () => {}; const at = (t, x, y) => h.dispatchEvent(new PointerEvent(t, { bubbles: true, pointerId: 1, clientX: r.x + 20 + x, clientY: r.y + 20 + y })); at('pointerdown', 0, 0); at('pointermove', 20, -15); at('pointerup', 20, -15); return true })()")
            .await;
        page.waits("!document.getElementById('text').value.includes('centre_offset = 0')")
            .await;
        let told: String = page
            .js("document.querySelector(\"[data-handle='part0']\").ariaLabel")
            .await;
        let text: String = page.js("document.getElementById('text').value").await;
        let before = served.text("a");
        let changed = text
            .lines()
            .zip(before.lines())
            .filter(|(now, was)| now != was);
        let changed: Vec<&str> = changed.map(|(now, _)| now).collect();
        assert_eq!(changed.len(), 2, "{changed:?}");
        // The numbers on the picture are those of the file: below, with the front at the head, the
        // page's right is the vehicle's left.
        assert!(
            changed[0].starts_with("centre_offset = \"") && changed[0].contains("left"),
            "{changed:?}"
        );
        let depth = changed[1].strip_prefix("from_datum = ").unwrap();
        assert!(
            told.contains(&format!("{depth} mm from the edge")),
            "{told}, {changed:?}"
        );
        page.is_quiet();
    }
}

/// What was answered and not saved is there again when the page is opened anew, and is gone when it
/// was saved: nothing but words on their way can be lost.
#[tokio::test(flavor = "multi_thread")]
async fn what_is_not_saved_is_there_again() {
    let served = Served::new().demo("under-panel", "a");
    let link = format!("{}p/a", served.link);
    let stage = Stage::new().await;
    let page = stage.window(DESKTOP, &link).await;
    page.writes("ask:width:0:0", "981").await;
    page.says("Not saved yet").await;
    assert!(served.text("a").contains("width = 980"));
    page.opens(&format!("{link}/history")).await;
    page.opens(&link).await;
    page.says("Not saved yet").await;
    page.waits("document.querySelector(\"[name='ask:width:0:0']\")?.value === '981'")
        .await;
    page.clicks("button[value=save]").await;
    page.waits("document.getElementById('kept')?.textContent === 'Saved' && document.querySelector(\"[name='ask:width:0:0']\").value === '981'")
        .await;
    assert!(served.text("a").contains("width = 981"));
    page.waits("localStorage.length === 0").await;
    page.is_quiet();
}
