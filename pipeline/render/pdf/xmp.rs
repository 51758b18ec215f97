//! Document metadata as XMP (ISO 16684-1), saying the same as the Info dictionary.

use super::About;

/// Name and version of the tool, as files state it.
pub const PRODUCER: &str = concat!("Sheafwright ", env!("CARGO_PKG_VERSION"));

/// The XMP packet of a document.
pub fn packet(title: &str, about: &About) -> String {
    let (title, author, language) = (escape(title), escape(about.author), escape(about.language));
    let date = about.date;
    format!(
        "<?xpacket begin=\"\u{feff}\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n\
<x:xmpmeta xmlns:x=\"adobe:ns:meta/\">\n\
<rdf:RDF xmlns:rdf=\"http://www.w3.org/1999/02/22-rdf-syntax-ns#\">\n\
<rdf:Description rdf:about=\"\" xmlns:dc=\"http://purl.org/dc/elements/1.1/\" \
xmlns:pdf=\"http://ns.adobe.com/pdf/1.3/\" xmlns:xmp=\"http://ns.adobe.com/xap/1.0/\">\n\
<dc:format>application/pdf</dc:format>\n\
<dc:title><rdf:Alt><rdf:li xml:lang=\"x-default\">{title}</rdf:li></rdf:Alt></dc:title>\n\
<dc:creator><rdf:Seq><rdf:li>{author}</rdf:li></rdf:Seq></dc:creator>\n\
<dc:language><rdf:Bag><rdf:li>{language}</rdf:li></rdf:Bag></dc:language>\n\
<pdf:Producer>{PRODUCER}</pdf:Producer>\n\
<xmp:CreatorTool>{PRODUCER}</xmp:CreatorTool>\n\
<xmp:CreateDate>{date}T00:00:00Z</xmp:CreateDate>\n\
<xmp:ModifyDate>{date}T00:00:00Z</xmp:ModifyDate>\n\
</rdf:Description>\n</rdf:RDF>\n</x:xmpmeta>\n<?xpacket end=\"r\"?>"
    )
}

fn escape(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;")
}
