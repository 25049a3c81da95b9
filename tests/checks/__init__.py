"""Tests of clothwright.checks."""
