//! Parts, the cut list and its stock.

use enclosure::cutlist::{Line, Rounded, Table};
use enclosure::{Built, Form, Hole, Part};
use job::Evaluation;
use serde_json::{Value, json};

use super::{mm, mm3};
use crate::words;

pub(super) fn built(evaluation: &Evaluation, built: &Built) -> Value {
    json!({
        "shell_mm": mm3(built.shell),
        "step": built.step.map(|step| json!({
            "at": step.at.name(),
            "run_mm": mm(step.run),
            "rise_mm": mm(step.rise),
        })),
        "body_mm": mm3(built.body),
        "body_text": built.body.map(|length| evaluation.up(length)),
        "overall_mm": mm3(built.overall),
        "overall_text": built.overall.map(|length| evaluation.up(length)),
        "above_rim_mm": mm(built.above_rim),
        "rims": built.rims.iter().map(|r| json!({
            "out_mm": mm(r.out),
            "below_top_mm": mm(r.below_top),
            "above_top_mm": mm(r.above_top),
        })).collect::<Vec<_>>(),
        "parts": built.parts.iter().map(part).collect::<Vec<_>>(),
        "lid_holes": built.lid_holes.as_ref().map(|p| json!({
            "line_length_mm": mm(p.line_length),
            "line_width_mm": mm(p.line_width),
            "intervals_long": p.intervals_long,
            "intervals_short": p.intervals_short,
            "count": p.count,
        })),
        "side_screws": built.side_screws.iter().map(|hole| json!({
            "wall": hole.wall.name(),
            "along_mm": mm(hole.along),
            "up_mm": mm(hole.up),
            "hole_in_wall_mm": mm(hole.diameter),
        })).collect::<Vec<_>>(),
        "sleeve_mm": built.sleeve.map(mm),
        "toggle_clamps": built.clamps.iter().map(|clamp| json!({
            "wall": clamp.wall.name(),
            "along_mm": mm(clamp.along),
            "up_mm": mm(clamp.up),
        })).collect::<Vec<_>>(),
        "holes_after_welding": built.holes_after_welding(),
        "mass_kg": built.grams / 1000.0,
        "coat_area_m2": built.coat_area.as_m2(),
        "gasket_length_mm": mm(built.gasket_length),
    })
}

fn part(part: &Part) -> Value {
    json!({
        "name": part.role.name(),
        "form": form(part.role.form()),
        "number_off": part.quantity,
        "material": part.sheet.material.name(),
        "thickness_mm": mm(part.sheet.thickness),
        "length_mm": mm(part.length),
        "width_mm": mm(part.width),
        "end_cuts_deg": part.ends.map(enclosure::EndCut::label),
        "holes": part.holes.iter().map(hole).collect::<Vec<_>>(),
        "mass_each_kg": part.grams() / 1000.0,
    })
}

pub(super) fn cut(evaluation: &Evaluation) -> Value {
    let cut = &evaluation.cut;
    let tables: Vec<Value> = cut
        .list
        .tables
        .iter()
        .map(|t| {
            json!({
                "label": t.label(),
                "form": form(t.form),
                "material": t.sheet.material.name(),
                "thickness_mm": mm(t.sheet.thickness),
                "section_mm": t.section.map(mm),
                "lines": t.lines.iter().map(|l| line(evaluation, t, l)).collect::<Vec<_>>(),
                "pieces": t.pieces,
                "length_mm": mm(t.length),
                "area_net_m2": t.net_m2(),
                "mass_kg": t.grams / 1000.0,
            })
        })
        .collect();
    let boxes: Vec<Value> = cut
        .list
        .boxes
        .iter()
        .map(|b| {
            json!({
                "letter": b.letter,
                "name": b.name,
                "count": b.count,
                "mass_each_kg": b.grams_each / 1000.0,
                "inside_may_lose_mm": mm3(b.loss),
                "outside_may_gain_mm": mm3(b.growth),
            })
        })
        .collect();
    json!({
        "before_coating": true,
        "kerf_included": false,
        "boxes": boxes,
        "tables": tables,
        "mass_kg": cut.list.grams / 1000.0,
    })
}

fn line(evaluation: &Evaluation, table: &Table, line: &Line) -> Value {
    json!({
        "mark": line.mark,
        "name": line.name,
        "number_off": line.quantity,
        "section": crate::row::section(table),
        "length": size(evaluation, line.length),
        "width": size(evaluation, line.width),
        "end_cuts_deg": line.ends.map(enclosure::EndCut::label),
        "cope_mm": line.cope().map(|cope| json!({
            "length_mm": mm(cope.length),
            "depth_mm": mm(cope.depth),
            "root_radius_mm": mm(cope.root),
        })),
        "cut_corner_mm": line.cut_corner().map(mm),
        "notch_mm": line.notch().map(|notch| json!({
            "at": if notch.at_far_end { "lower right" } else { "lower left" },
            "length_mm": mm(notch.size[0]),
            "width_mm": mm(notch.size[1]),
        })),
        "bends": line.bends.len(),
        "holes": line.holes.iter().map(hole).collect::<Vec<_>>(),
        "area_net_mm2": line.net_mm2(),
        "seen": line.seen_words(),
        "edges_left_right_lower_upper": line.edges,
        "mass_each_kg": line.grams_each / 1000.0,
        "mass_all_kg": line.grams_all / 1000.0,
        "box": line.box_name,
    })
}

fn size(evaluation: &Evaluation, size: Rounded) -> Value {
    json!({
        "exact_mm": mm(size.exact),
        "marked_mm": mm(size.tenth_mm),
        "marked_in_as_mm": mm(size.inches),
        "marked_in_text": evaluation.cut_inches(size),
        "rounding": words::direction(size.direction),
    })
}

fn hole(hole: &Hole) -> Value {
    json!({
        "x_mm": mm(hole.x),
        "y_mm": mm(hole.y),
        "diameter_mm": mm(hole.diameter),
        "for": hole.purpose.name(),
    })
}

const fn form(form: Form) -> &'static str {
    match form {
        Form::Sheet => "sheet",
        Form::FlatBar => "flat bar",
        Form::Angle => "angle",
        Form::Rod => "threaded rod",
    }
}
