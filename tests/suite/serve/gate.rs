//! Who is let in, and what every answer says of itself.

use super::served::Served;

#[test]
fn the_first_line_is_the_address_of_this_machine_alone() {
    let served = Served::new();
    assert!(
        served.link.starts_with("http://127.0.0.1:"),
        "{}",
        served.link
    );
    served.get("/").is(200);
}

#[test]
fn a_page_of_another_site_neither_reads_nor_changes() {
    let served = Served::new().demo("under-panel", "a");
    for host in ["evil.example", "127.0.0.1.evil.example:80", ""] {
        let answer = served.ask("GET", "/", &[("Host", host)], b"");
        assert!(
            matches!(answer.status, 400 | 421),
            "{host}: {}",
            answer.head
        );
    }
    let form = "application/x-www-form-urlencoded";
    for origin in [
        "http://evil.example",
        "null",
        "https://127.0.0.1.evil.example",
    ] {
        let headers = [("Origin", origin), ("Content-Type", form)];
        served.ask("POST", "/new", &headers, b"name=b").is(403);
        served.ask("POST", "/p/a/rename", &headers, b"to=b").is(403);
    }
    assert_eq!(served.text("a"), served.get("/p/a/toml").text());
    assert!(!served.folder.path().join("b.toml").exists());
}

#[test]
fn a_name_that_was_given_is_its_own() {
    let served = Served::with(&["--host", "bay.example"]);
    served
        .ask("GET", "/", &[("Host", "bay.example")], b"")
        .is(200);
    served
        .ask("GET", "/", &[("Host", "bay.example:443")], b"")
        .is(200);
}

#[test]
fn beyond_this_machine_only_the_link_opens() {
    let served = Served::with(&["--listen", "0.0.0.0"]);
    let key = served.link.split_once("?key=").unwrap().1.to_owned();
    assert_eq!(key.len(), 32, "{}", served.link);
    for path in [
        "/",
        "/p/a",
        "/?key=",
        "/?key=00000000000000000000000000000000",
        "/page.js",
    ] {
        let answer = served.get(path).is(403);
        assert!(!answer.text().contains(&key));
    }
    let cookie = {
        let answer = served.get(&format!("/?key={key}")).is(303);
        assert_eq!(answer.header("location"), Some("/"));
        let cookie = answer.header("set-cookie").unwrap();
        assert!(
            cookie.contains("HttpOnly") && cookie.contains("SameSite=Lax"),
            "{cookie}"
        );
        cookie.split(';').next().unwrap().to_owned()
    };
    served.ask("GET", "/", &[("Cookie", &cookie)], b"").is(200);
    // The cookie alone, sent by another site's form, changes nothing.
    let headers = [
        ("Cookie", cookie.as_str()),
        ("Origin", "http://evil.example"),
        ("Content-Type", "application/x-www-form-urlencoded"),
    ];
    served.ask("POST", "/new", &headers, b"name=b").is(403);
}

#[test]
fn every_answer_takes_nothing_from_elsewhere_and_is_framed_by_none() {
    let served = Served::new().demo("under-panel", "a");
    let paths = [
        "/",
        "/p/a",
        "/p/a/print",
        "/p/a/history",
        "/p/none",
        "/nothing",
        "/page.js",
        "/p/a/toml",
    ];
    for path in paths {
        let answer = served.get(path);
        let policy = answer.header("content-security-policy").unwrap();
        for part in [
            "default-src 'none'",
            "script-src 'self'",
            "frame-ancestors 'none'",
            "form-action 'self'",
        ] {
            assert!(policy.contains(part), "{path}: {policy}");
        }
        assert!(!policy.contains("unsafe"), "{path}: {policy}");
        assert_eq!(
            answer.header("x-content-type-options"),
            Some("nosniff"),
            "{path}"
        );
        assert_eq!(
            answer.header("referrer-policy"),
            Some("same-origin"),
            "{path}"
        );
        // No script and no style within, and nothing from another origin.
        let body = String::from_utf8_lossy(&answer.body);
        if answer
            .header("content-type")
            .is_some_and(|kind| kind.starts_with("text/html"))
        {
            for part in [
                "<style",
                " style=",
                "javascript:",
                " onclick",
                "http://",
                "https://",
            ] {
                assert!(!body.contains(part), "{path} holds {part}");
            }
        }
    }
    for (path, kind) in [
        ("/p/a/pdf", "application/pdf"),
        ("/p/a/picture.svg", "image/svg+xml"),
    ] {
        let answer = served.get(path).is(200);
        assert_eq!(answer.header("content-type"), Some(kind));
        assert!(
            answer
                .header("content-security-policy")
                .unwrap()
                .contains("frame-ancestors 'none'")
        );
    }
}

#[test]
fn names_lead_nowhere_out_of_the_folder() {
    let served = Served::new();
    let outside = served
        .folder
        .path()
        .parent()
        .unwrap()
        .join("trimloft-outside.toml");
    for path in [
        "/p/..%2Ftrimloft-outside/toml",
        "/p/%2e%2e%2ftrimloft-outside/toml",
        "/p/..%5Ctrimloft-outside",
        "/p/.trimloft%2Fkey/toml",
        "/p/%2Fetc%2Fpasswd/toml",
        "/p/%00/toml",
        "/p/%ff/toml",
        "/../../etc/passwd",
    ] {
        let answer = served.get(path);
        assert!(
            matches!(answer.status, 400 | 404),
            "{path}: {}",
            answer.head
        );
        let words = String::from_utf8_lossy(&answer.body).into_owned();
        assert!(
            !words.contains(served.folder.path().to_str().unwrap()),
            "{words}"
        );
    }
    for name in ["../x", "/tmp/x", "a/b", ".hidden", "con", "a\nb", ""] {
        served.post("/new", &[("name", name)]).is(400);
    }
    assert!(!outside.exists());
    assert_eq!(std::fs::read_dir(served.folder.path()).unwrap().count(), 0);
}

#[test]
fn long_bodies_are_not_read() {
    let served = Served::new().demo("under-panel", "a");
    let text = "a".repeat(9 << 20);
    served.post("/p/a/picture", &[("text", &text)]).is(413);
    let long = "# ".repeat(600_000);
    let from = served.get("/p/a").field("from");
    served
        .post("/p/a", &[("from", &from), ("text", &long)])
        .is(413);
}

#[test]
#[cfg(unix)]
fn it_stops_when_it_is_told() {
    let mut served = Served::new();
    served.get("/").is(200);
    assert!(served.stops());
}

/// Who sends the head of a request a letter at a time, or nothing at all, is not waited for; whoever
/// asks meanwhile is answered.
#[test]
fn slow_heads_hold_no_connection() {
    use std::io::{Read, Write};
    use std::net::TcpStream;
    use std::time::{Duration, Instant};
    let served = Served::new();
    let since = Instant::now();
    let mut slow: Vec<TcpStream> = (0..40)
        .map(|_| TcpStream::connect(&served.address).unwrap())
        .collect();
    for (place, stream) in slow.iter_mut().enumerate() {
        if place % 2 == 0 {
            stream.write_all(b"GET / HTTP/1.1\r\nHo").unwrap();
        }
    }
    served.get("/").is(200);
    for stream in &mut slow {
        stream
            .set_read_timeout(Some(Duration::from_secs(40)))
            .unwrap();
        let mut told = vec![];
        // Closed, with or without a word: never left waiting.
        let ended = stream.read_to_end(&mut told);
        let is_waiting = |error: &std::io::Error| {
            matches!(
                error.kind(),
                std::io::ErrorKind::WouldBlock | std::io::ErrorKind::TimedOut
            )
        };
        assert!(!ended.is_err_and(|error| is_waiting(&error)), "still open");
    }
    let took = since.elapsed();
    assert!(
        took > Duration::from_secs(5) && took < Duration::from_secs(30),
        "{took:?}"
    );
}
