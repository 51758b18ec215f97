//! What the pages of a notebook are built with: the chrome of their state below, their own drawing and links on top.

use super::art::{ArtLoader, Laid};
use super::chrome::{Chrome, Layer, State};
use super::frame::Frame;
use super::places::Places;
use super::ruling_words;
use super::sheets::Placed;
use base::model::art::{ArtPage, Navigation, Room};
use base::model::drawing::{Path, Shape};
use base::model::product::{CoverDesign, Hand, Notebook, Product, Template};
use base::model::{Drawing, Link, Mm, Page, Place, Point, Rect, Target};
use draw::ruling::{self, RulingContext, Rulings};
use draw::{Fonts, Pen, cover, mirror};
use serde_json::{Map, Value, json};
use std::collections::BTreeMap;

/// Everything that the pages are built with.
pub struct Builder<'a, 'p> {
    pub product: &'a Product,
    pub notebook: &'a Notebook,
    pub fonts: &'a Fonts,
    pub rulings: Rulings,
    pub frame: &'a Frame,
    pub chrome: &'a Chrome<'a>,
    pub pen: Pen,
    /// Drawings stored once: the chrome by state, then templates, then their small pictures.
    pub forms: Vec<Drawing>,
    pub loader: &'a mut ArtLoader<'p>,
    pub places: &'a Places,
    pub placed: &'a Placed,
    /// Art of each template that has it, where it has been laid.
    pub laid: BTreeMap<String, Laid>,
    pub states: BTreeMap<(State, Layer), usize>,
    pub pages: Vec<Page>,
}

/// Rulings that are the same in every direction of writing.
const NEVER_MIRRORED: [&str; 1] = ["staves"];

/// A form at its own size.
pub fn whole(form: usize) -> Drawing {
    Drawing { shapes: vec![Shape::Form { form, at: Point::default(), scale: 1.0 }], cuts: Vec::new() }
}

impl Builder<'_, '_> {
    pub fn cover(&mut self) {
        let size = self.product.page.size;
        let cover = &self.notebook.cover;
        let (drawing, own) = match &cover.design {
            CoverDesign::Art(art) => {
                let laid = super::cover_art(self.loader, cover, art, size, self.places);
                (laid.drawing, laid.links)
            }
            _ => {
                let style = &self.product.style;
                let case = cover::Case::of(&self.product.page, style);
                (cover::draw(cover, style, case, self.fonts), Vec::new())
            }
        };
        // The lower third opens the book; the label above it stays free for writing. Art with links of its own has them
        // instead.
        let rect = Rect::new(size.w * 0.1, size.h * 0.68, size.w * 0.8, size.h * 0.28);
        // Where there is no index, the cover does not lead to itself.
        let (place, name) = match self.chrome.home() {
            (Place::Cover, _) => (Place::Section(1), self.product.words.sections.as_str()),
            home => home,
        };
        let opens =
            Link { rect, target: Target::Place(place), says: format!("{} {name}", self.product.words.go_to).into() };
        let links = if own.is_empty() { vec![opens] } else { own };
        self.pages.push(Page { place: Some(Place::Cover), drawing, links });
    }

    /// A layer of the chrome in a state, stored once.
    fn layer(&mut self, state: State, layer: Layer) -> Drawing {
        let form = match self.states.get(&(state, layer)) {
            Some(form) => *form,
            None => {
                self.forms.push(self.chrome.draw(state, layer));
                let form = self.forms.len() - 1;
                self.states.insert((state, layer), form);
                form
            }
        };
        whole(form)
    }

    /// Adds a page: the chrome of its state below, its own drawing and links on top.
    pub fn page(&mut self, state: State, drawing: Drawing, links: Vec<Link>, place: Option<Place>) {
        let mut all = self.layer(state, Layer::Ground);
        all.extend(self.coil());
        all.extend(drawing);
        let mut taps = self.chrome.links(state);
        taps.extend(links);
        self.pages.push(Page { place, drawing: all, links: taps });
    }

    /// Adds a page whose drawing may fill the papers: it lies below coil and foot.
    pub fn full_page(&mut self, state: State, drawing: Drawing, links: Vec<Link>, place: Option<Place>) {
        let mut all = self.layer(state, Layer::Ground);
        all.extend(drawing);
        all.extend(self.coil());
        let mut taps = self.chrome.links(state);
        taps.extend(links);
        self.pages.push(Page { place, drawing: all, links: taps });
    }

    /// Coil and foot, which no state changes.
    fn coil(&mut self) -> Drawing {
        self.layer(State::default(), Layer::Coil)
    }

    /// Adds a page of art.
    pub fn art(
        &mut self,
        state: State,
        art: &ArtPage,
        data: &Map<String, Value>,
        places: &Places,
        place: Option<Place>,
    ) {
        let room = self.room(art.room);
        let laid = self.loader.lay(art, room, data, places);
        self.art_page(state, art, laid.drawing, laid.links, place);
    }

    /// Adds a page with art between the layers of the chrome.
    pub fn art_page(&mut self, state: State, art: &ArtPage, drawing: Drawing, links: Vec<Link>, place: Option<Place>) {
        let (below, above) = match (art.navigation, art.room) {
            (Navigation::Over, Room::Writing) => (Layer::Ground, Some(Layer::Coil)),
            (Navigation::Over, Room::Page | Room::Papers) => (Layer::Desk, Some(Layer::Over)),
            (Navigation::Taps | Navigation::None, _) => (Layer::Desk, None),
        };
        let mut all = self.layer(state, below);
        all.extend(drawing);
        if art.room == Room::Papers {
            all.fill(self.around_papers(), self.product.style.desk);
        }
        match above {
            Some(Layer::Coil) => all.extend(self.coil()),
            Some(above) => all.extend(self.layer(state, above)),
            None => {}
        }
        let mut taps = if art.navigation == Navigation::None { Vec::new() } else { self.chrome.links(state) };
        let beside = self.loader.beside(art, links, &taps);
        taps.extend(beside);
        self.pages.push(Page { place, drawing: all, links: taps });
    }

    /// The desk round the papers, so that art on them ends at their rounded corners.
    fn around_papers(&self) -> Path {
        let mut path = Path::rect(self.frame.sheet());
        for paper in &self.frame.papers {
            path.0.extend(Path::rounded(*paper, self.frame.corner).reversed().0);
        }
        path
    }

    /// The rectangle that a room means on this page.
    pub fn room(&self, room: Room) -> Rect {
        match room {
            Room::Page => Rect::page(self.frame.page),
            Room::Papers => self.frame.sheet(),
            Room::Writing => {
                let (first, last) = (self.frame.areas[0], self.frame.areas[self.frame.areas.len() - 1]);
                Rect::new(first.x, first.y, last.right() - first.x, last.bottom().max(first.bottom()) - first.y)
            }
        }
    }

    /// What a divider's drawing can say beside what every drawing can.
    pub fn section_data(&self, index: usize) -> Map<String, Value> {
        let section = &self.notebook.sections[index];
        let pages = section.pages.iter().enumerate();
        let pages: Vec<Value> = pages
            .map(|(k, leaf)| json!({ "name": leaf.title(self.notebook), "number": k + 1, "data": leaf.data }))
            .collect();
        let mut data = self.loader.data();
        data.insert("section".into(), self.chrome.section_title(index, &section.name).into());
        data.insert("number".into(), (index + 1).into());
        data.insert("colour".into(), section.colour.to_string().into());
        data.insert("pages".into(), pages.into());
        let within =
            (0..section.within.len()).map(|n| json!({ "name": self.chrome.title_within(index, n), "number": n + 1 }));
        data.insert("within".into(), within.collect::<Vec<Value>>().into());
        data
    }

    /// Lays the art of every template that has it: its drawing is a form, its links stand on each of its pages. One that is
    /// used by pages with names or data alone is laid for each of them.
    pub fn lay_templates(&mut self) {
        for (i, template) in self.notebook.templates.iter().enumerate() {
            let Some(art) = &template.art else { continue };
            let used = self.notebook.sections.iter().flat_map(|s| &s.pages).any(|l| l.template == i && l.is_plain());
            if !template.offered && !used {
                continue;
            }
            let mut data = self.loader.data();
            data.insert("template".into(), template.name.clone().into());
            data.insert("name".into(), template.name.clone().into());
            data.insert("section".into(), "".into());
            data.insert("colour".into(), self.product.style.accent.to_string().into());
            data.insert("number".into(), (i + 1).into());
            let room = self.room(art.room);
            let laid = self.loader.lay(art, room, &data, self.places);
            self.laid.insert(template.slug.clone(), laid);
        }
    }

    /// Adds a page of a template.
    pub fn template_page(&mut self, state: State, template: &Template, form: usize, place: Place) {
        self.keep_off(&template.stickers, state, template.art.as_ref());
        match &template.art {
            Some(art) => {
                let links = self.laid.get(&template.slug).map_or(Vec::new(), |laid| laid.links.clone());
                self.art_page(state, art, whole(form), links, Some(place));
            }
            None => self.page(state, whole(form), Vec::new(), Some(place)),
        }
    }

    /// What rulings are drawn with, in these areas.
    pub fn ruling_context(&self, areas: Vec<Rect>) -> RulingContext<'_> {
        let left = self.product.page.hand == Hand::Left;
        let size = self.product.page.size;
        RulingContext {
            areas,
            pen: self.pen,
            fonts: self.fonts,
            corner: self.frame.corner.min(6.0),
            left,
            long_side: size.w.max(size.h),
        }
    }

    /// What a template draws, with this pen, and the stickers that stand on it.
    pub fn template(&self, template: &Template, pen: Pen) -> Drawing {
        let mut drawing = match self.laid.get(&template.slug) {
            Some(laid) => laid.drawing.clone(),
            None => self.ruled(template, pen, self.frame.areas.clone()),
        };
        drawing.extend(self.stickers(&template.stickers));
        drawing
    }

    /// What the rulings of a template draw on these areas.
    pub fn ruled(&self, template: &Template, pen: Pen, areas: Vec<Rect>) -> Drawing {
        let context = |areas| RulingContext { pen, ..self.ruling_context(areas) };
        let draw = |name: &str, with: &toml::Table, areas: Vec<Rect>| {
            // The manifest has checked name and parameters; without a ruling the page stays blank.
            let with = ruling_words::plain(self.product, self.rulings, name, with);

            let sides = (areas.first().map_or(0.0, |a| a.x), areas.last().map_or(0.0, |a| a.right()));
            let drawn = ruling::find(self.rulings.plain, name).and_then(|r| r.draw(&with, &context(areas)));
            match drawn.unwrap_or_default() {
                // Music runs from left to right in every language: mirrored twice, it stays.
                d if self.product.page.right_to_left && NEVER_MIRRORED.contains(&name) => {
                    mirror::drawing(d, sides.0 + sides.1, self.fonts)
                }
                d => d,
            }
        };
        let mut drawing = match &template.beside {
            None => draw(&template.ruling, &template.with, areas),
            Some((beside, with)) => {
                // A gap of one pitch keeps both halves on one baseline grid.
                let pitch = ruling::find(self.rulings.plain, &template.ruling).and_then(|r| r.pitch(&template.with));
                let (first, second) = ruling::halves(&areas, pitch.unwrap_or_else(|| Mm(7.1).pt()));
                let mut d = draw(&template.ruling, &template.with, first);
                d.extend(draw(beside, with, second));
                d
            }
        };
        draw::rules::redraw(&mut drawing, self.product.style.manner.rules, &pen);
        drawing
    }

    pub fn template_forms(&mut self) -> Vec<usize> {
        let drawings: Vec<Drawing> = self.notebook.templates.iter().map(|t| self.template(t, self.pen)).collect();
        drawings
            .into_iter()
            .map(|d| {
                self.forms.push(d);
                self.forms.len() - 1
            })
            .collect()
    }
}
