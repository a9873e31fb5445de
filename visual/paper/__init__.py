"""Drawings for paper."""
