"""Tests of what is kept beside the workbook."""
