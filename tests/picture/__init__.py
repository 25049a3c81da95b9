"""Tests of clothwright.picture."""
