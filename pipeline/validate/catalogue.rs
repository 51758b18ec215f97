//! The catalogue: every check that there is, in one table, sorted by name.
//!
//! A finding can only be made of a check that stands here: [`named`] runs while the program is compiled, and a name that
//! is not in the table ends the compilation. The explanations on the command line, the table in the handbook and the
//! rules of the reports are all drawn from this table.

use crate::model::finding::Family::{self, *};
use crate::model::finding::Severity::{self, *};
use crate::model::{Check, Finding, Where};

/// Every check, sorted by name.
pub static CATALOGUE: &[Check] = &[
    row(
        "archive-bomb",
        (Error, Error),
        Archive,
        "An archive that states more than a hundred times its size unpacked, or whose entries share their bytes.",
        "Unpacking fills the tablet's memory.",
        "Pack the archive again from the files themselves.",
    ),
    row(
        "archive-damaged",
        (Error, Warning),
        Archive,
        "An archive whose headers are broken or contradict each other.",
        "Unpackers disagree on what is inside, or refuse it.",
        "Pack the archive again.",
    ),
    row(
        "archive-nested",
        (Warning, Warning),
        Archive,
        "An archive within an archive.",
        "Tablets unpack only the outer one.",
        "Pack the files themselves.",
    ),
    row(
        "archive-stray-bytes",
        (Warning, Note),
        Archive,
        "Bytes before, after or between the parts of an archive that belong to no entry.",
        "Strict unpackers refuse it.",
        "Pack the archive again.",
    ),
    row(
        "archive-zip64",
        (Warning, Note),
        Archive,
        "An archive that uses ZIP64 structures.",
        "Old unpackers on tablets cannot open it.",
        "Keep the archive below 4 GiB, and pack without ZIP64.",
    ),
    row(
        "art-character-missing",
        (Error, Error),
        Look,
        "A character in a drawing of yours that no font of the product has.",
        "The buyer sees an empty box in its place.",
        "Write it otherwise, or add a font that has it to fonts/.",
    ),
    row(
        "art-font-missing",
        (Warning, Warning),
        Look,
        "A text in a drawing of yours that asks for a font which the product does not have.",
        "Another font stands in: letters have other widths, and words another look.",
        "Put the font into fonts/, or turn the text into outlines in the drawing program.",
    ),
    row(
        "art-left-out",
        (Note, Note),
        Look,
        "Something in art of yours that a page cannot show: movement, a piece of a web page, a second frame.",
        "The page looks different from the file.",
        "Export the art again without it.",
    ),
    row(
        "art-link-covered",
        (Warning, Warning),
        Links,
        "A tap area of art that lies under tabs or marks, or outside of what is seen of the art.",
        "A finger on it lands somewhere else, or nowhere.",
        "Move the area, or keep the tool's tabs off the page with navigation = \"none\".",
    ),
    row(
        "art-shape-off",
        (Warning, Warning),
        Look,
        "Art whose shape or size is not that of the room it is put into.",
        "Empty strips beside the art, or parts of it cut off.",
        "Draw it in the size of the room, or choose another fit: exact, fit, fill or bleed.",
    ),
    row(
        "claim-wrong",
        (Error, Warning),
        Listing,
        "A number in the description that is not the number of the files: pages, covers, stickers, links, resolution.",
        "The buyer gets something else than was promised.",
        "Correct the number.",
    ),
    row(
        "covers-do-not-fit",
        (Error, Warning),
        Pages,
        "Covers or sticker sheets whose pages have another size than the notebook's.",
        "A cover pasted into the notebook leaves a strip uncovered or is cut off.",
        "Make them at the notebook's page size.",
    ),
    row(
        "credit-missing",
        (Warning, Warning),
        Licences,
        "A font file of the product's own that no credit names.",
        "Many open fonts ask for a credit when they are passed on, and a buyer or the font's maker may ask.",
        "Name the font and its licence among the credits of the manifest.",
    ),
    row(
        "destination-forces-zoom",
        (Warning, Note),
        Links,
        "A destination that sets a zoom.",
        "Every tap changes the size at which the buyer reads.",
        "Leave the zoom null.",
    ),
    row(
        "destination-off-page",
        (Error, Warning),
        Links,
        "A destination whose left or top lies outside the page that it leads to.",
        "The reader app scrolls past the page, or shows an empty part of it.",
        "Use the left edge and the top edge of the page.",
    ),
    row(
        "destination-without-coordinates",
        (Error, Note),
        Links,
        "A destination of the form XYZ that gives no left or no top.",
        "The page opens where the last one was scrolled to, and not at its beginning.",
        "Give the left and the top of the page.",
    ),
    row(
        "destinations-mixed",
        (Warning, Note),
        Links,
        "Local links in one file that name their targets in different ways.",
        "Reader apps support the ways unequally, so that some links work and others don't.",
        "Write all local links in one way, as explicit destinations.",
    ),
    row(
        "document-runs-something",
        (Error, Warning),
        File,
        "A script, an attached file or an action that runs by itself when the document is opened.",
        "Reader apps warn of it or refuse the file.",
        "Take it out of the document.",
    ),
    row(
        "entry-climbs",
        (Error, Error),
        Archive,
        "An entry with an absolute path, a drive letter or a way up out of its folder.",
        "Unpackers refuse it or write where they must not.",
        "Use relative paths without two dots.",
    ),
    row(
        "entry-damaged",
        (Error, Error),
        Archive,
        "An entry that does not unpack, or whose checksum is wrong.",
        "The buyer can't open the file.",
        "Pack the archive again.",
    ),
    row(
        "entry-encrypted",
        (Error, Error),
        Archive,
        "An entry that is encrypted.",
        "Tablets can't unpack it.",
        "Pack without a password.",
    ),
    row(
        "entry-is-symlink",
        (Error, Error),
        Archive,
        "An entry that is a symbolic link.",
        "Most systems unpack it as a tiny text, or not at all.",
        "Pack the file itself.",
    ),
    row(
        "entry-method-odd",
        (Warning, Warning),
        Archive,
        "An entry packed by another method than stored or deflate.",
        "Tablets' own unpackers can't open it.",
        "Pack with deflate.",
    ),
    row(
        "entry-name-unmarked",
        (Error, Warning),
        Archive,
        "A name outside ASCII whose flags do not say that it is UTF-8.",
        "Other systems show garbled letters.",
        "Use ASCII names, or set bit 11 of the flags.",
    ),
    row(
        "entry-not-planned",
        (Error, Error),
        Archive,
        "An entry of an upload whose bytes are none of the planned files.",
        "The buyer gets something that nobody checked.",
        "Build again; if the finding stays, this is a fault of the program: report it.",
    ),
    row(
        "file-too-heavy",
        (Warning, Note),
        File,
        "A PDF of more than 100 MB.",
        "It takes long to load down and to open on a tablet.",
        "Lower the resolution of its pictures, or split it.",
    ),
    row(
        "file-unreadable",
        (Error, Error),
        File,
        "A file that cannot be read as what its name says it is.",
        "The buyer can't open it.",
        "Make the file anew or copy it again.",
    ),
    row(
        "font-embedding-forbidden",
        (Error, Warning),
        Fonts,
        "An embedded font whose own flags forbid embedding, or allow only bitmaps.",
        "The font's maker may demand that the product is withdrawn.",
        "Use another font, or get a written permission and record it.",
    ),
    row(
        "font-embedding-limited",
        (Warning, Note),
        Fonts,
        "An embedded font whose own flags allow it only in documents that nobody edits, or only whole.",
        "People write on the product, which such a font does not allow.",
        "Use another font, or get a written permission and record it.",
    ),
    row(
        "font-glyph-missing",
        (Error, Warning),
        Fonts,
        "Text shown with a glyph that its font does not have.",
        "The buyer sees an empty box in place of the character.",
        "Use a font that has the character, or other words.",
    ),
    row(
        "font-not-embedded",
        (Error, Error),
        Fonts,
        "A font that is used, but is not inside the file.",
        "Every device puts another font in its place, and lettering shifts or turns to boxes.",
        "Embed the font.",
    ),
    row(
        "font-not-subset",
        (Warning, Note),
        Fonts,
        "An embedded font that is stored whole.",
        "The file is larger than it needs to be.",
        "Embed only the glyphs that are used.",
    ),
    row(
        "font-without-unicode",
        (Warning, Note),
        Fonts,
        "A font that does not say which characters its glyphs are.",
        "Searching, copying and reading aloud give nonsense.",
        "Write a ToUnicode map for the font.",
    ),
    row(
        "image-cmyk",
        (Warning, Warning),
        Images,
        "A picture in CMYK, the colours of printing presses.",
        "Tablets convert it each in their own way, mostly to dull colours.",
        "Convert the picture to sRGB.",
    ),
    row(
        "image-too-coarse",
        (Warning, Note),
        Images,
        "A picture that is placed at less than 96 dots an inch over a good part of the page.",
        "It looks soft on a tablet's screen.",
        "Use a picture with more pixels, or place it smaller.",
    ),
    row(
        "image-too-fine",
        (Note, Note),
        Images,
        "A picture that is placed at more than 620 dots an inch.",
        "The file is larger than anybody can see.",
        "Scale the picture down before placing it.",
    ),
    row(
        "junk-packed",
        (Warning, Warning),
        Archive,
        "Files that desktop systems leave behind, such as folder settings and previews.",
        "The buyer sees odd files that open to nothing.",
        "Pack without them.",
    ),
    row(
        "language-missing",
        (Error, Note),
        File,
        "A PDF that does not say in which language it is.",
        "Screen readers guess the language and read it wrongly.",
        "Set the document's language.",
    ),
    row(
        "language-off-plan",
        (Error, Error),
        File,
        "A document language that is not the product's.",
        "Screen readers read the text in the wrong language.",
        "Build again; if the finding stays, this is a fault of the program: report it.",
    ),
    row(
        "link-acts-oddly",
        (Warning, Warning),
        Links,
        "An action of a kind that reader apps on tablets seldom support.",
        "The tap works in one app and does nothing in the next.",
        "Use a plain destination or a web address.",
    ),
    row(
        "link-border-shown",
        (Error, Warning),
        Links,
        "A link annotation that draws a border: without an entry for it, the border is one unit wide.",
        "Buyers see a black frame about every link.",
        "Set the border of the link to [0 0 0].",
    ),
    row(
        "link-hidden",
        (Error, Error),
        Links,
        "A link annotation that is flagged invisible, hidden or not to be viewed.",
        "Reader apps ignore hidden annotations, so the link is dead.",
        "Clear the flags of the link except Print.",
    ),
    row(
        "link-in-plain-file",
        (Error, Warning),
        Links,
        "A link within a file that should have none, such as alternate covers or a sticker sheet.",
        "The page is pasted into the notebook, and the link then leads nowhere.",
        "Take the links out of this file.",
    ),
    row(
        "link-locked",
        (Note, Note),
        Links,
        "A link annotation that is flagged locked.",
        "It does no harm in reading, but editors of the file refuse to move the link.",
        "Clear the flag, unless it is meant.",
    ),
    row(
        "link-missing",
        (Error, Error),
        Links,
        "A planned link that is not in the file.",
        "The buyer taps a drawn tab or button and nothing happens.",
        "Build again; if the finding stays, this is a fault of the program: report it.",
    ),
    row(
        "link-not-https",
        (Warning, Note),
        Links,
        "A link to a web address that does not begin with https.",
        "Tablets warn of insecure pages or refuse them.",
        "Use the https address.",
    ),
    row(
        "link-not-planned",
        (Error, Error),
        Links,
        "A link in the file that nobody planned.",
        "A tap on an empty spot makes the page jump.",
        "Build again; if the finding stays, this is a fault of the program: report it.",
    ),
    row(
        "link-off-page",
        (Error, Error),
        Links,
        "A tap area that lies wholly outside its page.",
        "The link can never be tapped.",
        "Move the tap area onto the page, or delete it.",
    ),
    row(
        "link-off-plan",
        (Error, Error),
        Links,
        "A link that is there, but leads to another page or address than planned.",
        "The buyer lands in the wrong place.",
        "Build again; if the finding stays, this is a fault of the program: report it.",
    ),
    row(
        "link-over-the-edge",
        (Error, Warning),
        Links,
        "A tap area that reaches past the edge of its page.",
        "A part of the area is cut off and can't be tapped.",
        "Draw the tap area inside the page.",
    ),
    row(
        "link-runs-something",
        (Error, Error),
        Links,
        "An action that starts a program, runs a script, sends a form or opens another file.",
        "Reader apps warn of it or block it, and buyers lose trust.",
        "Take the action out.",
    ),
    row(
        "link-says-nothing",
        (Warning, Note),
        Links,
        "A link annotation without a description.",
        "A buyer who uses a screen reader hears only the word link.",
        "Give the link a Contents text that says where it goes.",
    ),
    row(
        "link-to-nowhere",
        (Error, Error),
        Links,
        "A link whose target is not a page of the file: a deleted page, a name that is not there, a bare page number.",
        "The buyer taps and nothing happens, or the reader app jumps somewhere else.",
        "Point the link at a page of this file, or take the link away.",
    ),
    row(
        "link-with-two-targets",
        (Error, Warning),
        Links,
        "A link annotation with both a destination and an action, which the standard forbids.",
        "Reader apps choose differently, so that the same tap leads to different places.",
        "Keep the destination and delete the action.",
    ),
    row(
        "link-without-target",
        (Error, Error),
        Links,
        "A link annotation with neither a destination nor an action.",
        "The buyer taps a spot that looks alive and nothing happens.",
        "Give the link a destination, or delete it.",
    ),
    row(
        "listing-leaves-out",
        (Note, Note),
        Listing,
        "A description that does not say what buyers ask first: that it is a download, which size the pages have, what the licence allows.",
        "Buyers ask, or are let down and want their money back.",
        "Add a sentence on each.",
    ),
    row(
        "name-illegal",
        (Error, Error),
        Names,
        "A file name with a character that some system forbids, or with a dot or a space at its end.",
        "The archive doesn't unpack there, or the file vanishes.",
        "Use letters, digits, dot, hyphen and underscore only.",
    ),
    row(
        "name-not-portable",
        (Warning, Note),
        Names,
        "A file name outside the portable set: letters A to Z, digits, dot, hyphen, underscore.",
        "Old unpackers garble the name.",
        "Use only letters, digits, dot, hyphen and underscore.",
    ),
    row(
        "name-reserved",
        (Error, Error),
        Names,
        "A file name that a desktop system keeps for devices, such as CON or LPT1, with any ending.",
        "The file can't be unpacked there.",
        "Give the file another name.",
    ),
    row(
        "names-clash",
        (Error, Error),
        Names,
        "Two names that are one and the same on systems that ignore case or compose accents.",
        "One file overwrites the other when unpacked.",
        "Give the files different names.",
    ),
    row(
        "no-pages",
        (Error, Error),
        Pages,
        "A PDF without any page.",
        "The file opens to nothing.",
        "Make the file anew.",
    ),
    row(
        "objects-unused",
        (Warning, Note),
        File,
        "Objects within the file that nothing refers to.",
        "The file takes longer to load than it needs to.",
        "Save the file anew, without what was deleted.",
    ),
    row(
        "outline-broken",
        (Error, Warning),
        Pages,
        "An outline whose chain of entries runs in a circle, breaks off or is counted wrongly.",
        "Reader apps show only a part of the outline, or none.",
        "Write the outline anew.",
    ),
    row(
        "outline-off-plan",
        (Error, Error),
        Pages,
        "An outline that is not the planned one.",
        "The list of contents that the reader app shows is wrong.",
        "Build again; if the finding stays, this is a fault of the program: report it.",
    ),
    row(
        "outline-to-nowhere",
        (Error, Error),
        Pages,
        "An entry of the outline that leads to no page of the file.",
        "The buyer taps the entry and nothing happens.",
        "Point the entry at a page, or take it out.",
    ),
    row(
        "page-blank",
        (Warning, Note),
        Pages,
        "A page on which nothing at all is drawn.",
        "The buyer takes it for a mistake.",
        "Draw something on it, or take the page out.",
    ),
    row(
        "page-count-off-plan",
        (Error, Error),
        Pages,
        "A file with more or fewer pages than planned.",
        "Pages are missing or doubled.",
        "Build again; if the finding stays, this is a fault of the program: report it.",
    ),
    row(
        "page-count-wrong",
        (Warning, Warning),
        Pages,
        "A page tree that claims another number of pages than it has.",
        "Reader apps show a wrong page count or stop before the end.",
        "Write the file anew with a tool that counts right.",
    ),
    row(
        "page-cropped",
        (Error, Note),
        Pages,
        "A page whose CropBox is not its MediaBox, or whose box does not begin at 0, 0.",
        "Apps that copy or annotate pages shift the drawing, and links drift off their tabs.",
        "Make both boxes the same, with the corner at 0, 0.",
    ),
    row(
        "page-label-off-plan",
        (Error, Error),
        Pages,
        "A page label that is not the planned one.",
        "The page number shown by the reader app is wrong.",
        "Build again; if the finding stays, this is a fault of the program: report it.",
    ),
    row(
        "page-out-of-reach",
        (Error, Note),
        Links,
        "A page of a linked notebook to which no way of taps leads from the index.",
        "The buyer finds the page only by swiping through everything.",
        "Link to the page from the index, a tab or the overview.",
    ),
    row(
        "page-rotated",
        (Error, Note),
        Pages,
        "A page with a rotation entry.",
        "Handwriting and copied pages come out turned in some reader apps.",
        "Draw the page upright, without a rotation entry.",
    ),
    row(
        "page-size-differs",
        (Error, Warning),
        Pages,
        "Pages of different sizes in one file.",
        "The view jumps from page to page, and copied pages do not fit.",
        "Give all pages the size of the first.",
    ),
    row(
        "page-size-off-plan",
        (Error, Error),
        Pages,
        "A page of another size than the product's.",
        "The page does not fit between the others.",
        "Build again; if the finding stays, this is a fault of the program: report it.",
    ),
    row(
        "page-size-out-of-range",
        (Error, Error),
        Pages,
        "A page smaller than 3 or larger than 14,400 units on a side (ISO 32000-1, annex C).",
        "Reader apps refuse the page or draw it wrongly.",
        "Use a page size between the two.",
    ),
    row(
        "page-too-heavy",
        (Warning, Note),
        Pages,
        "A page that draws more than a tablet can show without stutter: operators, masked pictures, pixels.",
        "Turning to the page takes long.",
        "Simplify the drawing, share pictures, or lower their resolution.",
    ),
    row(
        "page-unit-odd",
        (Error, Warning),
        Pages,
        "A page with a unit of its own (UserUnit).",
        "Many reader apps ignore the entry and show the page at the wrong size.",
        "Use points, without a UserUnit entry.",
    ),
    row(
        "page-without-way-home",
        (Error, Note),
        Links,
        "A page of a linked notebook from which no way of taps leads back to the index.",
        "The buyer is stuck there and has to swipe.",
        "Put a link to the index on the page.",
    ),
    row(
        "pages-are-pictures",
        (Note, Note),
        Fonts,
        "A file most of whose pages are one picture each, without any text.",
        "Nothing can be searched or read aloud, and lettering is soft when enlarged.",
        "Export the pages with their lettering as text.",
    ),
    row(
        "path-too-long",
        (Warning, Warning),
        Names,
        "A path that is too long to unpack into a usual download folder.",
        "Unpacking stops with an error on desktop systems that allow 259 characters.",
        "Shorten the names of the file and its folders.",
    ),
    row(
        "pdf-encrypted",
        (Error, Error),
        File,
        "A PDF that is encrypted, with or without a password.",
        "Note-taking apps refuse to import it or to write on it.",
        "Save the file without encryption.",
    ),
    row(
        "pdf-needs-repair",
        (Error, Warning),
        File,
        "A PDF whose skeleton is broken, so that readers have to rebuild it.",
        "Some reader apps refuse the file, others lose pages or links.",
        "Write the file anew, for example with a PDF library's save function.",
    ),
    row(
        "picture-damaged",
        (Error, Error),
        Images,
        "A picture whose data is cut short or whose checksums are wrong.",
        "It doesn't open, or opens only half.",
        "Export the picture again.",
    ),
    row(
        "picture-too-large",
        (Warning, Note),
        Images,
        "A picture file with a side of more than 8,192 pixels.",
        "Many apps refuse it or shrink it badly.",
        "Scale it down.",
    ),
    row(
        "pictures-alike",
        (Warning, Note),
        Images,
        "Two picture files that show the very same thing.",
        "The buyer counts and finds fewer than promised.",
        "Delete one, or replace it with what was meant.",
    ),
    row(
        "planned-file-missing",
        (Error, Error),
        File,
        "A planned file that was not made.",
        "The buyer doesn't get what the listing promises.",
        "Build again; if the finding stays, this is a fault of the program: report it.",
    ),
    row(
        "planned-file-not-packed",
        (Error, Error),
        Archive,
        "A planned file that is in no upload, while there is no delivery card.",
        "The buyer doesn't get what the listing promises.",
        "Raise the shop's limits, drop something, or give a delivery address.",
    ),
    row(
        "record-wrong",
        (Error, Error),
        Archive,
        "A record of a bundle that disagrees with the files beside it.",
        "A later version cannot be compared with this one.",
        "Build the bundle anew.",
    ),
    row(
        "rules-not-gentle",
        (Warning, Warning),
        Look,
        "Rules whose contrast with the paper is below 1.25 or above 4.5.",
        "Faint rules vanish on a tablet, loud ones drown handwriting.",
        "Choose a mid grey for the rules.",
    ),
    row(
        "section-colours-alike",
        (Warning, Warning),
        Look,
        "Colours of neighbouring sections that differ by less than 7 (CIEDE2000).",
        "The buyer mixes the tabs up.",
        "Choose colours that lie further apart.",
    ),
    row(
        "section-colours-confusable",
        (Note, Note),
        Look,
        "Colours of neighbouring sections that are the same to people with a common colour-vision deficiency.",
        "Those buyers mix the tabs up.",
        "Let neighbours differ in lightness as well.",
    ),
    row(
        "slot-too-large",
        (Error, Error),
        Archive,
        "A file to upload that is larger than the shop allows.",
        "The shop refuses it.",
        "Split it, lower the resolution of the stickers, or offer a delivery card.",
    ),
    row(
        "standard-font-relied-on",
        (Error, Warning),
        Fonts,
        "One of the fourteen standard PDF fonts that is used without being embedded.",
        "Devices replace it by a font of their own, of slightly other shape and width.",
        "Embed a font of your own.",
    ),
    row(
        "sticker-clear-not-clean",
        (Warning, Note),
        Stickers,
        "Fully transparent pixels that still carry a colour.",
        "Scaling bleeds that colour into the edge as a pale rim.",
        "Clear the colour of fully transparent pixels.",
    ),
    row(
        "sticker-corner-opaque",
        (Error, Warning),
        Stickers,
        "A sticker with a corner that isn't fully transparent.",
        "A box shows about the art when it lies on a coloured page.",
        "Clear the ground up to the edge of the art.",
    ),
    row(
        "sticker-dpi-off-plan",
        (Error, Error),
        Stickers,
        "A sticker whose stated resolution is not the planned one.",
        "It is pasted at the wrong size.",
        "Build again; if the finding stays, this is a fault of the program: report it.",
    ),
    row(
        "sticker-empty",
        (Error, Error),
        Stickers,
        "A sticker without any visible pixel.",
        "The buyer pastes it and sees nothing.",
        "Draw something, or take the file out.",
    ),
    row(
        "sticker-has-rim",
        (Warning, Warning),
        Stickers,
        "Edge pixels that carry the white or black of a former ground.",
        "A pale or dark rim shows on coloured paper.",
        "Cut the art from a transparent original, or remove the matte colour.",
    ),
    row(
        "sticker-has-specks",
        (Warning, Note),
        Stickers,
        "Tiny islands of a few pixels beside the art.",
        "They look like dirt on the page, and the lasso catches them.",
        "Erase whatever lies apart from the art.",
    ),
    row(
        "sticker-not-rgba8",
        (Error, Warning),
        Stickers,
        "A sticker that is not 8-bit RGB with alpha.",
        "Some apps turn it grey, drop its transparency or refuse it.",
        "Export it as 8-bit RGBA.",
    ),
    row(
        "sticker-not-transparent",
        (Error, Error),
        Stickers,
        "A sticker without a transparent pixel.",
        "It is pasted as a solid block over the page.",
        "Export it with a transparent ground.",
    ),
    row(
        "sticker-numbers-gap",
        (Warning, Note),
        Stickers,
        "Numbered stickers with a number missing or used twice.",
        "The buyer thinks that a file is missing.",
        "Number the files without gaps.",
    ),
    row(
        "sticker-touches-edge",
        (Error, Warning),
        Stickers,
        "A sticker whose art reaches the edge of its picture.",
        "It looks cut off, and a lasso catches no margin.",
        "Leave clear padding round the art.",
    ),
    row(
        "sticker-without-dpi",
        (Error, Note),
        Stickers,
        "A sticker that does not say its resolution.",
        "Apps paste it far too large or too small.",
        "Write a pHYs chunk with its pixels per metre.",
    ),
    row(
        "sticker-without-srgb",
        (Error, Note),
        Stickers,
        "A sticker that does not say that its colours are sRGB.",
        "Colours shift from device to device.",
        "Write an sRGB chunk into it.",
    ),
    row(
        "streams-stored-twice",
        (Warning, Note),
        File,
        "Pictures, forms or fonts that are stored several times over.",
        "The file takes longer to load than it needs to.",
        "Save the file with a tool that stores equal streams once.",
    ),
    row(
        "sums-incomplete",
        (Warning, Note),
        Archive,
        "A list of checksums that leaves out files, or names files that are not there.",
        "The download cannot be verified whole.",
        "Write the list anew.",
    ),
    row(
        "sums-wrong",
        (Error, Error),
        Archive,
        "A list of checksums that disagrees with the files beside it.",
        "Whoever verifies the download takes it for damaged.",
        "Write the list anew.",
    ),
    row(
        "tabs-disagree",
        (Error, Note),
        Links,
        "A tap area that stands at the same place on many pages and leads elsewhere on a few of them.",
        "The same tab brings the buyer to different sections.",
        "Point all of them at the same page.",
    ),
    row(
        "tag-too-long",
        (Error, Error),
        Listing,
        "A tag longer than the shop allows.",
        "The shop refuses it.",
        "Shorten the tag.",
    ),
    row(
        "tap-area-empty",
        (Error, Warning),
        Links,
        "A tap area without width or height.",
        "The link can't be hit by any finger.",
        "Give the tap area a size, at least 44 by 44 pixels of the screen.",
    ),
    row(
        "tap-area-over-nothing",
        (Warning, Note),
        Links,
        "A tap area within which nothing is drawn but the page's ground.",
        "The buyer cannot see where to tap, or the area has slipped off its tab.",
        "Move the tap area onto what is drawn for it.",
    ),
    row(
        "tap-area-reversed",
        (Warning, Note),
        Links,
        "A tap area whose corners are stored in reverse order.",
        "Some reader apps treat it as empty and the link is dead there.",
        "Store the lower left corner first and the upper right one second.",
    ),
    row(
        "tap-area-small",
        (Note, Note),
        Links,
        "A tap area smaller than 44 by 44 CSS pixels on the screen (WCAG 2.2, 2.5.5).",
        "It can be hit, but takes care to hit.",
        "Make the area larger if there is room.",
    ),
    row(
        "tap-area-too-small",
        (Error, Warning),
        Links,
        "A tap area smaller than 24 by 24 CSS pixels on the screen, with no free room about it (WCAG 2.2, 2.5.8).",
        "Fingers miss it or hit the neighbour.",
        "Make the area larger, or leave more room between the areas.",
    ),
    row(
        "tap-areas-overlap",
        (Error, Warning),
        Links,
        "Two tap areas on one page that overlap and lead to different places.",
        "A tap on the shared part leads to one or the other, as the reader app likes.",
        "Move or shrink one of the two areas.",
    ),
    row(
        "text-contrast-low",
        (Warning, Warning),
        Look,
        "Text whose contrast with its ground is below 4.5, or below 3 for large text (WCAG 2.2, 1.4.3).",
        "It is hard to read, above all outdoors.",
        "Make the text darker or its ground lighter.",
    ),
    row(
        "text-off-page",
        (Error, Error),
        Look,
        "Text that reaches past the edge of its page.",
        "A part of it is cut off.",
        "Shorten the text, or make it smaller.",
    ),
    row(
        "text-off-plan",
        (Error, Error),
        File,
        "A text file whose bytes are not the planned ones.",
        "The buyer reads something else than what was written.",
        "Build again; if the finding stays, this is a fault of the program: report it.",
    ),
    row(
        "text-too-long",
        (Warning, Warning),
        Look,
        "A text that is longer than its box, even in the smallest type that can be read.",
        "The buyer reads half a word, or one word over another.",
        "Shorten the text.",
    ),
    row(
        "title-missing",
        (Error, Note),
        File,
        "A PDF without a title.",
        "The reader app and screen readers show the file name in its place.",
        "Set the document's title.",
    ),
    row(
        "title-off-plan",
        (Error, Error),
        File,
        "A document title that is not the planned one.",
        "The reader app shows the wrong name.",
        "Build again; if the finding stays, this is a fault of the program: report it.",
    ),
    row(
        "title-too-long",
        (Error, Error),
        Listing,
        "A listing title longer than the shop allows.",
        "The shop cuts it off or refuses it.",
        "Shorten the title.",
    ),
    row(
        "titles-disagree",
        (Warning, Warning),
        File,
        "A title in the document information that is not the one in the XMP metadata.",
        "Apps show one or the other.",
        "Write the same title in both.",
    ),
    row(
        "too-many-slots",
        (Error, Error),
        Archive,
        "More files to upload than the shop allows for one listing.",
        "The shop takes only the first ones.",
        "Pack more into each archive, or offer a delivery card.",
    ),
    row(
        "too-many-tags",
        (Error, Error),
        Listing,
        "More tags than the shop allows.",
        "The shop drops the rest.",
        "Keep the best ones.",
    ),
    row(
        "toolbar-margin-used",
        (Warning, Warning),
        Look,
        "A tap area within the margin that is kept free for the reader app's toolbar.",
        "The toolbar covers it, and it can't be tapped.",
        "Move it into the page, or choose another edge for the margin.",
    ),
    row(
        "version-too-new",
        (Warning, Note),
        File,
        "A file written to a later version of PDF than 1.7.",
        "Older reader apps warn or fail to open it.",
        "Save it as PDF 1.7.",
    ),
];

/// A row of the table.
const fn row(
    name: &'static str,
    (severity, elsewhere): (Severity, Severity),
    family: Family,
    looks_for: &'static str,
    why: &'static str,
    mend: &'static str,
) -> Check {
    Check { name, severity, elsewhere, family, looks_for, why, mend }
}

/// The check of this name; meant for constants, where a wrong name does not compile.
pub const fn named(name: &str) -> &'static Check {
    let mut i = 0;
    while i < CATALOGUE.len() {
        if same(CATALOGUE[i].name.as_bytes(), name.as_bytes()) {
            return &CATALOGUE[i];
        }
        i += 1;
    }
    panic!("no check of this name stands in the catalogue")
}

const fn same(a: &[u8], b: &[u8]) -> bool {
    if a.len() != b.len() {
        return false;
    }
    let mut i = 0;
    while i < a.len() {
        if a[i] != b[i] {
            return false;
        }
        i += 1;
    }
    true
}

/// The check of this name, if there is one.
pub fn find(name: &str) -> Option<&'static Check> {
    CATALOGUE.binary_search_by(|check| check.name.cmp(name)).ok().map(|i| &CATALOGUE[i])
}

/// Where findings are gathered.
#[derive(Debug, Default)]
pub struct Findings {
    /// What was found so far.
    pub list: Vec<Finding>,
    /// Whether the file at hand was planned here; decides which of a check's two severities counts.
    pub planned: bool,
}

impl Findings {
    /// Adds a finding of `check`.
    pub fn add(&mut self, check: &'static Check, place: Where, message: String) {
        let mut finding = Finding::of(check, place, message);
        if !self.planned {
            finding.severity = check.elsewhere;
        }
        self.list.push(finding);
    }
}

/// Adds a finding: `found!(findings, "link-to-nowhere", place, "the link …")`. The name is looked up while compiling.
macro_rules! found {
    ($findings:expr, $name:literal, $place:expr, $($message:tt)+) => {{
        const CHECK: &$crate::model::Check = $crate::validate::catalogue::named($name);
        $findings.add(CHECK, $place, format!($($message)+));
    }};
}
pub(crate) use found;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_is_sorted_and_complete() {
        assert!(CATALOGUE.is_sorted_by(|a, b| a.name < b.name), "sort the table by name, each name once");
        for check in CATALOGUE {
            let name = check.name;
            assert!(name.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-'), "{name}");
            for sentence in [check.looks_for, check.why, check.mend] {
                assert!(sentence.ends_with('.') && sentence.len() > 12, "{name}: {sentence}");
                assert!(sentence.starts_with(|c: char| c.is_uppercase()), "{name}: {sentence}");
            }
            assert!(check.elsewhere >= check.severity, "{name} may not be worse in a file made elsewhere");
            assert_eq!(find(name).map(|c| c.name), Some(name));
        }
    }
}
