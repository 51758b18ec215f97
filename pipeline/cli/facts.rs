//! What was read, file by file, where it is worth a word: pages, boxes, links, how the bytes divide, and how many taps lead
//! from page to page.

use super::report::plural;
use base::model::facts::{Facts, Inspected, PdfFacts};
use base::model::units::{byte_size, trim_number};
use judge::validate::graph;
use serde_json::{Value, json};
use std::fmt::Write;

/// For people, a line for each PDF.
pub fn people(files: &[Inspected]) -> String {
    let mut out = String::new();
    for file in files {
        let Facts::Pdf(pdf) = &file.facts else { continue };
        let _ = write!(out, "{}: {}, {}", file.path, plural(pdf.pages.len(), "page"), plural(links(pdf), "link"));
        let shares = [
            (pdf.bytes.pages, "pages"),
            (pdf.bytes.images, "pictures"),
            (pdf.bytes.fonts, "fonts"),
            (pdf.bytes.rest, "links and the rest"),
        ];
        let shares: Vec<String> =
            shares.iter().filter(|s| s.0 > 0).map(|(n, what)| format!("{what} {}", byte_size(*n))).collect();
        let _ = write!(out, "; {} ({})", byte_size(file.size), shares.join(", "));
        if let Some(taps) = graph::taps(pdf) {
            let mean = trim_number(taps.mean, 1);
            let most = plural(taps.greatest, "tap");
            let _ = write!(out, "; from any page to any other in at most {most}, {mean} on average");
            if taps.apart > 0 {
                let _ = write!(out, ", with no way between {} pairs of pages", taps.apart);
            }
        }
        out.push('\n');
    }
    out
}

/// For other programs, an entry for each file.
pub fn json(files: &[Inspected]) -> Value {
    let one = |file: &Inspected| {
        let mut value = json!({ "path": file.path, "size": file.size });
        match &file.facts {
            Facts::Pdf(pdf) => {
                value["kind"] = json!("pdf");
                value["pages"] = json!(pdf.pages.len());
                value["links"] = json!(links(pdf));
                value["boxes"] = boxes(pdf);
                if let Some(taps) = graph::taps(pdf) {
                    let mean = (taps.mean * 1000.0).round() / 1000.0;
                    value["taps"] = json!({ "greatest": taps.greatest, "mean": mean, "apart": taps.apart });
                }
            }
            Facts::Png(png) => {
                value["kind"] = json!("png");
                value["pixels"] = json!([png.width, png.height]);
            }
            Facts::Zip(zip) => {
                value["kind"] = json!("zip");
                value["entries"] = json!(zip.entries.len());
            }
            Facts::Picture(picture) => {
                value["kind"] = json!("picture");
                value["pixels"] = json!([picture.width, picture.height]);
            }
            Facts::Text(_) => value["kind"] = json!("text"),
            Facts::Unreadable(_) => value["kind"] = json!("unreadable"),
        }
        value
    };
    files.iter().map(one).collect()
}

fn links(pdf: &PdfFacts) -> usize {
    pdf.pages.iter().map(|p| p.links.len()).sum()
}

/// MediaBox and CropBox of runs of pages that have the same.
fn boxes(pdf: &PdfFacts) -> Value {
    let round = |b: [f64; 4]| b.map(|v| (v * 1000.0).round() / 1000.0);
    let same = |a: &base::model::facts::PageFacts, b: &base::model::facts::PageFacts| {
        round(a.media_box) == round(b.media_box) && round(a.crop_box) == round(b.crop_box)
    };
    let runs = pdf.pages.chunk_by(same);
    runs.map(|run| json!({ "pages": run.len(), "media": round(run[0].media_box), "crop": round(run[0].crop_box) }))
        .collect()
}
