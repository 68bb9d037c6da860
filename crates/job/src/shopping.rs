//! What to buy for the boxes and the pack, shop by shop: whole sheets and bars, the liner's with them, fasteners with
//! spares, what is let into walls, the electrics, paint and gasket.

mod electrics;
mod mind;

use enclosure::cutlist::Table;
use enclosure::material::Material;
use enclosure::strength::bolt::Bolt;
use enclosure::{BOND_LINE, Construction, Held, Lies, Purpose, Skeleton};
use tape::Area;
use tape::show::caliper;

use crate::document::FittingName;
use crate::nesting::{Nesting, nested};
use crate::{Evaluation, Figure, Job, Price, assumed};

/// What is counted or measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unit {
    /// Whole pieces.
    Pieces,
    /// Metres.
    Metres,
    /// Square metres.
    SquareMetres,
    /// Kilograms.
    Kilograms,
    /// Millilitres.
    Millilitres,
}

/// The shop that a line is bought in, in the order of the list.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Shop {
    /// Sheets and bars.
    Steel,
    /// Screws, bolts, nuts, rivets, plates and eyes.
    Fasteners,
    /// Glands, breathers, drains, disconnects, earth straps, cable, lugs, link bars, fuses, contactors.
    Electrical,
    /// Paint, gasket and liner.
    Paint,
}

impl Shop {
    /// The word for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Steel => "steel",
            Self::Fasteners => "fasteners",
            Self::Electrical => "electrical",
            Self::Paint => "paint and seals",
        }
    }
}

impl Unit {
    /// As printed behind a number; nothing for pieces.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Pieces => "",
            Self::Metres => "m",
            Self::SquareMetres => "m2",
            Self::Kilograms => "kg",
            Self::Millilitres => "ml",
        }
    }

    /// A number of it: whole pieces, else one decimal, rounded up.
    pub fn text(self, amount: f64) -> String {
        match self {
            Self::Pieces => format!("{amount:.0}"),
            Self::Millilitres => format!("{:.0} {}", whole_up(amount), self.name()),
            Self::Metres | Self::SquareMetres | Self::Kilograms => format!("{:.1} {}", tenth_up(amount), self.name()),
        }
    }
}

/// One line of a shopping list.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// Where it is bought.
    pub shop: Shop,
    /// What it is.
    pub what: String,
    /// What is counted or measured.
    pub unit: Unit,
    /// How much boxes and pack take.
    pub needed: f64,
    /// How much to buy, spares with it.
    pub buy: f64,
    /// What it costs, where a price was entered.
    pub cost: Option<Price>,
    /// Whether it rests on a value that nobody entered.
    pub assumed: bool,
    /// What it follows from, and what to mind.
    pub note: String,
}

/// What to buy, and how sheets and bars are cut.
#[derive(Clone, Debug, PartialEq)]
pub struct ToBuy {
    /// What is cut from which sheet and bar.
    pub nesting: Nesting,
    /// The lines, by shop: sheets and bars first.
    pub items: Vec<Item>,
    /// What those with a price cost together; none when none has.
    pub cost: Option<Price>,
    /// How many lines have no price.
    pub unpriced: usize,
}

/// Spares of fasteners: so many for each one needed, and at least so many (from memory of the trade).
const SPARES: (f64, f64) = (0.1, 2.0);
/// What joints take of a gasket (from memory of the trade).
const OFFCUT: f64 = 0.1;

/// What to buy for all boxes of a job together, its cut list laid out with the work that papers and the command line take.
pub fn to_buy(job: &Job, evaluation: &Evaluation) -> ToBuy {
    ToBuy::of(job, evaluation, nested(job, evaluation))
}

impl ToBuy {
    /// What to buy for all boxes together, their parts laid out so.
    pub fn of(job: &Job, evaluation: &Evaluation, nesting: Nesting) -> Self {
        let mut items = stock(evaluation, &nesting);
        items.extend(fasteners(job, evaluation));
        items.extend(in_walls(job, evaluation));
        items.extend(electrics::items(job, evaluation));
        items.extend(soft(job, evaluation));
        items.extend(sealant(job, evaluation));
        items.extend(adhesive(job, evaluation));
        // Stable: within one shop, in the order they were found.
        items.sort_by_key(|item| item.shop);
        let priced = items.iter().filter_map(|item| item.cost).map(|price| price.0);
        Self {
            nesting,
            cost: priced.reduce(i64::saturating_add).map(Price),
            unpriced: items.iter().filter(|item| item.cost.is_none()).count(),
            items,
        }
    }
}

fn stock(evaluation: &Evaluation, nesting: &Nesting) -> Vec<Item> {
    let units = evaluation.units;
    let mut items = Vec::new();
    for nested in &nesting.stocks {
        for buy in &nested.buy {
            let mut notes = Vec::new();
            let mut shop = Shop::Steel;
            if let Some(area) = liner_area(evaluation, &nested.label) {
                shop = Shop::Paint;
                notes.push(format!("liner, {} in the boxes", Unit::SquareMetres.text(area)));
            }
            if nested.buy.len() == 1 {
                notes.push(nested.proof_text());
            }
            if buy.piece.assumed {
                notes.push("size assumed".to_owned());
            }
            items.push(Item {
                shop,
                what: format!("{}, {}", nested.label, buy.piece.size_text(units)),
                unit: Unit::Pieces,
                needed: f64::from(buy.count),
                buy: f64::from(buy.count),
                cost: buy
                    .piece
                    .price
                    .map(|price| Price(price.0.saturating_mul(i64::from(buy.count)))),
                assumed: buy.piece.assumed || evaluation.headline.assumed.cut,
                note: notes.join(", "),
            });
        }
        for left in &nested.left_out {
            items.push(Item {
                shop: Shop::Steel,
                what: format!("{}: something large enough for {}", nested.label, left.mark),
                unit: Unit::Pieces,
                needed: f64::from(left.quantity),
                buy: f64::from(left.quantity),
                cost: None,
                assumed: evaluation.headline.assumed.cut,
                note: left.why.to_owned(),
            });
        }
    }
    items
}

/// The face area of the sheets of a table, where they are of a liner.
fn liner_area(evaluation: &Evaluation, label: &str) -> Option<f64> {
    let of_liner = |table: &&Table| matches!(table.sheet.material, Material::Liner(_)) && table.label() == label;
    let table = evaluation.cut.list.tables.iter().find(of_liner)?;
    Some(table.net_m2())
}

/// Lid screws, rivets and mount bolts of all boxes, like ones together.
fn fasteners(job: &Job, evaluation: &Evaluation) -> Vec<Item> {
    let how = assumed::build(&job.design);
    let units = job.units.units();
    let (screw, screw_note) = lid_screw(&how, units);
    let (cap_screw, cap_note) = crate::fixings::cap_screws(&how, units);
    let wanted = like_ones(evaluation.boxes.iter().flat_map(|result| fasteners_of(job, result)));
    wanted
        .into_iter()
        .map(|(what, count)| {
            let needed = f64::from(count);
            let note = if what == screw {
                screw_note.clone()
            } else if what == cap_screw {
                format!("{TO_SPARE}; {cap_note}")
            } else {
                note_of(&what)
            };
            let note = [note, mind::fastener(&what, &how, units)].join("");
            Item {
                shop: Shop::Fasteners,
                what,
                unit: Unit::Pieces,
                needed,
                buy: needed + (needed * SPARES.0).ceil().max(SPARES.1),
                cost: None,
                assumed: evaluation.headline.assumed.cut,
                note,
            }
        })
        .collect()
}

/// Lid screws, rivets and mount bolts of a box, each with how many.
pub(crate) fn fasteners_of(job: &Job, result: &crate::BoxResult) -> Vec<(String, u32)> {
    let Some(built) = &result.built else {
        return Vec::new();
    };
    let how = assumed::build(&job.design);
    let units = job.units.units();
    let mut wanted = vec![
        (
            lid_screw(&how, units).0,
            built.lid_holes.as_ref().map_or(0, |holes| holes.count),
        ),
        (
            crate::fixings::cap_screws(&how, units).0,
            u32::try_from(built.side_screws.len()).unwrap_or(u32::MAX),
        ),
    ];
    wanted.extend(crate::fixings::sleeves(built, &how, units));
    wanted.extend(panel_rivets(built, &how, units));
    wanted.extend(result.strength.iter().flat_map(|sums| sums.fasteners.clone()));
    plates(result, &mut |what, count| wanted.push((what.to_owned(), count)));
    like_ones(wanted.into_iter())
}

/// Ones of a name counted together, none of which there are none, in the order they came.
fn like_ones(all: impl Iterator<Item = (String, u32)>) -> Vec<(String, u32)> {
    let mut wanted: Vec<(String, u32)> = Vec::new();
    for (what, count) in all {
        match wanted.iter_mut().find(|(known, _)| *known == what) {
            _ if count == 0 => {}
            Some((_, all)) => *all += count,
            None => wanted.push((what, count)),
        }
    }
    wanted
}

/// The rivets of panels by what they go through: the panel's own sheet and the angle.
fn panel_rivets(built: &enclosure::Built, how: &assumed::Build, units: tape::Units) -> Vec<(String, u32)> {
    let Some((hole, heads)) = how.rivet() else {
        return Vec::new();
    };
    let of = |part: &enclosure::Part| {
        let each = part.holes_for(Purpose::Rivet).count();
        let grip = part.sheet.thickness + how.angle();
        let count = u32::try_from(each).unwrap_or(u32::MAX).saturating_mul(part.quantity);
        (
            crate::fixings::blind_rivets((hole, heads), grip, units, "panels"),
            count,
        )
    };
    built.parts.iter().map(of).collect()
}

const TO_SPARE: &str = "one in ten to spare, two at least";

/// The lid's screws with their length, and what it is made up of.
fn lid_screw(how: &assumed::Build, units: tape::Units) -> (String, String) {
    let under = match how.construction {
        Construction::Welded => how.flange_thickness,
        Construction::Folded(_) => how.wall,
        Construction::Framed(skeleton) => skeleton.thickness,
    };
    let grip = how.lid + how.gasket_squeezed.min(how.gasket) + under;
    let sized = Bolt::of_thread(how.screw).and_then(|bolt| Some(bolt.sized(bolt.on_sale(bolt.needed_length(grip))?)));
    let grip = format!(
        "{:.1} mm between head and nut, a washer at each, two threads beyond",
        grip.as_mm()
    );
    match sized {
        Some(sized) => (format!("lid screws with nuts, {sized}"), format!("{TO_SPARE}; {grip}")),
        None => (
            format!("lid screws with nuts, {}", assumed::told(how.screw, units)),
            format!("{TO_SPARE}; length: {grip}, and the nut"),
        ),
    }
}

/// What to mind of a fastener.
fn note_of(what: &str) -> String {
    if what.starts_with("mount bolts") && !what.contains(" x ") {
        return format!(
            "{TO_SPARE}; length: what they go through, two washers, a nut and two threads (with brackets, enter the frame \
             rail's thickness on the Boxes page)"
        );
    }
    if what == PLATES {
        return format!("{TO_SPARE}; for the bolts of your own mount: without brackets none are drawn or on this list");
    }
    TO_SPARE.to_owned()
}

/// What spreads the pull of mount bolts that no bracket takes.
const PLATES: &str = "backing plates or crush tubes for mount bolts";

/// What the sums of strength take for granted: plates that spread the pull of bolts over the sheet; those under eyes are cut.
fn plates(result: &crate::BoxResult, add: &mut impl FnMut(&str, u32)) {
    if let (Some(strength), None) = (&result.strength, result.added.mount) {
        add(PLATES, strength.mount_bolts);
    }
}

/// Glands, breathers and whatever else goes through a wall, like ones together; disconnects are listed with the electrics,
/// which ask for them.
fn in_walls(job: &Job, evaluation: &Evaluation) -> Vec<Item> {
    let units = job.units.units();
    let mut wanted: Vec<(Shop, String, u32, String)> = Vec::new();
    let fittings = evaluation.boxes.iter().flat_map(|result| &result.fittings);
    let is_here = |fitting: &&crate::FittingResult| fitting.fault.is_none() && fitting.what != FittingName::Disconnect;
    for fitting in fittings.filter(is_here) {
        let note = mind::fitting(fitting);
        let hole = tape::show::hole(fitting.hole, units);
        let shop = match fitting.what {
            FittingName::LiftingEye => Shop::Fasteners,
            _ => Shop::Electrical,
        };
        let bolt = crate::evaluate::earth_thread(fitting.what, fitting.hole);
        let mut add = |what: String| match wanted.iter_mut().find(|(_, known, _, _)| *known == what) {
            Some((_, _, all, _)) => *all += 1,
            None => wanted.push((shop, what, 1, note.clone())),
        };
        if let Some(bolt) = bolt {
            add(format!(
                "earth stud {}, with two nuts, a toothed and two plain washers",
                bolt.name
            ));
            add(format!("earth strap from box to chassis, lugs for {}", bolt.name));
        } else {
            add(format!("{} for a hole of {hole}", fitting.what.name()));
        }
    }
    wanted
        .into_iter()
        .map(|(shop, what, count, note)| Item {
            shop,
            what,
            unit: Unit::Pieces,
            needed: f64::from(count),
            buy: f64::from(count),
            cost: None,
            assumed: false,
            note,
        })
        .collect()
}

/// Gasket once round each box, and what the outside is coated with.
fn soft(job: &Job, evaluation: &Evaluation) -> Vec<Item> {
    let how = assumed::build(&job.design);
    let units = job.units.units();
    let mut gasket = 0.0;
    let mut coat = Area::default();
    for result in &evaluation.boxes {
        let Some(built) = &result.built else { continue };
        gasket += built.gasket_length.as_mm() / 1e3;
        coat = coat + built.coat_area;
    }
    let covers = job.electrics.figures.sure(Figure::Coverage);
    let strip = evaluation.boxes.iter().find_map(|b| b.built.as_ref()?.gasket);
    let wide = strip.map_or_else(String::new, |strip| format!("{} wide, ", caliper(strip.width, units)));
    let along = match strip.map(|strip| strip.lies) {
        Some(Lies::InsideScrews) => "inside the screws, between their holes and the inside of the box",
        Some(Lies::InCap) => "in the cap against the skirt, over the rim",
        Some(Lies::OnRim) => "under the lid along its edge, over the rim",
        None => "along the screws, which leave no room inside them",
    };
    let items = [
        (
            format!("gasket, {wide}{} thick", caliper(how.gasket, units)),
            Unit::Metres,
            gasket,
            format!("{along}, a tenth more for its joints"),
        ),
        (
            "paint or powder for the outside".to_owned(),
            Unit::Kilograms,
            coat.as_m2() / covers,
            format!(
                "{:.2} m2 at {covers} m2/kg, a tenth more; inside not counted, holes not taken off",
                coat.as_m2()
            ),
        ),
    ];
    items
        .into_iter()
        .filter(|&(_, _, needed, _)| needed > 0.0)
        .map(|(what, unit, needed, note)| Item {
            shop: Shop::Paint,
            what,
            unit,
            needed,
            buy: tenth_up(needed * (1.0 + OFFCUT)),
            cost: None,
            assumed: evaluation.headline.assumed.cut,
            note,
        })
        .collect()
}

/// What is laid in the seams of riveted panels: a round bead once round each, a tenth more. A cubic centimetre is a millilitre.
fn sealant(job: &Job, evaluation: &Evaluation) -> Option<Item> {
    let bead = assumed::build(&job.design).bead()?;
    let built = evaluation.boxes.iter().filter_map(|result| result.built.as_ref());
    let seams: tape::Length = built.map(enclosure::Built::panel_seams).sum();
    let needed = enclosure::rivet::bead_mm3(bead, seams) / 1e3;
    let bead = caliper(bead, job.units.units());
    (needed > 0.0).then(|| Item {
        shop: Shop::Paint,
        what: format!("sealant for the seams of panels and angle, bead of {bead}"),
        unit: Unit::Millilitres,
        needed,
        buy: whole_up(needed * (1.0 + OFFCUT)),
        cost: None,
        assumed: evaluation.headline.assumed.cut || job.design.sealant.is_none(),
        note: format!(
            "{} of seam, once round each panel, a tenth more; laid before the rivets go in",
            Unit::Metres.text(seams.as_mm() / 1e3)
        ),
    })
}

/// What bonded panels, and what is bonded to floor and lid, stand on: all that they share, a bond line thick, a tenth more.
fn adhesive(job: &Job, evaluation: &Evaluation) -> Option<Item> {
    let how = assumed::build(&job.design);
    let panels = matches!(
        how.construction,
        Construction::Framed(Skeleton { held: Held::Bonded, .. })
    );
    let boxes = evaluation.boxes.iter().filter_map(|result| result.built.as_ref());
    let area_mm2 = boxes.map(|made| made.adhesive_area(panels)).sum::<Area>().as_mm2();
    let needed = area_mm2 * BOND_LINE.as_mm() / 1e3;
    (needed > 0.0).then(|| Item {
        shop: Shop::Paint,
        what: "structural adhesive for metal".to_owned(),
        unit: Unit::Millilitres,
        needed,
        buy: whole_up(needed * (1.0 + OFFCUT)),
        cost: None,
        assumed: evaluation.headline.assumed.cut,
        note: format!(
            "{:.0} cm2 {} thick (common practice, no source), a tenth more; bare and clean metal, clamped as its maker says",
            area_mm2 / 100.0,
            caliper(BOND_LINE, job.units.units())
        ),
    })
}

/// Up to the next tenth; what is a billionth above one is that one.
fn tenth_up(amount: f64) -> f64 {
    (amount * 10.0 - 1e-9).ceil() / 10.0
}

/// Up to the next whole number; what is a billionth above one is that one.
fn whole_up(amount: f64) -> f64 {
    (amount - 1e-9).ceil()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn amounts_are_rounded_up_but_not_past_a_tenth() {
        let up = [1.0, 1.01, 1.1, 1.100_000_000_1].map(|amount| Unit::Metres.text(amount));
        assert_eq!(up, ["1.0 m", "1.1 m", "1.1 m", "1.1 m"]);
        assert_eq!(Unit::Pieces.text(12.0), "12");
        assert_eq!(Unit::Metres.text(4.01), "4.1 m");
    }
}
