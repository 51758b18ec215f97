//! The grain of papers: tiles that meet without a seam, laid over a paper of any colour.
//!
//! A grain is one colour, more or less of it: darker than a light paper and lighter than a dark one, and never told from it by more
//! than [`LOUDEST`]. What is written, printed and ruled on the paper reads as on a smooth one. Tiles hide what lies below them: where
//! a reader lets two of them overlap by a pixel, nothing is seen twice.

use crate::lots::{SIDE, each, lot, noise};
use base::colour;
use base::model::drawing::{Path, Picture, Shape};
use base::model::look::Grain;
use base::model::units::between;
use base::model::{Drawing, Rgb};
use std::f64::consts::TAU;
use std::sync::Arc;

/// The most that a grain may differ from its paper, as a ratio of contrast (WCAG 2.2, "contrast ratio"): what is
/// written on its strongest pixels loses 6 % of its contrast. Common practice, no source.
pub const LOUDEST: f64 = 1.06;
/// Steps of strength: few of them keep a tile small in a file.
const STEPS: f64 = 8.0;

/// The grain of a paper, ready to be laid.
#[derive(Clone, Debug)]
pub struct Laid {
    picture: Arc<Picture>,
    side: f64,
    mean: Rgb,
}

impl Laid {
    /// The grain on papers of this colour; none of a smooth one.
    pub fn new(grain: Grain, paper: Rgb) -> Option<Laid> {
        // A tile of 256 pixels is two inches wide, so that a pixel is less than is seen at arm's length; clouds are a little larger.
        let (name, tile, side): (_, fn() -> Vec<f64>, f64) = match grain {
            Grain::Smooth => return None,
            Grain::Laid => ("laid paper", laid, 144.0),
            Grain::Flecked => ("flecked paper", flecked, 144.0),
            Grain::ColdPressed => ("cold-pressed paper", cold_pressed, 144.0),
            Grain::Aged => ("aged paper", aged, 180.0),
        };
        let (tone, tile) = (tone(paper, grain), tile());
        let strong = |v: f64| (between(v, 0.0, 1.0) * STEPS).round() / STEPS;
        let colours = tile.iter().map(|v| colour::mix(paper, tone, strong(*v)));
        let rgba: Vec<u8> = colours.flat_map(|Rgb { r, g, b }| [r, g, b, 255]).collect();
        let mean = colour::mix(paper, tone, tile.iter().map(|v| strong(*v)).sum::<f64>() / tile.len() as f64);
        let picture = Picture { name: name.to_owned(), width: SIDE as u32, height: SIDE as u32, rgba: rgba.into() };
        Some(Laid { picture: Arc::new(picture), side, mean })
    }

    /// Lays it within the outline of a paper.
    pub fn lay(&self, d: &mut Drawing, path: Path) {
        d.push(Shape::Tiled { path, picture: self.picture.clone(), side: self.side, ground: self.mean });
    }
}

/// The colour of a grain where it is strongest.
fn tone(paper: Rgb, grain: Grain) -> Rgb {
    let towards = match grain {
        _ if colour::luminance(paper) < 0.18 => Rgb::WHITE,
        // Old paper goes brown.
        Grain::Aged => Rgb::new(0x7d, 0x55, 0x22),
        _ => Rgb::BLACK,
    };
    // Colours of whole numbers lie on either side of what is asked for: the quieter one is taken.
    let told = |ratio: f64| colour::at_contrast(paper, towards, ratio);
    let ratios = (0..=60).map(|step| LOUDEST - f64::from(step) * 0.001);
    ratios.map(told).find(|tone| colour::contrast(paper, *tone) <= LOUDEST).unwrap_or(paper)
}

/// Fine lines across, as the wires of a sieve leave them, and a broader one every inch from head to foot.
fn laid() -> Vec<f64> {
    const LINES: f64 = 51.0;
    each(|x, y| {
        let turn = |n: f64, v: usize, sway: f64| libm::cos(TAU * (n * v as f64 / SIDE as f64 + sway));
        let wires = 0.5 + 0.5 * turn(LINES, y, 0.12 * noise(x, y, [5, 3], 51));
        let chain = between(turn(2.0, x, 0.004 * noise(x, y, [2, 6], 52)) * 40.0 - 38.6, 0.0, 1.0);
        let cloud = 0.5 + 0.5 * noise(x, y, [9, 9], 53);
        wires * (0.3 + 0.3 * cloud) + 0.32 * chain + 0.16 * lot(x, y, 54)
    })
}

/// Fibres and flecks on a fine tooth.
fn flecked() -> Vec<f64> {
    let mut grain = each(|x, y| 0.14 * lot(x, y, 61) + 0.1 * (1.0 + noise(x, y, [70, 70], 62)));
    let mut dab = |x: f64, y: f64, strength: f64| {
        let wrapped = |v: f64| v.rem_euclid(SIDE as f64) as usize % SIDE;
        let v = &mut grain[wrapped(y) * SIDE + wrapped(x)];
        *v = v.max(strength);
    };
    for n in 0..300 {
        let of = |what| lot(n, what, 63);
        let (mut x, mut y, mut way) = (of(0) * SIDE as f64, of(1) * SIDE as f64, of(2) * TAU);
        let (strength, bend) = (0.45 + 0.35 * of(3), (of(4) - 0.5) * 0.22);
        for _ in 0..(3.0 + of(5) * of(5) * 17.0) as usize {
            dab(x, y, strength);
            (x, y, way) = (x + libm::cos(way), y + libm::sin(way), way + bend);
        }
    }
    for n in 0..140 {
        let of = |what| lot(n, what, 64);
        let (x, y, strength) = (of(0) * SIDE as f64, of(1) * SIDE as f64, 0.6 + 0.4 * of(2));
        dab(x, y, strength);
        dab(x + 1.0, y, strength * if of(3) < 0.5 { 1.0 } else { 0.4 });
        dab(x, y + 1.0, strength * 0.5);
    }
    grain
}

/// Low hills under a light from the upper left: their far sides are darker.
fn cold_pressed() -> Vec<f64> {
    let height = |x: usize, y: usize| {
        let (x, y) = (x % SIDE, y % SIDE);
        noise(x, y, [38, 38], 71) + 0.55 * noise(x, y, [71, 71], 72) + 0.3 * noise(x, y, [19, 19], 73)
    };
    each(|x, y| 0.42 + 0.85 * (height(x, y) - height(x + 2, y + 2)) + 0.1 * (lot(x, y, 74) - 0.5))
}

/// Clouds of several sizes, and small spots with soft edges.
fn aged() -> Vec<f64> {
    let mut grain = each(|x, y| {
        let cloud = noise(x, y, [2, 2], 81) + 0.6 * noise(x, y, [5, 4], 82) + 0.35 * noise(x, y, [17, 15], 83);
        0.42 + 0.36 * cloud + 0.08 * noise(x, y, [90, 90], 84) + 0.08 * (lot(x, y, 85) - 0.5)
    });
    for n in 0..46 {
        let of = |what| lot(n, what, 86);
        let (x, y, radius) = (of(0) * SIDE as f64, of(1) * SIDE as f64, 0.9 + 2.6 * of(2) * of(2));
        let reach = radius.ceil() as i32 + 1;
        for (down, along) in (-reach..=reach).flat_map(|d| (-reach..=reach).map(move |a| (f64::from(d), f64::from(a))))
        {
            let far = libm::hypot(down, along) / radius;
            let wrapped = |v: f64| v.rem_euclid(SIDE as f64) as usize % SIDE;
            grain[wrapped(y + down) * SIDE + wrapped(x + along)] += 0.4 * (1.0 - far).max(0.0);
        }
    }
    grain
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use base::model::Rect;
    use proptest::prelude::*;

    const ALL: [Grain; 4] = [Grain::Laid, Grain::Flecked, Grain::ColdPressed, Grain::Aged];

    proptest! {
        /// On papers of every colour: darker ones and lighter ones, and those between.
        #[test]
        fn no_grain_is_louder_than_is_promised((r, g, b) in any::<(u8, u8, u8)>()) {
            for grain in ALL {
                let paper = Rgb::new(r, g, b);
                let ratio = colour::contrast(paper, tone(paper, grain));
                prop_assert!(ratio <= LOUDEST, "{grain:?} on {paper}: {ratio}");
            }
        }
    }

    #[test]
    fn a_grain_is_seen_on_light_and_on_dark_papers() {
        for paper in ["#ffffff", "#fdfbf6", "#f1e6d2", "#20242b", "#101014"].map(|c| Rgb::parse(c).unwrap()) {
            for grain in ALL {
                let ratio = colour::contrast(paper, tone(paper, grain));
                assert!(ratio > 1.03, "{grain:?} on {paper}: {ratio}");
            }
        }
    }

    #[test]
    fn a_grain_is_no_flat_tint() {
        for tile in [laid(), flecked(), cold_pressed(), aged()] {
            let strengths: Vec<f64> = tile.iter().map(|v| between(*v, 0.0, 1.0)).collect();
            let mean = strengths.iter().sum::<f64>() / strengths.len() as f64;
            let spread = strengths.iter().map(|a| (a - mean) * (a - mean)).sum::<f64>() / strengths.len() as f64;
            assert!((0.1..0.6).contains(&mean), "a mean of {mean}");
            assert!((0.08..0.4).contains(&spread.sqrt()), "a spread of {}", spread.sqrt());
        }
    }

    #[test]
    fn tiles_meet_without_a_seam() {
        for tile in [laid(), flecked(), cold_pressed(), aged()] {
            let step = |a: &dyn Fn(usize) -> usize, b: &dyn Fn(usize) -> usize| {
                (0..SIDE).map(|i| (tile[a(i)] - tile[b(i)]).abs()).sum::<f64>() / SIDE as f64
            };
            let down = |y: usize| step(&|x| y * SIDE + x, &|x| (y + 1) % SIDE * SIDE + x);
            let along = |x: usize| step(&|y| y * SIDE + x, &|y| y * SIDE + (x + 1) % SIDE);
            for over in [&down as &dyn Fn(usize) -> f64, &along] {
                let most = (0..SIDE - 1).map(over).fold(0.0, f64::max);
                assert!(over(SIDE - 1) <= most * 1.05, "{} over the edge, {most} at most elsewhere", over(SIDE - 1));
            }
        }
    }

    #[test]
    fn a_smooth_paper_has_nothing_laid_on_it() {
        assert!(Laid::new(Grain::Smooth, Rgb::WHITE).is_none());
        let mut d = Drawing::new();
        Laid::new(Grain::Aged, Rgb::WHITE).unwrap().lay(&mut d, Path::rect(Rect::new(1.0, 2.0, 3.0, 4.0)));
        assert_eq!(d.shapes.len(), 1);
    }
}
