//! From the product to the plan: every page, place and link, every sticker and text.

mod art;
mod binding;
mod builder;
mod characters;
mod chrome;
mod collage;
mod contents;
mod cuts;
mod dated;
mod divider;
mod entries;
mod figures;
mod file_rows;
mod finished;
mod frame;
mod front;
mod guide;
mod guide_figures;
mod guide_text;
mod heading;
mod label_lines;
mod labels;
mod leaves;
mod mirror;
mod notebook;
mod overview;
pub mod pack;
mod placed;
mod places;
mod plate;
mod ruling_words;
mod sheets;
mod tab;
mod within;

pub use collage::with_sheets;
pub use cuts::remarks as cut_texts;
pub use figures::{Content, Figure, PREFIX as FIGURE_PREFIX, Pane, figures};
pub use file_rows::file_rows;
pub use guide::{CONTACT_ROWS, contact_columns, contact_type};
pub use guide_text::GuideFacts;
pub use sheets::{Made, Placed, sheets};

use art::{ArtLoader, Laid};
use base::model::art::ArtPage;
use base::model::pdf_plan::{LabelRun, LabelStyle, PdfPlan};
use base::model::plan::{About, Make, Remark};
use base::model::product::{Cover, CoverDesign};
use base::model::words::Words;
use base::model::{Drawing, Fault, Item, Kind, Page, Path, Plan, Product, Rect, Size, Where};
use draw::ruling::Rulings;
use draw::{Fonts, cover};
use places::Places;
use std::collections::{BTreeMap, BTreeSet};

/// Name of the file that faults speak of.
const MANIFEST: &str = "product.toml";

/// Plans everything that follows from the product alone, and from the finished stickers that stand on its pages. Sheets and
/// guide come later: they need the true sizes of all stickers and the counts of the rest. A sticker that is not in `placed`
/// is not drawn.
///
/// # Errors
/// Text that the product's fonts or the page have no room for.
pub fn plan(product: &Product, fonts: &Fonts, rulings: Rulings, placed: &Placed) -> Result<Plan, Vec<Fault>> {
    let mut items = Vec::new();
    let mut loader = ArtLoader::new(product);
    if let Some(notebook) = &product.notebook {
        let make = match &notebook.finished {
            Some(finished) => Make::Finished(Box::new(finished::plan(product, notebook, finished, fonts)?)),
            None => Make::Pdf(Box::new(notebook::plan(product, notebook, fonts, (rulings, placed), &mut loader)?)),
        };
        items.push(Item { path: format!("contents/{}.pdf", product.slug), kind: Kind::Notebook, make });
    }
    if !product.covers.is_empty() {
        items.push(Item {
            path: format!("contents/{}-covers.pdf", product.slug),
            kind: Kind::Covers,
            make: Make::Pdf(Box::new(covers(product, fonts, &mut loader))),
        });
    }
    for (number, sticker) in product.stickers.numbered().into_iter().zip(&product.stickers.items) {
        items.push(Item {
            path: format!("contents/stickers/{number}-{}.png", sticker.name),
            kind: Kind::Sticker,
            make: Make::Sticker(sticker.clone()),
        });
    }
    let mut faults = loader.faults;
    let mut remarks = loader.remarks;
    let dated = product.notebook.iter().filter_map(|notebook| notebook.dated.as_ref());
    remarks.extend(dated.flat_map(|dated| dated.remarks.iter().cloned()));
    remarks.extend(product.remarks.iter().cloned());
    remarks.extend(words_missing(product));
    remarks.extend(untranslated(product));
    remarks.extend(weights_unsaid(product));
    let drawn = product.stickers.items.iter().zip(&items[items.len() - product.stickers.items.len()..]);
    characters::remarks(product, drawn.map(|(sticker, item)| (sticker, item.path.as_str())), &mut remarks, &mut faults);
    if faults.is_empty() { Ok(Plan { items, remarks, ..Plan::default() }) } else { Err(faults) }
}

/// Variable fonts that are set at the weight that they have by themselves: one that is stated has made a static font of them.
fn weights_unsaid(product: &Product) -> Vec<Remark> {
    let roles = product.style.fonts.values().flatten().chain(&product.art_fonts);
    let mut told = BTreeSet::new();
    let files = roles.filter(|font| !font.built_in && told.insert(&font.from));
    let unsaid = files.filter_map(|font| {
        let has = draw::variable::weights(&font.bytes)?;
        let (least, usual, most) = (has.least, has.usual, has.most);
        let message = format!("{} is set at its own weight, {usual}; it has those from {least} to {most}", font.from);
        Some(Remark { about: About::WeightUnsaid, place: Where::file(MANIFEST), message })
    });
    unsaid.collect()
}

/// What the tool says in English in a product of another language.
fn words_missing(product: &Product) -> Option<Remark> {
    let english = |what: &str| {
        let place = Where::file(MANIFEST);
        let message = format!("the tool has no words in the language {}: {what} in English", product.language);
        Some(Remark { about: About::WordsMissing, place, message })
    };
    if Words::of("en").speaks(&product.language) {
        return None;
    }
    if product.words.speaks(&product.language) {
        return None;
    }
    english("pages, guide, start-here, licence terms, sticker labels and the listing's own sentences are")
}

/// Texts of the designer's own that she has in another language and not in this one.
fn untranslated(product: &Product) -> impl Iterator<Item = Remark> {
    product.untranslated.iter().map(|(text, span)| {
        let line = format!("line {} of {}", span.line, span.file.as_deref().unwrap_or(MANIFEST));
        let message = format!("{text:?} is translated in {line}, but not into {}", product.language);
        Remark { about: About::TextUntranslated, place: Where::file(MANIFEST), message }
    })
}

/// A cover that is art: it fills the page, and its links lead to `places`.
fn cover_art(loader: &mut ArtLoader, cover: &Cover, art: &ArtPage, size: Size, places: &Places) -> Laid {
    let mut data = loader.data();
    data.insert("cover".into(), cover.name.clone().into());
    data.insert("line".into(), cover.line.clone().into());
    data.insert("colour".into(), cover.colour.to_string().into());
    let mut laid = loader.lay(art, Rect::page(size), &data, places);
    let mut ground = Drawing::new();
    ground.fill(Path::rect(Rect::page(size)), cover.colour);
    ground.extend(std::mem::take(&mut laid.drawing));
    if cover.label {
        let product = loader.product();
        let case = cover::Case::of(&product.page, &product.style);
        cover::label_over(&mut ground, cover, &product.style, case);
    }
    Laid { drawing: ground, ..laid }
}

/// Plans the guide, from the counts of everything else.
///
/// # Errors
/// A text that tera or the page refuses.
pub fn guide(product: &Product, fonts: &Fonts, facts: &GuideFacts) -> Result<Option<Item>, Vec<Fault>> {
    if !product.guide.wanted {
        return Ok(None);
    }
    let pdf = guide::plan(product, fonts, facts)?;
    let path = format!("contents/{}-guide.pdf", product.slug);
    Ok(Some(Item { path, kind: Kind::Guide, make: Make::Pdf(Box::new(pdf)) }))
}

/// Plans the delivery card for files that do not fit.
pub fn card(product: &Product, fonts: &Fonts, address: &str, left_out: &[String]) -> Item {
    let names: Vec<String> = left_out.iter().map(|p| p.trim_start_matches("contents/").to_owned()).collect();
    let pdf = mirror::document(guide::card(product, fonts, address, &names), product, fonts);
    let path = format!("contents/{}-download.pdf", product.slug);
    Item { path, kind: Kind::DeliveryCard, make: Make::Pdf(Box::new(pdf)) }
}

/// All covers in one file, the notebook's own first; no links into the notebook, since none of their targets is in this
/// file.
fn covers(product: &Product, fonts: &Fonts, loader: &mut ArtLoader) -> PdfPlan {
    // A finished notebook has its cover in its file.
    let own = product.notebook.iter().filter(|n| n.finished.is_none()).map(|n| &n.cover);
    let all: Vec<_> = own.chain(&product.covers).collect();
    let size = product.page.size;
    let mut page = |c: &&Cover| match &c.design {
        CoverDesign::Art(art) => {
            let laid = cover_art(loader, c, art, size, &Places::none());
            Page { place: None, drawing: laid.drawing, links: laid.links }
        }
        _ => Page {
            drawing: cover::draw(c, &product.style, cover::Case::of(&product.page, &product.style), fonts),
            ..Page::default()
        },
    };
    let pdf = PdfPlan {
        title: format!("{} – {}", product.name, product.words.covers),
        size: product.page.size,
        forms: Vec::new(),
        pages: all.iter().map(&mut page).collect(),
        outline: all
            .iter()
            .enumerate()
            .map(|(i, c)| base::model::pdf_plan::Entry {
                title: c.name.clone(),
                page: i,
                children: Vec::new(),
                open: false,
            })
            .collect(),
        labels: vec![LabelRun { page: 0, prefix: String::new(), style: LabelStyle::Decimal }],
        places: BTreeMap::new(),
        right_to_left: false,
    };
    mirror::document(pdf, product, fonts)
}
