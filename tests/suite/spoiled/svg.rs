//! Drawings in one piece, spoiled.

use super::{Deed, LAYERS, Spoiling, deeds, definition, produced};
use trimloft::check::verify::Topic;

pub fn spoilings(text: &str) -> Vec<Spoiling> {
    let mut all = vec![];
    for (layer, topic) in LAYERS {
        for (deed, words) in deeds(layer) {
            let what = match deed {
                Deed::Gone => "gone".into(),
                Deed::Moved(x, y) => format!("moved by {x}, {y}"),
                Deed::Scaled(by) => format!("scaled by {by}"),
                Deed::OneLost => "one lost".into(),
            };
            all.push(Spoiling {
                name: format!("drawing: {layer} {what}"),
                bytes: in_layer(text, layer, deed).into_bytes(),
                topic,
                words,
            });
        }
    }
    let identity = |name: &str, text: String, words| Spoiling {
        name: name.into(),
        bytes: text.into_bytes(),
        topic: Topic::Identity,
        words,
    };
    let of = |number: &str, revision: &str| produced(&definition(number, revision)).svg.unwrap();
    all.extend([
        identity(
            "drawing of revision A",
            of("T-1", "A"),
            "it says that it is `T-1 rev A`",
        ),
        identity(
            "drawing of T-2",
            of("T-2", "B"),
            "it says that it is `T-2 rev B`",
        ),
        identity(
            "drawing renamed",
            text.replace("\"T-1 rev B\"", "\"T-1 rev C\""),
            "it says that it is `T-1 rev C`",
        ),
        identity(
            "drawing without its words",
            in_layer(text, "text", Deed::Gone),
            "says which pattern",
        ),
    ]);
    all
}

/// Where the group ends that has begun before this text.
fn end_of_group(text: &str) -> usize {
    let mut open = 1;
    let tags = text.match_indices('<').map(|(at, _)| at);
    for at in tags {
        if text[at..].starts_with("<g ") {
            open += 1;
        } else if text[at..].starts_with("</g>") {
            open -= 1;
        }
        if open == 0 {
            return at;
        }
    }
    panic!("a group without an end");
}

fn in_layer(text: &str, layer: &str, deed: Deed) -> String {
    let key = format!("id=\"{layer}\"");
    let at = text
        .find(&key)
        .unwrap_or_else(|| panic!("no layer {layer}"));
    let body = at + text[at..].find('>').unwrap() + 1;
    let end = body + end_of_group(&text[body..]);
    let with =
        |transform: String| text.replacen(&key, &format!("{key} transform=\"{transform}\""), 1);
    match deed {
        Deed::Gone => format!("{}{}", &text[..body], &text[end..]),
        Deed::Moved(x, y) => with(format!("translate({x} {})", -y)),
        Deed::Scaled(by) => with(format!("translate(1 1) scale({by})")),
        Deed::OneLost => {
            let first = body + text[body..].find("<path").unwrap();
            let after = first + text[first..].find("/>").unwrap() + 2;
            format!("{}{}", &text[..first], &text[after..])
        }
    }
}
