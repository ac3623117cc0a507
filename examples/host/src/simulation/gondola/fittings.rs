//! The titanium parts between the struts.

use super::{Arm, Channel, NEVER, hanging, quarter};
use crate::simulation::bridge::Leads;
use crate::simulation::foil::{FOIL_FOR_TITANIUM, OTHER_TITANIUM, TITANIUM};
use crate::simulation::loads::{Load, Shock};
use crate::simulation::timeline::{CUT_DOWN, FLOAT, LANDING, LAUNCH, OPENING};
use crate::simulation::weather::Heat;

/// Of the tie rod: how much thinner it gets for each part that it gets longer.
const POISSON_RATIO: f64 = 0.33;

pub const CROWN: Channel = Channel {
    name: "fitting_crown",
    label: "gauge_on_titanium, 350 ohm, three-wire, 2.5 ohm a lead",
    foil: FOIL_FOR_TITANIUM,
    specimen: TITANIUM,
    arms: quarter(349.73, 350.09, 5_000.3, 5_000.2),
    leads: Leads::Three(2.5),
    balance_celsius: 16.5,
    heat: Heat { lag: 130.0, shelter: 0.0, sun: 85.0, side: 0.25, heater: &[] },
    load: Load {
        steady: &hanging(390.0, 10.0, 375.0, 5.0),
        swing: 9.0,
        gust: 70.0,
        launch: 240.0,
        opening: 1_480.0,
        landing: -120.0,
        shock: Shock::Pull,
        valve: 0.0,
    },
    axial: None,
    block: None,
    sensor: None,
    open: NEVER,
};

pub const KEEL: Channel = Channel {
    name: "fitting_keel",
    label: "gauge_on_titanium on an alloy that expands 1.1e-6/C more, 350 ohm, three-wire, 2.5 ohm a lead",
    foil: FOIL_FOR_TITANIUM,
    specimen: OTHER_TITANIUM,
    arms: quarter(350.46, 349.88, 5_000.2, 4_999.9),
    leads: Leads::Three(2.5),
    balance_celsius: 19.75,
    heat: Heat { lag: 160.0, shelter: 2.0, sun: 72.0, side: 0.7, heater: &[] },
    load: Load {
        // Stands on the ground; carries ballast in flight, which is dropped in three portions; stands again.
        steady: &[
            (0.0, -285.0),
            (LAUNCH, -285.0),
            (LAUNCH + 1.2, 210.0),
            (FLOAT + 400.0, 210.0),
            (FLOAT + 440.0, 150.0),
            (FLOAT + 1_500.0, 150.0),
            (FLOAT + 1_550.0, 85.0),
            (FLOAT + 2_900.0, 85.0),
            (FLOAT + 2_930.0, 40.0),
            (CUT_DOWN, 40.0),
            (CUT_DOWN + 0.6, -15.0),
            (OPENING, -15.0),
            (OPENING + 2.0, 35.0),
            (LANDING, 35.0),
            (LANDING + 0.8, -310.0),
        ],
        swing: 5.0,
        gust: 45.0,
        launch: 110.0,
        opening: 640.0,
        landing: -1_750.0,
        shock: Shock::Pull,
        valve: 0.0,
    },
    axial: None,
    block: None,
    sensor: None,
    open: NEVER,
};

/// A rod with one gauge along it and one around it.
pub const TIE_ROD: Channel = Channel {
    name: "tie_rod",
    label: "gauge_on_titanium along and across a rod, half bridge, Poisson ratio 0.33, 350 ohm, three-wire, \
            1.8 ohm a lead",
    foil: FOIL_FOR_TITANIUM,
    specimen: TITANIUM,
    arms: [
        Arm::Gauge { ohms: 350.09, sees: 1.0 },
        Arm::Gauge { ohms: 350.33, sees: -POISSON_RATIO },
        Arm::Resistor(5_000.2),
        Arm::Resistor(4_999.6),
    ],
    leads: Leads::Three(1.8),
    balance_celsius: 18.0,
    heat: Heat { lag: 60.0, shelter: 0.0, sun: 78.0, side: 0.4, heater: &[] },
    load: Load {
        // Tightened when the gondola hangs; slack on the ground.
        steady: &hanging(450.0, 30.0, 430.0, 0.0),
        swing: 14.0,
        gust: 110.0,
        launch: 300.0,
        opening: 1_900.0,
        landing: -640.0,
        shock: Shock::Pull,
        valve: 0.0,
    },
    axial: None,
    block: None,
    sensor: None,
    open: NEVER,
};
