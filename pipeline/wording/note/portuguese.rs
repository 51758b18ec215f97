//! Portuguese.

use super::Note;

/// The sentences.
pub const TABLE: Note = Note {
    title: "Novidades",
    title_version: "Novidades {version}",
    title_in: "Novidades de {name}",
    same: "Nada do que você tem mudou de aspecto ou de uso: não precisa baixar nada de novo.",
    again: "Baixe os seus arquivos de novo: a versão nova não custa nada.",
    written_on: "As páginas em que você escreveu ficam na sua própria cópia. Importe o caderno novo ao lado e continue onde quiser.",
    licence: "**Os termos de licença mudaram.** Leia-os de novo antes de continuar a usar os arquivos.",
    dates_moved: "A agenda é agora para outros meses",
    guide: "O guia foi atualizado",
    quoted: "“{text}”",
    end: ".",
    pages_new: &["Uma página nova", "{n} páginas novas"],
    links_new: &["Um link novo", "{n} links novos"],
    files_new: &["Um arquivo novo", "{n} arquivos novos"],
    pages_redrawn: &["Uma página foi melhorada", "{n} páginas foram melhoradas"],
    pictures_changed: &["Uma imagem foi redesenhada", "{n} imagens foram redesenhadas"],
    pages_moved: &["Uma página mudou de lugar", "{n} páginas mudaram de lugar"],
    links_changed: &[
        "Um link leva a outro lugar ou mudou de posição",
        "{n} links levam a outro lugar ou mudaram de posição",
    ],
    files_renamed: &["Um arquivo tem nome novo", "{n} arquivos têm nomes novos"],
    pages_gone: &["Uma página saiu", "{n} páginas saíram"],
    links_gone: &["Um link saiu", "{n} links saíram"],
    files_gone: &[
        "Um arquivo saiu; guarde a sua cópia antiga se o usa",
        "{n} arquivos saíram; guarde as suas cópias antigas se os usa",
    ],
    covers_new: &["Uma capa nova", "{n} capas novas"],
    stickers_new: &["Um adesivo novo", "{n} adesivos novos"],
    covers_redrawn: &["Uma capa foi redesenhada", "{n} capas foram redesenhadas"],
    stickers_redrawn: &["Um adesivo foi redesenhado", "{n} adesivos foram redesenhados"],
    covers_gone: &[
        "Uma capa saiu; guarde a sua cópia antiga se a usa",
        "{n} capas saíram; guarde as suas cópias antigas se as usa",
    ],
    stickers_gone: &[
        "Um adesivo saiu; guarde a sua cópia antiga se o usa",
        "{n} adesivos saíram; guarde as suas cópias antigas se os usa",
    ],
};
