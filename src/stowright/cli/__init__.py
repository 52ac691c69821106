"""The terminal: arguments to use case to text."""
