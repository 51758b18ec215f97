//! Colours against published figures.
#![allow(clippy::unwrap_used)]

use base::colour::difference::{Sight, ciede2000};
use base::colour::{contrast, luminance};
use base::model::Rgb;

fn rows(csv: &str) -> impl Iterator<Item = Vec<&str>> {
    csv.lines().skip(1).map(|line| line.split(',').collect())
}

/// The 34 pairs of Sharma, Wu and Dalal, in both directions, to the four decimals that they print.
#[test]
fn the_published_pairs() {
    let mut count = 0;
    for row in rows(include_str!("../../../../tests/fixtures/refs/ciede2000.csv")) {
        let n: Vec<f64> = row.iter().map(|v| v.parse().unwrap()).collect();
        let (a, b) = ([n[1], n[2], n[3]], [n[4], n[5], n[6]]);
        for found in [ciede2000(a, b), ciede2000(b, a)] {
            assert!((found - n[7]).abs() < 1e-4, "pair {}: {found} is not {}", n[0], n[7]);
        }
        count += 1;
    }
    assert_eq!(count, 34);
}

/// Relative luminance and contrast ratio by the definition of WCAG 2.2, worked out elsewhere.
#[test]
fn the_contrast_of_pairs() {
    for row in rows(include_str!("../../../../tests/fixtures/refs/wcag_contrast.csv")) {
        let (a, b) = (Rgb::parse(row[0]).unwrap(), Rgb::parse(row[1]).unwrap());
        let close = |found: f64, wanted: &str, slack: f64| (found - wanted.parse::<f64>().unwrap()).abs() < slack;
        assert!(close(luminance(a), row[2], 1e-8) && close(luminance(b), row[3], 1e-8), "{row:?}");
        assert!(close(contrast(a, b), row[4], 1e-5), "{row:?}: {}", contrast(a, b));
    }
}

/// The matrices of the paper, as another library carries them; each row adds up to 1, so that greys stay what they are.
#[test]
fn the_matrices_of_the_paper() {
    let rows: Vec<_> = rows(include_str!("../../../../tests/fixtures/refs/machado2009.csv")).collect();
    for sight in Sight::ALL {
        let wanted = rows.iter().filter(|row| row[0] == sight.name());
        for (row, wanted) in sight.matrix().iter().zip(wanted) {
            let wanted: Vec<f64> = wanted[2..].iter().map(|v| v.parse().unwrap()).collect();
            assert_eq!(row.as_slice(), wanted, "{sight:?}");
            assert!((row.iter().sum::<f64>() - 1.0).abs() < 2e-6, "{sight:?} {row:?}");
        }
    }
    assert_eq!(rows.len(), 9);
}
