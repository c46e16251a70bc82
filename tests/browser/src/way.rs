//! The whole way from an empty folder to a sheet that proves full size, on a desktop and a phone.

use crate::stage::{DESKTOP, PHONE, Screen, Served, Stage, trimloft};

/// The under-panel demo's opening by answers alone: field and answer.
const ANSWERS: [(&str, &str); 9] = [
    ("ask:seen-from:0:0", "below"),
    ("ask:datum-edge:0:0", "rear"),
    ("ask:width:0:0", "980"),
    ("ask:part.1.size:0:0", "60"),
    ("ask:part.1.size:0:1", "60"),
    ("ask:part.1.size:0:2", "4"),
    ("ask:part.1.at:0:0", "0"),
    ("ask:part.1.at:0:1", "34"),
    ("ask:open-at-edge:0:0", "yes"),
];

async fn whole_way(screen: Screen) {
    let Screen(name, ..) = screen;
    let served = Served::new();
    let stage = Stage::new().await;
    let page = stage.window(screen, &served.link).await;
    page.says("There is no pattern in this folder yet").await;
    page.is_for_everybody("the empty list").await;
    page.writes("name", "LV2-UP-01").await;
    page.clicks(".new .primary").await;
    page.says("answers to go").await;
    page.shows(&format!("{name}-1-new")).await;
    for (field, answer) in ANSWERS {
        let is_choice = matches!(answer, "below" | "rear" | "yes");
        if is_choice {
            page.chooses(field, answer).await;
        } else {
            page.writes(field, answer).await;
        }
        // The server has it when the definition has.
        page.waits("!document.querySelector('#q-parts .wrong').textContent")
            .await;
    }
    page.waits("document.getElementById('text').value.includes('open_at_edge = true')")
        .await;
    page.waits("document.querySelector('#status .paper')?.innerText.startsWith('2 pages')")
        .await;
    page.waits(
        "document.querySelector('.handle') && document.getElementById('picture').naturalWidth",
    )
    .await;
    page.shows(&format!("{name}-2-answered")).await;
    page.is_for_everybody("the questions").await;
    page.clicks("button[value=print]").await;
    page.says("What does your ruler read?").await;
    page.shows(&format!("{name}-3-print")).await;
    page.is_for_everybody("the print page").await;

    // What the page gives is proven by the program against the definition that it saved.
    let pdf: String = page
        .js("fetch(document.querySelector('.open a').href).then(r => r.blob()).then(b => new Promise(done => { const reader = new FileReader(); reader.onload = () => done([...new Uint8Array(reader.result)].map(x => x.toString(16).padStart(2, '0')).join('')); reader.readAsArrayBuffer(b) }))")
        .await;
    let bytes: Vec<u8> = (0..pdf.len() / 2)
        .map(|at| u8::from_str_radix(&pdf[2 * at..2 * at + 2], 16).unwrap())
        .collect();
    std::fs::write(served.folder.path().join("a.pdf"), bytes).unwrap();
    let proof = trimloft()
        .current_dir(served.folder.path())
        .args(["verify", "a.pdf", "--against", "LV2-UP-01.toml"])
        .output()
        .unwrap();
    assert!(
        proof.status.success(),
        "{}",
        String::from_utf8_lossy(&proof.stdout)
    );

    page.writes("across", "100").await;
    page.writes("down", "99.9").await;
    page.clicks(".rulers .primary").await;
    page.says("Good to cut.").await;
    page.shows(&format!("{name}-4-checked")).await;
    page.is_for_everybody("the verdict").await;
    page.is_quiet();
}

#[tokio::test(flavor = "multi_thread")]
async fn from_nothing_to_a_proven_sheet_on_a_desktop() {
    whole_way(DESKTOP).await;
}

#[tokio::test(flavor = "multi_thread")]
async fn from_nothing_to_a_proven_sheet_on_a_phone() {
    whole_way(PHONE).await;
}
