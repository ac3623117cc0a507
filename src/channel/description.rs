//! One number for all that a channel was described with.

use super::bridge::Bridge;
use super::gauge::Scale;
use super::{
    Balance, Channel, Circuit, CompensatedChannel, CompensatingGauge, Correction, ForcedStrain, Gauge,
    GaugeFactorBasis, MismatchScale, Source, StrainRatio, ThermalOutput, Wiring,
};
use crate::sample::{Converter, Instrument};
use crate::units::{Celsius, ExpansionPerCelsius, Microstrain};
use crc::{CRC_64_XZ, Crc, NoTable};

impl Channel {
    /// CRC-64/XZ over every field of the description: two channels that differ in one number have other ones (but for one pair
    /// in 2^64). It is the same on every machine and in every version 0.1, in a constant as at run time, and is what a record
    /// has of the file or the code that a kernel came from. It is no protection against intent.
    ///
    /// ```
    /// use gaugewright::{example::CHANNEL, units::*};
    /// const DESCRIPTION: u64 = CHANNEL.description_hash();
    /// assert_ne!(DESCRIPTION, CHANNEL.balanced(1.0, Celsius(20.0)).description_hash());
    /// ```
    #[must_use]
    pub const fn description_hash(&self) -> u64 {
        hash(self, None)
    }
}

impl CompensatedChannel {
    /// The hash of both gauges and all the rest, as [`Channel::description_hash`].
    ///
    /// ```
    /// use gaugewright::example::COMPENSATED;
    /// assert_ne!(COMPENSATED.description_hash(), COMPENSATED.channel().description_hash());
    /// ```
    #[must_use]
    pub const fn description_hash(&self) -> u64 {
        hash(&self.channel, Some(&self.compensating))
    }
}

const fn hash(channel: &Channel, compensating: Option<&CompensatingGauge>) -> u64 {
    let mut digest = Digest(CRC_64.digest());
    digest.channel(channel);
    if let Some(compensating) = compensating {
        digest.compensating(compensating);
    }
    digest.0.finalize()
}

/// By bits: a table would cost a target two kilobytes.
const CRC_64: &Crc<u64, NoTable> = &Crc::<u64, NoTable>::new(&CRC_64_XZ);

/// Every type is taken apart without `..`, so that a new field does not compile without its line here. What is added after 0.1 goes
/// to the end, and only where it is not its default: hashes of old channels stay what they are.
struct Digest(crc::Digest<'static, u64, NoTable>);

impl Digest {
    const fn word(&mut self, word: u32) {
        self.0.update(&word.to_le_bytes());
    }

    const fn number(&mut self, number: f64) {
        // One pattern for zero and one for what is not given.
        let number = if number == 0.0 {
            0.0
        } else if number.is_nan() {
            f64::NAN
        } else {
            number
        };
        self.0.update(&number.to_bits().to_le_bytes());
    }

    const fn numbers(&mut self, numbers: &[f64]) {
        let mut numbers = numbers;
        while let [first, rest @ ..] = numbers {
            self.number(*first);
            numbers = rest;
        }
    }

    const fn optional(&mut self, number: Option<f64>) {
        match number {
            None => self.word(0),
            Some(number) => {
                self.word(1);
                self.number(number);
            }
        }
    }

    const fn expansion(&mut self, expansion: Option<ExpansionPerCelsius>) {
        match expansion {
            None => self.optional(None),
            Some(ExpansionPerCelsius(expansion)) => self.optional(Some(expansion)),
        }
    }

    const fn pair(&mut self, pair: Option<(f64, f64)>) {
        match pair {
            None => self.word(0),
            Some((one, other)) => {
                self.word(2);
                self.numbers(&[one, other]);
            }
        }
    }

    const fn temperatures(&mut self, range: Option<(Celsius, Celsius)>) {
        self.pair(match range {
            None => None,
            Some((Celsius(low), Celsius(high))) => Some((low, high)),
        });
    }

    const fn channel(&mut self, channel: &Channel) {
        let Channel {
            gauge,
            source,
            specimen,
            mismatch,
            balance,
            instrument_factor,
            span,
            strain_limit,
            temperatures,
            correction,
            strain_ratio,
        } = channel;
        self.gauge(gauge);
        self.source(source);
        self.expansion(*specimen);
        self.word(match mismatch {
            MismatchScale::GaugeFactorAtTemperature => 1,
            MismatchScale::GaugeFactorAtReference => 2,
            MismatchScale::StatedGaugeFactor => 3,
        });
        self.pair(match balance {
            None => None,
            Some(Balance { code, temperature }) => Some((*code, *temperature)),
        });
        self.numbers(&[*instrument_factor, *span]);
        self.optional(match strain_limit {
            None => None,
            Some(Microstrain(limit)) => Some(*limit),
        });
        self.temperatures(*temperatures);
        self.word(match correction {
            Correction::Full => 1,
            Correction::ThermalOutput => 2,
            Correction::None => 3,
        });
        // The number is in the gauge.
        match strain_ratio {
            StrainRatio::NotStated => {}
            StrainRatio::Stated => self.word(1),
            StrainRatio::Refused => self.word(2),
        }
    }

    const fn compensating(&mut self, compensating: &CompensatingGauge) {
        let CompensatingGauge { gauge, specimen, balance, temperatures } = compensating;
        self.gauge(gauge);
        self.expansion(*specimen);
        self.optional(match balance {
            None => None,
            Some(Celsius(temperature)) => Some(*temperature),
        });
        self.temperatures(*temperatures);
    }

    const fn gauge(&mut self, gauge: &Gauge) {
        let Gauge {
            factor,
            factor_change,
            thermal_output,
            reference,
            matched_expansion,
            transverse_sensitivity,
            calibration_poisson,
            basis,
        } = gauge;
        self.number(*factor);
        self.numbers(factor_change);
        let ThermalOutput { polynomial, terms, scale, stated_for, low, high } = thermal_output;
        self.numbers(&polynomial.coefficients());
        self.word(*terms as u32);
        self.word(match scale {
            Scale::Celsius => 1,
            Scale::Fahrenheit => 2,
        });
        self.numbers(&[*stated_for, *low, *high, *reference]);
        self.expansion(*matched_expansion);
        self.numbers(&[*transverse_sensitivity, *calibration_poisson]);
        match basis {
            GaugeFactorBasis::AtBalance => self.word(1),
            GaugeFactorBasis::UnloadedGauge => self.word(2),
            GaugeFactorBasis::FreeFoil(ForcedStrain { coefficients }) => {
                self.word(3);
                self.numbers(coefficients);
            }
        }
    }

    const fn source(&mut self, source: &Source) {
        match source {
            Source::Codes(bridge, Converter { bits, full_scale, instrument_factor }) => {
                self.bridge(bridge);
                self.word(*bits);
                self.number(*full_scale);
                self.optional(*instrument_factor);
            }
            Source::Readings(Instrument { step, factor }) => {
                self.word(0);
                self.numbers(&[*step, *factor]);
            }
        }
    }

    const fn bridge(&mut self, bridge: &Bridge) {
        let Bridge {
            circuit,
            wiring,
            gauge,
            lead,
            output_lead,
            completion,
            reference,
            input,
            poisson,
            remote_sense,
            reversed,
        } = bridge;
        self.word(match circuit {
            Circuit::Quarter => 1,
            Circuit::HalfCompensated => 2,
            Circuit::HalfPoisson => 3,
            Circuit::HalfBending => 4,
            Circuit::FullBending => 5,
            Circuit::FullPoisson => 6,
            Circuit::FullTorsion => 7,
            Circuit::OppositeArms => 8,
        });
        self.word(match wiring {
            Wiring::TwoWire => 1,
            Wiring::ThreeWire => 2,
            Wiring::Full => 3,
        });
        self.numbers(&[*gauge, *lead]);
        self.optional(*output_lead);
        self.optional(*completion);
        self.pair(*reference);
        self.optional(*input);
        self.number(*poisson);
        self.word(*remote_sense as u32 | (*reversed as u32) << 1);
    }
}
