//! Japanese. It has no spaces between words: `unspaced.rs` reads it.

use super::Vocabulary;
use crate::validate::listing::words::{Bound, Compound, Noun, Role};

/// The words.
pub static WORDS: Vocabulary = Vocabulary {
    code: "ja",
    nouns: &[
        (Noun::Pages, &["ページ", "頁"]),
        (Noun::Links, &["リンク", "ハイパーリンク"]),
        (Noun::Covers, &["表紙", "カバー"]),
        (Noun::Stickers, &["シール", "ステッカー"]),
        (Noun::Sheets, &["シールシート", "ステッカーシート", "シールのシート"]),
        (Noun::Sections, &["セクション"]),
        (Noun::Templates, &["テンプレート", "ページのテンプレート", "ページテンプレート"]),
        (Noun::Files, &["ファイル"]),
    ],
    hyphened: &[],
    pairs: &[],
    bounds: &[
        (Bound::AtLeast, &["少なくとも"]),
        (Bound::AtMost, &["最大", "多くて"]),
        (Bound::About, &["約", "およそ", "ほぼ"]),
    ],
    generic: &[],
    other: &[],
    each: &["それぞれ", "各", "ごとに"],
    range: &["～", "〜", "から", "–"],
    together: &["合計", "全部で", "合わせて"],
    documents: &[
        (Role::Notebook, &["ノート", "手帳"]),
        (Role::Covers, &["表紙"]),
        (Role::Guide, &["ガイド", "使い方", "説明書"]),
        (Role::Sheet, &["シールシート", "ステッカーシート"]),
    ],
    within: &[],
    small: [
        "零", "一", "二", "三", "四", "五", "六", "七", "八", "九", "十", "十一", "十二", "十三", "十四", "十五",
        "十六", "十七", "十八", "十九",
    ],
    tens: ["二十", "三十", "四十", "五十", "六十", "七十", "八十", "九十"],
    compound: Compound::Joined("一"),
    round: &[("百", 100), ("ダース", 12)],
    comma: false,
    spaced: false,
    behind: false,
    joined: None,
    by: &[],
    units: [
        &["インチ"],
        &["ミリ", "ミリメートル"],
        &["センチ", "センチメートル"],
        &["ポイント"],
        &["ピクセル", "画素"],
    ],
    bytes: [&["キロバイト"], &["メガバイト"], &["ギガバイト"]],
    longest: &["長い辺", "長辺"],
    proportions: &["比率", "縦横比", "比"],
    of_pages: &[],
    limits: &["制限", "空き", "容量"],
    has: &["ノートには", "シールは"],
    joints: &["と"],
    not_all: &["など", "たとえば", "例えば"],
    told: [
        &["ダウンロード", "デジタル"],
        &["インチ", "ページの大きさ", "ページサイズ"],
        &["利用条件", "ライセンス", "個人"],
    ],
};
