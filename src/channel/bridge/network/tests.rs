//! The constants of the map against closed forms, limits, and refused balances.

use super::*;
use crate::units::Ohms;
use approx::assert_abs_diff_eq;

const R: Ohms = Ohms(350.0);

fn balanced(bridge: Bridge) -> BridgeMap {
    bridge.map(Ratio(0.0)).unwrap()
}

/// Closed forms of the balanced bridge, from the voltage dividers (for instance Figliola and Beasley, Theory
/// and Design for Mechanical Measurements, on bridges with several active gauges; from memory): signal against ratio is `4 r / (1 - 2 r)` for one gauge, `4 r / (1 + nu - 2 (1 - nu) r)`
/// for the Poisson half, `2 r` for the bending half, `r` for the bending full, `2 r / (1 + nu - (1 - nu) r)` for
/// the Poisson full and `2 r / (1 - r)` for opposite arms.
#[test]
fn textbook_curves() {
    let nu = 0.3;
    for (bridge, gain, curvature) in [
        (Bridge::quarter_ideal(R), 4.0, 2.0),
        (Bridge::half_compensated(R, Ohms(0.0)), 4.0, 2.0),
        (Bridge::half_poisson(R, Ohms(0.0), nu), 4.0 / (1.0 + nu), 2.0 * (1.0 - nu) / (1.0 + nu)),
        (Bridge::half_bending(R, Ohms(0.0)), 2.0, 0.0),
        (Bridge::full_bending(R), 1.0, 0.0),
        (Bridge::full_torsion(R), 1.0, 0.0),
        (Bridge::full_poisson(R, nu), 2.0 / (1.0 + nu), (1.0 - nu) / (1.0 + nu)),
        (Bridge::opposite_arms(R), 2.0, 1.0),
    ] {
        let map = balanced(bridge);
        assert!((map.gain - gain).abs() < 1e-13, "{bridge:?} {map:?}");
        assert!((map.curvature - curvature).abs() < 1e-13, "{bridge:?} {map:?}");
        assert!(bridge.left_out(Ratio(0.0), 0.1).unwrap() < 1e-14, "{bridge:?}");
        let turned = balanced(bridge.reversed());
        assert_eq!((turned.gain, turned.curvature), (-map.gain, -map.curvature));
    }
}

/// Limits: no lead, no transverse strain, no unbalance give the simpler circuit.
#[test]
fn limits() {
    let lead = Ohms(2.0);
    let quarter = Bridge::quarter_three_wire(R, lead);
    let at = Ratio(0.003);
    let same = |a: Bridge, b: Bridge| {
        let (a, b) = (a.map(at).unwrap(), b.map(at).unwrap());
        let apart = (a.gain / b.gain - 1.0).abs().max((a.curvature - b.curvature).abs());
        // A petohm still draws 3e-13 of the current.
        assert!(apart < 3e-12, "{a:?} {b:?}");
    };
    same(Bridge::half_poisson(R, lead, 0.0), quarter);
    same(Bridge::half_compensated(R, lead), quarter);
    same(Bridge::half_poisson(R, Ohms(0.0), 0.0), Bridge::quarter_ideal(R));
    same(Bridge::quarter_two_wire(R, Ohms(0.0)), Bridge::quarter_ideal(R));
    same(Bridge::full_poisson(R, 0.0), Bridge::opposite_arms(R));
    same(Bridge::full_bending(R).leads(lead).remote_sense(), Bridge::full_torsion(R));
    same(quarter.input_resistance(Ohms(1e15)), quarter);
    for bridge in [quarter, Bridge::full_poisson(R, 0.3), Bridge::opposite_arms(R)] {
        assert!(bridge.unbalance_spread(Ratio(0.0), 0.05).unwrap() < 1e-15);
    }
}

#[test]
fn leads_scale_the_balanced_bridge() {
    for (bridge, by) in [
        (Bridge::quarter_three_wire(R, Ohms(3.5)), 1.01),
        (Bridge::quarter_two_wire(R, Ohms(3.5)), 1.02),
        (Bridge::full_bending(R).leads(Ohms(3.5)), 1.02),
        (Bridge::full_bending(R).leads(Ohms(3.5)).remote_sense(), 1.0),
    ] {
        let plain = if bridge.circuit() == crate::Circuit::Quarter { 4.0 } else { 1.0 };
        assert!((balanced(bridge).gain - plain * by).abs() < 1e-13, "{bridge:?}");
        assert_abs_diff_eq!(bridge.lead_desensitisation(), by - 1.0, epsilon = 1e-15);
    }
}

#[test]
fn a_bridge_that_cannot_give_the_balance_ratio_says_so() {
    let bridge = Bridge::quarter_ideal(R);
    for refused in [bridge.map(Ratio(0.6)), bridge.completion(Ohms(10.0)).map(Ratio(0.99))] {
        let Err(Error::Invalid { field: Field::BalanceRatio, value, low, high }) = refused else {
            panic!("{refused:?}")
        };
        assert!(value > high && high > low);
    }
}
