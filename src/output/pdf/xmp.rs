//! What a file says of itself as XMP (ISO 16684-1), the same as its information dictionary says.

use super::{About, PROGRAM};
use std::fmt::Write;

/// The packet of an XMP metadata stream.
pub(super) fn packet(about: &About, created: Option<&str>) -> String {
    let alternatives = |name: &str, words: &str| {
        let words = escaped(words);
        format!(
            "<dc:{name}><rdf:Alt><rdf:li xml:lang=\"x-default\">{words}</rdf:li></rdf:Alt></dc:{name}>\n"
        )
    };
    let mut said = alternatives("title", &about.title);
    if !about.subject.is_empty() {
        said += &alternatives("description", &about.subject);
    }
    if !about.author.is_empty() {
        let author = escaped(&about.author);
        // Writing to a string can't fail.
        let _ = writeln!(
            said,
            "<dc:creator><rdf:Seq><rdf:li>{author}</rdf:li></rdf:Seq></dc:creator>"
        );
    }
    if let Some(date) = created {
        let _ = writeln!(said, "<xmp:CreateDate>{date}</xmp:CreateDate>");
    }
    if !about.content.is_empty() {
        let lines: Vec<String> = about.content.lines().map(escaped).collect();
        let lines = lines.join("\n");
        // Writing to a string can't fail.
        let _ = writeln!(
            said,
            "<trimloft:content xmlns:trimloft=\"urn:trimloft:content\">{lines}</trimloft:content>"
        );
    }
    // The id and the namespaces are those that the standards give.
    format!(
        "<?xpacket begin=\"\u{feff}\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n\
         <x:xmpmeta xmlns:x=\"adobe:ns:meta/\">\n\
         <rdf:RDF xmlns:rdf=\"http://www.w3.org/1999/02/22-rdf-syntax-ns#\">\n\
         <rdf:Description rdf:about=\"\" xmlns:dc=\"http://purl.org/dc/elements/1.1/\" \
         xmlns:xmp=\"http://ns.adobe.com/xap/1.0/\" xmlns:pdf=\"http://ns.adobe.com/pdf/1.3/\">\n\
         <dc:format>application/pdf</dc:format>\n\
         <dc:language><rdf:Bag><rdf:li>en</rdf:li></rdf:Bag></dc:language>\n\
         {said}\
         <xmp:CreatorTool>{PROGRAM}</xmp:CreatorTool>\n\
         <pdf:Producer>{PROGRAM}</pdf:Producer>\n\
         </rdf:Description>\n</rdf:RDF>\n</x:xmpmeta>\n<?xpacket end=\"r\"?>"
    )
}

/// Words as they may stand within an element: XML has no way to hold most control characters.
fn escaped(words: &str) -> String {
    let mut out = String::with_capacity(words.len());
    for letter in words.chars() {
        match letter {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            letter if letter.is_control() => out.push(' '),
            letter => out.push(letter),
        }
    }
    out
}
