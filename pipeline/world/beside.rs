//! Other products, which a manifest names by the way from its own folder to theirs.

use super::products::{MANIFEST, products_beside};
use super::{FORGIVING, World, other_case, reason};
use base::files::Files;
use base::model::Fault;
use base::model::fault::suggest;
use std::fs;
use std::path::{Component, Path, PathBuf};
use std::sync::{Arc, PoisonError};

impl World {
    /// The folder of another product.
    pub(super) fn open_beside(&self, way: &str) -> Result<Arc<World>, Fault> {
        let help = "give the way to its folder from this one, such as \"../tide-log\"";
        let fine = |c: Component| matches!(c, Component::Normal(_) | Component::ParentDir | Component::CurDir);
        if way.is_empty() || way.contains(['\\', '\0']) || !Path::new(way).components().all(fine) {
            return Err(Fault::new(format!("{way:?} is no way to a folder")).help(help));
        }
        if let Some(known) = self.others().into_iter().find(|(known, _)| known == way) {
            return Ok(known.1);
        }
        let root = self.root();
        let cannot = |why: String| Fault::new(format!("{way:?} cannot be opened: {why}")).help(self.near(way, help));
        let no_folder = || cannot("there is no such folder".to_owned());
        let full = fs::canonicalize(root.join(way)).map_err(|e| match e.kind() {
            std::io::ErrorKind::NotFound => no_folder(),
            _ => cannot(reason(&e)),
        })?;
        if FORGIVING && other_case(Path::new(way), &full) {
            return Err(no_folder());
        }
        if !full.join(MANIFEST).is_file() {
            return Err(
                Fault::new(format!("{way:?} is no product: there is no {MANIFEST} in it")).help(self.near(way, help))
            );
        }
        let other = Arc::new(World { notes: self.notes.clone(), ..World::open(&full)? });
        let mut beside = self.beside.lock().unwrap_or_else(PoisonError::into_inner);
        beside.insert(way.to_owned(), other.clone());
        Ok(other)
    }

    /// Other products that were asked for, with the ways to them.
    pub(super) fn others(&self) -> Vec<(String, Arc<World>)> {
        let beside = self.beside.lock().unwrap_or_else(PoisonError::into_inner);
        beside.iter().map(|(way, other)| (way.clone(), other.clone())).collect()
    }

    /// Every file that was read of it, and what it rests on besides, by full path.
    pub(super) fn every_file(&self) -> Vec<PathBuf> {
        let read = self.lock().keys().map(|path| self.root().join(path)).collect::<Vec<_>>();
        read.into_iter().chain(self.rests_on()).collect()
    }

    /// The products that lie where this one was looked for.
    fn near(&self, way: &str, help: &str) -> String {
        let (folder, name) = way.trim_end_matches('/').rsplit_once('/').unwrap_or((".", way));
        let names = products_beside(&self.root().join(folder));
        let is_self =
            |name: &str| fs::canonicalize(self.root().join(folder).join(name)).is_ok_and(|p| p == self.root());
        let others: Vec<&str> = names.iter().map(String::as_str).filter(|n| !is_self(n)).collect();
        if others.is_empty() { help.to_owned() } else { suggest(name, others.into_iter()) }
    }
}

/// The way to a file of another product: `../a` and `../shop.toml` give `../shop.toml`.
pub(super) fn joined(way: &str, path: &str) -> String {
    let mut parts: Vec<&str> = Vec::new();
    for part in way.split('/').chain(path.split('/')).filter(|part| !part.is_empty() && *part != ".") {
        match parts.last() {
            Some(last) if part == ".." && *last != ".." => drop(parts.pop()),
            _ => parts.push(part),
        }
    }
    parts.join("/")
}

#[cfg(test)]
mod tests {
    use super::joined;

    #[test]
    fn ways_are_joined_without_a_way_back() {
        assert_eq!(joined("../a", "art/x.png"), "../a/art/x.png");
        assert_eq!(joined("../a/", "../shop.toml"), "../shop.toml");
        assert_eq!(joined("../../row/a", "../../shop.toml"), "../../shop.toml");
        assert_eq!(joined("./a", "b"), "a/b");
    }
}
