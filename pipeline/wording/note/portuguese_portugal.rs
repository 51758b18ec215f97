//! Portuguese of Portugal.

use super::Note;

/// The sentences.
pub const TABLE: Note = Note {
    title: "Novidades",
    title_version: "Novidades {version}",
    title_in: "Novidades de {name}",
    same: "Nada do que tem mudou de aspeto ou de uso: não precisa de transferir nada de novo.",
    again: "Transfira os seus ficheiros de novo: a versão nova não custa nada.",
    written_on: "As páginas em que escreveu ficam na sua própria cópia. Importe o caderno novo ao lado e continue onde quiser.",
    licence: "**Os termos de licença mudaram.** Leia-os de novo antes de continuar a usar os ficheiros.",
    dates_moved: "A agenda é agora para outros meses",
    guide: "O guia foi atualizado",
    quoted: "«{text}»",
    end: ".",
    pages_new: &["Uma página nova", "{n} páginas novas"],
    links_new: &["Um link novo", "{n} links novos"],
    files_new: &["Um ficheiro novo", "{n} ficheiros novos"],
    pages_redrawn: &["Uma página foi melhorada", "{n} páginas foram melhoradas"],
    pictures_changed: &["Uma imagem foi redesenhada", "{n} imagens foram redesenhadas"],
    pages_moved: &["Uma página mudou de lugar", "{n} páginas mudaram de lugar"],
    links_changed: &[
        "Um link leva a outro lugar ou mudou de posição",
        "{n} links levam a outro lugar ou mudaram de posição",
    ],
    files_renamed: &["Um ficheiro tem nome novo", "{n} ficheiros têm nomes novos"],
    pages_gone: &["Uma página saiu", "{n} páginas saíram"],
    links_gone: &["Um link saiu", "{n} links saíram"],
    files_gone: &[
        "Um ficheiro saiu; guarde a sua cópia antiga se o usa",
        "{n} ficheiros saíram; guarde as suas cópias antigas se os usa",
    ],
    covers_new: &["Uma capa nova", "{n} capas novas"],
    stickers_new: &["Um autocolante novo", "{n} autocolantes novos"],
    covers_redrawn: &["Uma capa foi redesenhada", "{n} capas foram redesenhadas"],
    stickers_redrawn: &["Um autocolante foi redesenhado", "{n} autocolantes foram redesenhados"],
    covers_gone: &[
        "Uma capa saiu; guarde a sua cópia antiga se a usa",
        "{n} capas saíram; guarde as suas cópias antigas se as usa",
    ],
    stickers_gone: &[
        "Um autocolante saiu; guarde a sua cópia antiga se o usa",
        "{n} autocolantes saíram; guarde as suas cópias antigas se os usa",
    ],
};
