"""The plan book, labels and tables."""
