//! Wheel loads: an estimate, since four wheels on a frame are one too many for statics alone.

use super::axle::AxleLoads;
use super::centre::Moments;
use super::{Axle, Item, checked, checked_wheelbase};
use crate::TruckError;
use crate::check::{in_m, positive, within};

/// From wheel centre to wheel centre across each axle, metres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Track {
    /// Of the front axle.
    pub front_m: f64,
    /// Of the rear axle.
    pub rear_m: f64,
}

/// One of the four wheels; of twin wheels, the pair.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Wheel {
    /// Front left.
    FrontLeft,
    /// Front right.
    FrontRight,
    /// Rear left.
    RearLeft,
    /// Rear right.
    RearRight,
}

impl Wheel {
    /// All four.
    pub const ALL: [Self; 4] = [Self::FrontLeft, Self::FrontRight, Self::RearLeft, Self::RearRight];

    /// The two of an axle, left and right.
    pub const fn of(axle: Axle) -> [Self; 2] {
        match axle {
            Axle::Front => [Self::FrontLeft, Self::FrontRight],
            Axle::Rear => [Self::RearLeft, Self::RearRight],
        }
    }

    /// Its axle.
    pub const fn axle(self) -> Axle {
        match self {
            Self::FrontLeft | Self::FrontRight => Axle::Front,
            Self::RearLeft | Self::RearRight => Axle::Rear,
        }
    }

    /// `front left wheel`, ...
    pub const fn name(self) -> &'static str {
        match self {
            Self::FrontLeft => "front left wheel",
            Self::FrontRight => "front right wheel",
            Self::RearLeft => "rear left wheel",
            Self::RearRight => "rear right wheel",
        }
    }
}

/// What each wheel carries, kilograms.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct WheelLoads {
    /// Front left.
    pub front_left_kg: f64,
    /// Front right.
    pub front_right_kg: f64,
    /// Rear left.
    pub rear_left_kg: f64,
    /// Rear right.
    pub rear_right_kg: f64,
}

impl WheelLoads {
    /// What one wheel carries.
    pub const fn on(self, wheel: Wheel) -> f64 {
        match wheel {
            Wheel::FrontLeft => self.front_left_kg,
            Wheel::FrontRight => self.front_right_kg,
            Wheel::RearLeft => self.rear_left_kg,
            Wheel::RearRight => self.rear_right_kg,
        }
    }

    /// The same leaning as it does, with the axles carrying `loads`: what is more or less goes half to each side.
    #[must_use]
    pub fn with_axles(self, loads: AxleLoads) -> Self {
        let now = self.axles();
        let [front_kg, rear_kg] = [loads.front_kg - now.front_kg, loads.rear_kg - now.rear_kg].map(|more| more / 2.0);
        Self {
            front_left_kg: self.front_left_kg + front_kg,
            front_right_kg: self.front_right_kg + front_kg,
            rear_left_kg: self.rear_left_kg + rear_kg,
            rear_right_kg: self.rear_right_kg + rear_kg,
        }
    }

    /// The two axles of it.
    pub fn axles(self) -> AxleLoads {
        AxleLoads {
            front_kg: self.front_left_kg + self.front_right_kg,
            rear_kg: self.rear_left_kg + self.rear_right_kg,
        }
    }

    /// The two sides of it.
    pub fn sides(self) -> SideTotals {
        SideTotals {
            left_kg: self.front_left_kg + self.rear_left_kg,
            right_kg: self.front_right_kg + self.rear_right_kg,
        }
    }
}

/// What each side carries, kilograms.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SideTotals {
    /// The left wheels.
    pub left_kg: f64,
    /// The right wheels.
    pub right_kg: f64,
}

/// What a scale showed of the truck before.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Weighed {
    /// Axle by axle: the truck is taken as even left and right.
    Axles(AxleLoads),
    /// Wheel by wheel.
    Wheels(WheelLoads),
}

impl Weighed {
    /// The readings wheel by wheel; half of each axle where only axles were weighed.
    pub fn wheels(self) -> WheelLoads {
        match self {
            Self::Wheels(wheels) => wheels,
            Self::Axles(AxleLoads { front_kg, rear_kg }) => WheelLoads {
                front_left_kg: front_kg / 2.0,
                front_right_kg: front_kg / 2.0,
                rear_left_kg: rear_kg / 2.0,
                rear_right_kg: rear_kg / 2.0,
            },
        }
    }
}

/// What is assumed of how the two axles share a lean to one side. Statics cannot tell it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Split {
    /// The frame gives way in twist: each axle takes the lean of its own share of each item.
    FlexibleFrame,
    /// The frame does not twist: the whole lean is shared as the springs of the axles resist it.
    StiffFrame {
        /// The front axle's share of the stiffness in roll, 0 to 1.
        front_share: f64,
    },
}

impl Split {
    /// The assumption, in words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::FlexibleFrame => "estimate: the frame twists, each axle takes the lean of its own share of each item",
            Self::StiffFrame { .. } => "estimate: the frame does not twist, the springs share the lean",
        }
    }
}

/// The wheel loads after `changes`. An estimate: weigh the wheels one by one at the end.
///
/// Each item goes to the axles by `x` as in [`AxleLoads::with`]. On an axle that carries a lean of `M` kilogram-metres,
/// `M / track` goes from the left wheel to the right; `split` says what `M` is for each axle: `m y (1 - x/L)` and
/// `m y x/L` item by item, or shares of `sum(m y)`.
///
/// Source: statics, and the assumption that `split` names.
///
/// # Errors
///
/// [`TruckError`] for a figure that is no number, a wheelbase or track not above zero, a share outside 0 to 1.
pub fn wheel_loads(
    weighed: Weighed,
    wheelbase_m: f64,
    track: Track,
    changes: &[Item],
    split: Split,
) -> Result<WheelLoads, TruckError> {
    let wheelbase_m = checked_wheelbase(wheelbase_m)?;
    let [front_track_m, rear_track_m] = [checked_track(track.front_m)?, checked_track(track.rear_m)?];
    let AxleLoads { front_kg, rear_kg } = AxleLoads::default().with(changes, wheelbase_m)?;
    let [front_kgm, rear_kgm] = leans(changes, wheelbase_m, split)?;
    let [front_over, rear_over] = [front_kgm / front_track_m, rear_kgm / rear_track_m];
    let before = weighed.wheels();
    Ok(WheelLoads {
        front_left_kg: before.front_left_kg + front_kg / 2.0 - front_over,
        front_right_kg: before.front_right_kg + front_kg / 2.0 + front_over,
        rear_left_kg: before.rear_left_kg + rear_kg / 2.0 - rear_over,
        rear_right_kg: before.rear_right_kg + rear_kg / 2.0 + rear_over,
    })
}

/// The lean of front and rear axle, kilogram-metres to the right.
fn leans(changes: &[Item], wheelbase_m: f64, split: Split) -> Result<[f64; 2], TruckError> {
    let all_kgm = Moments::of(changes)?.y_kgm;
    let front_kgm = match split {
        Split::FlexibleFrame => checked(changes)?
            .iter()
            .map(|item| item.mass_kg * item.at.y_m * (1.0 - item.at.x_m / wheelbase_m))
            .sum(),
        Split::StiffFrame { front_share } => {
            let share = within(
                "front share of the stiffness in roll",
                front_share,
                [0.0, 1.0],
                "enter a share",
            )?;
            all_kgm * share
        }
    };
    Ok([front_kgm, all_kgm - front_kgm])
}

/// What each side carries after `changes`: `right = total/2 + sum(m y) / track`.
///
/// The program tells wheels; this serves the check values and the test that wheels add up to it. No estimate, as long as both axles have this track: it follows from moments about the centre line.
///
/// Source: statics.
///
/// # Errors
///
/// [`TruckError`] for a figure that is no number, or a track not above zero.
pub fn side_totals(weighed: Weighed, track_m: f64, changes: &[Item]) -> Result<SideTotals, TruckError> {
    let track_m = checked_track(track_m)?;
    let sums = Moments::of(changes)?;
    let before = weighed.wheels().sides();
    let over_kg = sums.y_kgm / track_m;
    Ok(SideTotals {
        left_kg: before.left_kg + sums.mass_kg / 2.0 - over_kg,
        right_kg: before.right_kg + sums.mass_kg / 2.0 + over_kg,
    })
}

fn checked_track(track_m: f64) -> Result<f64, TruckError> {
    positive("track", track_m, "measure it across, from wheel centre to wheel centre").map_err(in_m)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::mass::Place;

    const WEIGHED: Weighed = Weighed::Axles(AxleLoads {
        front_kg: 900.0,
        rear_kg: 600.0,
    });
    const TRACK: Track = Track {
        front_m: 1.4,
        rear_m: 1.4,
    };

    fn at(mass_kg: f64, x_m: f64, y_m: f64) -> Item {
        Item {
            mass_kg,
            at: Place { x_m, y_m, z_m: 0.5 },
        }
    }

    #[test]
    fn a_mass_over_a_wheel_is_carried_by_it() {
        let rear_right = at(100.0, 2.8, 0.7);
        let found = wheel_loads(WEIGHED, 2.8, TRACK, &[rear_right], Split::FlexibleFrame).unwrap();
        assert!((found.rear_right_kg - 400.0).abs() < 1e-9);
        assert!((found.rear_left_kg - 300.0).abs() < 1e-9);
        assert!((found.front_left_kg - 450.0).abs() < 1e-9);
    }

    #[test]
    fn nonsense_is_refused() {
        let flat = Track { rear_m: 0.0, ..TRACK };
        assert!(wheel_loads(WEIGHED, 2.8, flat, &[], Split::FlexibleFrame).is_err());
        let over = Split::StiffFrame { front_share: 1.1 };
        assert!(wheel_loads(WEIGHED, 2.8, TRACK, &[], over).is_err());
        assert!(side_totals(WEIGHED, -1.0, &[]).is_err());
    }

    proptest! {
        #[test]
        fn wheels_add_up_to_axles_and_sides(
            items in prop::collection::vec((-100.0..300.0_f64, -1.0..4.0_f64, -0.8..0.8_f64), 0..12),
            front_share in 0.0..=1.0_f64,
        ) {
            let items: Vec<Item> = items.into_iter().map(|(mass, x, y)| at(mass, x, y)).collect();
            let sides = side_totals(WEIGHED, TRACK.front_m, &items).unwrap();
            let AxleLoads { front_kg, rear_kg } = WEIGHED.wheels().axles().with(&items, 2.8).unwrap();
            for split in [Split::FlexibleFrame, Split::StiffFrame { front_share }] {
                let wheels = wheel_loads(WEIGHED, 2.8, TRACK, &items, split).unwrap();
                prop_assert!((wheels.axles().front_kg - front_kg).abs() < 1e-8);
                prop_assert!((wheels.axles().rear_kg - rear_kg).abs() < 1e-8);
                prop_assert!((wheels.sides().left_kg - sides.left_kg).abs() < 1e-8);
                prop_assert!((wheels.sides().right_kg - sides.right_kg).abs() < 1e-8);
            }
        }
    }
}
