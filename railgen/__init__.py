"""Stainless tube handrails for measured stairs."""

__version__ = "0.1.0"
