//! SVGs that cost much.

use super::{numbered, times};

type Make = fn(usize) -> Vec<u8>;

pub(super) const KINDS: &[(&str, Make)] = &[
    ("svg, nothing but brackets", |n| svg(&times("<", n))),
    ("svg, brackets before one that closes", |n| {
        svg(&(times("<", n) + ">"))
    }),
    ("svg, brackets that open elements", |n| {
        svg(&times("<g ", n))
    }),
    ("svg, quotes", |n| svg(&times("<g a=\"", n))),
    ("svg, quotes of both kinds", |n| svg(&times("\"'", n))),
    ("svg, remarks", |n| svg(&times("<!---->", n))),
    ("svg, remarks without an end", |n| svg(&times("<!--", n))),
    ("svg, raw text without an end", |n| {
        svg(&times("<![CDATA[", n))
    }),
    ("svg, instructions", |n| svg(&times("<?a?>", n))),
    ("svg, text", |n| svg(&times("a", n))),
    ("svg, escaped letters", |n| svg(&times("&amp;", n))),
    ("svg, unknown entities", |n| svg(&times("&a;", n))),
    ("svg, entities of entities", |n| {
        let mut head = String::from("<!ENTITY a0 \"aaaaaaaaaa\">");
        for k in 1..12 {
            let part = format!("&a{};", k - 1).repeat(10);
            head += &format!("<!ENTITY a{k} \"{part}\">");
        }
        let pad = times(" ", n);
        format!("<!DOCTYPE svg [{head}{pad}]><svg>&a11;</svg>").into()
    }),
    ("svg, a long head", |n| {
        format!("<!DOCTYPE svg [{}]><svg/>", times("<!ELEMENT a ANY>", n)).into()
    }),
    ("svg, many attributes", |n| {
        let many = |k| format!(" a{k}=\"\"");
        let element = format!("<g{}/>", (0..499).map(many).collect::<String>());
        svg(&times(&element, n))
    }),
    ("svg, one element of many attributes", |n| {
        svg(&format!("<g{}/>", numbered(n, |k| format!(" a{k}=\"\""))))
    }),
    ("svg, many namespaces", |n| {
        let spaces: String = (0..90).map(|k| format!(" xmlns:a{k}=\"b{k}\"")).collect();
        svg(&format!(
            "<g{spaces}>{}</g>",
            times("<a0:g a0:b=\"\" a1:c=\"\"/>", n)
        ))
    }),
    ("svg, namespaces on every element", |n| {
        svg(&numbered(n, |k| format!("<g xmlns:a{k}=\"b\"/>")))
    }),
    ("svg, nested groups", |n| {
        svg(&(times("<g>", n * 3 / 7) + &times("</g>", n * 4 / 7)))
    }),
    ("svg, groups nested as deep as is read", |n| {
        let nested = "<g>".repeat(190) + &"</g>".repeat(190);
        svg(&times(&nested, n))
    }),
    ("svg, empty groups", |n| svg(&times("<g/>", n))),
    ("svg, ids", |n| {
        svg(&numbered(n, |k| format!("<g id=\"a{k}\"/>")))
    }),
    ("svg, parts that use each other twice", |n| {
        let twice = |k: usize| {
            let next = format!("<use href=\"#a{}\"/>", k + 1);
            format!("<g id=\"a{k}\">{next}{next}</g>")
        };
        let parts: String = (0..40).map(twice).collect();
        svg(&(parts + &times("<path d=\"M0 0\"/>", n) + "<use href=\"#a0\"/>"))
    }),
    ("svg, a part that uses itself", |n| {
        svg(&format!(
            "<g id=\"a\">{}</g>",
            times("<use href=\"#a\"/>", n)
        ))
    }),
    ("svg, a long part used often", |n| {
        let part = times("<path d=\"M0 0L1 1\" stroke=\"#000\"/>", n * 9 / 10);
        svg(&format!(
            "<g id=\"a\">{part}</g>{}",
            "<use href=\"#a\"/>".repeat(900)
        ))
    }),
    ("svg, short lines", |n| {
        svg(&times("<path d=\"M0 0L1 1\" stroke=\"#000\"/>", n))
    }),
    ("svg, one long line", |n| {
        stroke(&format!("M0 0{}", times("L1 1L0 0", n)))
    }),
    ("svg, steps along one line", |n| {
        stroke(&format!("M0 0{}", times("h1v1", n)))
    }),
    ("svg, wild curves", |n| {
        stroke(&format!("M0 0{}", times("C9000 0 0 9000 5 5", n)))
    }),
    ("svg, smooth curves", |n| {
        stroke(&format!("M0 0{}", times("t1 1", n)))
    }),
    ("svg, arcs", |n| {
        stroke(&format!("M0 0{}", times("a9 9 0 0 1 9 9", n)))
    }),
    ("svg, moves", |n| stroke(&times("M0 0", n))),
    ("svg, circles", |n| {
        svg(&times("<circle r=\"90\" stroke=\"#000\"/>", n))
    }),
    ("svg, large circles", |n| {
        svg(&times("<circle r=\"9000\" stroke=\"#000\"/>", n))
    }),
    ("svg, round rectangles", |n| {
        svg(&times(
            "<rect width=\"9\" height=\"9\" rx=\"3\" stroke=\"#000\"/>",
            n,
        ))
    }),
    ("svg, points", |n| {
        svg(&format!(
            "<polygon stroke=\"#000\" points=\"{}\"/>",
            times("0,0 9,9 ", n)
        ))
    }),
    ("svg, white fills", |n| {
        svg(&times("<rect width=\"9\" height=\"9\" fill=\"#fff\"/>", n))
    }),
    ("svg, clips", |n| {
        svg(&numbered(n, |k| {
            format!(
                "<clipPath id=\"c{k}\"><rect width=\"9\" height=\"9\"/></clipPath>\
                 <path clip-path=\"url(#c{k})\" d=\"M0 0L1 1\" stroke=\"#000\"/>"
            )
        }))
    }),
    ("svg, one long clip used often", |n| {
        let clip = format!("<path d=\"{}\"/>", times("M0 0L1 1", n / 2));
        let lines = times("<path clip-path=\"url(#c)\" d=\"M0 0L1 1\"/>", n / 2);
        svg(&format!("<clipPath id=\"c\">{clip}</clipPath>{lines}"))
    }),
    ("svg, turns", |n| {
        svg(&format!("<g transform=\"{}\"/>", times("rotate(1)", n)))
    }),
    ("svg, turned groups", |n| {
        svg(&times("<g transform=\"scale(1)\"/>", n))
    }),
    ("svg, one long style", |n| {
        svg(&format!("<g style=\"{}\"/>", times("a:b;", n)))
    }),
    ("svg, styles", |n| {
        svg(&times("<g style=\"stroke:#000;fill:none\"/>", n))
    }),
    ("svg, a style sheet", |n| {
        svg(&format!("<style>{}</style>", times("a{b:c}", n)))
    }),
    ("svg, dashes", |n| {
        svg(&format!(
            "<path stroke-dasharray=\"{}\" d=\"M0 0L9 9\"/>",
            times("0 ", n)
        ))
    }),
    ("svg, long words", |n| {
        svg(&format!("<path aria-label=\"{}\"/>", times("a", n)))
    }),
    ("svg, words", |n| {
        svg(&times("<path aria-label=\"a\" d=\"M0 0\"/>", n))
    }),
    ("svg, lettering", |n| svg(&times("<text>a</text>", n))),
    ("svg, pictures", |n| svg(&times("<image/>", n))),
    ("svg, layers of one name", |n| {
        svg(&times("<g id=\"cut\"><path/></g>", n))
    }),
];

fn svg(body: &str) -> Vec<u8> {
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"210mm\" height=\"297mm\" \
         viewBox=\"0 0 210 297\">{body}</svg>"
    )
    .into_bytes()
}

fn stroke(data: &str) -> Vec<u8> {
    svg(&format!(
        "<path d=\"{data}\" fill=\"none\" stroke=\"#000\"/>"
    ))
}
