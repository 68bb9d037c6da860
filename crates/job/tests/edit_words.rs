//! What an edit is called: words that go behind `undid:` and read as a sentence.

mod common;

use geometry::{Axis, Face, Orientation, Point};
use job::{BedEdit, Edit, Field, Id, Says, StockEdit, StockForm, TruckEdit, UnitsEdit, WayName, WiringEdit};
use tape::Length;

fn set(field: Field, text: &str) -> Edit {
    let text = text.to_owned();
    Edit::Set { field, text }
}

#[test]
fn a_value_is_told_with_what_it_is_of() {
    let job = common::built_in("orchard-flatbed");
    let into = job.boxes[0].id;
    let at = [Length::mm(100), Length::mm(100)];
    let job = job.with(&Edit::AddFitting { into, at }).expect("there is a box");
    let fitting = job.boxes[0].fittings[0].id;
    let keep_out = job.cavities[0].keep_outs[0].id;
    let kind = job.kinds[0].id;
    let module = job.boxes[0].modules[0].id;
    let cavity = job.cavities[0].id;
    let words = |edit: Edit| edit.words(&job);
    let told: Vec<String> = [
        set(Field::Margin, "1/2"),
        set(Field::Margin, " "),
        set(Field::Wall, "14 ga"),
        set(Field::FlangeOut, "1 1/2"),
        set(Field::Brackets, "to the web"),
        set(Field::BracketSides, "short sides"),
        set(Field::Standoffs, "strips"),
        set(Field::WeldSide, "inside"),
        set(Field::DriveMin, "200"),
        set(Field::KeepOutTo(keep_out, Axis::Z), "12 3/4"),
        set(Field::KeepOutFrom(keep_out, Axis::X), "2"),
        set(Field::KeepOutTravel(keep_out, Face::Top), "1"),
        set(Field::KeepOutName(keep_out), "exhaust"),
        set(Field::FittingOut(fitting), "2"),
        set(Field::FittingWall(fitting), "rear"),
        set(Field::FittingAlong(fitting), "4"),
        set(Field::BoxAt(into, Axis::X), "3"),
        set(Field::BoxStep(into), "rear"),
        set(Field::BoxBracketLeg(into), "2"),
        set(Field::PlacedAt(module, Axis::Y), "3"),
        set(Field::CavityName(cavity), "left pocket"),
        set(Field::KindMass(kind), "25 lb"),
        set(Field::LaidOn(cavity), ""),
        Edit::Confirm(Field::LidStiffened),
        Edit::Confirm(Field::LinerMaterial),
    ]
    .into_iter()
    .map(words)
    .collect();
    assert_eq!(
        told,
        [
            "set margin to 1/2",
            "clear margin",
            "set wall to 14 ga",
            "set \"flange, out\" to 1 1/2",
            "set brackets to the web",
            "set \"brackets, on\" to short sides",
            "set \"modules stand on\" to strips",
            "set \"welded\" to inside",
            "set \"drive, least volts\" to 200",
            "set \"to, height\" of bed bolt, front to 12 3/4",
            "set \"from, length\" of bed bolt, front to 2",
            "set \"moves up by\" of bed bolt, front to 1",
            "name a keep-out exhaust",
            "set \"stands out\" of a cable gland to 2",
            "set \"in the wall\" of a cable gland to rear",
            "set \"middle, along\" of a cable gland to 4",
            "set \"datum, rearward\" of left box to 3",
            "set \"step at\" of left box to rear",
            "set \"its bracket's leg\" of left box to 2",
            "set \"corner, right\" of M13 to 3",
            "name a cavity left pocket",
            "set module mass to 25 lb",
            "clear \"laid on\" of left saddle",
            "confirm lid stiffeners",
            "confirm \"liner, material\"",
        ]
    );
}

#[test]
fn an_edit_of_a_survey_reads_as_a_sentence() {
    let job = common::built_in("orchard-flatbed");
    let cavity = &job.cavities[0];
    let keep_out = cavity.keep_outs[0].id;
    let line = cavity.readings[0].line.clone();
    let corner = tape::survey::Line::all()[0];
    let edits = [
        Edit::AddCavity,
        Edit::RemoveCavity(cavity.id),
        Edit::AddReading {
            cavity: cavity.id,
            line: line.clone(),
            text: " 41 5/8".to_owned(),
        },
        Edit::RemoveReading {
            cavity: cavity.id,
            index: 0,
        },
        Edit::AddStatement {
            cavity: cavity.id,
            says: Says::Level,
            lines: vec![line],
        },
        Edit::RemoveStatement {
            cavity: cavity.id,
            index: 0,
        },
        Edit::OutOfReach {
            cavity: cavity.id,
            line: corner,
            is: true,
        },
        Edit::OutOfReach {
            cavity: cavity.id,
            line: corner,
            is: false,
        },
        Edit::AddKeepOut(cavity.id),
        Edit::RemoveKeepOut(keep_out),
        Edit::AddKind,
        Edit::RemoveKind(job.kinds[0].id),
    ];
    let told = edits.map(|edit| edit.words(&job));
    assert_eq!(
        told,
        [
            "add a cavity",
            "remove left saddle",
            "read FLB to RLB as 41 5/8",
            "remove a reading",
            "say that FLB to RLB is level",
            "take a statement back",
            "say that FLB to RLB is out of reach",
            "say that FLB to RLB can be reached",
            "add a keep-out",
            "remove a keep-out",
            "add a kind",
            "remove crate",
        ]
    );
}

#[test]
fn an_edit_of_boxes_reads_as_a_sentence() {
    let job = common::built_in("orchard-flatbed");
    let (left, right) = (&job.boxes[0], &job.boxes[1]);
    let (cavity, into, module) = (&job.cavities[0], left.id, left.modules[0].id);
    let by = Point([Length::sixty_fourths(8), Length::ZERO, -Length::inches(1)]);
    let modules = |count| Edit::AddModule {
        into,
        kind: job.kinds[0].id,
        at: Point::ZERO,
        stands: Orientation::all()[0],
        count,
    };
    let edits = [
        Edit::AddBox {
            cavity: cavity.id,
            at: Point::ZERO,
        },
        Edit::RemoveBox(into),
        Edit::AddFitting {
            into,
            at: [Length::ZERO; 2],
        },
        Edit::LetIn {
            into,
            fittings: Vec::new(),
        },
        Edit::RemoveFitting(Id(999)),
        modules(1),
        modules(4),
        Edit::RemoveModule(module),
        Edit::NudgeModule { module, by },
        Edit::NudgeBox { battery_box: into, by },
        Edit::Turn {
            module,
            to: Orientation::all()[1],
        },
        Edit::MoveToBox {
            module,
            to: right.id,
            at: Point::ZERO,
        },
        Edit::Pin { module, pinned: true },
        Edit::Pin { module, pinned: false },
    ];
    let told = edits.map(|edit| edit.words(&job));
    assert_eq!(
        told,
        [
            "add a box",
            "remove left box",
            "add a fitting to left box",
            "let 0 fittings into left box",
            "remove a fitting",
            "add a module",
            "add a stack of 4",
            "take out M13",
            "nudge M13 by 1/8\" rearward, 1\" down",
            "nudge left box by 1/8\" rearward, 1\" down",
            "turn M13",
            "move M13 to right box",
            "pin M13",
            "unpin M13",
        ]
    );
}

#[test]
fn an_edit_of_lists_reads_as_a_sentence() {
    let job = common::built_in("orchard-flatbed");
    let edits = [
        Edit::AcceptLayout(Vec::new()),
        Edit::AcceptLayout(job.boxes.clone()),
        Edit::Wiring(WiringEdit::Forget),
        Edit::Wiring(WiringEdit::ExitAt(None)),
        Edit::Units(UnitsEdit::Remove(0)),
        Edit::Stock(StockEdit::Add {
            form: StockForm::Sheet,
            on_hand: true,
        }),
        Edit::Stock(StockEdit::Remove(0)),
        Edit::Bed(BedEdit::Add),
        Edit::Truck(TruckEdit::AddComponent(WayName::Out)),
        Edit::Truck(TruckEdit::AddPoint),
        Edit::Truck(TruckEdit::AddCarried),
    ];
    let told = edits.map(|edit| edit.words(&job));
    assert_eq!(
        told,
        [
            "clear the layout",
            "take over the layout",
            "forget the wiring order",
            "let leads leave wherever is shortest",
            "remove a unit",
            "add a sheet on hand",
            "remove a piece of stock",
            "add a part of the bed",
            "add a component that comes out",
            "add a low point",
            "add a load",
        ]
    );
}
