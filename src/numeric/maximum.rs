//! The search for the temperature at which something is largest. `const fn` knows no closures and no traits, so what is
//! shared is a macro.

/// Makes `best_of` and `golden` inside an `impl`, for a `const fn score(&self, aim, temperature) -> Result<f64, Error>`
/// whose aim is of the type given.
macro_rules! search {
    ($aim:ty) => {
        /// The temperature between these two with the highest score: in even steps, every place that is better than its
        /// neighbours, and from there by golden section. Of equals, the lowest.
        pub(super) const fn best_of(
            &self,
            aim: $aim,
            low: f64,
            high: f64,
            steps: usize,
        ) -> Result<f64, crate::error::Error> {
            let step = (high - low) / steps as f64;
            let (mut best, mut most) = (low, crate::error::check!(self.score(aim, low)));
            let (mut before, mut here) = (f64::NEG_INFINITY, most);
            let mut k = 0;
            while k <= steps {
                let temperature = if k == steps { high } else { low + step * k as f64 };
                let next = if k == steps { high } else { low + step * (k + 1) as f64 };
                let next = if next > high { high } else { next };
                let ahead =
                    if k == steps { f64::NEG_INFINITY } else { crate::error::check!(self.score(aim, next)) };
                if here > before && here >= ahead {
                    if here > most {
                        (best, most) = (temperature, here);
                    }
                    let left = if k == 0 { low } else { temperature - step };
                    let refined = crate::error::check!(self.golden(aim, left, next));
                    let score = crate::error::check!(self.score(aim, refined));
                    if score > most {
                        (best, most) = (refined, score);
                    }
                }
                (before, here) = (here, ahead);
                k += 1;
            }
            Ok(best)
        }

        const fn golden(&self, aim: $aim, mut left: f64, mut right: f64) -> Result<f64, crate::error::Error> {
            const SHARE: f64 = 0.618_033_988_749_894_8;
            let mut inner = (right - (right - left) * SHARE, left + (right - left) * SHARE);
            let mut scores = (
                crate::error::check!(self.score(aim, inner.0)),
                crate::error::check!(self.score(aim, inner.1)),
            );
            let mut k = 0;
            // To a billionth of a step; the extreme itself is flat there.
            while k < 40 {
                if scores.0 > scores.1 {
                    right = inner.1;
                    inner = (right - (right - left) * SHARE, inner.0);
                    scores = (crate::error::check!(self.score(aim, inner.0)), scores.0);
                } else {
                    left = inner.0;
                    inner = (inner.1, left + (right - left) * SHARE);
                    scores = (scores.1, crate::error::check!(self.score(aim, inner.1)));
                }
                k += 1;
            }
            Ok(if scores.0 > scores.1 { inner.0 } else { inner.1 })
        }
    };
}
pub(crate) use search;
