//! Gaps of single sides: snug above, wide below.

use super::{panel, refused};
use crate::common::{assert_close, drawn, solved};
use kurbo::Rect;

fn boxed(gap_to: &str, more: &str) -> String {
    format!(
        "[clearance]\ngap = 6\nposition = 2\nmarking = 0\ncutting = 0\nprint = 0\ncentre = 0\n\
         combine = \"worst-case\"\n[[part]]\nname = \"tube\"\nshape = \"window\"\n\
         with = {{ width = 60, height = 40 }}\ncentre_offset = 0\nfrom_datum = 100\n{more}\
         [[opening]]\nname = \"hole\"\naround = [\"tube\"]\nfollow = \"box\"\n{gap_to}"
    )
}

fn bounds(gap_to: &str) -> Rect {
    solved(&panel(&boxed(gap_to, ""))).openings[0]
        .outline
        .bounds()
}

#[test]
fn each_side_stands_off_by_its_own_gap() {
    // Seen from below, front at the head: the vehicle's left is the frame's right. Gap and 2 mm.
    let cases = [
        ("", [8.0, 8.0, 8.0, 8.0]),
        ("gap_to = { rear = 12 }\n", [8.0, 14.0, 8.0, 8.0]),
        ("gap_to = { rear = 12, front = 3 }\n", [8.0, 14.0, 8.0, 5.0]),
        ("gap_to = { left = 0, right = 20 }\n", [22.0, 8.0, 2.0, 8.0]),
        (
            "gap_to = { front = 1, rear = 2, left = 3, right = 4 }\n",
            [6.0, 4.0, 5.0, 3.0],
        ),
    ];
    for (gap_to, [right, rear, left, front]) in cases {
        let is = bounds(gap_to);
        let should = Rect::new(-30.0 - right, 80.0 - rear, 30.0 + left, 120.0 + front);
        for (is, should) in [
            (is.x0, should.x0),
            (is.y0, should.y0),
            (is.x1, should.x1),
            (is.y1, should.y1),
        ] {
            assert_close(is, should, 1e-9, gap_to);
        }
    }
    // No corner comes nearer than the narrowest, and that is what is judged.
    let pattern = solved(&panel(&boxed("gap_to = { rear = 12, front = 3 }\n", "")));
    assert_close(pattern.spacings[0].gap, 3.0, 1e-9, "the narrowest");
    assert!(pattern.spacings[0].after_moves.distance >= 3.0 - 0.01);
    let open = "gap_to = { left = 10, front = 9 }\nopen_at_edge = true\n";
    let is = bounds(open);
    assert_close(is.x1, 30.0 + 12.0, 1e-9, "left");
    assert_close(is.y1, 120.0 + 11.0, 1e-9, "front");
    assert_close(is.x0, -30.0 - 8.0, 1e-9, "right");
    let words = format!(
        "{:?}",
        drawn(&panel(&boxed("gap_to = { rear = 12 }\n", ""))).record
    );
    assert!(
        words.contains("Gaps of single sides: 12 mm to the rear"),
        "{words}"
    );
    let front = format!(
        "{:?}",
        drawn(&panel(&boxed("gap_to = { rear = 12 }\n", ""))).front
    );
    let told = "Try the tube: at least 12 mm to the rear, else an even gap.";
    assert!(front.contains(told), "{front}");
}

#[test]
fn beside_a_gap_of_its_own_the_greater_is_kept() {
    // The tube asks for 4 mm, and to the rear the side asks for 3 or 12.
    for (gap_to, rear) in [("{ rear = 3 }", 6.0), ("{ rear = 12, front = 1 }", 14.0)] {
        let text = panel(&boxed(&format!("gap_to = {gap_to}\n"), "gap = 4\n"));
        let pattern = solved(&text);
        let is = pattern.openings[0].outline.bounds();
        for (is, should) in [
            (is.x0, -36.0),
            (is.y0, 80.0 - rear),
            (is.x1, 36.0),
            (is.y1, 126.0),
        ] {
            assert_close(is, should, 1e-9, gap_to);
        }
        assert_close(pattern.spacings[0].gap, 4.0, 1e-9, "its own");
        let words = format!("{:?}", drawn(&text).record);
        assert!(words.contains("where that is more than its own"), "{words}");
    }
    // Of two parts each has its own: the pin 10 to the front, the tube 2; both stand as high.
    let pin = "[[part]]\nname = \"pin\"\nsocket = 20\ncentre_offset = \"30 mm left\"\n\
               from_datum = 110\ngap = 10\n";
    let text = boxed("gap_to = { front = 2, left = 1 }\n", pin);
    let text = text.replace("around = [\"tube\"]", "around = [\"tube\", \"pin\"]");
    let is = solved(&panel(&text)).openings[0].outline.bounds();
    assert_close(is.y1, 120.0 + 10.0 + 2.0, 1e-9, "front, the pin's");
    assert_close(is.x1, 40.0 + 10.0 + 2.0, 1e-9, "left, the pin's");
    assert_close(is.y0, 80.0 - 8.0, 1e-9, "rear, the tube's");
}

#[test]
fn sides_that_are_not_there_are_refused() {
    let cases = [
        (
            boxed("gap_to = { up = 3 }\n", ""),
            "the opening has no side to the up",
        ),
        (
            boxed("gap_to = { rear = 3 }\nopen_at_edge = true\n", ""),
            "the opening has no side to the rear",
        ),
        (
            boxed("gap_to = { rear = 3 }\n", "").replace("\"box\"", "\"contour\""),
            "`gap_to` goes with `follow = \"box\"` only",
        ),
        (boxed("gap_to = { reer = 3 }\n", ""), "did you mean `rear`?"),
    ];
    for (tables, words) in cases {
        let told = refused(&tables);
        assert!(told.contains(words), "{words}: {told}");
    }
}
