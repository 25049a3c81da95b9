"""The workbook in the browser: a thin door beside the command line, opened by `serve.prepare`."""
