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
    pub of: Vec<[u16; 2]>,
}

impl Nearest {
    /// The nearest members; `None` when the set is empty. Sides of up to 30,000 pixels (squares must fit 32 bits).
    pub fn to(w: usize, h: usize, member: impl Fn(usize) -> bool) -> Option<Nearest> {
        let rows = columns(w, h, member)?;
        let mut of = Vec::with_capacity(w * h);
        let mut hull: Vec<(i32, i32)> = Vec::with_capacity(w);
        for (y, row) in rows.chunks_exact(w).enumerate() {
            let y = y as u16;
            // Squared vertical distance of a column's nearest member.
            let up = |x: i32| i32::from(row[x as usize].abs_diff(y)).pow(2);
            let member = |x: usize| row[x] == y;
            hull.clear();
            for (x, found) in row.iter().enumerate() {
                // Amid a run of members a column is nearest to itself only, and that needs no parabola.
                let amid = member(x) && x > 0 && x + 1 < w && member(x - 1) && member(x + 1);
                if *found == NONE || amid {
                    continue;
                }
                let x = x as i32;
                let g = up(x);
                // The first pixel from which column x is nearer than the last column of the hull.
                let mut from = 0;
                while let Some(&(last, start)) = hull.last() {
                    from = (x * x - last * last + g - up(last)).div_euclid(2 * (x - last)) + 1;
                    if from > start {
                        break;
                    }
                    hull.pop();
                    from = 0;
                }
                if from < w as i32 {
                    hull.push((x, from));
                }
            }
            let mut i = 0;
            for x in 0..w {
                while i + 1 < hull.len() && hull[i + 1].1 <= x as i32 {
                    i += 1;
                }
                let column = if member(x) { x } else { hull[i].0 as usize };
                of.push([column as u16, row[column]]);
            }
        }
        Some(Nearest { w, h, of })
    }

    /// Squared distance between the middles of a pixel and of its nearest member.
    pub fn squared(&self, i: usize) -> u64 {
        let (x, y) = (i % self.w, i / self.w);
        let [nx, ny] = self.of[i];
        u64::from(nx.abs_diff(x as u16)).pow(2) + u64::from(ny.abs_diff(y as u16)).pow(2)
    }
}

/// Stands for "no member in this column".
const NONE: u16 = u16::MAX;

/// For every pixel the row of the nearest member in its column. `None` when there is no member at all.
fn columns(w: usize, h: usize, member: impl Fn(usize) -> bool) -> Option<Vec<u16>> {
    let mut rows = vec![NONE; w * h];
    let mut any = false;
    for y in 0..h {
        for x in 0..w {
            let i = y * w + x;
            rows[i] = if member(i) {
                any = true;
                y as u16
            } else if y > 0 {
                rows[i - w]
            } else {
                NONE
            };
        }
    }
    for y in (0..h.saturating_sub(1)).rev() {
        let here = y as u16;
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
