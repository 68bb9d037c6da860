//! The wiring schedule: every link, in the order it is fitted, with what the bench needs to make and fit it.

use drawing::single_line_svg;
use job::{Electric, End, Evaluation, LinkResult, PackResult, WiringResult};

use crate::html::page::{Cell, Page};

/// The wiring schedule as one page: links in the order that keeps volts low, bars to make, monitoring channels, labels,
/// photos to take. `date` is printed as given.
pub fn wiring_html(evaluation: &Evaluation, date: &str) -> String {
    let mut page = Page::new("Wiring schedule", evaluation, date);
    let mut any = false;
    for (pack, electric) in evaluation.electrics() {
        let Some(wiring) = &electric.wiring else { continue };
        any = true;
        page.heading(&format!("{} {}s{}p", pack.name, wiring.series, wiring.parallel));
        if let Some(svg) = single_line_svg(pack) {
            page.picture(&svg);
        }
        page.list(facts(evaluation, wiring));
        links(&mut page, evaluation, wiring);
        bars(&mut page, evaluation, wiring);
        taps(&mut page, wiring);
        labels(&mut page, pack, wiring);
        page.heading("Photos to take as you go");
        page.list(PHOTOS.map(str::to_owned));
        spare_plan(&mut page, electric);
    }
    if !any {
        page.paragraph("Nothing is wired yet: lay out a whole pack first, with no module left over.");
    }
    page.finish()
}

/// Before a lid goes on nobody can take them again.
const PHOTOS: [&str; 6] = [
    "each box empty, with liner and bond",
    "each box with its modules in and no link fitted, labels readable",
    "each box with all links fitted and covers on, torque marks visible",
    "fuse, contactors, pre-charge and disconnect with their rating plates",
    "cables outside boxes along their way, with glands and clips",
    "each meter reading with the meter in the picture",
];

fn facts(evaluation: &Evaluation, wiring: &WiringResult) -> Vec<String> {
    let [along, low] = &wiring.fitting;
    let mut facts = vec![
        format!(
            "{} links and leads; but for the leads to the drive {} together, {} of it cable; cable to cut, leads, lugs and slack in it, {}{}",
            wiring.links.len(),
            evaluation.up(wiring.length),
            evaluation.up(wiring.cable),
            evaluation.up(wiring.cable_to_cut()),
            if wiring.estimated {
                "; cavities without a place in the truck: measure the cables"
            } else {
                ""
            }
        ),
        format!(
            "fitted in the order of the steps, {} links are fitted above 60 V and no live piece is above {} V before the disconnect's plug goes in; along the chain it would be {} links and {} V",
            low.above,
            low.largest.shown(1),
            along.above,
            along.largest.shown(1)
        ),
    ];
    if let Some(open) = &wiring.disconnect {
        facts.push(format!(
            "the service disconnect takes the place of link {} (and of its like in each other string): its plug goes in last of all; open, it leaves {} V and {} V",
            open.link,
            open.halves[0].shown(1),
            open.halves[1].shown(1)
        ));
    }
    if let Some(neighbour) = &wiring.neighbour {
        let [a, b] = neighbour.seats.map(|s| wiring.seats[s].seat);
        facts.push(format!(
            "up to {} V between {a} and {b}, side by side",
            neighbour.volts.shown(1)
        ));
    }
    facts
}

/// The step at which a link is fitted: links of the boxes as worked out, then what joins the pack to the rest.
fn step(wiring: &WiringResult, link: &LinkResult) -> usize {
    let fitted = wiring.fitting[1].steps.iter().position(|s| s.link == link.number);
    fitted.map_or_else(
        || {
            let rest: Vec<u32> = wiring
                .links
                .iter()
                .filter(|l| !l.disconnect && wiring.fitting[1].steps.iter().all(|s| s.link != l.number))
                .map(|l| l.number)
                .collect();
            let at = rest.iter().position(|n| *n == link.number).unwrap_or(rest.len());
            wiring.fitting[1].steps.len() + at + 1
        },
        |at| at + 1,
    )
}

fn in_order(wiring: &WiringResult) -> Vec<(usize, &LinkResult)> {
    let mut links: Vec<(usize, &LinkResult)> = wiring.links.iter().map(|l| (step(wiring, l), l)).collect();
    links.sort_by_key(|(step, link)| (*step, link.number));
    links
}

fn end(wiring: &WiringResult, end: End) -> String {
    let name = wiring.end_name(end);
    match end {
        End::Terminal { seat, .. } => match &wiring.seats[seat].unit {
            Some(unit) => format!("{name} ({unit})"),
            None => name,
        },
        _ => name,
    }
}

fn links(page: &mut Page, evaluation: &Evaluation, wiring: &WiringResult) {
    page.heading("Links, in the order they are fitted");
    let head = [
        "step",
        "link",
        "from",
        "to",
        "what",
        "made of",
        "centre to centre",
        "cut",
        "amps",
        "makes V",
        "torque",
        "fitted",
        "torque mark",
        "cover on",
    ];
    let torque = evaluation.torque_nm.map(|nm| format!("{nm} Nm"));
    let rows = in_order(wiring).into_iter().map(|(step, link)| {
        let what = if link.disconnect {
            "disconnect".to_owned()
        } else {
            link.kind.name().to_owned()
        };
        let makes = if link.makes.milli() > 0 {
            link.makes.shown(1)
        } else {
            String::new()
        };
        vec![
            Cell::figure(if link.disconnect {
                "last".to_owned()
            } else {
                step.to_string()
            }),
            Cell::figure(link.number.to_string()),
            Cell::Whole(end(wiring, link.from)),
            Cell::Whole(end(wiring, link.to)),
            Cell::text(what),
            Cell::Whole(link.made_of().to_owned()),
            Cell::figure(evaluation.near(link.run)),
            link.to_cut()
                .map_or(Cell::Blank, |cut| Cell::figure(evaluation.up(cut))),
            Cell::figure(link.amps.map_or(String::new(), |a| format!("{a:.0}"))),
            Cell::figure(makes),
            torque.clone().map_or(Cell::Blank, Cell::figure),
            Cell::Tick,
            Cell::Tick,
            Cell::Tick,
        ]
    });
    page.table(&head, rows);
}

fn bars(page: &mut Page, evaluation: &Evaluation, wiring: &WiringResult) {
    page.heading("Bars and cables to make");
    let stud = format!("holes and lugs for M{}", evaluation.stud_mm);
    page.paragraph(&format!(
        "{stud}; cables outside boxes with an orange covering, through glands, clear of edges, heat and moving parts. All links together {}.",
        job::kg_words(job::Grams(wiring.mass_g).kg(), 1, evaluation.units)
    ));
    let rows = wiring.bars.iter().map(|bar| {
        vec![
            Cell::figure(bar.count.to_string()),
            Cell::text(bar.section.clone()),
            Cell::figure(evaluation.up(bar.cut)),
            Cell::Tick,
        ]
    });
    page.table(&["number off", "made of", "cut", "made"], rows);
    let places = wiring.links.iter().filter(|link| link.disconnect).count();
    if places > 0 {
        page.paragraph(&format!(
            "Where the service disconnect goes there is no bar: {places} {}, each as far apart as its link says from centre to centre.",
            if places == 1 { "place" } else { "places" }
        ));
    }
}

fn taps(page: &mut Page, wiring: &WiringResult) {
    page.heading("Monitoring channels, from the pack's minus");
    let rows = wiring.taps.iter().map(|tap| {
        let (seat, plus) = tap.at;
        vec![
            Cell::figure(tap.channel.to_string()),
            Cell::figure(tap.string.to_string()),
            Cell::text(format!("{} {}", wiring.seats[seat].seat, if plus { "+" } else { "-" })),
            Cell::figure(tap.volts.shown(1)),
            Cell::Blank,
        ]
    });
    page.narrow(
        &["channel", "string", "terminal", "V nominal from minus", "V measured"],
        rows,
    );
}

fn labels(page: &mut Page, pack: &PackResult, wiring: &WiringResult) {
    page.heading("Labels");
    let full = pack.figures.map_or(String::new(), |f| f.volts.full.shown(0));
    let boxes: std::collections::BTreeSet<job::Id> = wiring.seats.iter().map(|s| s.battery_box).collect();
    let mut rows = vec![
        vec![
            Cell::figure(boxes.len().to_string()),
            Cell::text("high-voltage warning mark (flash in a triangle, black on yellow)"),
            Cell::text("on the lid of every box"),
            Cell::text("UN R100 5.1.1.5 (mark from memory, check it)"),
        ],
        vec![
            Cell::figure(boxes.len().to_string()),
            Cell::text(format!(
                "up to {full} V dc; open the service disconnect and wait before opening"
            )),
            Cell::text("on the lid of every box"),
            Cell::text("our wording"),
        ],
        vec![
            Cell::figure("1"),
            Cell::text("service disconnect"),
            Cell::text("at the disconnect, seen with the bed up and down"),
            Cell::text("common practice, no source"),
        ],
        vec![
            Cell::figure("as needed"),
            Cell::text("orange covering"),
            Cell::text("every high-voltage cable outside a box"),
            Cell::text("UN R100 5.1.1.5.3"),
        ],
    ];
    let tags: Vec<String> = wiring.seats.iter().map(|s| s.seat.to_string()).collect();
    rows.push(vec![
        Cell::figure(tags.len().to_string()),
        Cell::text(tags.join(", ")),
        Cell::text("one on each module, seen with the lid off"),
        Cell::text("so that this schedule can be followed"),
    ]);
    page.table(&["number off", "text", "where", "why"], rows);
}

/// Which spare goes where, and which box opens for it.
fn spare_plan(page: &mut Page, electric: &Electric) {
    let Some(matched) = &electric.matched else { return };
    let spares: Vec<&str> = matched.spares().map(|u| u.name.as_str()).collect();
    if spares.is_empty() {
        return;
    }
    page.heading("Spare units");
    let best = matched
        .spares()
        .filter(|u| u.amp_hours.is_some())
        .max_by(|a, b| a.amp_hours.unwrap_or(0.0).total_cmp(&b.amp_hours.unwrap_or(0.0)));
    let best = best.map_or(String::new(), |u| {
        format!(" Take {} first: it has the most amp-hours of them.", u.name)
    });
    page.paragraph(&format!(
        "{} spare: {}.{best} Bring a spare to the volts of its group before it is joined; measure it again if it lay for months.",
        spares.len(),
        spares.join(", ")
    ));
}

/// The links as a table for other programs: the columns of the schedule.
pub fn wiring_csv(evaluation: &Evaluation) -> String {
    let head = [
        "pack",
        "step",
        "link",
        "from",
        "to",
        "what",
        "made of",
        "run mm",
        "cut mm",
        "amps",
        "makes V",
        "resistance mohm",
        "mass g",
    ];
    let mut rows = vec![head.map(str::to_owned)];
    for (pack, electric) in evaluation.electrics() {
        let Some(wiring) = &electric.wiring else { continue };
        for (step, link) in in_order(wiring) {
            let what = if link.disconnect {
                "disconnect"
            } else {
                link.kind.name()
            };
            rows.push([
                pack.name.clone(),
                if link.disconnect {
                    "last".to_owned()
                } else {
                    step.to_string()
                },
                link.number.to_string(),
                wiring.end_name(link.from),
                wiring.end_name(link.to),
                what.to_owned(),
                link.made_of().to_owned(),
                crate::words::tenth_mm(link.run),
                link.to_cut().map_or_else(String::new, crate::words::tenth_mm_up),
                link.amps.map_or(String::new(), |a| format!("{a:.1}")),
                link.makes.shown(1),
                format!("{:.4}", link.resistance.milliohms()),
                link.mass_g.to_string(),
            ]);
        }
    }
    crate::comma::written(&rows)
}
