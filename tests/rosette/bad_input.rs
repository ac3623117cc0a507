//! Rosettes, materials and uncertainties that are refused for more than a number out of its range;
//! `tests/channel/fields.rs` has those.

use gaugewright::Error;
use gaugewright::error::{Field, Quantity};
use gaugewright::numeric::Polynomial;
use gaugewright::rosette::*;
use gaugewright::units::*;
use support::refusal::refused_for;

#[test]
fn integers() {
    let narrow = Rosette::at_angles([Degrees(0.0), Degrees(5.0), Degrees(90.0)]);
    assert!(narrow.check().is_ok());
    for error in [narrow.try_fixed().unwrap_err(), narrow.fixed_error(Microstrain(1.0)).unwrap_err()] {
        let Error::Overflow { quantity: Quantity::RosetteConstants, value, limit } = error else {
            panic!("{error}")
        };
        assert!(value > limit && limit == 3.99);
        assert!(error.to_string().ends_with("take f32, or grids further apart"), "{error}");
    }
}

#[test]
#[should_panic = "angle between two grids (degrees) is 0, allowed: 1 to 90"]
fn the_panicking_form() {
    let _ = Rosette::at_angles([Degrees(0.0), Degrees(45.0), Degrees(225.0)]).float32();
}

/// Correlations that contradict each other, and those that only seem to.
#[test]
fn contradictions() {
    let contradiction = GridUncertainty::correlated([Microstrain(1.0); 3], [1.0, 1.0, -1.0]);
    assert_eq!(refused_for(contradiction, Field::CorrelationDeterminant), -4.0);
    for agreeing in [[1.0, 1.0, 1.0], [1.0, -1.0, -1.0], [0.6, 0.8, 0.0], [-0.5, -0.5, -0.5]] {
        assert!(GridUncertainty::correlated([Microstrain(1.0); 3], agreeing).is_ok(), "{agreeing:?}");
    }
}

/// A curve that leaves the range of moduli, at the temperature where it does.
#[test]
fn falling_modulus() {
    let falling =
        Material::polynomial(Polynomial::new([200.0, -1.0]), 0.3).between(Celsius(0.0), Celsius(300.0));
    assert!(falling.at(Celsius(150.0)).is_ok());
    refused_for(falling.at(Celsius(250.0)), Field::ElasticModulus);
}
