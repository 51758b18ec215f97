//! The launch, as the manifest writes it.

use super::{Described, Deserialize, Spanned, Word};

/// The day of the launch, and what is to be done by when.
#[derive(Default, Deserialize, Described)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Launch {
    /// The day of the launch.
    /// Default: it must be given in the product's own manifest or in the shop's file.
    /// Example: `on = 2027-10-01`
    pub on: Option<Spanned<toml::value::Datetime>>,
    /// Steps of your own, and changes to the usual ones, which are `art`, `checks`, `proof`, `pictures`, `tablet`, `upload`, `announce` and `past-buyers`. Those of the shop's file are added; what a product says of a step of the same name goes before.
    /// Default: the usual ones.
    /// Example: `step = [{ name = "film", title = "Film of the pages cut", days-before = 9 }]`
    pub step: Vec<Spanned<LaunchStep>>,
}

/// A thing to be done before or after a launch.
#[derive(Clone, Default, Deserialize, Described)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct LaunchStep {
    /// The name of the step: a usual one, which is changed, or one of your own, of lower-case letters, digits and hyphens.
    /// Default: it must be given.
    /// Example: `name = "announce"`
    pub name: Word,
    /// What is to be done, in a line.
    /// Default: that of the usual step; one of your own must have it.
    /// Example: `title = "Letter to subscribers sent"`
    pub title: Word,
    /// How many days before the launch it is to be done; below 0 for days after it.
    /// Range: -90 to 400. Default: that of the usual step; one of your own must have it.
    /// Example: `days-before = 5`
    pub days_before: Option<Spanned<i64>>,
    /// What of the bundle shows that it is done, beside `sheafwright launch PRODUCT --done STEP`.
    /// Default: that of the usual step; nothing for one of your own.
    /// Example: `shown-by = "issued"`
    pub shown_by: Option<ShownBy>,
    /// Whether the plan is without this step.
    /// Default: false.
    pub leave_out: Option<bool>,
}

/// What shows that a step is done.
#[derive(Clone, Copy, PartialEq, Eq, Deserialize, Described)]
#[serde(rename_all = "kebab-case")]
pub enum ShownBy {
    /// The version is built, of the files as they are now.
    Built,
    /// The version is built, without errors and warnings.
    Clean,
    /// The bundle has listing pictures.
    Pictures,
    /// The version is sealed.
    Issued,
}
