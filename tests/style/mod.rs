//! A plain style for tests, with fonts from crates that carry openly licensed ones.

use base::model::drawing::Role;
use base::model::look::Manner;
use base::model::product::{FontFile, Style};
use base::model::{Mm, Rgb};

/// Ink on warm paper, Noto Sans in every role.
pub fn plain() -> Style {
    let font = |from: &str, bytes: &[u8]| {
        vec![FontFile { from: from.into(), bytes: bytes.into(), built_in: true, figures: None }]
    };
    let fonts = [
        (Role::Heading, font("Noto Sans Bold", notosans::BOLD_TTF)),
        (Role::HeadingItalic, font("Noto Sans Bold Italic", notosans::BOLD_ITALIC_TTF)),
        (Role::Label, font("Noto Sans", notosans::REGULAR_TTF)),
        (Role::LabelBold, font("Noto Sans Bold", notosans::BOLD_TTF)),
        (Role::LabelItalic, font("Noto Sans Italic", notosans::ITALIC_TTF)),
    ];
    Style {
        fonts: fonts.into_iter().collect(),
        ink: Rgb::new(0x2b, 0x2d, 0x2b),
        rule: Rgb::new(0xb4, 0xb4, 0xae),
        paper: Rgb::new(0xfb, 0xf9, 0xf3),
        desk: Rgb::new(0xe6, 0xe0, 0xd4),
        accent: Rgb::new(0xb0, 0x5a, 0x3c),
        corner: Mm(2.5),
        manner: Manner::default(),
    }
}
