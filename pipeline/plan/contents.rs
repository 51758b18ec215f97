//! The list on a divider: numbered lines for what the section holds. The pages that are there from the start are named, and
//! their lines lead to them.

use super::builder::Builder;
use super::labels;
use base::colour;
use base::model::drawing::Stroke;
use base::model::{Drawing, Link, Mm, Place, Rect, Rgb, Role, Target};
use draw::text::{Align, Line, Setting};
use std::collections::BTreeMap;

/// From line to line and across a column at least, in mm, the roomiest first. No line is lower than a finger needs (44 CSS
/// pixels on a screen of 264 dots to the inch are 8.5 mm; WCAG 2.2, 2.5.5).
const STEPS: [(f64, f64); 4] = [(10.0, 42.0), (9.2, 36.0), (8.6, 30.0), (8.6, 25.0)];

/// The lines of a list.
pub struct Lines {
    /// From line to line, in points.
    pub step: f64,
    /// Lines of a column.
    rows: usize,
    columns: Vec<Rect>,
}

impl Lines {
    /// As roomy as so many pages allow.
    pub fn new(area: Rect, count: usize) -> Lines {
        let of = |(step, wide): (f64, f64)| {
            let step = Mm(step).pt();
            // A hair more, since a panel is cut to just so many lines.
            let rows = ((area.h + 0.01) / step).floor() as usize;
            // As many columns as all pages need, and as leave room for their names.
            let most = (area.w / Mm(wide).pt()).floor().max(1.0) as usize;
            let columns = area.columns(count.div_ceil(rows.max(1)).min(most).max(1), step * 0.6);
            Lines { step, rows, columns }
        };
        let roomy = STEPS.map(of);
        let [.., last] = &roomy;
        let most = last.rows * last.columns.len();
        let fits = |lines: &Lines| lines.rows * lines.columns.len() >= count.min(most);
        let at = roomy.iter().position(fits).unwrap_or(0);
        roomy.into_iter().nth(at).unwrap_or_else(|| of(STEPS[0]))
    }

    /// How many there are.
    pub fn count(&self) -> usize {
        self.rows * self.columns.len()
    }

    fn all(&self) -> Vec<Rect> {
        let lines = |c: &Rect| {
            let column = *c;
            let step = self.step;
            (0..self.rows).map(move |r| Rect::new(column.x, column.y + r as f64 * step, column.w, step))
        };
        self.columns.iter().flat_map(lines).collect()
    }
}

/// Sizes of type in a list, in points.
#[derive(Clone, Copy, Debug)]
struct Sizes {
    number: f64,
    name: f64,
    /// A name that takes two lines.
    in_two: f64,
}

impl Sizes {
    /// For a page of this scale, and for lines of this height.
    fn new(scale: f64, step: f64) -> Sizes {
        let number = (6.5 * scale.max(0.75)).max(labels::LEAST_TYPE);
        let name = (8.6 * scale).max(labels::least_name(scale));
        Sizes { number, name, in_two: (name * 0.86).max(labels::LEAST_TYPE).min(step * 0.36) }
    }
}

/// What a line of a list says, and where it leads.
pub struct Listed {
    name: String,
    place: Place,
    /// What a screen reader says of the place.
    title: String,
}

/// What stands behind the divider of a section, or of a section within it: pages, then the sections within.
pub fn listed(b: &Builder, index: usize, within: Option<usize>) -> Vec<Listed> {
    let section = &b.notebook.sections[index];
    let run = within.map_or(0, |w| w + 1);
    let first = within.map_or(0, |w| section.within[w].first);
    let leaves = section.runs().into_iter().nth(run).unwrap_or_default();
    // Pages of one name are told apart by numbers of their own.
    let (mut all, mut so_far) = (BTreeMap::new(), BTreeMap::new());
    for leaf in leaves {
        *all.entry(leaf.title(b.notebook)).or_insert(0) += 1;
    }
    let pages = leaves.iter().enumerate().map(|(k, leaf)| {
        let title = leaf.title(b.notebook);
        let nth = so_far.entry(title).and_modify(|n| *n += 1).or_insert(1);
        let name = if all[title] > 1 { format!("{title} {}", b.chrome.words.figure(*nth)) } else { title.to_owned() };
        let number = first + k + 1;
        let title = format!("{} {}", b.chrome.words.page, b.chrome.words.figure(number));
        Listed { name, place: Place::Leaf(index + 1, number), title }
    });
    let inner = if within.is_none() { section.within.len() } else { 0 };
    let inner = (0..inner).map(|w| {
        let number = b.chrome.words.figures(&format!("{}.{}", index + 1, w + 1));
        let title = format!("{} {number}", b.chrome.words.within(&b.chrome.words.section));
        Listed { name: b.chrome.title_within(index, w), place: Place::Within(index + 1, w + 1), title }
    });
    pages.chain(inner).collect()
}

/// Draws the list of a section; gives its links. More pages than lines end in a line that says how many more there are and
/// leads to the first of them.
pub fn draw(b: &Builder, d: &mut Drawing, area: Rect, colour: Rgb, leaves: &[Listed]) -> Vec<Link> {
    let lines = Lines::new(area, leaves.len());
    let step = lines.step;
    let kinds = Sizes::new(b.frame.scale, step);
    let quiet = colour::at_contrast(b.product.style.paper, b.product.style.ink, 4.8);
    let number = Setting::new(Role::Label, kinds.number, quiet);
    let bar = Stroke::new(0.5, b.pen.rule);
    let all = lines.all();
    let left_out = leaves.len() > all.len();
    let named = if left_out { all.len().saturating_sub(1) } else { leaves.len() };
    for (i, line) in all.iter().enumerate() {
        d.line(line.x, line.bottom(), line.right(), line.bottom(), bar);
        if i < named || !left_out {
            let (x, y) = (line.x + step * 0.55, line.bottom() - step * 0.26);
            number.draw(d, b.fonts, &b.chrome.words.figure(i + 1), x, y, Align::Right);
        }
    }
    let title = Setting::new(Role::Label, kinds.name, b.product.style.ink);
    let mut links = Vec::new();
    for ((i, leaf), line) in leaves.iter().enumerate().zip(&all) {
        let (name, says) = if i < named {
            let says = format!("{} {}: {}", b.chrome.words.go_to, leaf.title, leaf.name);
            (leaf.name.clone(), says)
        } else {
            let more = b.chrome.words.more.replace("{}", &b.chrome.words.figure(leaves.len() - named));
            let says = format!("{} {}, {more}", b.chrome.words.go_to, leaf.title);
            (more, says)
        };
        let (x, y) = (line.x + step * 1.1, line.bottom() - step * 0.26);
        let room = line.w - step * 1.2;
        // A name that is too long for its line is set smaller, and stands on two where that does not do.
        let small = title.sized(kinds.in_two);
        let two = if title.width(b.fonts, &name) > room { small.wrap(b.fonts, &name, room) } else { Vec::new() };
        match two.as_slice() {
            [one] if small.width(b.fonts, one) <= room => small.draw(d, b.fonts, one, x, y, Align::Left),
            [first, second] if [first, second].iter().all(|half| small.width(b.fonts, half) <= room) => {
                small.draw(d, b.fonts, first, x, y - small.size * 1.08, Align::Left);
                small.draw(d, b.fonts, second, x, y + small.size * 0.1, Align::Left);
            }
            _ => title.draw_kept(d, b.fonts, &name, Line { room, x, y, align: Align::Left }),
        }
        links.push(Link { rect: *line, target: Target::Place(leaf.place.clone()), says: says.into() });
    }
    for column in &lines.columns {
        let x = column.x + step * 0.85;
        d.line(x, column.y + step * 0.25, x, column.y + lines.rows as f64 * step, Stroke::new(0.7, colour));
    }
    links
}

#[cfg(test)]
mod tests {
    use super::*;

    /// On every size of page, and however close the lines are.
    #[test]
    fn lists_are_read_on_every_page() {
        for (step, _) in STEPS {
            let step = Mm(step).pt();
            for hundredths in 50..=135 {
                let scale = f64::from(hundredths) / 100.0;
                let Sizes { number, name, in_two } = Sizes::new(scale, step);
                assert!(number >= labels::LEAST_TYPE && in_two >= labels::LEAST_TYPE, "{scale}");
                assert!(name >= labels::least_name(scale) && name >= in_two, "{scale}");
                // Two lines stand on one of the list, and a number of two digits before its bar.
                assert!(in_two * 2.2 <= step && number * 1.3 <= step * 0.55, "{scale}");
            }
            // What is large enough stays as it was.
            let large = Sizes::new(1.2, step);
            assert_eq!((large.number, large.name), (6.5 * 1.2, 8.6 * 1.2));
        }
    }

    /// As many pages as the roomiest lines hold take just those; one more takes closer ones.
    #[test]
    fn lines_are_as_roomy_as_their_number_allows() {
        let steps: Vec<f64> = STEPS.iter().map(|(step, _)| Mm(*step).pt()).collect();
        let area = Rect::new(0.0, 0.0, Mm(40.0).pt(), Mm(100.0).pt());
        let step = |count: usize| Lines::new(area, count).step;
        assert_eq!((step(0), step(10)), (steps[0], steps[0]));
        // One column is 40 mm wide, and two of the narrowest need 50.
        assert!(step(11) < steps[0] && Lines::new(area, 11).count() >= 11);
        // What no lines hold gets the roomiest of those that hold most.
        let all = Lines::new(area, 200);
        assert_eq!(all.count(), (100.0_f64 / 8.6).floor() as usize);
    }
}
