//! The texts of a page as lines: what stands side by side in one type is one text, however it was drawn.

use super::phrase::{Reading, whole};
use super::words::Words;
use base::model::Rect;
use base::model::facts::{PageFacts, TextShown};

/// Pages with more texts are not read for dates: the largest wall plan of a year has about 1,500.
const MAX_TEXTS: usize = 6_000;
/// Texts stand on one line when their feet differ by no more than this share of their height.
const LEVEL: f64 = 0.25;
/// They are of one type when their heights differ by no more than this share.
const ALIKE: f64 = 0.15;
/// Gaps in heights of capitals: below the first, letters of one word; below the second, words of one text.
const GAPS: (f64, f64) = (0.12, 0.75);

/// A line of text.
#[derive(Clone, Debug)]
pub struct Line {
    /// Where it stands.
    pub area: Rect,
    /// What it says.
    pub text: String,
    /// Which row of lines it stands in, from the top.
    pub row: usize,
    /// What it says where that is a date and nothing else.
    pub reading: Option<Reading>,
    /// Its number where it is one from 1 to 54 and nothing else.
    pub number: Option<u8>,
}

/// The lines of a page, from the top and from the left, read for dates.
pub fn lines(page: &PageFacts, words: &Words) -> Vec<Line> {
    let mut out = shown(page);
    for line in &mut out {
        line.reading = whole(&line.text, words);
        let digits = (1..=2).contains(&line.text.len()) && line.text.bytes().all(|b| b.is_ascii_digit());
        line.number = digits.then(|| line.text.parse().ok()).flatten().filter(|n| (1..=54).contains(n));
    }
    out
}

/// The same, unread.
pub fn shown(page: &PageFacts) -> Vec<Line> {
    if page.texts.len() > MAX_TEXTS {
        return Vec::new();
    }
    let mut texts: Vec<&TextShown> = page.texts.iter().filter(|t| t.level && !t.text.is_empty()).collect();
    texts.sort_by(|a, b| a.area.bottom().total_cmp(&b.area.bottom()).then(a.area.x.total_cmp(&b.area.x)));
    let mut rows: Vec<Vec<&TextShown>> = Vec::new();
    for text in texts {
        let fits = |row: &Vec<&TextShown>| {
            let (foot, height) = row.first().map_or((f64::MIN, 0.0), |first| (first.area.bottom(), first.area.h));
            text.area.bottom() - foot <= LEVEL * height.min(text.area.h)
        };
        match rows.last_mut().filter(|row| fits(row)) {
            Some(row) => row.push(text),
            None => rows.push(vec![text]),
        }
    }
    let mut out: Vec<Line> = Vec::new();
    for (index, mut row) in rows.into_iter().enumerate() {
        row.sort_by(|a, b| a.area.x.total_cmp(&b.area.x));
        let begun = out.len();
        for text in row {
            let gap = out[begun..].last().and_then(|line| gap(line, text));
            match (gap, out.last_mut()) {
                (Some(between), Some(line)) => {
                    line.text.push_str(between);
                    line.text.push_str(&text.text);
                    let (top, right) = (line.area.y.min(text.area.y), line.area.right().max(text.area.right()));
                    let foot = line.area.bottom().max(text.area.bottom());
                    line.area = Rect::new(line.area.x, top, right - line.area.x, foot - top);
                }
                _ => out.push(Line {
                    area: text.area,
                    text: text.text.to_string(),
                    row: index,
                    reading: None,
                    number: None,
                }),
            }
        }
    }
    out
}

/// What belongs between a line and the text that follows it, if they are one.
fn gap(line: &Line, text: &TextShown) -> Option<&'static str> {
    let (a, b) = (line.area, text.area);
    if (a.h - b.h).abs() > ALIKE * a.h.max(b.h) {
        return None;
    }
    let gap = (b.x - a.right()) / a.h.max(0.1);
    if gap < -0.5 || gap > GAPS.1 {
        return None;
    }
    if gap < GAPS.0 {
        return Some("");
    }
    // Numbers, letters and names of a table are columns, not words.
    let figures = |s: &str| s.bytes().all(|b| b.is_ascii_digit());
    let single = |s: &str| s.chars().count() == 1;
    let (before, after) = (line.text.as_str(), &*text.text);
    let columns = figures(before) && figures(after)
        || single(before) && !figures(before)
        || single(after) && !figures(after)
        || before.len() == after.len() && before.len() <= 3 && !figures(after);
    (!columns).then_some(" ")
}
