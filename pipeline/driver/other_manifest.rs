//! A product's folder with another manifest than the one that lies there: to see what would come of it before it is written.

use crate::world::World;
use base::files::{Files, Made};
use base::model::{Blob, Fault};
use std::collections::BTreeMap;
use std::path::Path;
use std::sync::Arc;

/// The folder of a product, but for its manifest.
pub struct OtherManifest<'w> {
    world: &'w World,
    manifest: Blob,
}

impl<'w> OtherManifest<'w> {
    /// The folder with this manifest in it.
    pub fn new(world: &'w World, manifest: &str) -> OtherManifest<'w> {
        OtherManifest { world, manifest: manifest.as_bytes().into() }
    }
}

impl Files for OtherManifest<'_> {
    fn root(&self) -> &Path {
        self.world.root()
    }

    fn shop(&self) -> Option<String> {
        self.world.shop()
    }

    fn read(&self, path: &str) -> Result<Blob, Fault> {
        if path == manifest::FILE { Ok(self.manifest.clone()) } else { self.world.read(path) }
    }

    fn has(&self, path: &str) -> bool {
        self.world.has(path)
    }

    fn beside(&self, way: &str) -> Result<Arc<dyn Files>, Fault> {
        self.world.beside(way)
    }

    fn nearby(&self, path: &str) -> Vec<String> {
        self.world.nearby(path)
    }

    fn inputs(&self) -> BTreeMap<String, Blob> {
        self.world.inputs()
    }

    fn kept(&self, what: &str, path: &str, bytes: &Blob) -> Option<Made> {
        self.world.kept(what, path, bytes)
    }

    fn keep(&self, what: &str, path: &str, bytes: &Blob, made: Made) {
        self.world.keep(what, path, bytes, made);
    }
}
