"""From pictures to the outside: full-size pages, drawings, guides, tables.

A writer takes a picture, a document or a table and returns bytes; where they go is not its
business.
"""
