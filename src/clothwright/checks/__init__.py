"""Checks: does the pattern still sew together? Findings, not opinions."""
