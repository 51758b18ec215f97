//! English.

use super::{DIGITS, Words};

pub fn words() -> Words {
    let text = str::to_owned;
    Words {
        table: text("en"),
        digits: text(DIGITS),
        colon: text(": "),
        capitals: false,
        index: text("Index"),
        templates: text("Templates"),
        template_pages: text("Template pages"),
        cover: text("Cover"),
        welcome: text("Welcome"),
        sections: text("Sections"),
        section: text("Section"),
        page: text("page"),
        more: text("{} more"),
        belongs_to: text("This notebook belongs to"),
        tabs: text("Tabs"),
        coil: text("Rings"),
        title: text("Title"),
        squares: text("Squares"),
        found_again: text("Worth finding again"),
        where_it_is: text("Where"),
        go_to: text("Go to"),
        notes: text("Notes"),
        to_do: text("To do"),
        date: text("Date"),
        focus: text("Focus"),
        most_important: text("Most important"),
        month: text("Month"),
        heading: text("Title"),
        topic: text("Topic"),
        cues: text("Cues"),
        summary: text("Summary"),
        priorities: text("Priorities"),
        week: text("Week"),
        week_short: text("W"),
        week_number: text("Week"),
        quarter: text("Quarter"),
        to_index: text("to the index"),
        to_overview: text("to the overview of the templates"),
        to_cover: text("to the cover"),
        to_first_section: text("to the first section"),
    }
}
