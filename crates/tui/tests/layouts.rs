//! Layouts worked out, looked at while they are, chosen from a table, taken over or left; pins and spreading.

mod common;

use std::sync::Arc;

use common::{built_in, example, key, plain, press, rows, screen, shows};
use geometry::fit::{Budget, Unwatched};
use job::layout::{Aim, Which, propose};
use job::{Edit, evaluate};
use ratatui::crossterm::event::KeyCode;
use ratatui::style::Modifier;
use rstest::rstest;
use tui::input::Input;
use tui::model::{Best, Effect, Model, Overlay};
use tui::page::Page;
use tui::pages::layout::Thing;
use tui::run::feed;
use tui::theme::Theme;
use tui::update::update;
use tui::{Found, Report, Task};

/// Presses a key, and leaves the task that it starts undone.
fn start(model: &mut Model, c: char) -> Vec<Effect> {
    update(model, key(KeyCode::Char(c)))
}

fn tell(model: &mut Model, report: Report) {
    assert_eq!(update(model, Input::Worker(report)), []);
}

/// The best layout of the whole job, and the same without its last module or stack.
fn two(model: &Model) -> Found {
    let job = model.job();
    let mut proposal =
        propose(job, &evaluate(job), Aim::Whole, Budget::default(), &mut Unwatched).expect("it can be laid out");
    let mut fewer = proposal.answer.layouts[0].clone();
    let last = fewer.placements.pop().expect("something goes in");
    fewer.count -= last.count;
    proposal.answer.layouts = vec![proposal.answer.layouts[0].clone(), fewer];
    let candidates = proposal.candidates(job);
    Found { proposal, candidates }
}

fn finished(model: &Model, found: Found) -> Report {
    Report::Finished {
        job: model.history.shared(),
        result: Box::new(Ok(found)),
    }
}

/// Two layouts are offered.
fn offered(name: &str, size: (u16, u16)) -> Model {
    let mut model = example(name, size);
    offer(&mut model);
    model
}

fn offer(model: &mut Model) {
    assert_eq!(start(model, 'f'), [Effect::Start(Task::Fit(Aim::Whole))]);
    let found = two(model);
    let report = finished(model, found);
    tell(model, report);
    assert!(matches!(model.overlay, Some(Overlay::Offer(_))));
}

#[rstest]
fn layouts_side_by_side_under_the_sheet(
    #[values("orchard-flatbed", "mountain-rescue")] name: &str,
    #[values((80, 24), (200, 60))] size: (u16, u16),
) {
    let mut model = offered(name, size);
    feed(&mut model, [key(KeyCode::Down)]);
    insta::assert_snapshot!(format!("offer_{name}_{}x{}", size.0, size.1), screen(&model).backend());
}

#[test]
fn the_chosen_layout_is_drawn_pointed_at_and_reversed() {
    let mut model = offered("orchard-flatbed", (80, 24));
    model.theme = Theme {
        colour: false,
        ascii: true,
    };
    feed(&mut model, [key(KeyCode::Down)]);
    assert_eq!(model.shown().headline.placed, 9);
    let row = rows(&model)
        .iter()
        .position(|row| row.starts_with("> 2"))
        .expect("the second is pointed at");
    let terminal = screen(&model);
    let buffer = terminal.backend().buffer();
    let is_reversed = |row: usize| {
        let cell = &buffer[(3, u16::try_from(row).unwrap())];
        cell.modifier.contains(Modifier::REVERSED)
    };
    assert!(is_reversed(row) && !is_reversed(row - 1));
    assert!(buffer.content().iter().all(|cell| cell.symbol().is_ascii()));
}

#[test]
fn the_second_layout_is_taken_over_as_one_edit_and_undo_brings_the_old_one_back() {
    let mut model = offered("orchard-flatbed", (120, 40));
    let Some(Overlay::Offer(offer)) = &model.overlay else {
        unreachable!()
    };
    let then = model.job().with(&offer.found.candidates[1].edit).unwrap();
    feed(&mut model, [key(KeyCode::Down), key(KeyCode::Enter)]);
    assert_eq!(*model.job(), then);
    assert!(model.overlay.is_none());
    assert!(shows(&model, "layout 2, 9 modules in all; u undoes"));
    press(&mut model, "u");
    assert_eq!(*model.job(), built_in("orchard-flatbed"));
}

#[test]
fn help_and_findings_lie_over_the_offer_and_lead_back_to_it() {
    let mut model = plain("orchard-flatbed", (120, 40));
    offer(&mut model);
    feed(&mut model, [key(KeyCode::Down)]);
    for (c, told) in [
        ('?', "keys while layouts stand in the table"),
        ('!', "findings, the gravest first"),
    ] {
        press(&mut model, &c.to_string());
        if c == '?' {
            feed(&mut model, [key(KeyCode::PageDown), key(KeyCode::PageDown)]);
        }
        assert!(shows(&model, told), "{:#?}", rows(&model));
        feed(&mut model, [key(KeyCode::Esc)]);
        let Some(Overlay::Offer(offer)) = &model.overlay else {
            panic!("{:?}", model.overlay)
        };
        assert_eq!(offer.shown, 1);
        assert!(model.behind.is_none());
    }
    press(&mut model, "1");
    assert!(shows(&model, "layout 1 of"));
    assert!(shows(&model, "1 to 9"));
}

#[test]
fn the_line_below_speaks_of_the_layout_that_is_chosen() {
    let mut model = plain("orchard-flatbed", (120, 40));
    offer(&mut model);
    feed(&mut model, [key(KeyCode::Down)]);
    assert!(
        shows(&model, "9 modules with the margin of 1/2\" asked for; most found 10"),
        "{:#?}",
        rows(&model)
    );
}

#[rstest]
#[case::away(KeyCode::Esc)]
#[case::no(KeyCode::Char('n'))]
fn leaving_the_offer_leaves_the_job(#[case] code: KeyCode) {
    let mut model = offered("orchard-flatbed", (80, 24));
    feed(&mut model, [key(code)]);
    assert!(model.overlay.is_none());
    assert_eq!(*model.job(), built_in("orchard-flatbed"));
}

#[test]
fn the_best_so_far_is_drawn_live_until_the_hand_is_laid_on_the_job() {
    let mut model = example("orchard-flatbed", (80, 24));
    start(&mut model, 'f');
    let job = model.history.shared();
    let then = evaluate(&job.with(&two(&model).candidates[1].edit).unwrap());
    let best = Best {
        count: 9,
        at_most: 10,
        narrower: false,
    };
    let reports = [
        Report::Share {
            job: Arc::clone(&job),
            done: 300,
            of: 1_000,
        },
        Report::Best {
            job: Arc::clone(&job),
            best,
        },
        Report::Better {
            job: Arc::clone(&job),
            evaluation: Box::new(then),
        },
    ];
    for report in reports {
        tell(&mut model, report);
    }
    assert_eq!(model.shown().headline.placed, 9);
    insta::assert_snapshot!("live_80x24", screen(&model).backend());
    // Looking round stays with it, selecting goes back to the job as it is, and f looks again.
    press(&mut model, "vc");
    assert!(shows(&model, "best so far: right saddle"));
    press(&mut model, "n");
    assert_eq!(model.shown().headline.placed, 10);
    assert!(shows(&model, "laying out: best so far 9, at most 10; Esc stops"));
    assert!(shows(&model, "f see the best so far"));
    assert!(start(&mut model, 'f').is_empty());
    assert_eq!(model.shown().headline.placed, 9);
    // On another page the job is told as it is.
    feed(&mut model, [key(KeyCode::F(6))]);
    assert_eq!(model.shown().headline.placed, 10);
}

#[test]
fn an_edit_stops_the_work_and_what_it_finds_is_dropped() {
    let mut model = example("orchard-flatbed", (120, 40));
    start(&mut model, 'f');
    let found = two(&model);
    let report = finished(&model, found);
    assert_eq!(update(&mut model, key(KeyCode::Left)), [Effect::Stop]);
    assert_eq!(update(&mut model, key(KeyCode::Left)), []);
    tell(&mut model, report);
    assert!(model.overlay.is_none() && model.running.is_none());
    assert!(model.message.words.starts_with("nudge M13"), "{:?}", model.message);
    assert!(model.message.words.ends_with("is dropped"), "{:?}", model.message);
}

#[test]
fn escape_stops_the_work_and_what_there_is_is_offered() {
    let mut model = example("orchard-flatbed", (80, 24));
    start(&mut model, 'f');
    assert_eq!(feed(&mut model, [key(KeyCode::Esc)]), [Effect::Stop]);
    assert!(shows(&model, "laying out: stopping"));
    let found = two(&model);
    let report = finished(&model, found);
    tell(&mut model, report);
    assert!(matches!(model.overlay, Some(Overlay::Offer(_))));
}

#[rstest]
#[case::typing(Page::Tape, &[KeyCode::F(2), KeyCode::Down, KeyCode::Enter], &[KeyCode::Esc])]
#[case::other_page(Page::Boxes, &[KeyCode::F(6)], &[])]
#[case::help(Page::Layout, &[KeyCode::Char('?')], &[KeyCode::Esc])]
fn layouts_that_are_ready_wait_for_the_person(
    #[case] page: Page,
    #[case] meanwhile: &[KeyCode],
    #[case] back: &[KeyCode],
) {
    let mut model = example("orchard-flatbed", (120, 40));
    start(&mut model, 'f');
    feed(&mut model, meanwhile.iter().map(|code| key(*code)));
    let found = two(&model);
    let report = finished(&model, found);
    tell(&mut model, report);
    assert!(!matches!(model.overlay, Some(Overlay::Offer(_))));
    assert_eq!(model.page, page);
    feed(&mut model, back.iter().map(|code| key(*code)));
    feed(&mut model, [key(KeyCode::F(4))]);
    assert!(start(&mut model, 'f').is_empty(), "it is not worked out again");
    assert!(matches!(model.overlay, Some(Overlay::Offer(_))));
}

#[test]
fn layouts_for_an_earlier_state_are_not_shown() {
    let mut model = example("orchard-flatbed", (120, 40));
    start(&mut model, 'f');
    feed(&mut model, [key(KeyCode::F(6))]);
    let found = two(&model);
    let report = finished(&model, found);
    tell(&mut model, report);
    feed(&mut model, [key(KeyCode::F(4)), key(KeyCode::Left)]);
    assert_eq!(start(&mut model, 'f'), [Effect::Start(Task::Fit(Aim::Whole))]);
}

#[rstest]
#[case::whole("1", Aim::Whole)]
#[case::cavity("2", Aim::Fill(job::Id(1)))]
#[case::one_box("3", Aim::Box(job::Id(11)))]
fn a_part_is_laid_out_by_its_number(#[case] number: &str, #[case] aim: Aim) {
    let mut model = example("orchard-flatbed", (80, 24));
    let cavity = model.job().cavities[0].id;
    let battery_box = model.job().boxes[0].id;
    let aim = match aim {
        Aim::Fill(_) => Aim::Fill(cavity),
        Aim::Box(_) => Aim::Box(battery_box),
        other => other,
    };
    press(&mut model, "F");
    let effects = update(&mut model, key(KeyCode::Char(number.chars().next().unwrap())));
    assert_eq!(effects, [Effect::Start(Task::Fit(aim))]);
}

#[test]
fn the_choice_of_a_part_starts_at_what_is_selected_and_can_be_left() {
    let mut model = example("orchard-flatbed", (80, 24));
    press(&mut model, "F");
    insta::assert_snapshot!("part_80x24", screen(&model).backend());
    feed(&mut model, [key(KeyCode::Esc)]);
    assert!(model.overlay.is_none() && model.running.is_none());
    press(&mut model, "oF");
    let battery_box = model.job().boxes[0].id;
    let effects = update(&mut model, key(KeyCode::Enter));
    assert_eq!(effects, [Effect::Start(Task::Fit(Aim::Box(battery_box)))]);
}

/// A box laid out by itself leaves every other box as it is.
#[test]
fn one_box_alone_is_one_edit_that_leaves_the_rest() {
    let mut model = example("harbour-tender", (120, 40));
    press(&mut model, "F3");
    feed(&mut model, [key(KeyCode::Enter)]);
    let before = built_in("harbour-tender");
    assert_ne!(model.job().boxes[0].modules, before.boxes[0].modules);
    assert_eq!(model.job().boxes[0].name, before.boxes[0].name);
    assert_eq!(model.job().boxes[1..], before.boxes[1..]);
    press(&mut model, "u");
    assert_eq!(*model.job(), before);
}

#[test]
fn a_pinned_module_carries_its_mark_and_cannot_be_moved() {
    let mut model = plain("orchard-flatbed", (80, 24));
    let before = model.job().clone();
    press(&mut model, "i");
    let Some(Thing::Module(id)) = model.sheet.selected else {
        panic!("a module is selected")
    };
    assert!(model.job().placed(id).unwrap().1.pinned);
    assert!(shows(&model, "◉13"), "the mark stands where the whole name has no room");
    assert!(shows(&model, "◉ pinned"));
    model.size = (120, 40);
    assert!(shows(&model, "◉M13"));
    let pinned = model.job().clone();
    feed(&mut model, [key(KeyCode::Left)]);
    assert_eq!(*model.job(), pinned);
    assert!(model.message.words.contains("unpin M13 first"), "{:?}", model.message);
    model.theme.ascii = true;
    assert!(shows(&model, "@M13"));
    press(&mut model, "i");
    assert_eq!(*model.job(), before);
    assert!(!shows(&model, "@M13"));
}

#[test]
fn all_of_a_box_is_pinned_and_let_go_with_the_box_selected() {
    let mut model = example("orchard-flatbed", (120, 40));
    press(&mut model, "inoi");
    let pinned = |model: &Model| model.job().boxes[0].modules.iter().filter(|m| m.pinned).count();
    assert_eq!(pinned(&model), 5, "the rest is pinned too");
    assert!(model.job().boxes[1].modules.iter().all(|m| !m.pinned));
    press(&mut model, "i");
    assert_eq!(pinned(&model), 0);
    assert_eq!(*model.job(), built_in("orchard-flatbed"));
}

/// Whether anything goes in round it is the layout's affair; what is offered leaves it alone.
#[test]
fn no_layout_that_is_offered_moves_what_is_pinned() {
    let mut model = example("orchard-flatbed", (120, 40));
    press(&mut model, "i");
    let (pinned, before) = (model.job().clone(), model.evaluation.boxes[0].modules[0].clone());
    press(&mut model, "f");
    let Some(Overlay::Offer(offer)) = &model.overlay else {
        assert!(model.message.words.contains("pinned"), "{:?}", model.message);
        assert_eq!(*model.job(), pinned);
        return;
    };
    for candidate in &offer.found.candidates {
        let (_, after) = candidate.evaluation.module(before.id).expect("it keeps its number");
        assert_eq!((after.cuboid, after.pinned), (before.cuboid, true));
    }
}

#[test]
fn spreading_is_one_edit_and_tells_what_limits_it() {
    let mut model = plain("orchard-flatbed", (120, 40));
    press(&mut model, "o");
    // Some steps forward, so that there is room to share out again.
    feed(&mut model, (0..12).map(|_| key(KeyCode::Left)));
    let nudged = model.job().clone();
    let least = |model: &Model| {
        let faces = &model.evaluation.boxes[0].around.as_ref().unwrap().faces;
        faces[0].distance.min(faces[1].distance)
    };
    let before = least(&model);
    press(&mut model, "d");
    let effects = update(&mut model, key(KeyCode::Enter));
    let which = Which::Boxes(model.job().cavities[0].id);
    assert_eq!(effects, [Effect::Start(Task::Spread(which))]);
    let spreading = job::layout::spread(model.job(), &model.evaluation, which).unwrap();
    assert!(matches!(spreading.edit, Edit::Spread { .. }));
    let report = Report::Spread {
        job: model.history.shared(),
        result: Box::new(Ok(spreading.clone())),
    };
    tell(&mut model, report);
    assert!(least(&model) > before);
    let words = &model.message.words;
    assert!(words.contains(&format!("limited by {}", spreading.words)), "{words}");
    press(&mut model, "u");
    assert_eq!(*model.job(), nudged);
}

#[test]
fn what_is_spread_already_says_so_and_is_no_edit() {
    let mut model = example("orchard-flatbed", (120, 40));
    press(&mut model, "d3");
    press(&mut model, "d3");
    assert!(
        model.message.words.starts_with("spread already; limited by"),
        "{:?}",
        model.message
    );
    press(&mut model, "u");
    assert_eq!(*model.job(), built_in("orchard-flatbed"), "one step at most was made");
}

#[test]
fn a_series_and_parallel_of_the_pack_page_is_laid_out_as_it_stands_there() {
    let mut model = example("orchard-flatbed", (120, 40));
    feed(&mut model, [key(KeyCode::F(5))]);
    let rows = tui::pages::rows(&model);
    let at = rows
        .iter()
        .position(|row| matches!(row, tui::form::Row::Choice { .. }))
        .unwrap();
    model.pack.cursor = at;
    let effects = update(&mut model, key(KeyCode::Enter));
    let [Effect::Start(Task::Fit(Aim::Wanted(count)))] = effects[..] else {
        panic!("{effects:?}")
    };
    assert_eq!(count.to_string(), "5s2p");
    assert_eq!(model.page, Page::Layout);
}

#[test]
fn a_fault_of_the_worker_is_told_and_the_job_stays() {
    let mut model = example("orchard-flatbed", (120, 40));
    start(&mut model, 'f');
    let job = model.history.shared();
    let why = "index out of range".to_owned();
    tell(&mut model, Report::Failed { job, why });
    assert!(model.running.is_none());
    assert!(shows(
        &model,
        "laying out failed (index out of range); the job is as it was"
    ));
    assert_eq!(*model.job(), built_in("orchard-flatbed"));
}

#[test]
fn one_task_runs_after_the_other() {
    let mut model = example("orchard-flatbed", (120, 40));
    start(&mut model, 'f');
    press(&mut model, "d");
    assert!(update(&mut model, key(KeyCode::Enter)).is_empty());
    assert!(model.message.words.contains("still laying out"), "{:?}", model.message);
}

#[test]
fn stopped_before_anything_is_found_it_does_not_say_that_nothing_goes_in() {
    let mut model = plain("orchard-flatbed", (120, 40));
    start(&mut model, 'f');
    let mut found = two(&model);
    found.candidates.clear();
    found.proposal.answer.layouts.truncate(1);
    let layout = &mut found.proposal.answer.layouts[0];
    (layout.count, layout.placements, layout.boxes) = (0, Vec::new(), Vec::new());
    let answer = &mut found.proposal.answer;
    (answer.upper_bound, answer.proved, answer.ended) = (10, false, geometry::fit::Ended::Stopped);
    let report = finished(&model, found);
    tell(&mut model, report);
    assert!(model.overlay.is_none());
    assert!(
        model.message.words.starts_with("stopped: best so far 0, at most 10 by"),
        "{:?}",
        model.message
    );
}

/// Every word and figure of the findings and sizes beside the sheet is read: lines are broken, not cut.
#[test]
fn the_panel_beside_the_sheet_cuts_no_sentence_and_no_size() {
    for size in [(80, 40), (120, 40)] {
        let mut model = example("orchard-flatbed", size);
        feed(&mut model, [key(KeyCode::F(4))]);
        press(&mut model, "o");
        let panel: Vec<String> = rows(&model)
            .iter()
            .map(|row| {
                let columns = if size.0 >= 110 { 40 } else { 30 };
                let from = row.chars().count() - columns;
                row.chars().skip(from).collect()
            })
            .collect();
        let evaluation = &model.evaluation;
        let built = evaluation.boxes[0].built.as_ref().expect("it is built");
        let all = panel.iter().map(|line| line.trim()).collect::<Vec<_>>().join(" ");
        for length in built.body {
            assert!(all.contains(&evaluation.style().near_bare(length)), "{all}");
        }
        let is_read = |f: &job::Finding| {
            let words = f.words.split_whitespace().take(12).collect::<Vec<_>>().join(" ");
            all.contains(&format!("{}: {words}", f.name))
        };
        assert!(evaluation.findings.iter().any(is_read), "{all}");
    }
}

/// A stack whose size and place take a line more each in a narrow panel: they give way, never a clearance.
#[test]
fn every_clearance_of_a_module_and_its_box_is_seen_in_a_small_window() {
    let mut model = example("mountain-rescue", (80, 24));
    feed(&mut model, [key(KeyCode::F(4))]);
    for _ in 0..4 {
        press(&mut model, "n");
        let seen: Vec<String> = rows(&model).iter().map(|row| row.chars().skip(52).collect()).collect();
        for face in ["front", "rear", "left", "right", "bottom", "top"] {
            let told = seen.iter().filter(|row| {
                let row = row.trim_start_matches(['!', ' ']);
                row.starts_with(&format!("{face:<7}"))
            });
            assert_eq!(told.count(), 2, "{face}: {seen:#?}");
        }
        assert!(seen.iter().any(|row| row.starts_with("step 1/16")), "{seen:#?}");
        assert!(
            seen.iter().any(|row| row.starts_with("left out: place; ! ")),
            "{seen:#?}"
        );
    }
    // Larger there is room for all of it.
    feed(&mut model, [Input::Resize(120, 40)]);
    assert!(
        shows(&model, "in box C1") && shows(&model, "clear, in"),
        "{:#?}",
        rows(&model)
    );
    assert!(!shows(&model, "left out"), "{:#?}", rows(&model));
}
