//! The pen: line weights and greys that every page design shares, for full size and for small pictures.

use super::text::Setting;
use base::colour;
use base::model::Rgb;
use base::model::drawing::{Role, Stroke};
use base::model::look::Capitals;
use base::model::product::Style;

/// Weights and colours for rulings. Contrasts to the paper: rules 1.6 to 2.2, grids 1.25 to 1.5, dots about 2
/// (common practice, no source).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pen {
    /// Colour of rules and frames.
    pub rule: Rgb,
    /// Colour of grid lines, lighter.
    pub grid: Rgb,
    /// Colour of dots, darker.
    pub dot: Rgb,
    /// Colour of text.
    pub ink: Rgb,
    /// Colour of quiet text, at least 4.5 : 1 on the paper.
    pub quiet: Rgb,
    /// The paper under it.
    pub paper: Rgb,
    /// The one accent.
    pub accent: Rgb,
    /// Width of a rule in points.
    pub weight: f64,
    /// Diameter of a dot in points.
    pub dot_size: f64,
    /// True for the small pictures of the overview: fewer details, no text.
    pub small: bool,
    /// How small labels are set: as they are written, or in small capitals.
    pub capitals: Capitals,
}

/// How much wider than others small capitals are set apart, in em: such letters take 0.05 to 0.08 altogether.
const APART: f64 = 0.04;

impl Pen {
    /// The pen for full-size pages in this style.
    pub fn new(style: &Style) -> Pen {
        Pen {
            rule: style.rule,
            grid: colour::mix(style.rule, style.paper, 0.4),
            dot: colour::mix(style.rule, style.ink, 0.12),
            ink: style.ink,
            quiet: colour::at_contrast(style.paper, style.ink, 5.2),
            paper: style.paper,
            accent: style.accent,
            weight: 0.5,
            dot_size: 1.05,
            small: false,
            capitals: style.manner.capitals,
        }
    }

    /// A small quiet label of a size in points, with this tracking in em where it is set as it is written.
    pub fn label(&self, size: f64, tracking: f64) -> Setting {
        let (role, apart) = match self.capitals {
            Capitals::Plain => (Role::Label, 0.0),
            Capitals::Small => (Role::SmallCapitals, APART),
        };
        Setting::new(role, size, self.quiet).tracked(tracking + apart)
    }

    /// The pen for a picture of the page at `scale` of its size: lines and dots heavier, so that the ruling is
    /// recognised at a glance although everything shrinks.
    pub fn for_small(self, scale: f64) -> Pen {
        let scale = scale.clamp(0.02, 1.0);
        Pen {
            rule: colour::mix(self.rule, self.ink, 0.22),
            grid: colour::mix(self.grid, self.ink, 0.16),
            dot: colour::mix(self.dot, self.ink, 0.3),
            weight: (0.36 / scale).max(self.weight),
            dot_size: (0.85 / scale).max(self.dot_size),
            small: true,
            ..self
        }
    }

    /// A rule.
    pub fn rule(&self) -> Stroke {
        Stroke::new(self.weight, self.rule)
    }

    /// A grid line.
    pub fn grid(&self) -> Stroke {
        Stroke::new(self.weight, self.grid)
    }

    /// Every fifth line of a grid.
    pub fn grid_strong(&self) -> Stroke {
        Stroke::new(self.weight * 1.2, self.rule)
    }
}
