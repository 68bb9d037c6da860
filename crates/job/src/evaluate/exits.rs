//! Where cables leave a box: an end of a cable at a terminal in it, by the order of the wiring. The pack's ends are outside
//! every box: no cable stays in one for ending at them.

use geometry::Point;
use tape::Length;

use super::electric::{End, LinkKind, LinkResult, WiringResult};
use super::pack::PackResult;
use crate::{Figure, Id, Job, assumed};

/// A cable that leaves a box.
#[derive(Clone, Debug, PartialEq)]
pub struct CableExit {
    /// The box.
    pub battery_box: Id,
    /// Number of the link in its pack's order.
    pub link: u32,
    /// What the cable is for.
    pub kind: LinkKind,
    /// From which terminal to where: `M4 + to M9 -`.
    pub name: String,
    /// Outside of the cable.
    pub outside: Length,
    /// Whether that is a typical one, that nobody measured.
    pub is_typical: bool,
    /// The terminal, in the cavity's frame.
    pub from: Point,
    /// Where it goes, in the cavity's frame; `None` while that is not known.
    pub towards: Option<Point>,
}

/// Every cable's ends at terminals: one that runs from box to box leaves both.
pub(super) fn of(job: &Job, packs: &[PackResult]) -> Vec<CableExit> {
    let figures = &job.electrics.figures;
    let measured = figures.get(Figure::CableOutside);
    let outside = measured.unwrap_or_else(|| assumed::cable(&job.electrics).typical_outside_mm());
    let cable = Cable {
        outside: Length::from_mm(outside),
        is_typical: measured.is_none(),
    };
    packs
        .iter()
        .filter_map(|pack| pack.electric.as_ref()?.wiring.as_ref())
        .flat_map(|wiring| of_wiring(wiring, cable))
        .collect()
}

/// Whether a link is a cable that leaves this box by its wall.
pub(crate) fn leaves(wiring: &WiringResult, link: &LinkResult, battery_box: Id) -> bool {
    let is_in = |end| matches!(end, End::Terminal { seat, .. } if wiring.seats[seat].battery_box == battery_box);
    link.kind.is_cable() && (is_in(link.from) || is_in(link.to))
}

#[derive(Clone, Copy)]
struct Cable {
    outside: Length,
    is_typical: bool,
}

fn of_wiring(wiring: &WiringResult, cable: Cable) -> impl Iterator<Item = CableExit> + '_ {
    let cables = wiring.links.iter().filter(|link| link.kind.is_cable());
    cables.flat_map(move |link| {
        let name = format!("{} to {}", wiring.end_name(link.from), wiring.end_name(link.to));
        let exit = move |end: End, own: Point, other: Point| {
            let End::Terminal { seat, .. } = end else { return None };
            let seat = &wiring.seats[seat];
            Some(CableExit {
                battery_box: seat.battery_box,
                link: link.number,
                kind: link.kind,
                name: name.clone(),
                outside: cable.outside,
                is_typical: cable.is_typical,
                from: own - seat.from_cavity,
                towards: (own != other).then(|| other - seat.from_cavity),
            })
        };
        let [from, to] = link.ends;
        [exit(link.from, from, to), exit(link.to, to, from)]
            .into_iter()
            .flatten()
    })
}
