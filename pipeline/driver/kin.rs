//! What products that belong together look like from outside. Of a sister no more is made than is shown: the first page of
//! its notebook or covers, or else a sheet of its stickers.

use super::bundle::{self, Bundle};
use super::context;
use super::files;
use super::session::{Session, Task};
use super::values::MadeBytes;
use super::variants::{self, OpenFonts, VariantBuild};
use base::model::facts::Inspected;
use base::model::pdf_plan::PdfPlan;
use base::model::plan::Make;
use base::model::shot::ShotLayout;
use base::model::{Artifact, Blob, Item, Kind, Product, Stop};
use draw::shots;
use show::pictures::{FIRST, Kin};

/// A product and those that go with it, or the members of a set, if any picture of it shows them.
pub fn of(session: &Session, bundle: &Bundle) -> Result<Vec<Kin>, Stop> {
    let product = &bundle.lead().product;
    let shows = product.shots.iter().any(|shot| match &shot.layout {
        ShotLayout::BuiltIn(name) => shots::find(name).is_some_and(|l| l.needs == shots::Needs::Kin),
        ShotLayout::Own { .. } => true,
    });
    if !shows || product.sisters.is_empty() && product.members.is_empty() {
        return Ok(Vec::new());
    }
    let files = || bundle.files.iter().zip(&bundle.inspected);
    if product.is_set() {
        let member = |member: &base::model::kin::Member| {
            let own = files()
                .filter(|(file, _)| member.own(&file.path).is_some_and(|path| member.lead().variants.has(&path)));
            first(member.lead(), own, session)
        };
        return Ok(product.members.iter().filter_map(member).collect());
    }
    let mut out: Vec<Kin> =
        first(product, files().filter(|(file, _)| product.variants.has(&file.path)), session).into_iter().collect();
    for sister in &product.sisters {
        let Some(file) = outside(session, &sister.product)? else { continue };
        let read = files::all_inspected(session, std::slice::from_ref(&file))?;
        out.extend(read.first().and_then(|read| Kin::of(&sister.product, &file, read, session)));
    }
    Ok(out)
}

/// A product by the first of its files that shows it.
fn first<'f>(
    product: &Product,
    files: impl Iterator<Item = (&'f Artifact, &'f Inspected)>,
    session: &Session,
) -> Option<Kin> {
    let files: Vec<_> = files.filter(|(file, _)| file.path.starts_with("contents/")).collect();
    let shown = FIRST.iter().find_map(|kind| files.iter().find(|(file, _)| file.kind == *kind));
    shown.and_then(|(file, read)| Kin::of(product, file, read, session))
}

/// The file that shows a product from outside; nothing where it has none.
fn outside(session: &Session, product: &Product) -> Result<Option<Artifact>, Stop> {
    let made = session.ask(Task::new("outside of a product", product), || {
        let (variant, _) = VariantBuild::plan(session, product.clone(), &mut OpenFonts::default())?;
        let book = FIRST[..2].iter().find_map(|kind| variant.plan.items.iter().find(|item| item.kind == *kind));
        let item = match book {
            Some(item) => Some(first_page(item)),
            None => sheet(session, &variant)?,
        };
        let Some(item) = item else { return Ok(MadeBytes { bytes: Blob::from(Vec::new()), said: None }) };
        let context = variant.context();
        let file = context::file(&item, &context.make(&item)?);
        Ok(MadeBytes { bytes: file.bytes, said: Some((file.path, file.kind)) })
    })?;
    let named = made.said.clone();
    Ok(named.map(|(path, kind)| Artifact { path, kind, bytes: made.bytes.clone() }))
}

/// The first sheet of a product's stickers, or its first sticker where it has no sheets.
fn sheet(session: &Session, variant: &VariantBuild) -> Result<Option<Item>, Stop> {
    let wanted: Vec<Item> = variant.plan.items.iter().filter(|item| item.kind == Kind::Sticker).cloned().collect();
    let single = wanted.first().cloned();
    let (parts, _) = variants::render(session, &[variant.context()], vec![wanted])?;
    let made = bundle::stickers(session, parts.first().map_or(&[][..], Vec::as_slice))?;
    let sheets = plan::sheets(&variant.product, &variant.fonts, &made);
    Ok(sheets.first().map(first_page).or(single))
}

/// The same file with nothing but its first page, which leads nowhere; a file that is no drawn PDF as it is.
fn first_page(item: &Item) -> Item {
    let Make::Pdf(pdf) = &item.make else { return item.clone() };
    let mut pages = pdf.pages.clone();
    pages.truncate(1);
    for page in &mut pages {
        page.links.clear();
        page.place = None;
    }
    let (outline, labels, places) = Default::default();
    let pdf = PdfPlan { pages, outline, labels, places, ..(**pdf).clone() };
    Item { make: Make::Pdf(Box::new(pdf)), ..item.clone() }
}
