//! The kernels of the library behind one name: with one temperature, or with two.

use gaugewright::fixed::{self, Reading, Temperature};
use gaugewright::float;
use gaugewright::kernel::ErrorBound;
use gaugewright::units::Nanostrain;
use gaugewright::{Channel, Error};

/// Room for every channel that the library takes.
#[derive(Clone, Copy)]
pub enum Kernel {
    One(fixed::Kernel<5, 3>),
    /// A compensating gauge has a temperature of its own.
    Two(fixed::CompensatedKernel<5, 3>),
}

impl Kernel {
    /// # Errors
    /// As the library's.
    pub fn of(channel: &Channel, has_two_temperatures: bool) -> Result<Self, Error> {
        Ok(if has_two_temperatures {
            Self::Two(channel.try_compensated_fixed()?)
        } else {
            Self::One(channel.try_fixed()?)
        })
    }

    /// # Errors
    /// As the library's, and if the error limit is exceeded.
    pub fn within(
        channel: &Channel,
        has_two_temperatures: bool,
        error_limit: Nanostrain,
    ) -> Result<Self, Error> {
        Ok(if has_two_temperatures {
            Self::Two(channel.try_compensated_fixed_within(error_limit)?)
        } else {
            Self::One(channel.try_fixed_within(error_limit)?)
        })
    }

    /// One sample. A kernel with one temperature does not look at `compensating`.
    pub fn reading(&self, code: i32, temperature: Temperature, compensating: Temperature) -> Reading {
        match self {
            Self::One(kernel) => kernel.reading(code, temperature),
            Self::Two(kernel) => kernel.reading(code, temperature, compensating),
        }
    }

    /// What is left to do while the temperatures stay.
    pub fn at(&self, temperature: Temperature, compensating: Temperature) -> fixed::OperatingPoint {
        match self {
            Self::One(kernel) => kernel.at(temperature),
            Self::Two(kernel) => kernel.at(temperature, compensating),
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
        }
    }

    pub fn error_bound(&self) -> ErrorBound {
        match self {
            Self::One(kernel) => kernel.error_bound(),
            Self::Two(kernel) => kernel.error_bound(),
        }
    }
}

/// The same in single precision.
#[derive(Clone, Copy)]
pub enum Single {
    One(float::Kernel<f32, 5, 3>),
    Two(float::CompensatedKernel<f32, 5, 3>),
}

impl Single {
    /// # Errors
    /// As the library's.
    pub fn of(channel: &Channel, has_two_temperatures: bool) -> Result<Self, Error> {
        Ok(if has_two_temperatures {
            Self::Two(channel.try_compensated_float32()?)
        } else {
            Self::One(channel.try_float32()?)
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
        }
    }

    /// As [`Kernel::at`].
    pub fn at(&self, temperature: Temperature, compensating: Temperature) -> float::OperatingPoint<f32> {
        match self {
            Self::One(kernel) => kernel.at(temperature),
            Self::Two(kernel) => kernel.at(temperature, compensating),
        }
    }
}
