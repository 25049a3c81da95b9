"""Reading PDF files of many makers."""
