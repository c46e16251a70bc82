//! Requests of all kinds, sound, odd and nonsense: each is answered, and none by a fault of ours.

use super::served::Served;
use crate::common::random::{Came, hold};
use proptest::prelude::*;

const PATHS: [&str; 17] = [
    "/",
    "/new",
    "/p/a",
    "/p/a/picture",
    "/p/a/picture.svg",
    "/p/a/pdf",
    "/p/a/svg",
    "/p/a/toml",
    "/p/a/copy",
    "/p/a/rename",
    "/p/a/history",
    "/p/a/print",
    "/p/a/print/keep",
    "/p/a/print/scan",
    "/page.css",
    "/page.js",
    "/p/none",
];
const KEYS: [&str; 14] = [
    "name",
    "to",
    "from",
    "text",
    "do",
    "state",
    "move",
    "ruler",
    "across",
    "down",
    "graduation",
    "printer_name",
    "paper",
    "printer",
];
const KINDS: [&str; 5] = [
    "application/x-www-form-urlencoded",
    "multipart/form-data; boundary=X",
    "application/json",
    "text/plain",
    "",
];

fn words() -> impl Strategy<Value = String> {
    prop_oneof![
        "[ -~]{0,30}",
        "\\PC{0,12}",
        prop::sample::select(vec![
            "",
            "a",
            "b/c",
            "../a",
            "100",
            "99.5@0.5",
            "4 in",
            "1e999",
            "NaN",
            "part,0,left,1,2",
            "format = 1\n[[part]]",
            "print",
            "a4",
            "roll-610mm",
            "\0",
            "-1",
        ])
        .prop_map(str::to_owned),
        "[0-9a-f]{64}",
    ]
}

fn path() -> impl Strategy<Value = String> {
    let tail = prop_oneof![3 => Just(String::new()), 1 => "[!-~]{0,12}"];
    let query = prop_oneof![
        2 => Just(String::new()),
        1 => (prop::sample::select(KEYS.to_vec()), words())
            .prop_map(|(key, value)| format!("?{}", super::served::encoded(&[(key, &value)]))),
        1 => "\\?[!-~]{0,20}",
    ];
    (prop::sample::select(PATHS.to_vec()), tail, query)
        .prop_map(|(path, tail, query)| format!("{path}{tail}{query}"))
}

fn body() -> impl Strategy<Value = Vec<u8>> {
    let fields = prop::collection::vec((prop::sample::select(KEYS.to_vec()), words()), 0..5);
    prop_oneof![
        fields.prop_map(|fields| {
            let fields: Vec<(&str, &str)> =
                fields.iter().map(|(key, value)| (*key, value.as_str())).collect();
            super::served::encoded(&fields).into_bytes()
        }),
        prop::collection::vec(any::<u8>(), 0..200),
        "--X\r\nContent-Disposition: form-data; name=\"(scan|dpi|x)\"\r\n\r\n[ -~]{0,20}\r\n--X(--)?"
            .prop_map(String::into_bytes),
    ]
}

#[test]
fn none_of_ten_thousand_is_answered_by_a_fault() {
    let served = Served::new();
    // A pattern that takes little to draw.
    let toml = crate::common::under_panel(
        200.0,
        100.0,
        "[[opening]]\nname = \"o\"\nshape = \"round-hole\"\nwith = { diameter = 20 }\ncentre_offset = 0\nfrom_datum = 50\n",
    );
    let keep = || std::fs::write(served.folder.path().join("a.toml"), &toml).unwrap();
    let method = prop_oneof![
        4 => prop::sample::select(vec!["GET", "POST"]),
        1 => prop::sample::select(vec!["HEAD", "PUT", "DELETE", "OPTIONS", "TRACE", "BREW"]),
    ];
    let kind = prop::sample::select(KINDS.to_vec());
    let cases = (method, path(), kind, any::<bool>(), body());
    hold(10_000, 0.15, cases, |(method, path, kind, own, body)| {
        // It may have been renamed.
        keep();
        let mut headers = vec![("Content-Type", kind)];
        if !own {
            headers.push(("Sec-Fetch-Site", "cross-site"));
        }
        let answer = served.ask(method, &path, &headers, &body);
        prop_assert!(answer.status < 500, "{method} {path}: {}", answer.head);
        let words = String::from_utf8_lossy(&answer.body).into_owned();
        for leak in [
            "src/",
            "panicked",
            "RUST_BACKTRACE",
            served.folder.path().to_str().unwrap(),
        ] {
            prop_assert!(!words.contains(leak), "{method} {path} tells `{leak}`");
        }
        Ok(if answer.status < 400 {
            Came::Through
        } else {
            Came::Refused
        })
    });
    // What is no request at all.
    hold(
        500,
        0.0,
        prop::collection::vec(any::<u8>(), 0..300),
        |bytes| {
            let answer = served.raw(&bytes);
            let line = String::from_utf8_lossy(&answer).into_owned();
            prop_assert!(line.is_empty() || line.starts_with("HTTP/1.1 4"), "{line}");
            Ok(Came::Through)
        },
    );
    served.get("/").is(200);
}
