"""From a measured load area to a plan book for plywood drawers, deck and wings."""
