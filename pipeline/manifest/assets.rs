//! The ledger of assets: the designer's own files by patterns, and every font, picture and clip-art of somebody else with where
//! it comes from and what allows its use.
//!
//! `spdx_ids.csv` holds the identifiers of the SPDX licence list, version 3.27.0, as carried by the package reuse 6.2.0
//! (CC0-1.0).

use super::raw;
use super::source::Source;
use base::model::assets::{Asset, Assets, Right, Use};
use toml::Spanned;

const SPDX: &str = include_str!("spdx_ids.csv");

/// Resolves the ledger. What was read is filled in once everything is.
pub fn resolve(source: &mut Source, raw: &Option<raw::Assets>) -> Assets {
    let Some(raw) = raw else { return Assets::default() };
    let mut out = Assets { declared: true, ..Assets::default() };
    for glob in &raw.own {
        if let Some(glob) = pattern(source, glob) {
            out.own.push(glob);
        }
    }
    for item in &raw.item {
        out.entries.extend(entry(source, item));
    }
    out
}

/// A pattern of paths that stays in the folder of the file that it stands in.
fn pattern(source: &mut Source, glob: &Spanned<String>) -> Option<String> {
    let text = glob.get_ref().trim();
    let inner = text.strip_prefix(source.home(&glob.span())).unwrap_or(text);
    let climbs = inner.split('/').any(|part| part == ".." || part == ".");
    if inner.is_empty() || inner.starts_with('/') || inner.contains('\\') || climbs {
        let whose = if source.is_shared(&glob.span()) { "the shop's folder" } else { "the product's folder" };
        let help = format!("write it from {whose}, as in art/* or fonts/Hedgerow.ttf");
        source.fault(glob.span(), format!("`{text}` names no files of {whose}"), Some(help));
        return None;
    }
    Some(text.to_owned())
}

fn entry(source: &mut Source, item: &Spanned<raw::AssetItem>) -> Option<Asset> {
    let raw = item.get_ref();
    let said =
        |word: &Option<Spanned<String>>| word.as_ref().map(|w| w.get_ref().trim().to_owned()).filter(|w| !w.is_empty());
    let Some(file) = &raw.file else {
        source.fault(item.span(), "which file is this about?", Some("add file = \"art/….png\"".into()));
        return None;
    };
    let span = Some(source.span(file.span()));
    let name = file.get_ref().clone();
    let file = pattern(source, file);
    let mut missing = |what: &str, help: &str| {
        source.fault(item.span(), format!("the ledger does not say {what} {name:?}"), Some(help.to_owned()));
    };
    let by = said(&raw.by);
    if by.is_none() && said(&raw.credit).is_none() {
        missing("who made", "add by = \"the maker's name\"");
    }
    let origin = said(&raw.source);
    if origin.is_none() {
        missing("the source of", "add source = \"https://…\", or the name of the pack that it came in");
    }
    if said(&raw.licence).is_none() && said(&raw.receipt).is_none() {
        missing("what allows the use of", "add licence = \"an SPDX id\", or receipt = \"…\" and what it allows");
    }
    let licence = raw.licence.as_ref().filter(|l| !l.get_ref().trim().is_empty());
    let licence = licence.and_then(|l| known(source, l));
    let allows = uses(source, raw);
    let right = match (said(&raw.receipt), licence) {
        (Some(receipt), beside) => Right::Receipt { receipt, allows, beside },
        (None, Some(id)) => Right::Licence(id),
        (None, None) => return None,
    };
    Some(Asset {
        file: file?,
        title: said(&raw.title).unwrap_or_default(),
        by: by.unwrap_or_default(),
        source: origin?,
        right,
        credit: said(&raw.credit),
        span,
    })
}

/// What a receipt allows.
fn uses(source: &mut Source, raw: &raw::AssetItem) -> Vec<Use> {
    let words = Use::ALL.map(Use::name);
    let Some(list) = &raw.allows else {
        if let Some(receipt) = &raw.receipt {
            let help = format!("add allows = [\"sell\", …]; it can hold {}", words.join(", "));
            source.fault(receipt.span(), "what does this receipt allow?", Some(help));
        }
        return Vec::new();
    };
    if raw.receipt.is_none() {
        let help = "take it out, or add receipt = \"…\" for what was allowed beyond the licence".to_owned();
        source.fault(list.span(), "a licence says by itself what it allows", Some(help));
    }
    let mut out = Vec::new();
    for word in list.get_ref() {
        match Use::ALL.into_iter().find(|u| u.name() == word.get_ref()) {
            Some(wanted) => out.push(wanted),
            None => {
                let help = super::source::suggest(word.get_ref(), words.into_iter());
                source.fault(word.span(), format!("`{}` is nothing that a receipt allows", word.get_ref()), Some(help));
            }
        }
    }
    out
}

/// The id as the list writes it. Licences that are not on it are `LicenseRef-…`, as SPDX has it.
fn known(source: &mut Source, licence: &Spanned<String>) -> Option<String> {
    let given = licence.get_ref().trim();
    let (id, rest) = given.split_once(" WITH ").map_or((given, None), |(id, rest)| (id, Some(rest)));
    let ids = || SPDX.lines().skip(1).filter_map(|line| line.split(',').next());
    if id.len() > 11 && id.starts_with("LicenseRef-") {
        return Some(given.to_owned());
    }
    if ids().any(|i| i == id) {
        return Some(given.to_owned());
    }
    let same = ids().find(|i| i.eq_ignore_ascii_case(id));
    let near = same.or_else(|| {
        let close = |i: &&str| strsim::jaro_winkler(&i.to_lowercase(), &id.to_lowercase());
        ids().max_by(|a, b| close(a).total_cmp(&close(b))).filter(|i| close(i) > 0.85)
    });
    let rest = rest.map_or_else(String::new, |r| format!(" WITH {r}"));
    let help = match near {
        Some(near) => format!("did you mean `{near}{rest}`?"),
        None => "the list is at https://spdx.org/licenses; one of its own is written LicenseRef-name".to_owned(),
    };
    source.fault(licence.span(), format!("`{id}` is not an SPDX licence id"), Some(help));
    None
}
