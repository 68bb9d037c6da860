//! PDF files read again with a reader that others wrote.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use lopdf::content::Content;
use lopdf::{Dictionary, Document, Object, ObjectId};
use plot::{Ink, Item, Layer, Meta, Orientation, Page, Paper, Path, Pen, Rect, Text, pdf};

const CUT: Ink = Ink::new(Pen::WIDE, Layer::CUT);
const SIGNS: &str = "11 7⁄16″ ½ ⅝ 90° ⌀9 Ø9 ±0.5 A–B “q” ‘r’ µΩ Ω × ≤ äöüß fi <&>(\\)";

fn meta() -> Meta {
    Meta {
        title: "Box – floor".to_owned(),
        subject: "cut list".to_owned(),
        ..Meta::default()
    }
}

fn pages() -> Vec<Page> {
    let mut first = Page::new(Paper::A4.size_mm(Orientation::Portrait));
    first.items = vec![
        Item::rect(Rect::new(20.0, 30.0, 100.0, 50.0), CUT),
        Text::new(SIGNS, [20.0, 100.0], 3.5, Layer::TEXT).into(),
    ];
    let mut second = Page::new(Paper::Letter.size_mm(Orientation::Landscape));
    second.items = vec![
        Item::path(Path::round_rect(Rect::new(0.0, 0.0, 50.0, 50.0), 9.0), CUT),
        Text::new("bold words", [20.0, 100.0], 5.0, Layer::TEXT).bold().into(),
        Text::new("turned", [20.0, 100.0], 5.0, Layer::TEXT).turned(37.0).into(),
    ];
    vec![first, second]
}

fn read(pages: &[Page]) -> Document {
    Document::load_mem(&pdf(pages, &meta())).unwrap()
}

fn number(object: &Object) -> f64 {
    f64::from(object.as_float().unwrap())
}

fn part<'a>(document: &'a Document, dictionary: &'a Dictionary, key: &[u8]) -> &'a Object {
    document.dereference(dictionary.get(key).unwrap()).unwrap().1
}

fn page(document: &Document, index: usize) -> ObjectId {
    document.get_pages().into_values().nth(index).unwrap()
}

#[test]
fn pages_have_the_size_of_their_paper() {
    let document = read(&pages());
    assert_eq!(document.version, "1.7");
    assert_eq!(document.get_pages().len(), 2);
    for (index, size) in [[595.276, 841.89], [792.0, 612.0]].into_iter().enumerate() {
        let media = document
            .get_dictionary(page(&document, index))
            .unwrap()
            .get(b"MediaBox");
        let media: Vec<f64> = media.unwrap().as_array().unwrap().iter().map(number).collect();
        for (got, wanted) in media.iter().zip([0.0, 0.0, size[0], size[1]]) {
            assert!((got - wanted).abs() < 0.001, "{media:?}");
        }
    }
}

#[test]
fn a_hundred_millimetres_are_as_long_as_they_should_be() {
    let document = read(&pages());
    let content = document.get_page_content(page(&document, 0));
    let content = Content::decode(&content).unwrap();
    let corners = content
        .operations
        .iter()
        .filter(|operation| matches!(operation.operator.as_str(), "m" | "l"));
    let across: Vec<f64> = corners.map(|operation| number(&operation.operands[0])).collect();
    let low = across.iter().copied().fold(f64::INFINITY, f64::min);
    let high = across.iter().copied().fold(0.0, f64::max);
    assert!((high - low - 283.4646).abs() < 1e-3, "{across:?}");
    assert!((low - 20.0 * 72.0 / 25.4).abs() < 1e-3);
}

#[test]
fn every_word_can_be_taken_out_as_it_was_written() {
    let document = read(&pages());
    let words = |page: u32| document.extract_text(&[page]).unwrap();
    assert_eq!(words(1).trim(), SIGNS);
    let second: Vec<String> = words(2).lines().map(str::to_owned).collect();
    assert_eq!(second.join(" ").trim(), "bold words turned");
}

#[test]
fn the_letters_are_in_the_file_and_little_else_of_the_font() {
    let file = pdf(&pages(), &meta());
    assert!(file.len() < 60_000, "{} bytes", file.len());
    let document = Document::load_mem(&file).unwrap();
    for index in 0..2 {
        let fonts = document.get_page_fonts(page(&document, index)).unwrap();
        assert_eq!(fonts.len(), 2);
        for font in fonts.values() {
            assert!(font.has(b"ToUnicode"));
            let descendants = part(&document, font, b"DescendantFonts").as_array().unwrap();
            let descendant = document.dereference(&descendants[0]).unwrap().1.as_dict().unwrap();
            let descriptor = part(&document, descendant, b"FontDescriptor").as_dict().unwrap();
            let letters = part(&document, descriptor, b"FontFile2").as_stream().unwrap();
            let letters = letters.decompressed_content().unwrap();
            assert!(ttf_parser::Face::parse(&letters, 0).unwrap().number_of_glyphs() > 5);
        }
    }
}

#[test]
fn a_page_without_words_needs_no_font_and_no_page_is_a_file_too() {
    let mut bare = Page::new([50.0, 50.0]);
    bare.items.push(Item::circle([25.0, 25.0], 20.0, CUT));
    let document = read(&[bare]);
    assert!(document.get_page_fonts(page(&document, 0)).unwrap().is_empty());
    assert_eq!(read(&[]).get_pages().len(), 0);
}

#[test]
fn the_file_says_what_it_is_and_asks_not_to_be_scaled() {
    let document = read(&pages());
    let info = part(&document, &document.trailer, b"Info").as_dict().unwrap();
    let title = lopdf::decode_text_string(info.get(b"Title").unwrap()).unwrap();
    assert_eq!(title, "Box – floor");
    assert!(!info.has(b"CreationDate") && !info.has(b"Author"));
    let preferences = part(&document, document.catalog().unwrap(), b"ViewerPreferences");
    let scaling = preferences.as_dict().unwrap().get(b"PrintScaling").unwrap();
    assert_eq!(scaling.as_name().unwrap(), b"None");
}

#[test]
fn the_same_pages_are_the_same_bytes() {
    assert_eq!(pdf(&pages(), &meta()), pdf(&pages(), &meta()));
}
