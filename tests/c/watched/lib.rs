//! Nothing: see the tests.
