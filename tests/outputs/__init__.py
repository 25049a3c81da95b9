"""Tests of clothwright.outputs."""
