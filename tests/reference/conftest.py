"""Counts the checks from outside, so that a run says how many it made."""

from __future__ import annotations


def pytest_terminal_summary(terminalreporter):
    passed = terminalreporter.stats.get("passed", [])
    checks = [report for report in passed if "reference" in report.keywords]
    terminalreporter.write_line(f"checks from outside that hold: {len(checks)}")
