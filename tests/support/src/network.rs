//! Polynomials and bridges in exact rationals. A bridge is two voltage dividers, each a source with a resistance of
//! its own (Thevenin), and what the input and the excitation leads take from them. It shares nothing with the
//! library's network but the resistors.

use super::described::Wired;
use dashu_int::{IBig, UBig};
pub use dashu_ratio::RBig as Rational;
use gaugewright::Circuit;

/// The number that an `f64` is.
pub fn exactly(x: f64) -> Rational {
    Rational::try_from(x).unwrap_or_else(|_| panic!("{x} is no number"))
}

pub fn whole(x: impl Into<IBig>) -> Rational {
    Rational::from(x.into())
}

pub fn ratio_of(numerator: i64, denominator: u64) -> Rational {
    Rational::from_parts(IBig::from(numerator), UBig::from(denominator))
}

/// The next lower multiple of 2^-bits.
pub fn floor_to(x: &Rational, bits: usize) -> Rational {
    let unit = UBig::ONE << bits;
    Rational::from_parts((x * whole(unit.clone())).floor(), unit)
}

/// By ascending powers.
#[derive(Clone, Debug, PartialEq)]
pub struct Polynomial(pub Vec<Rational>);

impl Polynomial {
    pub fn constant(value: Rational) -> Self {
        Self(vec![value])
    }

    pub fn line(constant: Rational, slope: Rational) -> Self {
        Self(vec![constant, slope])
    }

    pub fn coefficient(&self, power: usize) -> Rational {
        self.0.get(power).cloned().unwrap_or(Rational::ZERO)
    }

    pub fn degree(&self) -> usize {
        self.0.iter().rposition(|c| !c.is_zero()).unwrap_or(0)
    }

    pub fn at(&self, x: &Rational) -> Rational {
        self.0.iter().rev().fold(Rational::ZERO, |sum, c| sum * x + c)
    }

    pub fn plus(&self, other: &Self) -> Self {
        let terms = self.0.len().max(other.0.len());
        Self((0..terms).map(|k| self.coefficient(k) + other.coefficient(k)).collect())
    }

    pub fn times(&self, by: &Rational) -> Self {
        Self(self.0.iter().map(|c| c * by).collect())
    }

    pub fn minus(&self, other: &Self) -> Self {
        self.plus(&other.times(&whole(-1)))
    }

    pub fn multiplied(&self, other: &Self) -> Self {
        let mut product = vec![Rational::ZERO; self.0.len() + other.0.len() - 1];
        for (i, a) in self.0.iter().enumerate() {
            for (j, b) in other.0.iter().enumerate() {
                product[i + j] += a * b;
            }
        }
        Self(product)
    }

    /// The polynomial of `x` that this one is of `constant + slope x`.
    pub fn of_line(&self, constant: &Rational, slope: &Rational) -> Self {
        let line = Self::line(constant.clone(), slope.clone());
        let start = Self::constant(Rational::ZERO);
        self.0.iter().rev().fold(start, |sum, c| sum.multiplied(&line).plus(&Self::constant(c.clone())))
    }
}

/// One polynomial over another.
#[derive(Clone, Debug)]
pub struct Fraction {
    pub over: Polynomial,
    pub under: Polynomial,
}

impl Fraction {
    pub fn at(&self, x: &Rational) -> Rational {
        self.over.at(x) / self.under.at(x)
    }

    /// Value, slope and half the second derivative at zero.
    pub fn expanded(&self) -> [Rational; 3] {
        let (n, d) = (|k| self.over.coefficient(k), |k| self.under.coefficient(k));
        let value = n(0) / d(0);
        let slope = (n(1) - &value * d(1)) / d(0);
        let bend = (n(2) - &value * d(2) - &slope * d(1)) / d(0);
        [value, slope, bend]
    }

    fn plus(&self, offset: &Rational) -> Self {
        Self { over: self.over.plus(&self.under.times(offset)), under: self.under.clone() }
    }

    fn turned(&self) -> Self {
        Self { over: self.over.times(&whole(-1)), under: self.under.clone() }
    }
}

/// What is in series with the four arms.
struct Around {
    excitation: Rational,
    output: Rational,
    input: Option<Rational>,
}

impl Around {
    fn of(wired: &Wired) -> Self {
        let lead = exactly(wired.lead);
        let full = is_full(wired.circuit);
        Self {
            excitation: if full && !wired.sensed { &lead * whole(2) } else { Rational::ZERO },
            output: match (full, wired.two_wire) {
                (true, _) => &lead * whole(2),
                (false, true) => Rational::ZERO,
                (false, false) => lead,
            },
            input: wired.input.map(exactly),
        }
    }

    /// The output over the excitation, of arms that are polynomials of anything.
    fn ratio(&self, [a1, a2, a3, a4]: &[Polynomial; 4]) -> Fraction {
        let (left, right) = (a1.plus(a2), a3.plus(a4));
        let both = left.multiplied(&right);
        // Open: a1 / left - a4 / right.
        let open = a1.multiplied(&right).minus(&a4.multiplied(&left));
        let Some(input) = &self.input else {
            // The corners get 1 / (1 + excitation (1 / left + 1 / right)).
            return Fraction { over: open, under: both.plus(&left.plus(&right).times(&self.excitation)) };
        };
        // Around the output: input, its leads, and the two dividers' own resistances a1 a2 / left, a3 a4 / right.
        let inner = a1.multiplied(a2).multiplied(&right).plus(&a3.multiplied(a4).multiplied(&left));
        let loop_ = both.times(&(input + &self.output)).plus(&inner);
        if self.excitation.is_zero() {
            return Fraction { over: open.times(input), under: loop_ };
        }
        // The dividers draw 1 / left + 1 / right and, for the output's current, (open / both)^2 over the loop.
        let drawn = left.plus(&right).multiplied(&loop_).plus(&open.multiplied(&open));
        Fraction {
            over: open.multiplied(&both).times(input),
            under: both.multiplied(&loop_).plus(&drawn.times(&self.excitation)),
        }
    }

    fn at_rest(&self, arms: [Rational; 4]) -> Rational {
        self.ratio(&arms.map(Polynomial::constant)).at(&Rational::ZERO)
    }
}

const fn is_full(circuit: Circuit) -> bool {
    matches!(
        circuit,
        Circuit::FullBending | Circuit::FullPoisson | Circuit::FullTorsion | Circuit::OppositeArms
    )
}

/// What each arm sees of the strain of arm 1.
fn shares(wired: &Wired) -> [Rational; 4] {
    // A gauge across the load has the strain along it as its transverse strain.
    let (nu, transverse) = (-exactly(wired.poisson), exactly(wired.across) / whole(100));
    let nu = (&nu + &transverse) / (Rational::ONE + nu * transverse);
    let [zero, one] = [Rational::ZERO, Rational::ONE];
    match wired.circuit {
        Circuit::Quarter | Circuit::HalfCompensated => [one, zero.clone(), zero.clone(), zero],
        Circuit::HalfPoisson => [one, nu, zero.clone(), zero],
        Circuit::HalfBending => [one, whole(-1), zero.clone(), zero],
        Circuit::FullBending | Circuit::FullTorsion => [one.clone(), whole(-1), one, whole(-1)],
        Circuit::FullPoisson => [one.clone(), nu.clone(), one, nu],
        Circuit::OppositeArms => [one.clone(), zero.clone(), one, zero],
        other => panic!("{other:?} has no shares yet"),
    }
}

/// The output ratio as a function of gauge factor times strain, with the unbalance put where the library says it
/// is: in arm 2, else in the division of the reference half, else nowhere.
pub fn output(wired: &Wired, at_balance: &Rational) -> Fraction {
    let around = Around::of(wired);
    let own = if wired.reversed { -at_balance.clone() } else { at_balance.clone() };
    let gauge = exactly(wired.gauge);
    let lead = exactly(wired.lead);
    let leads = match (is_full(wired.circuit), wired.two_wire) {
        (true, _) => [Rational::ZERO, Rational::ZERO],
        (false, true) => [&lead * whole(2), Rational::ZERO],
        (false, false) => [lead.clone(), lead],
    };
    let a1 = &gauge + &leads[0];
    let stated = wired.reference.map(|(upper, lower)| (exactly(upper), exactly(lower)));
    let (a3, a4) = stated.clone().unwrap_or_else(|| (gauge.clone(), gauge.clone()));
    let arms = match (wired.completion, &stated) {
        (None, _) => {
            let with = |a2: &Rational| around.at_rest([a1.clone(), a2.clone(), a3.clone(), a4.clone()]);
            let a2 = bilinear_root(&gauge, &own, with);
            [a1, a2, a3, a4]
        }
        (Some(completion), None) => {
            let a2 = exactly(completion) + &leads[1];
            let divided = |h: &Rational| {
                let half = &gauge / whole(2);
                [a1.clone(), a2.clone(), &half / h, half / (Rational::ONE - h)]
            };
            divided(&secant_root(|h| around.at_rest(divided(h)) - &own))
        }
        (Some(completion), Some(_)) => [a1, exactly(completion) + &leads[1], a3, a4],
    };
    let [l1, l2] = leads;
    let of_lead = [l1, l2, Rational::ZERO, Rational::ZERO];
    let shares = shares(wired);
    let moving: Vec<Polynomial> =
        (0..4).map(|k| Polynomial::line(arms[k].clone(), &shares[k] * (&arms[k] - &of_lead[k]))).collect();
    let fraction = around.ratio(&moving.try_into().expect("four arms"));
    let fraction = if wired.completion.is_some() && stated.is_some() {
        let rest = fraction.at(&Rational::ZERO);
        fraction.plus(&(own - rest))
    } else {
        fraction
    };
    if wired.reversed { fraction.turned() } else { fraction }
}

/// The arm at which a network gives `wanted`. The output is one straight line over another in any one resistor, and
/// three values give these: the double ratio of four resistors is that of their outputs. Exact.
fn bilinear_root(gauge: &Rational, wanted: &Rational, output: impl Fn(&Rational) -> Rational) -> Rational {
    let [x0, x1, x2] = [(2, 3), (5, 4), (9, 5)].map(|(n, d)| gauge * ratio_of(n, d));
    let [f0, f1, f2] = [&x0, &x1, &x2].map(&output);
    let k = (wanted - &f0) * (&f1 - &f2) / ((wanted - &f2) * (&f1 - &f0));
    let (near, far) = (&x1 - &x2, &x1 - &x0);
    let arm = (&x0 * &near - &k * &x2 * &far) / (near - k * far);
    assert_eq!(&output(&arm), wanted, "the arm does not give the balance ratio");
    arm
}

/// A zero near one half, to 2^-220: far below anything that is looked at.
fn secant_root(f: impl Fn(&Rational) -> Rational) -> Rational {
    let near = |x: &Rational| x.numerator().is_zero() || x.to_f64_fast().abs() < 1e-66;
    let (mut before, mut now) = (ratio_of(1, 2), ratio_of(501, 1000));
    let mut f_before = f(&before);
    for _ in 0..40 {
        let f_now = f(&now);
        if near(&f_now) {
            return now;
        }
        let next = &now - &f_now * (&now - &before) / (&f_now - &f_before);
        (before, f_before) = (now, f_now);
        now = floor_to(&next, 256);
    }
    panic!("no division of the reference half gives the balance ratio")
}

/// The voltage between two nodes of any network for one volt between two others, by elimination in exact rationals. Branches
/// are two nodes and a resistance, `None` where it is open; `None` where the voltage is undetermined.
pub fn nodal(
    branches: &[(usize, usize, Option<Rational>)],
    (plus, minus): (usize, usize),
    (a, b): (usize, usize),
) -> Option<Rational> {
    let nodes = 1 + branches.iter().map(|(from, to, _)| *from.max(to)).max().unwrap();
    // Wires of no resistance join their ends.
    let mut name: Vec<usize> = (0..nodes).collect();
    for (from, to, ohms) in branches {
        if ohms.as_ref().is_some_and(Rational::is_zero) {
            let (keep, drop) = (name[*from], name[*to]);
            name.iter_mut().filter(|node| **node == drop).for_each(|node| *node = keep);
        }
    }
    let mut rows = vec![vec![Rational::ZERO; nodes + 1]; nodes];
    for (from, to, ohms) in branches {
        let (from, to) = (name[*from], name[*to]);
        if let Some(ohms) = ohms.as_ref().filter(|ohms| !ohms.is_zero() && from != to) {
            for (here, there) in [(from, to), (to, from)] {
                rows[here][here] += whole(1) / ohms;
                rows[here][there] -= whole(1) / ohms;
            }
        }
    }
    for (held, volts) in [(name[plus], 1), (name[minus], 0)] {
        rows[held] = vec![Rational::ZERO; nodes + 1];
        rows[held][held] = whole(1);
        rows[held][nodes] = whole(volts);
    }
    // What is asked for, as one more unknown: it is determined where the last row has no other unknown left.
    let mut asked = vec![Rational::ZERO; nodes + 1];
    asked[name[a]] += whole(1);
    asked[name[b]] -= whole(1);
    for column in 0..nodes {
        let Some(row) = rows.iter().position(|row| !row[column].is_zero()) else { continue };
        let pivot = rows.swap_remove(row);
        for row in rows.iter_mut().chain([&mut asked]) {
            let factor = &row[column] / &pivot[column];
            if !factor.is_zero() {
                row.iter_mut().zip(&pivot).for_each(|(entry, pivot)| *entry -= &factor * pivot);
            }
        }
    }
    let value = asked.pop().unwrap();
    asked.iter().all(Rational::is_zero).then(|| -value)
}
