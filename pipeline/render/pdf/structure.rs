//! The pass over the finished objects: forms, shared resources, links, outline, page labels, names, metadata.
//!
//! Clause numbers are those of ISO 32000-1.

use super::embed::{Resources, form_name};
use super::links::{AWAITED, Links, destination};
use super::numbers::number;
use super::reach::prune;
use super::{About, shading, xmp};
use base::model::drawing::{Drawing, Shape};
use base::model::pdf_plan::{Entry, LabelStyle, PdfPlan};
use lopdf::{Dictionary, Document, Object, ObjectId, Stream, StringFormat, dictionary, text_string};
use std::collections::{BTreeMap, BTreeSet};

/// Brings the document to what the plan promises; gives what is still to be written of its links.
pub fn finish<'a>(
    doc: &mut Document,
    plan: &'a PdfPlan,
    about: &About,
    resources: &Resources,
) -> Result<Links<'a>, String> {
    doc.version = if about.classic { "1.4" } else { "1.7" }.to_owned();
    let pages_id = entry_id(doc.catalog().map_err(text)?, "Pages")?;
    let kids: Vec<ObjectId> = doc
        .get_dictionary(pages_id)
        .and_then(|d| d.get(b"Kids"))
        .and_then(Object::as_array)
        .map_err(text)?
        .iter()
        .filter_map(|k| k.as_reference().ok())
        .collect();
    let (kids, extra) = kids.split_at_checked(plan.pages.len()).ok_or("pages are missing")?;
    let mut pool = ResourcePool::open(doc, kids.first().or(extra.first()).copied(), resources)?;
    let shadings = resources.grades().map(|(name, grade)| (name, doc.add_object(shading::object(grade, plan.size.h))));
    pool.shadings = shadings.map(|(name, id)| (name, Object::Reference(id))).collect();
    pool.xobjects.extend(super::art::embed(doc, resources.arts(), about.classic)?);
    for (i, page) in extra.iter().enumerate() {
        let form = pool.promote(doc, *page, plan, &plan.forms[i], resources)?;
        pool.xobjects.insert(form_name(i), Object::Reference(form));
    }
    for (page, id) in plan.pages.iter().zip(kids) {
        let shared = pool.for_drawing(doc, &page.drawing, resources);
        let dict = doc.get_dictionary_mut(*id).map_err(text)?;
        for key in [&b"MediaBox"[..], b"TrimBox", b"CropBox", b"Annots"] {
            dict.remove(key);
        }
        dict.set("Resources", shared);
        if !page.links.is_empty() {
            dict.set("Annots", AWAITED);
        }
    }
    page_tree(doc, pages_id, kids, plan)?;
    catalog(doc, plan, about, kids)?;
    // Old pages and resource dictionaries are no longer reached from anywhere.
    prune(doc);
    Links::of(plan, kids)
}

fn text(e: lopdf::Error) -> String {
    e.to_string()
}

fn entry_id(dict: &Dictionary, key: &str) -> Result<ObjectId, String> {
    dict.get(key.as_bytes()).and_then(Object::as_reference).map_err(|e| format!("{key}: {e}"))
}

/// Fonts, pictures, forms and shadings by resource name, and the resource dictionaries made of them so far.
struct ResourcePool {
    fonts: BTreeMap<String, Object>,
    xobjects: BTreeMap<String, Object>,
    shadings: BTreeMap<String, Object>,
    dictionaries: BTreeMap<Vec<String>, ObjectId>,
    pictures: Vec<(std::sync::Arc<base::model::drawing::Picture>, String)>,
}

impl ResourcePool {
    /// Takes over what the document model registered.
    fn open(doc: &mut Document, page: Option<ObjectId>, resources: &Resources) -> Result<ResourcePool, String> {
        let mut pool = ResourcePool {
            fonts: BTreeMap::new(),
            xobjects: BTreeMap::new(),
            shadings: BTreeMap::new(),
            dictionaries: BTreeMap::new(),
            pictures: resources.pictures(),
        };
        let Some(page) = page else { return Ok(pool) };
        let all = doc.get_dictionary(page).map_err(text)?;
        let all = doc.get_dictionary(entry_id(all, "Resources")?).map_err(text)?;
        for (key, into) in [("Font", &mut pool.fonts), ("XObject", &mut pool.xobjects)] {
            for (name, object) in doc.get_dictionary(entry_id(all, key)?).map_err(text)?.iter() {
                into.insert(String::from_utf8_lossy(name).into_owned(), object.clone());
            }
        }
        for (name, cap) in resources.cap_heights() {
            pool.set_cap_height(doc, &name, cap);
        }
        Ok(pool)
    }

    /// The document model states the ascent as height of capitals; the real one is known here.
    fn set_cap_height(&self, doc: &mut Document, font: &str, cap: i64) {
        let descriptor = (|| {
            let font = doc.get_dictionary(self.fonts.get(font)?.as_reference().ok()?).ok()?;
            let below = font.get(b"DescendantFonts").ok()?.as_array().ok()?.first()?.as_dict().ok()?;
            below.get(b"FontDescriptor").ok()?.as_reference().ok()
        })();
        if let Some(d) = descriptor.and_then(|id| doc.get_dictionary_mut(id).ok()) {
            d.set("CapHeight", cap);
        }
    }

    /// The resource dictionary for what a drawing uses; drawings that use the same share one.
    fn for_drawing(&mut self, doc: &mut Document, drawing: &Drawing, resources: &Resources) -> Object {
        let mut names: BTreeSet<String> = BTreeSet::new();
        for shape in &drawing.shapes {
            match shape {
                Shape::Text(run) => names.extend(resources.fonts_of(run)),
                Shape::Form { form, .. } => {
                    names.insert(form_name(*form));
                }
                Shape::Picture { picture, .. } | Shape::Tiled { picture, .. } => {
                    let found = self.pictures.iter().find(|(p, _)| std::sync::Arc::ptr_eq(p, picture) || p == picture);
                    names.extend(found.map(|(_, name)| name.clone()));
                }
                Shape::Art { art, .. } => {
                    names.insert(resources.art_id(art));
                }
                Shape::Graded { grade, .. } | Shape::GradedText { grade, .. } => {
                    names.insert(resources.grade_id(grade));
                }
                Shape::Path { .. } | Shape::Dots { .. } => {}
            }
        }
        let names: Vec<String> = names.into_iter().collect();
        if let Some(id) = self.dictionaries.get(&names) {
            return Object::Reference(*id);
        }
        let pick = |from: &BTreeMap<String, Object>| -> Dictionary {
            names.iter().filter_map(|n| Some((n.clone().into_bytes(), from.get(n)?.clone()))).collect()
        };
        let mut dict = Dictionary::new();
        for (key, part) in
            [("Font", pick(&self.fonts)), ("XObject", pick(&self.xobjects)), ("Shading", pick(&self.shadings))]
        {
            if !part.is_empty() {
                dict.set(key, part);
            }
        }
        let id = doc.add_object(dict);
        self.dictionaries.insert(names, id);
        Object::Reference(id)
    }

    /// Turns an extra page into a form XObject (8.10) and returns its content stream's object.
    fn promote(
        &mut self,
        doc: &mut Document,
        page: ObjectId,
        plan: &PdfPlan,
        drawing: &Drawing,
        resources: &Resources,
    ) -> Result<ObjectId, String> {
        let shared = self.for_drawing(doc, drawing, resources);
        let id = entry_id(doc.get_dictionary(page).map_err(text)?, "Contents")?;
        let stream = doc.get_object_mut(id).and_then(Object::as_stream_mut).map_err(text)?;
        stream.dict.set("Type", "XObject");
        stream.dict.set("Subtype", "Form");
        stream.dict.set("BBox", media_box(plan));
        stream.dict.set("Resources", shared);
        Ok(id)
    }
}

fn media_box(plan: &PdfPlan) -> Vec<Object> {
    vec![0.into(), 0.into(), number(plan.size.w), number(plan.size.h)]
}

/// One size for the whole file, stated once at the root of the page tree and inherited (7.7.3.4). Branches of at
/// most 32 pages keep the tree shallow for readers that walk it.
fn page_tree(doc: &mut Document, root: ObjectId, kids: &[ObjectId], plan: &PdfPlan) -> Result<(), String> {
    const BRANCH: usize = 32;
    let mut top: Vec<Object> = Vec::new();
    if kids.len() > BRANCH {
        for group in kids.chunks(BRANCH) {
            let list: Vec<Object> = group.iter().map(|k| Object::Reference(*k)).collect();
            let branch = doc.add_object(dictionary! {
                "Type" => "Pages", "Parent" => root, "Count" => group.len() as i64, "Kids" => list,
            });
            for kid in group {
                doc.get_dictionary_mut(*kid).map_err(text)?.set("Parent", branch);
            }
            top.push(branch.into());
        }
    } else {
        top.extend(kids.iter().map(|k| Object::Reference(*k)));
    }
    let dict = doc.get_dictionary_mut(root).map_err(text)?;
    dict.set("Kids", top);
    dict.set("Count", kids.len() as i64);
    dict.set("MediaBox", media_box(plan));
    dict.set("CropBox", media_box(plan));
    Ok(())
}

fn catalog(doc: &mut Document, plan: &PdfPlan, about: &About, kids: &[ObjectId]) -> Result<(), String> {
    let outline = (!plan.outline.is_empty()).then(|| outline(doc, plan, kids)).transpose()?;
    let packet = xmp::packet(&plan.title, about).into_bytes();
    // Readable without unpacking, as ISO 16684 asks of packets in files: hence no filter.
    let metadata = Stream::new(dictionary! { "Type" => "Metadata", "Subtype" => "XML" }, packet);
    let metadata = doc.add_object(metadata.with_compression(false));
    info(doc, &plan.title, about)?;
    let catalog = doc.catalog_mut().map_err(text)?;
    catalog.set("Metadata", metadata);
    catalog.set("Lang", Object::String(about.language.as_bytes().to_vec(), StringFormat::Literal));
    let mut preferences = dictionary! { "DisplayDocTitle" => true };
    if plan.right_to_left {
        preferences.set("Direction", "R2L");
    }
    catalog.set("ViewerPreferences", preferences);
    catalog.set("PageLayout", "SinglePage");
    if let Some(id) = outline {
        catalog.set("Outlines", id);
        catalog.set("PageMode", "UseOutlines");
    }
    if !plan.labels.is_empty() {
        catalog.set("PageLabels", dictionary! { "Nums" => labels(plan) });
    }
    if !plan.places.is_empty() {
        // Places as named destinations (12.3.2.3), so that other programs can link to them by name.
        let mut names: Vec<(String, usize)> = plan.places.iter().map(|(p, i)| (p.to_string(), *i)).collect();
        names.sort();
        let list: Vec<Object> = names
            .into_iter()
            .filter_map(|(name, page)| Some((name, destination(*kids.get(page)?, plan))))
            .flat_map(|(name, dest)| [Object::String(name.into_bytes(), StringFormat::Literal), dest])
            .collect();
        catalog.set("Names", dictionary! { "Dests" => dictionary! { "Names" => list } });
    }
    Ok(())
}

/// The Info dictionary, which says the same as the XMP packet (14.3.3).
fn info(doc: &mut Document, title: &str, about: &About) -> Result<(), String> {
    let date = about.date;
    let stamp = format!("D:{:04}{:02}{:02}000000Z", date.year, date.month, date.day);
    let stamp = Object::String(stamp.into_bytes(), StringFormat::Literal);
    let dict = dictionary! {
        "Title" => text_string(title),
        "Author" => text_string(about.author),
        "Creator" => text_string(xmp::PRODUCER),
        "Producer" => text_string(xmp::PRODUCER),
        "CreationDate" => stamp.clone(),
        "ModDate" => stamp,
    };
    let id = doc.add_object(dict);
    doc.trailer.set("Info", id);
    Ok(())
}

pub fn labels(plan: &PdfPlan) -> Vec<Object> {
    plan.labels
        .iter()
        .flat_map(|run| {
            let mut dict = Dictionary::new();
            match run.style {
                LabelStyle::Decimal => dict.set("S", "D"),
                LabelStyle::Roman => dict.set("S", "r"),
                LabelStyle::None => {}
            }
            if !run.prefix.is_empty() {
                dict.set("P", text_string(&run.prefix));
            }
            [Object::Integer(run.page as i64), Object::Dictionary(dict)]
        })
        .collect()
}

/// The outline tree (12.3.3). The top level stands open; what lies below it is folded (negative count), unless it is
/// to stand open.
fn outline(doc: &mut Document, plan: &PdfPlan, kids: &[ObjectId]) -> Result<ObjectId, String> {
    let root = doc.new_object_id();
    let (first, last) = branch(doc, plan, kids, &plan.outline, root)?.ok_or("the outline is empty")?;
    let dict = dictionary! {
        "Type" => "Outlines", "First" => first, "Last" => last, "Count" => shown(&plan.outline),
    };
    doc.set_object(root, dict);
    Ok(root)
}

/// How many entries are seen of these and of those below them, where all of these are.
fn shown(entries: &[Entry]) -> i64 {
    entries.iter().map(|entry| 1 + if entry.open { shown(&entry.children) } else { 0 }).sum()
}

fn branch(
    doc: &mut Document,
    plan: &PdfPlan,
    kids: &[ObjectId],
    entries: &[Entry],
    parent: ObjectId,
) -> Result<Option<(ObjectId, ObjectId)>, String> {
    let ids: Vec<ObjectId> = entries.iter().map(|_| doc.new_object_id()).collect();
    for (i, entry) in entries.iter().enumerate() {
        let page = kids.get(entry.page).ok_or_else(|| format!("outline entry {:?} has no page", entry.title))?;
        let mut dict = dictionary! {
            "Title" => text_string(&entry.title), "Parent" => parent, "Dest" => destination(*page, plan),
        };
        if i > 0 {
            dict.set("Prev", ids[i - 1]);
        }
        if let Some(next) = ids.get(i + 1) {
            dict.set("Next", *next);
        }
        if let Some((first, last)) = branch(doc, plan, kids, &entry.children, ids[i])? {
            dict.set("First", first);
            dict.set("Last", last);
            // What would be seen below it if it were open; negative where it is folded.
            let below = shown(&entry.children);
            dict.set("Count", if entry.open { below } else { -below });
        }
        doc.set_object(ids[i], dict);
    }
    Ok(ids.first().copied().zip(ids.last().copied()))
}
