//! What a channel file says of checks on site, uncertainties and rosettes: as constants of C, and what is refused.

use crate::run::{header, words};
use approx::assert_relative_eq;
use gaugewright::ffi::{LayoutCompatible, gw_rosette, gw_shunt_check, gw_uncertainty, gw_wiring_check};
use gaugewright::uncertainty::Input;
use gaugewright::units::{Celsius, Microstrain};
use host::channel_file::{self, ChannelFile, Description};
use host::describe::describe;
use host::on_site::{shunt_check, wiring_check};
use host::rosette::rosette;
use host::uncertainty::{Stated, stated};

const EVERY_KEY: &str = include_str!("every_key.toml");

fn file() -> ChannelFile {
    channel_file::parse(EVERY_KEY).map_err(|problems| problems[0].to_string()).unwrap()
}

#[test]
fn constants_of_c_are_what_the_file_says() {
    let (run, header) = header("constants_every_key", EVERY_KEY);
    run.gives(0);
    let file = file();
    let (mut wirings, mut shunts, mut uncertainties) = (0, 0, 0);
    for description in &file.channels {
        let channel = describe(description).unwrap().channel;
        let named = |kind: &str| format!("{kind}_{}", host::c_header::identifier(&description.name));
        if let Some(on_site) = &description.on_site {
            if let Some(check) = wiring_check(&channel, on_site).unwrap() {
                assert_eq!(words(&header, &named("wiring")), gw_wiring_check::of(check).words);
                wirings += 1;
            }
            if let Some(check) = shunt_check(&channel, on_site).unwrap() {
                assert_eq!(words(&header, &named("shunt")), gw_shunt_check::of(check).words);
                shunts += 1;
            }
        }
        if let Some(Stated { uncertainties: stated, .. }) = stated(description, &channel).unwrap() {
            let kernel = stated.try_float32().unwrap();
            assert_eq!(words(&header, &named("uncertainty")), gw_uncertainty::of(kernel).words);
            uncertainties += 1;
        }
    }
    assert_eq!((wirings, shunts, uncertainties), (2, 2, 4));
    for words_of in &file.rosettes {
        let Ok((rosette, _)) = rosette::<3>(words_of, &file.channels) else {
            assert!(header.contains(&format!("// Rosette {}: left out, as those of C", words_of.name)));
            continue;
        };
        let name = format!("rosette_{}", host::c_header::identifier(&words_of.name));
        assert_eq!(words(&header, &name), gw_rosette::of(rosette.fixed()).words);
    }
    assert_eq!(header.matches("static const gw_rosette ").count(), 3);
    for line in [
        "// frame: grids a, b and c are 1st channel, all of it, half bending, full bending. Largest error, proven, for",
        "// Shunt: it changes the code by 941958 to 962908, rounded outwards, and gives spans of 0.989012 to 1.011008.",
        "for balance codes -500000 to 500000 and spans of 0.989012 to 1.011008.",
        "// Wiring, with resistors within 0.1 %: in order at codes -1073741 to 1073741 without load; compared exactly.",
        "// Standard uncertainty of a sample. The integer root is proven to be at most 0.6 nanostrain above; the constants are larger by \
         8 parts in a million, which covers single precision (sampled). Taken as exact, as not stated: gauge factor, slope of gauge factor,",
    ] {
        assert!(
            header.replace("\n// ", " ").contains(line.trim_start_matches("// ")),
            "{line:?} is not in\n{header}"
        );
    }
    // A channel's lines do not go on into a rosette.
    assert!(!header.contains("layout = ") && header.contains("//   temperature_error_c = 0.2\n"));
}

/// Each key is the input that it names: alone, it is the only one in the budget beside what is proven.
#[test]
fn every_key_is_its_input() {
    let file = file();
    let first = &file.channels[0];
    let mut description = file.channels[0].clone();
    let channel = describe(first).unwrap().channel;
    let all = stated(first, &channel).unwrap().unwrap();
    assert_eq!(all.not_stated().count(), 0);
    let budget = all.uncertainties.budget(Microstrain(1_000.0), Celsius(-40.0)).unwrap();
    let inputs = [
        ("gauge_factor_percent = 0.5", Input::GaugeFactor),
        ("gauge_factor_slope_percent_per_100_c = 0.1", Input::GaugeFactorSlope),
        ("temperature_c = 0.3", Input::Temperature),
        ("balance_temperature_c = 0.2", Input::BalanceTemperature),
        ("thermometer_c = 0.1", Input::Thermometer),
        ("thermal_output_microstrain = 2.0", Input::ThermalOutput),
        ("thermal_output_slope_microstrain_per_c = 0.15", Input::ThermalOutputSlope),
        ("expansion_ppm_per_c = 0.3", Input::Expansion),
        ("lead_ohm = 0.05", Input::LeadResistance),
        ("lead_temperature_c = 10", Input::LeadTemperature),
        ("poisson_ratio = 0.01", Input::PoissonRatio),
        ("output_ratio_percent = 0.02", Input::Ratio),
        ("noise_codes = 40", Input::Noise),
        ("quantisation_codes = 0.75", Input::Quantisation),
        ("balance_noise_codes = 2", Input::BalanceNoise),
    ];
    for (key, input) in inputs {
        assert_eq!(EVERY_KEY.matches(&format!("\n{key}\n")).count(), 1, "{key}");
        description.uncertainty = Some(toml::from_str(key).unwrap());
        let one = stated(&description, &channel).unwrap().unwrap();
        // Each of the others is named, but for the one that a quarter bridge does not depend on, and half a code.
        let others = if matches!(input, Input::PoissonRatio | Input::Quantisation) { 13 } else { 12 };
        let not_stated: Vec<Input> = one.not_stated().map(|it| it.input).collect();
        assert!(!not_stated.contains(&input) && not_stated.len() == others, "{key}: {not_stated:?}");
        let alone = one.uncertainties.budget(Microstrain(1_000.0), Celsius(-40.0)).unwrap();
        for other in Input::ALL {
            let found = alone.contribution(other).uncertainty.0;
            if other == Input::Quantisation && input != other {
                // Half a code, in place of three quarters.
                assert_relative_eq!(
                    found,
                    budget.contribution(other).uncertainty.0 / 1.5,
                    max_relative = 1e-12
                );
            } else if other == input || matches!(other, Input::Kernel | Input::Circuit) {
                assert_eq!(found, budget.contribution(other).uncertainty.0, "{key}: {other}");
            } else {
                assert_eq!(found, 0.0, "{key}: {other}");
            }
        }
        // A quarter bridge has no transverse gauge.
        assert_eq!(alone.contribution(input).uncertainty.0 > 0.0, input != Input::PoissonRatio, "{key}");
    }
    assert_eq!(inputs.len() + 2, Input::COUNT);
    // An instrument's noise in microstrain is that in its steps of 0.1; a limit of the temperature is rectangular.
    let shown = file.channels.iter().find(|it| it.name == "shown").unwrap();
    let channel = describe(shown).unwrap().channel;
    let found = stated(shown, &channel).unwrap().unwrap();
    let expected = found.uncertainties.noise(2.0).balance_noise(0.5);
    let budgets =
        [found.uncertainties, expected].map(|all| all.budget(Microstrain(500.0), Celsius(30.0)).unwrap());
    assert_relative_eq!(budgets[0].combined().0, budgets[1].combined().0, max_relative = 1e-12);
    let is_exact = |found: &Stated, input: Input| found.not_stated().any(|other| other.input == input);
    assert!(!is_exact(&found, Input::LeadResistance) && is_exact(&found, Input::Temperature));
    let half = file.channels.iter().find(|it| it.name == "half bending").unwrap();
    let found = stated(half, &describe(half).unwrap().channel).unwrap().unwrap();
    assert!(!is_exact(&found, Input::Temperature));
}

/// A stated ratio of strains has two inputs more, which are parts of the gauge factor's: sizes and degrees of freedom by hand.
#[test]
fn a_ratio_of_strains_has_an_uncertainty() {
    let file = file();
    let mut foil = file.channels.iter().find(|it| it.name == "free foil").unwrap().clone();
    let channel = describe(&foil).unwrap().channel;
    let uncertainty = |foil: &Description, words: &str| {
        let foil = Description { uncertainty: Some(toml::from_str(words).unwrap()), ..foil.clone() };
        stated(&foil, &channel).map(Option::unwrap)
    };
    let of = |found: &Stated| {
        let budget = found.uncertainties.budget(Microstrain(2_000.0), Celsius(30.0)).unwrap();
        budget.contribution(Input::GaugeFactor).uncertainty.0
    };
    // Percent of a strain: of a ratio of -0.33 +- 0.05 and a sensitivity of 0.6 % +- 0.2 %, with a calibration beam of 0.285.
    let (kt, response): (f64, f64) = (0.006, 1.0 - 0.33 * 0.006);
    let parts = [0.5, 100.0 * kt * 0.05 / response, (0.33 - 0.285) * 0.2 / (response * (1.0 - 0.285 * kt))];
    let near = |found: f64, expected: f64| assert_relative_eq!(found, expected, max_relative = 1e-9);
    let all = stated(&foil, &channel).unwrap().unwrap();
    let whole = parts.iter().map(|part| part * part).sum::<f64>().sqrt();
    let per_percent = of(&uncertainty(&foil, "gauge_factor_percent = 1.0").unwrap());
    near(of(&all), per_percent * whole);
    near(of(&uncertainty(&foil, "strain_ratio = 0.05").unwrap()), per_percent * parts[1]);
    near(of(&uncertainty(&foil, "transverse_sensitivity_percent = 0.2").unwrap()), per_percent * parts[2]);
    let degrees = whole.powi(4) / (parts[0].powi(4) / 50.0 + parts[1].powi(4) / 8.0);
    near(all.estimated[0].1, degrees);
    let names = ["gauge factor", "ratio of strains", "transverse sensitivity"];
    for ((found, name), part) in all.inputs.iter().zip(names).zip(parts) {
        assert!(found.name == name && found.input == Input::GaugeFactor);
        near(found.part, part / whole);
    }
    let nothing = "strain_ratio = 0\ndegrees_of_freedom = { strain_ratio = 9 }";
    assert_eq!(of(&uncertainty(&foil, nothing).unwrap()), 0.0);
    // What is not stated is named.
    let not_stated = |words: &str| -> Vec<&str> {
        let found = uncertainty(&foil, words).unwrap();
        found.not_stated().map(|it| it.name).filter(|name| names.contains(name)).collect()
    };
    assert_eq!(not_stated("noise_codes = 1"), names);
    assert_eq!(not_stated("strain_ratio = 0.05"), ["gauge factor", "transverse sensitivity"]);
    for (words, expected) in [
        ("strain_ratio = -0.05", "strain"),
        ("gauge_factor_percent = -0.5\nstrain_ratio = 0.05", "gauge factor"),
        ("strain_ratio = 0.05\ndegrees_of_freedom = { strain_ratio = 0.5 }", "degrees of freedom"),
        ("degrees_of_freedom = { strain_ratio = 9 }", "degrees_of_freedom of ratio of strains, whose"),
    ] {
        let said = uncertainty(&foil, words).unwrap_err();
        assert!(said.contains("[channel.uncertainty]: ") && said.contains(expected), "{words}: {said}");
    }
    // With gauges across it is the bridge's Poisson ratio, and that of the sensitivity as of a ratio of -1.
    let mut across = file.channels.iter().find(|it| it.name == "half axial and transverse").unwrap().clone();
    across.gauge.transverse_sensitivity_percent = Some(0.6);
    across.strain_ratio = Some(-0.33);
    let found = uncertainty(&across, "transverse_sensitivity_percent = 0.2").unwrap();
    near(of(&found), per_percent * 0.715 * 0.2 / ((1.0 - kt) * (1.0 - 0.285 * kt)));
    assert!(found.inputs.iter().all(|it| it.name != "ratio of strains"));
    let said = uncertainty(&across, "strain_ratio = 0.1").unwrap_err();
    assert!(said.contains("strain_ratio is poisson_ratio in this circuit"), "{said}");
    foil.strain_ratio = None;
    let said = uncertainty(&foil, "transverse_sensitivity_percent = 0.2").unwrap_err();
    assert!(said.contains("go with the channel's strain_ratio"), "{said}");
}

#[test]
fn what_is_wrong_is_told() {
    let case = |k: usize, from: &str, to: &str, expected: &str| {
        assert!(EVERY_KEY.contains(from), "{from}");
        let (run, written) = header(&format!("constants_wrong_{k}"), &EVERY_KEY.replacen(from, to, 1));
        let said = run.gives(1).errors;
        assert!(said.contains(expected), "{to}: {expected:?} is not in\n{said}");
        assert!(written.is_empty());
    };
    for (k, (from, to, expected)) in [
        ("layout = \"delta\"\n", "", "rosette \"delta\": needs one of layout and angles_degrees"),
        ("layout = \"delta\"\n", "layout = \"delta\"\nangles_degrees = [0, 1, 2]\n", "needs one of layout and"),
        (
            "layout = \"delta\"\n",
            "angles_degrees = [0, 4, 8]\n",
            "rosette \"delta\": angles_degrees: the grids are too close to each other; an error of their strains is 204.5 times",
        ),
        (
            "layout = \"delta\"\n",
            "angles_degrees = [0, 1.0472, 2.0944]\n",
            "rosette \"delta\": angles_degrees is [0.0, 1.0472, 2.0944]: all grids lie within 2.094 degrees, which is no rosette; \
             angles in radians would be [0.0, 60.0, 120.0] degrees",
        ),
        ("layout = \"delta\"\n", "layout = \"star\"\n", "rosette \"delta\": unknown variant `star`"),
        ("[\"full torsion\", ", "[\"torsion\", ", "rosette \"delta\": no channel is named \"torsion\""),
        ("[\"full torsion\", ", "[\"half bending\", ", "rosette \"delta\": channels has \"half bending\" twice"),
        ("channels = [\"full torsion\", ", "channels = [", "rosette \"delta\": has 2 channels and 3 angles"),
        ("angles_degrees = [10, 70.5, -50]", "angles_degrees = [10, 70.5]", "has 3 channels and 2 angles"),
        ("channels = [\"full bending\", \"1st", "channels = [\"1st", "has 2 channels and 3 angles"),
        ("angles_degrees = [0, 90]", "angles_degrees = [30, -30]", "rosette \"bar\": error of the strain state over that of"),
        ("[\"full torsion\", \"shown\"]", "[\"full torsion\"]", "rosette \"bar\": channels has two to six names"),
        ("grid_uncertainty_microstrain", "grid_uncertainty", "rosette \"bar\": unknown field `grid_uncertainty`"),
        ("grid_uncertainty_microstrain = 2", "grid_uncertainty_microstrain = -2", "rosette \"bar\": standard uncertainty of the strain (microstrain) is -2, allowed: 0 to 100000"),
        ("alignment_uncertainty_degrees = 1", "alignment_uncertainty_degrees = 11", "rosette \"bar\": standard uncertainty of an angle (degrees) is 11, allowed: 0 to 10"),
        ("name = \"delta\"", "name = \"shown\"", "rosette \"shown\": a channel has this name"),
        ("name = \"half bending\"\n", "name = \"half bending\"\nstrain_ratio = 0.5\n", "rosette \"frame\": channel \"half bending\" has a strain_ratio"),
        ("name = \"delta\"", "name = \"frame\"", "another rosette has this name"),
        ("name = \"delta\"", "name = \"FRAME\"", "another rosette is frame in C"),
        ("name = \"delta\"", "name = \" \"", "a name is 1 to 60 printable characters"),
        ("arm = 2", "arm = 5", "arm of a shunt in [channel.on_site] is 5, allowed: 1, 2, 3 or 4"),
        ("at = \"gauge\"", "at = \"bridge\"", "unknown variant `bridge`"),
        ("arm = 1, ohm = 100000", "arm = 1, ohm = 1", "shunt resistance (ohm) is 1, allowed: 10 to 1000000000"),
        ("tolerance_percent = 0.1 }", "tolerance_percent = 30 }", "shunt tolerance (%) is 30, allowed: 0 to 20"),
        (
            "resistor_tolerance_percent = 0.1",
            "resistor_tolerance_percent = -1",
            "resistor_tolerance_percent of [channel.on_site]: resistor tolerance (%) is -1, allowed: 0 to 20",
        ),
        (
            "on_site = { balance_code_within = [-2000000, 2000000] }",
            "on_site = { balance_code_within = [-2000000, 2000000], resistor_tolerance_percent = 1 }",
            "do not go with [channel.compensating]",
        ),
        ("gauge_factor_percent = 0.5", "gauge_factor_percent = 51", "[channel.uncertainty]: "),
        ("noise_codes = 40\n", "noise_microstrain = 40\n", "go with strain_column"),
        ("noise_microstrain = 0.2", "noise_codes = 2", "go with code_column"),
        ("quantisation_codes = 0.75", "quantisation_microstrain = 0.75", "go with strain_column"),
        ("quantisation_codes = 0.75", "quantisation_codes = -1", "half width of the rounding to a code (codes) is -1"),
        ("noise_microstrain = 0.2", "lead_ohm = 0.2", "need [channel.bridge]"),
        (
            "compensating = { temperature_column = \"block\", same_gauge = true }",
            "compensating = { temperature_column = \"block\", same_gauge = true }\nuncertainty = { noise_codes = 1 }",
            "[channel.uncertainty] does not go with [channel.compensating]: the library has no budget of a channel whose two \
             gauges have a temperature each",
        ),
        ("balance_noise_codes = 255 }", "balance_noise_codes = 0.5 }", "degrees of freedom is 0.5"),
        (
            "uncertainty = { noise_codes = 40 }",
            "uncertainty = { noise_codes = 40, degrees_of_freedom = { lead_ohm = 4 } }",
            "[channel.uncertainty]: degrees_of_freedom of lead resistance, whose uncertainty is not stated",
        ),
        (
            "balance_noise_codes = 255 }",
            "degrees_of_freedom = { noise_codes = 5 } }",
            "degrees_of_freedom of [channel.uncertainty] have none of their own",
        ),
    ]
    .into_iter()
    .enumerate()
    {
        case(k, from, to, expected);
    }
}
