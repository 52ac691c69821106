"""The shop's shelf: sheets, runners, fixings, saws, read into model values."""
