//! The sheet of ways in: the boxes in the order they go in, each with its way as pictures, how they are loaded, what is
//! lifted, and what comes off before a module comes out.

use std::fmt::Write as _;

use drawing::svg::escape;
use geometry::way_in::plan::Plane;
use job::Evaluation;
use job::way_in::{Flat, Outcome, Picture, Posed, Tried, WaysIn, bed_words};
use tape::Length;

use crate::html::page::{Cell, Page};

/// What to heed before a box is lifted.
const CAUTIONS: [&str; 5] = [
    "Never be under a box or under the truck on a jack alone: stands under the frame, blocks under the box, level hard ground.",
    "A box with modules in it is live at its ends and burns when it is crushed. Leads off, ends covered, nobody alone.",
    "The ways are arithmetic on what was entered: walls bulge, frames bend on stands, lines hang where nobody taped. Try the \
     cardboard box first.",
    "Keep hands out of the gap between box and frame; steer it with a bar.",
    "Modules slide when a box is pitched: clamp or wedge them before.",
];

/// Ways in of every box. `date` is printed as given.
pub fn way_in_html(evaluation: &Evaluation, ways: &WaysIn, date: &str) -> String {
    let style = ways.question.style;
    let mut page = Page::with_cautions("Ways in", evaluation, date, &CAUTIONS);
    page.paragraph(&ways.summary());
    if let Some((battery_box, margin)) = ways.tightest() {
        page.paragraph(&format!(
            "Tightest on the way: {} to {}, {}.",
            style.down(margin.distance),
            margin.name,
            battery_box.name
        ));
    }
    let stuck = ways.stuck_words();
    if !stuck.is_empty() {
        page.paragraph(&stuck);
    }
    if let Some(swept) = &evaluation.bed_sweep {
        page.paragraph(&bed_words(swept, style, None));
    }
    if let Some(words) = evaluation.bed_words() {
        page.paragraph(&format!("The bed, tilted: {}.", words.join("; ")));
    }
    page.heading("What is lifted");
    let head = ["in order", "box", "way", "lifted", "comes out after", "done"];
    let rows = ways.in_order().into_iter().enumerate().map(|(n, at)| {
        let battery_box = &ways.boxes[at];
        let after: Vec<&str> = battery_box.after.iter().map(|&i| ways.boxes[i].name.as_str()).collect();
        vec![
            Cell::figure((n + 1).to_string()),
            Cell::text(&battery_box.name),
            Cell::text(battery_box.verdict(style)),
            Cell::text(ways.state_summary(at)),
            Cell::text(after.join(", ")),
            Cell::Tick,
        ]
    });
    page.table(&head, rows);
    for at in ways.in_order() {
        of_box(&mut page, evaluation, ways, at);
    }
    for (name, why) in &ways.question.left_out {
        page.paragraph(&format!("{name}: not looked at: {why}"));
    }
    page.heading("Where the figures for hands come from");
    page.list(crate::truck::hands_sources());
    page.heading("What this does not know");
    page.list(ways.foot().into_iter().filter(|line| !line.is_empty()));
    page.finish()
}

fn of_box(page: &mut Page, evaluation: &Evaluation, ways: &WaysIn, at: usize) {
    let (battery_box, style) = (&ways.boxes[at], ways.question.style);
    page.heading(&format!("{}: {}", battery_box.name, battery_box.verdict(style)));
    for (n, picture) in ways.pictures[at].iter().enumerate() {
        let tried = match &battery_box.outcome {
            Outcome::Goes(_) => None,
            Outcome::Stays { tried, .. } => tried.get(n),
        };
        let goes = battery_box.outcome.way().is_some();
        page.picture(&row_of_pictures(picture, goes, tried.map_or("", Tried::from_words)));
    }
    page.list(battery_box.lines(style).into_iter().map(|line| line.trim().to_owned()));
    page.paragraph("Empty, half loaded, loaded; what is not in it goes in where it stands, its lid off:");
    page.list(ways.state_words(at));
    let (loading, open) = (&ways.loading[at], &ways.question.loading[at]);
    if open.modules.is_empty() {
        return;
    }
    page.paragraph("Loaded in this order, and out again from the last; first off before each comes out:");
    let head = [
        "in order",
        "module",
        "units",
        crate::words::mass_unit(evaluation),
        "before it comes out",
        "wires and links off",
        "done",
    ];
    let rows = loading.order.iter().enumerate().map(|(n, &i)| {
        let module = &open.modules[i];
        let service = ways.take_out(evaluation, module.id);
        let (down, links) = service.map_or((String::new(), String::new()), |service| {
            let bed = service.bed.map(|bed| format!("bed {}", bed.name()));
            let boxes = service.boxes.iter().map(|battery_box| {
                let way = if battery_box.is_under() { "down" } else { "out" };
                format!("{} {way}", battery_box.name)
            });
            let modules = service.before.iter().map(|(label, _)| format!("{label} out"));
            let bars = match service.bars {
                0 => None,
                1 => Some("1 bar off".to_owned()),
                count => Some(format!("{count} bars off")),
            };
            let lid = ["lid off".to_owned()];
            let first: Vec<String> = bed
                .into_iter()
                .chain(boxes)
                .chain(lid)
                .chain(bars)
                .chain(modules)
                .collect();
            let wires: Vec<String> = service.taps.into_iter().chain(service.links).collect();
            (first.join(", "), wires.join("; "))
        });
        vec![
            Cell::figure((n + 1).to_string()),
            Cell::text(&module.label),
            Cell::text(module.units.join(", ")),
            module
                .mass_g
                .map_or(Cell::Blank, |grams| Cell::figure(kg(evaluation, grams))),
            Cell::text(down),
            Cell::text(links),
            Cell::Tick,
        ]
    });
    page.table(&head, rows);
    let bars = open.bars_words().map(|words| format!("{words}, then the lid"));
    page.list(
        bars.into_iter()
            .chain(loading.held.iter().map(|held| held.words(style))),
    );
}

fn kg(evaluation: &Evaluation, grams: i64) -> String {
    let words = job::kg_words(job::Grams(grams).kg(), 1, evaluation.units);
    crate::words::without_mass_units(&words)
}

/// How wide one picture is, in millimetres of paper.
const WIDE: f64 = 58.0;

/// The poses side by side, all to one scale; under them what the box meets or passes with the least room.
fn row_of_pictures(picture: &Picture, goes: bool, tried: &str) -> String {
    let mut window = picture.window;
    let more = Length::mm(40);
    for [low, high] in &mut window {
        (*low, *high) = (*low - more, *high + more);
    }
    if let Some(ground) = picture.ground {
        window[1][0] = window[1][0].min(ground - more);
    }
    let last = picture.poses.len().saturating_sub(1);
    let mut out = String::new();
    for (n, pose) in picture.poses.iter().enumerate() {
        let words = match (goes, n == last) {
            (_, true) => format!("{}: in its place", n + 1),
            (false, false) => format!("{tried}: where it stops"),
            (true, false) => (n + 1).to_string(),
        };
        out.push_str(&one(picture, pose, &window, &words));
    }
    let met = picture.things.iter().filter(|t| t.is_met);
    let met = met.map(|t| t.name.as_str());
    let beds = picture.bed.iter().filter(|bed| bed.is_met);
    let met: Vec<&str> = met.chain(beds.map(|bed| bed.name.as_str())).collect();
    let met = (!met.is_empty()).then(|| format!("dark: {}", met.join(", ")));
    let words: Vec<String> = met
        .into_iter()
        .chain(
            [picture.bed_words.clone()]
                .into_iter()
                .filter(|words| !words.is_empty()),
        )
        .collect();
    if !words.is_empty() {
        let _ = writeln!(out, "<figcaption>{}</figcaption>", escape(&words.join("; ")));
    }
    out
}

/// One pose. What the box meets, or passes with the least room, is filled.
fn one(picture: &Picture, pose: &[Posed], window: &Flat, words: &str) -> String {
    let [along, up] = *window;
    let (wide, high) = ((along[1] - along[0]).as_mm(), (up[1] - up[0]).as_mm());
    let scale = WIDE / wide.max(1.0);
    let x = |at: Length| (at - along[0]).as_mm() * scale;
    let y = |at: Length| (up[1] - at).as_mm() * scale;
    let rect = |[u, v]: &Flat, look: &str| {
        let clip = |[low, high]: [Length; 2], [least, most]: [Length; 2]| [low.max(least), high.min(most)];
        let (u, v) = (clip(*u, along), clip(*v, up));
        if u[0] >= u[1] || v[0] >= v[1] {
            return String::new();
        }
        format!(
            "<rect x=\"{:.2}\" y=\"{:.2}\" width=\"{:.2}\" height=\"{:.2}\" {look}/>\n",
            x(u[0]),
            y(v[1]),
            x(u[1]) - x(u[0]),
            y(v[0]) - y(v[1])
        )
    };
    let tall = high * scale;
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{WIDE}mm\" height=\"{:.1}mm\" viewBox=\"0 0 {WIDE} {:.2}\" \
         role=\"img\"><title>{}</title>\n",
        tall + 9.0,
        tall + 9.0,
        escape(words)
    );
    out.push_str(&rect(
        &picture.space,
        "fill=\"none\" stroke=\"black\" stroke-width=\"0.5\"",
    ));
    for thing in &picture.things {
        let look = if thing.is_met {
            "fill=\"#777\" stroke=\"black\" stroke-width=\"0.3\""
        } else {
            "fill=\"#ddd\" stroke=\"black\" stroke-width=\"0.15\""
        };
        out.push_str(&rect(&thing.at, look));
    }
    if let Some(ground) = picture.ground {
        let _ = writeln!(
            out,
            "<line x1=\"0\" y1=\"{0:.2}\" x2=\"{WIDE}\" y2=\"{0:.2}\" stroke=\"black\" stroke-width=\"0.4\" \
             stroke-dasharray=\"2 1\"/>",
            y(ground)
        );
    }
    let points = |corners: &[[Length; 2]]| -> Vec<String> {
        let point = |[a, u]: &[Length; 2]| format!("{:.2},{:.2}", x(*a), y(*u));
        corners.iter().map(point).collect()
    };
    for bed in &picture.bed {
        let fill = if bed.is_met { "#777" } else { "#ddd" };
        let _ = writeln!(
            out,
            "<polygon points=\"{}\" fill=\"{fill}\" stroke=\"black\" stroke-width=\"0.3\"><title>{}</title></polygon>",
            points(&bed.corners).join(" "),
            escape(&bed.name)
        );
    }
    for part in pose {
        let points = points(part);
        let _ = writeln!(
            out,
            "<polygon points=\"{}\" fill=\"white\" fill-opacity=\"0.6\" stroke=\"black\" stroke-width=\"0.35\"/>",
            points.join(" ")
        );
    }
    let [left, right] = match picture.plane {
        Plane::Side => ["front", "rear"],
        Plane::Across => ["left", "right"],
    };
    let text = |at: f64, anchor: &str, line: f64, words: &str| {
        format!(
            "<text x=\"{at}\" y=\"{:.2}\" font-size=\"2.8\" font-family=\"sans-serif\" text-anchor=\"{anchor}\">{}</text>\n",
            tall + line,
            escape(words)
        )
    };
    out.push_str(&text(0.0, "start", 3.5, left));
    out.push_str(&text(WIDE, "end", 3.5, right));
    out.push_str(&text(WIDE / 2.0, "middle", 7.5, words));
    out.push_str("</svg>\n");
    out
}
