//! Pixels of a picture: as they are, or held small until somebody looks at them.

mod folded;

use super::blob::{Blob, Sha};
use borsh::BorshSerialize;
use borsh::io;
use folded::{folded, length, unfolded};
use std::borrow::Cow;

/// 8-bit sRGB with straight alpha, row by row, 4 bytes a pixel. A copy shares them.
///
/// Hundreds of finished stickers wait for their sheets and the guide: held small, they take a thirtieth of the memory. In a
/// key they stand as their digest, whichever way they are held.
#[derive(Clone, Debug)]
pub struct Pixels(Form);

#[derive(Clone, Debug)]
enum Form {
    Whole(Blob),
    /// Folded, and the digest of what that stands for.
    Small(Blob, Sha),
    /// In the file that they came from.
    Filed(Blob, Filed),
}

/// What is known of pixels that lie in a file, and how they are read from it.
#[derive(Clone, Copy, Debug)]
struct Filed {
    read: Read,
    len: usize,
    sha256: Sha,
}

/// Gives the pixels of a file; `None` if it holds none.
pub type Read = fn(&[u8]) -> Option<Vec<u8>>;

impl Pixels {
    /// Pixels held small: in the form that they have then, with their digest. `None` if it is not such a form.
    pub fn small(form: Vec<u8>, sha256: Sha) -> Option<Pixels> {
        length(&form)?;
        Some(Pixels(Form::Small(form.into(), sha256)))
    }

    /// The same pixels, left in the file that they were read from, which is held anyway: a sheet of drawings takes hundreds of
    /// megabytes otherwise, and is looked at once.
    #[must_use]
    pub fn left_in(&self, file: Blob, read: Read) -> Pixels {
        Pixels::filed(file, read, self.len(), self.sha256())
    }

    /// So many bytes of pixels with this digest, which are read from the file when they are looked at.
    pub fn filed(file: Blob, read: Read, len: usize, sha256: Sha) -> Pixels {
        Pixels(Form::Filed(file, Filed { read, len, sha256 }))
    }

    /// The same pixels held small.
    #[must_use]
    pub fn held_small(&self) -> Pixels {
        match &self.0 {
            Form::Whole(bytes) => Pixels(Form::Small(folded(bytes).into(), bytes.sha256())),
            Form::Small(..) | Form::Filed(..) => self.clone(),
        }
    }

    /// The form that is held small.
    pub fn form(&self) -> Cow<'_, [u8]> {
        match &self.0 {
            Form::Small(form, _) => Cow::Borrowed(form),
            Form::Whole(_) | Form::Filed(..) => Cow::Owned(folded(&self.bytes())),
        }
    }

    /// The bytes of the pixels. Those that are held small or lie in a file are unfolded for whoever asks, and not kept.
    pub fn bytes(&self) -> Cow<'_, [u8]> {
        match &self.0 {
            Form::Whole(bytes) => Cow::Borrowed(bytes),
            // A form that does not unfold was damaged after it was read: nothing is drawn of it.
            Form::Small(form, _) => Cow::Owned(unfolded(form).unwrap_or_default()),
            // It was read once, and its bytes are the same.
            Form::Filed(file, Filed { read, .. }) => Cow::Owned(read(file).unwrap_or_default()),
        }
    }

    /// The bytes by themselves; copied only where somebody else has them too.
    pub fn into_vec(self) -> Vec<u8> {
        match self.0 {
            Form::Whole(bytes) => bytes.into_vec(),
            Form::Small(..) | Form::Filed(..) => self.bytes().into_owned(),
        }
    }

    /// How many bytes they are.
    pub fn len(&self) -> usize {
        match &self.0 {
            Form::Whole(bytes) => bytes.len(),
            Form::Small(form, _) => length(form).unwrap_or(0),
            Form::Filed(_, Filed { len, .. }) => *len,
        }
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// How many bytes they take in memory.
    pub fn weight(&self) -> usize {
        match &self.0 {
            Form::Whole(bytes) => bytes.len(),
            Form::Small(form, _) => form.len(),
            // The file is held by whoever read it.
            Form::Filed(..) => 0,
        }
    }

    /// SHA-256 of the bytes.
    pub fn sha256(&self) -> Sha {
        match &self.0 {
            Form::Whole(bytes) => bytes.sha256(),
            Form::Small(_, sha256) | Form::Filed(_, Filed { sha256, .. }) => *sha256,
        }
    }
}

impl Default for Pixels {
    fn default() -> Pixels {
        Pixels(Form::Whole(Blob::default()))
    }
}

impl From<Vec<u8>> for Pixels {
    fn from(bytes: Vec<u8>) -> Pixels {
        Pixels(Form::Whole(bytes.into()))
    }
}

impl FromIterator<u8> for Pixels {
    fn from_iter<I: IntoIterator<Item = u8>>(bytes: I) -> Pixels {
        Vec::from_iter(bytes).into()
    }
}

impl PartialEq for Pixels {
    fn eq(&self, other: &Pixels) -> bool {
        match (&self.0, &other.0) {
            (Form::Whole(a), Form::Whole(b)) => a == b,
            _ => self.len() == other.len() && self.sha256() == other.sha256(),
        }
    }
}

impl Eq for Pixels {}

impl BorshSerialize for Pixels {
    fn serialize<W: io::Write>(&self, writer: &mut W) -> io::Result<()> {
        self.sha256().serialize(writer)
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    #[test]
    fn the_way_in_which_pixels_are_held_changes_nothing_but_their_weight() {
        let bytes: Vec<u8> = (0..40_000u32).map(|i| (i / 900) as u8).collect();
        let whole = Pixels::from(bytes.clone());
        let small = whole.held_small();
        assert_eq!(small, whole);
        assert_eq!((small.len(), small.sha256(), small.bytes()), (whole.len(), whole.sha256(), whole.bytes()));
        assert_eq!(borsh::to_vec(&small).unwrap(), borsh::to_vec(&whole).unwrap());
        assert_eq!(small.form(), whole.form());
        assert_eq!(Pixels::small(small.form().into_owned(), small.sha256()), Some(whole.clone()));
        assert!(small.weight() * 10 < whole.weight());
        assert_eq!(small.clone().into_vec(), bytes);
        let other = Pixels::from(vec![1; 40_000]);
        assert!(other != small && other != whole && other.held_small() != small);
        assert_eq!(Pixels::small(vec![1, 2, 3], small.sha256()), None);

        let filed = whole.left_in(bytes.iter().rev().copied().collect::<Vec<u8>>().into(), |file| {
            Some(file.iter().rev().copied().collect())
        });
        assert_eq!((filed.len(), filed.sha256(), filed.bytes()), (whole.len(), whole.sha256(), whole.bytes()));
        assert_eq!(borsh::to_vec(&filed).unwrap(), borsh::to_vec(&whole).unwrap());
        assert!(filed == whole && filed == small && filed != other);
        assert_eq!((filed.form(), filed.weight()), (whole.form(), 0));
        assert_eq!(filed.held_small().into_vec(), bytes);
    }
}
