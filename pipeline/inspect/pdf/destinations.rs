//! Where links lead: explicit destinations, names, and actions, resolved against the pages that the file really has.

use super::{resolve, trees, value};
use base::model::facts::{Leads, LinkForm, View};
use hayro_syntax::object::{Array, Dict, MaybeRef, Name, Object, ObjectIdentifier, String as PdfString};
use hayro_syntax::xref::XRef;
use std::collections::{BTreeMap, HashMap};
use std::sync::OnceLock;

/// The most elements of a structure that are asked for the page of one destination.
const MAX_ELEMENTS: usize = 1_000;

/// What a destination or an action says.
#[derive(Default)]
pub struct Aim {
    /// Where it leads.
    pub leads: Leads,
    /// How the file says so.
    pub form: LinkForm,
    /// The kind of view.
    pub view: View,
    /// A zoom that is forced on the reader.
    pub zoom: Option<f64>,
}

/// Resolves destinations; reads the tables of names once, and only if a name is met.
pub struct Resolver<'a> {
    pages: &'a HashMap<ObjectIdentifier, usize>,
    xref: &'a XRef,
    root: &'a Dict<'a>,
    names: OnceLock<BTreeMap<Vec<u8>, Object<'a>>>,
}

impl<'a> Resolver<'a> {
    /// A resolver for the file with these pages, by object.
    pub fn new(pages: &'a HashMap<ObjectIdentifier, usize>, xref: &'a XRef, root: &'a Dict<'a>) -> Resolver<'a> {
        Resolver { pages, xref, root, names: OnceLock::new() }
    }

    /// The cross-reference table of the file.
    pub fn xref(&self) -> &'a XRef {
        self.xref
    }

    /// What a dictionary with `Dest` or `A` (a link, an outline entry) leads to. `Dest` wins where both stand.
    pub fn aim(&self, dict: &Dict<'a>) -> Aim {
        if let Some(dest) = value(dict, "Dest") {
            return self.destination(dest, LinkForm::DestArray, LinkForm::DestName);
        }
        match value(dict, "A") {
            Some(Object::Dict(action)) => self.action(&action),
            Some(_) => Aim { leads: nowhere("its action is no dictionary"), ..Aim::default() },
            None => Aim { leads: nowhere("it has neither a destination nor an action"), ..Aim::default() },
        }
    }

    /// What an action does.
    pub fn action(&self, action: &Dict<'a>) -> Aim {
        let kind = action.get::<Name>("S").map(|n| String::from_utf8_lossy(&n).into_owned()).unwrap_or_default();
        match kind.as_str() {
            // `SD` leads to an element of the structure (ISO 32000-2, 12.6.4.2); `D` is what older readers follow.
            "GoTo" => match value(action, "D").or_else(|| value(action, "SD")) {
                Some(dest) => self.destination(dest, LinkForm::GoToArray, LinkForm::GoToName),
                None => Aim {
                    leads: nowhere("its GoTo action has no destination"),
                    form: LinkForm::GoToArray,
                    ..Aim::default()
                },
            },
            "URI" => {
                let address = action.get::<PdfString>("URI").map(|s| super::strings::decode(s.as_bytes()));
                let leads = match address {
                    Some(address) if !address.trim().is_empty() => Leads::Uri(address),
                    _ => nowhere("its address is empty"),
                };
                Aim { leads, form: LinkForm::Uri, ..Aim::default() }
            }
            "" => Aim { leads: nowhere("its action does not say what it does"), ..Aim::default() },
            _ => Aim { leads: Leads::Action(kind), form: LinkForm::Action, ..Aim::default() },
        }
    }

    fn destination(&self, dest: Object<'a>, explicit: LinkForm, named: LinkForm) -> Aim {
        let key = match dest {
            Object::Array(array) => return self.explicit(&array, explicit),
            Object::String(name) => name.as_bytes().to_vec(),
            Object::Name(name) => name.to_vec(),
            _ => {
                let leads = nowhere("its destination is neither an array nor a name");
                return Aim { leads, form: explicit, ..Aim::default() };
            }
        };
        let found = match self.names().get(&key) {
            Some(Object::Array(array)) => Some(array.clone()),
            Some(Object::Dict(dict)) => dict.get::<Array>("D").or_else(|| dict.get::<Array>("SD")),
            _ => None,
        };
        match found {
            Some(array) => self.explicit(&array, named),
            None => {
                let shown = super::strings::decode(&key);
                Aim {
                    leads: nowhere(&format!("the name \u{201c}{shown}\u{201d} is not in the file")),
                    form: named,
                    ..Aim::default()
                }
            }
        }
    }

    /// An explicit destination: `[page /XYZ left top zoom]` and its kin (ISO 32000-1, 12.3.2.2).
    fn explicit(&self, array: &Array<'a>, form: LinkForm) -> Aim {
        let mut parts = array.raw_iter();
        let page = match parts.next() {
            Some(MaybeRef::Ref(r)) => match self.pages.get(&r.into()) {
                Some(page) => Ok(*page),
                None => self.page_of_element(r.into()).ok_or_else(|| self.no_page(r.into())),
            },
            Some(MaybeRef::NotRef(Object::Number(n))) => {
                Err(format!("it names page number {} and not a page of this file", n.as_i64()))
            }
            Some(_) => Err("its destination does not begin with a page".to_owned()),
            None => Err("its destination is empty".to_owned()),
        };
        let mut view = String::new();
        let mut numbers = [None; 4];
        for (i, part) in parts.take(5).enumerate() {
            match resolve(part, self.xref) {
                Object::Name(name) if i == 0 => view = String::from_utf8_lossy(&name).into_owned(),
                Object::Number(n) if i > 0 => numbers[i - 1] = Some(n.as_f64()),
                _ => {}
            }
        }
        let (left, top) = match view.as_str() {
            "XYZ" => (numbers[0], numbers[1]),
            "FitH" | "FitBH" => (None, numbers[0]),
            "FitV" | "FitBV" => (numbers[0], None),
            "FitR" => (numbers[0], numbers[3]),
            _ => (None, None),
        };
        let view = if view == "XYZ" { View::Spot } else { View::Other };
        let zoom = numbers[2].filter(|z| view == View::Spot && *z != 0.0);
        let leads = match page {
            Ok(page) => Leads::Page { page, left, top },
            Err(why) => Leads::Nowhere(why),
        };
        Aim { leads, form, view, zoom }
    }

    /// The page on which an element of the structure begins: its own, or that of the first of its kids that has one
    /// (structure destinations: ISO 32000-2, 12.3.2.3; `Pg` and `K`: 14.7.2).
    fn page_of_element(&self, id: ObjectIdentifier) -> Option<usize> {
        let element = self.xref.get::<Dict>(id)?;
        let typed = element.get::<Name>("Type");
        // The type may be left out; what an element is for and whose kid it is may not.
        let is_element = match typed.as_deref() {
            Some(name) => name == b"StructElem",
            None => element.contains_key("S") && element.contains_key("P"),
        };
        let mut open = if is_element { vec![element] } else { Vec::new() };
        for _ in 0..MAX_ELEMENTS {
            let next = open.pop()?;
            if let Some(page) = next.get_ref("Pg").and_then(|r| self.pages.get(&r.into())) {
                return Some(*page);
            }
            match next.get::<Object>("K") {
                Some(Object::Dict(kid)) => open.push(kid),
                Some(Object::Array(kids)) => {
                    let mut kids: Vec<Dict> =
                        super::items(&kids, self.xref).take(MAX_ELEMENTS).filter_map(Object::into_dict).collect();
                    kids.reverse();
                    open.append(&mut kids);
                }
                _ => {}
            }
        }
        None
    }

    /// Why an object is no page of the file.
    fn no_page(&self, id: ObjectIdentifier) -> String {
        let n = id.obj_number;
        match self.xref.get::<Object>(id) {
            None | Some(Object::Null(_)) => {
                format!("it leads to object {n}, which is not in the file: the page was deleted")
            }
            Some(Object::Dict(dict)) if dict.get::<Name>("Type").as_deref() == Some(b"Page") => {
                format!("it leads to object {n}, a page that is no longer among the file's pages: it was deleted")
            }
            Some(_) => format!("it leads to object {n}, which is no page"),
        }
    }

    /// All named destinations: the name tree of PDF 1.2 and the older dictionary.
    fn names(&self) -> &BTreeMap<Vec<u8>, Object<'a>> {
        self.names.get_or_init(|| {
            let mut table = BTreeMap::new();
            if let Some(old) = self.root.get::<Dict>("Dests") {
                for (name, dest) in old.entries() {
                    table.insert(name.to_vec(), resolve(dest, self.xref));
                }
            }
            let tree = self.root.get::<Dict>("Names").and_then(|n| n.get::<Dict>("Dests"));
            if let Some(tree) = tree {
                trees::walk(tree, self.xref, "Names", |key, dest| {
                    if let Object::String(key) = key {
                        table.insert(key.as_bytes().to_vec(), dest);
                    }
                });
            }
            table
        })
    }
}

fn nowhere(why: &str) -> Leads {
    Leads::Nowhere(why.to_owned())
}
