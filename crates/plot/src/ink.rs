//! What a line is drawn with: its width, its kind and its layer.

/// The kind of a line, as named and proportioned in ISO 128-2.
///
/// Its dashes follow the width `d` of the line: a dash is 12 d, a long dash 24 d, a dot half of d, a gap 3 d.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Line {
    /// 01, continuous: edges that are seen, sizes, outlines to cut.
    #[default]
    Continuous,
    /// 02, dashed: edges that are hidden.
    Dashed,
    /// 04, long-dashed dotted: centre lines and bends.
    LongDashDot,
    /// 05, long-dashed double-dotted: neighbours, and where a part moves to.
    LongDashDoubleDot,
    /// 07, dotted.
    Dotted,
}

impl Line {
    /// Every kind.
    pub const ALL: [Self; 5] = [
        Self::Continuous,
        Self::Dashed,
        Self::LongDashDot,
        Self::LongDashDoubleDot,
        Self::Dotted,
    ];

    /// Dashes and gaps by turns, as multiples of the width of the line. Empty for a continuous one.
    pub const fn dashes(self) -> &'static [f64] {
        match self {
            Self::Continuous => &[],
            Self::Dashed => &[12.0, 3.0],
            Self::LongDashDot => &[24.0, 3.0, 0.5, 3.0],
            Self::LongDashDoubleDot => &[24.0, 3.0, 0.5, 3.0, 0.5, 3.0],
            Self::Dotted => &[0.5, 3.0],
        }
    }
}

/// A pen: how wide and of which kind a line is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pen {
    /// On paper, in millimetres, above 0. ISO 128-2 has 0.13, 0.18, 0.25, 0.35, 0.5, 0.7, 1 and up.
    pub width_mm: f64,
    /// Its kind.
    pub line: Line,
}

impl Pen {
    /// The wide line of a drawing, 0.5 mm: edges and outlines.
    pub const WIDE: Self = Self::new(0.5, Line::Continuous);
    /// The narrow line of a drawing, half of the wide one: sizes and leaders.
    pub const NARROW: Self = Self::new(0.25, Line::Continuous);
    /// Edges that are hidden.
    pub const HIDDEN: Self = Self::new(0.25, Line::Dashed);
    /// Centre lines and bends.
    pub const CENTRE: Self = Self::new(0.25, Line::LongDashDot);

    /// A pen by its width in millimetres and its kind.
    pub const fn new(width_mm: f64, line: Line) -> Self {
        Self { width_mm, line }
    }

    /// Dashes and gaps by turns, in millimetres. Empty for a continuous line.
    pub fn dashes_mm(self) -> impl Iterator<Item = f64> {
        self.line.dashes().iter().map(move |part| part * self.width_mm)
    }
}

/// A named layer: what can be shown, hidden or sent to a machine by itself.
///
/// A page is painted layer by layer, in the order in which they first occur; within one, in the order of its items.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Layer(&'static str);

impl Layer {
    /// Outlines and holes.
    pub const CUT: Self = Self("CUT");
    /// Bend lines.
    pub const BEND: Self = Self("BEND");
    /// Marks on the face of a part.
    pub const ETCH: Self = Self("ETCH");
    /// What is read, never cut.
    pub const TEXT: Self = Self("TEXT");

    /// A layer by its name: letters, digits, `-` and `_`, beginning with a letter, so that every format takes it.
    ///
    /// # Panics
    ///
    /// For any other name; in a constant, when the program is built.
    pub const fn new(name: &'static str) -> Self {
        let bytes = name.as_bytes();
        assert!(
            !bytes.is_empty() && bytes[0].is_ascii_alphabetic(),
            "a layer's name begins with a letter"
        );
        let mut index = 1;
        while index < bytes.len() {
            let byte = bytes[index];
            assert!(
                byte.is_ascii_alphanumeric() || byte == b'-' || byte == b'_',
                "a layer's name has letters, digits, - and _ only"
            );
            index += 1;
        }
        Self(name)
    }

    /// Its name.
    pub const fn name(self) -> &'static str {
        self.0
    }
}

/// What a line is drawn with, and on which layer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ink {
    /// Width and kind.
    pub pen: Pen,
    /// Where it belongs.
    pub layer: Layer,
}

impl Ink {
    /// A pen on a layer.
    pub const fn new(pen: Pen, layer: Layer) -> Self {
        Self { pen, layer }
    }
}
