//! Which way the temperature went at each point of a run.

use gaugewright::commissioning::fit::Direction;
use host::figures::ends;

/// Turning back by less than this part of the run's span is unrest.
const UNREST: f64 = 0.02;

/// The direction in which each temperature was reached. The first ones go with what follows, since nothing is known of before.
pub fn sweeps(temperatures: &[f64]) -> Vec<Direction> {
    let (low, high) = ends(temperatures.iter().copied());
    let unrest = UNREST * (high - low);
    let mut sweeps = Vec::new();
    let mut direction = None;
    // Since the last turn: the lowest and the highest so far, and where they are.
    let (mut lowest, mut highest) = ((f64::INFINITY, 0), (f64::NEG_INFINITY, 0));
    for (index, &celsius) in temperatures.iter().enumerate() {
        if celsius <= lowest.0 {
            lowest = (celsius, index);
        }
        if celsius >= highest.0 {
            highest = (celsius, index);
        }
        let rises = celsius - lowest.0 > unrest && direction != Some(Direction::Heating);
        let falls = highest.0 - celsius > unrest && direction != Some(Direction::Cooling);
        if rises || falls {
            // Up to where it turned, all went the other way.
            let (new, turn) =
                if rises { (Direction::Heating, lowest.1) } else { (Direction::Cooling, highest.1) };
            let until = if direction.is_some() { turn + 1 } else { 0 };
            sweeps.resize(until.max(sweeps.len()), direction.unwrap_or(new));
            direction = Some(new);
            (lowest, highest) = ((celsius, index), (celsius, index));
        }
    }
    sweeps.resize(temperatures.len(), direction.unwrap_or(Direction::Heating));
    sweeps
}

#[cfg(test)]
mod tests {
    use super::*;
    use Direction::{Cooling, Heating};

    #[test]
    fn the_turning_point_belongs_to_the_way_that_led_there() {
        assert_eq!(sweeps(&[20.0, 0.0, -20.0, 0.0, 20.0, 40.0, 20.0]), {
            [Cooling, Cooling, Cooling, Heating, Heating, Heating, Cooling]
        });
    }

    #[test]
    fn unrest_is_no_turn() {
        let temperatures = [0.0, 10.0, 20.0, 19.0, 30.0, 60.0, 99.5, 100.0, 99.0, 50.0, 51.0, 0.0];
        let mut expected = vec![Heating; 8];
        expected.extend([Cooling; 4]);
        assert_eq!(sweeps(&temperatures), expected);
    }

    #[test]
    fn one_way_and_nowhere() {
        assert_eq!(sweeps(&[3.0, 2.0, 1.0]), [Cooling; 3]);
        assert_eq!(sweeps(&[1.0; 4]), [Heating; 4]);
        assert!(sweeps(&[]).is_empty());
    }
}
