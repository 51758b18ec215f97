//! Colours that run into each other, as shadings along an axis (ISO 32000-1, 8.7.4.5.3), which PDF has had since 1.3.

use super::numbers::number;
use base::model::drawing::Grade;
use base::model::{Point, Rgb};
use lopdf::{Dictionary, Object, dictionary};

/// The shading of a grade on a page of this height.
pub fn object(grade: &Grade, height: f64) -> Dictionary {
    let end = |p: Point| [number(p.x), number(height - p.y)];
    dictionary! {
        "ShadingType" => 2,
        "ColorSpace" => Object::Name(b"DeviceRGB".to_vec()),
        "Coords" => [end(grade.from), end(grade.to)].concat(),
        "Extend" => vec![true.into(), true.into()],
        "Function" => function(&grade.tones),
    }
}

/// From tone to tone in straight lines (7.10.3), stitched together where there are more than two (7.10.4).
fn function(tones: &[(f64, Rgb)]) -> Dictionary {
    let mut steps: Vec<Dictionary> = tones.windows(2).map(|pair| step(pair[0].1, pair[1].1)).collect();
    if steps.len() == 1 {
        return steps.remove(0);
    }
    let bounds: Vec<Object> = tones.iter().skip(1).take(tones.len().saturating_sub(2)).map(|t| number(t.0)).collect();
    let encode: Vec<Object> = steps.iter().flat_map(|_| [0.into(), 1.into()]).collect();
    let steps: Vec<Object> = steps.into_iter().map(Object::Dictionary).collect();
    dictionary! {
        "FunctionType" => 3,
        "Domain" => vec![0.into(), 1.into()],
        "Functions" => steps,
        "Bounds" => bounds,
        "Encode" => encode,
    }
}

fn step(from: Rgb, to: Rgb) -> Dictionary {
    let tone = |c: Rgb| c.fractions().map(number).to_vec();
    dictionary! {
        "FunctionType" => 2, "Domain" => vec![0.into(), 1.into()], "C0" => tone(from), "C1" => tone(to), "N" => 1,
    }
}
