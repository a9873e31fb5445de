"""Drawings and pages for paper."""
