//! How different two colours look: CIEDE2000, also as people with a colour-vision deficiency see them.
//!
//! Sources: CIE 15:2004 for CIELAB; Sharma, Wu and Dalal, "The CIEDE2000 Color-Difference Formula: Implementation Notes,
//! Supplementary Test Data, and Mathematical Observations", Color Research and Application 30 (2005), for the
//! difference; Machado, Oliveira and Fernandes, "A Physiologically-based Model for Simulation of Color Vision
//! Deficiency", IEEE Transactions on Visualization and Computer Graphics 15 (2009), table of matrices at severity 1.0,
//! for the deficiencies.

use crate::model::units::Rgb;

/// A way of seeing colours.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sight {
    /// Without the long-wave cones.
    Protanopia,
    /// Without the middle-wave cones.
    Deuteranopia,
    /// Without the short-wave cones.
    Tritanopia,
}

impl Sight {
    /// All of them.
    pub const ALL: [Sight; 3] = [Sight::Protanopia, Sight::Deuteranopia, Sight::Tritanopia];

    /// Its name.
    pub fn name(self) -> &'static str {
        match self {
            Sight::Protanopia => "protanopia",
            Sight::Deuteranopia => "deuteranopia",
            Sight::Tritanopia => "tritanopia",
        }
    }

    /// The matrix of the deficiency for linear sRGB.
    pub const fn matrix(self) -> [[f64; 3]; 3] {
        match self {
            Sight::Protanopia => {
                [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]]
            }
            Sight::Deuteranopia => {
                [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]]
            }
            Sight::Tritanopia => {
                [[1.255528, -0.076749, -0.178779], [-0.078411, 0.930809, 0.147602], [0.004733, 0.691367, 0.303900]]
            }
        }
    }
}

/// The difference of two colours by CIEDE2000, as most people or as those with a deficiency see them.
pub fn difference(a: Rgb, b: Rgb, sight: Option<Sight>) -> f64 {
    ciede2000(lab(seen(a, sight)), lab(seen(b, sight)))
}

/// Linear sRGB as it is seen, each channel 0 to 1.
fn seen(colour: Rgb, sight: Option<Sight>) -> [f64; 3] {
    let linear = colour.fractions().map(|v| if v <= 0.04045 { v / 12.92 } else { libm::pow((v + 0.055) / 1.055, 2.4) });
    match sight {
        None => linear,
        Some(sight) => times(sight.matrix(), linear).map(|v| v.clamp(0.0, 1.0)),
    }
}

fn times(m: [[f64; 3]; 3], v: [f64; 3]) -> [f64; 3] {
    m.map(|row| row[0] * v[0] + row[1] * v[1] + row[2] * v[2])
}

/// CIELAB of linear sRGB, white point D65 (IEC 61966-2-1).
fn lab(linear: [f64; 3]) -> [f64; 3] {
    const XYZ: [[f64; 3]; 3] = [[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]];
    const WHITE: [f64; 3] = [0.9505, 1.0, 1.0890];
    let xyz = times(XYZ, linear);
    let f = |i: usize| {
        let t = xyz[i] / WHITE[i];
        if t > 216.0 / 24389.0 { libm::cbrt(t) } else { (24389.0 / 27.0 * t + 16.0) / 116.0 }
    };
    [116.0 * f(1) - 16.0, 500.0 * (f(0) - f(1)), 200.0 * (f(1) - f(2))]
}

/// The CIEDE2000 difference of two CIELAB colours, all weights 1. The names are those of the paper.
pub fn ciede2000([l1, a1, b1]: [f64; 3], [l2, a2, b2]: [f64; 3]) -> f64 {
    let mean_c = (libm::hypot(a1, b1) + libm::hypot(a2, b2)) / 2.0;
    let chroma_term = |c: f64| (c.powi(7) / (c.powi(7) + 25f64.powi(7))).sqrt();
    let g = 0.5 * (1.0 - chroma_term(mean_c));
    let (a1, a2) = ((1.0 + g) * a1, (1.0 + g) * a2);
    let (c1, c2) = (libm::hypot(a1, b1), libm::hypot(a2, b2));
    let hue =
        |a: f64, b: f64| if a == 0.0 && b == 0.0 { 0.0 } else { libm::atan2(b, a).to_degrees().rem_euclid(360.0) };
    let (h1, h2) = (hue(a1, b1), hue(a2, b2));
    let grey = c1 * c2 == 0.0;
    let turn = match h2 - h1 {
        _ if grey => 0.0,
        d if d > 180.0 => d - 360.0,
        d if d < -180.0 => d + 360.0,
        d => d,
    };
    let (dl, dc) = (l2 - l1, c2 - c1);
    let dh = 2.0 * (c1 * c2).sqrt() * libm::sin((turn / 2.0).to_radians());
    let (l, c) = ((l1 + l2) / 2.0, (c1 + c2) / 2.0);
    let h = match h1 + h2 {
        sum if grey => sum,
        sum if (h1 - h2).abs() <= 180.0 => sum / 2.0,
        sum if sum < 360.0 => (sum + 360.0) / 2.0,
        sum => (sum - 360.0) / 2.0,
    };
    let cos = |degrees: f64| libm::cos(degrees.to_radians());
    let t = 1.0 - 0.17 * cos(h - 30.0) + 0.24 * cos(2.0 * h) + 0.32 * cos(3.0 * h + 6.0) - 0.20 * cos(4.0 * h - 63.0);
    let rotation =
        2.0 * chroma_term(c) * libm::sin((2.0 * 30.0 * libm::exp(-((h - 275.0) / 25.0).powi(2))).to_radians());
    let sl = 1.0 + 0.015 * (l - 50.0).powi(2) / (20.0 + (l - 50.0).powi(2)).sqrt();
    let (sc, sh) = (1.0 + 0.045 * c, 1.0 + 0.015 * c * t);
    let (dl, dc, dh) = (dl / sl, dc / sc, dh / sh);
    (dl * dl + dc * dc + dh * dh - rotation * dc * dh).sqrt()
}
