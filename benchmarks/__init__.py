"""Benchmarks: `python -m benchmarks` prints what the product costs against a floor."""
