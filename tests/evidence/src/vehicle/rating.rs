//! Ratings of truck, axles and tyres.

use serde_json::{Map, Value, json};
use truck::mass::Axle;
use truck::mass::axle::AxleLoads;
use truck::rating::index::{HIGHEST, LOWEST, load_kg};
use truck::rating::{AxleRating, Limit, Margin, Ratings, Tyres, axle_limit, margins};
use truck::units::KG_PER_LB;

use super::{Answer, Refused, Worked, truth};
use crate::inputs::Inputs;

pub(super) fn answer(kind: &str) -> Option<Answer> {
    Some(match kind {
        "rating_check" => rating_check,
        "load_index_table" => table,
        "axle_limit" => limit,
        _ => return None,
    })
}

const TYRES_ON_AN_AXLE: u32 = 2;

fn rating_check(inputs: Inputs<'_>) -> Worked<Value> {
    let loads = inputs.part("axle_after");
    let tyre = inputs.part("tyre");
    let kg = |part: Inputs<'_>, key: &str| part.float(key).map(|lb| lb * KG_PER_LB);
    let tyres = Tyres {
        rated_kg_each: kg(tyre, "load_lb_each")?,
        count: TYRES_ON_AN_AXLE,
        passenger_on_truck: truth(tyre, "passenger_tyre_on_truck")?,
    };
    let axle = |key| -> Worked<AxleRating> {
        Ok(AxleRating {
            axle_kg: Some(kg(inputs, key)?),
            tyres: Some(tyres),
            wheels_kg: None,
        })
    };
    let ratings = Ratings {
        gross_kg: Some(kg(inputs, "gvwr_lb")?),
        front: axle("front_gawr_lb")?,
        rear: axle("rear_gawr_lb")?,
    };
    let loads = AxleLoads {
        front_kg: kg(loads, "front")?,
        rear_kg: kg(loads, "rear")?,
    };
    let mut told = Map::new();
    for margin in margins(&ratings, loads)? {
        tell(&margin, &mut told);
    }
    Ok(told.into())
}

fn tell(margin: &Margin, told: &mut Map<String, Value>) {
    let (left, within) = match margin.limit {
        Limit::Gross => ("gross_margin_lb".to_owned(), "within_gvwr".to_owned()),
        Limit::Axle(axle) => (
            format!("{}_margin_lb", axle.name()),
            format!("within_{}_gawr", axle.name()),
        ),
        Limit::Tyres(axle) => (
            format!("{}_tyre_margin_lb", axle.name()),
            format!("within_{}_tyres", axle.name()),
        ),
        Limit::Wheels(_) | Limit::Lifts(_) => return,
    };
    if let Limit::Tyres(axle) = margin.limit {
        told.insert(
            format!("{}_tyre_pair_lb", axle.name()),
            json!(margin.limit_kg / KG_PER_LB),
        );
    }
    told.insert(left, json!(margin.left_kg() / KG_PER_LB));
    told.insert(within, json!(margin.within()));
}

/// The whole table: what a case does not ask for is passed over.
fn table(inputs: Inputs<'_>) -> Worked<Value> {
    let unit = inputs.text("unit")?;
    if unit != "kg per tyre" {
        return Err(Refused::because(format!("unit should be kg per tyre, not {unit}")));
    }
    let mut rows = Map::new();
    for index in LOWEST..=HIGHEST {
        rows.insert(index.to_string(), json!(load_kg(index)?));
    }
    Ok(json!({ "load_index_kg": rows }))
}

fn limit(inputs: Inputs<'_>) -> Worked<Value> {
    let tyres = Tyres {
        rated_kg_each: load_kg(inputs.count("load_index")?)?,
        count: inputs.count("tyres_on_axle")?,
        passenger_on_truck: truth(inputs, "passenger_tyre_on_truck")?,
    };
    let rating = AxleRating {
        axle_kg: Some(inputs.float("axle_rating_kg")?),
        tyres: Some(tyres),
        wheels_kg: None,
    };
    let (limit, limit_kg) = axle_limit(Axle::Rear, &rating)?
        .ok_or_else(|| Refused::because("axle_rating_kg should be a limit".to_owned()))?;
    let margin = Margin {
        limit,
        limit_kg,
        load_kg: inputs.float("axle_load_kg")?,
    };
    let by = if matches!(limit, Limit::Tyres(_)) {
        "tyres"
    } else {
        "rating"
    };
    Ok(json!({
        "tyre_limit_kg": tyres.limit_kg()?,
        "effective_limit_kg": limit_kg,
        "margin_kg": margin.left_kg(),
        "limited_by": by,
    }))
}
