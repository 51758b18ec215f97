//! Bytes that are shared and known by their digest: files, pixels, fonts.

use borsh::BorshSerialize;
use borsh::io;
use sha2::{Digest as _, Sha256};
use std::fmt;
use std::io::{BufWriter, IntoInnerError};
use std::ops::Deref;
use std::sync::{Arc, OnceLock};

/// A SHA-256 (FIPS 180-4).
#[derive(
    Clone, Copy, Default, PartialEq, Eq, Hash, PartialOrd, Ord, borsh::BorshSerialize, borsh::BorshDeserialize,
)]
pub struct Sha([u8; 32]);

impl Sha {
    /// Digest of some bytes.
    pub fn of(bytes: &[u8]) -> Sha {
        Sha(Sha256::digest(bytes).into())
    }

    /// Digest of all that a reader gives: of a file that is not held in memory.
    ///
    /// # Errors
    /// What the reader cannot give.
    pub fn of_read(mut from: impl io::Read) -> io::Result<Sha> {
        let (mut digest, mut piece) = (Sha256::new(), vec![0; 256 << 10]);
        loop {
            match from.read(&mut piece) {
                Ok(0) => return Ok(Sha(digest.finalize().into())),
                Ok(n) => digest.update(&piece[..n]),
                Err(e) if e.kind() == io::ErrorKind::Interrupted => {}
                Err(e) => return Err(e),
            }
        }
    }

    /// Digest of a value in its canonical binary form (borsh): the same for equal values, on every machine and in every
    /// process. A type has such a form by deriving it, so what cannot be told apart does not compile.
    ///
    /// # Errors
    /// A number that is no number (NaN) has no canonical form.
    pub fn of_value(value: &impl BorshSerialize) -> io::Result<Sha> {
        struct Feed(Sha256);
        impl io::Write for Feed {
            fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
                self.0.update(bytes);
                Ok(bytes.len())
            }
            fn flush(&mut self) -> io::Result<()> {
                Ok(())
            }
        }
        // Fields come in pieces of a few bytes; the digest takes them faster in larger ones.
        let mut feed = BufWriter::with_capacity(16 << 10, Feed(Sha256::new()));
        value.serialize(&mut feed)?;
        let Feed(digest) = feed.into_inner().map_err(IntoInnerError::into_error)?;
        Ok(Sha(digest.finalize().into()))
    }

    /// Its 32 bytes.
    pub fn bytes(&self) -> &[u8; 32] {
        &self.0
    }
}

impl From<[u8; 32]> for Sha {
    fn from(bytes: [u8; 32]) -> Sha {
        Sha(bytes)
    }
}

/// 64 lower-case hex digits.
impl fmt::Display for Sha {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().try_for_each(|byte| write!(f, "{byte:02x}"))
    }
}

impl fmt::Debug for Sha {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(self, f)
    }
}

/// Bytes that do not change. A copy shares them; their digest is worked out once, when somebody asks for it.
///
/// In a key they stand as their digest. They cannot be read back from that, so a type with bytes in it says itself how it
/// is kept.
#[derive(Clone, Default)]
pub struct Blob(Arc<Inner>);

#[derive(Default)]
struct Inner {
    bytes: Vec<u8>,
    sha256: OnceLock<Sha>,
}

impl Blob {
    /// Bytes whose digest is known already.
    pub fn known(bytes: Vec<u8>, sha256: Sha) -> Blob {
        Blob(Arc::new(Inner { bytes, sha256: sha256.into() }))
    }

    /// SHA-256 of the bytes.
    pub fn sha256(&self) -> Sha {
        *self.0.sha256.get_or_init(|| Sha::of(&self.0.bytes))
    }

    /// Whether both are the same place in memory, not only equal.
    pub fn is_shared_with(&self, other: &Blob) -> bool {
        Arc::ptr_eq(&self.0, &other.0)
    }

    /// The bytes by themselves; copied only where somebody else has them too.
    pub fn into_vec(self) -> Vec<u8> {
        Arc::try_unwrap(self.0).map_or_else(|shared| shared.bytes.clone(), |own| own.bytes)
    }
}

impl Deref for Blob {
    type Target = [u8];

    fn deref(&self) -> &[u8] {
        &self.0.bytes
    }
}

impl AsRef<[u8]> for Blob {
    fn as_ref(&self) -> &[u8] {
        self
    }
}

impl From<Vec<u8>> for Blob {
    fn from(bytes: Vec<u8>) -> Blob {
        Blob(Arc::new(Inner { bytes, sha256: OnceLock::new() }))
    }
}

impl From<String> for Blob {
    fn from(text: String) -> Blob {
        text.into_bytes().into()
    }
}

impl From<&[u8]> for Blob {
    fn from(bytes: &[u8]) -> Blob {
        bytes.to_vec().into()
    }
}

impl FromIterator<u8> for Blob {
    fn from_iter<I: IntoIterator<Item = u8>>(bytes: I) -> Blob {
        Vec::from_iter(bytes).into()
    }
}

impl PartialEq for Blob {
    fn eq(&self, other: &Blob) -> bool {
        self.is_shared_with(other)
            || match (self.0.sha256.get(), other.0.sha256.get()) {
                (Some(a), Some(b)) => a == b,
                _ => self.0.bytes == other.0.bytes,
            }
    }
}

impl Eq for Blob {}

impl BorshSerialize for Blob {
    fn serialize<W: io::Write>(&self, writer: &mut W) -> io::Result<()> {
        self.sha256().serialize(writer)
    }
}

impl fmt::Debug for Blob {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} bytes {}", self.len(), self.sha256())
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use std::io::{self, Read};

    #[test]
    fn a_blob_is_its_digest_and_shares_its_bytes() {
        let one = Blob::from(b"abc".to_vec());
        // FIPS 180-4, the example of one block.
        let abc = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
        assert_eq!(one.sha256().to_string(), abc);
        assert_eq!(format!("{one:?}"), format!("3 bytes {abc}"));
        assert_eq!(borsh::to_vec(&one).unwrap(), one.sha256().bytes());
        assert!(one.clone().is_shared_with(&one) && one == Blob::from(&b"abc"[..]) && one != Blob::default());
        assert_eq!(one.into_vec(), b"abc");
    }

    #[test]
    fn what_is_read_has_the_digest_of_its_bytes() {
        // FIPS 180-4, the example of a million letters: more than one piece.
        let million = "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0";
        assert_eq!(Sha::of_read(io::repeat(b'a').take(1_000_000)).unwrap().to_string(), million);
        assert_eq!(Sha::of_read(io::empty()).unwrap(), Sha::of(b""));
    }

    #[test]
    fn values_do_not_run_into_each_other() {
        let of = |value: &(&str, &str, Option<f64>)| Sha::of_value(value).unwrap();
        assert_ne!(of(&("ab", "c", None)), of(&("a", "bc", None)));
        assert_ne!(of(&("a", "", Some(0.0))), of(&("a", "", Some(-0.0))));
        assert!(Sha::of_value(&f64::NAN).is_err());
    }
}
