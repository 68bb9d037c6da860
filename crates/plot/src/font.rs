//! The lettering: two faces that every paper is written in, and how long words are in them.

use std::sync::LazyLock;

use ttf_parser::GlyphId;

/// The weight of lettering.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Face {
    /// For nearly everything.
    #[default]
    Regular,
    /// For names and warnings.
    Bold,
}

static REGULAR: &[u8] = include_bytes!("../../../assets/fonts/DejaVuSans.ttf");
static BOLD: &[u8] = include_bytes!("../../../assets/fonts/DejaVuSans-Bold.ttf");

type Parsed = ttf_parser::Face<'static>;

static PARSED: LazyLock<[Parsed; 2]> = LazyLock::new(|| {
    let parsed = |bytes| Parsed::parse(bytes, 0).expect("the font comes with the program");
    [parsed(REGULAR), parsed(BOLD)]
});

/// The advances of the characters that nearly all words are made of, by their code: every word of a drawing is measured
/// many times over while room is looked for.
static FREQUENT: LazyLock<[[f64; 256]; 2]> = LazyLock::new(|| {
    Face::ALL.map(|face| std::array::from_fn(|code| face.looked_up(u8::try_from(code).map_or(REPLACEMENT, char::from))))
});

/// The height of a capital letter in either face, to its size.
pub(crate) const CAPITAL: f64 = 1493.0 / 2048.0;

/// What stands for a character that the font has none for.
const REPLACEMENT: char = '\u{fffd}';

impl Face {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Regular, Self::Bold];

    /// How long words are in millimetres when capital letters are `height_mm` high.
    ///
    /// The sum of the advances of the font: what is written to PDF exactly, and to SVG where the font is at hand.
    pub fn width(self, words: &str, height_mm: f64) -> f64 {
        let advances: f64 = shown(words).map(|c| self.advance(c)).sum();
        advances * size(height_mm)
    }

    /// Whether the font has a sign for it.
    pub fn covers(self, c: char) -> bool {
        self.parsed().glyph_index(c).is_some()
    }

    pub(crate) fn bytes(self) -> &'static [u8] {
        match self {
            Self::Regular => REGULAR,
            Self::Bold => BOLD,
        }
    }

    pub(crate) fn parsed(self) -> &'static Parsed {
        self.of(&PARSED)
    }

    fn of<T>(self, [regular, bold]: &[T; 2]) -> &T {
        match self {
            Self::Regular => regular,
            Self::Bold => bold,
        }
    }

    /// The sign for a character, or the one that stands for what there is none for.
    pub(crate) fn glyph(self, c: char) -> GlyphId {
        let face = self.parsed();
        let found = face.glyph_index(c).or_else(|| face.glyph_index(REPLACEMENT));
        found.unwrap_or(GlyphId(0))
    }

    /// From the beginning of a character to that of the next, to the size of the font.
    pub(crate) fn advance(self, c: char) -> f64 {
        let known = self.of(&FREQUENT).get(c as usize);
        known.copied().unwrap_or_else(|| self.looked_up(c))
    }

    fn looked_up(self, c: char) -> f64 {
        let face = self.parsed();
        let advance = face.glyph_hor_advance(self.glyph(c)).unwrap_or(0);
        f64::from(advance) / f64::from(face.units_per_em())
    }
}

/// How long words are in millimetres, in the regular face, when capital letters are `height_mm` high.
///
/// # Examples
///
/// ```
/// let once = plot::text_width("11 7/16 in", 2.5);
/// assert!((plot::text_width("11 7/16 in", 5.0) - 2.0 * once).abs() < 1e-9);
/// ```
pub fn text_width(text: &str, height_mm: f64) -> f64 {
    Face::Regular.width(text, height_mm)
}

/// The size of the font, in millimetres, at which capital letters are `height_mm` high.
pub(crate) fn size(height_mm: f64) -> f64 {
    height_mm / CAPITAL
}

/// The characters that are written: words stand on one line, so that what breaks lines is a space.
pub(crate) fn shown(words: &str) -> impl Iterator<Item = char> {
    let plain = |c: char| if c.is_control() { ' ' } else { c };
    words.chars().map(plain)
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    #[test]
    fn frequent_characters_are_as_wide_as_the_font_says() {
        for face in Face::ALL {
            assert!(
                (0..600)
                    .filter_map(char::from_u32)
                    .all(|c| face.advance(c).to_bits() == face.looked_up(c).to_bits())
            );
        }
    }

    #[rstest]
    #[case::letters("AZaz ÄÖÜäöüß éèñçåøŁž")]
    #[case::figures("0123456789 .,;:!?()[]{}+-*/=<>%&#@_|~^")]
    #[case::quotes("'\"‘’“”«»′″")]
    #[case::fractions("½ ¼ ¾ ⅛ ⅜ ⅝ ⅞ ⁄")]
    #[case::drawing("° ± × – — … ⌀ Ø ∅ ≤ ≥ ≈ µ Ω ² ³ · • → ← ↑ ↓ ⊥ △ □ √")]
    fn both_faces_have_what_a_drawing_says(#[case] signs: &str) {
        for face in Face::ALL {
            let missing: String = signs.chars().filter(|&c| !face.covers(c)).collect();
            assert_eq!(missing, "", "{face:?}");
        }
    }

    #[test]
    fn a_capital_letter_is_as_high_as_is_said() {
        for face in Face::ALL {
            let parsed = face.parsed();
            let flat = parsed.glyph_bounding_box(face.glyph('H')).unwrap();
            let height = f64::from(flat.y_max) / f64::from(parsed.units_per_em());
            assert!((height - CAPITAL).abs() < 1e-9, "{face:?}: {height}");
        }
    }

    #[test]
    fn bold_is_wider_and_nothing_is_nothing() {
        assert!(Face::Bold.width("FLOOR", 5.0) > Face::Regular.width("FLOOR", 5.0));
        assert!(text_width("", 5.0).abs() < 1e-12);
        assert!((text_width("a\nb", 5.0) - text_width("a b", 5.0)).abs() < 1e-12);
    }
}
