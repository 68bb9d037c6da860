//! What the shop gets of a box beside its parts, seams and places: what no line of the cut list tells.

use tape::Length;
use tape::show::{Rounding, hole_mm, millimetres_bare};

use crate::document::IssuedNote;
use crate::{BoxResult, Evaluation, Job, assumed, shopping};

/// How a box is held, tightened, coated and fitted out, each under its name.
pub(super) fn of(job: &Job, evaluation: &Evaluation, result: &BoxResult) -> Vec<IssuedNote> {
    let note = |what: &str, how: String| IssuedNote {
        what: what.to_owned(),
        how,
    };
    // A class that was assumed and then entered is the same to the shop.
    let tolerance = evaluation.sheet.tolerance.trim_start_matches('~').to_owned();
    let mut notes = vec![note("tolerance", tolerance)];
    let coating = assumed::trust(&job.settings, job.units).coating;
    if coating > Length::ZERO {
        notes.push(note("coating", format!("{} mm a face", hundredth(coating))));
    }
    notes.extend(gasket(job, result).map(|how| note("gasket", how)));
    // One that cannot be let in has no hole on the papers.
    let let_in = result.fittings.iter().filter(|fitting| fitting.fault.is_none());
    notes.extend(let_in.map(|fitting| {
        let on = if fitting.in_riser {
            "the riser"
        } else {
            fitting.wall.name()
        };
        note(fitting.what.name(), format!("{on}, hole {} mm", hole_mm(fitting.hole)))
    }));
    let fasteners = shopping::fasteners_of(job, result).into_iter();
    notes.extend(fasteners.map(|(what, count)| note(&what, format!("{count} off"))));
    notes
}

fn gasket(job: &Job, result: &BoxResult) -> Option<String> {
    let strip = result.built.as_ref()?.gasket?;
    let how = assumed::build(&job.design);
    let [width, thick, squeezed, long, edge] = [
        strip.width,
        strip.thick,
        how.gasket_squeezed,
        strip.length,
        strip.from_edge,
    ]
    .map(hundredth);
    Some(format!(
        "{width} x {thick} mm, squeezed to {squeezed} mm, {long} mm once round, {edge} mm from the edge"
    ))
}

/// Millimetres to the hundredth: a coat and a gasket are thinner than what a tape measures.
fn hundredth(length: Length) -> String {
    millimetres_bare(length, 2, Rounding::Nearest)
}
