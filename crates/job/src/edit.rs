//! The named things a person does to a job: the only way a job changes.

mod bed;
mod keep_out;
pub(crate) mod revision;
mod stock;
mod truck;
mod units;
mod wiring;
mod words;

use geometry::{Axis, Orientation, Point};
use tape::show::{Fraction, Style};
use tape::{Length, survey};

use crate::document::{
    AsBuilt, BatteryBox, Cavity, FittingName, FromCorners, Issued, KeepOut, Kind, Len, Line, Placed, Reading, Says,
    Source, Stands, Statement, Travel, WallFitting, WallName,
};
use crate::evaluate::observe;
use crate::field::{self, Field, FieldError, State};
use crate::layout::{Count, Which};
use crate::{Id, Job, whole};

pub use bed::BedEdit;
pub use stock::StockEdit;
pub use truck::TruckEdit;
pub use units::UnitsEdit;
pub use wiring::WiringEdit;

/// One thing a person does.
#[derive(Clone, Debug, PartialEq)]
pub enum Edit {
    /// Enters a value.
    Set {
        /// Which value.
        field: Field,
        /// What was typed.
        text: String,
    },
    /// Confirms an assumed value, so that it counts as given.
    Confirm(Field),
    /// Adds a cavity without readings.
    AddCavity,
    /// Removes a cavity with its keep-outs and boxes.
    RemoveCavity(Id),
    /// Adds a reading.
    AddReading {
        /// To which cavity.
        cavity: Id,
        /// Along which line.
        line: Line,
        /// What was read, as typed.
        text: String,
    },
    /// Removes a reading.
    RemoveReading {
        /// From which cavity.
        cavity: Id,
        /// Its place in the list.
        index: usize,
    },
    /// Says something of a cavity's shape.
    AddStatement {
        /// Of which cavity.
        cavity: Id,
        /// What holds.
        says: Says,
        /// Of which lines.
        lines: Vec<Line>,
    },
    /// Takes a statement back.
    RemoveStatement {
        /// Of which cavity.
        cavity: Id,
        /// Its place in the list.
        index: usize,
    },
    /// Notes that no tape passes along a line, so that it is not asked for; or that one does.
    OutOfReach {
        /// In which cavity.
        cavity: Id,
        /// Which line from corner to corner.
        line: survey::Line,
        /// Whether it is out of reach.
        is: bool,
    },
    /// Adds a keep-out of 1 in (25 mm) at the cavity's corner, to be filled in.
    AddKeepOut(Id),
    /// Removes a keep-out.
    RemoveKeepOut(Id),
    /// Adds a kind of module.
    AddKind,
    /// Removes a kind and every module of it.
    RemoveKind(Id),
    /// Adds an empty box.
    AddBox {
        /// To which cavity.
        cavity: Id,
        /// Its datum, in the cavity's frame.
        at: Point,
    },
    /// Removes a box with its modules.
    RemoveBox(Id),
    /// Lets a fitting into the front wall of a box, to be filled in.
    AddFitting {
        /// Which box.
        into: Id,
        /// Its middle along the wall from the left, and up from the floor.
        at: [Length; 2],
    },
    /// Lets fittings into a box, as they are but for their numbers, which are given here.
    LetIn {
        /// Which box.
        into: Id,
        /// What is let in.
        fittings: Vec<WallFitting>,
    },
    /// Takes a fitting away.
    RemoveFitting(Id),
    /// Puts a module or a stack in a box.
    AddModule {
        /// Which box.
        into: Id,
        /// Which kind.
        kind: Id,
        /// Its front-left-bottom corner, from the box's datum.
        at: Point,
        /// How it stands.
        stands: Orientation,
        /// Modules in it: 1, or the count of a stack.
        count: u32,
    },
    /// Takes a module or a stack out.
    RemoveModule(Id),
    /// Moves a module or a stack.
    NudgeModule {
        /// Which.
        module: Id,
        /// By how much.
        by: Point,
    },
    /// Moves a box with everything in it.
    NudgeBox {
        /// Which.
        battery_box: Id,
        /// By how much.
        by: Point,
    },
    /// Turns a module or a stack, its front-left-bottom corner staying.
    Turn {
        /// Which.
        module: Id,
        /// How it stands then.
        to: Orientation,
    },
    /// Moves a module or a stack to another box.
    MoveToBox {
        /// Which.
        module: Id,
        /// To which box.
        to: Id,
        /// Its corner there, from that box's datum.
        at: Point,
    },
    /// Pins a module or a stack where it stands, so that a new layout is laid around it; or lets it go again.
    Pin {
        /// Which.
        module: Id,
        /// Whether it is to stay.
        pinned: bool,
    },
    /// Takes over a layout that the program worked out, in place of all boxes.
    AcceptLayout(Vec<BatteryBox>),
    /// Takes over a layout that was asked for with a number of its own, and that number as the one wanted.
    AcceptWanted {
        /// The number that was asked for.
        count: Count,
        /// In place of all boxes.
        boxes: Vec<BatteryBox>,
    },
    /// Moves modules or boxes apart, so that the smallest clearance is as large as it can be.
    Spread {
        /// What was spread.
        which: Which,
        /// In place of all boxes.
        boxes: Vec<BatteryBox>,
    },
    /// Changes the order of the wiring.
    Wiring(WiringEdit),
    /// Changes the list of tested units.
    Units(UnitsEdit),
    /// Changes the list of stock.
    Stock(StockEdit),
    /// Changes the list of what turns with the bed.
    Bed(BedEdit),
    /// Changes the lists of the truck.
    Truck(TruckEdit),
    /// Notes what the shop was given, and the letter that it has.
    Issue(Box<Issued>),
}

/// An edit that does not fit the job; the job is unchanged.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum EditError {
    /// A value that the field does not take.
    #[error(transparent)]
    Field(#[from] FieldError),
    /// What the edit is about is no longer in the job.
    #[error("{0} is no longer in the job")]
    Gone(&'static str),
    /// A pinned module would be moved along: it is pinned so that no slip of a key does that.
    #[error("{0} is pinned where it stands")]
    Pinned(String),
    /// A statement that lines of this sort cannot have.
    #[error("{0}")]
    NoStatement(&'static str),
    /// The job would no longer make sense.
    #[error(transparent)]
    NotWhole(#[from] whole::Fault),
}

impl EditError {
    /// How to mend it, as an instruction.
    pub fn mend(&self) -> String {
        match self {
            Self::Field(error) => error.mend.clone(),
            Self::Pinned(label) => format!("unpin {label} first"),
            Self::NoStatement(_) => {
                "level and plumb take one edge, parallel two edges along the same direction, square two that meet"
                    .to_owned()
            }
            Self::Gone(_) => "undo, or choose another entry".to_owned(),
            Self::NotWhole(fault) => fault.mend.to_owned(),
        }
    }
}

impl Job {
    /// The job as it is after `edit`.
    ///
    /// # Errors
    ///
    /// Refuses an edit that does not fit the job.
    pub fn with(&self, edit: &Edit) -> Result<Self, EditError> {
        let mut job = self.clone();
        apply(&mut job, edit)?;
        whole::check_edit(self, &job)?;
        Ok(job)
    }
}

#[expect(clippy::too_many_lines, reason = "one arm for each edit")]
fn apply(job: &mut Job, edit: &Edit) -> Result<(), EditError> {
    let id = job.next_id();
    let units = job.units.units();
    match edit {
        Edit::Set { field, text } => {
            if *field == Field::Revision {
                let text = revision::letters(text);
                revision::check(job, &text)?;
                field::set(job, *field, &text)?;
            } else if let Field::KeepOutShape(id) = *field {
                keep_out::reshape(job, id, text)?;
            } else {
                field::set(job, *field, text)?;
            }
        }
        Edit::Confirm(field) => confirm(job, *field)?,
        Edit::AddCavity => {
            let name = free_name("cavity", job.cavities.iter().map(|c| c.name.as_str()));
            job.cavities.push(Cavity::named(id, &name));
        }
        Edit::RemoveCavity(id) => {
            remove(&mut job.cavities, |c| c.id == *id, "the cavity")?;
            job.boxes.retain(|b| b.cavity != *id);
        }
        Edit::AddReading { cavity, line, text } => add_reading(job, *cavity, line, text)?,
        Edit::RemoveReading { cavity, index } => {
            let readings = &mut find(&mut job.cavities, |c| c.id == *cavity, "the cavity")?.readings;
            if *index >= readings.len() {
                return Err(EditError::Gone("the reading"));
            }
            readings.remove(*index);
        }
        Edit::AddStatement { .. } | Edit::RemoveStatement { .. } | Edit::OutOfReach { .. } => of_shape(job, edit)?,
        Edit::AddKeepOut(cavity) => add_keep_out(job, *cavity, id)?,
        Edit::RemoveKeepOut(id) => {
            let cavity = job
                .cavities
                .iter_mut()
                .find(|c| c.keep_outs.iter().any(|k| k.id == *id));
            cavity
                .ok_or(EditError::Gone("the keep-out"))?
                .keep_outs
                .retain(|k| k.id != *id);
        }
        Edit::AddKind => {
            let name = free_name("module", job.kinds.iter().map(|k| k.name.as_str()));
            job.kinds.push(Kind {
                id,
                name,
                ..Kind::default()
            });
        }
        Edit::RemoveKind(id) => {
            remove(&mut job.kinds, |k| k.id == *id, "the kind")?;
            job.boxes.iter_mut().for_each(|b| b.modules.retain(|m| m.kind != *id));
            job.tested.retain(|u| u.kind != *id);
        }
        Edit::AddBox { cavity, at } => add_box(job, *cavity, *at, id),
        Edit::RemoveBox(id) => remove(&mut job.boxes, |b| b.id == *id, "the box")?,
        Edit::AddFitting { .. } | Edit::LetIn { .. } | Edit::RemoveFitting(_) => of_fittings(job, edit, id)?,
        Edit::AddModule {
            into,
            kind,
            at,
            stands,
            count,
        } => {
            let placed = Placed {
                id: job.next_module_id(),
                kind: *kind,
                at: place(*at, units),
                stands: Stands::of(*stands),
                count: *count,
                pinned: false,
            };
            find(&mut job.boxes, |b| b.id == *into, "the box")?.modules.push(placed);
        }
        Edit::RemoveModule(id) => {
            take_out(job, *id)?;
        }
        Edit::NudgeModule { module, by } => {
            let placed = movable(job, *module)?;
            placed.at = place(placed.corner() + *by, units);
        }
        Edit::NudgeBox { battery_box, by } => {
            let battery_box = find(&mut job.boxes, |b| b.id == *battery_box, "the box")?;
            if let Some(pinned) = battery_box.modules.iter().find(|m| m.pinned) {
                return Err(EditError::Pinned(pinned.label()));
            }
            battery_box.at = place(battery_box.datum() + *by, units);
        }
        Edit::Turn { module, to } => movable(job, *module)?.stands = Stands::of(*to),
        Edit::MoveToBox { module, to, at } => {
            movable(job, *module)?;
            let mut placed = take_out(job, *module)?;
            placed.at = place(*at, units);
            find(&mut job.boxes, |b| b.id == *to, "the box")?.modules.push(placed);
        }
        Edit::Pin { module, pinned } => find_placed(job, *module)?.pinned = *pinned,
        Edit::AcceptLayout(boxes) | Edit::Spread { boxes, .. } => job.boxes.clone_from(boxes),
        Edit::AcceptWanted { count, boxes } => {
            (job.wanted.series, job.wanted.parallel) = (Some(count.series), count.parallel);
            job.boxes.clone_from(boxes);
        }
        Edit::Wiring(edit) => wiring::apply(job, edit)?,
        Edit::Units(edit) => units::apply(job, edit)?,
        Edit::Stock(edit) => stock::apply(job, edit)?,
        Edit::Bed(edit) => bed::apply(job, *edit)?,
        Edit::Truck(edit) => truck::apply(job, *edit)?,
        Edit::Issue(issued) => issue(job, issued),
    }
    Ok(())
}

fn issue(job: &mut Job, issued: &Issued) {
    job.revision.clone_from(&issued.revision);
    job.issued.push(issued.clone());
}

fn of_fittings(job: &mut Job, edit: &Edit, new: Id) -> Result<(), EditError> {
    let units = job.units.units();
    match edit {
        Edit::AddFitting { into, at } => {
            let [along, up] = at.map(|length| Len::exactly(length, units));
            let battery_box = find(&mut job.boxes, |b| b.id == *into, "the box")?;
            battery_box.fittings.push(WallFitting {
                id: new,
                what: FittingName::default(),
                wall: WallName::Front,
                along,
                up,
                hole: None,
                across: None,
                out: None,
                inward: None,
            });
        }
        Edit::LetIn { into, fittings } => {
            let ids = job.free_ids();
            let battery_box = find(&mut job.boxes, |b| b.id == *into, "the box")?;
            let numbered = fittings
                .iter()
                .zip(ids)
                .map(|(fitting, id)| WallFitting { id, ..fitting.clone() });
            battery_box.fittings.extend(numbered);
        }
        Edit::RemoveFitting(id) => {
            let holder = job.boxes.iter_mut().find(|b| b.fittings.iter().any(|f| f.id == *id));
            holder
                .ok_or(EditError::Gone("the fitting"))?
                .fittings
                .retain(|f| f.id != *id);
        }
        _ => {}
    }
    Ok(())
}

/// What is said of a cavity's shape and of its lines.
fn of_shape(job: &mut Job, edit: &Edit) -> Result<(), EditError> {
    match edit {
        Edit::AddStatement { cavity, says, lines } => {
            let statement = Statement {
                says: *says,
                lines: lines.clone(),
                within: None,
            };
            observe(&statement, Length::mm(1)).map_err(EditError::NoStatement)?;
            find(&mut job.cavities, |c| c.id == *cavity, "the cavity")?
                .statements
                .push(statement);
        }
        Edit::RemoveStatement { cavity, index } => {
            let statements = &mut find(&mut job.cavities, |c| c.id == *cavity, "the cavity")?.statements;
            if *index >= statements.len() {
                return Err(EditError::Gone("the statement"));
            }
            statements.remove(*index);
        }
        Edit::OutOfReach { cavity, line, is } => {
            let out = &mut find(&mut job.cavities, |c| c.id == *cavity, "the cavity")?.out_of_reach;
            out.retain(|l| l.of_survey() != Some(*line));
            if *is {
                let [from, to] = line.ends();
                out.push(Line::Corners(from, to));
            }
        }
        _ => {}
    }
    Ok(())
}

/// Three lengths that the program worked out, as they are stored.
pub(crate) fn place(at: Point, units: tape::Units) -> [Len; 3] {
    Axis::ALL.map(|axis| Len::exactly(at[axis], units))
}

fn confirm(job: &mut Job, field: Field) -> Result<(), EditError> {
    let shown = field::show(job, &[field]);
    let (_, shown) = shown.first().ok_or(EditError::Gone("the value"))?;
    // Words that stand for a rule ("best that fits the drive") are no value to store.
    if shown.state == State::Assumed
        && !matches!(
            field,
            Field::WantedSeries | Field::WantedParallel | Field::KindRestCurve(_)
        )
    {
        let text = shown.text.clone();
        field::set(job, field, &text)?;
    }
    Ok(())
}

fn add_box(job: &mut Job, cavity: Id, at: Point, id: Id) {
    let name = free_name("box", job.boxes.iter().map(|b| b.name.as_str()));
    job.boxes.push(BatteryBox {
        id,
        name,
        cavity,
        at: place(at, job.units.units()),
        bay: None,
        fixed: None,
        step: None,
        as_built: AsBuilt::default(),
        bracket_leg: None,
        fittings: Vec::new(),
        places: crate::Places::default(),
        modules: Vec::new(),
    });
}

/// A new keep-out has a size that can be seen, at the corner, to be filled in.
fn add_keep_out(job: &mut Job, cavity: Id, id: Id) -> Result<(), EditError> {
    let units = job.units.units();
    let cavity = find(&mut job.cavities, |c| c.id == cavity, "the cavity")?;
    let name = free_name("keep-out", cavity.keep_outs.iter().map(|k| k.name.as_str()));
    let side = match units {
        tape::Units::Inch => Length::inches(1),
        tape::Units::Millimetre => Length::mm(25),
    };
    let at = |length| std::array::from_fn(|_| Len::exactly(length, units));
    cavity.keep_outs.push(KeepOut {
        id,
        name,
        source: Source::Frame,
        shape: None,
        diameter: None,
        measured_from: None,
        distances: FromCorners::default(),
        travel: Travel::default(),
        from: at(Length::ZERO),
        to: at(side),
        margin: None,
        taken_out: false,
        note: String::new(),
    });
    Ok(())
}

fn add_reading(job: &mut Job, cavity: Id, line: &Line, text: &str) -> Result<(), EditError> {
    let units = job.units.units();
    let cavity_ref = find(&mut job.cavities, |c| c.id == cavity, "the cavity")?;
    let index = cavity_ref.readings.len();
    // The reading is set through its field, so that it is refused in the same words as when it is changed later.
    let read = Len::exactly(Length::inches(1), units);
    cavity_ref.readings.push(Reading {
        line: line.clone(),
        read,
        taken: None,
        decided: None,
        note: String::new(),
    });
    field::set(job, Field::ReadingValue(cavity, index), text)?;
    Ok(())
}

fn find<'a, T>(list: &'a mut [T], is: impl Fn(&T) -> bool, what: &'static str) -> Result<&'a mut T, EditError> {
    list.iter_mut().find(|item| is(item)).ok_or(EditError::Gone(what))
}

fn remove<T>(list: &mut Vec<T>, is: impl Fn(&T) -> bool, what: &'static str) -> Result<(), EditError> {
    let index = list.iter().position(is).ok_or(EditError::Gone(what))?;
    list.remove(index);
    Ok(())
}

fn find_placed(job: &mut Job, id: Id) -> Result<&mut Placed, EditError> {
    let placed = job.boxes.iter_mut().flat_map(|b| &mut b.modules).find(|m| m.id == id);
    placed.ok_or(EditError::Gone("the module"))
}

/// The module or stack, unless it is pinned.
fn movable(job: &mut Job, id: Id) -> Result<&mut Placed, EditError> {
    let placed = find_placed(job, id)?;
    if placed.pinned {
        return Err(EditError::Pinned(placed.label()));
    }
    Ok(placed)
}

fn take_out(job: &mut Job, id: Id) -> Result<Placed, EditError> {
    let found = job.boxes.iter_mut().find_map(|b| {
        let index = b.modules.iter().position(|m| m.id == id)?;
        Some(b.modules.remove(index))
    });
    found.ok_or(EditError::Gone("the module"))
}

/// `word` with the first number that no name in `taken` has.
fn free_name<'a>(word: &str, taken: impl Iterator<Item = &'a str>) -> String {
    let taken: Vec<&str> = taken.collect();
    let names = (1..).map(|n| format!("{word} {n}"));
    names
        .into_iter()
        .find(|name| !taken.contains(&name.as_str()))
        .unwrap_or_default()
}

impl Edit {
    /// What was done, in words for "undid: ..." (with the job as it was before or after it, for names).
    pub fn words(&self, job: &Job) -> String {
        let module = |id: &Id| {
            job.placed(*id)
                .map_or_else(|| format!("M{}", id.0), |(_, placed)| placed.label())
        };
        let box_name = |id: &Id| job.battery_box(*id).map_or("box".to_owned(), |b| b.name.clone());
        // As the tape shows it: what was worked out in between may be no mark of it.
        let style = Style {
            units: job.units.units(),
            fraction: Fraction::SixtyFourth,
        };
        let step = |by: &Point| {
            let steps = Axis::ALL.into_iter().filter(|&a| by[a] != Length::ZERO).map(|a| {
                let face = if by[a].is_negative() {
                    geometry::Face::low(a)
                } else {
                    geometry::Face::high(a)
                };
                format!("{} {}", style.near(by[a].abs()), face.towards())
            });
            steps.collect::<Vec<_>>().join(", ")
        };
        match self {
            Self::Set { field, text } => words::of_set(*field, text, job),
            Self::Confirm(field) => format!("confirm {}", words::named(*field, job)),
            Self::AddCavity => "add a cavity".to_owned(),
            Self::RemoveCavity(id) => {
                format!("remove {}", job.cavity(*id).map_or("a cavity", |c| c.name.as_str()))
            }
            Self::AddReading { line, text, .. } => format!("read {line} as {}", text.trim()),
            Self::RemoveReading { .. } => "remove a reading".to_owned(),
            Self::AddStatement { says, lines, .. } => {
                let lines: Vec<String> = lines.iter().map(Line::to_string).collect();
                let are = if lines.len() == 1 { "is" } else { "are" };
                format!("say that {} {are} {}", lines.join(" and "), says.name())
            }
            Self::RemoveStatement { .. } => "take a statement back".to_owned(),
            Self::OutOfReach { line, is: true, .. } => format!("say that {line} is out of reach"),
            Self::OutOfReach { line, is: false, .. } => format!("say that {line} can be reached"),
            Self::AddKeepOut(_) => "add a keep-out".to_owned(),
            Self::RemoveKeepOut(_) => "remove a keep-out".to_owned(),
            Self::AddKind => "add a kind".to_owned(),
            Self::RemoveKind(id) => format!("remove {}", job.kind(*id).map_or("a kind", |k| k.name.as_str())),
            Self::AddBox { .. } => "add a box".to_owned(),
            Self::RemoveBox(id) => format!("remove {}", box_name(id)),
            Self::AddFitting { into: id, .. } => format!("add a fitting to {}", box_name(id)),
            Self::LetIn { into: id, fittings } => match fittings.as_slice() {
                [one] => format!("let a {} into {}", one.what.name(), box_name(id)),
                all => format!("let {} fittings into {}", all.len(), box_name(id)),
            },
            Self::RemoveFitting(id) => {
                format!("remove a {}", job.fitting(*id).map_or("fitting", |f| f.what.name()))
            }
            Self::AddModule { count: 1, .. } => "add a module".to_owned(),
            Self::AddModule { count, .. } => format!("add a stack of {count}"),
            Self::RemoveModule(id) => format!("take out {}", module(id)),
            Self::NudgeModule { module: id, by } => format!("nudge {} by {}", module(id), step(by)),
            Self::NudgeBox { battery_box, by } => format!("nudge {} by {}", box_name(battery_box), step(by)),
            Self::Turn { module: id, .. } => format!("turn {}", module(id)),
            Self::MoveToBox { module: id, to, .. } => format!("move {} to {}", module(id), box_name(to)),
            Self::AcceptLayout(boxes) if boxes.is_empty() => "clear the layout".to_owned(),
            Self::AcceptLayout(_) => "take over the layout".to_owned(),
            Self::Pin {
                module: id,
                pinned: true,
            } => format!("pin {}", module(id)),
            Self::Pin {
                module: id,
                pinned: false,
            } => format!("unpin {}", module(id)),
            Self::AcceptWanted { count, .. } => format!("take over the layout of {count}"),
            Self::Spread { which, .. } => which.words(job),
            Self::Wiring(edit) => edit.words(job),
            Self::Units(edit) => edit.words(job),
            Self::Stock(edit) => edit.words(),
            Self::Bed(edit) => edit.words().to_owned(),
            Self::Truck(edit) => edit.words(job),
            Self::Issue(issued) => format!("issue revision {}", issued.revision),
        }
    }

    /// Both as one, when `self` continues `before`: repeated nudges of one thing in one direction undo together.
    pub(crate) fn continues(&self, before: &Self) -> Option<Self> {
        let same_way = |a: &Point, b: &Point| Axis::ALL.into_iter().all(|x| a[x].nm().signum() == b[x].nm().signum());
        match (self, before) {
            (Self::NudgeModule { by: a, .. }, Self::NudgeModule { by: b, .. })
            | (Self::NudgeBox { by: a, .. }, Self::NudgeBox { by: b, .. })
                if same_way(a, b) =>
            {
                self.after_nudge(before)
            }
            _ => None,
        }
    }

    /// Both as one, when they are nudges of one thing.
    pub(crate) fn after_nudge(&self, before: &Self) -> Option<Self> {
        match (self, before) {
            (Self::NudgeModule { module, by }, Self::NudgeModule { module: b, by: first }) if module == b => {
                Some(Self::NudgeModule {
                    module: *module,
                    by: *first + *by,
                })
            }
            (
                Self::NudgeBox { battery_box, by },
                Self::NudgeBox {
                    battery_box: b,
                    by: first,
                },
            ) if battery_box == b => Some(Self::NudgeBox {
                battery_box: *battery_box,
                by: *first + *by,
            }),
            _ => None,
        }
    }
}

impl Placed {
    /// M and its number, or S and its number for a stack.
    pub fn label(&self) -> String {
        format!("{}{}", if self.count > 1 { 'S' } else { 'M' }, self.id.0)
    }
}
