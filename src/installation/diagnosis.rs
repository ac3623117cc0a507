//! What a reading at rest says about the wiring, and what it cannot say.
//!
//! Every fault that the circuit can have is put into its network, and what it would read is compared with what
//! is read. More than one fault can explain a reading, and some explain any: all are named, none is guessed.

use crate::channel::{Arm, Channel, Source, Wire};
use crate::error::{Error, Field};
use crate::reference::Model;
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

impl core::fmt::Display for Fault {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::ArmOpen(arm) => write!(f, "arm {} open", *arm as u8 + 1),
            Self::ArmShorted(arm) => write!(f, "arm {} shorted", *arm as u8 + 1),
            Self::ArmLeadBroken(arm) => write!(f, "lead of arm {} broken", *arm as u8 + 1),
            Self::ExcitationLeadBroken => f.write_str("excitation lead broken"),
            Self::OutputLeadBroken => f.write_str("output lead broken"),
            Self::Reversed => f.write_str("polarity reversed"),
        }
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
/// use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput, units::*};
/// # let gauge = Gauge::new(GaugeFactor(2.0)).thermal_output(
/// #     ThermalOutput::celsius([0.0]).between(Celsius(0.0), Celsius(50.0)));
/// # let channel = Channel::new(gauge, Bridge::quarter_three_wire(Ohms(350.0), Ohms(1.0)),
/// #     Converter::bipolar(24, Ratio(1.0 / 64.0)));
/// for finding in channel.diagnose(8_388_607, Percent(1.0))?.findings() {
///     println!("{}: would read {:?}: {:?}", finding.fault, finding.predicted, finding.verdict);
/// }
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

/// Volts per volt at the output of a bridge that is not excited.
const DEAD: f64 = 2e-6;

/// The most faults that one circuit can have.
const MOST: usize = 14;

/// What a reading at rest says.
///
/// ```
/// use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput, units::*, channel::Arm};
/// use gaugewright::installation::Fault;
/// # let gauge = Gauge::new(GaugeFactor(2.0)).thermal_output(
/// #     ThermalOutput::celsius([0.0]).between(Celsius(0.0), Celsius(50.0)));
/// # let channel = Channel::new(gauge, Bridge::quarter_three_wire(Ohms(350.0), Ohms(1.0)),
/// #     Converter::bipolar(24, Ratio(1.0 / 64.0)));
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
    /// What a code read without load says about the wiring, with resistors that may be off by `tolerance` each.
    ///
    /// # Errors
    /// What [`check`](Self::check) finds, a tolerance outside 0 to 20 %, or a channel of an instrument's
    /// readings, whose bridge is not known.
    ///
    /// ```
    /// use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput, units::*};
    /// use gaugewright::installation::{Fault, Verdict};
    /// # let gauge = Gauge::new(GaugeFactor(2.0)).thermal_output(
    /// #     ThermalOutput::celsius([0.0]).between(Celsius(0.0), Celsius(50.0)));
    /// let bridge = Bridge::full_bending(Ohms(350.0)).leads(Ohms(2.0));
    /// let channel = Channel::new(gauge, bridge, Converter::bipolar(24, Ratio(1.0 / 64.0)));
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
        Field::ResistorTolerance.check(tolerance.0)?;
        let model = Model::new(self)?;
        let Source::Codes(bridge, _) = self.source else {
            return Err(Field::Bridge.missing());
        };
        let (low, high) = self.rails();
        let at_rail = code <= low || code >= high;
        let ratio = self.ratio(f64::from(code.clamp(low, high))).0;
        // Four arms, each weighing a quarter at most.
        let spread = tolerance.fraction();
        let reads_like = |predicted: f64, spread: f64| {
            if at_rail {
                // Anything that drives the converter at least this far to this side.
                predicted * ratio.signum() + spread >= ratio.abs()
            } else {
                (predicted - ratio).abs() <= spread
            }
        };
        let expected = self.balance_ratio().0;
        let off_nominal = if at_rail { None } else { model.part_of_element(Arm::One, ratio) };
        let mut diagnosis = Diagnosis {
            ratio: Ratio(ratio),
            at_rail,
            healthy: !at_rail && reads_like(expected, spread),
            off_nominal: off_nominal.map(|part| Percent(100.0 * (part - 1.0))),
            findings: [None; MOST],
        };
        let mut count = 0;
        let mut add = |fault, predicted: Option<f64>, spread: f64| {
            let verdict = match predicted {
                None => Verdict::Inconclusive,
                Some(predicted) if reads_like(predicted, spread) => Verdict::Consistent,
                Some(_) => Verdict::Excluded,
            };
            diagnosis.findings[count] = Some(Finding { fault, predicted: predicted.map(Ratio), verdict });
            count += 1;
        };
        for arm in Arm::ALL {
            if bridge.circuit().has_gauge(arm as usize) {
                add(Fault::ArmOpen(arm), model.with_element(arm, f64::INFINITY), spread);
                add(Fault::ArmShorted(arm), model.with_element(arm, 0.0), spread);
            }
        }
        for wire in bridge.wires() {
            // A broken excitation reads nothing at all: noise, and a few codes either way.
            let nothing = self.ratio(16.0).0.max(DEAD);
            let (fault, spread) = match wire {
                Wire::ArmOne => (Fault::ArmLeadBroken(Arm::One), spread),
                Wire::ArmTwo => (Fault::ArmLeadBroken(Arm::Two), spread),
                Wire::Excitation => (Fault::ExcitationLeadBroken, nothing),
                Wire::Output => (Fault::OutputLeadBroken, nothing),
            };
            add(fault, model.with_broken(*wire), spread);
        }
        // A bridge that is known to be out of balance shows its other side when it is turned round.
        let exchanged = model.exchanged().filter(|exchanged| (exchanged - expected).abs() > 2.0 * spread);
        add(Fault::Reversed, exchanged, spread);
        Ok(diagnosis)
    }
}
