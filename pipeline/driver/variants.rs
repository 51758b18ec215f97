//! The variants of a product while they are made: tasks that are the same in two of them are made once, and what is the
//! same in all of them lies in the bundle once.

use super::context::{self, RenderContext};
use super::files;
use super::placed;
use super::session::{Session, Task, all};
use base::model::drawing::FontFiles;
use base::model::facts::Inspected;
use base::model::plan::Remark;
use base::model::product::Sticker;
use base::model::{Artifact, Finding, Item, Plan, Product, Stop, Where};
use draw::Fonts;
use judge::validate;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// A variant, or the whole of a product that has none.
pub struct VariantBuild {
    /// What is built.
    pub product: Product,
    /// Its fonts.
    pub fonts: Arc<Fonts>,
    /// What is planned of it; what another variant has already made for all is planned there.
    pub plan: Plan,
    /// How many items are planned once more when they are rendered: the drawings of many variants at once would fill the
    /// memory.
    put_off: Option<usize>,
}

/// A file: how it was planned, its bytes, and what was read from them.
pub struct Part {
    /// How it was planned.
    pub item: Item,
    /// The file.
    pub file: Artifact,
    /// What was read from it.
    pub read: Inspected,
    /// Texts that were cut in it.
    pub cuts: Vec<Remark>,
    /// What was found in its drawings, which are not kept.
    pub looked: Vec<Finding>,
}

impl Part {
    /// A file that was made of a planned one. Its drawings are looked at and let go.
    pub fn of(context: &RenderContext, mut item: Item, file: Artifact, read: Inspected) -> Part {
        let cuts = plan::cut_texts(&item, context.product, context.fonts);
        let looked = validate::drawn(context.product, &item, Some(context.fonts));
        item.forget_drawings();
        Part { item, file, read, cuts, looked }
    }

    /// Gives it another place in the bundle. What was said of the manifest stays with that.
    fn move_to(&mut self, path: &str) {
        let places = self.cuts.iter_mut().map(|remark| &mut remark.place);
        for place in places.chain(self.looked.iter_mut().map(|finding| &mut finding.place)) {
            if place.file == self.item.path {
                place.file = path.to_owned();
            }
        }
        self.file.path = path.to_owned();
        self.read.path = path.to_owned();
        self.item.path = path.to_owned();
    }
}

/// The fonts of variants that were opened so far: those with the same files share what has been shaped with them.
#[derive(Default)]
pub struct OpenFonts(Vec<(FontFiles, Arc<Fonts>)>);

impl OpenFonts {
    fn of(&mut self, product: &Product) -> Result<Arc<Fonts>, Stop> {
        let files = &product.style.fonts;
        if let Some((_, fonts)) = self.0.iter().find(|(known, _)| known == files) {
            return Ok(fonts.clone());
        }
        let fonts = Arc::new(Fonts::open(files)?);
        self.0.push((files.clone(), fonts.clone()));
        Ok(fonts)
    }
}

/// The files of each variant, and what is worth saying of them.
pub type Made = (Vec<Vec<Part>>, Vec<String>);

impl VariantBuild {
    /// Opens fonts, cuts sheets and plans what follows from the product alone. Gives what is worth saying as well.
    pub fn plan(
        session: &Session,
        mut product: Product,
        fonts: &mut OpenFonts,
    ) -> Result<(VariantBuild, Vec<String>), Stop> {
        let fonts = fonts.of(&product)?;
        let notes = cut_sheets(session, &mut product, &fonts)?;
        let (placed, mut faults) = placed::made(session, &RenderContext::new(&product, &fonts))?;
        let plan = plan::plan(&product, &fonts, rulings::ALL, &placed).map_err(|more| faults.extend(more));
        let Some(plan) = plan.ok().filter(|_| faults.is_empty()) else { return Err(Stop::Faults(faults)) };
        Ok((VariantBuild { product, fonts, plan, put_off: None }, notes))
    }

    /// Lets go of the items, which are planned once more when they are rendered.
    pub fn put_off(&mut self) {
        self.put_off = Some(std::mem::take(&mut self.plan.items).len());
    }

    /// How many items there are to render.
    pub fn items(&self) -> usize {
        self.put_off.unwrap_or(self.plan.items.len())
    }

    /// The items to render, which it does not keep.
    pub fn take_items(&mut self, session: &Session) -> Result<Vec<Item>, Stop> {
        if self.put_off.take().is_none() {
            return Ok(std::mem::take(&mut self.plan.items));
        }
        let (placed, _) = placed::made(session, &self.context())?;
        // It was planned before without a fault.
        Ok(plan::plan(&self.product, &self.fonts, rulings::ALL, &placed).map_err(Stop::Faults)?.items)
    }

    /// Puts its planned files where this has a place for them and gives up the others, with all that was said of each.
    pub fn move_files(&mut self, place: impl Fn(&Item) -> Option<String>) {
        let mut moved: BTreeMap<String, Option<String>> = BTreeMap::new();
        self.plan.items.retain_mut(|item| {
            let (to, kept) = (place(item), item.path.clone());
            if let Some(to) = &to {
                item.path.clone_from(to);
            }
            let stays = to.is_some();
            moved.insert(kept, to);
            stays
        });
        let follow = |at: &mut Where| match moved.get(&at.file) {
            Some(Some(to)) => {
                at.file.clone_from(to);
                true
            }
            Some(None) => false,
            None => true,
        };
        self.plan.remarks.retain_mut(|remark| follow(&mut remark.place));
        self.plan.looked.retain_mut(|finding| follow(&mut finding.place));
    }

    /// Takes files into its plan, and gives them.
    pub fn keep(&mut self, parts: Vec<Part>) -> (Vec<Artifact>, Vec<Inspected>) {
        let keep = |Part { item, file, read, cuts, looked }| {
            self.plan.items.push(item);
            self.plan.remarks.extend(cuts);
            self.plan.looked.extend(looked);
            (file, read)
        };
        parts.into_iter().map(keep).unzip()
    }

    /// What its files are rendered with.
    pub fn context(&self) -> RenderContext<'_> {
        RenderContext::new(&self.product, &self.fonts)
    }
}

/// Cuts every sheet of drawings, before anything is planned, since the plan counts and names the pieces; they take their
/// places in front of their group's other stickers. Gives what is worth saying.
fn cut_sheets(session: &Session, product: &mut Product, fonts: &Fonts) -> Result<Vec<String>, Stop> {
    let whole: &Product = product;
    let context = RenderContext::new(whole, fonts);
    // One after the other: a sheet lies in memory with all its pixels, and its pieces are lifted side by side.
    let cut: Vec<_> = whole.stickers.cuts.iter().map(|sheet| context.pieces(session, sheet)).collect();
    let (mut pieces, mut notes) = (Vec::new(), Vec::new());
    for (stickers, said) in all(cut)? {
        pieces.extend(stickers);
        notes.extend(said);
    }
    let mut taken: BTreeSet<String> = product.stickers.items.iter().map(|s| s.name.clone()).collect();
    for sticker in &mut pieces {
        sticker.name = free(manifest::slug(&sticker.name), &mut taken);
    }
    let place = |s: &Sticker| product.stickers.groups.iter().position(|g| *g == s.group).map_or(0, |i| i + 1);
    pieces.append(&mut product.stickers.items);
    pieces.sort_by_key(place);
    product.stickers.items = pieces;
    Ok(notes)
}

/// The name, with a number if it is taken.
fn free(name: String, taken: &mut BTreeSet<String>) -> String {
    let name = if name.is_empty() { "sticker".to_owned() } else { name };
    let all = std::iter::once(name.clone()).chain((2..).map(|n| format!("{name}-{n}")));
    // The numbers never end, so one of them is free.
    let found = all.into_iter().find(|n| !taken.contains(n)).unwrap_or(name);
    taken.insert(found.clone());
    found
}

/// Makes and reads back the files of all variants, given in lists of their own.
pub fn render(session: &Session, contexts: &[RenderContext], wanted: Vec<Vec<Item>>) -> Result<Made, Stop> {
    let each: Vec<(&RenderContext, &Item)> = contexts
        .iter()
        .zip(&wanted)
        .flat_map(|(context, items)| items.iter().map(move |item| (context, item)))
        .collect();
    let made =
        session.ask_each(&each, |(context, item)| -> Task { context.task(item) }, |(context, item)| context.make(item));
    let made = all(made)?;
    let files: Vec<Artifact> = each.iter().zip(&made).map(|((_, item), made)| context::file(item, made)).collect();
    let read = files::all_inspected(session, &files)?;
    // What two variants share is said once.
    let mut told: Vec<*const _> = Vec::new();
    let mut notes = Vec::new();
    for made in made.iter().filter(|made| !made.said.is_empty()) {
        if !told.contains(&Arc::as_ptr(made)) {
            told.push(Arc::as_ptr(made));
            notes.extend(made.said.iter().cloned());
        }
    }
    let mut done = files.into_iter().zip(read);
    let parts = wanted.into_iter().zip(contexts).map(|(items, context)| {
        let items: Vec<Item> = items;
        items.into_iter().zip(done.by_ref()).map(|(item, (file, read))| Part::of(context, item, file, read)).collect()
    });
    Ok((parts.collect(), notes))
}

/// Finds the files that are the same in all variants, which stay with the first and where they are. Every other file goes
/// into the folder of its variant.
pub fn settle(variants: &[VariantBuild], parts: &mut [Vec<Part>]) {
    let Some((first, others)) = parts.split_first() else { return };
    let everywhere = |part: &&Part| {
        let same = |p: &Part| p.item.path == part.item.path && p.read.sha256 == part.read.sha256;
        others.iter().all(|list| list.iter().any(same))
    };
    let shared: BTreeSet<String> = first.iter().filter(everywhere).map(|p| p.item.path.clone()).collect();
    for (i, (variant, list)) in variants.iter().zip(parts).enumerate() {
        list.retain(|p| i == 0 || !shared.contains(&p.item.path));
        for part in list.iter_mut().filter(|p| !shared.contains(&p.item.path)) {
            let path = variant.product.variants.place(&part.item.path);
            part.move_to(&path);
        }
    }
}
