//! Polish.

use super::Note;

/// The sentences.
pub const TABLE: Note = Note {
    title: "Co nowego",
    title_version: "Co nowego w wersji {version}",
    title_in: "Co nowego: {name}",
    same: "Nic z tego, co masz, nie wygląda ani nie działa inaczej: nie trzeba niczego pobierać ponownie.",
    again: "Pobierz swoje pliki jeszcze raz: nowa wersja nic cię nie kosztuje.",
    written_on: "Zapisane strony zostają w twojej własnej kopii. Zaimportuj nowy notatnik obok i pisz dalej tam, gdzie chcesz.",
    licence: "**Zmieniły się warunki licencji.** Przeczytaj je ponownie, zanim znów użyjesz plików.",
    dates_moved: "Planer obejmuje teraz inne miesiące",
    guide: "Instrukcja została uaktualniona",
    quoted: "„{text}”",
    end: ".",
    pages_new: &["Jedna nowa strona", "{n} nowe strony", "{n} nowych stron"],
    links_new: &["Jeden nowy link", "{n} nowe linki", "{n} nowych linków"],
    files_new: &["Jeden nowy plik", "{n} nowe pliki", "{n} nowych plików"],
    pages_redrawn: &["Jedna poprawiona strona", "{n} poprawione strony", "{n} poprawionych stron"],
    pictures_changed: &[
        "Jeden obrazek narysowany na nowo",
        "{n} obrazki narysowane na nowo",
        "{n} obrazków narysowanych na nowo",
    ],
    pages_moved: &["Jedna strona w innym miejscu", "{n} strony w innych miejscach", "{n} stron w innych miejscach"],
    links_changed: &[
        "Jeden link prowadzi gdzie indziej lub zmienił miejsce",
        "{n} linki prowadzą gdzie indziej lub zmieniły miejsce",
        "{n} linków prowadzi gdzie indziej lub zmieniło miejsce",
    ],
    files_renamed: &["Jeden plik z nową nazwą", "{n} pliki z nowymi nazwami", "{n} plików z nowymi nazwami"],
    pages_gone: &["Ubyła jedna strona", "Ubyły {n} strony", "Ubyło {n} stron"],
    links_gone: &["Ubył jeden link", "Ubyły {n} linki", "Ubyło {n} linków"],
    files_gone: &[
        "Ubył jeden plik; zachowaj dawną kopię, jeśli go używasz",
        "Ubyły {n} pliki; zachowaj dawne kopie, jeśli ich używasz",
        "Ubyło {n} plików; zachowaj dawne kopie, jeśli ich używasz",
    ],
    covers_new: &["Jedna nowa okładka", "{n} nowe okładki", "{n} nowych okładek"],
    stickers_new: &["Jedna nowa naklejka", "{n} nowe naklejki", "{n} nowych naklejek"],
    covers_redrawn: &[
        "Jedna okładka narysowana na nowo",
        "{n} okładki narysowane na nowo",
        "{n} okładek narysowanych na nowo",
    ],
    stickers_redrawn: &[
        "Jedna naklejka narysowana na nowo",
        "{n} naklejki narysowane na nowo",
        "{n} naklejek narysowanych na nowo",
    ],
    covers_gone: &[
        "Ubyła jedna okładka; zachowaj dawną kopię, jeśli jej używasz",
        "Ubyły {n} okładki; zachowaj dawne kopie, jeśli ich używasz",
        "Ubyło {n} okładek; zachowaj dawne kopie, jeśli ich używasz",
    ],
    stickers_gone: &[
        "Ubyła jedna naklejka; zachowaj dawną kopię, jeśli jej używasz",
        "Ubyły {n} naklejki; zachowaj dawne kopie, jeśli ich używasz",
        "Ubyło {n} naklejek; zachowaj dawne kopie, jeśli ich używasz",
    ],
};
