//! The channels of the test set, described.

use super::described::{Basis, Description, FactorChange, Origin, Package, Wired};
use crate::data;
use gaugewright::units::*;
use gaugewright::*;

/// A gauge of the data files in the given unit and form, fitted over -200 to 300 C.
pub fn package(id: &str, degree: usize, unit: &str, form: &str) -> Package {
    let row = data("gauges").into_iter().find(|row| row.text("gauge_id") == id).unwrap();
    let curve: Vec<f64> = data("polynomials")
        .iter()
        .filter(|row| {
            row.text("gauge_id") == id
                && row.number("degree") == degree as f64
                && row.text("unit") == unit
                && row.text("form") == form
        })
        .map(|row| row.number("coefficient_ue_per_deg_k"))
        .collect();
    assert_eq!(curve.len(), degree + 1);
    Package {
        factor: row.number("F_24"),
        change: FactorChange::Slope(row.number("gf_slope_pct_per_100C")),
        curve,
        fahrenheit: unit != "degC",
        stated_for: row.number("F_T_of_thermal_output"),
        fitted: (-200.0, 300.0),
        reference: row.number("reference_temperature_degC"),
        matched: Some(row.number("alpha_matched_ppm_per_degC")),
        transverse: 0.0,
        basis: Basis::AtBalance,
    }
}

fn celsius(id: &str, degree: usize) -> Package {
    package(id, degree, "degC", "exact")
}

pub const GAUGES: [&str; 6] = [
    "gauge_on_steel",
    "gauge_on_austenitic",
    "gauge_on_aluminium",
    "gauge_on_titanium",
    "gauge_on_low_expansion",
    "gauge_nickel_chromium",
];

const QUARTER: Wired = Wired::new(Circuit::Quarter, 350.0, 1.2);

/// +-34 500 microstrain, -200 to 300 C.
pub fn wide(id: &str, degree: usize) -> Description {
    Description {
        balance: Some((98_765.25, 21.5)),
        strain: Some(34_500.0),
        ..Description::new(celsius(id, degree), Origin::Codes(QUARTER, 24, 1.0 / 64.0))
    }
}

/// +-5 200 microstrain, -80 to 100 C.
pub fn mild(id: &str, degree: usize) -> Description {
    Description {
        balance: Some((-123_456.75, 18.5)),
        strain: Some(5_200.0),
        temperatures: Some((-80.0, 100.0)),
        ..Description::new(celsius(id, degree), Origin::Codes(QUARTER, 24, 1.0 / 128.0))
    }
}

/// A gauge factor that is not linear: the cubic is invented, with a total change of 3.6 % over the range.
pub fn cubic_factor() -> Description {
    let change = FactorChange::Polynomial([6.0e-5, 1.5e-7, -2.0e-10]);
    let package = Package { change, ..celsius("gauge_on_steel", 5) };
    let two_wire = Wired { two_wire: true, ..Wired::new(Circuit::Quarter, 120.0, 0.8) };
    Description {
        specimen: Some(16.2),
        balance: Some((-400_000.5, 150.0)),
        strain: Some(20_000.0),
        ..Description::new(package, Origin::Codes(two_wire, 24, 1.0 / 64.0))
    }
}

/// A 32-bit converter, whose codes are finer than the strain format.
pub fn fine_codes() -> Description {
    let wired = Wired::new(Circuit::Quarter, 350.0, 2.5);
    Description {
        balance: Some((31_000_000.5, 20.0)),
        strain: Some(10_000.0),
        ..Description::new(celsius("gauge_on_titanium", 4), Origin::Codes(wired, 32, 1.0 / 128.0))
    }
}

/// A 16-bit converter that sees the whole range of its codes, with no declared strain range.
pub fn coarse_codes() -> Description {
    let wired = Wired::new(Circuit::Quarter, 1000.0, 0.0);
    Description {
        balance: Some((-777.5, 25.0)),
        ..Description::new(celsius("gauge_nickel_chromium", 5), Origin::Codes(wired, 16, 1.0 / 64.0))
    }
}

/// An instrument that shows strain at a gauge factor of 2.
pub fn instrument() -> Description {
    Description {
        balance: Some((1234.0, 30.0)),
        strain: Some(8_000.0),
        ..Description::new(celsius("gauge_on_aluminium", 4), Origin::Readings(0.01, 2.0))
    }
}

/// A circuit with its bridge, on the same converter.
pub fn circuit(wired: Wired) -> Description {
    Description {
        balance: Some((54_321.5, 20.0)),
        strain: Some(3_000.0),
        temperatures: Some((-80.0, 100.0)),
        ..Description::new(celsius("gauge_on_aluminium", 4), Origin::Codes(wired, 24, 1.0 / 128.0))
    }
}

/// One bridge of every circuit but the quarter.
pub fn bridges() -> Vec<Wired> {
    let of = |circuit| Wired::new(circuit, 350.0, 1.2);
    vec![
        of(Circuit::HalfCompensated),
        Wired { poisson: 0.33, ..of(Circuit::HalfPoisson) },
        Wired { reversed: true, ..of(Circuit::HalfBending) },
        Wired { sensed: true, ..of(Circuit::FullBending) },
        Wired { poisson: 0.33, ..of(Circuit::FullPoisson) },
        of(Circuit::FullTorsion),
        Wired { input: Some(1e7), ..of(Circuit::OppositeArms) },
    ]
}

/// Every channel that the error bounds are shown on.
pub fn described() -> Vec<(String, Description)> {
    let mut set = Vec::new();
    for degree in [4, 5] {
        for id in GAUGES {
            set.push((format!("wide {id} {degree}"), wide(id, degree)));
            set.push((format!("mild {id} {degree}"), mild(id, degree)));
        }
    }
    set.push(("cubic factor".into(), cubic_factor()));
    set.push(("fine codes".into(), fine_codes()));
    set.push(("coarse codes".into(), coarse_codes()));
    set.push(("instrument".into(), instrument()));
    for wired in bridges() {
        set.push((wired.circuit.name().into(), circuit(wired)));
    }
    let indicated = Description {
        correction: Correction::None,
        instrument_factor: Some(2.0),
        ..wide("gauge_on_steel", 4)
    };
    set.push(("indicated".into(), indicated));
    let subtracted = Description { correction: Correction::ThermalOutput, ..mild("gauge_on_steel", 4) };
    set.push(("subtraction only".into(), subtracted));
    set
}

/// Forced strain of an invented foil on aluminium.
const FREE_FOIL: Basis = Basis::FreeFoil([0.0, 8.35, 3.6e-3, -1e-6]);

/// Channels whose gauge factor refers to another resistance: their kernels multiply thermal and mechanical change. The last is
/// linear in its codes.
pub fn with_product() -> Vec<(String, Description)> {
    [
        ("wide", wide("gauge_on_steel", 4), Basis::UnloadedGauge),
        ("mild", mild("gauge_on_aluminium", 4), FREE_FOIL),
        ("coarse codes", coarse_codes(), Basis::UnloadedGauge),
        ("instrument", instrument(), Basis::UnloadedGauge),
    ]
    .into_iter()
    .map(|(name, described, basis)| {
        let words = if basis == FREE_FOIL { "free foil" } else { "unloaded gauge" };
        let package = Package { basis, ..described.package };
        (format!("{words} {name}"), Description { package, ..described })
    })
    .collect()
}

/// The same of two temperatures.
pub fn compensated_with_product() -> Vec<(String, CompensatedChannel)> {
    let of = |words, measuring, compensating, basis| {
        let gauge = Package { basis, ..celsius(measuring, 4) }.gauge();
        let channel = compensated(gauge, celsius(compensating, 4).gauge());
        (format!("{words} {measuring} against {compensating} 4"), channel)
    };
    vec![
        of("free foil", "gauge_on_aluminium", "gauge_on_aluminium", FREE_FOIL),
        of("unloaded gauge", "gauge_on_steel", "gauge_nickel_chromium", Basis::UnloadedGauge),
    ]
}

/// A half bridge whose compensating gauge has a temperature of its own.
pub fn compensated(measuring: Gauge, compensating: Gauge) -> CompensatedChannel {
    Channel::new(
        measuring,
        Bridge::half_compensated(Ohms(350.0), Ohms(1.2)),
        Converter::bipolar(24, Ratio(1.0 / 128.0)),
    )
    .balanced(54_321.5, Celsius(20.0))
    .strain_within(Microstrain(4_000.0))
    .temperature_within(Celsius(-80.0), Celsius(100.0))
    .compensated_by(CompensatingGauge::new(compensating).balanced_at(Celsius(19.0)))
}
