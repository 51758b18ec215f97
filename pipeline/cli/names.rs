//! Names that a shell completes: products, and everything that can be looked up or added.

use crate::{manual, world};
use clap_complete::engine::{CompletionCandidate, PathCompleter, ValueCompleter};
use std::ffi::OsStr;

/// Products near by, and whatever else lies there.
pub fn products(current: &OsStr) -> Vec<CompletionCandidate> {
    let typed = current.to_string_lossy();
    let near = world::products_near().into_iter().filter(|p| p.starts_with(typed.as_ref()));
    near.map(|p| CompletionCandidate::new(p).help(Some("a product".into())))
        .chain(PathCompleter::any().complete(current))
        .collect()
}

/// Every name that `explain` knows.
pub fn known(current: &OsStr) -> Vec<CompletionCandidate> {
    let typed = current.to_string_lossy().into_owned();
    let all = manual::names().into_iter().filter(|(name, _)| name.starts_with(&typed));
    all.map(|(name, kinds)| CompletionCandidate::new(name).help(Some(kinds.join(", ").into()))).collect()
}

/// What can be added: rulings, motifs, designs and patterns.
pub fn things(current: &OsStr) -> Vec<CompletionCandidate> {
    let typed = current.to_string_lossy().into_owned();
    let covers = manual::sample::covers().into_iter().map(|(key, name)| (name, format!("cover: {key}")));
    let of = |what: &'static str| manual::of(what).into_iter().map(move |(name, is)| (name, format!("{what}: {is}")));
    let all = of("ruling").chain(of("motif")).chain(covers).filter(|(name, _)| name.starts_with(&typed));
    all.map(|(name, what)| CompletionCandidate::new(name).help(Some(what.into()))).collect()
}
