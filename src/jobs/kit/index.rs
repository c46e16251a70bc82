//! `index.html`: the whole issue at a glance, in any browser, with no network and no scripts.

use super::manifest::{AcceptedEntry, KitEntry, OpeningEntry, PatternEntry};
use crate::base::fixed;
use crate::base::length::Units;
use std::fmt::Write;

/// The page's name in an issue.
pub(super) const INDEX: &str = "index.html";

const HEAD: &str = r#"<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<meta name="viewport" content="width=device-width, initial-scale=1">
"#;

const STYLE: &str = "<style>
body { font: 16px/1.45 system-ui, sans-serif; margin: 2rem auto; max-width: 75rem; padding: 0 1rem; \
color: #111; background: #fff }
h1 { margin: 0 }
dl { display: grid; grid-template-columns: max-content 1fr; gap: 0 1rem; margin: 1rem 0 }
dt { color: #555 }
dd { margin: 0 }
ul { list-style: none; padding: 0; display: grid; gap: 1rem; \
grid-template-columns: repeat(auto-fill, minmax(17rem, 1fr)) }
li { border: 1px solid #bbb; padding: .8rem }
h2 { font-size: 1.1rem; margin: 0 }
p { margin: .2rem 0 }
svg { width: 100%; height: 10rem; display: block; margin: .4rem 0 }
path { fill: none; stroke: #777; stroke-width: 1; vector-effect: non-scaling-stroke }
path.cut { stroke: #000; stroke-width: 2 }
path.centreline { stroke-dasharray: 8 2 1 2 }
.note { color: #555; font-size: .9rem }
</style>
";

/// The page, for a kit, its volumes to print and those of its records, and its patterns with their
/// pictures.
pub(super) fn page(
    kit: &KitEntry,
    [print, keep]: [&[String]; 2],
    patterns: &[(PatternEntry, String)],
) -> String {
    let mut out = String::from(HEAD);
    let name = escaped(&format!("{} rev {}", kit.number, kit.revision));
    let title = escaped(&kit.title);
    // Writing to a string does not fail.
    let _ = write!(
        out,
        "<title>{name} {title}</title>\n{STYLE}</head>\n<body>\n"
    );
    let _ = write!(out, "<h1>{name}</h1>\n<p>{title}</p>\n<dl>\n");
    let facts = [
        ("Vehicle", &kit.vehicle),
        ("Accessory", &kit.accessory),
        ("Issued", &kit.issued),
    ];
    for (what, value) in facts.into_iter().filter(|(_, value)| !value.is_empty()) {
        let _ = writeln!(out, "<dt>{what}</dt><dd>{}</dd>", escaped(value));
    }
    for (what, files) in [("To print", print), ("To keep", keep)] {
        let links: Vec<String> = files.iter().map(|file| link(file, file)).collect();
        let _ = writeln!(out, "<dt>{what}</dt><dd>{}</dd>", links.join(", "));
    }
    let _ = write!(
        out,
        "<dt>Patterns</dt><dd>{}</dd>\n</dl>\n<p class=\"note\">Pictures are not to scale. Print \
         the PDF at actual size (100 %) and prove the scale on every sheet.</p>\n<ul>\n",
        patterns.len()
    );
    for (pattern, picture) in patterns {
        item(&mut out, pattern, picture);
    }
    out.push_str("</ul>\n</body>\n</html>\n");
    out
}

fn item(out: &mut String, pattern: &PatternEntry, picture: &str) {
    let name = pattern.number_and_revision();
    let _ = write!(
        out,
        "<li>\n<h2>{}</h2>\n<p>{}</p>\n{picture}\n",
        escaped(&name),
        escaped(&pattern.title)
    );
    for opening in &pattern.openings {
        let _ = writeln!(
            out,
            "<p>{}: {}</p>",
            escaped(&opening.name),
            size(opening, pattern.units)
        );
    }
    let at = |page: usize| format!("{}#page={page}", pattern.volume);
    let sheets = match pattern.pages {
        1 => "1 page".to_owned(),
        pages => format!("{pages} pages"),
    };
    let mut links = vec![
        link(&pattern.svg, "SVG"),
        link(&at(pattern.first_page), &format!("PDF, {sheets}")),
    ];
    if let Some(page) = pattern.shared_page {
        links.push(link(&at(page), "shared sheet"));
    }
    let record = &pattern.record;
    let at = format!("{}#page={}", record.file, record.first_page);
    links.push(link(&at, "record"));
    let _ = write!(
        out,
        "<p>{}</p>\n<p class=\"note\">in the box: {}</p>\n",
        links.join(" · "),
        pattern.quantity
    );
    for finding in &pattern.findings {
        let standing = match &finding.accepted {
            Some(AcceptedEntry { by, because }) => format!(
                "{}, accepted by {}: {}; {}",
                finding.severity, by, finding.message, because
            ),
            None => format!("{}: {}", finding.severity, finding.message),
        };
        let _ = writeln!(out, "<p class=\"note\">{}</p>", escaped(&standing));
    }
    out.push_str("</li>\n");
}

/// Width and depth as the manifest has them, to a hundredth of a millimetre.
fn size(opening: &OpeningEntry, units: Units) -> String {
    let (width, depth) = (opening.width, opening.depth);
    match units {
        Units::Mm => format!("{} × {} mm", fixed(width, 2), fixed(depth, 2)),
        Units::In => format!("{} × {}", units.length(width), units.length(depth)),
    }
}

fn link(to: &str, words: &str) -> String {
    format!("<a href=\"{}\">{}</a>", escaped(to), escaped(words))
}

/// Text that a browser shows and never obeys.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 8);
    for letter in text.chars() {
        match letter {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            letter if letter.is_control() => out.push(char::REPLACEMENT_CHARACTER),
            letter => out.push(letter),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn markup_is_shown_and_never_obeyed() {
        assert_eq!(
            escaped("<script>\"a\" & 'b'\u{1b}</script>"),
            "&lt;script&gt;&quot;a&quot; &amp; &#39;b&#39;\u{fffd}&lt;/script&gt;"
        );
    }
}
