//! A product that is another one in a language of its own (`translation-of`): its manifest is laid over that of the original,
//! and a file that its folder does not have is the original's.

use super::FILE;
use super::kin::below;
use super::layers::ADDED;
use super::source::Source;
use super::variants::lay;
use base::files::{Files, Made, Notes};
use base::model::{Blob, Fault};
use std::collections::BTreeMap;
use std::path::Path;
use std::sync::Arc;
use toml::Spanned;
use toml::de::{DeString, DeTable, DeValue};

/// The key that names the original.
pub const KEY: &str = "translation-of";

/// The product that another one translates.
pub struct Original {
    /// The way to its folder, as it is written.
    pub way: String,
    /// The path of its manifest.
    pub path: String,
    /// The text of that.
    pub text: String,
    files: Arc<dyn Files>,
}

impl Original {
    /// The original of a product, where its manifest names one.
    ///
    /// # Errors
    /// No product lies there that can be translated.
    pub fn of(world: &dyn Files, manifest: &str) -> Result<Option<Original>, Fault> {
        let table: Option<toml::Table> = manifest.parse().ok();
        let way = table.as_ref().and_then(|table| table.get(KEY)?.as_str());
        let Some(way) = way else { return Ok(None) };
        let files = world.beside(way)?;
        if files.root() == world.root() {
            return Err(Fault::new("this is the product itself").help("name the product that it translates"));
        }
        let text = files.read_text(FILE)?;
        let has = |key: &str| text.parse::<toml::Table>().is_ok_and(|table| table.contains_key(key));
        if has(KEY) {
            return Err(
                Fault::new(format!("{way:?} is a translation itself")).help("name the product that it translates")
            );
        }
        if has("set") {
            let help = "translate its members, and make a set of the translations";
            return Err(Fault::new(format!("{way:?} is a set")).help(help));
        }
        if shop_of(world) != shop_of(&*files) {
            let help = "put both folders below the folder in which shop.toml lies";
            return Err(Fault::new(format!("{way:?} belongs to another shop than this product")).help(help));
        }
        Ok(Some(Original { path: below(way, FILE), way: way.to_owned(), text, files }))
    }

    /// The files of the translation, with those of the original behind them.
    pub fn behind<'w>(&'w self, own: &'w dyn Files) -> Behind<'w> {
        Behind { own, original: self }
    }
}

/// The folder in which the file of a product's shop lies.
fn shop_of(files: &dyn Files) -> Option<&Path> {
    files.root().ancestors().nth(files.shop()?.matches("../").count())
}

/// Lays the tables of a translation over those of its original. Its name in files is the original's with the language behind it,
/// unless it states one.
pub fn lay_over<'t>(
    source: &mut Source<'t>,
    mut original: DeTable<'t>,
    own: &Spanned<DeTable<'t>>,
) -> Spanned<DeTable<'t>> {
    let mut own_tables = own.get_ref().clone();
    let named = own_tables.remove(KEY);
    for way in ADDED {
        add_up(&mut own_tables, &original, way);
    }
    let text = |tables: &DeTable, key: &str| tables.get(key).and_then(|v| v.get_ref().as_str()).map(str::to_owned);
    let slug = text(&original, "slug").or_else(|| text(&original, "name").map(|name| super::slug(&name)));
    original.remove("slug");
    lay(source, &mut original, &own_tables);
    let language = text(&original, "language").unwrap_or_else(|| "en".to_owned());
    if let (Some(named), Some(slug), false) = (named, slug, original.contains_key("slug")) {
        let value = DeValue::String(DeString::from(slug_of(&slug, &language)));
        original.insert(Spanned::new(named.span(), "slug".into()), Spanned::new(named.span(), value));
    }
    Spanned::new(own.span(), original)
}

/// What a translation is called in files, unless it states it: `tide-log-de`, `tide-log-pt-pt`.
pub fn slug_of(original: &str, language: &str) -> String {
    format!("{original}-{}", super::slug(&calendar::shortest_tag(language)))
}

/// Puts the original's items of a list behind those of the translation, for lists that are added up.
fn add_up<'t>(own: &mut DeTable<'t>, original: &DeTable<'t>, way: &[&str]) {
    let Some((first, rest)) = way.split_first() else { return };
    let (Some(mine), Some(theirs)) = (own.get_mut(*first), original.get(*first)) else { return };
    match (mine.get_mut(), theirs.get_ref()) {
        (DeValue::Table(mine), DeValue::Table(theirs)) => add_up(mine, theirs, rest),
        (DeValue::Array(mine), DeValue::Array(theirs)) if rest.is_empty() => {
            *mine = mine.iter().chain(theirs.iter()).cloned().collect();
        }
        _ => {}
    }
}

/// The files of a translation: its own, and behind them the original's.
pub struct Behind<'w> {
    own: &'w dyn Files,
    original: &'w Original,
}

impl Files for Behind<'_> {
    fn root(&self) -> &Path {
        self.own.root()
    }

    fn shop(&self) -> Option<String> {
        self.own.shop()
    }

    fn has(&self, path: &str) -> bool {
        self.own.has(path) || self.original.files.has(path)
    }

    fn read(&self, path: &str) -> Result<Blob, Fault> {
        if self.own.has(path) || !self.original.files.has(path) {
            self.own.read(path)
        } else {
            self.original.files.read(path)
        }
    }

    fn nearby(&self, path: &str) -> Vec<String> {
        let mut all = self.own.nearby(path);
        all.extend(self.original.files.nearby(path));
        all.sort();
        all.dedup();
        all
    }

    fn inputs(&self) -> BTreeMap<String, Blob> {
        // Each under the path by which the manifests name it, so that the ledger of assets finds it.
        let way = format!("{}/", self.original.way.trim_end_matches('/'));
        let mut all = self.original.files.inputs();
        all.remove(FILE);
        all.extend(self.own.inputs().into_iter().filter(|(path, _)| !path.starts_with(&way)));
        all
    }

    fn beside(&self, way: &str) -> Result<Arc<dyn Files>, Fault> {
        self.own.beside(way).or_else(|fault| self.original.files.beside(way).map_err(|_| fault))
    }

    fn notes(&self) -> Option<&dyn Notes> {
        self.own.notes()
    }

    fn kept(&self, what: &str, path: &str, bytes: &Blob) -> Option<Made> {
        self.own.kept(what, path, bytes)
    }

    fn keep(&self, what: &str, path: &str, bytes: &Blob, made: Made) {
        self.own.keep(what, path, bytes, made);
    }
}
