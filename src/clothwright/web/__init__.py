"""The workbook in the browser: a thin door beside the command line. `serve.serve` is the entry."""
