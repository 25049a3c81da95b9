"""The neutral picture: what readers make and writers take. Roles, not colours."""
