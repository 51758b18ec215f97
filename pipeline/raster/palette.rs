//! Few colours for many: what pictures with a palette are made with.
//!
//! Colours that cover most stay exactly what they are, so that papers and inks do; the rest is divided by median cut,
//! group by group at the half of its weight, the most spread first, and each becomes its mean. Only counts decide,
//! ties by the colour itself, so the same pixels always give the same palette.

use rustc_hash::FxHashMap;
use std::collections::HashMap;

/// Red, green, blue, alpha.
pub type Colour = [u8; 4];

/// A picture with a palette.
pub struct Indexed {
    /// The colours.
    pub palette: Vec<Colour>,
    /// An index a pixel.
    pub pixels: Vec<u8>,
    /// What was lost, as the mean difference of a channel.
    pub loss: f64,
}

/// An RGBA picture with at most so many colours (256 at most). Clear pixels are all of one colour.
pub fn reduce(rgba: &[u8], most: usize) -> Indexed {
    let drawn = Runs::of(rgba);
    let palette = chosen(drawn.colours.clone(), most);
    let sorted = Sorted::of(&palette);
    let indices: Vec<u8> = drawn.colours.iter().map(|(colour, _)| sorted.nearest(*colour)).collect();
    let mut pixels = Vec::with_capacity(rgba.len() / 4);
    for (colour, length) in &drawn.runs {
        pixels.resize(pixels.len() + length, indices[*colour]);
    }
    let differs = |a: Colour, b: Colour| a.iter().zip(b).map(|(x, y)| u64::from(x.abs_diff(y))).sum::<u64>();
    let colours = drawn.colours.iter().zip(&indices);
    let lost: u64 = colours.map(|((c, count), i)| count * differs(palette[usize::from(*i)], *c)).sum();
    let loss = lost as f64 / (pixels.len().max(1) * 4) as f64;
    Indexed { palette, pixels, loss }
}

/// A palette of at most so many colours (256 at most) for all these pixels; all of their colours if they have no more.
pub fn of(pixels: impl Iterator<Item = Colour>, most: usize) -> Vec<Colour> {
    let mut counts: HashMap<Colour, u64> = HashMap::new();
    runs(pixels, |colour, length| *counts.entry(colour).or_default() += length as u64);
    chosen(counts.into_iter().collect(), most)
}

/// The palette of pixels whose colours and their counts are these, each colour once.
fn chosen(mut all: Vec<(Colour, u64)>, most: usize) -> Vec<Colour> {
    let most = most.clamp(1, 256);
    all.sort_unstable_by(|a, b| b.1.cmp(&a.1).then(a.0.cmp(&b.0)));
    if all.len() <= most {
        return all.into_iter().map(|(c, _)| c).collect();
    }
    let exact = most * 3 / 8;
    let rest = all.split_off(exact);
    let mut out: Vec<Colour> = all.into_iter().map(|(c, _)| c).collect();
    // A rare colour counts for more than its pixels, or small bright things would turn grey.
    let mut groups = vec![Group::of(rest.into_iter().map(|(c, n)| (c, (n as f64).sqrt())).collect())];
    while groups.len() < most - exact {
        let many = groups.iter().enumerate().filter(|(_, b)| b.colours.len() > 1);
        let Some((i, _)) = many.max_by(|a, b| a.1.spread.total_cmp(&b.1.spread)) else { break };
        let (lower, upper) = groups.swap_remove(i).halves();
        groups.extend([lower, upper]);
    }
    out.extend(groups.iter().map(Group::mean));
    out
}

/// The nearest colour of a palette for each pixel, by its index.
pub fn index(pixels: impl Iterator<Item = Colour>, palette: &[Colour]) -> Vec<u8> {
    // Looked up by colour only, never gone through: its order is of no consequence.
    let mut known: HashMap<Colour, u8> = HashMap::new();
    let mut out = Vec::with_capacity(pixels.size_hint().0);
    let sorted = Sorted::of(palette);
    runs(pixels, |colour, length| {
        let index = *known.entry(colour).or_insert_with(|| sorted.nearest(colour));
        out.resize(out.len() + length, index);
    });
    out
}

/// A picture as runs of equal pixels: a drawn page has a twentieth as many as it has pixels.
struct Runs {
    /// Each different colour, with its count of pixels.
    colours: Vec<(Colour, u64)>,
    /// Which of them, and for how many pixels.
    runs: Vec<(usize, usize)>,
}

impl Runs {
    /// Of RGBA pixels; clear ones are all of one colour.
    fn of(rgba: &[u8]) -> Runs {
        let pixels = rgba.as_chunks::<4>().0;
        // Looked up by colour only, never gone through: its order is of no consequence.
        let mut known: FxHashMap<Colour, usize> = FxHashMap::default();
        let mut out = Runs { colours: Vec::new(), runs: Vec::new() };
        let mut rest = pixels;
        while let Some(first) = rest.first() {
            let length = equal(rest, *first);
            rest = &rest[length..];
            let colour = if first[3] == 0 { [0; 4] } else { *first };
            let id = *known.entry(colour).or_insert_with(|| {
                out.colours.push((colour, 0));
                out.colours.len() - 1
            });
            out.colours[id].1 += length as u64;
            out.runs.push((id, length));
        }
        out
    }
}

/// How many pixels from the first on are of its colour; four are compared at a time.
fn equal(pixels: &[Colour], first: Colour) -> usize {
    let four = [first; 4];
    let fours = pixels.as_chunks::<4>().0.iter().take_while(|p| **p == four).count();
    let rest = &pixels[fours * 4..];
    fours * 4 + rest.iter().take_while(|p| **p == first).count()
}

/// Most neighbours are alike: runs are told, not pixels.
fn runs(mut pixels: impl Iterator<Item = Colour>, mut tell: impl FnMut(Colour, usize)) {
    let Some(mut colour) = pixels.next() else { return };
    let mut length = 1;
    for next in pixels {
        if next != colour {
            tell(colour, length);
            (colour, length) = (next, 0);
        }
        length += 1;
    }
    tell(colour, length);
}

/// How far two colours are from each other. The eye weighs green most (ITU-R BT.601 luma weights, rounded); alpha counts as much as all
/// three.
fn distance(a: Colour, b: Colour) -> i32 {
    let d = |i: usize| i32::from(a[i]) - i32::from(b[i]);
    3 * d(0) * d(0) + GREEN * d(1) * d(1) + d(2) * d(2) + 10 * d(3) * d(3)
}

/// The weight of green in a distance.
const GREEN: i32 = 6;

/// The colours of a palette by how green they are, with their indices: the nearest one is looked for from there to both sides, and no
/// further than green alone is too far.
struct Sorted(Vec<(Colour, usize)>);

impl Sorted {
    fn of(palette: &[Colour]) -> Sorted {
        let mut all: Vec<(Colour, usize)> = palette.iter().enumerate().map(|(i, c)| (*c, i)).collect();
        all.sort_unstable_by_key(|(c, i)| (c[1], *i));
        Sorted(all)
    }

    /// The index of the nearest, and of those that are equally near the first.
    fn nearest(&self, colour: Colour) -> u8 {
        let (below, above) = self.0.split_at(self.0.partition_point(|(c, _)| c[1] < colour[1]));
        let best = nearer((i32::MAX, 0), above.iter(), colour);
        nearer(best, below.iter().rev(), colour).1 as u8
    }
}

/// What is nearer than the best so far, distance and index, among colours that get less and less alike in their green.
fn nearer<'a>(mut best: (i32, usize), side: impl Iterator<Item = &'a (Colour, usize)>, colour: Colour) -> (i32, usize) {
    for (c, i) in side {
        let green = i32::from(c[1].abs_diff(colour[1]));
        if GREEN * green * green > best.0 {
            break;
        }
        best = best.min((distance(*c, colour), *i));
    }
    best
}

/// Colours that become one, each with its weight.
struct Group {
    colours: Vec<(Colour, f64)>,
    /// The channel in which they lie furthest apart.
    channel: usize,
    /// How much dividing them gains.
    spread: f64,
}

impl Group {
    fn of(colours: Vec<(Colour, f64)>) -> Group {
        let (mut least, mut most) = ([255; 4], [0; 4]);
        for (colour, _) in &colours {
            for ((least, most), value) in least.iter_mut().zip(&mut most).zip(colour) {
                (*least, *most) = ((*least).min(*value), (*most).max(*value));
            }
        }
        let range = |c: usize| most[c].saturating_sub(least[c]);
        let (channel, range) = (0..4).map(|c| (c, range(c))).max_by_key(|r| r.1).unwrap_or((0, 0));
        let weight: f64 = colours.iter().map(|c| c.1).sum();
        Group { channel, spread: f64::from(range) * weight.sqrt(), colours }
    }

    /// Divided at the half of its weight; it has two colours at least.
    fn halves(mut self) -> (Group, Group) {
        // By the channel, then by the colour, as one number; no colour comes twice.
        let shift = 8 * (3 - self.channel);
        let key = |c: &(Colour, f64)| {
            let whole = u32::from_be_bytes(c.0);
            u64::from(whole >> shift & 255) << 32 | u64::from(whole)
        };
        self.colours.sort_unstable_by_key(key);
        let half: f64 = self.colours.iter().map(|c| c.1).sum::<f64>() / 2.0;
        let mut sum = 0.0;
        let at = self.colours.iter().position(|c| {
            sum += c.1;
            sum >= half
        });
        let upper = self.colours.split_off(at.unwrap_or(0).max(1).min(self.colours.len() - 1));
        (Group::of(self.colours), Group::of(upper))
    }

    fn mean(&self) -> Colour {
        let weight: f64 = self.colours.iter().map(|c| c.1).sum::<f64>().max(1e-9);
        let mean = |c: usize| self.colours.iter().map(|p| f64::from(p.0[c]) * p.1).sum::<f64>() / weight;
        [0, 1, 2, 3].map(|c| mean(c).round() as u8)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn scattered(n: u32) -> Vec<u8> {
        let mut seed = 1u32;
        let mut next = || {
            seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            seed.to_be_bytes()
        };
        (0..n).flat_map(|i| if i % 2 == 0 { [250, 249, 243, 255] } else { next() }).collect()
    }

    #[test]
    fn a_palette_keeps_what_covers_most() {
        for most in [2, 16, 128, 256] {
            let made = reduce(&scattered(4000), most);
            assert_eq!(made.palette.len(), most);
            let exact = most > 2;
            assert_eq!(made.palette[usize::from(made.pixels[0])] == [250, 249, 243, 255], exact, "{most}");
        }
    }

    #[test]
    fn more_colours_lose_less() {
        let rgba = scattered(4000);
        let losses = [4, 16, 64, 256].map(|most| reduce(&rgba, most).loss);
        assert!(losses.is_sorted_by(|a, b| a > b), "{losses:?}");
    }

    proptest! {
        #[test]
        fn few_colours_come_back_exactly(
            colours in prop::collection::vec(any::<Colour>(), 1..40),
            picks in prop::collection::vec(any::<prop::sample::Index>(), 0..300),
        ) {
            let rgba: Vec<u8> = picks.iter().flat_map(|i| colours[i.index(colours.len())]).collect();
            let made = reduce(&rgba, 40);
            prop_assert_eq!(made.loss, 0.0);
            for (i, p) in made.pixels.iter().zip(rgba.chunks_exact(4)) {
                prop_assert!(p[3] == 0 && made.palette[usize::from(*i)][3] == 0 || made.palette[usize::from(*i)] == p);
            }
        }

        #[test]
        fn runs_lose_and_choose_what_single_pixels_do(
            colours in prop::collection::vec(any::<Colour>(), 1..60),
            parts in prop::collection::vec((any::<prop::sample::Index>(), 1usize..40, any::<bool>()), 0..80),
            most in 1usize..70,
        ) {
            let rgba: Vec<u8> = parts
                .iter()
                .flat_map(|(i, length, clear)| {
                    let [r, g, b, a] = colours[i.index(colours.len())];
                    [r, g, b, if *clear { 0 } else { a }].repeat(*length)
                })
                .collect();
            let single = || rgba.as_chunks::<4>().0.iter().map(|p| if p[3] == 0 { [0; 4] } else { *p });
            let made = reduce(&rgba, most);
            prop_assert_eq!(&made.palette, &of(single(), most));
            prop_assert_eq!(&made.pixels, &index(single(), &made.palette));
            let lost: f64 = single()
                .zip(&made.pixels)
                .flat_map(|(c, i)| c.into_iter().zip(made.palette[usize::from(*i)]))
                .map(|(x, y)| f64::from(x.abs_diff(y)))
                .sum();
            prop_assert_eq!(made.loss, lost / (made.pixels.len().max(1) * 4) as f64);
        }

        #[test]
        fn the_nearest_is_the_first_of_the_nearest_ones(
            palette in prop::collection::vec(prop::array::uniform4(prop::sample::select(vec![0u8, 1, 2, 7, 128, 200, 255])), 1..257),
            colour in any::<Colour>(),
            near in any::<bool>(),
        ) {
            // Of few values, so that many are equally near.
            let colour = if near { colour.map(|v| v % 9) } else { colour };
            let all = palette.iter().enumerate();
            let first = all.min_by_key(|(_, c)| distance(**c, colour)).map(|(i, _)| i as u8);
            prop_assert_eq!(Some(Sorted::of(&palette).nearest(colour)), first);
        }

        #[test]
        fn no_order_of_pixels_changes_the_palette(mut pixels in prop::collection::vec(any::<Colour>(), 1..300)) {
            let made = of(pixels.iter().copied(), 24);
            prop_assert!(made.len() <= 24);
            pixels.reverse();
            prop_assert_eq!(of(pixels.into_iter(), 24), made);
        }
    }
}
