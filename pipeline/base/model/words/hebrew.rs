//! Hebrew.

use super::{DIGITS, Words};

pub fn words() -> Words {
    let text = str::to_owned;
    Words {
        table: text("he"),
        digits: text(DIGITS),
        colon: text(": "),
        capitals: true,
        index: text("תוכן העניינים"),
        templates: text("תבניות"),
        template_pages: text("עמודי התבניות"),
        cover: text("כריכה"),
        welcome: text("ברוכים הבאים"),
        sections: text("פרקים"),
        section: text("פרק"),
        page: text("עמוד"),
        more: text("ועוד {}"),
        belongs_to: text("המחברת הזאת שייכת ל:"),
        tabs: text("לשוניות"),
        coil: text("טבעות"),
        title: text("כותרת"),
        squares: text("ריבועים"),
        found_again: text("עמודים ששווה לחזור אליהם"),
        where_it_is: text("היכן"),
        go_to: text("מעבר אל"),
        notes: text("הערות"),
        to_do: text("מטלות"),
        date: text("תאריך"),
        focus: text("במוקד"),
        most_important: text("הכי חשוב"),
        month: text("חודש"),
        heading: text("כותרת"),
        topic: text("נושא"),
        cues: text("מילות מפתח"),
        summary: text("סיכום"),
        priorities: text("סדר עדיפויות"),
        week: text("שבוע"),
        week_short: text("שב׳"),
        week_number: text("שבוע"),
        quarter: text("רבעון"),
        to_index: text("לתוכן העניינים"),
        to_overview: text("לסקירת התבניות"),
        to_cover: text("לכריכה"),
        to_first_section: text("לפרק הראשון"),
    }
}
