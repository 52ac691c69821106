"""The browser: clicks to use case to page."""
