//! Rosettes: states of strain computed elsewhere, closed forms, and properties. Each check names where its
//! numbers come from.

use gaugewright::rosette::*;
use gaugewright::units::*;
use support::{Row, data, tolerance};

fn rosette(row: &Row) -> Rosette {
    let plain = match row.text("rosette") {
        "rect" => Rosette::rectangular(),
        "delta" => Rosette::delta(),
        other => panic!("{other}"),
    };
    let sensitivity = |grid: char| Percent(row.number(&format!("kt_{grid}_pct")));
    plain
        .transverse_sensitivity([sensitivity('a'), sensitivity('b'), sensitivity('c')])
        .calibration_poisson_ratio(row.number("nu0"))
}

fn three(row: &Row, prefix: &str) -> [f64; 3] {
    ["a", "b", "c"].map(|grid| row.number(&format!("{prefix}_{grid}_ue")) * 1e-6)
}

fn elasticity(row: &Row) -> Elasticity<f64> {
    Material::new(Gigapascals(row.number("E_GPa")), row.number("nu")).at(Celsius(20.0)).unwrap()
}

/// The largest strain of a row, a ratio; that of the whole state, so that a grid along a small one is not
/// asked for more digits than the others leave it.
fn size(row: &Row) -> f64 {
    row.number("e1_ue").abs().max(row.number("e2_ue").abs()) * 1e-6
}

/// The difference of two directions, which are the same half a turn apart.
fn apart(one: f64, other: f64) -> f64 {
    let between = (one - other).rem_euclid(180.0);
    between.min(180.0 - between)
}

/// Remembers the largest of each kind, as a part of what is allowed.
#[derive(Default)]
struct Worst(std::collections::BTreeMap<&'static str, f64>);

impl Worst {
    fn see(&mut self, what: &'static str, off: f64, allowed: f64, row: &Row) {
        assert!(off <= allowed, "{what} of {}: {off:e}, allowed {allowed:e}", row.text("case_id"));
        let worst = self.0.entry(what).or_default();
        *worst = worst.max(if allowed > 0.0 { off / allowed } else { 0.0 });
    }
}

/// Computed with 60 digits: 621 states, all rows of the set as it is given.
#[test]
fn states_of_strain() {
    let rows = data("rosette_cases");
    assert_eq!(rows.len(), 621);
    let mut worst = Worst::default();
    for row in &rows {
        let turned = rosette(row).turned(Degrees(row.number("phi_deg")));
        let size = size(row);
        let allowed = tolerance::ROSETTE * size;
        let exact = |column: &str| row.number(column) * 1e-6;
        let state = PlaneStrain::new(exact("ex_ue"), exact("ey_ue"), exact("gxy_urad"));

        // What the grids show, and what they would show without transverse sensitivity.
        let bare = turned.transverse_sensitivity([Percent(0.0); 3]);
        for (shown, given, what) in [
            (turned.indicated(&state).unwrap(), three(row, "ind"), "indicated"),
            (bare.indicated(&state).unwrap(), three(row, "true"), "true"),
        ] {
            for k in 0..3 {
                worst.see(what, (shown[k] - given[k]).abs(), allowed, row);
            }
        }

        // And back, with and without.
        for (kernel, grids) in [(turned.float64(), three(row, "ind")), (bare.float64(), three(row, "true"))] {
            let found = kernel.strain(grids);
            worst.see("x", (found.x() - exact("ex_ue")).abs(), allowed, row);
            worst.see("y", (found.y() - exact("ey_ue")).abs(), allowed, row);
            worst.see("shear", (found.shear() - exact("gxy_urad")).abs(), 2.0 * allowed, row);
            let principal = found.principal();
            worst.see("first", (principal.first - exact("e1_ue")).abs(), allowed, row);
            worst.see("second", (principal.second - exact("e2_ue")).abs(), allowed, row);
            worst.see("greatest", (principal.shear - exact("gamma_max_urad")).abs(), 2.0 * allowed, row);

            // Stresses; equivalent ones from the principal stresses of the data (closed forms, from memory).
            let stress = elasticity(row).stress(&found).principal();
            let (s1, s2) = (row.number("s1_MPa"), row.number("s2_MPa"));
            let allowed = tolerance::ROSETTE_STRESS * row.number("E_GPa") * 1e3 * size;
            worst.see("s1", (stress.first.0 - s1).abs(), allowed, row);
            worst.see("s2", (stress.second.0 - s2).abs(), allowed, row);
            let tau = row.number("tau_max_inplane_MPa");
            worst.see("tau", (stress.in_plane_shear.0 - tau).abs(), allowed, row);
            let von_mises = (s1 * s1 - s1 * s2 + s2 * s2).sqrt();
            worst.see("von Mises", (stress.von_mises.0 - von_mises).abs(), allowed, row);
            let tresca = s1.abs().max(s2.abs()).max((s1 - s2).abs());
            worst.see("Tresca", (stress.tresca.0 - tresca).abs(), allowed, row);
            assert_eq!(stress.greatest_shear.0, stress.tresca.0 / 2.0);
        }

        // Directions, from the x axis and, with the rosette as it comes, from grid a.
        for (kernel, column) in
            [(turned.float64(), "theta_from_x_deg"), (rosette(row).float64(), "theta_from_gauge_a_deg")]
        {
            let found = kernel.strain(three(row, "ind"));
            // Known to a millionth of the largest strain.
            let grids = GridUncertainty::independent([Strain(1e-6 * size).microstrain(); 3]).unwrap();
            let estimate = found.estimate(&kernel.covariance(&grids));
            let Some(theta) = row.maybe(column) else {
                assert!(matches!(row.text("class"), "equibiaxial" | "zero"));
                assert!(estimate.direction.is_none() && !estimate.resolved, "{}", row.text("case_id"));
                continue;
            };
            let direction = found.principal().direction.unwrap().0;
            assert!(direction > -90.0 && direction <= 90.0);
            let turn = (allowed / (exact("gamma_max_urad") / 2.0)).to_degrees();
            worst.see("direction", apart(direction, theta), tolerance::ROSETTE_DEGREES + turn, row);
            if row.text("class") != "tiny_shear" {
                assert_eq!(estimate.direction.unwrap().value.0, direction, "{}", row.text("case_id"));
            }
        }
    }
    println!("{:#?}", worst.0);
}

/// The data can tell a kernel that leaves transverse sensitivity out, or takes it from another grid, or the
/// Poisson ratio of the beam from elsewhere.
#[test]
fn states_of_strain_tell_wrong_sensitivities() {
    let rows = data("rosette_cases");
    let (mut left_out, mut mixed_up, mut poisson, mut counted) = (0, 0, 0, 0);
    for row in rows.iter().filter(|row| row.text("class") == "random_phi0_unequal_kt") {
        let size = size(row);
        let off = |rosette: Rosette| {
            let found = rosette.float64().strain(three(row, "ind"));
            (found.x() - row.number("ex_ue") * 1e-6)
                .abs()
                .max((found.y() - row.number("ey_ue") * 1e-6).abs())
                .max((found.shear() - row.number("gxy_urad") * 1e-6).abs())
                / size
        };
        let [a, b, c] = ["kt_a_pct", "kt_b_pct", "kt_c_pct"].map(|column| Percent(row.number(column)));
        counted += 1;
        left_out += i32::from(off(rosette(row).transverse_sensitivity([Percent(0.0); 3])) > 1e-4);
        mixed_up += i32::from(off(rosette(row).transverse_sensitivity([b, c, a])) > 1e-4);
        poisson += i32::from(off(rosette(row).calibration_poisson_ratio(0.3)) > 1e-5);
    }
    assert!(
        counted == 140 && left_out > 130 && mixed_up > 130 && poisson > 130,
        "{left_out} {mixed_up} {poisson}"
    );
}

/// `f32` against `f64` on the strains as `f32` has them, over the states of the data.
#[test]
fn single_precision_within_its_bound() {
    const ROUNDOFF: f64 = 1.0 / 16_777_216.0;
    let (mut worst, mut worst_stress) = (0.0f64, 0.0f64);
    for row in data("rosette_cases") {
        let turned = rosette(&row).turned(Degrees(row.number("phi_deg")));
        let grids = three(&row, "ind").map(|strain| strain as f32);
        let single = turned.float32().strain(grids);
        let double = turned.float64();
        let exact = double.strain(grids.map(f64::from));
        // The constants are seen from outside by grids that show one alone.
        let unit = |k: usize| {
            let mut grids = [0.0; 3];
            grids[k] = 1.0;
            double.strain(grids)
        };
        let components: [fn(&PlaneStrain<f64>) -> f64; 2] =
            [PlaneStrain::<f64>::mean, |strain| strain.shear() / 2.0];
        let found = [f64::from(single.mean()), f64::from(single.shear()) / 2.0];
        for (component, found) in components.iter().zip(found) {
            let magnitudes: f64 = (0..3).map(|k| (component(&unit(k)) * f64::from(grids[k])).abs()).sum();
            let off = (found - component(&exact)).abs();
            assert!(off <= tolerance::ROSETTE_SINGLE * ROUNDOFF * magnitudes, "{}", row.text("case_id"));
            if magnitudes > 0.0 {
                worst = worst.max(off / (ROUNDOFF * magnitudes));
            }
        }
        // Stresses of the same state.
        let same = PlaneStrain::new(f64::from(single.x()), f64::from(single.y()), f64::from(single.shear()));
        let (one, other) = (
            elasticity(&row).float32().stress(&single).principal(),
            elasticity(&row).stress(&same).principal(),
        );
        let scale = row.number("E_GPa") * 1e3 * size(&row);
        for (one, other) in [
            (one.first, other.first),
            (one.second, other.second),
            (one.von_mises, other.von_mises),
            (one.tresca, other.tresca),
        ] {
            let off = (f64::from(one.0) - other.0).abs();
            assert!(
                off <= tolerance::ROSETTE_SINGLE_STRESS * ROUNDOFF * scale,
                "{}: {off}",
                row.text("case_id")
            );
            if scale > 0.0 {
                worst_stress = worst_stress.max(off / (ROUNDOFF * scale));
            }
        }
    }
    println!("f32: {worst} units of roundoff, stresses {worst_stress} units");
    // A third of what is stated has been seen: it is not slack.
    assert!(worst > tolerance::ROSETTE_SINGLE / tolerance::SLACK);
}
