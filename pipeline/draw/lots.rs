//! Numbers that look as if they were drawn by lot, and are the same on every machine; and square tiles of them that meet
//! without a seam.

/// Pixels on each side of a tile.
pub const SIDE: usize = 256;

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

/// Smooth noise from -1 to 1 that repeats after a tile, of so many knots across and down.
pub fn noise(x: usize, y: usize, [across, down]: [usize; 2], seed: u64) -> f64 {
    let at = |v: usize, knots: usize| {
        let place = v as f64 * knots as f64 / SIDE as f64;
        let (knot, part) = (place.floor() as usize, place.fract());
        (knot % knots, (knot + 1) % knots, part * part * (3.0 - 2.0 * part))
    };
    let ((x0, x1, u), (y0, y1, v)) = (at(x, across), at(y, down));
    let row = |y| lot(x0, y, seed) * (1.0 - u) + lot(x1, y, seed) * u;
    2.0 * (row(y0) * (1.0 - v) + row(y1) * v) - 1.0
}

/// A tile: a number for each of its pixels, row by row.
pub fn each(grain: impl Fn(usize, usize) -> f64) -> Vec<f64> {
    (0..SIDE * SIDE).map(|i| grain(i % SIDE, i / SIDE)).collect()
}
