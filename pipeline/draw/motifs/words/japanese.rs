//! Japanese.

use super::MotifWords;

/// The words.
pub static TABLE: MotifWords = MotifWords {
    appointment: "予定",
    hello: "こんにちは",
    today: "今日",
    for_and_against: "良い点と悪い点",
    goal: "目標",
    good_things: "よかったこと三つ",
    habits: "習慣",
    meals: "献立",
    this_month: "今月",
    phone_call: "電話",
    shopping: "買い物",
    to_do: "やること",
    who: "相手",
    number: "番号",
    about: "用件",
    date: "日付",
    time: "時間",
    with: "同席者",
    place: "場所",
    bring: "持ち物",
    planned: "予算",
    spent: "支出",
    left: "残り",
};
