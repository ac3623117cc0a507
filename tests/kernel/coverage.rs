//! Every public path of a kernel has committed results, an error bound and a budget on every core, and in integers a proof; what
//! has not stands here with its reason. A new method that gives a strain, a state or a temperature has to be entered.

use std::collections::BTreeSet;

use support::{document, documents};

/// How the arithmetic of a path is proved. One in integers has a proof.
enum Proof {
    /// By a script of `tests/proof`, which has this name of a path.
    Script(&'static str),
    /// None: it rounds in floating point, whose bound is sampled and searched.
    FloatingPoint,
}
use Proof::*;

/// Methods that have a bound and proofs in common.
struct Covered {
    /// Kernel and path in `bounds.csv`.
    bounds: &'static [&'static str],
    proofs: &'static [Proof],
    methods: &'static [Method],
}

/// A method, by its source file without the ending, its type and its name. Behind it names of its functions in `tests/on-target/src`, which
/// have budgets; each is a path of `paths.csv`, or behind `=` stands the path, or the column of `vectors.csv`, that goes through it.
type Method = (&'static str, &'static [&'static str]);

/// A bound that is none.
const SINGLE_UNCERTAINTY: &str =
    "none: an uncertainty in f32 is held to that in f64 by samples in tests/uncertainty";

const TABLE: &[Covered] = &[
    Covered {
        bounds: &["fixed,reading"],
        proofs: &[Script("one call")],
        methods: &[
            ("kernel/fixed Kernel::reading", &["fixed_reading=reading", "fixed_product"]),
            ("kernel/fixed Kernel::readings", &["fixed_block"]),
        ],
    },
    Covered {
        bounds: &["fixed,point"],
        proofs: &[Script("split")],
        methods: &[
            ("kernel/fixed Kernel::at", &["fixed_at=split", "fixed_product_at"]),
            ("kernel/fixed/point OperatingPoint::reading", &["fixed_point=split"]),
            ("kernel/fixed/point OperatingPoint::readings", &["fixed_point_block"]),
            ("kernel/fixed/point OperatingPoint::correct", &["fixed_point_in_place"]),
            ("kernel/fixed/point OperatingPoint::correct_marked", &["fixed_point_in_place"]),
            // The bits of a point, by tests/kernel/vectors.rs.
            ("kernel/fixed/linear OperatingPoint::linear", &["fixed_linear=split"]),
            ("kernel/fixed/linear LinearPoint::reading", &["fixed_point_linear"]),
            ("kernel/fixed/linear LinearPoint::readings", &["fixed_point_linear_block"]),
            ("kernel/fixed/linear LinearPoint::correct", &["fixed_point_linear_in_place"]),
            ("kernel/fixed/linear LinearPoint::correct_marked", &["fixed_point_linear_in_place"]),
        ],
    },
    Covered {
        bounds: &["fixed compensated,reading"],
        proofs: &[Script("one call")],
        methods: &[
            (
                "kernel/fixed/compensated CompensatedKernel::reading",
                &["fixed_compensated", "fixed_product_compensated"],
            ),
            ("kernel/fixed/compensated CompensatedKernel::readings", &["fixed_compensated_block"]),
        ],
    },
    Covered {
        bounds: &["fixed compensated,point"],
        proofs: &[Script("split")],
        methods: &[(
            "kernel/fixed/compensated CompensatedKernel::at",
            &["fixed_compensated_at", "fixed_product_compensated_at"],
        )],
    },
    Covered {
        bounds: &["f32,reading"],
        proofs: &[FloatingPoint],
        methods: &[
            ("kernel/float Kernel::reading", &["f32_reading=f32_reading", "f32_product"]),
            ("kernel/float Kernel::readings", &["f32_block"]),
        ],
    },
    Covered {
        bounds: &["f32,point"],
        proofs: &[FloatingPoint],
        methods: &[
            ("kernel/float Kernel::at", &["f32_at=f32_split", "f32_product_at"]),
            ("kernel/float OperatingPoint::reading", &["f32_point=f32_split"]),
            ("kernel/float OperatingPoint::readings", &["f32_point_block"]),
        ],
    },
    Covered {
        bounds: &["f32 compensated,reading"],
        proofs: &[FloatingPoint],
        methods: &[
            ("kernel/float/compensated CompensatedKernel::reading", &["f32_compensated"]),
            ("kernel/float/compensated CompensatedKernel::readings", &["f32_compensated_block"]),
        ],
    },
    Covered {
        bounds: &["f32 compensated,point"],
        proofs: &[FloatingPoint],
        methods: &[("kernel/float/compensated CompensatedKernel::at", &["f32_compensated_at"])],
    },
    Covered {
        bounds: &["platinum,fixed,temperature", "platinum,f32,temperature", "thermistor,fixed,temperature"],
        proofs: &[Script("thermometer"), FloatingPoint],
        methods: &[(
            "temperature/resistance_thermometer ResistanceKernel::reading",
            &["platinum_fixed", "platinum_f32"],
        )],
    },
    Covered {
        bounds: &["thermocouple,fixed,temperature", "thermocouple,f32,temperature"],
        proofs: &[Script("thermometer"), FloatingPoint],
        methods: &[(
            "temperature/thermocouple_input ThermocoupleKernel::reading",
            &["thermocouple_fixed", "thermocouple_f32"],
        )],
    },
    Covered {
        bounds: &["rosette,fixed,component"],
        proofs: &[Script("rosette")],
        methods: &[
            ("rosette/fixed FixedRosetteKernel::strain", &["rosette_fixed"]),
            ("rosette/fixed FixedRosetteKernel::reading", &["rosette_fixed"]),
        ],
    },
    Covered {
        bounds: &["rosette,fixed,principal", "rosette,fixed,half shear"],
        proofs: &[Script("root")],
        methods: &[("rosette/fixed FixedStrain::principal", &["rosette_fixed_principal"])],
    },
    Covered {
        bounds: &["rosette,f32,component"],
        proofs: &[FloatingPoint],
        methods: &[
            ("rosette/kernel RosetteKernel::strain", &["rosette_f32"]),
            ("rosette/kernel RosetteKernel::reading", &["rosette_f32"]),
            ("rosette/strain PlaneStrain::principal", &["rosette_f32_principal"]),
        ],
    },
    Covered {
        bounds: &[SINGLE_UNCERTAINTY],
        proofs: &[FloatingPoint],
        methods: &[
            ("uncertainty/kernel UncertaintyKernel::at", &["uncertainty_at=uncertainty_f32"]),
            ("uncertainty/kernel UncertaintyPoint::standard", &["uncertainty_f32"]),
        ],
    },
    Covered {
        bounds: &["uncertainty,fixed,standard"],
        proofs: &[Script("root")],
        methods: &[("uncertainty/fixed FixedUncertaintyPoint::standard", &["uncertainty_fixed"])],
    },
];

const COMPONENT: &str = "a component of a state as it is kept, or a sum or a multiple of them";
const AFTER: &str =
    "works on a state or a temperature that a kernel gave, at the rate of temperatures or of analyses";
/// Methods that are no path of a kernel, and why.
const OUTSIDE: &[(&str, &str)] = &[
    ("rosette/angle_uncertainty AngleUncertainty::covariance", AFTER),
    ("rosette/estimate PlaneStrain::estimate", AFTER),
    ("rosette/fixed FixedStrain::mean", COMPONENT),
    ("rosette/fixed FixedStrain::half_difference", COMPONENT),
    ("rosette/fixed FixedStrain::half_shear", COMPONENT),
    ("rosette/fixed FixedStrain::float64", COMPONENT),
    ("rosette/fixed FixedStrain::float32", COMPONENT),
    ("rosette/layout Rosette::indicated", "f64, for a host"),
    ("rosette/material Elasticity::poisson_ratio", COMPONENT),
    ("rosette/material Elasticity::poisson_uncertainty", COMPONENT),
    ("rosette/residual_check Residual::in_standard_uncertainties", AFTER),
    ("rosette/strain PlaneStrain::x", COMPONENT),
    ("rosette/strain PlaneStrain::y", COMPONENT),
    ("rosette/strain PlaneStrain::shear", COMPONENT),
    ("rosette/strain PlaneStrain::mean", COMPONENT),
    ("rosette/strain PlaneStrain::along", AFTER),
    ("rosette/stress Elasticity::stress", AFTER),
    ("rosette/stress PlaneStress::principal", AFTER),
    ("rosette/stress_estimate Elasticity::estimate", AFTER),
    ("temperature/last_reading LastReading::update", AFTER),
    ("temperature/last_reading LastReading::at", AFTER),
    ("temperature/sensor_pair SensorPair::reading", AFTER),
    ("uncertainty/kernel UncertaintyPoint::try_fixed", "compiles constants in f64, once a temperature"),
];

/// Words of a signature that gives a reading, a state, a point or a temperature, or takes a block.
const RESULTS: [&str; 10] = [
    "Reading",
    "block: &mut [i32]",
    "Point",
    " Strain",
    "<Strain",
    "PlaneStr",
    "FixedStrain",
    "Principal",
    "-> T",
    "-> Temperature",
];

/// The public methods of a source that give what a kernel does.
fn methods(file: &str, source: &str) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    let (mut of, mut rest) = (String::new(), source);
    while let Some((line, after)) = rest.split_once('\n') {
        if line.starts_with("impl") {
            // The name behind the generics, and behind `for`.
            let header = rest.split('{').next().unwrap().replace('\n', " ");
            let mut depth = 0;
            let plain: String = header["impl".len()..]
                .chars()
                .filter(|c| {
                    depth += i32::from(*c == '<') - i32::from(*c == '>');
                    depth == 0 && *c != '>'
                })
                .collect();
            let name = plain.split(" for ").last().unwrap();
            of = name.split_whitespace().next().unwrap_or_default().to_owned();
        }
        let public = line.strip_prefix("    pub ").map(|line| line.trim_start_matches("const "));
        if let Some(function) = public.and_then(|line| line.strip_prefix("fn ")) {
            let signature = rest.split(" {").next().unwrap().replace('\n', " ");
            let takes_self = signature.contains("&self") || signature.contains("&mut self");
            if takes_self && RESULTS.iter().any(|word| signature.contains(word)) {
                let name = function.split(['(', '<']).next().unwrap();
                found.insert(format!("{} {of}::{name}", file.trim_end_matches(".rs")));
            }
        }
        rest = after;
    }
    found
}

/// Methods in `found` that the table has no row for, and rows for what is not there.
fn unlisted(found: &BTreeSet<String>) -> Vec<String> {
    let rows = TABLE.iter().flat_map(|group| group.methods).map(|(method, _)| *method);
    let rows = rows.chain(OUTSIDE.iter().map(|(method, _)| *method));
    let listed: BTreeSet<String> = rows.clone().map(str::to_owned).collect();
    assert_eq!(listed.len(), rows.count(), "a method stands in two rows");
    found.symmetric_difference(&listed).cloned().collect()
}

fn found() -> BTreeSet<String> {
    let folders = ["src/kernel", "src/temperature", "src/rosette", "src/uncertainty"];
    let files = folders.iter().flat_map(|folder| documents(folder)).filter(|path| path.ends_with(".rs"));
    files.flat_map(|path| methods(path.trim_start_matches("src/"), &document(&path))).collect()
}

#[test]
fn every_public_path_is_listed() {
    let found = found();
    assert_eq!(unlisted(&found), [] as [&str; 0]);
    // A method that is planted is seen, and one that is gone.
    let planted = "impl<T: Float, const N: usize> Kernel<T, N> {\n    pub const fn fast(&self, code: i32) -> Reading<T> {\n";
    let more: BTreeSet<_> = found.iter().cloned().chain(methods("kernel/float.rs", planted)).collect();
    assert_eq!(unlisted(&more), ["kernel/float Kernel::fast"]);
    let block =
        "impl Kernel {\n    pub fn all(\n        &self,\n        readings: &mut [Reading],\n    ) {\n";
    assert_eq!(methods("kernel/fixed.rs", block).len(), 1);
    let less: BTreeSet<_> = found.iter().skip(1).cloned().collect();
    assert_eq!(unlisted(&less).len(), 1);
}

/// The paths in integers that no script proves, and those in floating point that are not marked so.
fn without_proof<'a>(
    paths: &'a [&'a str],
    proofs: &[Proof],
    scripts: &str,
) -> impl Iterator<Item = &'a &'a str> {
    let (mut script, mut floating) = (false, false);
    for proof in proofs {
        match proof {
            Script(name) => script |= scripts.contains(&format!("\"{name}\"")),
            FloatingPoint => floating = true,
        }
    }
    paths.iter().filter(move |path| {
        let is_floating = path.contains("f32") || path.starts_with("uncertainty_at");
        !(if is_floating { floating } else { script })
    })
}

#[test]
fn an_integer_path_without_a_proof_is_seen() {
    let missing = |paths: &[&str], proofs: &[Proof]| without_proof(paths, proofs, "\"root\"").count();
    assert_eq!(missing(&["rosette_fixed", "rosette_f32"], &[Script("root"), FloatingPoint]), 0);
    assert_eq!(missing(&["rosette_fixed", "rosette_f32"], &[FloatingPoint]), 1);
    assert_eq!(missing(&["rosette_fixed"], &[Script("square")]), 1);
    assert_eq!(missing(&["rosette_fixed"], &[]), 1);
    assert_eq!(missing(&["rosette_f32"], &[Script("root")]), 1);
}

#[test]
fn every_path_has_results_a_bound_budgets_and_a_proof() {
    let first = |line: &str| line.split(',').next().unwrap_or_default().to_owned();
    let results: BTreeSet<String> = document("tests/data/paths.csv").lines().map(first).collect();
    let vectors = document("tests/data/vectors.csv");
    let columns: Vec<&str> =
        vectors.lines().find(|line| line.starts_with("channel,")).unwrap().split(',').collect();
    let (bounds, budgets) = (document("tests/data/bounds.csv"), document("tests/on-target/budgets.txt"));
    let scripts = document("tests/proof/src/script.rs") + &document("tests/proof/src/cases.rs");
    let mut missing = Vec::new();
    let methods = TABLE.iter().flat_map(|group| group.methods.iter().map(move |method| (group, method)));
    for (Covered { bounds: bound, proofs, .. }, (method, paths)) in methods {
        for path in *paths {
            let (path, has_results) = match path.split_once('=') {
                Some((path, other)) => (path, columns.contains(&other) || results.contains(other)),
                None => (*path, results.contains(*path)),
            };
            if !has_results {
                missing.push(format!("{method}: results of {path}"));
            }
            for core in ["M0", "M3", "M4F", "M7", "M33", "RV32IMAC", "RV32IMAFC"] {
                if !budgets.lines().any(|line| line.starts_with(&format!("{path} {core} instructions="))) {
                    missing.push(format!("{method}: a budget of {path} on {core}"));
                }
            }
        }
        for bound in *bound {
            let has_none =
                bound.starts_with("none: ") && paths.iter().all(|path| path.starts_with("uncertainty_"));
            // Where it multiplies thermal and mechanical change, a kernel has the same methods and another bound.
            let with_product = method.starts_with("kernel/").then(|| bound.replace(',', " product,"));
            for bound in [bound.to_string()].into_iter().chain(with_product) {
                if !has_none && !bounds.lines().any(|line| format!(",{line}").contains(&format!(",{bound},")))
                {
                    missing.push(format!("{method}: the bound {bound}"));
                }
            }
        }
        missing.extend(
            without_proof(paths, proofs, &scripts).map(|path| format!("{method}: a proof of {path}")),
        );
        if paths.is_empty() || bound.is_empty() {
            missing.push(format!("{method}: something"));
        }
    }
    // What is measured on the cores is of a method in the table; peers, fits and what lies between a bus and a kernel are no kernels.
    let measured = document("tests/on-target/src/kernels.rs")
        + &document("tests/on-target/src/bin/commissioning/kernels.rs");
    let names = measured.lines().filter_map(|line| Some(line.strip_prefix("    ")?.split_once('(')?.0));
    let names =
        names.filter(|name| name.starts_with(|c: char| c.is_ascii_lowercase()) && !name.contains([' ', '.']));
    let others = [
        "peer_",
        "fit_",
        "word",
        "temperature_register",
        "corrector_",
        "fixed_adjusted",
        "record_",
        "wiring_check",
        "shunt_check",
    ];
    for name in names.filter(|name| !others.iter().any(|other| name.starts_with(other))) {
        let is = |path: &&str| path.split('=').next() == Some(name);
        if name != "fixed_reading_any"
            && !TABLE.iter().flat_map(|group| group.methods).any(|(_, paths)| paths.iter().any(&is))
        {
            missing.push(format!("a row for {name}"));
        }
    }
    assert_eq!(missing, [] as [&str; 0]);
}
