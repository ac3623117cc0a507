//! Coefficients of the reference functions of types R, S and B, in mV and C. Source: NIST ITS-90 Thermocouple
//! Database (SRD 60), which holds the functions of NIST Monograph 175; work of the United States government,
//! in the public domain. The digits are the source's.

use crate::temperature::segment::Segment;

/// Type R, -50.0 to 1768.1 C.
pub const R: [Segment<'static>; 3] = [
    Segment {
        low: -50.0,
        high: 1064.18,
        coefficients: &[
            0.000000000000e+00,
            0.528961729765e-02,
            0.139166589782e-04,
            -0.238855693017e-07,
            0.356916001063e-10,
            -0.462347666298e-13,
            0.500777441034e-16,
            -0.373105886191e-19,
            0.157716482367e-22,
            -0.281038625251e-26,
        ],
        exponential: None,
    },
    Segment {
        low: 1064.18,
        high: 1664.5,
        coefficients: &[
            0.295157925316e+01,
            -0.252061251332e-02,
            0.159564501865e-04,
            -0.764085947576e-08,
            0.205305291024e-11,
            -0.293359668173e-15,
        ],
        exponential: None,
    },
    Segment {
        low: 1664.5,
        high: 1768.1,
        coefficients: &[
            0.152232118209e+03,
            -0.268819888545e+00,
            0.171280280471e-03,
            -0.345895706453e-07,
            -0.934633971046e-14,
        ],
        exponential: None,
    },
];

/// Type S, -50.0 to 1768.1 C.
pub const S: [Segment<'static>; 3] = [
    Segment {
        low: -50.0,
        high: 1064.18,
        coefficients: &[
            0.000000000000e+00,
            0.540313308631e-02,
            0.125934289740e-04,
            -0.232477968689e-07,
            0.322028823036e-10,
            -0.331465196389e-13,
            0.255744251786e-16,
            -0.125068871393e-19,
            0.271443176145e-23,
        ],
        exponential: None,
    },
    Segment {
        low: 1064.18,
        high: 1664.5,
        coefficients: &[
            0.132900444085e+01,
            0.334509311344e-02,
            0.654805192818e-05,
            -0.164856259209e-08,
            0.129989605174e-13,
        ],
        exponential: None,
    },
    Segment {
        low: 1664.5,
        high: 1768.1,
        coefficients: &[
            0.146628232636e+03,
            -0.258430516752e+00,
            0.163693574641e-03,
            -0.330439046987e-07,
            -0.943223690612e-14,
        ],
        exponential: None,
    },
];

/// Type B, 0.0 to 1820.0 C.
pub const B: [Segment<'static>; 2] = [
    Segment {
        low: 0.0,
        high: 630.615,
        coefficients: &[
            0.000000000000e+00,
            -0.246508183460e-03,
            0.590404211710e-05,
            -0.132579316360e-08,
            0.156682919010e-11,
            -0.169445292400e-14,
            0.629903470940e-18,
        ],
        exponential: None,
    },
    Segment {
        low: 630.615,
        high: 1820.0,
        coefficients: &[
            -0.389381686210e+01,
            0.285717474700e-01,
            -0.848851047850e-04,
            0.157852801640e-06,
            -0.168353448640e-09,
            0.111097940130e-12,
            -0.445154310330e-16,
            0.989756408210e-20,
            -0.937913302890e-24,
        ],
        exponential: None,
    },
];
