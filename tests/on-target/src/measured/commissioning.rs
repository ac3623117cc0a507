//! What is done around a measurement, on the processor that does it: a chamber run fitted one point at a time, and the
//! uncertainty of readings.

use core::cell::RefCell;

use gaugewright::commissioning::fit::{Degree, Direction, ThermalOutputFit};
use gaugewright::fixed::{self, Temperature};
use gaugewright::numeric::Float;
use gaugewright::uncertainty::{StandardUncertainties, UncertaintyKernel, UncertaintyPoint};
use gaugewright::units::*;
use gaugewright::{Channel, Error, ThermalOutput};

use crate::channels::{ALUMINIUM_CURVE, CHANNELS};
use crate::sweep::Random;
use host::numbers::{Numbers, hash};

/// What came out, as hashes: of results in `f64`, in `f32` and in integers.
pub struct Hashes {
    pub inputs: u32,
    pub fixed: u64,
    pub single: u64,
    pub double: u64,
}

/// Temperatures of a run, a degree and a half apart, up and down again.
const PLACES: i32 = 101;
const LOW: f64 = -60.0;
const STEP: f64 = 1.5;

const CURVE: ThermalOutput = ThermalOutput::celsius(ALUMINIUM_CURVE);

/// A point of the run: a thermal output of the test data, scatter of two microstrain, a little hysteresis.
fn points() -> impl Iterator<Item = (Direction, Celsius, Microstrain)> {
    let mut random = Random(0x7f4a_7c15);
    let up = (0..PLACES).map(|i| (Direction::Heating, i, 0.0));
    let down = (0..PLACES).rev().map(|i| (Direction::Cooling, i, 0.5));
    up.chain(down).map(move |(sweep, i, off)| {
        let t = Celsius(LOW + STEP * f64::from(i));
        let scatter = f64::from(random.between(-2_000, 2_000)) * 1e-3;
        (sweep, t, Microstrain(CURVE.at(t).0 + scatter + off))
    })
}

fn fitted<T: Float>() -> Result<ThermalOutputFit<T>, Error> {
    let mut fit = ThermalOutputFit::between(Celsius(LOW), Celsius(LOW + STEP * f64::from(PLACES - 1)))?;
    for (sweep, t, reading) in points() {
        fit.observe(sweep, t, reading)?;
    }
    Ok(fit)
}

/// Coefficients, the degree that was chosen, band and residual, hysteresis.
fn hash_of<T: Float>(before: u64) -> Result<u64, Error> {
    let fit = fitted::<T>()?;
    let curve = fit.solve(Degree::by_f_test(Percent(1.0)))?.balanced_at(Celsius(21.0))?;
    let mut all = hash(before, &[curve.degree() as u8]);
    let mut add = |value: f64| all = hash(all, &value.to_bits().to_le_bytes());
    curve.polynomial().coefficients().into_iter().for_each(&mut add);
    add(curve.residual_standard_deviation().0);
    for i in 0..PLACES {
        let t = Celsius(LOW + STEP * f64::from(i));
        add(curve.at(t)?.0);
        add(curve.standard_uncertainty(t)?.0);
    }
    add(fit.hysteresis(curve.degree())?.largest.0);
    Ok(all)
}

/// The run, in `f32` and `f64`; no hash where it is refused.
/// (Its frame must not be that of the caller, as in [`uncertainty`]: the smallest core has 16 KB for all.)
#[inline(never)]
pub fn fit() -> Hashes {
    let nothing = Numbers::new().hash;
    Hashes {
        inputs: points().count() as u32,
        fixed: nothing,
        single: hash_of::<f32>(nothing).unwrap_or(0),
        double: hash_of::<f64>(nothing).unwrap_or(0),
    }
}

/// The inputs of an uncertainty, all of them, on the channel of the committed vectors.
pub fn inputs(channel: Channel) -> StandardUncertainties {
    StandardUncertainties::for_channel(channel)
        .of_gauge_factor(Percent(0.5))
        .of_gauge_factor_slope(PercentPer100C(0.05))
        .of_temperature(Celsius(0.25))
        .of_balance_temperature(Celsius(0.125))
        .of_thermometer(Celsius(0.5))
        .of_thermal_output(Microstrain(2.0))
        .of_thermal_output_slope(MicrostrainPerCelsius(0.125))
        .of_expansion(ExpansionPerCelsius::ppm(0.25))
        .of_lead_resistance(Ohms(0.05))
        .of_lead_temperature(Celsius(10.0))
        .of_poisson_ratio(0.01)
        .of_ratio(Percent(0.02))
        .noise(40.0)
        .balance_noise(10.0)
        .kernel_bound(Nanostrain(0.5))
}

fn uncertain() -> Result<Hashes, Error> {
    let nothing = Numbers::new().hash;
    let mut all = Hashes { inputs: 0, fixed: nothing, single: nothing, double: nothing };
    let mut random = Random(0x1357_9bdf);
    for (_, channel) in &CHANNELS[..3] {
        let (single, double) = (inputs(*channel).try_float32::<0>()?, inputs(*channel).try_float64::<0>()?);
        let (low, high) = channel.temperatures();
        for i in 0..9 {
            let t = Celsius(low.0 + (high.0 - low.0) * f64::from(i) / 8.0);
            let (of_single, of_double) = (single.at(t)?, double.at(t)?);
            let integers = of_double.try_fixed()?;
            for k in 0..12 {
                let any = random.bits() as i32;
                let bits = [i32::MIN, i32::MAX, 0, any, any >> 4, any >> 8][k % 6];
                let strain = fixed::Strain::from_bits(bits);
                let plain = strain.strain().0;
                all.fixed = hash(all.fixed, &integers.standard(strain).to_bits().to_le_bytes());
                all.single = hash(all.single, &of_single.standard(plain as f32).to_bits().to_le_bytes());
                all.double = hash(all.double, &of_double.standard(plain).to_bits().to_le_bytes());
                all.inputs += 1;
            }
        }
        // The long way, with names and coverage factor.
        let budget = inputs(*channel).budget(Microstrain(1_200.0), Celsius(0.5 * (low.0 + high.0)))?;
        for contribution in budget.contributions() {
            all.double = hash(all.double, &contribution.effect.0.to_bits().to_le_bytes());
        }
        let factor = budget.expanded(Percent(95.0))?.coverage_factor;
        all.double = hash(all.double, &factor.to_bits().to_le_bytes());
    }
    Ok(all)
}

/// Uncertainties of three channels; no hash where they are refused.
#[inline(never)]
pub fn uncertainty() -> Hashes {
    uncertain().unwrap_or(Hashes { inputs: 0, fixed: 0, single: 0, double: 0 })
}

/// A fit that takes in points for a count of what one takes.
pub fn running() -> Option<RefCell<ThermalOutputFit<f32>>> {
    ThermalOutputFit::between(Celsius(-200.0), Celsius(300.0)).ok().map(RefCell::new)
}

/// The constants of a count.
pub fn counted(channel: Channel) -> Option<(UncertaintyKernel<f32>, UncertaintyPoint<f32>)> {
    let kernel = inputs(channel).try_float32::<0>().ok()?;
    Some((kernel, kernel.at(Celsius(60.0)).ok()?))
}

/// What the paths of uncertainty give for a strain and a temperature in the fixed formats, as `paths::bits` has the others.
pub fn bits(path: &str, [strain, t, _]: [i32; 3]) -> Option<[u32; 4]> {
    let (strain, t) = (fixed::Strain::from_bits(strain), Temperature::from_bits(t).celsius());
    let point = inputs(CHANNELS[1].1).try_float32::<0>().ok()?.at(t).ok()?;
    let uncertainty = match path {
        "uncertainty_f32" => point.standard(strain.strain().0 as f32).to_bits(),
        "uncertainty_fixed" => point.try_fixed().ok()?.standard(strain).to_bits() as u32,
        _ => return None,
    };
    Some([uncertainty, 0, 0, 0])
}

/// A point of a chamber run: code and temperature as they are counted.
pub fn observe(fit: &RefCell<ThermalOutputFit<f32>>, code: i32, t: Temperature) -> bool {
    let reading = Microstrain(f64::from(code) * 1e-3);
    fit.try_borrow_mut().is_ok_and(|mut fit| fit.observe(Direction::Heating, t.celsius(), reading).is_ok())
}
