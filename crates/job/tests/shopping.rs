//! What is bought for boxes: lengths of fasteners from what they clamp, gasket, paint, and the order by shop.

mod common;

use job::shopping::{Item, Shop, to_buy};
use job::{Edit, Field, Figure, Job, evaluate};

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
