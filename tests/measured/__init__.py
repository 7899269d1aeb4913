"""Measurements of others beside what the draft engine computes for the same situation."""
