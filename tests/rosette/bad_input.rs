//! Every input of a rosette, a material and an uncertainty that is out of range, missing or contradictory is
//! refused, with the field, the value and the range that would be allowed.

use gaugewright::error::{Field, Quantity};
use gaugewright::numeric::Polynomial;
use gaugewright::rosette::*;
use gaugewright::units::*;
use gaugewright::{Error, Gauge};
use support::refusal::{each, refused_for};

/// By every way that a rosette can be used.
#[track_caller]
fn refused_everywhere(rosette: Rosette, field: Field) {
    let state = PlaneStrain::new(0.0, 0.0, 0.0);
    refused_for(rosette.check(), field);
    refused_for(rosette.try_float32(), field);
    refused_for(rosette.try_float64(), field);
    refused_for(rosette.try_fixed(), field);
    refused_for(rosette.indicated(&state), field);
    refused_for(rosette.fixed_error(Microstrain(100.0)), field);
}

#[test]
fn angles() {
    let at = |a: f64, b: f64, c: f64| Rosette::at_angles([Degrees(a), Degrees(b), Degrees(c)]);
    for bad in each(&[360.1, -360.1]) {
        refused_everywhere(at(bad, 45.0, 90.0), Field::GridAngle);
        refused_everywhere(at(0.0, bad, 90.0), Field::GridAngle);
        refused_everywhere(at(0.0, 45.0, bad), Field::GridAngle);
        refused_everywhere(Rosette::delta().turned(Degrees(bad)), Field::GridAngle);
    }
    // Coincident, or half a turn apart, whichever two they are; and nearly so.
    for other in [30.0, 210.0, -150.0, 30.9, 29.1, 210.9] {
        refused_everywhere(at(30.0, other, 90.0), Field::GridSeparation);
        refused_everywhere(at(30.0, 90.0, other), Field::GridSeparation);
        refused_everywhere(at(90.0, 30.0, other), Field::GridSeparation);
    }
    assert_eq!(refused_for(at(30.0, 210.0, 90.0).check(), Field::GridSeparation), 0.0);
    // A degree apart is the least, and magnifies less than what is refused.
    assert!(at(0.0, 1.0, 2.0).check().is_ok() && at(179.5, 0.5, 90.0).check().is_ok());
}

#[test]
fn sensitivities() {
    for bad in each(&[50.1, -50.1]) {
        for grid in 0..3 {
            let mut sensitivities = [Percent(0.5); 3];
            sensitivities[grid] = Percent(bad);
            let rosette = Rosette::rectangular().transverse_sensitivity(sensitivities);
            refused_everywhere(rosette, Field::TransverseSensitivity);
            let gauges = sensitivities.map(|kt| Gauge::new(GaugeFactor(2.0)).transverse_sensitivity(kt));
            refused_everywhere(Rosette::delta().gauges(&gauges), Field::TransverseSensitivity);
        }
    }
    for bad in each(&[-0.01, 0.51]) {
        refused_everywhere(Rosette::delta().calibration_poisson_ratio(bad), Field::CalibrationPoissonRatio);
    }
}

/// Sensitivities that no gauge has can undo what three angles tell: grids within 20 degrees, the middle one
/// seeing all round alike and the outer ones not. Refused by what comes out, not by the angles.
#[test]
fn sensitivities_that_make_the_grids_alike() {
    let at = |half: f64, outer: f64| {
        Rosette::at_angles([Degrees(-half), Degrees(0.0), Degrees(half)]).transverse_sensitivity([
            Percent(outer),
            Percent(0.0),
            Percent(outer),
        ])
    };
    // (1 + K) / (1 - K) of the outer grids over that of the middle one is the cosine of twice the angle: the
    // three equations are then the same but for shear.
    let half = 10.0f64;
    let ratio = (2.0 * half).to_radians().cos();
    let outer = 100.0 * (ratio - 1.0) / (ratio + 1.0);
    refused_everywhere(at(half, outer), Field::RosetteGain);
    assert!(at(half, outer + 0.5).check().is_ok() && at(half, 0.0).check().is_ok());
}

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
    for bad in each(&[0.0, -5.0, 125_001.0]) {
        refused_for(Rosette::delta().fixed_error(Microstrain(bad)), Field::GridStrain);
    }
    assert!(Rosette::delta().fixed_error(Microstrain(125_000.0)).is_ok());
}

#[test]
#[should_panic = "angle between two grids (degrees) is 0, allowed: 1 to 90"]
fn the_panicking_form() {
    let _ = Rosette::at_angles([Degrees(0.0), Degrees(45.0), Degrees(225.0)]).float32();
}

#[test]
fn uncertainties() {
    for bad in each(&[-0.1, 100_001.0]) {
        for grid in 0..3 {
            let mut standard = [Microstrain(1.0); 3];
            standard[grid] = Microstrain(bad);
            refused_for(GridUncertainty::independent(standard), Field::StrainUncertainty);
            refused_for(GridUncertainty::correlated(standard, [0.0; 3]), Field::StrainUncertainty);
        }
    }
    let known = GridUncertainty::independent([Microstrain(1.0); 3]).unwrap();
    for bad in each(&[-100_001.0, 100_001.0]) {
        for grid in 0..3 {
            let mut part = [Microstrain(-1.0); 3];
            part[grid] = Microstrain(bad);
            refused_for(known.shared(part), Field::SharedUncertainty);
        }
    }
    for bad in each(&[-1.01, 1.01]) {
        for pair in 0..3 {
            let mut correlation = [0.0; 3];
            correlation[pair] = bad;
            refused_for(GridUncertainty::correlated([Microstrain(1.0); 3], correlation), Field::Correlation);
        }
    }
    let contradiction = GridUncertainty::correlated([Microstrain(1.0); 3], [1.0, 1.0, -1.0]);
    assert_eq!(refused_for(contradiction, Field::CorrelationDeterminant), -4.0);
    for agreeing in [[1.0, 1.0, 1.0], [1.0, -1.0, -1.0], [0.6, 0.8, 0.0], [-0.5, -0.5, -0.5]] {
        assert!(GridUncertainty::correlated([Microstrain(1.0); 3], agreeing).is_ok(), "{agreeing:?}");
    }
}

#[test]
fn materials() {
    let room = Celsius(20.0);
    for bad in each(&[0.0, -200.0, 2001.0]) {
        refused_for(Material::new(Gigapascals(bad), 0.3).at(room), Field::ElasticModulus);
    }
    for bad in each(&[-0.01, 0.501]) {
        refused_for(Material::new(Gigapascals(200.0), bad).at(room), Field::PoissonRatio);
    }
    let steel = Material::new(Gigapascals(200.0), 0.3);
    for bad in each(&[-0.1, 51.0]) {
        refused_for(steel.modulus_uncertainty(Percent(bad)).at(room), Field::ModulusUncertainty);
    }
    for bad in each(&[-0.01, 0.21]) {
        refused_for(steel.poisson_uncertainty(bad).at(room), Field::PoissonUncertainty);
    }
    for bad in each(&[-273.2, 2048.0]) {
        refused_for(steel.at(Celsius(bad)), Field::Temperature);
        refused_for(steel.between(Celsius(bad), Celsius(2047.0)).at(room), Field::ModulusLow);
        refused_for(steel.between(Celsius(-100.0), Celsius(bad)).at(room), Field::ModulusHigh);
    }
    refused_for(steel.between(Celsius(50.0), Celsius(40.0)).at(Celsius(45.0)), Field::ModulusHigh);

    // What changes with temperature has to say where it is known, and is not used elsewhere.
    let sloping = steel.modulus_slope(PercentPer100C(-4.0), room);
    assert!(refused_for(sloping.at(room), Field::ModulusLow).is_nan());
    let known = sloping.between(Celsius(-50.0), Celsius(200.0));
    assert!(known.at(Celsius(-50.0)).is_ok() && known.at(Celsius(200.0)).is_ok());
    for bad in each(&[-50.001, 200.001]) {
        refused_for(known.at(Celsius(bad)), Field::Temperature);
    }
    // A curve that leaves the range of moduli, at the temperature where it does.
    let falling =
        Material::polynomial(Polynomial::new([200.0, -1.0]), 0.3).between(Celsius(0.0), Celsius(300.0));
    assert!(falling.at(Celsius(150.0)).is_ok());
    refused_for(falling.at(Celsius(250.0)), Field::ElasticModulus);
}
