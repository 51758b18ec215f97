//! German.

use super::{DIGITS, Words};

pub fn words() -> Words {
    let text = str::to_owned;
    Words {
        table: text("de"),
        digits: text(DIGITS),
        colon: text(": "),
        capitals: true,
        index: text("Inhalt"),
        templates: text("Vorlagen"),
        template_pages: text("Vorlagenseiten"),
        cover: text("Umschlag"),
        welcome: text("Willkommen"),
        sections: text("Abschnitte"),
        section: text("Abschnitt"),
        page: text("Seite"),
        more: text("{} weitere"),
        belongs_to: text("Dieses Notizbuch gehört"),
        tabs: text("Register"),
        coil: text("Ringe"),
        title: text("Titel"),
        squares: text("Quadrate"),
        found_again: text("Zum Wiederfinden"),
        where_it_is: text("Wo"),
        go_to: text("Gehe zu"),
        notes: text("Notizen"),
        to_do: text("Aufgaben"),
        date: text("Datum"),
        focus: text("Schwerpunkt"),
        most_important: text("Das Wichtigste"),
        month: text("Monat"),
        heading: text("Titel"),
        topic: text("Thema"),
        cues: text("Stichwörter"),
        summary: text("Zusammenfassung"),
        priorities: text("Prioritäten"),
        week: text("Woche"),
        week_short: text("KW"),
        week_number: text("Woche"),
        quarter: text("Quartal"),
        to_index: text("zum Inhalt"),
        to_overview: text("zur Übersicht der Vorlagen"),
        to_cover: text("zum Umschlag"),
        to_first_section: text("zum ersten Abschnitt"),
    }
}
