//! Quarter bridges solved by exact rational nodal analysis and by the circuit simulator ngspice 39.3
//! (tests/data/quarter_bridge.csv) against the network model and every kernel.

mod common;

use common::*;
use gaugewright::units::*;
use gaugewright::*;

const FULL_SCALE: f64 = 1.0 / 8.0;

struct Case {
    channel: Channel,
    strain: f64,
    code: f64,
    code_simulated: f64,
}

fn per_code() -> f64 {
    FULL_SCALE / 2_147_483_648.0
}

/// All resistors stated: the completion, the reference half and the input.
fn case(row: &Row, stated: bool) -> Case {
    let (strain, factor) = (row.number("strain1_ue") * 1e-6, row.number("gauge_factor"));
    let gauge = Ohms(row.number("r1_ohm") / (1.0 + factor * strain));
    let lead = Ohms(row.number("lead_ohm"));
    let mut bridge = match row.text("wiring") {
        "2w" => Bridge::quarter_two_wire(gauge, lead),
        "3w" => Bridge::quarter_three_wire(gauge, lead),
        other => panic!("{other}"),
    };
    if stated {
        bridge = bridge
            .completion(Ohms(row.number("r2_ohm")))
            .reference_half(Ohms(row.number("r3_ohm")), Ohms(row.number("r4_ohm")));
    }
    if let Some(input) = row.maybe("r_in_ohm") {
        bridge = bridge.input_resistance(Ohms(input));
    }
    // No thermal output: the bridge alone.
    let gauge = Gauge::new(GaugeFactor(factor))
        .thermal_output(ThermalOutput::celsius([0.0]).between(Celsius(0.0), Celsius(50.0)));
    let channel = Channel::new(gauge, bridge, Converter::bipolar(32, Ratio(FULL_SCALE)))
        .balanced(row.number("ratio_ref_exact") / per_code(), Celsius(20.0))
        .strain_within(Microstrain(strain.abs() * 1e6 + 10.0));
    Case {
        channel,
        strain,
        code: row.number("ratio_exact") / per_code(),
        code_simulated: row.number("ratio_ngspice") / per_code(),
    }
}

const AT: Celsius = Celsius(20.0);

#[test]
fn the_network_gives_the_exact_ratio_and_the_simulator_agrees() {
    let rows = data("quarter_bridge");
    assert_eq!(rows.len(), 1629);
    let (mut worst, mut worst_simulated) = (0.0f64, 0.0f64);
    for row in &rows {
        let case = case(row, true);
        let model = reference::Model::new(&case.channel).unwrap();
        let ratio = model.code_for(Strain(case.strain), AT) * per_code();
        let off = (ratio - row.number("ratio_exact")).abs();
        worst = worst.max(off);
        assert!(off <= tolerance::REFERENCE_RATIO, "{}: {off:e}", row.text("case_id"));
        worst_simulated = worst_simulated.max((ratio - row.number("ratio_ngspice")).abs());

        let back = model.steps(case.code, AT).mechanical.0;
        assert!((back - case.strain).abs() < 1e-14, "{}", row.text("case_id"));
        let simulated = model.steps(case.code_simulated, AT).mechanical.0;
        let allowed = 8.0 * tolerance::SIMULATOR_RATIO / row.number("gauge_factor");
        assert!((simulated - case.strain).abs() < allowed, "{}", row.text("case_id"));
    }
    assert!(worst_simulated <= tolerance::SIMULATOR_RATIO, "{worst_simulated:e}");
    println!("ratio: worst {worst:.1e} from exact, {worst_simulated:.1e} from the simulator");
}

#[test]
fn every_kernel_stays_within_its_bound() {
    let mut worst = [0.0f64; 6];
    let mut compiled = 0;
    for row in &data("quarter_bridge") {
        let case = case(row, true);
        let code = case.code.round() as i32;
        // The exact strain of the whole code: the row's, moved by less than half a code along the curve.
        let model = reference::Model::new(&case.channel).unwrap();
        let moved = model.steps(f64::from(code), AT).mechanical.0 - model.steps(case.code, AT).mechanical.0;
        assert!((moved * 1e9).abs() < 0.2);
        let expected = case.strain * 1e9 + moved * 1e9;
        let t = fixed::Temperature::from_celsius(AT).unwrap();
        let integer: fixed::Kernel = case.channel.try_fixed().unwrap();
        let single: float::Kernel<f32> = case.channel.try_float32().unwrap();
        let double: float::Kernel<f64> = case.channel.try_float64().unwrap();
        let readings = [
            (integer.reading(code, t).checked().unwrap().strain().0, integer.error_bound().reading),
            (integer.at(t).reading(code).checked().unwrap().strain().0, integer.error_bound().point),
            (f64::from(single.reading(code, t).checked().unwrap()), single.error_bound().reading),
            (f64::from(single.at(t).reading(code).checked().unwrap()), single.error_bound().point),
            (double.reading(code, t).checked().unwrap(), double.error_bound().reading),
            (double.at(t).reading(code).checked().unwrap(), double.error_bound().point),
        ];
        for (i, (strain, bound)) in readings.into_iter().enumerate() {
            let off = (strain * 1e9 - expected).abs();
            worst[i] = worst[i].max(off);
            let allowed = bound.whole.0 + tolerance::REFERENCE_NANOSTRAIN;
            assert!(off <= allowed, "{} path {i}: off by {off}, bound {allowed}", row.text("case_id"));
        }
        compiled += 1;
    }
    println!(
        "{compiled} cases, worst in nanostrain: fixed {:.3} {:.3}, f32 {:.2} {:.2}, f64 {:.1e} {:.1e}",
        worst[0], worst[1], worst[2], worst[3], worst[4], worst[5]
    );
}

/// What it costs not to state the resistors: the unbalance is then put down to the measuring half
/// bridge. Where there is no unbalance the result is exact; where it sits elsewhere the error is of
/// second order, the reading times the relative unbalance.
#[test]
fn unstated_resistors_cost_the_reading_times_the_unbalance() {
    let mut worst = 0.0f64;
    for row in &data("quarter_bridge") {
        let case = case(row, false);
        let r0 = row.number("r0_ohm");
        let unbalance: f64 =
            ["r2_ohm", "r3_ohm", "r4_ohm"].iter().map(|column| (row.number(column) / r0 - 1.0).abs()).sum();
        let strain = reference::Model::new(&case.channel).unwrap().steps(case.code, AT).mechanical.0;
        let off = (strain - case.strain).abs();
        assert!(
            off <= case.strain.abs() * unbalance + 1e-14,
            "{}: {off:e} at {} with {unbalance}",
            row.text("case_id"),
            case.strain
        );
        if unbalance > 0.0 && case.strain != 0.0 {
            worst = worst.max(off / case.strain.abs() / unbalance);
        }
    }
    println!("unstated resistors: up to {worst:.2} of reading times summed unbalance");
    assert!(worst > 0.1, "the test would pass with nothing to see");
}
