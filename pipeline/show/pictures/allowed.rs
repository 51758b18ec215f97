//! What a layout may hold: a drawing, nothing that runs, nothing from outside. A fault names the place in the designer's file.

use super::open_files::OpenFiles;
use base::model::drawing::Picture;
use base::model::{Fault, SourceSpan};
use draw::limits;
use draw::template;
use draw::template::Template;
use resvg::usvg::roxmltree;
use std::collections::BTreeMap;
use std::sync::Arc;

/// A fault of the template language, at its place in the layout.
pub fn of_template(e: &tera::Error, file: &str, text: &str, template: &Template) -> Fault {
    let report = match e.kind() {
        tera::ErrorKind::SyntaxError(report) | tera::ErrorKind::RenderingError(report) => report,
        _ => return Fault::new(format!("the layout cannot be filled: {e}")).in_file(file),
    };
    let span = report.span();
    let range = template.written(&span.range);
    let (row, column) = template::span_at(text, range.start);
    let line = text.lines().nth(row - 1).unwrap_or_default().to_owned();
    let meant = text.get(range).unwrap_or_default();
    let width = if span.end_line == span.start_line { meant.chars().count() } else { 1 };
    let span = SourceSpan { line: row, column, text: line, width: width.max(1), file: None };
    let message = report.message();
    let message = message.trim_end_matches('.');
    let fault = Fault::new(format!("the layout cannot be filled: {message}")).in_file(file).at(span);
    if message.contains("not defined") || message.contains("not found") || message.contains("ndefined") {
        return fault.help(
            "layouts know w, h, title, line, product, facts, pages, covers, stickers, templates, place, colour and font sizes through words()",
        );
    }
    fault
}

/// Looks a filled layout over. `text` is the layout as the designer wrote it, in which the place is looked for.
pub fn look_over(
    svg: &str,
    file: &str,
    text: &str,
    open_files: &OpenFiles,
    art: &BTreeMap<String, Arc<Picture>>,
) -> Result<(), Vec<Fault>> {
    limits::text(svg).map_err(|f| vec![Fault { span: None, ..f }.in_file(file)])?;
    let document = roxmltree::Document::parse(svg).map_err(|e| {
        // The place is one of the filled layout; the line as such helps more than its number in the designer's file.
        let at = e.pos();
        let line = svg.lines().nth(at.row.saturating_sub(1) as usize).unwrap_or_default();
        let from = text.lines().position(|l| l == line);
        let fault = Fault::new(format!("the filled layout is not sound XML: {e}")).in_file(file);
        let span = from.map(|n| SourceSpan {
            line: n + 1,
            column: at.col as usize,
            text: line.to_owned(),
            width: 1,
            file: None,
        });
        vec![match span {
            Some(span) => fault.at(span),
            None => fault.help(format!("the line reads: {line}")),
        }]
    })?;
    let mut faults = Vec::new();
    let mut blame = |word: &str, message: String, help: &str| {
        let fault = Fault::new(message).in_file(file).help(help);
        faults.push(match place(text, word) {
            Some(span) => fault.at(span),
            None => fault,
        });
    };
    for node in document.descendants().filter(roxmltree::Node::is_element) {
        let name = node.tag_name().name();
        if matches!(name, "script" | "foreignObject" | "iframe" | "animate" | "animateTransform" | "set") {
            blame(
                &format!("<{name}"),
                format!("a layout may not hold <{name}>"),
                "a listing picture is a still drawing: take it out",
            );
        }
        for attribute in node.attributes() {
            let value = attribute.value().trim();
            if attribute.name().to_ascii_lowercase().starts_with("on") {
                blame(
                    attribute.name(),
                    format!("a layout may not run anything: {}", attribute.name()),
                    "take the attribute out",
                );
            }
            let remote = value.contains("url(") && (value.contains("://") || value.contains("url(//"));
            if remote || (attribute.name() == "href" && outside(value)) {
                let message = format!("a layout may use nothing from outside: {value:?}");
                blame(value, message, "copy the picture into the product's folder and name it by its path from there");
            } else if attribute.name() == "href" && name == "image" && !value.starts_with("data:") {
                let known = open_files.size(value).is_some() || art.contains_key(value);
                if !known {
                    blame(
                        value,
                        format!("there is nothing to show as {value:?}"),
                        "name page/1, cover/1 or sticker/1 (counted from 1), or a PNG or JPEG by its path in the product's folder",
                    );
                }
            }
        }
        let style = node.text().unwrap_or_default();
        if name == "style" && (style.contains("@import") || style.contains("://")) {
            blame("@import", "a layout may use nothing from outside".to_owned(), "take the style's import out");
        }
    }
    if faults.is_empty() { Ok(()) } else { Err(faults) }
}

/// Whether an address leads out of the product.
fn outside(href: &str) -> bool {
    let scheme = href.split_once(':').is_some_and(|(s, _)| s.chars().all(|c| c.is_ascii_alphanumeric() || c == '+'));
    (scheme && !href.starts_with("data:image/"))
        || href.starts_with("//")
        || href.starts_with('/')
        || href.contains("..")
}

fn place(text: &str, word: &str) -> Option<SourceSpan> {
    let at = text.find(word)?;
    let from = text[..at].rfind('\n').map_or(0, |i| i + 1);
    let line = text[from..].lines().next().unwrap_or_default();
    Some(SourceSpan {
        line: text[..at].matches('\n').count() + 1,
        column: text[from..at].chars().count() + 1,
        text: line.to_owned(),
        width: word.chars().count().max(1),
        file: None,
    })
}
