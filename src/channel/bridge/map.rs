//! The map of a bridge: a change of output ratio to a signal (gauge factor times indicated strain), and back.

/// `y = gain x / (1 - curvature x)`: exact for one measuring half bridge that draws no current.
///
/// `x` is a change of output ratio since balance, or of codes, where [`per_step`](Self::per_step) was applied; `y` is gauge
/// factor times indicated strain.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub(crate) struct BridgeMap {
    /// Signal for a small change of ratio.
    pub gain: f64,
    /// `1 - curvature x` is the divisor.
    pub curvature: f64,
}

impl BridgeMap {
    pub const fn straight(gain: f64) -> Self {
        Self { gain, curvature: 0.0 }
    }

    /// The same map of a change that is counted in steps of the ratio.
    pub const fn per_step(self, step: f64) -> Self {
        Self { gain: self.gain * step, curvature: self.curvature * step }
    }

    /// The signal of a bridge whose connections are reversed.
    pub const fn reversed(self) -> Self {
        self.per_step(-1.0)
    }

    /// The signal for a change of ratio.
    pub const fn signal(self, ratio: f64) -> f64 {
        self.gain * ratio / (1.0 - self.curvature * ratio)
    }

    /// The change of ratio for a signal; infinite where the bridge cannot give it.
    pub const fn ratio(self, signal: f64) -> f64 {
        let slope = self.gain + self.curvature * signal;
        if slope * self.gain > 0.0 {
            signal / slope
        } else if signal * self.gain > 0.0 {
            f64::INFINITY
        } else {
            f64::NEG_INFINITY
        }
    }

    /// The same map of a change that is counted from `ratio`, and the signal there, which is to be added.
    pub const fn recentred(self, ratio: f64) -> (Self, f64) {
        let turn = 1.0 - self.curvature * ratio;
        let curvature = self.curvature / turn;
        let gain = self.gain * (1.0 + ratio * curvature) / turn;
        (Self { gain, curvature }, ratio * self.gain / turn)
    }

    /// `y = gain x (1 + bend y)`.
    pub const fn bend(self) -> f64 {
        self.curvature / self.gain
    }
}

#[cfg(test)]
mod tests {
    use super::BridgeMap;
    use approx::assert_abs_diff_eq;

    #[test]
    fn there_and_back_and_from_elsewhere() {
        let map = BridgeMap { gain: -4.1, curvature: 1.9 };
        for x in [-0.03, -1e-9, 0.0, 0.02] {
            let y = map.signal(x);
            assert_abs_diff_eq!(map.ratio(y), x, epsilon = 1e-17);
            assert!((map.gain * x * (1.0 + map.bend() * y) - y).abs() < 1e-16, "{x}");
            let (moved, offset) = map.recentred(0.01);
            assert!((moved.signal(x - 0.01) + offset - y).abs() < 1e-16, "{x}");
            assert_eq!(map.per_step(0.5).signal(2.0 * x), y);
            assert_eq!(map.reversed().signal(-x), y);
        }
        // The divisor would have to change its sign.
        assert_eq!((map.ratio(3.0), map.ratio(-3.0)), (f64::NEG_INFINITY, -3.0 / (-4.1 - 1.9 * 3.0)));
    }
}
