"""Scenes and reports to files: SVG, PNG, PDF, HTML, plain text, JSON data."""
