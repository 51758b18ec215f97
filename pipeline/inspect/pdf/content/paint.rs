//! Colours of fills, as far as they are plain: RGB and grey, and laid so that they cover what lies beneath.

use super::super::{number, value};
use super::State;
use super::sketch::Sketch;
use base::model::units::Rgb;
use hayro_syntax::object::Dict;
use hayro_syntax::page::Resources;

impl State {
    /// The colour that a fill lays down, if it is known.
    pub(super) fn fill(&self) -> Option<Rgb> {
        self.colour.filter(|_| self.opaque)
    }
}

/// Follows an operator that changes a colour or how it is laid; `n` are its numbers and how many were given.
pub fn operator(
    operator: &[u8],
    (n, given): (&[f64; 6], usize),
    name: Option<&[u8]>,
    resources: &Resources,
    state: &mut State,
    sketch: &mut Sketch,
) {
    match operator {
        b"k" | b"K" => {
            sketch.drawn.cmyk += 1;
            if operator == b"k" {
                state.colour = None;
            }
        }
        b"rg" => state.colour = Some(rgb([n[0], n[1], n[2]])),
        b"g" => state.colour = Some(rgb([n[0]; 3])),
        b"cs" | b"CS" => {
            if let Some(name) = name {
                sketch.drawn.cmyk += u64::from(name == b"DeviceCMYK");
                if operator == b"cs" {
                    state.components = match name {
                        b"DeviceRGB" => 3,
                        b"DeviceGray" => 1,
                        _ => 0,
                    };
                    state.colour = (state.components > 0).then_some(Rgb::BLACK);
                }
            }
        }
        b"sc" | b"scn" => {
            state.colour = match (state.components, given) {
                (3, 3) => Some(rgb([n[0], n[1], n[2]])),
                (1, 1) => Some(rgb([n[0]; 3])),
                _ => None,
            }
        }
        b"gs" => {
            if let Some(name) = name
                && let Some(graphics) = resources.ext_g_states.get::<Dict>(name)
            {
                if let Some(alpha) = number(&graphics, "ca") {
                    state.opaque = alpha >= 0.999;
                }
                // Whatever blends or is masked cannot be told without drawing it.
                let plain = |key: &str, words: [&str; 2]| {
                    value(&graphics, key).is_none()
                        || super::super::name(&graphics, key).is_some_and(|n| words.contains(&n.as_str()))
                };
                state.opaque &= plain("BM", ["Normal", "Compatible"]) && plain("SMask", ["None", "None"]);
            }
        }
        _ => {}
    }
}

/// A colour from fractions.
fn rgb(parts: [f64; 3]) -> Rgb {
    let [r, g, b] = parts.map(|v| (v.clamp(0.0, 1.0) * 255.0).round() as u8);
    Rgb::new(r, g, b)
}
