//! What limits a spreading, in words.

use geometry::spread::{Chain, Thing};

use super::Kept;
use crate::Evaluation;
use crate::evaluate::wall_name;

/// From one end of the chain to the other, with what is over and how many share it.
pub(super) fn words(chain: &Chain, kept: &Kept<'_>, evaluation: &Evaluation) -> String {
    let things: Vec<Thing> = chain.links.iter().map(|link| link.thing).collect();
    let mut parts: Vec<String> = Vec::new();
    for (i, run) in things.chunk_by(|a, b| is_module(*a) && is_module(*b)).enumerate() {
        match run {
            [one] => {
                let name = name(*one, kept);
                // A box is named where the chain goes into it, not again where it comes out.
                let named = parts.contains(&name) && matches!(one, Thing::Box(_));
                if i == 0 || !named {
                    parts.push(name);
                }
            }
            several => {
                let gaps = several.len() - 1;
                parts.push(format!("{} modules", several.len()));
                parts.push(if gaps == 1 {
                    "1 gap".to_owned()
                } else {
                    format!("{gaps} gaps")
                });
            }
        }
    }
    let shared = match chain.spaces {
        0 => return parts.join(", "),
        1 => "for 1 clearance".to_owned(),
        n => format!("for {n} clearances to share"),
    };
    let over = if chain.over.is_negative() {
        format!("{} too little", evaluation.up(-chain.over))
    } else {
        format!("{} more than asked", evaluation.down(chain.over))
    };
    format!("{}: {over} {shared}", parts.join(", "))
}

const fn is_module(thing: Thing) -> bool {
    matches!(thing, Thing::Placement(_))
}

fn name(thing: Thing, kept: &Kept<'_>) -> String {
    match thing {
        Thing::Wall { face, .. } => wall_name(face).to_owned(),
        Thing::KeepOut { cavity, index } => kept.keep_outs[cavity][index].clone(),
        Thing::Box(index) => kept.boxes[index].name.clone(),
        Thing::Placement(index) => kept.modules[index].label.clone(),
    }
}
