//! The kernels of the library behind one name: with one temperature, or with two.

use gaugewright::error::Quantity;
use gaugewright::fixed::{self, Reading, Temperature};
use gaugewright::float;
use gaugewright::kernel::ErrorBound;
use gaugewright::reference::{self, Steps};
use gaugewright::units::{Celsius, Nanostrain, Strain};
use gaugewright::{Channel, CompensatingGauge, Error};

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
        match self {
            Self::One(kernel) => kernel.reading(code, temperature),
            Self::Two(kernel) => kernel.reading(code, temperature, compensating),
            Self::TwoProduct(kernel) => kernel.reading(code, temperature, compensating),
        }
    }

    /// What is left to do while the temperatures stay.
    pub fn at(&self, temperature: Temperature, compensating: Temperature) -> fixed::OperatingPoint {
        match self {
            Self::One(kernel) => kernel.at(temperature),
            Self::Two(kernel) => kernel.at(temperature, compensating),
            Self::TwoProduct(kernel) => kernel.at(temperature, compensating),
        }
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
        match self {
            Self::One(kernel) => kernel.readings(codes, temperatures, readings),
            Self::Two(kernel) => kernel.readings(codes, temperatures, compensating, readings),
            Self::TwoProduct(kernel) => kernel.readings(codes, temperatures, compensating, readings),
        }
    }

    pub fn error_bound(&self) -> ErrorBound {
        match self {
            Self::One(kernel) => kernel.error_bound(),
            Self::Two(kernel) => kernel.error_bound(),
            Self::TwoProduct(kernel) => kernel.error_bound(),
        }
    }
}

/// The numbers of the smallest type of kernel, in fixed point, that a channel compiles to within an error limit, as Rust writes them.
///
/// # Errors
/// What the library says of the largest type.
pub fn smallest(
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
    let found = try_each!(
        <4, 1, 0> <5, 1, 0> <4, 2, 0> <5, 2, 0> <4, 3, 0> <5, 3, 0> <4, 1, 1> <5, 1, 1> <4, 2, 1> <5, 2, 1> <4, 3, 1> <5, 3, 1>
    );
    let [.., (_, of_largest)] = found;
    found
        .iter()
        .find_map(|(numbers, result)| result.is_ok().then_some(*numbers))
        .map_or(of_largest.map(|()| ""), Ok)
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
        match self {
            Self::One(kernel) => kernel.reading(code, temperature),
            Self::Two(kernel) => kernel.reading(code, temperature, compensating),
            Self::TwoProduct(kernel) => kernel.reading(code, temperature, compensating),
        }
    }

    /// As [`Kernel::at`].
    pub fn at(&self, temperature: Temperature, compensating: Temperature) -> float::OperatingPoint<f32> {
        match self {
            Self::One(kernel) => kernel.at(temperature),
            Self::Two(kernel) => kernel.at(temperature, compensating),
            Self::TwoProduct(kernel) => kernel.at(temperature, compensating),
        }
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
