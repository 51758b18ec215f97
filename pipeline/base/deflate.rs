//! Bytes deflated: as small as a file wants them, or held for a while, as quickly as can be, their number in front.

use libdeflater::{CompressionLvl, Compressor, Decompressor};

/// The quickest level that makes anything smaller: the library calls 0, which only stores, its fastest.
const LEVEL: i32 = 1;

/// What the form of a few bytes may claim to unfold to: 4 GiB.
const MOST: usize = 1 << 32;

/// Up to this many bytes the last per cent of a file is worth its time; what is larger is pictures of a thousand pixels and more.
const SMALL: usize = 4 << 20;

/// The same for rows of a painted picture, which take several times as long as anything flat: beyond, they are packed in a
/// quarter of the time and are a twentieth larger.
const SMALL_ROWS: usize = 1 << 20;

/// Data in the zlib format (RFC 1950), as a file holds them.
pub fn zlib(data: &[u8]) -> Vec<u8> {
    packed(data, if data.len() <= SMALL { 9 } else { 7 })
}

/// The same for the rows of a painted picture, each as its difference from what is beside and above it.
pub fn zlib_rows(rows: &[u8]) -> Vec<u8> {
    packed(rows, if rows.len() <= SMALL_ROWS { 9 } else { 7 })
}

/// The same for a first look: a tenth of the time for a tenth more bytes.
pub fn zlib_rows_in_haste(rows: &[u8]) -> Vec<u8> {
    packed(rows, LEVEL)
}

fn packed(data: &[u8], level: i32) -> Vec<u8> {
    let mut packer = Compressor::new(CompressionLvl::new(level).unwrap_or_default());
    let mut out = vec![0; packer.zlib_compress_bound(data.len())];
    // The bound is what the library itself promises to be enough; without room the data would go out plain.
    let used = packer.zlib_compress(data, &mut out).expect("the stated bound is enough");
    out.truncate(used);
    // Hundreds of pictures wait for their file: not in the room that each might have taken.
    out.shrink_to_fit();
    out
}

/// Bytes deflated as quickly as can be, their number in front.
pub fn deflated(bytes: &[u8]) -> Vec<u8> {
    let mut deflate = Compressor::new(CompressionLvl::new(LEVEL).unwrap_or_default());
    let mut out = (bytes.len() as u64).to_le_bytes().to_vec();
    let begun = out.len();
    out.resize(begun + deflate.deflate_compress_bound(bytes.len()), 0);
    // The room is as large as it can ever have to be.
    let length = deflate.deflate_compress(bytes, &mut out[begun..]).unwrap_or(0);
    out.truncate(begun + length);
    out.shrink_to_fit();
    out
}

/// How many bytes such a form stands for; `None` for anything else.
pub fn length(form: &[u8]) -> Option<usize> {
    let (length, _) = form.split_first_chunk::<8>()?;
    usize::try_from(u64::from_le_bytes(*length)).ok().filter(|n| *n < MOST)
}

/// The bytes; `None` for what was not deflated so.
pub fn inflated(form: &[u8]) -> Option<Vec<u8>> {
    let mut out = vec![0; length(form)?];
    let found = Decompressor::new().deflate_decompress(form.get(8..)?, &mut out).ok()?;
    (found == out.len()).then_some(out)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn what_repeats_itself_becomes_small() {
        assert!(deflated(&[7; 40_000]).len() < 400);
    }

    proptest! {
        #[test]
        fn bytes_come_back_and_nothing_else_is_taken_for_them(
            bytes in prop::collection::vec(0u8..4, 0..3000),
            cut in 1usize..9,
        ) {
            let form = deflated(&bytes);
            prop_assert_eq!(length(&form), Some(bytes.len()));
            prop_assert_eq!(inflated(&form), Some(bytes));
            let shorter = &form[..form.len().saturating_sub(cut)];
            prop_assert_eq!(inflated(shorter), None);
        }
    }
}
