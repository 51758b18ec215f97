//! Where columns end: each where it is full, or all of them filled alike.

use super::rows::Row;

/// How much an empty part of a column of the last page counts against one of another page.
const LAST: f64 = 0.35;
/// What the cost of ending a column somewhere counts against its empty part: a line that one would rather leave empty.
const LINE: f64 = 0.01;
/// What it counts to end a column within what a picture shows.
const TORN: f64 = 0.25;

/// How high rows are in a column that begins with them, without the head of a table that is repeated there.
pub fn height(rows: &[Row]) -> f64 {
    rows.iter().enumerate().map(|(i, row)| row.height + if i > 0 { row.gap } else { 0.0 }).sum()
}

/// The head of a table that is repeated above a row where a column begins with it.
pub fn head(rows: &[Row], from: usize) -> Option<&Row> {
    rows[from].head.as_deref().filter(|_| from > 0)
}

/// Where the column that begins with row `from` ends: where the empty lines below, and the cost of ending there, come to
/// least; where it may end nowhere, wherever it is full.
pub fn fitting(rows: &[Row], from: usize, height: f64, line: f64) -> usize {
    let mut used = 0.0;
    let mut end = from;
    let mut best: Option<(f64, usize)> = None;
    for (i, row) in rows.iter().enumerate().skip(from) {
        used += row.height + if i == from { 0.0 } else { row.gap };
        let below = if i == from { 0.0 } else { row.below };
        // Rounding must not push out a row that fits to a hair.
        if used + below > height + 1e-6 {
            break;
        }
        end = i + 1;
        if let Some(cost) = rows.get(end).and_then(|next| next.break_cost) {
            let cost = cost + (height - used) / line;
            if best.is_none_or(|(least, _)| cost <= least) {
                best = Some((cost, end));
            }
        }
    }
    if end == rows.len() {
        return end;
    }
    best.map_or(end, |(_, i)| i)
}

/// What it costs that a column of this height ends before row `to`, where it is filled up to `used`; nothing where it may not.
fn cost(rows: &[Row], to: usize, (used, height): (f64, f64), weight: f64) -> Option<f64> {
    let gap = ((height - used) / height).max(0.0);
    let own = match rows.get(to) {
        None => 0.0,
        Some(next) => next.break_cost? * LINE + if next.inside { TORN } else { 0.0 },
    };
    Some(weight * gap * gap + own)
}

/// Where columns of these heights end so that they are filled alike, the last `last` of them least of all; nothing if they do not
/// hold the rows. The sum of squares of what stays empty is the least that can be had.
pub fn balanced(rows: &[Row], heights: &[f64], last: usize) -> Option<Vec<usize>> {
    let count = rows.len();
    // What the rows from each on cost in the columns after the one that is looked at.
    let mut after = vec![f64::INFINITY; count + 1];
    after[count] = 0.0;
    let mut ends = Vec::with_capacity(heights.len());
    for (column, height) in heights.iter().enumerate().rev() {
        let weight = if column + last >= heights.len() { LAST } else { 1.0 };
        let mut least = vec![(f64::INFINITY, count); count + 1];
        least[count] = (weight + after[count], count);
        for (from, first) in rows.iter().enumerate() {
            let mut used = first.height + head(rows, from).map_or(0.0, |head| head.height);
            let mut to = from + 1;
            // The first row fits or nothing does; those after it with their letters.
            let mut deepest = used;
            while deepest <= height + 1e-6 {
                let own = cost(rows, to, (used, *height), weight);
                let whole = own.map_or(f64::INFINITY, |own| own + after[to]);
                if whole < least[from].0 {
                    least[from] = (whole, to);
                }
                let Some(next) = rows.get(to) else { break };
                used += next.gap + next.height;
                deepest = used + next.below;
                to += 1;
            }
        }
        after = least.iter().map(|(cost, _)| *cost).collect();
        ends.push(least);
    }
    if !after[0].is_finite() {
        return None;
    }
    let mut from = 0;
    let end = |least: &Vec<(f64, usize)>| {
        from = least[from].1;
        from
    };
    Some(ends.iter().rev().map(end).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// What the cheapest of all ways to end columns costs, from this column and row on.
    fn cheapest(rows: &[Row], heights: &[f64], last: usize, (column, from): (usize, usize)) -> f64 {
        let Some(high) = heights.get(column) else { return if from == rows.len() { 0.0 } else { f64::INFINITY } };
        let weight = if column + last >= heights.len() { LAST } else { 1.0 };
        let then = |to: usize| cheapest(rows, heights, last, (column + 1, to));
        if from == rows.len() {
            return weight + then(from);
        }
        let ends = (from + 1..=rows.len()).map(|to| (to, height(&rows[from..to])));
        let fit = ends.filter(|(_, used)| used <= high);
        let costs = fit.filter_map(|(to, used)| Some(cost(rows, to, (used, *high), weight)? + then(to)));
        costs.fold(f64::INFINITY, f64::min)
    }

    /// What these ends cost.
    fn total(rows: &[Row], heights: &[f64], last: usize, ends: &[usize]) -> f64 {
        let mut from = 0;
        let mut sum = 0.0;
        for (column, (to, high)) in ends.iter().zip(heights).enumerate() {
            let weight = if column + last >= heights.len() { LAST } else { 1.0 };
            let used = height(&rows[from..*to]);
            assert!(used <= *high + 1e-6, "a column holds more than it can");
            sum += if from == rows.len() { weight } else { cost(rows, *to, (used, *high), weight).unwrap_or(1e9) };
            from = *to;
        }
        assert_eq!(from, rows.len(), "rows are left over");
        sum
    }

    fn row() -> impl Strategy<Value = Row> {
        let costs = prop_oneof![Just(None), Just(Some(0.0)), Just(Some(2.5)), Just(Some(6.0))];
        (0u8..3, 1u8..9, costs, any::<bool>()).prop_map(|(gap, height, break_cost, inside)| Row {
            gap: f64::from(gap),
            height: f64::from(height),
            break_cost,
            inside,
            ..Row::default()
        })
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]

        #[test]
        fn columns_are_filled_as_alike_as_can_be(
            rows in proptest::collection::vec(row(), 1..10),
            columns in 1usize..5,
            last in 1usize..3,
            high in 9u8..24,
        ) {
            let heights = vec![f64::from(high); columns];
            let least = cheapest(&rows, &heights, last, (0, 0));
            match balanced(&rows, &heights, last) {
                Some(ends) => {
                    prop_assert_eq!(ends.len(), columns);
                    let own = total(&rows, &heights, last, &ends);
                    prop_assert!((own - least).abs() < 1e-9, "{own} and not {least}: {ends:?}");
                }
                None => prop_assert!(!least.is_finite(), "{least}"),
            }
        }
    }
}
