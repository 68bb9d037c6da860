//! From readings to a usable cuboid, assuming that the cavity is square.

use geometry::{Axis, Cuboid, Point};
use tape::Length;
use tape::reading::{Reading, Tape};
use tape::square::{self, Taped, Usable};

use crate::Id;
use crate::assumed::Trust;
use crate::document::{Cavity, Source, UnitsName};

/// A cavity as its readings tell it.
#[derive(Clone, Debug, PartialEq)]
pub struct CavityResult {
    /// Its number.
    pub id: Id,
    /// Its name.
    pub name: String,
    /// Length, width and height; `None` where there is no reading yet.
    pub dimensions: [Option<Dimension>; 3],
    /// The usable cuboid, from the front-left-bottom corner; `None` until all three dimensions are known.
    pub space: Option<Cuboid>,
    /// The keep-outs.
    pub keep_outs: Vec<KeepOutResult>,
    /// Readings that a square cavity makes no use of (diagonals).
    pub unused: usize,
    /// The largest difference between the two diagonals of one face, when both were read.
    pub skew: Option<(Length, String)>,
}

/// One dimension of a cavity.
#[derive(Clone, Debug, PartialEq)]
pub struct Dimension {
    /// Which.
    pub axis: Axis,
    /// The smallest reading less k sigma, and what each place says. Place indices count the readings used.
    pub usable: Usable,
    /// For each reading used, its index in the cavity's list.
    pub readings: Vec<usize>,
    /// The smallest reading as read.
    pub smallest: Length,
}

/// A keep-out as it counts.
#[derive(Clone, Debug, PartialEq)]
pub struct KeepOutResult {
    /// Its number.
    pub id: Id,
    /// Its name.
    pub name: String,
    /// Where it comes from.
    pub source: Source,
    /// The region.
    pub cuboid: Cuboid,
    /// The margin asked for to it.
    pub margin: Length,
    /// Whether it counts: not taken out.
    pub counts: bool,
}

pub(super) fn evaluate(cavity: &Cavity, trust: &Trust, units: UnitsName) -> CavityResult {
    let tape = tape_of(trust, units);
    let dimensions = Axis::ALL.map(|axis| dimension(cavity, axis, &tape, trust.sigmas));
    let space = match &dimensions {
        [Some(x), Some(y), Some(z)] => {
            let far = Point([x.usable.value, y.usable.value, z.usable.value]);
            Some(Cuboid::between(Point::ZERO, far))
        }
        _ => None,
    };
    let keep_outs = cavity
        .keep_outs
        .iter()
        .map(|keep_out| KeepOutResult {
            id: keep_out.id,
            name: keep_out.name.clone(),
            source: keep_out.source,
            cuboid: keep_out.cuboid(),
            margin: keep_out.margin.as_ref().map_or(trust.margin, crate::Len::value),
            counts: !(keep_out.taken_out && keep_out.source == Source::Removable),
        })
        .collect();
    CavityResult {
        id: cavity.id,
        name: cavity.name.clone(),
        dimensions,
        space,
        keep_outs,
        unused: cavity.readings.iter().filter(|r| r.line.dimension().is_none()).count(),
        skew: skew(cavity),
    }
}

/// The tape that readings are taken with: the job's class, marked in the person's units.
pub(crate) fn tape_of(trust: &Trust, units: UnitsName) -> Tape {
    Tape {
        class: trust.tape_class,
        ..Tape::of(units.units())
    }
}

fn dimension(cavity: &Cavity, axis: Axis, tape: &Tape, sigmas: f64) -> Option<Dimension> {
    let used = cavity.readings.iter().enumerate().filter_map(|(i, reading)| {
        let (along, place) = reading.line.dimension()?;
        (along == axis).then_some((i, place, reading))
    });
    let (readings, taped): (Vec<usize>, Vec<Taped>) = used
        .map(|(i, place, reading)| {
            let reading = Reading::taped(reading.read.written(), tape);
            (i, Taped { place, reading })
        })
        .unzip();
    let usable = square::usable(&taped, sigmas).ok()?;
    let smallest = taped.iter().map(|t| t.reading.value).min()?;
    Some(Dimension {
        axis,
        usable,
        readings,
        smallest,
    })
}

/// The pair of diagonals of one face that differ most: the plainest sign that a cavity is out of square.
fn skew(cavity: &Cavity) -> Option<(Length, String)> {
    let diagonal = |from: &str, to: &str| {
        let (from, to) = (from.parse().ok()?, to.parse().ok()?);
        let line = |reading: &&crate::Reading| matches!(reading.line, crate::Line::Corners(a, b) if (a, b) == (from, to) || (a, b) == (to, from));
        cavity.readings.iter().find(line).map(|r| r.read.value())
    };
    let faces = [
        ("floor", ["FLB", "RRB", "FRB", "RLB"]),
        ("roof", ["FLT", "RRT", "FRT", "RLT"]),
        ("front", ["FLB", "FRT", "FRB", "FLT"]),
        ("rear", ["RLB", "RRT", "RRB", "RLT"]),
        ("left side", ["FLB", "RLT", "RLB", "FLT"]),
        ("right side", ["FRB", "RRT", "RRB", "FRT"]),
    ];
    let differences = faces.into_iter().filter_map(|(name, [a, b, c, d])| {
        let difference = (diagonal(a, b)? - diagonal(c, d)?).abs();
        Some((difference, name.to_owned()))
    });
    differences.max_by_key(|(difference, _)| *difference)
}
