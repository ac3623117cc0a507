//! Leads that warm up, and what a reading at rest says of the wiring.

use approx::assert_abs_diff_eq;
use gaugewright::channel::Arm;
use gaugewright::error::Field;
use gaugewright::installation::{Fault, Verdict};
use gaugewright::units::*;
use gaugewright::*;
use support::*;

fn channel(bridge: Bridge) -> Channel {
    let gauge = Gauge::new(GaugeFactor(2.0))
        .thermal_output(ThermalOutput::celsius([0.0]).between(Celsius(0.0), Celsius(50.0)));
    Channel::new(gauge, bridge, Converter::bipolar(24, Ratio(1.0 / 64.0)))
}

const GAUGE: Ohms = Ohms(350.0);
const LEAD: Ohms = Ohms(3.5);

/// Two leads add `(2 R_L / R) / F` times 0.0039/C (common practice, no source): 0.02 / 2 x 0.0039 is 39
/// microstrain a degree for leads of a hundredth of the gauge.
#[test]
fn two_leads_have_a_thermal_output_of_their_own() {
    let two = channel(Bridge::quarter_two_wire(GAUGE, LEAD));
    for rise in [-40.0, 1.0, 25.0] {
        let effect = two.lead_effect(Celsius(rise)).unwrap();
        let expected = 0.02 / 2.0 * 0.0039 * rise;
        assert!((effect.indicated.0 / expected - 1.0).abs() < 1e-9, "{effect:?}");
    }
    // What it says is what a channel balanced on cold leads shows on warm ones: the network with the leads as
    // they are then, everything else as it was.
    let rise = 25.0;
    let cold = channel(Bridge::quarter_two_wire(GAUGE, LEAD));
    let warm = Bridge::quarter_two_wire(GAUGE, Ohms(3.5 * (1.0 + 0.0039 * rise))).completion(Ohms(357.0));
    let ratio = warm.ratio_at_rest().0;
    let code = Converter::bipolar(24, Ratio(1.0 / 64.0)).code(Ratio(ratio));
    let shown = reference::Model::new(&cold).unwrap().steps(code, Celsius(20.0)).indicated.0;
    let effect = cold.lead_effect(Celsius(rise)).unwrap();
    assert_abs_diff_eq!(shown, effect.indicated.0, epsilon = 1e-12);
}

#[test]
fn three_leads_cancel_and_change_the_sensitivity() {
    let three = channel(Bridge::quarter_three_wire(GAUGE, LEAD)).lead_effect(Celsius(20.0)).unwrap();
    assert!(three.indicated.0.abs() < 1e-15);
    // The reading shrinks as the leads grow: by R_L / R x 0.0039/C (over one plus R_L / R).
    assert!((three.sensitivity + 0.01 * 0.078 / (1.01 + 0.01 * 0.078)).abs() < 1e-12, "{three:?}");
    let full = channel(Bridge::full_bending(GAUGE).leads(LEAD)).lead_effect(Celsius(20.0)).unwrap();
    assert!(full.indicated.0.abs() < 1e-15 && (full.sensitivity + 0.02 * 0.078 / 1.0216).abs() < 1e-5);
    let sensed = channel(Bridge::full_bending(GAUGE).leads(LEAD).remote_sense());
    let sensed = sensed.lead_effect(Celsius(20.0)).unwrap();
    assert!(sensed.indicated.0 == 0.0 && sensed.sensitivity == 0.0);
    for bad in [301.0, -201.0, f64::NAN] {
        assert!(matches!(
            channel(Bridge::quarter_ideal(GAUGE)).lead_effect(Celsius(bad)),
            Err(Error::Invalid { field: Field::LeadTemperatureRise, .. })
        ));
    }
}

fn explaining(channel: &Channel, code: i32) -> Vec<Fault> {
    channel.diagnose(code, Percent(1.0)).unwrap().explaining().map(|finding| finding.fault).collect()
}

const HIGH: i32 = 8_388_607;
const LOW: i32 = -8_388_608;

#[test]
fn a_rail_names_what_can_drive_it_there() {
    let three = channel(Bridge::quarter_three_wire(GAUGE, LEAD));
    // An open gauge and a broken lead of its arm look alike: the circuit cannot tell them apart, and both are named.
    assert_eq!(explaining(&three, HIGH), [Fault::ArmOpen(Arm::One), Fault::ArmLeadBroken(Arm::One)]);
    // A shorted gauge and a broken lead on the other side.
    assert_eq!(explaining(&three, LOW), [Fault::ArmShorted(Arm::One), Fault::ArmLeadBroken(Arm::Two)]);
    let bending = channel(Bridge::half_bending(GAUGE, LEAD));
    assert_eq!(
        explaining(&bending, HIGH),
        [Fault::ArmOpen(Arm::One), Fault::ArmShorted(Arm::Two), Fault::ArmLeadBroken(Arm::One)]
    );
    let full = channel(Bridge::full_bending(GAUGE).leads(LEAD));
    assert_eq!(
        explaining(&full, HIGH),
        [
            Fault::ArmOpen(Arm::One),
            Fault::ArmShorted(Arm::Two),
            Fault::ArmOpen(Arm::Three),
            Fault::ArmShorted(Arm::Four)
        ]
    );
    // Reversed, the same faults drive the other rail.
    let reversed = channel(Bridge::full_bending(GAUGE).leads(LEAD).reversed());
    assert_eq!(explaining(&reversed, LOW), explaining(&full, HIGH));
}

#[test]
fn every_fault_put_into_a_network_is_found_again() {
    for bridge in bridges() {
        let channel = circuit(bridge);
        let everything = channel.diagnose(0, Percent(1.0)).unwrap();
        for finding in everything.findings() {
            let Some(predicted) = finding.predicted else { continue };
            let code = Converter::bipolar(24, Ratio(1.0 / 128.0)).code(predicted).round();
            let code = code.clamp(f64::from(LOW), f64::from(HIGH)) as i32;
            let found = explaining(&channel, code);
            assert!(
                found.contains(&finding.fault),
                "{}: {finding:?} not in {found:?}",
                bridge.circuit().name()
            );
        }
    }
}

#[test]
fn a_healthy_bridge_and_one_that_is_off() {
    let three = channel(Bridge::quarter_three_wire(GAUGE, LEAD)).balanced(20_000.0, Celsius(20.0));
    let fine = three.diagnose(20_500, Percent(1.0)).unwrap();
    assert!(fine.healthy && !fine.at_rail && fine.explaining().count() == 0);
    assert!(fine.off_nominal.unwrap().0.abs() < 0.01);
    // A gauge of 357 ohm where 350 were: two percent, more than its tolerance, no open or shorted wire.
    let model = reference::Model::new(&three).unwrap();
    let code = model.code_for(Strain(0.02 / 2.0), Celsius(20.0)).round() as i32;
    let off = three.diagnose(code, Percent(0.25)).unwrap();
    assert!(!off.healthy && off.explaining().count() == 0);
    assert_abs_diff_eq!(off.off_nominal.unwrap().0, 2.0, epsilon = 1e-3);
    // At a rail there is no such number.
    assert_eq!(three.diagnose(HIGH, Percent(1.0)).unwrap().off_nominal, None);
}

#[test]
fn what_cannot_be_told_is_said_so() {
    let full = channel(Bridge::full_bending(GAUGE).leads(LEAD));
    let at_zero = full.diagnose(0, Percent(1.0)).unwrap();
    let verdict = |fault| at_zero.findings().find(|finding| finding.fault == fault).unwrap().verdict;
    // No excitation reads as a balanced bridge; a floating input reads anything; polarity needs a load.
    assert_eq!(verdict(Fault::ExcitationLeadBroken), Verdict::Consistent);
    assert_eq!(verdict(Fault::OutputLeadBroken), Verdict::Inconclusive);
    assert_eq!(verdict(Fault::Reversed), Verdict::Inconclusive);
    // An input resistance ties a broken output to the other side.
    let loaded = channel(Bridge::full_bending(GAUGE).leads(LEAD).input_resistance(Ohms(1e6)));
    let broken = loaded.diagnose(0, Percent(1.0)).unwrap();
    let broken = broken.findings().find(|finding| finding.fault == Fault::OutputLeadBroken).unwrap();
    assert_eq!(broken.verdict, Verdict::Consistent);
    assert!(broken.predicted.unwrap().0.abs() < 1e-9);
    for bad in [-1.0, 21.0, f64::NAN] {
        assert!(matches!(
            full.diagnose(0, Percent(bad)),
            Err(Error::Invalid { field: Field::ResistorTolerance, .. })
        ));
    }
}

/// What the map leaves out of a network is enclosed, and not by much more than it is.
#[test]
fn the_circuit_error_holds_and_is_tight() {
    let (gauge, lead) = (Ohms(350.0), Ohms(2.0));
    for bridge in [
        Bridge::half_poisson(gauge, lead, 0.3).input_resistance(Ohms(2e4)),
        Bridge::half_bending(gauge, lead).input_resistance(Ohms(5e3)),
        Bridge::full_bending(gauge)
            .leads(lead)
            .completion(Ohms(357.0))
            .reference_half(Ohms(348.0), Ohms(352.0)),
        Bridge::full_poisson(gauge, 0.3)
            .leads(lead)
            .completion(Ohms(352.0))
            .reference_half(Ohms(346.0), Ohms(351.0)),
        Bridge::opposite_arms(gauge)
            .leads(lead)
            .reference_half(Ohms(356.0), Ohms(349.0))
            .completion(Ohms(351.0)),
    ] {
        let factor = 2.1;
        let gauge = Gauge::new(GaugeFactor(factor))
            .thermal_output(ThermalOutput::celsius([0.0]).between(Celsius(0.0), Celsius(50.0)));
        let converter = Converter::bipolar(32, Ratio(1.0 / 16.0));
        let channel = Channel::new(gauge, bridge, converter)
            .balanced(converter.code(bridge.ratio_at_rest()), Celsius(20.0))
            .strain_within(Microstrain(12_000.0));
        let bound = channel.circuit_error().unwrap().0;
        let kernel: float::Kernel<f64> = channel.float64();
        let model = reference::Model::new(&channel).unwrap();
        let t = fixed::Temperature::from_bits(20 << 20);
        let mut worst = 0.0f64;
        for i in -1000..=1000 {
            let code = model.code_for(Strain(f64::from(i) * 12e-6), Celsius(20.0)).round() as i32;
            let off = kernel.reading(code, t).strain - model.strain(code, t).0;
            worst = worst.max(off.abs() * 1e9);
        }
        println!("{:<34} left out {bound:.3} nanostrain, seen {worst:.3}", bridge.circuit().name());
        assert!(worst <= bound + kernel.error_bound().reading.total.0 + tolerance::REFERENCE_NANOSTRAIN);
        // The enclosure is loose by less than a hundredth; what is seen is known to a thousandth of a nanostrain.
        assert!(bound > 1e-2 && worst * 1.015 + 1e-3 > bound, "{bound} for {worst}");
    }
}

/// The unbalance of a bridge whose resistors are not stated, spread over its arms at random: what that costs stays
/// within what the channel says, and comes near it.
#[test]
fn unstated_unbalance_costs_no_more_than_is_said() {
    let mut random = Random(3);
    let mut share = || random.between(0, 1_000_000) as f64 / 1e6;
    for (name, plain) in [
        ("quarter", Bridge::quarter_three_wire(GAUGE, Ohms(1.0))),
        ("half, bending", Bridge::half_bending(GAUGE, Ohms(1.0))),
        ("full, bending", Bridge::full_bending(GAUGE).leads(Ohms(1.0))),
        ("full, Poisson", Bridge::full_poisson(GAUGE, 0.3).leads(Ohms(1.0))),
        ("opposite arms", Bridge::opposite_arms(GAUGE).leads(Ohms(1.0))),
    ] {
        let mut nearest = 0.0f64;
        for i in 0..400 {
            // All pull the same way: arms 1 and 3 up, 2 and 4 down. The first four put it all into one arm.
            let most = 0.02 * (share() + 0.05);
            let part = |arm: usize, random: f64| if i < 4 { f64::from(u8::from(i == arm)) } else { random };
            let off = [part(0, share()), part(1, share()), part(2, share()), part(3, share())];
            let ohms = |arm: usize| {
                let sign = if arm % 2 == 0 { 1.0 } else { -1.0 };
                Ohms(350.0 * (1.0 + sign * most * off[arm]))
            };
            let stated = plain.gauge(ohms(0)).completion(ohms(1)).reference_half(ohms(2), ohms(3));
            let converter = Converter::bipolar(32, Ratio(1.0 / 16.0));
            let make = |bridge: Bridge| {
                Channel::new(
                    Gauge::new(GaugeFactor(2.0))
                        .thermal_output(ThermalOutput::celsius([0.0]).between(Celsius(0.0), Celsius(50.0))),
                    bridge,
                    converter,
                )
                .balanced(converter.code(stated.ratio_at_rest()), Celsius(20.0))
                .strain_within(Microstrain(5_000.0))
            };
            let (known, unknown) = (make(stated), make(plain));
            let allowed = unknown.unbalance_error().unwrap().0;
            let truth = reference::Model::new(&known).unwrap();
            let guess = reference::Model::new(&unknown).unwrap();
            for strain in [-5e-3, 5e-3] {
                let code = truth.code_for(Strain(strain), Celsius(20.0));
                let off = (guess.steps(code, Celsius(20.0)).mechanical.0 - strain).abs() * 1e9;
                // Unequal parts can cost a little more than equal ones.
                assert!(off <= allowed * 1.01 + 1e-3, "{name}: {off} of {allowed}");
                nearest = nearest.max(off / allowed);
            }
        }
        println!("{name}: up to {nearest:.2} of what is said");
        assert!(nearest > 0.5, "{name}: said is far more than it costs");
    }
}

#[test]
fn a_bridge_beyond_its_converter_says_so() {
    // 330 ohm beside 350: 15 mV/V, and a converter that ends at 7.8.
    let stated = Bridge::quarter_ideal(GAUGE).completion(Ohms(330.0)).reference_half(GAUGE, GAUGE);
    let gauge = Gauge::new(GaugeFactor(2.0))
        .thermal_output(ThermalOutput::celsius([0.0]).between(Celsius(0.0), Celsius(50.0)));
    let channel = Channel::new(gauge, stated, Converter::bipolar(24, Ratio(1.0 / 128.0)));
    let Err(Error::Invalid { field: Field::BalanceRatio, value, high, .. }) = channel.check() else {
        panic!("{:?}", channel.check())
    };
    assert_abs_diff_eq!(value, 350.0 / 680.0 - 0.5, epsilon = 1e-12);
    assert_abs_diff_eq!(high, 1.0 / 128.0, epsilon = 1e-8);
}

/// One gauge alone off its resistance, in every circuit, found as what it is.
#[test]
fn off_nominal_is_the_first_gauge_alone() {
    for bridge in bridges().into_iter().chain([Bridge::quarter_two_wire(GAUGE, LEAD)]) {
        // All resistors stated, so that the one that is off is off.
        let bridge = bridge.completion(GAUGE).reference_half(GAUGE, GAUGE);
        let gauge = Gauge::new(GaugeFactor(2.0))
            .thermal_output(ThermalOutput::celsius([0.0]).between(Celsius(0.0), Celsius(50.0)));
        let converter = Converter::bipolar(24, Ratio(1.0 / 16.0));
        let channel = Channel::new(gauge, bridge, converter)
            .balanced(converter.code(bridge.ratio_at_rest()), Celsius(20.0))
            .strain_within(Microstrain(5_000.0));
        for percent in [-3.0, 0.5, 4.0] {
            let off = bridge.gauge(Ohms(350.0 * (1.0 + percent / 100.0)));
            let code = converter.code(off.ratio_at_rest()).round() as i32;
            let said = channel.diagnose(code, Percent(0.1)).unwrap();
            let found = said.off_nominal.unwrap().0;
            assert!((found - percent).abs() < 1e-3, "{}: {found} for {percent}", bridge.circuit().name());
            assert!(!said.healthy);
        }
    }
}

#[test]
fn a_bridge_known_to_be_out_of_balance_tells_its_polarity() {
    let channel = channel(Bridge::quarter_three_wire(GAUGE, LEAD)).balanced(4_000_000.0, Celsius(20.0));
    let turned = channel.diagnose(-4_000_000, Percent(0.1)).unwrap();
    assert!(!turned.healthy);
    let faults: Vec<_> = turned.explaining().map(|finding| finding.fault).collect();
    assert_eq!(faults, [Fault::Reversed]);
    let right = channel.diagnose(4_000_000, Percent(0.1)).unwrap();
    let reversed = right.findings().find(|finding| finding.fault == Fault::Reversed).unwrap();
    assert!(right.healthy && reversed.verdict == Verdict::Excluded);
}

/// The converter's offset, what all four stated resistors leave of the ratio at balance, stays as it is when OUT+ and OUT- are
/// exchanged: only the bridge's own part turns its sign.
#[test]
fn exchanging_the_outputs_leaves_the_offset_of_the_converter() {
    let bridge = Bridge::quarter_ideal(GAUGE).completion(Ohms(351.0)).reference_half(GAUGE, GAUGE);
    let own = 350.0 / 701.0 - 0.5;
    for (bridge, own) in [(bridge, own), (bridge.reversed(), -own)] {
        for offset in [5e-3, -5e-3, 0.0] {
            let code = |ratio: f64| Converter::bipolar(24, Ratio(1.0 / 64.0)).code(Ratio(ratio));
            let channel = channel(bridge).balanced(code(own + offset), Celsius(20.0));
            let said = channel.diagnose(code(offset - own) as i32, Percent(0.01)).unwrap();
            let finding = said.findings().find(|finding| finding.fault == Fault::Reversed).unwrap();
            let off = finding.predicted.unwrap().0 - (offset - own);
            assert!(
                off.abs() < 1e-15 && finding.verdict == Verdict::Consistent,
                "{finding:?}, {own} {offset}"
            );
            // A bridge in balance does not tell, whatever the offset.
            let said = channel.diagnose(code(own + offset) as i32, Percent(0.1)).unwrap();
            let finding = said.findings().find(|finding| finding.fault == Fault::Reversed).unwrap();
            assert_eq!((said.healthy, finding.verdict), (true, Verdict::Inconclusive));
        }
    }
}

/// A code at a rail has no upper limit: it is never healthy, even where the resistors' tolerance reaches beyond the converter.
#[test]
fn a_rail_is_never_healthy() {
    for (full_scale, tolerance) in [(1.0 / 128.0, 1.0), (1.0 / 256.0, 5.0), (1.0 / 256.0, 0.0), (1e-3, 20.0)]
    {
        for bits in [8, 16, 24, 32] {
            let gauge = Gauge::new(GaugeFactor(2.0))
                .thermal_output(ThermalOutput::celsius([0.0]).between(Celsius(0.0), Celsius(50.0)));
            let converter = Converter::bipolar(bits, Ratio(full_scale));
            let channel = Channel::new(gauge, Bridge::quarter_three_wire(GAUGE, LEAD), converter);
            let high = i32::MAX >> (32 - bits);
            for code in [high, i32::MAX, !high, i32::MIN] {
                let said = channel.diagnose(code, Percent(tolerance)).unwrap();
                assert!(said.at_rail && !said.healthy, "{bits} bits: {said:?}");
            }
            let said = channel.diagnose(high, Percent(tolerance)).unwrap();
            assert!(said.explaining().any(|finding| finding.fault == Fault::ArmOpen(Arm::One)));
            assert!(channel.diagnose(0, Percent(tolerance)).unwrap().healthy);
        }
    }
}
