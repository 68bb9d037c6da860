//! Rivets and adhesive that hold panels in a frame of angle, and the bond to the chassis.

use enclosure::material::Material;
use enclosure::strength::joint::{Allowed, BOND_MPA, RIVET_MPA, bond, rivets};
use enclosure::{
    BoxSpec, Construction, Flange, Held, Joint, KnownBy, Lid, Part, Purpose, RivetHeads, Role, Sheet, Skeleton, build,
};
use serde_json::{Value, json};
use tape::Length;

use super::{jobs, lengths, open_box};
use crate::inputs::{Clear, Inputs, Unclear};

/// The panels of a framed box, a joint by itself, or the sums of a job, by what is given.
pub(super) fn worked(inputs: Inputs<'_>) -> Clear<Value> {
    if inputs.has("job") {
        let (_, evaluation) = jobs::evaluated(inputs)?;
        Ok(jobs::sums(jobs::strength(&evaluation)?))
    } else if inputs.has("leg_mm") {
        framed(inputs)
    } else if inputs.has("rivets") {
        let allowed = allowed(inputs, RIVET_MPA)?;
        let sum = rivets(
            "",
            inputs.float("force_N")?,
            inputs.count("rivets")?,
            inputs.mm("hole_mm")?,
            allowed,
        );
        Ok(json!({ "each_N": sum.load, "allowed_N": sum.limit, "share": sum.share }))
    } else if inputs.has("least_shear_N") {
        let bears = rivets("", 0.0, 1, inputs.mm("hole_mm")?, RIVET_MPA).limit;
        Ok(json!({ "is_allowed_no_more": bears <= inputs.float("least_shear_N")? }))
    } else {
        let area = inputs.mm("length_mm")? * inputs.mm("width_mm")?;
        let sum = bond("", inputs.float("force_N")?, area, allowed(inputs, BOND_MPA)?);
        Ok(json!({ "MPa": sum.load, "share": sum.share }))
    }
}

/// What the case says that a joint is allowed, else what is usual.
fn allowed(inputs: Inputs<'_>, usual: Allowed) -> Clear<Allowed> {
    let own = inputs
        .has("allowed_MPa")
        .then(|| inputs.float("allowed_MPa"))
        .transpose()?;
    Ok(own.map_or(usual, |mpa| Allowed {
        mpa,
        source: "the case",
        known: KnownBy::Memory,
    }))
}

/// Rivets, their widest pitch, and the area shared with the angle, by panel.
fn framed(inputs: Inputs<'_>) -> Clear<Value> {
    let held = if inputs.has("most_pitch_mm") {
        Held::Riveted {
            hole: inputs.mm("hole_mm")?,
            most_pitch: inputs.mm("most_pitch_mm")?,
            most_past: inputs.mm("most_pitch_mm")?,
            bead: Length::ZERO,
            heads: RivetHeads::FlushInside,
        }
    } else {
        Held::Bonded
    };
    let skeleton = Skeleton {
        leg: inputs.mm("leg_mm")?,
        thickness: inputs.mm("angle_t_mm")?,
        grams_per_m: 1_000,
        joint: Joint::Mitred,
        held,
    };
    let spec = BoxSpec {
        construction: Construction::Framed(skeleton),
        lid: on_ring(skeleton, inputs.mm("t_mm")?),
        ..open_box(lengths(inputs, "inside_mm")?, inputs.mm("t_mm")?)
    };
    let built = build(&spec).map_err(|refusal| Unclear(format!("the box is refused: {refusal}")))?;
    let told = |role: Role| {
        let panel = built.parts.iter().find(|part| part.role == role);
        let area = built.shared.iter().find(|(of, _)| *of == role);
        json!({
            "rivets": panel.map(|panel| panel.holes_for(Purpose::Rivet).count()),
            "pitch_mm": panel.and_then(widest),
            "shared_mm2": area.map(|(_, area)| area.as_mm2()),
        })
    };
    Ok(json!({ "floor": told(Role::Floor), "long side": told(Role::LongSide), "end": told(Role::End) }))
}

/// A lid on the ring at the rim, without screws.
const fn on_ring(skeleton: Skeleton, thickness: Length) -> Lid {
    Lid::Flat {
        sheet: Sheet {
            material: Material::MildSteel,
            thickness,
        },
        flange: Some(Flange {
            width: skeleton.leg,
            thickness: skeleton.thickness,
            joint: skeleton.joint,
        }),
        gasket: None,
        fastener: None,
        edge: None,
    }
}

/// The widest pitch along the lower line of rivets, in millimetres.
fn widest(panel: &Part) -> Option<f64> {
    let rivets = || panel.holes_for(Purpose::Rivet);
    let low = rivets().map(|hole| hole.y).min()?;
    let mut line: Vec<_> = rivets().filter(|hole| hole.y == low).map(|hole| hole.x).collect();
    line.sort_unstable();
    line.windows(2).map(|two| (two[1] - two[0]).as_mm()).reduce(f64::max)
}
