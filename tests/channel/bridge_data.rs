//! Bridges of every circuit solved by exact rational nodal analysis and by the circuit simulator ngspice 39.3
//! (tests/data/*_bridge*.csv) against the network model and every kernel.

use gaugewright::error::Quantity;
use gaugewright::units::*;
use gaugewright::*;
use support::*;

const FULL_SCALE: f64 = 1.0 / 8.0;
const AT: Celsius = Celsius(20.0);

struct Case {
    name: String,
    channel: Channel,
    strain: f64,
    code: f64,
    code_simulated: f64,
}

const fn converter(bits: u32) -> Converter {
    Converter::bipolar(bits, Ratio(FULL_SCALE))
}

/// An arm without its strain and without its change with temperature.
fn at_rest(row: &Row, arm: usize) -> f64 {
    let strain = row.maybe(&format!("strain{arm}_ue")).unwrap_or(0.0) * 1e-6;
    let heat = row.maybe(&format!("drt{arm}_ppm")).unwrap_or(0.0) * 1e-6;
    row.number(&format!("r{arm}_ohm")) / (1.0 + row.number("gauge_factor") * strain + heat)
}

/// The row's bridge, with arm 1 alone stated, or all of them.
fn bridge(row: &Row, stated: bool) -> Bridge {
    let gauge = Ohms(at_rest(row, 1));
    let lead = Ohms(row.number("lead_ohm"));
    let nu = row.maybe("poisson").unwrap_or(0.0);
    let mut bridge = match (row.text("topology"), row.text("wiring")) {
        ("quarter", "2w") => Bridge::quarter_two_wire(gauge, lead),
        ("quarter", "3w") => Bridge::quarter_three_wire(gauge, lead),
        ("half_compensating", _) => Bridge::half_compensated(gauge, lead),
        ("half_poisson", _) => Bridge::half_poisson(gauge, lead, nu),
        ("half_bending", _) => Bridge::half_bending(gauge, lead),
        ("full_bending" | "full_general", _) => Bridge::full_bending(gauge),
        ("full_torsion", _) => Bridge::full_torsion(gauge),
        ("full_poisson", _) => Bridge::full_poisson(gauge, nu),
        other => panic!("{other:?}"),
    };
    if let Some(lead) = row.maybe("exc_lead_ohm").filter(|_| row.text("wiring") == "full") {
        // The rows have leads to the excitation alone.
        bridge = bridge.excitation_leads(Ohms(lead));
    }
    if stated {
        bridge = bridge
            .completion(Ohms(at_rest(row, 2)))
            .reference_half(Ohms(at_rest(row, 3)), Ohms(at_rest(row, 4)));
    }
    if let Some(input) = row.maybe("r_in_ohm") {
        bridge = bridge.input_resistance(Ohms(input));
    }
    bridge
}

fn case(row: &Row, stated: bool) -> Case {
    case_with_bits(row, stated, 32)
}

fn case_with_bits(row: &Row, stated: bool, bits: u32) -> Case {
    let code = |ratio: &str| converter(bits).code(Ratio(row.number(ratio)));
    let strain = row.number("strain1_ue") * 1e-6;
    // No thermal output: the bridge alone.
    let gauge = Gauge::new(GaugeFactor(row.number("gauge_factor")))
        .thermal_output(ThermalOutput::celsius([0.0]).between(Celsius(0.0), Celsius(50.0)));
    let channel = Channel::new(gauge, bridge(row, stated), converter(bits))
        .balanced(code("ratio_ref_exact"), AT)
        .strain_within(Microstrain(strain.abs() * 1e6 + 10.0));
    Case {
        name: row.text("case_id").to_owned(),
        channel,
        strain,
        code: code("ratio_exact"),
        code_simulated: code("ratio_ngspice"),
    }
}

fn heated(row: &Row) -> bool {
    (1..=4).any(|arm| row.maybe(&format!("drt{arm}_ppm")).unwrap_or(0.0) != 0.0)
}

/// All rows whose arms move as their circuit says, without heat.
fn rows() -> Vec<Row> {
    let all: Vec<Row> =
        ["quarter_bridge", "half_bridge_compensating", "half_bridge_poisson_bending", "full_bridge"]
            .into_iter()
            .flat_map(data)
            .filter(|row| row.text("topology") != "full_general" && !heated(row))
            // A common axial strain on a torsion bridge has a test of its own.
            .filter(|row| {
                row.text("topology") != "full_torsion"
                    || row.number("strain1_ue") == -row.number("strain2_ue")
            })
            .collect();
    assert!(all.len() > 2_250, "{}", all.len());
    all
}

#[test]
fn the_network_gives_the_exact_ratio_and_the_simulator_agrees() {
    let (mut worst, mut worst_simulated) = (0.0f64, 0.0f64);
    for row in &rows() {
        let case = case(row, true);
        let model = reference::Model::new(&case.channel).unwrap();
        let ratio = converter(32).ratio(model.code_for(Strain(case.strain), AT)).0;
        let off = (ratio - row.number("ratio_exact")).abs();
        worst = worst.max(off);
        assert!(off <= tolerance::REFERENCE_RATIO, "{}: {off:e}", case.name);
        worst_simulated = worst_simulated.max((ratio - row.number("ratio_ngspice")).abs());
        let back = model.steps(case.code, AT).mechanical.0;
        assert!((back - case.strain).abs() < 1e-14, "{}: {back} for {}", case.name, case.strain);
        let simulated = model.steps(case.code_simulated, AT).mechanical.0;
        let allowed = 8.0 * tolerance::SIMULATOR_RATIO / row.number("gauge_factor");
        assert!((simulated - case.strain).abs() < allowed, "{}", case.name);
    }
    assert!(worst_simulated <= tolerance::SIMULATOR_RATIO, "{worst_simulated:e}");
    println!("ratio: worst {worst:.1e} from exact, {worst_simulated:.1e} from the simulator");
}

/// Every row, those with free strains and heat in all arms too, as a bridge at rest with its arms as they are.
#[test]
fn stated_arms_give_the_exact_ratio() {
    for name in ["quarter_bridge", "half_bridge_compensating", "half_bridge_poisson_bending", "full_bridge"] {
        for row in &data(name) {
            let ohms = |arm: usize| Ohms(row.number(&format!("r{arm}_ohm")));
            let bridge =
                bridge(row, true).gauge(ohms(1)).completion(ohms(2)).reference_half(ohms(3), ohms(4));
            let off = (bridge.ratio_at_rest().0 - row.number("ratio_exact")).abs();
            assert!(off <= tolerance::REFERENCE_RATIO, "{}: {off:e}", row.text("case_id"));
        }
    }
}

#[test]
fn every_kernel_stays_within_its_bound() {
    let mut worst = std::collections::BTreeMap::<String, [f64; 6]>::new();
    let mut without_lowest_bit = 0;
    for row in &rows() {
        let mut case = case(row, true);
        // 32 bits whose window is a third to a half of all codes leave half the range of the signal.
        if let Err(error) = case.channel.try_fixed::<4, 1, 0>() {
            assert!(matches!(error, Error::Overflow { quantity: Quantity::SignalGain, .. }), "{error}");
            assert!(case.strain.abs() > 0.0208);
            case = case_with_bits(row, true, 31);
            without_lowest_bit += 1;
        }
        let code = case.code.round() as i32;
        // The exact strain of the whole code: the row's, moved by less than half a code along the curve.
        let model = reference::Model::new(&case.channel).unwrap();
        let moved = model.steps(f64::from(code), AT).mechanical.0 - model.steps(case.code, AT).mechanical.0;
        assert!((moved * 1e9).abs() < 0.2);
        let expected = case.strain * 1e9 + moved * 1e9;
        let circuit = case.channel.circuit_error().unwrap().0;
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
        let worst = worst.entry(row.text("topology").to_owned()).or_default();
        for (i, (strain, bound)) in readings.into_iter().enumerate() {
            let off = (strain * 1e9 - expected).abs();
            worst[i] = worst[i].max(off);
            let allowed = bound.total.0 + circuit + tolerance::REFERENCE_NANOSTRAIN;
            assert!(off <= allowed, "{} path {i}: off by {off}, bound {allowed}", case.name);
        }
    }
    assert!(without_lowest_bit <= 15, "{without_lowest_bit}");
    for (circuit, w) in worst {
        println!(
            "{circuit:<18} worst in nanostrain: fixed {:.3} {:.3}, f32 {:.2} {:.2}, f64 {:.1e} {:.1e}",
            w[0], w[1], w[2], w[3], w[4], w[5]
        );
    }
}

/// What it costs not to state the resistors: the unbalance is then put down to the half bridge that
/// measures. Where there is no unbalance the result is exact; where it sits elsewhere the error is of
/// second order, the reading times the relative unbalance.
#[test]
fn unstated_resistors_cost_the_reading_times_the_unbalance() {
    let mut worst = 0.0f64;
    for row in &rows() {
        let case = case(row, false);
        let r0 = row.number("r0_ohm");
        let unbalance: f64 = (1..=4).map(|arm| (at_rest(row, arm) / r0 - 1.0).abs()).sum();
        let strain = reference::Model::new(&case.channel).unwrap().steps(case.code, AT).mechanical.0;
        let off = (strain - case.strain).abs();
        assert!(
            off <= case.strain.abs() * unbalance + 1e-14,
            "{}: {off:e} at {} with {unbalance}",
            case.name,
            case.strain
        );
        if unbalance > 1e-9 && case.strain != 0.0 {
            worst = worst.max(off / case.strain.abs() / unbalance);
        }
    }
    println!("unstated resistors: up to {worst:.2} of reading times summed unbalance");
    assert!(worst > 0.1, "the test would pass with nothing to see");
}

/// A gauge and a compensating one that change with temperature by nearly the same: what they share cancels
/// to first order. The rows say what each changes by; the model subtracts the difference, and what is left is the
/// product of these changes and the signal.
#[test]
fn a_compensating_gauge_cancels_what_it_shares_to_first_order() {
    let (mut count, mut largest_shared) = (0, 0.0f64);
    for row in data("half_bridge_compensating").iter().filter(|row| heated(row)) {
        let heat = |arm: usize| row.number(&format!("drt{arm}_ppm")) * 1e-6;
        let factor = row.number("gauge_factor");
        let case = case(row, true);
        let indicated = reference::Model::new(&case.channel).unwrap().steps(case.code, AT).indicated.0;
        let difference = (heat(1) - heat(2) + heat(3) - heat(4)) / factor;
        let left = (indicated - difference - case.strain).abs() * factor;
        let signal = (factor * case.strain).abs() + heat(1).abs() + heat(2).abs();
        let second_order = 1.5 * (heat(2).abs() + heat(3).abs() + heat(4).abs()) * signal
            + (heat(3) - heat(4)).abs() * signal;
        assert!(left <= second_order + 1e-13, "{}: {left:e} of {second_order:e}", case.name);
        largest_shared = largest_shared.max(heat(2).abs());
        count += 1;
    }
    assert!(count > 300 && largest_shared > 0.01);
}

/// Axial strain common to all four gauges of a torsion bridge cancels to first order.
#[test]
fn a_torsion_bridge_rejects_axial_strain() {
    let mut count = 0;
    for row in data("full_bridge").iter().filter(|row| row.text("topology") == "full_torsion") {
        let (first, second) = (row.number("strain1_ue") * 1e-6, row.number("strain2_ue") * 1e-6);
        let (torsion, axial) = ((first - second) / 2.0, (first + second) / 2.0);
        if axial == 0.0 {
            continue;
        }
        let factor = row.number("gauge_factor");
        // The rows' arms at rest are equal.
        let gauge = Gauge::new(GaugeFactor(factor));
        let mut bridge = Bridge::full_torsion(Ohms(row.number("r0_ohm")));
        if let Some(lead) = row.maybe("exc_lead_ohm") {
            // The rows have leads to the excitation alone.
            bridge = bridge.excitation_leads(Ohms(lead));
        }
        if let Some(input) = row.maybe("r_in_ohm") {
            bridge = bridge.input_resistance(Ohms(input));
        }
        let channel = Channel::new(gauge, bridge, converter(32))
            .temperature_within(Celsius(0.0), Celsius(50.0))
            .strain_within(Microstrain(40_000.0));
        let model = reference::Model::new(&channel).unwrap();
        let strain = model.steps(converter(32).code(Ratio(row.number("ratio_exact"))), AT).mechanical.0;
        let allowed = 1.1 * factor * axial.abs() * torsion.abs() + 1e-14;
        assert!((strain - torsion).abs() <= allowed, "{}", row.text("case_id"));
        count += 1;
    }
    assert!(count > 20, "{count}");
}
