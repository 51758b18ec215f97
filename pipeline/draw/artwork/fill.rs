//! A drawing that is a template: run through tera before it is drawn, so that one file makes every divider.
//!
//! What is filled in is escaped for XML. Where something is not known, file, line and column are told.

use crate::template;
use crate::template::Template;
use base::colour;
use base::model::fault;
use base::model::fault::SourceSpan;
use base::model::{Fault, Rgb};
use serde_json::{Map, Value};
use std::borrow::Cow;
use std::io::Write;
use tera::{Error, ErrorKind, Kwargs, State, Tera, TeraResult};

/// Name of the template inside tera; nobody sees it.
const NAME: &str = "drawing.svg";

/// Fills a drawing in. A text without anything to fill in stays as it is.
pub fn fill<'t>(file: &str, text: &'t str, data: &Map<String, Value>) -> Result<Cow<'t, str>, Fault> {
    if !text.contains("{{") && !text.contains("{%") {
        return Ok(Cow::Borrowed(text));
    }
    let mut tera = Tera::new();
    // A style sheet inside of the drawing may well say `{#name`, which is no comment of ours; `<#` no XML can hold.
    let marks = tera::Delimiters { comment_start: "<#".into(), comment_end: "#>".into(), ..Default::default() };
    let mut filled = tera.set_delimiters(marks);
    tera.autoescape_on([".svg"]);
    tera.set_escape_fn(escape);
    template::limit(&mut tera);
    filters(&mut tera);
    let template = Template::new(text);
    filled = filled.and_then(|()| tera.add_raw_template(NAME, template.text()));
    let mut context = tera::Context::new();
    for (key, value) in data {
        context.insert(key.clone(), value);
    }
    filled
        .and_then(|()| template::fill(&tera, NAME, &context))
        .map(Cow::Owned)
        .map_err(|e| told(file, text, &template, data, &e))
}

/// What tera says, with its place.
fn told(file: &str, text: &str, template: &Template, data: &Map<String, Value>, e: &Error) -> Fault {
    let known = || data.keys().map(String::as_str);
    let (ErrorKind::SyntaxError(report) | ErrorKind::RenderingError(report)) = e.kind() else {
        return Fault::new(format!("the drawing cannot be filled in: {e}")).in_file(file);
    };
    let span = report.span();
    let range = template.written(&span.range);
    let (row, column) = template::span_at(text, range.start);
    let line = text.lines().nth(row - 1).unwrap_or_default();
    let meant = text.get(range).unwrap_or_default();
    let width = if span.end_line == span.start_line { meant.chars().count() } else { 1 };
    let span = SourceSpan::short(row, column, line, width.max(1));
    if let Some(end) = bare_range(line) {
        let help = format!(
            "write range(end={end}), which counts from 0 to below {end}; from 1 on it is range(start=1, end={})",
            end + 1
        );
        let message = "the drawing cannot be filled in: a range names its ends".to_owned();
        return Fault::new(message).in_file(file).at(span).help(help);
    }
    let first = meant.split(['.', '[', ' ', '|']).next().unwrap_or_default();
    let help = if data.contains_key(first) || first.is_empty() || !report.message().contains("not") {
        format!("at hand are {}", known().collect::<Vec<_>>().join(", "))
    } else {
        fault::suggest(first, known())
    };
    Fault::new(format!("the drawing cannot be filled in: {}", report.message())).in_file(file).at(span).help(help)
}

/// The number of a range that is called without the name of its end: `range(31)`.
fn bare_range(line: &str) -> Option<u32> {
    let inside = line.split("range(").nth(1)?.split(')').next()?;
    inside.trim().parse().ok()
}

/// Escapes text for XML and leaves out what no XML document may hold (XML 1.0, 2.2).
fn escape(text: &str, out: &mut dyn Write) -> std::io::Result<()> {
    for c in text.chars() {
        match c {
            '&' => out.write_all(b"&amp;")?,
            '<' => out.write_all(b"&lt;")?,
            '>' => out.write_all(b"&gt;")?,
            '"' => out.write_all(b"&quot;")?,
            '\'' => out.write_all(b"&#39;")?,
            '\t' | '\n' | '\r' => write!(out, "{c}")?,
            c if c < ' ' || matches!(c, '\u{fffe}' | '\u{ffff}') => {}
            c => write!(out, "{c}")?,
        }
    }
    Ok(())
}

fn filters(tera: &mut Tera) {
    tera.register_filter("pad", |value: tera::Value, args: Kwargs, _: &State| -> TeraResult<String> {
        let width: usize = args.must_get("width")?;
        let with: Option<&str> = args.get("with")?;
        let text = value.to_string();
        let lacking = width.min(100).saturating_sub(text.chars().count());
        Ok(with.unwrap_or("0").repeat(lacking) + &text)
    });
    tera.register_filter("roman", |value: u32, _: Kwargs, _: &State| roman(value));
    tera.register_filter("lighter", |value: &str, args: Kwargs, _: &State| toward(value, Rgb::WHITE, &args));
    tera.register_filter("darker", |value: &str, args: Kwargs, _: &State| toward(value, Rgb::BLACK, &args));
    tera.register_filter("mix", |value: &str, args: Kwargs, _: &State| {
        let with: &str = args.must_get("with")?;
        toward(value, parsed(with)?, &args)
    });
    tera.register_filter("readable", |value: &str, args: Kwargs, _: &State| -> TeraResult<String> {
        let (dark, light): (Option<&str>, Option<&str>) = (args.get("dark")?, args.get("light")?);
        let (dark, light) = (parsed(dark.unwrap_or("#000000"))?, parsed(light.unwrap_or("#ffffff"))?);
        Ok(colour::label_on(parsed(value)?, dark, light).to_string())
    });
}

/// A colour moved towards another one by the filter's `by`, from 0 to 1.
fn toward(value: &str, other: Rgb, args: &Kwargs) -> TeraResult<String> {
    let by: f64 = args.must_get("by")?;
    if !(0.0..=1.0).contains(&by) {
        return Err(Error::message(format!("`by` is {by}, and must be from 0 to 1")));
    }
    Ok(colour::mix(parsed(value)?, other, by).to_string())
}

fn parsed(text: &str) -> TeraResult<Rgb> {
    Rgb::parse(text.trim()).ok_or_else(|| Error::message(format!("`{text}` is not a colour such as #8a9a5b")))
}

/// A number in Roman numerals, as far as they go without a stroke above.
fn roman(mut n: u32) -> TeraResult<String> {
    const STEPS: [(u32, &str); 13] = [
        (1000, "M"),
        (900, "CM"),
        (500, "D"),
        (400, "CD"),
        (100, "C"),
        (90, "XC"),
        (50, "L"),
        (40, "XL"),
        (10, "X"),
        (9, "IX"),
        (5, "V"),
        (4, "IV"),
        (1, "I"),
    ];
    if !(1..4000).contains(&n) {
        return Err(Error::message(format!("{n} has no Roman numeral")));
    }
    let mut out = String::new();
    for (value, sign) in STEPS {
        while n >= value {
            out.push_str(sign);
            n -= value;
        }
    }
    Ok(out)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    fn data() -> Map<String, Value> {
        let value = serde_json::json!({ "section": "Beds & \"borders\"", "number": 7, "colour": "#336699" });
        value.as_object().unwrap().clone()
    }

    fn filled(text: &str) -> String {
        fill("art/a.svg", text, &data()).unwrap().into_owned()
    }

    #[test]
    fn text_is_escaped_for_xml() {
        assert_eq!(filled("<text>{{ section }}</text>"), "<text>Beds &amp; &quot;borders&quot;</text>");
    }

    #[test]
    fn filters_work() {
        assert_eq!(filled("{{ number | pad(width=3) }}"), "007");
        assert_eq!(filled("{{ number | roman }}"), "VII");
        assert_eq!(filled("{{ colour | lighter(by=1.0) }} {{ colour | darker(by=1.0) }}"), "#ffffff #000000");
        assert_eq!(filled("{{ colour | mix(with=\"#336699\", by=0.5) }}"), "#336699");
        assert_eq!(filled("{{ colour | readable }}"), "#ffffff");
    }

    #[test]
    fn a_style_sheet_is_no_template() {
        let text = "<style>@media screen{#a{fill:red}} .b{fill:#fff}</style>{{ number }}";
        assert_eq!(filled(text), text.replace("{{ number }}", "7"));
    }

    #[test]
    fn what_is_not_known_is_named_with_its_place() {
        let fault = fill("art/a.svg", "<svg>\n  <text>{{ sectoin }}</text>\n</svg>", &data()).unwrap_err();
        let span = fault.span.as_ref().unwrap();
        assert_eq!((span.line, span.column), (2, 12), "{fault}");
        assert!(fault.help.as_ref().unwrap().contains("did you mean `section`?"), "{fault}");
    }

    #[test]
    fn broken_braces_are_named_with_their_place() {
        let fault = fill("art/a.svg", "<svg>\n{% if number %}\n</svg>", &data()).unwrap_err();
        assert!(fault.span.is_some(), "{fault}");
    }
}
