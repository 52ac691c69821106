"""From a job to a design: boxes, carcasses, drawers, decks, wings, fixings."""
