//! Pixels in a small form: deflated as quickly as can be, painted ones as the steps from each to the next, which are small numbers.

use crate::deflate::{deflated, inflated};

/// Stands before the deflated bytes of pixels as they are.
const PLAIN: u8 = 0;
/// The same of steps.
const STEPS: u8 = 1;
/// One pixel in so many is looked at.
const LOOK: usize = 7;

/// The small form of RGBA pixels.
pub fn folded(bytes: &[u8]) -> Vec<u8> {
    let (kind, small) = if painted(bytes) { (STEPS, deflated(&steps(bytes))) } else { (PLAIN, deflated(bytes)) };
    let mut out = Vec::with_capacity(small.len() + 1);
    out.push(kind);
    out.extend(small);
    out
}

/// The pixels of such a form; `None` for anything else.
pub fn unfolded(form: &[u8]) -> Option<Vec<u8>> {
    let (kind, small) = form.split_first()?;
    let mut bytes = inflated(small)?;
    match *kind {
        PLAIN => Some(bytes),
        STEPS => {
            sum_up(&mut bytes);
            Some(bytes)
        }
        _ => None,
    }
}

/// How many bytes such a form stands for; `None` for anything else.
pub fn length(form: &[u8]) -> Option<usize> {
    let (kind, small) = form.split_first()?;
    crate::deflate::length(small).filter(|_| matches!(*kind, PLAIN | STEPS))
}

/// Whether a quarter of the pixels that are seen differ from the one before: flat shapes are better left alone.
fn painted(bytes: &[u8]) -> bool {
    let (pixels, rest) = bytes.as_chunks::<4>();
    let (mut met, mut changes) = (0, 0);
    for two in pixels.windows(2).step_by(LOOK).filter(|two| two[1][3] > 0) {
        met += 1;
        changes += usize::from(two[0] != two[1]);
    }
    rest.is_empty() && changes * 4 > met
}

/// Each pixel as its difference from the one before, channel by channel.
fn steps(bytes: &[u8]) -> Vec<u8> {
    let mut out = bytes.to_vec();
    for (step, before) in out.iter_mut().skip(4).zip(bytes) {
        *step = step.wrapping_sub(*before);
    }
    out
}

/// The way back.
fn sum_up(steps: &mut [u8]) {
    let mut before = [0u8; 4];
    for pixel in steps.as_chunks_mut::<4>().0 {
        for (value, before) in pixel.iter_mut().zip(&mut before) {
            *before = before.wrapping_add(*value);
            *value = *before;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn painted_pixels_become_much_smaller_as_steps_and_flat_ones_stay_plain() {
        let wash: Vec<u8> = (0..90_000u32)
            .flat_map(|i| [(i % 300 / 2) as u8, (i / 300) as u8, (i % 300 + i / 300) as u8, 255])
            .collect();
        let flat: Vec<u8> = (0..90_000u32).flat_map(|i| if i % 300 < 140 { [9, 80, 7, 255] } else { [0; 4] }).collect();
        assert_eq!((folded(&wash)[0], folded(&flat)[0]), (STEPS, PLAIN));
        assert!(folded(&wash).len() * 3 < deflated(&wash).len());
    }

    proptest! {
        #[test]
        fn pixels_come_back_and_nothing_else_is_taken_for_them(
            bytes in prop::collection::vec(any::<u8>(), 0..3000),
            soft: bool,
            cut in 1usize..9,
        ) {
            // Noise is painted all over; half of the runs are soft, as a wash is.
            let bytes: Vec<u8> = bytes.iter().enumerate().map(|(i, b)| if soft { (i / 4) as u8 ^ (b & 1) } else { *b }).collect();
            let form = folded(&bytes);
            prop_assert_eq!(length(&form), Some(bytes.len()));
            prop_assert_eq!(unfolded(&form), Some(bytes));
            prop_assert_eq!(unfolded(&form[..form.len().saturating_sub(cut)]), None);
            let other = [&[2], &form[1..]].concat();
            prop_assert_eq!((length(&other), unfolded(&other)), (None, None));
        }
    }
}
