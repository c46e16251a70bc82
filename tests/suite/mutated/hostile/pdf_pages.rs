//! PDFs whose pages, and what these name, cost much.

use super::pdf::{catalog, file, pages, stream};
use super::{numbered, times};

type Make = fn(usize) -> Vec<u8>;

pub(super) const KINDS: &[(&str, Make)] = &[
    ("pdf, pages within the list of pages", |n| {
        let kids = times("<</Type/Page>>", n);
        file(&[catalog(), format!("<</Type/Pages/Kids[{kids}]>>")])
    }),
    ("pdf, pages nested within each other", |n| {
        let open = "<</Type/Pages/Kids[";
        let nested = open.repeat(200) + &"]>>".repeat(200);
        file(&[catalog(), format!("{open}{}]>>", times(&nested, n))])
    }),
    ("pdf, groups of pages one below the other", |n| {
        let group = |k| format!("<</Type/Pages/Kids[{} 0 R]>>", k + 3);
        let groups = (0..n / 80).map(group);
        file(&[catalog()].into_iter().chain(groups).collect::<Vec<_>>())
    }),
    ("pdf, one page again and again", |n| {
        let mut all = pages("", "");
        all[1] = format!("<</Type/Pages/Kids[{}]>>", times("3 0 R ", n));
        file(&all)
    }),
    ("pdf, no pages but many objects", |n| {
        let one = (0..n / 60).map(|_| "<</Contents 1 0 R>>".to_owned());
        let head = [catalog(), "<</Type/Pages>>".into()];
        file(&head.into_iter().chain(one).collect::<Vec<_>>())
    }),
    ("pdf, pages that share large resources", |n| {
        shared(n / 2, n / 2, "/Resources 3 0 R")
    }),
    ("pdf, pages with their group's large colours", |n| {
        let colours = format!(
            "<</ColorSpace<<{}>>>>",
            numbered(n / 2, |k| format!("/A{k} 1"))
        );
        let kids = "<</Type/Page>>".repeat(some_pages(n));
        file(&[
            catalog(),
            format!("<</Type/Pages/Kids[{kids}]/Resources{colours}>>"),
        ])
    }),
    ("pdf, pages with their group's named settings", |n| {
        let settings = format!(
            "<</ExtGState<<{}>>>>",
            numbered(n / 50, |k| format!("/A{k} 1"))
        );
        let kids = "<</Type/Page>>".repeat(some_pages(n));
        file(&[
            catalog(),
            format!("<</Type/Pages/Kids[{kids}]/Resources 3 0 R>>"),
            settings,
        ])
    }),
    ("pdf, pages whose box is a large dictionary", |n| {
        shared(n / 2, n / 2, "/MediaBox 3 0 R/Rotate 3 0 R")
    }),
    ("pdf, pages of a kind that is a large dictionary", |n| {
        shared(n / 2, n / 2, "/Type 3 0 R/TrimBox 3 0 R")
    }),
    ("pdf, notes", |n| {
        let mut all = pages("", &format!("/Annots[{}]", times("5 0 R ", n / 2)));
        all.push(large(n / 2));
        file(&all)
    }),
    ("pdf, content of many parts", |n| {
        let mut all = pages(&times("q Q ", n / 2), "");
        all[2] = format!(
            "<</Type/Page/MediaBox[0 0 9 9]/Contents[{}]>>",
            times("4 0 R ", n / 2)
        );
        file(&all)
    }),
    ("pdf, streams whose length is a large dictionary", |n| {
        let mut all = pages("", "");
        all[2] = format!(
            "<</Type/Page/MediaBox[0 0 9 9]/Contents[{}]>>",
            times("4 0 R ", n / 2)
        );
        all[3] = "<</Length 5 0 R>>\nstream\nq Q\nendstream".into();
        all.push(large(n / 2));
        file(&all)
    }),
    ("pdf, forms that show each other twice", |n| {
        let mut all = pages("/X Do", "/Resources<</XObject<</X 5 0 R>>>>");
        for depth in 5..20 {
            let next = format!(
                "/Subtype/Form/BBox[0 0 9 9]/Resources<</XObject<</X {} 0 R>>>>",
                depth + 1
            );
            all.push(String::from_utf8(stream(&next, b"/X Do /X Do")).unwrap());
        }
        all.push(String::from_utf8(stream("/Subtype/Form", times("q Q ", n).as_bytes())).unwrap());
        file(&all)
    }),
    ("pdf, one form again and again", |n| {
        let mut all = pages(
            &times("/X Do ", n / 2),
            "/Resources<</XObject<</X 5 0 R>>>>",
        );
        let form = stream("/Subtype/Form", times("0 0 m 9 9 l S ", n / 2).as_bytes());
        all.push(String::from_utf8(form).unwrap());
        file(&all)
    }),
    ("pdf, forms of large dictionaries", |n| {
        let mut all = pages(
            &times("/X Do ", n / 2),
            "/Resources<</XObject<</X 5 0 R>>>>",
        );
        let many = numbered(n / 2, |k| format!("/A{k} 1"));
        all.push(String::from_utf8(stream(&format!("/Subtype/Form{many}"), b"")).unwrap());
        file(&all)
    }),
    ("pdf, settings of large dictionaries", |n| {
        let mut all = pages(
            &times("/G gs ", n / 2),
            "/Resources<</ExtGState<</G 5 0 R/H<</LW 5 0 R>>>>>>",
        );
        all.push(large(n / 2));
        file(&all)
    }),
    ("pdf, settings that are a large array", |n| {
        let mut all = pages(
            &times("/G gs ", n / 2),
            "/Resources<</ExtGState<</G 5 0 R>>>>",
        );
        all.push(format!("[{}]", times("1 ", n / 2)));
        file(&all)
    }),
    ("pdf, short settings", |n| {
        let resources = "/Resources<</ExtGState<</G<</LW 1>>>>>>";
        file(&pages(&times("/G gs ", n), resources))
    }),
    ("pdf, forms that are dictionaries in place", |n| {
        let form = format!("<</X{}>>", large(n / 2));
        let resources = format!("/Resources<</XObject{form}>>");
        file(&pages(&times("/X Do ", n / 2), &resources))
    }),
    ("pdf, short forms that are dictionaries in place", |n| {
        let form = format!("<</X{}>>", large(n / 1000));
        let resources = format!("/Resources<</XObject{form}>>");
        file(&pages(&times("/X Do ", n), &resources))
    }),
    ("pdf, short typefaces in place", |n| {
        file(&pages(
            &times("/F 9 Tf ", n),
            "/Resources<</Font<</F<<>>>>>>",
        ))
    }),
    ("pdf, widths that are large dictionaries", |n| {
        let mut all = pages(
            &times("/G gs ", n / 2),
            "/Resources<</ExtGState<</G<</LW 5 0 R/CA 5 0 R/SMask 5 0 R>>>>>>",
        );
        all.push(large(n / 2));
        file(&all)
    }),
    ("pdf, colours of large arrays", |n| {
        let mut all = pages(
            &times("/C CS ", n / 2),
            "/Resources<</ColorSpace<</C 5 0 R>>>>",
        );
        all.push(format!("[{}]", times("/ICCBased ", n / 2)));
        file(&all)
    }),
    ("pdf, settings that stand where they are named", |n| {
        let dashes = format!("<</G<</D[[{}] 0]>>>>", times("1 ", n / 2));
        let resources = format!("/Resources<</ExtGState{dashes}>>");
        file(&pages(&times("/G gs ", n / 2), &resources))
    }),
    ("pdf, short settings with long dashes", |n| {
        let dashes = format!("<</G<</D[[{}] 0]>>>>", times("1 ", n / 1000));
        let resources = format!("/Resources<</ExtGState{dashes}>>");
        file(&pages(&times("/G gs ", n), &resources))
    }),
    ("pdf, colours that stand where they are named", |n| {
        let space = format!("<</C[/ICCBased {}]>>", times("1 ", n / 2));
        let resources = format!("/Resources<</ColorSpace{space}>>");
        file(&pages(&times("/C cs ", n / 2), &resources))
    }),
    ("pdf, typefaces that stand where they are named", |n| {
        let font = format!("<</F<</Subtype/Type1/Z[{}]>>>>", times("1 ", n / 2));
        let resources = format!("/Resources<</Font{font}>>");
        file(&pages(&times("/F 9 Tf ", n / 2), &resources))
    }),
    ("pdf, a membership of many empty groups", |n| {
        let groups = format!("<</L<</Type/OCMD/OCGs[{}]>>>>", times("<<>>", n));
        let resources = format!("/Resources<</Properties{groups}>>");
        file(&pages("/OC /L BDC EMC /OC /L BDC EMC", &resources))
    }),
    ("pdf, a membership that names one group often", |n| {
        let shown = times("/OC /L BDC EMC ", n / 2);
        let mut all = pages(&shown, "/Resources<</Properties<</L 5 0 R>>>>");
        let groups = times("6 0 R ", n / 2);
        all.push(format!("<</Type/OCMD/OCGs[{groups}]>>"));
        all.push("<</Type/OCG/Name(x)>>".into());
        file(&all)
    }),
    ("pdf, nested memberships", |n| {
        let groups = "<</Type/OCMD/OCGs[".repeat(100) + &"]>>".repeat(100);
        let groups = format!("<</L<</Type/OCMD/OCGs[{}]>>>>", times(&groups, n / 2));
        let resources = format!("/Resources<</Properties{groups}>>");
        file(&pages(&times("/OC /L BDC EMC ", n / 2), &resources))
    }),
    ("pdf, bookmarks", |n| {
        let mut all = pages("", "");
        all[0] = all[0].replacen("<<", "<</Outlines 5 0 R", 1);
        all.extend((6..n / 40).map(|next| format!("<</Title(x)/First {next} 0 R>>")));
        file(&all)
    }),
    ("pdf, patterns", |n| {
        let mut all = pages(
            &times("/Pattern cs /P scn ", n / 2),
            "/Resources<</Pattern<</P 5 0 R>>>>",
        );
        all.push(large(n / 2));
        file(&all)
    }),
    ("pdf, pages that share long content", |n| {
        let count = some_pages(n);
        let kids: String = (0..count).map(|k| format!("{} 0 R ", k + 5)).collect();
        let content = stream("", times("0 0 m 9 9 l S ", n / 100).as_bytes());
        let each = (0..count).map(|_| "<</Type/Page/Contents 4 0 R/Parent 2 0 R>>".to_owned());
        let head = [
            catalog(),
            format!("<</Type/Pages/Kids[{kids}]/Resources 3 0 R>>"),
            "<<>>".into(),
            String::from_utf8(content).unwrap(),
        ];
        file(&head.into_iter().chain(each).collect::<Vec<_>>())
    }),
    ("pdf, references without an object", |n| {
        let named = numbered(n, |k| format!("{} 0 R ", k + 9));
        file(&pages("", &format!("/Z[{named}]")))
    }),
    ("pdf, many layers", |n| {
        let names = numbered(n / 4, |k| format!("/L{k} 5 0 R"));
        let shown = numbered(n / 4, |k| format!("/OC /L{k} BDC EMC "));
        let mut all = pages(&shown, &format!("/Resources<</Properties<<{names}>>>>"));
        all.push(format!("<</Type/OCG/Name({})>>", times("a", n / 4)));
        file(&all)
    }),
    ("pdf, layers of many layers", |n| {
        let mut all = pages(
            &times("/OC /L BDC EMC ", n / 2),
            "/Resources<</Properties<</L<</Type/OCMD/OCGs 5 0 R>>>>>>",
        );
        all.push(format!("[{}]", times("6 0 R ", n / 4)));
        all.push(format!("<</Type/OCG/Name({})>>", times("a", n / 4)));
        file(&all)
    }),
    ("pdf, a font chosen again and again", |n| {
        let mut all = pages(&times("/F 9 Tf ", n / 2), "/Resources<</Font<</F 5 0 R>>>>");
        all.push(large(n / 2));
        file(&all)
    }),
    ("pdf, a font written in place", |n| {
        let mut all = pages(
            &times("/F 9 Tf ", n / 2),
            "/Resources<</Font<</F<</ToUnicode 5 0 R>>>>>>",
        );
        let table = stream(
            "",
            times("1 beginbfchar <41> <41> endbfchar ", n / 2).as_bytes(),
        );
        all.push(String::from_utf8(table).unwrap());
        file(&all)
    }),
    ("pdf, many fonts of one table", |n| {
        let names = numbered(n / 4, |k| format!("/F{k} {} 0 R", k + 6));
        let chosen = numbered(n / 4, |k| format!("/F{k} 9 Tf "));
        let mut all = pages(&chosen, &format!("/Resources<</Font<<{names}>>>>"));
        let table = times("<0000> <FFFF> <0041> endbfrange ", n / 8);
        all.push(String::from_utf8(stream("", table.as_bytes())).unwrap());
        all.extend((0..n / 60).map(|_| "<</ToUnicode 5 0 R>>".to_owned()));
        file(&all)
    }),
    ("pdf, ranges of letters", |n| {
        letters(&times("<0000> <FFFF> <00410042> endbfrange ", n), "")
    }),
    ("pdf, letters without an end", |n| {
        letters(&times("<00>", n), "")
    }),
    ("pdf, letters in brackets", |n| {
        letters(&("[".to_owned() + &times("<>", n)), "")
    }),
    ("pdf, letters of many letters", |n| {
        let many = format!("<41> <{}> endbfchar", "0041".repeat(16));
        letters(&many, &format!("BT /F 9 Tf ({}) Tj", times("A", n)))
    }),
    ("pdf, words shown one by one", |n| {
        letters(
            "<41> <0041> endbfchar",
            &format!("/F 9 Tf {}", times("(A)Tj ", n)),
        )
    }),
    ("pdf, words in large arrays", |n| {
        letters(
            "<41> <0041> endbfchar",
            &format!("/F 9 Tf [{}] TJ", times("(A)", n)),
        )
    }),
    ("pdf, a producer of many letters", |n| {
        let mut all = pages("", "");
        all.push(format!("<</Producer({})>>", times("a", n)));
        let mut bytes = file(&all);
        let end = bytes.len() - 1;
        bytes.truncate(end);
        String::from_utf8(bytes)
            .unwrap()
            .replace("<</Root 1 0 R", "<</Info 5 0 R/Root 1 0 R")
            .into()
    }),
];

/// As many pages as a file of this size has room for, and no more than are read.
fn some_pages(size: usize) -> usize {
    (size / 120).min(19_000)
}

fn large(size: usize) -> String {
    format!("<<{}>>", numbered(size, |k| format!("/A{k} 1")))
}

/// Pages with these entries, which may name a large dictionary, object 3.
fn shared(size: usize, large_one: usize, entries: &str) -> Vec<u8> {
    let count = size / (80 + entries.len());
    let kids: String = (0..count).map(|k| format!("{} 0 R ", k + 4)).collect();
    let each = (0..count).map(|_| format!("<<{entries}>>"));
    let head = [
        catalog(),
        format!("<</Type/Pages/Kids[{kids}]>>"),
        large(large_one),
    ];
    file(&head.into_iter().chain(each).collect::<Vec<_>>())
}

/// A page with this content, and a font with this table of letters, which is chosen first.
fn letters(table: &str, content: &str) -> Vec<u8> {
    let content = format!("/F 9 Tf {content}");
    let mut all = pages(&content, "/Resources<</Font<</F 5 0 R>>>>");
    all.push("<</ToUnicode 6 0 R>>".into());
    let table = format!("<00> <FF> endcodespacerange {table}");
    all.push(String::from_utf8(stream("", table.as_bytes())).unwrap());
    file(&all)
}
