//! On how many cases a law is tried: on a share of them whenever the tests run, so that a change is answered soon, and
//! on all of them where `BLURBWRIGHT_CASES` is `all`, as `.ci/run` has it.

use std::sync::LazyLock;

use proptest::test_runner::Config;

/// Of so many cases one is tried, where not all are.
const SHARE: u32 = 6;

static ALL: LazyLock<bool> = LazyLock::new(|| std::env::var("BLURBWRIGHT_CASES").is_ok_and(|cases| cases == "all"));

/// How many of `all` cases are tried: all, or a share of them, which is at least one.
pub(crate) fn tried(all: u32) -> u32 {
    if *ALL { all } else { all.div_ceil(SHARE) }
}

/// How many cases a step goes on by in a table of them: one, or so many that few are met.
pub(crate) fn step() -> usize {
    if *ALL { 1 } else { SHARE as usize + 5 }
}

/// A law that is tried on `all` cases or on a share of them.
pub(crate) fn law(all: u32) -> Config {
    Config { cases: tried(all), failure_persistence: None, ..Config::default() }
}
