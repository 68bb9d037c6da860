//! What a rim has room for: the holes of the lid's screws with their nuts, the gasket beside them, and a cap's play.

use enclosure::strength::bolt::Bolt;
use enclosure::{Construction, Lies, section};
use tape::Length;
use tape::show::caliper;

use super::{Look, for_all_boxes};
use crate::document::Closing;
use crate::evaluate::boxes;
use crate::finding::{Finding, Grave};

/// The least play of a cap on each side, over the coatings: what folds and welds are off (common practice, no source).
const LEAST_PLAY: Length = Length::tenths_mm(5);

const PLAY: &str = "common practice, no source: half a millimetre of play on each side, over the coating of both";
const WIDTH: &str =
    "common practice, no source: edge distance at least the screw's diameter, and its nut flat on its whole width";
const GASKET: &str = "common practice, no source: a strip narrower than it is thick rolls over";

pub(super) fn list(look: &Look<'_>, findings: &mut Vec<Finding>) {
    findings.extend(
        [Grave::Caution, Grave::Note]
            .into_iter()
            .filter_map(|grave| unused(look, grave)),
    );
    findings.extend(play(look));
    findings.extend(flange(look));
    findings.extend(gasket(look));
}

/// What was entered of how boxes are built, and is not used as they are.
fn unused(look: &Look<'_>, grave: Grave) -> Option<Finding> {
    let all = look.evaluation.unused.iter().filter(|unused| unused.grave == grave);
    let entries: Vec<String> = all.map(crate::Unused::words).collect();
    if entries.is_empty() {
        return None;
    }
    let words = format!("entered, and not used as boxes are built now: {}", entries.join(", "));
    let fix = "choose the construction and the closing that use it, or clear it, on the Boxes page";
    for_all_boxes(look, grave, words, "", fix)
}

/// A cap whose skirt does not go over the coated body, or hardly.
fn play(look: &Look<'_>) -> Option<Finding> {
    if look.build.closing != Closing::Cap {
        return None;
    }
    let coatings = look.trust.coating * 2;
    let play = look.build.cap_out - look.build.lid - coatings;
    if play >= LEAST_PLAY {
        return None;
    }
    let least = look.build.lid + coatings + LEAST_PLAY;
    let (grave, words) = if play <= Length::ZERO {
        let short = -play;
        let words = format!(
            "the cap does not go over the body: on each side {} are short once both are coated",
            look.up(short)
        );
        (Grave::Stop, words)
    } else {
        let words = format!(
            "the cap has {} of play on each side once both are coated",
            look.down(play)
        );
        (Grave::Caution, words)
    };
    let fix = format!(
        "let its outside stand out {} from the wall, on the Boxes page",
        look.up(least)
    );
    for_all_boxes(look, grave, words, PLAY, fix)
}

/// What of the width of a flange its bend or the upright leg of its angle takes; and that with the root of the angle.
fn lost(look: &Look<'_>) -> [Length; 2] {
    match look.build.construction {
        Construction::Welded => [Length::ZERO; 2],
        // Flat on both faces behind the tangent of the bend.
        Construction::Folded(folding) => [folding.radius; 2],
        Construction::Framed(skeleton) => {
            let root = section::listed_root_radius(skeleton.leg, skeleton.thickness);
            [skeleton.thickness, skeleton.thickness + root]
        }
    }
}

/// Half of what a nut takes up over its flats, and over its corners; of a thread that is not on the list as of one twice as wide as
/// its thread.
fn seat(screw: Length) -> [Length; 2] {
    let Some(bolt) = Bolt::of_thread(screw) else {
        return [screw; 2];
    };
    let flats = bolt.across_flats.as_mm();
    [flats / 2.0, flats / 3_f64.sqrt()].map(Length::from_mm_up)
}

/// A flange too narrow for its screws.
fn flange(look: &Look<'_>) -> Option<Finding> {
    let build = look.build;
    if build.closing != Closing::Flange {
        return None;
    }
    let hole = Length::from_mm_up(boxes::clearance_hole(build.screw).as_mm() / 2.0);
    let ([lost, with_root], [flats, corners]) = (lost(look), seat(build.screw));
    // The holes' line is in the middle of the width.
    let line = build.flange_out.half_down();
    let [free, flat] = [lost, with_root].map(|lost| build.flange_out - lost - line);
    let needs = build.screw.max(with_root + corners.max(hole)) * 2;
    let (what, takes, stands) = match build.construction {
        Construction::Welded => ("flange", "", hole),
        Construction::Folded(_) => ("lip", "its bend", hole),
        Construction::Framed(_) => ("ring of angle", "its upright leg with the root", flats.max(hole)),
    };
    let behind = if with_root > Length::ZERO {
        format!(", of which {takes} takes {},", look.up(with_root))
    } else {
        String::new()
    };
    let width = look.down(build.flange_out);
    let (grave, why) = if free < stands {
        let into = match build.construction {
            Construction::Framed(_) => "a nut on its line does not go beside the upright leg",
            _ => "their holes reach into the bend, and the tray is drawn without them",
        };
        (Grave::Stop, format!("too narrow for the lid screws: {into}"))
    } else if build.screw > line || flat < corners {
        (Grave::Caution, "narrow for the lid screws and their nuts".to_owned())
    } else {
        return None;
    };
    let wide = match build.construction {
        Construction::Framed(_) => "take an angle with a leg of",
        Construction::Welded | Construction::Folded(_) => "make it",
    };
    let words = format!("the {what} of {width}{behind} is {why}");
    let fix = format!("{wide} {} at least, or take thinner screws", look.up(needs));
    for_all_boxes(look, grave, words, WIDTH, fix)
}

/// A gasket that the screws leave no width, or too little.
fn gasket(look: &Look<'_>) -> Option<Finding> {
    let build = look.build;
    if build.closing != Closing::Flange || build.gasket <= Length::ZERO {
        return None;
    }
    let strip = look.evaluation.boxes.iter().find_map(|b| b.built.as_ref()?.gasket);
    if look.evaluation.boxes.iter().all(|b| b.built.is_none()) {
        return None;
    }
    let width = match strip {
        Some(strip) if strip.lies != Lies::InsideScrews || strip.width >= build.gasket => return None,
        Some(strip) => strip.width,
        None => Length::ZERO,
    };
    let units = look.job.units.units();
    let words = if width > Length::ZERO {
        format!(
            "the gasket is {} wide between the screws' holes and the inside of the box, and {} thick",
            caliper(width, units),
            caliper(build.gasket, units)
        )
    } else {
        "there is no room for the gasket between the screws' holes and the inside of the box: none is drawn".to_owned()
    };
    // The holes' line is in the middle of the flange, so half of what it is widened by is gained.
    let needs = build.flange_out + wanting(look) * 2;
    let fix = format!(
        "make flange, lip or leg {} wide at least, or take thinner screws or a thinner gasket",
        look.up(needs)
    );
    for_all_boxes(look, Grave::Caution, words, GASKET, fix)
}

/// How much wider the gasket would have to be.
fn wanting(look: &Look<'_>) -> Length {
    let build = look.build;
    let bend = match build.construction {
        Construction::Folded(folding) => folding.radius + build.wall,
        Construction::Welded | Construction::Framed(_) => Length::ZERO,
    };
    let hole = boxes::clearance_hole(build.screw);
    let from_edge = build.flange_out.half_down() + (hole - hole.half_down());
    build.gasket - (build.flange_out + build.wall - bend - from_edge)
}
