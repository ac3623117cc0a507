"""The correction as one writes it with numpy, timed: what benches/beside_numpy.rs runs and prints beside the library.

Standard input: a line of numbers as they stand in a notebook, then codes, temperatures (Q20 degrees Celsius) and expected
strains of the samples, in the host's own order of bytes. Standard output: a line for what was measured with, then lines of a
name, a number of samples and nanoseconds a sample.
"""

import sys
import time

import numpy as np

SMALL, LARGE, POINT = (int(text) for text in sys.argv[1:4])

names = "ratio_per_code balance_ratio lead_factor gauge_factor factor_per_degree reference balance stated_for".split()
line = [float(text) for text in sys.stdin.buffer.readline().split()]
n = dict(zip(names, line))
coefficients = line[len(names):][::-1]
codes = np.frombuffer(sys.stdin.buffer.read(4 * SMALL), np.int32)
temperatures = np.frombuffer(sys.stdin.buffer.read(4 * SMALL), np.int32)
expected = np.frombuffer(sys.stdin.buffer.read(8 * SMALL), np.float64)


def strain(codes, temperature, real):
    """Mechanical strain of an array of codes, at one temperature or with one for each."""
    codes = codes.astype(real)
    t = temperature.astype(real) / real(1048576.0)
    r = codes * real(n["ratio_per_code"]) - real(n["balance_ratio"])
    indicated = 4 * r / (real(n["gauge_factor"]) * (1 - 2 * r)) * real(n["lead_factor"])
    package = np.polyval(np.array(coefficients, real), t) - real(np.polyval(coefficients, n["balance"]))
    thermal_output = package * real(1e-6 * n["stated_for"] / n["gauge_factor"])
    gauge_factor = 1 + real(n["factor_per_degree"]) * (t - real(n["reference"]))
    return (indicated - thermal_output) / gauge_factor


def fastest(codes, temperature, real):
    """Nanoseconds a sample of the fastest of many passes: others may run on the machine meanwhile."""
    passes, calls = (300, 20) if codes.size == SMALL else (5, 1)
    best = float("inf")
    for _ in range(passes):
        start = time.perf_counter_ns()
        for _ in range(calls):
            strain(codes, temperature, real)
        best = min(best, (time.perf_counter_ns() - start) / calls / codes.size)
    return best


def dispatch():
    """What numpy chose for this processor, for the functions that are used here."""
    try:
        found = np.lib.introspect.opt_func_info(func_name="^(add|multiply|divide)$", signature="float64")
    except AttributeError:
        return "not told by this version"
    chosen = {name: next(iter(by.values()))["current"] for name, by in found.items()}
    return " ".join(f"{name}={how}" for name, how in sorted(chosen.items()))


found = strain(codes, temperatures, np.float64)
assert np.allclose(found, expected, rtol=1e-9, atol=1e-15), "it computes something else"
print(f"numpy {np.__version__}, Python {sys.version.split()[0]}, dispatch: {dispatch()}")
for size in (SMALL, LARGE):
    many = [np.tile(array, size // SMALL) for array in (codes, temperatures)]
    for name, temperature in (("point", np.int32(POINT)), ("each", many[1])):
        for real in (np.float64, np.float32):
            print(name, real.__name__, size, fastest(many[0], temperature, real))
