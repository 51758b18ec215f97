//! What came up while the pages were planned: shapes that do not fit, fonts that are not there, texts that are too long.

use super::catalogue::{Findings, found};
use base::model::Plan;
use base::model::plan::About;

/// Says what the plan has to say.
pub fn check(plan: &Plan, findings: &mut Findings) {
    for remark in &plan.remarks {
        let (at, message) = (remark.place.clone(), &remark.message);
        match remark.about {
            About::ArtShape => found!(findings, "art-shape-off", at, "{message}"),
            About::ArtFont => found!(findings, "art-font-missing", at, "{message}"),
            About::ArtCharacter => found!(findings, "art-character-missing", at, "{message}"),
            About::ArtLink => found!(findings, "art-link-covered", at, "{message}"),
            About::ArtLinkUnclear => found!(findings, "art-link-unclear", at, "{message}"),
            About::ArtLeftOut => found!(findings, "art-left-out", at, "{message}"),
            About::DatesStale => found!(findings, "dates-list-stale", at, "{message}"),
            About::DatesOutside => found!(findings, "dates-list-outside", at, "{message}"),
            About::LeapUnsaid => found!(findings, "leap-event-unsaid", at, "{message}"),
            About::ZoneUnsaid => found!(findings, "event-zone-unsaid", at, "{message}"),
            About::RuleUnread => found!(findings, "rule-unread", at, "{message}"),
            About::GlyphMissing => found!(findings, "font-glyph-missing", at, "{message}"),
            About::LettersMissing => found!(findings, "font-letters-missing", at, "{message}"),
            About::IconUnseen => found!(findings, "icon-not-shown", at, "{message}"),
            About::WeightUnsaid => found!(findings, "font-weight-unsaid", at, "{message}"),
            About::TextUntranslated => found!(findings, "text-untranslated", at, "{message}"),
            About::WordsMissing => found!(findings, "words-missing", at, "{message}"),
            About::TextTooLong => found!(findings, "text-too-long", at, "{message}"),
        }
    }
}
