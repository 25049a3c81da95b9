"""The workbook on disk."""
