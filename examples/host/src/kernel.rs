//! The kernels of the library behind one name: with one temperature, or with two.

use crate::keys::told_on_site;
use gaugewright::error::Quantity;
use gaugewright::fixed::{self, Reading, Span, Temperature};
use gaugewright::float;
use gaugewright::kernel::ErrorBound;
use gaugewright::reference::{self, Steps};
use gaugewright::units::{Celsius, Nanostrain, Strain};
use gaugewright::{Channel, CompensatingGauge, Error};

/// What a kernel of one temperature does, and one of two.
macro_rules! either {
    ($self:ident, $kernel:ident => $one:expr, $two:expr) => {
        match $self {
            Self::One($kernel) => $one,
            Self::Two($kernel) => $two,
            Self::TwoProduct($kernel) => $two,
        }
    };
}

/// Room for every channel that the library takes.
#[derive(Clone, Copy)]
pub enum Kernel {
    One(fixed::Kernel<5, 3, 1>),
    /// A compensating gauge has a temperature of its own.
    Two(fixed::CompensatedKernel<5, 3>),
    /// The same with the product of thermal and mechanical change. Not for a channel without it: its last bits would not be those
    /// of the usual kernel.
    TwoProduct(fixed::CompensatedKernel<5, 3, 1>),
}

impl Kernel {
    /// # Errors
    /// As the library's.
    pub fn of(channel: &Channel, compensating: Option<CompensatingGauge>) -> Result<Self, Error> {
        Ok(match compensating {
            None => Self::One(channel.try_fixed()?),
            Some(second) => {
                let channel = channel.compensated_by(second);
                or_with_product(channel.try_fixed().map(Self::Two), || {
                    channel.try_fixed().map(Self::TwoProduct)
                })?
            }
        })
    }

    /// # Errors
    /// As the library's, and if the error limit is exceeded.
    pub fn within(
        channel: &Channel,
        compensating: Option<CompensatingGauge>,
        error_limit: Nanostrain,
    ) -> Result<Self, Error> {
        Ok(match compensating {
            None => Self::One(channel.try_fixed_within(error_limit)?),
            Some(second) => {
                let channel = channel.compensated_by(second);
                or_with_product(channel.try_fixed_within(error_limit).map(Self::Two), || {
                    channel.try_fixed_within(error_limit).map(Self::TwoProduct)
                })?
            }
        })
    }

    /// One sample. A kernel with one temperature does not look at `compensating`.
    pub fn reading(&self, code: i32, temperature: Temperature, compensating: Temperature) -> Reading {
        either!(self, kernel => kernel.reading(code, temperature), kernel.reading(code, temperature, compensating))
    }

    /// What is left to do while the temperatures stay.
    pub fn at(&self, temperature: Temperature, compensating: Temperature) -> fixed::OperatingPoint {
        either!(self, kernel => kernel.at(temperature), kernel.at(temperature, compensating))
    }

    /// A block of samples. A kernel with one temperature does not look at `compensating`.
    ///
    /// # Errors
    /// If the slices differ in length.
    pub fn readings(
        &self,
        codes: &[i32],
        temperatures: &[Temperature],
        compensating: &[Temperature],
        readings: &mut [Reading],
    ) -> Result<(), Error> {
        either!(self, kernel => kernel.readings(codes, temperatures, readings), {
            kernel.readings(codes, temperatures, compensating, readings)
        })
    }

    pub fn error_bound(&self) -> ErrorBound {
        either!(self, kernel => kernel.error_bound(), kernel.error_bound())
    }
}

/// Passes the numbers of each type of kernel to a macro, the smallest first.
macro_rules! each_size {
    ($try_each:ident) => {
        $try_each!(
            <4, 1, 0> <5, 1, 0> <4, 2, 0> <5, 2, 0> <4, 3, 0> <5, 3, 0> <4, 1, 1> <5, 1, 1> <4, 2, 1> <5, 2, 1> <4, 3, 1> <5, 3, 1>
        )
    };
}

/// The ranges of zero and span of an adjustable kernel: balance codes, and span corrections.
pub type Ranges = ((i32, i32), (Span, Span));

/// What the map leaves out of the circuit at the ends of the ranges of zero and span, at most.
///
/// # Errors
/// As the library's.
pub fn circuit_error(
    channel: &Channel,
    compensating: Option<CompensatingGauge>,
    (codes, spans): Ranges,
) -> Result<Nanostrain, Error> {
    let mut largest = Nanostrain(0.0);
    for (code, span) in [codes.0, codes.1].into_iter().flat_map(|code| [(code, spans.0), (code, spans.1)]) {
        let channel = channel.balanced(code.into(), channel.temperatures().0).span_correction(span.ratio());
        let left_out = match compensating {
            None => channel.circuit_error()?,
            Some(second) => channel.compensated_by(second).circuit_error()?,
        };
        largest = Nanostrain(largest.0.max(left_out.0));
    }
    Ok(largest)
}

/// The numbers of the smallest type of kernel, in fixed point, that a channel compiles to within an error limit, as Rust writes them;
/// of an adjustable kernel, if there are ranges of zero and span.
///
/// # Errors
/// What the library says of the largest type.
pub fn smallest(
    channel: &Channel,
    compensating: Option<CompensatingGauge>,
    error_limit: Nanostrain,
    on_site: Option<Ranges>,
) -> Result<&'static str, String> {
    let Some(ranges) = on_site else {
        return smallest_fixed(channel, compensating, error_limit).map_err(|error| error.to_string());
    };
    let told = |error| format!("zero and span on site: {}", told_on_site(error));
    let circuit = circuit_error(channel, compensating, ranges).map_err(told)?;
    let (codes, spans) = ranges;
    macro_rules! try_each {
        ($(<$degree:literal, $factor:literal, $product:literal>)*) => {
            [$((concat!($degree, ", ", $factor, ", ", $product), match compensating {
                None => channel
                    .try_fixed_adjustable::<$degree, $factor, $product>(codes, spans)
                    .and_then(|kernel| Ok((kernel.error_bound().max(), channel.gauge_factor_error($factor)?))),
                Some(second) => {
                    let both = channel.compensated_by(second);
                    both.try_fixed_adjustable::<$degree, $factor, $product>(codes, spans)
                        .and_then(|kernel| Ok((kernel.error_bound().max(), both.gauge_factor_error($factor)?)))
                }
            }.map_err(told).and_then(|(bound, factor)| within(&[bound, circuit, factor], error_limit)))),*]
        };
    }
    first_of(each_size!(try_each))
}

/// `Ok` where the parts of an adjustable kernel's error are within the limit.
///
/// # Errors
/// What they are and what they may be.
pub fn within(parts: &[Nanostrain], limit: Nanostrain) -> Result<(), String> {
    let (bound, limit) = (parts.iter().map(|part| part.0).sum::<f64>(), limit.0);
    if bound <= limit {
        return Ok(());
    }
    Err(format!(
        "zero and span on site: the error bound is {bound:.3} nanostrain, the limit is {limit} nanostrain \
         (error_within_nanostrain)"
    ))
}

fn smallest_fixed(
    channel: &Channel,
    compensating: Option<CompensatingGauge>,
    error_limit: Nanostrain,
) -> Result<&'static str, Error> {
    macro_rules! try_each {
        ($(<$degree:literal, $factor:literal, $product:literal>)*) => {
            [$((concat!($degree, ", ", $factor, ", ", $product), match compensating {
                None => channel
                    .try_fixed_within::<$degree, $factor, $product>(error_limit)
                    .map(|_| ()),
                Some(second) => channel
                    .compensated_by(second)
                    .try_fixed_within::<$degree, $factor, $product>(error_limit)
                    .map(|_| ()),
            })),*]
        };
    }
    first_of(each_size!(try_each))
}

/// The first that is well, or what is wrong with the last.
fn first_of<E, const N: usize>(found: [(&'static str, Result<(), E>); N]) -> Result<&'static str, E> {
    let mut last = Ok("");
    for (numbers, result) in found {
        match result {
            Ok(()) => return Ok(numbers),
            Err(error) => last = Err(error),
        }
    }
    last
}

/// The first kernel, which has no room for the product of thermal and mechanical change, or the other for a channel that has it.
fn or_with_product<K>(
    kernel: Result<K, Error>,
    with_product: impl FnOnce() -> Result<K, Error>,
) -> Result<K, Error> {
    match kernel {
        Err(Error::Overflow { quantity: Quantity::ProductConstants, .. }) => with_product(),
        other => other,
    }
}

/// The same in single precision.
#[derive(Clone, Copy)]
pub enum Single {
    One(float::Kernel<f32, 5, 3, 1>),
    Two(float::CompensatedKernel<f32, 5, 3>),
    TwoProduct(float::CompensatedKernel<f32, 5, 3, 1>),
}

impl Single {
    /// # Errors
    /// As the library's.
    pub fn of(channel: &Channel, compensating: Option<CompensatingGauge>) -> Result<Self, Error> {
        Ok(match compensating {
            None => Self::One(channel.try_float32()?),
            Some(second) => {
                let channel = channel.compensated_by(second);
                or_with_product(channel.try_float32().map(Self::Two), || {
                    channel.try_float32().map(Self::TwoProduct)
                })?
            }
        })
    }

    /// As [`Kernel::reading`].
    pub fn reading(
        &self,
        code: i32,
        temperature: Temperature,
        compensating: Temperature,
    ) -> float::Reading<f32> {
        either!(self, kernel => kernel.reading(code, temperature), kernel.reading(code, temperature, compensating))
    }

    /// As [`Kernel::at`].
    pub fn at(&self, temperature: Temperature, compensating: Temperature) -> float::OperatingPoint<f32> {
        either!(self, kernel => kernel.at(temperature), kernel.at(temperature, compensating))
    }
}

/// The model in double precision.
pub enum Model {
    One(Box<reference::Model>),
    Two(Box<reference::CompensatedModel>),
}

impl Model {
    /// # Errors
    /// As the library's.
    pub fn of(channel: &Channel, compensating: Option<CompensatingGauge>) -> Result<Self, Error> {
        Ok(match compensating {
            None => Self::One(Box::new(reference::Model::new(channel)?)),
            Some(second) => {
                Self::Two(Box::new(reference::CompensatedModel::new(&channel.compensated_by(second))?))
            }
        })
    }

    /// A model with one temperature does not look at `compensating`.
    pub fn steps(&self, code: f64, temperature: Celsius, compensating: Celsius) -> Steps {
        match self {
            Self::One(model) => model.steps(code, temperature),
            Self::Two(model) => model.steps(code, temperature, compensating),
        }
    }

    /// Thermal output of the gauge that measures, and of the one that compensates where it has a temperature of its own.
    pub fn thermal_outputs(&self, temperature: Celsius, compensating: Celsius) -> (Strain, Strain) {
        match self {
            Self::One(model) => (model.thermal_output(temperature), Strain(0.0)),
            Self::Two(model) => model.thermal_outputs(temperature, compensating),
        }
    }
}
