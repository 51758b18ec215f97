//! Italian.

use super::{DIGITS, Words};

pub fn words() -> Words {
    let text = str::to_owned;
    Words {
        table: text("it"),
        digits: text(DIGITS),
        colon: text(": "),
        capitals: false,
        index: text("Indice"),
        templates: text("Modelli"),
        template_pages: text("Pagine modello"),
        cover: text("Copertina"),
        welcome: text("Benvenuto"),
        sections: text("Sezioni"),
        section: text("Sezione"),
        page: text("pagina"),
        more: text("altre {}"),
        belongs_to: text("Questo quaderno appartiene a"),
        tabs: text("Linguette"),
        coil: text("Anelli"),
        title: text("Titolo"),
        squares: text("Quadrati"),
        found_again: text("Da ritrovare"),
        where_it_is: text("Dove"),
        go_to: text("Vai a"),
        notes: text("Note"),
        to_do: text("Da fare"),
        date: text("Data"),
        focus: text("In primo piano"),
        most_important: text("Il più importante"),
        month: text("Mese"),
        heading: text("Titolo"),
        topic: text("Argomento"),
        cues: text("Parole chiave"),
        summary: text("Riassunto"),
        priorities: text("Priorità"),
        week: text("Settimana"),
        week_short: text("S"),
        week_number: text("Settimana"),
        quarter: text("Trimestre"),
        to_index: text("all’indice"),
        to_overview: text("alla panoramica dei modelli"),
        to_cover: text("alla copertina"),
        to_first_section: text("alla prima sezione"),
    }
}
