//! A frame of a film: brightness at each pixel, two colours at every second one of every second row.

use crate::pictures::compose::Still;

/// How much darker a page gets beside the edge of the one that turns over it, at most, and how far in widths of the page.
const SHADE: f64 = 0.22;
const REACH: f64 = 0.035;

/// A frame as H.264 takes it: ITU-R BT.709 with 16 for black and 235 for white. Its sides are even.
#[cfg_attr(not(feature = "film"), allow(dead_code))]
pub struct Frame {
    /// Width in pixels.
    pub w: usize,
    /// Height in pixels.
    pub h: usize,
    /// Brightness.
    pub luma: Vec<u8>,
    /// How blue.
    pub blue: Vec<u8>,
    /// How red.
    pub red: Vec<u8>,
}

impl Frame {
    /// The frame that shows a picture.
    pub fn of(still: &Still) -> Frame {
        Frame::from_rgb(&still.rgb, still.width as usize, still.height as usize)
    }

    /// Sums of whole numbers, so that every machine finds the same. The coefficients of BT.709-6, 3.2 and 3.3, in 65,536ths and
    /// for the narrower range (3.5).
    fn from_rgb(rgb: &[u8], w: usize, h: usize) -> Frame {
        let luma = |[r, g, b]: [i32; 3]| (11_966 * r + 40_254 * g + 4_064 * b + (16 << 16) + (1 << 15)) >> 16;
        let colour = |c: [i32; 3], part: i32, scale: i32| {
            // Four pixels at once, so everything is four times as large; the scale makes it a 262,144th.
            let y = 13_933 * c[0] + 46_871 * c[1] + 4_732 * c[2];
            let difference = i64::from(part) * 65_536 - i64::from(y);
            let scaled = (difference * i64::from(scale)) >> 16;
            ((scaled + (128 << 18) + (1 << 17)) >> 18).clamp(16, 240) as u8
        };
        let at = |x: usize, y: usize| -> [i32; 3] {
            let i = (y * w + x) * 3;
            [0, 1, 2].map(|c| rgb.get(i + c).copied().map_or(255, i32::from))
        };
        let mut out = Frame { w, h, luma: Vec::with_capacity(w * h), blue: Vec::new(), red: Vec::new() };
        out.luma.extend(rgb.as_chunks::<3>().0.iter().map(|p| luma(p.map(i32::from)).clamp(16, 235) as u8));
        for y in (0..h).step_by(2) {
            for x in (0..w).step_by(2) {
                let four = [at(x, y), at(x + 1, y), at(x, y + 1), at(x + 1, y + 1)];
                let sum = [0, 1, 2].map(|c| four.iter().map(|p| p[c]).sum::<i32>());
                // 224 / 255 / 1.8556 and 224 / 255 / 1.5748 in 65,536ths.
                out.blue.push(colour(sum, sum[2], 31_024));
                out.red.push(colour(sum, sum[0], 36_556));
            }
        }
        out
    }
}

/// A page on its way over the one before it: `part` of it has come, from 0 to 1. What lies beside the page stays.
pub fn turned(before: &Still, after: &Still, part: f64, from_right: bool) -> Frame {
    let (w, h) = (after.width as usize, after.height as usize);
    let whole = [0.0, 0.0, w as f64, h as f64];
    let area = after.page.or(before.page).unwrap_or(whole);
    let side = |v: f64, most: usize| (v.round().max(0.0) as usize).min(most);
    let (left, top) = (side(area[0], w), side(area[1], h));
    let (right, bottom) = (side(area[2], w).max(left), side(area[3], h).max(top));
    let wide = right - left;
    let come = side(part * wide as f64, wide);
    let reach = (wide as f64 * REACH).max(1.0);
    // What is beside and above the page changes at once: a cover lies otherwise than a paper.
    let mut rgb = after.rgb.clone();
    for y in top..bottom {
        let row = (y * w + left) * 3..(y * w + right) * 3;
        let (Some(old), Some(new)) = (before.rgb.get(row.clone()), after.rgb.get(row.clone())) else { continue };
        let Some(out) = rgb.get_mut(row) else { continue };
        for (x, pixel) in out.as_chunks_mut::<3>().0.iter_mut().enumerate() {
            // Counted from the side that the page comes from.
            let along = if from_right { wide - 1 - x } else { x };
            if along < come {
                let from = if from_right { x + come - wide } else { x + wide - come };
                pixel.copy_from_slice(&new[from * 3..from * 3 + 3]);
            } else {
                let near = 1.0 - (along - come) as f64 / reach;
                let light = 1.0 - SHADE * near.max(0.0) * near.max(0.0) * (1.0 - part);
                for (p, c) in pixel.iter_mut().zip(&old[x * 3..x * 3 + 3]) {
                    *p = (f64::from(*c) * light).round() as u8;
                }
            }
        }
    }
    Frame::from_rgb(&rgb, w, h)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plain(colour: [u8; 3], w: u32, h: u32) -> Still {
        let rgb = colour.repeat((w * h) as usize);
        Still {
            width: w,
            height: h,
            rgb,
            words: Vec::new(),
            page: Some([2.0, 2.0, f64::from(w) - 2.0, f64::from(h) - 2.0]),
        }
    }

    /// The ends of the range and the corners of the cube of colours, as ITU-R BT.709-6 (3.2, 3.3, 3.5) gives them, reckoned by hand with
    /// its formulas to whole steps.
    #[test]
    fn colours_are_those_of_the_standard() {
        let corners = [
            ([0, 0, 0], [16, 128, 128]),
            ([255, 255, 255], [235, 128, 128]),
            ([255, 0, 0], [63, 102, 240]),
            ([0, 255, 0], [173, 42, 26]),
            ([0, 0, 255], [32, 240, 118]),
            ([255, 255, 0], [219, 16, 138]),
            ([0, 255, 255], [188, 154, 16]),
            ([255, 0, 255], [78, 214, 230]),
            ([128, 128, 128], [126, 128, 128]),
        ];
        for (rgb, wanted) in corners {
            let frame = Frame::of(&plain(rgb, 4, 2));
            assert_eq!((frame.luma.len(), frame.blue.len(), frame.red.len()), (8, 2, 2));
            assert_eq!([frame.luma[5], frame.blue[1], frame.red[0]], wanted, "{rgb:?}");
        }
    }

    #[test]
    fn a_page_comes_from_its_side_and_leaves_what_is_beside_it() {
        let (old, new) = (plain([255, 255, 255], 64, 32), plain([0, 0, 0], 64, 32));
        let row = |part, from_right| turned(&old, &new, part, from_right).luma[64 * 16..64 * 17].to_vec();
        // The page goes from 2 to 62; half of it are 30 pixels.
        let right = row(0.5, true);
        assert!(right[2..28].iter().all(|y| *y == 235) && right[32..62].iter().all(|y| *y == 16), "{right:?}");
        assert!(right[31] < 225, "no shade beside the edge: {right:?}");
        let mut left = row(0.5, false);
        left.reverse();
        assert_eq!(left, right);
        assert_eq!(row(1.0, true), Frame::of(&new).luma[64 * 16..64 * 17]);
    }
}
