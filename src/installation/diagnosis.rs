//! What can be concluded about the wiring from a reading at rest, and what cannot.
//!
//! Every fault that the circuit can have is put into its network, and what it would read is compared with what
//! is read. More than one fault can explain a reading, and some explain any: all are named, none is guessed.

use core::ffi::CStr;

use super::wiring_check::{MOST, Predictions};
use crate::channel::{Arm, Channel};
use crate::error::Error;
use crate::units::{Percent, Ratio};

/// One thing that can be wrong.
///
/// ```
/// use gaugewright::{channel::Arm, installation::Fault};
/// assert_eq!(Fault::ArmOpen(Arm::One).to_string(), "arm 1 open");
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Fault {
    /// The gauge of an arm is open, or both its conductors are off.
    ArmOpen(Arm),
    /// The gauge of an arm is shorted.
    ArmShorted(Arm),
    /// The conductor between a gauge's arm and the excitation is broken.
    ArmLeadBroken(Arm),
    /// A conductor to the excitation of a full bridge is broken.
    ExcitationLeadBroken,
    /// A conductor to the output is broken.
    OutputLeadBroken,
    /// OUT+ and OUT- (or the excitation) are exchanged.
    Reversed,
}

impl Fault {
    /// In constants that C has too: a number keeps its meaning.
    pub(crate) const fn number(self) -> u8 {
        match self {
            Self::ArmOpen(arm) => 1 + arm as u8,
            Self::ArmShorted(arm) => 5 + arm as u8,
            Self::ArmLeadBroken(arm) => 9 + arm as u8,
            Self::ExcitationLeadBroken => 13,
            Self::OutputLeadBroken => 14,
            Self::Reversed => 15,
        }
    }
}

/// A fault in constants that C has too: any number is a value, and one that is no fault's is none.
#[derive(Clone, Copy, PartialEq, Eq)]
#[repr(transparent)]
pub(super) struct FaultNumber(u8);

impl FaultNumber {
    pub const NONE: Self = Self(0);

    pub const fn of(fault: Fault) -> Self {
        Self(fault.number())
    }

    /// By a table: a choice of sixteen takes a small core longer.
    pub const fn value(self) -> Option<Fault> {
        const ALL: [Option<Fault>; 16] = {
            let mut all = [None; 16];
            let mut k = 0;
            while k < Arm::ALL.len() {
                let arm = Arm::ALL[k];
                all[Fault::ArmOpen(arm).number() as usize] = Some(Fault::ArmOpen(arm));
                all[Fault::ArmShorted(arm).number() as usize] = Some(Fault::ArmShorted(arm));
                all[Fault::ArmLeadBroken(arm).number() as usize] = Some(Fault::ArmLeadBroken(arm));
                k += 1;
            }
            all[Fault::ExcitationLeadBroken.number() as usize] = Some(Fault::ExcitationLeadBroken);
            all[Fault::OutputLeadBroken.number() as usize] = Some(Fault::OutputLeadBroken);
            all[Fault::Reversed.number() as usize] = Some(Fault::Reversed);
            all
        };
        if (self.0 as usize) < ALL.len() { ALL[self.0 as usize] } else { None }
    }
}

/// As the fault that it is.
impl core::fmt::Debug for FaultNumber {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        self.value().fmt(f)
    }
}

#[cfg(feature = "defmt")]
impl defmt::Format for FaultNumber {
    fn format(&self, f: defmt::Formatter<'_>) {
        self.value().format(f);
    }
}

/// What each number is, with a zero at its end for C.
pub(crate) const FAULT_TEXTS: [&CStr; 16] = [
    c"unknown fault",
    c"arm 1 open",
    c"arm 2 open",
    c"arm 3 open",
    c"arm 4 open",
    c"arm 1 shorted",
    c"arm 2 shorted",
    c"arm 3 shorted",
    c"arm 4 shorted",
    c"lead of arm 1 broken",
    c"lead of arm 2 broken",
    c"lead of arm 3 broken",
    c"lead of arm 4 broken",
    c"excitation lead broken",
    c"output lead broken",
    c"polarity reversed",
];

impl core::fmt::Display for Fault {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        let text = FAULT_TEXTS[usize::from(self.number())].to_str();
        f.write_str(text.map_err(|_| core::fmt::Error)?)
    }
}

#[cfg(feature = "defmt")]
impl defmt::Format for Fault {
    fn format(&self, f: defmt::Formatter<'_>) {
        match self {
            Self::ArmOpen(arm) => defmt::write!(f, "arm {=u8} open", *arm as u8 + 1),
            Self::ArmShorted(arm) => defmt::write!(f, "arm {=u8} shorted", *arm as u8 + 1),
            Self::ArmLeadBroken(arm) => defmt::write!(f, "lead of arm {=u8} broken", *arm as u8 + 1),
            Self::ExcitationLeadBroken => defmt::write!(f, "excitation lead broken"),
            Self::OutputLeadBroken => defmt::write!(f, "output lead broken"),
            Self::Reversed => defmt::write!(f, "polarity reversed"),
        }
    }
}

/// How a fault and a reading stand to each other.
///
/// ```
/// assert_ne!(gaugewright::installation::Verdict::Consistent, gaugewright::installation::Verdict::Inconclusive);
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Verdict {
    /// The fault would give this reading.
    Consistent,
    /// The fault would give another reading.
    Excluded,
    /// The fault leaves the output undetermined, or a reading at rest does not depend on it.
    Inconclusive,
}

/// A fault with its evidence.
///
/// ```
/// use gaugewright::{Bridge, Channel, Converter, channel::Arm, example, units::*};
/// use gaugewright::installation::{Fault, Verdict};
/// let bridge = Bridge::quarter_three_wire(Ohms(350.0), Ohms(1.0));
/// let channel = Channel::new(example::FLAT_GAUGE, bridge, Converter::bipolar(24, Ratio(1.0 / 64.0)));
/// // At the upper rail: arm 1 open would give that.
/// let diagnosis = channel.diagnose(8_388_607, Percent(1.0))?;
/// let open = diagnosis.findings().find(|finding| finding.fault == Fault::ArmOpen(Arm::One)).unwrap();
/// assert!(open.verdict == Verdict::Consistent && open.predicted.unwrap().0 > 1.0 / 64.0);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Finding {
    /// The fault.
    pub fault: Fault,
    /// The ratio that it would give, where it gives one.
    pub predicted: Option<Ratio>,
    /// Whether that is what is read.
    pub verdict: Verdict,
}

/// What follows from a reading at rest.
///
/// ```
/// use gaugewright::{Bridge, Channel, Converter, example, units::*, channel::Arm};
/// use gaugewright::installation::Fault;
/// let bridge = Bridge::quarter_three_wire(Ohms(350.0), Ohms(1.0));
/// let channel = Channel::new(example::FLAT_GAUGE, bridge, Converter::bipolar(24, Ratio(1.0 / 64.0)));
/// let open = channel.diagnose(8_388_607, Percent(1.0))?;
/// assert!(!open.healthy);
/// assert!(open.explaining().any(|finding| finding.fault == Fault::ArmOpen(Arm::One)));
/// assert!(open.explaining().all(|finding| finding.fault != Fault::ArmShorted(Arm::One)));
///
/// let fine = channel.diagnose(1_000, Percent(1.0))?;
/// assert!(fine.healthy && fine.explaining().count() == 0);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Diagnosis {
    /// The ratio read; at a rail, the ratio is at least this far out.
    pub ratio: Ratio,
    /// The code is at or beyond a rail.
    pub at_rail: bool,
    /// The reading is what the bridge can give with its resistors within the tolerance. Never at a rail: such a code has no
    /// upper limit.
    pub healthy: bool,
    /// How far the gauge of arm 1 would have to be off its resistance at balance, if it alone were; `None` at
    /// a rail.
    pub off_nominal: Option<Percent>,
    findings: [Option<Finding>; MOST],
}

impl Diagnosis {
    /// Every fault that the circuit can have, with its evidence.
    ///
    /// ```
    /// use gaugewright::units::*;
    /// # let channel = gaugewright::example::FINE;
    /// assert!(channel.diagnose(0, Percent(1.0))?.findings().count() >= 4);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn findings(&self) -> impl Iterator<Item = &Finding> {
        self.findings.iter().flatten()
    }

    /// The faults that would give this reading.
    ///
    /// ```
    /// use gaugewright::units::*;
    /// # let channel = gaugewright::example::FINE;
    /// assert!(channel.diagnose(-8_388_608, Percent(1.0))?.explaining().count() >= 1);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn explaining(&self) -> impl Iterator<Item = &Finding> {
        self.findings().filter(|finding| finding.verdict == Verdict::Consistent)
    }
}

impl Channel {
    /// What follows about the wiring from a code read without load, with resistors that may be off by `tolerance` each: the verdicts of
    /// a [`WiringCheck`](super::WiringCheck), and the ratios behind them. It solves the network, in `f64`: a device that
    /// has its channel with the firmware uses [`wiring_check`](Self::wiring_check).
    ///
    /// # Errors
    /// What [`check`](Self::check) finds, a tolerance outside 0 to 20 %, or a channel of an instrument's
    /// readings, whose bridge is not known.
    ///
    /// ```
    /// use gaugewright::{Bridge, Channel, Converter, example, units::*};
    /// use gaugewright::installation::{Fault, Verdict};
    /// let bridge = Bridge::full_bending(Ohms(350.0)).leads(Ohms(2.0));
    /// let channel = Channel::new(example::FLAT_GAUGE, bridge, Converter::bipolar(24, Ratio(1.0 / 64.0)));
    /// // Nothing at all at the output: balanced, or not excited. The circuit cannot tell which.
    /// let zero = channel.diagnose(0, Percent(1.0))?;
    /// assert!(zero.healthy);
    /// assert!(zero.explaining().any(|finding| finding.fault == Fault::ExcitationLeadBroken));
    /// // Nor can a balanced bridge tell the polarity at rest: that takes a load or a shunt.
    /// let reversed = zero.findings().find(|finding| finding.fault == Fault::Reversed).unwrap();
    /// assert_eq!(reversed.verdict, Verdict::Inconclusive);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn diagnose(&self, code: i32, tolerance: Percent) -> Result<Diagnosis, Error> {
        let predictions = Predictions::of(self, tolerance)?;
        let report = predictions.check(self).report(code.into())?;
        let (low, high) = self.rails();
        let ratio = self.ratio(f64::from(code.clamp(low, high)));
        let off_nominal =
            if report.at_rail { None } else { predictions.at_rest.part_of_element(Arm::One, ratio) };
        let mut findings = [None; MOST];
        let all = report.verdicts().zip(predictions.ratios());
        for (finding, ((fault, verdict), predicted)) in findings.iter_mut().zip(all) {
            *finding = Some(Finding { fault, predicted, verdict });
        }
        Ok(Diagnosis {
            ratio,
            at_rail: report.at_rail,
            healthy: report.healthy,
            off_nominal: off_nominal.map(|part| Percent(100.0 * (part - 1.0))),
            findings,
        })
    }
}
