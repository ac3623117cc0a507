//! The search for the place at which something is largest.

use crate::error::Error;

/// The place between these two with the highest score: in even steps, every place that is better than its
/// neighbours, and from there by golden section. Of equals, the lowest.
pub(crate) fn place_of_maximum(
    score: impl Fn(f64) -> Result<f64, Error>,
    (low, high): (f64, f64),
    steps: usize,
) -> Result<f64, Error> {
    let step = (high - low) / steps as f64;
    let (mut best, mut most) = (low, score(low)?);
    let (mut before, mut here) = (f64::NEG_INFINITY, most);
    for k in 0..=steps {
        let place = if k == steps { high } else { low + step * k as f64 };
        let next = if k == steps { high } else { (low + step * (k + 1) as f64).min(high) };
        let ahead = if k == steps { f64::NEG_INFINITY } else { score(next)? };
        if here > before && here >= ahead {
            if here > most {
                (best, most) = (place, here);
            }
            let left = if k == 0 { low } else { place - step };
            let refined = by_golden_section(&score, left, next)?;
            let score = score(refined)?;
            if score > most {
                (best, most) = (refined, score);
            }
        }
        (before, here) = (here, ahead);
    }
    Ok(best)
}

/// The highest score between two places, where there is one peak.
pub(crate) fn by_golden_section(
    score: impl Fn(f64) -> Result<f64, Error>,
    mut left: f64,
    mut right: f64,
) -> Result<f64, Error> {
    const SHARE: f64 = 0.618_033_988_749_894_8;
    let mut inner = (right - (right - left) * SHARE, left + (right - left) * SHARE);
    let mut scores = (score(inner.0)?, score(inner.1)?);
    // To a part in 10^8 of the interval; the score is flat near its maximum.
    for _ in 0..40 {
        if scores.0 > scores.1 {
            right = inner.1;
            inner = (right - (right - left) * SHARE, inner.0);
            scores = (score(inner.0)?, scores.0);
        } else {
            left = inner.0;
            inner = (inner.1, left + (right - left) * SHARE);
            scores = (scores.1, score(inner.1)?);
        }
    }
    Ok(if scores.0 > scores.1 { inner.0 } else { inner.1 })
}
