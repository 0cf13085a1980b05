"""Stripewright: pattern files for striped machine knitting, worked out, drawn and published."""

__version__ = "0.1.0"
