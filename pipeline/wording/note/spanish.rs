//! Spanish.

use super::Note;

/// The sentences.
pub const TABLE: Note = Note {
    title: "Novedades",
    title_version: "Novedades {version}",
    title_in: "Novedades de {name}",
    same: "Nada de lo que tienes cambia de aspecto ni de uso: no hace falta que descargues nada de nuevo.",
    again: "Descarga tus archivos otra vez: la versión nueva no te cuesta nada.",
    written_on: "Las páginas en las que has escrito se quedan en tu propia copia. Importa el cuaderno nuevo a su lado y sigue donde quieras.",
    licence: "**Las condiciones de la licencia han cambiado.** Léelas otra vez antes de seguir usando los archivos.",
    dates_moved: "La agenda es ahora para otros meses",
    guide: "La guía se ha puesto al día",
    quoted: "«{text}»",
    end: ".",
    pages_new: &["Una página nueva", "{n} páginas nuevas"],
    links_new: &["Un enlace nuevo", "{n} enlaces nuevos"],
    files_new: &["Un archivo nuevo", "{n} archivos nuevos"],
    pages_redrawn: &["Una página se ha mejorado", "{n} páginas se han mejorado"],
    pictures_changed: &["Una imagen se ha redibujado", "{n} imágenes se han redibujado"],
    pages_moved: &["Una página ha cambiado de lugar", "{n} páginas han cambiado de lugar"],
    links_changed: &["Un enlace lleva a otra parte o se ha movido", "{n} enlaces llevan a otra parte o se han movido"],
    files_renamed: &["Un archivo tiene un nombre nuevo", "{n} archivos tienen nombres nuevos"],
    pages_gone: &["Una página ya no está", "{n} páginas ya no están"],
    links_gone: &["Un enlace ya no está", "{n} enlaces ya no están"],
    files_gone: &[
        "Un archivo ya no está; conserva tu copia anterior si lo usas",
        "{n} archivos ya no están; conserva tus copias anteriores si los usas",
    ],
    covers_new: &["Una portada nueva", "{n} portadas nuevas"],
    stickers_new: &["Una pegatina nueva", "{n} pegatinas nuevas"],
    covers_redrawn: &["Una portada se ha redibujado", "{n} portadas se han redibujado"],
    stickers_redrawn: &["Una pegatina se ha redibujado", "{n} pegatinas se han redibujado"],
    covers_gone: &[
        "Una portada ya no está; conserva tu copia anterior si la usas",
        "{n} portadas ya no están; conserva tus copias anteriores si las usas",
    ],
    stickers_gone: &[
        "Una pegatina ya no está; conserva tu copia anterior si la usas",
        "{n} pegatinas ya no están; conserva tus copias anteriores si las usas",
    ],
};
