"""Measures, always as a ratio against something run beside them. Run: python -m tests.benchmarks [NAME ...] [--json]"""
