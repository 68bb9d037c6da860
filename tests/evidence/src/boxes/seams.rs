//! What lies in the seams of a box and at its joints: sealant, gasket, coped ends.

use enclosure::cutlist::{Fineness, ListedBox, cut_list};
use enclosure::material::Material;
use enclosure::rivet::bead_mm3;
use enclosure::seal::squeeze::{Verdict, share, verdict};
use enclosure::{
    BoxSpec, Construction, Fastener, Flange, Gasket, Held, Joint, Lid, RivetHeads, Sheet, Skeleton, build,
};
use serde_json::{Value, json};
use tape::Length;

use super::{lengths, open_box};
use crate::inputs::{Clear, Inputs, Unclear};

/// A gasket's squeeze, the strip of a screwed lid, or bead and copes of a framed box, by what is given.
pub(super) fn worked(inputs: Inputs<'_>) -> Clear<Value> {
    let gasket = if inputs.has("free_mm") {
        Some(Gasket {
            free: inputs.mm("free_mm")?,
            squeezed: inputs.mm("squeezed_mm")?,
        })
    } else {
        None
    };
    if let (Some(gasket), false) = (gasket, inputs.has("inside_mm")) {
        let share = share(gasket);
        return Ok(json!({ "share": share, "holds": verdict(share) == Verdict::Within }));
    }
    let spec = match gasket {
        Some(gasket) => screwed(inputs, gasket)?,
        None => framed(inputs)?,
    };
    let built = build(&spec).map_err(|refusal| Unclear(format!("the box is refused: {refusal}")))?;
    let strip = built
        .gasket
        .map(|strip| json!({ "width_mm": strip.width.as_mm(), "length_mm": strip.length.as_mm() }));
    let listed = ListedBox {
        name: "box",
        built: &built,
        count: 1,
    };
    let list = cut_list(&[listed], Fineness::Sixteenth);
    let copes = list
        .tables
        .iter()
        .flat_map(|table| &table.lines)
        .filter_map(enclosure::cutlist::Line::cope);
    let copes: Vec<Value> = copes
        .map(|cope| json!([cope.length.as_mm(), cope.depth.as_mm()]))
        .collect();
    let bead = if inputs.has("bead_mm") {
        inputs.mm("bead_mm")?
    } else {
        Length::ZERO
    };
    Ok(json!({
        "strip": strip,
        "seam_mm": built.panel_seams().as_mm(),
        "bead_ml": bead_mm3(bead, built.panel_seams()) / 1e3,
        "copes": copes,
    }))
}

/// A welded box with a lid screwed to a flange.
fn screwed(inputs: Inputs<'_>, gasket: Gasket) -> Clear<BoxSpec> {
    let t = inputs.mm("t_mm")?;
    let spec = open_box(lengths(inputs, "inside_mm")?, t);
    let fastener = Fastener {
        diameter: inputs.mm("screw_mm")?,
        hole: inputs.mm("hole_mm")?,
        head_height: Length::mm(6),
        below: Length::mm(8),
        most_pitch: Length::mm(75),
    };
    Ok(BoxSpec {
        lid: lid(t, [inputs.mm("flange_mm")?, t], Some(gasket), Some(fastener)),
        ..spec
    })
}

/// A box in a frame of butted angle, its panels riveted in.
fn framed(inputs: Inputs<'_>) -> Clear<BoxSpec> {
    let t = inputs.mm("t_mm")?;
    let spec = open_box(lengths(inputs, "inside_mm")?, t);
    let (leg, thickness) = (inputs.mm("leg_mm")?, inputs.mm("angle_t_mm")?);
    let skeleton = Skeleton {
        leg,
        thickness,
        grams_per_m: 1_000,
        joint: Joint::Butt,
        held: Held::Riveted {
            hole: Length::tenths_mm(49),
            most_pitch: Length::mm(75),
            most_past: Length::mm(75),
            bead: inputs.mm("bead_mm")?,
            heads: RivetHeads::FlushInside,
        },
    };
    Ok(BoxSpec {
        construction: Construction::Framed(skeleton),
        lid: lid(t, [leg, thickness], None, None),
        ..spec
    })
}

const fn lid(t: Length, [width, thickness]: [Length; 2], gasket: Option<Gasket>, fastener: Option<Fastener>) -> Lid {
    Lid::Flat {
        sheet: Sheet {
            material: Material::MildSteel,
            thickness: t,
        },
        flange: Some(Flange {
            width,
            thickness,
            joint: Joint::Butt,
        }),
        gasket,
        fastener,
        edge: None,
    }
}
