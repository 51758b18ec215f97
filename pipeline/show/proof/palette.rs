//! Pictures with few colours: what a drawn page needs, at a fifth of the bytes.
//!
//! Colours are sorted into cells (five bits a channel, three of alpha). A cell stands for the colour that most of its
//! pixels have, so that papers and inks stay exactly what they are; cells beyond the largest ones take the nearest of
//! those. Only the order of the pixels decides, so the same pixels always give the same palette.

/// Colours of a palette at most: antialiasing needs no more, and fewer bits deflate better.
const MOST: usize = 128;

/// A picture with a palette.
pub struct Indexed {
    /// Red, green, blue, alpha.
    pub palette: Vec<[u8; 4]>,
    /// An index a pixel.
    pub pixels: Vec<u8>,
    /// What was lost, as the mean difference of a channel.
    pub loss: f64,
}

/// A cell: how many pixels, and the colour that leads the vote among them (Boyer and Moore: the majority, if there is
/// one) with its lead.
#[derive(Clone, Copy, Default)]
struct Cell {
    count: u32,
    colour: [u8; 4],
    lead: u32,
}

/// The picture with at most 128 colours.
pub fn reduce(rgba: &[u8]) -> Indexed {
    let mut cells = vec![Cell::default(); 1 << 18];
    for p in pixels(rgba) {
        let cell = &mut cells[cell_of(p)];
        cell.count += 1;
        if cell.lead == 0 {
            cell.colour = p;
        }
        if cell.colour == p {
            cell.lead += 1;
        } else {
            cell.lead -= 1;
        }
    }
    let mut used: Vec<usize> = (0..cells.len()).filter(|i| cells[*i].count > 0).collect();
    used.sort_by_key(|i| (std::cmp::Reverse(cells[*i].count), *i));
    let palette: Vec<[u8; 4]> = used.iter().take(MOST).map(|i| cells[*i].colour).collect();
    let mut index = vec![0u8; 1 << 18];
    for (n, i) in used.iter().enumerate() {
        index[*i] = if n < MOST { n as u8 } else { nearest(&palette, cells[*i].colour) };
    }
    let mut lost = 0u64;
    let out: Vec<u8> = pixels(rgba)
        .map(|p| {
            let i = index[cell_of(p)];
            lost += difference(palette[usize::from(i)], p);
            i
        })
        .collect();
    let loss = lost as f64 / (out.len().max(1) * 4) as f64;
    Indexed { palette, pixels: out, loss }
}

/// Pixels, the clear ones all of one colour.
fn pixels(rgba: &[u8]) -> impl Iterator<Item = [u8; 4]> + '_ {
    rgba.chunks_exact(4).map(|p| if p[3] == 0 { [0; 4] } else { [p[0], p[1], p[2], p[3]] })
}

fn cell_of(p: [u8; 4]) -> usize {
    let [r, g, b, a] = p.map(usize::from);
    (a >> 5) << 15 | (r >> 3) << 10 | (g >> 3) << 5 | b >> 3
}

fn difference(a: [u8; 4], b: [u8; 4]) -> u64 {
    a.iter().zip(b).map(|(x, y)| u64::from(x.abs_diff(y))).sum()
}

fn nearest(palette: &[[u8; 4]], colour: [u8; 4]) -> u8 {
    let far = |c: &[u8; 4]| c.iter().zip(colour).map(|(x, y)| u32::from(x.abs_diff(y)).pow(2)).sum::<u32>();
    palette.iter().enumerate().min_by_key(|(i, c)| (far(c), *i)).map_or(0, |(i, _)| i as u8)
}
