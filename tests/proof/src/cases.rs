//! What is proved: every channel of the test set, in the kernel type that takes every channel and, where it fits, in the
//! default one, on both paths.

use gaugewright::fixed::{CompensatedKernel, Kernel, Strain, Temperature};
use gaugewright::kernel::ErrorBound;
use gaugewright::reference;
use gaugewright::rosette::{FixedError, Rosette};
use gaugewright::temperature::CurveConstants;
use gaugewright::uncertainty::FixedUncertaintyPoint;
use gaugewright::units::{Microstrain, Nanostrain};
use gaugewright::{Channel, CompensatedChannel};

use crate::script::{Path, Script};
use crate::trace::{Fault, Name, Trace};
use on_target::paths::ROSETTE;
use on_target::thermometers::{K, K_FIXED, PLATINUM_FIXED, THERMISTOR_FIXED};
use support::arithmetic::{Description, Input, curve_piece, emf, principal, rosette_row, uncertainty};
use support::tolerance::{FIXED_UNCERTAINTY_STEPS, REFERENCE_NANOSTRAIN};
use support::{Random, compensated_set, set, test_set};

/// All that the format of strain holds.
const FORMAT: Microstrain = Microstrain(125_000.0);

pub struct Case {
    pub title: String,
    pub path: &'static str,
    /// In nanostrain, or in steps of the output: 2^-20 C, of EMF, 2^-34 of strain.
    pub bound: f64,
    /// An error of the kernel itself, for an input of many: no smaller one may be proved, as everything would be if the
    /// assumptions were at odds with each other. Zero where none is sought.
    pub seen: f64,
    pub script: Script,
}

impl Case {
    fn of<const D: usize, const F: usize>(
        title: &str,
        path: Path,
        bound: &ErrorBound,
        description: &Description<D, F>,
    ) -> Self {
        let product = if description.constants.product.is_some() { ", 1" } else { "" };
        let title = format!("{title} <{D}, {F}{product}>");
        let bound = bound_of(path, bound);
        let script = Script::of(&title, description, path, bound, None);
        Self { title, path: path.name(), bound: bound.0, seen: 0.0, script }
    }

    pub fn file_name(&self) -> String {
        let words = format!("{} {}.gappa", self.title.replace(['<', '>', ','], ""), self.path);
        words.replace(' ', "-")
    }
}

pub fn bound_of(path: Path, bound: &ErrorBound) -> Nanostrain {
    match path {
        Path::OneCall => bound.reading.total,
        Path::Split => bound.point.total,
    }
}

pub fn all() -> Vec<Case> {
    let mut cases = Vec::new();
    for (name, channel) in test_set() {
        let kernel = channel.try_fixed::<5, 3, 0>().unwrap();
        any(&mut cases, &name, &kernel);
        for (case, seen) in cases.iter_mut().rev().zip(seen(&name, &channel, &kernel).into_iter().rev()) {
            case.seen = seen;
        }
        if let Ok(usual) = channel.try_fixed::<4, 1, 0>() {
            any(&mut cases, &name, &usual);
        }
    }
    for (name, channel) in compensated_set() {
        two_temperatures::<5, 3, 0>(&mut cases, &name, &channel).unwrap();
        let _degree_five_does_not_fit = two_temperatures::<4, 1, 0>(&mut cases, &name, &channel);
    }
    for (name, described) in set::with_product() {
        any(&mut cases, &name, &described.channel().try_fixed::<5, 3, 1>().unwrap());
    }
    for (name, channel) in set::compensated_with_product() {
        two_temperatures::<5, 3, 1>(&mut cases, &name, &channel).unwrap();
    }
    thermometers(&mut cases);
    rosettes(&mut cases);
    cases.push(steps("uncertainty", "root", FIXED_UNCERTAINTY_STEPS, any_uncertainty));
    cases
}

fn thermometers(cases: &mut Vec<Case>) {
    curves(cases, "platinum", &PLATINUM_FIXED.constants(), 0.0, 0.0);
    curves(cases, "thermistor in a divider", &THERMISTOR_FIXED.constants(), 0.0, 0.0);
    let (hot, cold, scale, rail) = K_FIXED.constants();
    curves(cases, "thermocouple, hot junction", &hot, rounding(&cold), steepest(&hot));
    for piece in 0..cold.pieces.len() {
        cases.push(steps(&format!("thermocouple, EMF {piece}"), "thermometer", rounding(&cold), |trace| {
            emf(trace, &cold, piece, (scale, rail))
        }));
    }
}

pub fn rounding<const PIECES: usize>(_: &CurveConstants<PIECES>) -> f64 {
    CurveConstants::<PIECES>::ROUNDING
}

/// By how many steps of temperature the kernel's bound takes a step of EMF to count.
pub fn steepest<const HOT: usize>(_: &CurveConstants<HOT>) -> f64 {
    K.steepest::<HOT>().unwrap()
}

/// With an input that is up to `off` steps off the exact one, each of which counts `slope` steps of the output.
fn curves<const PIECES: usize>(
    cases: &mut Vec<Case>,
    name: &str,
    curve: &CurveConstants<PIECES>,
    off: f64,
    slope: f64,
) {
    for piece in 0..PIECES {
        let bound = rounding(curve) + off * slope;
        cases.push(steps(&format!("{name} {piece}"), "thermometer", bound, |trace| {
            curve_piece(trace, curve, piece, Input::Code, off)
        }));
    }
}

/// In steps, for all strains that the format holds. From nanostrain back to steps is two roundings of `f64`; a rosette without
/// transverse sensitivity is as far off as its bound says, to the last place.
pub fn rosette_bound(rosette: &Rosette, of: impl Fn(&FixedError) -> Nanostrain) -> f64 {
    of(&rosette.fixed_error(FORMAT).unwrap()).0 * 1e-9 * Strain::PER_UNIT * (1.0 + 4.0 * f64::EPSILON)
}

fn rosettes(cases: &mut Vec<Case>) {
    for (name, rosette) in [("rosette, plain", Rosette::rectangular()), ("rosette", ROSETTE)] {
        let bound = rosette_bound(&rosette, |error| error.component);
        for row in 0..3 {
            cases.push(steps(&format!("{name}, row {row}"), "rosette", bound, |trace| {
                rosette_row(trace, &rosette, row)
            }));
        }
    }
    let bound = rosette_bound(&ROSETTE, |error| error.half_shear);
    cases.push(steps("rosette, half shear", "root", bound, |trace| principal(trace, &ROSETTE).half_shear));
    let bound = rosette_bound(&ROSETTE, |error| error.principal);
    cases.push(steps("rosette, first", "root", bound, |trace| principal(trace, &ROSETTE).first));
    cases.push(steps("rosette, second", "root", bound, |trace| principal(trace, &ROSETTE).second));
}

fn steps(title: &str, path: &'static str, bound: f64, of: impl Fn(&mut Trace) -> Name) -> Case {
    let script = steps_with(title, bound, &of, None);
    Case { title: title.to_owned(), path, bound, seen: 0.0, script }
}

pub fn steps_with(title: &str, bound: f64, of: &impl Fn(&mut Trace) -> Name, fault: Option<Fault>) -> Script {
    let mut trace = Trace { fault, ..Trace::default() };
    let result = of(&mut trace);
    Script::of_steps(title, trace, &result, bound)
}

/// Every point at once: what it is off depends on the constants of `x^2` only. Of those of `1` and `x` a quarter and a half of
/// what fits an `i32` is taken, which shows with them that nothing overflows; the rest is for the limit of their sum.
pub fn any_uncertainty(trace: &mut Trace) -> Name {
    trace.any_up_to = true;
    let (constant, linear, square) = (1 << 29, 1 << 30, FixedUncertaintyPoint::LARGEST_SQUARE);
    uncertainty(trace, [constant, linear, square, linear, square, square])
}

fn any<const D: usize, const F: usize, const P: usize>(
    cases: &mut Vec<Case>,
    name: &str,
    kernel: &Kernel<D, F, P>,
) {
    let constants = kernel.constants();
    for path in Path::ALL {
        cases.push(Case::of(name, path, &kernel.error_bound(), &Description::of(&constants)));
    }
}

/// The largest error of random readings on each path, in nanostrain.
fn seen(name: &str, channel: &Channel, kernel: &Kernel<5, 3>) -> [f64; 2] {
    let model = reference::Model::new(channel).unwrap();
    let constants = kernel.constants();
    let (cold, hot) = constants.temperatures;
    let mut random = Random(4);
    let mut seen = [0.0f64; 2];
    for _ in 0..5_000 {
        let code = random.between(constants.codes.0, constants.codes.1);
        let t = Temperature::from_bits(random.between(cold.to_bits(), hot.to_bits()));
        let exact = model.strain(code, t).0 * 1e9;
        for (seen, reading) in seen.iter_mut().zip([kernel.reading(code, t), kernel.at(t).reading(code)]) {
            *seen = seen.max((reading.strain.strain().0 * 1e9 - exact).abs());
        }
    }
    // What the map leaves out of the circuit is no part of a proof.
    let beside = channel.circuit_error().unwrap().0 + REFERENCE_NANOSTRAIN;
    seen.map(|seen| {
        assert!(seen - beside > 0.05, "{name}: only {seen} seen");
        seen - beside
    })
}

fn two_temperatures<const D: usize, const F: usize, const P: usize>(
    cases: &mut Vec<Case>,
    name: &str,
    channel: &CompensatedChannel,
) -> Result<(), gaugewright::Error> {
    let kernel: CompensatedKernel<D, F, P> = channel.try_fixed()?;
    let constants = kernel.constants();
    for path in Path::ALL {
        let description = Description::of_two_temperatures(&constants);
        cases.push(Case::of(name, path, &kernel.error_bound(), &description));
    }
    Ok(())
}
