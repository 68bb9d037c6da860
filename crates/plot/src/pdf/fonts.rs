//! The letters that are used, inside the file, with what they mean.

use std::collections::BTreeSet;

use pdf_writer::types::{CidFontType, FontFlags, SystemInfo, UnicodeCmap};
use pdf_writer::{Dict, Finish, Name, Pdf, Rect, Ref, Str};
use subsetter::GlyphRemapper;

use super::{narrow, packed, write_packed};
use crate::font::{CAPITAL, Face, shown};
use crate::item::Text;
use crate::place::Mark;

const SYSTEM: SystemInfo<'static> = SystemInfo {
    registry: Str(b"Adobe"),
    ordering: Str(b"Identity"),
    supplement: 0,
};

/// The faces that a file uses.
pub(super) struct Fonts(Vec<Used>);

struct Used {
    face: Face,
    /// A character's code is its place in here, from 1: two characters that look alike keep their own meaning.
    characters: Vec<char>,
    ids: Ids,
}

struct Ids {
    font: Ref,
    descendant: Ref,
    descriptor: Ref,
    file: Ref,
    meaning: Ref,
    glyphs: Ref,
}

impl Fonts {
    /// The faces and characters that occur in `marks`.
    pub(super) fn used<'a>(marks: impl Iterator<Item = &'a Mark>, bump: &mut impl FnMut() -> Ref) -> Self {
        let mut characters: [BTreeSet<char>; 2] = Default::default();
        for mark in marks {
            if let Mark::Text(text) = mark {
                characters[text.face as usize].extend(shown(&text.words));
            }
        }
        let found = Face::ALL.into_iter().zip(characters);
        let used = found.filter(|(_, characters)| !characters.is_empty());
        let used = used.map(|(face, characters)| Used {
            face,
            characters: characters.into_iter().collect(),
            ids: Ids {
                font: bump(),
                descendant: bump(),
                descriptor: bump(),
                file: bump(),
                meaning: bump(),
                glyphs: bump(),
            },
        });
        Self(used.collect())
    }

    /// The name of a text's font in a page, and its words in the codes of that font.
    pub(super) fn encoded(&self, text: &Text) -> (Name<'static>, Vec<u8>) {
        let used = self.0.iter().find(|used| used.face == text.face);
        let code = |c: char| used.and_then(|used| used.code(c)).unwrap_or(0);
        let bytes = shown(&text.words).flat_map(|c| code(c).to_be_bytes()).collect();
        (name(text.face), bytes)
    }

    /// Names all of them in the resources of a page.
    pub(super) fn name_in(&self, fonts: &mut Dict<'_>) {
        for used in &self.0 {
            fonts.pair(name(used.face), used.ids.font);
        }
    }

    pub(super) fn write(&self, pdf: &mut Pdf) {
        for used in &self.0 {
            used.write(pdf);
        }
    }
}

const fn name(face: Face) -> Name<'static> {
    match face {
        Face::Regular => Name(b"F1"),
        Face::Bold => Name(b"F2"),
    }
}

impl Used {
    fn code(&self, c: char) -> Option<u16> {
        let index = self.characters.binary_search(&c).ok()?;
        u16::try_from(index + 1).ok()
    }

    /// Each character that has a code, with its code.
    fn coded(&self) -> impl Iterator<Item = (u16, char)> {
        (1..=u16::MAX).zip(self.characters.iter().copied())
    }

    fn write(&self, pdf: &mut Pdf) {
        // Six letters before the name say that it is a part of a font.
        let base_font = match self.face {
            Face::Regular => Name(b"PLOTAA+DejaVuSans"),
            Face::Bold => Name(b"PLOTAB+DejaVuSans-Bold"),
        };
        pdf.type0_font(self.ids.font)
            .base_font(base_font)
            .encoding_predefined(Name(b"Identity-H"))
            .descendant_font(self.ids.descendant)
            .to_unicode(self.ids.meaning);
        let mut descendant = pdf.cid_font(self.ids.descendant);
        descendant
            .subtype(CidFontType::Type2)
            .base_font(base_font)
            .system_info(SYSTEM)
            .font_descriptor(self.ids.descriptor)
            .default_width(0.0)
            .cid_to_gid_map_stream(self.ids.glyphs);
        let widths = self.coded().map(|(_, c)| narrow(self.face.advance(c) * 1000.0));
        descendant.widths().consecutive(1, widths);
        descendant.finish();
        self.write_descriptor(pdf, base_font);
        self.write_meaning(pdf);
        self.write_letters(pdf);
    }

    fn write_descriptor(&self, pdf: &mut Pdf, base_font: Name<'_>) {
        let face = self.face.parsed();
        let thousandths = |units: i16| narrow(f64::from(units) * 1000.0 / f64::from(face.units_per_em()));
        let around = face.global_bounding_box();
        let [left, low, right, high] = [around.x_min, around.y_min, around.x_max, around.y_max].map(thousandths);
        pdf.font_descriptor(self.ids.descriptor)
            .name(base_font)
            .flags(FontFlags::SYMBOLIC)
            .bbox(Rect::new(left, low, right, high))
            .italic_angle(0.0)
            .ascent(thousandths(face.ascender()))
            .descent(thousandths(face.descender()))
            .cap_height(narrow(CAPITAL * 1000.0))
            .stem_v(match self.face {
                Face::Regular => 88.0,
                Face::Bold => 166.0,
            })
            .font_file2(self.ids.file);
    }

    fn write_meaning(&self, pdf: &mut Pdf) {
        let mut meaning = UnicodeCmap::new(Name(b"Adobe-Identity-UCS"), SYSTEM);
        for (code, c) in self.coded() {
            meaning.pair(code, c);
        }
        write_packed(pdf, self.ids.meaning, &meaning.finish());
    }

    /// The part of the font, and which of its letters each code shows.
    fn write_letters(&self, pdf: &mut Pdf) {
        let mut remapper = GlyphRemapper::new();
        let mut glyphs = vec![0, 0];
        for (_, c) in self.coded() {
            glyphs.extend(remapper.remap(self.face.glyph(c).0).to_be_bytes());
        }
        write_packed(pdf, self.ids.glyphs, &glyphs);
        let part = subsetter::subset(self.face.bytes(), 0, &remapper).expect("the font comes with the program");
        let packed = packed(&part);
        let mut file = pdf.stream(self.ids.file, &packed);
        file.filter(pdf_writer::Filter::FlateDecode);
        file.pair(Name(b"Length1"), i32::try_from(part.len()).unwrap_or(i32::MAX));
    }
}
