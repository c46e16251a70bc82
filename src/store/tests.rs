use super::*;
use std::process::Command;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::Duration;

fn name(words: &str) -> Name {
    Name::parse(words).unwrap()
}

fn store() -> (tempfile::TempDir, Store) {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).unwrap();
    (folder, store)
}

#[test]
fn the_second_of_two_saves_is_told_and_neither_is_lost() {
    let (_folder, store) = store();
    let a = name("a");
    let begun = store.save(&a, None, "first").unwrap();
    store.save(&a, Some(begun.hash), "by one").unwrap();
    let error = store
        .save(&a, Some(begun.hash), "by the other")
        .unwrap_err();
    let StoreError::Changed {
        there: Some(there), ..
    } = error
    else {
        panic!("{error}");
    };
    assert_eq!(there.text, "by one");
    assert_eq!(store.read(&a).unwrap().text, "by one");
    let texts: Vec<_> = store
        .history(&a)
        .iter()
        .map(|kept| (kept.why, kept.state().unwrap().text))
        .collect();
    assert_eq!(
        texts,
        [
            (Why::Aside, "by the other".to_owned()),
            (Why::Was, "by one".to_owned()),
            (Why::Was, "first".to_owned())
        ]
    );
    // Who saw both may save over what is there.
    store.save(&a, Some(there.hash), "both").unwrap();
    assert_eq!(store.read(&a).unwrap().text, "both");
}

#[test]
fn a_new_file_takes_no_others_name() {
    let (_folder, store) = store();
    store.save(&name("a"), None, "one").unwrap();
    let taken = store.save(&name("a"), None, "two").unwrap_err();
    assert!(matches!(taken, StoreError::Taken(_)), "{taken}");
    // The same again is nothing to do: a form that is sent twice.
    store.save(&name("a"), None, "one").unwrap();
    let gone = store
        .save(&name("b"), Some(Hash::of(b"x")), "text")
        .unwrap_err();
    assert!(
        matches!(gone, StoreError::Changed { there: None, .. }),
        "{gone}"
    );
}

#[test]
fn the_last_twenty_states_can_be_brought_back() {
    let (_folder, store) = store();
    let a = name("a");
    let mut from = None;
    for number in 0..30 {
        from = Some(
            store
                .save(&a, from, &format!("state {number}"))
                .unwrap()
                .hash,
        );
    }
    let kept = store.history(&a);
    let texts: Vec<_> = kept.iter().map(|kept| kept.state().unwrap().text).collect();
    let should: Vec<_> = (10..30)
        .rev()
        .map(|number| format!("state {number}"))
        .collect();
    assert_eq!(texts, should);
    let old = store.state(&a, Hash::of(b"state 12")).unwrap().unwrap();
    store.save(&a, from, &old.text).unwrap();
    assert_eq!(store.read(&a).unwrap().text, "state 12");
    assert!(store.state(&a, Hash::of(b"state 3")).unwrap().is_none());
}

#[test]
fn an_edit_by_hand_is_seen_and_kept() {
    let (folder, store) = store();
    let a = name("a");
    let saved = store.save(&a, None, "by the page").unwrap();
    fs::write(folder.path().join("a.toml"), "by hand").unwrap();
    let error = store.save(&a, Some(saved.hash), "later").unwrap_err();
    assert!(matches!(error, StoreError::Changed { .. }), "{error}");
    let by_hand = store.read(&a).unwrap();
    store.save(&a, Some(by_hand.hash), "later").unwrap();
    for text in ["by the page", "by hand", "later"] {
        let state = store.state(&a, Hash::of(text.as_bytes())).unwrap();
        assert_eq!(state.unwrap().text, text);
    }
}

#[test]
fn a_new_name_takes_the_history_along() {
    let (_folder, store) = store();
    let first = store.save(&name("a"), None, "one").unwrap();
    store.save(&name("a"), Some(first.hash), "two").unwrap();
    store.save(&name("c"), None, "other").unwrap();
    assert!(matches!(
        store.rename(&name("a"), &name("c")),
        Err(StoreError::Taken(_))
    ));
    store.rename(&name("a"), &name("b")).unwrap();
    let names: Vec<_> = store
        .list()
        .unwrap()
        .into_iter()
        .map(|one| one.name)
        .collect();
    assert_eq!(names, [name("b"), name("c")]);
    assert_eq!(store.history(&name("b")).len(), 2);
    assert!(matches!(
        store.rename(&name("a"), &name("d")),
        Err(StoreError::Missing(_))
    ));
}

#[test]
#[cfg(unix)]
fn links_lead_nowhere() {
    let (folder, store) = store();
    let outside = tempfile::tempdir().unwrap();
    let secret = outside.path().join("secret.toml");
    fs::write(&secret, "secret").unwrap();
    std::os::unix::fs::symlink(&secret, folder.path().join("link.toml")).unwrap();
    assert!(store.list().unwrap().is_empty());
    assert!(matches!(
        store.read(&name("link")),
        Err(StoreError::Unreadable { .. })
    ));
    let error = store
        .save(&name("link"), Some(Hash::of(b"secret")), "x")
        .unwrap_err();
    assert!(matches!(error, StoreError::Unreadable { .. }), "{error}");
    assert!(matches!(
        store.rename(&name("link"), &name("b")),
        Err(StoreError::Unreadable { .. })
    ));
    assert_eq!(fs::read_to_string(&secret).unwrap(), "secret");
}

#[test]
fn what_is_no_text_or_too_long_is_told() {
    let (folder, store) = store();
    fs::write(folder.path().join("a.toml"), b"\xff").unwrap();
    fs::write(folder.path().join("b.toml"), vec![b' '; (1 << 20) + 1]).unwrap();
    for one in ["a", "b"] {
        assert!(matches!(
            store.read(&name(one)),
            Err(StoreError::Unreadable { .. })
        ));
    }
    let long = " ".repeat((1 << 20) + 1);
    assert!(matches!(
        store.save(&name("c"), None, &long),
        Err(StoreError::TooLong)
    ));
}

/// Each adds one to a number in the file, and its own mark, again and again; whoever is told that somebody was
/// quicker reads anew. No addition may be lost, through however many stores.
#[test]
fn many_hands_lose_nothing() {
    let (folder, store) = store();
    store.save(&name("n"), None, "0 by 0").unwrap();
    let number = |text: &str| text.split_once(' ').unwrap().0.parse::<u32>().unwrap();
    let told = AtomicUsize::new(0);
    std::thread::scope(|scope| {
        for hand in 0..4 {
            let (told, number, folder) = (&told, &number, folder.path());
            scope.spawn(move || {
                let own = Store::open(folder).unwrap();
                for _ in 0..12 {
                    loop {
                        let there = own.read(&name("n")).unwrap();
                        let next = format!("{} by {hand}", number(&there.text) + 1);
                        match own.save(&name("n"), Some(there.hash), &next) {
                            Ok(_) => break,
                            Err(StoreError::Changed { .. }) => {
                                told.fetch_add(1, Ordering::Relaxed);
                            }
                            Err(error) => panic!("{error}"),
                        }
                    }
                }
            });
        }
    });
    assert_eq!(number(&store.read(&name("n")).unwrap().text), 48);
    println!(
        "{} of 48 were told that somebody was quicker",
        told.into_inner()
    );
}

const KILLED: &str = "TRIMLOFT_TEST_SAVES_IN";

/// A text that tells by itself whether it is whole.
fn sealed(number: usize) -> String {
    let body = format!("{number} {}", "x".repeat(2000 + number % 7 * 9000));
    format!("{} {body}", Hash::of(body.as_bytes()))
}

#[track_caller]
fn assert_sealed(text: &str) -> usize {
    let (hash, body) = text.split_once(' ').unwrap();
    assert_eq!(Hash::of(body.as_bytes()).to_string(), hash);
    body.split_once(' ').unwrap().0.parse().unwrap()
}

#[test]
fn saves_without_end() {
    let Some(folder) = std::env::var_os(KILLED) else {
        return;
    };
    let store = Store::open(Path::new(&folder)).unwrap();
    let a = name("a");
    let mut from = store.read(&a).ok();
    loop {
        let number = from
            .as_ref()
            .map_or(0, |state| assert_sealed(&state.text) + 1);
        let hash = from.map(|state| state.hash);
        from = Some(store.save(&a, hash, &sealed(number)).unwrap());
    }
}

#[test]
#[cfg(unix)]
fn whoever_is_killed_leaves_a_whole_file() {
    let (folder, store) = store();
    let a = name("a");
    let mut last = 0;
    for round in 0..12 {
        let mut child = Command::new(std::env::current_exe().unwrap())
            .args(["--exact", "store::tests::saves_without_end"])
            .env(KILLED, folder.path())
            .stdout(std::process::Stdio::null())
            .spawn()
            .unwrap();
        std::thread::sleep(Duration::from_millis(60 + 13 * round));
        child.kill().unwrap();
        child.wait().unwrap();
        let Ok(there) = store.read(&a) else { continue };
        let number = assert_sealed(&there.text);
        assert!(number >= last, "{number} after {last}");
        last = number;
        for kept in store.history(&a) {
            assert_sealed(&kept.state().unwrap().text);
        }
    }
    assert!(last > 20, "{last} saves");
    // What comes after saves as ever, and clears what the killed ones left.
    let there = store.read(&a).unwrap();
    store.save(&a, Some(there.hash), "end").unwrap();
    let left = fs::read_dir(folder.path()).unwrap().count();
    assert_eq!(left, 2, "the file, and what is kept");
}
