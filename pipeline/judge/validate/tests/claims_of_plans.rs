//! Checks that hold files against a plan: one plan, kept by one set of files, and for each check one way of breaking it.

use super::{fixtures, read};
use crate::validate::{drawn, judge};
use base::model::artifact::Kind;
use base::model::assets::{Asset, Assets, Right, Use};
use base::model::drawing::{Drawing, Path as Outline, Picture, Role, Shape, TextRun, Turn};
use base::model::facts::{Facts, Inspected};
use base::model::finding::Severity;
use base::model::finished::{FinishedPlan, PageView};
use base::model::kin::{Same, Sister};
use base::model::pdf_plan::{Entry, LabelRun, LabelStyle, Link, Page, PdfPlan, Place, Target};
use base::model::plan::{About, Item, Make, Remark};
use base::model::product::{
    Cover, CoverDesign, Edges, FontFile, FrontArt, Hand, Lowered, Notebook, Section, Side, Sticker, StickerSource,
};
use base::model::shot::{Composed, Words};
use base::model::units::{Mm, Rgb};
use base::model::variant::{Choice, Variant, Variants};
use base::model::{Plan, Point, Product, Rect, Size, SourceSpan, Where};
use std::collections::BTreeMap;
use std::sync::Arc;

/// A plan with its product and the files that are to keep it.
pub(super) struct Case {
    product: Product,
    plan: Plan,
    files: Vec<Inspected>,
}

/// A way of breaking a kept plan.
type Break = fn(&mut Case);

/// A check, and how to break what it watches over.
pub(super) const CHECKS: &[(&str, Break)] = &[
    ("asset-may-not-be-changed", |c| c.leaf(Right::Licence("CC-BY-ND-4.0".into()))),
    ("asset-may-not-be-file", |c| c.leaf(receipt(&[Use::Sell, Use::Change]))),
    ("asset-not-for-sale", |c| c.leaf(Right::Licence("CC-BY-NC-4.0".into()))),
    ("asset-not-listed", |c| c.product.assets.read.push("scans/leaf.png".into())),
    ("asset-not-used", |c| c.product.assets.entries[0].file = "fonts/Hedge.ttf".into()),
    ("asset-rights-not-declared", |c| c.product.assets.declared = false),
    ("asset-shares-alike", |c| c.leaf(Right::Licence("CC-BY-SA-4.0".into()))),
    ("art-character-missing", |c| c.remark(About::ArtCharacter)),
    ("art-font-missing", |c| c.remark(About::ArtFont)),
    ("art-left-out", |c| c.remark(About::ArtLeftOut)),
    ("art-link-covered", |c| c.remark(About::ArtLink)),
    ("art-link-unclear", |c| c.remark(About::ArtLinkUnclear)),
    ("variant-changes-nothing", |c| {
        let choice = |name: &str| Choice { row: "hand".into(), name: name.into(), title: name.into() };
        let one = |name: &str| Variant { name: name.into(), title: name.into(), choices: vec![choice(name)] };
        c.product.variants = Variants { all: vec![one("right"), one("left")], mine: 0 };
    }),
    ("art-shape-off", |c| c.remark(About::ArtShape)),
    ("credit-missing", |c| {
        let font = FontFile {
            from: "fonts/Hedgerow-Regular.ttf".into(),
            bytes: Vec::new().into(),
            built_in: false,
            figures: None,
        };
        c.product.style.fonts.insert(Role::Heading, vec![font]);
    }),
    ("entry-not-planned", |c| c.add("upload/extra.pdf", Kind::Upload, b"%PDF-1.7 something nobody planned")),
    ("finished-file-changed", |c| c.finished()),
    ("language-off-plan", |c| c.notebook("language-off-plan")),
    ("link-missing", |c| c.notebook("link-missing")),
    ("link-not-planned", |c| c.notebook("link-not-planned")),
    ("link-off-plan", |c| c.notebook("link-off-plan")),
    ("outline-off-plan", |c| c.notebook("outline-off-plan")),
    ("page-count-off-plan", |c| c.notebook("page-count-off-plan")),
    ("page-label-off-plan", |c| c.notebook("page-label-off-plan")),
    ("page-size-off-plan", |c| c.notebook("page-size-off-plan")),
    ("picture-text-cut", |c| c.picture().words[0].area[0] = -40.0),
    ("picture-text-small", |c| c.picture().words[0].cap = 20.0),
    ("picture-too-heavy", |c| c.picture().bytes = 2_000_001),
    ("picture-side-too-long", |c| c.picture().width = 4000),
    ("planned-file-missing", |c| c.files.retain(|f| f.kind != Some(Kind::Guide))),
    ("planned-file-not-packed", |c| c.files.retain(|f| f.path != "upload/words.txt")),
    ("rules-not-gentle", |c| c.product.style.rule = Rgb::new(250, 250, 250)),
    ("section-colours-alike", |c| c.sections(["#507040", "#547343"])),
    // Red and green of equal lightness: told apart by most, not without the middle-wave cones.
    ("section-colours-confusable", |c| c.sections(["#b08050", "#6f9c4c"])),
    ("sister-differs", |c| c.sister(|product| product.page.size.h += 3.0)),
    ("sister-differs", |c| c.sister(|product| product.page.hand = Hand::Left)),
    ("sister-differs", |c| c.sister(|product| product.style.accent = Rgb::WHITE)),
    ("slot-too-large", |c| c.product.limits.bytes = 10),
    ("sticker-art-too-small", |c| {
        c.sticker(600.0);
        let Some(Make::Sticker(s)) = c.plan.items.last_mut().map(|i| &mut i.make) else { unreachable!("a sticker") };
        s.source = StickerSource::Png(picture("art/leaf.png"));
    }),
    ("sticker-dpi-off-plan", |c| c.sticker(144.0)),
    ("tag-too-long", |c| c.product.listing.tags = vec!["a tag of more than twenty characters".into()]),
    ("text-contrast-low", |c| c.write(Rgb::new(200, 200, 200), 300.0)),
    ("text-off-page", |c| c.write(Rgb::BLACK, 1000.0)),
    ("text-off-plan", |c| c.replace("contents/words.txt", b"Sow nothing.\n")),
    ("dates-list-outside", |c| c.remark(About::DatesOutside)),
    ("date-heading-off-plan", |c| {
        let Make::Pdf(pdf) = &mut c.plan.items[0].make else { unreachable!("the first item is the notebook") };
        pdf.places.insert(Place::Dated("day/2027-03-14".into()), 1);
    }),
    ("dates-list-stale", |c| c.remark(About::DatesStale)),
    ("event-zone-unsaid", |c| c.remark(About::ZoneUnsaid)),
    ("leap-event-unsaid", |c| c.remark(About::LeapUnsaid)),
    ("rule-unread", |c| c.remark(About::RuleUnread)),
    ("text-too-long", |c| c.remark(About::TextTooLong)),
    ("font-weight-unsaid", |c| c.remark(About::WeightUnsaid)),
    ("font-letters-missing", |c| c.remark(About::LettersMissing)),
    ("icon-not-shown", |c| c.remark(About::IconUnseen)),
    ("words-missing", |c| c.remark(About::WordsMissing)),
    ("text-untranslated", |c| c.remark(About::TextUntranslated)),
    ("title-off-plan", |c| c.notebook("title-off-plan")),
    ("title-too-long", |c| c.product.listing.title = "Allotment ".repeat(20)),
    ("too-many-pictures", |c| c.product.limits.pictures = Some(0)),
    ("too-many-slots", |c| c.product.limits.files = 0),
    ("too-many-tags", |c| c.product.listing.tags = vec!["allotment".into(); 14]),
    ("toolbar-margin-used", |c| c.product.page.toolbar = Mm(60.0)),
];

impl Case {
    /// The plan that `promises.py` keeps, and what else it takes for a whole bundle.
    fn kept() -> Case {
        let mut product = sample::product();
        product.page.size = Size::new(1024.0, 768.0);
        product.style.rule = Rgb::new(160, 160, 160);
        product.limits.files = 2;
        product.assets = ledger();
        let mut case = Case { product, plan: Plan::default(), files: Vec::new() };
        case.sections(["#507040", "#a06020"]);
        case.sister(|_| ());
        let words = "Sow broad beans.\n";
        case.item("contents/notebook.pdf", Kind::Notebook, Make::Pdf(Box::new(notebook())));
        case.item("contents/words.txt", Kind::Guide, Make::Text(words.into()));
        case.sticker(300.0);
        case.notebook("plan");
        case.add("contents/words.txt", Kind::Guide, words.as_bytes());
        case.add("upload/words.txt", Kind::Upload, words.as_bytes());
        case.write(Rgb::BLACK, 300.0);
        case.product.limits.pictures = Some(1);
        case.product.limits.picture_pixels = Some(2000);
        case.product.limits.picture_bytes = Some(2_000_000);
        // Capitals of 34 px on 2,000 are 5.1 px on 300.
        let words =
            Words { text: "Two pages".into(), cap: 34.0, area: [100.0, 100.0, 600.0, 60.0], boxed: String::new() };
        case.plan.pictures.push(Composed {
            path: "listing/pictures/01-cover.png".into(),
            width: 2000,
            height: 1500,
            bytes: 2_000_000,
            film: false,
            words: vec![words],
        });
        case
    }

    /// A product that goes with this one and is said to agree in everything, and what is otherwise of it.
    fn sister(&mut self, change: fn(&mut Product)) {
        let mut other = self.product.clone();
        other.sisters.clear();
        change(&mut other);
        let place = SourceSpan { line: 4, column: 14, text: String::new(), width: 9, file: None };
        let sections = other.notebook.iter().flat_map(|n| &n.sections).map(|s| s.colour).collect();
        self.product.sisters = vec![Sister {
            way: "../orchard".into(),
            place,
            same: Same::ALL.map(|(_, same)| same).into(),
            name: "Orchard Year".into(),
            page: other.page.clone(),
            style: other.style.clone(),
            sections,
            product: Arc::new(other),
        }];
    }

    /// The one listing picture.
    fn picture(&mut self) -> &mut Composed {
        &mut self.plan.pictures[0]
    }

    /// Makes a sticker of a leaf that somebody else drew, used by this right.
    fn leaf(&mut self, right: Right) {
        let path = "clip-art/leaf.png";
        self.product.assets.read.push(path.into());
        self.product.assets.entries.push(Asset { file: path.into(), title: "Leaf".into(), right, ..hedgerow() });
        self.product.stickers.items.push(Sticker {
            name: "leaf".into(),
            group: String::new(),
            source: StickerSource::Png(picture(path)),
            longest: Mm(20.0),
            side: Side::Longest,
            edges: Edges::Estimate,
            colour: Rgb::BLACK,
            dpi: 300.0,
            padding: Mm(1.0),
            border: None,
            first_day: Default::default(),
            language: Default::default(),
        });
    }

    fn item(&mut self, path: &str, kind: Kind, make: Make) {
        self.plan.items.push(Item { path: path.into(), kind, make });
    }

    fn add(&mut self, path: &str, kind: Kind, bytes: &[u8]) {
        self.files.push(inspect::inspect(path, Some(kind), &bytes.to_vec().into()));
    }

    fn replace(&mut self, path: &str, bytes: &[u8]) {
        let file = self.files.iter_mut().find(|f| f.path == path).unwrap();
        *file = inspect::inspect(path, file.kind, &bytes.to_vec().into());
    }

    /// Puts the named PDF in the place of the notebook, and uploads it too.
    fn notebook(&mut self, name: &str) {
        let verdict = if name == "plan" { "pass" } else { "fail" };
        let path = fixtures().join(format!("planned/{name}.{verdict}.pdf"));
        let bytes = std::fs::read(path).unwrap();
        self.files.retain(|f| !f.path.ends_with("notebook.pdf"));
        self.add("contents/notebook.pdf", Kind::Notebook, &bytes);
        self.add("upload/notebook.pdf", Kind::Upload, &bytes);
    }

    /// A notebook that was to be taken over as it is, and came out another one.
    fn finished(&mut self) {
        let bytes = std::fs::read(fixtures().join("planned/plan.pass.pdf")).unwrap();
        let Facts::Pdf(facts) = inspect::read("notebook.pdf", &bytes.clone().into()) else {
            unreachable!("the fixture is a PDF")
        };
        let over = PdfPlan { pages: vec![Page::default(); 4], outline: Vec::new(), labels: Vec::new(), ..notebook() };
        let plan = FinishedPlan {
            from: "exports/notebook.pdf".into(),
            source: bytes.into(),
            sheets: facts.pages.iter().map(PageView::of).collect(),
            facts,
            over,
            keep_outline: true,
            rewrite: false,
        };
        self.plan.items[0].make = Make::Finished(Box::new(plan));
        self.notebook("link-missing");
    }

    fn sections(&mut self, colours: [&str; 2]) {
        let section = |c: &str| Section {
            name: String::new(),
            colour: Rgb::parse(c).unwrap(),
            icon: None,
            pages: Vec::new(),
            within: Vec::new(),
            art: None,
        };
        let cover = Cover {
            name: String::new(),
            design: CoverDesign::Flat,
            colour: Rgb::BLACK,
            second: Rgb::WHITE,
            material: base::model::look::Material::Plain,
            finish: Default::default(),
            label: true,
            line: String::new(),
        };
        self.product.notebook = Some(Notebook {
            title: "Allotment Year".into(),
            cover,
            welcome: String::new(),
            art: FrontArt::default(),
            sections: colours.map(section).into(),
            templates: Vec::new(),
            dated: None,
            parts: base::model::structure::Parts::default(),
            finished: None,
        });
    }

    /// A planned sticker at this resolution; the file that is there has 300.
    fn sticker(&mut self, dpi: f64) {
        let source = StickerSource::BuiltIn("leaf".into(), None);
        let sticker = Sticker {
            name: "leaf".into(),
            source,
            group: String::new(),
            longest: Mm(20.0),
            side: Side::Longest,
            edges: Edges::Estimate,
            colour: Rgb::BLACK,
            dpi,
            padding: Mm(1.0),
            border: None,
            first_day: Default::default(),
            language: Default::default(),
        };
        self.plan.items.retain(|i| i.kind != Kind::Sticker);
        self.item("contents/01-leaf.png", Kind::Sticker, Make::Sticker(sticker));
        self.files.retain(|f| !f.path.ends_with("01-leaf.png"));
        let mut leaf = read(&fixtures().join("loose/sticker-empty.pass.png")).remove(0);
        // One copy for the buyer, one as a part of what is uploaded.
        for (path, kind) in [("contents/01-leaf.png", Kind::Sticker), ("upload/01-leaf.png", Kind::Upload)] {
            (leaf.path, leaf.kind) = (path.into(), Some(kind));
            self.files.push(leaf.clone());
        }
        self.product.limits.files = 3;
    }

    /// Something that came up while the plan was made.
    fn remark(&mut self, about: About) {
        let place = Where::file("product.toml");
        self.plan.remarks.push(Remark { about, place, message: "Broad beans".into() });
    }

    /// Writes on the last page: a word on white ground.
    fn write(&mut self, colour: Rgb, x: f64) {
        let Make::Pdf(pdf) = &mut self.plan.items[0].make else { unreachable!("the first item is the notebook") };
        let mut drawing = Drawing::new();
        drawing.fill(Outline::rect(Rect::new(0.0, 0.0, 1400.0, 768.0)), Rgb::WHITE);
        let run = TextRun {
            text: "Broad beans".into(),
            role: Role::Label,
            size: 14.0,
            at: Point::new(x, 300.0),
            turn: Turn::None,
            tracking: 0.0,
            colour,
        };
        drawing.push(Shape::Text(run));
        pdf.pages[3].drawing = drawing;
    }
}

fn picture(name: &str) -> Arc<Picture> {
    Arc::new(Picture { name: name.into(), width: 1, height: 1, rgba: vec![0, 0, 0, 255].into() })
}

fn receipt(allows: &[Use]) -> Right {
    Right::Receipt { receipt: "order 311".into(), allows: allows.into(), beside: None }
}

/// A font by somebody else, free for this use.
fn hedgerow() -> Asset {
    Asset {
        file: "fonts/Hedgerow.ttf".into(),
        title: "Hedgerow".into(),
        by: "Ada Quill".into(),
        source: "https://hedgerow.example".into(),
        right: Right::Licence("OFL-1.1".into()),
        credit: None,
        span: None,
    }
}

/// A ledger that is in order: pictures of the designer's own, a font, a leaf that may become a sticker.
fn ledger() -> Assets {
    Assets {
        declared: true,
        own: vec!["art/**".into()],
        entries: vec![hedgerow()],
        read: vec!["art/beds.svg".into(), "art/tins/leaf.png".into(), "fonts/Hedgerow.ttf".into()],
    }
}

/// What `promises.py` draws: four pages, three tabs on each, and on the second a link to the last.
fn notebook() -> PdfPlan {
    let places = [Place::Cover, Place::Index, Place::Section(1), Place::Leaf(1, 1)];
    let to = |i: usize, rect| Link { rect, target: Target::Place(places[i].clone()), says: "".into() };
    let tab = |i: usize| to(i, Rect::new(940.0, 104.0 + 80.0 * i as f64, 64.0, 64.0));
    let cell = |i: usize| (i == 1).then(|| to(3, Rect::new(105.0, 110.0, 60.0, 60.0)));
    let page = |i: usize| Page {
        place: places.get(i).cloned(),
        drawing: Drawing::new(),
        links: (0..3).map(tab).chain(cell(i)).collect(),
    };
    let entry = |i: usize| Entry { title: format!("Bed {}", i + 1), page: i, children: Vec::new(), open: false };
    let run = |page, style| LabelRun { page, prefix: String::new(), style };
    PdfPlan {
        title: "Allotment Year".into(),
        size: Size::new(1024.0, 768.0),
        forms: Vec::new(),
        pages: (0..4).map(page).collect(),
        outline: (0..4).map(entry).collect(),
        labels: vec![run(0, LabelStyle::Roman), run(1, LabelStyle::Decimal)],
        places: places.iter().cloned().zip(0..).collect(),
        right_to_left: false,
    }
}

/// What is found in what is drawn, and all that follows from it.
fn judge_all(case: &Case) -> Vec<base::model::Finding> {
    let looked = case.plan.items.iter().flat_map(|item| drawn(&case.product, item, None)).collect();
    let plan = Plan { looked, ..case.plan.clone() };
    judge(&case.files, &[(&case.product, &plan)])
}

#[test]
fn a_kept_plan_is_silent() {
    let case = Case::kept();
    let found = judge_all(&case);
    assert!(found.is_empty(), "{found:#?}");
}

#[test]
fn terms_that_allow_it_are_silent() {
    for right in [
        Right::Licence("CC0-1.0".into()),
        Right::Licence("CC-BY-4.0".into()),
        receipt(&[Use::Sell, Use::Change, Use::Extract]),
    ] {
        let mut case = Case::kept();
        case.leaf(right);
        let found = judge_all(&case);
        assert!(found.is_empty(), "{found:#?}");
    }
}

#[test]
fn a_broken_promise_is_told() {
    for (check, break_it) in CHECKS {
        let mut case = Case::kept();
        break_it(&mut case);
        let found = judge_all(&case);
        assert!(found.iter().any(|f| f.check == *check), "{check} is silent: {found:#?}");
    }
}

#[test]
fn the_manifest_lowers_with_a_reason() {
    let mut case = Case::kept();
    case.notebook("title-off-plan");
    let lowered = Lowered { to: Some(Severity::Note), reason: "the title is to be changed".into() };
    case.product.lowered = BTreeMap::from([("title-off-plan".to_owned(), lowered)]);
    let found = judge_all(&case);
    let of = |f: &&base::model::Finding| f.check == "title-off-plan";
    let finding = found.iter().find(of).unwrap();
    assert_eq!(finding.severity, Severity::Note);
    assert_eq!(finding.lowered.as_deref(), Some("the title is to be changed"));
    case.product.lowered.get_mut("title-off-plan").unwrap().to = None;
    let found = judge_all(&case);
    assert!(!found.iter().any(|f| f.check == "title-off-plan"), "a check that is switched off speaks");
}
