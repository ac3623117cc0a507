//! What the network makes of leads, loads and stated resistors, number by number: where a wrong sign or a wrong quotient
//! in `src/channel/bridge` would pass the tests that compare whole channels.

use approx::assert_abs_diff_eq;
use gaugewright::channel::{Arm, ForcedStrain, GaugeFactorBasis};
use gaugewright::error::Field;
use gaugewright::installation::{Fault, Finding};
use gaugewright::units::*;
use gaugewright::*;

const OHMS: f64 = 350.0;

fn read_by(converter: Converter, bridge: Bridge) -> Channel {
    let gauge = Gauge::new(GaugeFactor(2.0))
        .thermal_output(ThermalOutput::celsius([0.0]).between(Celsius(0.0), Celsius(50.0)));
    Channel::new(gauge, bridge, converter)
}

const CONVERTER: Converter = Converter::bipolar(32, Ratio(1.0 / 16.0));

fn channel(bridge: Bridge) -> Channel {
    read_by(CONVERTER, bridge)
}

/// By a converter that takes any ratio, balanced at this one.
fn wide(bridge: Bridge, ratio: f64) -> Channel {
    let converter = Converter::bipolar(24, Ratio(1.0));
    read_by(converter, bridge).balanced(converter.code(Ratio(ratio)), Celsius(20.0))
}

fn balanced(bridge: Bridge, ratio: f64) -> Channel {
    channel(bridge).balanced(CONVERTER.code(Ratio(ratio)), Celsius(20.0))
}

/// With arm 2 stated, the ratio at balance has to be one that some division of arms 3 and 4 gives, from 2 to 98 hundredths:
/// the limits of the refusal are those of the voltage dividers.
#[test]
fn a_balance_that_no_reference_half_gives_is_refused_with_the_dividers_limits() {
    let low_half = OHMS / (OHMS + 400.0);
    let bridge = Bridge::quarter_ideal(Ohms(OHMS)).completion(Ohms(400.0));
    for (bridge, sign) in [(bridge, 1.0), (bridge.reversed(), -1.0)] {
        let wide = |ratio: f64| wide(bridge, sign * ratio);
        for ratio in [-0.6, 0.6] {
            let Err(Error::Invalid { field: Field::BalanceRatio, value, low, high }) = wide(ratio).check()
            else {
                panic!("{:?}", wide(ratio).check())
            };
            let (one, other) = (sign * (low_half - 0.02), sign * (low_half - 0.98));
            assert!(
                (low - one.min(other)).abs() < 1e-12 && (high - one.max(other)).abs() < 1e-12,
                "{low} {high}"
            );
            assert_abs_diff_eq!(value, sign * ratio, epsilon = 1e-6);
        }
        assert!(wide(low_half - 0.03).check().is_ok() && wide(low_half - 0.97).check().is_ok());
    }
}

/// Arm 2 solved from the ratio at balance lies between a fiftieth of the gauge and fifty times it.
#[test]
fn a_balance_that_no_completion_gives_is_refused_with_the_dividers_limits() {
    let bridge = Bridge::quarter_ideal(Ohms(OHMS));
    let wide = |ratio: f64| wide(bridge, ratio);
    let (least, most) = (1.0 / 51.0 - 0.5, 1.0 / 1.02 - 0.5);
    for ratio in [-0.49, 0.49] {
        let Err(Error::Invalid { field: Field::BalanceRatio, low, high, .. }) = wide(ratio).check() else {
            panic!("{:?}", wide(ratio).check())
        };
        assert!((low - least).abs() < 1e-12 && (high - most).abs() < 1e-12, "{low} {high}");
    }
    assert!(wide(least + 1e-3).check().is_ok() && wide(most - 1e-3).check().is_ok());
}

/// The ratio at rest is that of the nodes, for arms and leads all different.
#[test]
fn the_ratio_at_rest_is_that_of_the_voltage_dividers() {
    let half = Bridge::half_compensated(Ohms(OHMS), Ohms(3.0)).completion(Ohms(347.0));
    let stated = half.reference_half(Ohms(990.0), Ohms(1003.0));
    let expected = 353.0 / (353.0 + 350.0) - 1003.0 / 1993.0;
    assert_abs_diff_eq!(stated.ratio_at_rest().0, expected, epsilon = 1e-15);
    assert!((stated.reversed().ratio_at_rest().0 + expected).abs() < 1e-15);
    let two = Bridge::quarter_two_wire(Ohms(OHMS), Ohms(3.0)).completion(Ohms(347.0));
    assert_abs_diff_eq!(two.ratio_at_rest().0, 356.0 / 703.0 - 0.5, epsilon = 1e-15);
}

/// A quarter bridge at this ratio, its unbalance in arm 2 or, as it may be, in any other arm or several: in arm 1 the
/// gauge itself is `1 + e`, in arms 3 and 4 the gauge sits in a divider of its own.
#[test]
fn what_an_unstated_unbalance_costs_is_the_worst_of_all_places() {
    let (limit, factor) = (5_000.0, 2.0);
    let largest = limit * 1e-6 * factor;
    let plain = Bridge::quarter_ideal(Ohms(OHMS));
    for (bridge, sign, r0) in [
        (plain, 1.0, 0.004),
        (plain.reversed(), -1.0, 0.004),
        (plain, 1.0, -0.004),
        (plain.reversed(), -1.0, -0.004),
    ] {
        let said = balanced(bridge, sign * r0).strain_within(Microstrain(limit)).unbalance_error().unwrap().0;
        // The divider of arms 1 and 2 gives h at rest; what the arms are, up to a common factor, follows from h.
        let rest = |which: u8, part: f64| {
            let arm = |k: u8| {
                let up = if k % 2 == 0 { part } else { -part };
                if which & (1 << k) != 0 { 1.0 + up } else { 1.0 }
            };
            [arm(0), arm(1), arm(2), arm(3)]
        };
        let ratio = |[a, b, c, d]: [f64; 4], y: f64| {
            let a = a * (1.0 + y);
            a / (a + b) - d / (c + d)
        };
        let mut worst = 0.0f64;
        let solved = |which: u8| {
            let (mut low, mut high) = (-0.5, 0.5);
            for _ in 0..100 {
                let middle = (low + high) / 2.0;
                if ratio(rest(which, middle), 0.0) < r0 { low = middle } else { high = middle }
            }
            rest(which, low)
        };
        // Where it is put: arm 2.
        let own = solved(2);
        // Strain that shows the same ratio there, for strain of the other.
        for which in 1..16 {
            let other = solved(which);
            for y in [-largest, largest] {
                let shown = ratio(own, y);
                let (mut low, mut high) = (-0.9, 0.9);
                for _ in 0..200 {
                    let middle = (low + high) / 2.0;
                    if ratio(other, middle) < shown { low = middle } else { high = middle }
                }
                worst = worst.max((low - y).abs());
            }
        }
        let expected = worst / factor * 1e9;
        // The window has a code of room beyond the range.
        assert!(said >= expected && said <= expected * 1.001, "{said} for {expected}");
    }
}

#[test]
fn circuits_have_names_of_their_own() {
    let names: std::collections::BTreeSet<&str> = [
        Circuit::Quarter,
        Circuit::HalfCompensated,
        Circuit::HalfPoisson,
        Circuit::HalfBending,
        Circuit::FullBending,
        Circuit::FullPoisson,
        Circuit::FullTorsion,
        Circuit::OppositeArms,
    ]
    .map(Circuit::name)
    .into();
    assert!(names.len() == 8 && names.iter().all(|name| name.len() > 6));
}

/// Opposite arms have gauges in arms 1 and 3, and those alone can be open or shorted.
#[test]
fn faults_are_those_of_arms_with_gauges() {
    let arms = |bridge: Bridge| -> Vec<Arm> {
        let said = channel(bridge).diagnose(0, Percent(1.0)).unwrap();
        let open = |finding: &Finding| match finding.fault {
            Fault::ArmOpen(arm) => Some(arm),
            _ => None,
        };
        said.findings().filter_map(open).collect()
    };
    let ohms = Ohms(OHMS);
    assert_eq!(arms(Bridge::quarter_ideal(ohms)), [Arm::One]);
    assert_eq!(arms(Bridge::half_bending(ohms, Ohms(1.0))), [Arm::One, Arm::Two]);
    assert_eq!(arms(Bridge::opposite_arms(ohms)), [Arm::One, Arm::Three]);
    assert_eq!(arms(Bridge::full_bending(ohms)), Arm::ALL);
}

/// Leads that warm: a full bridge of equal arms has the source resistance of one of them, so the output is that of the
/// divider of the excitation leads and of the one with the input, whose output leads may be others.
#[test]
fn warm_leads_of_a_loaded_bridge_change_its_sensitivity_as_the_dividers_do() {
    let (lead, input, copper) = (2.0, 20_000.0, 0.0039);
    for (output_lead, rise) in [(None, 40.0), (Some(5.0), 40.0), (Some(0.5), -30.0)] {
        let bridge = Bridge::full_bending(Ohms(OHMS)).leads(Ohms(lead)).input_resistance(Ohms(input));
        let bridge = output_lead.map_or(bridge, |lead| bridge.output_leads(Ohms(lead)));
        let effect = channel(bridge).lead_effect(Celsius(rise)).unwrap();
        let warmer = 1.0 + copper * rise;
        let sensitivity = |by: f64| {
            let (excitation, output) = (2.0 * lead * by, 2.0 * output_lead.unwrap_or(lead) * by);
            OHMS / (OHMS + excitation) * input / (input + OHMS + output)
        };
        let expected = sensitivity(warmer) / sensitivity(1.0) - 1.0;
        assert_abs_diff_eq!(effect.sensitivity, expected, epsilon = 1e-13);
        assert!(effect.indicated.0.abs() < 1e-15);
    }
}

/// Leads to the excitation alone, in any order with the others; and a bridge that has none refuses them.
#[test]
fn leads_to_the_excitation_alone() {
    let full = Bridge::full_bending(Ohms(OHMS)).input_resistance(Ohms(20_000.0));
    let output = |bridge: Bridge, strain: f64| {
        let code = reference::Model::new(&channel(bridge)).unwrap().code_for(Strain(strain), Celsius(20.0));
        code.to_bits()
    };
    let (three, five) = (Ohms(3.0), Ohms(5.0));
    for (one, other) in [
        (full.excitation_leads(three), full.leads(three).output_leads(Ohms(0.0))),
        (full.output_leads(five), full.leads(five).excitation_leads(Ohms(0.0))),
        (full.excitation_leads(three).output_leads(five), full.output_leads(five).excitation_leads(three)),
        (full.excitation_leads(three).output_leads(five), full.leads(three).output_leads(five)),
        // The last one counts.
        (full.excitation_leads(five).output_leads(five).leads(three), full.leads(three)),
    ] {
        assert_eq!(output(one, 1e-3), output(other, 1e-3), "{one:?} {other:?}");
    }
    assert_ne!(output(full.excitation_leads(three), 1e-3), output(full.leads(three), 1e-3));
    // Without a load, no current flows in the leads to the output.
    let unloaded = Bridge::full_bending(Ohms(OHMS));
    assert_eq!(output(unloaded.excitation_leads(three), 1e-3), output(unloaded.leads(three), 1e-3));
    assert_eq!(full.excitation_leads(three).lead_desensitisation(), 6.0 / OHMS);
    let too_long = full.excitation_leads(Ohms(OHMS + 1.0));
    let three_wire = Bridge::half_bending(Ohms(OHMS), three).excitation_leads(three);
    for (bridge, words) in [
        (too_long, format!("lead resistance (ohm) is {}, allowed: 0 to {OHMS}", OHMS + 1.0)),
        (three_wire, format!("lead resistance (ohm) is missing or not a number, allowed: 0 to {OHMS}")),
    ] {
        assert_eq!(channel(bridge).check().unwrap_err().to_string(), words);
    }
}

/// With arm 2 stated, arms 3 and 4 are solved for the ratio at balance, such that their source resistance stays that of two
/// gauges. A load then makes a divider with that and the source resistance of arms 1 and 2.
#[test]
fn a_solved_reference_half_gives_the_ratio_at_balance_and_keeps_its_source_resistance() {
    let (lead, completion, input) = (3.0, 347.0, 4_000.0);
    for (ratio, reversed) in [(-0.03, false), (0.0, true), (0.011, false), (0.04, true)] {
        let bridge = Bridge::quarter_two_wire(Ohms(OHMS), Ohms(lead))
            .completion(Ohms(completion))
            .input_resistance(Ohms(input));
        let (bridge, sign) = if reversed { (bridge.reversed(), -1.0) } else { (bridge, 1.0) };
        let channel = balanced(bridge, sign * ratio).strain_within(Microstrain(2_000.0));
        let kernel: float::Kernel<f64, 4, 1> = channel.try_float64().unwrap();
        let half = |strain: f64| {
            let arm = OHMS * (1.0 + 2.0 * strain) + 2.0 * lead;
            (arm / (arm + completion), arm * completion / (arm + completion))
        };
        let loaded = |source: f64| input / (input + source + OHMS / 2.0);
        let (divided, source) = half(0.0);
        let reference = divided - ratio / loaded(source);
        for strain in [-1_500e-6, 700e-6] {
            let (divided, source) = half(strain);
            let now = (divided - reference) * loaded(source);
            let code = CONVERTER.code(Ratio(sign * now)).round() as i32;
            let shown = kernel.reading(code, fixed::Temperature::from_celsius(Celsius(20.0)).unwrap());
            // Half a code; there is no thermal output at 20 C.
            let half_code = CONVERTER.ratio(0.5).0 / (0.25 * 2.0 * loaded(source));
            assert!((shown.strain - strain).abs() < 1.1 * half_code, "{ratio}, {strain}: {shown:?}");
        }
    }
}

/// Three leads that warm, the arms apart by ten ohms and the bridge out of balance: the divider of the gauge's arm and
/// arm 2, each with its lead, moves, and looks like the strain that moves it as far with the leads as they were.
#[test]
fn warm_leads_of_unequal_arms_show_what_the_divider_does() {
    let (lead, completion, factor, rise) = (4.0, 340.0, 2.0, 50.0);
    let bridge = Bridge::quarter_three_wire(Ohms(OHMS), Ohms(lead)).completion(Ohms(completion));
    let warm = lead * (1.0 + 0.0039 * rise);
    let divided = |strain: f64, lead: f64| {
        let arm = OHMS * (1.0 + factor * strain) + lead;
        arm / (arm + completion + lead)
    };
    for ratio in [0.0, 0.02] {
        let effect = balanced(bridge, ratio).lead_effect(Celsius(rise)).unwrap();
        let shown = divided(0.0, warm);
        // From the ratio of the arms back to the strain.
        let arm = shown * (completion + lead) / (1.0 - shown);
        let strain = ((arm - lead) / OHMS - 1.0) / factor;
        assert!((effect.indicated.0 - strain).abs() < 1e-12 * strain.abs().max(1e-3), "{effect:?} {strain}");
        let slope = |lead: f64| {
            let (arm, other) = (OHMS + lead, completion + lead);
            other / ((arm + other) * (arm + other))
        };
        assert_abs_diff_eq!(effect.sensitivity, slope(warm) / slope(lead) - 1.0, epsilon = 1e-12);
    }
}

/// The unbalance counts: the same warm leads on a bridge at another ratio, whose arm 2 is solved from it.
#[test]
fn warm_leads_of_a_solved_arm_depend_on_the_ratio_at_balance() {
    let (lead, factor, rise, ratio) = (4.0, 2.0, 50.0, 0.02);
    let bridge = Bridge::quarter_three_wire(Ohms(OHMS), Ohms(lead));
    let effect = balanced(bridge, ratio).lead_effect(Celsius(rise)).unwrap();
    let (arm, h) = (OHMS + lead, 0.5 + ratio);
    let other = arm * (1.0 - h) / h;
    let more = lead * 0.0039 * rise;
    let shown = (arm + more) / (arm + other + 2.0 * more);
    let strain = ((shown * other / (1.0 - shown) - lead) / OHMS - 1.0) / factor;
    assert!((effect.indicated.0 - strain).abs() < 1e-12 * strain.abs(), "{effect:?} {strain}");
}

/// The element in arm 2 is what has to be left, its lead apart: a balance that leaves none, or less than a fiftieth of the
/// gauge, is refused, with the limits of the dividers.
#[test]
fn a_balance_that_leaves_an_arm_without_an_element_is_refused() {
    let bridge = Bridge::half_bending(Ohms(120.0), Ohms(4.0)).reference_half(Ohms(120.0), Ohms(4000.0));
    let Err(Error::Invalid { field: Field::BalanceRatio, low, high, .. }) = wide(bridge, 0.0).check() else {
        panic!("{:?}", wide(bridge, 0.0).check())
    };
    let ratio = |element: f64| 124.0 / (124.0 + element + 4.0) - 4000.0 / 4120.0;
    assert_abs_diff_eq!(high, ratio(0.02 * 120.0), epsilon = 1e-12);
    assert_abs_diff_eq!(low, ratio(50.0 * 120.0), epsilon = 1e-12);
    assert!(wide(bridge, high - 1e-4).check().is_ok());
}

/// Whatever `check` lets pass has resistors in all of its arms: the reference's strain is a number and its code comes back, and
/// the kernels agree.
#[test]
fn what_is_accepted_has_resistors_in_all_arms() {
    let mut random = support::Random(4);
    let (mut accepted, mut refused) = (0, 0);
    for _ in 0..20_000 {
        let gauge = Ohms([1.0, 120.0, 350.0, 1e4][random.between(0, 3) as usize]);
        let lead = Ohms(gauge.0 * random.share().powi(4));
        let mut between = |low: f64, high: f64| Ohms((low * (high / low).powf(random.share())).max(1.0));
        let (completion, upper, lower) = (
            between(gauge.0 / 100.0, gauge.0 * 100.0),
            between(gauge.0 / 50.0, gauge.0 * 50.0),
            between(gauge.0 / 50.0, gauge.0 * 50.0),
        );
        let bridge = match random.between(0, 5) {
            0 => Bridge::quarter_two_wire(gauge, lead),
            1 => Bridge::quarter_three_wire(gauge, lead),
            2 => Bridge::half_bending(gauge, lead),
            3 => Bridge::half_poisson(gauge, lead, 0.3),
            4 => Bridge::full_bending(gauge).leads(lead),
            _ => Bridge::opposite_arms(gauge).leads(lead),
        };
        let bridge = match random.between(0, 3) {
            0 => bridge,
            1 => bridge.completion(completion),
            2 => bridge.reference_half(upper, lower),
            _ => bridge.completion(completion).reference_half(upper, lower),
        };
        let bridge =
            if random.between(0, 1) == 0 { bridge } else { bridge.input_resistance(Ohms(gauge.0.max(1e3))) };
        let bridge = if random.between(0, 1) == 0 { bridge } else { bridge.reversed() };
        let channel = wide(bridge, random.within(0.6));
        if channel.check().is_err() {
            refused += 1;
            continue;
        }
        accepted += 1;
        let model = reference::Model::new(&channel).unwrap();
        let signal = Strain(random.within(0.02));
        let code = model.code_for(signal, Celsius(20.0));
        assert!(code.is_finite(), "{channel:?}");
        let back = model.steps(code, Celsius(20.0)).mechanical.0;
        assert!((back - signal.0).abs() < 1e-9, "{channel:?}: {back} for {signal:?}");
    }
    assert!(accepted > 5_000 && refused > 1_000, "{accepted} accepted, {refused} refused");
}

/// Voltage of one divider less that of the other, over the excitation: leads in both arms of a half bridge, or to the excitation.
fn ratio([one, two, three, four]: [f64; 4], lead: f64, full: bool) -> f64 {
    if full {
        let bridge = 1.0 / (1.0 / (one + two) + 1.0 / (three + four));
        return (one / (one + two) - four / (three + four)) * bridge / (bridge + 2.0 * lead);
    }
    (one + lead) / (one + two + 2.0 * lead) - four / (three + four)
}

/// All gauges of a half or full bridge change by the same factor `1 + tau` with temperature. It cancels exactly where there are no
/// leads, if the gauge factor refers to the unloaded gauge or the free foil. Of one that refers to the resistance at balance
/// `tau` times the strain is left. Leads leave their share of it.
#[test]
fn the_factor_that_gauges_have_in_common_cancels_but_for_the_leads() {
    const POISSON: f64 = 0.3;
    // At 124 C: a thermal output of 300 microstrain in the scale of 2, a gauge factor of 2.1 and 1.2 % more.
    let (celsius, tau, factor) = (Celsius(124.0), 6e-4, 2.1 * 1.012);
    let forced = ForcedStrain::per_degree([0.0, 9.0]);
    let curve = ThermalOutput::celsius([-72.0, 3.0]).between(Celsius(-50.0), Celsius(150.0));
    let gauge = Gauge::new(GaugeFactor(2.1)).gauge_factor_slope(PercentPer100C(1.2)).thermal_output(curve);
    let ohms = Ohms(OHMS);
    let (poisson, bent) = ([Some(1.0), Some(-POISSON)], [Some(1.0), Some(-1.0)]);
    for (half, sees) in [
        (Bridge::half_compensated(ohms, Ohms(0.0)), [Some(1.0), Some(0.0)]),
        (Bridge::half_poisson(ohms, Ohms(0.0), POISSON), poisson),
        (Bridge::half_bending(ohms, Ohms(0.0)), bent),
        (Bridge::full_bending(ohms), bent),
        (Bridge::full_poisson(ohms, POISSON), poisson),
        (Bridge::full_torsion(ohms), bent),
    ] {
        let full =
            matches!(half.circuit(), Circuit::FullBending | Circuit::FullPoisson | Circuit::FullTorsion);
        for (lead, strain) in [(0.0, 3e-3), (7.0, 3e-3), (0.0, -2e-3)] {
            let bridge = if full { half.excitation_leads(Ohms(lead)) } else { half.leads(Ohms(lead)) };
            let seen = |basis, factor: f64| {
                let arm = |sees: Option<f64>| match (sees, basis) {
                    (None, _) => OHMS,
                    (Some(sees), GaugeFactorBasis::AtBalance) => OHMS * (1.0 + tau + factor * sees * strain),
                    (Some(sees), _) => OHMS * (1.0 + tau) * (1.0 + factor * sees * strain),
                };
                let other = if full { sees } else { [None; 2] };
                let arms = [sees[0], sees[1], other[0], other[1]].map(arm);
                let channel = Channel::new(gauge.gauge_factor_basis(basis), bridge, CONVERTER);
                let code = CONVERTER.code(Ratio(ratio(arms, lead, full)));
                reference::Model::new(&channel).unwrap().steps(code, celsius).mechanical.0 / strain - 1.0
            };
            // What the leads' share of the resistance leaves.
            let leads = if full { 2.0 * lead } else { lead };
            let left = leads / (OHMS + leads) * tau;
            for (basis, factor, left) in [
                (GaugeFactorBasis::UnloadedGauge, factor, left),
                (GaugeFactorBasis::FreeFoil(forced), factor / (1.0 + factor * 9e-4), left),
                (GaugeFactorBasis::AtBalance, factor, left - tau),
            ] {
                let seen = seen(basis, factor);
                let allowed = 2e-3 * left.abs() + 1e-12;
                assert!((seen - left).abs() <= allowed, "{bridge:?} {basis:?} {lead}: {seen:e} for {left:e}");
            }
        }
    }
}
