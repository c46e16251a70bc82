//! What other programs do to an SVG: by usvg, and by hand.

use super::pdf::Mutation;
use usvg::{Options, Tree, WriteOptions};

/// Every change of a drawing.
pub fn mutations(text: &str) -> Vec<Mutation> {
    let (width, height) = (side(text, "width"), side(text, "height"));
    let mut all = vec![];
    let mut add = |name: &str, sound: bool, text: String| {
        all.push(Mutation {
            name: name.into(),
            sound,
            bytes: text.into_bytes(),
        });
    };
    let sized = |w: String, h: String| {
        text.replacen(
            &format!("width=\"{width}mm\""),
            &format!("width=\"{w}\""),
            1,
        )
        .replacen(
            &format!("height=\"{height}mm\""),
            &format!("height=\"{h}\""),
            1,
        )
    };
    let grouped = |attributes: &str| {
        let at = text.find("<g ").unwrap();
        let (head, rest) = text.split_at(at);
        let body = rest.replace("</svg>", "</g></svg>");
        format!("{head}<g {attributes}>{body}")
    };
    let view = format!("viewBox=\"0 0 {width} {height}\"");
    assert!(text.contains(&view), "{view}");
    let viewed = |box_: String| text.replacen(&view, &format!("viewBox=\"{box_}\""), 1);
    let cut = "id=\"cut\"";
    let tree = Tree::from_str(text, &Options::default()).unwrap();
    let rewritten = tree.to_string(&WriteOptions::default());

    add("as it is", true, text.into());
    // It keeps no names of outlined words, so that nothing says whose drawing it is.
    add("rewritten", false, rewritten.clone());
    for (unit, size) in [
        ("cm", 0.1),
        ("in", 1.0 / 25.4),
        ("pt", 72.0 / 25.4),
        ("px", 96.0 / 25.4),
        ("", 96.0 / 25.4),
    ] {
        let with = |side: f64| format!("{:.6}{unit}", side * size);
        add(
            &format!("sized in `{unit}`"),
            true,
            sized(with(width), with(height)),
        );
    }
    add("grouped", true, grouped("id=\"page\""));
    add("moved", true, grouped("transform=\"translate(1 -1)\""));
    add(
        "halved and doubled",
        true,
        grouped("transform=\"scale(0.5)\"")
            .replacen(
                "<g id=\"waste\"",
                "<g transform=\"scale(1)\" id=\"waste\"",
                1,
            )
            .replace("scale(0.5)", "scale(0.5) scale(2)"),
    );
    add(
        "turned and back",
        true,
        grouped("transform=\"rotate(90) rotate(-90)\""),
    );
    add("layers renamed", true, strip_ids(text));
    add("rewritten, layers renamed", false, strip_ids(&rewritten));
    add(
        "white ground",
        true,
        text.replacen(
            "<g ",
            "<rect width=\"3000\" height=\"3000\" fill=\"#fff\"/><g ",
            1,
        ),
    );

    for scale in [0.9375, 0.97, 0.9995, 1.0667] {
        let with = |side: f64| format!("{:.6}mm", side * scale);
        add(
            &format!("sized by {scale}"),
            false,
            sized(with(width), with(height)),
        );
        add(
            &format!("grouped by {scale}"),
            false,
            grouped(&format!("transform=\"scale({scale})\"")),
        );
    }
    add(
        "read at 90 to the inch",
        false,
        sized(
            format!("{}", width * 90.0 / 25.4),
            format!("{}", height * 90.0 / 25.4),
        ),
    );
    add(
        "width alone",
        false,
        sized(format!("{}mm", width * 0.98), format!("{height}mm")),
    );
    add(
        "stretched",
        false,
        sized(format!("{}mm", width * 0.98), format!("{height}mm")).replacen(
            "<svg",
            "<svg preserveAspectRatio=\"none\"",
            1,
        ),
    );
    add("no size", false, sized("100%".into(), "100%".into()));
    add(
        "view shrunk",
        false,
        viewed(format!("0 0 {} {}", width * 1.02, height * 1.02)),
    );
    add("cropped", false, {
        let cropped = viewed(format!("0 0 {} {}", width / 2.0, height));
        cropped.replacen(
            &format!("width=\"{width}mm\""),
            &format!("width=\"{}mm\"", width / 2.0),
            1,
        )
    });
    add(
        "mirrored",
        false,
        grouped(&format!("transform=\"translate({width} 0) scale(-1 1)\"")),
    );
    add("skewed", false, grouped("transform=\"skewX(0.5)\""));
    add(
        "cut line hidden",
        false,
        text.replacen(cut, "id=\"cut\" display=\"none\"", 1),
    );
    add(
        "cut line invisible",
        false,
        text.replacen(cut, "id=\"cut\" visibility=\"hidden\"", 1),
    );
    add(
        "cut line moved",
        false,
        text.replacen(
            cut,
            "id=\"cut\" transform=\"translate(0 0.5) scale(1.001)\"",
            1,
        ),
    );
    add(
        "cut line white",
        false,
        text.replacen(
            "<g fill=\"none\" id=\"cut\" stroke=\"#000\"",
            "<g fill=\"none\" id=\"cut\" stroke=\"#fff\"",
            1,
        ),
    );
    add(
        "rulers hidden",
        false,
        text.replacen(
            "id=\"check-ruler\"",
            "id=\"check-ruler\" style=\"display:none\"",
            1,
        ),
    );
    add(
        "covered",
        false,
        text.replace(
            "</svg>",
            "<rect width=\"3000\" height=\"3000\" fill=\"#fff\"/></svg>",
        ),
    );
    add(
        "a style sheet",
        false,
        text.replacen("<g ", "<style>path{stroke:white}</style><g ", 1),
    );
    add("cut short", false, text[..text.len() / 2].into());
    all
}

fn side(text: &str, name: &str) -> f64 {
    let key = format!("{name}=\"");
    let at = text.find(&key).unwrap() + key.len();
    let rest = &text[at..];
    rest[..rest.find("mm\"").unwrap()].parse().unwrap()
}

fn strip_ids(text: &str) -> String {
    let mut stripped = text.to_owned();
    for name in [
        "cut",
        "check-ruler",
        "register",
        "waste",
        "frame",
        "relief",
        "panel",
        "fold",
    ] {
        stripped = stripped.replace(&format!("id=\"{name}\""), &format!("id=\"g-{name}\""));
    }
    stripped
}
