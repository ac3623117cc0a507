//! What the gondola carries: the gas valve, and a boom with instruments at its end.

use super::{Arm, Channel, NEVER, hanging, quarter};
use crate::simulation::bridge::Leads;
use crate::simulation::foil::{ALUMINIUM, FOIL_FOR_ALUMINIUM, FOIL_NICKEL_CHROMIUM, NICKEL};
use crate::simulation::loads::{Load, Shock};
use crate::simulation::sensors::Sensor;
use crate::simulation::timeline::{CUT_DOWN, FLOAT, LAUNCH};
use crate::simulation::weather::Heat;

pub const VALVE: Channel = Channel {
    name: "valve_body",
    label: "gauge_nickel_chromium, 1000 ohm, three-wire, 0.8 ohm a lead",
    foil: FOIL_NICKEL_CHROMIUM,
    specimen: NICKEL,
    arms: quarter(1_000.64, 999.72, 4_999.6, 5_000.1),
    leads: Leads::Three(0.8),
    balance_celsius: 20.25,
    heat: Heat {
        lag: 110.0,
        shelter: 16.5,
        sun: 0.0,
        side: 0.0,
        // Warmed before each use. The third time the heater's switch sticks, until it is cut off from afar.
        heater: &[
            (3_300.0, 0.0),
            (3_310.0, 119.5),
            (4_700.0, 119.5),
            (4_710.0, 0.0),
            (5_000.0, 0.0),
            (5_010.0, 110.0),
            (5_600.0, 110.0),
            (5_610.0, 0.0),
            (5_850.0, 0.0),
            (5_860.0, 150.5),
            (6_148.0, 150.5),
            (6_158.0, 0.0),
            (6_700.0, 0.0),
            (6_710.0, 95.0),
            (7_500.0, 95.0),
            (7_510.0, 0.0),
        ],
    },
    load: Load {
        steady: &[(LAUNCH, 0.0), (FLOAT, 150.0), (CUT_DOWN, 120.0), (CUT_DOWN + 3.0, 0.0)],
        swing: 2.0,
        gust: 18.0,
        launch: 35.0,
        opening: 210.0,
        landing: 160.0,
        shock: Shock::Pull,
        valve: 780.0,
    },
    axial: None,
    block: None,
    sensor: Some(Sensor::ThermocoupleK),
    open: NEVER,
};

/// The boom where it leaves the gondola: two gauges above that are stretched when it bends down, two below that are
/// pressed. The boom is pulled as well, at a slant, which all four see alike.
pub const BOOM: Channel = Channel {
    name: "boom_root",
    label: "four gauge_on_aluminium on a bent boom, full bridge, 350 ohm, 4 ohm a lead to the excitation, \
            sensed at the instrument",
    foil: FOIL_FOR_ALUMINIUM,
    specimen: ALUMINIUM,
    arms: [
        Arm::Gauge { ohms: 350.24, sees: 1.0 },
        Arm::Gauge { ohms: 349.91, sees: -1.0 },
        Arm::Gauge { ohms: 350.12, sees: 1.0 },
        Arm::Gauge { ohms: 350.31, sees: -1.0 },
    ],
    leads: Leads::Four(4.0),
    balance_celsius: 17.5,
    heat: Heat { lag: 70.0, shelter: 0.0, sun: 88.0, side: 0.1, heater: &[] },
    load: Load {
        // Propped up on the ground until the launch, and again by the ground itself.
        steady: &hanging(260.0, 10.0, 245.0, -90.0),
        swing: 85.0,
        gust: 340.0,
        launch: 900.0,
        opening: 1_950.0,
        landing: -2_200.0,
        shock: Shock::Whip,
        valve: 0.0,
    },
    axial: Some(Load {
        steady: &[(LAUNCH, 0.0), (LAUNCH + 1.2, 95.0), (CUT_DOWN, 95.0), (CUT_DOWN + 0.6, 0.0)],
        swing: 8.0,
        gust: 40.0,
        launch: 120.0,
        opening: 420.0,
        landing: -260.0,
        shock: Shock::Pull,
        valve: 0.0,
    }),
    block: None,
    sensor: None,
    open: NEVER,
};
