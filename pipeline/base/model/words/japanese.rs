//! Japanese.

use super::{DIGITS, Words};

pub fn words() -> Words {
    let text = str::to_owned;
    Words {
        table: text("ja"),
        digits: text(DIGITS),
        colon: text("："),
        capitals: true,
        index: text("もくじ"),
        templates: text("テンプレート"),
        template_pages: text("テンプレートのページ"),
        cover: text("表紙"),
        welcome: text("はじめに"),
        sections: text("セクション"),
        section: text("セクション"),
        page: text("ページ"),
        more: text("ほか{}ページ"),
        belongs_to: text("このノートの持ち主"),
        tabs: text("タブ"),
        coil: text("リング"),
        title: text("タイトル"),
        squares: text("四角"),
        found_again: text("また開きたいページ"),
        where_it_is: text("場所"),
        go_to: text("移動先："),
        notes: text("メモ"),
        to_do: text("やること"),
        date: text("日付"),
        focus: text("テーマ"),
        most_important: text("いちばん大切なこと"),
        month: text("月"),
        heading: text("タイトル"),
        topic: text("話題"),
        cues: text("キーワード"),
        summary: text("まとめ"),
        priorities: text("優先すること"),
        week: text("週"),
        week_short: text("週"),
        week_number: text("第{}週"),
        quarter: text("第{}四半期"),
        to_index: text("もくじ"),
        to_overview: text("テンプレート一覧"),
        to_cover: text("表紙"),
        to_first_section: text("最初のセクション"),
    }
}
