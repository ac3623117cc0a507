//! Channels as the numbers that a user gives: a [`Channel`] is built from them, and so is the exact model.
//! (A `Channel` does not give them out again.)

use gaugewright::channel::{ForcedStrain, GaugeFactorBasis, MismatchScale};
use gaugewright::units::*;
use gaugewright::*;

#[derive(Clone, Copy, Debug)]
pub enum FactorChange {
    /// Percent for 100 C.
    Slope(f64),
    /// As a fraction for a degree, its square and its cube.
    Polynomial([f64; 3]),
}

/// What the gauge factor refers to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Basis {
    AtBalance,
    UnloadedGauge,
    /// Forced strain in microstrain for the powers of a degree above the reference.
    FreeFoil([f64; 4]),
}

#[derive(Clone, Debug)]
pub struct Package {
    pub factor: f64,
    pub change: FactorChange,
    /// Microstrain for the powers of a degree, ascending.
    pub curve: Vec<f64>,
    pub fahrenheit: bool,
    pub stated_for: f64,
    /// C.
    pub fitted: (f64, f64),
    /// C.
    pub reference: f64,
    /// 1e-6 for a degree Celsius.
    pub matched: Option<f64>,
    /// Percent.
    pub transverse: f64,
    pub basis: Basis,
}

impl Package {
    pub fn gauge(&self) -> Gauge {
        let curve = if self.fahrenheit {
            ThermalOutput::fahrenheit_from(&self.curve)
        } else {
            ThermalOutput::celsius_from(&self.curve)
        };
        let (low, high) = self.fitted;
        let curve = curve.stated_for(GaugeFactor(self.stated_for)).between(Celsius(low), Celsius(high));
        let gauge = Gauge::new(GaugeFactor(self.factor));
        let gauge = match self.change {
            FactorChange::Slope(percent) => gauge.gauge_factor_slope(PercentPer100C(percent)),
            FactorChange::Polynomial(change) => gauge.gauge_factor_polynomial(change),
        };
        let gauge = match self.matched {
            Some(ppm) => gauge.matched_to(ExpansionPerCelsius::ppm(ppm)),
            None => gauge,
        };
        let basis = match self.basis {
            Basis::AtBalance => GaugeFactorBasis::AtBalance,
            Basis::UnloadedGauge => GaugeFactorBasis::UnloadedGauge,
            Basis::FreeFoil(forced) => GaugeFactorBasis::FreeFoil(ForcedStrain::per_degree(forced)),
        };
        gauge
            .gauge_factor_basis(basis)
            .transverse_sensitivity(Percent(self.transverse))
            .reference_temperature(Celsius(self.reference))
            .thermal_output(curve)
    }
}

/// A circuit and its resistors, in ohms.
#[derive(Clone, Copy, Debug)]
pub struct Wired {
    pub circuit: Circuit,
    /// A quarter bridge's gauge on two leads instead of three.
    pub two_wire: bool,
    pub gauge: f64,
    pub lead: f64,
    pub poisson: f64,
    /// Transverse sensitivity of the gauges in percent, where the ratio of strains is stated.
    pub across: f64,
    pub completion: Option<f64>,
    pub reference: Option<(f64, f64)>,
    pub input: Option<f64>,
    pub sensed: bool,
    pub reversed: bool,
}

impl Wired {
    pub const fn new(circuit: Circuit, gauge: f64, lead: f64) -> Self {
        Self {
            circuit,
            two_wire: false,
            gauge,
            lead,
            poisson: 0.0,
            across: 0.0,
            completion: None,
            reference: None,
            input: None,
            sensed: false,
            reversed: false,
        }
    }

    pub fn bridge(&self) -> Bridge {
        let (gauge, lead, nu) = (Ohms(self.gauge), Ohms(self.lead), self.poisson);
        let mut bridge = match self.circuit {
            Circuit::Quarter if self.two_wire => Bridge::quarter_two_wire(gauge, lead),
            Circuit::Quarter => Bridge::quarter_three_wire(gauge, lead),
            Circuit::HalfCompensated => Bridge::half_compensated(gauge, lead),
            Circuit::HalfPoisson => Bridge::half_poisson(gauge, lead, nu),
            Circuit::HalfBending => Bridge::half_bending(gauge, lead),
            Circuit::FullBending => Bridge::full_bending(gauge).leads(lead),
            Circuit::FullPoisson => Bridge::full_poisson(gauge, nu).leads(lead),
            Circuit::FullTorsion => Bridge::full_torsion(gauge).leads(lead),
            Circuit::OppositeArms => Bridge::opposite_arms(gauge).leads(lead),
            other => panic!("{other:?} has no description yet"),
        };
        if self.sensed {
            bridge = bridge.remote_sense();
        }
        if self.reversed {
            bridge = bridge.reversed();
        }
        if let Some(completion) = self.completion {
            bridge = bridge.completion(Ohms(completion));
        }
        if let Some((upper, lower)) = self.reference {
            bridge = bridge.reference_half(Ohms(upper), Ohms(lower));
        }
        if let Some(input) = self.input {
            bridge = bridge.input_resistance(Ohms(input));
        }
        bridge
    }
}

#[derive(Clone, Copy, Debug)]
pub enum Origin {
    /// A converter's bits and the ratio at its full scale.
    Codes(Wired, u32, f64),
    /// An instrument's step in microstrain and its gauge factor.
    Readings(f64, f64),
}

#[derive(Clone, Debug)]
pub struct Description {
    pub package: Package,
    pub origin: Origin,
    /// 1e-6 for a degree Celsius.
    pub specimen: Option<f64>,
    pub mismatch: MismatchScale,
    /// Code and temperature, C.
    pub balance: Option<(f64, f64)>,
    pub instrument_factor: Option<f64>,
    /// Microstrain either way.
    pub strain: Option<f64>,
    /// C.
    pub temperatures: Option<(f64, f64)>,
    pub correction: Correction,
    /// Strain across the gauge over that along it.
    pub strain_ratio: Option<f64>,
}

impl Description {
    pub const fn new(package: Package, origin: Origin) -> Self {
        Self {
            package,
            origin,
            specimen: None,
            mismatch: MismatchScale::GaugeFactorAtTemperature,
            balance: None,
            instrument_factor: None,
            strain: None,
            temperatures: None,
            correction: Correction::Full,
            strain_ratio: None,
        }
    }

    pub fn channel(&self) -> Channel {
        let gauge = self.package.gauge();
        let mut channel = match self.origin {
            Origin::Codes(wired, bits, full_scale) => {
                Channel::new(gauge, wired.bridge(), Converter::bipolar(bits, Ratio(full_scale)))
            }
            Origin::Readings(step, factor) => {
                Channel::from_readings(gauge, Instrument::showing(Microstrain(step), GaugeFactor(factor)))
            }
        };
        if let Some(ppm) = self.specimen {
            channel = channel.specimen(ExpansionPerCelsius::ppm(ppm));
        }
        if let Some((code, celsius)) = self.balance {
            channel = channel.balanced(code, Celsius(celsius));
        }
        if let Some(factor) = self.instrument_factor {
            channel = channel.instrument_gauge_factor(GaugeFactor(factor));
        }
        if let Some(limit) = self.strain {
            channel = channel.strain_within(Microstrain(limit));
        }
        if let Some((low, high)) = self.temperatures {
            channel = channel.temperature_within(Celsius(low), Celsius(high));
        }
        if let Some(ratio) = self.strain_ratio {
            channel = channel.strain_ratio(ratio);
        }
        channel.mismatch_scale(self.mismatch).correction(self.correction)
    }
}
