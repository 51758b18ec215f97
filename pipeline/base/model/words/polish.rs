//! Polish.

use super::{DIGITS, Words};

pub fn words() -> Words {
    let text = str::to_owned;
    Words {
        table: text("pl"),
        digits: text(DIGITS),
        colon: text(": "),
        capitals: false,
        index: text("Spis treści"),
        templates: text("Szablony"),
        template_pages: text("Strony szablonów"),
        cover: text("Okładka"),
        welcome: text("Powitanie"),
        sections: text("Działy"),
        section: text("Dział"),
        page: text("strona"),
        more: text("jeszcze {}"),
        belongs_to: text("Ten notatnik należy do"),
        tabs: text("Zakładki"),
        coil: text("Kółka"),
        title: text("Tytuł"),
        squares: text("Kwadraciki"),
        found_again: text("Warto tu wrócić"),
        where_it_is: text("Gdzie"),
        go_to: text("Przejdź do:"),
        notes: text("Notatki"),
        to_do: text("Do zrobienia"),
        date: text("Data"),
        focus: text("W centrum uwagi"),
        most_important: text("Najważniejsze"),
        month: text("Miesiąc"),
        heading: text("Tytuł"),
        topic: text("Temat"),
        cues: text("Hasła"),
        summary: text("Podsumowanie"),
        priorities: text("Priorytety"),
        week: text("Tydzień"),
        week_short: text("T"),
        week_number: text("Tydzień"),
        quarter: text("Kwartał"),
        to_index: text("do spisu treści"),
        to_overview: text("do przeglądu szablonów"),
        to_cover: text("do okładki"),
        to_first_section: text("do pierwszego działu"),
    }
}
