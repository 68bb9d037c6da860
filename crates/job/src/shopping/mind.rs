//! What the shop asks of fasteners and fittings: how tight, of what class, which thread, what plate.

use enclosure::seal::gland::GLANDS;
use enclosure::strength::bolt::grade::{Grade, NEWTONS_PER_LBF};
use enclosure::strength::bolt::{BOLTS, torque};
use tape::show::caliper;
use tape::{Length, Units};

use crate::assumed::Build;
use crate::document::FittingName;
use crate::evaluate::bolt::grade_words;

/// What to mind of a fastener, behind what is said of it already; empty where nothing is.
pub(super) fn fastener(what: &str, how: &Build, units: Units) -> String {
    if let Some(torque) = mount_torque(what, units) {
        return format!("; {torque}");
    }
    if what.starts_with("lid screws with rivet nuts") {
        return "; class 8.8, zinc-plated, hexagon head (common practice, no source); torque: by the maker of the rivet nut, drawn up \
                evenly until the skirt sits tight, on its sleeves where it has them"
            .to_owned();
    }
    if what.starts_with("lid screws") {
        return format!(
            "; class 8.8, zinc-plated, hexagon head (common practice, no source); no torque: drawn up crosswise, evenly, until the \
             gasket is {} thick",
            caliper(how.gasket_squeezed.min(how.gasket), units)
        );
    }
    if what.starts_with("spacer sleeves") {
        return "; steel tube, its bore that of the hole in the skirt, on the rim of the rivet nut: without them each screw draws the skirt in"
            .to_owned();
    }
    if what.contains("blind rivets") {
        let sunk = if what.starts_with("countersunk") {
            "countersink at the angle of the rivet in hand (100 or 120 degrees), as wide as its head; "
        } else {
            ""
        };
        return format!(
            "; {sunk}closed end, since the box is to be tight, of the metal of the panels or stainless (common practice, no source)"
        );
    }
    if what.starts_with("studs") || what.contains("tie rods") {
        return "; torque: how hard a module may be pressed is for its maker to say; locking nuts".to_owned();
    }
    String::new()
}

/// `torque 50.6 N m (37.3 lbf ft), dry; ...` of mount bolts of a class.
fn mount_torque(what: &str, units: Units) -> Option<String> {
    let told = what.strip_prefix("mount bolts ")?;
    let bolt = BOLTS.iter().find(|bolt| told.split(' ').next() == Some(bolt.name))?;
    let grade = Grade::ALL
        .into_iter()
        .find(|&grade| told.ends_with(&grade_words(grade)))?;
    let metric = torque::newton_metres(bolt, grade);
    let imperial = metric / (NEWTONS_PER_LBF * 0.3048);
    let told = match units {
        Units::Millimetre => format!("{metric:.0} N m ({imperial:.0} lbf ft)"),
        Units::Inch => format!("{imperial:.0} lbf ft ({metric:.0} N m)"),
    };
    Some(format!("torque {told}, dry, metal on metal: {}", torque::SOURCE))
}

/// What to mind of what is let into a wall.
pub(super) fn fitting(fitting: &crate::FittingResult) -> String {
    match fitting.what {
        FittingName::Gland | FittingName::Breather | FittingName::Drain => {
            let near =
                |gland: &&enclosure::seal::gland::Gland| (gland.hole - fitting.hole).abs() <= Length::tenths_mm(5);
            GLANDS.iter().find(near).map_or_else(
                || "no usual metric thread for that hole: by the one in hand".to_owned(),
                |gland| {
                    format!(
                        "thread {} x 1.5 (EN 60423), with its nut: that of the one in hand decides",
                        gland.name
                    )
                },
            )
        }
        FittingName::LiftingEye => {
            // A hole of metric and inch threads alike is taken as the metric one's.
            let off = |bolt: &&enclosure::strength::bolt::Bolt| (bolt.hole - fitting.hole).abs();
            let near = BOLTS.iter().filter(|bolt| off(bolt) <= Length::tenths_mm(5));
            let thread = near.min_by_key(|bolt| (!bolt.name.starts_with('M'), off(bolt)));
            let thread = thread.map_or_else(
                || "thread: by the one in hand; ".to_owned(),
                |bolt| format!("thread {}; ", bolt.name),
            );
            format!(
                "{thread}its rated load, from its maker, at least the pull of a leg in the lift plan; torque: by its maker; \
                 backing plate: as on the cut list"
            )
        }
        FittingName::EarthStud => "torque: by the maker of stud and lug; bare metal under the lug".to_owned(),
        FittingName::Disconnect => String::new(),
    }
}
