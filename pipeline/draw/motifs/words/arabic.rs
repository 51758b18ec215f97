//! Arabic.

use super::MotifWords;

/// The words.
pub static TABLE: MotifWords = MotifWords {
    appointment: "موعد",
    hello: "مرحبًا",
    today: "اليوم",
    for_and_against: "مع وضد",
    goal: "الهدف",
    good_things: "ثلاثة أشياء جميلة",
    habits: "العادات",
    meals: "الوجبات",
    this_month: "هذا الشهر",
    phone_call: "مكالمة هاتفية",
    shopping: "المشتريات",
    to_do: "مهام",
    who: "من",
    number: "الرقم",
    about: "عن",
    date: "التاريخ",
    time: "الوقت",
    with: "مع",
    place: "المكان",
    bring: "ما أحضره",
    planned: "المخطط",
    spent: "المنفق",
    left: "المتبقي",
};
