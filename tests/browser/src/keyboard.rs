//! The page by keyboard alone.

use crate::stage::{DESKTOP, Served, Stage, Window};

/// Goes on with the tabulator until what has the focus is so.
async fn tabs_to(page: &Window, so: &str) {
    for _ in 0..150 {
        page.strikes("Tab").await;
        if page
            .js::<bool>(&format!("(e => !!e && !!({so}))(document.activeElement)"))
            .await
        {
            return;
        }
    }
    panic!("the tabulator never comes to {so}");
}

#[tokio::test(flavor = "multi_thread")]
async fn a_pattern_is_made_moved_and_printed_without_a_mouse() {
    let served = Served::new();
    let stage = Stage::new().await;
    let page = stage.window(DESKTOP, &served.link).await;
    // The field of an empty folder has the focus.
    page.waits("document.activeElement?.name === 'name'").await;
    page.types("bay 1").await;
    page.strikes("Enter").await;
    page.says("answers to go").await;
    tabs_to(&page, "e.name === 'ask:seen-from:0:0'").await;
    page.strikes(" ").await;
    page.waits("document.querySelectorAll('#q-datum-edge input[type=radio]').length >= 4")
        .await;
    tabs_to(&page, "e.name === 'ask:datum-edge:0:0'").await;
    page.strikes(" ").await;
    tabs_to(&page, "e.name === 'ask:width:0:0'").await;
    page.types("700").await;
    // From one answer to the next with the enter key, as far as the size.
    tabs_to(&page, "e.name === 'ask:part.1.size:0:0'").await;
    page.types("50").await;
    page.strikes("Enter").await;
    assert!(
        page.js::<bool>("document.activeElement.name === 'ask:part.1.size:0:1'")
            .await
    );
    page.types("40").await;
    tabs_to(&page, "e.name === 'ask:part.1.at:0:0'").await;
    page.types("0").await;
    tabs_to(&page, "e.name === 'ask:part.1.at:0:1'").await;
    page.types("60").await;
    page.waits("document.querySelector(\"[data-handle='part0']\")")
        .await;
    // The focus stays where it is while the picture follows.
    assert!(
        page.js::<bool>("document.activeElement.name === 'ask:part.1.at:0:1'")
            .await
    );
    tabs_to(&page, "e.dataset.handle === 'part0'").await;
    let toward =
        |at: &str| format!("document.getElementById('text').value.includes('from_datum = {at}')");
    page.waits(&toward("60")).await;
    page.strikes("ArrowUp").await;
    page.strikes("ArrowUp").await;
    page.waits(&format!("{} || {}", toward("62"), toward("58")))
        .await;
    page.waits("document.activeElement?.dataset.handle === 'part0'")
        .await;
    tabs_to(&page, "e.value === 'print'").await;
    page.strikes("Enter").await;
    page.says("What does your ruler read?").await;
    tabs_to(&page, "e.innerText.startsWith('Open the PDF')").await;
    tabs_to(&page, "e.name === 'across'").await;
    page.types("94").await;
    page.strikes("Tab").await;
    page.types("94").await;
    page.strikes("Enter").await;
    page.says("Do not cut.").await;
    page.is_quiet();
}
