//! Exact Euclidean distances: for every pixel, the nearest pixel of a set and how far it is.
//!
//! Two passes over the picture, by the method of Meijster, Roerdink and Hesselink (2000): down each column to the
//! nearest member above or below, then along each row over the lower envelope of the parabolas that the columns
//! give. Integers throughout, so that "exact" means exact; the time is proportional to the number of pixels.

/// The nearest member of a set for every pixel.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Nearest {
    /// Width in pixels.
    pub w: usize,
    /// Height in pixels.
    pub h: usize,
    /// Column and row of the nearest member, row by row.
    pub of: Vec<[u32; 2]>,
}

impl Nearest {
    /// The nearest members; `None` when the set is empty.
    pub fn to(w: usize, h: usize, member: impl Fn(usize) -> bool) -> Option<Nearest> {
        let rows = columns(w, h, member)?;
        let mut of = vec![[0; 2]; w * h];
        let mut hull: Vec<(usize, i64)> = Vec::with_capacity(w);
        for y in 0..h {
            let row = &rows[y * w..(y + 1) * w];
            // Squared vertical distance of a column's nearest member; `None` for a column without one.
            let up = |x: usize| (row[x] != NONE).then(|| (row[x] as i64 - y as i64).pow(2));
            hull.clear();
            for x in 0..w {
                let Some(g) = up(x) else { continue };
                // The first pixel from which column x is nearer than the last column of the hull.
                let mut from = 0;
                while let Some(&(last, start)) = hull.last() {
                    let gl = up(last).unwrap_or(0);
                    let (a, b) = (last as i64, x as i64);
                    from = (b * b - a * a + g - gl).div_euclid(2 * (b - a)) + 1;
                    if from > start {
                        break;
                    }
                    hull.pop();
                    from = 0;
                }
                if from < w as i64 {
                    hull.push((x, from));
                }
            }
            let mut i = 0;
            for (x, cell) in of[y * w..(y + 1) * w].iter_mut().enumerate() {
                while i + 1 < hull.len() && hull[i + 1].1 <= x as i64 {
                    i += 1;
                }
                let column = hull[i].0;
                *cell = [column as u32, row[column]];
            }
        }
        Some(Nearest { w, h, of })
    }

    /// Squared distance between the middles of a pixel and of its nearest member.
    pub fn squared(&self, i: usize) -> u64 {
        let (x, y) = (i % self.w, i / self.w);
        let [nx, ny] = self.of[i];
        u64::from(nx.abs_diff(x as u32)).pow(2) + u64::from(ny.abs_diff(y as u32)).pow(2)
    }
}

/// Stands for "no member in this column".
const NONE: u32 = u32::MAX;

/// For every pixel the row of the nearest member in its column. `None` when there is no member at all.
fn columns(w: usize, h: usize, member: impl Fn(usize) -> bool) -> Option<Vec<u32>> {
    let mut rows = vec![NONE; w * h];
    let mut any = false;
    for y in 0..h {
        for x in 0..w {
            let i = y * w + x;
            rows[i] = if member(i) {
                any = true;
                y as u32
            } else if y > 0 {
                rows[i - w]
            } else {
                NONE
            };
        }
    }
    for y in (0..h.saturating_sub(1)).rev() {
        let here = y as u32;
        for x in 0..w {
            let (i, below) = (y * w + x, rows[(y + 1) * w + x]);
            // A member at or above this row is known already; only one that lies below is news.
            if below != NONE && below > here && (rows[i] == NONE || below - here < here - rows[i]) {
                rows[i] = below;
            }
        }
    }
    any.then_some(rows)
}
