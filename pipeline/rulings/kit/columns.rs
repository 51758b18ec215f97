//! The columns of a table in a width: none of them is ever left out. Where they have no room beside each other the type becomes
//! smaller, names of rows are cut alike, heads stand on two lines, and at last a row of the table takes several lines.

use super::hand::Hand;
use super::part::{Holds, Part};
use super::ways::Ease;
use base::model::Mm;
use base::model::units::PT_PER_MM;

/// The least distance of circles beside each other in points: 4.25 mm, so that each can be hit and there is air between them.
pub const DOT: f64 = 4.25 * PT_PER_MM;

/// Circles that stand in one line of a column before they go on in a second.
const IN_LINE: usize = 5;

/// As many columns to tick as may share short heads, such as the days of a week.
pub const MANY: usize = 5;

/// How many times as wide as the widest column of marks the widest column to write in is to be, where smaller heads
/// bring that about.
const MAIN: f64 = 1.5;

/// The width that the main column of a phone's page is to have for writing.
const ROOMY: Mm = Mm(14.0);

/// The same of every column to write in beside names, where names that are cut bring that about.
const ROOMY_CELL: Mm = Mm(12.5);

/// How far the sides of columns on two lines may miss each other and still be meant to meet.
const NEAR: Mm = Mm(5.0);

/// Type in which labels are set before anything else about them gives way, in points.
const FINE: f64 = 7.0;

/// A column with its place.
pub struct Column {
    /// Which one of the part it is.
    pub nth: usize,
    /// Its left side.
    pub x: f64,
    /// Its width.
    pub w: f64,
    /// On which line of a row it stands.
    pub line: usize,
}

/// How a table lies in a width.
pub struct Form {
    /// All of its columns, line by line.
    pub columns: Vec<Column>,
    /// Lines of a row.
    pub lines: usize,
    /// Names of its rows as they are shown.
    pub names: Vec<String>,
}

/// What gives way so that the columns fit beside each other.
#[derive(Clone, Copy)]
struct Trim {
    /// Letters of the names of rows.
    letters: usize,
    /// Whether heads of several words may stand on two lines.
    broken: bool,
    /// Whether names of rows take no more than their own width, and a number is written instead of circles that have no room in
    /// one line.
    tight: bool,
}

/// Nothing gives way.
const WHOLE: Trim = Trim { letters: usize::MAX, broken: false, tight: false };

/// Heads on two lines and nothing else.
const BROKEN: Trim = Trim { broken: true, ..WHOLE };

/// What gives way, the least first.
const TRIMS: [Trim; 7] = [
    WHOLE,
    Trim { letters: 3, ..WHOLE },
    BROKEN,
    Trim { letters: 3, ..BROKEN },
    Trim { letters: 2, ..BROKEN },
    Trim { letters: 3, tight: true, ..BROKEN },
    Trim { tight: true, ..BROKEN },
];

/// The same with the least size of type in which it is tried.
const STEPS: [(Trim, f64); 8] = [
    (TRIMS[0], FINE),
    (TRIMS[1], FINE),
    (TRIMS[0], 0.0),
    (TRIMS[2], 0.0),
    (TRIMS[3], 0.0),
    (TRIMS[4], 0.0),
    (TRIMS[5], 0.0),
    (TRIMS[6], 0.0),
];

/// Whether a table has many columns to tick.
pub fn many(part: &Part) -> bool {
    (0..part.labels.len()).filter(|i| part.held(*i) == Holds::Tick).count() >= MANY
}

/// The columns in the type that a hand sets labels in, with the left side at `x`.
pub fn form(hand: &Hand, part: &Part, x: f64, w: f64) -> Form {
    TRIMS.iter().find_map(|trim| beside(hand, part, (x, w), *trim)).unwrap_or_else(|| folded(hand, part, x, w))
}

/// The size of type for the labels of a table: the largest at which it keeps its form, its heads and room to write.
pub fn size(hand: &Hand, part: &Part, w: f64) -> f64 {
    let hands: Vec<Hand> = hand.smaller().collect();
    for (trim, least) in STEPS {
        let fine = hands.iter().filter(|h| h.label.size >= least.min(hand.label.size));
        let found =
            fine.filter_map(|h| beside(h, part, (0.0, w), trim).map(|form| (worth(h, part, &form), h.label.size)));
        if let Some((_, size)) = found.reduce(|a, b| if b.0 > a.0 + 1e-6 { b } else { a }) {
            return size;
        }
    }
    let lines = hands.iter().map(|h| (folded(h, part, 0.0, w).lines, h.label.size));
    lines.reduce(|a, b| if b.0 < a.0 { b } else { a }).map_or(hand.label.size, |(_, size)| size)
}

/// The width that the columns ask for at the least, in the smallest type.
pub fn least_width(hand: &Hand, part: &Part) -> f64 {
    let all = |hand: Hand| -> f64 { (0..part.labels.len()).map(|i| least(&hand, part, i, BROKEN, &part.names)).sum() };
    hand.smaller().map(all).fold(f64::MAX, f64::min)
}

/// The least width of column `i`.
fn least(hand: &Hand, part: &Part, i: usize, trim: Trim, names: &[String]) -> f64 {
    let label = part.labels.get(i).map_or("", String::as_str);
    let head = if trim.broken { hand.broken(label) } else { hand.line(label) };
    // What is filled in stands in one line, else it is written.
    let held = match part.held(i) {
        Holds::Dots if trim.tight && part.steps(5) > IN_LINE => Holds::Text,
        held => held,
    };
    match held {
        Holds::Tick if many(part) => {
            let ticked = (0..part.labels.len()).filter(|i| part.held(*i) == Holds::Tick);
            let two = |i: usize| hand.line(&cut(&part.labels[i], 2));
            Mm(5.0).pt().max(ticked.map(two).fold(0.0, f64::max) + 2.0 * hand.air())
        }
        Holds::Tick => Mm(7.5).pt().max(head + 2.0 * hand.air()),
        Holds::Dots => (DOT * part.steps(5).min(IN_LINE) as f64 + 2.0 * hand.pad() + 0.1).max(head + 2.0 * hand.pad()),
        Holds::Text => {
            let usual = match label.chars().count() {
                _ if trim.tight && i == 0 && !names.is_empty() => 0.0,
                _ if !hand.phone => 12.0,
                0 | 1 => 8.0,
                _ => 9.0,
            };
            let names =
                if i == 0 { names.iter().map(|n| hand.word(n)).fold(0.0, f64::max) + 2.0 * hand.pad() } else { 0.0 };
            Mm(usual).pt().max(head + 2.0 * hand.pad()).max(names.min(Mm(30.0).pt()))
        }
    }
}

/// The first letters of a name.
fn cut(name: &str, letters: usize) -> String {
    name.chars().take(letters).collect()
}

/// Names of rows cut alike; none where two of them would read the same.
fn names(part: &Part, letters: usize) -> Option<Vec<String>> {
    if letters == usize::MAX {
        return Some(part.names.clone());
    }
    let short: Vec<String> = part.names.iter().map(|name| cut(name, letters)).collect();
    let same = (1..short.len()).any(|i| short[..i].contains(&short[i]));
    (!short.is_empty() && !same).then_some(short)
}

/// All columns beside each other, if they have room.
fn beside(hand: &Hand, part: &Part, (x, w): (f64, f64), trim: Trim) -> Option<Form> {
    if trim.tight && hand.way.ease > Ease::Written {
        return None;
    }
    // A table without names of rows has none to shorten.
    let letters = if part.names.is_empty() { trim.letters } else { trim.letters.min(hand.letters) };
    let names = names(part, letters)?;
    let all: Vec<usize> = (0..part.labels.len().max(1)).collect();
    let leasts: Vec<f64> = all.iter().map(|i| least(hand, part, *i, trim, &names)).collect();
    if leasts.iter().sum::<f64>() > w + 1e-6 {
        return None;
    }
    let columns = shared(part, &all, &leasts, (x, w), 0);
    let roomy = if !hand.phone || all.len() < 3 || many(part) {
        true
    } else if part.names.is_empty() {
        // Rows of two lines are better than a main column in which nothing can be written.
        written(part, &columns).fold(0.0, f64::max) >= ROOMY.pt() - 1e-6
    } else {
        let cut = letters < usize::MAX || self::names(part, 3).is_none();
        cut || written(part, &columns).fold(f64::MAX, f64::min) >= ROOMY_CELL.pt() - 1e-6
    };
    roomy.then_some(Form { columns, lines: 1, names })
}

/// The columns on several lines: on two if they have room there, parted where the lines are most alike.
fn folded(hand: &Hand, part: &Part, x: f64, w: f64) -> Form {
    let n = part.labels.len().max(1);
    // Names are as short as where another table of the page shows them.
    let names = names(part, hand.letters).unwrap_or_else(|| part.names.clone());
    let leasts: Vec<f64> = (0..n).map(|i| least(hand, part, i, BROKEN, &names)).collect();
    let room = |from: usize, to: usize| leasts[from..to].iter().sum::<f64>() <= w + 1e-6;
    let wide = |from: usize, to: usize| (from..to).map(|i| part.wide(i)).sum::<f64>();
    let off = |at: &usize| (wide(0, *at) - wide(*at, n)).abs();
    let halves = (1..n).filter(|at| room(0, *at) && room(*at, n)).min_by(|a, b| off(a).total_cmp(&off(b)));
    let mut starts = vec![0];
    match halves {
        Some(at) => starts.push(at),
        None => {
            for i in 1..n {
                let from = starts[starts.len() - 1];
                if !room(from, i + 1) {
                    starts.push(i);
                }
            }
        }
    }
    let ends = starts.iter().skip(1).copied().chain([n]);
    let lines = starts.iter().copied().zip(ends).enumerate();
    let columns = lines.flat_map(|(line, (from, to))| {
        let own: Vec<usize> = (from..to).collect();
        shared(part, &own, &leasts, (x, w), line)
    });
    let mut columns: Vec<Column> = columns.collect();
    snap(&mut columns, &leasts);
    Form { columns, lines: starts.len(), names }
}

/// Lets the sides of columns that all but meet those of the line above meet them, where both neighbours keep what they need;
/// else those above meet theirs.
fn snap(columns: &mut [Column], leasts: &[f64]) {
    // Moves the side between a column and the one before it, if both have the width for it.
    let moved = |columns: &mut [Column], i: usize, by: f64| {
        let fits = columns[i - 1].w + by >= leasts[columns[i - 1].nth] && columns[i].w - by >= leasts[columns[i].nth];
        if fits {
            columns[i - 1].w += by;
            columns[i].x += by;
            columns[i].w -= by;
        }
        fits
    };
    let inner = |columns: &[Column], i: usize| i > 0 && columns[i - 1].line == columns[i].line;
    for i in 1..columns.len() {
        if columns[i].line == 0 || !inner(columns, i) {
            continue;
        }
        let above = (1..i).filter(|j| columns[*j].line + 1 == columns[i].line && inner(columns, *j));
        let by = |j: usize| columns[j].x - columns[i].x;
        let nearest = above.min_by(|a, b| by(*a).abs().total_cmp(&by(*b).abs()));
        if let Some(j) = nearest.filter(|j| by(*j).abs() <= NEAR.pt()) {
            let by = by(j);
            if !moved(columns, i, by) {
                moved(columns, j, -by);
            }
        }
    }
}

/// Places columns on one line: each has its share, or what it needs; those with enough give it.
fn shared(part: &Part, own: &[usize], leasts: &[f64], (x, w): (f64, f64), line: usize) -> Vec<Column> {
    let mut wide = vec![0.0; leasts.len()];
    let mut open = own.to_vec();
    let mut free = w;
    loop {
        let all: f64 = open.iter().map(|i| part.wide(*i)).sum();
        let (narrow, rest): (Vec<usize>, Vec<usize>) =
            open.iter().partition(|i| free * part.wide(**i) / all < leasts[**i]);
        if narrow.is_empty() || rest.is_empty() {
            for i in &open {
                wide[*i] = free * part.wide(*i) / all;
            }
            break;
        }
        for i in narrow {
            wide[i] = leasts[i];
            free -= leasts[i];
        }
        open = rest;
    }
    let mut at = x;
    let place = |i: &usize| {
        let w = wide[*i];
        at += w;
        Column { nth: *i, x: at - w, w, line }
    };
    own.iter().map(place).collect()
}

/// The widths of the columns to write in: not of that with the names of rows.
fn written<'a>(part: &'a Part, columns: &'a [Column]) -> impl Iterator<Item = f64> + 'a {
    let named = !part.names.is_empty();
    columns.iter().filter(move |c| part.held(c.nth) == Holds::Text && !(named && c.nth == 0)).map(|c| c.w)
}

/// What a form is worth beside the same form in other type: whole heads of what is ticked, then, on a phone's page, a main
/// column to write in, then its width in widths of the widest column with marks, as far as these matter.
fn worth(hand: &Hand, part: &Part, form: &Form) -> f64 {
    let marked = form.columns.iter().filter(|c| part.held(c.nth) != Holds::Text).map(|c| c.w).fold(0.0, f64::max);
    let main = written(part, &form.columns).fold(0.0, f64::max);
    let share = if marked > 0.0 { (main / marked).min(MAIN) } else { MAIN };
    let room = if hand.phone { main.min(ROOMY.pt()) * 10.0 } else { 0.0 };
    let fits = |c: &Column| hand.line(&part.labels[c.nth]) <= c.w - 2.0 * hand.air() + 1e-6;
    let whole = !many(part) || form.columns.iter().filter(|c| part.held(c.nth) == Holds::Tick).all(fits);
    share + room + if whole { 1e4 } else { 0.0 }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Two lines of two columns each, whose inner sides miss each other by anything: they meet where they nearly did and all
    /// columns keep what they need; the lines stay as wide as they were.
    #[test]
    fn sides_that_nearly_meet_do() {
        let wide = 160.0;
        for by in -30..=30 {
            for (tight_below, tight_above) in [(false, false), (true, false), (true, true)] {
                let (above, below) = (90.0, 90.0 + f64::from(by));
                let at = |side: f64, line: usize| {
                    let nth = 2 * line;
                    [Column { nth, x: 0.0, w: side, line }, Column { nth: nth + 1, x: side, w: wide - side, line }]
                };
                let mut columns: Vec<Column> = at(above, 0).into_iter().chain(at(below, 1)).collect();
                let least = |side: f64, tight: bool| if tight { [side, wide - side] } else { [20.0, 20.0] };
                let leasts = [least(above, tight_above), least(below, tight_below)].concat();
                snap(&mut columns, &leasts);
                let off = (columns[1].x - columns[3].x).abs();
                let near = f64::from(by).abs() <= NEAR.pt();
                let wanted = if near && !(tight_below && tight_above) { 0.0 } else { f64::from(by).abs() };
                assert!((off - wanted).abs() < 1e-9, "{by} pt apart, {tight_below} {tight_above}: {off}");
                for two in columns.chunks(2) {
                    assert!((two[0].w + two[1].w - wide).abs() < 1e-9 && (two[0].w - two[1].x).abs() < 1e-9);
                }
                assert!(columns.iter().all(|c| c.w >= leasts[c.nth] - 1e-9));
            }
        }
    }
}
