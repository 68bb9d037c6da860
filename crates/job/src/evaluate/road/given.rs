//! What the road is worked out from.

use tape::Units;
use truck::TruckError;
use truck::road::{Resistance, Vehicle};

use crate::document::truck::road::coastdown;
use crate::document::{Figure, Figures, Road, RoadFigure};
use crate::{Job, Speed, assumed};

use super::super::pack::PackResult;
use super::packs::{self, Packs};

/// Entries and the figures of the pack.
pub(in crate::evaluate) struct Given<'a> {
    pub(super) road: &'a Road,
    /// Charge line and states of charge.
    pub(super) electrics: &'a Figures,
    pub(super) units: Units,
    pub(super) mass: Option<MassGiven>,
    /// All packs that drive it, as one.
    pub(super) pack: Option<PackGiven>,
    pub(super) packs: Packs,
    /// The most volts that the drive ever takes.
    pub(super) drive_absolute_v: Option<f64>,
    /// The most amps that the drive draws from the pack.
    pub(super) drive_peak_a: Option<f64>,
}

/// A mass for the road.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::evaluate) struct MassGiven {
    /// Kilograms.
    pub(in crate::evaluate) kg: f64,
    /// Where it is from.
    pub(in crate::evaluate) from: String,
    /// Whether it rests on assumed values.
    pub(in crate::evaluate) is_assumed: bool,
}

/// What of the pack counts on the road.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::evaluate) struct PackGiven {
    pub(super) worn_kwh: f64,
    pub(super) usable_kwh: f64,
    pub(super) empty_v: f64,
    pub(super) nominal_v: f64,
    pub(super) full_v: f64,
}

impl<'a> Given<'a> {
    /// From a job, the packs as laid out, and what the truck weighs as driven, when its masses are known.
    pub(in crate::evaluate) fn of(job: &'a Job, laid_out: &[PackResult], weighed: Option<MassGiven>) -> Self {
        let entered = job.vehicle.road.mass_kg.map(|mass| MassGiven {
            kg: mass.kg(),
            from: "your entry".to_owned(),
            is_assumed: false,
        });
        let packs = packs::of(job, laid_out);
        Self {
            road: &job.vehicle.road,
            electrics: &job.electrics.figures,
            units: job.units.units(),
            mass: entered.or(weighed),
            pack: packs.whole,
            packs,
            drive_absolute_v: job.drive.absolute_max_volts.map(pack::Volts::get),
            drive_peak_a: job.drive.peak_amps.map(pack::Amps::get),
        }
    }

    /// A figure as entered, or its default; zero for those that have none.
    pub(super) fn sure(&self, figure: RoadFigure) -> f64 {
        self.road.figures.sure(figure)
    }

    /// The same as a share.
    pub(super) fn share(&self, figure: RoadFigure) -> f64 {
        self.sure(figure) / 100.0
    }

    /// A figure that has no default, if it was entered.
    pub(super) fn entered(&self, figure: RoadFigure) -> Option<f64> {
        self.road.figures.get(figure)
    }

    /// The states of charge that are used between.
    pub(super) fn window(&self) -> [f64; 2] {
        [Figure::SocLow, Figure::SocHigh].map(|figure| self.electrics.sure(figure) / 100.0)
    }

    /// Usable energy as entered, else that of the pack, kWh.
    pub(super) fn usable_kwh(&self) -> Option<f64> {
        self.entered(RoadFigure::UsableKwh)
            .or_else(|| self.pack.map(|pack| pack.usable_kwh))
            .filter(|kwh| *kwh > 0.0)
    }

    /// What the whole pack holds, kWh: where usable energy was entered, as much as its window of charge makes it.
    pub(super) fn whole_kwh(&self) -> Option<f64> {
        let [low, high] = self.window();
        match self.entered(RoadFigure::UsableKwh) {
            Some(usable) => (high > low).then(|| usable / (high - low)),
            None => self.pack.map(|pack| pack.worn_kwh).filter(|kwh| *kwh > 0.0),
        }
    }

    pub(super) fn cruise_mps(&self) -> f64 {
        self.road.cruise.map_or(assumed::cruise(self.units), |speed| speed).si()
    }

    pub(super) fn top_mps(&self) -> f64 {
        self.road.top.map_or(assumed::top(self.units), |speed| speed).si()
    }

    /// What holds the truck back: a coast-down when there is one.
    pub(super) fn resistance(&self) -> Resistance {
        let formula = Resistance::Formula {
            rolling: self.sure(RoadFigure::Rolling) / 1_000.0,
            drag_area_m2: self.sure(RoadFigure::DragArea),
            air_kg_per_m3: self.sure(RoadFigure::Air),
        };
        let entered = self.road.coastdown.as_deref();
        entered.and_then(|text| coastdown::read(text).ok()).unwrap_or(formula)
    }

    /// The truck in summer, and in winter with its heater on.
    pub(super) fn vehicles(&self, mass_kg: f64) -> Result<[Vehicle; 2], TruckError> {
        let summer = Vehicle {
            mass_kg,
            mass_factor: self.sure(RoadFigure::MassFactor),
            resistance: self.resistance(),
            drive_efficiency: self.share(RoadFigure::DriveEfficiency),
            regen_efficiency: self.share(RoadFigure::Regen),
            aux_w: self.sure(RoadFigure::SteadyDraw),
        };
        let winter = Vehicle {
            aux_w: summer.aux_w + self.sure(RoadFigure::CabinHeat),
            ..summer
        };
        summer.checked()?;
        Ok([summer, winter])
    }

    /// Speeds of the tables, metres a second: every 5 mph from 25 to 75, or every 10 km/h from 40 to 120.
    pub(super) fn speeds_mps(&self) -> Vec<f64> {
        let whole: Vec<i64> = match self.units {
            Units::Inch => (25..=75).step_by(5).collect(),
            Units::Millimetre => (40..=120).step_by(10).collect(),
        };
        whole.into_iter().map(|n| Speed::whole(n, self.units).si()).collect()
    }
}
