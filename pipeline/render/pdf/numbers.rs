//! Numbers as they are written.

use lopdf::Object;

/// A coordinate to a thousandth of a point; whole ones as integers.
pub fn number(v: f64) -> Object {
    let v = (v * 1000.0).round() / 1000.0;
    if v.fract() == 0.0 { Object::Integer(v as i64) } else { Object::Real(v as f32) }
}
