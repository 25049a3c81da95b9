"""Tests of clothwright.drawing."""
