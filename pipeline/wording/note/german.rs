//! German.

use super::Note;

/// The sentences.
pub const TABLE: Note = Note {
    title: "Was ist neu",
    title_version: "Was ist neu {version}",
    title_in: "Was ist neu in {name}",
    same: "Nichts, was du hast, sieht anders aus oder funktioniert anders: Du musst nichts neu herunterladen.",
    again: "Bitte lade deine Dateien noch einmal herunter: Die neue Version kostet dich nichts.",
    written_on: "Seiten, auf denen du schon geschrieben hast, bleiben in deiner eigenen Kopie. Importiere das neue Notizbuch daneben und schreibe weiter, wo du magst.",
    licence: "**Die Lizenzbedingungen haben sich geändert.** Bitte lies sie noch einmal, bevor du die Dateien weiter benutzt.",
    dates_moved: "Der Planer ist jetzt für andere Monate",
    guide: "Die Anleitung ist auf dem neuesten Stand",
    quoted: "„{text}“",
    end: ".",
    pages_new: &["Eine neue Seite", "{n} neue Seiten"],
    links_new: &["Ein neuer Link", "{n} neue Links"],
    files_new: &["Eine neue Datei", "{n} neue Dateien"],
    pages_redrawn: &["Eine Seite wurde verbessert", "{n} Seiten wurden verbessert"],
    pictures_changed: &["Ein Bild wurde neu gezeichnet", "{n} Bilder wurden neu gezeichnet"],
    pages_moved: &["Eine Seite steht an anderer Stelle", "{n} Seiten stehen an anderer Stelle"],
    links_changed: &[
        "Ein Link führt anderswohin oder ist verschoben",
        "{n} Links führen anderswohin oder sind verschoben",
    ],
    files_renamed: &["Eine Datei hat einen neuen Namen", "{n} Dateien haben neue Namen"],
    pages_gone: &["Eine Seite entfällt", "{n} Seiten entfallen"],
    links_gone: &["Ein Link entfällt", "{n} Links entfallen"],
    files_gone: &[
        "Eine Datei entfällt; behalte deine alte Kopie, wenn du sie benutzt",
        "{n} Dateien entfallen; behalte deine alten Kopien, wenn du sie benutzt",
    ],
    covers_new: &["Ein neuer Umschlag", "{n} neue Umschläge"],
    stickers_new: &["Ein neuer Sticker", "{n} neue Sticker"],
    covers_redrawn: &["Ein Umschlag wurde neu gezeichnet", "{n} Umschläge wurden neu gezeichnet"],
    stickers_redrawn: &["Ein Sticker wurde neu gezeichnet", "{n} Sticker wurden neu gezeichnet"],
    covers_gone: &[
        "Ein Umschlag entfällt; behalte deine alte Kopie, wenn du ihn benutzt",
        "{n} Umschläge entfallen; behalte deine alten Kopien, wenn du sie benutzt",
    ],
    stickers_gone: &[
        "Ein Sticker entfällt; behalte deine alte Kopie, wenn du ihn benutzt",
        "{n} Sticker entfallen; behalte deine alten Kopien, wenn du sie benutzt",
    ],
};
