//! The fonts of listing pictures, under the names that layouts use.

use base::model::drawing::Role;
use base::model::product::FontFile;
use draw::Fonts;
use resvg::usvg::fontdb;
use std::sync::Arc;

/// Fonts by the name that layouts use.
pub const ROLES: [(&str, Role); 5] = [
    ("heading", Role::Heading),
    ("heading-italic", Role::HeadingItalic),
    ("label", Role::Label),
    ("label-bold", Role::LabelBold),
    ("label-italic", Role::LabelItalic),
];

/// Fonts under the names that layouts use. The further files of a role stand under names of their own: they set what the
/// first does not have.
pub fn typecase(fonts: &Fonts) -> Arc<fontdb::Database> {
    let mut case = fontdb::Database::new();
    for (name, role) in ROLES {
        load(&mut case, fonts.file(role), name.to_owned());
    }
    for (_, role) in ROLES {
        for (n, file) in fonts.files(role).enumerate().skip(1) {
            let name = family(fonts, role, n);
            if !case.faces().any(|face| face.families.iter().any(|(known, _)| *known == name)) {
                load(&mut case, file, name);
            }
        }
    }
    Arc::new(case)
}

/// The name of a file of a role, by its place among them: the same file has one name, whichever role asks for it. It is an identifier of
/// CSS, whose words do not begin with a digit.
pub fn family(fonts: &Fonts, role: Role, n: usize) -> String {
    let Some(wanted) = fonts.files(role).nth(n) else { return "label".to_owned() };
    let firsts = ROLES.iter().map(|(name, role)| (fonts.file(*role), (*name).to_owned()));
    let rest = ROLES.iter().flat_map(|(name, role)| {
        fonts.files(*role).enumerate().skip(1).map(move |(n, file)| (file, format!("{name}-{n}")))
    });
    let own = ROLES.iter().find(|(_, known)| *known == role && n == 0).map(|(name, _)| (*name).to_owned());
    own.or_else(|| firsts.chain(rest).find(|(file, _)| file.bytes == wanted.bytes).map(|(_, name)| name))
        .unwrap_or_else(|| "label".to_owned())
}

fn load(case: &mut fontdb::Database, file: &FontFile, name: String) {
    let bytes: Arc<dyn AsRef<[u8]> + Send + Sync> = Arc::new(file.bytes.clone());
    for id in case.load_font_source(fontdb::Source::Binary(bytes)) {
        let Some(mut face) = case.face(id).cloned() else { continue };
        case.remove_face(id);
        face.families = vec![(name.clone(), fontdb::Language::English_UnitedStates)];
        face.style = fontdb::Style::Normal;
        face.weight = fontdb::Weight::NORMAL;
        face.stretch = fontdb::Stretch::Normal;
        case.push_face_info(face);
    }
}
