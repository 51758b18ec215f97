//! Japanese.

use super::Note;

/// The sentences.
pub const TABLE: Note = Note {
    title: "更新内容",
    title_version: "{version}の更新内容",
    title_in: "{name}の更新内容",
    same: "お持ちのものの見た目や動きに変わりはありません。ダウンロードし直す必要はありません。",
    again: "ファイルをもう一度ダウンロードしてください。新しいバージョンは無料です。",
    written_on: "書きこんだページは、お手元のコピーにそのまま残ります。新しいノートを別に読みこんで、好きなところから続けてください。",
    licence: "**利用条件が変わりました**。ファイルを使い続ける前に、もう一度お読みください。",
    dates_moved: "手帳の対象の月が変わりました",
    guide: "ガイドを更新しました",
    quoted: "「{text}」",
    end: "。",
    pages_new: &["新しいページ{n}ページ"],
    links_new: &["新しいリンク{n}個"],
    files_new: &["新しいファイル{n}個"],
    pages_redrawn: &["改良したページ{n}ページ"],
    pictures_changed: &["描き直した画像{n}点"],
    pages_moved: &["場所が変わったページ{n}ページ"],
    links_changed: &["行き先または位置が変わったリンク{n}個"],
    files_renamed: &["名前が変わったファイル{n}個"],
    pages_gone: &["なくなったページ{n}ページ"],
    links_gone: &["なくなったリンク{n}個"],
    files_gone: &["なくなったファイル{n}個（お使いの場合は、お手元のファイルを残しておいてください）"],
    covers_new: &["新しい表紙{n}種類"],
    stickers_new: &["新しいシール{n}枚"],
    covers_redrawn: &["描き直した表紙{n}種類"],
    stickers_redrawn: &["描き直したシール{n}枚"],
    covers_gone: &["なくなった表紙{n}種類（お使いの場合は、お手元のファイルを残しておいてください）"],
    stickers_gone: &["なくなったシール{n}枚（お使いの場合は、お手元のファイルを残しておいてください）"],
};
