//! Checks of wiring and shunt in integers: against the faults put into a network that is solved in exact rationals, against what a
//! shunt does by the reference, and what is refused.

use gaugewright::channel::Arm;
use gaugewright::error::Field;
use gaugewright::fixed::{MeanCode, Span};
use gaugewright::installation::{CodeInterval, Fault, Shunt, ShuntCheck, Verdict, WiringCheck};
use gaugewright::units::*;
use gaugewright::*;
use support::*;

/// A channel whose resistors are all known here, and are or are not stated.
struct Drawn {
    bridge: Bridge,
    circuit: usize,
    bits: u32,
    full_scale: f64,
    span: f64,
    /// Ohms of the four arms, leads apart.
    elements: [f64; 4],
    lead: f64,
    output: f64,
    input: Option<f64>,
    reversed: bool,
    sensed: bool,
    /// Of the converter.
    offset: f64,
}

const CIRCUITS: usize = 10;
const GAUGES: [&[Arm]; CIRCUITS] = [
    &[Arm::One],
    &[Arm::One],
    &[Arm::One],
    &[Arm::One, Arm::Two],
    &[Arm::One, Arm::Two],
    &[Arm::One, Arm::Two],
    &Arm::ALL,
    &Arm::ALL,
    &Arm::ALL,
    &[Arm::One, Arm::Three],
];

impl Drawn {
    fn new(random: &mut Random, number: usize) -> Self {
        let circuit = number % CIRCUITS;
        let gauge = 100.0 + 900.0 * random.share();
        let lead = gauge * [0.0, 0.005, 0.05][number / 10 % 3] * random.share();
        let ohms = Ohms(gauge);
        let plain = match circuit {
            0 => Bridge::quarter_ideal(ohms),
            1 => Bridge::quarter_two_wire(ohms, Ohms(lead)),
            2 => Bridge::quarter_three_wire(ohms, Ohms(lead)),
            3 => Bridge::half_compensated(ohms, Ohms(lead)),
            4 => Bridge::half_poisson(ohms, Ohms(lead), 0.3),
            5 => Bridge::half_bending(ohms, Ohms(lead)),
            6 => Bridge::full_bending(ohms).leads(Ohms(lead)),
            7 => Bridge::full_poisson(ohms, 0.3).leads(Ohms(lead)),
            8 => Bridge::full_torsion(ohms).leads(Ohms(lead)),
            _ => Bridge::opposite_arms(ohms).leads(Ohms(lead)),
        };
        let lead = if circuit == 0 { 0.0 } else { lead };
        let mut bridge = plain;
        let input = (random.share() < 0.5).then(|| 10f64.powf(3.0 + 5.0 * random.share()));
        if let Some(input) = input {
            bridge = bridge.input_resistance(Ohms(input));
        }
        let sensed = circuit >= 6 && random.share() < 0.3;
        if sensed {
            bridge = bridge.remote_sense();
        }
        let output = if circuit >= 6 && random.share() < 0.3 { 3.0 * lead } else { lead };
        if output != lead {
            bridge = bridge.output_leads(Ohms(output));
        }
        let reversed = random.share() < 0.3;
        if reversed {
            bridge = bridge.reversed();
        }
        // Of some, arms far from equal.
        let most = [0.0, 1e-3, 0.02, 0.2][number / 30 % 4];
        let near = |random: &mut Random| gauge * (1.0 + random.within(most));
        let stated = random.between(0, 2);
        let (mut elements, mut offset) = ([gauge; 4], 0.0);
        elements[1] = near(random);
        if stated == 1 {
            bridge = bridge.completion(Ohms(elements[1]));
            let h = 0.5 + random.within(most / 4.0);
            elements[2] = gauge / 2.0 / h;
            elements[3] = gauge / 2.0 / (1.0 - h);
        }
        if stated == 2 {
            (elements[2], elements[3]) = (near(random), near(random));
            bridge =
                bridge.completion(Ohms(elements[1])).reference_half(Ohms(elements[2]), Ohms(elements[3]));
            offset = random.within(1e-3);
        }
        let bits = random.between(8, 32) as u32;
        let full_scale = 0.5f64.powi(random.between(0, 10));
        let span = 0.8 + 0.45 * random.share();
        Self {
            bridge,
            circuit,
            bits,
            full_scale,
            span,
            elements,
            lead,
            output,
            input,
            reversed,
            sensed,
            offset,
        }
    }

    fn per_code(&self) -> f64 {
        self.full_scale / f64::from(1u32 << (self.bits - 1)) * self.span
    }

    fn balance(&self) -> f64 {
        self.ratio(self.elements.map(Some), None).unwrap()
    }

    fn channel(&self) -> Channel {
        let gauge = Gauge::new(GaugeFactor(2.0))
            .thermal_output(ThermalOutput::celsius([0.0]).between(Celsius(0.0), Celsius(50.0)));
        Channel::new(gauge, self.bridge, Converter::bipolar(self.bits, Ratio(self.full_scale)))
            .span_correction(self.span)
            .balanced(self.balance() / self.per_code(), Celsius(20.0))
            .strain_within(Microstrain(50.0))
    }

    /// As the converter sees it, of arms that may be open and with a conductor cut (its place in the branches).
    fn ratio(&self, elements: [Option<f64>; 4], cut: Option<usize>) -> Option<f64> {
        let exactly = network::exactly;
        let twice = exactly(self.lead) * network::whole(2);
        let zero = network::Rational::ZERO;
        let lead = exactly(self.lead);
        let full = self.circuit >= 6;
        let (own, other) = match self.circuit {
            1 => (twice, zero.clone()),
            2..=5 => (lead.clone(), lead),
            _ => (zero.clone(), zero),
        };
        let arm = |k: usize, lead: network::Rational| elements[k].map(|ohms| exactly(ohms) + lead);
        let left = if self.circuit == 1 { 0.0 } else { self.output };
        let excitation = if full { self.lead } else { 0.0 };
        let mut branches = vec![
            (0, 4, Some(exactly(excitation))),
            (1, 5, Some(exactly(excitation))),
            (6, 5, arm(0, own)),
            (4, 6, arm(1, other)),
            (4, 7, arm(2, network::Rational::ZERO)),
            (7, 5, arm(3, network::Rational::ZERO)),
            (6, 2, Some(exactly(left))),
            (7, 3, Some(exactly(if full { self.output } else { 0.0 }))),
            (2, 3, self.input.map(exactly)),
        ];
        if let Some(cut) = cut {
            branches[cut].2 = None;
        }
        let mut ratio = network::nodal(&branches, (0, 1), (2, 3))?;
        if self.sensed {
            let corners = network::nodal(&branches, (0, 1), (4, 5)).filter(|volts| !volts.is_zero())?;
            ratio /= corners;
        }
        let ratio = ratio.to_f64().value();
        Some(self.offset + if self.reversed { -ratio } else { ratio })
    }

    /// Every fault, the ratio that it gives, and how far from it a reading may be.
    fn faults(&self, tolerance: f64) -> Vec<(Fault, Option<f64>, f64)> {
        let own = self.elements.map(Some);
        let with = |arm: Arm, element: Option<f64>| {
            let mut elements = own;
            elements[arm as usize] = element;
            self.ratio(elements, None)
        };
        let mut all = Vec::new();
        for &arm in GAUGES[self.circuit] {
            all.push((Fault::ArmOpen(arm), with(arm, None), tolerance));
            all.push((Fault::ArmShorted(arm), with(arm, Some(0.0)), tolerance));
        }
        let nothing = (16.0 * self.per_code()).max(2e-6);
        let wires: &[(Fault, usize, f64)] = match self.circuit {
            1 => &[(Fault::ArmLeadBroken(Arm::One), 2, tolerance)],
            0..=5 => &[
                (Fault::ArmLeadBroken(Arm::One), 2, tolerance),
                (Fault::ArmLeadBroken(Arm::Two), 3, tolerance),
                (Fault::OutputLeadBroken, 6, nothing),
            ],
            _ => &[(Fault::ExcitationLeadBroken, 0, nothing), (Fault::OutputLeadBroken, 6, nothing)],
        };
        all.extend(wires.iter().map(|&(fault, cut, spread)| (fault, self.ratio(own, Some(cut)), spread)));
        let balance = self.balance();
        let exchanged = 2.0 * self.offset - balance;
        let tells = (exchanged - balance).abs() > 2.0 * tolerance;
        all.push((Fault::Reversed, tells.then_some(exchanged), tolerance));
        all
    }

    /// Whether the bridge is out of balance enough to tell its polarity is no matter of rounding.
    fn polarity_is_clear(&self, tolerance: f64) -> bool {
        ((2.0 * (self.offset - self.balance())).abs() - 2.0 * tolerance).abs() > ROUNDING
    }
}

/// Whether a code reads like a ratio, and by how much it does or does not, in V/V.
fn reads_like(code: i32, (low, high): (i32, i32), per_code: f64, ratio: f64, spread: f64) -> (bool, f64) {
    let room = if code <= low {
        f64::from(low) * per_code - (ratio - spread)
    } else if code >= high {
        ratio + spread - f64::from(high) * per_code
    } else {
        spread - (ratio - f64::from(code) * per_code).abs()
    };
    (room >= 0.0, room.abs())
}

/// Rounding of the ends, in V/V: that of the solution and of a ratio up to 1.
const ROUNDING: f64 = 2.0 * tolerance::NODAL_RATIO;

/// How many verdicts there were and how many of them differ from those of the network, for resistors that the check takes to be within
/// `tolerance` and the network within `other`.
fn compare(tolerance: f64, other: f64, channels: usize) -> (usize, usize) {
    let mut random = Random(41);
    let (mut seen, mut apart, mut undecided, mut taken) = (0, 0, 0, 0);
    for number in 0..channels {
        let drawn = Drawn::new(&mut random, number);
        let channel = drawn.channel();
        // Balanced beyond the rails.
        let Ok(check) = channel.try_wiring_check(Percent(tolerance * 100.0)) else { continue };
        if !drawn.polarity_is_clear(other) {
            continue;
        }
        taken += 1;
        let rails = Converter::bipolar(drawn.bits, Ratio(drawn.full_scale)).rails();
        let (faults, balance) = (drawn.faults(other), drawn.balance());
        let intervals: Vec<_> = check.faults().collect();
        assert!(faults.iter().map(|of| of.0).eq(intervals.iter().map(|of| of.0)), "{faults:?} {intervals:?}");
        // Both sides of every end, the rails and beyond, and any.
        let mut codes = vec![i32::MIN, rails.0, rails.0 + 1, rails.1 - 1, rails.1, i32::MAX, 0];
        for interval in intervals.iter().filter_map(|of| of.1).chain([check.healthy()]) {
            for end in [interval.lowest, interval.highest] {
                codes.extend([end.saturating_sub(1), end, end.saturating_add(1)]);
            }
        }
        codes.extend((0..100).map(|_| random.between(rails.0, rails.1)));
        for code in codes {
            let report = check.report(code.into()).unwrap();
            assert_eq!(report.at_rail, code <= rails.0 || code >= rails.1);
            for ((_, ratio, spread), (fault, verdict)) in faults.iter().zip(report.verdicts()) {
                seen += 1;
                let expected = match ratio {
                    None => Verdict::Inconclusive,
                    Some(ratio) => {
                        let (like, room) = reads_like(code, rails, drawn.per_code(), *ratio, *spread);
                        if room <= ROUNDING {
                            undecided += 1;
                            continue;
                        }
                        if like { Verdict::Consistent } else { Verdict::Excluded }
                    }
                };
                if verdict != expected {
                    assert_ne!(
                        tolerance, other,
                        "{number}: {fault} at {code} is {verdict:?}, by the network {expected:?}"
                    );
                    apart += 1;
                }
            }
            let (healthy, room) = reads_like(code, rails, drawn.per_code(), balance, other);
            if room > ROUNDING && report.healthy != (healthy && !report.at_rail) {
                assert_ne!(tolerance, other, "{number}: {code} is healthy: {}", report.healthy);
                apart += 1;
            }
        }
        // Diagnosed in double precision, with the ratios behind.
        let code = random.between(rails.0, rails.1);
        let diagnosis = channel.diagnose(code, Percent(tolerance * 100.0)).unwrap();
        let report = check.report(code.into()).unwrap();
        assert_eq!((diagnosis.healthy, diagnosis.at_rail), (report.healthy, report.at_rail));
        assert!(diagnosis.findings().map(|of| (of.fault, of.verdict)).eq(report.verdicts()));
        for (finding, (_, ratio, _)) in diagnosis.findings().zip(&faults) {
            match (finding.predicted, ratio) {
                (Some(predicted), Some(ratio)) => {
                    assert!(
                        (predicted.0 - ratio).abs() <= tolerance::NODAL_RATIO,
                        "{number}: {finding:?} {ratio}"
                    );
                }
                (None, None) => {}
                _ if tolerance != other => {}
                _ => panic!("{number}: {finding:?} {ratio:?}"),
            }
        }
    }
    println!("{taken} channels, {seen} verdicts, {apart} differ, {undecided} within rounding");
    assert!(taken * 2 > channels && undecided * 100 < seen, "{taken} {undecided} of {seen}");
    (seen, apart)
}

#[test]
fn verdicts_are_those_of_faults_put_into_the_network() {
    let seen: usize = [(0.0, 600), (1e-3, 1200), (0.01, 1200), (0.2, 600)]
        .map(|(tolerance, channels)| compare(tolerance, tolerance, channels).0)
        .iter()
        .sum();
    assert!(seen > 2_000_000, "{seen}");
}

/// A tolerance that is off by a hundredth of itself is seen.
#[test]
fn a_planted_tolerance_is_seen() {
    let (seen, apart) = compare(0.01, 0.0101, 100);
    assert!(apart > 100, "{apart} of {seen}");
}

/// A mean between two codes reads like both where both read alike; equal codes read as each does.
#[test]
fn means_lie_between_codes() {
    let mut random = Random(5);
    let mut split = 0;
    for number in 0..300 {
        let drawn = Drawn::new(&mut random, number);
        let Ok(check) = drawn.channel().try_wiring_check(Percent(0.3)) else { continue };
        let (low, high) = Converter::bipolar(drawn.bits, Ratio(drawn.full_scale)).rails();
        let ends = check.faults().filter_map(|of| of.1).flat_map(|of| [of.lowest, of.highest]);
        let ends: Vec<i32> = ends.filter(|end| (low + 1..high - 1).contains(end)).collect();
        let any = random.between(low + 1, high - 2);
        for code in ends.into_iter().chain([any]) {
            let at = |sum: i64, count: u32| check.report(MeanCode { sum, count }).unwrap();
            for count in [1u32, 3, 65_536] {
                let sum = i64::from(code) * i64::from(count);
                assert_eq!(at(sum, count), at(code.into(), 1));
                let below = at(code.into(), 1);
                let above = at(i64::from(code) + 1, 1);
                if count == 1 || above.at_rail {
                    continue;
                }
                for part in [1, i64::from(count) - 1] {
                    let between = at(sum + part, count);
                    let both = below.verdicts().zip(above.verdicts());
                    for ((fault, verdict), ((_, one), (_, other))) in between.verdicts().zip(both) {
                        let inside = if one == other { one } else { Verdict::Excluded };
                        split += usize::from(one != other);
                        assert_eq!(verdict, inside, "{fault} between {code} and the next");
                    }
                }
            }
        }
    }
    assert!(split > 500, "{split}");
}

/// The largest sums and counts that there are.
#[test]
fn any_sum_is_sorted_and_any_count_is_checked() {
    static CHECK: WiringCheck = example::STRUT.wiring_check(Percent(1.0));
    static SHUNT: ShuntCheck =
        Shunt::at_gauge(Arm::One, Ohms(100_000.0)).code_check(&example::STRUT, (Span::ONE, Span::ONE));
    for sum in [i64::MIN, i64::MAX] {
        for count in [1, 65_536] {
            let report = CHECK.report(MeanCode { sum, count }).unwrap();
            assert_eq!(report, CHECK.report(if sum < 0 { i32::MIN } else { i32::MAX }.into()).unwrap());
            let field = |result: Result<Span, Error>| match result {
                Err(Error::Invalid { field, .. }) => field,
                other => panic!("{other:?}"),
            };
            let mean = MeanCode { sum, count };
            assert_eq!(field(SHUNT.span(mean, 0.into())), Field::BalanceCode);
            assert_eq!(field(SHUNT.span(0.into(), mean)), Field::ShuntCode);
        }
    }
    for count in [0, 65_537, u32::MAX] {
        let mean = MeanCode { sum: 0, count };
        let refused =
            Error::Invalid { field: Field::CodesInMean, value: f64::from(count), low: 1.0, high: 65_536.0 };
        assert_eq!(CHECK.report(mean), Err(refused));
        assert_eq!(SHUNT.span(mean, 0.into()), Err(refused));
        assert_eq!(SHUNT.span(0.into(), mean), Err(refused));
    }
}

/// The ends of the interval are those of the reference to one code, and the span is expected over observed change.
#[test]
fn a_shunt_changes_the_code_as_the_reference_has_it() {
    let mut random = Random(23);
    let (mut seen, mut worst) = (0, 0.0f64);
    for number in 0..6000 {
        let drawn = Drawn::new(&mut random, number);
        let arm = Arm::ALL[random.between(0, 3) as usize];
        let ohms = 1e3 * 1e3f64.powf(random.share());
        let within = [0.0, 1e-3, 0.01, 0.05][number / 7 % 4];
        let of = |ohms: f64| {
            if number % 2 == 0 {
                Shunt::at_gauge(arm, Ohms(ohms))
            } else {
                Shunt::at_instrument(arm, Ohms(ohms))
            }
        };
        let low = 0.9 + 0.1 * random.share();
        let spans = (Span::from_ratio(low), Span::from_ratio(low + 0.2 * random.share()));
        let channel = drawn.channel();
        let Ok(check) = of(ohms).tolerance(Percent(within * 100.0)).try_code_check(&channel, spans) else {
            continue;
        };
        // Its balance code as it is, and a span of 1.
        let channel = channel.span_correction(1.0);
        let effect = |ohms: f64| of(ohms).effect(&channel).map(|effect| effect.codes);
        let (Ok(expected), Ok(weak), Ok(strong)) =
            (effect(ohms), effect(ohms * (1.0 + within)), effect(ohms * (1.0 - within)))
        else {
            continue;
        };
        seen += 1;
        let (near, far) = (weak / spans.1.ratio(), strong / spans.0.ratio());
        let (low, high) = if expected < 0.0 { (far, near) } else { (near, far) };
        let CodeInterval { lowest, highest } = check.change();
        let step = drawn.per_code() / drawn.span;
        let rounding = 1.25 * ROUNDING / step;
        let (below, above) = (low - f64::from(lowest), f64::from(highest) - high);
        for off in [below, above] {
            assert!(
                off >= -rounding && off < 1.0 + rounding,
                "{number}: {low} to {high}, {:?}",
                check.change()
            );
        }
        let rails = Converter::bipolar(drawn.bits, Ratio(drawn.full_scale)).rails();
        let balance = drawn.balance() / drawn.per_code();
        for _ in 0..20 {
            let count = 1 << random.between(0, 16);
            let without = MeanCode { sum: (balance * f64::from(count)).round() as i64, count };
            let change = (low + (high - low) * random.share()) * f64::from(count);
            let with = MeanCode { sum: without.sum + change.round() as i64, count };
            let inside = |mean: MeanCode| {
                mean.sum > i64::from(rails.0) * i64::from(count)
                    && mean.sum < i64::from(rails.1) * i64::from(count)
            };
            if !inside(without) || !inside(with) {
                continue;
            }
            let observed = (with.sum - without.sum) as f64 / f64::from(count);
            let span = expected / observed;
            if !(0.8001..1.2499).contains(&span) || (observed - observed.clamp(low, high)).abs() > 0.5 {
                continue;
            }
            let found = check.span(without, with).unwrap().ratio();
            // A step of the span, the expected change's rounding and the two means', where they have more digits.
            let rounded = if count <= 1 << 14 { 0.5 } else { 1.5 * span };
            let allowed = 0.5f64.powi(31) + (rounded * 0.5f64.powi(14) + rounding * span) / observed.abs();
            worst = worst.max((found - span).abs() / allowed);
            assert!((found - span).abs() <= allowed, "{number}: {found} for {span}");
            let (least, most) = check.spans();
            assert!((least.ratio()..=most.ratio()).contains(&found), "{number}: {found}");
        }
        // One code beyond either end.
        for change in [lowest - 1, highest + 1] {
            let with = change.checked_add(3).filter(|with| (rails.0 + 1..rails.1).contains(with));
            let (true, Some(with)) = (rails.1 > 3, with) else { continue };
            let refused = check.span(3.into(), with.into());
            let expected = Error::Invalid {
                field: Field::ShuntChange,
                value: f64::from(change),
                low: f64::from(lowest),
                high: f64::from(highest),
            };
            assert_eq!(refused, Err(expected));
        }
    }
    println!("{seen} shunts, {worst:.2} of what rounding allows");
    assert!(seen > 2000 && worst > 0.1, "{seen} {worst}");
}

/// Of a bridge that is balanced elsewhere the change differs as the documentation has it: by four times the difference of the ratios
/// where the shunted arm is off, and by no more than a tenth of that where another is.
#[test]
fn the_expected_change_is_that_of_one_balance() {
    let spans = (Span::from_ratio(0.9), Span::from_ratio(1.1));
    let at = |arm: Arm, ratio: f64| {
        let code = ratio * 128.0 * 8_388_608.0;
        let check = Shunt::at_instrument(arm, Ohms(100_000.0))
            .code_check(&example::STRUT.balanced(code, Celsius(20.0)), spans);
        f64::from(check.change().lowest)
    };
    let relative = |arm: Arm| at(arm, 1e-3) / at(arm, 0.0) - 1.0;
    assert!((relative(Arm::Two) / -4e-3 - 1.0).abs() < 0.05, "{}", relative(Arm::Two));
    assert!(relative(Arm::One).abs() < 4e-4, "{}", relative(Arm::One));
}

#[test]
fn shunts_that_cannot_be_checked_are_refused() {
    let one = (Span::ONE, Span::ONE);
    let shunt = |ohms: f64| Shunt::at_gauge(Arm::One, Ohms(ohms));
    let refused = |shunt: Shunt, channel: Channel, spans| match shunt.try_code_check(&channel, spans) {
        Err(Error::Invalid { field, .. } | Error::Reversed { field, .. }) => field,
        other => panic!("{other:?}"),
    };
    for ohms in [9.9, 1.1e9, f64::NAN, f64::INFINITY] {
        assert_eq!(refused(shunt(ohms), example::STRUT, one), Field::ShuntResistance);
    }
    // To a rail, and less than a code of 16 bits.
    assert_eq!(refused(shunt(10_000.0), example::STRUT, one), Field::ShuntChange);
    assert_eq!(refused(shunt(1e9), example::FLAT, one), Field::ShuntChange);
    // What there is room for: from a code on, to the last one before the rail on that side.
    for balance in [-12_345.0, 0.0, 30_000.0] {
        let channel = example::STRUT.balanced(balance, Celsius(20.0));
        for (arm, room) in
            [(Arm::One, (-8_388_607.0 - balance, -1.0)), (Arm::Two, (1.0, 8_388_606.0 - balance))]
        {
            let beyond = Shunt::at_gauge(arm, Ohms(5_000.0)).try_code_check(&channel, one);
            let Err(Error::Invalid { field: Field::ShuntChange, low, high, .. }) = beyond else {
                panic!("{beyond:?}")
            };
            assert_eq!((low, high), room);
        }
    }
    for spans in [(0.79, 1.0), (1.0, 1.26)] {
        let spans = (Span::from_ratio(spans.0), Span::from_ratio(spans.1));
        assert_eq!(refused(shunt(1e5), example::STRUT, spans), Field::SpanCorrection);
    }
    let turned = (Span::from_ratio(1.01), Span::from_ratio(0.99));
    assert_eq!(refused(shunt(1e5), example::STRUT, turned), Field::SpanCorrection);
}
