//! Writes the pages of the benchmark as a person would with a library alone: `peers by-hand|with-layout PAGES FONT OUT`.
//!
//! `PAGES` is a text: the width and height in points, then a line `page RULING` for each page and under it a line
//! `LEFT LOW RIGHT HIGH PAGE` for each of its links. `by-hand` writes objects with pdf-writer and shares what pages have alike;
//! `with-layout` draws every page with krilla, which shares what it finds alike by itself.

mod by_hand;
mod with_layout;

/// A tap area in points from the lower left corner, and the page that it leads to.
pub struct Link {
    pub area: [f32; 4],
    pub to: usize,
}

/// A page of the benchmark.
pub struct Page {
    /// Which of the four rulings it has.
    pub ruling: usize,
    pub links: Vec<Link>,
}

/// All that a peer is told.
pub struct Book {
    /// Width and height in points.
    pub size: [f32; 2],
    pub pages: Vec<Page>,
}

fn read(text: &str) -> Book {
    let numbers = |line: &str| line.split(' ').map(|w| w.parse().expect("a number")).collect::<Vec<f32>>();
    let mut lines = text.lines();
    let size = numbers(lines.next().expect("a size"));
    let mut pages: Vec<Page> = Vec::new();
    for line in lines {
        if let Some(ruling) = line.strip_prefix("page ") {
            pages.push(Page { ruling: ruling.parse().expect("a ruling"), links: Vec::new() });
        } else if let Some(page) = pages.last_mut() {
            let n = numbers(line);
            page.links.push(Link { area: [n[0], n[1], n[2], n[3]], to: n[4] as usize });
        }
    }
    Book { size: [size[0], size[1]], pages }
}

/// The two papers of a page: left, low, width, height.
pub fn papers([width, height]: [f32; 2]) -> [[f32; 4]; 2] {
    let (gap, tab, edge) = (5.67, 25.5, 22.7);
    let wide = (width - 2.0 * tab - gap) / 2.0;
    [0.0, 1.0].map(|n| [tab + n * (wide + gap), 8.5, wide, height - edge - 8.5])
}

/// The lines of a ruling on a paper, from and to; dots are lines of half a point.
pub fn lines(ruling: usize, [x, y, w, h]: [f32; 4]) -> Vec<[f32; 4]> {
    let (x, y, w, h) = (x + 30.0, y + 30.0, w - 60.0, h - 60.0);
    let across = |pitch: f32| (0..=(h / pitch) as usize).map(move |n| [x, y + n as f32 * pitch, x + w, y + n as f32 * pitch]);
    let down = |pitch: f32| (0..=(w / pitch) as usize).map(move |n| [x + n as f32 * pitch, y, x + n as f32 * pitch, y + h]);
    match ruling {
        0 => across(24.7).collect(),
        1 => across(18.0).collect(),
        2 => {
            let rows = (h / 14.2) as usize;
            let dots = |n: usize| (0..=rows).map(move |m| (x + n as f32 * 14.2, y + m as f32 * 14.2));
            (0..=(w / 14.2) as usize).flat_map(dots).map(|(x, y)| [x, y, x + 0.5, y]).collect()
        }
        _ => across(14.2).chain(down(14.2)).collect(),
    }
}

fn main() {
    let words: Vec<String> = std::env::args().collect();
    let book = read(&std::fs::read_to_string(&words[2]).expect("the pages"));
    let font = std::fs::read(&words[3]).expect("the font");
    let begun = std::time::Instant::now();
    let bytes = match words[1].as_str() {
        "by-hand" => by_hand::write(&book),
        _ => with_layout::write(&book, font),
    };
    eprintln!("writing took {:.3} s", begun.elapsed().as_secs_f64());
    std::fs::write(&words[4], bytes).expect("the file written");
}
