//! Web fonts (WOFF and WOFF2, W3C Recommendations) as the font files that they were packed from.

use base::model::{Blob, panics};
use flate2::{Decompress, FlushDecompress, Status};

/// A font file has at most so many bytes once it is unpacked; the largest that cover a whole language have about 20 MB.
pub const MOST_BYTES: usize = 64 << 20;

/// The font file within a web font; any other file as it is.
///
/// # Errors
/// What is wrong with a web font that is damaged, or larger than [`MOST_BYTES`] when it is unpacked.
pub fn unpacked(bytes: Blob) -> Result<Blob, String> {
    let two = match bytes.get(..4) {
        Some(b"wOFF") => false,
        Some(b"wOF2") => true,
        _ => return Ok(bytes),
    };
    let told = declared(&bytes, two).ok_or("it is cut off")?;
    if told > MOST_BYTES as u64 {
        return Err(too_large());
    }
    // The library ends at what the tables declare by themselves; the sum of that is looked at here for the older form.
    let unpack = || {
        let mut room = MOST_BYTES;
        if two {
            wuff::decompress_woff2(&bytes).map_err(|e| e.to_string())
        } else {
            wuff::decompress_woff1_with_custom_z(&bytes, &mut |packed, size| {
                let size = size.min(room);
                let out = inflated(packed, size).ok_or("a table is damaged or larger than it says")?;
                room -= out.len();
                Ok(out)
            })
            .map_err(|e| e.to_string())
        }
    };
    // What the library for WOFF2 takes for a bomb; deflate packs no tighter than a thousand to one.
    let most = if two { 100 } else { 1000 };
    match panics::caught(unpack) {
        Ok(Ok(out)) if out.len() <= MOST_BYTES => Ok(Blob::from(out)),
        Ok(Ok(_)) => Err(too_large()),
        Ok(Err(_)) | Err(_) => Err(format!("it is damaged, or unpacked it would have more than {most} times its size")),
    }
}

fn too_large() -> String {
    format!("unpacked it would have more than {} MB, which is the limit", MOST_BYTES >> 20)
}

/// What the file says of its own size when unpacked: the tables together. The sizes of WOFF stand in its directory; those of
/// WOFF2 are the library's to add up, which ends at a hundred times the file.
fn declared(bytes: &[u8], two: bool) -> Option<u64> {
    let word = |at: usize| Some(u32::from_be_bytes(bytes.get(at..at + 4)?.try_into().ok()?));
    let whole = u64::from(word(16)?);
    if two {
        return Some(whole);
    }
    let tables = usize::from(u16::from_be_bytes(bytes.get(12..14)?.try_into().ok()?));
    (0..tables).try_fold(0, |sum, n| Some(sum + u64::from(word(44 + 20 * n + 12)?))).map(|sum: u64| sum.max(whole))
}

/// A table of a WOFF, which has exactly the size that the directory states.
fn inflated(packed: &[u8], size: usize) -> Option<Vec<u8>> {
    let mut out = Vec::with_capacity(size);
    let status = Decompress::new(true).decompress_vec(packed, &mut out, FlushDecompress::Finish).ok()?;
    (status == Status::StreamEnd && out.len() == size).then_some(out)
}
