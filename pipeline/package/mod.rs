//! Packing: which files go into which upload slot, the archives themselves, and the record of the bundle.
//!
//! `pack` gets the finished files of `contents/` and gives the files of `upload/`. Where not everything fits and the
//! product has an address for a delivery card, it says which files the card must stand for; the caller draws the
//! card (a page is not this room's business) and hands it in with the files.

pub mod archive;
pub mod bins;
pub mod numbers;
pub mod record;
pub mod slots;

use base::model::units::byte_size;
use base::model::variant;
use base::model::{Artifact, Fault, Kind, Product};
use slots::{Piece, Slot};
use std::collections::BTreeMap;

/// Folder of the loose files.
pub const CONTENTS: &str = "contents/";

/// Folder of the files that the designer uploads.
pub const UPLOAD: &str = "upload/";

/// What packing gives.
#[derive(Clone, Debug, PartialEq)]
pub struct Packing {
    /// The files of `upload/`, in the order in which a buyer should see them; each of kind `Upload`, but for the
    /// delivery card.
    pub uploads: Vec<Artifact>,
    /// Paths of the files that did not fit: buyers get them through the delivery card's link.
    pub left_out: Vec<String>,
}

impl Packing {
    /// Whether a delivery card must be drawn and handed in.
    pub fn wants_card(&self) -> bool {
        !self.left_out.is_empty() && !self.uploads.iter().any(|u| u.kind == Kind::DeliveryCard)
    }
}

/// Packs the files of `contents/` into at most the shop's number of uploads, each within its limit.
///
/// A delivery card among the files takes a slot of its own. Without one, a slot is kept free for it as soon as
/// something does not fit and the product has an address for a card; without an address, that is a fault that
/// says what to drop or to split.
pub fn pack(product: &Product, contents: &[Artifact]) -> Result<Packing, Vec<Fault>> {
    pack_knowing(product, contents, &archive::worth)
}

/// The same where somebody knows already which files gain by deflate.
pub fn pack_knowing(product: &Product, contents: &[Artifact], worth: archive::Worth) -> Result<Packing, Vec<Fault>> {
    let card = contents.iter().find(|f| f.kind == Kind::DeliveryCard);
    let files: Vec<(String, &Artifact)> = contents
        .iter()
        .filter(|f| !matches!(f.kind, Kind::DeliveryCard | Kind::Upload | Kind::Listing | Kind::Picture))
        .map(|f| (f.path.strip_prefix(CONTENTS).unwrap_or(&f.path).to_owned(), f))
        .collect();
    let mut ready = archive::prepare_all(&files, worth)?.into_iter().map(Some).collect::<Vec<_>>();
    let pieces: Vec<Piece> = files
        .iter()
        .zip(&ready)
        .map(|((name, file), packed)| Piece {
            kind: file.kind,
            bare: file.bytes.len() as u64,
            zipped: packed.as_ref().map_or(0, archive::Packed::cost),
            opens_alone: name.to_ascii_lowercase().ends_with(".pdf"),
            variant: variant::of(&product.variants.all, &file.path),
        })
        .collect();

    let (most, bytes) = (product.limits.files, product.limits.bytes);
    let free = most.saturating_sub(usize::from(card.is_some()));
    let whole = if product.limits.apart {
        let chosen = slots::apart(&pieces, free, bytes);
        Some(chosen.ok_or_else(|| vec![not_apart(product, free)])?)
    } else {
        slots::fill(&pieces, free, bytes)
    };
    let (chosen, out) = match whole {
        Some(slots) => (slots, Vec::new()),
        None if product.delivery.is_some() && most > 0 => beside_card(&pieces, most - 1, bytes),
        None => return Err(too_much(product, &files, &pieces)),
    };

    let names = upload_names(product, &files, &chosen);
    let mut uploads = Vec::with_capacity(chosen.len() + 1);
    for (slot, name) in chosen.iter().zip(names) {
        let path = format!("{UPLOAD}{name}");
        let content = match slot {
            Slot::Bare(i) => files[*i].1.bytes.clone(),
            Slot::Zip(list) => {
                // Every piece lies in one slot, so it is still there when its slot comes.
                let entries = list.iter().filter_map(|i| ready[*i].take()).collect();
                archive::write(&path, entries).map_err(|f| vec![f])?.into()
            }
        };
        uploads.push(Artifact { path, kind: Kind::Upload, bytes: content });
    }
    if let Some(card) = card {
        let path = format!("{UPLOAD}{}", card.name());
        uploads.push(Artifact { path, kind: Kind::DeliveryCard, bytes: card.bytes.clone() });
    }
    let over: Vec<Fault> = uploads
        .iter()
        .filter(|u| u.bytes.len() as u64 > bytes)
        .map(|u| too_large(&u.path, u.kind, u.bytes.len() as u64, bytes))
        .collect();
    if !over.is_empty() {
        return Err(over);
    }
    Ok(Packing { uploads, left_out: out.into_iter().map(|i| files[i].1.path.clone()).collect() })
}

/// Why variants cannot each be packed by itself.
fn not_apart(product: &Product, free: usize) -> Fault {
    let bytes = byte_size(product.limits.bytes);
    Fault::new(format!(
        "{} variants, an archive each, and what all share do not fit into {free} uploads of at most {bytes}",
        product.variants.all.len()
    ))
    .in_file("product.toml")
    .help("take zip-per-variant out of [delivery], make the variants fewer, or raise files in [limits] if the shop takes more")
}

/// What fits beside a card, in slots, and what does not. With one slot in all, the card is all there is.
fn beside_card(pieces: &[Piece], files: usize, bytes: u64) -> (Vec<Slot>, Vec<usize>) {
    let out = slots::leave_out(pieces, files, bytes);
    let kept: Vec<usize> = (0..pieces.len()).filter(|i| !out.contains(i)).collect();
    let figures: Vec<Piece> = kept.iter().map(|i| pieces[*i].clone()).collect();
    let slots = slots::fill(&figures, files, bytes).unwrap_or_default();
    let back = |slot: Slot| match slot {
        Slot::Bare(i) => Slot::Bare(kept[i]),
        Slot::Zip(list) => Slot::Zip(list.into_iter().map(|i| kept[i]).collect()),
    };
    (slots.into_iter().map(back).collect(), out)
}

/// File names of the uploads: bare files keep theirs, archives are called after the product and what is in them.
fn upload_names(product: &Product, files: &[(String, &Artifact)], chosen: &[Slot]) -> Vec<String> {
    let stem = |slot: &Slot| match slot {
        Slot::Bare(i) => files[*i].1.name().to_owned(),
        Slot::Zip(list) => {
            let all = |test: &dyn Fn(Kind) -> bool| list.iter().all(|i| test(files[*i].1.kind));
            let of = |i: &usize| variant::of(&product.variants.all, &files[*i].1.path);
            let one = list.first().and_then(of).filter(|v| list.iter().all(|i| of(i) == Some(*v)));
            let varied = |v: usize| format!("-{}", product.variants.all[v].name);
            let what = if let Some(variant) = one {
                &varied(variant)
            } else if list.len() == files.len() {
                ""
            } else if all(&|k| matches!(k, Kind::Sticker | Kind::Sheet)) {
                "-stickers"
            } else if list.iter().any(|i| files[*i].1.kind == Kind::Notebook) {
                "-notebook"
            } else {
                "-extras"
            };
            format!("{}{what}.zip", product.slug)
        }
    };
    let plain: Vec<String> = chosen.iter().map(stem).collect();
    let mut seen: BTreeMap<String, usize> = BTreeMap::new();
    plain
        .iter()
        .map(|name| {
            let alike = plain.iter().filter(|p| p.to_lowercase() == name.to_lowercase()).count();
            let number = seen.entry(name.to_lowercase()).and_modify(|n| *n += 1).or_insert(1);
            match name.rsplit_once('.') {
                Some((stem, ending)) if alike > 1 => format!("{stem}-{number}.{ending}"),
                _ if alike > 1 => format!("{name}-{number}"),
                _ => name.clone(),
            }
        })
        .collect()
}

/// Why the files do not fit, one fault for each that is too large by itself, or one for all together.
fn too_much(product: &Product, files: &[(String, &Artifact)], pieces: &[Piece]) -> Vec<Fault> {
    let (most, bytes) = (product.limits.files, product.limits.bytes);
    let alone = |p: &Piece| (p.opens_alone && p.bare <= bytes) || p.zipped + archive::EMPTY <= bytes;
    let mut faults: Vec<Fault> = pieces
        .iter()
        .zip(files)
        .filter(|(p, _)| !alone(p))
        .map(|(p, (_, file))| too_large(&file.path, file.kind, p.bare, bytes))
        .collect();
    if faults.is_empty() {
        let all: u64 = pieces.iter().map(|p| p.zipped).sum();
        let mut parts: BTreeMap<&'static str, (usize, u64)> = BTreeMap::new();
        for i in slots::leave_out(pieces, most, bytes) {
            let part = parts.entry(plural(files[i].1.kind)).or_default();
            *part = (part.0 + 1, part.1 + pieces[i].zipped);
        }
        let drop: Vec<String> = parts
            .iter()
            .map(|(what, (n, size))| {
                format!("the {what} ({n} {}, {})", if *n == 1 { "file" } else { "files" }, byte_size(*size))
            })
            .collect();
        faults.push(
            Fault::new(format!(
                "the files of this product have {} once packed, and do not fit into {most} {} of at most {}",
                byte_size(all),
                if most == 1 { "upload" } else { "uploads" },
                byte_size(bytes),
            ))
            .help(format!(
                "without {} the rest fits: make them fewer or smaller, sell them as a product of their own, or \
                 give an address for a delivery card, which then takes their place",
                drop.join(" and ")
            )),
        );
    }
    faults
}

fn too_large(path: &str, kind: Kind, size: u64, limit: u64) -> Fault {
    let mend = match kind {
        Kind::Notebook => "use smaller pictures on its cover, or fewer pages",
        Kind::Covers => "use smaller pictures as textures, or fewer covers",
        Kind::Sticker => "lower the resolution or the size of this sticker",
        Kind::Sheet => "lower the resolution of the stickers, or make fewer",
        Kind::Guide => "use smaller pictures in the guide",
        _ => "make it smaller",
    };
    Fault::new(format!("it has {}, and the shop takes files up to {}", byte_size(size), byte_size(limit)))
        .in_file(path)
        .help(format!("{mend}; or give an address for a delivery card, which then takes its place"))
}

fn plural(kind: Kind) -> &'static str {
    match kind {
        Kind::Notebook => "notebook",
        Kind::Covers => "covers",
        Kind::Sticker => "stickers",
        Kind::Sheet => "sticker sheets",
        Kind::Guide => "guide",
        Kind::Licence => "licence terms",
        Kind::StartHere => "start-here text",
        _ => "other files",
    }
}

#[cfg(test)]
mod tests;
