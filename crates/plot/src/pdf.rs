//! Pages as a PDF file: true scale, with the font in it.
//!
//! Source: ISO 32000-1 (PDF 1.7): a unit is 1/72 in, which is 25.4/72 mm.

mod content;
mod fonts;

use pdf_writer::{Finish, Name, Pdf, Rect, Ref, TextStr};

use crate::item::Page;
use crate::place::by_layer;
use fonts::Fonts;

/// What a file says of itself. Empty texts are left out.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Meta {
    /// What it is.
    pub title: String,
    /// What it is about.
    pub subject: String,
    /// Whose it is.
    pub author: String,
    /// Words to find it by.
    pub keywords: String,
    /// The program that drew it.
    pub creator: String,
}

/// Writes pages as a PDF 1.7 file in true scale.
///
/// The same pages give the same bytes: the file has neither a date nor a number of its own. It asks viewers to print it
/// without scaling. The letters that are used are in it, with what they mean, so that its words can be searched.
///
/// Lengths are exact to 32 bits of a point: 0.1 µm on a sheet of paper.
pub fn pdf(pages: &[Page], meta: &Meta) -> Vec<u8> {
    let drawn: Vec<_> = pages.iter().map(|page| by_layer(&page.items)).collect();
    let marks = drawn.iter().flatten().flat_map(|(_, marks)| marks);
    let mut next = Ref::new(1);
    let mut bump = move || next.bump();
    let (catalog, tree, info) = (bump(), bump(), bump());
    let fonts = Fonts::used(marks, &mut bump);
    let sheets: Vec<(Ref, Ref)> = pages.iter().map(|_| (bump(), bump())).collect();

    let mut pdf = Pdf::new();
    pdf.set_version(1, 7);
    write_catalog(&mut pdf, catalog, tree);
    pdf.pages(tree)
        .kids(sheets.iter().map(|(sheet, _)| *sheet))
        .count(i32::try_from(pages.len()).unwrap_or(i32::MAX));
    write_info(&mut pdf, info, meta);
    for ((page, layers), (sheet, content)) in pages.iter().zip(&drawn).zip(sheets) {
        let mut out = pdf.page(sheet);
        out.parent(tree)
            .media_box(Rect::new(0.0, 0.0, points(page.width_mm), points(page.height_mm)))
            .contents(content);
        fonts.name_in(&mut out.resources().fonts());
        out.finish();
        write_packed(&mut pdf, content, &content::of(layers, &fonts));
    }
    fonts.write(&mut pdf);
    pdf.finish()
}

fn write_catalog(pdf: &mut Pdf, id: Ref, tree: Ref) {
    let mut catalog = pdf.catalog(id);
    catalog.pages(tree);
    let mut preferences = catalog.viewer_preferences();
    preferences.display_doc_title(true);
    preferences.pair(Name(b"PrintScaling"), Name(b"None"));
}

fn write_info(pdf: &mut Pdf, id: Ref, meta: &Meta) {
    let mut info = pdf.document_info(id);
    let told = |text: &'_ str| !text.is_empty();
    if told(&meta.title) {
        info.title(TextStr(&meta.title));
    }
    if told(&meta.subject) {
        info.subject(TextStr(&meta.subject));
    }
    if told(&meta.author) {
        info.author(TextStr(&meta.author));
    }
    if told(&meta.keywords) {
        info.keywords(TextStr(&meta.keywords));
    }
    if told(&meta.creator) {
        info.creator(TextStr(&meta.creator));
    }
}

/// Writes a stream in less space.
fn write_packed(pdf: &mut Pdf, id: Ref, bytes: &[u8]) {
    pdf.stream(id, &packed(bytes)).filter(pdf_writer::Filter::FlateDecode);
}

fn packed(bytes: &[u8]) -> Vec<u8> {
    const LEVEL: u8 = 6;
    miniz_oxide::deflate::compress_to_vec_zlib(bytes, LEVEL)
}

/// Millimetres in the unit of the file.
fn points(mm: f64) -> f32 {
    narrow(mm * 72.0 / 25.4)
}

/// A number as the file takes it.
#[expect(
    clippy::cast_possible_truncation,
    reason = "the writer takes 32 bits; paper is small"
)]
fn narrow(number: f64) -> f32 {
    number as f32
}
