//! The struts that the gondola hangs on.

use super::{Arm, Block, Channel, NEVER, hanging, quarter};
use crate::simulation::bridge::Leads;
use crate::simulation::foil::{ALUMINIUM, FOIL_FOR_ALUMINIUM};
use crate::simulation::loads::{Load, Shock};
use crate::simulation::sensors::Sensor;
use crate::simulation::timeline::LANDING;
use crate::simulation::weather::Heat;

pub const NORTH: Channel = Channel {
    name: "strut_north",
    label: "gauge_on_aluminium, 350 ohm, three-wire, 1.2 ohm a lead",
    foil: FOIL_FOR_ALUMINIUM,
    specimen: ALUMINIUM,
    arms: quarter(350.21, 349.94, 4_999.7, 5_000.4),
    leads: Leads::Three(1.2),
    balance_celsius: 18.5,
    heat: Heat { lag: 75.0, shelter: 0.0, sun: 92.0, side: 0.5, heater: &[] },
    load: Load {
        steady: &hanging(640.0, 20.0, 610.0, -45.0),
        swing: 26.0,
        gust: 190.0,
        launch: 420.0,
        opening: 3_250.0,
        landing: -820.0,
        shock: Shock::Pull,
        valve: 0.0,
    },
    axial: None,
    block: None,
    sensor: None,
    open: NEVER,
};

pub const SOUTH: Channel = Channel {
    name: "strut_south",
    label: "gauge_on_aluminium, 350 ohm, two-wire, 0.35 ohm a lead",
    foil: FOIL_FOR_ALUMINIUM,
    specimen: ALUMINIUM,
    arms: quarter(350.38, 349.81, 5_000.1, 4_999.8),
    leads: Leads::Two(0.35),
    balance_celsius: 21.0,
    heat: Heat { lag: 95.0, shelter: 0.0, sun: 110.0, side: 0.0, heater: &[] },
    load: Load {
        steady: &hanging(715.0, 25.0, 680.0, 30.0),
        swing: -31.0,
        gust: 225.0,
        launch: 470.0,
        opening: 2_700.0,
        landing: -960.0,
        shock: Shock::Pull,
        valve: 0.0,
    },
    axial: None,
    block: None,
    sensor: Some(Sensor::PlatinumThreeWire { pair_ohms: 1.7 }),
    // The bump shakes a solder joint loose; it comes to rest touching again.
    open: LANDING + 1.0..LANDING + 5.0,
};

/// A third strut, whose gauge has an equal one beside it, on a block of the same metal that carries nothing. The block
/// is thicker than the strut, so it follows the weather more slowly.
pub const SPARE: Channel = Channel {
    name: "strut_spare",
    label: "gauge_on_aluminium and an equal one on a free aluminium block, half bridge, 350 ohm, three-wire, \
            1.5 ohm a lead",
    foil: FOIL_FOR_ALUMINIUM,
    specimen: ALUMINIUM,
    arms: [
        Arm::Gauge { ohms: 350.17, sees: 1.0 },
        Arm::BlockGauge { ohms: 349.86 },
        Arm::Resistor(4_999.9),
        Arm::Resistor(5_000.3),
    ],
    leads: Leads::Three(1.5),
    balance_celsius: 19.0,
    heat: Heat { lag: 80.0, shelter: 0.0, sun: 98.0, side: 0.8, heater: &[] },
    load: Load {
        steady: &hanging(560.0, 15.0, 535.0, -25.0),
        swing: 22.0,
        gust: 165.0,
        launch: 380.0,
        opening: 2_450.0,
        landing: -700.0,
        shock: Shock::Pull,
        valve: 0.0,
    },
    axial: None,
    block: Some(Block {
        balance_celsius: 18.25,
        heat: Heat { lag: 136.0, shelter: 0.0, sun: 98.0, side: 0.8, heater: &[] },
    }),
    sensor: None,
    open: NEVER,
};
