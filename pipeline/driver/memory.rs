//! The memory that builds side by side may need together.

use base::model::Product;
use base::model::dated::DatedKind;
use base::model::planner::Dated;
use base::model::product::{Notebook, Sticker, StickerSource};
use std::sync::{Condvar, Mutex, PoisonError};

/// What a build needs whatever it has of pages, in bytes: fonts, and listing pictures while they are drawn.
const FLOOR: u64 = 440_000_000;
/// What a page needs, in bytes: its links and texts as they were read back, for as long as the build lasts.
const PAGE: u64 = 60_000;
/// What a pixel of a sheet that is cut needs, in bytes, and one of a sticker.
const PIXEL: u64 = 8;

/// The memory that builds side by side may need together, in bytes. Each takes what it is reckoned to need before it
/// begins, and gives it back when it ends; who finds too little left waits for others to end. A build that needs more
/// than there is waits until no other runs, and then has all of it: it could not be made with less.
pub struct Memory {
    most: u64,
    taken: Mutex<u64>,
    given_back: Condvar,
}

/// What a build has taken, until it is dropped.
pub struct Taken<'a> {
    of: &'a Memory,
    bytes: u64,
}

impl Memory {
    /// So many bytes for all.
    pub fn of(most: u64) -> Memory {
        Memory { most, taken: Mutex::new(0), given_back: Condvar::new() }
    }

    /// As much as anybody asks for.
    pub fn unlimited() -> Memory {
        Memory::of(u64::MAX)
    }

    /// Waits until so much is left. Whoever holds some must not ask for more, or two could wait for each other.
    pub fn take(&self, bytes: u64) -> Taken<'_> {
        // More than all is all: it waits for everybody else, and everybody else for it.
        let bytes = bytes.min(self.most);
        // A number is whole whenever a thread ends.
        let mut taken = self.taken.lock().unwrap_or_else(PoisonError::into_inner);
        while bytes > self.most - *taken {
            taken = self.given_back.wait(taken).unwrap_or_else(PoisonError::into_inner);
        }
        *taken += bytes;
        Taken { of: self, bytes }
    }
}

impl Drop for Taken<'_> {
    fn drop(&mut self) {
        *self.of.taken.lock().unwrap_or_else(PoisonError::into_inner) -= self.bytes;
        self.of.given_back.notify_all();
    }
}

/// What the build of a product in all its variants is reckoned to need, in bytes. The figures are measured, and on the
/// safe side for pages that are ruled; art of many million pixels needs more while it is looked at.
pub fn need(variants: &[Product]) -> u64 {
    let of_set = |product: &Product| product.members.iter().map(|m| need(&m.products) - FLOOR).sum::<u64>();
    let pages: u64 = variants.iter().filter_map(|product| product.notebook.as_ref()).map(pages).sum();
    // Variants share what is cut and drawn alike.
    let pixels = variants.iter().map(pixels).max().unwrap_or(0);
    let sets: u64 = variants.iter().map(of_set).sum();
    FLOOR + pages * PAGE + pixels * PIXEL + sets
}

/// About how many pages a notebook has.
fn pages(notebook: &Notebook) -> u64 {
    if let Some(finished) = &notebook.finished {
        return finished.facts.pages.len() as u64;
    }
    let behind: usize = notebook.sections.iter().map(|section| 1 + section.pages.len()).sum();
    // Cover, welcome, index and overview.
    (4 + behind + notebook.templates.len()) as u64 + notebook.dated.as_deref().map_or(0, dated_pages)
}

/// How many dated pages there are at most.
fn dated_pages(dated: &Dated) -> u64 {
    let months = u64::from(dated.months);
    let of = |kind| match kind {
        DatedKind::Year => 1 + months / 12,
        DatedKind::Quarter => 1 + months / 3,
        DatedKind::Month => months,
        DatedKind::Week => 2 + months * 31 / 7,
        DatedKind::Day => months * 31,
    };
    dated.sets.iter().map(|set| of(set.kind) * (1 + set.companions.len() as u64)).sum()
}

/// How many pixels its stickers and its sheets of stickers have.
fn pixels(product: &Product) -> u64 {
    let side = |sticker: &Sticker| sticker.longest.0 / 25.4 * sticker.dpi;
    let single: f64 = product.stickers.items.iter().map(|sticker| side(sticker) * side(sticker)).sum();
    let sheets = product.stickers.cuts.iter().map(|sheet| match &sheet.source {
        StickerSource::Png(picture) => u64::from(picture.width) * u64::from(picture.height),
        StickerSource::Svg(..) | StickerSource::BuiltIn(..) => 0,
    });
    single as u64 + sheets.sum::<u64>()
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::atomic::{AtomicU64, Ordering};
    use std::thread;

    proptest::proptest! {
        #![proptest_config(proptest::prelude::ProptestConfig::with_cases(64))]
        #[test]
        fn never_is_more_taken_than_there_is_and_everybody_comes_to_run(
            most in 1_u64..100,
            needs in proptest::collection::vec(0_u64..150, 1..12),
        ) {
            let (memory, now, peak) = (Memory::of(most), AtomicU64::new(0), AtomicU64::new(0));
            let ran = AtomicU64::new(0);
            thread::scope(|scope| {
                for need in &needs {
                    scope.spawn(|| {
                        let taken = memory.take(*need);
                        let held = now.fetch_add(taken.bytes, Ordering::SeqCst) + taken.bytes;
                        peak.fetch_max(held, Ordering::SeqCst);
                        thread::yield_now();
                        now.fetch_sub(taken.bytes, Ordering::SeqCst);
                        ran.fetch_add(1, Ordering::SeqCst);
                    });
                }
            });
            proptest::prop_assert!(peak.into_inner() <= most);
            proptest::prop_assert_eq!(ran.into_inner() as usize, needs.len());
            proptest::prop_assert_eq!(*memory.taken.lock().unwrap_or_else(PoisonError::into_inner), 0);
        }
    }
}
