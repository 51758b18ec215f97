//! A card that shows a typeface.

use super::built_in::{self, Family};
use super::fonts::Fonts;
use super::svg;
use super::text::{Align, Setting};
use base::model::drawing::Role;
use base::model::{Drawing, Fault, Rgb, Size};

/// Its name, a date, letters and figures, as SVG: 216 by 132 points.
///
/// # Errors
/// When a face of it cannot be read; none that comes along is such.
pub fn card(family: &Family, ink: Rgb, accent: Rgb) -> Result<String, Vec<Fault>> {
    let files = Role::ALL.map(|role| (role, built_in::font(family.face(role)).into_iter().collect()));
    let fonts = Fonts::open(&files.into())?;
    let (mut drawing, size) = (Drawing::default(), Size::new(216.0, 132.0));
    let rows = [
        (Role::Heading, 27.0, ink, family.name, 40.0),
        (Role::HeadingItalic, 14.0, accent, "Tuesday, 14 September", 66.0),
        (Role::Label, 10.5, ink, "Aa Bb Cc Dd Ee Gg Kk Qq Rr Ww", 90.0),
        (Role::LabelBold, 10.5, ink, "Notes & lists, 0123456789", 110.0),
    ];
    let margin = 14.0;
    for (role, most, colour, text, y) in rows {
        let setting = Setting::new(role, most, colour);
        let fits = ((size.w - 2.0 * margin) / setting.width(&fonts, text)).min(1.0);
        setting.sized(most * fits).draw(&mut drawing, &fonts, text, margin, y, Align::Left);
    }
    Ok(svg::document(&drawing, size, &fonts, &[]))
}
