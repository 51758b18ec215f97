//! Page labels (ISO 32000-1, 12.4.2): what a reader app shows for the number of a page.

use super::{integer, name, text, trees};
use hayro_syntax::object::{Dict, Object};
use hayro_syntax::xref::XRef;
use std::collections::BTreeMap;

/// Numbers beyond this are written as digits, whatever the style: a hostile file could ask for a Roman billion.
const MAX_STYLED: i64 = 20_000;

/// The runs of page labels, by the page on which each begins.
pub struct Labels(BTreeMap<usize, Run>);

struct Run {
    prefix: String,
    style: String,
    start: i64,
}

impl Labels {
    /// Reads the label tree of a catalog.
    pub fn read<'a>(root: &Dict<'a>, xref: &'a XRef) -> Labels {
        let mut runs = BTreeMap::new();
        if let Some(tree) = root.get::<Dict>("PageLabels") {
            trees::walk(tree, xref, "Nums", |key, run| {
                if let (Object::Number(at), Object::Dict(run)) = (key, run)
                    && let Ok(at) = usize::try_from(at.as_i64())
                {
                    let start = integer(&run, "St").unwrap_or(1);
                    let prefix = text(&run, "P").unwrap_or_default();
                    runs.insert(at, Run { prefix, style: name(&run, "S").unwrap_or_default(), start });
                }
            });
        }
        Labels(runs)
    }

    /// The label of a page, by index from 0; `None` where no run covers it.
    pub fn of(&self, page: usize) -> Option<String> {
        let (first, run) = self.0.range(..=page).next_back()?;
        let n = run.start.saturating_add((page - first) as i64);
        let number = match run.style.as_str() {
            "D" => n.to_string(),
            "R" => roman(n),
            "r" => roman(n).to_lowercase(),
            "A" => letters(n),
            "a" => letters(n).to_lowercase(),
            _ => String::new(),
        };
        Some(format!("{}{number}", run.prefix))
    }
}

fn roman(n: i64) -> String {
    const STEPS: [(i64, &str); 13] = [
        (1000, "M"),
        (900, "CM"),
        (500, "D"),
        (400, "CD"),
        (100, "C"),
        (90, "XC"),
        (50, "L"),
        (40, "XL"),
        (10, "X"),
        (9, "IX"),
        (5, "V"),
        (4, "IV"),
        (1, "I"),
    ];
    if !(1..=MAX_STYLED).contains(&n) {
        return n.to_string();
    }
    let mut rest = n;
    let mut out = String::new();
    for (value, sign) in STEPS {
        while rest >= value {
            out.push_str(sign);
            rest -= value;
        }
    }
    out
}

/// A to Z, then AA to ZZ, then AAA to ZZZ, and so on.
fn letters(n: i64) -> String {
    if !(1..=MAX_STYLED).contains(&n) {
        return n.to_string();
    }
    let (letter, times) = ((n - 1) % 26, (n - 1) / 26 + 1);
    // `letter` is below 26, so this is a letter from A to Z.
    std::iter::repeat_n(char::from(b'A' + letter as u8), times as usize).collect()
}

#[cfg(test)]
mod tests {
    use super::{letters, roman};

    #[test]
    fn numbers_are_written_as_the_standard_says() {
        assert_eq!([1, 4, 9, 14, 40, 90, 400, 1999].map(roman).join(" "), "I IV IX XIV XL XC CD MCMXCIX");
        assert_eq!([1, 26, 27, 52, 53].map(letters).join(" "), "A Z AA ZZ AAA");
        assert_eq!(roman(0), "0");
        assert_eq!(letters(1_000_000_000), "1000000000");
    }
}
