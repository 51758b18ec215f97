//! The texts of a product that its buyers read and that are the designer's own, for whoever puts others in their place.

use super::planner::{Companion, Dated, Design, EventList};
use super::product::{Cover, Licence, Listing, Notebook, Product, Section, SectionWithin, Sticker, Template};
use super::product::{StickerSet, StickerSource};
use super::shot::Shot;
use super::structure::Leaf;
use super::variant::Variant;
use serde_json::Value as Json;
use std::sync::Arc;

/// What is done to each text.
type Each<'e> = &'e mut dyn FnMut(&mut String);

impl Product {
    /// Every text of the designer's own that buyers read: names, titles, lines, labels, and what the listing and the terms say.
    /// What names files and places stays as it is, and so do whole texts in Markdown, which are files of their own.
    pub fn each_text(&mut self, each: Each) {
        each(&mut self.name);
        each(&mut self.shop.name);
        self.variants.all.iter_mut().for_each(|variant| of_variant(variant, each));
        self.notebook.iter_mut().for_each(|notebook| of_notebook(notebook, each));
        self.covers.iter_mut().for_each(|cover| of_cover(cover, each));
        of_stickers(&mut self.stickers, each);
        of_licence(&mut self.licence, each);
        let Listing { title, summary, tags } = &mut self.listing;
        [title, summary].into_iter().chain(tags).for_each(&mut *each);
        self.shots.iter_mut().for_each(|shot| of_shot(shot, each));
        self.data.values_mut().for_each(|value| of_json(value, each));
    }
}

fn of_variant(variant: &mut Variant, each: Each) {
    let Variant { name: _, title, choices } = variant;
    // The title of the whole is made of those of its choices.
    let parts: Vec<String> = choices.iter().map(|choice| choice.title.clone()).collect();
    choices.iter_mut().for_each(|choice| each(&mut choice.title));
    if *title == parts.join(", ") {
        *title = choices.iter().map(|choice| choice.title.as_str()).collect::<Vec<_>>().join(", ");
    } else {
        each(title);
    }
}

fn of_notebook(notebook: &mut Notebook, each: Each) {
    let Notebook { title, cover, welcome: _, art: _, sections, templates, dated, parts: _, finished: _ } = notebook;
    each(title);
    of_cover(cover, each);
    for section in sections {
        let Section { name, colour: _, icon: _, pages, within, art: _ } = section;
        each(name);
        pages.iter_mut().for_each(|leaf| of_leaf(leaf, each));
        for SectionWithin { name, colour: _, first: _ } in within {
            each(name);
        }
    }
    for template in templates {
        let Template { name, slug: _, ruling: _, with, beside, art: _, offered: _, icon: _, stickers: _ } = template;
        each(name);
        of_table(with, each);
        beside.iter_mut().for_each(|(_, with)| of_table(with, each));
    }
    if let Some(dated) = dated {
        of_dated(Arc::make_mut(dated), each);
    }
}

fn of_leaf(leaf: &mut Leaf, each: Each) {
    let Leaf { template: _, name, slug: _, data, stickers: _ } = leaf;
    each(name);
    data.values_mut().for_each(|value| of_json(value, each));
}

fn of_dated(dated: &mut Dated, each: Each) {
    for set in &mut dated.sets {
        of_design(&mut set.design, each);
        for Companion { name, design } in &mut set.companions {
            each(name);
            of_design(design, each);
        }
    }
    for EventList { name, file: _, colour: _, each: _, on: _, holidays: _ } in &mut dated.lists {
        name.iter_mut().for_each(&mut *each);
    }
    dated.happenings.iter_mut().for_each(|happening| each(&mut happening.name));
}

fn of_design(design: &mut Design, each: Each) {
    match design {
        Design::Dated(_, with) | Design::Plain(_, with) => of_table(&mut with.0, each),
        Design::Art(_) => {}
    }
}

fn of_cover(cover: &mut Cover, each: Each) {
    let Cover { name, design: _, colour: _, second: _, material: _, finish: _, label: _, line } = cover;
    each(name);
    each(line);
}

fn of_stickers(set: &mut StickerSet, each: Each) {
    let StickerSet { dpi: _, padding: _, optimise: _, sheets: _, groups, cuts, items, numbers: _ } = set;
    groups.iter_mut().for_each(&mut *each);
    for sticker in items.iter_mut().chain(cuts.iter_mut().map(|cut| &mut cut.like)) {
        of_sticker(sticker, each);
    }
}

fn of_sticker(sticker: &mut Sticker, each: Each) {
    // Its name is that of its file.
    each(&mut sticker.group);
    if let StickerSource::BuiltIn(_, label) = &mut sticker.source {
        label.iter_mut().for_each(each);
    }
}

fn of_licence(licence: &mut Licence, each: Each) {
    let Licence { small_commercial: _, classroom_seats: _, refunds: _, credits, extra } = licence;
    credits.iter_mut().chain(extra).for_each(each);
}

fn of_shot(shot: &mut Shot, each: Each) {
    shot.title.iter_mut().chain(&mut shot.line).for_each(each);
}

/// Labels among the parameters of a ruling.
fn of_table(table: &mut toml::Table, each: Each) {
    table.iter_mut().for_each(|(_, value)| of_toml(value, each));
}

fn of_toml(value: &mut toml::Value, each: Each) {
    match value {
        toml::Value::String(text) => each(text),
        toml::Value::Array(all) => all.iter_mut().for_each(|one| of_toml(one, each)),
        toml::Value::Table(table) => of_table(table, each),
        _ => {}
    }
}

fn of_json(value: &mut Json, each: Each) {
    match value {
        Json::String(text) => each(text),
        Json::Array(all) => all.iter_mut().for_each(|one| of_json(one, each)),
        Json::Object(table) => table.values_mut().for_each(|one| of_json(one, each)),
        _ => {}
    }
}
