//! The weight sheet and the lift plan.

use super::*;
use ::job::{Grave, Subject, lift_words, mass_words};

#[test]
fn the_weight_sheet_tells_loads_limits_sources_and_leaves_room_for_the_scale() {
    for evaluation in examples() {
        let axles = evaluation.vehicle.axles.as_ref().unwrap();
        let html = weight_sheet_html(&evaluation, "2026-11-29");
        for kg in [
            axles.before.front_kg,
            axles.after.front_kg,
            axles.after.rear_kg,
            axles.after.total_kg(),
        ] {
            assert!(html.contains(&mass_words(kg)), "{kg}");
        }
        for one in &evaluation.vehicle.counted {
            assert!(html.contains(&one.name), "{}", one.name);
        }
        for margin in &axles.stated[0].margins {
            assert!(html.contains(margin.limit.words()));
            assert!(html.contains(&mass_words(margin.limit_kg)));
            assert!(html.contains(axles.source_words(margin.limit)));
        }
        assert!(html.contains("Local vehicle rules and licensed practice decide"));
        assert_eq!(html.matches("class=\"blank\"").count(), 7, "a blank for each reading");
    }
}

#[test]
fn what_does_not_count_and_what_is_over_stands_on_the_weight_sheet() {
    let mut job = job("orchard-flatbed");
    job.cavities[0].place = None;
    job.vehicle.masses.rear_rating_kg = Some(::job::Grams(1_500_000));
    let evaluation = evaluate(&job);
    assert!(
        evaluation
            .findings
            .iter()
            .any(|f| f.grave == Grave::Stop && f.subject == Subject::Truck)
    );
    let html = weight_sheet_html(&evaluation, "2026-11-29");
    assert!(html.contains("NOT COUNTED: left box"));
    assert!(html.contains("<td>OVER</td>"));
    job.vehicle.masses.wheelbase = None;
    let html = weight_sheet_html(&evaluate(&job), "2026-11-29");
    assert!(html.contains("still needed: the wheelbase"), "{html}");
}

#[test]
fn the_lift_plan_tells_each_box_with_its_hands_and_where_they_come_from() {
    for name in EXAMPLES.iter().map(|e| e.name) {
        let job = job(name);
        let evaluation = evaluate(&job);
        let ways = job::way_in::ways_in(&job, &evaluation);
        let html = lift_plan_html(&evaluation, &ways, "2026-11-29");
        for line in (0..ways.boxes.len()).flat_map(|at| ways.state_words(at)) {
            assert!(html.contains(&drawing::svg::escape(&line)), "{line}");
        }
        assert_eq!(evaluation.vehicle.lifts.len(), evaluation.boxes.len());
        for lift in &evaluation.vehicle.lifts {
            for kg in [lift.loaded_kg, lift.shell_kg] {
                assert!(html.contains(&lift_words(kg)), "{kg}");
            }
        }
        // Loading in place is offered where it goes, and nowhere else.
        let goes = |id| {
            let at = ways.boxes.iter().position(|b| b.id == id);
            at.is_some_and(|at| {
                ways.boxes[at].outcome.way().is_some() && ways.states[at].first().is_some_and(|s| s.goes)
            })
        };
        let loaded_there = evaluation
            .vehicle
            .lifts
            .iter()
            .filter(|lift| goes(lift.battery_box))
            .count();
        assert_eq!(html.matches("or lift it empty and put its").count(), loaded_there);
        assert!(html.contains("HSE filter figures") && html.contains("hoist or jack"));
    }
}

/// Hostile names stay words, and no paper promises what it may not.
#[test]
fn names_are_escaped_and_nothing_is_called_what_only_others_may_call_it() {
    let mut job = job("orchard-flatbed");
    job.vehicle.components[0].name = "<script>alert(1)</script>".to_owned();
    let evaluation = evaluate(&job);
    for html in [
        weight_sheet_html(&evaluation, "2026-11-29"),
        lift_plan_html(&evaluation, &job::way_in::ways_in(&job, &evaluation), "2026-11-29"),
    ] {
        assert!(!html.contains("<script>"));
        let words = html.to_lowercase();
        let mut words = words.split(|c: char| !c.is_alphabetic());
        assert_eq!(words.find(|word| ["approved", "safe"].contains(word)), None);
    }
}

#[test]
fn the_evaluation_as_data_holds_the_truck() {
    let evaluation = evaluation("mountain-rescue");
    let data = evaluation_json(&evaluation);
    let axles = evaluation.vehicle.axles.as_ref().unwrap();
    assert_eq!(data["vehicle"]["axles"]["after"]["rear_kg"], axles.after.rear_kg);
    assert_eq!(data["vehicle"]["axles"]["moves"].as_array().unwrap().len(), 2);
    assert_eq!(truck_json(&evaluation)["vehicle"], data["vehicle"]);
}
