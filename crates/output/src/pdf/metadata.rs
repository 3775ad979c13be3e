//! What the document says about itself, as XMP (ISO 16684-1).

use std::fmt::Write as _;

/// The packet. `is_accessible` says that all that ISO 14289-1 (PDF/UA-1) asks of a file holds.
pub(super) fn packet(title: &str, is_accessible: bool) -> String {
    let mut xmp = String::from(
        "<?xpacket begin=\"\u{FEFF}\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n\
         <x:xmpmeta xmlns:x=\"adobe:ns:meta/\">\n\
         <rdf:RDF xmlns:rdf=\"http://www.w3.org/1999/02/22-rdf-syntax-ns#\">\n\
         <rdf:Description rdf:about=\"\" xmlns:dc=\"http://purl.org/dc/elements/1.1/\" \
         xmlns:xmp=\"http://ns.adobe.com/xap/1.0/\" xmlns:pdfuaid=\"http://www.aiim.org/pdfua/ns/id/\">\n",
    );
    write!(
        xmp,
        "<dc:title><rdf:Alt><rdf:li xml:lang=\"x-default\">{}</rdf:li></rdf:Alt></dc:title>\n\
         <dc:language><rdf:Bag><rdf:li>en</rdf:li></rdf:Bag></dc:language>\n\
         <xmp:CreatorTool>Foliowright</xmp:CreatorTool>\n",
        escaped(title)
    )
    .expect("a string takes all that is written to it");
    if is_accessible {
        xmp.push_str("<pdfuaid:part>1</pdfuaid:part>\n");
    }
    xmp.push_str("</rdf:Description>\n</rdf:RDF>\n</x:xmpmeta>\n<?xpacket end=\"r\"?>");
    xmp
}

/// Text as XML has it; what XML forbids is dropped.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            c if c.is_control() || matches!(c, '\u{FFFE}' | '\u{FFFF}') => {}
            c => out.push(c),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_title_can_not_break_the_packet() {
        let xmp = packet("Seeds & \u{1}<b>", false);
        assert!(xmp.contains(">Seeds &amp; &lt;b&gt;</rdf:li>"), "{xmp}");
        assert!(!xmp.contains("pdfuaid:part"));
        assert!(packet("Seeds", true).contains("<pdfuaid:part>1</pdfuaid:part>"));
    }
}
