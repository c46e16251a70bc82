//! What other programs do to an SVG: by usvg, and by hand.

use super::pdf::Mutation;
use trimloft::check::verify::Outcome;
use usvg::{Options, Tree, WriteOptions};

const SOUND: Option<Outcome> = Some(Outcome::Sound);
const TOLD: Option<Outcome> = Some(Outcome::Changed);
const UNSEEN: Option<Outcome> = Some(Outcome::CannotJudge);
const FAULT: Option<Outcome> = Some(Outcome::Fault);

/// Every change of a drawing.
pub fn mutations(text: &str) -> Vec<Mutation> {
    let (width, height) = (side(text, "width"), side(text, "height"));
    let mut all = vec![];
    let mut add = |name: &str, outcome: Option<Outcome>, text: String| {
        all.push(Mutation {
            name: name.into(),
            outcome,
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

    add("as it is", SOUND, text.into());
    // It keeps no names of outlined words, so that nothing says whose drawing it is.
    add("rewritten", UNSEEN, rewritten.clone());
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
            SOUND,
            sized(with(width), with(height)),
        );
    }
    add("grouped", SOUND, grouped("id=\"page\""));
    add("moved", SOUND, grouped("transform=\"translate(1 -1)\""));
    add(
        "halved and doubled",
        SOUND,
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
        SOUND,
        grouped("transform=\"rotate(90) rotate(-90)\""),
    );
    add("layers renamed", TOLD, strip_ids(text));
    add("rewritten, layers renamed", UNSEEN, strip_ids(&rewritten));
    add(
        "white ground",
        SOUND,
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
            FAULT,
            sized(with(width), with(height)),
        );
        add(
            &format!("grouped by {scale}"),
            FAULT,
            grouped(&format!("transform=\"scale({scale})\"")),
        );
    }
    add(
        "read at 90 to the inch",
        FAULT,
        sized(
            format!("{}", width * 90.0 / 25.4),
            format!("{}", height * 90.0 / 25.4),
        ),
    );
    add(
        "width alone",
        FAULT,
        sized(format!("{}mm", width * 0.98), format!("{height}mm")),
    );
    add(
        "stretched",
        FAULT,
        sized(format!("{}mm", width * 0.98), format!("{height}mm")).replacen(
            "<svg",
            "<svg preserveAspectRatio=\"none\"",
            1,
        ),
    );
    add("no size", FAULT, sized("100%".into(), "100%".into()));
    add(
        "view shrunk",
        FAULT,
        viewed(format!("0 0 {} {}", width * 1.02, height * 1.02)),
    );
    add("cropped", FAULT, {
        let cropped = viewed(format!("0 0 {} {}", width / 2.0, height));
        cropped.replacen(
            &format!("width=\"{width}mm\""),
            &format!("width=\"{}mm\"", width / 2.0),
            1,
        )
    });
    add(
        "mirrored",
        FAULT,
        grouped(&format!("transform=\"translate({width} 0) scale(-1 1)\"")),
    );
    add("skewed", FAULT, grouped("transform=\"skewX(0.5)\""));
    add(
        "cut line hidden",
        UNSEEN,
        text.replacen(cut, "id=\"cut\" display=\"none\"", 1),
    );
    add(
        "cut line invisible",
        FAULT,
        text.replacen(cut, "id=\"cut\" visibility=\"hidden\"", 1),
    );
    add(
        "cut line moved",
        FAULT,
        text.replacen(
            cut,
            "id=\"cut\" transform=\"translate(0 0.5) scale(1.001)\"",
            1,
        ),
    );
    add(
        "cut line white",
        FAULT,
        text.replacen(
            "<g fill=\"none\" id=\"cut\" stroke=\"#000\"",
            "<g fill=\"none\" id=\"cut\" stroke=\"#fff\"",
            1,
        ),
    );
    add(
        "rulers hidden",
        UNSEEN,
        text.replacen(
            "id=\"check-ruler\"",
            "id=\"check-ruler\" style=\"display:none\"",
            1,
        ),
    );
    add(
        "covered",
        UNSEEN,
        text.replace(
            "</svg>",
            "<rect width=\"3000\" height=\"3000\" fill=\"#fff\"/></svg>",
        ),
    );
    add(
        "a style sheet",
        UNSEEN,
        text.replacen("<g ", "<style>path{stroke:white}</style><g ", 1),
    );
    add("cut short", None, text[..text.len() / 2].into());
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
