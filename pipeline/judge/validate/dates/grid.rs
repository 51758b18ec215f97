//! The grids of months on a page: seven weekdays in a row, numbers in columns below them.

use super::lines::Line;
use super::phrase::Reading;
use super::words::Words;
use std::collections::BTreeSet;

/// More grids are not looked for on one page: a year has twelve, two years have twenty-four.
const MAX_GRIDS: usize = 64;
/// The widest gap between two heads may be so many times the narrowest.
const EVEN: f64 = 1.6;
/// How far from the middle of its column a number may stand, in columns.
const ASTRAY: f64 = 0.27;
/// How far below the heads the first row may begin, and how far above them the title may stand, in columns.
const REACH: f64 = 3.0;
/// A row further below the last one than so many times the first distance belongs to something else.
const STEP: f64 = 1.6;
/// Grids belong to one size as long as the next one's columns are not so many times as wide.
const LIKE: f64 = 1.2;
/// Figures lower than this share of the tallest ones in the grid are no days: those of a second calendar, and of small months.
const SMALL: f64 = 0.68;
/// Numbers of weeks are smaller than so many times the days beside them, where the two stand in one column.
const WEEK: f64 = 0.88;
/// A number that is so many times as tall as the days beside it is none of their week.
const TALL: f64 = 1.6;
/// How far numbers of one grid may stand from the edge that they share, in columns.
const ALIGNED: f64 = 0.08;

/// A number of the grid.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cell {
    /// Its column, from 0.
    pub column: usize,
    /// What it says.
    pub number: u8,
    /// Which of the page's lines it is.
    pub line: usize,
}

/// A row of the grid.
#[derive(Clone, Debug, Default)]
pub struct Row {
    /// Its numbers, from the left.
    pub cells: Vec<Cell>,
    /// The number of its week beside it, and which line that is.
    pub week: Option<(u8, usize)>,
}

/// Weekdays in a row with numbers below them.
#[derive(Clone, Debug)]
pub struct Grid {
    /// The weekday of each column, 0 for Monday.
    pub weekdays: [u8; 7],
    /// The lines of its heads.
    pub heads: [usize; 7],
    /// Its rows, from the top.
    pub rows: Vec<Row>,
    /// The line of its title: a month, with or without its year.
    pub title: Option<usize>,
    /// The width of a column.
    pub pitch: f64,
    /// Middles of the first and of the last column.
    pub spans: [f64; 2],
}

/// Finds the grids of a page, small ones first.
pub fn grids(lines: &[Line], words: &Words) -> Vec<Grid> {
    let mut heads = heads(lines, words);
    heads.truncate(MAX_GRIDS);
    heads.sort_by(|a, b| a.pitch.total_cmp(&b.pitch).then(a.top(lines).total_cmp(&b.top(lines))));
    // A number belongs to one grid: small months stand within large ones.
    let mut taken: BTreeSet<usize> = BTreeSet::new();
    let tops: Vec<(f64, f64, f64)> = heads.iter().map(|g| (g.top(lines), g.spans[0], g.spans[1])).collect();
    // Grids of one size together, so that numbers of weeks beside small months are no days of a large one below.
    for like in heads.chunk_by_mut(|a, b| b.pitch <= LIKE * a.pitch) {
        for grid in like.iter_mut() {
            let top = grid.top(lines);
            let below = |(y, left, right): &&(f64, f64, f64)| {
                *y > top + grid.pitch * 0.5 && *left < grid.spans[1] + grid.pitch && *right > grid.spans[0] - grid.pitch
            };
            // Heads as wide as its own end it; those of small months within its cells do not.
            let wide = tops.iter().filter(below).filter(|t| t.2 - t.1 > 3.0 * grid.pitch);
            grid.fill(lines, wide.map(|t| t.0).fold(f64::MAX, f64::min), &taken);
            taken.extend(grid.rows.iter().flat_map(|row| row.cells.iter().map(|cell| cell.line)));
            grid.title = title(grid, lines);
        }
        for grid in like {
            grid.number_weeks(lines, &taken);
            taken.extend(grid.rows.iter().filter_map(|row| row.week.map(|(_, line)| line)));
        }
    }
    heads.retain(|grid| !grid.rows.is_empty());
    heads
}

/// Every run of seven lines of a row that are the seven weekdays.
fn heads(lines: &[Line], words: &Words) -> Vec<Grid> {
    let may: Vec<Vec<u8>> = lines.iter().map(|line| words.heads_of(&line.text)).collect();
    let mut out = Vec::new();
    let mut at = 0;
    while at + 7 <= lines.len() {
        let window = at..at + 7;
        let one_row = lines[at].row == lines[at + 6].row;
        match one_row.then(|| weekdays(&may[window.clone()])).flatten() {
            Some(weekdays) => match columns(&lines[window]) {
                Some((pitch, first)) => {
                    let heads = [0, 1, 2, 3, 4, 5, 6].map(|i| at + i);
                    let spans = [first, first + 6.0 * pitch];
                    out.push(Grid { weekdays, heads, rows: Vec::new(), title: None, pitch, spans });
                    at += 7;
                }
                None => at += 1,
            },
            None => at += 1,
        }
    }
    out
}

/// The weekdays that seven heads mean: each once, in any order where their names are clear, in the order of the week
/// where they are letters.
fn weekdays(may: &[Vec<u8>]) -> Option<[u8; 7]> {
    if may.iter().any(Vec::is_empty) {
        return None;
    }
    let in_order = |first: u8| {
        let days = [0, 1, 2, 3, 4, 5, 6].map(|i| (first + i) % 7);
        days.iter().zip(may).all(|(day, may)| may.contains(day)).then_some(days)
    };
    let clear = || {
        let mut days = [0; 7];
        let mut seen = 0_u8;
        for (slot, may) in days.iter_mut().zip(may) {
            let [day] = may[..] else { return None };
            *slot = day;
            seen |= 1 << day;
        }
        (seen == 0b111_1111).then_some(days)
    };
    (0..7).find_map(in_order).or_else(clear)
}

/// What columns are even by, and numbers in them: middles, left edges, right edges.
const EDGES: [fn(&Line) -> f64; 3] = [|l| l.area.centre().x, |l| l.area.x, |l| l.area.right()];

/// The width of a column and the middle of the first, if the heads stand in even steps by their left edges, middles or
/// right edges.
fn columns(heads: &[Line]) -> Option<(f64, f64)> {
    let even = EDGES.into_iter().filter_map(|edge| {
        let gaps: Vec<f64> = heads.windows(2).map(|two| edge(&two[1]) - edge(&two[0])).collect();
        let (least, most) = gaps.iter().fold((f64::MAX, 0.0_f64), |(a, b), gap| (a.min(*gap), b.max(*gap)));
        let pitch = gaps.iter().sum::<f64>() / 6.0;
        (least > 0.0 && most <= EVEN * least).then_some((most / least, pitch, heads[0].area.centre().x))
    });
    even.min_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, pitch, first)| (pitch, first))
}

impl Grid {
    fn top(&self, lines: &[Line]) -> f64 {
        lines[self.heads[0]].area.bottom()
    }

    /// Puts the numbers below the heads into rows and columns.
    fn fill(&mut self, lines: &[Line], end: f64, taken: &BTreeSet<usize>) {
        let (top, pitch, first) = (self.top(lines), self.pitch, self.spans[0]);
        let place = |line: &Line| (line.area.centre().x - first) / pitch;
        let mut inside: Vec<(usize, f64, u8)> = Vec::new();
        for (i, line) in lines.iter().enumerate() {
            let foot = line.area.bottom();
            let at = place(line);
            if foot <= top || line.area.y >= end || !(-0.75..=6.75).contains(&at) || taken.contains(&i) {
                continue;
            }
            if let Some(number) = line.number {
                inside.push((i, at, number));
            }
        }
        // Numbers stand at one place of their cells: left, in the middle or right.
        let (sin, cos) = inside.iter().fold((0.0, 0.0), |(s, c), (_, at, _)| {
            let angle = at * std::f64::consts::TAU;
            (s + libm::sin(angle), c + libm::cos(angle))
        });
        let mut off = libm::atan2(sin, cos) / std::f64::consts::TAU;
        let columns = |off: f64| inside.iter().map(move |(_, at, _)| (at - off).round() as i64);
        let within = |off: f64| columns(off).filter(|column| (0..7).contains(column)).count();
        off = [off, off - 1.0, off + 1.0]
            .into_iter()
            .rev()
            .max_by_key(|o| (within(*o), (o.abs() < 0.5) as u8))
            .unwrap_or(off);
        inside.retain(|(_, at, number)| {
            let column = (at - off).round();
            (at - off - column).abs() <= ASTRAY && (0.0..=6.0).contains(&column) && *number <= 31
        });
        let tallest = inside.iter().map(|(i, ..)| lines[*i].area.h).fold(0.0, f64::max);
        inside.retain(|(i, ..)| lines[*i].area.h >= SMALL * tallest);
        // Numbers of weeks within the columns at the edges: they share no edge with the days, or are smaller than the day
        // beside which they stand.
        let column = |at: f64| (at - off).round();
        let shared = self.shared_edge(inside.iter().map(|(i, at, _)| (&lines[*i], column(*at))));
        let beside = |a: usize, b: usize| {
            let (a, b) = (lines[a].area, lines[b].area);
            a.h < WEEK * b.h && (a.centre().y - b.centre().y).abs() <= 0.8 * b.h
        };
        let weeks: Vec<(f64, f64)> = inside
            .iter()
            .filter(|(_, at, _)| matches!(column(*at), 0.0 | 6.0))
            .filter(|(i, at, _)| inside.iter().any(|(j, to, _)| column(*at) == column(*to) && beside(*i, *j)))
            .map(|(i, at, _)| (column(*at), lines[*i].area.h * 1.03))
            .collect();
        inside.retain(|(i, at, _)| !weeks.iter().any(|(c, h)| *c == column(*at) && lines[*i].area.h <= *h));
        inside.retain(|(i, at, _)| self.is_aligned(&lines[*i], column(*at), &shared));
        self.rows = rows(&inside, lines, top, pitch, off);
    }
}

/// Where in their columns the numbers of a grid stand: which edge they share, and where it is, in columns from the middle
/// of a head.
struct Aligned {
    edge: fn(&Line) -> f64,
    at: f64,
}

impl Grid {
    fn within_column(&self, x: f64, column: f64) -> f64 {
        (x - self.spans[0]) / self.pitch - column
    }

    /// The edge that the numbers of the inner columns share, if they share one.
    fn shared_edge<'l>(&self, numbers: impl Iterator<Item = (&'l Line, f64)>) -> Option<Aligned> {
        let inner: Vec<(&Line, f64)> = numbers.filter(|(_, column)| (1.0..=5.0).contains(column)).collect();
        let edges = EDGES.into_iter().map(|edge| {
            let places = inner.iter().map(|(line, column)| self.within_column(edge(line), *column));
            let (least, most) = places.fold((f64::MAX, f64::MIN), |(a, b), at| (a.min(at), b.max(at)));
            (most - least, Aligned { edge, at: (least + most) / 2.0 })
        });
        let (spread, aligned) = edges.min_by(|a, b| a.0.total_cmp(&b.0))?;
        (spread.abs() <= ALIGNED).then_some(aligned)
    }

    /// Whether a number of a column at the edge of the grid stands as those of the inner columns do.
    fn is_aligned(&self, line: &Line, column: f64, shared: &Option<Aligned>) -> bool {
        let inner = (1.0..=5.0).contains(&column);
        inner || shared.as_ref().is_none_or(|s| (self.within_column((s.edge)(line), column) - s.at).abs() <= ALIGNED)
    }
}

impl Grid {
    /// Finds the numbers of weeks beside the rows, among the lines that are no days of any grid.
    fn number_weeks(&mut self, lines: &[Line], taken: &BTreeSet<usize>) {
        let number = |line: &Line| {
            let week =
                line.reading.filter(|r| *r == Reading { week: r.week, ..Reading::default() }).and_then(|r| r.week);
            week.or(line.number)
        };
        let beside: Vec<(usize, u8)> = lines
            .iter()
            .enumerate()
            .filter(|(i, line)| {
                let at = (line.area.centre().x - self.spans[0]) / self.pitch;
                ((-1.8..-0.4).contains(&at) || (6.4..7.8).contains(&at)) && !taken.contains(i)
            })
            .filter_map(|(i, line)| Some((i, number(line)?)))
            .collect();
        for row in &mut self.rows {
            let Some(cell) = row.cells.first() else { continue };
            let (y, h) = (lines[cell.line].area.centre().y, lines[cell.line].area.h);
            let level = |i: usize| {
                let area = lines[i].area;
                area.h <= TALL * h && (area.centre().y - y).abs() <= 0.8 * h.max(area.h)
            };
            row.week = beside.iter().find(|(i, _)| level(*i)).map(|(i, number)| (*number, *i));
        }
    }
}

/// Numbers by the lines that they stand on, as far as those follow each other evenly.
fn rows(inside: &[(usize, f64, u8)], lines: &[Line], top: f64, pitch: f64, off: f64) -> Vec<Row> {
    let mut rows: Vec<(f64, Row)> = Vec::new();
    // Lines come from the top.
    for (line, at, number) in inside {
        let area = lines[*line].area;
        let cell = Cell { column: (at - off).round() as usize, number: *number, line: *line };
        match rows.last_mut() {
            Some((foot, row)) if area.bottom() - *foot <= 0.6 * area.h => row.cells.push(cell),
            last => {
                let step = last.map_or(area.y - top, |(foot, _)| area.bottom() - *foot);
                let most = match rows.len() {
                    0 | 1 => REACH * pitch,
                    _ => STEP * (rows[1].0 - rows[0].0),
                };
                if step > most || rows.len() == 7 {
                    break;
                }
                rows.push((area.bottom(), Row { cells: vec![cell], week: None }));
            }
        }
    }
    for (_, row) in &mut rows {
        row.cells.sort_by_key(|cell| cell.column);
    }
    rows.into_iter().map(|(_, row)| row).collect()
}

/// The line above the heads that names a month.
fn title(grid: &Grid, lines: &[Line]) -> Option<usize> {
    let head = lines[grid.heads[0]].area;
    let [left, right] = [grid.spans[0] - 0.8 * grid.pitch, grid.spans[1] + 0.8 * grid.pitch];
    let above = lines.iter().enumerate().filter(|(_, line)| {
        let month = line.reading.is_some_and(|r| r.month_only().is_some());
        let up = head.y - line.area.bottom();
        month && up > -0.5 * head.h && up <= REACH * grid.pitch && line.area.right() > left && line.area.x < right
    });
    above.max_by(|(_, a), (_, b)| a.area.bottom().total_cmp(&b.area.bottom())).map(|(i, _)| i)
}
