//! The drawings of the layouts that come with the tool: SVG, filled by tera.

/// The drawing of a layout.
pub fn template(name: &str) -> Option<&'static str> {
    Some(match name {
        "cover" => include_str!("layouts/cover.svg.tera"),
        "year" => include_str!("layouts/year.svg.tera"),
        "dates" => include_str!("layouts/dates.svg.tera"),
        "inside" => include_str!("layouts/inside.svg.tera"),
        "fan" => include_str!("layouts/fan.svg.tera"),
        "templates" => include_str!("layouts/templates.svg.tera"),
        "tabs" => include_str!("layouts/tabs.svg.tera"),
        "frame" => include_str!("layouts/frame.svg.tera"),
        "covers" => include_str!("layouts/covers.svg.tera"),
        "colourways" => include_str!("layouts/colourways.svg.tera"),
        "stickers" => include_str!("layouts/stickers.svg.tera"),
        "together" => include_str!("layouts/together.svg.tera"),
        "flip-through" => include_str!("layouts/flip-through.svg.tera"),
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    #[test]
    fn every_layout_has_its_drawing() {
        for layout in draw::shots::TABLE {
            let text = super::template(layout.name).unwrap_or_default();
            assert!(text.contains("<svg"), "{}", layout.name);
        }
    }
}
