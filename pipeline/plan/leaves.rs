//! Pages behind a divider: those of a template as it is, and those with a name or data of their own.

use super::builder::{Builder, whole};
use super::chrome::State;
use super::heading::{self, Title};
use base::model::art::ArtSource;
use base::model::pdf_plan::{LabelRun, LabelStyle};
use base::model::product::Section;
use base::model::structure::Leaf;
use base::model::{Drawing, Place, Rect};
use draw::motifs;
use std::collections::BTreeMap;

/// The forms that pages of sections use.
pub struct Forms {
    /// Of each template.
    pub whole: Vec<usize>,
    /// Of templates below a head with a page's name, by template.
    headed: BTreeMap<usize, usize>,
}

impl Forms {
    /// With the forms of all templates, in their order.
    pub fn new(whole: Vec<usize>) -> Forms {
        Forms { whole, headed: BTreeMap::new() }
    }
}

/// Adds a page of a section with the stickers that stand on it: section and page are counted from 0.
pub fn add(b: &mut Builder, forms: &mut Forms, state: State, at: (usize, usize), leaf: &Leaf) {
    bare(b, forms, state, at, leaf);
    b.keep_off(&leaf.stickers, state, b.notebook.templates[leaf.template].art.as_ref());
    b.decorate(&leaf.stickers);
}

/// The same without stickers that only this page has.
fn bare(b: &mut Builder, forms: &mut Forms, state: State, at: (usize, usize), leaf: &Leaf) {
    let (section, page) = at;
    let template = &b.notebook.templates[leaf.template];
    let place = Place::Leaf(section + 1, page + 1);
    let Some(art) = template.art.as_ref().filter(|_| !leaf.is_plain()) else {
        return match leaf.name.is_empty() {
            true => b.template_page(state, template, forms.whole[leaf.template], place),
            false => headed(b, forms, state, leaf, place),
        };
    };
    let mut data = b.section_data(section);
    data.insert("template".into(), template.name.clone().into());
    data.insert("name".into(), leaf.title(b.notebook).into());
    data.insert("number".into(), (page + 1).into());
    if let Some(shared) = data.get_mut("data").and_then(|d| d.as_object_mut()) {
        shared.extend(leaf.data.clone());
    }
    // A drawing that says nothing of its page is the same on all of them.
    let says = matches!(&art.source, ArtSource::Svg(text) if text.contains("{{") || text.contains("{%"));
    let places = b.places.of_section(section + 1);
    if says || art.links.iter().any(|l| l.to.starts_with("page/")) || !b.laid.contains_key(&template.slug) {
        b.art(state, art, &data, &places, Some(place));
        b.keep_off(&template.stickers, state, Some(art));
        b.decorate(&template.stickers);
    } else {
        b.template_page(state, template, forms.whole[leaf.template], place);
    }
}

/// A page of rulings below its name. The rulings keep off the head, and are stored once for all pages of the template.
fn headed(b: &mut Builder, forms: &mut Forms, state: State, leaf: &Leaf, place: Place) {
    let form = match forms.headed.get(&leaf.template) {
        Some(form) => *form,
        None => {
            let head = heading::height(b.frame);
            let areas: Vec<Rect> = b.frame.areas.iter().map(|a| a.inset_each(0.0, head, 0.0, 0.0)).collect();
            let template = &b.notebook.templates[leaf.template];
            let mut drawing = b.ruled(template, b.pen, areas);
            drawing.extend(b.stickers(&template.stickers));
            b.forms.push(drawing);
            forms.headed.insert(leaf.template, b.forms.len() - 1);
            b.forms.len() - 1
        }
    };
    let template = &b.notebook.templates[leaf.template];
    b.keep_off(&template.stickers, state, None);
    let mut drawing: Drawing = whole(form);
    let title = Title { text: &leaf.name, icon: template.icon.as_deref().and_then(motifs::icon) };
    heading::draw(b, &mut drawing, title, b.frame.areas[0], heading::height(b.frame));
    b.page(state, drawing, Vec::new(), Some(place));
}

/// The labels of the sections' pages: their numbers, or the names of those that have one. `pages` are the pages of each
/// section from its first, counted from 0 in the notebook.
pub fn labels(first: usize, sections: &[Section], dividers: bool) -> Vec<LabelRun> {
    let run = |page, prefix: &str, style| LabelRun { page, prefix: prefix.to_owned(), style };
    let mut out = vec![run(first, "", LabelStyle::Decimal)];
    let mut page = first;
    let mut named = false;
    for section in sections {
        // A divider before the section and before each within.
        let runs = section.runs().into_iter();
        let pages = runs.flat_map(|run| dividers.then_some("").into_iter().chain(run.iter().map(|l| l.name.as_str())));
        for name in pages {
            // Behind a page with a name, a run of numbers cannot go on counting: each is written out.
            if !name.is_empty() || named {
                named = true;
                let number = (page - first + 1).to_string();
                out.retain(|r| r.page != page);
                out.push(run(page, if name.is_empty() { &number } else { name }, LabelStyle::None));
            }
            page += 1;
        }
    }
    out
}
