//! The chapters of the manual: how things go together, with examples. They are Markdown files beside this one, to be read there
//! as well; what each key takes is told by the keys themselves.

use pulldown_cmark::{CodeBlockKind, CowStr, Event, HeadingLevel, Options, Parser, Tag, TagEnd, html};
use serde_json::{Value, json};

/// The chapters in their order: the name of the file, and its text.
pub const ALL: [(&str, &str); 13] = [
    ("notebook", include_str!("chapters/notebook.md")),
    ("drawings", include_str!("chapters/drawings.md")),
    ("stickers", include_str!("chapters/stickers.md")),
    ("looks", include_str!("chapters/looks.md")),
    ("variants", include_str!("chapters/variants.md")),
    ("languages", include_str!("chapters/languages.md")),
    ("planners", include_str!("chapters/planners.md")),
    ("finished", include_str!("chapters/finished.md")),
    ("ledger", include_str!("chapters/ledger.md")),
    ("bundle", include_str!("chapters/bundle.md")),
    ("checks", include_str!("chapters/checks.md")),
    ("changes", include_str!("chapters/changes.md")),
    ("shop", include_str!("chapters/shop.md")),
];

/// A part of a chapter, below a heading of its own or at its head.
struct Part<'t> {
    id: String,
    title: String,
    events: Vec<Event<'t>>,
}

/// All chapters for the page: `id`, `title`, and `parts` with `id`, `title` and `html`.
pub fn all() -> Vec<Value> {
    ALL.iter().map(|(name, text)| chapter(name, text)).collect()
}

fn chapter(name: &str, text: &str) -> Value {
    let parts = parts(name, text);
    let title = parts.first().map_or(String::new(), |part| part.title.clone());
    // A chapter that begins with a heading has nothing of its own above it.
    let told = parts.into_iter().filter(|part| !part.events.is_empty());
    let told: Vec<Value> = told
        .map(|part| {
            let mut page = String::new();
            html::push_html(&mut page, part.events.into_iter());
            json!({ "id": part.id, "title": part.title, "html": page })
        })
        .collect();
    json!({ "id": format!("chapter-{name}"), "title": title, "parts": told })
}

fn parts<'t>(name: &str, text: &'t str) -> Vec<Part<'t>> {
    let mut out: Vec<Part> = Vec::new();
    let mut heading: Option<String> = None;
    let (mut pictures, mut code, mut lost) = (0, None::<String>, Vec::new());
    for event in Parser::new_ext(text, Options::ENABLE_TABLES) {
        let kept = match event {
            Event::Start(Tag::Heading { .. }) => {
                heading = Some(String::new());
                continue;
            }
            Event::End(TagEnd::Heading(level)) => {
                let title = heading.take().unwrap_or_default();
                let id = match level {
                    HeadingLevel::H1 => format!("part-{name}"),
                    _ => format!("part-{name}-{}", slug(&title)),
                };
                out.push(Part { id, title, events: Vec::new() });
                continue;
            }
            Event::Text(text) | Event::Code(text) if heading.is_some() => {
                heading.get_or_insert_default().push_str(&text);
                continue;
            }
            // The page shows what it draws itself.
            Event::Start(Tag::Image { .. }) => {
                pictures += 1;
                continue;
            }
            Event::End(TagEnd::Image) => {
                pictures -= 1;
                continue;
            }
            _ if pictures > 0 => continue,
            Event::Start(Tag::CodeBlock(CodeBlockKind::Fenced(_) | CodeBlockKind::Indented)) => {
                code = Some(String::new());
                continue;
            }
            Event::Text(text) if code.is_some() => {
                code.get_or_insert_default().push_str(&text);
                continue;
            }
            Event::End(TagEnd::CodeBlock) => {
                let text = escaped(&code.take().unwrap_or_default());
                Event::Html(format!("<pre tabindex=\"0\" aria-label=\"Example\"><code>{text}</code></pre>\n").into())
            }
            Event::Start(Tag::Link { dest_url, .. }) => {
                let within = within(name, &dest_url);
                lost.push(within.is_none().then(|| dest_url.to_string()));
                match within {
                    Some(to) => Event::Html(format!("<a href=\"{to}\">").into()),
                    None => continue,
                }
            }
            Event::End(TagEnd::Link) => match lost.pop().flatten() {
                None => Event::Html("</a>".into()),
                // The page leads nowhere outside of itself, so that an address is told in words.
                Some(to) if to.starts_with("https:") => Event::Text(CowStr::from(format!(" ({to})"))),
                Some(_) => continue,
            },
            other => other,
        };
        if let Some(part) = out.last_mut() {
            part.events.push(kept);
        }
    }
    out
}

/// Where a link between chapters leads on the page; none for one that leads out of them.
fn within(name: &str, to: &str) -> Option<String> {
    let (file, heading) = to.split_once('#').unwrap_or((to, ""));
    let file = if file.is_empty() { name } else { file.strip_suffix(".md")? };
    ALL.iter().find(|(known, _)| *known == file)?;
    Some(if heading.is_empty() { format!("#chapter-{file}") } else { format!("#part-{file}-{heading}") })
}

/// A heading as an address has it: small letters, with `-` between the words.
fn slug(title: &str) -> String {
    let plain: String = title.to_lowercase().chars().filter(|c| c.is_alphanumeric() || *c == ' ').collect();
    plain.replace(' ', "-")
}

fn escaped(text: &str) -> String {
    text.trim_end().replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;")
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;
    use std::path::Path;

    #[test]
    fn every_file_is_a_chapter() {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("pipeline/manual/chapters");
        let there: BTreeSet<String> =
            folder.read_dir().unwrap().map(|f| f.unwrap().file_name().into_string().unwrap()).collect();
        let told: BTreeSet<String> = ALL.iter().map(|(name, _)| format!("{name}.md")).collect();
        assert_eq!(there, told);
    }

    #[test]
    fn links_between_chapters_lead_to_headings_that_there_are() {
        let all = all();
        let mut ids = BTreeSet::new();
        for chapter in &all {
            let parts = chapter["parts"].as_array().unwrap();
            assert!(!chapter["title"].as_str().unwrap().is_empty() && !parts.is_empty(), "{chapter}");
            let own = std::iter::once(chapter).chain(parts).map(|one| one["id"].as_str().unwrap().to_owned());
            for id in own {
                assert!(ids.insert(id.clone()), "{id} stands twice");
            }
        }
        let text = serde_json::to_string(&all).unwrap();
        let links: Vec<&str> = text.split("href=\\\"#").skip(1).filter_map(|l| l.split('\\').next()).collect();
        assert!(!links.is_empty());
        for link in links {
            assert!(ids.contains(link), "{link}");
        }
        assert!(!text.contains("<img") && !text.contains("href=\\\"http"), "the page asks nothing of other computers");
    }
}
