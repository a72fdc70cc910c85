"""The science behind the rules: pure functions in SI units that know nothing of a garden."""
