//! Names and words that try to leave the folder, or to be obeyed rather than shown.

use super::bench::{bench, files, kit, names, pattern};
use scraper::{Html, Selector};

/// Words that mean something in HTML, SVG, XML, PDF and to a shell.
const HOSTILE: [&str; 6] = [
    "</title><script>alert(1)</script>",
    "\\\"><img src=x onerror=alert(1)>",
    "]]></style><svg onload='alert(1)'>",
    ") /OpenAction << /S /JavaScript /JS (app.alert(1)) >> (",
    "endstream endobj 1 0 obj << /Type /Catalog >>",
    "&amp;<!-- $(touch owned) `touch owned`",
];

#[test]
fn words_are_shown_and_never_obeyed() {
    let plain = bench(1);
    plain.run("kit kit.toml").exits(0);
    let plain = files(&plain.path("out/K-1-A"));
    let objects = |files: &std::collections::BTreeMap<String, Vec<u8>>| {
        let file = lopdf::Document::load_mem(&files["K-1-A.pdf"]).unwrap();
        let catalog = file
            .catalog()
            .unwrap()
            .iter()
            .map(|(key, _)| key.clone())
            .collect::<Vec<_>>();
        (catalog, file.get_pages().len())
    };
    for hostile in HOSTILE {
        let kit = kit("A", 1).replace(
            "title = \"Kit\"",
            &format!(
                "title = \"{hostile}\"\nvehicle = \"{hostile}\"\nowner = \"{hostile}\"\n\
                      notes = [\"{hostile}\"]"
            ),
        );
        let panel = format!(
            "[[panel]]\nname = \"{hostile}\"\n[[bolt]]\nposition = \"{hostile}\"\n\
                             size = \"{hostile}\"\n"
        );
        let pattern = pattern("P-000", 40.0)
            .replace("Pattern P-000", hostile)
            .replace("name = \"Panel\"", &format!("name = \"{hostile}\""))
            .replace("name = \"neck\"", &format!("name = \"{hostile}\""));
        let bench = bench(1)
            .file("kit.toml", kit + &panel)
            .file("p0.toml", pattern);
        bench.run("kit kit.toml").exits(0);
        let files = files(&bench.path("out/K-1-A"));
        assert!(files.keys().eq(plain.keys()), "{hostile}");

        let page = Html::parse_document(std::str::from_utf8(&files["index.html"]).unwrap());
        assert!(page.errors.is_empty(), "{hostile}: {:?}", page.errors);
        let script = Selector::parse("script, img, [onload], [onerror]").unwrap();
        assert_eq!(page.select(&script).count(), 0, "{hostile}");
        let style = Selector::parse("style").unwrap();
        assert_eq!(page.select(&style).count(), 1, "{hostile}");

        let svg = std::str::from_utf8(&files["patterns/P-000-A.svg"]).unwrap();
        let svg = usvg::roxmltree::Document::parse(svg).unwrap();
        for node in svg.descendants().filter(|node| node.is_element()) {
            let name = node.tag_name().name();
            assert!(
                ["svg", "title", "desc", "metadata", "style", "g", "path"].contains(&name),
                "{name}"
            );
            assert!(node.attributes().all(|one| !one.name().starts_with("on")));
        }

        let (catalog, pages) = objects(&files);
        assert_eq!(catalog, objects(&plain).0, "{hostile}");
        assert!(pages >= objects(&plain).1);
        let file = lopdf::Document::load_mem(&files["K-1-A.pdf"]).unwrap();
        let scripts = file.objects.values().filter(|object| {
            object
                .as_dict()
                .is_ok_and(|dict| dict.has(b"JS") || dict.has(b"OpenAction"))
        });
        assert_eq!(scripts.count(), 0, "{hostile}");
        assert!(!bench.path("owned").exists());
    }
}

#[test]
fn names_that_lead_out_of_the_folder_are_refused() {
    for name in [
        "../up", "/etc/up", "a/b", "..", ".hidden", "a\\\\b", "C:up", "a b", "ä", "",
    ] {
        let text = kit("A", 1).replace("K-1", name);
        let bench = bench(1).file("kit.toml", text);
        bench.run("kit kit.toml").exits(1).results("");
        assert!(!bench.path("out").exists(), "{name}");
        let text = kit("A", 1).replace("revision = \"A\"", &format!("revision = \"{name}\""));
        let bench = bench.file("kit.toml", text);
        bench.run("kit kit.toml").exits(1);
        let bench = bench
            .file("kit.toml", kit("A", 1))
            .file("p0.toml", pattern(name, 40.0));
        bench.run("kit kit.toml").exits(1);
        assert_eq!(names(&bench.path("")), ["kit.toml", "p0.toml"], "{name}");
    }
}

#[test]
fn a_forged_manifest_takes_nothing_from_elsewhere() {
    let bench = bench(2);
    bench.run("kit kit.toml").exits(0);
    let path = bench.path("out/K-1-A/manifest.json");
    let text = std::fs::read_to_string(&path).unwrap();
    // The drawing of a pattern is said to be a file outside.
    let secret = bench.path("secret.svg");
    std::fs::copy(bench.path("out/K-1-A/patterns/P-000-A.svg"), &secret).unwrap();
    let forged = text.replace("patterns/P-000-A.svg", "../../secret.svg");
    std::fs::write(&path, forged).unwrap();
    let bench = bench.file("kit.toml", kit("B", 2));
    bench.run("kit kit.toml --from out/K-1-A").exits(0);
    let made = files(&bench.path("out/K-1-B"));
    let inside: Vec<&String> = made.keys().collect();
    assert!(
        inside.contains(&&"patterns/P-000-A.svg".to_owned()),
        "{inside:?}"
    );
    bench.run("kit kit.toml --check").exits(0);
}
