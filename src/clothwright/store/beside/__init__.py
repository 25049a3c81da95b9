"""What lies beside the workbook and is no part of it: one place, one reader, one writer."""
