//! What a scale showed, before the work or after it: axle by axle, or wheel by wheel.

use truck::mass::Axle;
use truck::mass::axle::AxleLoads;
use truck::mass::wheel::{Wheel, WheelLoads};

use super::mass_words;
use crate::assumed::truck as usual;
use crate::document::{Masses, WheelReadings};
use crate::{Grams, Job};

/// What it showed of one axle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct OfAxle {
    /// Both wheels together where both were read, else the reading of the axle.
    pub(super) kg: f64,
    /// Left and right, where both were read.
    pub(super) wheels_kg: Option<[f64; 2]>,
    /// The reading of the axle, as far as one was entered.
    entered_kg: Option<f64>,
}

impl OfAxle {
    /// Left and right; half of it each where the wheels were not read.
    fn halves_kg(&self) -> [f64; 2] {
        self.wheels_kg.unwrap_or([self.kg / 2.0; 2])
    }

    /// How many readings are in it.
    fn readings(&self) -> f64 {
        if self.wheels_kg.is_some() { 2.0 } else { 1.0 }
    }
}

/// What it showed of both.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Scale {
    pub(super) front: OfAxle,
    pub(super) rear: OfAxle,
}

impl Scale {
    pub(super) fn loads(&self) -> AxleLoads {
        AxleLoads {
            front_kg: self.front.kg,
            rear_kg: self.rear.kg,
        }
    }

    /// Wheel by wheel, an axle whose wheels were not read taken as even.
    pub(super) fn wheels(&self) -> WheelLoads {
        let ([front_left_kg, front_right_kg], [rear_left_kg, rear_right_kg]) =
            (self.front.halves_kg(), self.rear.halves_kg());
        WheelLoads {
            front_left_kg,
            front_right_kg,
            rear_left_kg,
            rear_right_kg,
        }
    }

    /// Whether both wheels of the front and of the rear axle were read.
    pub(super) const fn has_wheels(&self) -> [bool; 2] {
        [self.front.wheels_kg.is_some(), self.rear.wheels_kg.is_some()]
    }

    /// How far front and rear axle may be off when one reading may be off by so much: the root of the sum of squares.
    pub(super) fn readings_off(&self, one_kg: f64) -> [f64; 2] {
        [self.front, self.rear].map(|axle| one_kg * axle.readings().sqrt())
    }

    /// Wheel by wheel, an axle whose wheels were not read leaning as `worked_out` does.
    pub(super) fn leaning_as(&self, worked_out: WheelLoads) -> WheelLoads {
        let lean = worked_out.with_axles(self.loads());
        let [front_left_kg, front_right_kg] = self
            .front
            .wheels_kg
            .unwrap_or([lean.front_left_kg, lean.front_right_kg]);
        let [rear_left_kg, rear_right_kg] = self.rear.wheels_kg.unwrap_or([lean.rear_left_kg, lean.rear_right_kg]);
        WheelLoads {
            front_left_kg,
            front_right_kg,
            rear_left_kg,
            rear_right_kg,
        }
    }
}

/// When it was weighed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum When {
    Before,
    After,
}

impl When {
    const fn word(self) -> &'static str {
        match self {
            Self::Before => "before",
            Self::After => "after",
        }
    }
}

/// What it showed of one axle; `None` while neither the axle nor both its wheels were entered.
pub(super) fn of_axle(masses: &Masses, when: When, axle: Axle) -> Option<OfAxle> {
    let (axles, wheels): ([Option<Grams>; 2], &WheelReadings) = match when {
        When::Before => ([masses.front_before_kg, masses.rear_before_kg], &masses.wheels_before),
        When::After => ([masses.front_after_kg, masses.rear_after_kg], &masses.wheels_after),
    };
    let [front, rear] = axles.map(|reading| reading.map(Grams::kg));
    let entered_kg = match axle {
        Axle::Front => front,
        Axle::Rear => rear,
    };
    let [left, right] = Wheel::of(axle).map(|wheel| wheels.of(wheel).map(Grams::kg));
    let wheels_kg = left.zip(right).map(Into::into);
    let kg = wheels_kg.map(|[left, right]: [f64; 2]| left + right).or(entered_kg)?;
    Some(OfAxle {
        kg,
        wheels_kg,
        entered_kg,
    })
}

/// What it showed of both axles; `None` while one is missing.
pub(super) fn read(masses: &Masses, when: When) -> Option<Scale> {
    Some(Scale {
        front: of_axle(masses, when, Axle::Front)?,
        rear: of_axle(masses, when, Axle::Rear)?,
    })
}

/// How far a reading before the work may be off, kilograms.
pub(super) fn before_off_kg(job: &Job) -> f64 {
    let entered = job.vehicle.masses.reading_off_kg;
    entered.unwrap_or_else(|| usual::reading_off(&job.vehicle)).kg()
}

/// How far a reading after the work may be off, kilograms: it is one of a scale, however the loads before are known.
pub(super) fn after_off_kg(job: &Job) -> f64 {
    job.vehicle.masses.reading_off_kg.unwrap_or(usual::WEIGHBRIDGE_OFF).kg()
}

/// Axles whose reading is not what their wheels weigh together, within what three readings may be off, in words.
pub(super) fn conflicts(job: &Job) -> Vec<String> {
    let masses = &job.vehicle.masses;
    let told = |when: When, axle: Axle| {
        let found = of_axle(masses, when, axle)?;
        let (entered_kg, _) = found.entered_kg.zip(found.wheels_kg)?;
        let off_kg = match when {
            When::Before => before_off_kg(job),
            When::After => after_off_kg(job),
        } * 3.0_f64.sqrt();
        let apart_kg = (found.kg - entered_kg).abs();
        (apart_kg > off_kg).then(|| {
            format!(
                "{} axle, {} the work: {} entered, and its two wheels together {}: {} apart, where readings may differ by \
                 {}; the wheels count",
                axle.name(),
                when.word(),
                mass_words(entered_kg),
                mass_words(found.kg),
                mass_words(apart_kg),
                mass_words(off_kg)
            )
        })
    };
    [When::Before, When::After]
        .into_iter()
        .flat_map(|when| [Axle::Front, Axle::Rear].map(|axle| told(when, axle)))
        .flatten()
        .collect()
}
