//! What tasks give, and how it lies on the disk: deflated lightly where it is large and repeats itself, as it is where it
//! is a finished file.

use super::session::Value;
use crate::package::Packing;
use base::deflate::{deflated, inflated};
use base::model::difference::Comparison;
use base::model::drawing::Picture;
use base::model::facts::Facts;
use base::model::shot::Words;
use base::model::{Artifact, Blob, Pixels, Sha};
use borsh::{BorshDeserialize, BorshSerialize};
use inspect::pdf::fingerprint::PageFingerprint;
use rayon::prelude::*;
use std::sync::Arc;

/// A finished file, and what there is to say of it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct MadeBytes<N> {
    /// The file.
    pub bytes: Blob,
    /// What there is to say.
    pub said: N,
}

/// A file that was rendered.
pub type Rendered = MadeBytes<Vec<String>>;

/// A listing picture with the words on it.
pub type Taken = MadeBytes<Vec<Words>>;

impl<N: BorshSerialize + BorshDeserialize + Send + Sync + 'static> Value for MadeBytes<N> {
    const IS_KEPT: bool = true;

    fn weight(&self) -> usize {
        self.bytes.len()
    }

    fn to_disk(&self) -> Option<Vec<u8>> {
        let mut form = borsh::to_vec(&(self.bytes.sha256(), &self.said)).ok()?;
        form.extend_from_slice(&self.bytes);
        Some(form)
    }

    fn from_disk(mut form: &[u8]) -> Option<Self> {
        let (sha256, said) = BorshDeserialize::deserialize(&mut form).ok()?;
        // What lies on the disk is only handed out whole, so the digest that was put in is that of these bytes.
        Some(MadeBytes { bytes: Blob::known(form.to_vec(), sha256), said })
    }
}

/// Pictures as pixels, each with a measure that its task gives a meaning, and what there is to say.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Pictures {
    /// The pictures.
    pub pictures: Vec<(Arc<Picture>, f64)>,
    /// What there is to say.
    pub said: Vec<String>,
}

/// A picture on the disk, its pixels apart.
#[derive(BorshSerialize, BorshDeserialize)]
struct Head {
    name: String,
    width: u32,
    height: u32,
    sha256: Sha,
    measure: f64,
    pixels: Vec<u8>,
}

impl Value for Pictures {
    fn weight(&self) -> usize {
        self.pictures.iter().map(|(picture, _)| picture.rgba.weight()).sum()
    }

    fn to_disk(&self) -> Option<Vec<u8>> {
        let head = |(picture, measure): &(Arc<Picture>, f64)| Head {
            name: picture.name.clone(),
            width: picture.width,
            height: picture.height,
            sha256: picture.rgba.sha256(),
            measure: *measure,
            pixels: picture.rgba.form().into_owned(),
        };
        let heads: Vec<Head> = self.pictures.par_iter().map(head).collect();
        borsh::to_vec(&(heads, &self.said)).ok()
    }

    fn from_disk(form: &[u8]) -> Option<Self> {
        let (heads, said): (Vec<Head>, Vec<String>) = borsh::from_slice(form).ok()?;
        let picture = |head: Head| {
            let Head { name, width, height, sha256, measure, pixels } = head;
            let rgba = Pixels::small(pixels, sha256)?;
            let whole = rgba.len() as u64 == u64::from(width) * u64::from(height) * 4;
            whole.then(|| (Arc::new(Picture { name, width, height, rgba }), measure))
        };
        let pictures: Option<Vec<_>> = heads.into_iter().map(picture).collect();
        Some(Pictures { pictures: pictures?, said })
    }
}

/// What is known of a file.
impl Value for Facts {
    const IS_KEPT: bool = true;

    fn weight(&self) -> usize {
        match self {
            // About what a page with twenty links takes.
            Facts::Pdf(pdf) => pdf.pages.len() * 8192,
            Facts::Text(text) => text.text.len(),
            Facts::Zip(zip) => zip.entries.len() * 512,
            _ => 1024,
        }
    }

    fn to_disk(&self) -> Option<Vec<u8>> {
        // A text is read as quickly as what is known of it.
        if matches!(self, Facts::Text(_) | Facts::Unreadable(_)) { None } else { packed(self) }
    }

    fn from_disk(form: &[u8]) -> Option<Self> {
        unpacked(form)
    }
}

/// What each page of a PDF draws.
#[derive(Clone, Debug, PartialEq, BorshSerialize, BorshDeserialize)]
pub struct Fingerprints(pub Arc<Vec<PageFingerprint>>);

impl Value for Fingerprints {
    fn weight(&self) -> usize {
        self.0.len() * 1024
    }

    fn to_disk(&self) -> Option<Vec<u8>> {
        packed(self)
    }

    fn from_disk(form: &[u8]) -> Option<Self> {
        unpacked(form)
    }
}

/// A picture for the proof, as the address that holds it; `None` of what cannot be drawn.
impl Value for Option<String> {
    fn weight(&self) -> usize {
        self.as_ref().map_or(0, String::len)
    }

    fn to_disk(&self) -> Option<Vec<u8>> {
        self.as_ref().map(|text| text.clone().into_bytes())
    }

    fn from_disk(form: &[u8]) -> Option<Self> {
        String::from_utf8(form.to_vec()).ok().map(Some)
    }
}

/// Whether a file gains by deflate.
impl Value for bool {}

/// Pixels of a file.
impl Value for Picture {
    fn weight(&self) -> usize {
        self.rgba.weight()
    }
}

/// Texts.
impl Value for Vec<Artifact> {
    fn weight(&self) -> usize {
        self.iter().map(|file| file.bytes.len()).sum()
    }
}

/// Uploads.
impl Value for Packing {
    fn weight(&self) -> usize {
        self.uploads.iter().map(|file| file.bytes.len()).sum()
    }
}

/// What changed between two versions.
impl Value for Comparison {
    fn weight(&self) -> usize {
        self.differences.len() * 512
    }
}

/// A value in its canonical form, deflated.
pub fn packed(value: &impl BorshSerialize) -> Option<Vec<u8>> {
    borsh::to_vec(value).ok().map(|form| deflated(&form))
}

/// What was packed so.
pub fn unpacked<T: BorshDeserialize>(form: &[u8]) -> Option<T> {
    borsh::from_slice(&inflated(form)?).ok()
}
