//! Where the gasket lies: a strip once round under the lid, wholly inside the screws.

use tape::Length;

use super::shell::Shell;
use crate::{BoxSpec, Construction, Flange, Lid};

/// A gasket as it is cut and stuck in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Strip {
    /// How wide.
    pub width: Length,
    /// How thick before it is squeezed.
    pub thick: Length,
    /// From the edge of the lid, of a cap from the inside of its skirt, to the strip's outer edge.
    pub from_edge: Length,
    /// What it lies against or between.
    pub lies: Lies,
    /// Along its middle, once round, corners sharp.
    pub length: Length,
}

/// What a gasket lies against or between.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lies {
    /// Between the holes of the screws and the inside of the box.
    InsideScrews,
    /// Against the inside of a cap's skirt, over the rim.
    InCap,
    /// Under a lid without screws, its outer edge flush with the lid's, over the rim.
    OnRim,
}

/// The strip of a box that has a gasket and room for one.
///
/// Inside screws it is as wide as the flat of the rim is between their holes and the inside of the box. Over a rim that is only a
/// sheet's edge it reaches as far inward of the wall as it is thick, so that it bears on the edge in its middle. Common practice,
/// no source.
pub(super) fn strip(spec: &BoxSpec, shell: &Shell) -> Option<Strip> {
    let wall = spec.wall.thickness;
    let outside = shell.within_angle();
    let (over, [from_edge, width], thick, lies) = match spec.lid {
        Lid::None => return None,
        Lid::Cap { sheet, out, gasket, .. } => {
            let thick = gasket?.free;
            let gap = out - sheet.thickness;
            (
                outside.map(|side| side + gap * 2),
                [Length::ZERO, gap + wall + thick],
                thick,
                Lies::InCap,
            )
        }
        Lid::Flat {
            flange,
            gasket,
            fastener,
            edge,
            ..
        } => {
            let thick = gasket?.free;
            let overhang = flange.map_or(Length::ZERO, |flange: Flange| flange.width);
            let over = outside.map(|side| side + overhang * 2);
            let line = edge.or(flange.map(|flange| flange.width.half_down()));
            match fastener.zip(line) {
                Some((fastener, line)) => {
                    let outer = line + (fastener.hole - fastener.hole.half_down());
                    // A lip bends into its wall: the flat begins behind the bend.
                    let bend = match spec.construction {
                        Construction::Folded(folding) => folding.radius + wall,
                        Construction::Welded | Construction::Framed(_) => Length::ZERO,
                    };
                    (
                        over,
                        [outer, overhang + shell.line + wall - bend - outer],
                        thick,
                        Lies::InsideScrews,
                    )
                }
                None => (
                    over,
                    [Length::ZERO, overhang + shell.line + wall + thick],
                    thick,
                    Lies::OnRim,
                ),
            }
        }
    };
    let middle = from_edge + width.half_down();
    let length = over.map(|side| (side - middle * 2) * 2).into_iter().sum();
    (width > Length::ZERO).then_some(Strip {
        width,
        thick,
        from_edge,
        lies,
        length,
    })
}
