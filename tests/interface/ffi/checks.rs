//! Rosettes, checks on site and uncertainties from C: the same bits as from Rust, any bytes, null pointers.

use std::ffi::CStr;
use std::mem::size_of;
use std::ptr::{null, null_mut};

use super::anything::{Anything, written};
use gaugewright::channel::{Arm, ForcedStrain, GaugeFactorBasis};
use gaugewright::ffi::*;
use gaugewright::fixed::{MeanCode, Reading, Span, Strain, Temperature};
use gaugewright::installation::{Fault, Shunt, Verdict};
use gaugewright::rosette::{Material, Rosette};
use gaugewright::uncertainty::StandardUncertainties;
use gaugewright::units::*;
use gaugewright::{Bridge, Channel, Converter, Error, Flags, Gauge, ThermalOutput};

/// An interpreter that watches memory is some thousand times slower.
const ROUNDS: usize = if cfg!(miri) { 20 } else { 4_000 };

impl Anything {
    fn words<const N: usize>(&mut self) -> [u32; N] {
        std::array::from_fn(|_| self.number() as u32)
    }

    fn zero(&mut self) -> gw_zero {
        let count = [0, 1, 64, 65_536, u32::MAX, self.word()][self.word() as usize % 6];
        let sum = match self.word() % 3 {
            0 => i64::from(self.number()),
            1 => i64::from(self.number()) * i64::from(count),
            _ => i64::from(self.number()) << 32,
        };
        gw_zero { sum, count, temperature: self.number() }
    }
}

fn gauge() -> Gauge {
    Gauge::new(GaugeFactor(2.1))
        .gauge_factor_slope(PercentPer100C(1.0))
        .thermal_output(ThermalOutput::celsius([-24.0, 1.0, 0.01]).between(Celsius(-50.0), Celsius(90.0)))
}

fn channel(bridge: Bridge) -> Channel {
    Channel::new(gauge(), bridge, Converter::bipolar(24, Ratio(0.01))).balanced(-12_345.0, Celsius(18.5))
}

fn quarter() -> Channel {
    channel(Bridge::quarter_three_wire(Ohms(350.0), Ohms(1.2)))
}

/// What C gets of an error is what it gets of any other function's.
fn told(status: gw_status, error: &gw_error, expected: &Error) {
    assert_eq!(status, error.code);
    // SAFETY: all of them live during the call.
    let words = written::<256>(|buffer, size| unsafe { gw_error_message(error, buffer, size) });
    assert_eq!(words, expected.to_string());
}

fn same_flags(flags: u32, rust: Flags) {
    assert_eq!(flags, u32::from(rust.bits()));
}

#[test]
fn rosettes_have_the_bits_of_rust() {
    let mut anything = Anything(3);
    let sensitive = Rosette::rectangular().turned(Degrees(10.0)).transverse_sensitivity([
        Percent(0.7),
        Percent(-0.9),
        Percent(1.1),
    ]);
    for rust in [Rosette::rectangular(), Rosette::delta(), sensitive].map(|rosette| rosette.fixed()) {
        let rosette = gw_rosette::of(rust);
        for _ in 0..ROUNDS {
            let strains: [i32; 3] = std::array::from_fn(|_| anything.number());
            let marks: [u32; 3] = std::array::from_fn(|_| anything.word() & anything.word() & 7);
            let grids = [0, 1, 2].map(|k| gw_reading { strain: strains[k], flags: marks[k] });
            let expected = rust.reading([0, 1, 2].map(|k| Reading {
                strain: Strain::from_bits(strains[k]),
                flags: Flags::from_bits(marks[k] as u8).unwrap(),
            }));
            let (mut state, mut principal) = (gw_plane_strain::default(), gw_principal::default());
            let mut degrees = 0.0;
            // SAFETY: all of them live here.
            unsafe {
                assert_eq!(gw_rosette_strain(&rosette, grids.as_ptr(), &mut state), GW_STATUS_OK);
                assert_eq!(gw_principal_strain(&state, &mut principal), GW_STATUS_OK);
                assert_eq!(gw_principal_direction(&state, &mut degrees), GW_STATUS_OK);
            }
            let [mean, difference, shear] =
                [expected.strain.mean(), expected.strain.half_difference(), expected.strain.half_shear()];
            assert_eq!(
                [state.mean, state.half_difference, state.half_shear],
                [mean, difference, shear].map(Strain::to_bits)
            );
            same_flags(state.flags, expected.flags);
            let found = expected.strain.principal();
            assert_eq!(
                (principal.first, principal.second),
                (found.strain.first.to_bits(), found.strain.second.to_bits())
            );
            assert_eq!(principal.half_shear, found.strain.half_shear.to_bits());
            same_flags(principal.flags, found.flags | expected.flags);
            let direction = expected.strain.float32().principal().direction;
            assert_eq!(degrees.to_bits(), direction.map_or(f32::NAN, |found| found.0).to_bits());
        }
    }
    // A flag that only C has is passed on.
    let grids = [gw_reading { strain: 0, flags: GW_FLAG_NULL }; 3];
    let (mut state, mut principal) = (gw_plane_strain::default(), gw_principal::default());
    // SAFETY: all of them live here.
    unsafe {
        let rosette = gw_rosette::of(Rosette::delta().fixed());
        assert_eq!(gw_rosette_strain(&rosette, grids.as_ptr(), &mut state), GW_STATUS_OK);
        assert_eq!(gw_principal_strain(&state, &mut principal), GW_STATUS_OK);
    }
    assert_eq!((state.flags, principal.flags), (GW_FLAG_NULL, GW_FLAG_NULL));
}

#[test]
fn stresses_have_the_bits_of_rust() {
    let mut anything = Anything(4);
    for _ in 0..ROUNDS {
        let grids = [0; 3].map(|_| Strain::from_bits(anything.number()));
        let strain = Rosette::rectangular().fixed().strain(grids).strain;
        let [mean, half_difference, half_shear] =
            [strain.mean(), strain.half_difference(), strain.half_shear()].map(Strain::to_bits);
        let state = gw_plane_strain { mean, half_difference, half_shear, flags: anything.word() };
        let elasticity = match anything.word() % 3 {
            0 => gw_elasticity { modulus: f32::from_bits(anything.word()), poisson_ratio: 0.3 },
            1 => gw_elasticity { modulus: 69.0, poisson_ratio: f32::from_bits(anything.word()) },
            _ => gw_elasticity {
                modulus: (anything.word() % 2000) as f32 / 10.0 + 0.001,
                poisson_ratio: (anything.word() % 500) as f32 / 1000.0,
            },
        };
        let material = Material::new(Gigapascals(elasticity.modulus.into()), elasticity.poisson_ratio.into());
        let before = gw_stress { first: 1.0, ..Default::default() };
        let (mut stress, mut error) = (before, gw_error::default());
        // SAFETY: all of them live here.
        let status = unsafe { gw_principal_stress(&state, &elasticity, &mut stress, &mut error) };
        match material.at(Celsius(20.0)) {
            Err(expected) => {
                assert_eq!(stress, before);
                told(status, &error, &expected);
            }
            Ok(constants) => {
                assert_eq!(status, GW_STATUS_OK);
                let expected = constants.float32().stress(&strain.float32()).principal();
                let found =
                    [stress.first, stress.second, stress.in_plane_shear, stress.von_mises, stress.tresca];
                let expected = [
                    expected.first,
                    expected.second,
                    expected.in_plane_shear,
                    expected.von_mises,
                    expected.tresca,
                ];
                assert_eq!(found.map(f32::to_bits), expected.map(|stress| stress.0.to_bits()));
                assert_eq!(stress.flags, state.flags);
            }
        }
    }
}

#[test]
fn wiring_reports_are_those_of_rust() {
    let mut anything = Anything(5);
    for bridge in [
        Bridge::quarter_three_wire(Ohms(350.0), Ohms(1.2)),
        Bridge::quarter_two_wire(Ohms(120.0), Ohms(0.5)),
        Bridge::half_bending(Ohms(350.0), Ohms(1.0)),
        Bridge::full_bending(Ohms(350.0)).leads(Ohms(2.0)),
    ] {
        let rust = channel(bridge).try_wiring_check(Percent(0.3)).unwrap();
        let check = gw_wiring_check::of(rust);
        for round in 0..ROUNDS {
            let mut codes = anything.zero();
            if round % 2 == 0 {
                (codes.count, codes.sum) = (3, i64::from(anything.number() >> 8) * 3 + 1);
            }
            let before = gw_report { healthy: 7, ..Default::default() };
            let (mut report, mut error) = (before, gw_error::default());
            // SAFETY: all of them live here.
            let status = unsafe { gw_wiring_report(&check, &codes, &mut report, &mut error) };
            match rust.report(MeanCode { sum: codes.sum, count: codes.count }) {
                Err(expected) => {
                    assert_eq!(report, before);
                    told(status, &error, &expected);
                }
                Ok(expected) => {
                    assert_eq!((status, error), (GW_STATUS_OK, gw_error::default()));
                    assert_eq!(
                        (report.healthy, report.at_rail),
                        (expected.healthy.into(), expected.at_rail.into())
                    );
                    let mut verdicts = [GW_VERDICT_NONE as u8; GW_FAULTS];
                    for (fault, verdict) in expected.verdicts() {
                        verdicts[number(fault) as usize] = match verdict {
                            Verdict::Consistent => GW_VERDICT_CONSISTENT as u8,
                            Verdict::Excluded => GW_VERDICT_EXCLUDED as u8,
                            Verdict::Inconclusive => GW_VERDICT_INCONCLUSIVE as u8,
                        };
                    }
                    assert_eq!(report.verdicts, verdicts);
                    assert!(expected.verdicts().count() == verdicts.iter().filter(|&&it| it != 0).count());
                }
            }
        }
    }
}

/// The number that the header has for a fault.
fn number(fault: Fault) -> u32 {
    let of = |first: u32, arm: Arm| first + arm as u32;
    match fault {
        Fault::ArmOpen(arm) => of(GW_FAULT_ARM_OPEN, arm),
        Fault::ArmShorted(arm) => of(GW_FAULT_ARM_SHORTED, arm),
        Fault::ArmLeadBroken(arm) => of(GW_FAULT_ARM_LEAD_BROKEN, arm),
        Fault::ExcitationLeadBroken => GW_FAULT_EXCITATION_LEAD_BROKEN,
        Fault::OutputLeadBroken => GW_FAULT_OUTPUT_LEAD_BROKEN,
        Fault::Reversed => GW_FAULT_REVERSED,
        other => panic!("{other} has no number"),
    }
}

#[test]
fn faults_have_the_words_of_rust() {
    // SAFETY: a text of the library, with its end.
    let text = |number| unsafe { CStr::from_ptr(gw_fault_text(number)) }.to_str().unwrap();
    let of_arms = [Fault::ArmOpen, Fault::ArmShorted, Fault::ArmLeadBroken].map(|fault| Arm::ALL.map(fault));
    let others = [Fault::ExcitationLeadBroken, Fault::OutputLeadBroken, Fault::Reversed];
    let all: Vec<_> = of_arms.into_iter().flatten().chain(others).collect();
    assert_eq!(all.len() + 1, GW_FAULTS);
    for (k, fault) in all.into_iter().enumerate() {
        assert_eq!((number(fault), text(number(fault))), (k as u32 + 1, fault.to_string().as_str()));
    }
    assert_eq!([0, 16, u32::MAX].map(text), ["unknown fault"; 3]);
}

#[test]
fn shunts_are_those_of_rust() {
    let mut anything = Anything(6);
    let spans = (Span::from_ratio(0.99), Span::from_ratio(1.01));
    for shunt in [Shunt::at_gauge(Arm::One, Ohms(100_000.0)), Shunt::at_instrument(Arm::Two, Ohms(50_000.0))]
    {
        let rust = shunt.tolerance(Percent(0.1)).code_check(&quarter(), spans);
        let check = gw_shunt_check::of(rust);
        let (mut low, mut high) = (0, 0);
        // SAFETY: all of them live here.
        assert_eq!(unsafe { gw_shunt_expected(&check, &mut low, &mut high) }, GW_STATUS_OK);
        assert_eq!((low, high), (rust.change().lowest, rust.change().highest));
        let mut found = 0;
        for round in 0..ROUNDS {
            let (mut without, mut with) = (anything.zero(), anything.zero());
            if round % 2 == 0 {
                // Near the change, within it and beyond.
                (without.count, with.count) = (64, 7);
                without.sum = i64::from(anything.number() >> 16);
                let width = i64::from(high - low) + 100;
                with.sum = 7 * i64::from(low - 50) + i64::from(anything.word()) % (7 * width);
            }
            let (mut span, mut error) = (9, gw_error::default());
            // SAFETY: all of them live here.
            let status = unsafe { gw_shunt_span(&check, &without, &with, &mut span, &mut error) };
            let mean = |zero: gw_zero| MeanCode { sum: zero.sum, count: zero.count };
            match rust.span(mean(without), mean(with)) {
                Err(expected) => {
                    assert_eq!(span, 9);
                    told(status, &error, &expected);
                }
                Ok(expected) => {
                    assert_eq!((status, span), (GW_STATUS_OK, expected.to_bits()));
                    found += 1;
                }
            }
        }
        assert!(found > ROUNDS / 10, "{found}");
    }
}

#[test]
fn uncertainties_have_the_bits_of_rust() {
    let mut anything = Anything(7);
    let foil =
        gauge().gauge_factor_basis(GaugeFactorBasis::FreeFoil(ForcedStrain::per_degree([0.0, 8.35, 0.0036])));
    let bridge = Bridge::quarter_three_wire(Ohms(350.0), Ohms(1.2));
    let free_foil =
        Channel::new(foil, bridge, Converter::bipolar(24, Ratio(0.01))).balanced(5.0, Celsius(20.0));
    for channel in [quarter(), free_foil] {
        let stated = StandardUncertainties::for_channel(channel)
            .of_gauge_factor(Percent(0.5))
            .of_temperature(Celsius(0.3))
            .of_thermal_output_slope(MicrostrainPerCelsius(0.15))
            .of_lead_resistance(Ohms(0.05))
            .noise(40.0);
        let rust = stated.try_float32::<1>().unwrap();
        let uncertainty = gw_uncertainty::of(rust);
        for temperature in [-50, -20, 0, 24, 90, 91, -2_000].map(|celsius: i32| celsius << 20) {
            let (mut point, mut error) = (gw_uncertainty_point::default(), gw_error::default());
            // SAFETY: all of them live here.
            let status = unsafe { gw_uncertainty_at(&uncertainty, temperature, &mut point, &mut error) };
            let at = match rust.at(Temperature::from_bits(temperature).celsius()) {
                Ok(at) => at.try_fixed().unwrap(),
                Err(expected) => {
                    told(status, &error, &expected);
                    continue;
                }
            };
            assert_eq!((status, error), (GW_STATUS_OK, gw_error::default()));
            for round in 0..ROUNDS / 4 {
                let strain =
                    [i32::MIN, -1, 0, 1, i32::MAX].get(round).copied().unwrap_or_else(|| anything.number());
                // SAFETY: it lives here.
                let found = unsafe { gw_uncertainty_standard(&point, strain) };
                assert_eq!(found, at.standard(Strain::from_bits(strain)).to_bits());
                assert!(found > 0);
            }
        }
    }
    // Room for the product changes nothing where there is none.
    let stated = StandardUncertainties::for_channel(quarter()).of_gauge_factor(Percent(0.5)).noise(40.0);
    let (without, with) = (stated.try_float32::<0>().unwrap(), stated.try_float32::<1>().unwrap());
    for celsius in [-50.0, 0.0, 90.0] {
        let [without, with] = [without.at(Celsius(celsius)), with.at(Celsius(celsius))].map(Result::unwrap);
        assert_eq!(without, with);
    }
}

#[test]
fn any_bytes_are_taken_without_harm() {
    let mut anything = Anything(8);
    let mut seen = [0; 2];
    for _ in 0..ROUNDS {
        let rosette = gw_rosette { words: anything.words() };
        let [a, b, c, d] = anything.words::<4>();
        let grids = [a, b, c].map(|word| gw_reading { strain: word as i32, flags: d });
        let (wiring, mut shunt) =
            (gw_wiring_check { words: anything.words() }, gw_shunt_check { words: anything.words() });
        let (uncertainty, mut point) =
            (gw_uncertainty { words: anything.words() }, gw_uncertainty_point { words: anything.words() });
        let (zero, other) = (anything.zero(), anything.zero());
        if anything.word() % 2 == 0 {
            // No change is refused.
            (shunt.words[4], shunt.words[5]) = (i32::MIN as u32, i32::MAX as u32);
        }
        let (mut state, mut principal) = (gw_plane_strain::default(), gw_principal::default());
        let (mut stress, mut error, mut report) =
            (gw_stress::default(), gw_error::default(), gw_report::default());
        let (mut degrees, mut low, mut high, mut span) = (0.0, 0, 0, 0);
        let material = gw_elasticity { modulus: 69.0, poisson_ratio: 0.33 };
        // SAFETY: all of them live here.
        unsafe {
            assert_eq!(gw_rosette_strain(&rosette, grids.as_ptr(), &mut state), GW_STATUS_OK);
            assert_eq!(gw_principal_strain(&state, &mut principal), GW_STATUS_OK);
            assert_eq!(gw_principal_direction(&state, &mut degrees), GW_STATUS_OK);
            assert_eq!(gw_principal_stress(&state, &material, &mut stress, &mut error), GW_STATUS_OK);
            assert!(principal.first >= principal.second && (degrees.is_nan() || degrees.abs() <= 90.0));
            seen[0] += u32::from(gw_wiring_report(&wiring, &zero, &mut report, &mut error) == GW_STATUS_OK);
            assert_eq!(gw_shunt_expected(&shunt, &mut low, &mut high), GW_STATUS_OK);
            assert_eq!(gw_shunt_span(&shunt, &zero, &other, &mut span, &mut error), error.code);
            gw_uncertainty_standard(&point, a as i32);
            seen[1] +=
                u32::from(gw_uncertainty_at(&uncertainty, b as i32, &mut point, &mut error) == GW_STATUS_OK);
            assert!(gw_uncertainty_standard(&point, a as i32) != -1);
        }
    }
    assert!(cfg!(miri) || seen[0] > ROUNDS as u32 / 10, "{seen:?}");
}

#[test]
fn null_pointers_are_reported() {
    let rosette = gw_rosette::default();
    let grids = [gw_reading::default(); 3];
    let (mut state, mut principal) = (gw_plane_strain::default(), gw_principal::default());
    let (mut stress, mut error, mut report) =
        (gw_stress::default(), gw_error::default(), gw_report::default());
    let (mut degrees, mut low, mut high, mut span) = (0.0, 0, 0, 0);
    let (wiring, shunt, zero) =
        (gw_wiring_check { words: [0; 46] }, gw_shunt_check::default(), gw_zero::default());
    let (uncertainty, mut point) = (gw_uncertainty { words: [0; 50] }, gw_uncertainty_point::default());
    let material = gw_elasticity::default();
    let (read, z) = (state, &raw const zero);
    // SAFETY: null, or alive here.
    unsafe {
        let statuses = [
            gw_rosette_strain(null(), grids.as_ptr(), &mut state),
            gw_rosette_strain(&rosette, null(), &mut state),
            gw_rosette_strain(&rosette, grids.as_ptr(), null_mut()),
            gw_principal_strain(null(), &mut principal),
            gw_principal_strain(&read, null_mut()),
            gw_principal_direction(null(), &mut degrees),
            gw_principal_direction(&read, null_mut()),
            gw_principal_stress(null(), &material, &mut stress, null_mut()),
            gw_principal_stress(&read, null(), &mut stress, null_mut()),
            gw_principal_stress(&read, &material, null_mut(), null_mut()),
            gw_wiring_report(null(), z, &mut report, null_mut()),
            gw_wiring_report(&wiring, null(), &mut report, null_mut()),
            gw_wiring_report(&wiring, z, null_mut(), null_mut()),
            gw_shunt_expected(null(), &mut low, &mut high),
            gw_shunt_expected(&shunt, null_mut(), &mut high),
            gw_shunt_expected(&shunt, &mut low, null_mut()),
            gw_shunt_span(null(), z, z, &mut span, null_mut()),
            gw_shunt_span(&shunt, null(), z, &mut span, null_mut()),
            gw_shunt_span(&shunt, z, null(), &mut span, null_mut()),
            gw_shunt_span(&shunt, z, z, null_mut(), null_mut()),
            gw_uncertainty_at(null(), 0, &mut point, null_mut()),
            gw_uncertainty_at(&uncertainty, 0, null_mut(), null_mut()),
        ];
        assert_eq!(statuses, [GW_STATUS_NULL; 22]);
        assert_eq!(gw_uncertainty_standard(null(), 5), -1);
        assert_eq!(gw_wiring_report(null(), z, &mut report, &mut error), GW_STATUS_NULL);
        assert_eq!(error, gw_error { code: GW_STATUS_NULL, ..Default::default() });
    }
    assert_eq!((state, principal, stress, report, point), Default::default());
    assert_eq!((degrees, low, high, span), (0.0, 0, 0, 0));
    assert_eq!(size_of::<gw_report>(), 24);
}
