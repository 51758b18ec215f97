//! Sets: products that are made of others. Their members are made as they are by themselves, task for task, and lie in folders
//! of their own; what the set has besides is a guide, and later texts and uploads, over all of them.

use super::bundle::{self, Contents, Planned};
use super::session::{Session, all};
use super::variants::{self, OpenFonts, VariantBuild};
use super::{Built, Options, numbered, seals};
use base::model::drawing::Picture;
use base::model::kin::Member;
use base::model::{Fault, Finding, Item, Kind, Product, Severity, Stop};
use plan::{Figure, GuideFacts, Made};
use std::sync::Arc;

/// Makes what buyers of a set get, but the texts that go with it.
pub fn contents(session: &Session, set: Product) -> Result<Contents, Stop> {
    let members = set.members.clone();
    let (lead, mut notes) = VariantBuild::plan(session, set, &mut OpenFonts::default())?;
    let (mut variants, mut files, mut inspected) = (vec![lead], Vec::new(), Vec::new());
    let mut facts = GuideFacts::default();
    let made =
        members.iter().map(|member| bundle::make(session, bundle::plan(session, member.products.as_ref().clone())?));
    for (member, made) in members.iter().zip(all(made)?) {
        let Contents { planned, files: own, inspected: read, figures } = made;
        facts
            .members
            .push(GuideFacts { figures: named(member, figures), ..told(session, member, &planned, &own, &read)? });
        let place = |path: &mut String| *path = member.place_of(path);
        for (mut file, mut read) in own.into_iter().zip(read).filter(|(file, _)| file.kind != Kind::Guide) {
            place(&mut file.path);
            place(&mut read.path);
            files.push(file);
            inspected.push(read);
        }
        notes.extend(planned.notes.into_iter().map(|note| format!("{}: {note}", member.lead().name)));
        for mut variant in planned.variants {
            variant.move_files(|item| (item.kind != Kind::Guide).then(|| member.place_of(&item.path)));
            variants.push(variant);
        }
    }
    let set = &variants[0];
    facts.files = plan::file_rows(&set.product, variants[1..].iter().flat_map(|v| &v.plan.items));
    let guide: Vec<Item> = plan::guide(&set.product, &set.fonts, &facts)?.into_iter().collect();
    let (guides, said) = variants::render(session, &[set.context()], vec![guide])?;
    notes.extend(said);
    let (own, read) = variants[0].keep(guides.into_iter().flatten().collect());
    files.extend(own);
    inspected.extend(read);
    Ok(Contents { planned: Planned { variants, notes }, files, inspected, figures: Vec::new() })
}

/// Pictures of a member's pages, by names that no other member has.
fn named(member: &Member, figures: Vec<Figure>) -> Vec<Figure> {
    let slug = &member.lead().slug;
    figures.into_iter().map(|figure| Figure { name: format!("{slug}/{}", figure.name), ..figure }).collect()
}

/// What a set's guide tells of a member: its leading variant, in figures and pictures.
fn told(
    session: &Session,
    member: &Member,
    planned: &Planned,
    files: &[base::model::Artifact],
    read: &[base::model::Inspected],
) -> Result<GuideFacts, Stop> {
    let lead = &planned.variants[0];
    let mine = |path: &str| lead.product.variants.has(path);
    let stickers = || files.iter().zip(read).filter(|(f, _)| f.kind == Kind::Sticker && mine(&f.path));
    let made: Vec<Made> = all(stickers().map(|(file, read)| super::context::finished_sticker(session, file, read)))?;
    let from: Vec<_> = stickers().map(|(file, _)| file.bytes.sha256()).collect();
    let contact = lead.context().contact_pictures(session, &made, &from)?;
    // Members may have pictures of the same names.
    let contact = contact.pictures.iter().map(|(picture, _)| {
        let name = format!("{}-{}", member.lead().slug, picture.name);
        Arc::new(Picture { name, ..(**picture).clone() })
    });
    let items: Vec<Item> =
        planned.variants.iter().flat_map(|v| &v.plan.items).filter(|i| mine(&i.path)).cloned().collect();
    Ok(GuideFacts { contact: contact.collect(), ..bundle::counts(items.iter()) })
}

/// Builds the members of a set, before the set itself.
pub fn build_members(set: &Product, options: &Options) -> Result<(), Stop> {
    let mut faults = Vec::new();
    for member in &set.members {
        match super::build(&member.lead().root, options) {
            Ok(Built { folder: Some(_), .. }) => {}
            Ok(built) => faults.push(waits(member, &stopping(&built.findings))),
            Err(Stop::Cancelled) => return Err(Stop::Cancelled),
            Err(Stop::Faults(told)) => {
                let first = told.first().map(|f| f.message.lines().next().unwrap_or_default().to_owned());
                faults.push(waits(member, &first.unwrap_or_default()));
            }
        }
    }
    if faults.is_empty() { Ok(()) } else { Err(faults.into()) }
}

fn stopping(findings: &[Finding]) -> String {
    let errors = findings.iter().filter(|f| f.severity == Severity::Error).count();
    let first = findings.first().map_or(String::new(), |f| format!("; the first: {}: {}", f.check, f.message));
    format!("{errors} errors{first}")
}

fn waits(member: &Member, why: &str) -> Fault {
    Fault::new(format!("the set waits for {:?}, which is not built: {why}", member.way))
        .in_file(member.place.file.clone().unwrap_or_else(|| manifest::FILE.to_owned()))
        .at(member.place.clone())
        .help(format!("`sheafwright build` of {} shows all that keeps it from being built", member.way))
}

/// Lets stickers of members that buyers have keep their numbers.
pub fn number_members(set: &mut Product, out: &std::path::Path) -> Result<(), Stop> {
    for member in &mut set.members {
        let releases = seals::of_product(&member.lead().root)?;
        let products: &mut Vec<Product> = Arc::make_mut(&mut member.products);
        numbered(products, out, &releases)?;
    }
    Ok(())
}
