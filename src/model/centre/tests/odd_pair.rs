use super::{close, from_left, pair, solved};
use crate::model::centre::{Agreement, Centre, OddPair, Pair};

fn odd(centre: &Centre) -> &OddPair {
    match centre.agreement() {
        Agreement::OneDisagrees(odd) => odd,
        other => panic!("{other:?}"),
    }
}

fn pairs(rows: &[(&str, f64, f64)]) -> Vec<Pair> {
    let rows = rows.iter();
    rows.map(|(name, middle, depth)| pair(name, middle - 300.0, middle + 300.0, *depth))
        .collect()
}

#[test]
fn one_bad_pair_of_three_at_one_depth_is_named() {
    let all = pairs(&[("a", 490.0, 18.0), ("b", 490.5, 18.0), ("c", 496.0, 18.0)]);
    let centre = solved(&from_left(all.clone()));
    let found = odd(&centre);
    assert_eq!((found.index, found.name.as_str()), (2, "c"));
    close(found.by, 5.75, 1e-12);
    assert!(found.left_out);
    assert!(
        found.explained > 1.5 && found.explained < 3.0,
        "{}",
        found.explained
    );
    // It counts in nothing: all is as if it had not been read.
    let rest = solved(&from_left(all[..2].to_vec()));
    assert_eq!(centre.middle(), rest.middle());
    assert_eq!(centre.residuals()[..2], *rest.residuals());
    let left_out = &centre.residuals()[2];
    assert_eq!(
        (left_out.residual, left_out.explained),
        (found.by, found.explained)
    );
    // All three together would be told with the scatter that is seen.
    close(found.otherwise.at(18.0).middle, 492.166_667, 1e-5);
    assert!(found.otherwise.at(18.0).uncertainty > 1.5 * rest.at(18.0).uncertainty);
}

/// With one straight line through three depths each leaves the same misfit; the limit of the
/// skew tells which reading is wrong.
#[test]
fn one_bad_pair_of_three_at_three_depths_is_named() {
    for bad in 0..3 {
        let mut rows = [("a", 490.0, 18.0), ("b", 490.5, 150.0), ("c", 490.5, 290.0)];
        rows[bad].1 += 6.0;
        let centre = solved(&from_left(pairs(&rows)));
        assert_eq!(odd(&centre).index, bad);
        close(odd(&centre).by, 6.0, 1.2);
    }
}

#[test]
fn good_pairs_agree_and_two_cannot_be_told_apart() {
    let sound = pairs(&[("a", 490.0, 18.0), ("b", 490.5, 18.0), ("c", 489.5, 150.0)]);
    assert_eq!(
        *solved(&from_left(sound.clone())).agreement(),
        Agreement::Agree
    );
    assert_eq!(
        *solved(&from_left(sound[..1].to_vec())).agreement(),
        Agreement::Unproved
    );
    let two = pairs(&[("a", 490.0, 18.0), ("b", 496.0, 18.0)]);
    assert_eq!(*solved(&from_left(two)).agreement(), Agreement::Disagree);
    let spread_out = pairs(&[("a", 487.0, 18.0), ("b", 490.0, 18.0), ("c", 493.0, 18.0)]);
    assert_eq!(
        *solved(&from_left(spread_out)).agreement(),
        Agreement::Disagree
    );
    let two_bad = pairs(&[
        ("a", 490.0, 18.0),
        ("b", 490.0, 18.0),
        ("c", 495.0, 18.0),
        ("d", 486.0, 18.0),
        ("e", 490.0, 18.0),
    ]);
    assert_eq!(
        *solved(&from_left(two_bad)).agreement(),
        Agreement::Disagree
    );
}

#[test]
fn a_line_that_leans_past_the_limit_is_told_but_no_pair_is_blamed() {
    let rows: Vec<_> = [0.0, 70.0, 150.0, 220.0, 300.0]
        .iter()
        .map(|y| ("p", 490.0 + 0.02 * y, *y))
        .collect();
    let centre = solved(&from_left(pairs(&rows)));
    assert!(centre.middle().leans_too_far());
    close(centre.skew().degrees(), 1.145_763, 1e-5);
    assert!(!matches!(centre.agreement(), Agreement::OneDisagrees(_)));
}

/// Off by more than is explained, and by less than half as much again: it may be the moulding, so
/// it counts, with the scatter that it shows.
#[test]
fn a_pair_that_moulding_may_explain_counts() {
    let rows = [("a", 490.0, 18.0), ("b", 490.5, 18.0), ("c", 493.75, 18.0)];
    let centre = solved(&from_left(pairs(&rows)));
    let found = odd(&centre);
    assert!(found.by > found.explained && !found.left_out, "{found:?}");
    assert_eq!(centre.left_out(), None);
    close(centre.at(18.0).middle, 491.416_667, 1e-5);
    let rest = solved(&from_left(pairs(&rows[..2])));
    assert_eq!(found.otherwise, *rest.middle());
    assert!(centre.at(18.0).uncertainty > rest.at(18.0).uncertainty);
}
