//! A finished PDF with tabs, links, outline entries and page labels laid over it.
//!
//! What was in the file stays in it object for object: only pages that get something are changed, and unless the file is
//! to be written anew the changes are appended to its bytes as an incremental update (7.5.6), so that nothing else can
//! suffer. Clause numbers are those of ISO 32000-1.

mod balance;
mod outline;
mod twice;

use super::embed::form_name;
use super::links::Links;
use super::numbers::number;
use super::reach::{prune, references};
use super::{About, document, save, structure};
use base::model::drawing::{Drawing, Shape};
use base::model::finished::{FinishedPlan, PageView};
use base::model::panics;
use base::model::pdf_plan::{Link, Page, PdfPlan, Target};
use base::model::{Point, Size};
use draw::Fonts;
use draw::artwork::page as pages;
use lopdf::{Dictionary, Document, Object, ObjectId, Stream, StringFormat, dictionary, text_string};
use std::collections::{BTreeMap, BTreeSet};

/// Writes a finished PDF with what is laid over it; without anything, its bytes as they are.
///
/// # Errors
/// A message when the file cannot be changed without harm.
pub fn finish(plan: &FinishedPlan, about: &About, fonts: &Fonts) -> Result<Vec<u8>, String> {
    if plan.is_untouched() {
        return Ok(plan.source.to_vec());
    }
    let read =
        panics::fenced(|| Document::load_mem(&plan.source)).map_err(|gave_up| format!("{}; {AGAIN}", gave_up.0))?;
    let doc = read.map_err(|e| format!("the file cannot be taken apart: {e}; {AGAIN}"))?;
    let mut patch = Patch { pages: doc.page_iter().collect(), doc, touched: BTreeSet::new() };
    patch.compare(plan)?;
    patch.part_pages()?;
    let forms = patch.stamps(&plan.over, about, fonts)?;
    let mut resources = BTreeMap::new();
    let mut ends = BTreeMap::new();
    for (i, (page, sheet)) in plan.over.pages.iter().zip(&plan.sheets).enumerate() {
        let at = |why: String| format!("page {}: {why}", i + 1);
        if let Some(form) = stamp(page) {
            let form = *forms.get(&form).ok_or_else(|| at("its tabs are missing".to_owned()))?;
            let name = patch.resource(i, form, &mut resources).map_err(at)?;
            patch.content(i, &name, sheet.matrix(plan.over.size.h), &mut ends).map_err(at)?;
        }
        if !page.links.is_empty() {
            patch.links(i, &page.links, plan).map_err(at)?;
        }
    }
    patch.outline(plan)?;
    patch.says(plan, about)?;
    let Patch { mut doc, touched, .. } = patch;
    if !plan.rewrite {
        return Ok(save::append(&plan.source, doc, &touched));
    }
    // Object streams came with 1.5, which is also the least that the compact form may call itself.
    if !about.classic && doc.version.as_str() < "1.5" {
        doc.version = "1.5".to_owned();
    }
    prune(&mut doc);
    let none = Links::none();
    Ok(if about.classic { save::classic(doc, &none) } else { save::compact(doc, &none) })
}

/// How to mend a file that two readers understand differently.
const AGAIN: &str = "export it anew, or write it once through `qpdf in.pdf out.pdf`";

/// The form that a page is stamped with.
fn stamp(page: &Page) -> Option<usize> {
    page.drawing.shapes.iter().find_map(|s| if let Shape::Form { form, .. } = s { Some(*form) } else { None })
}

/// An open file and the objects of it that are new or other than before.
struct Patch {
    doc: Document,
    pages: Vec<ObjectId>,
    touched: BTreeSet<ObjectId>,
}

impl Patch {
    fn dict(&mut self, id: ObjectId) -> Result<&mut Dictionary, String> {
        self.touched.insert(id);
        self.doc.get_dictionary_mut(id).map_err(|e| e.to_string())
    }

    fn add(&mut self, object: impl Into<Object>) -> ObjectId {
        let id = self.doc.add_object(object);
        self.touched.insert(id);
        id
    }

    /// The object itself, references followed.
    fn direct(&self, object: &Object) -> Object {
        self.doc.dereference(object).map_or(Object::Null, |(_, o)| o.clone())
    }

    /// Two readers that share no code must see the same pages: where they do not, changing the file would be a gamble.
    fn compare(&self, plan: &FinishedPlan) -> Result<(), String> {
        if self.pages.len() != plan.sheets.len() {
            let (a, b) = (self.pages.len(), plan.sheets.len());
            return Err(format!("one reader finds {a} pages in it, another one {b}; {AGAIN}"));
        }
        for (i, (id, facts)) in self.pages.iter().zip(&plan.facts.pages).enumerate() {
            let n = i + 1;
            let media = pages::inherited(&self.doc, *id, b"MediaBox").map(|o| pages::numbers(&self.doc, &o));
            let far = |a: &[f64]| a.len() != 4 || a.iter().zip(facts.media_box).any(|(a, b)| (a - b).abs() > 0.05);
            if media.as_ref().is_some_and(|m| far(&tidy(m))) {
                return Err(format!("page {n}: two readers see different sizes; {AGAIN}"));
            }
            let count = facts.links.len() + facts.other_annotations.len();
            let has = self.annotations(*id).len();
            if has < count {
                return Err(format!("page {n}: one reader finds {has} annotations, another one {count}; {AGAIN}"));
            }
        }
        Ok(())
    }

    fn annotations(&self, page: ObjectId) -> Vec<Object> {
        let own = self.doc.get_dictionary(page).ok().and_then(|d| d.get(b"Annots").ok());
        own.map(|o| self.direct(o)).and_then(|o| o.as_array().ok().cloned()).unwrap_or_default()
    }

    /// Takes the forms of the tabs over, with their fonts; gives their objects by number.
    fn stamps(&mut self, over: &PdfPlan, about: &About, fonts: &Fonts) -> Result<BTreeMap<usize, ObjectId>, String> {
        if over.forms.is_empty() {
            return Ok(BTreeMap::new());
        }
        let mut carrier = Drawing::new();
        for form in 0..over.forms.len() {
            carrier.push(Shape::Form { form, at: Point::new(0.0, 0.0), scale: 1.0 });
        }
        let plan = PdfPlan {
            title: String::new(),
            size: Size::new(over.size.w, over.size.h),
            forms: over.forms.clone(),
            pages: vec![Page { drawing: carrier, ..Page::default() }],
            outline: Vec::new(),
            labels: Vec::new(),
            places: BTreeMap::new(),
            right_to_left: false,
        };
        let (mut made, _) = document(&plan, about, fonts)?;
        made.renumber_objects_with(self.doc.max_id + 1);
        save::pack_streams(&mut made);
        let page = made.page_iter().next().ok_or("the tabs have no page")?;
        let resources = pages::inherited(&made, page, b"Resources").ok_or("the tabs have no resources")?;
        let resources = made.dereference(&resources).and_then(|(_, o)| o.as_dict()).map_err(|e| e.to_string())?;
        let table = made.get_dict_in_dict(resources, b"XObject").map_err(|e| e.to_string())?;
        let mut forms = BTreeMap::new();
        for form in 0..over.forms.len() {
            let id = table.get(form_name(form).as_bytes()).and_then(Object::as_reference).map_err(|e| e.to_string())?;
            forms.insert(form, id);
        }
        self.take(&made, forms.values().copied().collect());
        Ok(forms)
    }

    /// Copies objects and all that they refer to.
    fn take(&mut self, from: &Document, mut open: Vec<ObjectId>) {
        while let Some(id) = open.pop() {
            if self.touched.contains(&id) {
                continue;
            }
            let Some(object) = from.objects.get(&id) else { continue };
            references(object, &mut open);
            self.doc.objects.insert(id, object.clone());
            self.doc.max_id = self.doc.max_id.max(id.0);
            self.touched.insert(id);
        }
    }

    /// Gives a page's resources one more form, under a name that is free; pages that share their resources still do.
    fn resource(
        &mut self,
        page: usize,
        form: ObjectId,
        known: &mut BTreeMap<ObjectId, ObjectId>,
    ) -> Result<String, String> {
        let id = self.pages[page];
        let found = pages::inherited(&self.doc, id, b"Resources").unwrap_or_else(|| Dictionary::new().into());
        let shared = found.as_reference().ok();
        // A copy made for an earlier page that shares these resources.
        let copy = shared.and_then(|s| if self.touched.contains(&s) { Some(s) } else { known.get(&s).copied() });
        let mut table = self.direct(&copy.map_or(found, Object::Reference)).as_dict().cloned().unwrap_or_default();
        let objects = table.get(b"XObject").map(|o| self.direct(o)).unwrap_or(Object::Null);
        let mut objects = objects.as_dict().cloned().unwrap_or_default();
        let there = objects.iter().find(|(_, o)| o.as_reference().is_ok_and(|id| id == form)).map(|(n, _)| n.clone());
        let name = there.unwrap_or_else(|| {
            let mut name = format!("Tabs{}", form.0).into_bytes();
            while objects.has(&name) {
                name.push(b'x');
            }
            name
        });
        objects.set(name.clone(), form);
        table.set("XObject", objects);
        let value: Object = match (copy, shared) {
            (Some(copy), _) => {
                *self.dict(copy)? = table;
                copy.into()
            }
            (None, Some(shared)) => {
                let copy = self.add(table);
                known.insert(shared, copy);
                copy.into()
            }
            (None, None) => table.into(),
        };
        self.dict(id)?.set("Resources", value);
        Ok(String::from_utf8_lossy(&name).into_owned())
    }

    /// Draws a form over what a page draws. Whatever state the page's own content leaves behind is put back first.
    fn content(
        &mut self,
        page: usize,
        form: &str,
        matrix: [f64; 6],
        known: &mut BTreeMap<String, ObjectId>,
    ) -> Result<(), String> {
        let id = self.pages[page];
        let own = self.doc.get_dictionary(id).ok().and_then(|d| d.get(b"Contents").ok().cloned());
        let mut parts: Vec<Object> = match &own {
            None => Vec::new(),
            Some(own) => match self.direct(own) {
                Object::Array(parts) => parts,
                Object::Null => Vec::new(),
                _ => vec![own.clone()],
            },
        };
        let mut balance = balance::Balance::default();
        for part in &parts {
            if let Object::Stream(s) = self.direct(part) {
                // Content that is packed in a way that is not known here is taken to be balanced, as it should be.
                let plain = s.dict.get(b"Filter").is_err();
                let data = if plain { Ok(s.content.clone()) } else { s.decompressed_content() };
                balance.read(&data.unwrap_or_default());
            }
        }
        let (before, after) = balance.braces();
        let [a, b, c, d, e, f] = matrix.map(|v| base::model::units::trim_number(v, 5));
        let start = "q\n".repeat(before);
        let end = format!("\n{}q {a} {b} {c} {d} {e} {f} cm /{form} Do Q\n", "Q\n".repeat(after));
        let mut stream = |text: String| match known.get(&text) {
            Some(id) => *id,
            None => {
                let id = self.add(Stream::new(Dictionary::new(), text.clone().into_bytes()));
                known.insert(text, id);
                id
            }
        };
        let (start, end) = (stream(start), stream(end));
        parts.insert(0, start.into());
        parts.push(end.into());
        self.dict(id)?.set("Contents", parts);
        Ok(())
    }

    /// Adds links to a page, behind those that it has.
    fn links(&mut self, page: usize, links: &[Link], plan: &FinishedPlan) -> Result<(), String> {
        let id = self.pages[page];
        let mut all = self.annotations(id);
        for link in links {
            all.push(self.annotation(link, &plan.sheets[page], plan)?.into());
        }
        self.dict(id)?.set("Annots", all);
        Ok(())
    }

    /// A link annotation (12.5.6.5): no border, printed flag, says where it goes.
    fn annotation(&self, link: &Link, sheet: &PageView, plan: &FinishedPlan) -> Result<Dictionary, String> {
        let mut dict = dictionary! {
            "Type" => "Annot",
            "Subtype" => "Link",
            "Rect" => sheet.own_rect(link.rect).map(number).to_vec(),
            "Border" => vec![0.into(), 0.into(), 0.into()],
            "F" => 4,
            "Contents" => text_string(&link.says),
        };
        match &link.target {
            Target::Place(place) => {
                let page = plan.over.places.get(place);
                let page = *page.ok_or_else(|| format!("a link leads to {place}, which no page is"))?;
                dict.set("Dest", self.destination(page, plan)?);
            }
            Target::Address(uri) => {
                let uri = Object::String(uri.as_bytes().to_vec(), StringFormat::Literal);
                dict.set("A", dictionary! { "Type" => "Action", "S" => "URI", "URI" => uri });
            }
        }
        Ok(dict)
    }

    /// An explicit destination: the corner that is seen at the top left, zoom left as it is (12.3.2.2).
    fn destination(&self, page: usize, plan: &FinishedPlan) -> Result<Object, String> {
        let (Some(id), Some(sheet)) = (self.pages.get(page), plan.sheets.get(page)) else {
            return Err(format!("there is no page {}", page + 1));
        };
        let [x, y] = sheet.own(Point::new(0.0, 0.0)).map(number);
        Ok(Object::Array(vec![(*id).into(), Object::Name(b"XYZ".to_vec()), x, y, Object::Null]))
    }

    /// What the document says of itself: page labels if there are new ones, and title and language where it has none.
    fn says(&mut self, plan: &FinishedPlan, about: &About) -> Result<(), String> {
        let root = self.doc.trailer.get(b"Root").and_then(Object::as_reference).map_err(|e| e.to_string())?;
        if !plan.over.labels.is_empty() {
            let labels = structure::labels(&plan.over);
            self.dict(root)?.set("PageLabels", dictionary! { "Nums" => labels });
        }
        if plan.facts.language.is_none() {
            let language = Object::String(about.language.as_bytes().to_vec(), StringFormat::Literal);
            self.dict(root)?.set("Lang", language);
        }
        if plan.facts.title.is_none() {
            let title = text_string(&plan.over.title);
            match self.doc.trailer.get(b"Info").and_then(Object::as_reference) {
                Ok(info) if self.doc.get_dictionary(info).is_ok() => self.dict(info)?.set("Title", title),
                _ => {
                    let info = self.add(dictionary! { "Title" => title });
                    self.doc.trailer.set("Info", info);
                }
            }
        }
        Ok(())
    }
}

/// A box with its corners in order.
fn tidy(sides: &[f64]) -> Vec<f64> {
    match sides {
        &[a, b, c, d] => vec![a.min(c), b.min(d), a.max(c), b.max(d)],
        other => other.to_vec(),
    }
}
