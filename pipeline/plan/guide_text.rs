//! The guide that a product gets without a text of its own: Markdown in its language, of what it has.

use crate::figures::{Figure, PREFIX};
use base::model::Product;
use base::model::drawing::Picture;
use base::model::look::Index;
use base::model::product::{FrontArt, Notebook};
use base::model::structure::Part;
use serde::Serialize;
use std::sync::Arc;
use wording::guide::Guide;
use wording::{Tongue, fill};

/// What is in the bundle, for the guide: counted from what was made.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct GuideFacts {
    /// Pages of the notebook.
    pub pages: usize,
    /// Covers in the covers file.
    pub covers: usize,
    /// Stickers.
    pub stickers: usize,
    /// Pages of sticker sheets.
    pub sheets: usize,
    /// Names of the loose files, and what each is.
    pub files: Vec<(String, String)>,
    /// Pictures of all stickers with their names.
    #[serde(skip)]
    pub contact: Vec<Arc<Picture>>,
    /// Pictures of its pages.
    #[serde(skip)]
    pub figures: Vec<Figure>,
    /// The same of each member of a set.
    #[serde(skip)]
    pub members: Vec<GuideFacts>,
}

impl GuideFacts {
    /// Pictures of pages of the product, and of the members of a set.
    pub fn all_figures(&self) -> Vec<&Figure> {
        self.figures.iter().chain(self.members.iter().flat_map(|member| &member.figures)).collect()
    }
}

/// The guide as Markdown.
pub fn guide_text(product: &Product, facts: &GuideFacts, tongue: &Tongue) -> String {
    let says = &tongue.documents().guide;
    let writer = Writer { product, facts, tongue, says };
    let paged = product.parts().iter().any(|p| p.notebook.is_some());
    let about = if paged { says.about_notebook } else { says.about_stickers };
    let thanks = fill(says.thanks, &[("shop", &product.shop.name)]);
    let mut blocks = vec![
        format!("# {}", fill(says.title, &[("product", &product.name)])),
        format!("{thanks}{}{about}", tongue.documents().start.between),
        heading(says.have),
    ];
    blocks.extend(writer.files());
    let unpack = steps(&[says.unpack_download, says.unpack_open, says.unpack_look]);
    blocks.extend(writer.shown(says.unpack, "files", [unpack]));
    if product.is_set() {
        blocks.extend(writer.members());
    } else {
        blocks.extend(writer.use_it());
    }
    blocks.extend(writer.trouble());
    if !product.sisters.is_empty() {
        let names: Vec<String> = product.sisters.iter().map(|s| s.name.clone()).collect();
        blocks.push(fill(says.goes_with, &[("product", &product.name), ("names", &tongue.row(&names))]));
    }
    // In English the date stands as it always did.
    let released = if tongue.is_english() { product.released.to_string() } else { tongue.date(product.released) };
    let version = product.version.to_string();
    let end = [("product", product.name.as_str()), ("version", &version), ("released", &released)];
    blocks.extend(["---".to_owned(), fill(says.end, &end)]);
    blocks.join("\n\n")
}

/// A text of the designer's own, with a paragraph that names the members of a set, or the products that go with it, where it does not
/// name each itself: the first stands below its title, the other at its end.
pub fn with_kin(mut text: String, product: &Product, tongue: &Tongue) -> String {
    let says = &tongue.documents().guide;
    let members: Vec<String> = product.members.iter().map(|m| m.lead().name.clone()).collect();
    let sisters: Vec<String> = product.sisters.iter().map(|s| s.name.clone()).collect();
    let lacks = |text: &str, names: &[String]| names.iter().any(|name| !text.contains(name.as_str()));
    let said =
        |sentence, names: &[String]| fill(sentence, &[("product", &product.name), ("names", &tongue.row(names))]);
    if lacks(&text, &members) {
        let start = text.trim_start();
        let (title, rest) = match start.split_once('\n') {
            Some((title, rest)) if title.starts_with("# ") => (format!("{title}\n\n"), rest),
            _ => (String::new(), start),
        };
        text = format!("{title}{}\n\n{rest}", said(says.set_named, &members));
    }
    if lacks(&text, &sisters) {
        text = format!("{}\n\n{}\n", text.trim_end(), said(says.goes_with, &sisters));
    }
    text
}

struct Writer<'a> {
    product: &'a Product,
    facts: &'a GuideFacts,
    tongue: &'a Tongue,
    says: &'a Guide,
}

fn heading(text: &str) -> String {
    format!("## {text}")
}

/// A numbered list.
fn steps<S: AsRef<str>>(all: &[S]) -> String {
    let line = |(i, step): (usize, &S)| format!("{}. {}", i + 1, step.as_ref());
    all.iter().enumerate().map(line).collect::<Vec<_>>().join("\n")
}

fn list(all: &[&str]) -> String {
    all.iter().map(|item| format!("- {item}")).collect::<Vec<_>>().join("\n")
}

impl Writer<'_> {
    /// A picture of pages, if there is one of that name. Those of members have the member's name before theirs.
    fn picture(&self, name: &str) -> Option<String> {
        let own = |figure: &&Figure| figure.name.rsplit('/').next() == Some(name);
        self.facts.figures.iter().find(own).map(|figure| format!("![]({PREFIX}{})", figure.name))
    }

    /// A heading, its picture, and what stands beside that.
    fn shown(&self, title: &str, picture: &str, text: impl IntoIterator<Item = String>) -> Vec<String> {
        std::iter::once(heading(title)).chain(self.picture(picture)).chain(text).collect()
    }

    /// How to use what a product has.
    fn use_it(&self) -> Vec<String> {
        let mut blocks = Vec::new();
        if let Some(notebook) = &self.product.notebook {
            blocks.extend(self.notebook(notebook));
            blocks.extend(self.covers(notebook));
        }
        blocks.extend(self.stickers());
        blocks
    }

    /// Every member of a set under a heading of its own.
    fn members(&self) -> Vec<String> {
        let mut blocks = Vec::new();
        for (member, facts) in self.product.members.iter().zip(&self.facts.members) {
            let one = Writer { product: member.lead(), facts, ..*self };
            blocks.push(heading(&member.lead().name));
            blocks.extend(one.variants());
            blocks.extend(one.use_it().into_iter().map(|b| if b.starts_with("##") { format!("#{b}") } else { b }));
        }
        blocks
    }

    fn files(&self) -> Vec<String> {
        let (says, mut blocks) = (self.says, Vec::new());
        if !self.facts.files.is_empty() {
            let mut table = vec![format!("| {} | {} |", says.file, says.what_it_is), "| --- | --- |".to_owned()];
            table.extend(self.facts.files.iter().map(|(name, what)| format!("| `{name}` | {what} |")));
            blocks.push(table.join("\n"));
        }
        if self.product.is_set() {
            let names: Vec<String> = self.product.members.iter().map(|m| m.lead().name.clone()).collect();
            blocks.push(fill(says.set_parts, &[("names", &self.tongue.row(&names))]));
        }
        blocks.extend(self.variants());
        blocks
    }

    /// That one takes one of several variants.
    fn variants(&self) -> Vec<String> {
        let (says, mut blocks) = (self.says, Vec::new());
        let variants = &self.product.variants.all;
        if let [first, _, ..] = variants.as_slice() {
            let folder = self.facts.files.iter().any(|(file, _)| file.starts_with(&format!("{}/", first.name)));
            let sentence = if folder { says.variants_folders } else { says.variants_listed };
            let titles: Vec<&str> = variants.iter().map(|v| v.title.as_str()).collect();
            let titles = titles.join(self.tongue.documents().start.comma);
            blocks.push(fill(sentence, &[("n", &self.tongue.number(variants.len() as u64)), ("list", &titles)]));
        }
        blocks
    }

    /// How to bring the notebook into an app, and to find one's way in it.
    fn notebook(&self, notebook: &Notebook) -> Vec<String> {
        let says = self.says;
        let wait = self.tongue.count(self.facts.pages, says.import_wait);
        let mut blocks = self.shown(says.import, "cover", [steps(&[says.import_share, says.import_one, &wait])]);
        blocks.extend(self.links(notebook));
        if notebook.finished.is_some() {
            return blocks;
        }
        if notebook.dated.is_some() {
            blocks.extend(self.shown(says.day, "day", [steps(&[says.day_month, says.day_number, says.day_on])]));
        }
        if drawn(notebook, Part::Index, |art| art.index.is_some()) && wide(notebook) {
            blocks.extend(self.sections(notebook));
        }
        if notebook.parts.has(Part::Templates) && notebook.offered().next().is_some() {
            blocks.extend(self.templates(notebook));
        }
        blocks
    }

    fn links(&self, notebook: &Notebook) -> Vec<String> {
        let says = self.says;
        let finished = notebook.finished.as_ref();
        let linked = finished.is_some_and(|f| !f.links.is_empty() || f.facts.pages.iter().any(|p| !p.links.is_empty()));
        if finished.is_some() && !linked && notebook.sections.is_empty() {
            return Vec::new();
        }
        let there = notebook.parts.has(Part::Index);
        let index = drawn(notebook, Part::Index, |art| art.index.is_some());
        let boxes = index && in_boxes(self.product, notebook);
        let overview = drawn(notebook, Part::Overview, |art| art.overview.is_some());
        let which = match (there, boxes, overview) {
            _ if finished.is_some() => says.follow_finished,
            (false, _, false) => says.links_tabs,
            (false, _, true) => says.links_tabs_pictures,
            (true, true, false) => says.links_boxes,
            (true, true, true) => says.links_boxes_pictures,
            (true, false, false) => says.links_entries,
            (true, false, true) => says.links_entries_pictures,
        };
        let tap = match (index, overview) {
            _ if finished.is_some() && notebook.sections.is_empty() => says.tap_link,
            _ if finished.is_some() => says.tap_link_or_tab,
            (false, false) => says.tap_tab,
            (true, false) if boxes => says.tap_number,
            (true, false) => says.tap_entry,
            (false, true) => says.tap_picture,
            (true, true) if boxes => says.tap_number_or_picture,
            (true, true) => says.tap_entry_or_picture,
        };
        let between = self.tongue.documents().start.between;
        let tap = format!("{tap}{between}{}", says.turns);
        let which = format!("{which}{between}{}", says.reading_mode);
        self.shown(says.follow, "links", [which, steps(&[says.follow_mode, &tap, says.follow_back])])
    }

    fn sections(&self, notebook: &Notebook) -> Vec<String> {
        let (says, count) = (self.says, notebook.sections.len());
        let unnamed = notebook.sections.iter().filter(|s| s.name.is_empty()).count();
        let some = unnamed > 0 && unnamed < count;
        let waiting = if some { self.tongue.count(unnamed, says.waiting) } else { String::new() };
        let boxes = in_boxes(self.product, notebook);
        let open = if boxes { says.index_boxes } else { says.index_entries };
        let open = self.tongue.count_with(count, open, &[("waiting", &waiting)]);
        let tap = if boxes { says.tap_section } else { says.tap_own_entry };
        let (title, then) = match (unnamed, boxes) {
            (0, _) => (says.find_sections, says.look_for_name),
            (_, true) if some => (says.name_sections, says.write_names_some),
            (_, true) => (says.name_sections, says.write_names),
            (_, false) if some => (says.name_sections, says.write_entries_some),
            (_, false) => (says.name_sections, says.write_entries),
        };
        self.shown(title, "index", [steps(&[open.as_str(), then, tap])])
    }

    fn templates(&self, notebook: &Notebook) -> Vec<String> {
        let says = self.says;
        let title = if wide(notebook) { says.copy_behind_tab } else { says.copy_template };
        let from = if notebook.parts.has(Part::Overview) { says.copy_from_overview } else { says.copy_from_page };
        let paste = match (wide(notebook), notebook.parts.dividers) {
            (true, true) => says.paste_divider,
            (true, false) => says.paste_first,
            (false, _) => says.paste_page,
        };
        let count = self.tongue.count(notebook.offered().count(), says.template_count);
        self.shown(title, "templates", [count, steps(&[from, says.copy_page, paste, says.copy_move])])
    }

    fn covers(&self, notebook: &Notebook) -> Vec<String> {
        let (says, count) = (self.says, self.facts.covers);
        if count == 0 {
            return Vec::new();
        }
        let own = Some(&notebook.cover).filter(|_| notebook.finished.is_none());
        let labels = own.into_iter().chain(&self.product.covers).filter(|c| c.label).count();
        let open = self.tongue.count(count, says.covers_open);
        let mut all = vec![open.as_str(), says.cover_copy, says.cover_old];
        if labels > 0 {
            all.push(if labels < count { says.cover_write_some } else { says.cover_write });
        }
        self.shown(says.covers, "covers", [steps(&all)])
    }

    fn stickers(&self) -> Vec<String> {
        let (says, facts) = (self.says, self.facts);
        if facts.stickers == 0 {
            return Vec::new();
        }
        let dpi = self.tongue.measure(&format!("{:.0}", self.product.stickers.dpi.round()));
        let mut ways = vec![says.sticker_single];
        if facts.sheets > 0 {
            ways.push(says.sticker_sheet);
        }
        ways.push(says.sticker_kept);
        let count = self.tongue.count_with(facts.stickers, says.sticker_count, &[("dpi", &dpi)]);
        let mut blocks = self.shown(says.stickers, "stickers", [count, list(&ways)]);
        if !facts.contact.is_empty() {
            blocks.push(format!("### {}", says.stickers_named));
            blocks.extend(facts.contact.iter().map(|picture| format!("![]({})", picture.name)));
        }
        blocks
    }

    fn trouble(&self) -> Vec<String> {
        let says = self.says;
        let mut all = Vec::new();
        if self.product.parts().iter().any(|p| p.notebook.is_some()) {
            all.extend([says.trouble_link, says.trouble_wrong_page, says.trouble_blurred]);
        }
        if self.facts.stickers > 0 || self.facts.members.iter().any(|m| m.stickers > 0) {
            all.extend([says.trouble_box, says.trouble_soft]);
        }
        all.push(says.trouble_zip);
        let mut blocks = vec![heading(says.trouble), list(&all)];
        if let Some(contact) = &self.product.shop.contact {
            let address = contact.contains('@') || contact.starts_with("https:");
            let contact = if address { format!("<{contact}>") } else { contact.clone() };
            blocks.push(fill(says.stuck, &[("contact", &contact)]));
        }
        blocks
    }
}

/// Whether a part of the notebook is there and drawn by the tool.
fn drawn(notebook: &Notebook, part: Part, art: fn(&FrontArt) -> bool) -> bool {
    notebook.finished.is_none() && notebook.parts.has(part) && !art(&notebook.art)
}

/// Whether an index that the tool draws has nothing but boxes, each with a number. Months stand in boxes whatever the style's manner
/// is; an icon stands in the place of a number.
pub fn in_boxes(product: &Product, notebook: &Notebook) -> bool {
    let numbered = notebook.sections.iter().all(|section| section.icon.is_none());
    notebook.sections.is_empty() || numbered && product.style.manner.index == Index::Boxes
}

/// Whether there is more to go to than dates.
fn wide(notebook: &Notebook) -> bool {
    !notebook.sections.is_empty() || notebook.dated.is_none()
}
