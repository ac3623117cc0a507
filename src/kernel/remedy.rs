//! The search for what would keep a promise that a kernel's bound misses: narrower channels are tried until the
//! widest that keeps it is known.

use crate::channel::{Channel, STRAIN_RANGE, ThermalOutput};
use crate::error::Remedy;
use crate::units::{Celsius, GaugeFactor, Microstrain};

/// Halvings on the way to a limit.
const HALVINGS: u32 = 8;

/// Half of the narrowest temperature range that is tried, C.
const NARROWEST: f64 = 0.5;

#[derive(Clone, Copy)]
enum Stage {
    Strain,
    Temperature,
    /// Both by the same share, where neither alone is enough.
    Together,
    Degree,
    Done,
}

/// A search that asks: [`next`](Self::next) gives a channel, [`answer`](Self::answer) takes whether it keeps the
/// promise. (A `const fn` cannot be given the question as a function.)
pub(super) struct Search<'a> {
    channel: &'a Channel,
    stage: Stage,
    step: u32,
    /// Keeps the promise, once the first step has shown that anything does.
    keeps: f64,
    /// Does not.
    misses: f64,
    trial: f64,
    found: Remedy,
}

impl<'a> Search<'a> {
    /// `channel` misses the promise.
    pub const fn new(channel: &'a Channel) -> Self {
        let search = Self {
            channel,
            stage: Stage::Strain,
            step: 0,
            keeps: 0.0,
            misses: 0.0,
            trial: 0.0,
            found: Remedy::NOTHING,
        };
        search.enter(Stage::Strain)
    }

    pub const fn found(&self) -> Remedy {
        self.found
    }

    const fn enter(mut self, stage: Stage) -> Self {
        self.stage = stage;
        self.step = 0;
        (self.keeps, self.misses) = match stage {
            Stage::Strain => (STRAIN_RANGE.0, self.declared_strain()),
            Stage::Temperature => (NARROWEST, self.temperatures().1),
            // Shares of the declared ranges.
            Stage::Together if self.found.is_none() => (self.narrowest_share(), 1.0),
            Stage::Together => (1.0, 1.0),
            Stage::Degree => (1.0, self.channel.gauge.thermal_output.in_celsius().degree() as f64),
            Stage::Done => (0.0, 0.0),
        };
        self.trial = if matches!(stage, Stage::Degree) { self.misses - 1.0 } else { self.keeps };
        if self.trial < self.misses || matches!(stage, Stage::Done) { self } else { self.leave() }
    }

    /// What is in this stage is known, or nothing is to be found.
    const fn leave(self) -> Self {
        match self.stage {
            Stage::Strain => self.enter(Stage::Temperature),
            Stage::Temperature => self.enter(Stage::Together),
            Stage::Together => self.enter(Stage::Degree),
            Stage::Degree | Stage::Done => self.enter(Stage::Done),
        }
    }

    /// The next channel to try.
    pub const fn next(&self) -> Option<Channel> {
        match self.stage {
            Stage::Degree => Some(self.with_degree(self.trial as usize)),
            Stage::Done => None,
            _ => {
                let mut narrower = *self.channel;
                if let Some(limit) = self.strain() {
                    narrower = narrower.strain_within(limit);
                }
                if let Some((low, high)) = self.around() {
                    narrower = narrower.temperature_within(low, high);
                }
                Some(narrower)
            }
        }
    }

    /// The strain range of the trial, if it is another.
    const fn strain(&self) -> Option<Microstrain> {
        match self.stage {
            Stage::Strain => Some(Microstrain(three_digits(self.trial))),
            Stage::Together => Some(Microstrain(three_digits(self.trial * self.declared_strain()))),
            _ => None,
        }
    }

    /// The temperatures of the trial, if they are others.
    const fn around(&self) -> Option<(Celsius, Celsius)> {
        let (middle, half) = self.temperatures();
        let half = match self.stage {
            Stage::Temperature => self.trial,
            Stage::Together => self.trial * half,
            _ => return None,
        };
        Some((Celsius(-tenths(half - middle)), Celsius(tenths(middle + half))))
    }

    /// Whether it keeps the promise.
    pub const fn answer(mut self, kept: bool) -> Self {
        if matches!(self.stage, Stage::Degree) {
            if kept {
                self.found.degree = Some(self.trial as usize);
                return self.leave();
            }
            self.trial -= 1.0;
            return if self.trial < 1.0 { self.leave() } else { self };
        }
        if self.step == 0 && !kept {
            return self.leave();
        }
        if kept {
            self.keeps = self.trial;
            if let Some(limit) = self.strain() {
                self.found.strain = Some(limit);
            }
            if let Some(temperatures) = self.around() {
                self.found.temperatures = Some(temperatures);
            }
            self.found.together = matches!(self.stage, Stage::Together);
        } else {
            self.misses = self.trial;
        }
        self.step += 1;
        if self.step > HALVINGS {
            return self.leave();
        }
        self.trial = (self.keeps + self.misses) / 2.0;
        self
    }

    const fn declared_strain(&self) -> f64 {
        match self.channel.strain_limit {
            Some(limit) => limit.0,
            None => STRAIN_RANGE.1,
        }
    }

    /// Of both ranges, so that each is still one that can be declared.
    const fn narrowest_share(&self) -> f64 {
        let strain = STRAIN_RANGE.0 / self.declared_strain();
        let temperature = NARROWEST / self.temperatures().1;
        if strain > temperature { strain } else { temperature }
    }

    /// Middle and half width of the declared range, C.
    const fn temperatures(&self) -> (f64, f64) {
        let (low, high) = self.channel.temperatures();
        ((low.0 + high.0) / 2.0, (high.0 - low.0) / 2.0)
    }

    /// The channel with a thermal output of this degree: the same curve near the middle of the range.
    const fn with_degree(&self, degree: usize) -> Channel {
        let (middle, half) = self.temperatures();
        let output = &self.channel.gauge.thermal_output;
        let mut terms = output.in_celsius().substitute(middle, half);
        terms = terms.truncated(degree).substitute(-middle / half, 1.0 / half);
        let mut lower = *self.channel;
        lower.gauge.thermal_output = ThermalOutput::celsius(terms.coefficients())
            .stated_for(GaugeFactor(output.stated_for))
            .between(Celsius(output.low), Celsius(output.high));
        lower
    }
}

/// Three digits of a positive number, rounded down.
const fn three_digits(value: f64) -> f64 {
    let mut unit = 1.0;
    while value / unit >= 1000.0 {
        unit *= 10.0;
    }
    if value < 100.0 { tenths(value) } else { (value / unit) as u32 as f64 * unit }
}

/// Tenths, rounded down.
const fn tenths(value: f64) -> f64 {
    let tenths = value * 10.0;
    let toward_zero = tenths as i64 as f64;
    (if toward_zero > tenths { toward_zero - 1.0 } else { toward_zero }) / 10.0
}

/// `const fn $name(channel, promise)`: what would keep the promise, where `$whole(channel)` is the bound of a channel
/// in nanostrain, infinite if it does not compile.
macro_rules! remedy {
    ($name:ident, $whole:ident) => {
        const fn $name<const DEGREE: usize, const FACTOR: usize>(
            channel: &Channel,
            promise: Nanostrain,
        ) -> Remedy {
            let mut search = Search::new(channel);
            while let Some(candidate) = search.next() {
                search = search.answer($whole::<DEGREE, FACTOR>(&candidate) <= promise.0);
            }
            search.found()
        }
    };
}
pub(super) use remedy;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn limits_are_rounded_down() {
        assert_eq!(
            [12_345.6, 1_000.0, 999.9, 100.0, 99.99, 1.05].map(three_digits),
            [12_300.0, 1_000.0, 999.0, 100.0, 99.9, 1.0]
        );
        assert_eq!([-1.05, -1.0, 2.0, 2.19].map(tenths), [-1.1, -1.0, 2.0, 2.1]);
    }
}
