//! Dutch.

use super::{DIGITS, Words};

pub fn words() -> Words {
    let text = str::to_owned;
    Words {
        table: text("nl"),
        digits: text(DIGITS),
        colon: text(": "),
        capitals: false,
        index: text("Inhoud"),
        templates: text("Sjablonen"),
        template_pages: text("Sjabloonpagina’s"),
        cover: text("Omslag"),
        welcome: text("Welkom"),
        sections: text("Secties"),
        section: text("Sectie"),
        page: text("pagina"),
        more: text("nog {}"),
        belongs_to: text("Dit notitieboek is van"),
        tabs: text("Tabbladen"),
        coil: text("Ringen"),
        title: text("Titel"),
        squares: text("Vierkantjes"),
        found_again: text("Om terug te vinden"),
        where_it_is: text("Waar"),
        go_to: text("Ga naar"),
        notes: text("Notities"),
        to_do: text("Taken"),
        date: text("Datum"),
        focus: text("Aandacht voor"),
        most_important: text("Het belangrijkste"),
        month: text("Maand"),
        heading: text("Titel"),
        topic: text("Onderwerp"),
        cues: text("Trefwoorden"),
        summary: text("Samenvatting"),
        priorities: text("Prioriteiten"),
        week: text("Week"),
        week_short: text("wk"),
        week_number: text("Week"),
        quarter: text("Kwartaal"),
        to_index: text("naar de inhoud"),
        to_overview: text("naar het overzicht van de sjablonen"),
        to_cover: text("naar de omslag"),
        to_first_section: text("naar de eerste sectie"),
    }
}
