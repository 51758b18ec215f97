//! Guide, welcome page and delivery card: Markdown through tera with the product's facts, set on pages.

use crate::binding;
use crate::figures::{FILES, Figure, PREFIX};
use crate::guide_figures::Forms;
use crate::guide_text::{GuideFacts, guide_text, in_boxes, with_kin};
use crate::labels;
use crate::mirror;
use base::colour;
use base::model::drawing::{Path, Picture, Stroke};
use base::model::fault::SourceSpan;
use base::model::kin::Member;
use base::model::pdf_plan::{Entry, LabelRun, LabelStyle, PdfPlan};
use base::model::product::{Coil, FrontArt, Notebook, Product};
use base::model::structure::{Part, Parts};
use base::model::words::Words;
use base::model::{Drawing, Fault, Link, Mm, Page, Rect, Role, Size, Target};
use draw::Fonts;
use draw::Pen;
use draw::flow;
use draw::flow::{FlowContext, FlowFigure, FlowPage};
use draw::text::{Align, Line, Setting};
use std::collections::BTreeMap;
use std::sync::Arc;
use wording::Tongue;

/// The welcome page that a notebook gets without a text of its own, in the language of its words.
fn welcome_text(words: &Words) -> &'static str {
    match words.table.as_str() {
        "de" => include_str!("welcome.de.md.tera"),
        "es" => include_str!("welcome.es.md.tera"),
        "fr" => include_str!("welcome.fr.md.tera"),
        "it" => include_str!("welcome.it.md.tera"),
        "nl" => include_str!("welcome.nl.md.tera"),
        "sv" => include_str!("welcome.sv.md.tera"),
        "pl" => include_str!("welcome.pl.md.tera"),
        "ja" => include_str!("welcome.ja.md.tera"),
        "ar" => include_str!("welcome.ar.md.tera"),
        "he" => include_str!("welcome.he.md.tera"),
        "pt" => include_str!("welcome.pt.md.tera"),
        "pt-PT" => include_str!("welcome.pt-PT.md.tera"),
        _ => include_str!("welcome.md.tera"),
    }
}

/// Rows of stickers on a contact picture at most: few, so that they begin where others stand and go on overleaf.
pub const CONTACT_ROWS: usize = 2;

/// How many stickers stand side by side on a contact picture in the guide, so that their names can be read.
pub fn contact_columns(product: &Product) -> usize {
    cells_in_row(product.page.size, product.stickers.items.len())
}

/// The smallest type of the names on a contact picture, as a share of its width: what is read in the guide.
pub fn contact_type(product: &Product) -> f64 {
    labels::LEAST_FOOT / (column(product.page.size) * COLUMN)
}

/// How much of its part of the page a column takes at least.
const COLUMN: f64 = 0.8;

/// How wide the part of the page is that a column of the guide stands in.
fn column(page: Size) -> f64 {
    page.w / if page.is_landscape() { 2.0 } else { 1.0 }
}

/// Cells in a row for so many stickers. A few fill one row, where a second one would hold a single sticker or the first be half empty;
/// a cell is no wider than a third of it, or than half of a narrow one.
fn cells_in_row(page: Size, count: usize) -> usize {
    let most = ((column(page) / Mm(26.0).pt()) as usize).clamp(2, 5);
    match count {
        3 => 3,
        few if few < most => few.max(most.min(3)),
        _ => most,
    }
}

/// Plans the guide.
pub fn plan(product: &Product, fonts: &Fonts, facts: &GuideFacts) -> Result<PdfPlan, Vec<Fault>> {
    let tongue = Tongue::of(product);
    let says = &tongue.documents().guide;
    let (name, markdown) = if product.guide.text.is_empty() {
        ("the tool's own guide text", guide_text(product, facts, &tongue))
    } else {
        let name = product.guide.from.as_str();
        let lost = lost_pages(&product.guide.text, &facts.all_figures());
        if !lost.is_empty() {
            return Err(about(name, lost));
        }
        (name, with_kin(fill(name, &product.guide.text, product, facts)?, product, &tongue))
    };
    let title = wording::fill(says.document, &[("product", &product.name)]);
    let size = product.page.size;
    let least = size.w.min(size.h);
    let scale = (least / Mm(180.0).pt()).clamp(0.55, 1.35);
    let margin = (least * 0.085).clamp(Mm(6.0).pt(), Mm(20.0).pt());
    let bar = product.page.toolbar.pt();
    let inner = Rect::page(size).inset_each(margin, margin.max(bar + Mm(4.0).pt()), margin, margin * 1.15);
    let (columns, gap) = if size.is_landscape() { (2, margin * 1.3) } else { (1, 0.0) };
    let text = text_size(scale);
    let mut pictures = product.guide.pictures.clone();
    let contact = facts.contact.iter().chain(facts.members.iter().flat_map(|member| &member.contact));
    pictures.extend(contact.map(|p| (p.name.clone(), p.clone())));
    let laid = |markdown: &str, most_pages: Option<usize>| -> Result<Laid, Vec<Fault>> {
        let mut forms = Forms::default();
        let figures = forms.named(&facts.all_figures(), markdown, size);
        // Lines are no longer than is comfortable; what that leaves of the width lies at both sides alike. Where pages are shown
        // beside steps, both together are as wide as the column.
        let column = (inner.w - gap * (columns - 1) as f64) / columns as f64;
        let widest = match figures.is_empty() || columns > 1 {
            true => flow::measure(fonts, text),
            false => flow::measure(fonts, text) * 0.68 + size.w * 0.36,
        };
        let spare = (column - widest).max(0.0) * columns as f64;
        let inner = inner.inset_each(spare / 2.0, 0.0, spare / 2.0, 0.0);
        let frames = inner.columns(columns, gap);
        let shown = Shown { pictures: &pictures, figures, known: &facts.all_figures(), most_pages };
        let pages = lay(product, fonts, markdown, shown, &frames, scale, true).map_err(|f| about(name, f))?;
        Ok(Laid { pages, forms, inner })
    };
    let all = laid(&markdown, None)?;
    // On upright pages what is in the folder is shown where that takes no page more, the other pictures smaller if need be.
    let own = product.guide.text.is_empty() && !size.is_landscape();
    let without = Some(markdown.replace(&format!("![]({PREFIX}{FILES})\n\n"), ""));
    let less = match without.filter(|less| own && *less != markdown) {
        Some(less) => Some(laid(&less, None)?).filter(|less| less.pages.len() < all.pages.len()),
        None => None,
    };
    let Laid { pages, forms, inner } = match less {
        Some(less) => {
            let most = less.pages.len();
            Some(laid(&markdown, Some(most))?).filter(|all| all.pages.len() <= most).unwrap_or(less)
        }
        None => all,
    };
    let style = &product.style;
    let count = pages.len();
    let footer = Setting::new(Role::Label, (6.6 * scale).max(labels::LEAST_FOOT), Pen::new(style).quiet).tracked(0.03);
    let pages = pages
        .into_iter()
        .enumerate()
        .map(|(i, page)| {
            let mut drawing = Drawing::new();
            drawing.fill(Path::rect(Rect::page(size)), style.paper);
            drawing.extend(page.drawing);
            let foot = Rect::new(inner.x, inner.bottom(), inner.w, size.h - inner.bottom());
            let number = product.words.figures(&format!("{} / {count}", i + 1));
            // A long name ends before the number.
            let named = Rect { w: foot.w - footer.width(fonts, &number) - footer.size, ..foot };
            footer.draw_in(&mut drawing, fonts, &product.name, named, Align::Left);
            footer.draw_in(&mut drawing, fonts, &number, foot, Align::Right);
            Page { place: None, drawing, links: addresses(page.links) }
        })
        .collect();
    let pdf = PdfPlan {
        title: title.clone(),
        size,
        forms: Vec::new(),
        pages,
        outline: vec![Entry { title, page: 0, children: Vec::new(), open: false }],
        labels: vec![LabelRun { page: 0, prefix: String::new(), style: LabelStyle::Decimal }],
        places: BTreeMap::new(),
        right_to_left: false,
    };
    // Pages that it shows are as they are: they change sides, and are not turned over.
    let mut pdf = mirror::document(pdf, product, fonts);
    forms.dress(&mut pdf, product, fonts, text, product.guide.text.is_empty());
    pdf.forms = forms.drawings;
    Ok(pdf)
}

/// A guide that is set: its pages, those that it shows, and where its text stands.
struct Laid {
    pages: Vec<FlowPage>,
    forms: Forms,
    inner: Rect,
}

/// Size of the text on a page of the scale 1, in points.
const TEXT: f64 = 9.4;

/// Size of the text, from the scale of the page.
fn text_size(scale: f64) -> f64 {
    (TEXT * scale).max(labels::LEAST_TYPE)
}

/// The scale at which the text has this size.
pub fn scale_for(size: f64) -> f64 {
    size / TEXT
}

/// Pictures of pages that a text names and that cannot be had, where it names them.
fn lost_pages(text: &str, known: &[&Figure]) -> Vec<Fault> {
    let names: Vec<String> = known.iter().map(|figure| format!("{PREFIX}{}", figure.name)).collect();
    let mut faults = Vec::new();
    for (i, line) in text.lines().enumerate() {
        for (at, _) in line.match_indices(&format!("]({PREFIX}")) {
            let name = line[at + 2..].split([')', ' ']).next().unwrap_or_default();
            // What a template writes is known once it is filled in.
            if name.contains("{{") || names.iter().any(|known| known == name) {
                continue;
            }
            let span = SourceSpan::short(i + 1, line[..at].chars().count() + 3, line, name.chars().count());
            let help = match names.is_empty() {
                true => "the product has no pages of which there are pictures".to_owned(),
                false => format!("at hand are {}", names.join(", ")),
            };
            faults.push(Fault::new(format!("the picture “{name}” is not there")).at(span).help(help));
        }
    }
    faults
}

/// What a text can show.
struct Shown<'a> {
    pictures: &'a BTreeMap<String, Arc<Picture>>,
    figures: BTreeMap<String, FlowFigure>,
    known: &'a [&'a Figure],
    /// On how many pages it is set if that can be had.
    most_pages: Option<usize>,
}

/// The welcome text of a notebook.
pub struct Welcome<'a> {
    /// Where it is from, for messages.
    name: &'a str,
    /// The title that it begins with, which stands at the head of the page as other titles do.
    pub title: Option<String>,
    markdown: String,
}

impl Welcome<'_> {
    /// The text of a notebook, filled in.
    ///
    /// # Errors
    /// What cannot be filled in.
    pub fn of<'a>(product: &Product, notebook: &Notebook) -> Result<Welcome<'a>, Vec<Fault>> {
        let (name, text) = if notebook.welcome.is_empty() {
            ("the tool's own welcome text", welcome_text(&product.words))
        } else {
            ("notebook.welcome", notebook.welcome.as_str())
        };
        let markdown = fill(name, text, product, &GuideFacts::default())?;
        Ok(match parted(&markdown) {
            Some((title, rest)) => Welcome { name, title: Some(title), markdown: rest },
            None => Welcome { name, title: None, markdown },
        })
    }

    /// Sets it on papers below their head: drawing and links of each page.
    ///
    /// # Errors
    /// What cannot be set.
    pub fn set(
        &self,
        product: &Product,
        fonts: &Fonts,
        frames: &[Rect],
        scale: f64,
    ) -> Result<Vec<(Drawing, Vec<Link>)>, Vec<Fault>> {
        let shown = Shown { pictures: &product.guide.pictures, figures: BTreeMap::new(), known: &[], most_pages: None };
        let pages =
            lay(product, fonts, &self.markdown, shown, frames, scale, false).map_err(|f| about(self.name, f))?;
        Ok(pages.into_iter().map(|p| (p.drawing, addresses(p.links))).collect())
    }
}

/// A plain title that a text begins with, and the text without it; its lines keep their numbers.
fn parted(markdown: &str) -> Option<(String, String)> {
    let (at, line) = markdown.lines().enumerate().find(|(_, line)| !line.trim().is_empty())?;
    let title = line.strip_prefix("# ")?.trim().trim_end_matches('#').trim();
    let plain = !title.is_empty() && !title.contains(['*', '_', '`', '[', '<', '!', '\\', '&']);
    let rest = || markdown.lines().enumerate().map(|(i, line)| if i == at { "" } else { line });
    // A title alone is a text like any other.
    let more = rest().any(|line| !line.trim().is_empty());
    (plain && more).then(|| (title.to_owned(), rest().collect::<Vec<_>>().join("\n")))
}

fn about(name: &str, faults: Vec<Fault>) -> Vec<Fault> {
    faults.into_iter().map(|f| if f.file.is_none() { f.in_file(name) } else { f }).collect()
}

fn addresses(links: Vec<(Rect, String)>) -> Vec<Link> {
    // A line of text is too low for a finger: its tap area reaches a little above and below.
    let least = Mm(10.0).pt();
    links
        .into_iter()
        .map(|(r, address)| {
            let more = ((least - r.h) / 2.0).max(0.0);
            let rect = Rect::new(r.x, r.y - more, r.w, r.h + 2.0 * more);
            Link { rect, says: address.as_str().into(), target: Target::Address(address.into()) }
        })
        .collect()
}

fn lay(
    product: &Product,
    fonts: &Fonts,
    markdown: &str,
    shown: Shown,
    frames: &[Rect],
    scale: f64,
    even: bool,
) -> Result<Vec<FlowPage>, Vec<Fault>> {
    let (frames, right_to_left) = (frames.to_vec(), product.page.right_to_left);
    let context = FlowContext {
        frames,
        fonts,
        style: &product.style,
        size: text_size(scale),
        even,
        digits: &product.words.digits,
        right_to_left,
        figures: shown.figures,
        known_figures: shown.known.iter().map(|figure| format!("{PREFIX}{}", figure.name)).collect(),
        picture_share: 1.0,
        most_pages: shown.most_pages,
    };
    flow::layout(markdown, shown.pictures, &context)
}

/// Runs a text through tera with the product's facts.
fn fill(name: &str, text: &str, product: &Product, facts: &GuideFacts) -> Result<String, Vec<Fault>> {
    let notebook = product.notebook.as_ref();
    let mut context = tera::Context::new();
    context.insert(
        "product",
        &serde_json::json!({ "name": product.name, "version": product.version, "released": product.released.to_string() }),
    );
    context.insert("shop", &serde_json::json!({ "name": product.shop.name, "contact": product.shop.contact }));
    context.insert(
        "notebook",
        &notebook.map(|n| {
            serde_json::json!({
                "title": n.title,
                "pages": facts.pages,
                "finished": n.finished.is_some(),
                "links": n.finished.as_ref().is_some_and(|f| !f.links.is_empty() || f.facts.pages.iter().any(|p| !p.links.is_empty())),
                "named": n.sections.iter().filter(|s| !s.name.is_empty()).count(),
                "dated": n.dated.is_some(),
                "unnamed": n.sections.iter().filter(|s| s.name.is_empty()).count(),
                "sections": n.sections.iter().map(|s| s.name.clone()).collect::<Vec<_>>(),
                "templates": if n.parts.has(Part::Templates) {
                    n.offered().map(|(_, t)| t.name.clone()).collect::<Vec<_>>()
                } else {
                    Vec::new()
                },
            })
        }),
    );
    let labels = notebook.filter(|n| n.finished.is_none()).map(|n| &n.cover).into_iter().chain(&product.covers);
    let labels = labels.filter(|c| c.label).count();
    context.insert("covers", &serde_json::json!({ "count": facts.covers, "labels": labels }));
    context.insert("coil", &(product.page.coil != Coil::None));
    let named = binding::named(product);
    context.insert("binding", &serde_json::json!({ "within": named.within, "leads": named.leads }));
    let there = |part: Part| notebook.is_some_and(|n| n.finished.is_none() && n.parts.has(part));
    let drawn = |art: fn(&FrontArt) -> bool| notebook.is_some_and(|n| n.finished.is_none() && !art(&n.art));
    let shown = |part: Part, art: fn(&FrontArt) -> bool| there(part) && drawn(art);
    let index = shown(Part::Index, |art| art.index.is_some());
    let boxes = index && notebook.is_some_and(|n| in_boxes(product, n));
    context.insert("index", &serde_json::json!({ "there": there(Part::Index), "drawn": index, "boxes": boxes }));
    let overview = shown(Part::Overview, |art| art.overview.is_some());
    context.insert("overview", &serde_json::json!({ "there": there(Part::Overview), "drawn": overview }));
    // Where coil and title lead, and what stands at the foot.
    let parts = notebook.map_or(Parts::default(), |n| n.parts.clone());
    let home = match () {
        () if parts.has(Part::Index) => "index",
        () if parts.has(Part::Overview) => "overview of the templates",
        () if parts.has(Part::Cover) => "cover",
        () => "first section",
    };
    let words = &product.words;
    let to_home = match () {
        () if parts.has(Part::Index) => &words.to_index,
        () if parts.has(Part::Overview) => &words.to_overview,
        () if parts.has(Part::Cover) => &words.to_cover,
        () => &words.to_first_section,
    };
    context.insert(
        "parts",
        &serde_json::json!({
            "cover": parts.has(Part::Cover),
            "dividers": parts.dividers,
            "foot": parts.foot,
            "marks": parts.marks,
            "home": home,
            "to_home": to_home,
            "to_title": if parts.has(Part::Cover) { &words.to_cover } else { to_home },
        }),
    );
    context.insert(
        "stickers",
        &serde_json::json!({
            "count": facts.stickers,
            "dpi": product.stickers.dpi,
            "sheets": facts.sheets,
            "groups": product.stickers.groups,
            "pictures": facts.contact.iter().map(|p| p.name.clone()).collect::<Vec<_>>(),
        }),
    );
    let files: Vec<_> =
        facts.files.iter().map(|(name, what)| serde_json::json!({ "name": name, "what": what })).collect();
    context.insert("files", &files);
    let variants = &product.variants.all;
    let folder = |name: &str| facts.files.iter().any(|(file, _)| file.starts_with(&format!("{name}/")));
    let variants: Vec<_> = variants
        .iter()
        .map(|v| serde_json::json!({ "title": v.title, "folder": folder(&v.name).then(|| format!("{}/", v.name)) }))
        .collect();
    context.insert("variants", &variants);
    let member = |m: &Member| serde_json::json!({ "name": m.lead().name, "folder": format!("{}/", m.lead().slug) });
    context.insert("members", &product.members.iter().map(member).collect::<Vec<_>>());
    context.insert("sisters", &product.sisters.iter().map(|s| s.name.clone()).collect::<Vec<_>>());
    // Markdown, not HTML: nothing is escaped.
    tera::Tera::one_off(text, &context, false).map_err(|e| {
        let why = std::iter::successors(Some(&e as &dyn std::error::Error), |e| e.source())
            .map(ToString::to_string)
            .collect::<Vec<_>>()
            .join(": ");
        vec![
            Fault::new(format!("the text cannot be filled in: {why}")).in_file(name).help(
                "at hand are product, shop, notebook, coil, binding, index, overview, covers, stickers, files, variants, members and sisters",
            ),
        ]
    })
}

/// The card that takes the place of files which do not fit: one page with the address to download them from.
pub fn card(product: &Product, fonts: &Fonts, address: &str, files: &[String]) -> PdfPlan {
    let (size, style) = (product.page.size, &product.style);
    let least = size.w.min(size.h);
    let scale = least / Mm(180.0).pt();
    let mut d = Drawing::new();
    d.fill(Path::rect(Rect::page(size)), style.desk);
    let card = Rect::page(size).inset(least * 0.1);
    let edge = Stroke::new(0.6, colour::mix(style.desk, style.ink, 0.15));
    d.fill_stroke(Path::rounded(card, style.corner.pt() * 1.5), style.paper, edge);
    let title =
        Setting::new(Role::Heading, 26.0 * scale, style.ink).fitted(fonts, [product.name.as_str()], card.w * 0.84, 8.0);
    let mut y = card.y + card.h * 0.26;
    title.draw_kept(
        &mut d,
        fonts,
        &product.name,
        Line { room: card.w * 0.84, x: card.centre().x, y, align: Align::Centre },
    );
    let text = Setting::new(Role::Label, (10.0 * scale).max(labels::LEAST_TYPE), style.ink);
    y += 26.0 * scale;
    let tongue = Tongue::of(product);
    let says = &tongue.documents().guide;
    let words = wording::fill(says.card, &[("files", &files.join(tongue.documents().start.comma))]);
    for line in text.wrap(fonts, &words, card.w * 0.76).iter().take(8) {
        text.draw(&mut d, fonts, line, card.centre().x, y, Align::Centre);
        y += text.size * 1.5;
    }
    y += 10.0 * scale;
    let label =
        Setting::new(Role::LabelBold, (12.0 * scale).max(7.0), colour::label_on(style.accent, style.ink, style.paper));
    let button = Rect::new(card.centre().x - card.w * 0.2, y, card.w * 0.4, (34.0 * scale).max(Mm(9.0).pt()));
    d.fill(Path::rounded(button, button.h * 0.3), style.accent);
    label.fitted(fonts, [says.card_button], button.w * 0.9, 5.0).draw_in(
        &mut d,
        fonts,
        says.card_button,
        button,
        Align::Centre,
    );
    // An address is copied by hand where a tap does not work: in two lines before it is too small to read.
    let small = Setting::new(Role::Label, (8.0 * scale).max(labels::LEAST_FOOT), Pen::new(style).quiet);
    let room = card.w * 0.84;
    let lines = small.wrap_to(fonts, address, room, 2);
    let small = small.fitted(fonts, lines.iter().map(String::as_str), room, 3.5);
    for (line, y) in lines.iter().zip([22.0 * scale, 22.0 * scale + small.size * 1.4]) {
        small.draw(&mut d, fonts, line, card.centre().x, button.bottom() + y, Align::Centre);
    }
    let reads = wording::fill(says.card_link, &[("address", address)]);
    let link = Link { rect: button, target: Target::Address(address.into()), says: reads.into() };
    PdfPlan {
        title: wording::fill(says.card_document, &[("product", &product.name)]),
        size,
        forms: Vec::new(),
        pages: vec![Page { place: None, drawing: d, links: vec![link] }],
        outline: Vec::new(),
        labels: Vec::new(),
        places: BTreeMap::new(),
        right_to_left: false,
    }
}

#[cfg(test)]
mod tests;
