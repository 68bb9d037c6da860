//! What a nesting comes to in words, the same on screen, on paper and on the command line.

use enclosure::nest::Ended;
use tape::show::{Fraction, Style};
use tape::{Length, Units};

use super::{Nest, Nested, Nesting, Piece, named_size};
use crate::Price;

/// How sizes of stock are printed: to 1/16 in or 0.1 mm, to the nearest.
const fn style(units: Units) -> Style {
    crate::evaluate::style(units, crate::FractionName::Sixteenth)
}

impl Piece {
    /// Its size as it is sold, so that the seller finds it: `4x8 ft`, `20 ft`, `1250x2500 mm`, `6 m`. What is sold in metres has
    /// its inches behind it for a person who works in them: `6 m (236 1/4")`, `2440 x 1220 mm (96 1/16" x 48 1/16")`.
    pub fn size_text(&self, units: Units) -> String {
        let [length, width] = self.sides;
        match named_size(self.sides) {
            Some(name) if name.ends_with(|c: char| c.is_ascii_digit()) => {
                with_inches(&format!("{name} mm"), &[width, length], units)
            }
            Some(name) if name.ends_with(" m") => with_inches(name, &[length], units),
            Some(name) => name.to_owned(),
            None if width == Length::ZERO => stock_text(&[length], units),
            None => stock_text(&self.sides, units),
        }
    }
}

/// The size of stock that has no name in the trade: one in whole millimetres that is in no mark of the inch is sold in
/// millimetres, and told in them first; anything else in the person's own unit.
pub(crate) fn stock_text(sides: &[Length], units: Units) -> String {
    let is_metric =
        |side: &Length| side.nm() % Length::mm(1).nm() == 0 && side.nm() % Length::sixty_fourths(1).nm() != 0;
    if units == Units::Inch && sides.iter().any(is_metric) {
        let bare = |side: &Length| tape::show::millimetres_bare(*side, 0, tape::show::Rounding::Nearest);
        let mm: Vec<String> = sides.iter().map(bare).collect();
        return with_inches(&format!("{} mm", mm.join(" x ")), sides, units);
    }
    let told: Vec<String> = sides.iter().map(|side| style(units).near(*side)).collect();
    told.join(" x ")
}

/// A size as it is sold, with its inches behind it for a person who works in them.
fn with_inches(sold: &str, sides: &[Length], units: Units) -> String {
    match units {
        Units::Millimetre => sold.to_owned(),
        Units::Inch => {
            let inches: Vec<String> = sides.iter().map(|side| style(units).near(*side)).collect();
            format!("{sold} ({})", inches.join(" x "))
        }
    }
}

impl Nested {
    /// What it is cut from: `sheet`, `sheets`, `bar`, `bars`.
    pub const fn stock_word(&self, count: u32) -> &'static str {
        match (self.is_bar, count) {
            (false, 1) => "sheet",
            (false, _) => "sheets",
            (true, 1) => "bar",
            (true, _) => "bars",
        }
    }

    /// What is bought and what lies there already: `2 sheets of 4x8 ft and 1 on hand`.
    pub fn stock_text(&self, units: Units) -> String {
        let mut parts: Vec<String> = self
            .buy
            .iter()
            .map(|buy| {
                let mark = if buy.piece.assumed { "~" } else { "" };
                format!(
                    "{} {} of {mark}{}",
                    buy.count,
                    self.stock_word(buy.count),
                    buy.piece.size_text(units)
                )
            })
            .collect();
        let on_hand = self.nests.iter().filter(|nest| nest.piece.on_hand.is_some()).count();
        if on_hand > 0 {
            parts.push(format!("{on_hand} on hand"));
        }
        if parts.is_empty() {
            parts.push(format!("no {}", self.stock_word(1)));
        }
        parts.join(" and ")
    }

    /// How sure it is that no fewer would do: `proved`, `at least 2`, with why no proof was found.
    pub fn proof_text(&self) -> String {
        let why = match self.ended {
            Ended::Stopped => ", stopped",
            Ended::Budget | Ended::Done => "",
        };
        if self.proved {
            "proved".to_owned()
        } else {
            format!("at least {}{why}", self.at_least)
        }
    }

    /// One line: `2 sheets of 4x8 ft, proved, 18 % waste`.
    pub fn summary(&self, units: Units) -> String {
        let mut parts = vec![self.stock_text(units)];
        if !self.nests.is_empty() || !self.proved {
            parts.push(self.proof_text());
        }
        if !self.nests.is_empty() {
            parts.push(format!("{:.0} % waste", self.waste * 100.0));
        }
        if let Some(cost) = self.cost() {
            let some = if self.is_priced() {
                ""
            } else {
                " for those with a price"
            };
            parts.push(format!("costs {}{some}", cost.text()));
        }
        let mut said = vec![parts.join(", ")];
        let left = self.left_out.iter();
        said.extend(left.map(|left| format!("{} x{} left out, {}", left.mark, left.quantity, left.why)));
        said.join("; ")
    }

    /// What is bought costs, as far as prices were entered; none when no price was.
    pub fn cost(&self) -> Option<Price> {
        let priced = self
            .buy
            .iter()
            .filter_map(|buy| Some(buy.piece.price?.0.saturating_mul(i64::from(buy.count))));
        priced.reduce(i64::saturating_add).map(Price)
    }

    /// Whether everything that is bought has a price.
    pub fn is_priced(&self) -> bool {
        self.buy.iter().all(|buy| buy.piece.price.is_some())
    }

    /// The size of what is on offer, when nobody entered one: `4x8 ft`.
    pub fn is_assumed(&self) -> bool {
        self.nests.iter().any(|nest| nest.piece.assumed)
    }
}

impl Nest {
    /// Its parts as told beside a drawing: `A1 x2, B3`.
    pub fn marks(&self) -> String {
        let mut counted: Vec<(&str, u32)> = Vec::new();
        for part in &self.parts {
            match counted.iter_mut().find(|(mark, _)| *mark == part.mark) {
                Some((_, n)) => *n += 1,
                None => counted.push((&part.mark, 1)),
            }
        }
        counted
            .into_iter()
            .map(|(mark, n)| {
                if n == 1 {
                    mark.to_owned()
                } else {
                    format!("{mark} x{n}")
                }
            })
            .collect::<Vec<_>>()
            .join(", ")
    }

    /// What is worth keeping of it: `40" x 20", 12" x 13"`; empty for nothing.
    pub fn offcuts_text(&self, units: Units) -> String {
        let one = |offcut: &enclosure::nest::sheets::Offcut| {
            let [x, y] = offcut.sides.map(|side| style(units).down(side));
            if self.piece.sides[1] == Length::ZERO {
                x
            } else {
                format!("{x} x {y}")
            }
        };
        self.offcuts.iter().map(one).collect::<Vec<_>>().join(", ")
    }
}

impl Nesting {
    /// What all that is bought costs, as far as prices were entered; none when no price was.
    pub fn cost(&self) -> Option<Price> {
        let each = self.stocks.iter().filter_map(Nested::cost).map(|price| price.0);
        each.reduce(i64::saturating_add).map(Price)
    }

    /// Whether everything that is bought has a price.
    pub fn is_priced(&self) -> bool {
        self.stocks.iter().all(Nested::is_priced)
    }

    /// What nobody entered and it rests on, in words; empty when all was entered.
    pub fn assumed_text(&self) -> String {
        let mut words = self.question.assumed.clone();
        let units = self.question.units;
        let mut sizes: Vec<String> = Vec::new();
        for nest in self.stocks.iter().flat_map(|stock| &stock.nests) {
            let size = nest.piece.size_text(units);
            if nest.piece.assumed && !sizes.contains(&size) {
                sizes.push(size);
            }
        }
        words.extend(sizes.into_iter().map(|size| format!("stock of {size}")));
        words.join(", ")
    }

    /// Every nest, with its stock and its number from 1, in the order they are drawn.
    pub fn numbered(&self) -> impl Iterator<Item = (usize, &Nested, &Nest)> {
        self.stocks
            .iter()
            .flat_map(|stock| stock.nests.iter().map(move |nest| (stock, nest)))
            .enumerate()
            .map(|(index, (stock, nest))| (index + 1, stock, nest))
    }
}

/// A kerf or trim as it was entered, or as exactly as it can be written.
pub fn exact_text(length: Length, units: Units) -> String {
    crate::assumed::told(length, units)
}

/// How lengths on a nest are printed: places to the nearest mark.
pub fn place_text(length: Length, units: Units) -> String {
    match units {
        Units::Inch => tape::show::inches(length, Fraction::Sixteenth, tape::show::Rounding::Nearest),
        Units::Millimetre => tape::show::millimetres(length, 1, tape::show::Rounding::Nearest),
    }
}
