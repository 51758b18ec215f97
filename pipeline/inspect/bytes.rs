//! Small helpers for looking at raw bytes.

use sha2::{Digest, Sha256};

/// Where `needle` first occurs.
pub fn find(hay: &[u8], needle: &[u8]) -> Option<usize> {
    let (first, rest) = needle.split_first()?;
    let mut at = 0;
    loop {
        at += hay.get(at..)?.iter().position(|b| b == first)? + 1;
        if hay[at..].starts_with(rest) {
            return Some(at - 1);
        }
    }
}

/// Where `needle` last occurs.
pub fn find_last(hay: &[u8], needle: &[u8]) -> Option<usize> {
    hay.windows(needle.len()).rposition(|w| w == needle)
}

/// Little-endian number of two bytes at an offset.
pub fn u16_le(bytes: &[u8], at: usize) -> Option<u16> {
    Some(u16::from_le_bytes(bytes.get(at..at + 2)?.try_into().ok()?))
}

/// Little-endian number of four bytes at an offset.
pub fn u32_le(bytes: &[u8], at: usize) -> Option<u32> {
    Some(u32::from_le_bytes(bytes.get(at..at + 4)?.try_into().ok()?))
}

/// Little-endian number of eight bytes at an offset.
pub fn u64_le(bytes: &[u8], at: usize) -> Option<u64> {
    Some(u64::from_le_bytes(bytes.get(at..at + 8)?.try_into().ok()?))
}

/// Big-endian number of two bytes at an offset.
pub fn u16_be(bytes: &[u8], at: usize) -> Option<u16> {
    Some(u16::from_be_bytes(bytes.get(at..at.checked_add(2)?)?.try_into().ok()?))
}

/// Big-endian number of four bytes at an offset.
pub fn u32_be(bytes: &[u8], at: usize) -> Option<u32> {
    Some(u32::from_be_bytes(bytes.get(at..at + 4)?.try_into().ok()?))
}

/// Big-endian number of eight bytes at an offset.
pub fn u64_be(bytes: &[u8], at: usize) -> Option<u64> {
    Some(u64::from_be_bytes(bytes.get(at..at.checked_add(8)?)?.try_into().ok()?))
}

/// SHA-256 in lower-case hex.
pub fn sha256(bytes: &[u8]) -> String {
    hex(&Sha256::digest(bytes))
}

/// Bytes in lower-case hex.
pub fn hex(bytes: &[u8]) -> String {
    const DIGITS: &[u8; 16] = b"0123456789abcdef";
    bytes.iter().flat_map(|b| [DIGITS[usize::from(b >> 4)] as char, DIGITS[usize::from(b & 15)] as char]).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn needles_are_found() {
        assert_eq!(find(b"aab aab", b"ab"), Some(1));
        assert_eq!(find_last(b"aab aab", b"ab"), Some(5));
        assert_eq!(find(b"aa", b"aaa"), None);
        assert_eq!(find(b"", b"a"), None);
    }
}
