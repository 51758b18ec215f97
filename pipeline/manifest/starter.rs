//! The manifest that a new product begins with: short, and it builds at once.

use super::slug;

/// Text of a first `product.toml` for a planner of this name: the twelve months from the January after the release on.
pub fn planner(name: &str, released: &str) -> String {
    let quoted = name.replace('\\', "\\\\").replace('"', "\\\"");
    let slug = slug(name);
    let slug = if slug.is_empty() { "planner".to_owned() } else { slug };
    let year = released.get(..4).and_then(|year| year.parse::<i32>().ok()).map_or(2027, |year| year + 1);
    format!(
        r##"name = "{quoted}"
slug = "{slug}"
version = "1.0.0"
released = {released}
shop = {{ name = "Your shop", contact = "help@example.com" }}

[style]
accent = "#5f7d5a"

[calendar]
first = "{year}-01"
first-day = "monday"

[[calendar.event]]
name = "New Year's Day"
on = "01-01"
kind = "holiday"

[notebook]
dated = [
  {{ pages = "year" }},
  {{ pages = "month" }},
  {{ pages = "week" }},
  {{ pages = "day" }},
]
"##
    )
}

/// Text of a first `product.toml` for a product of this name.
pub fn manifest(name: &str, released: &str) -> String {
    let quoted = name.replace('\\', "\\\\").replace('"', "\\\"");
    let slug = slug(name);
    let slug = if slug.is_empty() { "notebook".to_owned() } else { slug };
    format!(
        r##"name = "{quoted}"
slug = "{slug}"
version = "1.0.0"
released = {released}
shop = {{ name = "Your shop", contact = "help@example.com" }}

[style]
accent = "#5f7d5a"

[notebook]
section = [
  {{ name = "Plans" }},
  {{ name = "Notes", pages = [{{ template = "college-lines", count = 3 }}] }},
  {{ name = "Ideas" }},
]

[[notebook.template]]
name = "College lines"
ruling = "lined"
with = {{ pitch = 7.1 }}

[[notebook.template]]
ruling = "dot-grid"

[[sticker]]
motif = "to-do-box"
"##
    )
}
