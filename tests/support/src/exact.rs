//! The model of a channel in exact rationals, from a description: every `f64` is the number it is, every unit is
//! converted exactly, the bridge is solved as voltage dividers. It shares no formula with the library.
//!
//! For sweeps the same in whole numbers: gauge factor times indicated strain, and thermal output, in 2^-64, the
//! divisor's reciprocal in 2^-62, each the exact one rounded down. A strain from these is within
//! [`TRUNCATED_NANOSTRAIN`] of the exact one.

use super::described::{Basis, Description, FactorChange, Origin};
use super::network::{Fraction, Polynomial, Rational, exactly, output, ratio_of, whole};
use dashu_int::{IBig, ops::Gcd};
use gaugewright::channel::MismatchScale;
use gaugewright::{Circuit, Correction};

/// 2^-62 of strain. Signal less thermal output is off by less than 2^-64, times a reciprocal below 2; the reciprocal by
/// less than 2^-62, times less than a half.
pub const TRUNCATED_NANOSTRAIN: f64 = 2.2e-10;

/// One of the strains below.
pub const UNIT: f64 = 1.0 / (1u128 << 126) as f64;

/// Thermal output and gauge factor of one temperature.
#[derive(Clone, Copy, Debug)]
pub struct At {
    thermal: i64,
    reciprocal: i64,
}

impl At {
    /// Strain in 2^-126.
    #[inline(always)]
    pub const fn strain(&self, signal: i64) -> i128 {
        (signal - self.thermal) as i128 * self.reciprocal as i128
    }
}

/// A computed strain less the exact one, in nanostrain. The computed one is exact in 2^-126, or cut there.
#[inline(always)]
pub fn error(computed: f64, exact: i128) -> f64 {
    ((computed / UNIT) as i128 - exact) as f64 * (UNIT * 1e9)
}

pub struct Exact {
    /// Output ratio, or what an instrument's reading is proportional to, by gauge factor times strain.
    pub ratio: Fraction,
    /// Of it, for one code.
    pub per_code: Rational,
    /// Code.
    pub balance: Rational,
    /// Gauge factor times thermal output since balance, by degrees Celsius.
    pub thermal: Polynomial,
    /// What gauge factor times strain is divided by, by degrees Celsius.
    pub divisor: Fraction,
    /// Numerator and denominator of `ratio` in whole numbers, `ratio - code per_code` being zero where
    /// `over - code under` is.
    over: Vec<IBig>,
    under: Vec<IBig>,
    guess: [f64; 3],
    thermal_steps: Steps,
    divisor_steps: (Steps, Steps),
}

impl Exact {
    pub fn of(described: &Description) -> Self {
        let package = &described.package;
        let balance = exactly(described.balance.map_or(0.0, |(code, _)| code));
        let factor = exactly(package.factor);
        let reference = exactly(package.reference);
        let millionth = ratio_of(1, 1_000_000);
        // What a gauge gives to a strain along it and so many times as much across it. The Poisson ratio of the calibration beam is
        // the customary one, as an f64.
        let transverse = exactly(package.transverse) / whole(100);
        let response = |across: Rational| Rational::ONE + across * &transverse;
        let calibrated = response(-exactly(0.285));
        let both_ways = response(Rational::ONE) / &calibrated;

        let (ratio, per_code, shows, own_factor) = match described.origin {
            Origin::Codes(wired, bits, full_scale) => {
                let per_code = exactly(full_scale) / whole(1u64 << (bits - 1));
                let shows = matches!(wired.circuit, Circuit::Quarter | Circuit::OppositeArms);
                (output(&wired, &(&balance * &per_code)), per_code, shows, factor.clone())
            }
            Origin::Readings(step, shown) => {
                let per_code = exactly(step) * &millionth * exactly(shown);
                let ratio = Fraction {
                    over: Polynomial::line(&balance * &per_code, Rational::ONE),
                    under: Polynomial::constant(Rational::ONE),
                };
                (ratio, per_code, true, exactly(shown))
            }
        };
        let instrument = described.instrument_factor.map_or(own_factor, exactly);

        // F(T) = F (1 + a (T - Tr) + ...).
        let change = match package.change {
            FactorChange::Slope(percent) => vec![exactly(percent) * ratio_of(1, 10_000)],
            FactorChange::Polynomial(change) => change.map(exactly).to_vec(),
        };
        let change = [vec![Rational::ONE], change].concat();
        let from_reference = Polynomial::line(-reference.clone(), Rational::ONE);
        let factor_at = Polynomial(change).of_line(&-reference, &Rational::ONE).times(&factor);

        let curve = Polynomial(package.curve.iter().map(|&c| exactly(c)).collect());
        let curve = if package.fahrenheit { curve.of_line(&whole(32), &ratio_of(9, 5)) } else { curve };
        let stated = exactly(package.stated_for);
        let mut thermal = curve.times(&(&stated * &millionth));
        if let (Some(specimen), Some(matched)) = (described.specimen, package.matched) {
            let apart = (exactly(specimen) - exactly(matched)) * &millionth;
            let scale = match described.mismatch {
                MismatchScale::GaugeFactorAtTemperature => factor_at.times(&both_ways),
                MismatchScale::GaugeFactorAtReference => Polynomial::constant(&factor * &both_ways),
                MismatchScale::StatedGaugeFactor => Polynomial::constant(stated),
            };
            thermal = thermal.plus(&from_reference.multiplied(&scale).times(&apart));
        }
        if let Some((_, celsius)) = described.balance {
            let then = thermal.at(&exactly(celsius));
            thermal = thermal.minus(&Polynomial::constant(then.clone()));
            if package.basis != Basis::AtBalance {
                // A change of resistance is counted in parts of what it was at balance.
                thermal = thermal.times(&(Rational::ONE / (Rational::ONE + then)));
            }
        }
        if !shows || described.correction == Correction::None {
            thermal = Polynomial::constant(Rational::ZERO);
        }
        let one = Polynomial::constant(Rational::ONE);
        let divisor = match (described.correction, package.basis) {
            (Correction::Full, Basis::AtBalance) => Fraction { over: factor_at, under: one },
            (Correction::Full, basis) => {
                // From resistances over that at balance: strain is (loaded - unloaded) / (factor times what the factor refers to).
                let unloaded = one.plus(&thermal);
                let forced = match basis {
                    Basis::FreeFoil(forced) => Polynomial(forced.map(exactly).to_vec()),
                    _ => Polynomial::constant(Rational::ZERO),
                };
                let forced = forced.of_line(&-exactly(package.reference), &Rational::ONE);
                let by_forced = factor_at.multiplied(&forced).times(&(&both_ways * &millionth));
                Fraction { over: factor_at.multiplied(&unloaded), under: one.plus(&by_forced) }
            }
            _ => Fraction { over: Polynomial::constant(instrument), under: one },
        };
        let divisor = match (described.correction, described.strain_ratio) {
            (Correction::Full, Some(across)) => {
                let field = response(exactly(across)) / &calibrated;
                Fraction { over: divisor.over.times(&field), under: divisor.under }
            }
            _ => divisor,
        };
        Self::with(ratio, per_code, balance, thermal, divisor)
    }

    fn with(
        ratio: Fraction,
        per_code: Rational,
        balance: Rational,
        thermal: Polynomial,
        divisor: Fraction,
    ) -> Self {
        let terms = ratio.over.degree().max(ratio.under.degree()) + 1;
        let both: Vec<Rational> = (0..terms)
            .map(|k| ratio.over.coefficient(k))
            .chain((0..terms).map(|k| ratio.under.coefficient(k) * &per_code))
            .collect();
        let (mut over, _) = common(&both);
        let under = over.split_off(terms);
        let mut exact = Self {
            thermal_steps: Steps::of(&thermal),
            divisor_steps: (Steps::of(&divisor.over), Steps::of(&divisor.under)),
            ratio,
            per_code,
            balance,
            thermal,
            divisor,
            over,
            under,
            guess: [0.0; 3],
        };
        let (gain, curvature) = exact.map();
        exact.guess = [&exact.balance, &gain, &curvature].map(|x| x.to_f64_fast());
        exact
    }

    /// Gain and curvature of `y = gain c / (1 - curvature c)`, `c` the code less balance, that agrees with the network
    /// in value, slope and bend at balance.
    pub fn map(&self) -> (Rational, Rational) {
        let [value, slope, bend] = self.ratio.expanded();
        // Not equal only where the division of a reference half is a root.
        let off = value - &self.balance * &self.per_code;
        assert!(off.to_f64_fast().abs() < 1e-60, "the network is not balanced");
        let gain = Rational::ONE / &slope * &self.per_code;
        let curvature = -bend / (&slope * &slope) * &self.per_code;
        (gain, curvature)
    }

    /// Gauge factor times indicated strain is one straight line over another in the code.
    pub fn is_bilinear(&self) -> bool {
        self.over.len() <= 2
    }

    /// The exact strain. Of circuits for which `is_bilinear` only.
    pub fn strain(&self, code: i32, bits: i32) -> Rational {
        assert!(self.is_bilinear());
        let coefficient = |k: usize| whole(&self.over[k] - &self.under[k] * IBig::from(code));
        let signal = -coefficient(0) / coefficient(1);
        let celsius = ratio_of(i64::from(bits), 1 << 20);
        (signal - self.thermal.at(&celsius)) * self.divisor.under.at(&celsius)
            / self.divisor.over.at(&celsius)
    }

    /// Gauge factor times indicated strain in 2^-64, rounded down: by division, or proved by a change of sign.
    pub fn signal(&self, code: i32) -> i64 {
        let code_big = IBig::from(code);
        let at: Vec<IBig> =
            self.over.iter().zip(&self.under).map(|(over, under)| over - under * &code_big).collect();
        if let [zero, one] = &at[..] {
            return held(floor_of(-zero.clone() << 64, one.clone()));
        }
        let top = at.len() - 1;
        // Times 2^(64 top).
        let residue = |signal: &IBig| {
            let mut sum = at[top].clone();
            for k in (0..top).rev() {
                sum = sum * signal + (at[k].clone() << (64 * (top - k)));
            }
            sum
        };
        let [balance, gain, curvature] = self.guess;
        let c = f64::from(code) - balance;
        let near = gain * c / (1.0 - curvature * c) * 18_446_744_073_709_551_616.0;
        let mut before = IBig::from(near as i128);
        let mut now = &before + (IBig::ONE << 40);
        let mut f_before = residue(&before);
        loop {
            let f_now = residue(&now);
            let rise = &f_now - &f_before;
            assert!(rise != IBig::ZERO, "code {code}: flat");
            let step = &f_now * (&now - &before) / rise;
            let done = step == IBig::ZERO;
            (before, f_before) = (now.clone(), f_now);
            now -= step;
            if done {
                break;
            }
        }
        // The zero is beside it: find on which side.
        for low in [&now - IBig::from(2), &now - IBig::ONE, now.clone(), &now + IBig::ONE] {
            let (a, b) = (residue(&low), residue(&(&low + IBig::ONE)));
            if a == IBig::ZERO || (a < IBig::ZERO) != (b < IBig::ZERO) && b != IBig::ZERO {
                return held(low);
            }
        }
        panic!("code {code}: no change of sign");
    }

    pub fn at(&self, bits: i32) -> At {
        let bits = IBig::from(bits);
        let (over, under) = (self.thermal_steps.at(&bits), self.thermal_steps.unit.clone());
        let thermal = held(floor_of(over << 64, under));
        let (divisor, under) = &self.divisor_steps;
        let (over, under) = (under.at(&bits) * &divisor.unit, divisor.at(&bits) * &under.unit);
        let reciprocal = i64::try_from(floor_of(over << 62, under)).expect("a divisor above a half");
        At { thermal, reciprocal }
    }
}

/// A polynomial of temperature in Q20 degrees Celsius, in whole numbers over one.
struct Steps {
    terms: Vec<IBig>,
    unit: IBig,
}

impl Steps {
    fn of(polynomial: &Polynomial) -> Self {
        let by_step = polynomial.of_line(&Rational::ZERO, &ratio_of(1, 1 << 20));
        let (terms, unit) = common(&by_step.0);
        Self { terms, unit }
    }

    fn at(&self, bits: &IBig) -> IBig {
        self.terms.iter().rev().fold(IBig::ZERO, |sum, c| sum * bits + c)
    }
}

/// Fractions brought to one denominator, in lowest terms: numerators, and the denominator.
fn common(fractions: &[Rational]) -> (Vec<IBig>, IBig) {
    let unit = fractions.iter().fold(IBig::ONE, |unit, x| {
        let under = IBig::from(x.denominator().clone());
        let shared = IBig::from((&unit).gcd(&under));
        unit / shared * under
    });
    let terms =
        fractions.iter().map(|x| x.numerator() * &unit / IBig::from(x.denominator().clone())).collect();
    (terms, unit)
}

fn floor_of(over: IBig, under: IBig) -> IBig {
    let (over, under) = if under < IBig::ZERO { (-over, -under) } else { (over, under) };
    let (quotient, rest) = (&over / &under, &over % &under);
    if rest < IBig::ZERO { quotient - IBig::ONE } else { quotient }
}

/// A quarter either way, so that the difference of two is a half at most.
fn held(x: IBig) -> i64 {
    let x = i64::try_from(x).expect("within a half");
    assert!(x.unsigned_abs() <= 1 << 62, "{x} is beyond a quarter");
    x
}
