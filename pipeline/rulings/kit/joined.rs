//! Tables with the same names of rows as one: where a page has no height for each of them, their columns stand side by side.

use super::part::{Holds, Kind, Part};

/// The parts with those tables as one whose rows have the same names; none where no tables have.
pub fn joined(parts: &[Part]) -> Option<Vec<Part>> {
    let mut out: Vec<Part> = Vec::new();
    for (i, part) in parts.iter().enumerate() {
        // What stands beside a table would go with the band before.
        let leads = !part.beside && parts.get(i + 1).is_some_and(|next| next.beside);
        let twin = out.iter().position(|first| !leads && same_rows(first, part));
        match twin {
            Some(at) => join(&mut out[at], part),
            None => out.push(part.clone()),
        }
    }
    (out.len() < parts.len()).then_some(out)
}

/// Whether the columns of a table can stand in another one: nothing that is named may go for it.
fn same_rows(first: &Part, part: &Part) -> bool {
    let corner = part.labels.first().is_none_or(|label| label.is_empty() || first.labels.first() == Some(label));
    let tables = first.part == Kind::Table && part.part == Kind::Table;
    let alike = first.names == part.names && first.rows == part.rows && first.mark == part.mark;
    tables && alike && corner && !part.names.is_empty() && part.label.is_empty()
}

/// Appends the columns of a table, but for that with the names.
fn join(first: &mut Part, part: &Part) {
    let mut all = columns(first, 0);
    all.extend(columns(part, 1));
    first.labels = all.iter().map(|(label, ..)| label.clone()).collect();
    first.holds = all.iter().map(|(_, held, _)| *held).collect();
    first.widths = all.iter().map(|(.., wide)| *wide).collect();
}

/// The columns of a table from one on: label, what they hold, width. Circles, of which each table has a count of its own, become
/// numbers that are written.
fn columns(part: &Part, from: usize) -> Vec<(String, Holds, f64)> {
    let column = |i: usize| match part.held(i) {
        Holds::Dots => (part.labels[i].clone(), Holds::Text, 1.0),
        held => (part.labels[i].clone(), held, part.wide(i)),
    };
    (from..part.labels.len()).map(column).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn table(labels: &[&str], names: &[&str], holds: &[Holds]) -> Part {
        let said = |list: &[&str]| list.iter().map(|text| (*text).to_owned()).collect();
        Part { part: Kind::Table, labels: said(labels), names: said(names), holds: holds.to_vec(), ..Part::default() }
    }

    #[test]
    fn columns_of_tables_with_the_same_rows_stand_side_by_side() {
        let days = ["Mon", "Tue"];
        let sleep = table(&["", "Up", "Hours"], &days, &[Holds::Text, Holds::Text, Holds::Dots]);
        let water = table(&["", "Glasses"], &days, &[Holds::Text, Holds::Dots]);
        let parts = [Part::default(), sleep.clone(), water, Part::default()];
        let all = joined(&parts).unwrap_or_default();
        assert_eq!(all.len(), 3);
        assert_eq!(all[1].labels, ["", "Up", "Hours", "Glasses"]);
        assert_eq!((all[1].holds.as_slice(), all[1].names.as_slice()), (&[Holds::Text; 4][..], &sleep.names[..]));
        assert_eq!(all[1].widths.len(), 4);
    }

    #[test]
    fn nothing_with_a_name_goes_for_it() {
        let (days, meals) = (table(&["", "A"], &["Mon", "Tue"], &[]), table(&["", "B"], &["Noon", "Night"], &[]));
        let titled = Part { label: "Water".into(), ..days.clone() };
        let cornered = Part { labels: vec!["Day".into(), "B".into()], ..days.clone() };
        for other in [meals, titled, cornered, Part { names: Vec::new(), ..days.clone() }] {
            assert!(joined(&[days.clone(), other.clone()]).is_none(), "{other:?}");
        }
        // What stands beside the second table would stand beside the first.
        let noted = Part { beside: true, ..Part::default() };
        assert!(joined(&[days.clone(), days.clone(), noted]).is_none());
    }
}
