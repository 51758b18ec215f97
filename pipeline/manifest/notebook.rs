//! The notebook: cover, welcome page, sections, templates.

use super::source::{suggest, suggest_file};
use super::{Context, art, covers, placed, raw, slug, structure};
use base::colour;
use base::model::art::ArtPage;
use base::model::plan::{About, Remark};
use base::model::product::{FrontArt, Notebook, Section, Style, Template};
use base::model::structure::{Leaf, Part};
use base::model::units::spoken;
use base::model::{Rgb, Where};
use draw::motifs;
use draw::ruling::{self, Rulings};
use std::collections::BTreeMap;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// Most sections that a page edge has room for.
pub const MOST_SECTIONS: usize = 24;

/// Resolves the notebook.
pub fn resolve<'t>(
    cx: &mut Context<'_, 't>,
    raw: &raw::Notebook,
    tables: &Spanned<DeTable<'t>>,
    style: &Option<Style>,
    raw_style: &raw::Style,
) -> Option<Notebook> {
    let mut templates = templates(cx, raw, tables);
    if let Some(day) = raw.first_day.and_then(|day| toml::Value::try_from(day).ok()) {
        templates.iter_mut().for_each(|t| begin_weeks(cx.rulings, t, &day));
    }
    let sections = sections(cx, raw, &templates, style, raw_style);
    let parts = structure::parts(cx, raw, &templates, &sections);
    let welcome = match raw.welcome.as_ref().map(|w| (w.get_ref(), w.span())) {
        Some((raw::Welcome::Text(path), span)) if path.ends_with(".md") => match cx.world.read_text(path) {
            Ok(text) => text,
            Err(fault) => {
                let near = cx.world.nearby(path);
                let help = fault.help.unwrap_or_else(|| suggest_file(path, &near));
                cx.source.fault(span, fault.message, Some(help));
                String::new()
            }
        },
        Some((raw::Welcome::Text(text), _)) => text.clone(),
        Some((raw::Welcome::Art(_), _)) | None => String::new(),
    };
    let style = style.as_ref()?;
    let title = raw.title.as_ref().map_or_else(|| cx.name.to_owned(), |t| t.get_ref().clone());
    let mut cover = covers::resolve_cover(cx, raw.cover.as_ref().unwrap_or(&raw::Cover::default()), style)?;
    if cover.name.is_empty() {
        cover.name = title.clone();
    }
    if raw.cover.as_ref().is_none_or(|c| c.line.is_none()) {
        cover.line = title.clone();
    }
    let mut one = |keys: Option<&raw::Art>| keys.and_then(|k| needed(cx, k));
    let front = FrontArt {
        welcome: match raw.welcome.as_ref().map(Spanned::get_ref) {
            Some(raw::Welcome::Art(keys)) => one(Some(keys)),
            _ => None,
        },
        index: one(raw.index.as_ref()),
        overview: one(raw.overview.as_ref()),
    };
    let notebook =
        Notebook { title, cover, welcome, art: front, sections, templates, parts, dated: None, finished: None };
    unseen_icons(cx, raw, &notebook);
    Some(notebook)
}

/// Tells of icons of templates that stand on no page: there is no title for them, and no overview with the template's name.
fn unseen_icons(cx: &mut Context, raw: &raw::Notebook, notebook: &Notebook) {
    let overview = notebook.parts.has(Part::Overview) && notebook.art.overview.is_none();
    // All that a fault took out is told of as such.
    for ((i, template), entry) in notebook.templates.iter().enumerate().zip(&raw.template) {
        let Some(asked) = entry.get_ref().icon.as_ref().filter(|_| template.icon.is_some()) else { continue };
        let titled = |leaf: &Leaf| leaf.template == i && !leaf.name.is_empty();
        let headed = template.art.is_none() && notebook.sections.iter().flat_map(|s| &s.pages).any(titled);
        if headed || template.offered && overview {
            continue;
        }
        let place = Where::file(super::FILE).span(cx.source.span(asked.span()));
        let icon = asked.get_ref();
        let message = format!("the icon `{icon}` of `{}` stands on no page: none has a title for it", template.name);
        cx.remarks.push(Remark { about: About::IconUnseen, place, message });
    }
}

/// The art of a table that is there for nothing else.
fn needed(cx: &mut Context, keys: &raw::Art) -> Option<ArtPage> {
    art::resolve(cx, keys.art_keys())
}

fn sections(
    cx: &mut Context,
    raw: &raw::Notebook,
    templates: &[Template],
    style: &Option<Style>,
    raw_style: &raw::Style,
) -> Vec<Section> {
    if let Some(extra) = raw.section.get(MOST_SECTIONS) {
        let help = format!("keep at most {MOST_SECTIONS}: more tabs do not fit on the page edge");
        cx.source.fault(extra.span(), format!("{} sections are too many", raw.section.len()), Some(help));
    }
    // Without any, six blank ones for the owner to label.
    // Beside dated pages there need not be any.
    let count = match (raw.section.len(), raw.dated.is_empty()) {
        (0, true) => 6,
        (count, _) => count,
    };
    let colours = colours(raw, count, style, raw_style);
    // One drawing makes every divider, unless a section has its own.
    let divider = raw.divider.as_ref().and_then(|keys| needed(cx, keys));
    (0..count)
        .map(|i| {
            let section = raw.section.get(i).map(Spanned::get_ref);
            let (pages, within) =
                section.map_or_else(Default::default, |s| structure::leaves(cx, raw, s, templates, colours[i]));
            // Without art, `page` is that of a finished notebook, which is looked at elsewhere.
            let keys = section.map(raw::Section::art_keys);
            let keys = keys.map(|k| raw::ArtKeys { page: k.page.filter(|_| k.art.is_some()), ..k });
            let own = keys.and_then(|k| art::resolve(cx, k));
            let name = section.map_or(String::new(), |s| s.name.trim().to_owned());
            let icon = section.and_then(|s| icon(cx, s.icon.as_ref()));
            Section { name, colour: colours[i], icon, pages, within, art: own.or_else(|| divider.clone()) }
        })
        .collect()
}

/// An icon by the name that is asked for, which must be one that the tool brings along.
pub fn icon(cx: &mut Context, name: Option<&Spanned<String>>) -> Option<String> {
    let name = name?;
    if motifs::icon(name.get_ref()).is_none() {
        let help = suggest(name.get_ref(), motifs::with_icons().map(|m| m.name));
        cx.source.fault(name.span(), format!("there is no icon `{}`", name.get_ref()), Some(help));
    }
    Some(name.get_ref().clone())
}

/// The colours of so many sections: each its own, or from the style's list, or from a family round the accent.
pub fn colours(raw: &raw::Notebook, count: usize, style: &Option<Style>, raw_style: &raw::Style) -> Vec<Rgb> {
    let hue = style.as_ref().map_or(150.0, |s| colour::to_oklch(s.accent)[2]);
    let family = colour::family(count, 0.80, 0.085, hue);
    (0..count)
        .map(|i| {
            let own = raw.section.get(i).and_then(|s| s.get_ref().colour.map(|c| c.0));
            let listed = (!raw_style.sections.is_empty()).then(|| raw_style.sections[i % raw_style.sections.len()].0);
            own.or(listed).unwrap_or(family[i])
        })
        .collect()
}

fn templates<'t>(cx: &mut Context<'_, 't>, raw: &raw::Notebook, tables: &Spanned<DeTable<'t>>) -> Vec<Template> {
    if raw.template.is_empty() {
        return standard(cx.rulings);
    }
    let mut seen: BTreeMap<String, usize> = BTreeMap::new();
    let mut out = Vec::new();
    for (i, entry) in raw.template.iter().enumerate() {
        let template = entry.get_ref();
        let written =
            tables.get_ref().get("notebook").and_then(|n| n.get_ref().get("template")).and_then(|t| t.get_ref().get(i));
        let own = art::resolve(cx, template.art_keys());
        let ruling = match &template.ruling {
            Some(name) if template.art.is_some() => {
                let help = "take one of the two out; art can lie on the papers with the tool's own desk around it, room = \"papers\"".to_owned();
                cx.source.fault(name.span(), "a template has `ruling` or `art`, not both", Some(help));
                // Whichever of the two stays, what is wrong with the parameters is told in the same run.
                ruling(cx, name, written, "with");
                None
            }
            Some(name) => ruling(cx, name, written, "with"),
            None if template.art.is_some() => None,
            None => {
                let help = format!("add ruling = \"…\" or art = \"art/….svg\"; there are {}", names(cx.rulings));
                cx.source.fault(entry.span(), "a template needs a ruling or art", Some(help));
                None
            }
        };
        let beside = template.beside.as_ref().map(|name| ruling_pair(cx, name, written, template));
        let name = template.name.as_ref().map(|n| n.get_ref().trim().to_owned()).filter(|n| !n.is_empty());
        let stem = template.art.as_ref().and_then(|p| p.get_ref().rsplit('/').next()?.rsplit_once('.'));
        let usual = ruling.map(|r| r.name).or(stem.map(|(stem, _)| stem));
        let Some(name) = name.or_else(|| usual.map(spoken)) else { continue };
        let slug = template.slug.as_ref().map_or_else(|| slug(&name), |s| s.get_ref().clone());
        let span = template
            .slug
            .as_ref()
            .or(template.name.as_ref())
            .or(template.ruling.as_ref())
            .or(template.art.as_ref())
            .map_or(entry.span(), |s| s.span());
        if slug.is_empty() {
            let help = "add slug = \"…\" in lower-case letters, digits and hyphens".to_owned();
            cx.source.fault(span.clone(), format!("`{name}` has no letters that a place can be named by"), Some(help));
        }
        if let Some(first) = seen.insert(slug.clone(), i + 1) {
            let help = "give it another name, or a slug of its own".to_owned();
            cx.source.fault(span, format!("templates {first} and {} are both called `{slug}`", i + 1), Some(help));
        }
        // One whose ruling is at fault keeps its name, so that the pages which ask for it are not blamed as well.
        let ruling = ruling.map_or("blank", |r| r.name).to_owned();
        let with = template.parameters.clone();
        out.push(Template {
            name,
            slug,
            ruling,
            with,
            beside: beside.flatten(),
            art: own,
            offered: template.overview != Some(false),
            icon: icon(cx, template.icon.as_ref()),
            stickers: placed::resolve(cx, raw, &template.stickers),
        });
    }
    out
}

fn ruling_pair<'t>(
    cx: &mut Context<'_, 't>,
    name: &Spanned<String>,
    written: Option<&Spanned<DeValue<'t>>>,
    template: &raw::Template,
) -> Option<(String, toml::Table)> {
    ruling(cx, name, written, "beside-with").map(|r| (r.name.to_owned(), template.beside_with.clone()))
}

/// Finds a ruling and checks the parameters that stand under `key`.
fn ruling<'t>(
    cx: &mut Context<'_, 't>,
    name: &Spanned<String>,
    written: Option<&Spanned<DeValue<'t>>>,
    key: &str,
) -> Option<&'static ruling::Entry> {
    let Some(entry) = ruling::find(cx.rulings.plain, name.get_ref()) else {
        let help = suggest(name.get_ref(), cx.rulings.plain.iter().map(|e| e.name));
        cx.source.fault(name.span(), format!("there is no ruling `{}`", name.get_ref()), Some(help));
        return None;
    };
    if let Some(parameters) = written.and_then(|w| w.get_ref().get(key)) {
        cx.source.each_fault(parameters, |with| entry.check(with));
    }
    Some(entry)
}

/// Lets the weeks of a template begin on a day, where it has weeks and does not say so itself.
fn begin_weeks(rulings: Rulings, template: &mut Template, day: &toml::Value) {
    const KEY: &str = "first-day";
    let begin = |name: &str, with: &mut toml::Table| {
        let mut begun = with.clone();
        begun.entry(KEY).or_insert_with(|| day.clone());
        if ruling::find(rulings.plain, name).is_some_and(|r| r.reads(&begun)) {
            *with = begun;
        }
    };
    begin(&template.ruling, &mut template.with);
    if let Some((name, with)) = &mut template.beside {
        begin(name, with);
    }
}

/// The templates of a manifest that names none.
fn standard(rulings: Rulings) -> Vec<Template> {
    ["lined", "dot-grid", "square-grid", "checklist", "day", "week", "month", "blank"]
        .iter()
        .filter_map(|name| ruling::find(rulings.plain, name))
        .map(|entry| Template {
            name: spoken(entry.name),
            slug: entry.name.to_owned(),
            ruling: entry.name.to_owned(),
            with: toml::Table::new(),
            beside: None,
            art: None,
            offered: true,
            icon: None,
            stickers: Vec::new(),
        })
        .collect()
}

fn names(rulings: Rulings) -> String {
    rulings.plain.iter().map(|e| e.name).collect::<Vec<_>>().join(", ")
}
