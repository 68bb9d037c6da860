//! Sizes as they are marked out, and what their rounding can cost.
//!
//! Parts that go *into* a space round down, openings up. What that does to each part:
//!
//! - **Floors, riser, sides, ends** set the inside and the outside at once. Rounded down the box still goes into its cavity,
//!   and the modules lose up to one mark inside: [`rounding_loss`] says how much, to compare with the room left.
//!   Rounded up they would eat the clearance that was checked.
//! - **Flat lid, flange and the bars of a frame round a welded box** set the largest outside sizes: down. Bars are set against
//!   the wall one by one, so a short one leaves a joint open by less than a mark, for the weld to fill.
//! - **Frame, ring and posts of a box of panels** are openings that the panels go into: up, or a panel that lost less to its mark
//!   than the angle would not go in. They grow the outside as a cap does.
//! - **Cap plate and skirt lengths** must go over the body: up, since the play may be less than a mark. They grow
//!   the outside by up to one mark: [`rounding_growth`] says how much, to compare with the clearance.
//! - **The skirt's own width** hangs into a space: down. It decides nothing else.
//! - **Holes** are openings: up.
//! - **A folded tray** is marked out flat and goes into a space: down. **A pan lid** goes over the body: up.
//! - **What goes into the box** (bars, lugs, dividers, end plates, the liner's sheets) and brackets: down. **Rods** need their thread: up.
//! - **The width of a bar**, and the leg of an angle, is bought, not cut: exact.

use tape::{Length, Units};

use crate::{Built, Form, Part, Role};

/// The finest mark that sizes in inches are rounded to.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Fineness {
    /// 1/16 in.
    #[default]
    Sixteenth,
    /// 1/32 in.
    ThirtySecond,
}

impl Fineness {
    /// The distance from mark to mark.
    pub const fn step(self) -> Length {
        match self {
            Self::Sixteenth => Length::sixty_fourths(4),
            Self::ThirtySecond => Length::sixty_fourths(2),
        }
    }
}

/// Which way a size was rounded.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Rounding {
    /// Down: it goes into a space.
    Down,
    /// Up: it is an opening, or goes over something.
    Up,
    /// Not at all: it is bought in this size, not cut.
    AsBought,
}

impl Rounding {
    /// The directions of length and width of a part in this role of this box.
    pub fn of(role: Role, built: &Built) -> [Self; 2] {
        match role {
            Role::LidPlate if is_capped(built) => [Self::Up, Self::Up],
            Role::FrameLong | Role::FrameShort | Role::RingLong | Role::RingShort | Role::Post
                if holds_panels(built) =>
            {
                [Self::Up, Self::AsBought]
            }
            Role::PanLid => [Self::Up, Self::Up],
            Role::SkirtLong | Role::SkirtShort => [Self::Up, Self::Down],
            Role::FlangeLong
            | Role::FlangeShort
            | Role::FrameLong
            | Role::FrameShort
            | Role::RingLong
            | Role::RingShort
            | Role::Post
            | Role::Bracket
            | Role::HoldDownBar
            | Role::HoldDownAngle
            | Role::Lug
            | Role::Standoff
            | Role::Stiffener
            | Role::FloorRail => [Self::Down, Self::AsBought],
            // A rod too short has no thread left for its nut.
            Role::HoldDownRod | Role::TieRod => [Self::Up, Self::AsBought],
            Role::Floor
            | Role::RaisedFloor
            | Role::Riser
            | Role::LongSide
            | Role::End
            | Role::LidPlate
            | Role::Tray
            | Role::Divider
            | Role::EndPlate
            | Role::EyePlate
            | Role::LinerFloor
            | Role::LinerRaised
            | Role::LinerRiser
            | Role::LinerSide
            | Role::LinerEnd => [Self::Down, Self::Down],
        }
    }

    fn round(self, exact: Length, step: Length) -> Length {
        match self {
            Self::Down => exact.round_down_to(step),
            Self::Up => exact.round_up_to(step),
            Self::AsBought => exact,
        }
    }
}

/// Whether its angle is a frame that panels go into.
fn holds_panels(built: &Built) -> bool {
    built.parts.iter().any(|part| part.role == Role::Post)
}

/// Whether the lid plate is that of a cap.
fn is_capped(built: &Built) -> bool {
    built.parts.iter().any(|part| part.role == Role::SkirtLong)
}

/// A size as exact and as marked out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Rounded {
    /// The exact size.
    pub exact: Length,
    /// To the finest mark in inches; exact when it is bought.
    pub inches: Length,
    /// To 0.1 mm; exact when it is bought.
    pub tenth_mm: Length,
    /// Which way both were rounded.
    pub direction: Rounding,
}

impl Rounded {
    /// Rounds one size.
    pub fn new(exact: Length, direction: Rounding, fineness: Fineness) -> Self {
        Self {
            exact,
            inches: direction.round(exact, fineness.step()),
            tenth_mm: direction.round(exact, Length::tenths_mm(1)),
            direction,
        }
    }

    /// Length and width of a part of a box.
    pub fn of_part(part: &Part, built: &Built, fineness: Fineness) -> [Self; 2] {
        let [length, width] = Rounding::of(part.role, built);
        [
            Self::new(part.length, length, fineness),
            Self::new(part.width, width, fineness),
        ]
    }

    /// The diameter of a hole: up, since it is an opening.
    pub fn hole(diameter: Length, fineness: Fineness) -> Self {
        Self::new(diameter, Rounding::Up, fineness)
    }

    /// How far the larger of the two rounded sizes is above the exact one; zero when neither is.
    fn most_gain(self) -> Length {
        self.inches.max(self.tenth_mm).max(self.exact) - self.exact
    }

    /// How far the smaller of the two rounded sizes is below the exact one; zero when neither is.
    fn most_loss(self) -> Length {
        self.exact - self.inches.min(self.tenth_mm).min(self.exact)
    }
}

/// How much the inside may lose in length, width and depth when the shell is cut to the rounded sizes, in inches or
/// in millimetres, whichever loses more.
///
/// A bound: each way, the most that any floor, side or end along it is short. The caller compares it with the room
/// the modules have left.
pub fn rounding_loss(built: &Built, fineness: Fineness) -> [Length; 3] {
    most_along(built, fineness, Rounded::most_loss, |role| {
        matches!(
            role,
            Role::Floor | Role::RaisedFloor | Role::Riser | Role::LongSide | Role::End | Role::Tray
        )
    })
}

/// The same for one who marks out in one system only: to the finest mark in inches, or to 0.1 mm.
pub fn rounding_loss_marked(built: &Built, fineness: Fineness, units: Units) -> [Length; 3] {
    let loss = |size: Rounded| {
        let marked = match units {
            Units::Inch => size.inches,
            Units::Millimetre => size.tenth_mm,
        };
        (size.exact - marked).max(Length::ZERO)
    };
    most_along(built, fineness, loss, |role| {
        matches!(role, Role::Floor | Role::LongSide | Role::End | Role::Tray)
    })
}

/// How much the outside may gain in length, width and height when cut to the rounded sizes: a cap's length and width can, and
/// the angle that holds panels.
///
/// A bound: each way, the most that any part along it is over. The caller compares it with the clearance.
pub fn rounding_growth(built: &Built, fineness: Fineness) -> [Length; 3] {
    let is_frame = |role| {
        matches!(
            role,
            Role::FrameLong | Role::FrameShort | Role::RingLong | Role::RingShort | Role::Post
        )
    };
    most_along(built, fineness, Rounded::most_gain, |role| {
        role.form() == Form::Sheet || is_frame(role)
    })
}

/// The largest `change` of a size of the chosen parts, along each of the box's axes.
fn most_along(
    built: &Built,
    fineness: Fineness,
    change: impl Fn(Rounded) -> Length,
    chosen: impl Fn(Role) -> bool,
) -> [Length; 3] {
    let mut most = [Length::ZERO; 3];
    let mut floors = Length::ZERO;
    for part in built.parts.iter().filter(|part| chosen(part.role)) {
        for (axis, size) in axes(part.role, built)
            .into_iter()
            .flatten()
            .zip(Rounded::of_part(part, built, fineness))
        {
            most[axis] = most[axis].max(change(size));
            if built.step.is_some_and(|step| step.axis() == axis)
                && matches!(part.role, Role::Floor | Role::RaisedFloor)
            {
                floors += change(size);
            }
            // What is off on a flat sheet may all be in its walls.
            if matches!(part.role, Role::Tray | Role::PanLid) {
                most[2] = most[2].max(change(size));
            }
        }
    }
    // Deep and raised floor lie one behind the other: what both are off adds up.
    if let Some(step) = built.step {
        most[step.axis()] = most[step.axis()].max(floors);
    }
    most
}

/// The box's axes that a part's length and width lie along; `None` for what is added, which sets neither the inside nor
/// the outside.
fn axes(role: Role, built: &Built) -> Option<[usize; 2]> {
    let long = usize::from(built.shell[1] > built.shell[0]);
    let axes = match role {
        Role::Bracket
        | Role::HoldDownBar
        | Role::HoldDownAngle
        | Role::Lug
        | Role::HoldDownRod
        | Role::Divider
        | Role::Standoff
        | Role::EndPlate
        | Role::EyePlate
        | Role::TieRod
        | Role::Stiffener
        | Role::FloorRail
        | Role::LinerFloor
        | Role::LinerRaised
        | Role::LinerRiser
        | Role::LinerSide
        | Role::LinerEnd => return None,
        Role::Floor
        | Role::RaisedFloor
        | Role::LidPlate
        | Role::FlangeLong
        | Role::FrameLong
        | Role::RingLong
        | Role::Tray
        | Role::PanLid => [long, 1 - long],
        Role::FlangeShort | Role::FrameShort | Role::RingShort => [1 - long, long],
        Role::Riser => [built.step.map_or(1 - long, |step| 1 - step.axis()), 2],
        Role::Post => [2, long],
        Role::LongSide | Role::SkirtLong => [long, 2],
        Role::End | Role::SkirtShort => [1 - long, 2],
    };
    Some(axes)
}
