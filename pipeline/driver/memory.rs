//! What a running `watch` keeps from one round to the next: readings of files, pixels, pieces of cut sheets, pictures. A
//! single build keeps nothing here.
//!
//! Everything is found by a digest of all that it was made of, never by a name or a time. What a round did not ask for
//! is dropped at its end, so that the memory holds no more than one product.

use super::photos::Photo;
use crate::store::Cache;
use base::checksum::Sum;
use base::model::drawing::Picture;
use base::model::facts::Inspected;
use base::model::product::Sticker;
use std::collections::BTreeMap;
use std::convert::Infallible;
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

/// Pixels of finished stickers are kept up to so many bytes.
const MOST_PIXELS: usize = 512 << 20;

/// Things by their key, each with the round that asked for it last.
struct Shelf<K, V>(Mutex<BTreeMap<K, (u64, V)>>);

impl<K, V> Default for Shelf<K, V> {
    fn default() -> Self {
        Shelf(Mutex::default())
    }
}

impl<K: Ord, V: Clone> Shelf<K, V> {
    fn lock(&self) -> MutexGuard<'_, BTreeMap<K, (u64, V)>> {
        // Entries are inserted whole, so a panic elsewhere cannot leave the map half written.
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn get(&self, key: &K, round: u64) -> Option<V> {
        let mut all = self.lock();
        let (asked, value) = all.get_mut(key)?;
        *asked = round;
        Some(value.clone())
    }

    fn put(&self, key: K, value: V, round: u64) {
        self.lock().insert(key, (round, value));
    }

    fn sweep(&self, round: u64) {
        self.lock().retain(|_, (asked, _)| *asked >= round);
    }
}

/// Stickers that a sheet was cut into, and what is worth saying.
pub type Pieces = Arc<(Vec<Sticker>, Vec<String>)>;

/// The memory of a watch.
#[derive(Default)]
pub struct Memory {
    long: bool,
    round: AtomicU64,
    readings: Shelf<(String, String), Inspected>,
    pixels: Shelf<String, Arc<Picture>>,
    /// Digests of pictures by their address. Each holds its picture, so no other can come to lie there.
    sums: Shelf<usize, (Arc<Picture>, String)>,
    pieces: Shelf<String, Pieces>,
    contacts: Shelf<String, Vec<Arc<Picture>>>,
    /// Whether files gain by deflate.
    worth: Shelf<String, bool>,
    /// What lies in the cache on the disk, so that it is not read and verified in every round.
    kept: Shelf<String, Arc<Vec<u8>>>,
    photos: Mutex<Vec<Photo>>,
}

impl Memory {
    /// A memory that lasts from round to round.
    pub fn long() -> Memory {
        Memory { long: true, ..Memory::default() }
    }

    /// A memory that keeps nothing.
    pub fn none() -> Memory {
        Memory::default()
    }

    fn round(&self) -> u64 {
        self.round.load(Ordering::Relaxed)
    }

    /// A round is over: what it did not ask for is dropped.
    pub fn next_round(&self) {
        let round = self.round();
        self.readings.sweep(round);
        self.pixels.sweep(round);
        self.sums.sweep(round);
        self.pieces.sweep(round);
        self.contacts.sweep(round);
        self.worth.sweep(round);
        self.kept.sweep(round);
        self.round.store(round + 1, Ordering::Relaxed);
    }

    /// What was read from a file, by its path and digest.
    pub fn reading(&self, path: &str, sha256: &str) -> Option<Inspected> {
        if !self.long {
            return None;
        }
        self.readings.get(&(path.to_owned(), sha256.to_owned()), self.round())
    }

    /// Keeps a reading.
    pub fn keep_reading(&self, read: &Inspected) {
        if self.long {
            self.readings.put((read.path.clone(), read.sha256.clone()), read.clone(), self.round());
        }
    }

    /// The pixels of a file by its path and digest, decoded if need be.
    pub fn pixels<E>(
        &self,
        path: &str,
        sha256: &str,
        decode: impl FnOnce() -> Result<Picture, E>,
    ) -> Result<Arc<Picture>, E> {
        let key = format!("{sha256} {path}");
        if let Some(known) = self.pixels.get(&key, self.round()) {
            return Ok(known);
        }
        let picture = Arc::new(decode()?);
        if self.long {
            let held: usize = self.pixels.lock().values().map(|(_, p)| p.rgba.len()).sum();
            if held + picture.rgba.len() <= MOST_PIXELS {
                self.pixels.put(key, picture.clone(), self.round());
            }
        }
        Ok(picture)
    }

    /// The digest of a picture: its name, its size, its pixels.
    pub fn sum(&self, picture: &Arc<Picture>) -> String {
        let address = Arc::as_ptr(picture) as usize;
        if let Some((_, sum)) = self.sums.get(&address, self.round()) {
            return sum;
        }
        let mut sum = Sum::default();
        sum.add(&(&picture.name, picture.width, picture.height));
        sum.bytes(&picture.rgba);
        let sum = sum.hex();
        if self.long {
            self.sums.put(address, (picture.clone(), sum.clone()), self.round());
        }
        sum
    }

    /// The pieces of a sheet under a key, cut if need be.
    pub fn pieces<E>(&self, key: String, cut: impl FnOnce() -> Result<Pieces, E>) -> Result<Pieces, E> {
        remember(&self.pieces, self.long, self.round(), key, cut)
    }

    /// Pictures of all stickers under a key, made if need be.
    pub fn contacts<E>(
        &self,
        key: String,
        make: impl FnOnce() -> Result<Vec<Arc<Picture>>, E>,
    ) -> Result<Vec<Arc<Picture>>, E> {
        remember(&self.contacts, self.long, self.round(), key, make)
    }

    /// Whether a file gains by deflate, by its path and digest.
    pub fn worth(&self, path: &str, sha256: &str, try_it: impl FnOnce() -> bool) -> bool {
        let made = || Ok::<_, Infallible>(try_it());
        remember(&self.worth, self.long, self.round(), format!("{sha256} {path}"), made)
            .unwrap_or_else(|never| match never {})
    }

    /// What is kept under a key: here, or in a cache.
    pub fn get(&self, cache: &Cache, key: &str) -> Option<Arc<Vec<u8>>> {
        let found = || cache.get(key).map(Arc::new).ok_or(());
        remember(&self.kept, self.long, self.round(), key.to_owned(), found).ok()
    }

    /// Keeps bytes under a key, here and in a cache.
    pub fn put(&self, cache: &Cache, key: &str, bytes: &[u8]) {
        cache.put(key, bytes);
        if self.long {
            self.kept.put(key.to_owned(), Arc::new(bytes.to_vec()), self.round());
        }
    }

    /// The listing pictures of the last round that took them.
    pub fn photos(&self) -> Vec<Photo> {
        self.photos.lock().unwrap_or_else(PoisonError::into_inner).clone()
    }

    /// Keeps them.
    pub fn keep_photos(&self, photos: &[Photo]) {
        if self.long {
            *self.photos.lock().unwrap_or_else(PoisonError::into_inner) = photos.to_vec();
        }
    }
}

fn remember<V: Clone, E>(
    shelf: &Shelf<String, V>,
    long: bool,
    round: u64,
    key: String,
    make: impl FnOnce() -> Result<V, E>,
) -> Result<V, E> {
    if let Some(known) = shelf.get(&key, round) {
        return Ok(known);
    }
    let made = make()?;
    if long {
        shelf.put(key, made.clone(), round);
    }
    Ok(made)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    fn picture(value: u8) -> Picture {
        Picture { name: "a.png".into(), width: 1, height: 1, rgba: vec![value; 4] }
    }

    #[test]
    fn what_a_round_did_not_ask_for_is_dropped() {
        let memory = Memory::long();
        let decoded = |sha: &str, value: u8| memory.pixels("a.png", sha, || Ok::<_, ()>(picture(value))).unwrap();
        let first = decoded("one", 1);
        assert!(Arc::ptr_eq(&first, &decoded("one", 9)));
        assert_eq!(decoded("two", 2).rgba[0], 2);
        memory.next_round();
        assert!(Arc::ptr_eq(&first, &decoded("one", 9)));
        memory.next_round();
        assert_eq!(decoded("two", 3).rgba[0], 3, "it was not asked for in the last round");
        let short = Memory::none();
        let again = |value: u8| short.pixels("a.png", "one", || Ok::<_, ()>(picture(value))).unwrap().rgba[0];
        assert_eq!((again(1), again(2)), (1, 2));
    }

    #[test]
    fn pictures_of_one_name_are_told_apart_by_their_pixels() {
        let memory = Memory::long();
        let (a, b) = (Arc::new(picture(1)), Arc::new(picture(2)));
        assert_ne!(memory.sum(&a), memory.sum(&b));
        assert_eq!(memory.sum(&a), Memory::none().sum(&Arc::new(picture(1))));
        drop(a);
        // Held by the memory, the address of the first cannot be given to another.
        let later: Vec<Arc<Picture>> = (3..40).map(|v| Arc::new(picture(v))).collect();
        let all: std::collections::BTreeSet<String> = later.iter().map(|p| memory.sum(p)).collect();
        assert_eq!(all.len(), later.len());
    }
}
