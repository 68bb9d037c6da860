//! Panels in series without load: what they give then against what pack and drive take.

use super::given::Given;
use crate::document::RoadFigure;
use crate::{IsolatedName, assumed};

/// Volts of the panels without load, held against pack and drive.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OpenVolts {
    /// Panels in series.
    pub in_series: u32,
    /// Of one panel.
    pub one_v: f64,
    /// Of all in series.
    pub all_v: f64,
    /// Whether `one_v` was entered; else it is taken from the volts at full power, which are below it.
    pub is_entered: bool,
    /// The pack empty, volts.
    pub empty_v: f64,
    /// The pack full, volts.
    pub full_v: f64,
    /// The drive's absolute most, where it is known.
    pub absolute_v: Option<f64>,
    /// Whether a transformer is between panels and pack.
    pub is_isolated: bool,
}

/// How far up they reach.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reach {
    /// Below the empty pack: a step-up stage holds them back.
    Held,
    /// To the empty pack or above: a plain step-up stage is a closed way for them while the pack is that low.
    Empty,
    /// To the full pack or above: they charge it beyond full.
    Full,
    /// To the drive's absolute most or above.
    Absolute,
}

impl OpenVolts {
    /// How far up they reach; with a transformer between there is no way through.
    pub fn reach(&self) -> Reach {
        if self.is_isolated {
            Reach::Held
        } else if self.absolute_v.is_some_and(|most| self.all_v >= most) {
            Reach::Absolute
        } else if self.all_v >= self.full_v {
            Reach::Full
        } else if self.all_v >= self.empty_v {
            Reach::Empty
        } else {
            Reach::Held
        }
    }

    /// Whether a step-up stage holds them back; `None` where only their volts at full power are known to be low enough.
    pub fn is_held(&self) -> Option<bool> {
        match self.reach() {
            Reach::Held => (self.is_entered || self.is_isolated).then_some(true),
            Reach::Empty | Reach::Full | Reach::Absolute => Some(false),
        }
    }

    /// The most in series that stay below the empty pack; 0 when not even one does.
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a small whole number of zero or more"
    )]
    pub fn most_in_series(&self) -> u32 {
        ((self.empty_v / self.one_v).ceil() - 1.0).max(0.0) as u32
    }

    /// What is wrong, in words; `None` where a step-up stage holds them back.
    pub fn words(&self) -> Option<String> {
        let against = match self.reach() {
            Reach::Held => return None,
            Reach::Empty => format!(
                "reach the {:.1} V of the empty pack: a plain step-up stage cannot hold them back then",
                self.empty_v
            ),
            Reach::Full => format!(
                "reach the {:.1} V of the full pack: through a step-up stage they charge it beyond full, whatever it is set to",
                self.full_v
            ),
            Reach::Absolute => format!(
                "reach the {:.1} V that the drive takes at the very most",
                self.absolute_v.unwrap_or(self.full_v)
            ),
        };
        let (count, one, all) = (self.in_series, self.one_v, self.all_v);
        let panels = if count == 1 { "panel" } else { "panels in series" };
        let known = if self.is_entered {
            "without load"
        } else {
            "at full power, and more without load"
        };
        Some(format!("{count} {panels} of {one:.1} V {known}, {all:.1} V, {against}"))
    }

    /// What mends it.
    pub fn fix(&self) -> String {
        match self.most_in_series() {
            0 => "a stage with a transformer that steps down: not even one panel stays below the empty pack".to_owned(),
            most => format!(
                "at most {most} in series, the rest side by side, or a stage with a transformer that steps down"
            ),
        }
    }
}

/// Held against pack and drive; `None` while the panels' volts or the pack are not known.
pub(super) fn evaluate(given: &Given<'_>) -> Option<OpenVolts> {
    let pack = given.pack?;
    let in_series = given.road.in_series.unwrap_or(assumed::IN_SERIES);
    let open_v = given.entered(RoadFigure::PanelOpenVolts);
    let one_v = open_v.or_else(|| given.entered(RoadFigure::PanelVolts))?;
    Some(OpenVolts {
        in_series,
        one_v,
        all_v: one_v * f64::from(in_series),
        is_entered: open_v.is_some(),
        empty_v: pack.empty_v,
        full_v: pack.full_v,
        absolute_v: given.drive_absolute_v,
        is_isolated: given.road.isolated == Some(IsolatedName::Yes),
    })
}
