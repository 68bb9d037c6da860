//! Outlines of what an evaluation holds, and what hides what.

use geometry::{Axis, Cuboid, Faces};
use job::{BoxResult, Evaluation, Grams, KeepOutResult, ModuleResult, Subject};
use tape::Length;

use crate::{Direction, Edge, Outline, Role, Side};

/// Texts of an evaluation, marked when they rest on assumed values.
#[derive(Clone, Copy)]
pub(crate) struct Texts<'a> {
    evaluation: &'a Evaluation,
}

impl<'a> Texts<'a> {
    pub(crate) const fn of(evaluation: &'a Evaluation) -> Self {
        Self { evaluation }
    }

    /// Whether clearances and sizes rest on assumed values.
    pub(crate) const fn assumed(self) -> bool {
        self.evaluation.headline.assumed.clearance
    }

    fn mark(self) -> &'static str {
        if self.assumed() { "~" } else { "" }
    }

    /// Space there is, rounded down.
    pub(crate) fn space(self, length: Length) -> String {
        format!("{}{}", self.mark(), self.evaluation.down(length))
    }

    /// The size of a thing, to the nearest.
    pub(crate) fn size(self, length: Length) -> String {
        format!("{}{}", self.mark(), self.evaluation.near(length))
    }

    /// A mass, to 0.1 kg.
    pub(crate) fn mass(self, grams: i64) -> String {
        let mark = if self.evaluation.headline.assumed.mass { "~" } else { "" };
        format!("{mark}{:.1} kg", Grams(grams).kg())
    }
}

/// An outline without words.
pub(crate) fn bare(role: Role, cuboid: &Cuboid, side: Side, subject: Subject) -> Outline {
    Outline {
        role,
        rect: side.rect(cuboid),
        lacks: None,
        depth: side.depth(cuboid),
        hidden: false,
        subject,
        label: String::new(),
        sub: String::new(),
        terminals: Vec::new(),
    }
}

/// A keep-out as far as it lies in the cavity; one wholly outside where it is.
pub(crate) fn keep_out(keep_out: &KeepOutResult, space: &Cuboid, side: Side) -> Outline {
    let seen = keep_out.cuboid.intersection(space).unwrap_or(keep_out.cuboid);
    let role = if keep_out.counts {
        Role::KeepOut(keep_out.source)
    } else {
        Role::TakenOut
    };
    let sub = if keep_out.counts {
        keep_out.source.name()
    } else {
        "taken out"
    };
    Outline {
        label: keep_out.name.clone(),
        sub: sub.to_owned(),
        ..bare(role, &seen, side, Subject::KeepOut(keep_out.id))
    }
}

/// The box from outside: what sticks out, then the body.
pub(crate) fn shell(battery_box: &BoxResult, side: Side, texts: Texts<'_>) -> Vec<Outline> {
    let subject = Subject::Box(battery_box.id);
    let Some(body) = &battery_box.body else {
        return Vec::new();
    };
    let rims = battery_box
        .solids
        .iter()
        .skip(battery_box.body_solids().len())
        .chain(&battery_box.added.brackets)
        .map(|rim| bare(Role::Rim, rim, side, subject));
    let step = step_seen(battery_box, side);
    let (lacks, behind) = match step {
        Some((rect, true)) => (Some(rect), None),
        Some((_, false)) => (None, battery_box.step_under()),
        None => (None, None),
    };
    // The riser and the raised floor where they are seen from above or from across: in the line of what stands out.
    let rims = rims.chain(behind.map(|step| bare(Role::Rim, &step, side, subject)));
    let body = Outline {
        label: battery_box.name.clone(),
        sub: texts.mass(battery_box.mass.total_g()),
        lacks,
        ..bare(Role::Body, body, side, subject)
    };
    rims.chain([body]).collect()
}

/// The step in the underside as it is seen, and whether it is seen from beside, as a corner that the body lacks.
pub(crate) fn step_seen(battery_box: &BoxResult, side: Side) -> Option<(crate::Rect, bool)> {
    let (step, under) = (battery_box.step?, battery_box.step_under()?);
    let beside = side.axis(Direction::U).index() == step.axis() && side != Side::Plan;
    Some((side.rect(&under), beside))
}

/// What is in the box: its inside, the modules from far to near, and the service spaces that show beside them.
pub(crate) fn contents(battery_box: &BoxResult, evaluation: &Evaluation, side: Side, texts: Texts<'_>) -> Vec<Outline> {
    let mut outlines = Vec::new();
    if let Some(inside) = &battery_box.inside {
        outlines.push(bare(Role::Inside, inside, side, Subject::Box(battery_box.id)));
    }
    let mut modules: Vec<Outline> = battery_box
        .modules
        .iter()
        .map(|m| module(m, evaluation, side, texts))
        .collect();
    modules.sort_by_key(|m| std::cmp::Reverse(m.depth[0]));
    outlines.extend(modules);
    for module in &battery_box.modules {
        let beside = module.service.iter().filter(|room| {
            // Room straight in front of or behind the module shows nothing of its own.
            !side.rect(&module.cuboid).overlaps(&side.rect(room))
        });
        outlines.extend(beside.map(|room| bare(Role::Service, room, side, Subject::Module(module.id))));
    }
    outlines
}

fn module(module: &ModuleResult, evaluation: &Evaluation, side: Side, texts: Texts<'_>) -> Outline {
    let stacked = module.count > 1;
    let sub = if stacked {
        format!("{} modules", module.count)
    } else {
        let mass = evaluation.kind(module.kind).and_then(|kind| kind.mass_g);
        mass.map_or(String::new(), |grams| texts.mass(grams))
    };
    let terminals: Vec<Edge> = module.terminals.iter().map(|&face| side.edge(face)).collect();
    let role = if stacked { Role::Stack } else { Role::Module };
    Outline {
        label: module.label.clone(),
        sub,
        terminals,
        ..bare(role, &module.cuboid, side, Subject::Module(module.id))
    }
}

/// Everything that a box takes up before coating: body, flange or cap, screw heads, fittings, stiffeners, brackets.
pub(crate) fn overall(battery_box: &BoxResult) -> Option<Cuboid> {
    let body = battery_box.body?;
    let coated = battery_box.coated.as_ref()?;
    let coating = body.lo()[Axis::X] - coated.lo()[Axis::X];
    let all = battery_box.solids.iter().fold(*coated, |all, solid| all.hull(solid));
    let all = all.grown(Faces::all(-coating))?;
    Some(
        battery_box
            .added
            .brackets
            .iter()
            .fold(all, |all, solid| all.hull(solid)),
    )
}

/// Marks what lies wholly behind one thing that is nearer.
///
/// A box is seen open, so it hides nothing of its own; it hides other boxes and keep-outs.
pub(crate) fn mark_hidden(outlines: &mut [Outline]) {
    let solid = |o: &Outline| matches!(o.role, Role::KeepOut(_) | Role::Body | Role::Module | Role::Stack);
    let inner = |o: &Outline| matches!(o.role, Role::Module | Role::Stack);
    let hidden: Vec<bool> = outlines
        .iter()
        .map(|o| {
            let hides = |other: &Outline| {
                solid(other)
                    && other.subject != o.subject
                    && !(inner(o) && other.role == Role::Body)
                    && other.depth[0] < o.depth[0]
                    && other.rect.contains(&o.rect)
                    && !other.lacks.is_some_and(|corner| corner.overlaps(&o.rect))
            };
            solid(o) && outlines.iter().any(hides)
        })
        .collect();
    for (outline, hidden) in outlines.iter_mut().zip(hidden) {
        outline.hidden = hidden;
    }
}

/// The size of `cuboid` along a direction of the sheet.
pub(crate) fn extent(cuboid: &Cuboid, side: Side, along: Direction) -> Length {
    cuboid.size()[side.axis(along)]
}
