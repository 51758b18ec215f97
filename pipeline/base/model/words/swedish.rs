//! Swedish.

use super::{DIGITS, Words};

pub fn words() -> Words {
    let text = str::to_owned;
    Words {
        table: text("sv"),
        digits: text(DIGITS),
        colon: text(": "),
        capitals: false,
        index: text("Innehåll"),
        templates: text("Mallar"),
        template_pages: text("Mallsidor"),
        cover: text("Omslag"),
        welcome: text("Välkommen"),
        sections: text("Avsnitt"),
        section: text("Avsnitt"),
        page: text("sida"),
        more: text("{} till"),
        belongs_to: text("Den här boken tillhör"),
        tabs: text("Flikar"),
        coil: text("Ringar"),
        title: text("Titel"),
        squares: text("Rutor"),
        found_again: text("Värt att hitta igen"),
        where_it_is: text("Var"),
        go_to: text("Gå till"),
        notes: text("Anteckningar"),
        to_do: text("Att göra"),
        date: text("Datum"),
        focus: text("Fokus"),
        most_important: text("Viktigast"),
        month: text("Månad"),
        heading: text("Titel"),
        topic: text("Ämne"),
        cues: text("Stödord"),
        summary: text("Sammanfattning"),
        priorities: text("Prioriteringar"),
        week: text("Vecka"),
        week_short: text("v."),
        week_number: text("Vecka"),
        quarter: text("Kvartal"),
        to_index: text("till innehållet"),
        to_overview: text("till översikten över mallarna"),
        to_cover: text("till omslaget"),
        to_first_section: text("till det första avsnittet"),
    }
}
