//! After the print: what rulers and scans say, and printers that are kept.

use super::served::{Answer, Served};
use crate::scanned_sheets::page_of;

fn read(served: &Served, fields: &[(&str, &str)]) -> Answer {
    served.post("/p/a/print", fields)
}

#[test]
fn rulers_are_read_in_millimetres_and_in_fractions() {
    let served = Served::new().demo("under-panel", "a");
    for (ruler, across, down, says) in [
        ("100mm", "100", "99.9", "Good to cut."),
        ("100mm", "97", "97", "Do not cut."),
        ("4in", "4", "4 1/64", "Do not cut."),
        ("4in", "4", "4", "Good to cut."),
        ("100mm", "100 mm", "3 15/16 in", "Good to cut."),
    ] {
        let graduation = if ruler == "4in" { "1/64 in" } else { "0.5 mm" };
        let fields = [
            ("ruler", ruler),
            ("across", across),
            ("down", down),
            ("graduation", graduation),
        ];
        let answer = read(&served, &fields).is(200);
        assert!(
            answer.text().contains(says),
            "{across} {down}: {}",
            answer.text()
        );
    }
}

#[test]
fn what_a_rule_can_not_tell_from_full_size_is_not_corrected() {
    let served = Served::new().demo("under-panel", "a");
    let fields = |down| [("across", "100"), ("down", down), ("printer_name", "desk")];
    for (down, offered) in [("99.9", false), ("99.3", true)] {
        let answer = read(&served, &fields(down)).is(200);
        assert_eq!(
            answer.text().contains("Keep the printer"),
            offered,
            "{down}"
        );
    }
    served.post("/p/a/print/keep", &fields("99.9")).is(400);
}

#[test]
fn what_is_no_reading_is_told() {
    let served = Served::new().demo("under-panel", "a");
    for across in ["", "a hundred", "-5", "1/0", "9"] {
        let answer = read(&served, &[("across", across), ("down", "")]).is(422);
        assert!(answer.text().contains("That can't be read"), "{across}");
    }
    // One ruler alone proves nothing of the other way.
    let answer = read(&served, &[("across", "100"), ("down", "")]).is(200);
    assert!(answer.text().contains("Not proven"), "{}", answer.text());
}

#[test]
fn a_printer_is_kept_and_corrects_sheets_that_prove_true_there() {
    let served = Served::new().demo("under-panel", "a");
    let fields = [
        ("ruler", "100mm"),
        ("across", "99"),
        ("down", "99.4"),
        ("graduation", "0.5 mm"),
        ("printer_name", "front desk"),
    ];
    let answer = read(&served, &fields).is(200);
    assert!(
        answer.text().contains("Keep the printer"),
        "{}",
        answer.text()
    );
    let kept = served.post("/p/a/print/keep", &fields).is(303);
    let page = kept.header("location").unwrap();
    let page = served.get(page).is(200);
    assert!(
        page.head.contains("trimloft-printer=front%20desk"),
        "{}",
        page.head
    );
    let pdf = served.get("/p/a/pdf?printer=front%20desk").is(200);
    // The program proves it for that printer, and for no other.
    let folder = served.folder.path();
    std::fs::write(folder.join("a.pdf"), pdf.body).unwrap();
    let verify = |words: &[&str]| {
        let mut command = std::process::Command::new(env!("CARGO_BIN_EXE_trimloft"));
        let output = command
            .current_dir(folder)
            .args(["verify", "a.pdf"])
            .args(words)
            .output();
        output.unwrap().status.success()
    };
    assert!(verify(&[
        "--printer",
        "printers/front desk.toml",
        "--against",
        "a.toml"
    ]));
    assert!(!verify(&["--against", "a.toml"]));
    // A print dialog is no printer.
    let shrunk = [
        ("ruler", "100mm"),
        ("across", "94"),
        ("down", "94"),
        ("printer_name", "b"),
    ];
    served.post("/p/a/print/keep", &shrunk).is(400);
    assert!(!folder.join("printers/b.toml").exists());
}

/// A form with a file, as a browser sends it (RFC 7578).
fn sent_scan(served: &Served, picture: &[u8], dpi: &str, rule: &str) -> Answer {
    let mut body = vec![];
    for (name, value) in [("dpi", dpi), ("scanner", rule)] {
        let part =
            format!("--XX\r\nContent-Disposition: form-data; name=\"{name}\"\r\n\r\n{value}\r\n");
        body.extend(part.into_bytes());
    }
    body.extend(b"--XX\r\nContent-Disposition: form-data; name=\"scan\"; filename=\"s.png\"\r\nContent-Type: image/png\r\n\r\n");
    body.extend(picture);
    body.extend(b"\r\n--XX--\r\n");
    let headers = [("Content-Type", "multipart/form-data; boundary=XX")];
    served.ask("POST", "/p/a/print/scan", &headers, &body)
}

#[test]
fn a_scan_is_measured() {
    let served = Served::new().demo("under-panel", "a");
    let pdf = served.get("/p/a/pdf").is(200).body;
    let (width, height, grey) = page_of(pdf, 2, 150.0);
    let pgm = [format!("P5 {width} {height} 255\n").as_bytes(), &grey].concat();
    let answer = sent_scan(&served, &pgm, "150", "100").is(200);
    assert!(answer.text().contains("Good to cut."), "{}", answer.text());
    // A scanner that nobody measured can't tell.
    let answer = sent_scan(&served, &pgm, "150", "").is(200);
    assert!(answer.text().contains("Cannot tell"), "{}", answer.text());
    sent_scan(&served, b"no picture", "150", "100").is(422);
    sent_scan(&served, &pgm, "many", "100").is(400);
}
