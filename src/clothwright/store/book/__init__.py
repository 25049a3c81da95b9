"""The workbook's text and drawings."""
