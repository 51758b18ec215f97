//! Numbers that look as if they were drawn by lot, and are the same on every machine.

/// A number from 0 to 1 for a place and what it is for.
pub fn lot(x: usize, y: usize, seed: u64) -> f64 {
    // The finish of the generator splitmix64 (S. Vigna, public domain), with places mixed in.
    let mut z = seed
        .wrapping_add((x as u64).wrapping_mul(0x9e37_79b9_7f4a_7c15))
        .wrapping_add((y as u64).wrapping_mul(0xd1b5_4a32_d192_ed03));
    z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    ((z ^ (z >> 31)) >> 11) as f64 / (1u64 << 53) as f64
}
