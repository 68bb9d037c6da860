//! How far out of level a box hangs from a hook.

/// How a box hangs when its centre of mass is not under the middle of its eyes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hang {
    /// Out of level, degrees.
    pub deg: f64,
    /// Which way is lower, a direction of length 1 seen from above; nothing when it hangs level.
    pub towards: [f64; 2],
}

/// How a box hangs from legs of one length: the hook comes to stand over the centre of mass.
///
/// Seen from the box, the hook stands over the middle of the eyes, `H = s / tan angle` above them, `s` from the middle to the
/// farthest eye; the centre of mass is `d` off that middle and `h` below the eyes: `tan turn = d / (H + h)`. Two eyes are an axle
/// across their line: there `tan turn = d / h` alone. One eye is a ball: `tan turn = d / h` all ways.
///
/// - `eyes`, `centre`: millimetres in one frame, the third upwards; eyes are taken at their mean height.
/// - `angle_deg`: of a leg from upright, of two legs and more.
///
/// `None` without eyes, and where one or two eyes, or the hook, are not above the centre of mass: then it turns over.
///
/// Source: statics.
pub fn hang(eyes: &[[f64; 3]], centre: [f64; 3], angle_deg: f64) -> Option<Hang> {
    let count = f64::from(u32::try_from(eyes.len()).ok().filter(|&count| count > 0)?);
    let mean = |axis: usize| eyes.iter().map(|eye| eye[axis]).sum::<f64>() / count;
    let off = [0, 1].map(|axis| centre[axis] - mean(axis));
    let below = mean(2) - centre[2];
    let far = |eye: &[f64; 3]| (eye[0] - mean(0)).hypot(eye[1] - mean(1));
    let over = eyes.iter().map(far).fold(0.0, f64::max) / angle_deg.to_radians().tan() + below;
    if over <= 0.0 {
        return None;
    }
    let stands = below > 0.0;
    // The slope along each direction, with what the hook stands over the centre of mass along it.
    let slope = match eyes {
        [_] => stands.then(|| off.map(|off| off / below))?,
        [a, b] => {
            let long = (b[0] - a[0]).hypot(b[1] - a[1]);
            let line = [0, 1].map(|axis| if long > 0.0 { (b[axis] - a[axis]) / long } else { 0.0 });
            let along = off[0] * line[0] + off[1] * line[1];
            let [across_x, across_y] = [0, 1].map(|axis| off[axis] - along * line[axis]);
            let across = [across_x, across_y].map(|across| stands.then(|| across / below));
            [along * line[0] / over + across[0]?, along * line[1] / over + across[1]?]
        }
        _ => off.map(|off| off / over),
    };
    let steep = slope[0].hypot(slope[1]);
    Some(Hang {
        deg: steep.atan().to_degrees(),
        towards: slope.map(|part| if steep > 0.0 { part / steep } else { 0.0 }),
    })
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    const FOUR: [[f64; 3]; 4] = [
        [0.0, 0.0, 250.0],
        [800.0, 0.0, 250.0],
        [0.0, 300.0, 250.0],
        [800.0, 300.0, 250.0],
    ];
    const TWO: [[f64; 3]; 2] = [[0.0, 150.0, 250.0], [800.0, 150.0, 250.0]];

    /// By hand, the centre of mass 140 mm below the eyes. Four: 427.200 to an eye, at 45 degrees the hook as far above, so
    /// 40 / 567.200; at 30 degrees 739.932 above, so 40 / 879.932. Two along x: 40 / (400 + 140) along, 10 / 140 across. One:
    /// 30 and 40 are 50 / 140.
    #[rstest]
    #[case::four_middle(&FOUR, [400.0, 150.0], 45.0, 0.0, [0.0, 0.0])]
    #[case::four_rear(&FOUR, [440.0, 150.0], 45.0, 4.0339, [1.0, 0.0])]
    #[case::four_steeper_legs(&FOUR, [440.0, 150.0], 30.0, 2.6028, [1.0, 0.0])]
    #[case::two_along(&TWO, [440.0, 150.0], 45.0, 4.2364, [1.0, 0.0])]
    #[case::two_across(&TWO, [400.0, 160.0], 45.0, 4.0856, [0.0, 1.0])]
    #[case::one(&TWO[..1], [30.0, 190.0], 45.0, 19.6538, [0.6, 0.8])]
    fn a_box_hangs_by_hand(
        #[case] eyes: &[[f64; 3]],
        #[case] centre: [f64; 2],
        #[case] angle_deg: f64,
        #[case] deg: f64,
        #[case] towards: [f64; 2],
    ) {
        let hang = hang(eyes, [centre[0], centre[1], 110.0], angle_deg).unwrap();
        assert!((hang.deg - deg).abs() < 5e-4, "{}", hang.deg);
        for axis in [0, 1] {
            assert!((hang.towards[axis] - towards[axis]).abs() < 1e-9, "{:?}", hang.towards);
        }
    }

    #[test]
    fn below_its_centre_of_mass_one_or_two_eyes_turn_it_over() {
        for eyes in [&TWO[..1], &TWO[..]] {
            assert_eq!(hang(eyes, [400.0, 150.0, 300.0], 45.0), None);
        }
        assert_eq!(hang(&[], [0.0; 3], 45.0), None);
        assert!(hang(&FOUR, [440.0, 150.0, 300.0], 45.0).is_some());
    }

    /// Legs upright from a spreader hold it level along them.
    #[test]
    fn upright_legs_hold_it_level() {
        let hang = hang(&FOUR, [440.0, 170.0, 110.0], 0.0).unwrap();
        assert!(hang.deg < 1e-9);
    }
}
