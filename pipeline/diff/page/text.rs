//! Words and codes of the page.

use crate::model::difference::{Change, Verdict};

/// The rule by which the version number follows from what changed.
pub fn rule(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Same => "Both versions are the same, byte for byte.",
        Verdict::Patch => "Something was mended. Nothing was added, and nothing that older copies have is lost.",
        Verdict::Minor => "Something was added or moved. Nothing that older copies have is lost.",
        Verdict::Major => "Something that older copies have is gone or leads elsewhere.",
    }
}

/// Whether a change adds, takes away, alters, or is not seen at all.
pub fn tone(kind: Change) -> &'static str {
    match kind {
        Change::FileAdded | Change::PageInserted | Change::LinkAdded => "come",
        Change::FileRemoved | Change::PageRemoved | Change::LinkRemoved | Change::LinkRetargeted => "gone",
        Change::StoredDifferently | Change::MetadataChanged | Change::FileRenamed => "quiet",
        _ => "other",
    }
}

/// Base64 with padding (RFC 4648, section 4).
pub fn base64(bytes: &[u8]) -> String {
    const DIGITS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut out = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for three in bytes.chunks(3) {
        let bits = (0..3).fold(0, |bits, i| bits << 8 | u32::from(three.get(i).copied().unwrap_or(0)));
        for i in 0..4 {
            let digit = DIGITS[(bits >> (18 - 6 * i) & 63) as usize] as char;
            out.push(if i > three.len() { '=' } else { digit });
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::base64;

    #[test]
    fn base64_of_the_standard() {
        // Source: RFC 4648, section 10.
        for (plain, coded) in [("", ""), ("f", "Zg=="), ("fo", "Zm8="), ("foo", "Zm9v"), ("foobar", "Zm9vYmFy")] {
            assert_eq!(base64(plain.as_bytes()), coded);
        }
    }
}
