//! A keep-out that is taken as another shape stays where it is.

use geometry::Axis;
use tape::Length;

use crate::document::Len;
use crate::field::{self, FieldError};
use crate::{Field, Id, Job, KeepOut, KeepOutShape};

/// Sets what a keep-out is taken as. A block turned round keeps its middle and is as thick as the larger of its sides, so
/// that nothing of it is lost but the corners; a round one turned into a block is the square about it.
///
/// What was not entered yet, or would be out of range in the other shape, is left for the person.
///
/// # Errors
///
/// As the field refuses.
pub(super) fn reshape(job: &mut Job, id: Id, text: &str) -> Result<(), FieldError> {
    let along = |job: &Job| shape(job, id).and_then(KeepOutShape::along);
    let before = along(job);
    field::set(job, Field::KeepOutShape(id), text)?;
    let after = along(job);
    if before == after {
        return Ok(());
    }
    let mut tried = job.clone();
    let kept = before.is_none_or(|along| squared(&mut tried, id, along).is_some())
        && after.is_none_or(|along| rounded(&mut tried, id, along).is_some());
    if kept {
        *job = tried;
    }
    Ok(())
}

fn found(job: &Job, id: Id) -> Option<&KeepOut> {
    job.cavities.iter().flat_map(|c| &c.keep_outs).find(|k| k.id == id)
}

fn shape(job: &Job, id: Id) -> Option<KeepOutShape> {
    found(job, id)?.shape
}

/// Makes the block about a round one: half of its diameter to both sides of its middle.
fn squared(job: &mut Job, id: Id, along: Axis) -> Option<()> {
    let keep_out = found(job, id)?;
    let half = Length::from_nm(keep_out.diameter.as_ref()?.value().nm() / 2);
    let middles = keep_out.from.each_ref().map(Len::value);
    for axis in Axis::ALL.into_iter().filter(|&axis| axis != along) {
        let middle = middles[axis.index()];
        put(job, Field::KeepOutFrom(id, axis), Some(middle - half))?;
        put(job, Field::KeepOutTo(id, axis), Some(middle + half))?;
    }
    put(job, Field::KeepOutDiameter(id), None)
}

/// Makes a block round: its middle, and the larger of its two sides; `None` while its far end is not entered.
fn rounded(job: &mut Job, id: Id, along: Axis) -> Option<()> {
    let keep_out = found(job, id)?;
    let [from, to] = [&keep_out.from, &keep_out.to].map(|place| place.each_ref().map(Len::value));
    let mut across = Length::ZERO;
    for axis in Axis::ALL.into_iter().filter(|&axis| axis != along) {
        let (from, to) = (from[axis.index()], to[axis.index()]);
        if from >= to {
            return None;
        }
        across = across.max(to - from);
        put(
            job,
            Field::KeepOutFrom(id, axis),
            Some(Length::from_nm(from.nm().midpoint(to.nm()))),
        )?;
    }
    put(job, Field::KeepOutDiameter(id), Some(across))
}

/// Enters a length that was worked out, as the person would; `None` where the field refuses it.
fn put(job: &mut Job, field: Field, length: Option<Length>) -> Option<()> {
    let text = length.map_or(String::new(), |length| {
        Len::exactly(length, job.units.units()).text().to_owned()
    });
    field::set(job, field, &text).ok()
}
