//! Moving what is there: how far the centre goes, and what to move for a wanted split.

use super::axle::AxleLoads;
use super::{Item, checked, checked_total, checked_wheelbase};
use crate::TruckError;
use crate::check::{finite, within};

/// How far the centre of gravity moves when `moved_kg` of `total_kg` is moved by `by_m`, metres: `by m / M`.
/// Serves the check values.
///
/// Source: statics.
///
/// # Errors
///
/// [`TruckError`] for a figure that is no number, or no mass.
pub fn centre_shift_m(total_kg: f64, moved_kg: f64, by_m: f64) -> Result<f64, TruckError> {
    let moment = finite("moved mass", moved_kg)? * finite("distance moved", by_m)?;
    Ok(moment / checked_total(total_kg)?)
}

/// One way to the wanted split.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Move {
    /// Which of the items.
    pub item: usize,
    /// How far, metres; rearward above zero.
    pub by_m: f64,
    /// Where its centre is then, metres behind the front axle.
    pub to_x_m: f64,
}

/// What moving one item alone would take for the rear axle to carry `rear_share` of the whole; the shortest way first.
///
/// `by = (wanted rear - rear) L / m`. Whether there is room for it is not looked at.
///
/// - `loads`: with the items on.
/// - `items`: those that may be moved; taken off ones are passed over.
///
/// Source: moments about the front axle.
///
/// # Errors
///
/// [`TruckError`] for a figure that is no number, no mass, no wheelbase, or a share outside 0 to 1.
pub fn moves_for_split(
    loads: AxleLoads,
    wheelbase_m: f64,
    rear_share: f64,
    items: &[Item],
) -> Result<Vec<Move>, TruckError> {
    let wheelbase_m = checked_wheelbase(wheelbase_m)?;
    let total_kg = checked_total(loads.total_kg())?;
    let share = within("wanted share of the rear axle", rear_share, [0.0, 1.0], "enter a share")?;
    let moment_kgm = (share * total_kg - loads.rear_kg) * wheelbase_m;
    let on = checked(items)?
        .iter()
        .enumerate()
        .filter(|(_, item)| item.mass_kg > 0.0);
    let mut moves: Vec<Move> = on
        .map(|(index, item)| {
            let by_m = moment_kgm / item.mass_kg;
            Move {
                item: index,
                by_m,
                to_x_m: item.at.x_m + by_m,
            }
        })
        .collect();
    moves.sort_by(|a, b| a.by_m.abs().total_cmp(&b.by_m.abs()));
    Ok(moves)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn the_heaviest_goes_the_shortest_way_and_what_is_off_does_not_go() {
        let loads = AxleLoads {
            front_kg: 900.0,
            rear_kg: 700.0,
        };
        let items = [Item::along(50.0, 1.0), Item::along(-80.0, 1.0), Item::along(200.0, 1.0)];
        let found = moves_for_split(loads, 3.0, 0.5, &items).unwrap();
        let order: Vec<usize> = found.iter().map(|found| found.item).collect();
        assert_eq!(order, [2, 0]);
        assert!((found[0].by_m - 1.5).abs() < 1e-12);
        assert!(moves_for_split(loads, 3.0, 1.5, &items).is_err());
        assert!(centre_shift_m(0.0, 1.0, 1.0).is_err());
    }

    proptest! {
        #[test]
        fn each_move_gives_the_wanted_split(share in 0.1..0.9_f64, masses in prop::collection::vec(5.0..300.0_f64, 1..8)) {
            let bare = AxleLoads { front_kg: 900.0, rear_kg: 600.0 };
            let items: Vec<Item> = masses.iter().map(|mass| Item::along(*mass, 1.4)).collect();
            let loads = bare.with(&items, 2.9).unwrap();
            for found in moves_for_split(loads, 2.9, share, &items).unwrap() {
                let mut moved = items.clone();
                moved[found.item].at.x_m = found.to_x_m;
                let after = bare.with(&moved, 2.9).unwrap();
                prop_assert!((after.rear_share().unwrap() - share).abs() < 1e-9);
            }
        }
    }
}
