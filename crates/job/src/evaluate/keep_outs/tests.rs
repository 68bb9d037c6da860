//! Whether what is kept free for sure holds the true thing as often as it says, over invented cavities and readings.

use geometry::{Axis, Cuboid, Face};
use proptest::prelude::*;
use rstest::rstest;
use tape::survey::{Corner, Line as SurveyLine};
use tape::{Allow, Length, Units, notation};

use super::KeepOutResult;
use crate::document::{Cavity, FromCorners, KeepOut, KeepOutShape, MeasuredFrom, Reading, Source, Travel};
use crate::{Id, Job, Len, Line, Sigmas, UnitsName, evaluate};

/// Normal noise, the same on every machine.
struct Noise(u64);

impl Noise {
    /// From 0 to 1, both left out (splitmix64).
    fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        let top = u32::try_from((z ^ (z >> 31)) >> 32).unwrap();
        (f64::from(top) + 0.5) / 4_294_967_296.0
    }

    /// A reading of `mm` with this sigma, as it is typed with its limits (Box and Muller).
    fn read(&mut self, mm: f64, sigma: f64) -> Len {
        let (radius, turn) = (self.uniform(), self.uniform());
        let normal = (-2.0 * radius.ln()).sqrt() * (std::f64::consts::TAU * turn).cos();
        len(mm + sigma * normal, sigma)
    }
}

fn len(mm: f64, sigma: f64) -> Len {
    let text = format!("{mm:.6} mm +- {:.6} mm", sigma * 3.0_f64.sqrt());
    Len::new(notation::read(&text, Units::Millimetre, Allow::Signed).unwrap())
}

/// What a keep-out really is, counted from where it is measured from.
struct Thing {
    measured: MeasuredFrom,
    from: [f64; 3],
    to: [f64; 3],
    diameter: Option<f64>,
    up: Option<f64>,
}

const SIGMA: f64 = 0.4;
/// The middle of what is placed by distances, in the cavity's true frame.
const MIDDLE: [f64; 3] = [420.0, 150.0, 110.0];

impl Thing {
    /// As somebody taped it, in a cavity with these true corners.
    fn taped(&self, id: Id, corners: &[[f64; 3]; 8], noise: &mut Noise) -> KeepOut {
        let mut distances = FromCorners::default();
        if self.measured == MeasuredFrom::Distances {
            for n in [0, 2, 5, 7] {
                let way = [0, 1, 2].map(|axis| corners[n][axis] - MIDDLE[axis]);
                *distances.distance_mut(Corner::ALL[n]) = Some(noise.read(dot(way, way).sqrt(), SIGMA));
            }
        }
        KeepOut {
            id,
            name: "thing".to_owned(),
            source: Source::Sweep,
            shape: self.diameter.map(|_| KeepOutShape::RoundLength),
            diameter: self.diameter.map(|mm| noise.read(mm, SIGMA)),
            measured_from: Some(self.measured),
            distances,
            from: self.from.map(|mm| noise.read(mm, SIGMA)),
            to: self.to.map(|mm| noise.read(mm, SIGMA)),
            travel: Travel {
                up: self.up.map(|mm| noise.read(mm, SIGMA)),
                ..Travel::default()
            },
            margin: None,
            taken_out: false,
            note: String::new(),
        }
    }

    /// The low and high end along each axis in the cavity's true frame, by definition.
    fn truth(&self, corners: &[[f64; 3]; 8]) -> [[f64; 2]; 3] {
        let start = self.measured.corner().map_or(MIDDLE, |corner| corners[corner.index()]);
        let back = self
            .measured
            .corner()
            .map_or([false; 3], |corner| [corner.rear, corner.right, corner.top]);
        std::array::from_fn(|axis| {
            let at = |counted: f64| start[axis] + if back[axis] { -counted } else { counted };
            let mut ends = [at(self.from[axis]), at(self.to[axis])];
            if let Some(diameter) = self.diameter.filter(|_| axis > 0) {
                ends = [ends[0] - diameter / 2.0, ends[0] + diameter / 2.0];
            }
            ends.sort_by(f64::total_cmp);
            if axis == 2 {
                ends[1] += self.up.unwrap_or(0.0);
            }
            ends
        })
    }
}

/// A block by each corner, one placed by distances, a pipe from the rear right bottom that moves up.
fn things() -> Vec<Thing> {
    let mut things: Vec<Thing> = MeasuredFrom::ALL
        .iter()
        .map(|&measured| Thing {
            measured,
            from: [60.0, 40.0, 30.0],
            to: [110.0, 70.0, 55.0],
            diameter: None,
            up: None,
        })
        .collect();
    things.push(Thing {
        measured: MeasuredFrom::RearRightBottom,
        from: [20.0, 90.0, 35.0],
        to: [400.0, 90.0, 35.0],
        diameter: Some(50.0),
        up: Some(60.0),
    });
    things
}

fn dot(a: [f64; 3], b: [f64; 3]) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

fn less(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}

fn cross(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    [
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    ]
}

fn unit(a: [f64; 3]) -> [f64; 3] {
    let length = dot(a, a).sqrt();
    a.map(|part| part / length)
}

/// Corners in the frame that a builder marks out from: z square to both diagonals of the floor, x along the left rail
/// laid flat, from the front left bottom corner.
fn in_frame(corners: &[[f64; 3]; 8]) -> [[f64; 3]; 8] {
    let z = unit(cross(less(corners[2], corners[0]), less(corners[3], corners[1])));
    let rail = less(corners[1], corners[0]);
    let x = unit(less(rail, z.map(|part| part * dot(rail, z))));
    let y = cross(z, x);
    corners.map(|corner| {
        let way = less(corner, corners[0]);
        [dot(way, x), dot(way, y), dot(way, z)]
    })
}

/// The lines that are read: from corner to corner where the cavity leans, else length, width and height.
fn readings(corners: &[[f64; 3]; 8], surveyed: bool, noise: &mut Noise) -> Vec<Reading> {
    let mut reading = |line: Line, mm: f64| Reading {
        line,
        read: noise.read(mm, 1.0),
        taken: None,
        decided: None,
        note: String::new(),
    };
    if !surveyed {
        let axes = Axis::ALL.into_iter().zip(corners[6]);
        let along = |axis| Line::Along {
            axis,
            place: String::new(),
        };
        return axes.map(|(axis, mm)| reading(along(axis), mm)).collect();
    }
    let lines = SurveyLine::all().into_iter().map(SurveyLine::ends);
    let read = lines.map(|[a, b]| {
        let way = less(corners[a.index()], corners[b.index()]);
        reading(Line::Corners(a, b), dot(way, way).sqrt())
    });
    read.collect()
}

const ROUNDS: u32 = 2_000;
/// The number of the first keep-out.
const FIRST: u32 = 10;

/// Each face of each thing is within what is kept free for sure at least as often as two sigma say: 97.7 in 100, less
/// four standard deviations of a share of so many rounds.
#[rstest]
#[case::square([[0.0, 0.0, 0.0], [900.0, 0.0, 0.0], [900.0, 380.0, 0.0], [0.0, 380.0, 0.0],
    [0.0, 0.0, 240.0], [900.0, 0.0, 240.0], [900.0, 380.0, 240.0], [0.0, 380.0, 240.0]], false)]
#[case::leaning([[0.0, 0.0, 0.0], [905.0, 8.0, 3.0], [898.0, 391.0, -4.0], [-6.0, 380.0, 2.0],
    [7.0, -5.0, 244.0], [911.0, 3.0, 240.0], [895.0, 384.0, 236.0], [3.0, 377.0, 247.0]], true)]
fn what_is_kept_free_holds_the_thing_as_often_as_it_says(#[case] corners: [[f64; 3]; 8], #[case] surveyed: bool) {
    let (corners, things) = (in_frame(&corners), things());
    let mut noise = Noise(20_251_125);
    let mut refused = 0;
    let mut within = vec![[0_u32; 6]; things.len()];
    for _ in 0..ROUNDS {
        let mut job = Job::empty(UnitsName::Millimetre);
        job.settings.sigmas = Sigmas::new(2.0);
        let cavity = &mut job.cavities[0];
        cavity.readings = readings(&corners, surveyed, &mut noise);
        let taped = things.iter().zip(FIRST..);
        cavity.keep_outs = taped
            .map(|(thing, id)| thing.taped(Id(id), &corners, &mut noise))
            .collect();
        let result = &evaluate(&job).cavities[0];
        assert_eq!(result.survey.is_shaped(), surveyed);
        // Readings that look wrong by chance are said to be, and then there is no place.
        refused += result.unplaced.len();
        for keep_out in &result.keep_outs {
            let index = usize::try_from(keep_out.id.0 - FIRST).unwrap();
            let (thing, within) = (&things[index], &mut within[index]);
            let truth = thing.truth(&corners);
            for face in Face::ALL {
                let (sure, [low, high]) = (keep_out.sure.face(face).as_mm(), truth[face.axis().index()]);
                within[face.index()] += u32::from(if face.is_high() { sure >= high } else { sure <= low });
            }
        }
    }
    // One in a thousand for each check that there is.
    assert!(refused <= 10, "{refused} without a place");
    let (stated, rounds) = (0.977, f64::from(ROUNDS));
    let least = stated - 4.0 * (stated * (1.0 - stated) / rounds).sqrt();
    for (thing, within) in things.iter().zip(within) {
        for face in Face::ALL {
            let share = f64::from(within[face.index()]) / rounds;
            assert!(share >= least, "{:?} {face:?}: {share}", thing.measured);
        }
    }
}

/// One keep-out in a cavity of 900 x 380 x 240 mm.
fn placed(measured: MeasuredFrom, from: [i64; 3], to: [i64; 3], up: Option<i64>) -> KeepOutResult {
    let mm = |mm: i64| Len::exactly(Length::mm(mm), Units::Millimetre);
    let mut job = Job::empty(UnitsName::Millimetre);
    let mut cavity = Cavity::named(Id(1), "bay");
    cavity.readings = ["length", "width", "height"]
        .into_iter()
        .zip([900, 380, 240])
        .map(|(line, read)| Reading {
            line: line.parse().unwrap(),
            read: mm(read),
            taken: None,
            decided: None,
            note: String::new(),
        })
        .collect();
    cavity.keep_outs = vec![KeepOut {
        id: Id(9),
        name: "post".to_owned(),
        source: Source::Sweep,
        shape: None,
        diameter: None,
        measured_from: Some(measured),
        distances: FromCorners::default(),
        from: from.map(mm),
        to: to.map(mm),
        travel: Travel {
            up: up.map(mm),
            ..Travel::default()
        },
        margin: None,
        taken_out: false,
        note: String::new(),
    }];
    job.cavities = vec![cavity];
    evaluate(&job).cavities[0].keep_outs[0].clone()
}

proptest! {
    #[test]
    fn what_is_kept_free_holds_what_was_taped_and_travel_only_adds(
        corner in 0..8_usize, from in [0..400_i64, 0..300, 0..200], to in [0..400_i64, 0..300, 0..200], up in 0..100_i64,
    ) {
        let measured = MeasuredFrom::ALL[corner];
        let rest = placed(measured, from, to, None);
        let moved = placed(measured, from, to, Some(up));
        prop_assert!(rest.sure.contains(&rest.cuboid) && moved.sure.contains(&moved.cuboid));
        prop_assert!(moved.cuboid.contains(&rest.cuboid) && moved.sure.contains(&rest.sure));
        prop_assert_eq!(moved.cuboid.size()[Axis::Z] - rest.cuboid.size()[Axis::Z], Length::mm(up));
    }

    /// Counted from another corner of a square cavity it is the mirror image of what is counted from the first.
    #[test]
    fn another_corner_mirrors_it(
        corner in 0..8_usize, from in [0..400_i64, 0..300, 0..200], to in [0..400_i64, 0..300, 0..200],
    ) {
        let [first, other] = [0, corner].map(|n| placed(MeasuredFrom::ALL[n], from, to, None));
        let at = Corner::ALL[corner];
        for (axis, (is_far, size)) in Axis::ALL.into_iter().zip([(at.rear, 900), (at.right, 380), (at.top, 240)]) {
            let ends = |cuboid: &Cuboid| [cuboid.lo()[axis], cuboid.hi()[axis]];
            let [low, high] = ends(&first.cuboid);
            let size = Length::mm(size);
            let expected = if is_far { [size - high, size - low] } else { [low, high] };
            prop_assert_eq!(ends(&other.cuboid), expected);
            // The far wall was read too: below 1 m by a class II tape from its hook, to 1 mm, aimed within 1 mm.
            let wall = (0.7_f64.powi(2) / 3.0 + 1.0 / 12.0 + 2.0 / 3.0).sqrt();
            for face in [Face::low(axis), Face::high(axis)] {
                let (mirrored, wall) = if is_far { (face.opposite(), wall) } else { (face, 0.0) };
                let expected = first.sigmas[mirrored].as_mm().hypot(wall);
                prop_assert!((other.sigmas[face].as_mm() - expected).abs() < 1e-5);
            }
        }
    }
}
