//! Templates that others wrote, filled in with a limit on steps and on sizes.
//!
//! The template language has loops and variables, so a few lines of it can run for days (loops within loops) or fill the
//! memory (a text that is set to itself twice over). So the text is given a call after every tag that begins a round or
//! sets something; the call counts, and weighs what was set. The places of faults are led back to the text as written.

use std::io::{self, Write};
use std::ops::Range;
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};
use tera::{Context, Error, Kwargs, State, StringInput, Tera, TeraResult, Value};

/// The most rounds of loops, uses of components and settings of one template.
pub const MOST_STEPS: u64 = 1_000_000;
/// The most bytes of one text within a template, and items of one list.
pub const MOST_SIZE: usize = 4 << 20;
/// The most bytes that a template may come to.
pub const MOST_BYTES: usize = 64 << 20;

/// Name of the call; nobody writes such a one.
const CALL: &str = "__count";

/// A text with the calls in it.
pub struct Template {
    text: String,
    /// Where in the text as written a call was put in, and how long it is.
    calls: Vec<(usize, usize)>,
}

impl Template {
    /// Gives a text its calls.
    pub fn new(written: &str) -> Template {
        let mut calls: Vec<(usize, String)> = Vec::new();
        let (mut at, mut raw) = (0, false);
        while let Some(begin) = written[at..].find("{%").map(|n| at + n) {
            let Some(end) = tag_end(written, begin + 2) else { break };
            let inner = written[begin + 2..end - 2].trim_matches(['-', ' ', '\t', '\r', '\n']);
            let (word, rest) = inner.split_once(char::is_whitespace).unwrap_or((inner, ""));
            let trims = if written[..end - 2].ends_with('-') { "-" } else { "" };
            match word {
                "raw" => raw = true,
                "endraw" => raw = false,
                _ if raw => {}
                "for" => calls.push((end, format!("{{{{ {CALL}() {trims}}}}}"))),
                "component" => {
                    let values = names(rest.split_once('(').map_or("", |(_, list)| list));
                    let values: Vec<String> = values.iter().enumerate().map(|(i, n)| format!("v{i}={n}")).collect();
                    calls.push((end, format!("{{{{ {CALL}({}) {trims}}}}}", values.join(", "))));
                }
                "set" | "set_global" => {
                    let name = rest.split(['=', '|']).next().unwrap_or_default().trim();
                    // `{% set name %} … {% endset %}` is weighed where it ends, in the round that counts it.
                    if rest.contains('=') && is_name(name) {
                        calls.push((end, format!("{{{{ {CALL}(v0={name}) {trims}}}}}")));
                    }
                }
                _ => {}
            }
            at = end;
        }
        let (mut text, mut from) = (String::with_capacity(written.len() + calls.len() * 24), 0);
        for (at, call) in &calls {
            text.push_str(&written[from..*at]);
            text.push_str(call);
            from = *at;
        }
        text.push_str(&written[from..]);
        Template { text, calls: calls.into_iter().map(|(at, call)| (at, call.len())).collect() }
    }

    /// The text to be given to the template language.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Where in the text as written something stands.
    pub fn written(&self, range: &Range<usize>) -> Range<usize> {
        let back = |at: usize| {
            let mut before = 0;
            for (place, length) in &self.calls {
                let begin = place + before;
                if at <= begin {
                    break;
                }
                if at < begin + length {
                    return *place;
                }
                before += length;
            }
            at - before
        };
        back(range.start)..back(range.end)
    }
}

/// Line and column, both from 1, of a place.
pub fn span_at(text: &str, at: usize) -> (usize, usize) {
    let before = text.get(..at).unwrap_or(text);
    let line = before.matches('\n').count() + 1;
    (line, before.rsplit('\n').next().unwrap_or_default().chars().count() + 1)
}

/// Where the tag ends whose inside begins at `at`: quotes may hold its mark.
fn tag_end(text: &str, at: usize) -> Option<usize> {
    let mut quote = None;
    let mut chars = text[at..].char_indices().peekable();
    while let Some((i, c)) = chars.next() {
        match (quote, c) {
            (Some(_), '\\') => {
                chars.next();
            }
            (Some(q), c) if q == c => quote = None,
            (Some(_), _) => {}
            (None, '"' | '\'' | '`') => quote = Some(c),
            (None, '%') if chars.peek().is_some_and(|(_, c)| *c == '}') => return Some(at + i + 2),
            _ => {}
        }
    }
    None
}

/// The names of a component's arguments.
fn names(list: &str) -> Vec<&str> {
    list.split([',', ')'])
        .map(|one| one.split([':', '=']).next().unwrap_or_default().trim())
        .filter(|n| is_name(n))
        .collect()
}

fn is_name(text: &str) -> bool {
    text.starts_with(|c: char| c.is_ascii_alphabetic() || c == '_')
        && text.chars().all(|c| c.is_ascii_alphanumeric() || c == '_')
}

/// Teaches the template language the call, and to be wary where texts grow.
pub fn limit(tera: &mut Tera) {
    let steps = Arc::new(AtomicU64::new(0));
    tera.register_function(CALL, move |values: Kwargs, _: &State| -> TeraResult<&'static str> {
        if steps.fetch_add(1, Ordering::Relaxed) >= MOST_STEPS {
            return Err(Error::message(format!(
                "it takes more than {MOST_STEPS} steps (rounds of loops, uses of components, settings)"
            )));
        }
        for n in 0..16 {
            let Some(value) = values.get::<Value>(&format!("v{n}"))? else { break };
            let mut left = MOST_SIZE;
            weigh(&value, &mut left, 0)?;
        }
        Ok("")
    });
    tera.register_filter("replace", replace);
    tera.register_filter("join", join);
}

/// Fills a template in.
///
/// # Errors
/// What the template language says, and more bytes than a template may come to.
pub fn fill(tera: &Tera, name: &str, context: &Context) -> TeraResult<String> {
    let mut out = Bounded(Vec::new(), false);
    let made = tera.render_to(name, context, &mut out);
    if out.1 {
        // The template language passes on that it could not write, and not why.
        return Err(Error::message(format!("it comes to more than {} MiB, which are the most", MOST_BYTES >> 20)));
    }
    made?;
    String::from_utf8(out.0).map_err(|e| Error::message(e.to_string()))
}

/// The bytes, and whether there were to be more than may be.
struct Bounded(Vec<u8>, bool);

impl Write for Bounded {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        if self.0.len() + bytes.len() > MOST_BYTES {
            self.1 = true;
            return Err(io::Error::other("too much"));
        }
        self.0.extend_from_slice(bytes);
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

fn too_long() -> Error {
    Error::message(format!("a text or a list comes to more than {} MiB, which are the most", MOST_SIZE >> 20))
}

/// Takes what a value holds off what is left.
fn weigh(value: &Value, left: &mut usize, depth: usize) -> TeraResult<()> {
    let own = value.as_str().map_or(8, str::len);
    *left = left.checked_sub(own).filter(|_| depth < 64).ok_or_else(too_long)?;
    for item in value.as_array().unwrap_or_default() {
        weigh(item, left, depth + 1)?;
    }
    for (_, item) in value.as_map().into_iter().flatten() {
        weigh(item, left, depth + 1)?;
    }
    Ok(())
}

/// As the template language has it, with a limit.
fn replace(value: StringInput, values: Kwargs, state: &State) -> TeraResult<Value> {
    let from: &str = values.must_get("from")?;
    let to: StringInput = values.must_get("to")?;
    let safe = state.autoescaping_enabled() && (value.is_safe() || to.is_safe());
    let (text, with) = if safe {
        (value.rendered(state)?.into_owned(), to.rendered(state)?.into_owned())
    } else {
        (value.as_str().to_owned(), to.as_str().to_owned())
    };
    let grown = text.matches(from).count().saturating_mul(with.len());
    if grown.saturating_add(text.len()) > MOST_SIZE {
        return Err(too_long());
    }
    let out = text.replace(from, &with);
    Ok(if safe { Value::safe_string(&out) } else { Value::from(out) })
}

/// As the template language has it, with a limit.
fn join(items: &[Value], values: Kwargs, state: &State) -> TeraResult<Value> {
    let between: Option<StringInput> = values.get("sep")?;
    let safe = state.autoescaping_enabled()
        && (items.iter().any(|v| v.is_string() && v.is_safe()) || between.as_ref().is_some_and(|s| s.is_safe()));
    let sep = match &between {
        Some(s) if safe => s.rendered(state)?.into_owned(),
        Some(s) => s.as_str().to_owned(),
        None => String::new(),
    };
    let mut out = String::new();
    for (n, item) in items.iter().enumerate() {
        if n > 0 {
            out.push_str(&sep);
        }
        if !item.is_undefined() {
            out.push_str(&if safe { state.escape_if_needed(item)? } else { item.to_string() });
        }
        if out.len() > MOST_SIZE {
            return Err(too_long());
        }
    }
    Ok(if safe { Value::safe_string(&out) } else { Value::from(out) })
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    fn filled(text: &str) -> TeraResult<String> {
        let mut tera = Tera::new();
        limit(&mut tera);
        let template = Template::new(text);
        tera.add_raw_template("t", template.text())?;
        let mut context = Context::new();
        context.insert("names", &["Beds", "Borders"]);
        fill(&tera, "t", &context)
    }

    /// With and without the calls a template must come to the same.
    #[test]
    fn the_calls_leave_no_trace() {
        for text in [
            "a{% for n in names -%}\n  {{ n }},\n{%- endfor %}b",
            "{% for n in names %}\n{{ loop.index }} {{ n }}\n{% endfor %}",
            "{%- set x = \"50 %} of\" -%}\n {{ x }}{% set y = x ~ x %}{{ y }}",
            "{% raw %}{% for n in names %}{% set x = 1 %}{% endraw %}",
            "{% set words %}{{ names | join(sep=\" and \") }}{% endset %}{{ words | replace(from=\"and\", to=\"&\") }}",
            "{% if names %}{% for n in names %}{% if loop.first %}{% continue %}{% endif %}{{ n }}{% endfor %}{% endif %}",
            "no tag at all {{ names }}",
        ] {
            let mut plain = Tera::new();
            plain.add_raw_template("t", text).unwrap_or_else(|e| panic!("{text}: {e}"));
            let mut context = Context::new();
            context.insert("names", &["Beds", "Borders"]);
            assert_eq!(
                filled(text).unwrap_or_else(|e| panic!("{text}: {e}")),
                plain.render("t", &context).unwrap(),
                "{text}"
            );
        }
    }

    #[test]
    fn whatever_runs_for_ever_is_refused_with_its_limit() {
        let thousand = "range(end=1000)";
        for (text, said) in [
            (
                format!(
                    "{{% for a in {thousand} %}}{{% for b in {thousand} %}}{{% for c in {thousand} %}}{{% endfor %}}{{% endfor %}}{{% endfor %}}"
                ),
                "1000000 steps",
            ),
            (format!("{{% set s = \"ab\" %}}{}", "{% set s = s ~ s %}".repeat(60)), "4 MiB"),
            (format!("{{% set s = [1] %}}{}", "{% set s = [s, s] %}".repeat(60)), "4 MiB"),
            (
                format!(
                    "{{% set s = \"{}\" %}}{{{{ s | replace(from=\"a\", to=s) | replace(from=\"a\", to=s) }}}}",
                    "a".repeat(1500)
                ),
                "4 MiB",
            ),
            (format!("{{% set s = \"{}\" %}}{{{{ range(end=100000) | join(sep=s) }}}}", "a".repeat(1500)), "4 MiB"),
            (
                format!(
                    "{{% set s = \"{}\" %}}{{% for n in {thousand} %}}{{{{ s }}}}{{% endfor %}}",
                    "a".repeat(70_000)
                ),
                "64 MiB",
            ),
        ] {
            let told = format!("{:?}", filled(&text).unwrap_err());
            assert!(told.contains(said), "{}: {told}", &text[..80]);
        }
    }

    #[test]
    fn places_are_those_of_the_text_as_written() {
        let text = "{% for n in names %}\n{% set x = n %}{{ lost }}{% endfor %}";
        let template = Template::new(text);
        let at = template.text().find("lost").unwrap();
        assert_eq!(&text[template.written(&(at..at + 4))], "lost");
        assert_eq!(span_at(text, text.find("lost").unwrap()), (2, 19));
    }
}
