//! A channel as two steps: the change of ratio since balance to a signal (gauge factor times indicated strain), and the
//! signal to strain. What the effects in a budget are derivatives of.

use crate::channel::{Bonded, Channel, Correction, Curve, Source};
use crate::error::{Error, check};
use crate::kernel::plan::{expansion_of, factor_of, thermal_of};
use crate::numeric::Polynomial;
use crate::units::Ratio;

#[derive(Clone, Copy)]
pub(crate) struct Signal {
    /// `y = gain x / (1 - curvature x)` for a change of ratio `x`, or of counts where there is no bridge.
    pub map: Curve,
    /// Ratio at balance.
    pub at_balance: f64,
    /// Ratio of a code; one where there is no bridge.
    pub step: f64,
    /// Signal of thermal output since balance, against degrees Celsius.
    pub thermal: Polynomial,
    /// The signal that a specimen expanding more by one per degree would add, since balance.
    pub expansion: Polynomial,
    /// Thermal output is subtracted.
    pub corrects: bool,
    /// Gauge factor that the signal is divided by, against degrees Celsius.
    pub factor: Polynomial,
    pub bonded: Bonded,
}

impl Signal {
    /// Of a channel of one temperature.
    pub const fn of(channel: &Channel) -> Result<Self, Error> {
        check!(channel.check());
        check!(channel.check_compensating(0.0));
        let (map, at_balance, step) = match channel.source {
            Source::Codes(bridge, _) => {
                let step = channel.ratio_per_code();
                let at_balance = channel.balance_code() * step;
                (check!(bridge.curve(Ratio(at_balance))), at_balance, step)
            }
            Source::Readings(instrument) => {
                let gain = instrument.step * 1e-6 * channel.instrument_factor;
                (Curve { gain, curvature: 0.0 }, channel.balance_code(), 1.0)
            }
        };
        let bonded = channel.measuring();
        let corrects = channel.shows_thermal_output() && !matches!(channel.correction, Correction::None);
        let (thermal, expansion) = if corrects {
            (thermal_of(&bonded, channel.mismatch), expansion_of(&bonded, channel.mismatch))
        } else {
            (Polynomial::ZERO, Polynomial::ZERO)
        };
        let factor = factor_of(channel);
        Ok(Self { map, at_balance, step, thermal, expansion, corrects, factor, bonded })
    }

    /// `y = gain x (1 + bend y)`.
    pub const fn bend(&self) -> f64 {
        self.map.curvature / self.map.gain
    }
}
