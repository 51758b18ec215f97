//! Two pictures of the same size, pixel by pixel.

/// Where two pictures differ.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Changed {
    /// Pixels that differ.
    pub count: usize,
    /// All pixels.
    pub of: usize,
    /// The box about those that differ: left, top, right, bottom, the last two outside of it.
    pub bounds: [usize; 4],
    /// The greatest difference of a channel, 1 to 255.
    pub greatest: u8,
    /// The mean difference of a channel over the pixels that differ.
    pub mean: f64,
}

impl Changed {
    /// The share that differs, in words.
    pub fn share(&self) -> String {
        let share = 100.0 * self.count as f64 / self.of.max(1) as f64;
        if share < 0.1 { "less than 0.1 %".to_owned() } else { format!("{share:.1} %") }
    }
}

/// Compares pictures with `channels` bytes a pixel; differences up to `slack` in every channel do not count. `None` if
/// nothing differs. Both must hold rows of `width` pixels and be equally long.
pub fn compare(old: &[u8], new: &[u8], width: usize, channels: usize, slack: u8) -> Option<Changed> {
    let mut found = Changed { count: 0, of: 0, bounds: [usize::MAX, usize::MAX, 0, 0], greatest: 0, mean: 0.0 };
    let mut sum = 0u64;
    for (i, (a, b)) in old.chunks_exact(channels).zip(new.chunks_exact(channels)).enumerate() {
        found.of += 1;
        if a == b {
            continue;
        }
        let most = a.iter().zip(b).map(|(p, q)| p.abs_diff(*q)).max().unwrap_or(0);
        if most <= slack {
            continue;
        }
        let (x, y) = (i % width.max(1), i / width.max(1));
        let [left, top, right, bottom] = found.bounds;
        found.bounds = [left.min(x), top.min(y), right.max(x + 1), bottom.max(y + 1)];
        found.count += 1;
        found.greatest = found.greatest.max(most);
        sum += u64::from(most);
    }
    found.mean = sum as f64 / found.count.max(1) as f64;
    (found.count > 0).then_some(found)
}
