//! Who and what the product is: name, version, shop, page, limits, lowered checks.

use super::raw;
use super::slug;
use super::source::Source;
use super::translations::is_tag;
use super::values::{PAPER, PageSize, SIZES};
use base::model::Mm;
use base::model::Severity;
use base::model::Size;
use base::model::product::{Coil, Date, Edge, Hand, Limits, Lowered, PageSetup, Shop};
use base::model::units::PT_PER_MM;
use std::collections::BTreeMap;
use std::ops::Range;

/// Name, version and shop.
pub struct Identity {
    pub name: String,
    pub slug: String,
    pub version: String,
    pub released: Option<Date>,
    pub shop: Shop,
    pub language: String,
}

/// Resolves the keys of the top level.
pub fn resolve(source: &mut Source, raw: &raw::Manifest) -> Identity {
    let name = match &raw.name {
        Some(n) if !n.get_ref().trim().is_empty() => n.get_ref().trim().to_owned(),
        Some(n) => {
            source.fault(n.span(), "the product has no name", Some("give it one".into()));
            "Unnamed".to_owned()
        }
        None if source.refused("name") => "Unnamed".to_owned(),
        None => {
            source.fault_whole("`name` is missing", "add a line such as: name = \"Allotment Year\"");
            "Unnamed".to_owned()
        }
    };
    let slug_given = raw.slug.as_ref().map(|s| s.get_ref().clone());
    let slugged = slug_given.clone().unwrap_or_else(|| slug(&name));
    let span = raw.slug.as_ref().or(raw.name.as_ref()).map_or(0..0, |s| s.span());
    let shape = slugged.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-');
    if slugged.is_empty() || !shape || slugged.starts_with('-') || slugged.len() > 60 {
        let better = slug(&slugged);
        let help = if better.is_empty() {
            "add a line such as: slug = \"my-notebook\"".into()
        } else {
            format!("write it as `{better}`")
        };
        source.fault(span, "the slug names a folder: 1 to 60 lower-case letters, digits and hyphens", Some(help));
    }
    let version = version(source, raw);
    let released = released(source, raw);
    let language = raw.language.as_ref().map_or("en".to_owned(), |l| l.get_ref().clone());
    if let Some(l) = raw.language.as_ref().filter(|l| !is_tag(l.get_ref())) {
        let help = "write a BCP 47 tag, such as en, en-GB or de".to_owned();
        source.fault(l.span(), format!("`{}` is not a language tag", l.get_ref()), Some(help));
    }
    let shop = Shop {
        name: raw.shop.name.as_ref().map_or_else(|| name.clone(), |n| n.get_ref().clone()),
        contact: raw.shop.contact.clone(),
    };
    Identity { name, slug: slugged, version, released, shop, language }
}

fn version(source: &mut Source, raw: &raw::Manifest) -> String {
    let Some(v) = &raw.version else { return "1.0.0".to_owned() };
    let parts: Vec<&str> = v.get_ref().split('.').collect();
    let number = |p: &&str| !p.is_empty() && p.len() < 7 && p.chars().all(|c| c.is_ascii_digit());
    if parts.len() != 3 || !parts.iter().all(number) {
        let help = "write three numbers: 1.0.0".to_owned();
        source.fault(v.span(), format!("`{}` is not a version", v.get_ref()), Some(help));
    }
    v.get_ref().clone()
}

fn released(source: &mut Source, raw: &raw::Manifest) -> Option<Date> {
    let Some(spanned) = &raw.released else {
        if source.refused("released") {
            return None;
        }
        source.fault_whole("`released` is missing", "add the release date, without quotes: released = 2027-01-15");
        return None;
    };
    match (spanned.get_ref().date, spanned.get_ref().time) {
        (Some(d), None) => Some(Date { year: d.year, month: d.month, day: d.day }),
        _ => {
            let help = "write a date without a time: 2027-01-15".to_owned();
            source.fault(spanned.span(), "the release date is a day", Some(help));
            None
        }
    }
}

/// The sheet of the language's region.
fn paper(language: &str) -> PageSize {
    let name = if calendar::prints_on_letter(language) { "Letter" } else { "A4" };
    let (_, w, h) = SIZES.iter().find(|(known, ..)| *known == name).copied().unwrap_or((name, 210.0, 297.0));
    PageSize { size: Size::new(w * PT_PER_MM, h * PT_PER_MM), named: name.to_owned(), explicit: false }
}

/// Resolves the page.
pub fn page(source: &mut Source, raw: &raw::Page, language: &str) -> PageSetup {
    let given = raw.size.clone().unwrap_or_else(|| PageSize {
        size: Size::new(180.0 * PT_PER_MM, 240.0 * PT_PER_MM),
        named: "tablet-4x3".to_owned(),
        explicit: false,
    });
    let given = if given.named == PAPER { paper(language) } else { given };
    let (short, long) = (given.size.w.min(given.size.h), given.size.w.max(given.size.h));
    let landscape = match (raw.orientation, given.explicit, raw.layout) {
        (Some(o), ..) => o == raw::Orientation::Landscape,
        (None, true, _) => given.size.is_landscape(),
        (None, false, layout) => {
            layout != Some(raw::Layout::Single) && raw.size.is_none() || layout == Some(raw::Layout::Spread)
        }
    };
    let size = if landscape { Size::new(long, short) } else { Size::new(short, long) };
    let spread = raw.layout.map_or(landscape && raw.size.is_none(), |l| l == raw::Layout::Spread);
    let (toolbar, span) = raw.toolbar.as_ref().map_or((Mm(8.0), 0..0), |t| (t.get_ref().0, t.span()));
    let toolbar_edge = match raw.toolbar_edge {
        None | Some(raw::EdgeName::Top) => Edge::Top,
        Some(raw::EdgeName::Bottom) => Edge::Bottom,
        Some(raw::EdgeName::Left) => Edge::Left,
        Some(raw::EdgeName::Right) => Edge::Right,
    };
    if toolbar.pt() > short / 4.0 {
        source.fault(
            span,
            format!("a toolbar margin of {toolbar} leaves too little of the page"),
            Some(format!("at most {} for this page", Mm(short / 4.0 / PT_PER_MM))),
        );
    }
    let coil = match raw.coil.as_ref().map(|c| (*c.get_ref(), c.span())) {
        None if spread => Coil::Middle,
        None => Coil::Top,
        Some((raw::CoilName::None, _)) => Coil::None,
        Some((raw::CoilName::Top, _)) => Coil::Top,
        Some((raw::CoilName::Middle, span)) => {
            if !spread {
                let help = "use coil = \"top\" or coil = \"none\", or layout = \"spread\"".to_owned();
                source.fault(span, "a coil in the middle needs two papers", Some(help));
            }
            Coil::Middle
        }
    };
    let right_to_left = calendar::right_to_left(language);
    let hand = if raw.hand == Some(raw::HandName::Left) { Hand::Left } else { Hand::Right };
    PageSetup { size, named: given.named, spread, toolbar_edge, toolbar, coil, hand, right_to_left }
}

/// Resolves the shop's limits; the defaults are common practice, no source.
pub fn limits(source: &mut Source, raw: &raw::Limits) -> Limits {
    let mut least = |span: Option<Range<usize>>, bad: bool, what: &str| {
        if let (Some(span), true) = (span, bad) {
            source.fault(span, format!("{what} must be more than zero"), None);
        }
    };
    least(
        raw.files.as_ref().map(|f| f.span()),
        raw.files.as_ref().is_some_and(|f| *f.get_ref() == 0),
        "the number of files",
    );
    let small = |m: f64| !m.is_finite() || m <= 0.0;
    least(
        raw.megabytes.as_ref().map(|m| m.span()),
        raw.megabytes.as_ref().is_some_and(|m| small(*m.get_ref())),
        "the size of a file",
    );
    let pictures = raw.pictures.as_ref();
    least(pictures.map(|n| n.span()), pictures.is_some_and(|n| *n.get_ref() == 0), "the number of pictures");
    let pixels = raw.picture_pixels.as_ref();
    least(pixels.map(|n| n.span()), pixels.is_some_and(|n| *n.get_ref() == 0), "the longest side of a picture");
    let heavy = raw.picture_megabytes.as_ref();
    least(heavy.map(|m| m.span()), heavy.is_some_and(|m| small(*m.get_ref())), "the size of a picture");
    let usual = Limits::default();
    Limits {
        apart: false,
        files: raw.files.as_ref().map_or(usual.files, |f| *f.get_ref() as usize),
        // A shop's megabyte is taken as 1,000,000 bytes: the smaller reading is safe under both.
        bytes: raw.megabytes.as_ref().map_or(usual.bytes, |m| (*m.get_ref() * 1e6) as u64),
        title: raw.title.map_or(usual.title, |n| n as usize),
        tags: raw.tags.map_or(usual.tags, |n| n as usize),
        tag: raw.tag.map_or(usual.tag, |n| n as usize),
        pictures: pictures.map(|n| *n.get_ref() as usize),
        picture_pixels: pixels.map(|n| *n.get_ref()),
        picture_bytes: heavy.map(|m| (*m.get_ref() * 1e6) as u64),
    }
}

/// Resolves the address of the delivery card.
pub fn delivery(source: &mut Source, raw: &raw::Delivery) -> Option<String> {
    let address = raw.address.as_ref()?;
    if !address.get_ref().starts_with("https://") || address.get_ref().chars().any(char::is_whitespace) {
        let help = "give the whole address, beginning with https://".to_owned();
        source.fault(address.span(), "the delivery address is not an https address", Some(help));
    }
    Some(address.get_ref().clone())
}

/// Resolves the checks that the designer lowers; each needs a reason.
pub fn lowered(source: &mut Source, raw: &[toml::Spanned<raw::Lower>]) -> BTreeMap<String, Lowered> {
    let mut out = BTreeMap::new();
    for entry in raw {
        let lower = entry.get_ref();
        let Some(check) = &lower.check else {
            source.fault(entry.span(), "which check is lowered?", Some("add check = \"name-of-the-check\"".into()));
            continue;
        };
        let reason = lower.reason.as_ref().map(|r| r.get_ref().trim().to_owned()).unwrap_or_default();
        if reason.is_empty() {
            let help = "add reason = \"…\": the report shows it".to_owned();
            source.fault(check.span(), format!("lowering `{}` needs a reason", check.get_ref()), Some(help));
        }
        let to = match lower.to {
            Some(raw::LowerTo::Warning) => Some(Severity::Warning),
            Some(raw::LowerTo::Note) | None => Some(Severity::Note),
            Some(raw::LowerTo::Off) => None,
        };
        out.insert(check.get_ref().clone(), Lowered { to, reason });
    }
    out
}
