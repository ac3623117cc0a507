//! The five gauges on the gondola: what each is made of, wired to, warmed by and pulled by. All invented.

use super::bridge::{Bridge, Wiring};
use super::foil::{
    ALUMINIUM, Expansion, FOIL_FOR_ALUMINIUM, FOIL_FOR_TITANIUM, FOIL_NICKEL_CHROMIUM, Foil, NICKEL,
    OTHER_TITANIUM, TITANIUM,
};
use super::loads::Load;
use super::timeline::{CUT_DOWN, FLOAT, LANDING, LAUNCH, OPENING};
use super::weather::Heat;
use std::ops::Range;

/// One gauge and all that is true about it.
pub struct Channel {
    /// Name, as in the columns of the file.
    pub name: &'static str,
    /// What the ground crew knows of the gauge and its wiring.
    pub label: &'static str,
    pub foil: Foil,
    pub specimen: Expansion,
    /// The gauge's own resistance at 24 C, in ohms: a little off the nominal one, as gauges are.
    pub ohms: f64,
    pub bridge: Bridge,
    /// Temperature in the hangar when the unloaded bridge was balanced.
    pub balance_celsius: f64,
    pub heat: Heat,
    pub load: Load,
    /// Seconds during which the gauge is open-circuit.
    pub open: Range<f64>,
}

const NEVER: Range<f64> = 0.0..0.0;

pub static CHANNELS: [Channel; 5] = [
    Channel {
        name: "strut_north",
        label: "gauge_on_aluminium, 350 ohm, three-wire, 1.2 ohm a lead",
        foil: FOIL_FOR_ALUMINIUM,
        specimen: ALUMINIUM,
        ohms: 350.21,
        bridge: Bridge {
            wiring: Wiring::ThreeWire,
            lead: 1.2,
            completion: 349.94,
            near: 5_000.4,
            far: 4_999.7,
        },
        balance_celsius: 18.5,
        heat: Heat { lag: 75.0, shelter: 0.0, sun: 92.0, side: 0.5, heater: &[] },
        load: Load {
            steady: &[
                (LAUNCH, 0.0),
                (LAUNCH + 1.2, 640.0),
                (CUT_DOWN, 640.0),
                (CUT_DOWN + 0.6, 20.0),
                (OPENING, 20.0),
                (OPENING + 2.0, 610.0),
                (LANDING, 610.0),
                (LANDING + 0.8, -45.0),
            ],
            swing: 26.0,
            gust: 190.0,
            launch: 420.0,
            opening: 3_250.0,
            landing: -820.0,
            valve: 0.0,
        },
        open: NEVER,
    },
    Channel {
        name: "strut_south",
        label: "gauge_on_aluminium, 350 ohm, two-wire, 0.35 ohm a lead",
        foil: FOIL_FOR_ALUMINIUM,
        specimen: ALUMINIUM,
        ohms: 350.38,
        bridge: Bridge {
            wiring: Wiring::TwoWire,
            lead: 0.35,
            completion: 349.81,
            near: 4_999.8,
            far: 5_000.1,
        },
        balance_celsius: 21.0,
        heat: Heat { lag: 95.0, shelter: 0.0, sun: 110.0, side: 0.0, heater: &[] },
        load: Load {
            steady: &[
                (LAUNCH, 0.0),
                (LAUNCH + 1.2, 715.0),
                (CUT_DOWN, 715.0),
                (CUT_DOWN + 0.6, 25.0),
                (OPENING, 25.0),
                (OPENING + 2.0, 680.0),
                (LANDING, 680.0),
                (LANDING + 0.8, 30.0),
            ],
            swing: -31.0,
            gust: 225.0,
            launch: 470.0,
            opening: 2_700.0,
            landing: -960.0,
            valve: 0.0,
        },
        // The bump shakes a solder joint loose; it comes to rest touching again.
        open: LANDING + 1.0..LANDING + 5.0,
    },
    Channel {
        name: "fitting_crown",
        label: "gauge_on_titanium, 350 ohm, three-wire, 2.5 ohm a lead",
        foil: FOIL_FOR_TITANIUM,
        specimen: TITANIUM,
        ohms: 349.73,
        bridge: Bridge {
            wiring: Wiring::ThreeWire,
            lead: 2.5,
            completion: 350.09,
            near: 5_000.2,
            far: 5_000.3,
        },
        balance_celsius: 16.5,
        heat: Heat { lag: 130.0, shelter: 0.0, sun: 85.0, side: 0.25, heater: &[] },
        load: Load {
            steady: &[
                (LAUNCH, 0.0),
                (LAUNCH + 1.2, 390.0),
                (CUT_DOWN, 390.0),
                (CUT_DOWN + 0.6, 10.0),
                (OPENING, 10.0),
                (OPENING + 2.0, 375.0),
                (LANDING, 375.0),
                (LANDING + 0.8, 5.0),
            ],
            swing: 9.0,
            gust: 70.0,
            launch: 240.0,
            opening: 1_480.0,
            landing: -120.0,
            valve: 0.0,
        },
        open: NEVER,
    },
    Channel {
        name: "fitting_keel",
        label: "gauge_on_titanium on an alloy that expands 1.1e-6/C more, 350 ohm, three-wire, 2.5 ohm a lead",
        foil: FOIL_FOR_TITANIUM,
        specimen: OTHER_TITANIUM,
        ohms: 350.46,
        bridge: Bridge {
            wiring: Wiring::ThreeWire,
            lead: 2.5,
            completion: 349.88,
            near: 4_999.9,
            far: 5_000.2,
        },
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
            valve: 0.0,
        },
        open: NEVER,
    },
    Channel {
        name: "valve_body",
        label: "gauge_nickel_chromium, 1000 ohm, three-wire, 0.8 ohm a lead",
        foil: FOIL_NICKEL_CHROMIUM,
        specimen: NICKEL,
        ohms: 1_000.64,
        bridge: Bridge {
            wiring: Wiring::ThreeWire,
            lead: 0.8,
            completion: 999.72,
            near: 5_000.1,
            far: 4_999.6,
        },
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
            valve: 780.0,
        },
        open: NEVER,
    },
];
