//! The manifest, `product.toml`: read, checked as a whole and resolved into a `Product`.
//!
//! Every fault of the text is found in one run: serde reads it again and again without what it objected to, then
//! the resolvers look at what serde cannot know (files, ranges, names that must agree).

pub mod add;
mod art;
mod assets;
mod covers;
mod dated;
mod finished;
mod identity;
mod kin;
mod launch;
mod layers;
mod letters;
mod limits;
mod looks;
mod notebook;
mod origin;
mod original;
mod pictures;
mod placed;
mod raw;
mod shop;
mod shots;
mod source;
pub mod starter;
mod stickers;
mod structure;
mod style;
mod syntax;
mod texts;
mod translations;
mod values;
mod variants;
mod versions;

pub use kin::is_set;
pub use looks::told as looks;
pub use origin::{Origin, Said, origins};
pub use pictures::decode_in_file as decode_picture;
pub use shop::keys as shop_keys;

use base::files::{Files, SHOP, slashed};
use base::keys::{Described, Shape, Table};
use base::model::plan::Remark;
use base::model::product::{Cover, Notebook};
use base::model::sticker::StickerLanguage;
use base::model::{Fault, Product, SourceSpan, Variants};
use draw::ruling::Rulings;
use layers::Layers;
use original::Original;
use source::Source;
use std::sync::Arc;
use toml::Spanned;
use toml::de::{DeTable, DeValue};
use translations::Translations;
use variants::Matrix;

/// Name of the manifest in a product's folder.
pub const FILE: &str = "product.toml";

/// Whether a path leads to a file of keys and values that is read as such, so that its comments and blank lines count for
/// nothing: a manifest, or what the products of a shop share.
pub fn is_manifest(path: &str) -> bool {
    [FILE, SHOP].contains(&path.rsplit('/').next().unwrap_or_default())
}

/// Every key of a manifest, with what is said of it.
pub fn keys() -> Table {
    match raw::Manifest::shape() {
        Shape::Table(table) => table,
        _ => unreachable!("a manifest is a table"),
    }
}

/// Reads the manifest of a product's folder, with what its shop shares: the product, or each variant of it, the leading one
/// first.
///
/// # Errors
/// Every fault of the manifest, of the shop's file and of the files that they name, each with its file, line and column.
pub fn read(world: &dyn Files, rulings: Rulings) -> Result<Vec<Product>, Vec<Fault>> {
    read_to(world, rulings, Reach::Whole)
}

/// How far a manifest is followed to other products.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Reach {
    /// Not at all.
    Alone,
    /// To those that go with it.
    Sisters,
    /// To the members of a set as well.
    Whole,
}

fn read_to(world: &dyn Files, rulings: Rulings, reach: Reach) -> Result<Vec<Product>, Vec<Fault>> {
    let texts = Texts::read(world)?;
    let mut source = texts.source();
    let behind = texts.original().map(|original| original.behind(world));
    let files = behind.as_ref().map_or(world, |behind| behind as &dyn Files);
    let products = resolve_all(&texts, &mut source, files, rulings, reach).unwrap_or_default();
    if products.is_empty() || !source.is_sound() { Err(source.into_faults()) } else { Ok(products) }
}

/// The texts that a product is read from: its manifest, its shop's file with the path of that, and the original's manifest.
struct Texts {
    manifest: String,
    shop: Option<(String, String)>,
    original: Result<Option<Original>, Fault>,
}

impl Texts {
    fn read(world: &dyn Files) -> Result<Texts, Vec<Fault>> {
        let short = |file: &str, text: String| {
            if text.len() <= limits::MOST_BYTES {
                return Ok(text);
            }
            let message = format!("it has {} bytes; {} are the most for a manifest", text.len(), limits::MOST_BYTES);
            Err(vec![Fault::new(message).in_file(file).help("give pictures and long texts as files of their own")])
        };
        let manifest = world.read_text(FILE).map_err(|fault| {
            let shown = slashed(world.root());
            vec![fault.in_file(shown).help("a product's folder has a product.toml; `sheafwright new DIR` makes one")]
        })?;
        let of_shop = |path: String| -> Result<_, Vec<Fault>> {
            let help = "what the products of a shop share stands there; mend the file, or give it another name";
            let text = world.read_text(&path).map_err(|fault| vec![fault.in_file(&path).help(help)])?;
            Ok((path.clone(), short(&path, text)?))
        };
        let manifest = short(FILE, manifest)?;
        let shop = world.shop().map(of_shop).transpose()?;
        let original = Original::of(world, &manifest);
        if let Ok(Some(original)) = &original {
            short(&original.path, original.text.clone())?;
        }
        Ok(Texts { manifest, shop, original })
    }

    fn source(&self) -> Source<'_> {
        let mut source = Source::new(FILE, &self.manifest);
        if let Some((path, text)) = &self.shop {
            source = source.with_shop(path, text);
        }
        match self.original() {
            Some(original) => source.with_original(&original.path, &original.text),
            None => source,
        }
    }

    fn original(&self) -> Option<&Original> {
        self.original.as_ref().ok().and_then(Option::as_ref)
    }
}

/// The tables of all texts, and the variants; `None` where one of the texts cannot be read at all.
fn layered<'t>(texts: &Texts, source: &mut Source<'t>) -> Option<(Layers<'t>, Matrix<'t>)> {
    let (tables, shop, original) = (source.tables(), shop::read(source), source.original_tables());
    let (mut tables, shop, original) = (tables?, shop?, original?.into_inner());
    if let Err(fault) = &texts.original {
        let at = tables.get_ref().get(original::KEY).map_or(0..0, Spanned::span);
        source.blame(at, fault.clone());
        return None;
    }
    let sound = [tables.get_ref(), &shop, &original].map(|tables| limits::keeps(source, tables));
    if sound.contains(&false) {
        return None;
    }
    if texts.original().is_some() {
        tables = original::lay_over(source, original, &tables);
    }
    let matrix = variants::read(source, &mut tables);
    Some((Layers::new(source, tables, shop, &matrix), matrix))
}

/// `None` where something is so wrong that there is no product at all.
fn resolve_all(
    texts: &Texts,
    source: &mut Source,
    world: &dyn Files,
    rulings: Rulings,
    reach: Reach,
) -> Option<Vec<Product>> {
    let (layers, matrix) = layered(texts, source)?;
    let mut translations = Translations::default();
    let cells = (0..matrix.all.len().max(1)).map(|mine| {
        let tables = layers.merged(source, &matrix, mine);
        let variants = Variants { all: matrix.all.clone(), mine };
        let varied = variants.all.len() > 1;
        let mut product = Product { variants, ..resolve(source, world, rulings, &tables, varied)? };
        translations.apply(source, &tables, &mut product);
        Some(product)
    });
    let mut products: Vec<Product> = cells.collect::<Option<_>>()?;
    translations.told(source);
    // A file that only one variant uses went into the product all the same.
    let read: Vec<String> =
        world.inputs().into_keys().filter(|path| path != FILE && world.shop().as_ref() != Some(path)).collect();
    for product in &mut products {
        product.assets.read.clone_from(&read);
    }
    shots::beside_each_other(source, &layers.product, &mut products);
    // Last, so that what is read of other products is not taken for what went into this one.
    if reach != Reach::Alone {
        kin::sisters(source, (world, rulings), &layers.product, &mut products);
    }
    if let (Reach::Whole, Some(lead)) = (reach, products.first_mut()) {
        kin::set(source, (world, rulings), &layers.product, lead);
    }
    Some(products)
}

/// Every text of the manifest with its place.
fn written(source: &Source, tables: &Spanned<DeTable>) -> Vec<(String, SourceSpan)> {
    fn walk(source: &Source, value: &DeValue, span: std::ops::Range<usize>, out: &mut Vec<(String, SourceSpan)>) {
        match value {
            // Paths and names of things are seldom set in type; a text in ASCII is never short of a glyph.
            DeValue::String(text) if !text.is_ascii() => out.push((text.to_string(), source.span(span))),
            DeValue::Array(list) => list.iter().for_each(|v| walk(source, v.get_ref(), v.span(), out)),
            DeValue::Table(table) => table.values().for_each(|v| walk(source, v.get_ref(), v.span(), out)),
            _ => {}
        }
    }
    let mut out = Vec::new();
    tables.get_ref().values().for_each(|v| walk(source, v.get_ref(), v.span(), &mut out));
    out
}

fn resolve<'t>(
    source: &mut Source<'t>,
    world: &dyn Files,
    rulings: Rulings,
    tables: &Spanned<DeTable<'t>>,
    varied: bool,
) -> Option<Product> {
    let mut raw: raw::Manifest = source.typed(tables)?;
    looks::lay(source, world, &mut raw.style);
    let id = identity::resolve(source, &raw);
    let mut page = identity::page(source, &raw.page, &id.language);
    let assets = assets::resolve(source, &raw.assets);
    let style = style::resolve(source, world, &raw.style, &assets);
    let speaks = stickers::language(&id.language);
    let remarks = style.as_ref().map_or_else(Vec::new, |style| letters::remarks(source, &raw.style, &style.fonts));
    let mut cx = Context { source, world, rulings, name: &id.name, varied, speaks, remarks };
    let read = raw.notebook.as_ref().and_then(|n| n.file.as_ref()).and_then(|file| finished::read(&mut cx, file));
    if let Some(read) = &read {
        finished::take_size(read, &raw.page, &mut page);
    }
    let notebook = raw.notebook.as_ref().map(|n| match &n.file {
        Some(_) => finished::resolve(&mut cx, n, read, &page, &style, &raw.style),
        None => {
            finished::lonely(&mut cx, n);
            notebook::resolve(&mut cx, n, tables, &style, &raw.style)
        }
    });
    // A product without any item of its own still gets a notebook: the short manifest builds at once.
    let bare = raw.is_bare();
    let mut notebook = notebook
        .or_else(|| bare.then(|| notebook::resolve(&mut cx, &raw::Notebook::default(), tables, &style, &raw.style)));
    if let Some(Some(notebook)) = notebook.as_mut().filter(|_| raw.notebook.as_ref().is_none_or(|n| n.file.is_none())) {
        let sections = notebook.sections.len();
        let dated = dated::resolve(&mut cx, &raw, tables, &id.language, style.as_ref(), sections);
        notebook.dated = dated.map(Arc::new);
    }
    let title = notebook.as_ref().and_then(Option::as_ref).map_or_else(|| cx.name.to_owned(), |n| n.title.clone());
    let own = notebook.as_ref().and_then(Option::as_ref).map(|n| n.cover.clone());
    let covers = covers::resolve(&mut cx, &raw.cover, &style, (&title, own.as_ref()));
    let stickers = stickers::resolve(&mut cx, &raw, &style);
    let guide = texts::guide(&mut cx, &raw.guide);
    let licence = texts::licence(&mut cx, &raw.licence);
    let shots = shots::resolve(&mut cx, &raw, notebook.as_ref().and_then(Option::as_ref));
    let mut limits = identity::limits(cx.source, &raw.limits);
    if let Some(apart) = raw.delivery.zip_per_variant.as_ref().filter(|a| *a.get_ref()) {
        limits.apart = cx.varied;
        // A shop may say so for those of its products that have variants.
        if !cx.varied && !cx.source.is_shared(&apart.span()) {
            let help = "take it out, or add a row of choices, such as [variants.colourway]".to_owned();
            cx.source.fault(apart.span(), "there are no variants to pack", Some(help));
        }
    }
    let listing = texts::listing(&mut cx, &raw.listing);
    let delivery = identity::delivery(cx.source, &raw.delivery);
    let lowered = identity::lowered(cx.source, &raw.lower);
    let versions = versions::resolve(cx.source, raw.versions.as_ref());
    let drawn = notebook.iter().flatten().any(Notebook::has_drawings) || covers.iter().any(Cover::has_drawing);
    let launch = launch::resolve(cx.source, raw.launch.as_ref());
    let art_fonts = art::fonts(&mut cx, drawn);
    let remarks = cx.remarks;
    Some(Product {
        root: world.root().to_owned(),
        name: id.name,
        slug: id.slug,
        version: id.version,
        released: id.released?,
        frozen: raw.issued,
        shop: id.shop,
        words: raw.words.over(&id.language),
        language: id.language,
        page,
        style: style?,
        notebook: notebook.flatten(),
        covers,
        stickers,
        guide,
        licence,
        assets,
        listing,
        shots,
        limits,
        delivery,
        lowered,
        versions,
        launch,
        classic_pdf: raw.classic_pdf,
        variants: Variants::default(),
        art_fonts,
        data: art::data(&raw.data),
        sisters: Vec::new(),
        members: Vec::new(),
        texts: written(source, tables),
        untranslated: Vec::new(),
        remarks,
    })
}

/// What every resolver needs.
struct Context<'a, 't> {
    source: &'a mut Source<'t>,
    world: &'a dyn Files,
    rulings: Rulings,
    name: &'a str,
    /// Whether there are several variants.
    varied: bool,
    /// What motifs of stickers say.
    speaks: StickerLanguage,
    /// What will not be seen though nothing is at fault.
    remarks: Vec<Remark>,
}

/// A name for paths and places: lower-case letters and digits, everything else becomes one hyphen. Accents of
/// Latin letters are dropped.
pub fn slug(name: &str) -> String {
    use unicode_normalization::UnicodeNormalization;
    let plain: String = name
        .nfd()
        .filter(|c| !unicode_normalization::char::is_combining_mark(*c))
        .map(|c| if c.is_ascii_alphanumeric() { c.to_ascii_lowercase() } else { '-' })
        .collect();
    plain.split('-').filter(|part| !part.is_empty()).collect::<Vec<_>>().join("-")
}

/// What a product is called.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Called {
    /// The folder that its bundles land in.
    pub slug: String,
    /// Its version.
    pub version: String,
    /// Its name.
    pub name: String,
}

/// Whether a product is a translation, as far as its manifest can be read.
pub fn is_translation(world: &dyn Files) -> bool {
    let table = world.read_text(FILE).ok().and_then(|text| text.parse::<toml::Table>().ok());
    table.is_some_and(|table| table.contains_key(original::KEY))
}

/// What a product is called, as far as its manifest can be read; it may have faults all the same.
pub fn called(world: &dyn Files) -> Option<Called> {
    let table: toml::Table = world.read_text(FILE).ok()?.parse().ok()?;
    let text = |key: &str| table.get(key).and_then(|v| v.as_str()).map(|v| v.trim().to_owned());
    if let Some(way) = text(original::KEY) {
        let original = world.beside(&way).ok().filter(|other| !is_translation(&**other)).and_then(|o| called(&*o))?;
        let language = text("language").unwrap_or_else(|| "en".to_owned());
        return Some(Called {
            slug: text("slug").unwrap_or_else(|| original::slug_of(&original.slug, &language)),
            version: text("version").unwrap_or(original.version),
            name: text("name").unwrap_or(original.name),
        });
    }
    let slug = text("slug").or_else(|| text("name").map(|name| slug(&name)))?;
    let name = text("name").unwrap_or_else(|| slug.clone());
    let of_set = || {
        let ways = table.get("set")?.get("products")?.as_array()?.iter().filter_map(|way| way.as_str());
        let member = |way| world.beside(way).ok().filter(|other| !is_set(&**other)).and_then(|other| called(&*other));
        let versions: Vec<String> = ways.map(|way| Some(member(way)?.version)).collect::<Option<_>>()?;
        // A version that is not stated is the first.
        Some(kin::version(versions.iter().map(|v| if v.is_empty() { "1.0.0" } else { v.as_str() })))
    };
    Some(Called { version: text("version").or_else(of_set).unwrap_or_default(), name, slug })
}
