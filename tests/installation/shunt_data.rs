//! Shunt calibration: quarter bridges with a shunt across either arm of the measuring half, at the gauge and at
//! the instrument, solved by exact rational nodal analysis and by the circuit simulator ngspice 39.3
//! (tests/data/shunt_calibration.csv).

use approx::assert_abs_diff_eq;
use gaugewright::channel::Arm;
use gaugewright::error::Field;
use gaugewright::installation::{Fault, Shunt};
use gaugewright::units::*;
use gaugewright::*;
use support::*;

const PER_CODE: f64 = 1.0 / 8.0 / 2_147_483_648.0;

fn channel(row: &Row) -> Channel {
    let ohms = |arm: usize| Ohms(row.number(&format!("r{arm}_ohm")));
    let lead = Ohms(row.number("lead_ohm"));
    let bridge = match row.text("wiring") {
        "2w" => Bridge::quarter_two_wire(ohms(1), lead),
        "3w" => Bridge::quarter_three_wire(ohms(1), lead),
        other => panic!("{other}"),
    };
    let gauge = Gauge::new(GaugeFactor(row.number("gauge_factor")))
        .thermal_output(ThermalOutput::celsius([0.0]).between(Celsius(0.0), Celsius(50.0)));
    Channel::new(
        gauge,
        bridge.completion(ohms(2)).reference_half(ohms(3), ohms(4)),
        Converter::bipolar(32, Ratio(1.0 / 8.0)),
    )
    .balanced(row.number("ratio_ref_exact") / PER_CODE, Celsius(20.0))
}

fn shunt(row: &Row) -> Shunt {
    let ohms = Ohms(row.number("shunt_ohm"));
    match row.text("shunt_at") {
        "gauge" => Shunt::at_gauge(Arm::One, ohms),
        "completion" => Shunt::at_gauge(Arm::Two, ohms),
        "instr_active" => Shunt::at_instrument(Arm::One, ohms),
        "instr_completion" => Shunt::at_instrument(Arm::Two, ohms),
        other => panic!("{other}"),
    }
}

#[test]
fn the_change_of_ratio_is_the_exact_one_and_the_simulators() {
    let rows = data("shunt_calibration");
    assert_eq!(rows.len(), 526);
    let (mut worst, mut worst_simulated) = (0.0f64, 0.0f64);
    for row in &rows {
        let effect = shunt(row).effect(&channel(row)).unwrap();
        let exact = row.number("ratio_exact") - row.number("ratio_ref_exact");
        let off = (effect.ratio.0 - exact).abs();
        worst = worst.max(off);
        assert!(off <= tolerance::NODAL_RATIO, "{}: {off:e}", row.text("case_id"));
        let simulated = row.number("ratio_ngspice") - row.number("ratio_ref_ngspice");
        worst_simulated = worst_simulated.max((effect.ratio.0 - simulated).abs());
        assert_abs_diff_eq!(effect.codes * PER_CODE, effect.ratio.0, epsilon = 1e-18);
    }
    assert!(worst_simulated <= 2.0 * tolerance::SIMULATOR_RATIO, "{worst_simulated:e}");
    println!("shunt: worst {worst:.1e} from exact, {worst_simulated:.1e} from the simulator");
}

/// A circuit with everything stated, from next to no resistance to next to none but it: leads, shunt, input.
#[derive(Clone, Copy, Debug)]
struct Extreme {
    gauge: f64,
    /// Arms 2 to 4; arm 1 is the gauge.
    others: [f64; 3],
    lead: f64,
    /// Leads of a full bridge to the output.
    output: f64,
    input: Option<f64>,
    shunt: f64,
    arm: Arm,
    at_gauge: bool,
    /// Two leads, three leads, full, full and sensed at the corners.
    wiring: usize,
}

impl Extreme {
    fn channel(&self) -> Channel {
        let (gauge, lead) = (Ohms(self.gauge), Ohms(self.lead));
        let bridge = match self.wiring {
            0 => Bridge::quarter_two_wire(gauge, lead),
            1 => Bridge::quarter_three_wire(gauge, lead),
            2 => Bridge::full_bending(gauge).leads(lead).output_leads(Ohms(self.output)),
            _ => Bridge::full_torsion(gauge).leads(lead).output_leads(Ohms(self.output)).remote_sense(),
        };
        let [two, three, four] = self.others.map(Ohms);
        let bridge = bridge.completion(two).reference_half(three, four);
        let package = Gauge::new(GaugeFactor(2.0))
            .thermal_output(ThermalOutput::celsius([0.0]).between(Celsius(0.0), Celsius(50.0)));
        let bridge = self.input.map_or(bridge, |input| bridge.input_resistance(Ohms(input)));
        Channel::new(package, bridge, Converter::bipolar(32, Ratio(1.0))).balanced(0.0, Celsius(20.0))
    }

    /// Nodes: VEX+, VEX-, OUT+, OUT- of the instrument, then top, bottom, left, right of the bridge.
    fn branches(&self) -> Vec<(usize, usize, Option<network::Rational>)> {
        let ohms = |ohms: f64| Some(network::exactly(ohms));
        let (gauge, lead, output) = (self.gauge, self.lead, self.output);
        let [two, three, four] = self.others;
        let (own, other) = [(2.0 * lead, 0.0), (lead, lead), (0.0, 0.0), (0.0, 0.0)][self.wiring];
        let sum = |a: f64, b: f64| Some(network::exactly(a) + network::exactly(b));
        let (excitation, left, right) =
            [(0.0, 0.0, 0.0), (0.0, lead, 0.0), (lead, output, output), (lead, output, output)][self.wiring];
        vec![
            (0, 4, ohms(excitation)),
            (1, 5, ohms(excitation)),
            (6, 5, sum(gauge, own)),
            (4, 6, sum(two, other)),
            (4, 7, ohms(three)),
            (7, 5, ohms(four)),
            (6, 2, ohms(left)),
            (7, 3, ohms(right)),
            (2, 3, self.input.map(network::exactly)),
        ]
    }

    /// The change of ratio that the shunt makes.
    fn exact(&self) -> Option<network::Rational> {
        let mut branches = self.branches();
        let arm = self.arm as usize;
        if self.at_gauge {
            let [two, three, four] = self.others;
            let element = network::exactly([self.gauge, two, three, four][arm]);
            let leads = &branches[2 + arm].2.clone().unwrap() - &element;
            let conductance = network::whole(1) / element + network::whole(1) / network::exactly(self.shunt);
            branches[2 + arm].2 = Some(network::whole(1) / conductance + leads);
        } else {
            let (from, to) = [(2, 1), (0, 2), (0, 3), (3, 1)][arm];
            branches.push((from, to, Some(network::exactly(self.shunt))));
        }
        Some(self.ratio(&branches)? - self.at_rest())
    }

    fn at_rest(&self) -> network::Rational {
        self.ratio(&self.branches()).unwrap()
    }

    fn shunt(&self) -> Shunt {
        let ohms = Ohms(self.shunt);
        if self.at_gauge { Shunt::at_gauge(self.arm, ohms) } else { Shunt::at_instrument(self.arm, ohms) }
    }

    fn ratio(&self, branches: &[(usize, usize, Option<network::Rational>)]) -> Option<network::Rational> {
        let across = network::nodal(branches, (0, 1), (2, 3))?;
        if self.wiring < 3 {
            return Some(across);
        }
        let excitation =
            network::nodal(branches, (0, 1), (4, 5)).filter(|excitation| !excitation.is_zero())?;
        Some(across / excitation)
    }

    fn all() -> impl Iterator<Item = Self> {
        let mut random = Random(77);
        let mut pick = move |of: &[f64]| of[random.between(0, of.len() as i32 - 1) as usize];
        let drawn = (0..1500).map(move |_| {
            let gauge = pick(&[1.0, 120.0, 350.0, 1e4, 1e6]);
            let lead = gauge * pick(&[0.0, 5e-324, 1e-300, 1e-12, 1e-8, 1e-7, 1e-4, 0.01, 1.0]);
            Self {
                gauge,
                others: [gauge; 3],
                lead,
                output: pick(&[lead, gauge]),
                input: Some(pick(&[1e3, 1e5, 1e7, 1e11, 1e13, 1e15, 0.0])).filter(|&input| input > 0.0),
                shunt: gauge.max(10.0) * pick(&[2.0, 30.0, 1e3, 1e5]),
                arm: Arm::ALL[pick(&[0.0, 1.0, 2.0, 3.0]) as usize],
                at_gauge: pick(&[0.0, 1.0]) == 1.0,
                wiring: pick(&[0.0, 1.0, 2.0, 3.0]) as usize,
            }
        });
        // The one in which most was lost before.
        let worst = Self {
            gauge: 1e4,
            others: [1e4; 3],
            lead: 1e-4,
            output: 1e-4,
            input: None,
            shunt: 1e7,
            arm: Arm::One,
            at_gauge: false,
            wiring: 1,
        };
        drawn.chain((0..4).map(move |wiring| Self { wiring, ..worst })).chain(Self::anywhere())
    }

    /// Every number anywhere in its range, by its logarithm.
    fn anywhere() -> impl Iterator<Item = Self> {
        let mut random = Random(14);
        (0..4000).map(move |_| {
            let mut between = |low: f64, high: f64| low * (high / low).powf(random.share());
            let gauge = between(1.0, 1e6);
            Self {
                gauge,
                others: [between(1.0, 1e6), between(1.0, 1e7), between(1.0, 1e7)],
                lead: between(1e-12, gauge),
                output: between(1e-12, gauge),
                input: Some(between(1e3, 1e15)).filter(|_| random.share() < 0.8),
                shunt: 10f64 * 1e8f64.powf(random.share()),
                arm: Arm::ALL[random.between(0, 3) as usize],
                at_gauge: random.share() < 0.3,
                wiring: random.between(0, 3) as usize,
            }
        })
    }
}

/// Leads of no more than 1e-4 ohm, or inputs of 1e11 ohm and more, cost a network's solution no digits.
#[test]
fn conductances_many_decades_apart_cost_no_digits() {
    let (mut seen, mut worst) = (0, 0.0f64);
    for extreme in Extreme::all() {
        // A shunt may be refused: no change of a gauge reads like it.
        let Ok(effect) = extreme.shunt().effect(&extreme.channel()) else { continue };
        seen += 1;
        let off = (effect.ratio.0 - extreme.exact().unwrap().to_f64().value()).abs();
        worst = worst.max(off);
        assert!(off <= tolerance::NODAL_RATIO, "{extreme:?}: {off:e}");
    }
    assert!(seen > 1000, "{seen}");
    println!("{seen} shunts: worst {worst:.1e} V/V from exact");
}

/// What each broken wire reads is what the nodes give.
#[test]
fn a_broken_wire_beside_any_input_reads_what_the_nodes_give() {
    let mut seen = 0;
    for extreme in Extreme::all() {
        let channel = extreme.channel();
        // Two leads as long as the gauge put the bridge out of the converter's range.
        let Ok(said) = channel.diagnose(0, Percent(1.0)) else { continue };
        for finding in said.findings() {
            let broken = match finding.fault {
                Fault::OutputLeadBroken => 6,
                Fault::ExcitationLeadBroken => 0,
                Fault::ArmLeadBroken(Arm::One) => 2,
                Fault::ArmLeadBroken(Arm::Two) => 3,
                _ => continue,
            };
            let mut branches = extreme.branches();
            branches[broken].2 = None;
            // Balanced at code 0: what the stated resistors give is the converter's offset, turned.
            let exact = extreme.ratio(&branches).map(|ratio| (ratio - extreme.at_rest()).to_f64().value());
            let predicted = finding.predicted.map(|ratio| ratio.0);
            seen += 1;
            match (exact, predicted) {
                (Some(exact), Some(predicted)) => assert!(
                    (exact - predicted).abs() <= tolerance::NODAL_RATIO,
                    "{extreme:?} {finding:?}: {exact}"
                ),
                (None, None) => {}
                other => panic!("{extreme:?} {finding:?}: {other:?}"),
            }
        }
    }
    assert!(seen > 2000, "{seen}");
}

/// A kernel of the channel shows the shunt as the indicated strain that was expected.
#[test]
fn a_kernel_shows_the_expected_strain() {
    let mut seen = 0;
    for row in &data("shunt_calibration") {
        let channel = channel(row);
        let effect = shunt(row).effect(&channel).unwrap();
        let narrow = channel
            .correction(Correction::None)
            .strain_within(Microstrain(effect.indicated.microstrain().0.abs() + 100.0));
        let Ok(kernel) = narrow.try_fixed::<4, 1, 0>() else { continue };
        seen += 1;
        let code = (row.number("ratio_exact") / PER_CODE).round() as i32;
        let t = fixed::Temperature::from_bits(20 << 20);
        let strain = kernel.reading(code, t).checked().unwrap().strain().0;
        // Half a code of this converter is up to 0.2 nanostrain.
        let allowed = kernel.error_bound().reading.total.0 + 0.25;
        let off = (strain - effect.indicated.0) * 1e9;
        assert!(off.abs() <= allowed, "{}: {off}", row.text("case_id"));
    }
    assert!(seen > 480, "{seen}");
}

/// The resistor that simulates a strain, put in, simulates it.
#[test]
fn the_reverse_finds_the_shunt() {
    for row in data("shunt_calibration").iter().step_by(7) {
        let channel = channel(row);
        let effect = shunt(row).effect(&channel).unwrap();
        let (arm, at_gauge) = match row.text("shunt_at") {
            "gauge" => (Arm::One, true),
            "completion" => (Arm::Two, true),
            "instr_active" => (Arm::One, false),
            _ => (Arm::Two, false),
        };
        let ohms = Shunt::resistance_for(&channel, arm, at_gauge, effect.indicated).unwrap();
        let expected = row.number("shunt_ohm");
        assert!((ohms.0 / expected - 1.0).abs() < 1e-7, "{}: {ohms} for {expected}", row.text("case_id"));
        let wrong = Shunt::resistance_for(&channel, arm, at_gauge, Strain(-effect.indicated.0));
        let Err(Error::Invalid { field: Field::SimulatedStrain, value, low, high }) = wrong else {
            panic!("{wrong:?}")
        };
        let micro = effect.indicated.0 * 1e6;
        assert!(value == -micro && (low..=high).contains(&micro) && !(low..=high).contains(&value));
    }
}

fn plain(bridge: Bridge) -> Channel {
    let gauge = Gauge::new(GaugeFactor(2.0))
        .thermal_output(ThermalOutput::celsius([0.0]).between(Celsius(0.0), Celsius(50.0)));
    Channel::new(gauge, bridge, Converter::bipolar(24, Ratio(1.0 / 64.0)))
}

/// Simulated strain `-R / (F (R + R_s))` of a gauge shunted at its own terminals: from the definition of gauge
/// factor and two resistors in parallel.
#[test]
fn a_shunt_at_the_gauge_by_hand() {
    for (ohms, shunt) in [(120.0, 59_880.0), (350.0, 174_650.0), (1000.0, 100_000.0), (350.0, 8_750.0)] {
        let channel = plain(Bridge::quarter_ideal(Ohms(ohms)));
        let effect = Shunt::at_gauge(Arm::One, Ohms(shunt)).effect(&channel).unwrap();
        let expected = -ohms / (2.0 * (ohms + shunt));
        assert!((effect.indicated.0 - expected).abs() < 1e-14, "{} for {expected}", effect.indicated);
        // Of a gauge that is strained, on an instrument of another gauge factor.
        for factor in [1.6, 2.0, 2.5] {
            let channel = channel.instrument_gauge_factor(GaugeFactor(factor));
            for strain in [1e-3, -4e-3] {
                let shown =
                    Shunt::at_gauge(Arm::One, Ohms(shunt)).effect_at(&channel, Strain(strain)).unwrap();
                let arm = ohms * (1.0 + factor * strain);
                let expected = -arm * arm / (arm + shunt) / ohms / factor;
                assert!((shown.indicated.0 - expected).abs() < 1e-14, "{} for {expected}", shown.indicated);
            }
        }
    }
}

#[test]
fn tolerance_leads_and_span() {
    let shunt = Shunt::at_instrument(Arm::Two, Ohms(100_000.0)).tolerance(Percent(0.1));
    let channel = plain(Bridge::quarter_three_wire(Ohms(350.0), Ohms(3.5)));
    let effect = shunt.effect(&channel).unwrap();
    // A tenth of a percent of the resistor is a tenth of a percent of the effect.
    assert_abs_diff_eq!(effect.uncertainty.0 / effect.indicated.0, 0.001, epsilon = 5e-6);
    assert_eq!(effect.lead_desensitisation, 0.01);

    // A converter that shows 1.5 % too little; the span that the shunt finds puts the strain right.
    let gain = 0.985;
    let span = shunt.span(&channel, effect.codes * gain, Percent(2.0)).unwrap();
    let t = fixed::Temperature::from_bits(20 << 20);
    let ideal: fixed::Kernel = channel.strain_within(Microstrain(5_000.0)).fixed();
    let corrected: fixed::Kernel = channel.span_correction(span).strain_within(Microstrain(5_000.0)).fixed();
    for code in [-1_000_000, 250_000, 1_000_000] {
        let shown = (f64::from(code) * gain).round() as i32;
        let off = corrected.reading(shown, t).strain.to_bits() - ideal.reading(code, t).strain.to_bits();
        // Half a code.
        assert!(off.abs() < 40, "{off}");
    }
    // Off by more than the limit, and the wrong way round.
    for observed in [effect.codes * 0.9, effect.codes * 1.1, -effect.codes, 0.0, f64::NAN] {
        let refused = shunt.span(&channel, observed, Percent(2.0));
        assert!(matches!(refused, Err(Error::Invalid { field: Field::SpanCorrection, .. })), "{refused:?}");
    }
    // However wide the limit that is asked for.
    for limit in [300.0, 21.0, -1.0, f64::NAN] {
        let refused = shunt.span(&channel, effect.codes, Percent(limit));
        assert!(matches!(refused, Err(Error::Invalid { field: Field::SpanLimit, .. })), "{refused:?}");
    }
    // A channel that has been corrected gives the whole correction again, not the rest of it.
    let again = shunt.span(&channel.span_correction(1.02), effect.codes * gain, Percent(2.0)).unwrap();
    assert_abs_diff_eq!(again, span, epsilon = 1e-12);
    for strain in [f64::NAN, f64::INFINITY, 0.2] {
        let refused = shunt.effect_at(&channel, Strain(strain));
        assert!(matches!(refused, Err(Error::Invalid { field: Field::SimulatedStrain, .. })), "{refused:?}");
    }
    // On an instrument of a factor of ten, a signal of 0.95 is 95 000 microstrain.
    let of_ten = channel.instrument_gauge_factor(GaugeFactor(10.0));
    assert!(shunt.effect_at(&of_ten, Strain(-0.0949)).is_ok());
    let refused = shunt.effect_at(&of_ten, Strain(-0.0951));
    assert!(matches!(refused, Err(Error::Invalid { field: Field::SimulatedStrain, high: 95_000.0, .. })));
    for bad in [0.5, 1.3, f64::NAN] {
        let refused = channel.span_correction(bad).check();
        assert!(matches!(refused, Err(Error::Invalid { field: Field::SpanCorrection, .. })));
    }
    for bad in [0.0, -5.0, f64::NAN, 1e12] {
        let refused = Shunt::at_gauge(Arm::One, Ohms(bad)).effect(&channel);
        assert!(matches!(refused, Err(Error::Invalid { field: Field::ShuntResistance, .. })));
    }
    let refused = shunt.tolerance(Percent(50.0)).effect(&channel);
    assert!(matches!(refused, Err(Error::Invalid { field: Field::ShuntTolerance, .. })));
    let readings = Channel::from_readings(
        Gauge::new(GaugeFactor(2.0))
            .thermal_output(ThermalOutput::celsius([0.0]).between(Celsius(0.0), Celsius(50.0))),
        Instrument::showing(Microstrain(1.0), GaugeFactor(2.0)),
    );
    for error in [
        shunt.effect(&readings).map(drop),
        Shunt::resistance_for(&readings, Arm::One, true, Strain(-1e-3)).map(drop),
        readings.diagnose(0, Percent(1.0)).map(drop),
        readings.lead_effect(Celsius(1.0)).map(drop),
    ] {
        assert!(matches!(error, Err(Error::Invalid { field: Field::Bridge, .. })), "{error:?}");
    }
}

/// Arms 1 and 3 are compression, 2 and 4 tension, in every circuit; a reversed bridge turns the ratio and not
/// the strain.
#[test]
fn every_circuit_and_arm_has_its_sign() {
    for bridge in bridges() {
        for reversed in [false, true] {
            let bridge = if reversed { bridge.reversed() } else { bridge };
            let channel = circuit(bridge);
            for at_gauge in [true, false] {
                for arm in Arm::ALL {
                    let ohms = Ohms(200_000.0);
                    let shunt =
                        if at_gauge { Shunt::at_gauge(arm, ohms) } else { Shunt::at_instrument(arm, ohms) };
                    let effect = shunt.effect(&channel).unwrap();
                    let tension = matches!(arm, Arm::Two | Arm::Four);
                    assert_eq!(effect.indicated.0 > 0.0, tension, "{bridge:?} {arm:?}");
                    // About R / R_s over what the circuit makes of one arm.
                    assert!((200e-6..1_000e-6).contains(&effect.indicated.0.abs()), "{effect:?}");
                }
            }
        }
    }
}

/// A shunt across arm 2 so small that the gauge would have to grow beyond all measure: the refusal names the smallest that
/// can be read, and that one can.
#[test]
fn a_shunt_beyond_what_a_gauge_can_read_is_refused_with_the_smallest() {
    let gauge = Gauge::new(GaugeFactor(2.0))
        .thermal_output(ThermalOutput::celsius([0.0]).between(Celsius(0.0), Celsius(50.0)));
    let bridge = Bridge::quarter_ideal(Ohms(350.0));
    let channel = Channel::new(gauge, bridge, Converter::bipolar(24, Ratio(1.0 / 64.0)));
    let shunt = |ohms: f64| Shunt::at_gauge(Arm::Two, Ohms(ohms)).tolerance(Percent(0.1)).effect(&channel);
    let Err(Error::Invalid { field: Field::ShuntResistance, value, low, high }) = shunt(10.0) else {
        panic!("{:?}", shunt(10.0))
    };
    assert!((value, high) == (10.0, 1e9) && low > 10.0);
    assert!(shunt(low).is_ok() && shunt(low * 0.999).is_err());
    // It would leave arm 2 less than an eleventh of the gauge: 10 is the most that a signal is followed to.
    let left = 1.0 / (1.0 / 350.0 + 1.0 / (low * 0.999));
    assert!((left / 350.0 - 1.0 / 11.0).abs() < 1e-6, "{left}");
    // The search for a resistor ends where resistors can be read: an arm of twenty times the gauge on which the gauge's own resistance
    // is too much of a shunt. Across it `R_2 / (F e)` simulates a strain, up to the ten that a signal is followed to.
    let channel = Channel::new(gauge, bridge.completion(Ohms(7_000.0)), Converter::bipolar(24, Ratio(1.0)));
    let find = |strain: f64| Shunt::resistance_for(&channel, Arm::Two, true, Strain(strain));
    for strain in [1e-3, 0.1, 4.9] {
        assert!((find(strain).unwrap().0 / (3_500.0 / strain) - 1.0).abs() < 1e-9, "{strain}");
    }
    let Err(Error::Invalid { field: Field::SimulatedStrain, value, low, high }) = find(5.1) else {
        panic!("{:?}", find(5.1))
    };
    assert!(value == 5.1e6 && low.abs() < 10.0 && (high / 5e6 - 1.0).abs() < 1e-6, "{low} {high}");
}

/// A lead of next to nothing is none, as far down as numbers go: it must not drown the shunt beside it.
#[test]
fn next_to_no_lead_is_no_lead() {
    let gauge = Gauge::new(GaugeFactor(2.0))
        .thermal_output(ThermalOutput::celsius([0.0]).between(Celsius(0.0), Celsius(50.0)));
    let effect = |lead: f64| {
        let bridge = Bridge::full_bending(Ohms(350.0)).leads(Ohms(lead));
        let channel = Channel::new(gauge, bridge, Converter::bipolar(24, Ratio(1.0 / 64.0)));
        Shunt::at_instrument(Arm::One, Ohms(1e5)).effect(&channel).unwrap().indicated.0
    };
    for lead in [1e-6, 1e-9, 1e-12, 1e-100, 5e-324] {
        assert!(
            (effect(lead) / effect(0.0) - 1.0).abs() < 2e-7,
            "{lead}: {}",
            effect(lead) / effect(0.0) - 1.0
        );
    }
}
