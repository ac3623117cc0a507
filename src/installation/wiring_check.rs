//! A reading at rest sorted on the device: each fault of the wiring as an interval of codes, computed with the firmware.

use super::diagnosis::FaultNumber;
use super::{Fault, Verdict};
use crate::channel::{Arm, AtRest, Channel, Source, Wire};
use crate::error::{Error, Field, try_const, unwrap_const};
use crate::sample::MeanCode;
use crate::units::{Percent, Ratio};

/// Volts per volt at the output of a bridge that is not excited.
const DEAD: f64 = 2e-6;

/// Room for the faults of any circuit.
pub(super) const MOST: usize = 14;

/// Codes of the converter from a lowest to a highest one, both of them in it.
///
/// ```
/// use gaugewright::{fixed::MeanCode, installation::CodeInterval};
/// let interval = CodeInterval { lowest: -3, highest: 4 };
/// assert!(interval.contains(MeanCode { sum: 8, count: 2 }) && !interval.contains(MeanCode { sum: 9, count: 2 }));
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[repr(C)]
pub struct CodeInterval {
    /// Lowest code.
    pub lowest: i32,
    /// Highest code; below the lowest where no code is in the interval.
    pub highest: i32,
}

impl CodeInterval {
    /// The mean is in the interval. Exact: no rounding.
    ///
    /// ```
    /// use gaugewright::installation::CodeInterval;
    /// assert!(!CodeInterval { lowest: 1, highest: 0 }.contains(0.into()));
    /// ```
    #[must_use]
    pub const fn contains(self, codes: MeanCode) -> bool {
        codes.is_from(self.lowest) && codes.is_to(self.highest)
    }

    /// Of the codes between two rails, those within `spread` of a code; what lies beyond a rail reads as the rail.
    const fn around(code: f64, spread: f64, rails: Self) -> Self {
        let (low, high) = (rails.lowest, rails.highest);
        let lowest = clamped(-floor(spread - code), low, high);
        let highest = clamped(floor(code + spread), low, high);
        Self { lowest, highest }
    }

    /// Without the rails.
    const fn between(self, rails: Self) -> Self {
        Self {
            lowest: if self.lowest == rails.lowest { rails.lowest + 1 } else { self.lowest },
            highest: if self.highest == rails.highest { rails.highest - 1 } else { self.highest },
        }
    }
}

/// The whole number below, of numbers up to 2^60 either way; what is beyond is as far out as that.
pub(super) const fn floor(x: f64) -> i64 {
    let most = (1u64 << 60) as f64;
    let x = x.max(-most).min(most);
    let whole = x as i64;
    if whole as f64 > x { whole - 1 } else { whole }
}

const fn clamped(code: i64, low: i32, high: i32) -> i32 {
    if code < low as i64 {
        low
    } else if code > high as i64 {
        high
    } else {
        code as i32
    }
}

/// The codes at rest of a bridge in order and of each fault that its circuit can have: integers alone, computed with the firmware.
/// The device compares a code, or a mean of codes, with them and solves no network.
///
/// ```
/// use gaugewright::{channel::Arm, example::STRUT, units::Percent};
/// use gaugewright::{fixed::MeanCode, installation::{Fault, WiringCheck}};
///
/// // Resistors within half a percent.
/// static WIRING: WiringCheck = STRUT.wiring_check(Percent(0.5));
///
/// // On site: the sum of 64 codes of the unloaded channel.
/// let report = WIRING.report(MeanCode { sum: -790_080, count: 64 })?;
/// assert!(report.healthy && report.explaining().count() == 0);
/// let report = WIRING.report(8_388_607.into())?;
/// assert!(report.at_rail && report.explaining().any(|fault| fault == Fault::ArmOpen(Arm::One)));
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[repr(C)]
pub struct WiringCheck {
    rails: CodeInterval,
    healthy: CodeInterval,
    faults: [FaultCodes; MOST],
}

/// A fault and its codes, in numbers alone: C has the same bytes, and any bytes are a value.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[repr(C)]
struct FaultCodes {
    fault: FaultNumber,
    /// 0: in place of padding.
    reserved: u8,
    /// 0 where a reading at rest does not depend on the fault, which then has no codes.
    has_codes: u16,
    codes: CodeInterval,
}

impl FaultCodes {
    const NONE: Self = Self {
        fault: FaultNumber::NONE,
        reserved: 0,
        has_codes: 0,
        codes: CodeInterval { lowest: 0, highest: 0 },
    };

    const fn of(fault: Fault, codes: Option<CodeInterval>) -> Self {
        match codes {
            Some(codes) => Self { fault: FaultNumber::of(fault), has_codes: 1, codes, ..Self::NONE },
            None => Self { fault: FaultNumber::of(fault), ..Self::NONE },
        }
    }

    const fn value(&self) -> Option<(Fault, Option<CodeInterval>)> {
        match self.fault.value() {
            Some(fault) => Some((fault, if self.has_codes == 0 { None } else { Some(self.codes) })),
            None => None,
        }
    }
}

impl Channel {
    /// The intervals of codes at rest, with resistors that may be off by `tolerance` each (0 to 20 %): what a device compares
    /// with in place of [`diagnose`](Self::diagnose), with the same result for every code.
    ///
    /// # Panics
    /// Where [`try_wiring_check`](Self::try_wiring_check) gives an error.
    ///
    /// ```
    /// use gaugewright::{example::STRUT, installation::WiringCheck, units::Percent};
    /// const WIRING: WiringCheck = STRUT.wiring_check(Percent(1.0));
    /// // A hundredth of the excitation, beyond both rails of a converter of 7.8 mV/V; a rail is never healthy.
    /// let healthy = WIRING.healthy();
    /// assert_eq!((healthy.lowest, healthy.highest), (-8_388_607, 8_388_606));
    /// ```
    #[must_use]
    #[track_caller]
    pub const fn wiring_check(&self, tolerance: Percent) -> WiringCheck {
        unwrap_const(self.try_wiring_check(tolerance))
    }

    /// As [`wiring_check`](Self::wiring_check), for channels that are made at run time.
    ///
    /// # Errors
    /// What [`check`](Self::check) finds, a tolerance outside 0 to 20 %, or a channel of an instrument's readings, whose bridge
    /// is not known.
    ///
    /// ```
    /// use gaugewright::{Error, error::Field, example::STRUT, units::Percent};
    /// let refused = STRUT.try_wiring_check(Percent(21.0));
    /// assert!(matches!(refused, Err(Error::Invalid { field: Field::ResistorTolerance, value: 21.0, .. })));
    /// ```
    pub const fn try_wiring_check(&self, tolerance: Percent) -> Result<WiringCheck, Error> {
        let predictions = try_const!(Predictions::of(self, tolerance));
        Ok(predictions.check(self))
    }
}

impl WiringCheck {
    /// What a code, or a mean of codes, of the unloaded channel means for the wiring. In integers: some products of 32 bits and comparisons.
    ///
    /// # Errors
    /// [`Error::Invalid`] for a mean of no or more than 65 536 codes.
    ///
    /// ```
    /// use gaugewright::{Error, error::Field, example::STRUT, fixed::MeanCode, units::Percent};
    /// let check = STRUT.wiring_check(Percent(1.0));
    /// assert!(check.report((-12_345).into())?.healthy);
    /// let none = check.report(MeanCode { sum: 0, count: 0 });
    /// assert!(matches!(none, Err(Error::Invalid { field: Field::CodesInMean, value: 0.0, .. })));
    /// # Ok::<(), Error>(())
    /// ```
    pub const fn report(&self, codes: MeanCode) -> Result<WiringReport, Error> {
        try_const!(codes.check());
        let CodeInterval { lowest: low, highest: high } = self.rails;
        let (at_low, at_high) = (codes.is_to(low), codes.is_from(high));
        // What is beyond a rail is at the rail.
        let codes = if at_low {
            MeanCode { sum: low as i64, count: 1 }
        } else if at_high {
            MeanCode { sum: high as i64, count: 1 }
        } else {
            codes
        };
        let mut report = WiringReport {
            at_rail: at_low || at_high,
            healthy: self.healthy.contains(codes),
            verdicts: [(FaultNumber::NONE, Verdict::Inconclusive); MOST],
        };
        let mut k = 0;
        while k < MOST {
            let FaultCodes { fault, has_codes, codes: interval, .. } = self.faults[k];
            let verdict = match has_codes {
                0 => Verdict::Inconclusive,
                _ if interval.contains(codes) => Verdict::Consistent,
                _ => Verdict::Excluded,
            };
            report.verdicts[k] = (fault, verdict);
            k += 1;
        }
        Ok(report)
    }

    /// The codes of a bridge whose resistors are within the tolerance; a rail is never one of them.
    ///
    /// ```
    /// use gaugewright::{example::STRUT, units::Percent};
    /// let healthy = STRUT.wiring_check(Percent(0.1)).healthy();
    /// // A thousandth of the excitation on a converter of 7.8 mV/V and 24 bits.
    /// assert_eq!(healthy.highest - healthy.lowest, 2 * 1_073_741);
    /// ```
    #[must_use]
    pub const fn healthy(&self) -> CodeInterval {
        self.healthy
    }

    /// Every fault that the circuit can have, with its codes: at a rail where the fault would drive the converter there or
    /// beyond, and `None` where the fault leaves the output undetermined or a reading at rest does not depend on it.
    ///
    /// ```
    /// use gaugewright::{channel::Arm, example::STRUT, installation::Fault, units::Percent};
    /// let check = STRUT.wiring_check(Percent(1.0));
    /// let (_, open) = check.faults().find(|(fault, _)| *fault == Fault::ArmOpen(Arm::One)).unwrap();
    /// assert_eq!(open.unwrap().highest, 8_388_607);
    /// ```
    pub fn faults(&self) -> impl Iterator<Item = (Fault, Option<CodeInterval>)> + '_ {
        self.faults.iter().filter_map(FaultCodes::value)
    }
}

/// What follows about the wiring from a reading at rest.
///
/// ```
/// use gaugewright::{example::STRUT, installation::Verdict, units::Percent};
/// let report = STRUT.wiring_check(Percent(0.5)).report(0.into())?;
/// assert!(report.healthy && !report.at_rail);
/// assert!(report.verdicts().all(|(_, verdict)| verdict != Verdict::Consistent));
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct WiringReport {
    /// The mean is at or beyond a rail.
    pub at_rail: bool,
    /// The bridge can give the mean with its resistors within the tolerance. Never at a rail: such a code has no upper limit.
    pub healthy: bool,
    verdicts: [(FaultNumber, Verdict); MOST],
}

impl WiringReport {
    /// Every fault that the circuit can have, in the order of [`Diagnosis::findings`](super::Diagnosis::findings).
    ///
    /// ```
    /// use gaugewright::{example::STRUT, units::Percent};
    /// let report = STRUT.wiring_check(Percent(0.5)).report(0.into())?;
    /// assert!(report.verdicts().count() >= 4);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn verdicts(&self) -> impl Iterator<Item = (Fault, Verdict)> + '_ {
        self.verdicts.iter().filter_map(|(fault, verdict)| Some((fault.value()?, *verdict)))
    }

    /// The faults that would give this mean.
    ///
    /// ```
    /// use gaugewright::{channel::Arm, example::STRUT, installation::Fault, units::Percent};
    /// let report = STRUT.wiring_check(Percent(0.5)).report((-8_388_608).into())?;
    /// assert_eq!(report.explaining().next(), Some(Fault::ArmShorted(Arm::One)));
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn explaining(&self) -> impl Iterator<Item = Fault> + '_ {
        self.verdicts().filter(|(_, verdict)| matches!(verdict, Verdict::Consistent)).map(|(fault, _)| fault)
    }
}

/// The ratio that a fault would give, where it gives one, and how far either way the reading may be from it.
#[derive(Clone, Copy)]
struct Prediction {
    fault: Fault,
    ratio: Option<f64>,
    spread: f64,
}

/// Of every fault that the circuit can have.
pub(super) struct Predictions {
    pub at_rest: AtRest,
    spread: f64,
    faults: [Option<Prediction>; MOST],
    count: usize,
}

impl Predictions {
    pub const fn of(channel: &Channel, tolerance: Percent) -> Result<Self, Error> {
        try_const!(Field::ResistorTolerance.check(tolerance.0));
        try_const!(channel.check());
        let Source::Codes(bridge, _) = channel.source else {
            return Err(Field::Bridge.missing());
        };
        let expected = channel.balance_ratio();
        let at_rest = try_const!(bridge.at_rest(expected));
        // Four arms, each weighing a quarter at most.
        let spread = tolerance.fraction();
        let mut all = Self { at_rest, spread, faults: [None; MOST], count: 0 };
        let mut k = 0;
        while k < Arm::ALL.len() {
            let arm = Arm::ALL[k];
            if bridge.circuit().has_gauge(k) {
                all.add(Fault::ArmOpen(arm), Some(at_rest.open(arm)), spread);
                all.add(Fault::ArmShorted(arm), Some(at_rest.with_element(arm, 0.0)), spread);
            }
            k += 1;
        }
        // A broken excitation reads nothing at all: noise, and a few codes either way.
        let nothing = channel.ratio(16.0).0.max(DEAD);
        let wires = bridge.wires();
        let mut k = 0;
        while k < wires.len() {
            let (fault, spread) = match wires[k] {
                Wire::ArmOne => (Fault::ArmLeadBroken(Arm::One), spread),
                Wire::ArmTwo => (Fault::ArmLeadBroken(Arm::Two), spread),
                Wire::Excitation => (Fault::ExcitationLeadBroken, nothing),
                Wire::Output => (Fault::OutputLeadBroken, nothing),
            };
            all.add(fault, at_rest.broken(wires[k]), spread);
            k += 1;
        }
        // A bridge that is known to be out of balance shows its other side when it is turned round.
        let exchanged = at_rest.exchanged();
        let tells = (exchanged - expected.0).abs() > 2.0 * spread;
        all.add(Fault::Reversed, if tells { Some(exchanged) } else { None }, spread);
        Ok(all)
    }

    const fn add(&mut self, fault: Fault, ratio: Option<f64>, spread: f64) {
        self.faults[self.count] = Some(Prediction { fault, ratio, spread });
        self.count += 1;
    }

    /// The ratios of the faults, in the order of the check's.
    pub fn ratios(&self) -> impl Iterator<Item = Option<Ratio>> + '_ {
        self.faults.iter().flatten().map(|prediction| prediction.ratio.map(Ratio))
    }

    pub const fn check(&self, channel: &Channel) -> WiringCheck {
        let (low, high) = channel.rails();
        let (rails, spread) = (CodeInterval { lowest: low, highest: high }, channel.code(Ratio(self.spread)));
        let healthy = CodeInterval::around(channel.balance_code(), spread, rails).between(rails);
        let mut faults = [FaultCodes::NONE; MOST];
        let mut k = 0;
        while k < self.count {
            if let Some(Prediction { fault, ratio, spread }) = self.faults[k] {
                let codes = match ratio {
                    None => None,
                    Some(ratio) => {
                        let (code, spread) = (channel.code(Ratio(ratio)), channel.code(Ratio(spread)));
                        Some(CodeInterval::around(code, spread, rails))
                    }
                };
                faults[k] = FaultCodes::of(fault, codes);
            }
            k += 1;
        }
        WiringCheck { rails, healthy, faults }
    }
}
