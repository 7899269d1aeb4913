"""Tests of the draft engine."""
