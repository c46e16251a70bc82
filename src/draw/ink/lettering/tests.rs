use super::*;
use kurbo::Shape;

fn text(words: &str, height: f64) -> Text {
    Text {
        words: words.into(),
        at: Point::ZERO,
        height,
        anchor: Anchor::Start,
        turn: 0.0,
        heavy: false,
    }
}

fn close(a: f64, b: f64) {
    assert!((a - b).abs() < 1e-6, "{a} against {b}");
}

#[test]
fn a_capital_is_as_tall_as_the_text_says() {
    for height in [2.5, 3.5, 5.0, 7.0, 10.0] {
        let ink = outline(&text("H", height)).bounding_box();
        close(ink.y0, 0.0);
        close(ink.y1, height);
    }
}

#[test]
fn widths_are_the_font_files_own_advances() {
    // hmtx of the font: H 692, o 587 units of 1000, capital 693; read with another program.
    let face = ttf_parser::Face::parse(FONT, 0).unwrap();
    let sum: u32 = "Hoř"
        .chars()
        .map(|c| {
            u32::from(
                face.glyph_hor_advance(face.glyph_index(c).unwrap())
                    .unwrap(),
            )
        })
        .sum();
    close(width("Hoř", 6.93), f64::from(sum) / 100.0);
    assert_eq!(width("", 5.0), 0.0);
}

#[test]
fn latin_greek_cyrillic_and_signs_of_drawings_are_there() {
    check("Příliš žluťoučký kůň, ΑΩ αω, Жж Яя, ° ± × ÷ – — · • Ø ø ≥ ≤ “ ” ½ µ €").unwrap();
}

#[test]
fn a_letter_that_would_be_a_blank_is_an_error() {
    for (words, letter) in [
        ("a→b", '→'),
        ("手", '手'),
        ("a\tb", '\t'),
        ("a\rb", '\r'),
        ("a\0b", '\0'),
        ("r\u{30c}", '\u{30c}'),
        ("\u{1f600}", '\u{1f600}'),
        ("\u{200b}", '\u{200b}'),
    ] {
        let missing = check(words).unwrap_err();
        assert_eq!(
            (missing.letter, missing_letter(words)),
            (letter, Some(letter))
        );
        let message = missing.to_string();
        let code = format!("U+{:04X}", u32::from(letter));
        assert!(message.contains(&code), "{message}");
        assert!(message.chars().all(|c| !c.is_control()), "{message:?}");
        assert!(!missing.hint().is_empty());
    }
    assert_eq!(
        check("a→b").unwrap_err().to_string(),
        "`a→b` holds `→`, U+2192, a letter that can't be printed"
    );
}

#[test]
fn every_letter_of_the_typeface_has_ink_or_is_a_space() {
    let mut seen = 0;
    for code in 0..0x1_0000 {
        let Some(c) = char::from_u32(code) else {
            continue;
        };
        if check(&c.to_string()).is_ok() {
            seen += 1;
            let blank = outline(&text(&c.to_string(), 5.0)).area() == 0.0;
            assert_eq!(blank, c == ' ' || c == '\u{a0}', "U+{code:04X}");
        }
    }
    assert!(seen > 1000, "{seen} letters");
}

#[test]
fn bounds_hold_the_ink_however_it_is_turned_and_anchored() {
    for anchor in [Anchor::Start, Anchor::Middle, Anchor::End] {
        for turn in [0.0, 90.0, 180.0, -90.0, 37.0, 450.0] {
            for heavy in [false, true] {
                let placed = Text {
                    at: Point::new(40.0, -3.0),
                    anchor,
                    turn,
                    heavy,
                    ..text("jÅř (Ω) 125 mm", 3.5)
                };
                let stroke = if heavy { heavy_stroke(3.5) / 2.0 } else { 0.0 };
                let ink = outline(&placed).bounding_box().inflate(stroke, stroke);
                let all = bounds(&placed).inflate(1e-9, 1e-9);
                assert_eq!(all.union(ink), all, "{anchor:?} {turn} {heavy}: {ink:?}");
                // Along the baseline the box is as long as the line, but for the tail of the j.
                if turn % 180.0 == 0.0 {
                    let length = width(&placed.words, 3.5) + 2.0 * stroke;
                    assert!(
                        (all.width() - length).abs() < 0.5,
                        "{} {length}",
                        all.width()
                    );
                    assert!(all.height() - ink.height() < 1e-6);
                }
            }
        }
    }
}

#[test]
fn anchors_and_turns_put_the_baseline_where_they_say() {
    let length = width("Trim", 5.0);
    let at = Point::new(10.0, 20.0);
    for (anchor, turn, start) in [
        (Anchor::Start, 0.0, (10.0, 20.0)),
        (Anchor::Middle, 0.0, (10.0 - length / 2.0, 20.0)),
        (Anchor::End, 0.0, (10.0 - length, 20.0)),
        (Anchor::End, 90.0, (10.0, 20.0 - length)),
        (Anchor::End, 180.0, (10.0 + length, 20.0)),
        (Anchor::End, -90.0, (10.0, 20.0 + length)),
    ] {
        let (found, _) = baseline(&Text {
            at,
            anchor,
            turn,
            ..text("Trim", 5.0)
        });
        assert_eq!(found, Point::from(start), "{anchor:?} {turn}");
    }
    let (_, along) = baseline(&Text {
        turn: 30.0,
        ..text("Trim", 5.0)
    });
    close(along.x, 3.0_f64.sqrt() / 2.0);
    close(along.y, 0.5);
}

#[test]
fn lines_are_full_and_no_longer_than_asked() {
    let words = "cut along the thick line, keep the saw on the waste side of it";
    let lines = wrap(words, 3.5, 40.0);
    assert!(lines.len() > 2);
    assert_eq!(lines.join(" "), words);
    for pair in lines.windows(2) {
        assert!(width(&pair[0], 3.5) <= 40.0 + 1e-6, "{}", pair[0]);
        let next = pair[1].split(' ').next().unwrap();
        assert!(
            width(&format!("{} {next}", pair[0]), 3.5) > 40.0,
            "{} had room",
            pair[0]
        );
    }
    assert_eq!(wrap(words, 3.5, width(words, 3.5)), [words]);
}

#[test]
fn odd_words_wrap_too() {
    assert!(wrap("", 3.5, 40.0).is_empty());
    assert!(wrap(" \n\t ", 3.5, 40.0).is_empty());
    assert_eq!(wrap("a\nb", 3.5, 40.0), ["a b"]);
    assert_eq!(wrap("5\u{a0}mm", 3.5, 4.0).concat(), "5\u{a0}mm");
    assert_eq!(wrap("abc", 3.5, 0.0), ["a", "b", "c"]);
    let long = wrap("see WWWWWWWWWWWWWWWWWWWWW now", 3.5, 20.0);
    assert!(
        long.iter().all(|line| width(line, 3.5) <= 20.0 + 1e-6),
        "{long:?}"
    );
    assert_eq!(long.concat().matches('W').count(), 21);
    assert_eq!(long.first().map(String::as_str), Some("see"));
    assert!(long.last().unwrap().ends_with("W now"), "{long:?}");
}
