//! What is bought for boxes: lengths of fasteners from what they clamp, gasket, paint, and the order by shop.

mod common;

use job::shopping::{Item, Shop, to_buy};
use job::{Edit, Evaluation, Field, Figure, Job, evaluate};
use tape::Length;

fn set(job: &Job, field: Field, text: &str) -> Job {
    let text = text.to_owned();
    job.with(&Edit::Set { field, text }).expect("the edit fits the job")
}

fn items(job: &Job) -> Vec<Item> {
    to_buy(job, &evaluate(job)).items
}

fn item<'a>(items: &'a [Item], what: &str) -> &'a Item {
    let found = items.iter().find(|item| item.what.starts_with(what));
    found.unwrap_or_else(|| panic!("{what}: {:?}", items.iter().map(|i| &i.what).collect::<Vec<_>>()))
}

/// Lid 2, gasket squeezed to 4, flange 3: 9 mm between head and nut of an M6, with two washers of 1.5, a nut of 5.2 and
/// two threads of 1 are 19.2 mm: 20 mm. (The lid and flange are those of the example.)
#[test]
fn lid_screws_are_as_long_as_what_they_clamp() {
    let job = common::built_in("orchard-flatbed");
    let job = [
        (Field::Lid, "2 mm"),
        (Field::FlangeThickness, "3 mm"),
        (Field::GasketSqueezed, "4 mm"),
        (Field::Screw, "6 mm"),
    ]
    .into_iter()
    .fold(job, |job, (field, text)| set(&job, field, text));
    let short = items(&job);
    let screws = item(&short, "lid screws with nuts, M6 x 20");
    assert!(screws.note.contains("9.0 mm between head and nut"), "{}", screws.note);
    let thick = items(&set(&job, Field::Lid, "3 mm"));
    item(&thick, "lid screws with nuts, M6 x 25");
}

/// A bracket of 5 on a rail of 8: 13 + 4 + 8.4 + 3 = 28.4 mm of M10.
#[test]
fn mount_bolts_have_a_length_when_the_rail_is_known() {
    let job = set(
        &common::built_in("orchard-flatbed"),
        Field::Brackets,
        "to the web of a rail",
    );
    let unknown = items(&job);
    assert!(
        item(&unknown, "mount bolts M10 of class 8.8")
            .note
            .contains("rail's thickness")
    );
    let known = items(&set(&job, Field::Figure(Figure::RailThick), "8"));
    item(&known, "mount bolts M10 x 30 of class 8.8");
    assert!(
        known.iter().all(|item| !item.what.contains("crush tubes")),
        "brackets spread the pull"
    );
    let bare = items(&common::built_in("orchard-flatbed"));
    assert!((item(&bare, "backing plates or crush tubes for mount bolts").needed - 8.0).abs() < 1e-9);
}

/// A lug of 3, a gap of 3 and a bar of 5: 11 mm, two washers of 2, two nuts of 6.8 and four threads of 1.25 are 33.6 mm.
#[test]
fn hold_down_studs_are_long_enough_for_a_nut_at_each_end() {
    let job = set(
        &common::built_in("orchard-flatbed"),
        Field::HoldDown,
        "bars on lugs at the walls",
    );
    item(&items(&job), "studs M6 x 30 with a nut and washer at each end");
}

#[test]
fn the_gasket_lies_along_the_screws_and_paint_follows_from_the_outside() {
    let job = common::built_in("orchard-flatbed");
    let evaluation = evaluate(&job);
    let list = items(&job);
    let built = || evaluation.boxes.iter().filter_map(|b| b.built.as_ref());
    let line: f64 = built()
        .filter_map(|b| b.lid_holes)
        .map(|line| 2.0 * (line.line_length + line.line_width).as_mm() / 1000.0)
        .sum();
    let gasket = item(&list, "gasket, ");
    assert!(
        (gasket.needed - line).abs() < 1e-9 && gasket.what.contains(" wide"),
        "{}",
        gasket.what
    );
    assert!(gasket.note.starts_with("inside the screws"), "{}", gasket.note);
    let capped = set(&job, Field::Closing, "cap with a skirt");
    let clamped = items(&set(&capped, Field::CapHeld, "toggle clamps"));
    let of_cap = item(&clamped, "gasket, ");
    assert!(of_cap.what.contains(" wide, "), "{}", of_cap.what);
    assert!(
        of_cap.note.starts_with("in the cap against the skirt"),
        "{}",
        of_cap.note
    );
    let outside: f64 = built().map(|b| b.coat_area.as_m2()).sum();
    let paint = item(&list, "paint or powder");
    assert!((paint.needed - outside / 6.0).abs() < 1e-9, "6 m2 to the kilogram");
    let thin = items(&set(&job, Field::Figure(Figure::Coverage), "12"));
    assert!((item(&thin, "paint or powder").needed - outside / 12.0).abs() < 1e-9);
}

#[test]
fn lines_stand_by_shop() {
    let job = common::built_in("orchard-flatbed");
    let into = job.boxes[0].id;
    let at = [tape::Length::mm(150), tape::Length::mm(100)];
    let job = job.with(&Edit::AddFitting { into, at }).unwrap();
    let fitting = job.boxes[0].fittings[0].id;
    let job = set(&job, Field::FittingWhat(fitting), "earth stud");
    let list = items(&job);
    assert!(list.is_sorted_by_key(|item| item.shop));
    assert_eq!(list[0].shop, Shop::Steel);
    assert_eq!(
        item(&list, "earth strap from box to chassis, lugs for M8").shop,
        Shop::Electrical
    );
    assert_eq!(item(&list, "earth stud M8").shop, Shop::Electrical);
    assert_eq!(list.last().unwrap().shop, Shop::Paint);
}

fn pieces(count: usize) -> f64 {
    f64::from(u32::try_from(count).expect("a pack has few pieces"))
}

/// The example with its electrics entered: 200 A for long, 50 mm2, 3 m to the drive, bars of 25 x 3.
fn wired() -> Job {
    [
        (Field::DriveContinuous, "200 A"),
        (Field::Cable, "50 mm2"),
        (Field::LinkMadeOf, "25 x 3 mm copper bar"),
        (Field::Figure(Figure::LeadLength), "3"),
        (Field::Figure(Figure::CableSpare), "100"),
        (Field::Figure(Figure::LinkStock), "1000"),
        (Field::Figure(Figure::Stud), "8"),
        (Field::Figure(Figure::DriveCapacitors), "1000"),
    ]
    .into_iter()
    .fold(common::built_in("orchard-flatbed"), |job, (field, text)| {
        set(&job, field, text)
    })
}

fn wiring(evaluation: &Evaluation) -> &job::WiringResult {
    let (_, electric) = evaluation.electrics().next().expect("a pack");
    electric.wiring.as_ref().expect("a whole pack")
}

#[test]
fn cable_is_bought_by_the_metre_with_more_for_cutting_and_has_a_lug_at_each_end() {
    let job = wired();
    let evaluation = evaluate(&job);
    let cables: Vec<_> = wiring(&evaluation).links.iter().filter(|l| l.kind.is_cable()).collect();
    let metres: f64 = cables.iter().map(|l| l.cut.as_mm() / 1e3).sum();
    let list = items(&job);
    let cable = item(&list, "cable 50 mm2");
    assert!((cable.needed - metres).abs() < 1e-9 && (cable.buy - 1.1 * metres).abs() < 1e-9);
    assert!(
        cable.note.contains("10 % more for cutting; for up to 200 A and full "),
        "{}",
        cable.note
    );
    // Two leads of 3 m and 0.1 m at the least.
    assert!(cable.needed >= 6.2 - 1e-9, "{}", cable.needed);
    let more = items(&set(&job, Field::Figure(Figure::CableMore), "25"));
    assert!((item(&more, "cable 50 mm2").buy - 1.25 * metres).abs() < 1e-9);
    let lugs: f64 = list
        .iter()
        .filter(|i| i.what.starts_with("lugs 50 mm2"))
        .map(|i| i.needed)
        .sum();
    let cut_in_two = cables.iter().filter(|l| l.disconnect).count();
    assert!((lugs - pieces(2 * (cables.len() + cut_in_two))).abs() < 1e-9, "{lugs}");
    let at_modules = cables
        .iter()
        .flat_map(|l| [l.from, l.to])
        .filter(|end| matches!(end, job::End::Terminal { .. }))
        .count();
    assert!((item(&list, "lugs 50 mm2 for M8").needed - pieces(at_modules)).abs() < 1e-9);
}

/// The range of a gland is told as it is listed: one that begins at 4.5 mm does not seal on 4 mm.
#[test]
fn the_range_of_a_gland_is_told_to_the_half_millimetre() {
    let job = set(&wired(), Field::Figure(Figure::CableOutside), "8");
    let list = items(&job);
    let gland = item(&list, "cable gland M16 for a cable 8.0 mm outside");
    assert!(gland.note.contains("seals on 4.5 to 10 mm"), "{}", gland.note);
}

/// By hand: a link takes its cut and a kerf, a bar gives its length less two trims and one kerf more.
#[test]
fn link_bars_are_bought_as_whole_lengths_that_hold_the_links_with_their_ends() {
    let job = wired();
    let evaluation = evaluate(&job);
    let bars = &wiring(&evaluation).bars;
    let of_bar: Vec<f64> = bars
        .iter()
        .filter(|b| b.section.ends_with("bar"))
        .flat_map(|b| vec![b.cut.as_mm(); b.count as usize])
        .collect();
    assert!(!of_bar.is_empty());
    let list = items(&job);
    let bought = item(&list, "25 x 3 mm copper bar, ");
    let least = of_bar.iter().map(|cut| cut + 3.0).sum::<f64>() / (1000.0 - 2.0 * 5.0 + 3.0);
    assert!(
        bought.buy >= least && bought.buy <= (2.0 * least).ceil(),
        "{} {least}",
        bought.buy
    );
    assert!(
        bought.note.starts_with(&format!("{} links, ", of_bar.len())),
        "{}",
        bought.note
    );
    // A bar shorter than the links is told, and not left out in silence.
    let short = items(&set(&job, Field::Figure(Figure::LinkStock), "100"));
    assert!(short.iter().any(|i| i.note.starts_with("longer than a bar of ")));
}

/// 200 A at 80 % of a fuse are 250 A; 1000 uF to 95 % in 1 s is 1 / (0.001 ln 20) = 333.8 ohm: 333 at most.
#[test]
fn fuses_contactors_and_precharge_follow_from_amps_and_volts() {
    let job = wired();
    let evaluation = evaluate(&job);
    let full = evaluation
        .electrics()
        .next()
        .unwrap()
        .0
        .figures
        .unwrap()
        .volts
        .full
        .get();
    let list = items(&job);
    let fuse = item(&list, "main fuse with its holder, for ");
    assert_eq!((fuse.needed, fuse.buy, fuse.cost), (1.0, 2.0, None));
    assert!(
        fuse.note.starts_with("at least ~250 A for 200 A for long; full "),
        "{}",
        fuse.note
    );
    assert!(
        fuse.note
            .ends_with("to be chosen by the licensed electrician, by local code"),
        "{}",
        fuse.note
    );
    let bought = items(&set(&job, Field::Figure(Figure::FuseAmps), "300"));
    assert!(
        !item(&bought, "main fuse with its holder 300 A")
            .note
            .contains("to be chosen")
    );
    assert!((item(&list, "main contactor").needed - 2.0).abs() < 1e-9);
    let resistor = item(&list, "pre-charge resistor, ~333 ohm at most");
    assert!(
        resistor
            .note
            .contains(&format!("~{:.0} W at first", (full * full / 333.0).ceil())),
        "{}",
        resistor.note
    );
    assert!(resistor.assumed && fuse.assumed);
    let all_entered = [
        (Figure::PrechargeLevel, "95"),
        (Figure::PrechargeSeconds, "1"),
        (Figure::FuseLoad, "79"),
        (Figure::FuseWarm, "100"),
    ]
    .into_iter()
    .fold(job.clone(), |job, (figure, text)| {
        set(&job, Field::Figure(figure), text)
    });
    let entered = items(&all_entered);
    // 200 / 0.79 = 253.2.
    let fuse = item(&entered, "main fuse with its holder, for ");
    assert!(
        fuse.note.starts_with("at least 254 A for 200 A for long; "),
        "{}",
        fuse.note
    );
    let resistor = item(&entered, "pre-charge resistor, 333 ohm at most");
    let volts = evaluate(&all_entered).headline.assumed.volts;
    assert_eq!([resistor.assumed, fuse.assumed], [volts; 2]);
    let modules = wiring(&evaluation).seats.len();
    assert!((item(&list, "insulating caps for terminals M8").needed - pieces(2 * modules)).abs() < 1e-9);
    assert_eq!(item(&list, "cable 50 mm2").shop, Shop::Electrical);
}

/// A cable through a wall takes a gland, let in or not: never both, never none.
#[test]
fn every_cable_through_a_wall_has_a_gland_on_the_list() {
    let glands = |job: &Job| -> f64 {
        let list = items(job);
        list.iter()
            .filter(|i| i.what.starts_with("cable gland "))
            .map(|i| i.needed)
            .sum()
    };
    let job = wired();
    let evaluation = evaluate(&job);
    let exits = pieces(evaluation.exits.len());
    assert!(exits > 0.0);
    assert!((glands(&job) - exits).abs() < 1e-9);
    let let_in = job::glands::propose(&job, &evaluation)
        .iter()
        .filter_map(job::glands::Proposal::edit)
        .try_fold(job, |job, edit| job.with(&edit))
        .expect("glands are let in");
    assert!((glands(&let_in) - exits).abs() < 1e-9);
}

/// A gland that does not seal on the cable takes none off the list, and another is still proposed for it.
#[test]
fn a_gland_of_another_size_serves_no_cable() {
    let job = wired();
    let let_in = job::glands::propose(&job, &evaluate(&job))
        .iter()
        .filter_map(job::glands::Proposal::edit)
        .try_fold(job, |job, edit| job.with(&edit))
        .expect("glands are let in");
    let without = |job: &Job| -> f64 {
        let list = items(job);
        let is_without =
            |i: &&Item| i.what.starts_with("cable gland ") && i.note.starts_with("not let into a wall yet");
        list.iter().filter(is_without).map(|i| i.needed).sum()
    };
    assert!(without(&let_in) < 1e-9);
    let battery_box = let_in
        .boxes
        .iter()
        .find(|b| !b.fittings.is_empty())
        .expect("it has a gland");
    let gland = battery_box.fittings[0].id;
    let name = evaluate(&let_in)
        .boxes
        .iter()
        .find(|b| b.id == battery_box.id)
        .unwrap()
        .name
        .clone();
    let thin = set(&let_in, Field::FittingHole(gland), "12 mm");
    assert!((without(&thin) - 1.0).abs() < 1e-9);
    let evaluation = evaluate(&thin);
    let told = evaluation
        .findings
        .iter()
        .find(|f| f.words.contains("does not fit them"))
        .expect("it is told");
    assert!(told.words.contains(" that seals on "), "{}", told.words);
    assert!(
        job::glands::propose(&thin, &evaluation)
            .iter()
            .any(|p| p.name == name && p.glands.len() + p.without.len() == 1)
    );
}

/// A disconnect that is let into a wall is one of those that the chain asks for, and has its hole told.
#[test]
fn a_disconnect_in_a_wall_is_not_bought_twice() {
    let job = wired();
    let evaluation = evaluate(&job);
    let links = &wiring(&evaluation).links;
    assert_eq!(links.iter().filter(|link| link.disconnect).count(), 2);
    let in_wall = "service disconnect with its plug, for a hole of ";
    let disconnects = |job: &Job| -> Vec<(bool, f64)> {
        let list = items(job);
        let is = |i: &&Item| i.what.contains("disconnect");
        let told = list.iter().filter(is);
        told.map(|i| (i.what.starts_with(in_wall), i.needed)).collect()
    };
    assert_eq!(disconnects(&job), [(false, 2.0)]);
    let let_in = |job: &Job, along: i64| {
        let into = job.boxes[0].id;
        let at = [tape::Length::mm(along), tape::Length::mm(100)];
        let job = job.with(&Edit::AddFitting { into, at }).expect("it fits the job");
        let own = job.boxes[0].fittings.last().expect("it was added").id;
        set(&job, Field::FittingWhat(own), "disconnect")
    };
    let one = let_in(&job, 100);
    assert_eq!(disconnects(&one), [(true, 1.0), (false, 1.0)]);
    let own = items(&one);
    let note = &item(&own, in_wall).note;
    assert!(
        note.starts_with("carries ") && note.contains(" A for long, for full "),
        "{note}"
    );
    let two = let_in(&one, 220);
    assert_eq!(disconnects(&two), [(true, 2.0)]);
    // One that no chain asks for is bought all the same, and said.
    let three = let_in(&two, 340);
    assert!(three.boxes[0].fittings.len() == 3);
    let all: f64 = disconnects(&three).iter().map(|(_, needed)| needed).sum();
    let faults = evaluate(&three).boxes[0]
        .fittings
        .iter()
        .filter(|f| f.fault.is_some())
        .count();
    assert!((all + pieces(faults) - 3.0).abs() < 1e-9);
}

/// A built-in job, told in millimetres.
fn in_millimetres(name: &str) -> Job {
    let mut job = common::built_in(name);
    job.units = job::UnitsName::Millimetre;
    job
}

/// Sheet of 3 in an angle of 3 is a grip of 6 mm, a floor of 4 one of 7; with the hole of 4.9 they are 10.9 and 11.9 mm: 12 mm.
#[test]
fn rivets_of_panels_are_bought_by_what_they_go_through() {
    let job = [
        (Field::Construction, "panels in an angle frame"),
        (Field::Wall, "3 mm"),
        (Field::Floor, "4 mm"),
        (Field::FrameThickness, "3 mm"),
    ]
    .into_iter()
    .fold(in_millimetres("mountain-rescue"), |job, (field, text)| {
        set(&job, field, text)
    });
    let evaluation = evaluate(&job);
    let all: u32 = evaluation
        .boxes
        .iter()
        .filter_map(|b| b.built.as_ref())
        .map(|b| b.rivets)
        .sum();
    let items = items(&job);
    let [walls, floors] = ["6.0", "7.0"].map(|grip| {
        let what = format!("countersunk blind rivets for a hole of 4.9 mm, grip {grip} mm, 12.0 mm long, panels");
        item(&items, &what).needed
    });
    assert!(
        (walls + floors - f64::from(all)).abs() < 1e-9,
        "{walls} + {floors} of {all}"
    );
}

/// A skirt of 2 whose outside is 5 from a wall of 2: 2 + 3 + 2 = 7 mm, a washer of 1.5 and 6 into the nut are 14.5: an M6 of 16.
#[test]
fn screws_of_a_cap_have_a_length_and_their_nuts_a_grip() {
    let job = [
        (Field::Closing, "cap with a skirt"),
        (Field::CapHeld, "screws through skirt and wall"),
        (Field::CapOut, "5 mm"),
        (Field::Lid, "2 mm"),
        (Field::Wall, "2 mm"),
        (Field::Screw, "6 mm"),
    ]
    .into_iter()
    .fold(in_millimetres("mountain-rescue"), |job, (field, text)| {
        set(&job, field, text)
    });
    let items = items(&job);
    let screws = item(&items, "lid screws with rivet nuts, M6 x 16, rivet nut grip 2.0 mm");
    assert!(screws.note.contains("7.0 mm of skirt, gap and wall"), "{}", screws.note);
}

/// A bead of 4 mm is 12.566 mm2, so a metre of seam is 12.6 ml: once round floor, sides and ends of every box.
#[test]
fn sealant_is_bought_by_the_seam_of_riveted_panels_only() {
    let framed = [
        (Field::Construction, "panels in an angle frame"),
        (Field::Sealant, "4 mm"),
    ]
    .into_iter()
    .fold(in_millimetres("mountain-rescue"), |job, (field, text)| {
        set(&job, field, text)
    });
    let evaluation = evaluate(&framed);
    let panels = ["floor", "long side", "end"];
    let parts = evaluation.boxes.iter().flat_map(|b| &b.built.as_ref().unwrap().parts);
    let round: f64 = parts
        .filter(|part| panels.contains(&part.role.name()))
        .map(|part| 2.0 * (part.length + part.width).as_mm() * f64::from(part.quantity))
        .sum();
    let list = items(&framed);
    let sealant = item(&list, "sealant for the seams of panels and angle, bead of 4.0 mm");
    assert!(
        (sealant.needed - round * 0.012_566_37).abs() < 0.01,
        "{} of {round}",
        sealant.needed
    );
    assert!(sealant.note.contains("before the rivets"), "{}", sealant.note);
    let order = |job: &Job| {
        let made = evaluate(job);
        let steps = &made.boxes[0].welds.as_ref().unwrap().order;
        steps.iter().map(|step| step.words()).collect::<Vec<_>>().join("; ")
    };
    assert!(order(&framed).contains("sealant"));
    let tight = set(&framed, Field::Figure(Figure::IpWater), "7");
    let lacks = |job: &Job| {
        let found = evaluate(job).findings;
        found
            .iter()
            .any(|f| f.words.contains("lacks") && f.words.contains("sealant"))
    };
    assert!(!lacks(&tight));
    let none = set(&tight, Field::Sealant, "0");
    assert!(lacks(&none) && !order(&none).contains("sealant"));
    let bonded = set(&none, Field::PanelsHeld, "adhesive");
    assert!(!lacks(&bonded));
    let has = |job: &Job| items(job).iter().any(|item| item.what.starts_with("sealant"));
    assert!(!has(&none) && !has(&bonded) && !has(&common::built_in("mountain-rescue")));
}

/// Panels in an angle of 30 x 3 share its 27 mm with it all round: a floor of a by b 2 (a + b) 27 less four corners of 27 x 27 mm.
/// Nothing of it is bought where rivets hold them; stiffeners that are bonded ask for their own.
#[test]
fn adhesive_is_bought_by_what_it_is_spread_on() {
    let framed = [
        (Field::Construction, "panels in an angle frame"),
        (Field::PanelsHeld, "adhesive"),
    ]
    .into_iter()
    .fold(in_millimetres("mountain-rescue"), |job, (field, text)| {
        set(&job, field, text)
    });
    let evaluation = evaluate(&framed);
    let built = evaluation.boxes.iter().map(|b| b.built.as_ref().unwrap());
    let spread: f64 = built.map(|built| built.adhesive_area(true).as_mm2()).sum();
    let list = items(&framed);
    let adhesive = item(&list, "structural adhesive for metal");
    assert!((adhesive.needed - spread / 1000.0).abs() < 1e-6, "{}", adhesive.needed);
    assert!(adhesive.note.contains("1.0 mm thick"), "{}", adhesive.note);
    let floor = &evaluation.boxes[0].built.as_ref().unwrap().parts[0];
    let share = |(_, area): &(enclosure::Role, tape::Area)| area.as_mm2();
    let of_floor = evaluation.boxes[0]
        .built
        .as_ref()
        .unwrap()
        .shared
        .first()
        .map(share)
        .unwrap();
    let [a, b] = [floor.length, floor.width].map(Length::as_mm);
    // What a panel keeps off the root of the angle is not shared.
    assert!(
        of_floor <= 2.0 * (a + b) * 27.0 - 4.0 * 27.0 * 27.0 + 1.0 && of_floor > (a + b) * 27.0,
        "{of_floor}"
    );
    let has = |job: &Job| items(job).iter().any(|item| item.what.contains("adhesive"));
    let riveted = set(&framed, Field::PanelsHeld, "rivets");
    assert!(!has(&riveted));
    let stiff = set(&riveted, Field::LidStiffened, "angles over it");
    assert!(!has(&stiff));
    assert!(has(&set(&stiff, Field::StiffenersFixed, "bonded")));
}

/// 0.2 x 0.75 x 33 700 N x 0.010 m = 50.55 N m; over 1.355 818 that is 37.3 lbf ft.
#[test]
fn fasteners_say_how_tight_and_of_what_class() {
    let job = set(
        &common::built_in("orchard-flatbed"),
        Field::Brackets,
        "to the web of a rail",
    );
    let list = items(&job);
    let bolts = item(&list, "mount bolts M10 of class 8.8");
    assert!(
        bolts.note.contains("51 N m") && bolts.note.contains("37 lbf ft"),
        "{}",
        bolts.note
    );
    let screws = item(&list, "lid screws with nuts");
    assert!(screws.note.contains("class 8.8, zinc-plated"), "{}", screws.note);
    assert!(screws.note.contains("until the gasket is"), "{}", screws.note);
}

#[test]
fn a_cap_that_is_screwed_has_a_sleeve_on_each_screw() {
    let job = set(&common::built_in("orchard-flatbed"), Field::Closing, "cap with a skirt");
    let job = set(&job, Field::CapHeld, "screws");
    let list = items(&job);
    let [sleeves, screws] = ["spacer sleeves", "lid screws with rivet nuts"].map(|name| item(&list, name));
    assert!(sleeves.needed > 0.0 && (sleeves.needed - screws.needed).abs() < 1e-9);
    // Out 10, of a lid of 2: a gap of 8, of which the rim of an M6 nut takes 1.5.
    let own = [(Field::CapOut, "10 mm"), (Field::Lid, "2 mm"), (Field::Screw, "6 mm")];
    let told = own.iter().fold(job, |job, (field, text)| set(&job, *field, text));
    let list = items(&told);
    let sleeves = item(&list, "spacer sleeves");
    assert!(sleeves.what.ends_with("(6.5 mm) long"), "{}", sleeves.what);
    // A gap of 1.5 is all rim.
    let tight = items(&set(&told, Field::CapOut, "3.5 mm"));
    assert!(!tight.iter().any(|item| item.what.starts_with("spacer sleeves")));
}

/// A gland's 40.5 is M40. The plate under an eye is on the cut list, and no line of its own.
#[rstest::rstest]
#[case(
    "lifting eye",
    "lifting eye for a hole",
    "torque: by its maker; backing plate: as on the cut list"
)]
#[case("lifting eye", "lifting eye for a hole", "thread M12; its rated load")]
#[case("cable gland", "cable gland for a hole", "thread M40 x 1.5")]
#[case("earth stud", "earth stud M8", "maker of stud and lug")]
fn what_is_let_in_tells_its_thread(#[case] what: &str, #[case] name: &str, #[case] told: &str) {
    let job = common::built_in("orchard-flatbed");
    let into = job.boxes[0].id;
    let at = [tape::Length::mm(150), tape::Length::mm(100)];
    let job = job.with(&Edit::AddFitting { into, at }).unwrap();
    let job = set(&job, Field::FittingWhat(job.boxes[0].fittings[0].id), what);
    let list = items(&job);
    assert!(item(&list, name).note.contains(told), "{}", item(&list, name).note);
    assert!(!list.iter().any(|item| item.what.contains("under lifting eyes")));
}
