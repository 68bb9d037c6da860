//! The welds of a box.

use enclosure::weld::{Diagonal, Run, Seam, WeldMap};
use serde_json::{Value, json};

use super::mm;

pub(super) fn welds(welds: &WeldMap) -> Value {
    json!({
        "welded_m": welds.welded().as_mm() / 1000.0,
        "metal_g": welds.metal_g(),
        "seams": welds.seams.iter().map(seam).collect::<Vec<_>>(),
        "order": welds.order.iter().map(|step| step.words()).collect::<Vec<_>>(),
        "diagonals": welds.diagonals.iter().map(diagonal).collect::<Vec<_>>(),
    })
}

fn seam(seam: &Seam) -> Value {
    let stitch = match seam.run {
        Run::Full => Value::Null,
        Run::Stitch { runs, each, pitch } => {
            json!({ "runs": runs, "each_mm": mm(each), "pitch_mm": mm(pitch) })
        }
    };
    let shrinkage = seam.form.shrinkage();
    json!({
        "number": seam.number,
        "joins": seam.joins.map(enclosure::Role::name),
        "place": seam.place,
        "joint": seam.form.name(),
        "length_mm": mm(seam.length),
        "count": seam.count,
        "leg_mm": mm(seam.leg),
        "side": seam.side.name(),
        "stitch": stitch,
        "tacks": seam.tacks,
        "seals": seam.seals,
        "carries": seam.at.carries(),
        "metal_g": seam.metal_g,
        "shrinks_across_mm": shrinkage.across_mm,
        "shrinks_along_mm_per_m": shrinkage.along_mm_per_m,
    })
}

fn diagonal(diagonal: &Diagonal) -> Value {
    json!({
        "face": diagonal.face,
        "count": diagonal.count,
        "sides_mm": diagonal.sides.map(mm),
        "aim_mm": mm(diagonal.aim),
        "within_mm": mm(diagonal.within),
    })
}
