//! Italian.

use super::Note;

/// The sentences.
pub const TABLE: Note = Note {
    title: "Novità",
    title_version: "Novità {version}",
    title_in: "Novità di {name}",
    same: "Niente di ciò che hai cambia aspetto o funziona in altro modo: non devi scaricare nulla di nuovo.",
    again: "Scarica di nuovo i tuoi file: la nuova versione non ti costa nulla.",
    written_on: "Le pagine su cui hai scritto restano nella tua copia. Importa il nuovo quaderno accanto e continua dove preferisci.",
    licence: "**Le condizioni di licenza sono cambiate.** Rileggile prima di continuare a usare i file.",
    dates_moved: "L’agenda è ora per altri mesi",
    guide: "La guida è stata aggiornata",
    quoted: "«{text}»",
    end: ".",
    pages_new: &["Una nuova pagina", "{n} nuove pagine"],
    links_new: &["Un nuovo link", "{n} nuovi link"],
    files_new: &["Un nuovo file", "{n} nuovi file"],
    pages_redrawn: &["Una pagina è stata migliorata", "{n} pagine sono state migliorate"],
    pictures_changed: &["Un’immagine è stata ridisegnata", "{n} immagini sono state ridisegnate"],
    pages_moved: &["Una pagina ha cambiato posto", "{n} pagine hanno cambiato posto"],
    links_changed: &["Un link porta altrove o è stato spostato", "{n} link portano altrove o sono stati spostati"],
    files_renamed: &["Un file ha un nuovo nome", "{n} file hanno nuovi nomi"],
    pages_gone: &["Una pagina non c’è più", "{n} pagine non ci sono più"],
    links_gone: &["Un link non c’è più", "{n} link non ci sono più"],
    files_gone: &[
        "Un file non c’è più; tieni la tua vecchia copia se lo usi",
        "{n} file non ci sono più; tieni le tue vecchie copie se li usi",
    ],
    covers_new: &["Una nuova copertina", "{n} nuove copertine"],
    stickers_new: &["Un nuovo adesivo", "{n} nuovi adesivi"],
    covers_redrawn: &["Una copertina è stata ridisegnata", "{n} copertine sono state ridisegnate"],
    stickers_redrawn: &["Un adesivo è stato ridisegnato", "{n} adesivi sono stati ridisegnati"],
    covers_gone: &[
        "Una copertina non c’è più; tieni la tua vecchia copia se la usi",
        "{n} copertine non ci sono più; tieni le tue vecchie copie se le usi",
    ],
    stickers_gone: &[
        "Un adesivo non c’è più; tieni la tua vecchia copia se lo usi",
        "{n} adesivi non ci sono più; tieni le tue vecchie copie se li usi",
    ],
};
