//! The same definition gives the same bytes: at once or one by one, here or elsewhere, today or
//! next year.

use crate::common::{demos, produced};
use hayro_syntax::Pdf;
use std::collections::BTreeMap;
use std::path::Path;
use std::process::Command;
use std::time::{SystemTime, UNIX_EPOCH};

/// Every file of a folder.
fn files(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| {
            let path = entry.unwrap().path();
            let name = path.file_name().unwrap().to_string_lossy().into_owned();
            (name, std::fs::read(path).unwrap())
        })
        .collect()
}

/// Draws files in one call, in an environment of this kind.
fn draw(patterns: &[std::path::PathBuf], out: &Path, environment: &[(&str, &str)]) {
    let output = Command::new(env!("CARGO_BIN_EXE_trimloft"))
        .arg("draw")
        .args(patterns)
        .arg("--out")
        .arg(out)
        .envs(environment.iter().copied())
        .output()
        .unwrap();
    let told = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{told}");
}

#[test]
fn many_at_once_or_one_by_one_in_any_time_zone() {
    let folder = tempfile::tempdir().unwrap();
    let (together, alone) = (folder.path().join("together"), folder.path().join("alone"));
    draw(
        &demos(),
        &together,
        &[
            ("RAYON_NUM_THREADS", "4"),
            ("TZ", "Pacific/Kiritimati"),
            ("LANG", "C"),
        ],
    );
    for demo in demos() {
        draw(
            &[demo],
            &alone,
            &[
                ("RAYON_NUM_THREADS", "1"),
                ("TZ", "Etc/GMT+12"),
                ("LC_ALL", "de_DE.UTF-8"),
            ],
        );
    }
    let (together, alone) = (files(&together), files(&alone));
    assert_eq!(together.len(), 2 * demos().len());
    assert!(together.keys().eq(alone.keys()));
    for (name, bytes) in &together {
        assert!(*bytes == alone[name], "{name} differs");
    }
}

#[test]
fn drawn_twice_by_one_process_in_any_order() {
    let texts: Vec<String> = demos()
        .iter()
        .map(|demo| std::fs::read_to_string(demo).unwrap())
        .collect();
    let first: Vec<_> = texts.iter().map(|text| produced(text)).collect();
    let again: Vec<_> = texts.iter().rev().map(|text| produced(text)).collect();
    for (one, two) in first.iter().zip(again.iter().rev()) {
        assert!(
            one.pdf == two.pdf && one.svg == two.svg,
            "{} differs",
            one.stem
        );
    }
}

/// Year, month and day of a count of days since 1 January 1970 (Hinnant, 2013, "chrono-Compatible
/// Low-Level Date Algorithms", `civil_from_days`).
fn date(days: i64) -> (i64, i64, i64) {
    let z = days + 719_468;
    let era = z.div_euclid(146_097);
    let of_era = z.rem_euclid(146_097);
    let year = (of_era - of_era / 1460 + of_era / 36_524 - of_era / 146_096) / 365;
    let of_year = of_era - (365 * year + year / 4 - year / 100);
    let month = (5 * of_year + 2) / 153;
    let day = of_year - (153 * month + 2) / 5 + 1;
    let month = if month < 10 { month + 3 } else { month - 9 };
    (year + era * 400 + i64::from(month <= 2), month, day)
}

#[test]
fn nothing_is_dated_but_by_the_issue() {
    assert_eq!((date(0), date(20_514)), ((1970, 1, 1), (2026, 3, 2)));
    let seconds = SystemTime::now()
        .duration_since(UNIX_EPOCH)
        .unwrap()
        .as_secs();
    let today = i64::try_from(seconds / 86_400).unwrap();
    for demo in demos() {
        let text = std::fs::read_to_string(demo).unwrap();
        let product = produced(&text.replace("2026-03-02", "1999-12-31"));
        let file = Pdf::new(product.pdf.clone().unwrap()).unwrap();
        let about = file.metadata();
        let issued = about.creation_date.unwrap();
        assert_eq!((issued.year, issued.month, issued.day), (1999, 12, 31));
        assert!(about.modification_date.is_none());

        // Everything that can be read in either file, as text.
        let mut readable = product.svg.unwrap();
        readable += &String::from_utf8_lossy(&product.pdf.unwrap());
        for page in crate::common::read_pdf::read(&file) {
            readable.extend(page.texts.iter().map(|text| text.words.as_str()));
        }
        assert!(readable.contains("1999-12-31"));
        // Time zones reach a day to either side.
        for day in today - 1..=today + 1 {
            let (year, month, day) = date(day);
            for form in [
                format!("{year}-{month:02}-{day:02}"),
                format!("{year}{month:02}{day:02}"),
            ] {
                assert!(!readable.contains(&form), "{form} is in {}", product.stem);
            }
        }
        let undated = produced(&text.replace("issued = 2026-03-02\n", ""));
        let file = Pdf::new(undated.pdf.unwrap()).unwrap();
        assert!(file.metadata().creation_date.is_none());
    }
}
