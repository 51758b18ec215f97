//! Arabic.

use super::{DIGITS, Words};

pub fn words() -> Words {
    let text = str::to_owned;
    Words {
        table: text("ar"),
        digits: text(DIGITS),
        colon: text(": "),
        capitals: true,
        index: text("الفهرس"),
        templates: text("القوالب"),
        template_pages: text("صفحات القوالب"),
        cover: text("الغلاف"),
        welcome: text("مرحبًا"),
        sections: text("الأقسام"),
        section: text("القسم"),
        page: text("الصفحة"),
        more: text("و{} أخرى"),
        belongs_to: text("هذا الدفتر يخصّ"),
        tabs: text("الألسنة"),
        coil: text("الحلقات"),
        title: text("العنوان"),
        squares: text("المربعات"),
        found_again: text("صفحات أعود إليها"),
        where_it_is: text("أين"),
        go_to: text("انتقال إلى"),
        notes: text("ملاحظات"),
        to_do: text("مهام"),
        date: text("التاريخ"),
        focus: text("محور الاهتمام"),
        most_important: text("الأهم"),
        month: text("الشهر"),
        heading: text("العنوان"),
        topic: text("الموضوع"),
        cues: text("كلمات مفتاحية"),
        summary: text("الخلاصة"),
        priorities: text("الأولويات"),
        week: text("الأسبوع"),
        week_short: text("أسبوع"),
        week_number: text("الأسبوع"),
        quarter: text("الربع"),
        to_index: text("إلى الفهرس"),
        to_overview: text("إلى صفحة عرض القوالب"),
        to_cover: text("إلى الغلاف"),
        to_first_section: text("إلى القسم الأول"),
    }
}
