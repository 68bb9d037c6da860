//! The long texts: help, and everything the program has to say.

use job::changes::{Difference, PartChange};

use crate::keys::table;
use crate::model::{Model, finding_meaning};
use crate::page::Page;
use crate::widgets::help::HelpSection;

pub(super) fn help_sections(model: &Model) -> Vec<HelpSection> {
    let keys = table(model.page)
        .iter()
        .map(|b| (b.show.to_owned(), b.words.to_owned()))
        .collect();
    let about = match model.page {
        Page::Start => "Start a job, open one, or look at an example.",
        Page::Tape => {
            "Length, width and height make a start, taken as square. Open \"from corner to corner\" and tape on in walking order: Enter goes to the next line, Enter alone passes one over. With spare readings the page names what looks wrong: r tapes it again, e leaves it out or lets it stand. Keep-outs are what must stay free, counted from the corner you hooked the tape to."
        }
        Page::Modules => {
            "Seven values make a first layout; everything else has a default, marked ~ until you confirm it."
        }
        Page::Layout => {
            "Select with n or the mouse, nudge with the arrows by the step shown. A box wraps its modules, so a module at its edge takes the wall with it. Clearances are measured to where walls and keep-outs are expected; +- is what they may be off. k and j hold back what the tape may be off. ! less than asked for is sure, !! in the way. f works a layout out and offers what it finds in a table beside what is there now; F does so for one cavity or box. What is pinned (i) stays where it is. d shares out the room that is left. w lists the smallest single changes for one more, what each keep-out costs, and how wrong each reading may be."
        }
        Page::Pack => {
            "Every series and parallel that the units on hand allow, as bars of volts from empty to full: [ and ] are the drive's least and most volts, | is nominal, ! sticks out. The reason stands beside each that does not fit. Enter on one lays out exactly that. Below: the pack as laid out, its volts over the state of charge, what was checked against which limit, and the entries it all rests on."
        }
        Page::Units => {
            "i reads a test sheet: a table as text, columns in any order. m puts each measured unit where the weakest group is as strong as can be, and tells how sure that is and what the order of the sheet or chance would give. Enter opens a unit: set aside what is swollen, leaking, dented or hot. A spare is a unit that is built in nowhere."
        }
        Page::Truck => {
            "What each axle carries before and after the work, against the plate and the tyres. Start with the wheelbase and the two axle readings of the truck as it stood; then the ratings on its plate. a adds what comes out or goes in, at the place of its middle; boxes count by themselves where their cavity has a place in the truck. k adds a low point, on the frame or on an axle. j adds a load to sets that you name (crew and tools; full): loads, limits and clearance are told for each set. Enter opens one, x on its name takes it out again. In the side view the front is on the left: wheels, frame and boxes to one scale, cab and bed only hinted at, ramps as dotted lines; v gives its room to the rows. g goes to the truck on the road: range, gears, charging, panels; what is marked ~ rests on a default until you enter your own."
        }
        Page::Wiring => {
            "The chain from the pack's minus to its plus, drawn over the modules; ~ runs from box to box. Left and right go along it, < and > move the module along, t turns it round so that its terminals change places, i keeps it with the next one. f works out two orders: the shortest links, and the one that keeps the volts between neighbours low; the two pull apart, so you choose. e: the leads leave at this box, each press the next side. A link always joins plus to minus, or like to like in a group."
        }
        Page::Boxes => {
            "Open a box with Enter to see its clearances and where every millimetre goes. Under stock: how sheets and bars are cut; b adds a size to buy, o an offcut that lies there, x takes one out again. n lays all parts on sheets and bars: proved means that no way of cutting buys fewer, at least 2 that nobody has shown that 2 will not do. Nothing of it is stored; it is worked out anew when the job changes. After an edit here the lines at the bottom tell what it changed; d tells all of it."
        }
        Page::Papers => {
            "Every paper of the job, by who reads it, with a look at the one under the cursor. Space ticks it or not, a all or none; w writes the ticked ones into a folder, and where they went stays below the list. Ticks are kept while the program runs. i issues: the job keeps what the shop gets, under the next letter, and tells from then on what changed."
        }
    };
    let pin = model.theme.glyphs().pin;
    let marks = format!(
        "!! stop: cannot work or outside a limit   ! caution   ~ rests on an assumed value   {pin} pinned   * not saved"
    );
    let offered = |key: &str, words: &str| (key.to_owned(), words.to_owned());
    let offer = (model.page == Page::Layout).then(|| HelpSection {
        title: "keys while layouts stand in the table".to_owned(),
        keys: vec![
            offered("up down", "the layout before, the next one"),
            offered("1 to 9", "that layout at once"),
            offered("Enter y", "take it over"),
            offered("Esc n", "keep the job as it was"),
            offered("v c z", "view, next cavity, zoom on the box"),
            offered("!", "all findings of the job with that layout"),
            offered("?", "help, and back"),
        ],
        text: String::new(),
    });
    let mut sections = vec![
        HelpSection {
            title: "this page".to_owned(),
            keys: Vec::new(),
            text: about.to_owned(),
        },
        HelpSection {
            title: "keys".to_owned(),
            keys,
            text: String::new(),
        },
        HelpSection {
            title: "marks".to_owned(),
            keys: Vec::new(),
            text: marks,
        },
        HelpSection {
            title: "cautions".to_owned(),
            keys: ::papers::cautions()
                .iter()
                .map(|c| ("!".to_owned(), (*c).to_owned()))
                .collect(),
            text: String::new(),
        },
    ];
    // Behind the keys of the page.
    sections.splice(2..2, offer);
    sections
}

pub(super) fn finding_sections(model: &Model) -> Vec<HelpSection> {
    let shown = model.shown();
    let of_ways = crate::pages::ways::findings(model);
    let keys = of_ways
        .iter()
        .chain(&shown.findings)
        .map(|f| {
            let fix = if f.fix.is_empty() {
                String::new()
            } else {
                format!("; fix: {}", f.fix)
            };
            let source = if f.source.is_empty() {
                String::new()
            } else {
                format!(" (limit from: {})", f.source)
            };
            (
                finding_meaning(f).mark().to_owned(),
                format!("{}: {}{fix}{source}", f.name, f.words),
            )
        })
        .collect();
    let assumed = shown
        .assumptions
        .iter()
        .map(|a| ("~".to_owned(), format!("{}: {}", a.label, a.text)))
        .collect();
    vec![
        HelpSection {
            title: "findings, the gravest first".to_owned(),
            keys,
            text: String::new(),
        },
        HelpSection {
            title: "assumed until you confirm it".to_owned(),
            keys: assumed,
            text: String::new(),
        },
    ]
}

/// All that the last edit on the Boxes page changed.
pub(super) fn changed_sections(model: &Model) -> Vec<HelpSection> {
    let Some(changed) = &model.changed else {
        return Vec::new();
    };
    let found = &changed.changes;
    let section = |title: &str, keys: Vec<(String, String)>| HelpSection {
        title: title.to_owned(),
        keys,
        text: String::new(),
    };
    let arrows = |of: &[Difference]| -> Vec<(String, String)> {
        of.iter()
            .map(|d| {
                let bare = Difference {
                    what: String::new(),
                    ..d.clone()
                };
                (d.what.clone(), bare.words())
            })
            .collect()
    };
    let mut sections = vec![section(&changed.words, arrows(&found.facts))];
    for battery_box in &found.shop.boxes {
        let mut keys = arrows(&battery_box.differences);
        let words = |part: &PartChange| {
            let words = part.words();
            words
                .strip_prefix(&format!("{} ", part.mark))
                .unwrap_or(&words)
                .to_owned()
        };
        keys.extend(battery_box.parts.iter().map(|part| (part.mark.clone(), words(part))));
        sections.push(section(&battery_box.name, keys));
    }
    sections.push(section("clearances", arrows(&found.clearances)));
    sections.push(section("cut from", arrows(&found.shop.stock)));
    sections.retain(|section| !section.keys.is_empty());
    if sections.is_empty() {
        sections.push(HelpSection {
            text: "No part, size, mass or clearance differs.".to_owned(),
            ..section(&changed.words, Vec::new())
        });
    }
    sections
}
