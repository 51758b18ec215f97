//! Colours against published figures.
#![allow(clippy::unwrap_used)]

use super::colour::{Sight, ciede2000};
use crate::draw::colour::{contrast, luminance};
use crate::model::Rgb;

fn rows(csv: &str) -> impl Iterator<Item = Vec<&str>> {
    csv.lines().skip(1).map(|line| line.split(',').collect())
}

/// The 34 pairs of Sharma, Wu and Dalal, in both directions, to the four decimals that they print.
#[test]
fn the_published_pairs() {
    let mut count = 0;
    for row in rows(include_str!("../../../tests/fixtures/refs/ciede2000.csv")) {
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
    for row in rows(include_str!("../../../tests/fixtures/refs/wcag_contrast.csv")) {
        let (a, b) = (Rgb::parse(row[0]).unwrap(), Rgb::parse(row[1]).unwrap());
        let close = |found: f64, wanted: &str, slack: f64| (found - wanted.parse::<f64>().unwrap()).abs() < slack;
        assert!(close(luminance(a), row[2], 1e-8) && close(luminance(b), row[3], 1e-8), "{row:?}");
        assert!(close(contrast(a, b), row[4], 1e-5), "{row:?}: {}", contrast(a, b));
    }
}

/// Each row of a deficiency's matrix adds up to 1, so that greys stay what they are.
#[test]
fn greys_stay_grey() {
    for sight in Sight::ALL {
        for row in sight.matrix() {
            assert!((row.iter().sum::<f64>() - 1.0).abs() < 2e-6, "{sight:?} {row:?}");
        }
    }
}
