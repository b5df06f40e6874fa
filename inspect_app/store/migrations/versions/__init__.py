"""The versions of the shop file, one migration each."""
