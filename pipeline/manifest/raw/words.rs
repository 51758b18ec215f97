//! Words of the tool's own that the designer puts others in the place of.

use base::keys::Described;
use base::model::words;
use serde::Deserialize;

/// Words in the place of those that the tool puts on pages. What is not said is in the language of the product, where the tool has
/// its words (Arabic, Dutch, English, French, German, Hebrew, Italian, Japanese, Polish, Portuguese, Spanish, Swedish), else in English.
#[derive(Default, Deserialize, Described)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Words {
    /// The title of the index.
    /// Default: "Index", in the language of the product.
    /// Example: `index = "Inhalt"`
    pub index: Option<String>,
    /// The title of the overview of templates.
    /// Default: "Templates", in the language of the product.
    /// Example: `templates = "Vorlagen"`
    pub templates: Option<String>,
    /// The templates' own pages in the outline, where they stand apart from the overview.
    /// Default: "Template pages", in the language of the product.
    /// Example: `template-pages = "Vorlagenseiten"`
    pub template_pages: Option<String>,
    /// The cover, in the outline.
    /// Default: "Cover", in the language of the product.
    /// Example: `cover = "Umschlag"`
    pub cover: Option<String>,
    /// The file of covers, in its title.
    /// Default: "covers", in the language of the product.
    /// Example: `covers = "Umschläge"`
    pub covers: Option<String>,
    /// The file of sheets of stickers, in its title.
    /// Default: "stickers", in the language of the product.
    /// Example: `stickers = "Sticker"`
    pub stickers: Option<String>,
    /// Behind the name of a group of stickers that goes on from the sheet before.
    /// Default: "continued", in the language of the product.
    /// Example: `continued = "Fortsetzung"`
    pub continued: Option<String>,
    /// The welcome page, in the outline.
    /// Default: "Welcome", in the language of the product.
    /// Example: `welcome = "Willkommen"`
    pub welcome: Option<String>,
    /// The sections, in the outline.
    /// Default: "Sections", in the language of the product.
    /// Example: `sections = "Abschnitte"`
    pub sections: Option<String>,
    /// A section without a name, before its number.
    /// Default: "Section", in the language of the product.
    /// Example: `section = "Abschnitt"`
    pub section: Option<String>,
    /// A page of a section, before its number.
    /// Default: "page", in the language of the product.
    /// Example: `page = "Seite"`
    pub page: Option<String>,
    /// What stands for the pages that a list has no line for; {} is how many they are.
    /// Default: "{} more", in the language of the product.
    /// Example: `more = "{} weitere"`
    pub more: Option<String>,
    /// Above the lines for the owner's name.
    /// Default: "This notebook belongs to", in the language of the product.
    /// Example: `belongs-to = "Dieses Notizbuch gehört"`
    pub belongs_to: Option<String>,
    /// The tabs, on the small map of the notebook.
    /// Default: "Tabs", in the language of the product.
    /// Example: `tabs = "Register"`
    pub tabs: Option<String>,
    /// The coil, on the same map.
    /// Default: what the binding is called where one is drawn ("Rings" for rings), in the language of the product.
    /// Example: `coil = "Ringe"`
    pub coil: Option<String>,
    /// The title at the foot, on the same map.
    /// Default: "Title", in the language of the product.
    /// Example: `title = "Titel"`
    pub title: Option<String>,
    /// The four little squares at the foot, on the same map.
    /// Default: "Squares", in the language of the product.
    /// Example: `squares = "Quadrate"`
    pub squares: Option<String>,
    /// Above lines for pages that are worth finding again.
    /// Default: "Worth finding again", in the language of the product.
    /// Example: `found-again = "Zum Wiederfinden"`
    pub found_again: Option<String>,
    /// Above the column for where they are.
    /// Default: "Where", in the language of the product.
    /// Example: `where-it-is = "Wo"`
    pub where_it_is: Option<String>,
    /// What a screen reader says before the place that a link leads to.
    /// Default: "Go to", in the language of the product.
    /// Example: `go-to = "Gehe zu"`
    pub go_to: Option<String>,
    /// Above room for notes.
    /// Default: "Notes", in the language of the product.
    /// Example: `notes = "Notizen"`
    pub notes: Option<String>,
    /// Above a list of tasks.
    /// Default: "To do", in the language of the product.
    /// Example: `to-do = "Aufgaben"`
    pub to_do: Option<String>,
    /// Before room for a date.
    /// Default: "Date", in the language of the product.
    /// Example: `date = "Datum"`
    pub date: Option<String>,
    /// Above room for what a week or a month is about.
    /// Default: "Focus", in the language of the product.
    /// Example: `focus = "Schwerpunkt"`
    pub focus: Option<String>,
    /// Above room for what counts most on a day.
    /// Default: "Most important", in the language of the product.
    /// Example: `most-important = "Das Wichtigste"`
    pub most_important: Option<String>,
    /// Before room for the name of a month.
    /// Default: "Month", in the language of the product.
    /// Example: `month = "Monat"`
    pub month: Option<String>,
    /// Before room for the title of a page.
    /// Default: "Title", in the language of the product.
    /// Example: `heading = "Titel"`
    pub heading: Option<String>,
    /// Before room for what notes are about.
    /// Default: "Topic", in the language of the product.
    /// Example: `topic = "Thema"`
    pub topic: Option<String>,
    /// Above the column of cue words.
    /// Default: "Cues", in the language of the product.
    /// Example: `cues = "Stichwörter"`
    pub cues: Option<String>,
    /// Above room for a summary.
    /// Default: "Summary", in the language of the product.
    /// Example: `summary = "Zusammenfassung"`
    pub summary: Option<String>,
    /// Above room for priorities.
    /// Default: "Priorities", in the language of the product.
    /// Example: `priorities = "Prioritäten"`
    pub priorities: Option<String>,
    /// Before room for the number of a week.
    /// Default: "Week", in the language of the product.
    /// Example: `week = "Woche"`
    pub week: Option<String>,
    /// Before the number of a week; {} stands where the number does, if that is not at the end.
    /// Default: what is said for `week`, else "Week", in the language of the product.
    /// Example: `week-number = "{}. Woche"`
    pub week_number: Option<String>,
    /// Above a column of week numbers.
    /// Default: "W", in the language of the product.
    /// Example: `week-short = "KW"`
    pub week_short: Option<String>,
    /// Before the number of a quarter; {} stands where the number does, if that is not at the end.
    /// Default: "Quarter", in the language of the product.
    /// Example: `quarter = "Quartal"`
    pub quarter: Option<String>,
    /// Where something leads, in the steps of the welcome page: to the index.
    /// Default: "to the index", in the language of the product.
    /// Example: `to-index = "zum Inhalt"`
    pub to_index: Option<String>,
    /// The same of the overview.
    /// Default: "to the overview of the templates", in the language of the product.
    /// Example: `to-overview = "zur Übersicht der Vorlagen"`
    pub to_overview: Option<String>,
    /// The same of the cover.
    /// Default: "to the cover", in the language of the product.
    /// Example: `to-cover = "zum Umschlag"`
    pub to_cover: Option<String>,
    /// The same of the first section, where there is no index.
    /// Default: "to the first section", in the language of the product.
    /// Example: `to-first-section = "zum ersten Abschnitt"`
    pub to_first_section: Option<String>,
}

impl Words {
    /// The words of a language with these in their places.
    pub fn over(&self, language: &str) -> words::Words {
        let mut all = words::Words::of(language);
        if all.speaks(language) {
            all.digits =
                calendar::Names::new(language).map_or_else(|_| words::DIGITS.to_owned(), |names| names.digits());
        }
        if let Some(week) = &self.week {
            all.week_number.clone_from(week);
        }
        macro_rules! put {
            ($($key:ident),*) => { $( if let Some(word) = &self.$key { all.$key.clone_from(word); } )* };
        }
        put!(
            index,
            templates,
            template_pages,
            cover,
            covers,
            stickers,
            continued,
            welcome,
            sections,
            section,
            page,
            more,
            belongs_to,
            tabs,
            coil,
            title,
            squares,
            found_again,
            where_it_is,
            go_to,
            notes,
            to_do,
            date,
            focus,
            most_important,
            month,
            heading,
            topic,
            cues,
            summary,
            priorities,
            week,
            week_short,
            week_number,
            quarter,
            to_index,
            to_overview,
            to_cover,
            to_first_section
        );
        all
    }
}
