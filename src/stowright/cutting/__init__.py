"""Parts onto sheets: layouts as trees of cuts, checked, ordered, bounded."""
